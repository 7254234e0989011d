//! A page ready to be painted, and its painting.

use crate::app::flat::flat;
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::print::{Image, Page, Shape as Drawn};
use egui::{Color32, ColorImage, CornerRadius, Mesh, Painter, Pos2, Rect, Sense, Shape, Stroke, TextureHandle, TextureOptions};
use egui::{Ui, pos2, vec2};
use kurbo::Affine;
use std::sync::{Arc, OnceLock};

/// A page ready to be painted: lines in page mm.
#[derive(Debug)]
pub(in crate::app) struct PageLines {
    pub(super) name: String,
    size: (f64, f64),
    lines: Vec<(Vec<kurbo::Point>, f64)>,
    solids: Vec<Vec<kurbo::Point>>,
    words: Vec<Words>,
    pictures: Vec<Picture>,
    /// Where the page lies on the drawing that it is a sheet of: which drawing, and its frame's place in it.
    piece: Option<(usize, Affine)>,
}

#[derive(Debug)]
struct Words {
    text: String,
    at: kurbo::Point,
    cap_mm: f64,
    turn_rad: f64,
}

/// A picture on a page, a texture as soon as it is painted.
#[derive(Debug)]
struct Picture {
    image: Image,
    texture: OnceLock<Texture>,
}

struct Texture(TextureHandle);

impl std::fmt::Debug for Texture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Texture").finish_non_exhaustive()
    }
}

/// How far a curve may stray from the true one in the picture of a page, mm.
const FLAT_MM: f64 = 0.4;

pub(in crate::app) fn page_lines(page: &Page) -> PageLines {
    let mut lines = PageLines {
        name: page.name.clone(),
        size: (page.size_mm.width, page.size_mm.height),
        lines: vec![],
        solids: vec![],
        words: vec![],
        pictures: vec![],
        piece: piece(page),
    };
    for placed in &page.placed {
        let clip = placed.clip.map(|clip| placed.page_from_drawing.transform_rect_bbox(clip));
        for item in placed.drawing.items() {
            let shape = item.shape.transformed(placed.page_from_drawing);
            let reach = shape.bounding_box();
            if clip.is_some_and(|clip| clip.intersect(reach).is_zero_area() && !clip.overlaps(reach)) {
                continue;
            }
            lines.add(&shape, item.layer.style().width_mm, clip);
        }
    }
    lines
}

/// A sheet of a cut drawing shows a part of it; all sheets of one drawing share it.
fn piece(page: &Page) -> Option<(usize, Affine)> {
    let cut = page.placed.iter().find(|placed| placed.clip.is_some())?;
    Some((Arc::as_ptr(&cut.drawing).addr(), cut.page_from_drawing.inverse()))
}

impl PageLines {
    fn add(&mut self, shape: &Drawn, width_mm: f64, clip: Option<kurbo::Rect>) {
        match shape {
            Drawn::Text(text) => {
                let start = text.drawing_from_text() * kurbo::Point::ZERO;
                if clip.is_none_or(|clip| clip.contains(start)) {
                    self.words.push(Words {
                        text: text.text.clone(),
                        at: start,
                        cap_mm: text.cap_height_mm,
                        turn_rad: text.rotation_rad,
                    });
                }
            }
            Drawn::Dots(dots) => {
                let inside = dots.centers.iter().filter(|center| clip.is_none_or(|clip| clip.contains(**center)));
                self.lines.extend(
                    inside.map(|&center| {
                        (vec![center, center + kurbo::Vec2::new(2.0 * dots.radius_mm, 0.0)], 2.0 * dots.radius_mm)
                    }),
                );
            }
            Drawn::Image(image) => self.pictures.push(Picture { image: image.clone(), texture: OnceLock::new() }),
            Drawn::Solid(path) => self.solids.push(flat(path, FLAT_MM).into_iter().flatten().collect()),
            other => {
                for line in flat(&other.outline(), FLAT_MM) {
                    let kept = clip.map_or_else(|| vec![line.clone()], |clip| clipped(&line, clip));
                    self.lines.extend(kept.into_iter().map(|line| (line, width_mm)));
                }
            }
        }
    }
}

/// The stretches of a line inside a rectangle, cut at its edges.
fn clipped(line: &[kurbo::Point], clip: kurbo::Rect) -> Vec<Vec<kurbo::Point>> {
    let mut kept: Vec<Vec<kurbo::Point>> = Vec::new();
    for pair in line.windows(2) {
        let Some((from, to)) = cut(pair[0], pair[1], clip) else { continue };
        match kept.last_mut() {
            Some(last) if last.last() == Some(&from) => last.push(to),
            _ => kept.push(vec![from, to]),
        }
    }
    kept
}

