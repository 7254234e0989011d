//! Cutting a drawing into the fewest sheets that cover its ink.
//!
//! ```text
//!   |<------- window A1 ------->|
//!                         |<------- window A2 ------->|
//!   |                     |  :  |                     |
//!   |<------ core A1 ------->:<------- core A2 ------>|      : the trim line, in the middle of the overlap
//! ```
//!
//! Windows of neighbours overlap by the overlap; cores meet on the trim lines and divide the drawing among the sheets. A sheet is
//! left out when its core has no ink: whatever its window shows is then in a neighbour's core.

use kurbo::Rect;

use super::drawing::Drawing;
use super::error::{PrintError, PrintSetting};
use super::frame::{Frame, PrinterCorrection, frames};
use super::grid::{Candidate, Search};
use super::ink::Ink;
use super::paper::{DEFAULT_MARGIN_MM, Paper};
use super::seams::Seams;

/// Overlap of neighbouring sheets in mm. Common practice for glued pattern sheets is 10 to 20 mm.
pub const DEFAULT_OVERLAP_MM: f64 = 10.0;
/// Most sheets that one drawing may take. Own choice: nobody glues more.
pub const MAX_SHEETS: usize = 500;

/// How sheets are cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TilingOptions {
    /// Border left free at every side of the paper, in mm, 0 to 50.
    pub margin_mm: f64,
    /// How far neighbouring sheets overlap, in mm on the printed sheet, 0 to 60; 0 for sheets that are butted.
    pub overlap_mm: f64,
    /// What puts the printer's scale right.
    pub correction: PrinterCorrection,
}

impl Default for TilingOptions {
    fn default() -> Self {
        Self { margin_mm: DEFAULT_MARGIN_MM, overlap_mm: DEFAULT_OVERLAP_MM, correction: PrinterCorrection::default() }
    }
}

impl TilingOptions {
    pub(super) fn check(&self) -> Result<(), PrintError> {
        let in_range = |what, value_mm: f64, min_mm, max_mm| {
            if (min_mm..=max_mm).contains(&value_mm) {
                Ok(())
            } else {
                Err(PrintError::OutOfRange { what, value_mm, min_mm, max_mm })
            }
        };
        in_range(PrintSetting::Margin, self.margin_mm, 0.0, 50.0)?;
        in_range(PrintSetting::Overlap, self.overlap_mm, 0.0, 60.0)
    }
}

/// Neighbours of a sheet, as indices into [`Tiling::sheets`]; `None` where no sheet is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Neighbours {
    /// To the left.
    pub left: Option<usize>,
    /// Above.
    pub above: Option<usize>,
    /// To the right.
    pub right: Option<usize>,
    /// Below.
    pub below: Option<usize>,
}

/// One sheet of a tiling.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Row letter and column number: `A1`, `A2`, `B1`.
    pub name: String,
    /// Row, from 0.
    pub row: usize,
    /// Column, from 0.
    pub column: usize,
    /// What the sheet shows, in drawing coordinates.
    pub window: Rect,
    /// What the sheet answers for: up to its trim lines. Cores of all sheets are disjoint and hold all ink.
    pub core: Rect,
    /// The sheets it joins.
    pub neighbours: Neighbours,
}

/// A drawing cut into sheets.
#[derive(Debug, Clone, PartialEq)]
pub struct Tiling {
    /// The sheets, row by row; never empty.
    pub sheets: Vec<Sheet>,
    /// Rows of the grid, including places left blank.
    pub rows: usize,
    /// Columns of the grid, including places left blank.
    pub columns: usize,
    /// Overlap of neighbours in mm.
    pub overlap_mm: f64,
    pub(super) frame: Frame,
}

impl Tiling {
    /// The sheet that shows a box whole: within its trim lines, else at least within its window; none where every sheet cuts it.
    #[must_use]
    pub fn sheet_of(&self, area: Rect) -> Option<usize> {
        let within_trims = self.sheets.iter().position(|sheet| sheet.core.contains_rect(area));
        within_trims.or_else(|| self.sheets.iter().position(|sheet| sheet.window.contains_rect(area)))
    }

    /// Width and height of every page in mm, as the file says (before the printer has its way).
    #[must_use]
    pub const fn page_size_mm(&self) -> (f64, f64) {
        (self.frame.page.width, self.frame.page.height)
    }
}

