//! How much of each of the rod's cells is cloth.
//!
//! An outline runs slantwise through the cells. If a cell were cloth or not, every slanted edge in the rod would be a staircase, and
//! whatever lies under it would show its steps; so each cell has the share of it that is cloth.

use super::laid::{ClearOf, LaidFold};
use super::solver::GridShape;
use crate::geometry::{Bundle as _, BundlePoint, PanelPair};
use rayon::prelude::*;

/// Shares of cloth, 0 to 1.
#[derive(Debug, Clone)]
pub(super) struct ClothShares {
    /// Of each cell, in the order of [`GridShape::index`].
    pub(super) cells: Vec<f32>,
    /// Of the creases of each place in each slab, where `across` is 0 and where it is 1; slab by slab.
    pub(super) creases: Vec<[f32; 2]>,
}

/// Slabs over which cloth that is there, or missing, at all four corners is taken to be so between: 8 mm of a picture's grid, less
/// than any strap.
const STRIDE: usize = 4;
/// As wide may a column of unequal pleats be for that, mm.
const NARROW_MM: f64 = 8.0;
/// Lines along the rod by which a cell that an edge runs through is measured.
const LINES: u8 = 4;
/// Halvings by which the edge is found on a line: to an eighth of a cell, so that a share is off by less than a sixteenth.
const HALVINGS: usize = 3;

impl ClothShares {
    /// Measures the cells of a fold's rod: corners first, and where they differ line by line.
    pub(super) fn of(fold: &LaidFold<'_>, shape: GridShape, cell_mm: f64) -> Self {
        if fold.ring().is_some() {
            // Pressed full.
            return Self { cells: vec![1.0; shape.cells()], creases: vec![[1.0; 2]; shape.slabs() * shape.places()] };
        }
        let clear = fold.clear();
        let measure = |place: usize| {
            // A stack has at most a few thousand places.
            let place = u32::try_from(place).unwrap_or(u32::MAX);
            let is_even = fold.is_even();
            PlaceShares::of(&Place { fold, clear: &clear, place, cell_mm, across: shape.across(), is_even }, shape.slabs())
        };
        let places: Vec<PlaceShares> = (0..shape.places()).into_par_iter().map(measure).collect();
        let mut shares = Self { cells: vec![0.0; shape.cells()], creases: vec![[0.0; 2]; shape.slabs() * shape.places()] };
        for (number, place) in places.iter().enumerate() {
            let slabs = place.cells.chunks_exact(shape.across()).zip(&place.creases).enumerate();
            for (slab, (cells, creases)) in slabs {
                shares.cells[shape.index(slab, number, 0)..][..shape.across()].copy_from_slice(cells);
                shares.creases[slab * shape.places() + number] = *creases;
            }
        }
        shares
    }
}

/// One place of the stack to be measured.
struct Place<'a> {
    fold: &'a LaidFold<'a>,
    clear: &'a PanelPair<Option<ClearOf>>,
    place: u32,
    cell_mm: f64,
    across: usize,
    /// Whether all places are equally wide.
    is_even: bool,
}

impl Place<'_> {
    /// Whether there is cloth at `slabs` cells along the rod and at a share of the pleat's width.
    fn has_cloth(&self, slabs: f64, across: f64) -> bool {
        let at = BundlePoint { along_mm: slabs * self.cell_mm, across, place: f64::from(self.place) };
        self.fold.has_cloth_in(at, self.clear)
    }

    /// Whether a column is narrower than any strap at the end of a slab.
    fn is_narrow(&self, slabs: usize, column: usize) -> bool {
        let (along_mm, across) = (slabs as f64 * self.cell_mm, self.across as f64);
        let share = column as f64 / across..(column + 1) as f64 / across;
        self.is_even || self.fold.cell(along_mm..along_mm, self.place, share).width_mm <= NARROW_MM
    }

    /// The share of cloth of each slab from one to another on a line along the rod.
    fn on_line(&self, from: usize, to: usize, across: f64) -> impl Iterator<Item = f32> {
        let mut at_end = self.has_cloth(from as f64, across);
        (from..to).map(move |slab| {
            let at_start = at_end;
            at_end = self.has_cloth((slab + 1) as f64, across);
            if at_start == at_end {
                return if at_start { 1.0 } else { 0.0 };
            }
            let (mut same, mut step) = (0.0_f64, 0.5);
            for _ in 0..HALVINGS {
                if self.has_cloth(slab as f64 + same + step, across) == at_start {
                    same += step;
                }
                step *= 0.5;
            }
            let edge = same + step;
            #[expect(clippy::cast_possible_truncation, reason = "a share")]
            let share = if at_start { edge } else { 1.0 - edge } as f32;
            share
        })
    }
}

/// The shares of one place, slab by slab.
struct PlaceShares {
    cells: Vec<f32>,
    creases: Vec<[f32; 2]>,
}

impl PlaceShares {
    fn of(place: &Place<'_>, slabs: usize) -> Self {
        let mut shares = Self { cells: vec![0.0; slabs * place.across], creases: vec![[0.0; 2]; slabs] };
        let corners = |slab: usize| -> Vec<bool> {
            (0..=place.across).map(|corner| place.has_cloth(slab as f64, corner as f64 / place.across as f64)).collect()
        };
        let (mut from, mut at_from) = (0, corners(0));
        while from < slabs {
            let to = (from + STRIDE).min(slabs);
            let at_to = corners(to);
            for across in 0..place.across {
                let corners = [at_from[across], at_from[across + 1], at_to[across], at_to[across + 1]];
                shares.block(place, from..to, across, corners);
            }
            for (end, corner) in [(0, 0), (1, place.across)] {
                shares.crease(place, from..to, end, [at_from[corner], at_to[corner]]);
            }
            (from, at_from) = (to, at_to);
        }
        shares
    }

