//! A drawing of cloth made small: places are scaled, lines and words are as broad and as high as on any sheet.

use super::WIDTH_MM;
use crate::print::{Anchor, Drawing, Layer, Page, Shape, Text};
use kurbo::{Affine, BezPath, Line, Point, Rect, Size};

/// Height of capitals in a picture, mm.
pub(super) const CAP_MM: f64 = 2.2;
/// Between a picture's ink and its edge, mm.
const BORDER_MM: f64 = 1.0;

/// What is being drawn.
pub(super) struct Sketch {
    pub(super) drawing: Drawing,
    /// Takes cloth mm to picture mm.
    pub(super) to_picture: Affine,
}

impl Sketch {
    /// A sketch that shows a box of cloth at a place of the picture, at this scale.
    pub(super) fn new(title: &str, cloth: Rect, at: impl Into<Point>, scale: f64) -> Self {
        let mut sketch = Self { drawing: Drawing::new(title), to_picture: Affine::IDENTITY };
        sketch.move_to(cloth, at, scale);
        sketch
    }

    /// Goes on with another box of cloth.
    pub(super) fn move_to(&mut self, cloth: Rect, at: impl Into<Point>, scale: f64) {
        let at = at.into().to_vec2();
        self.to_picture = Affine::translate(at) * Affine::scale(scale) * Affine::translate(-cloth.origin().to_vec2());
    }

    pub(super) fn path(&mut self, layer: Layer, path: &BezPath) {
        self.drawing.path(layer, self.to_picture * path);
    }

    pub(super) fn line(&mut self, layer: Layer, line: Line) {
        self.drawing.add(layer, Shape::Line(self.to_picture * line));
    }

    pub(super) fn point(&self, cloth: impl Into<Point>) -> Point {
        self.to_picture * cloth.into()
    }

    /// Words at a place of the picture, their middle of height there.
    pub(super) fn words(&mut self, words: impl Into<String>, at: impl Into<Point>, anchor: Anchor) {
        let at = at.into() + (0.0, 0.5 * CAP_MM);
        self.drawing.text(Text::new(words, at, CAP_MM).anchored(anchor));
    }

    /// The same in bold.
    pub(super) fn bold(&mut self, words: impl Into<String>, at: impl Into<Point>, anchor: Anchor) {
        let at = at.into() + (0.0, 0.5 * CAP_MM);
        self.drawing.text(Text::new(words, at, CAP_MM).anchored(anchor).bold());
    }

    /// A thin line from words to what they name, both in the picture.
    pub(super) fn pointer(&mut self, from: impl Into<Point>, to: impl Into<Point>) {
        self.drawing.line(Layer::Map, from, to);
    }

    /// The picture: as broad as its ink, and shrunk where that is too broad.
    pub(super) fn finish(mut self) -> Page {
        self.drawing.fit_bounds(BORDER_MM);
        page_of(&self.drawing)
    }
}

/// A drawing as a page of its own size.
pub(super) fn page_of(drawing: &Drawing) -> Page {
    let bounds = drawing.bounds;
    let scale = (WIDTH_MM / bounds.width()).min(1.0);
    let mut page = Page::of_drawing(drawing.title.clone(), scale * bounds.size(), drawing);
    page.placed.iter_mut().for_each(|placed| placed.page_from_drawing = Affine::scale(scale) * placed.page_from_drawing);
    page
}

/// The beginning of a drawing at its true size: so much of it, from its left edge on.
pub(super) fn beginning_of(drawing: &Drawing, width_mm: f64) -> Page {
    let bounds = drawing.bounds;
    let seen = Rect::from_origin_size(bounds.origin(), (width_mm.min(bounds.width()), bounds.height()));
    let size = Size::new(seen.width(), seen.height());
    let mut page = Page::of_drawing(drawing.title.clone(), size, drawing);
    page.placed.iter_mut().for_each(|placed| placed.clip = Some(seen));
    page
}

/// A path as a closed or open line through points.
pub(super) fn through(points: impl IntoIterator<Item = Point>) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in points.into_iter().enumerate() {
        if index == 0 {
            path.move_to(point);
        } else {
            path.line_to(point);
        }
    }
    path
}
