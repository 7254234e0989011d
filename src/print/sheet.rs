//! Template sheets: a tiling turned into pages with bars, names, trim lines, join marks and the assembly map.

use std::sync::Arc;

use kurbo::{Affine, Point, Rect, Vec2};

use super::assembly::map_page;
use super::band::{BandText, band_items};
use super::drawing::Drawing;
use super::error::PrintError;
use super::frame::{Frame, frames};
use super::ink::Ink;
use super::marks::{Joint, add_joint, add_name};
use super::page::{Page, Painted, Part, Placed};
use super::paper::Paper;
use super::tiling::{Tiling, TilingOptions, tile_ink};

/// A drawing's sheets, known before its words are set, so that they can be set where no sheet cuts them.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheets {
    tiling: Tiling,
    joints: Vec<Joint>,
}

/// Free paper round words that are set for sheets, in mm.
const CLEAR_MM: f64 = 0.5;

impl Sheets {
    /// Cuts a drawing into the fewest sheets, as [`tile`](super::tile) does. `words` are the boxes where words would best stand: they
    /// take no sheet, but among equally many sheets those win that leave them whole.
    ///
    /// # Errors
    /// As [`tile`](super::tile).
    pub fn of(lines: &Drawing, words: &[Rect], paper: &Paper, options: &TilingOptions) -> Result<Self, PrintError> {
        options.check()?;
        lines.check()?;
        let ink = Ink::of(lines).ok_or_else(|| PrintError::EmptyDrawing { title: lines.title.clone() })?;
        let tiling = tile_ink(&ink, lines, words, paper, options)?;
        let joints = joints(&tiling, &ink);
        Ok(Self { tiling, joints })
    }

    /// The cut.
    #[must_use]
    pub const fn tiling(&self) -> &Tiling {
        &self.tiling
    }

    /// Whether words in this box stay whole: on one sheet, within its trim lines, clear of join marks.
    #[must_use]
    pub fn keeps_whole(&self, words: Rect) -> bool {
        let room = words.inflate(CLEAR_MM, CLEAR_MM);
        let is_marked = |joint: &Joint| joint.mark_boxes().any(|mark| mark.overlaps(room));
        self.tiling.sheets.iter().any(|sheet| sheet.core.contains_rect(room)) && !self.joints.iter().any(is_marked)
    }

    /// Makes the sheets pages: the assembly map first, when there is more than one. `drawing` is the one that was cut, with its words.
    ///
    /// # Errors
    /// [`PrintError`] for a drawing that is empty or has numbers that are none.
    pub fn part(&self, drawing: &Drawing) -> Result<Part, PrintError> {
        drawing.check()?;
        let ink = Ink::of(drawing).ok_or_else(|| PrintError::EmptyDrawing { title: drawing.title.clone() })?;
        Ok(Part { title: drawing.title.clone(), pages: self.pages(drawing, &ink) })
    }

    fn pages(&self, drawing: &Drawing, ink: &Ink) -> Vec<Page> {
        let lines = Painted::of_some(drawing, |item| !item.is_whole());
        let count = self.tiling.sheets.len();
        let with_map = count > 1;
        let total = count + usize::from(with_map);
        let map = with_map.then(|| map_page(drawing, &self.tiling, total));
        let sheets = self.tiling.sheets.iter().enumerate().map(|(index, sheet)| {
            let words = BandText { title: &drawing.title, name: &sheet.name, page: index + total - count + 1, pages: total };
            self.sheet_page(drawing, &lines, index, ink, &words)
        });
        map.into_iter().chain(sheets).collect()
    }

    fn sheet_page(&self, drawing: &Drawing, lines: &Arc<Painted>, index: usize, ink: &Ink, words: &BandText<'_>) -> Page {
        let (frame, sheet) = (&self.tiling.frame, &self.tiling.sheets[index]);
        let to_sheet: Vec2 = frame.window.origin() - sheet.window.origin();
        let mut furniture = Drawing::new("");
        for joint in self.joints.iter().filter(|j| j.upper == index || j.lower == index) {
            let on_upper = joint.upper == index;
            let other = &self.tiling.sheets[if on_upper { joint.lower } else { joint.upper }].name;
            add_joint(&mut furniture, joint, on_upper, other, self.tiling.overlap_mm / 2.0, ink, to_sheet);
        }
        if self.tiling.sheets.len() > 1 {
            add_name(&mut furniture, &sheet.name, sheet.core, ink, to_sheet);
        }
        furniture.items.extend(band_items(frame, words));
        let page_from_sheet = Affine::scale(frame.page_per_sheet);
        let page_from_drawing = page_from_sheet * Affine::translate(to_sheet);
        let whole = Painted::of_some(drawing, |item| item.is_whole() && self.shows(index, item.shape.bounding_box()));
        let cut = |drawing| Placed { drawing, page_from_drawing, clip: Some(sheet.window) };
        let placed = vec![
            cut(lines.clone()),
            cut(whole),
            Placed { drawing: Painted::of(&furniture), page_from_drawing: page_from_sheet, clip: None },
        ];
        Page { name: sheet.name.clone(), size_mm: frame.page, placed, links: Vec::new() }
    }