    fn block(&mut self, place: &Place<'_>, slabs: std::ops::Range<usize>, across: usize, corners: [bool; 4]) {
        let line_at = |line: u8| (across as f64 + (f64::from(line) + 0.5) / f64::from(LINES)) / place.across as f64;
        // Far out on a fan a column is wider than a strap: what is so at its corners may be otherwise between them.
        let is_so = |is_cloth: bool| {
            corners == [is_cloth; 4] && {
                let (middle, is_narrow) = (0.5 * (slabs.start + slabs.end) as f64, place.is_narrow(slabs.end, across));
                is_narrow || (0..LINES).all(|line| place.has_cloth(middle, line_at(line)) == is_cloth)
            }
        };
        if is_so(false) {
            return;
        }
        if is_so(true) {
            slabs.for_each(|slab| self.cells[slab * place.across + across] = 1.0);
            return;
        }
        for line in 0..LINES {
            let at = line_at(line);
            for (slab, share) in slabs.clone().zip(place.on_line(slabs.start, slabs.end, at)) {
                self.cells[slab * place.across + across] += share / f32::from(LINES);
            }
        }
    }

    fn crease(&mut self, place: &Place<'_>, slabs: std::ops::Range<usize>, end: usize, ends: [bool; 2]) {
        match ends {
            [false, false] => {}
            [true, true] => slabs.for_each(|slab| self.creases[slab][end] = 1.0),
            _ => {
                let line = place.on_line(slabs.start, slabs.end, end as f64);
                slabs.clone().zip(line).for_each(|(slab, share)| self.creases[slab][end] = share);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::geometry::Bundle;
    use crate::layout::Hand;
    use crate::reveal::{GridSpec, RodGrid, rod_binds};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// The cells hold as much cloth as the garment has: on the fold and beside it, whatever hand laid it. (A burst beside the fold had
    /// cloth in the rod beyond the fold, which is nowhere in the garment.)
    #[test]
    fn the_rod_holds_the_garments_cloth() {
        for (example, layout) in EXAMPLE_LAYOUTS
            .iter()
            .flat_map(|example| parse_layout(example.text).unwrap().ties().to_vec().into_iter().map(move |tie| (example, tie)))
        {
            let whole_mm2: f64 = layout.panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
            // One of several ties holds what it takes.
            let own_mm2 = |fold: &dyn Bundle| fold.cut(fold.length_mm()).map(|cut| cut.area_mm2).sum();
            let area_mm2 = layout.tied_fold().map_or(whole_mm2, |fold| own_mm2(fold));
            for hand in [Hand::EXACT, layout.process().hand] {
                // An outline that runs at a slant through wide cells takes finer ones.
                let across = if layout.flat().is_some() { 32 } else { 8 };
                let spec = GridSpec { cell_mm: 2.0, across };
                let grid = RodGrid::laid(layout.fold(), &hand, layout.cloth(), &rod_binds(&layout), 1.0, &spec).unwrap();
                let shape = grid.shape();
                let slab = |slab: usize| -> f64 {
                    let cells = (0..shape.plane()).map(|cell| (cell / shape.across(), cell % shape.across()));
                    cells.map(|(place, across)| grid.cloth_mm2(slab, place, across)).sum()
                };
                let held_mm2: f64 = (0..grid.shape().slabs()).map(slab).sum();
                assert!((held_mm2 / area_mm2 - 1.0).abs() < 0.01, "{}: {held_mm2} of {area_mm2} mm2", example.name);
            }
        }
    }

    /// Taken over from a grid with other binds it lies as it would anew, in whole cells and in those that an outline runs through; a grid
    /// with other cells takes none over.
    #[test]
    fn cloth_is_taken_over_as_it_lies() {
        for example in ["row-tee-m", "heart-tee-m", "chevron-long-sleeve-l"] {
            let example = EXAMPLE_LAYOUTS.iter().find(|other| other.short_name().ends_with(example)).unwrap();
            let layout = parse_layout(example.text).unwrap();
            let (fold, hand, cloth): (&dyn Bundle, _, _) = (layout.fold(), &layout.process().hand, layout.cloth());
            let spec = GridSpec { cell_mm: 4.0, across: 4 };
            let anew = RodGrid::laid(fold, hand, cloth, &rod_binds(&layout), 1.0, &spec).unwrap();
            for from in [spec, GridSpec { across: 2, ..spec }] {
                let unbound = RodGrid::laid(fold, hand, cloth, &[], 1.0, &from).unwrap();
                let taken = RodGrid::laid_as(Some(&unbound), (fold, hand), cloth, &rod_binds(&layout), 1.0, &spec).unwrap();
                let shape = anew.shape();
                let lies = |grid: &RodGrid, cell: usize| {
                    let (slab, place, across) = (cell / shape.plane(), cell % shape.plane() / 4, cell % 4);
                    (grid.cloth_mm2(slab, place, across).to_bits(), grid.crease_shares(slab, place).map(f64::to_bits))
                };
                assert!((0..shape.cells()).all(|cell| lies(&taken, cell) == lies(&anew, cell)), "{} from {from:?}", example.name);
            }
        }
    }
}