/// Cuts a drawing into the fewest sheets: over the paper's orientations and over all places of the grid.
///
/// No trim line runs through a pin. Among equals: least paper, trim lines off the pin, off straight edges and off
/// words, fewest rows and columns, upright before lying, most centred. The same input gives the same sheets. Places are searched to
/// half a millimetre, each judged exactly.
///
/// # Errors
/// [`PrintError`] for an empty drawing, settings out of range, paper too small, or more than [`MAX_SHEETS`] sheets.
pub fn tile(drawing: &Drawing, paper: &Paper, options: &TilingOptions) -> Result<Tiling, PrintError> {
    options.check()?;
    drawing.check()?;
    let ink = Ink::of(drawing).ok_or_else(|| PrintError::EmptyDrawing { title: drawing.title.clone() })?;
    tile_ink(&ink, drawing, &[], paper, options)
}

/// As [`tile`], for ink that is known; `words` are boxes that had better stay whole, beside those in the drawing.
pub(super) fn tile_ink(
    ink: &Ink,
    drawing: &Drawing,
    words: &[Rect],
    paper: &Paper,
    options: &TilingOptions,
) -> Result<Tiling, PrintError> {
    let frames = frames(paper, options.margin_mm, options.correction, options.overlap_mm, ink.bounds().size())?;
    let too_many = |count| PrintError::TooManySheets { title: drawing.title.clone(), count, max: MAX_SHEETS };
    let own = drawing.items.iter().filter(|item| item.is_whole()).map(|item| item.shape.bounding_box());
    let words: Vec<Rect> = own.chain(words.iter().copied()).collect();
    let seams = Seams::of(drawing);
    let search = Search { ink, seams: &seams, words: &words, frames: &frames, overlap_mm: options.overlap_mm };
    let Some(smallest) = search.smallest() else { return Err(too_many(usize::MAX)) };
    if smallest > 4 * MAX_SHEETS {
        return Err(too_many(smallest));
    }
    let empty = || PrintError::EmptyDrawing { title: drawing.title.clone() };
    let best = search.fewest().ok_or_else(empty)?;
    let sheets = name_sheets(&best.candidate, &best.kept);
    if sheets.is_empty() {
        return Err(empty());
    }
    if sheets.len() > MAX_SHEETS {
        return Err(too_many(sheets.len()));
    }
    let rows = sheets.iter().map(|s| s.row + 1).max().unwrap_or(0);
    let columns = sheets.iter().map(|s| s.column + 1).max().unwrap_or(0);
    Ok(Tiling { sheets, rows, columns, overlap_mm: options.overlap_mm, frame: frames[best.candidate.frame] })
}

fn name_sheets(candidate: &Candidate, kept: &[(usize, usize)]) -> Vec<Sheet> {
    let first_column = kept.iter().map(|k| k.0).min().unwrap_or(0);
    let first_row = kept.iter().map(|k| k.1).min().unwrap_or(0);
    let index_of = |column: Option<usize>, row: Option<usize>| {
        let place = (column?, row?);
        kept.iter().position(|k| *k == place)
    };
    let sheet = |&(column, row): &(usize, usize)| Sheet {
        name: format!("{}{}", row_letters(row - first_row), column - first_column + 1),
        row: row - first_row,
        column: column - first_column,
        window: candidate.window(column, row),
        core: candidate.core(column, row),
        neighbours: Neighbours {
            left: index_of(column.checked_sub(1), Some(row)),
            above: index_of(Some(column), row.checked_sub(1)),
            right: index_of(Some(column + 1), Some(row)),
            below: index_of(Some(column), Some(row + 1)),
        },
    };
    kept.iter().map(sheet).collect()
}

/// A, B, ... Z, AA, AB, ...
pub(super) fn row_letters(row: usize) -> String {
    let letter = |n: usize| char::from(b'A' + u8::try_from(n % 26).unwrap_or(0));
    let last = letter(row).to_string();
    match row / 26 {
        0 => last,
        rest => row_letters(rest - 1) + &last,
    }
}

#[cfg(test)]
mod tests {
    use super::super::style::Layer;
    use super::*;
    use kurbo::Point;
    use proptest::prelude::*;
    use proptest::test_runner::RngSeed;

    fn strokes() -> impl Strategy<Value = Drawing> {
        let line = (0.0..900.0, 0.0..900.0, -200.0..200.0, -200.0..200.0);
        prop::collection::vec(line, 1..5).prop_map(|lines| {
            let mut drawing = Drawing::new("strokes");
            for (x, y, dx, dy) in lines {
                drawing.line(Layer::Outline, (x, y), (x + dx, y + dy));
            }
            drawing
        })
    }

    fn a4() -> Paper {
        "A4".parse().expect("a standard name")
    }

    #[test]
    fn rows_go_on_after_z() {
        let names = [0, 1, 25, 26, 27, 51, 52, 701, 702].map(row_letters);
        assert_eq!(names, ["A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA"]);
    }

