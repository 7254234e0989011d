//! The wish row by row: which colour is wanted, and how much it matters.

use super::edges::Edges;
use super::shelf::Shelf;
use super::surrogate::mixed;
use super::wish::{Tint, Wish, WishColour, WishPart};
use crate::layout::Srgb;
use crate::reveal::colour::Lab;

/// Beyond an edge that no other part shares the garment's own colour is wished over so many mm, or cloth without dye: a line of waxed
/// thread (measured), and nothing of the part's own dye.
const BEYOND_MM: f64 = 5.0;

/// A row's wish.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wanted {
    pub(super) colour: Lab,
    pub(super) weight: f64,
    /// The part that it belongs to; none beyond an edge.
    pub(super) part: Option<usize>,
    /// Whether it lies under the line of a bind on an edge that two parts share: that can't be had otherwise, and counts against no bind.
    pub(super) is_line: bool,
}

impl Wanted {
    /// Whether it matters in a section of this dye: beyond an edge a section without dye does as well as a line.
    pub(super) fn counts(&self, dye: usize) -> bool {
        !self.is_line && (self.part.is_some() || dye != 0)
    }
}

/// The wish, by rows of a millimetre from the tip.
#[derive(Debug, Clone)]
pub(super) struct Target {
    pub(super) rows: Vec<Option<Wanted>>,
    pub(super) edges: Edges,
}

impl Target {
    /// The wish on a rod so long, whose maker counts from so far from its tip.
    pub(super) fn of(wish: &Wish, shelf: &Shelf, zero_mm: f64, length_mm: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate")]
        let count = length_mm.max(0.0).ceil() as usize;
        let edges = Edges::of(wish, zero_mm, length_mm);
        let ends: Vec<[Lab; 2]> = wish.parts.iter().map(|part| ends(part, shelf)).collect();
        let garment = shelf.garment();
        let row = |row: usize| {
            let at_mm = row as f64 + 0.5 - zero_mm;
            let within = wish.parts.iter().position(|part| (part.from_mm..part.to_mm).contains(&at_mm));
            if let Some(part) = within {
                let WishPart { from_mm, to_mm, weight, .. } = wish.parts[part];
                let [from, to] = ends[part];
                let colour = mixed(from, to, (at_mm - from_mm) / (to_mm - from_mm));
                return Some(Wanted { colour, weight, part: Some(part), is_line: false });
            }
            let near = |part: &&WishPart| part.from_mm - BEYOND_MM <= at_mm && at_mm < part.to_mm + BEYOND_MM;
            let heaviest = wish.parts.iter().filter(near).max_by(|a, b| a.weight.total_cmp(&b.weight))?;
            Some(Wanted { colour: garment, weight: heaviest.weight, part: None, is_line: false })
        };
        Self { rows: (0..count).map(row).collect(), edges }
    }

    /// Notes which rows of a part lie under the line of a bind on an edge that it shares, half a line of which reaches so far into it.
    pub(super) fn note_line(&mut self, part: usize, edge_mm: f64, half_line_mm: f64) {
        for (row, wanted) in self.rows.iter_mut().enumerate() {
            let is_near = (row as f64 + 0.5 - edge_mm).abs() < half_line_mm;
            if let Some(wanted) = wanted.as_mut().filter(|wanted| is_near && wanted.part == Some(part)) {
                wanted.is_line = true;
            }
        }
    }

    /// What is wished where a part begins and where it ends, as a screen shows it; none of a part without cloth.
    pub(super) fn ends(&self, part: usize) -> Option<[Srgb; 2]> {
        let mut rows = self.rows.iter().flatten().filter(|wanted| wanted.part == Some(part)).map(|wanted| wanted.colour);
        let first = rows.next()?;
        Some([first, rows.next_back().unwrap_or(first)].map(Lab::to_srgb))
    }

    /// The row after the last that matters.
    pub(super) fn end(&self) -> usize {
        self.rows.iter().rposition(Option::is_some).map_or(0, |last| last + 1)
    }
}

/// What a part wishes at its two ends.
fn ends(part: &WishPart, shelf: &Shelf) -> [Lab; 2] {
    match &part.colour {
        WishColour::Even(tint) => [lab(tint, shelf); 2],
        WishColour::Ramp(from, to) => [lab(from, shelf), lab(to, shelf)],
    }
}

fn lab(tint: &Tint, shelf: &Shelf) -> Lab {
    match tint {
        Tint::Srgb(srgb) => Lab::from(*srgb),
        Tint::Lab(lab) => *lab,
        Tint::Dye(name) => shelf.dyed(name),
        Tint::Garment => shelf.garment(),
        Tint::Ground => shelf.bare(),
    }
}
