//! A drawing: what goes on paper, true to size in mm, before anyone asks which paper or which file.
//!
//! `y` runs down, angles run from +x toward +y (clockwise as seen). Nothing here knows sheets or formats.

use kurbo::{BezPath, Circle, Line, Point, Rect};

use super::PrintError;
use super::shape::{Arc, Shape, Text};
use super::style::{Layer, LayerNames};

/// Farthest that a coordinate may lie from the origin, in mm: 100 m. Own choice: no cloth is larger, and no slip of a decimal point
/// may eat the memory.
pub const MAX_REACH_MM: f64 = 100_000.0;

/// A drawing, true to size.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What its layers are called.
    pub names: LayerNames,
    /// Title, shown on every sheet and in the file's metadata.
    pub title: String,
    /// The area that belongs to the drawing, in mm: the page of an SVG. At least the ink; see [`Drawing::fit_bounds`].
    pub bounds: Rect,
    /// Items, painted layer by layer and within a layer in this order.
    pub items: Vec<Item>,
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it is; decides how it is drawn.
    pub layer: Layer,
    /// Its geometry.
    pub shape: Shape,
}

/// A circle up to this radius, in mm, is a hole or a point: it means nothing in two halves. Own choice.
const HOLE_MM: f64 = 4.0;

impl Item {
    /// Whether it must stand on one sheet whole: words and holes. Lines may go on over several.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        match &self.shape {
            Shape::Text(_) => true,
            Shape::Circle(circle) => circle.radius <= HOLE_MM,
            _ => false,
        }
    }
}

impl Drawing {
    /// An empty drawing. Bounds are empty too: add items, then call [`Drawing::fit_bounds`], or set them.
    #[must_use]
    pub fn new(title: impl Into<String>) -> Self {
        Self { title: title.into(), names: LayerNames::default(), bounds: Rect::ZERO, items: Vec::new() }
    }

    /// The same drawing with names of its own for layers.
    #[must_use]
    pub fn named(self, names: LayerNames) -> Self {
        Self { names, ..self }
    }

    /// Adds a shape to a layer.
    pub fn add(&mut self, layer: Layer, shape: Shape) {
        self.items.push(Item { layer, shape });
    }

    /// Adds a straight line.
    pub fn line(&mut self, layer: Layer, p0: impl Into<Point>, p1: impl Into<Point>) {
        self.add(layer, Shape::Line(Line::new(p0, p1)));
    }

    /// Adds a full circle.
    pub fn circle(&mut self, layer: Layer, center: impl Into<Point>, radius_mm: f64) {
        self.add(layer, Shape::Circle(Circle::new(center, radius_mm)));
    }

    /// Adds part of a circle.
    pub fn arc(&mut self, layer: Layer, center: impl Into<Point>, radius_mm: f64, start_rad: f64, sweep_rad: f64) {
        self.add(layer, Shape::Arc(Arc { center: center.into(), radius_mm, start_rad, sweep_rad }));
    }

    /// Adds a path of lines and curves.
    pub fn path(&mut self, layer: Layer, path: BezPath) {
        self.add(layer, Shape::Path(path));
    }

    /// Adds words, on the layer [`Layer::Text`].
    pub fn text(&mut self, text: Text) {
        self.add(Layer::Text, Shape::Text(text));
    }

    /// The smallest box that holds every item with half its stroke; `None` for an empty drawing.
    #[must_use]
    pub fn ink_bounds(&self) -> Option<Rect> {
        self.items
            .iter()
            .map(|item| {
                let half_mm = item.layer.style().width_mm / 2.0;
                item.shape.bounding_box().inflate(half_mm, half_mm)
            })
            .reduce(|a, b| a.union(b))
    }

    /// Sets the bounds to the ink and `margin_mm` around it.
    pub fn fit_bounds(&mut self, margin_mm: f64) {
        self.bounds = self.ink_bounds().unwrap_or_default().inflate(margin_mm, margin_mm);
    }

    /// Every item with areas replaced by the lines and dots of their pattern, in painting order: what a writer writes.
    #[must_use]
    pub fn painted(&self) -> Vec<Item> {
        let mut items = Vec::with_capacity(self.items.len());
        for item in &self.items {
            match &item.shape {
                Shape::Area { outline, pattern } => {
                    items.extend(pattern.line_work(outline).into_iter().map(|shape| Item { layer: item.layer, shape }));
                }
                _ => items.push(item.clone()),
            }
        }
        items.sort_by_key(|item| item.layer);
        items
    }

    /// Checks that there is something to draw and that every number is one, and of a size that cloth can have.
    ///
    /// # Errors
    /// [`PrintError::EmptyDrawing`], [`PrintError::NotFinite`], [`PrintError::NegativeSize`] or [`PrintError::TooLarge`].
    pub fn check(&self) -> Result<(), PrintError> {
        let title = || self.title.clone();
        if self.items.is_empty() {
            return Err(PrintError::EmptyDrawing { title: title() });
        }
        for (item, reach_mm) in self.items.iter().map(|i| i.shape.reach_mm()).enumerate() {
            if !reach_mm.is_finite() {
                return Err(PrintError::NotFinite { title: title(), item });
            }
            let size_mm = self.items[item].shape.size_mm();
            if size_mm < 0.0 {
                return Err(PrintError::NegativeSize { title: title(), item, size_mm });
            }
            if reach_mm > MAX_REACH_MM {
                return Err(PrintError::TooLarge { title: title(), item, reach_mm, max_mm: MAX_REACH_MM });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::super::shape::Dots;
    use super::*;

    #[test]
    fn a_slip_of_the_decimal_point_is_found() {
        let mut drawing = Drawing::new("t");
        drawing.circle(Layer::Cut, (0.0, 0.0), 1e12);
        assert!(matches!(drawing.check(), Err(PrintError::TooLarge { item: 0, .. })));
        let mut drawing = Drawing::new("t");
        drawing.add(Layer::Pounce, Shape::Dots(Dots { centers: vec![Point::ZERO], radius_mm: -7.5 }));
        assert!(matches!(drawing.check(), Err(PrintError::NegativeSize { item: 0, .. })));
    }

    #[test]
    fn a_number_that_is_none_is_found() {
        let mut drawing = Drawing::new("t");
        assert_eq!(drawing.check(), Err(PrintError::EmptyDrawing { title: "t".into() }));
        drawing.line(Layer::Cut, (0.0, 0.0), (1.0, 1.0));
        assert_eq!(drawing.check(), Ok(()));
        drawing.circle(Layer::Cut, (0.0, f64::NAN), 1.0);
        assert_eq!(drawing.check(), Err(PrintError::NotFinite { title: "t".into(), item: 1 }));
    }
}
