//! What is painted in the picture: chalk on black.

use super::{Aligned, Projection, Stage};
use crate::app::context::Context;
use crate::app::screen::screen;
use crate::projection::{CheckFigure, Homography, ProjectedLayer, Projector, Role, TableLine, TableScene};
use crate::telling::Refused as _;
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Stroke, StrokeKind, Vec2, vec2};
use kurbo::Point;
use std::collections::BTreeMap;

/// Chalk at full brightness.
const CHALK: [f32; 3] = [1.0, 1.0, 0.96];
/// The mark that the keys move.
const CHOSEN: Color32 = Color32::from_rgb(255, 176, 66);
/// Breadth of alignment lines, points: fine, or the corner below them is hidden.
const FINE: f32 = 1.5;
/// Arms of a mark's cross, its ring, and how far its number lies from it, points.
const ARM: f32 = 34.0;
const RING: f32 = 16.0;
const NUMBER: f32 = 40.0;
/// Height of a bind's number on the table, mm, and at least, points.
const NUMBER_MM: f64 = 16.0;
const LEAST_TEXT: f32 = 13.0;
/// Where on its line a number may stand, as shares of its points, the best first: never at an end, where a corner may be.
const NUMBER_SHARES: [f64; 9] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.03, 0.97];
/// Words in the picture, points.
const WORDS: f32 = 22.0;
/// How far beyond the picture lines are drawn, px: their ends would show as ends.
const BEYOND_PX: f64 = 40.0;

/// Where pixels of the picture lie in its window.
pub(super) struct Easel {
    painter: Painter,
    area: Rect,
    px_per_point: f32,
}

impl Easel {
    pub(super) fn new(painter: Painter, area: Rect, px_per_point: f32) -> Self {
        Self { painter, area, px_per_point }
    }

    pub(super) fn at(&self, px: Point) -> Pos2 {
        self.area.min + vec2(screen(px.x), screen(px.y)) / self.px_per_point
    }

    pub(super) fn px(&self, points: Vec2) -> kurbo::Vec2 {
        let by = points * self.px_per_point;
        kurbo::Vec2::new(f64::from(by.x), f64::from(by.y))
    }

    pub(super) fn point(&self, at: Pos2) -> Point {
        self.px(at - self.area.min).to_point()
    }

    pub(super) fn ground(&self) {
        self.painter.rect_filled(self.area, 0.0, Color32::BLACK);
    }

    fn line(&self, px: [Point; 2], stroke: Stroke) {
        self.painter.line_segment(px.map(|px| self.at(px)), stroke);
    }

    fn words(&self, at: Pos2, anchor: Align2, words: &str, size: f32, colour: Color32) {
        self.painter.text(at, anchor, words, FontId::proportional(size), colour);
    }

    /// Where the picture ends.
    fn border(&self, tone: Color32) {
        self.painter.rect_stroke(self.area.shrink(1.0), 0.0, Stroke::new(1.0, tone.gamma_multiply(0.4)), StrokeKind::Inside);
    }

    /// Words in the middle of the picture.
    fn say(&self, words: &str, colour: Color32) {
        let galley = self.painter.layout(words.to_owned(), FontId::proportional(WORDS), colour, 0.8 * self.area.width());
        let at = self.area.center() - 0.5 * galley.size();
        self.painter.galley(at, galley, colour);
    }
}

/// Chalk of this brightness.
fn chalk(brightness: f64) -> Color32 {
    let [red, green, blue] = CHALK.map(|part| part * screen(brightness));
    // Of the levels on the screen, as the eye sees them: half way to black looks half as bright.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of 255")]
    let level = |part: f32| (255.0 * part.clamp(0.0, 1.0)).round() as u8;
    Color32::from_rgb(level(red), level(green), level(blue))
}

