//! The pictures that folds are chosen by.

use crate::app::flat::flat;
use crate::app::screen::screen;
use crate::geometry::{FlatKind, LineKind, LineShape};
use egui::{Painter, Pos2, Rect, Stroke, pos2, vec2};
use kurbo::{Point, Size};
use std::f32::consts::TAU;

/// Height of a picture of a line from edge to edge, as a share of its breadth.
const WAVE: f64 = 0.36;
/// How far a picture's line may stray from the true one, points.
const FLAT: f64 = 0.2;

/// A burst: rings that tighten toward the centre.
pub(super) fn rings(painter: &Painter, room: Rect, stroke: Stroke) {
    for share in [0.16, 0.36, 0.64, 1.0] {
        painter.circle_stroke(room.center(), 0.5 * share * room.width(), stroke);
    }
}

/// A shape.
pub(super) fn outline(painter: &Painter, room: Rect, shape: LineShape, stroke: Stroke) {
    let natural = match shape.kind() {
        // From edge to edge it is as broad as there is room, and low.
        LineKind::Across => Size::new(1.0, WAVE),
        _ => shape.natural_size(1.0),
    };
    let by = f64::from(room.width()) / natural.width.max(natural.height);
    let path = shape.path(Point::ZERO, Size::new(by * natural.width, by * natural.height));
    for line in flat(&path, FLAT) {
        let points = line.iter().map(|p| room.center() + vec2(screen(p.x), screen(p.y)));
        painter.line(points.map(|p| pos2(p.x, p.y)).collect(), stroke);
    }
}

/// Lines of a flat bundle's creases within a square of side 1: from and to.
fn creases(kind: FlatKind) -> &'static [[[f32; 2]; 2]] {
    match kind {
        FlatKind::Stripes => {
            &[[[0.2, 0.0], [0.2, 1.0]], [[0.4, 0.0], [0.4, 1.0]], [[0.6, 0.0], [0.6, 1.0]], [[0.8, 0.0], [0.8, 1.0]]]
        }
        FlatKind::Squares => {
            &[[[0.33, 0.0], [0.33, 1.0]], [[0.67, 0.0], [0.67, 1.0]], [[0.0, 0.33], [1.0, 0.33]], [[0.0, 0.67], [1.0, 0.67]]]
        }
        FlatKind::Triangles => &[
            [[0.5, 0.0], [0.5, 1.0]],
            [[0.0, 0.25], [0.5, 0.0]],
            [[0.0, 0.25], [1.0, 0.75]],
            [[0.5, 1.0], [1.0, 0.75]],
            [[0.5, 0.5], [1.0, 0.25]],
            [[0.0, 0.75], [0.5, 0.5]],
            [[0.5, 0.0], [1.0, 0.25]],
            [[0.0, 0.75], [0.5, 1.0]],
        ],
        FlatKind::RightTriangles => {
            &[[[0.5, 0.0], [0.5, 1.0]], [[0.0, 0.5], [1.0, 0.5]], [[0.0, 0.0], [1.0, 1.0]], [[1.0, 0.0], [0.0, 1.0]]]
        }
        FlatKind::Halves => &[[[0.0, 0.5], [1.0, 0.5]], [[0.5, 0.5], [0.5, 1.0]]],
        FlatKind::Wedges => &[],
    }
}

/// A flat bundle: its creases on the cloth.
pub(super) fn bundle(painter: &Painter, room: Rect, kind: FlatKind, stroke: Stroke) {
    let at = |[x, y]: [f32; 2]| room.min + vec2(x, y) * room.size();
    painter.rect_stroke(room, 0.0, stroke, egui::StrokeKind::Inside);
    let fine = Stroke::new(0.75 * stroke.width, stroke.color);
    for &[from, to] in creases(kind) {
        painter.line_segment([at(from), at(to)], fine);
    }
    if kind == FlatKind::Wedges {
        for spoke in [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0] {
            painter.line_segment([room.center(), on_edge(room, spoke / 8.0 * TAU)], fine);
        }
    }
}

/// Arms of a spiral, and how far round they wind, turns.
const ARMS: u8 = 3;
const WINDS: f32 = 0.75;

/// A spiral: arms that wind out of the middle.
pub(super) fn arms(painter: &Painter, room: Rect, stroke: Stroke) {
    for arm in 0..ARMS {
        let from = f32::from(arm) / f32::from(ARMS);
        let at = |step: u8| {
            let share = f32::from(step) / 24.0;
            let angle = (from + WINDS * share) * TAU;
            room.center() + 0.5 * share * room.width() * vec2(angle.sin(), -angle.cos())
        };
        painter.line((0..=24).map(at).collect(), stroke);
    }
}

/// Where a direction from the middle meets the edge of a square.
fn on_edge(room: Rect, angle: f32) -> Pos2 {
    let way = vec2(angle.cos(), angle.sin());
    room.center() + way * (0.5 * room.width() / way.x.abs().max(way.y.abs()))
}
