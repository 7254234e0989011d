//! A line of the maker's own: its size and place, and each of its points by numbers.

use super::sides::sides;
use crate::app::canvas::Canvas;
use crate::app::context::{Ask, Context};
use crate::app::field::{self, choice};
use crate::app::heights::heights;
use crate::edit::{EditCommand, LinePoints, Target, with_points};
use crate::geometry::{DrawnLine, LineKind};
use egui::{Button, RichText, Ui};
use kurbo::{Affine, BezPath, Point, Shape as _, Size};

/// What kinds of line are called.
const fn name(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Ring => "closed",
        LineKind::Across => "from edge to edge",
        LineKind::Stroke => "strokes",
        LineKind::Point => "a point",
    }
}

pub(super) fn own(ctx: &Context<'_>, canvas: &mut Canvas, kind: LineKind, path: &BezPath, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let all = [LineKind::Ring, LineKind::Across, LineKind::Stroke];
    if let Some(kind) = choice(ui, "Kind of line", kind, &all, |kind| name(kind).to_owned()) {
        asks.push(Ask::Edit(EditCommand::SetLine(DrawnLine::Path { kind, path: path.clone() })));
    }
    whole(ctx, kind, path, asks, ui);
    let Some(points) = ctx.layout.line_points() else { return };
    ui.label(RichText::new("Drag the points; double-click the line to add one.").weak());
    let selected = canvas.selected.and_then(Target::point).filter(|index| *index < points.count());
    ui.horizontal_wrapped(|ui| {
        ui.label("Point");
        for index in 0..points.count() {
            let number = (index + 1).to_string();
            let response = ui.selectable_label(selected == Some(index), &number);
            let name = format!("Select point {number}");
            response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Button, true, selected == Some(index), &name));
            if response.clicked() {
                canvas.selected = Some(Target::Point(index));
            }
        }
    });
    if let Some(index) = selected {
        one(ctx, &points, index, asks, ui);
    }
}

/// The size and place of the whole line, and its turn where no fold line mirrors it.
fn whole(ctx: &Context<'_>, kind: LineKind, path: &BezPath, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(middle) = ctx.layout.middle() else { return };
    let laid = Point::new(ctx.layout.lay().centring().x_as_laid_mm(middle.x), middle.y);
    let is_mirrored = ctx.layout.lay().is_folded() && laid.x == 0.0;
    let bounds = path.bounding_box();
    let size = Size::new(bounds.width() * if is_mirrored { 2.0 } else { 1.0 }, bounds.height());
    let carried = |by: Affine| {
        let about = Affine::translate(laid.to_vec2()) * by * Affine::translate(-laid.to_vec2());
        Ask::Edit(EditCommand::SetLine(DrawnLine::Path { kind, path: about * path.clone() }))
    };
    if let Some(now) = sides(ctx, size, ui) {
        let share = |now: f64, before: f64| if before > 0.0 { now / before } else { 1.0 };
        asks.push(carried(Affine::scale_non_uniform(share(now.width, size.width), share(now.height, size.height))));
    }
    if !is_mirrored {
        if let Some(x) = field::length(ctx, ui, "From the centre line", middle.x) {
            asks.push(Ask::Edit(EditCommand::MoveCentre(Point::new(x, middle.y))));
        }
        if let Some(degrees) = field::number(ui, "Turn by, degrees", 0.0) {
            asks.push(carried(Affine::rotate(degrees.to_radians())));
        }
    }
    if let Some(below) = field::length(ctx, ui, heights(ctx.figures.fold.top).field, middle.y) {
        asks.push(Ask::Edit(EditCommand::MoveCentre(Point::new(middle.x, below))));
    }
}

/// One point by its numbers, and what it can be.
fn one(ctx: &Context<'_>, points: &LinePoints, index: usize, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(point) = points.get(index) else { return };
    let (target, number) = (Target::Point(index), index + 1);
    if let Some(x) = field::length(ctx, ui, &format!("Point {number}, aside"), point.at.x) {
        asks.extend(target.put(ctx.layout, Point::new(x, point.at.y)).map(Ask::Edit));
    }
    if let Some(y) = field::length(ctx, ui, &format!("Point {number}, down"), point.at.y) {
        asks.extend(target.put(ctx.layout, Point::new(point.at.x, y)).map(Ask::Edit));
    }
    let is_on_fold = ctx.layout.lay().is_folded() && points.is_end(index);
    ui.horizontal_wrapped(|ui| {
        let is_straight = point.before.is_none() && point.after.is_none();
        if ui.add_enabled(!is_straight, Button::new("Corner")).on_hover_text("A corner between straight sides").clicked() {
            asks.extend(with_points(ctx.layout, |points| points.make_corner(index)).map(Ask::Edit));
        }
        if ui
            .add_enabled(!point.is_smooth(), Button::new("Smooth"))
            .on_hover_text("The line runs through it without a corner")
            .clicked()
        {
            asks.extend(with_points(ctx.layout, |points| points.make_smooth(index, is_on_fold)).map(Ask::Edit));
        }
        if ui.add_enabled(points.count() > 2, Button::new("Remove point")).clicked() {
            asks.extend(with_points(ctx.layout, |points| points.remove(index)).map(Ask::Edit));
        }
    });
}