/// A segment cut to a rectangle (the method of Liang and Barsky, a textbook's).
fn cut(a: kurbo::Point, b: kurbo::Point, clip: kurbo::Rect) -> Option<(kurbo::Point, kurbo::Point)> {
    let d = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (p, q) in [(-d.x, a.x - clip.x0), (d.x, clip.x1 - a.x), (-d.y, a.y - clip.y0), (d.y, clip.y1 - a.y)] {
        if p == 0.0 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            from = from.max(q / p);
        } else {
            to = to.min(q / p);
        }
    }
    (from <= to).then(|| (a + from * d, a + to * d))
}

/// Where a page is painted: its upper left corner, and points for one mm.
#[derive(Clone, Copy)]
struct Spot {
    corner: Pos2,
    scale: f64,
}

impl Spot {
    fn at(self, p: kurbo::Point) -> Pos2 {
        self.corner + vec2(screen(p.x * self.scale), screen(p.y * self.scale))
    }
}

const INK: Color32 = Color32::from_rgb(24, 24, 24);

impl PageLines {
    /// Paints it within a size, with its name below; what the pointer does there.
    pub(super) fn show(&self, ui: &mut Ui, within: egui::Vec2, palette: &Palette) -> egui::Response {
        let (width, height) = self.size;
        let scale = (f64::from(within.x - 14.0) / width).min(f64::from(within.y - 34.0) / height);
        let size = vec2(screen(width * scale), screen(height * scale));
        let (response, painter) = ui.allocate_painter(size + vec2(14.0, 30.0), Sense::click());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Sheet {}", self.name)));
        let paper = Rect::from_min_size(response.rect.min + vec2(6.0, 4.0), size);
        painter.rect_filled(paper.translate(vec2(3.0, 3.0)), CornerRadius::ZERO, palette.shadow);
        painter.rect_filled(paper, CornerRadius::ZERO, Color32::WHITE);
        self.paint(&painter.with_clip_rect(paper.intersect(painter.clip_rect())), Spot { corner: paper.min, scale });
        let name = response.rect.left_bottom() + vec2(6.0, -2.0);
        ui.painter().text(name, egui::Align2::LEFT_BOTTOM, &self.name, egui::FontId::proportional(13.0), palette.ink);
        response
    }

    /// Paints it as a picture of that breadth, points, on paper.
    pub(in crate::app) fn illustrate(&self, ui: &mut Ui, breadth: f32, name: &str) {
        let (width, height) = self.size;
        let scale = f64::from(breadth) / width;
        let (response, painter) = ui.allocate_painter(vec2(breadth, screen(height * scale)), Sense::hover());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, name));
        painter.rect_filled(response.rect, CornerRadius::ZERO, Color32::WHITE);
        self.paint(
            &painter.with_clip_rect(response.rect.intersect(painter.clip_rect())),
            Spot { corner: response.rect.min, scale },
        );
    }

    fn paint(&self, painter: &Painter, spot: Spot) {
        for picture in &self.pictures {
            picture.paint(painter, spot);
        }
        let ink = INK.gamma_multiply(if spot.scale < 1.0 { 0.7 } else { 1.0 });
        for (line, width_mm) in &self.lines {
            let stroke = Stroke::new(screen(width_mm * spot.scale).clamp(0.5, 6.0), ink);
            painter.line(line.iter().map(|&p| spot.at(p)).collect::<Vec<Pos2>>(), stroke);
        }
        for solid in &self.solids {
            painter.add(Shape::convex_polygon(solid.iter().map(|&p| spot.at(p)).collect(), INK, Stroke::NONE));
        }
        for words in &self.words {
            paint_words(painter, words, spot.at(words.at), screen(words.cap_mm * spot.scale), INK);
        }
    }
}

impl Picture {
    fn paint(&self, painter: &Painter, spot: Spot) {
        let pixels = &self.image.pixels;
        let texture = self.texture.get_or_init(|| {
            let image = ColorImage::from_rgba_unmultiplied([pixels.width(), pixels.height()], &pixels.rgba());
            let options = TextureOptions::LINEAR.with_mipmap_mode(Some(egui::TextureFilter::Linear));
            Texture(painter.ctx().load_texture("sheet's picture", image, options))
        });
        let mut mesh = Mesh::with_texture(texture.0.id());
        for (x, y) in [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)] {
            let pos = spot.at(self.image.drawing_from_unit * kurbo::Point::new(x, y));
            mesh.vertices.push(egui::epaint::Vertex { pos, uv: pos2(screen(x), screen(y)), color: Color32::WHITE });
        }
        mesh.indices.extend([0, 1, 2, 0, 2, 3]);
        painter.add(mesh);
    }
}