    #[test]
    fn blank_corners_take_no_sheet() {
        let mut drawing = Drawing::new("diagonal");
        drawing.line(Layer::Outline, (0.0, 0.0), (1500.0, 1500.0));
        let tiling = tile(&drawing, &a4(), &TilingOptions::default()).expect("it fits");
        assert!(tiling.sheets.len() < tiling.rows * tiling.columns / 2, "{} sheets", tiling.sheets.len());
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let mut drawing = Drawing::new("line");
        let options = TilingOptions::default();
        assert!(matches!(tile(&drawing, &a4(), &options), Err(PrintError::EmptyDrawing { .. })));
        drawing.line(Layer::Outline, (0.0, 0.0), (10.0, 10.0));
        let wide = TilingOptions { overlap_mm: 80.0, ..options };
        assert!(matches!(tile(&drawing, &a4(), &wide), Err(PrintError::OutOfRange { value_mm: 80.0, .. })));
        let wide = TilingOptions { margin_mm: f64::NAN, ..options };
        assert!(matches!(tile(&drawing, &a4(), &wide), Err(PrintError::OutOfRange { .. })));
        let small = Paper::custom(90.0, 120.0).expect("a paper");
        assert!(matches!(tile(&drawing, &small, &options), Err(PrintError::PaperTooSmall { .. })));
        for k in 0..40 {
            drawing.line(Layer::Outline, (0.0, f64::from(k) * 200.0), (9_000.0, f64::from(k) * 200.0));
        }
        assert!(matches!(tile(&drawing, &a4(), &options), Err(PrintError::TooManySheets { .. })));
        assert!(PrinterCorrection::from_printed_mm_per_100(89.9).is_err());
    }

    /// Four sheets of a square cloth used to meet exactly at its middle, where the pin is.
    #[test]
    fn sheets_do_not_meet_at_a_pin_nor_along_a_middle_line() {
        let mut drawing = Drawing::new("cloth");
        drawing.path(Layer::Outline, kurbo::Shape::to_path(&Rect::new(0.0, 0.0, 300.0, 420.0), 0.1));
        let fewest = tile(&drawing, &a4(), &TilingOptions::default()).expect("it fits").sheets.len();
        drawing.circle(Layer::Pin, (150.0, 210.0), 1.5);
        drawing.line(Layer::Axis, (150.0, 0.0), (150.0, 420.0));
        let tiling = tile(&drawing, &a4(), &TilingOptions::default()).expect("it fits");
        assert_eq!(tiling.sheets.len(), fewest);
        for sheet in &tiling.sheets {
            let core = sheet.core;
            for (trim, neighbour) in [(core.x1, sheet.neighbours.right), (core.x0, sheet.neighbours.left)] {
                assert!(neighbour.is_none() || (trim - 150.0).abs() >= 25.0, "{core:?}");
            }
            for (trim, neighbour) in [(core.y1, sheet.neighbours.below), (core.y0, sheet.neighbours.above)] {
                assert!(neighbour.is_none() || (trim - 210.0).abs() >= 25.0, "{core:?}");
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::with_cases(16) })]

        #[test]
        fn cores_divide_the_ink_and_windows_overlap(drawing in strokes(), overlap_mm in prop_oneof![Just(0.0), 0.0..30.0]) {
            let options = TilingOptions { overlap_mm, ..TilingOptions::default() };
            let tiling = tile(&drawing, &a4(), &options).expect("it fits");
            for item in &drawing.items {
                let super::super::shape::Shape::Line(line) = item.shape else { continue };
                for k in 0..=200 {
                    let p: Point = line.p0.lerp(line.p1, f64::from(k) / 200.0);
                    let holding = tiling.sheets.iter().filter(|s| s.core.contains(p)).count();
                    prop_assert_eq!(holding, 1, "{:?}", p);
                }
            }
            for sheet in &tiling.sheets {
                if let Some(right) = sheet.neighbours.right {
                    let right = &tiling.sheets[right];
                    prop_assert!((sheet.window.x1 - right.window.x0 - overlap_mm).abs() < 1e-9);
                    prop_assert!((sheet.core.x1 - right.core.x0).abs() < 1e-9);
                }
                if let Some(below) = sheet.neighbours.below {
                    let below = &tiling.sheets[below];
                    prop_assert!((sheet.window.y1 - below.window.y0 - overlap_mm).abs() < 1e-9);
                    prop_assert!((sheet.core.y1 - below.core.y0).abs() < 1e-9);
                }
            }
        }
    }
}