/// How broad a line of a role is beside the others.
const fn breadth(role: Role) -> f64 {
    match role {
        Role::Guide => 1.6,
        Role::Edge | Role::EdgeBehind | Role::Axis | Role::Ridge | Role::Block | Role::Thread => 0.6,
        Role::Pin | Role::Source | Role::Bind | Role::Extra | Role::CreaseOver | Role::CreaseUnder | Role::Stitch => 1.0,
    }
}

impl Projection {
    pub(super) fn paint(&mut self, ctx: &Context<'_>, scene: &TableScene, easel: &Easel) {
        let Some(projector) = self.projector.as_ref() else { return };
        let tone = chalk(projector.brightness);
        match self.stage {
            Stage::Rectangle => {
                easel.border(tone);
                easel.say("Lay the rectangle on the table, in the middle of this picture", tone);
            }
            Stage::Marks => marks(projector, self.mark, tone, easel),
            Stage::Check | Stage::Show => {
                if let Err(problem) = self.aligned() {
                    return easel.say(&problem.say(ctx.voice()), tone);
                }
                if self.stage == Stage::Check {
                    self.paint_check(ctx, tone, easel);
                } else {
                    self.paint_layout(scene, tone, easel);
                }
            }
        }
    }

    fn paint_check(&self, ctx: &Context<'_>, tone: Color32, easel: &Easel) {
        let Ok(aligned) = self.aligned() else { return };
        let Some(figure) = self.figure(ctx) else {
            return easel.say("The picture has no room for a bar to measure", tone);
        };
        let pen = Pen::of(&aligned, tone, easel);
        figure.lines().iter().for_each(|line| pen.draw(line));
        let CheckFigure { middle, cross_mm, bar } = figure;
        let half = 0.5 * cross_mm;
        let words = [
            (bar[0].midpoint(bar[1]), figure.bar_mm()),
            (middle + kurbo::Vec2::new(0.55 * half, 0.0), cross_mm),
            (middle + kurbo::Vec2::new(0.0, 0.55 * half), cross_mm),
        ];
        for (at, mm) in words {
            pen.words(at, vec2(10.0, -10.0), &ctx.lengths.format(mm), WORDS);
        }
    }

    fn paint_layout(&mut self, scene: &TableScene, tone: Color32, easel: &Easel) {
        let Some(placed) = self.placed(scene) else { return };
        let Ok(aligned) = self.aligned() else { return };
        let pen = Pen::of(&aligned, tone, easel);
        let mut numbered = BTreeMap::new();
        for line in scene.layer(self.layer, !self.edge_hidden) {
            let line = line.placed(placed.table_from_garment());
            pen.draw(&line);
            if let Some(number) = line.number.filter(|_| !self.numbers_hidden) {
                numbered.entry(number).or_insert_with(Vec::new).push(line);
            }
        }
        // After all lines, and from the outside inward, where they are closer.
        let mut taken = Vec::new();
        for (number, lines) in numbered.iter().rev() {
            let before = taken.len();
            for line in lines {
                if taken.len() == before {
                    pen.number(line, *number, &mut taken);
                }
            }
        }
        let place = ProjectedLayer::ALL.iter().position(|layer| *layer == self.layer).unwrap_or_default() + 1;
        let words = format!("{place} of {}: {}", ProjectedLayer::ALL.len(), self.layer.name());
        let at = easel.area.left_bottom() + vec2(16.0, -12.0);
        easel.words(at, Align2::LEFT_BOTTOM, &words, 16.0, tone.gamma_multiply(0.6));
    }
}

/// Draws lines of the table.
struct Pen<'a> {
    map: Homography,
    picture: kurbo::Rect,
    /// Breadth of a line, points.
    breadth: f32,
    /// A mm of the table in the middle of the rectangle, points.
    points_per_mm: f32,
    tone: Color32,
    easel: &'a Easel,
}

