//! Painting the table: cloth with its folds, chalk, thread, paper tags. Decides nothing.

use super::others::OtherTie;
use super::scene::{Fill, Ring, Scene};
use super::twist;
use super::view::View;
use crate::app::screen::screen;
use crate::app::theme::{Palette, WOOD};
use crate::edit::{HandleSide, Target};
use egui::{Align2, Color32, CornerRadius, FontId, Mesh, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, vec2};
use kurbo::Point;

/// Where and how a scene is painted.
pub(super) struct Brush<'a> {
    pub(super) painter: &'a Painter,
    pub(super) area: Rect,
    pub(super) view: &'a View,
    pub(super) palette: &'a Palette,
    /// The garment's colour.
    pub(super) cloth: Color32,
    /// Twisted thread, as a picture of one turn.
    pub(super) thread: egui::TextureId,
    /// The sections' colours as a picture over the scene's bounds.
    pub(super) tint: Option<egui::TextureId>,
}

/// What is marked as handled.
#[derive(Clone, Copy, Default)]
pub(super) struct Marked {
    pub(super) selected: Option<Handle>,
    pub(super) hovered: Option<Handle>,
}

/// A ring or centre as the scene knows it.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Handle {
    Centre,
    Radius(f64),
    /// A point of the line.
    Point(usize),
    /// A handle of one.
    Control(usize, HandleSide),
    /// A crease of a flat bundle, and whether by its end.
    Crease(u32, bool),
}

impl Handle {
    pub(super) fn of(target: Target, layout: &crate::layout::Layout) -> Option<Self> {
        match target {
            Target::Centre => Some(Self::Centre),
            Target::Point(index) => Some(Self::Point(index)),
            Target::Handle(index, side) => Some(Self::Control(index, side)),
            Target::Crease(number, is_end) => Some(Self::Crease(number, is_end)),
            other => other.radius_mm(layout).map(Self::Radius),
        }
    }

    pub(super) fn is_ring(self, ring: &Ring) -> bool {
        matches!(self, Self::Radius(radius) if (radius - ring.radius_mm).abs() < 1e-9)
    }
}

/// Where other ties are named: those that lie on each other together.
fn named(others: &[OtherTie]) -> Vec<(Point, Vec<&str>)> {
    let mut named: Vec<(Point, Vec<&str>)> = Vec::new();
    for (at, name) in others.iter().flat_map(|other| other.middles.iter().map(|&at| (at, other.name.as_str()))) {
        match named.iter_mut().find(|(known, _)| known.distance(at) < ON_EACH_OTHER_MM) {
            Some((_, names)) => names.push(name),
            None => named.push((at, vec![name])),
        }
    }
    named
}

/// How near the middles of two ties lie whose names would be written over each other, mm.
const ON_EACH_OTHER_MM: f64 = 20.0;

