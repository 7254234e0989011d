//! Where a drawing has ink: flattened strokes for exact questions, a grid of cells for quick ones.

use kurbo::{Line, Point, Rect, Shape as _};

use super::drawing::Drawing;
use super::flatten::FLATTEN_MM;
use super::shape::Shape;

/// Part of a drawing that leaves ink: all points within `half_mm` of a line, in both axes.
///
/// Square ends rather than round ones: at corners it claims a little more than is inked, never less.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stroke {
    line: Line,
    half_mm: f64,
}

impl Stroke {
    fn touches(&self, area: Rect) -> bool {
        clipped(self.line, area.inflate(self.half_mm, self.half_mm)).is_some()
    }
}

/// The part of a line within a closed box.
fn clipped(line: Line, area: Rect) -> Option<Line> {
    let (t0, t1) = span_within(line, area)?;
    let d = line.p1 - line.p0;
    Some(Line::new(line.p0 + t0 * d, line.p0 + t1 * d))
}

/// Where a line enters and leaves a closed box, as parameters from 0 at its begin to 1 at its end (the clip of Liang and Barsky, 1984);
/// none where it stays outside.
pub(super) fn span_within(line: Line, area: Rect) -> Option<(f64, f64)> {
    let d = line.p1 - line.p0;
    let (mut t0, mut t1) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in [(line.p0.x, d.x, area.x0, area.x1), (line.p0.y, d.y, area.y0, area.y1)] {
        if step == 0.0 {
            if start < low || start > high {
                return None;
            }
            continue;
        }
        let (a, b) = ((low - start) / step, (high - start) / step);
        t0 = t0.max(a.min(b));
        t1 = t1.min(a.max(b));
    }
    (t0 <= t1).then_some((t0, t1))
}

/// The ink of a drawing, in mm.
#[derive(Debug, Clone)]
pub(super) struct Ink {
    strokes: Vec<Stroke>,
    /// Boxes taken as inked all over: words, small solid shapes.
    blocks: Vec<Rect>,
    /// Boxes of words and holes: what must stay whole.
    whole: Vec<Rect>,
    bounds: Rect,
    cells: Cells,
    /// Strokes by coarse cell, for exact questions about a small area.
    buckets: Vec<Vec<usize>>,
}

/// Coarse cells per side for the exact question.
const BUCKETS: usize = 24;

impl Ink {
    /// Ink of a drawing; `None` when there is none.
    pub(super) fn of(drawing: &Drawing) -> Option<Self> {
        let (mut strokes, mut blocks) = (Vec::new(), Vec::new());
        for item in drawing.painted() {
            collect(&item.shape, item.layer.style().width_mm / 2.0, &mut strokes, &mut blocks);
        }
        let whole = drawing.items.iter().filter(|item| item.is_whole()).map(|item| item.shape.bounding_box()).collect();
        let stroke_boxes = strokes.iter().map(|s: &Stroke| s.line.bounding_box().inflate(s.half_mm, s.half_mm));
        let bounds = stroke_boxes.chain(blocks.iter().copied()).reduce(|a, b| a.union(b))?;
        let cells = Cells::of(&strokes, &blocks, bounds);
        let mut ink = Self { strokes, blocks, whole, bounds, cells, buckets: vec![Vec::new(); BUCKETS * BUCKETS] };
        ink.fill_buckets();
        Some(ink)
    }

    fn fill_buckets(&mut self) {
        for (index, stroke) in self.strokes.iter().enumerate() {
            let reach = stroke.line.bounding_box().inflate(stroke.half_mm, stroke.half_mm);
            for (column, row) in self.bucket_range(reach) {
                self.buckets[row * BUCKETS + column].push(index);
            }
        }
    }

    fn bucket_range(&self, area: Rect) -> impl Iterator<Item = (usize, usize)> + use<> {
        let columns = index_range(area.x0, area.x1, self.bounds.x0, self.bounds.width() / BUCKETS as f64, BUCKETS);
        let rows = index_range(area.y0, area.y1, self.bounds.y0, self.bounds.height() / BUCKETS as f64, BUCKETS);
        rows.flat_map(move |row| columns.clone().map(move |column| (column, row)))
    }

    /// The box that holds all ink.
    pub(super) const fn bounds(&self) -> Rect {
        self.bounds
    }

    /// Whether ink reaches the closed box. Never `false` where there is ink.
    pub(super) fn touches(&self, area: Rect) -> bool {
        match self.cells.ask(area) {
            Answer::Ink => true,
            Answer::Blank => false,
            Answer::Unsure => self.touches_exactly(area),
        }
    }

