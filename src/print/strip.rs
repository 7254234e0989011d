//! Long narrow strips: cut across into segments, laid side by side on as few sheets as possible.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect, Size, Vec2};

use super::band::{BandText, band_items};
use super::drawing::Drawing;
use super::error::PrintError;
use super::frame::{BandSide, Frame, frames};
use super::ink::Ink;
use super::marks::{Joint, add_joint};
use super::page::{Page, Painted, Part, Placed};
use super::paper::Paper;
use super::tiling::{MAX_SHEETS, TilingOptions};

/// Space between strips on a sheet, in mm: room for scissors. Own choice.
pub const STRIP_GAP_MM: f64 = 4.0;

/// A piece of a strip on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// Its number, from 1, along the strip.
    pub number: usize,
    /// What it shows, in drawing coordinates.
    pub window: Rect,
    /// Up to its trim lines.
    pub core: Rect,
    /// Which sheet it is on, from 0.
    pub sheet: usize,
    /// Its top left corner on the sheet, in mm on the printed sheet.
    pub at: Point,
}

/// A strip cut into segments.
#[derive(Debug, Clone, PartialEq)]
pub struct StripTiling {
    /// The segments, along the strip.
    pub segments: Vec<Segment>,
    /// Number of sheets.
    pub sheets: usize,
    /// Overlap of neighbours in mm.
    pub overlap_mm: f64,
    frame: Frame,
}

impl StripTiling {
    /// Width and height of every page in mm, as the file says.
    #[must_use]
    pub const fn page_size_mm(&self) -> (f64, f64) {
        (self.frame.page.width, self.frame.page.height)
    }
}

/// Cuts a long narrow drawing across its longer side and packs the segments side by side on the fewest sheets.
///
/// The strip keeps its direction on the page. Among equals: fewest segments, least paper, bars and words along the lower edge, upright before lying.
///
/// # Errors
/// [`PrintError`] for an empty drawing, settings out of range, or paper too small or too narrow.
pub fn tile_strip(drawing: &Drawing, paper: &Paper, options: &TilingOptions) -> Result<StripTiling, PrintError> {
    options.check()?;
    drawing.check()?;
    let empty = || PrintError::EmptyDrawing { title: drawing.title.clone() };
    let extent = drawing.ink_bounds().ok_or_else(empty)?;
    let frames = frames(paper, options.margin_mm, options.correction, options.overlap_mm, extent.size())?;
    let runs_down = extent.height() >= extent.width();
    let fits = frames.iter().filter_map(|f| Cut::of(f, extent, runs_down, options.overlap_mm));
    let best = fits.min_by(|a, b| {
        let key = |c: &Cut| (c.sheets(), c.count);
        let sideways = |c: &Cut| c.frame.band_side == BandSide::Right;
        let area = a.frame.page.area().total_cmp(&b.frame.page.area());
        key(a).cmp(&key(b)).then(area).then(sideways(a).cmp(&sideways(b)))
    });
    let Some(cut) = best else {
        let across = |size: Size| if runs_down { size.width } else { size.height };
        let room_mm = frames.iter().map(|f| across(f.window.size())).fold(0.0, f64::max);
        return Err(PrintError::StripTooWide { title: drawing.title.clone(), across_mm: across(extent.size()), room_mm });
    };
    if cut.sheets() > MAX_SHEETS {
        return Err(PrintError::TooManySheets { title: drawing.title.clone(), count: cut.sheets(), max: MAX_SHEETS });
    }
    Ok(cut.into_tiling(extent, runs_down, options.overlap_mm))
}

/// How one frame would take the strip.
struct Cut {
    frame: Frame,
    /// Length of a segment's window in mm.
    window_mm: f64,
    /// Segments.
    count: usize,
    /// Segments side by side on a sheet.
    lanes: usize,
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not negative; float casts saturate at the top")]
const fn as_count(number: f64) -> usize {
    number as usize
}

impl Cut {
    fn of(frame: &Frame, extent: Rect, runs_down: bool, overlap_mm: f64) -> Option<Self> {
        let along_across = |s: Size| if runs_down { (s.height, s.width) } else { (s.width, s.height) };
        let (window_mm, room_mm) = along_across(frame.window.size());
        let (length_mm, across_mm) = along_across(extent.size());
        let count = as_count(((length_mm - overlap_mm) / (window_mm - overlap_mm) - 1e-9).ceil().max(1.0));
        let lanes = as_count(((room_mm + STRIP_GAP_MM) / (across_mm + STRIP_GAP_MM) + 1e-9).floor());
        (lanes > 0).then_some(Self { frame: *frame, window_mm, count, lanes })
    }

    const fn sheets(&self) -> usize {
        self.count.div_ceil(self.lanes)
    }

