//! Lines, polylines, arcs and ellipses as paths, in drawing units and with `y` up as the file has it.

use super::entity::{Entity, bits, number};
use super::spline;
use crate::import::error::ImportError;
use kurbo::{Affine, Arc, BezPath, Point, Vec2};
use std::f64::consts::TAU;

/// Closed (bit of group code 70 of polylines).
const CLOSED: i64 = 1;
/// A mesh of polygons or faces, not a line.
const MESH: i64 = 16 | 64;
/// A vertex that only steers a spline.
const FRAME: i64 = 16;

/// The path of an entity, its curves within `tolerance` of it; none of what is no line.
pub(super) fn path(entity: &Entity<'_>, tolerance: f64) -> Result<Option<BezPath>, ImportError> {
    let path = match entity.kind {
        "LINE" => {
            let mut path = BezPath::new();
            path.move_to(entity.point(10)?);
            path.line_to(entity.point(11)?);
            return Ok(Some(path));
        }
        "ELLIPSE" => return ellipse(entity, tolerance).map(Some),
        "SPLINE" => return spline::path(entity, tolerance),
        "ARC" => {
            let [from, to] = [entity.number(50, 0.0)?.to_radians(), entity.number(51, 360.0)?.to_radians()];
            round(entity, from, sweep(from, to), tolerance)?
        }
        "CIRCLE" => round(entity, 0.0, TAU, tolerance)?,
        "LWPOLYLINE" => light_polyline(entity, tolerance)?,
        "POLYLINE" if entity.bits(70)? & MESH == 0 => polyline(entity, tolerance)?,
        _ => return Ok(None),
    };
    // These are drawn in a plane of their own.
    Ok(Some(if entity.is_turned_over()? { Affine::FLIP_X * path } else { path }))
}

/// From one angle counterclockwise to another, rad: a whole turn where they are the same.
fn sweep(from: f64, to: f64) -> f64 {
    let sweep = (to - from).rem_euclid(TAU);
    if sweep < 1e-9 { TAU } else { sweep }
}

fn round(entity: &Entity<'_>, from: f64, sweep: f64, tolerance: f64) -> Result<BezPath, ImportError> {
    let radius = entity.number(40, 0.0)?;
    Ok(arc(Arc::new(entity.point(10)?, (radius, radius), from, sweep, 0.0), tolerance))
}

/// An arc of a circle or an ellipse; a whole turn is closed.
fn arc(arc: Arc, tolerance: f64) -> BezPath {
    let start = Arc { sweep_angle: 0.0, ..arc };
    let mut path = BezPath::new();
    path.move_to(start.center + at_angle(&arc, arc.start_angle));
    path.extend(arc.append_iter(tolerance));
    if arc.sweep_angle.abs() >= TAU - 1e-9 {
        path.close_path();
    }
    path
}

/// From the centre of an ellipse to its point at a parameter.
fn at_angle(arc: &Arc, angle: f64) -> Vec2 {
    let (sin, cos) = angle.sin_cos();
    let (turn_sin, turn_cos) = arc.x_rotation.sin_cos();
    let (x, y) = (arc.radii.x * cos, arc.radii.y * sin);
    Vec2::new(x * turn_cos - y * turn_sin, x * turn_sin + y * turn_cos)
}

/// An ellipse lies in the world's own axes; seen from the other side it is run through the other way.
fn ellipse(entity: &Entity<'_>, tolerance: f64) -> Result<BezPath, ImportError> {
    let major = entity.point(11)?.to_vec2();
    let side = if entity.is_turned_over()? { -1.0 } else { 1.0 };
    let radii = Vec2::new(major.hypot(), side * major.hypot() * entity.number(40, 1.0)?);
    let [from, to] = [entity.number(41, 0.0)?, entity.number(42, TAU)?];
    Ok(arc(Arc::new(entity.point(10)?, radii, from, sweep(from, to), major.atan2()), tolerance))
}

/// A corner of a polyline, and how far the way to the next bulges: the tangent of a quarter of the arc's angle, counterclockwise above 0.
type Corner = (Point, f64);

fn light_polyline(entity: &Entity<'_>, tolerance: f64) -> Result<BezPath, ImportError> {
    let mut corners: Vec<Corner> = Vec::new();
    for tag in &entity.tags {
        match (tag.code, corners.last_mut()) {
            (10, _) => corners.push((Point::new(tag.number()?, 0.0), 0.0)),
            (20, Some(last)) => last.0.y = tag.number()?,
            (42, Some(last)) => last.1 = tag.number()?,
            _ => {}
        }
    }
    Ok(bulging(&corners, entity.bits(70)? & CLOSED != 0, tolerance))
}

fn polyline(entity: &Entity<'_>, tolerance: f64) -> Result<BezPath, ImportError> {
    let mut corners = Vec::new();
    for tags in &entity.corners {
        if bits(tags, 70)? & FRAME == 0 {
            corners.push((Point::new(number(tags, 10, 0.0)?, number(tags, 20, 0.0)?), number(tags, 42, 0.0)?));
        }
    }
    Ok(bulging(&corners, entity.bits(70)? & CLOSED != 0, tolerance))
}

fn bulging(corners: &[Corner], is_closed: bool, tolerance: f64) -> BezPath {
    let mut path = BezPath::new();
    let Some(&(first, _)) = corners.first() else { return path };
    path.move_to(first);
    for pair in corners.windows(2) {
        bulge_to(&mut path, pair[0], pair[1].0, tolerance);
    }
    if is_closed {
        bulge_to(&mut path, corners[corners.len() - 1], first, tolerance);
        path.close_path();
    }
    path
}

/// An arc of angle `a` over a chord `c` has the radius `c / (2 sin (a / 2))`; with the bulge `b = tan (a / 4)` its centre lies
/// `c (1 - b^2) / (4 b)` to the left of the chord's middle (DXF reference, `bulge`; the half-angle formulas).
fn bulge_to(path: &mut BezPath, (from, bulge): Corner, to: Point, tolerance: f64) {
    let chord = to - from;
    if bulge == 0.0 || chord == Vec2::ZERO {
        path.line_to(to);
        return;
    }
    let left = Vec2::new(-chord.y, chord.x);
    let centre = from.midpoint(to) + left * ((1.0 - bulge * bulge) / (4.0 * bulge));
    let radius = centre.distance(from);
    let arc = Arc::new(centre, (radius, radius), (from - centre).atan2(), 4.0 * bulge.atan(), 0.0);
    // A nearly straight one has its centre too far away for its digits.
    if (bulge.abs() * 0.5 * chord.hypot()) < tolerance {
        path.line_to(to);
        return;
    }
    path.extend(arc.append_iter(tolerance));
    // Exactly where the next begins.
    if let Some(kurbo::PathEl::CurveTo(_, _, p)) = path.elements_mut().last_mut() {
        *p = to;
    }
}
