//! The infant bodysuit: a T-shirt above, leg openings below.
//!
//! # Limits
//! - The neck is drafted round; overlapping shoulders are taken as closed, and their second layer is left out.
//! - Front and back end at the same closure; the flap by which one covers the other is left out.

use kurbo::{BezPath, Point};

use super::pen::{DOWN, INWARD, between, toward};
use super::top::{top_points, upper};
use crate::geometry::Panel;
use crate::geometry::garment::Measure::{CrotchWidth, HipWidth, LegOpening, Length};
use crate::geometry::garment::{GarmentKind, Measurements};

/// How far the leg opening is hollowed from the straight line between its ends (0) to a full curve (1): more in front, where the
/// thigh bends, less behind, where the seat needs cloth (memory).
const FRONT_HOLLOW: f64 = 0.95;
const BACK_HOLLOW: f64 = 0.45;
/// Fullness of the leg opening; a quarter of an ellipse has 0.5523 (memory).
const LEG_FULLNESS: [f64; 2] = [0.55, 0.55];

/// The ends of the left leg opening: at the side, and at the crotch.
pub(in crate::geometry::garment) fn leg_opening_ends(m: &Measurements) -> [Point; 2] {
    let crotch = Point::new(m.of(CrotchWidth) / 2.0, m.of(Length));
    let across_mm = m.of(HipWidth) / 2.0 - crotch.x;
    let up_mm = (m.of(LegOpening).powi(2) - across_mm * across_mm).sqrt();
    [Point::new(m.of(HipWidth) / 2.0, crotch.y - up_mm), crotch]
}

/// An infant bodysuit.
pub(super) fn outline(panel: Panel, m: &Measurements) -> BezPath {
    let mut pen = upper(GarmentKind::InfantBodysuit, panel, m);
    let [hip, crotch] = leg_opening_ends(m);
    let underarm = top_points(m).underarm;
    let side_mm = (hip.y - underarm.y) / 3.0;
    pen.curve_to(hip, toward(underarm, hip), DOWN, [side_mm, side_mm]);
    let straight = toward(hip, crotch);
    let hollow = if panel == Panel::Front { FRONT_HOLLOW } else { BACK_HOLLOW };
    pen.round_to(crotch, between(straight, INWARD, hollow), between(straight, DOWN, hollow), LEG_FULLNESS);
    pen.line_to(Point::new(0.0, crotch.y));
    pen.finish()
}
