//! The bound rod, side on and to scale.

use super::pen::Pen;
use crate::app::context::Context;
use crate::app::heading;
use crate::app::screen::screen;
use crate::app::theme::{Palette, tone};
use crate::layout::{BindFigures, RodProfile};
use egui::{Align2, Color32, CornerRadius, FontId, Painter, Pos2, Rect, Role, Sense, Shape, Stroke, Ui, WidgetInfo, pos2, vec2};

/// What stands above the binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Labels {
    /// Their numbers, from the centre.
    Numbers,
    /// In which order they are tied.
    Order,
}

/// Share of the window's height that the rod takes at most.
const MOST_OF_HEIGHT: f32 = 0.24;
/// Room above the rod for labels, below it for the strip, points.
const ABOVE: f32 = 30.0;
const BELOW: f32 = 20.0;
/// Height of the strip, points.
const STRIP: f32 = 42.0;

/// The rod within a rectangle.
pub(super) struct Bound<'a> {
    ctx: &'a Context<'a>,
    profile: &'a RodProfile,
    painter: &'a Painter,
    palette: &'a Palette,
    /// Where it lies: its tip at the left, its axis in the middle of the height.
    rect: Rect,
    /// Points for one mm.
    scale: f64,
}

impl Bound<'_> {
    /// The rod over the whole breadth, its strip beneath.
    pub(super) fn show(ctx: &Context<'_>, profile: &RodProfile, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        heading::on_table("The bound rod", ui);
        let width = ui.available_width();
        let most = (MOST_OF_HEIGHT * ui.ctx().content_rect().height()).max(60.0);
        let scale = scale(profile, vec2(width - 16.0, most));
        let thick = screen(profile.thickest_mm * scale);
        let (response, painter) = ui.allocate_painter(vec2(width, ABOVE + thick + BELOW + STRIP), Sense::hover());
        let label = "The bound rod, side on, its strip beneath";
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, label));
        let top = response.rect.top() + ABOVE;
        let rect = Rect::from_min_max(pos2(response.rect.left() + 8.0, top), pos2(response.rect.right() - 8.0, top + thick));
        let rod = Bound { ctx, profile, painter: &painter, palette, rect, scale };
        rod.draw(Labels::Numbers);
        rod.strip(rect.bottom() + BELOW);
    }

    /// The rod as large as it goes into the room, with labels above it; where it lies.
    pub(super) fn within(pen: &Pen<'_>, room: Rect, labels: Labels) -> Rect {
        let &Pen { ctx, profile, painter, palette, .. } = pen;
        let room = room.with_min_y(room.top() + ABOVE);
        let scale = scale(profile, room.size());
        let size = vec2(screen(profile.length_mm * scale), screen(profile.thickest_mm * scale));
        let rect = Rect::from_center_size(room.center(), size);
        Bound { ctx, profile, painter, palette, rect, scale }.draw(labels);
        rect
    }

    fn at(&self, along_mm: f64, above_mm: f64) -> Pos2 {
        pos2(self.rect.left() + screen(along_mm * self.scale), self.rect.center().y - screen(above_mm * self.scale))
    }

    fn draw(&self, labels: Labels) {
        let sections = self.ctx.figures.sections.iter().zip(&self.profile.sections);
        for ((section, heights_mm), colour) in sections.zip(self.ctx.layout.section_colours()) {
            let swatch = colour.and_then(|index| self.ctx.layout.raw().colours.rotation.get(index));
            let colour = swatch.map_or(self.palette.plain_cloth, |swatch| tone(swatch.srgb));
            self.section([section.inner_mm, section.outer_mm], heights_mm, colour);
        }
        for bind in &self.ctx.figures.binds {
            self.bind(bind);
        }
        self.labels(labels);
    }

    /// A section with its bulge.
    fn section(&self, [from_mm, to_mm]: [f64; 2], heights_mm: &[f64; RodProfile::STEPS + 1], tone: Color32) {
        let edge = |up: f64| {
            let along = |step: usize| from_mm + (to_mm - from_mm) * step as f64 / RodProfile::STEPS as f64;
            let points = heights_mm.iter().enumerate().map(|(step, height_mm)| self.at(along(step), 0.5 * up * height_mm));
            points.collect::<Vec<Pos2>>()
        };
        let (upper, lower) = (edge(1.0), edge(-1.0));
        let mut mesh = egui::Mesh::default();
        for (index, (a, b)) in (0_u32..).zip(upper.iter().zip(&lower)) {
            mesh.colored_vertex(*a, tone.lerp_to_gamma(Color32::WHITE, 0.12));
            mesh.colored_vertex(*b, tone.lerp_to_gamma(Color32::BLACK, 0.35));
            if index > 0 {
                let at = 2 * index;
                mesh.add_triangle(at - 2, at - 1, at);
                mesh.add_triangle(at - 1, at, at + 1);
            }
        }
        self.painter.add(mesh);
        self.pleat_lines(&upper, &lower);
    }

    fn pleat_lines(&self, upper: &[Pos2], lower: &[Pos2]) {
        for share in [0.2_f32, 0.4, 0.6, 0.8] {
            let line: Vec<Pos2> = upper.iter().zip(lower).map(|(a, b)| a.lerp(*b, share)).collect();
            self.painter.line(line, Stroke::new(0.8, Color32::BLACK.gamma_multiply(0.25)));
        }
    }

    fn bind(&self, bind: &BindFigures) {
        let half = 0.5 * bind.rod.bound_diameter_mm + 0.8;
        let thread_mm = self.ctx.layout.thread().diameter_mm;
        let [dark, light] = self.palette.thread;
        for wrap in 0..bind.wraps {
            let x = bind.radius_mm + (f64::from(wrap) - 0.5 * f64::from(bind.wraps - 1)) * thread_mm;
            let ends = [self.at(x, half), self.at(x, -half)];
            self.painter.line_segment(ends, Stroke::new(screen(thread_mm * self.scale).max(1.6), dark));
            self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, light), 3.0, 3.0));
        }
    }

    /// A label above each bind, the guide arc's in any case, of the others as many as stand clear of each other.
    fn labels(&self, labels: Labels) {
        let mut taken: Vec<Rect> = Vec::new();
        let guide_first = |bind: &&BindFigures| !bind.on_guide_arc;
        let mut binds: Vec<&BindFigures> = self.ctx.figures.binds.iter().collect();
        binds.sort_by_key(guide_first);
        for bind in binds {
            let words = match labels {
                Labels::Numbers => bind.number.to_string(),
                Labels::Order => ordinal(bind.tied),
            };
            let (size, ink) = match (bind.on_guide_arc, labels) {
                (true, Labels::Order) => (16.0, self.palette.accent),
                (true, Labels::Numbers) => (14.5, self.palette.ink),
                (false, _) => (12.5, self.palette.ink),
            };
            let galley = self.painter.layout_no_wrap(words, FontId::proportional(size), ink);
            let above = self.at(bind.radius_mm, 0.5 * bind.rod.bound_diameter_mm) - vec2(0.0, 6.0);
            let rect = Align2::CENTER_BOTTOM.anchor_size(above, galley.size());
            if taken.iter().any(|other| other.expand2(vec2(2.0, 0.0)).intersects(rect)) {
                continue;
            }
            self.painter.galley(rect.min, galley, ink);
            taken.push(rect);
        }
    }

    /// The strip that lies beside the rod: where each bind sits, its wraps, each section's number.
    fn strip(&self, top: f32) {
        let end_mm = self.profile.length_mm;
        let paper = Rect::from_min_max(pos2(self.at(0.0, 0.0).x - 8.0, top), pos2(self.at(end_mm, 0.0).x + 8.0, top + STRIP));
        let [fill, ink] = self.palette.tag;
        self.painter.rect_filled(paper, CornerRadius::same(2), fill);
        let small = FontId::proportional(11.0);
        let mut last = f32::NEG_INFINITY;
        for bind in &self.ctx.figures.binds {
            let x = self.at(bind.radius_mm, 0.0).x;
            let stroke = Stroke::new(if bind.on_guide_arc { 2.2 } else { 1.2 }, ink);
            self.painter.vline(x, top..=(top + 12.0), stroke);
            if x - last > 24.0 {
                let words = format!("{}×", bind.wraps);
                self.painter.text(pos2(x, top + 13.0), Align2::CENTER_TOP, words, small.clone(), ink);
                last = x;
            }
        }
        for section in &self.ctx.figures.sections {
            let at = pos2(self.at(0.5 * (section.inner_mm + section.outer_mm), 0.0).x, top + STRIP - 2.0);
            if screen(section.length_mm * self.scale) > 20.0 {
                self.painter.text(at, Align2::CENTER_BOTTOM, section.number.to_string(), small.clone(), ink);
            }
        }
    }
}

/// A place in an order, so that it is not taken for a bind's number.
fn ordinal(place: u32) -> String {
    let ending = match (place % 10, place % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    format!("{place}{ending}")
}

/// Points for one mm at which the rod goes into a room.
fn scale(profile: &RodProfile, room: egui::Vec2) -> f64 {
    (f64::from(room.x) / profile.length_mm).min(f64::from(room.y) / profile.thickest_mm)
}

#[cfg(test)]
mod tests {
    #[test]
    fn places_in_an_order_have_their_endings() {
        let places = [1, 2, 3, 4, 11, 12, 13, 21, 102, 113];
        let words = ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "102nd", "113th"];
        assert_eq!(places.map(super::ordinal), words);
    }
}