impl<'a> Pen<'a> {
    fn of(aligned: &Aligned<'_>, tone: Color32, easel: &'a Easel) -> Self {
        let Aligned { projector, alignment } = aligned;
        let map = *alignment.picture_from_table();
        let [width, height] = projector.picture.map(f64::from);
        let picture = kurbo::Rect::new(0.0, 0.0, width, height).inflate(BEYOND_PX, BEYOND_PX);
        let points_per_mm = screen(map.scale_at(Point::ZERO).unwrap_or(1.0)) / easel.px_per_point;
        Self { map, picture, breadth: screen(projector.line_mm) * points_per_mm, points_per_mm, tone, easel }
    }

    fn draw(&self, line: &TableLine) {
        // Thinner than a pixel it would flicker.
        let breadth = (self.breadth * screen(breadth(line.role))).max(1.0 / self.easel.px_per_point);
        for piece in line.drawn(&self.map, self.picture) {
            let points: Vec<Pos2> = piece.iter().map(|px| self.easel.at(*px)).collect();
            self.easel.painter.line(points, Stroke::new(breadth, self.tone));
        }
    }

    fn words(&self, table: Point, aside: Vec2, words: &str, size: f32) {
        if let Some(px) = self.map.apply(table) {
            self.easel.words(self.easel.at(px) + aside, Align2::LEFT_BOTTOM, words, size, self.tone);
        }
    }

    /// A bind's number, in a gap of its line where that comes into the picture; where it would lie on one that is there already it is left out.
    fn number(&self, line: &TableLine, number: u32, taken: &mut Vec<Rect>) {
        let size = (screen(NUMBER_MM) * self.points_per_mm).max(LEAST_TEXT);
        let room = self.easel.area.shrink(size);
        let places = NUMBER_SHARES.into_iter().filter_map(|share| along(&line.points, share));
        let shown = places.filter_map(|point| self.map.apply(point)).map(|px| self.easel.at(px));
        let painter = &self.easel.painter;
        let galley = painter.layout_no_wrap(number.to_string(), FontId::proportional(size), self.tone);
        let patch = |at: Pos2| Rect::from_center_size(at, galley.size() + Vec2::splat(4.0));
        let free =
            shown.filter(|at| room.contains(*at)).map(patch).find(|rect| !taken.iter().any(|other| other.intersects(*rect)));
        if let Some(rect) = free {
            painter.rect_filled(rect, 0.0, Color32::BLACK);
            painter.galley(rect.center() - 0.5 * galley.size(), galley, self.tone);
            taken.push(rect);
        }
    }
}

/// The place at a share of a line's points, between them too.
fn along(points: &[Point], share: f64) -> Option<Point> {
    let pieces = points.len().checked_sub(1).filter(|pieces| *pieces > 0)?;
    let at = share * f64::from(u32::try_from(pieces).ok()?);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below the number of pieces, and not below 0")]
    let piece = (at as usize).min(pieces - 1);
    Some(points[piece].lerp(points[piece + 1], at - f64::from(u32::try_from(piece).ok()?)))
}

/// The rectangle as it is dragged, with a cross and a number at each mark.
fn marks(projector: &Projector, chosen: usize, tone: Color32, easel: &Easel) {
    if let &[one, two, three, four, ..] = &projector.marks[..] {
        for side in [[one, two], [two, three], [three, four], [four, one]] {
            easel.line(side, Stroke::new(FINE, tone));
        }
    }
    for (index, at) in projector.marks.iter().enumerate() {
        let colour = if index == chosen { CHOSEN } else { tone };
        let (at, stroke) = (easel.at(*at), Stroke::new(FINE, colour));
        for arm in [vec2(ARM, 0.0), vec2(0.0, ARM)] {
            easel.painter.line_segment([at - arm, at + arm], stroke);
        }
        easel.painter.circle_stroke(at, RING, stroke);
        // Towards the middle of the picture: a number at its border would be cut.
        let inward = easel.area.center() - at;
        let aside = NUMBER * vec2(inward.x.signum(), inward.y.signum());
        easel.words(at + aside, Align2::CENTER_CENTER, &(index + 1).to_string(), WORDS, colour);
    }
    easel.border(tone);
}
