//! Long narrow strips: cut across into pieces, laid side by side on as few sheets as possible; several strips share sheets.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect, Size, Vec2};

use super::band::{BandText, band_items};
use super::drawing::Drawing;
use super::error::PrintError;
use super::frame::{BandSide, Frame, frames};
use super::marks::{Joint, add_joint};
use super::page::{Page, Painted, Part, Placed};
use super::paper::Paper;
use super::strip_cut::{Piece, Strip};
use super::tiling::{MAX_SHEETS, TilingOptions};

/// Space between strips on a sheet, in mm: room for scissors. Own choice.
pub const STRIP_GAP_MM: f64 = 4.0;

/// A piece of a strip on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// Which of the strips it is a piece of, from 0.
    pub strip: usize,
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

/// Strips cut into segments.
#[derive(Debug, Clone, PartialEq)]
pub struct StripTiling {
    /// The segments, strip by strip and along each.
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
/// A join lies where it cuts and covers no words and no hole, if the strip has such a place. The strip keeps its direction on the page.
/// Among equals: fewest segments, least paper, bars and words along the lower edge, upright before lying.
///
/// # Errors
/// [`PrintError`] for an empty drawing, settings out of range, or paper too small or too narrow.
pub fn tile_strip(drawing: &Drawing, paper: &Paper, options: &TilingOptions) -> Result<StripTiling, PrintError> {
    tile_strips(&[Strip::of(drawing)?], paper, options)
}

fn tile_strips(strips: &[Strip<'_>], paper: &Paper, options: &TilingOptions) -> Result<StripTiling, PrintError> {
    options.check()?;
    let need = strips.iter().fold(Size::ZERO, |need, strip| {
        let size = strip.extent.size();
        Size::new(need.width.max(size.width), need.height.max(size.height))
    });
    let frames = frames(paper, options.margin_mm, options.correction, options.overlap_mm, need)?;
    let fits = frames.iter().filter_map(|frame| packed(strips, frame, options.overlap_mm));
    let best = fits.min_by(|a, b| {
        let key = |tiling: &StripTiling| (tiling.sheets, tiling.segments.len());
        let sideways = |tiling: &StripTiling| tiling.frame.band_side == BandSide::Right;
        let area = a.frame.page.area().total_cmp(&b.frame.page.area());
        key(a).cmp(&key(b)).then(area).then(sideways(a).cmp(&sideways(b)))
    });
    let widest = strips.iter().max_by(|a, b| a.along_across().1.total_cmp(&b.along_across().1));
    let (Some(best), Some(widest)) = (best, widest) else {
        let title = strips.iter().map(|strip| strip.drawing.title.as_str()).collect::<Vec<_>>().join(", ");
        let (across_mm, runs_down) = widest.map_or((0.0, false), |strip| (strip.along_across().1, strip.runs_down));
        let room_mm = frames.iter().map(|frame| room(frame, runs_down).1).fold(0.0, f64::max);
        return Err(PrintError::StripTooWide { title, across_mm, room_mm });
    };
    if best.sheets > MAX_SHEETS {
        let title = widest.drawing.title.clone();
        return Err(PrintError::TooManySheets { title, count: best.sheets, max: MAX_SHEETS });
    }
    Ok(best)
}

/// Room along and across strips of one direction.
fn room(frame: &Frame, runs_down: bool) -> (f64, f64) {
    let size = frame.window.size();
    if runs_down { (size.height, size.width) } else { (size.width, size.height) }
}

/// A lane of a sheet: pieces behind each other.
struct Lane {
    sheet: usize,
    /// From the sheet's edge to the lane, and its breadth, in mm.
    at_mm: f64,
    across_mm: f64,
    /// How far it is filled, in mm.
    filled_mm: f64,
}

/// Strips in one frame: the broadest pieces first, each in the first lane with room, else in a lane of its own. `None` where
/// a strip is too broad, or where strips run in two directions.
fn packed(strips: &[Strip<'_>], frame: &Frame, overlap_mm: f64) -> Option<StripTiling> {
    let runs_down = strips.first()?.runs_down;
    let (along_mm, across_mm) = room(frame, runs_down);
    let fits = |strip: &Strip<'_>| strip.runs_down == runs_down && strip.along_across().1 <= across_mm + 1e-9;
    if !strips.iter().all(fits) {
        return None;
    }
    let of_strip = |(index, strip): (usize, &Strip<'_>)| {
        let numbered = (1..).zip(strip.pieces(along_mm, overlap_mm));
        numbered.map(move |(number, piece)| (index, number, piece)).collect::<Vec<_>>()
    };
    let mut pieces: Vec<(usize, usize, Piece)> = strips.iter().enumerate().flat_map(of_strip).collect();
    let size =
        |piece: &Piece| if runs_down { piece.window.size() } else { Size::new(piece.window.height(), piece.window.width()) };
    let (across, along) = (|piece: &Piece| size(piece).width, |piece: &Piece| size(piece).height);
    pieces.sort_by(|(.., a), (.., b)| across(b).total_cmp(&across(a)));
    let mut lanes: Vec<Lane> = Vec::new();
    let mut segments = Vec::with_capacity(pieces.len());
    for (strip, number, piece) in pieces {
        let (sheet, shift) = place(&mut lanes, (along(&piece), across(&piece)), (along_mm, across_mm));
        let shift = if runs_down { Vec2::new(shift.y, shift.x) } else { shift };
        let Piece { window, core } = piece;
        segments.push(Segment { strip, number, window, core, sheet, at: frame.window.origin() + shift });
    }
    segments.sort_by_key(|segment| (segment.strip, segment.number));
    let sheets = lanes.iter().map(|lane| lane.sheet + 1).max()?;
    Some(StripTiling { segments, sheets, overlap_mm, frame: *frame })
}

/// The sheet and the place on it, along and across, that a piece gets.
fn place(lanes: &mut Vec<Lane>, (along, across): (f64, f64), (along_mm, across_mm): (f64, f64)) -> (usize, Vec2) {
    let has_room = |lane: &&mut Lane| across <= lane.across_mm + 1e-9 && lane.filled_mm + STRIP_GAP_MM + along <= along_mm + 1e-9;
    if let Some(lane) = lanes.iter_mut().find(has_room) {
        let at = Vec2::new(lane.filled_mm + STRIP_GAP_MM, lane.at_mm);
        lane.filled_mm += STRIP_GAP_MM + along;
        return (lane.sheet, at);
    }
    let taken = |sheet: usize| {
        let of_sheet = lanes.iter().filter(|lane| lane.sheet == sheet);
        of_sheet.map(|lane| lane.at_mm + lane.across_mm + STRIP_GAP_MM).fold(0.0, f64::max)
    };
    let free =
        (0_usize..).map(|sheet| (sheet, taken(sheet))).find(|(_, at_mm)| *at_mm == 0.0 || at_mm + across <= across_mm + 1e-9);
    let (sheet, at_mm) = free.unwrap_or((0, 0.0));
    lanes.push(Lane { sheet, at_mm, across_mm: across, filled_mm: along });
    (sheet, Vec2::new(0.0, at_mm))
}

/// Cuts a strip into segments and makes the sheets pages.
///
/// `prefix` begins the sheets' names and the segments': `S` gives sheets `S1`, `S2`.
///
/// # Errors
/// As [`tile_strip`].
pub fn strip_part(drawing: &Drawing, prefix: &str, paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    let strips = [Strip::of(drawing)?];
    let tiling = tile_strips(&strips, paper, options)?;
    Ok(Print { strips: &strips, prefixes: &[prefix], tiling: &tiling }.part(&drawing.title, prefix))
}

/// Puts several strips, each with the prefix of its segments' names, on sheets that they share: only where that saves sheets.
///
/// # Errors
/// As [`tile_strip`], for each strip.
pub fn shared_strips_part(
    strips: &[(&Drawing, &str)],
    title: &str,
    name: &str,
    paper: &Paper,
    options: &TilingOptions,
) -> Result<Option<Part>, PrintError> {
    let (drawings, prefixes): (Vec<&Drawing>, Vec<&str>) = strips.iter().copied().unzip();
    let strips = drawings.into_iter().map(Strip::of).collect::<Result<Vec<_>, _>>()?;
    let mut alone = 0;
    for strip in strips.chunks(1) {
        alone += tile_strips(strip, paper, options)?.sheets;
    }
    // Strips that can't lie on one sheet have sheets of their own.
    let tiling = tile_strips(&strips, paper, options).ok().filter(|tiling| tiling.sheets < alone);
    Ok(tiling.map(|tiling| Print { strips: &strips, prefixes: &prefixes, tiling: &tiling }.part(title, name)))
}

/// Strips on their way to pages.
struct Print<'a> {
    strips: &'a [Strip<'a>],
    prefixes: &'a [&'a str],
    tiling: &'a StripTiling,
}

