//! Tops with set-in sleeves: the T-shirts and the dress; the bodysuit and the hooded top share their upper part.
//!
//! # Limits
//! - Shoulder, cuff and a straight hem are lines; the sleeve's upper edge is a shallow curve over the line measured.
//! - Front and back differ in the neck only.

use kurbo::{BezPath, Point, Vec2};

use super::neck::begin_neck;
use super::pen::{DOWN, INWARD, Pen, between, toward};
use crate::geometry::Panel;
use crate::geometry::garment::Measure::{
    ArmholeDepth, HalfChest, HemRise, HemWidth, Length, NeckWidth, ShoulderDrop, ShoulderToShoulder, SleeveFall, SleeveLength,
    SleeveOpening, WaistDepth, WaistWidth,
};
use crate::geometry::garment::{GarmentKind, Measurements};

/// How much of the turn from shoulder to sleeve, and from sleeve to side, the curve takes; the rest is a corner (memory).
const SHOULDER_TURN: f64 = 0.5;
const UNDERARM_TURN: f64 = 0.3;
/// Length of the curve over the shoulder point and under the arm, as a part of the half chest (memory).
const SHOULDER_CURVE: f64 = 0.14;
const UNDERARM_CURVE: f64 = 0.1;

/// The points of a sleeved top that its measurements name, on the wearer's left.
#[derive(Clone, Copy, Debug)]
pub(in crate::geometry::garment) struct TopPoints {
    /// Where the sleeve is set in at the end of the shoulder.
    pub(in crate::geometry::garment) shoulder: Point,
    /// The upper end of the cuff.
    pub(in crate::geometry::garment) cuff_top: Point,
    /// The lower end of the cuff.
    pub(in crate::geometry::garment) cuff_foot: Point,
    /// The underarm.
    pub(in crate::geometry::garment) underarm: Point,
}

/// The points named by the measurements of a sleeved top.
pub(in crate::geometry::garment) fn top_points(m: &Measurements) -> TopPoints {
    let shoulder = Point::new(m.of(ShoulderToShoulder) / 2.0, m.of(ShoulderDrop));
    let sine = m.of(SleeveFall) / m.of(SleeveLength);
    let along = Vec2::new((1.0 - sine * sine).sqrt(), sine);
    let cuff_top = shoulder + along * m.of(SleeveLength);
    let cuff_foot = cuff_top + Vec2::new(-along.y, along.x) * m.of(SleeveOpening);
    TopPoints { shoulder, cuff_top, cuff_foot, underarm: Point::new(m.of(HalfChest) / 2.0, m.of(ArmholeDepth)) }
}

/// Neck, shoulder and sleeve, down to the underarm.
pub(super) fn upper(kind: GarmentKind, panel: Panel, m: &Measurements) -> Pen {
    let mut pen = begin_neck(kind, panel, m, top_points(m).shoulder);
    shoulder_and_sleeve(&mut pen, m);
    pen
}

/// From the high point of the shoulder over the sleeve to the underarm.
pub(super) fn shoulder_and_sleeve(pen: &mut Pen, m: &Measurements) {
    let p = top_points(m);
    let hps = Point::new(m.of(NeckWidth) / 2.0, 0.0);
    pen.line_to(p.shoulder);
    let along = toward(p.shoulder, p.cuff_top);
    let leave = between(toward(hps, p.shoulder), along, SHOULDER_TURN);
    let sleeve_mm = p.shoulder.distance(p.cuff_top);
    let over_mm = (m.of(HalfChest) * SHOULDER_CURVE).min(sleeve_mm / 3.0);
    pen.curve_to(p.cuff_top, leave, along, [over_mm, sleeve_mm / 3.0]);
    pen.line_to(p.cuff_foot);
    let seam_mm = p.cuff_foot.distance(p.underarm);
    let inward = toward(p.cuff_foot, p.underarm);
    let under_mm = (m.of(HalfChest) * UNDERARM_CURVE).min(seam_mm / 3.0);
    pen.curve_to(p.underarm, inward, between(inward, DOWN, UNDERARM_TURN), [seam_mm / 3.0, under_mm]);
}

/// A T-shirt.
pub(super) fn tee(kind: GarmentKind, panel: Panel, m: &Measurements) -> BezPath {
    let mut pen = upper(kind, panel, m);
    pen.line_to(Point::new(m.of(HemWidth) / 2.0, m.of(Length)));
    pen.line_to(Point::new(0.0, m.of(Length)));
    pen.finish()
}

/// A T-shirt dress: shaped at the waist, and at the hem if that rises to the side.
pub(super) fn dress(panel: Panel, m: &Measurements) -> BezPath {
    let mut pen = upper(GarmentKind::ShirtDress, panel, m);
    let underarm = top_points(m).underarm;
    let waist = Point::new(m.of(WaistWidth) / 2.0, m.of(WaistDepth));
    let hem = Point::new(m.of(HemWidth) / 2.0, m.of(Length) - m.of(HemRise));
    let [above_mm, below_mm] = [waist.y - underarm.y, hem.y - waist.y].map(|height_mm| height_mm / 2.5);
    pen.curve_to(waist, toward(underarm, waist), DOWN, [above_mm, above_mm]);
    pen.curve_to(hem, DOWN, toward(waist, hem), [below_mm, below_mm]);
    curved_hem(&mut pen, hem, m);
    pen.finish()
}

/// A hem that runs level under the neck, where the length is taken, and rises from there to the side.
fn curved_hem(pen: &mut Pen, side: Point, m: &Measurements) {
    let length_mm = m.of(Length);
    if side.y < length_mm {
        let level = Point::new(m.of(NeckWidth) / 2.0, length_mm);
        let reach_mm = (side.x - level.x) / 2.0;
        pen.curve_to(level, INWARD, INWARD, [reach_mm, reach_mm]);
    }
    pen.line_to(Point::new(0.0, length_mm));
}