    /// Whether a sheet shows words in this box: the one that has them whole, or all, if none has.
    fn shows(&self, index: usize, words: Rect) -> bool {
        self.tiling.sheet_of(words).is_none_or(|whole_on| whole_on == index)
    }
}

/// Cuts a drawing into sheets and makes them pages: the assembly map first, when there is more than one.
///
/// # Errors
/// As [`tile`](super::tile).
pub fn template_part(drawing: &Drawing, paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    Sheets::of(drawing, &[], paper, options)?.part(drawing)
}

/// Puts the pages of a card on sheets, as [`named_part`] does, named `Card 1`, `Card 2` ...
///
/// # Errors
/// As for [`named_part`].
pub fn card_part(cards: &[Drawing], paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    named_part(cards, "Card", paper, options)
}

/// Puts drawings on sheets, one on each, at the top of the window, named `name 1`, `name 2` ... Their measures do not matter: on small
/// paper they are drawn smaller, never larger.
///
/// # Errors
/// [`PrintError`] for an empty page, settings out of range, or paper too small for the band of bars.
pub fn named_part(cards: &[Drawing], name: &str, paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    options.check()?;
    let mut pages = Vec::with_capacity(cards.len());
    for (index, card) in cards.iter().enumerate() {
        card.check()?;
        let frames = frames(paper, options.margin_mm, options.correction, 0.0, card.bounds.size())?;
        // The first of the largest: upright before lying.
        let largest = frames.iter().map(|frame| card_scale(card, frame)).fold(0.0, f64::max);
        let name = format!("{name} {}", index + 1);
        let words = BandText { title: &card.title, name: &name, page: index + 1, pages: cards.len() };
        pages.extend(frames.iter().find(|frame| card_scale(card, frame) >= largest).map(|frame| card_page(card, frame, &words)));
    }
    Ok(Part { title: cards.first().map_or_else(String::new, |card| card.title.clone()), pages })
}

/// The scale at which a card fits a frame, at most 1.
fn card_scale(card: &Drawing, frame: &Frame) -> f64 {
    let (window, size) = (frame.window.size(), card.bounds.size());
    (window.width / size.width).min(window.height / size.height).min(1.0)
}

fn card_page(card: &Drawing, frame: &Frame, words: &BandText<'_>) -> Page {
    let scale = card_scale(card, frame);
    let left_mm = 0.5 * (frame.window.width() - scale * card.bounds.width());
    let at = frame.window.origin() + Vec2::new(left_mm, 0.0);
    let sheet_from_card =
        Affine::translate(at.to_vec2()) * Affine::scale(scale) * Affine::translate(-card.bounds.origin().to_vec2());
    let page_from_sheet = Affine::scale(frame.page_per_sheet);
    let mut band = Drawing::new("");
    band.items.extend(band_items(frame, words));
    let placed = vec![
        Placed { drawing: Painted::of(card), page_from_drawing: page_from_sheet * sheet_from_card, clip: None },
        Placed { drawing: Painted::of(&band), page_from_drawing: page_from_sheet, clip: None },
    ];
    Page { name: words.name.to_owned(), size_mm: frame.page, placed, links: Vec::new() }
}

/// Every trim line with its numbered marks, in drawing coordinates.
fn joints(tiling: &Tiling, ink: &Ink) -> Vec<Joint> {
    let mut joints: Vec<Joint> = Vec::new();
    for (index, sheet) in tiling.sheets.iter().enumerate() {
        let core = sheet.core;
        let right = sheet.neighbours.right.map(|n| (n, Point::new(core.x1, core.y0), Point::new(core.x1, core.y1)));
        let below = sheet.neighbours.below.map(|n| (n, Point::new(core.x0, core.y1), Point::new(core.x1, core.y1)));
        for (neighbour, start, end) in right.into_iter().chain(below) {
            let first_number = 1 + joints.iter().map(|j| j.marks.len()).sum::<usize>();
            joints.push(Joint::new(index, neighbour, start, end, ink, first_number));
        }
    }
    joints
}
