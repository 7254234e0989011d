//! When a bound rod is dry inside: its weight, the surest sign at a table, and about how long it takes.

use crate::geometry::ThreadKind;
use std::f64::consts::PI;

/// Mass of a metre of thread, g, from its diameter in mm: a round thread of its material's density, part of it air.
///
/// # Limits
/// Densities are from memory, unverified: weigh ten metres of your own thread if it matters; on a shirt it is a few grams.
#[must_use]
pub fn thread_g_per_m(kind: ThreadKind, diameter_mm: f64) -> f64 {
    PI / 4.0 * diameter_mm * diameter_mm * bulk_g_per_cm3(kind)
}

/// Density of a thread with the air in it, g/cm3 (from memory, unverified): waxed thread is full of wax, string is not.
const fn bulk_g_per_cm3(kind: ThreadKind) -> f64 {
    match kind {
        ThreadKind::Waxed => 0.9,
        ThreadKind::PlainString => 0.7,
        ThreadKind::RubberBand => 0.95,
    }
}

/// Water that cloth keeps after it is squeezed or spun, grams to a gram (common practice: a pick-up of 70 %).
const SPUN_PICK_UP: f64 = 0.7;

/// What a soda ash soak leaves in dry cloth, g: that of the water which spinning leaves.
#[must_use]
pub fn soda_left_g(cloth_g: f64, grams_per_litre: f64) -> f64 {
    cloth_g * SPUN_PICK_UP / 1000.0 * grams_per_litre
}

/// About what a bound rod weighs when it is dry, g: its cloth as it weighs in the air of a room, its thread, and what the soda soak left. Seams
/// and ribs, which no outline shows, come on top: two weighings that agree are the surer sign.
///
/// # Limits
/// Cotton in the air of a room holds 7 to 8 % of water at 65 % humidity (second-hand, after Morton & Hearle), which its mass per area counts; in
/// a very damp room the rod stays a few percent above.
#[must_use]
pub fn dry_rod_g(cloth_g: f64, thread_m: f64, thread_g_per_m: f64, soda_g: f64) -> f64 {
    cloth_g + thread_m * thread_g_per_m + soda_g
}

/// Diameter of a bound rod that dries in the least time, mm, and that time, h; the longest time, h (common practice, no source: a thick rod
/// takes a day or two).
pub(super) const DRIES_OVERNIGHT_MM: f64 = 30.0;
const THIN_H: f64 = 12.0;
const LONGEST_H: f64 = 48.0;

/// Temperature of the room for which [`drying_h`] holds, C.
const DRYING_C: f64 = 20.0;

/// How many times longer a rod dries in a room of this temperature than at 20 C, in air as damp: as the vapour pressure of water falls
/// (Magnus formula over water, WMO Guide to Instruments and Methods of Observation, No. 8, Annex 4.B).
#[must_use]
pub fn dries_slower(room_c: f64) -> f64 {
    let magnus = |t_c: f64| (17.62 * t_c / (243.12 + t_c)).exp();
    magnus(DRYING_C) / magnus(room_c)
}

/// About how long a bound rod hangs at 20 C until it is dry inside, h: half a day when it is thin, with the square of its diameter (drying from
/// inside is diffusion), two days at most.
///
/// # Limits
/// A guess to plan by; air, warmth and spinning decide, and its weight tells.
#[must_use]
pub fn drying_h(thickest_mm: f64) -> f64 {
    (THIN_H * (thickest_mm / DRIES_OVERNIGHT_MM).powi(2)).clamp(THIN_H, LONGEST_H)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rod_is_its_cloth_and_its_thread() {
        // 9.5 m of waxed thread 1 mm thick: 0.71 g to the metre.
        let per_m = thread_g_per_m(ThreadKind::Waxed, 1.0);
        assert!((per_m - 0.7069).abs() < 1e-4);
        // At 40 g/L 0.7 mL/g leave 4.1 g of soda ash.
        let soda_g = soda_left_g(146.0, 40.0);
        assert!((soda_g - 4.088).abs() < 1e-9);
        assert!((dry_rod_g(146.0, 9.5, per_m, soda_g) - 156.8).abs() < 0.05);
    }

    /// Saturation vapour pressure of water, steam tables: 1.002 kPa at 7 C, 2.339 at 20, 4.247 at 30.
    #[test]
    fn a_cool_room_dries_slowly() {
        assert_eq!(dries_slower(20.0), 1.0);
        assert!((dries_slower(7.0) - 2.339 / 1.002).abs() < 0.01);
        assert!((dries_slower(30.0) - 2.339 / 4.247).abs() < 0.01);
    }

    #[test]
    fn thick_rods_take_a_day_or_two() {
        assert_eq!(drying_h(10.0), 12.0);
        assert_eq!(drying_h(30.0), 12.0);
        // By hand: 12 h at 30 mm, and with the square of the thickness 12 x (43/30)^2 = 12 x 2.05444 = 24.653 h.
        assert!((drying_h(43.0) - 24.653).abs() < 0.001);
        assert_eq!(drying_h(80.0), 48.0);
    }
}
