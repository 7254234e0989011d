//! How high in the puck cloth comes to lie: it rises from valley lines and is folded back and forth at the puck's height.
//!
//! Valley lines leave the pinch in seeded directions and run the way in which cloth is drawn together least. At a distance `x` from the
//! nearest, cloth lies at the height `H tri(x / H)`: where valleys have come apart farther than a pleat is high, a ridge between them
//! splits, and pleats branch by themselves.

use super::plan::Plan;
use std::f64::consts::{PI, TAU};

/// 0 at even numbers, 1 at odd ones, straight between.
pub(super) fn tri(x: f64) -> f64 {
    ((x + 1.0).rem_euclid(2.0) - 1.0).abs()
}

/// The directions in which valley lines leave the pinch.
#[derive(Debug, Clone)]
pub(super) struct Valleys {
    /// Rad from straight up, clockwise as drawn, rising within one turn.
    from_rad: Vec<f64>,
}

/// How far a valley strays from where it would lie if all were even, as a share of the angle between two (our own judgement).
const STRAY: f64 = 0.25;

impl Valleys {
    /// So many, seeded.
    pub(super) fn new(count: u32, seed: u64) -> Self {
        let mut state = seed;
        let direction = |number: u32| {
            let place = f64::from(number) + 2.0 * STRAY * (uniform(&mut state) - 0.5);
            (place / f64::from(count)).rem_euclid(1.0) * TAU
        };
        let mut from_rad: Vec<f64> = (0..count).map(direction).collect();
        from_rad.sort_by(f64::total_cmp);
        Self { from_rad }
    }

    /// Distance from the nearest valley line on the cloth, mm; `lag` is the way in which cloth lags behind the pinch.
    pub(super) fn away_mm(&self, plan: &Plan, r_mm: f64, phi_rad: f64, lag: f64) -> f64 {
        let (run_rad, slant) = plan.run(r_mm);
        let at_pinch = phi_rad - lag * run_rad;
        let away = |valley: &f64| ((at_pinch - valley + PI).rem_euclid(TAU) - PI).abs();
        let nearest = self.from_rad.iter().map(away).fold(PI, f64::min);
        r_mm * nearest / slant.hypot(1.0)
    }
}

/// A number from 0 to 1 (Steele, Lea, Flood 2014, their `SplitMix64`; constants from memory).
fn uniform(state: &mut u64) -> f64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    // 53 bits fill the mantissa.
    ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heights_go_up_and_down() {
        for (x, height) in [(0.0, 0.0), (0.25, 0.25), (1.0, 1.0), (1.75, 0.25), (2.0, 0.0), (3.0, 1.0), (-0.5, 0.5)] {
            assert!((tri(x) - height).abs() < 1e-12, "{x}");
        }
    }

    #[test]
    fn a_seed_gives_the_same_valleys_and_another_seed_others() {
        let valleys = Valleys::new(8, 5);
        assert_eq!(valleys.from_rad, Valleys::new(8, 5).from_rad);
        assert_ne!(valleys.from_rad, Valleys::new(8, 6).from_rad);
        for (number, pair) in valleys.from_rad.windows(2).enumerate() {
            let gap = (pair[1] - pair[0]) * 8.0 / TAU;
            assert!((0.5..=1.5).contains(&gap), "{gap} at {number}");
        }
    }
}
