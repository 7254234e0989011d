//! What of a flat bundle is dipped, on the bundle as it is drawn from above: what lies in dye, and the numbers of edges and corners.

use super::pen::Pen;
use crate::app::theme::tone;
use crate::geometry::{DipPart, FlatFold};
use crate::layout::DyeBy;
use egui::{Align2, Color32, FontId, Pos2, Shape, Stroke};
use kurbo::Point;

/// How far outside the outline a number stands, points.
const BESIDE: f32 = 5.0;
/// From which part of a direction on words stand on that side of it.
const TILTED: f32 = 0.3;

impl Pen<'_> {
    /// What lies in dye, in its colours.
    pub(super) fn dipped(&self, fold: &FlatFold, at: &impl Fn(Point) -> Pos2) {
        for dip in self.ctx.layout.dips() {
            let Some(swatch) = self.ctx.layout.raw().colours.rotation.get(dip.colour) else { continue };
            let points: Vec<Pos2> = fold.in_dye(&dip.zone).into_iter().map(at).collect();
            let colour = tone(swatch.srgb);
            let stroke = Stroke::new(1.0, colour.lerp_to_gamma(Color32::BLACK, 0.35));
            self.painter.add(Shape::convex_polygon(points, colour.gamma_multiply(0.85), stroke));
        }
    }

    /// Whether something is dipped or is to be.
    pub(super) fn has_dips(&self) -> bool {
        !self.ctx.layout.dips().is_empty() || self.ctx.layout.process().dye == DyeBy::Dipped
    }

    /// The numbers of corners and edges, where something is dipped or is to be.
    pub(super) fn dip_numbers(&self, fold: &FlatFold, at: &impl Fn(Point) -> Pos2) {
        if !self.has_dips() {
            return;
        }
        let middle = at(fold.middle());
        for part in fold.dip_parts() {
            let Some(place) = fold.part_place(part) else { continue };
            let place = at(place);
            let away = (place - middle).normalized();
            let (words, ink) = match part {
                DipPart::Corner(number) => (format!("{number}"), self.palette.ink),
                _ => (part.to_string(), self.palette.faint),
            };
            self.painter.text(place + BESIDE * away, beside(away), words, FontId::proportional(12.5), ink);
        }
    }
}

/// How words are set that stand beside something, that way from it.
fn beside(away: egui::Vec2) -> Align2 {
    let align = |part: f32| match part {
        part if part > TILTED => egui::Align::Min,
        part if part < -TILTED => egui::Align::Max,
        _ => egui::Align::Center,
    };
    Align2([align(away.x), align(away.y)])
}
