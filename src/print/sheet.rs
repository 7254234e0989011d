//! Template sheets: a tiling turned into pages with bars, names, trim lines, join marks and the assembly map.

use std::sync::Arc;

use kurbo::{Affine, Point, Vec2};

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

/// Cuts a drawing into sheets and makes them pages: the assembly map first, when there is more than one.
///
/// # Errors
/// As [`tile`](super::tile).
pub fn template_part(drawing: &Drawing, paper: &Paper, options: &TilingOptions) -> Result<Part, PrintError> {
    options.check()?;
    drawing.check()?;
    let ink = Ink::of(drawing).ok_or_else(|| PrintError::EmptyDrawing { title: drawing.title.clone() })?;
    let tiling = tile_ink(&ink, drawing, paper, options)?;
    Ok(Part { title: drawing.title.clone(), pages: pages(drawing, &tiling, &ink) })
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
    Page { name: words.name.to_owned(), size_mm: frame.page, placed }
}

fn pages(drawing: &Drawing, tiling: &Tiling, ink: &Ink) -> Vec<Page> {
    let painted = Painted::of(drawing);
    let joints = joints(tiling, ink);
    let with_map = tiling.sheets.len() > 1;
    let total = tiling.sheets.len() + usize::from(with_map);
    let mut pages = Vec::with_capacity(total);
    if with_map {
        pages.push(map_page(drawing, tiling, total));
    }
    for index in 0..tiling.sheets.len() {
        let page = pages.len() + 1;
        let sheet = &tiling.sheets[index];
        let words = BandText { title: &drawing.title, name: &sheet.name, page, pages: total };
        pages.push(sheet_page(&painted, tiling, index, &joints, ink, &words));
    }
    pages
}

fn sheet_page(painted: &Arc<Painted>, tiling: &Tiling, index: usize, joints: &[Joint], ink: &Ink, words: &BandText<'_>) -> Page {
    let (frame, sheet) = (&tiling.frame, &tiling.sheets[index]);
    let to_sheet: Vec2 = frame.window.origin() - sheet.window.origin();
    let mut furniture = Drawing::new("");
    for joint in joints.iter().filter(|j| j.upper == index || j.lower == index) {
        let on_upper = joint.upper == index;
        let other = if on_upper { joint.lower } else { joint.upper };
        add_joint(&mut furniture, joint, on_upper, &tiling.sheets[other].name, tiling.overlap_mm / 2.0, ink, to_sheet);
    }
    if tiling.sheets.len() > 1 {
        add_name(&mut furniture, &sheet.name, sheet.core, ink, to_sheet);
    }
    furniture.items.extend(band_items(frame, words));
    let page_from_sheet = Affine::scale(frame.page_per_sheet);
    let placed = vec![
        Placed {
            drawing: painted.clone(),
            page_from_drawing: page_from_sheet * Affine::translate(to_sheet),
            clip: Some(sheet.window),
        },
        Placed { drawing: Painted::of(&furniture), page_from_drawing: page_from_sheet, clip: None },
    ];
    Page { name: sheet.name.clone(), size_mm: frame.page, placed }
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
