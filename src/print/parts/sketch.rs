//! A drawing of cloth made small: places are scaled, lines and words are as broad and as high as on any sheet.

use crate::print::{Anchor, Drawing, Layer, Shape, Text};
use kurbo::{Affine, BezPath, Line, Point, Rect};

/// Height of capitals in a picture, mm.
pub(crate) const CAP_MM: f64 = 2.2;
/// Between a picture's ink and its edge, mm.
const BORDER_MM: f64 = 1.0;

/// What is being drawn.
#[derive(Debug)]
pub(crate) struct Sketch {
    pub(crate) drawing: Drawing,
    /// Takes cloth mm to picture mm.
    pub(crate) to_picture: Affine,
}

impl Sketch {
    /// A sketch that shows a box of cloth at a place of the picture, at this scale.
    pub(crate) fn new(title: &str, cloth: Rect, at: impl Into<Point>, scale: f64) -> Self {
        let mut sketch = Self { drawing: Drawing::new(title), to_picture: Affine::IDENTITY };
        sketch.move_to(cloth, at, scale);
        sketch
    }

    /// Goes on with another box of cloth.
    pub(crate) fn move_to(&mut self, cloth: Rect, at: impl Into<Point>, scale: f64) {
        let at = at.into().to_vec2();
        self.to_picture = Affine::translate(at) * Affine::scale(scale) * Affine::translate(-cloth.origin().to_vec2());
    }

    pub(crate) fn path(&mut self, layer: Layer, path: &BezPath) {
        self.drawing.path(layer, self.to_picture * path);
    }

    pub(crate) fn line(&mut self, layer: Layer, line: Line) {
        self.drawing.add(layer, Shape::Line(self.to_picture * line));
    }

    pub(crate) fn point(&self, cloth: impl Into<Point>) -> Point {
        self.to_picture * cloth.into()
    }

    /// Words at a place of the picture, their middle of height there.
    pub(crate) fn words(&mut self, words: impl Into<String>, at: impl Into<Point>, anchor: Anchor) {
        let at = at.into() + (0.0, 0.5 * CAP_MM);
        self.drawing.text(Text::new(words, at, CAP_MM).anchored(anchor));
    }

    /// The same in bold.
    pub(crate) fn bold(&mut self, words: impl Into<String>, at: impl Into<Point>, anchor: Anchor) {
        let at = at.into() + (0.0, 0.5 * CAP_MM);
        self.drawing.text(Text::new(words, at, CAP_MM).anchored(anchor).bold());
    }

    /// A thin line from words to what they name, both in the picture.
    pub(crate) fn pointer(&mut self, from: impl Into<Point>, to: impl Into<Point>) {
        self.drawing.line(Layer::Map, from, to);
    }

    /// The drawing, as large as its ink.
    pub(crate) fn finish(mut self) -> Drawing {
        self.drawing.fit_bounds(BORDER_MM);
        self.drawing
    }
}

/// A path as a closed or open line through points.
pub(crate) fn through(points: impl IntoIterator<Item = Point>) -> BezPath {
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
