//! Where a long strip is cut: its joins lie where no words and no hole are.

use kurbo::{Point, Rect};

use super::drawing::Drawing;
use super::error::PrintError;
use super::ink::Ink;
use super::marks::Joint;

/// Free paper between a join and words or a hole, in mm. Own choice: scissors stray that far.
const CLEAR_MM: f64 = 1.0;
/// From one place tried for a join to the next, in mm.
const STEP_MM: f64 = 0.5;
/// Least share of the room's length that a piece has, but for the last.
const LEAST_SHARE: f64 = 0.3;

/// A long narrow drawing and what is known of it.
pub(super) struct Strip<'a> {
    pub(super) drawing: &'a Drawing,
    pub(super) ink: Ink,
    pub(super) extent: Rect,
    /// Whether its longer side runs down the page.
    pub(super) runs_down: bool,
    /// Words and holes, as stretches along the strip.
    whole: Vec<(f64, f64)>,
}

/// A piece of a strip, in drawing coordinates.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece {
    /// What it shows.
    pub(super) window: Rect,
    /// Up to its trim lines.
    pub(super) core: Rect,
}

impl<'a> Strip<'a> {
    pub(super) fn of(drawing: &'a Drawing) -> Result<Self, PrintError> {
        drawing.check()?;
        let empty = || PrintError::EmptyDrawing { title: drawing.title.clone() };
        let ink = Ink::of(drawing).ok_or_else(empty)?;
        let extent = drawing.ink_bounds().ok_or_else(empty)?;
        let runs_down = extent.height() >= extent.width();
        let whole = drawing.items.iter().filter(|item| item.is_whole()).map(|item| item.shape.bounding_box());
        let whole = whole.map(|area| if runs_down { (area.y0, area.y1) } else { (area.x0, area.x1) }).collect();
        Ok(Self { drawing, ink, extent, runs_down, whole })
    }

    /// Length and breadth.
    pub(super) fn along_across(&self) -> (f64, f64) {
        let size = self.extent.size();
        if self.runs_down { (size.height, size.width) } else { (size.width, size.height) }
    }

    fn ends(&self) -> (f64, f64) {
        if self.runs_down { (self.extent.y0, self.extent.y1) } else { (self.extent.x0, self.extent.x1) }
    }

    fn stretch(&self, from: f64, to: f64) -> Rect {
        if self.runs_down {
            Rect::new(self.extent.x0, from, self.extent.x1, to)
        } else {
            Rect::new(from, self.extent.y0, to, self.extent.y1)
        }
    }

    /// The trim line across the strip at a place along it, with its marks.
    pub(super) fn joint(&self, upper: usize, trim: f64, first_number: usize) -> Joint {
        let across = self.stretch(trim, trim);
        Joint::new(upper, upper + 1, across.origin(), Point::new(across.x1, across.y1), &self.ink, first_number)
    }

    /// The strip in as few pieces as its joins allow, each at most `room_mm` long; neighbours overlap by `overlap_mm`.
    pub(super) fn pieces(&self, room_mm: f64, overlap_mm: f64) -> Vec<Piece> {
        let (low, high) = self.ends();
        let half = overlap_mm / 2.0;
        let mut pieces = Vec::new();
        let (mut from, mut core_from) = (low, low);
        while high - from > room_mm + 1e-9 {
            let trim = self.join_between(from + overlap_mm + LEAST_SHARE * (room_mm - overlap_mm), from + room_mm - half);
            pieces.push(Piece { window: self.stretch(from, trim + half), core: self.stretch(core_from, trim) });
            (from, core_from) = (trim - half, trim);
        }
        pieces.push(Piece { window: self.stretch(from, high), core: self.stretch(core_from, high) });
        pieces
    }

    /// The farthest place for a join where it crosses no words and no hole and its marks cover none; where there is none, one that only
    /// crosses none; else the farthest.
    fn join_between(&self, least: f64, most: f64) -> f64 {
        let crosses_none = |trim: &f64| self.whole.iter().all(|(from, to)| *trim < from - CLEAR_MM || to + CLEAR_MM < *trim);
        let covers_none = |trim: &f64| self.joint(0, *trim, 1).mark_boxes().all(|mark| !self.ink.holds_whole(mark));
        let places = || (0_u32..).map(|step| most - STEP_MM * f64::from(step)).take_while(|trim| *trim >= least);
        let free = places().filter(crosses_none).find(covers_none);
        free.or_else(|| places().find(crosses_none)).unwrap_or(most)
    }
}
