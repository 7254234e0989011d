//! A puck from above: its wedges in their colours, the bands over it, and its tick.

use super::pen::Pen;
use crate::app::screen::screen;
use crate::app::theme::tone;
use crate::geometry::{Spiral, Twist};
use crate::layout::SectionFigures;
use egui::{Align2, Color32, FontId, Mesh, Pos2, Rect, Shape, Stroke, Vec2, vec2};
use std::f64::consts::TAU;

/// Straight pieces that a whole turn of the rim is drawn with.
const PIECES: f64 = 180.0;
/// Where a wedge's number stands, as a share of the radius.
const NUMBERS_AT: f32 = 0.66;
/// Room about the puck for its tick, points.
const ABOUT: f32 = 26.0;
/// How much lighter a puck is drawn in its middle, and how much darker at its rim, so that it looks round.
const SHADES: [f32; 2] = [0.10, 0.32];

impl Pen<'_> {
    /// The puck with its bands, as large as it goes into the room.
    pub(super) fn puck(&self, rect: Rect) {
        self.puck_with(rect, true);
    }

    /// The same before it is banded.
    pub(super) fn bare_puck(&self, rect: Rect) {
        self.puck_with(rect, false);
    }

    fn puck_with(&self, rect: Rect, banded: bool) {
        let Some(spiral) = self.ctx.layout.spiral() else { return };
        let radius = (0.5 * rect.size().min_elem() - ABOUT).max(20.0);
        let (middle, rim_mm) = (rect.center(), spiral.rim_mm());
        let way = |along_mm: f64| direction(along_mm / rim_mm);
        if banded {
            for (section, colour) in self.ctx.figures.sections.iter().zip(self.ctx.layout.section_colours()) {
                let swatch = colour.and_then(|index| self.ctx.layout.raw().colours.rotation.get(index));
                let colour = swatch.map_or(self.cloth(), |swatch| tone(swatch.srgb));
                self.wedge(middle, radius, [section.inner_mm, section.outer_mm].map(|mm| mm / rim_mm), colour);
            }
        } else {
            self.wedge(middle, radius, [0.0, 1.0], self.cloth());
        }
        self.pleats(spiral, middle, radius);
        if banded {
            self.bands(spiral, middle, radius);
            for section in &self.ctx.figures.sections {
                self.number(section, middle + NUMBERS_AT * radius * way(0.5 * (section.inner_mm + section.outer_mm)));
            }
        } else {
            self.turn(spiral, middle, radius);
        }
        let tick = [middle + (radius + 3.0) * way(0.0), middle + (radius + 11.0) * way(0.0)];
        self.painter.line_segment(tick, Stroke::new(2.4, self.palette.ink));
        self.write(tick[1] - vec2(0.0, 1.0), Align2::CENTER_BOTTOM, "tick", self.palette.faint);
    }

    /// A wedge between two shares of a turn.
    fn wedge(&self, middle: Pos2, radius: f32, [from, to]: [f64; 2], tone: Color32) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred pieces at most")]
        let pieces = ((to - from) * PIECES).ceil().max(1.0) as u32;
        let mut mesh = Mesh::default();
        mesh.colored_vertex(middle, tone.lerp_to_gamma(Color32::WHITE, SHADES[0]));
        for piece in 0..=pieces {
            let at = middle + radius * direction(from + (to - from) * f64::from(piece) / f64::from(pieces));
            mesh.colored_vertex(at, tone.lerp_to_gamma(Color32::BLACK, SHADES[1]));
            if piece > 0 {
                mesh.add_triangle(0, piece, piece + 1);
            }
        }
        self.painter.add(mesh);
    }

    /// Pleats that wind about the middle the way the pinch was turned.
    fn pleats(&self, spiral: &Spiral, middle: Pos2, radius: f32) {
        let lines = 4 * spiral.spec().pleats;
        // Cloth farther out lies behind; more than half a turn of it would be no picture of pleats.
        let winds = -clockwise(spiral) * spiral.spec().turns.min(0.5);
        let stroke = Stroke::new(0.8, Color32::BLACK.gamma_multiply(0.25));
        for line in 0..lines {
            let from = f64::from(line) / f64::from(lines);
            let at = |step: u8| {
                let share = f64::from(step) / 16.0;
                middle + radius * screen(share) * direction(from + winds * share)
            };
            self.painter.line((1..=16).map(at).collect(), stroke);
        }
    }

    fn bands(&self, spiral: &Spiral, middle: Pos2, radius: f32) {
        let per_mm = f64::from(radius) / spiral.radius_mm();
        let thread = self.ctx.layout.thread();
        let breadth = screen(f64::from(thread.wraps) * thread.diameter_mm * per_mm).max(2.2);
        let [dark, light] = self.palette.thread;
        for bind in &self.ctx.figures.binds {
            let ends = [middle, middle + (radius + 1.5) * direction(bind.radius_mm / spiral.rim_mm())];
            self.painter.line_segment(ends, Stroke::new(breadth, dark));
            self.painter.extend(Shape::dashed_line(&ends, Stroke::new(1.0, light), 3.0, 3.0));
        }
    }

    /// Which way the pinch is turned.
    fn turn(&self, spiral: &Spiral, middle: Pos2, radius: f32) {
        let sense = clockwise(spiral);
        let reach = 0.42 * radius;
        let at = |share: f64| middle + reach * direction(sense * share);
        let stroke = Stroke::new(2.4, self.palette.accent);
        self.painter.line((0..=30).map(|step| at(0.75 * f64::from(step) / 30.0)).collect(), stroke);
        let (tip, before) = (at(0.75), at(0.70));
        let back = (before - tip).normalized() * 9.0;
        for aside in [0.6, -0.6] {
            self.painter.line_segment([tip, tip + back + aside * back.rot90()], stroke);
        }
    }

    fn number(&self, section: &SectionFigures, at: Pos2) {
        let [paper, ink] = self.palette.tag;
        let galley = self.painter.layout_no_wrap(section.number.to_string(), FontId::proportional(12.5), ink);
        let rect = Rect::from_center_size(at, galley.size() + vec2(8.0, 2.0));
        self.painter.rect_filled(rect, 3.0, paper);
        self.painter.galley(rect.center() - 0.5 * galley.size(), galley, ink);
    }
}

/// 1 where the pinch is turned clockwise, -1 where it is not.
fn clockwise(spiral: &Spiral) -> f64 {
    match spiral.spec().twist {
        Twist::Clockwise => 1.0,
        Twist::Anticlockwise => -1.0,
    }
}

/// The direction of a share of a turn, clockwise from straight up.
fn direction(turns: f64) -> Vec2 {
    let (sin, cos) = (turns * TAU).sin_cos();
    vec2(screen(sin), -screen(cos))
}
