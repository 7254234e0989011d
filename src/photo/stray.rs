//! How far the hand strayed along each bind's line: sector by sector, smoothly between, to be taken out again.

use super::kriging::{Covariance, LayField, Seen};
use super::lattice::Lattice;
use super::rings::line_shifts;
use super::{PhotoMeasure, Photograph, Plan};
use kurbo::{Point, Rect, Vec2};

/// How far the hand strays, mm, over what length it strays one way, and how far off a sector's shift is (set on drawn photographs).
const STRAY_MM: f64 = 1.5;
const REACH_MM: f64 = 22.0;
const SECTOR_SD_MM: f64 = 0.4;
/// How far a line is looked for, mm, at most 0.4 of its gap: the whole pattern's place is known already.
const SEARCH_MM: f64 = 5.0;
/// A field of fewer sectors than this would be guesswork. Own choice.
const FEWEST_SECTORS: usize = 20;
/// From point to point of the lattice on which the field is kept: a quarter of its reach.
const LATTICE_MM: f64 = 5.5;

/// The way from a plan to the same cloth in a photograph that was registered, with what the hand strayed from the plan's own lines.
#[derive(Debug, Clone)]
pub struct Stray {
    displacement: Vec2,
    field: Option<Lattice>,
    sectors: usize,
}

impl Stray {
    /// Finds every line of the plan's picture in a measured photograph; between lines the field is kriged. Where too few are found the whole
    /// pattern's displacement alone counts.
    #[must_use]
    pub fn of(photograph: &Photograph, plan: &Plan, measured: &PhotoMeasure) -> Self {
        let displacement = measured.tie().rings.displacement;
        let found = line_shifts(photograph, plan, &measured.registration, displacement, SEARCH_MM);
        let seen: Vec<Seen> =
            found.iter().map(|&(at, along, shift_mm)| Seen { at, along, shift_mm, sd_mm: SECTOR_SD_MM }).collect();
        let frame = plan.frame();
        let area = Rect::new(frame.left_mm, frame.top_mm, -frame.left_mm, frame.top_mm + frame.height as f64 * frame.pixel_mm);
        let covariance =
            Covariance { sd_mm: STRAY_MM, reach_mm: REACH_MM, affine_sd_mm: 0.0, ..Covariance::about(area.center()) };
        let field = if seen.len() < FEWEST_SECTORS { None } else { LayField::fit(covariance, &seen) };
        let field = field.map(|field| Lattice::of(area, LATTICE_MM, |at| field.shift(at)));
        Self { displacement, field, sectors: seen.len() }
    }

    /// Where in the photograph's plane of the plan the cloth of a point of the plan is seen, mm.
    #[must_use]
    pub fn apply(&self, plan: Point) -> Point {
        plan + self.displacement + self.field.as_ref().map_or(Vec2::ZERO, |field| field.at(plan))
    }

    /// How many stretches of lines it was found from.
    #[must_use]
    pub const fn sectors(&self) -> usize {
        self.sectors
    }
}
