//! What is printed, drawn on the table: the pictures of the folding card.

use super::pen::Pen;
use crate::app::flat::flat;
use crate::app::screen::screen;
use crate::print::parts::FoldPictures;
use crate::print::{Anchor, Layer, Shape as Printed, Text};
use egui::{Align2, Color32, FontId, Pos2, Rect, Shape, Stroke, vec2};
use kurbo::{BezPath, Point, Shape as _, Size};

/// Points for a printed millimetre: its captions are as large as other words in drawings.
const POINTS_PER_MM: f32 = 3.4;
/// A font's size over the height of its capitals, about.
const SIZE_OF_CAPS: f64 = 1.4;
/// How far a curve may stray from the true one, printed mm.
const FLAT_MM: f64 = 0.1;

impl Pen<'_> {
    /// The way to a bundle, fold by fold, in a room.
    pub(super) fn printed(&self, way: &FoldPictures, rect: Rect) {
        let size = rect.size() / POINTS_PER_MM;
        let drawing = way.drawing(Size::new(f64::from(size.x), f64::from(size.y)));
        let at = |p: Point| rect.min + POINTS_PER_MM * vec2(screen(p.x), screen(p.y));
        for item in drawing.painted() {
            let style = item.layer.style();
            let width = (screen(style.width_mm) * POINTS_PER_MM).max(0.8);
            let stroke = Stroke::new(width, self.ink(item.layer));
            match item.shape {
                Printed::Line(line) => self.stretch(&[at(line.p0), at(line.p1)], style.dash_mm, stroke),
                Printed::Path(path) => self.curves(&path, style.dash_mm, stroke, &at),
                Printed::Circle(circle) => self.curves(&circle.to_path(FLAT_MM), style.dash_mm, stroke, &at),
                Printed::Arc(arc) => self.curves(&arc.to_path(), style.dash_mm, stroke, &at),
                Printed::Text(text) => self.caption(&text, at(text.position)),
                // The way has neither dots nor pictures.
                Printed::Dots(_) | Printed::Area { .. } | Printed::Solid(_) | Printed::Image(_) => {}
            }
        }
    }

    fn ink(&self, layer: Layer) -> Color32 {
        match layer {
            Layer::Arrow | Layer::Guide => self.palette.accent,
            Layer::Reference | Layer::Map => self.palette.faint,
            _ => self.palette.chalk,
        }
    }

    fn curves(&self, path: &BezPath, dash_mm: &[f64], stroke: Stroke, at: &impl Fn(Point) -> Pos2) {
        for line in flat(path, FLAT_MM) {
            self.stretch(&line.into_iter().map(at).collect::<Vec<_>>(), dash_mm, stroke);
        }
    }

    fn stretch(&self, line: &[Pos2], dash_mm: &[f64], stroke: Stroke) {
        match dash_mm {
            [dash, gap, ..] => {
                let [dash, gap] = [*dash, *gap].map(|mm| screen(mm) * POINTS_PER_MM);
                self.painter.extend(Shape::dashed_line(line, stroke, dash, gap));
            }
            _ => drop(self.painter.line(line.to_vec(), stroke)),
        }
    }

    fn caption(&self, text: &Text, at: Pos2) {
        let align = match text.anchor {
            Anchor::Start => Align2::LEFT_BOTTOM,
            Anchor::Middle => Align2::CENTER_BOTTOM,
            Anchor::End => Align2::RIGHT_BOTTOM,
        };
        let size = screen(SIZE_OF_CAPS * text.cap_height_mm) * POINTS_PER_MM;
        self.painter.text(at + vec2(0.0, 0.25 * size), align, &text.text, FontId::proportional(size), self.palette.ink);
    }
}
