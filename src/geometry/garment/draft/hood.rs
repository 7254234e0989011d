//! The hooded top: a long-sleeved top whose back carries the hood, folded in half and laid up above the neck.
//!
//! # Limits
//! - Each half of the hood lies as its own side profile, the back of the head on the centre line, so that the garment folded on
//!   that line has its hood folded as it is sewn. The outline of the whole panel shows both halves opened out.
//! - The lower front corner of the hood, which in cloth reaches around to the front neck, is drawn in to the shoulder's high
//!   point; the front panel has no hood. Hood lining, drawstring, pockets and bands as thick as they are wide are left out.

use kurbo::{BezPath, Point, Vec2};

use super::pen::{DOWN, OUTWARD, Pen, UP, toward};
use super::top::{shoulder_and_sleeve, top_points, upper};
use crate::geometry::Panel;
use crate::geometry::garment::Measure::{HalfChest, HemWidth, HoodDepth, HoodHeight, Length, NeckWidth};
use crate::geometry::garment::{GarmentKind, Measurements};

/// Where the hood is highest, and where its crown meets the face opening, as parts of its depth and height (memory).
const CROWN_AT_DEPTH: f64 = 0.56;
const FACE_TOP_DEPTH: f64 = 0.97;
const FACE_TOP_HEIGHT: f64 = 0.93;
/// Where the back of the head leaves the centre line, and where the face edge turns in to the neck, as parts of the height.
const NAPE_HEIGHT: f64 = 0.62;
const FACE_FOOT_HEIGHT: f64 = 0.42;
/// Fullness of the back of the head (memory).
const CROWN_FULLNESS: [f64; 2] = [0.58, 0.58];
/// The direction in which the crown runs out at the face, and the face edge into the neck: unit vectors (memory).
const BROW: Vec2 = Vec2::new(0.96, 0.28);
const THROAT: Vec2 = Vec2::new(-0.8, 0.6);
/// Height of the knitted band that draws in the hem, as a part of the length (memory: 60 mm in size M).
const BAND_HEIGHT: f64 = 0.085;

/// The points of a hood, on the wearer's left.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry::garment) struct HoodPoints {
    /// Where the hood's outline leaves the centre line.
    nape: Point,
    /// The highest point.
    pub(in crate::geometry::garment) crown: Point,
    /// The upper end of the face opening.
    face_top: Point,
    /// Where the face opening stands farthest out, before it turns in to the neck.
    pub(in crate::geometry::garment) face_foot: Point,
}

/// The points named by the measurements of a hood.
pub(in crate::geometry::garment) fn hood_points(m: &Measurements) -> HoodPoints {
    let at = |depth: f64, height: f64| Point::new(m.of(HoodDepth) * depth, -m.of(HoodHeight) * height);
    HoodPoints {
        nape: at(0.0, NAPE_HEIGHT),
        crown: at(CROWN_AT_DEPTH, 1.0),
        face_top: at(FACE_TOP_DEPTH, FACE_TOP_HEIGHT),
        face_foot: at(1.0, FACE_FOOT_HEIGHT),
    }
}

/// A hooded top.
pub(super) fn outline(panel: Panel, m: &Measurements) -> BezPath {
    let mut pen = match panel {
        Panel::Front => upper(GarmentKind::HoodedTop, panel, m),
        Panel::Back => {
            let mut pen = hood(m);
            shoulder_and_sleeve(&mut pen, m);
            pen
        }
    };
    banded_hem(&mut pen, m);
    pen.finish()
}

/// From the back of the head over crown and face opening to the high point of the shoulder.
fn hood(m: &Measurements) -> Pen {
    let p = hood_points(m);
    let mut pen = Pen::at(p.nape);
    pen.round_to(p.crown, UP, OUTWARD, CROWN_FULLNESS);
    let brow_mm = p.crown.distance(p.face_top) / 3.0;
    pen.curve_to(p.face_top, OUTWARD, BROW, [brow_mm, brow_mm]);
    let face_mm = p.face_top.distance(p.face_foot) / 3.0;
    pen.curve_to(p.face_foot, toward(p.face_top, p.face_foot), DOWN, [face_mm, face_mm]);
    let hps = Point::new(m.of(NeckWidth) / 2.0, 0.0);
    let throat_mm = p.face_foot.distance(hps);
    pen.curve_to(hps, DOWN, THROAT, [0.5 * throat_mm, 0.25 * throat_mm]);
    pen
}

/// Side and hem: the body hangs straight and is drawn in above the band.
fn banded_hem(pen: &mut Pen, m: &Measurements) {
    let underarm = top_points(m).underarm;
    let hem = Point::new(m.of(HemWidth) / 2.0, m.of(Length));
    let band_mm = (m.of(Length) * BAND_HEIGHT).min((hem.y - underarm.y) / 2.0);
    let above = Point::new(hem.x, hem.y - band_mm);
    let side_mm = above.y - underarm.y;
    let drawn_in = Vec2::new(above.x - m.of(HalfChest) / 2.0, band_mm).normalize();
    pen.curve_to(above, DOWN, drawn_in, [0.7 * side_mm, 0.12 * side_mm]);
    pen.line_to(hem);
    pen.line_to(Point::new(0.0, hem.y));
}