/// What the shade of an upper layer takes of a lower one's light.
const SHADE: f32 = 0.28;
impl Brush<'_> {
    pub(super) fn at(&self, p: Point) -> Pos2 {
        self.view.screen_from_mm(self.area, p)
    }

    fn line(&self, points: &[Point]) -> Vec<Pos2> {
        points.iter().map(|&p| self.at(p)).collect()
    }

    /// Paints it; where the tags lie, with their numbers.
    pub(super) fn scene(&self, scene: &Scene, marked: Marked) -> Vec<(Rect, u32)> {
        self.cloth(scene);
        for crease in &scene.creases {
            // One that ends alone, so that cloth bunches beyond, shows more.
            let (share, dash) = if crease.ends_alone { (0.8, [6.0, 4.0]) } else { (0.38, [2.0, 5.0]) };
            let stroke = Stroke::new(1.0, self.chalk().gamma_multiply(share));
            self.painter.extend(Shape::dashed_line(&self.line(&[crease.line.p0, crease.line.p1]), stroke, dash[0], dash[1]));
        }
        self.marked_creases(scene, marked);
        self.under_blocks(scene);
        self.wound(scene);
        for &hole in &scene.stitches {
            self.painter.circle_filled(self.at(hole), 2.2, self.chalk());
        }
        let ridge = Stroke::new(1.2, self.chalk().gamma_multiply(0.55));
        for line in &scene.ridge {
            self.painter.line_segment([self.at(line.p0), self.at(line.p1)], ridge);
        }
        for stroke in &scene.strokes {
            self.painter.line(self.line(stroke), Stroke::new(3.0, self.chalk()));
        }
        let centre_line = self.line(&scene.centre_line);
        self.painter.extend(Shape::dashed_line(&centre_line, Stroke::new(1.2, self.chalk().gamma_multiply(0.8)), 12.0, 6.0));
        for ring in &scene.rings {
            self.ring(ring, marked);
        }
        let tags = self.tags(scene, marked);
        for &centre in &scene.centres {
            self.centre(centre, marked);
        }
        tags
    }

    /// Where other ties end, and what they are called.
    pub(super) fn others(&self, others: &[OtherTie]) {
        let stroke = Stroke::new(1.4, self.chalk().gamma_multiply(0.7));
        for line in others.iter().flat_map(|other| &other.edge) {
            self.painter.extend(Shape::dashed_line(&self.line(line), stroke, 3.0, 4.0));
        }
        for (middle, names) in named(others) {
            let galley = self.painter.layout_no_wrap(names.join("\n"), FontId::proportional(13.0), self.palette.ink);
            // On the fold of a folded garment half of a name in the middle would lie beside the cloth.
            let at = self.at(middle);
            let left = if middle.x.abs() < 1.0 { at.x + 6.0 } else { at.x - 0.5 * galley.size().x };
            let rect = Rect::from_min_size(egui::pos2(left, at.y - 0.5 * galley.size().y), galley.size());
            self.painter.rect_filled(rect.expand2(vec2(4.0, 1.0)), 3.0, self.palette.panel.gamma_multiply(0.85));
            self.painter.galley(rect.min, galley, self.palette.ink);
        }
    }

    /// Where blocks fall on the cloth: solid on the pieces that they touch, faint on those between; and the point that a pattern is laid from.
    fn under_blocks(&self, scene: &Scene) {
        let [touched, between] = &scene.under_blocks;
        for line in between {
            self.painter.line(self.line(line), Stroke::new(1.0, WOOD.gamma_multiply(0.45)));
        }
        for line in touched {
            self.painter.line(self.line(line), Stroke::new(2.4, WOOD));
        }
        if let Some(start) = scene.start.map(|start| self.at(start)) {
            let corners = [vec2(0.0, -5.0), vec2(5.0, 0.0), vec2(0.0, 5.0), vec2(-5.0, 0.0)].map(|by| start + by);
            self.painter.add(Shape::convex_polygon(corners.to_vec(), self.palette.guide, Stroke::new(1.2, self.chalk())));
        }
    }

    /// Where wound thread falls on the cloth: on the piece that it lies on, dashed on the one that it lies under.
    fn wound(&self, scene: &Scene) {
        let ([upper, lower], [_, light]) = (&scene.wound, self.palette.thread);
        for line in lower {
            let under = Stroke::new(1.2, light.gamma_multiply(0.55));
            self.painter.extend(Shape::dashed_line(&self.line(&[line.p0, line.p1]), under, 5.0, 4.0));
        }
        for line in upper {
            self.thread(&self.line(&[line.p0, line.p1]));
        }
    }

    /// What is folded in one go, where it is pointed at or selected; all creases where they are to be turned.
    fn marked_creases(&self, scene: &Scene, marked: Marked) {
        for (handle, width) in [(marked.hovered, 4.0), (marked.selected, 5.0)] {
            let Some(Handle::Crease(number, is_end)) = handle else { continue };
            let stroke = Stroke::new(width, self.palette.accent.gamma_multiply(0.75));
            for crease in scene.creases.iter().filter(|crease| crease.number == number) {
                self.painter.line_segment([self.at(crease.line.p0), self.at(crease.line.p1)], stroke);
            }
            let others = scene.creases.iter().filter(|crease| is_end && crease.number != number);
            for crease in others {
                let line = [self.at(crease.line.p0), self.at(crease.line.p1)];
                self.painter.line_segment(line, Stroke::new(1.5, self.palette.accent.gamma_multiply(0.5)));
            }
        }
    }

    fn chalk(&self) -> Color32 {
        chalk_on(self.cloth)
    }

    fn cloth(&self, scene: &Scene) {
        let shadow = vec2(3.0, 4.0);
        for fill in &scene.cloth {
            self.fill(&fill.points, &fill.triangles, shadow, self.palette.shadow);
        }
        let layers = scene.cloth.len();
        for (index, fill) in scene.cloth.iter().enumerate() {
            // What lies below and shows beside the upper layer, as a hood does, is in its shade.
            let shade = if index + 1 == layers { 0.0 } else { SHADE };
            let in_light = |tone: Color32| tone.lerp_to_gamma(Color32::BLACK, shade);
            match self.tint {
                Some(texture) => self.fill_tinted(fill, scene.bounds, texture, in_light(Color32::WHITE)),
                None => self.fill(&fill.points, &fill.triangles, Vec2::ZERO, in_light(self.cloth)),
            }
        }
        for line in &scene.hidden_edges {
            let stroke = Stroke::new(1.2, self.chalk().gamma_multiply(0.7));
            self.painter.extend(Shape::dashed_line(&self.line(line), stroke, 6.0, 4.0));
        }
        for line in &scene.edges {
            self.painter.line(self.line(line), Stroke::new(1.6, self.palette.edge));
        }
        if scene.folded {
            self.fold_shadow(scene);
        }
    }

    /// The roundness of the fold, as a shade that fades away from it.
    fn fold_shadow(&self, scene: &Scene) {
        let [top, foot] = scene.centre_line;
        for (width_mm, strength) in [(5.0, 0.22), (11.0, 0.12), (20.0, 0.07)] {
            let band = Rect::from_two_pos(self.at(top), self.at(Point::new(width_mm, foot.y)));
            self.painter.rect_filled(band, CornerRadius::ZERO, Color32::BLACK.gamma_multiply(strength));
        }
    }

    fn fill(&self, points: &[Point], triangles: &[u32], by: Vec2, colour: Color32) {
        let mut mesh = Mesh::default();
        for &p in points {
            mesh.colored_vertex(self.at(p) + by, colour);
        }
        mesh.indices.extend_from_slice(triangles);
        self.painter.add(mesh);
    }

    /// Cloth with a picture on it that spans `bounds`, in a light.
    fn fill_tinted(&self, fill: &Fill, bounds: kurbo::Rect, texture: egui::TextureId, light: Color32) {
        let mut mesh = Mesh::with_texture(texture);
        let share =
            |p: Point| egui::pos2(screen((p.x - bounds.x0) / bounds.width()), screen((p.y - bounds.y0) / bounds.height()));
        mesh.vertices.extend(fill.points.iter().map(|&p| egui::epaint::Vertex { pos: self.at(p), uv: share(p), color: light }));
        mesh.indices.extend_from_slice(&fill.triangles);
        self.painter.add(mesh);
    }

    fn ring(&self, ring: &Ring, marked: Marked) {
        let is = |handle: Option<Handle>| handle.is_some_and(|handle| handle.is_ring(ring));
        let emphasis = if is(marked.selected) {
            2.0
        } else if is(marked.hovered) {
            1.0
        } else {
            0.0
        };
        for stretch in &ring.stretches {
            let line = self.line(stretch);
            if emphasis > 0.0 {
                self.painter.line(line.clone(), Stroke::new(5.0 + emphasis, self.palette.accent.gamma_multiply(0.75)));
            }
            match (ring.number, ring.guide) {
                (None, _) => self.painter.extend(Shape::dashed_line(&line, Stroke::new(1.2, self.chalk()), 7.0, 5.0)),
                (Some(_), guide) => {
                    if guide {
                        self.painter.line(line.clone(), Stroke::new(5.0, self.chalk().gamma_multiply(0.55)));
                    }
                    self.thread(&line);
                }
            }
        }
    }

    /// The points of the maker's own line: squares at corners, discs where it is smooth; of the selected one its handles.
    pub(super) fn points(&self, scene: &Scene, marked: Marked, selected: Option<usize>) {
        let is_marked = |handle: Handle| marked.selected == Some(handle) || marked.hovered == Some(handle);
        let tone = |handle: Handle| if is_marked(handle) { self.palette.accent } else { self.palette.guide };
        let edge = Stroke::new(1.5, self.chalk());
        for (index, point) in scene.points.iter().enumerate() {
            let at = self.at(point.at);
            for side in [HandleSide::Before, HandleSide::After].into_iter().filter(|_| selected == Some(index)) {
                let Some(handle) = point.handle(side) else { continue };
                let end = self.at(point.at + handle);
                self.painter.line_segment([at, end], Stroke::new(1.2, self.chalk()));
                self.painter.circle(end, 4.0, tone(Handle::Control(index, side)), edge);
            }
            if point.is_smooth() {
                self.painter.circle(at, 5.0, tone(Handle::Point(index)), edge);
            } else {
                let square = Rect::from_center_size(at, vec2(9.0, 9.0));
                self.painter.rect(square, CornerRadius::ZERO, tone(Handle::Point(index)), edge, StrokeKind::Middle);
            }
        }
    }

    fn thread(&self, line: &[Pos2]) {
        self.painter.add(twist::thread(line, self.thread));
    }

    fn centre(&self, centre: Point, marked: Marked) {
        let at = self.at(centre);
        let is = |handle: Option<Handle>| handle == Some(Handle::Centre);
        if is(marked.selected) || is(marked.hovered) {
            let width = if is(marked.selected) { 3.0 } else { 2.0 };
            self.painter.circle_stroke(at, 15.0, Stroke::new(width, self.palette.accent));
        }
        let stroke = Stroke::new(2.6, self.chalk());
        for arm in [vec2(11.0, 0.0), vec2(0.0, 11.0)] {
            self.painter.line_segment([at - arm, at + arm], stroke);
        }
    }
}

