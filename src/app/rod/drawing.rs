//! Drawings of the way to the rod, of the layout's own outlines, arcs and creases.

use super::bound::{Bound, Labels};
use super::pen::{Pen, SMALL, outline_on};
use crate::app::canvas::{View, chalk_on};
use crate::app::screen::screen;
use crate::geometry::{BundlePoint, ClothPoint, Panel};
use egui::{Align2, Color32, FontId, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};
use kurbo::Point;

/// A layer lies so far aside from the one below it, points.
const ASIDE: Vec2 = vec2(9.0, -7.0);
/// Room for the layers' names, points.
const NAMES: f32 = 96.0;
/// Height of the row of pleats seen from their edge, points.
const ZIGZAG: f32 = 26.0;
/// Length of an arrow's barbs, points.
const BARB: f32 = 8.0;

impl Pen<'_> {
    /// Every layer, a little aside from the one below, and which it is.
    pub(super) fn layers(&self, rect: Rect) {
        let names = self.layer_names();
        let count = screen((names.len().max(1) - 1) as f64);
        let room = rect.with_max_x(rect.right() - NAMES);
        let room = Rect::from_min_max(room.min - vec2(0.0, ASIDE.y * count), room.max - vec2(ASIDE.x * count, 0.0));
        let view = View::fitting(self.scene.bounds, room, false);
        let mut tops: Vec<Pos2> = Vec::new();
        for (index, (panel, _)) in names.iter().enumerate() {
            let by = ASIDE * screen(index as f64);
            let at = |p: Point| view.screen_from_mm(room, p) + by;
            // The back is the first of the scene's panels, the front its last.
            let is_back = *panel == Panel::Back;
            let fill = if is_back { self.scene.cloth.first() } else { self.scene.cloth.last() };
            let under = 0.4 * (1.0 - screen((index + 1) as f64 / names.len() as f64));
            let cloth = self.cloth().lerp_to_gamma(Color32::BLACK, under);
            if let Some(fill) = fill {
                self.fill(fill, &at, cloth);
            }
            let other = if is_back { &self.scene.hidden_edges } else { &self.scene.edges };
            for line in other {
                self.painter.line(line.iter().map(|&p| at(p)).collect(), Stroke::new(1.3, outline_on(cloth, self.palette)));
            }
            tops.push(at(Point::new(self.scene.bounds.x1, self.scene.bounds.center().y)));
        }
        let line_height = SMALL + 5.0;
        let right = tops.iter().map(|top| top.x).fold(rect.left(), f32::max) + 12.0;
        let top = rect.center().y - 0.5 * line_height * (count + 2.0);
        self.write(pos2(right, top), Align2::LEFT_TOP, "from the top:", self.palette.faint);
        for (index, (_, name)) in names.iter().rev().enumerate() {
            let at = pos2(right, top + line_height * screen((index + 1) as f64));
            self.write(at, Align2::LEFT_TOP, name, self.palette.ink);
        }
    }

    /// The layers from the bottom up, as the fold itself tells them.
    fn layer_names(&self) -> Vec<(Panel, String)> {
        let fold = self.ctx.layout.fold();
        let along_mm = self.ctx.figures.fold.guide_mm;
        let named = |cloth: ClothPoint| {
            let panel = if cloth.panel == Panel::Back { "back" } else { "front" };
            let half = match (self.scene.folded, cloth.x_mm.is_sign_negative()) {
                (false, _) => "",
                (true, true) => " right",
                (true, false) => " left",
            };
            (cloth.panel, format!("{panel}{half}"))
        };
        let name = |place: u32| fold.to_cloth(BundlePoint { along_mm, across: 0.5, place: f64::from(place) }).map(named);
        if self.ctx.layout.spiral().is_some() {
            let middle = self.ctx.layout.middle_as_laid().unwrap_or_default();
            return (0..fold.lay().layers()).map(|layer| named(fold.lay().cloth_at(layer, middle))).collect();
        }
        // In even pleats layers lie in their own order; one in a corner may come to a point where the pleats are measured.
        let layers = fold.layers();
        let of_pleat = |pleat: u32| (pleat * layers..(pleat + 1) * layers).map(name).collect::<Option<Vec<_>>>();
        (0..self.ctx.figures.fold.pleats).step_by(2).find_map(of_pleat).unwrap_or_default()
    }

    /// The centre, the arcs to chalk and the string for the guide arc.
    pub(super) fn arcs(&self, rect: Rect) {
        let at = self.laid(rect);
        let chalk = chalk_on(self.cloth());
        for ring in &self.scene.rings {
            let stroke = if ring.guide { Stroke::new(3.0, chalk) } else { Stroke::new(1.2, chalk.gamma_multiply(0.75)) };
            for stretch in &ring.stretches {
                self.painter.line(stretch.iter().map(|&p| at(p)).collect(), stroke);
            }
        }
        self.strokes(&at, chalk);
        // A line is laid on from the template: there is no one string to show.
        let Some(&centre) = self.scene.centres.first().filter(|_| self.ctx.figures.burst.is_some()) else { return };
        let guide = self.scene.rings.iter().find(|ring| ring.guide);
        let longest = guide.and_then(|guide| guide.stretches.iter().max_by_key(|stretch| stretch.len()));
        if let Some(end) = longest.and_then(|stretch| stretch.get(stretch.len() / 2)) {
            let line = [at(centre), at(*end)];
            self.painter.line_segment(line, Stroke::new(2.2, self.palette.accent));
            let words = self.ctx.lengths.format(self.ctx.figures.fold.guide_mm);
            self.tag(line[1] + vec2(6.0, 0.0), &words);
        }
        self.painter.circle_filled(at(centre), 5.0, self.palette.accent);
    }

    /// The creases, those to fold over drawn out and those to fold under broken, and the pleats from their edge.
    pub(super) fn creases(&self, rect: Rect) {
        let pleats = self.ctx.figures.fold.pleats;
        let words = format!("Solid lines: fold over. Dashed: fold under. {pleats} pleats, seen from the edge.");
        let words = self.painter.layout(words, FontId::proportional(SMALL), self.palette.faint, rect.width());
        let (upper, lower) = rect.split_top_bottom_at_y(rect.bottom() - ZIGZAG - words.size().y - 14.0);
        let at = self.laid(upper);
        let chalk = chalk_on(self.cloth());
        self.strokes(&at, chalk);
        for ring in self.scene.rings.iter().filter(|ring| ring.guide) {
            for stretch in &ring.stretches {
                self.painter.line(stretch.iter().map(|&p| at(p)).collect(), Stroke::new(2.4, self.palette.accent));
            }
        }
        for crease in &self.scene.creases {
            let line = [at(crease.line.p0), at(crease.line.p1)];
            if crease.is_over {
                self.painter.line_segment(line, Stroke::new(1.5, chalk));
            } else {
                self.painter.extend(Shape::dashed_line(&line, Stroke::new(1.5, chalk), 5.0, 4.0));
            }
        }
        if let Some(&centre) = self.scene.centres.first().filter(|_| self.ctx.figures.burst.is_some()) {
            self.painter.circle_filled(at(centre), 4.0, self.palette.accent);
        }
        let foot = lower.bottom() - words.size().y;
        self.zigzag(lower.with_max_y(foot - 4.0));
        self.painter.galley(pos2(lower.center().x - 0.5 * words.size().x, foot), words, self.palette.faint);
    }

    /// The strokes of a line that no bind lies on.
    fn strokes(&self, at: &impl Fn(Point) -> Pos2, chalk: Color32) {
        for stroke in &self.scene.strokes {
            self.painter.line(stroke.iter().map(|&p| at(p)).collect(), Stroke::new(2.4, chalk));
        }
    }

    /// The pleats from their edge, at the foot of a rectangle.
    fn zigzag(&self, rect: Rect) {
        let pleats = self.ctx.figures.fold.pleats;
        let width = rect.width().min(18.0 * screen(f64::from(pleats)));
        let left = rect.center().x - 0.5 * width;
        let (top, foot) = (rect.bottom() - ZIGZAG, rect.bottom());
        let corner = |index: u32| {
            let x = left + width * screen(f64::from(index) / f64::from(pleats.max(1)));
            pos2(x, if index.is_multiple_of(2) { top } else { foot })
        };
        self.painter.line((0..=pleats).map(corner).collect(), Stroke::new(1.8, self.palette.chalk));
    }

    /// The rod with the order of tying above it, and the two ways from the guide arc.
    pub(super) fn binds(&self, rect: Rect) {
        let rod = Bound::within(self, rect.with_max_y(rect.bottom() - 34.0), Labels::Order);
        let Some(guide) = self.ctx.figures.binds.iter().find(|bind| bind.on_guide_arc) else { return };
        let share = guide.radius_mm / self.profile.length_mm;
        let from = pos2(rod.left() + rod.width() * screen(share), rod.bottom() + 14.0);
        let stroke = Stroke::new(1.6, self.palette.accent);
        for (to, anchor, words) in
            [(rod.left(), Align2::RIGHT_TOP, "then inward"), (rod.right(), Align2::LEFT_TOP, "then outward")]
        {
            let aside = if to < from.x { -10.0 } else { 10.0 };
            let tip = pos2(to, from.y);
            self.painter.line_segment([from + vec2(aside, 0.0), tip], stroke);
            for up in [-0.6, 0.6] {
                self.painter.line_segment([tip, tip - vec2(aside.signum() * BARB, up * BARB)], stroke);
            }
            self.write(from + vec2(aside, 5.0), anchor, words, self.palette.faint);
        }
    }
}
