//! The tank: shoulder straps, a low neck, and armholes that show.
//!
//! # Limits
//! - The armhole is upright where it is measured across, and level where it meets the side.
//! - Side and hem are straight lines.

use kurbo::{BezPath, Point};

use super::neck::begin_neck;
use super::pen::{DOWN, OUTWARD, toward};
use crate::geometry::Panel;
use crate::geometry::garment::Measure::{
    AcrossBack, AcrossFront, ArmholeDepth, HalfChest, HemWidth, Length, NeckWidth, ShoulderDrop,
};
use crate::geometry::garment::kind::strap_to_strap_mm;
use crate::geometry::garment::{GarmentKind, Measurements};

/// Fullness of the armhole's lower part at its upper and lower end; a quarter of an ellipse has 0.5523 at both (memory).
const ARMHOLE_FULLNESS: [f64; 2] = [0.66, 0.5];

/// The points of a tank that its measurements name, on the wearer's left.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry::garment) struct TankPoints {
    /// The outer end of the strap.
    pub(in crate::geometry::garment) shoulder: Point,
    /// The level at which it is measured across.
    pub(in crate::geometry::garment) across_y_mm: f64,
    /// The underarm.
    pub(in crate::geometry::garment) underarm: Point,
}

/// The points named by the measurements of a tank.
pub(in crate::geometry::garment) fn tank_points(m: &Measurements) -> TankPoints {
    let shoulder = Point::new(strap_to_strap_mm(m) / 2.0, m.of(ShoulderDrop));
    let underarm = Point::new(m.of(HalfChest) / 2.0, m.of(ArmholeDepth));
    TankPoints { shoulder, across_y_mm: (shoulder.y + underarm.y) / 2.0, underarm }
}

/// A tank.
pub(super) fn outline(panel: Panel, m: &Measurements) -> BezPath {
    let p = tank_points(m);
    let mut pen = begin_neck(GarmentKind::Tank, panel, m, p.shoulder);
    pen.line_to(p.shoulder);
    let across_mm = m.of(if panel == Panel::Front { AcrossFront } else { AcrossBack });
    let across = Point::new(across_mm / 2.0, p.across_y_mm);
    let square_to_strap = toward(Point::new(m.of(NeckWidth) / 2.0, 0.0), p.shoulder).turn_90();
    let upper_mm = (across.y - p.shoulder.y) / 3.0;
    pen.curve_to(across, square_to_strap, DOWN, [upper_mm, upper_mm]);
    pen.round_to(p.underarm, DOWN, OUTWARD, ARMHOLE_FULLNESS);
    pen.line_to(Point::new(m.of(HemWidth) / 2.0, m.of(Length)));
    pen.line_to(Point::new(0.0, m.of(Length)));
    pen.finish()
}