    fn touches_exactly(&self, area: Rect) -> bool {
        let on_block = |block: &Rect| block.x0 <= area.x1 && area.x0 <= block.x1 && block.y0 <= area.y1 && area.y0 <= block.y1;
        self.blocks.iter().any(on_block)
            || self
                .bucket_range(area)
                .any(|(column, row)| self.buckets[row * BUCKETS + column].iter().any(|&i| self.strokes[i].touches(area)))
    }

    /// Whether words or a hole reach into the box.
    pub(super) fn holds_whole(&self, area: Rect) -> bool {
        self.whole.iter().any(|whole| whole.x0 < area.x1 && area.x0 < whole.x1 && whole.y0 < area.y1 && area.y0 < whole.y1)
    }

    /// Share of the area's cells that hold ink, from 0 to 1: how crowded it is.
    pub(super) fn crowding(&self, area: Rect) -> f64 {
        self.cells.crowding(area)
    }
}

fn collect(shape: &Shape, half_mm: f64, strokes: &mut Vec<Stroke>, blocks: &mut Vec<Rect>) {
    let mut flatten = |path: &kurbo::BezPath| {
        let (mut start, mut last) = (Point::ZERO, Point::ZERO);
        kurbo::flatten(path, FLATTEN_MM, |el| {
            let to = match el {
                kurbo::PathEl::MoveTo(p) => {
                    (start, last) = (p, p);
                    return;
                }
                kurbo::PathEl::LineTo(p) => p,
                _ => start,
            };
            strokes.push(Stroke { line: Line::new(last, to), half_mm: half_mm + FLATTEN_MM });
            last = to;
        });
    };
    match shape {
        Shape::Line(line) => strokes.push(Stroke { line: *line, half_mm }),
        Shape::Path(path) => flatten(path),
        Shape::Circle(circle) => flatten(&circle.to_path(FLATTEN_MM)),
        Shape::Arc(arc) => flatten(&arc.to_path()),
        Shape::Dots(dots) => {
            let dot = |c: &Point| Stroke { line: Line::new(*c, *c), half_mm: dots.radius_mm };
            strokes.extend(dots.centers.iter().map(dot));
        }
        Shape::Area { .. } => {}
        Shape::Solid(path) => blocks.push(path.bounding_box()),
        Shape::Text(_) | Shape::Image(_) => blocks.push(shape.bounding_box()),
    }
}

/// What the cells know about an area.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Answer {
    /// A cell wholly inside has ink.
    Ink,
    /// No cell that the area touches has ink.
    Blank,
    /// Only cells on its border have ink.
    Unsure,
}

/// Side of a cell in mm, unless the drawing is so large that there would be more than [`MAX_CELLS`] a side.
const CELL_MM: f64 = 2.0;
/// Most cells per side.
const MAX_CELLS: f64 = 1200.0;

/// Which cells hold ink, as sums over all cells left and above (a summed-area table: Crow, SIGGRAPH 1984).
#[derive(Debug, Clone)]
struct Cells {
    origin: Point,
    side_mm: f64,
    columns: usize,
    rows: usize,
    /// `(rows + 1) x (columns + 1)` sums.
    sums: Vec<u32>,
}

