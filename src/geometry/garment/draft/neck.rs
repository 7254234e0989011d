//! The neck's edge, square to the shoulder seam, so that front and back run on into each other where they are sewn.
//!
//! Pattern drafting squares both ends of a round neck: level at the centre line, so that the halves meet without a point, and at right
//! angles to the shoulder, so that front and back meet without a corner (common practice, no source).
//!
//! # Limits
//! - A round neck so deep, under a shoulder so steep, that the two squares would meet beyond the centre line leans as far as
//!   [`LEAST_LEVEL_SHARE`] allows instead; its seam then has a corner.

use std::f64::consts::FRAC_PI_2;

use kurbo::{Point, Vec2};

use super::pen::{OUTWARD, Pen, toward};
use crate::geometry::Panel;
use crate::geometry::garment::Measure::{BackNeckDrop, FrontNeckDrop, NeckWidth};
use crate::geometry::garment::{GarmentKind, Measurements};

/// Where the squares of a round neck meet at the least, as a part of the way from the centre line to the high point of the shoulder
/// (memory).
const LEAST_LEVEL_SHARE: f64 = 0.25;
/// How far the edge of a pointed neck turns off its straight line at the point, as a part of its turn at the shoulder, so that it is
/// nearly straight below and bends in the upper third (memory).
const POINT_TURN: f64 = 0.4;
/// The neck's edge, drawn from the centre line to the high point of the shoulder, whose seam runs on to `shoulder`.
pub(super) fn begin_neck(kind: GarmentKind, panel: Panel, m: &Measurements, shoulder: Point) -> Pen {
    let hps = Point::new(m.of(NeckWidth) / 2.0, 0.0);
    let drop_mm = m.of(if panel == Panel::Front { FrontNeckDrop } else { BackNeckDrop });
    let mut pen = Pen::at(Point::new(0.0, drop_mm));
    let square = toward(hps, shoulder).turn_90() * -1.0;
    if kind == GarmentKind::VNeckTee && panel == Panel::Front {
        pointed(&mut pen, drop_mm, hps, square);
    } else {
        round(&mut pen, drop_mm, hps, square);
    }
    pen
}

/// A round neck: level at the centre, square to the shoulder at its end.
fn round(pen: &mut Pen, drop_mm: f64, hps: Point, square: Vec2) {
    let most_lean = hps.x * (1.0 - LEAST_LEVEL_SHARE) / drop_mm;
    let lean = (square.x / -square.y).min(most_lean);
    pen.bend_to(hps, OUTWARD, Vec2::new(lean, -1.0).normalize());
}

/// A pointed neck: nearly straight from the point, square to the shoulder at its end.
fn pointed(pen: &mut Pen, drop_mm: f64, hps: Point, square: Vec2) {
    let lean_rad = |way: Vec2| way.x.atan2(-way.y);
    let straight_rad = lean_rad(Vec2::new(hps.x, -drop_mm));
    let turn_rad = straight_rad - lean_rad(square);
    // However steep the shoulder or shallow the neck, the point opens from the centre line and stays a point.
    let leave_rad = (straight_rad + POINT_TURN * turn_rad).clamp(0.5 * straight_rad, 0.5 * (straight_rad + FRAC_PI_2));
    pen.bend_to(hps, Vec2::new(leave_rad.sin(), -leave_rad.cos()), square);
}
