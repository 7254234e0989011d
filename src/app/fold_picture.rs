//! The pictures that folds are chosen by: in the Fold view, and before a garment is begun with.

use crate::app::flat::flat;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::geometry::{FlatKind, LineKind, LineShape};
use crate::layout::{FlatStart, FoldStart, SpiralStart};
use egui::{Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};
use kurbo::{Point, Size};
use std::f32::consts::TAU;

/// Height of a picture of a line from edge to edge, as a share of its breadth.
const WAVE: f64 = 0.36;
/// How far a picture's line may stray from the true one, points.
const FLAT: f64 = 0.2;

/// Side of a picture, points, and the free border in it.
const PICTURE: f32 = 42.0;
const BORDER: f32 = 8.0;

/// The folds to begin with, a picture each, in rows; the one that was clicked. `is_chosen` says which is the one at hand, `hover` what a click
/// on one does.
pub(super) fn choose(
    is_chosen: impl Fn(&FoldStart) -> bool,
    hover: impl Fn(&FoldStart) -> String,
    ui: &mut Ui,
) -> Option<FoldStart> {
    let lines = LineShape::ALL.map(FoldStart::Line);
    let bundles = FlatKind::ALL.map(|kind| FoldStart::Flat(FlatStart::of(kind)));
    let spiral = FoldStart::Spiral(SpiralStart::default());
    let all = [FoldStart::Burst].into_iter().chain(lines).chain(bundles).chain([spiral]);
    let row = ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        let mut clicked = None;
        for of in all {
            if button(&of, is_chosen(&of), hover(&of), ui) {
                clicked = Some(of);
            }
        }
        clicked
    });
    row.inner
}

/// The picture of a fold as a button; whether it was clicked.
fn button(of: &FoldStart, is_chosen: bool, hover: String, ui: &mut Ui) -> bool {
    let palette = Palette::of(ui.ctx());
    let (rect, response) = ui.allocate_exact_size(vec2(PICTURE, PICTURE), Sense::click());
    let name = match of {
        FoldStart::Burst => "burst".to_owned(),
        of => of.words(),
    };
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, format!("Fold: {name}")));
    let look = ui.style().interact_selectable(&response, is_chosen);
    let edge = if response.has_focus() { Stroke::new(2.0, palette.accent) } else { look.bg_stroke };
    ui.painter().rect(rect, look.corner_radius, look.weak_bg_fill, edge, StrokeKind::Inside);
    let painter = ui.painter_at(rect);
    let room = rect.shrink(BORDER);
    let stroke = Stroke::new(if is_chosen { 2.2 } else { 1.6 }, look.fg_stroke.color);
    match of {
        FoldStart::Line(shape) => outline(&painter, room, *shape, stroke),
        FoldStart::Flat(start) => bundle(&painter, room, start.kind, stroke),
        FoldStart::Spiral(_) => arms(&painter, room, stroke),
        FoldStart::Burst | FoldStart::Drawn(_) | FoldStart::Beside(..) => rings(&painter, room, stroke),
    }
    response.on_hover_text(hover).clicked()
}

/// A burst: rings that tighten toward the centre.
fn rings(painter: &Painter, room: Rect, stroke: Stroke) {
    for share in [0.16, 0.36, 0.64, 1.0] {
        painter.circle_stroke(room.center(), 0.5 * share * room.width(), stroke);
    }
}

/// A shape.
fn outline(painter: &Painter, room: Rect, shape: LineShape, stroke: Stroke) {
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

/// A flat bundle: its creases on the cloth; of wedges a wheel, which is told from triangles at a glance.
fn bundle(painter: &Painter, room: Rect, kind: FlatKind, stroke: Stroke) {
    let fine = Stroke::new(0.75 * stroke.width, stroke.color);
    if kind == FlatKind::Wedges {
        let radius = 0.5 * room.width();
        painter.circle_stroke(room.center(), radius, stroke);
        for spoke in [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0] {
            let angle = spoke / 8.0 * TAU;
            painter.line_segment([room.center(), room.center() + radius * vec2(angle.cos(), angle.sin())], fine);
        }
        return;
    }
    let at = |[x, y]: [f32; 2]| room.min + vec2(x, y) * room.size();
    painter.rect_stroke(room, 0.0, stroke, StrokeKind::Inside);
    for &[from, to] in creases(kind) {
        painter.line_segment([at(from), at(to)], fine);
    }
}

/// Arms of a spiral, and how far round they wind, turns.
const ARMS: u8 = 3;
const WINDS: f32 = 0.75;

/// A spiral: arms that wind out of the middle.
fn arms(painter: &Painter, room: Rect, stroke: Stroke) {
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