/// Indices of the cells that the closed interval touches, within `0..count`.
fn index_range(low: f64, high: f64, origin: f64, side: f64, count: usize) -> std::ops::Range<usize> {
    let (first, last) = (((low - origin) / side).floor(), ((high - origin) / side).floor());
    if count == 0 || last < 0.0 || first >= count as f64 {
        return 0..0;
    }
    cell_index(first)..(cell_index(last) + 1).min(count)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped at 0 below; callers bound it above")]
fn cell_index(number: f64) -> usize {
    number.max(0.0) as usize
}

impl Cells {
    fn of(strokes: &[Stroke], blocks: &[Rect], bounds: Rect) -> Self {
        let side_mm = CELL_MM.max(bounds.width().max(bounds.height()) / MAX_CELLS);
        let (columns, rows) = (cell_index(bounds.width() / side_mm) + 1, cell_index(bounds.height() / side_mm) + 1);
        let mut cells = Self { origin: bounds.origin(), side_mm, columns, rows, sums: vec![0; (columns + 1) * (rows + 1)] };
        for stroke in strokes {
            cells.mark_stroke(stroke);
        }
        for block in blocks {
            cells.mark_box(*block);
        }
        cells.sum_up();
        cells
    }

    fn columns_of(&self, x0: f64, x1: f64) -> std::ops::Range<usize> {
        index_range(x0, x1, self.origin.x, self.side_mm, self.columns)
    }

    fn rows_of(&self, y0: f64, y1: f64) -> std::ops::Range<usize> {
        index_range(y0, y1, self.origin.y, self.side_mm, self.rows)
    }

    fn mark_row(&mut self, row: usize, columns: std::ops::Range<usize>) {
        let start = (row + 1) * (self.columns + 1) + 1;
        self.sums[start + columns.start..start + columns.end].fill(1);
    }

    fn mark_stroke(&mut self, stroke: &Stroke) {
        let (reach, half) = (stroke.line.bounding_box(), stroke.half_mm);
        for row in self.rows_of(reach.y0 - half, reach.y1 + half) {
            let y0 = self.origin.y + row as f64 * self.side_mm;
            let level = Rect::new(reach.x0, y0 - half, reach.x1, y0 + self.side_mm + half);
            if let Some(part) = clipped(stroke.line, level) {
                let part = part.bounding_box();
                self.mark_row(row, self.columns_of(part.x0 - half, part.x1 + half));
            }
        }
    }

    fn mark_box(&mut self, block: Rect) {
        for row in self.rows_of(block.y0, block.y1) {
            self.mark_row(row, self.columns_of(block.x0, block.x1));
        }
    }

    fn sum_up(&mut self) {
        let width = self.columns + 1;
        for row in 1..=self.rows {
            let mut along = 0;
            for column in 1..=self.columns {
                along += self.sums[row * width + column];
                self.sums[row * width + column] = along + self.sums[(row - 1) * width + column];
            }
        }
    }

    fn count(&self, columns: &std::ops::Range<usize>, rows: &std::ops::Range<usize>) -> u32 {
        if columns.is_empty() || rows.is_empty() {
            return 0;
        }
        let at = |row: usize, column: usize| self.sums[row * (self.columns + 1) + column];
        at(rows.end, columns.end) + at(rows.start, columns.start) - at(rows.start, columns.end) - at(rows.end, columns.start)
    }

    fn ask(&self, area: Rect) -> Answer {
        let (columns, rows) = (self.columns_of(area.x0, area.x1), self.rows_of(area.y0, area.y1));
        if self.count(&columns, &rows) == 0 {
            return Answer::Blank;
        }
        let inner = |range: std::ops::Range<usize>, low: f64, high: f64, origin: f64| {
            let starts_inside = origin + range.start as f64 * self.side_mm >= low;
            let ends_inside = origin + range.end as f64 * self.side_mm <= high;
            let start = range.start + usize::from(!starts_inside);
            start..(range.end - usize::from(!ends_inside)).max(start)
        };
        let columns = inner(columns, area.x0, area.x1, self.origin.x);
        let rows = inner(rows, area.y0, area.y1, self.origin.y);
        if self.count(&columns, &rows) > 0 { Answer::Ink } else { Answer::Unsure }
    }

    fn crowding(&self, area: Rect) -> f64 {
        let (columns, rows) = (self.columns_of(area.x0, area.x1), self.rows_of(area.y0, area.y1));
        let cells_in_area = (area.width() / self.side_mm + 1.0) * (area.height() / self.side_mm + 1.0);
        f64::from(self.count(&columns, &rows)) / cells_in_area
    }
}

#[cfg(test)]
mod tests {
    use super::super::style::Layer;
    use super::*;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    #[test]
    fn a_ring_has_no_ink_inside() {
        let mut drawing = Drawing::new("ring");
        drawing.circle(Layer::Reference, (100.0, 100.0), 50.0);
        let ink = Ink::of(&drawing).expect("a circle is ink");
        assert!(!ink.touches(Rect::new(66.0, 66.0, 134.0, 134.0)));
        assert!(ink.touches(Rect::new(64.0, 64.0, 134.0, 134.0)));
        assert!(ink.touches(Rect::new(149.0, 99.0, 151.0, 101.0)));
        assert!(!ink.touches(Rect::new(150.5, 99.0, 152.0, 101.0)));
        assert!(!ink.touches(Rect::new(-500.0, -500.0, 49.0, 500.0)));
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn cells_never_contradict_the_strokes(
            lines in prop::collection::vec((0.0..200.0, 0.0..300.0, 0.0..200.0, 0.0..300.0), 1..12),
            (x, y, w, h) in (-20.0..200.0, -20.0..300.0, 0.1..80.0, 0.1..80.0),
        ) {
            let mut drawing = Drawing::new("lines");
            for (x0, y0, x1, y1) in lines {
                drawing.line(Layer::Across, (x0, y0), (x1, y1));
            }
            let ink = Ink::of(&drawing).expect("lines are ink");
            let area = Rect::new(x, y, x + w, y + h);
            let exact = ink.strokes.iter().any(|s| s.touches(area));
            prop_assert_eq!(ink.touches(area), exact);
            match ink.cells.ask(area) {
                Answer::Ink => prop_assert!(exact),
                Answer::Blank => prop_assert!(!exact),
                Answer::Unsure => {}
            }
        }
    }
}
