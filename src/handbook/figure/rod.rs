//! The tied rod, side on.

use super::sketch::{Sketch, through};
use crate::handbook::fill::example;
use crate::layout::{Figures, RodProfile};
use crate::print::{Anchor, Layer, Page, Pattern, Shape};
use kurbo::{Point, Rect};

/// Length of the rod in the picture, mm.
const LONG_MM: f64 = 146.0;
/// Binds nearer to the one labelled before are not labelled, mm.
const LABELS_APART_MM: f64 = 4.5;

/// The example burst's rod at true proportions: a pattern for each colour, a stroke for each bind, numbers where there is room.
pub(super) fn rod() -> Option<Page> {
    let layout = example("tee-m")?;
    let figures = Figures::of(&layout);
    let profile = RodProfile::of(&layout, &figures);
    let scale = LONG_MM / profile.length_mm;
    let middle = 0.5 * scale * profile.thickest_mm;
    let mut sketch = Sketch::new("The tied rod", Rect::ZERO, Point::ZERO, 1.0);
    for ((section, heights), colour) in figures.sections.iter().zip(&profile.sections).zip(layout.section_colours()) {
        let stretches = RodProfile::STEPS as f64;
        let edge = |sign: f64| {
            heights.iter().enumerate().map(move |(step, height)| {
                let along_mm = section.inner_mm + (section.outer_mm - section.inner_mm) * step as f64 / stretches;
                Point::new(scale * along_mm, middle + sign * 0.5 * scale * height)
            })
        };
        let lower: Vec<Point> = edge(1.0).collect();
        let mut outline = through(edge(-1.0).chain(lower.into_iter().rev()));
        outline.close_path();
        sketch.drawing.path(Layer::Cut, outline.clone());
        let pattern = colour.map_or(Pattern::Blank, Pattern::nth);
        sketch.drawing.add(Layer::Fill, Shape::Area { outline, pattern });
    }
    let mut labelled = f64::NEG_INFINITY;
    for bind in &figures.binds {
        let (x, half) = (scale * bind.radius_mm, 0.5 * scale * bind.rod.bound_diameter_mm + 0.8);
        sketch.drawing.line(if bind.on_guide_arc { Layer::Guide } else { Layer::Cut }, (x, middle - half), (x, middle + half));
        if x - labelled > LABELS_APART_MM {
            sketch.words(bind.number.to_string(), (x, -4.0), Anchor::Middle);
            labelled = x;
        }
    }
    for (index, swatch) in layout.raw().colours.rotation.iter().enumerate() {
        let x = 40.0 * index as f64;
        let y = 2.0 * middle + 4.0;
        let square = kurbo::Shape::to_path(&Rect::new(x, y, x + 8.0, y + 5.0), 0.1);
        sketch.drawing.path(Layer::Cut, square.clone());
        sketch.drawing.add(Layer::Fill, Shape::Area { outline: square, pattern: Pattern::nth(index) });
        sketch.words(swatch.name.clone(), (x + 10.0, y + 2.5), Anchor::Start);
    }
    Some(sketch.finish())
}
