//! Grading: how the lesser measurements of a jersey top follow from its half chest.
//!
//! One rule for all sizes: five anchor sizes, from a newborn's to 4XL, straight lines between them, and the outer lines carried
//! on beyond. The figures are recalled ([`SourceStatus::Memory`](super::SourceStatus::Memory)): a start that the maker replaces
//! by measuring the garment on the table.

/// The half chest of the anchor sizes in mm: 0-3 months, 18-24 months, age 10, adult M, adult 4XL.
const ANCHOR_HALF_CHEST_MM: [f64; 5] = [205.0, 260.0, 380.0, 508.0, 762.0];

/// One measurement at the anchor sizes, in mm.
#[derive(Debug)]
pub(super) struct Grade(pub(super) [f64; 5]);

impl Grade {
    /// The measurement at a half chest, in mm: piecewise linear, the first and last line carried on.
    pub(super) fn at(&self, half_chest_mm: f64) -> f64 {
        let x = &ANCHOR_HALF_CHEST_MM;
        let last = x.len() - 2;
        let i = (0..last).find(|&i| half_chest_mm < x[i + 1]).unwrap_or(last);
        let t = (half_chest_mm - x[i]) / (x[i + 1] - x[i]);
        self.0[i] + t * (self.0[i + 1] - self.0[i])
    }
}

pub(super) const NECK_WIDTH: Grade = Grade([112.0, 128.0, 150.0, 180.0, 212.0]);
pub(super) const TANK_NECK_WIDTH: Grade = Grade([120.0, 138.0, 164.0, 196.0, 256.0]);
pub(super) const CREW_NECK_DROP: Grade = Grade([42.0, 50.0, 74.0, 98.0, 124.0]);
pub(super) const V_NECK_DROP: Grade = Grade([62.0, 76.0, 122.0, 170.0, 215.0]);
pub(super) const TANK_NECK_DROP: Grade = Grade([62.0, 74.0, 115.0, 155.0, 195.0]);
pub(super) const BACK_NECK_DROP: Grade = Grade([10.0, 12.0, 16.0, 20.0, 26.0]);
pub(super) const TANK_BACK_NECK_DROP: Grade = Grade([26.0, 30.0, 46.0, 62.0, 80.0]);
pub(super) const SHOULDER_TO_SHOULDER: Grade = Grade([190.0, 232.0, 345.0, 445.0, 620.0]);
pub(super) const SHOULDER_DROP: Grade = Grade([12.0, 16.0, 31.0, 45.0, 62.0]);
pub(super) const STRAP_WIDTH: Grade = Grade([26.0, 30.0, 42.0, 56.0, 92.0]);
pub(super) const ARMHOLE_DEPTH: Grade = Grade([107.0, 136.0, 196.0, 264.0, 352.0]);
pub(super) const SHORT_SLEEVE_LENGTH: Grade = Grade([72.0, 96.0, 152.0, 212.0, 258.0]);
pub(super) const SHORT_SLEEVE_OPENING: Grade = Grade([72.0, 90.0, 128.0, 170.0, 228.0]);
pub(super) const LONG_SLEEVE_LENGTH: Grade = Grade([180.0, 265.0, 450.0, 620.0, 680.0]);
pub(super) const LONG_SLEEVE_OPENING: Grade = Grade([58.0, 64.0, 75.0, 92.0, 118.0]);
pub(super) const WAIST_DEPTH: Grade = Grade([180.0, 230.0, 315.0, 425.0, 500.0]);
pub(super) const HOOD_HEIGHT: Grade = Grade([205.0, 240.0, 300.0, 350.0, 390.0]);
pub(super) const HOOD_DEPTH: Grade = Grade([165.0, 190.0, 220.0, 250.0, 285.0]);