/// Chalk that shows on cloth of this colour: light on dark cloth, dark on light.
pub(crate) fn chalk_on(cloth: Color32) -> Color32 {
    let [r, g, b, _] = cloth.to_array().map(u32::from);
    // Rec. 601 luma, in thousandths: enough to choose between light and dark.
    if 299 * r + 587 * g + 114 * b > 140_000 { Color32::from_rgb(58, 52, 46) } else { Color32::from_rgb(240, 239, 232) }
}

/// Spaces between marks of a ruler that are tried, mm or inches.
const STEPS: [f64; 12] = [0.125, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
/// Least space between numbered marks, points.
const LEAST_SPACE: f64 = 56.0;
/// Breadth of a ruler, points.
pub(super) const RULER: f32 = 20.0;

impl Brush<'_> {
    /// Where a section begins and ends, for a dye that is held over it.
    pub(super) fn section(&self, scene: &Scene, edges_mm: [f64; 2]) {
        let is_edge = |ring: &&Ring| ring.number.is_some() && edges_mm.iter().any(|edge| (edge - ring.radius_mm).abs() < 1e-9);
        for stretch in scene.rings.iter().filter(is_edge).flat_map(|ring| &ring.stretches) {
            self.painter.line(self.line(stretch), Stroke::new(4.0, self.palette.accent));
        }
    }

    /// A line that was measured, with its length.
    pub(super) fn measure(&self, ends: [Point; 2], words: &str) {
        let line = [self.at(ends[0]), self.at(ends[1])];
        self.painter.line_segment(line, Stroke::new(2.0, self.palette.accent));
        for end in line {
            self.painter.circle_filled(end, 3.5, self.palette.accent);
        }
        let middle = line[0].lerp(line[1], 0.5) - vec2(0.0, 14.0);
        let galley = self.painter.layout_no_wrap(words.to_owned(), FontId::proportional(15.0), self.palette.tag[1]);
        let rect = Align2::CENTER_CENTER.anchor_size(middle, galley.size() + vec2(10.0, 4.0));
        self.painter.rect_filled(rect, CornerRadius::same(3), self.palette.tag[0]);
        self.painter.galley(rect.center() - 0.5 * galley.size(), galley, self.palette.tag[1]);
    }

    /// Rulers along the upper and the left edge, counted from the shoulder point, or the upper edge of what has none, and the centre line.
    pub(super) fn rulers(&self, lengths: crate::measure::LengthStyle) {
        let unit_mm = lengths.unit().in_mm();
        let points_per_unit = self.view.points_per_mm * unit_mm;
        let Some(step) = STEPS.into_iter().find(|step| step * points_per_unit >= LEAST_SPACE) else { return };
        let paper = self.palette.panel.gamma_multiply(0.92);
        let top = Rect::from_min_size(self.area.min, vec2(self.area.width(), RULER));
        let left = Rect::from_min_size(self.area.min, vec2(RULER, self.area.height()));
        self.painter.rect_filled(top, CornerRadius::ZERO, paper);
        self.painter.rect_filled(left, CornerRadius::ZERO, paper);
        let corners = [self.area.min, self.area.max].map(|corner| self.view.mm_from_screen(self.area, corner));
        for mark in marks(corners[0].x, corners[1].x, step * unit_mm) {
            let x = self.at(Point::new(mark, 0.0)).x;
            self.painter.vline(x, (top.bottom() - 5.0)..=top.bottom(), Stroke::new(1.0, self.palette.faint));
            let galley = self.painter.layout_no_wrap(lengths.number(mark), FontId::proportional(10.5), self.palette.faint);
            let rect = Align2::CENTER_TOP.anchor_size(egui::pos2(x, top.top() + 2.0), galley.size());
            // A number that the corner or the end would cover a part of reads as another.
            if rect.left() >= left.right() && rect.right() <= top.right() {
                self.painter.galley(rect.min, galley, self.palette.faint);
            }
        }
        for mark in marks(corners[0].y, corners[1].y, step * unit_mm) {
            let y = self.at(Point::new(0.0, mark)).y;
            self.painter.hline((left.right() - 5.0)..=left.right(), y, Stroke::new(1.0, self.palette.faint));
            let galley = self.painter.layout_no_wrap(lengths.number(mark), FontId::proportional(10.5), self.palette.faint);
            let half = 0.5 * galley.size().x;
            if y - half < top.bottom() || y + half > left.bottom() {
                continue;
            }
            let at = egui::pos2(left.left() + 2.0, y + half);
            let turned = egui::epaint::TextShape::new(at, galley, self.palette.faint).with_angle(-std::f32::consts::FRAC_PI_2);
            self.painter.add(turned);
        }
        self.painter.rect_filled(Rect::from_min_size(self.area.min, vec2(RULER, RULER)), CornerRadius::ZERO, paper);
    }
}

fn marks(a: f64, b: f64, step: f64) -> impl Iterator<Item = f64> {
    let (low, high) = (a.min(b), a.max(b));
    let first = (low / step).ceil();
    let count = ((high / step).floor() - first + 1.0).clamp(0.0, 400.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number between 0 and 400")]
    let count = count as u32;
    (0..count).map(move |index| (first + f64::from(index)) * step)
}