    fn into_tiling(self, extent: Rect, runs_down: bool, overlap_mm: f64) -> StripTiling {
        let (low, high) = if runs_down { (extent.y0, extent.y1) } else { (extent.x0, extent.x1) };
        let across_mm = if runs_down { extent.width() } else { extent.height() };
        let pitch_mm = self.window_mm - overlap_mm;
        let piece = |from: f64, to: f64| {
            if runs_down { Rect::new(extent.x0, from, extent.x1, to) } else { Rect::new(from, extent.y0, to, extent.y1) }
        };
        let segment = |index: usize| {
            let from = low + index as f64 * pitch_mm;
            let to = (from + self.window_mm).min(high);
            let (first, last) = (index == 0, index + 1 == self.count);
            let trim = overlap_mm / 2.0;
            let core = piece(if first { from } else { from + trim }, if last { to } else { to - trim });
            let lane_mm = (index % self.lanes) as f64 * (across_mm + STRIP_GAP_MM);
            let lane = if runs_down { Vec2::new(lane_mm, 0.0) } else { Vec2::new(0.0, lane_mm) };
            Segment {
                number: index + 1,
                window: piece(from, to),
                core,
                sheet: index / self.lanes,
                at: self.frame.window.origin() + lane,
            }
        };
        let segments = (0..self.count).map(segment).collect();
        StripTiling { segments, sheets: self.sheets(), overlap_mm, frame: self.frame }
    }
}

/// Cuts a strip into segments and makes the sheets pages.
///
/// `prefix` begins the sheets' names and the segments': `S` gives sheets `S1`, `S2`.
///
/// # Errors
/// As [`tile_strip`].
pub fn strip_part(drawing: &Drawing, prefix: &str, paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    let tiling = tile_strip(drawing, paper, options)?;
    let ink = Ink::of(drawing).ok_or_else(|| PrintError::EmptyDrawing { title: drawing.title.clone() })?;
    let painted = Painted::of(drawing);
    let joints = joints(&tiling, &ink);
    let page = |sheet: usize| {
        let name = format!("{prefix}{}", sheet + 1);
        let words = BandText { title: &drawing.title, name: &name, page: sheet + 1, pages: tiling.sheets };
        sheet_page(&painted, &tiling, sheet, &joints, &ink, &words)
    };
    Ok(Part { title: drawing.title.clone(), pages: (0..tiling.sheets).map(page).collect() })
}

fn joints(tiling: &StripTiling, ink: &Ink) -> Vec<Joint> {
    let mut joints: Vec<Joint> = Vec::new();
    for (index, pair) in tiling.segments.windows(2).enumerate() {
        let (upper, lower) = (pair[0].core, pair[1].core);
        let runs_down = lower.y0 > upper.y0;
        let start = if runs_down { Point::new(upper.x0, upper.y1) } else { Point::new(upper.x1, upper.y0) };
        let first_number = 1 + joints.iter().map(|j| j.marks.len()).sum::<usize>();
        joints.push(Joint::new(index, index + 1, start, Point::new(upper.x1, upper.y1), ink, first_number));
    }
    joints
}

fn sheet_page(
    painted: &Arc<Painted>,
    tiling: &StripTiling,
    sheet: usize,
    joints: &[Joint],
    ink: &Ink,
    words: &BandText<'_>,
) -> Page {
    let page_from_sheet = Affine::scale(tiling.frame.page_per_sheet);
    let mut placed = Vec::new();
    let mut furniture = Drawing::new("");
    for (index, segment) in tiling.segments.iter().enumerate().filter(|(_, s)| s.sheet == sheet) {
        let to_sheet = segment.at - segment.window.origin();
        let page_from_drawing = page_from_sheet * Affine::translate(to_sheet);
        placed.push(Placed { drawing: painted.clone(), page_from_drawing, clip: Some(segment.window) });
        for joint in joints.iter().filter(|j| j.upper == index || j.lower == index) {
            let on_upper = joint.upper == index;
            let other = if on_upper { joint.lower } else { joint.upper };
            let other = format!("piece {}", tiling.segments[other].number);
            add_joint(&mut furniture, joint, on_upper, &other, tiling.overlap_mm / 2.0, ink, to_sheet);
        }
    }
    furniture.items.extend(band_items(&tiling.frame, words));
    placed.push(Placed { drawing: Painted::of(&furniture), page_from_drawing: page_from_sheet, clip: None });
    Page { name: words.name.to_owned(), size_mm: tiling.frame.page, placed }
}

#[cfg(test)]
mod tests {
    use super::super::style::Layer;
    use super::*;

    fn strip(across_mm: f64, length_mm: f64) -> Drawing {
        let mut drawing = Drawing::new("strip");
        drawing.path(Layer::Outline, kurbo::Shape::to_path(&Rect::new(0.0, 0.0, across_mm, length_mm), 0.1));
        drawing
    }

    #[test]
    fn a_strip_of_700_by_45_takes_one_a4_sheet() {
        let tiling = tile_strip(&strip(45.0, 700.0), &"A4".parse().expect("known"), &TilingOptions::default()).expect("fits");
        assert_eq!((tiling.segments.len(), tiling.sheets), (3, 1));
        for pair in tiling.segments.windows(2) {
            assert!((pair[0].window.y1 - pair[1].window.y0 - 10.0).abs() < 1e-9);
            assert!((pair[0].core.y1 - pair[1].core.y0).abs() < 1e-9);
        }
        let last = tiling.segments.last().expect("three");
        assert!((last.core.y1 - 700.25).abs() < 1e-9, "half a stroke beyond the edge");
    }

    #[test]
    fn a_strip_wider_than_the_paper_is_refused() {
        let refused = tile_strip(&strip(400.0, 2000.0), &"A4".parse().expect("known"), &TilingOptions::default());
        assert!(matches!(refused, Err(PrintError::StripTooWide { across_mm, .. }) if across_mm > 400.0));
    }
}