impl Print<'_> {
    fn part(&self, title: &str, name: &str) -> Part {
        let lines: Vec<Arc<Painted>> =
            self.strips.iter().map(|strip| Painted::of_some(strip.drawing, |item| !item.is_whole())).collect();
        let joints = self.joints();
        let page = |sheet: usize| {
            let name = format!("{name}{}", sheet + 1);
            let words = BandText { title, name: &name, page: sheet + 1, pages: self.tiling.sheets };
            self.sheet_page(&lines, sheet, &joints, &words)
        };
        Part { title: title.to_owned(), pages: (0..self.tiling.sheets).map(page).collect() }
    }

    /// Joints between neighbouring segments, numbered over all strips; they name segments by their places in the tiling.
    fn joints(&self) -> Vec<Joint> {
        let mut joints: Vec<Joint> = Vec::new();
        for (index, pair) in self.tiling.segments.windows(2).enumerate().filter(|(_, pair)| pair[0].strip == pair[1].strip) {
            let strip = &self.strips[pair[0].strip];
            let trim = if strip.runs_down { pair[0].core.y1 } else { pair[0].core.x1 };
            let first_number = 1 + joints.iter().map(|j| j.marks.len()).sum::<usize>();
            joints.push(strip.joint(index, trim, first_number));
        }
        joints
    }

    fn name(&self, segment: &Segment) -> String {
        format!("{}{}", self.prefixes.get(segment.strip).unwrap_or(&""), segment.number)
    }

    fn sheet_page(&self, lines: &[Arc<Painted>], sheet: usize, joints: &[Joint], words: &BandText<'_>) -> Page {
        let tiling = self.tiling;
        let page_from_sheet = Affine::scale(tiling.frame.page_per_sheet);
        let mut placed = Vec::new();
        let mut furniture = Drawing::new("");
        for (index, segment) in tiling.segments.iter().enumerate().filter(|(_, s)| s.sheet == sheet) {
            let strip = &self.strips[segment.strip];
            let to_sheet = segment.at - segment.window.origin();
            let page_from_drawing = page_from_sheet * Affine::translate(to_sheet);
            let whole = Painted::of_some(strip.drawing, |item| item.is_whole() && self.shows(segment, item.shape.bounding_box()));
            let cut = |drawing| Placed { drawing, page_from_drawing, clip: Some(segment.window) };
            placed.extend([cut(lines[segment.strip].clone()), cut(whole)]);
            for joint in joints.iter().filter(|j| j.upper == index || j.lower == index) {
                let on_upper = joint.upper == index;
                let other = &tiling.segments[if on_upper { joint.lower } else { joint.upper }];
                let other = format!("piece {}", self.name(other));
                add_joint(&mut furniture, joint, on_upper, &other, tiling.overlap_mm / 2.0, &strip.ink, to_sheet);
            }
        }
        furniture.items.extend(band_items(&tiling.frame, words));
        placed.push(Placed { drawing: Painted::of(&furniture), page_from_drawing: page_from_sheet, clip: None });
        Page { name: words.name.to_owned(), size_mm: tiling.frame.page, placed, links: Vec::new() }
    }

    /// Whether a segment shows words or a hole in this box: the one that has them within its trim lines, or all that reach them, if none
    /// has.
    fn shows(&self, segment: &Segment, words: Rect) -> bool {
        let mut of_strip = self.tiling.segments.iter().filter(|other| other.strip == segment.strip);
        of_strip.find(|other| other.core.contains_rect(words)).is_none_or(|whole_on| whole_on.number == segment.number)
    }
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

    /// Words across the usual join used to be cut by the piece's edge.
    #[test]
    fn a_join_keeps_off_words_and_holes() {
        let mut drawing = strip(45.0, 700.0);
        let a4 = "A4".parse().expect("known");
        let plain = tile_strip(&drawing, &a4, &TilingOptions::default()).expect("fits");
        let trim = plain.segments[0].core.y1;
        drawing.text(super::super::shape::Text::new("260 mm", (5.0, trim + 1.0), 2.0));
        drawing.circle(Layer::Cut, (30.0, trim - 4.0), 1.5);
        let moved = tile_strip(&drawing, &a4, &TilingOptions::default()).expect("fits");
        assert_eq!(moved.segments.len(), plain.segments.len());
        let joined = moved.segments[0].core.y1;
        assert!(joined < trim - 6.5, "{joined} beside {trim}");
    }

    #[test]
    fn two_strips_share_a_sheet_where_that_saves_one() {
        let drawings = [strip(45.0, 700.0), strip(30.0, 180.0)];
        let (long, short) = ((&drawings[0], "S"), (&drawings[1], "R"));
        let shared = |strips: &[(&Drawing, &str)]| {
            let a4 = "A4".parse().expect("known");
            shared_strips_part(strips, "both", "Strips ", &a4, &TilingOptions::default()).expect("they fit")
        };
        let part = shared(&[long, short]).expect("one sheet instead of two");
        assert_eq!(part.pages.len(), 1);
        assert_eq!(shared(&[long]), None, "alone it saves nothing");
        assert_eq!(shared(&[long, long]), None, "together they fill two");
    }

    #[test]
    fn a_strip_wider_than_the_paper_is_refused() {
        let refused = tile_strip(&strip(400.0, 2000.0), &"A4".parse().expect("known"), &TilingOptions::default());
        assert!(matches!(refused, Err(PrintError::StripTooWide { across_mm, .. }) if across_mm > 400.0));
    }
}