/// The sheets of the first drawing that is cut into several, with their places on it.
pub(super) fn pieces(pages: &[PageLines]) -> Vec<(usize, Affine)> {
    let first = pages.iter().find_map(|page| page.piece).map(|(drawing, _)| drawing);
    let of_first = |(index, page): (usize, &PageLines)| {
        page.piece.filter(|(drawing, _)| Some(*drawing) == first).map(|(_, place)| (index, place))
    };
    pages.iter().enumerate().filter_map(of_first).collect()
}

/// Paints sheets laid together, each over the next where they overlap; the one that was clicked.
pub(super) fn show_together(pages: &[PageLines], ui: &mut Ui, palette: &Palette) -> Option<usize> {
    let pieces = pieces(pages);
    let rect_mm = |index: usize, place: Affine| {
        let (width, height) = pages[index].size;
        place.transform_rect_bbox(kurbo::Rect::new(0.0, 0.0, width, height))
    };
    let bounds = pieces.iter().map(|&(index, place)| rect_mm(index, place)).reduce(|a, b| a.union(b))?;
    let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, "The assembled sheets"));
    let room = response.rect.shrink(18.0);
    let scale = (f64::from(room.width()) / bounds.width()).min(f64::from(room.height()) / bounds.height());
    let corner = room.center() - 0.5 * vec2(screen(bounds.width() * scale), screen(bounds.height() * scale));
    let at = |p: kurbo::Point| corner + vec2(screen((p.x - bounds.x0) * scale), screen((p.y - bounds.y0) * scale));
    let papers: Vec<Rect> = pieces
        .iter()
        .map(|&(index, place)| {
            let rect = rect_mm(index, place);
            Rect::from_min_max(at(kurbo::Point::new(rect.x0, rect.y0)), at(kurbo::Point::new(rect.x1, rect.y1)))
        })
        .collect();
    let pointed = response.hover_pos().and_then(|p| papers.iter().position(|paper| paper.contains(p)));
    for paper in &papers {
        painter.rect_filled(*paper, CornerRadius::ZERO, Color32::WHITE);
    }
    // A sheet's frame may be larger or smaller than the drawing's by the printer's correction.
    let (paint, name) = (egui::FontId::proportional(14.0), palette.accent);
    for (turn, (&(index, _), paper)) in pieces.iter().zip(&papers).enumerate() {
        let spot = Spot { corner: paper.min, scale: f64::from(paper.width()) / pages[index].size.0 };
        pages[index].paint(&painter.with_clip_rect(*paper), spot);
        let stroke = if pointed == Some(turn) { Stroke::new(2.5, name) } else { Stroke::new(1.0, Color32::from_gray(150)) };
        painter.rect_stroke(*paper, CornerRadius::ZERO, stroke, egui::StrokeKind::Inside);
    }
    for (&(index, _), paper) in pieces.iter().zip(&papers) {
        let tag = painter.layout_no_wrap(pages[index].name.clone(), paint.clone(), palette.tag[1]);
        let rect = Rect::from_center_size(paper.center(), tag.size() + vec2(10.0, 4.0));
        painter.rect_filled(rect, CornerRadius::same(3), palette.tag[0]);
        painter.galley(rect.center() - 0.5 * tag.size(), tag, palette.tag[1]);
    }
    let clicked = response.clicked();
    response.on_hover_text("Click a sheet to enlarge it");
    pointed.filter(|_| clicked).map(|turn| pieces[turn].0)
}

/// Capitals are about seven tenths of the font's size.
const CAP_SHARE: f32 = 0.7;

fn paint_words(painter: &Painter, words: &Words, at: Pos2, cap: f32, ink: Color32) {
    if cap < 2.2 {
        return;
    }
    let size = cap / CAP_SHARE;
    let galley = painter.layout_no_wrap(words.text.clone(), egui::FontId::proportional(size), ink);
    let turn = screen(words.turn_rad);
    // The words' baseline starts at `at`; a galley starts at its upper left corner.
    let up = egui::Vec2::angled(turn - std::f32::consts::FRAC_PI_2) * (0.92 * size);
    painter.add(egui::epaint::TextShape::new(at + up, galley, ink).with_angle(turn));
}
