//! How wide each cell of a bundle is.

use super::cloth_shares::ClothShares;
use super::rod_section::RodSection;
use super::solver::GridShape;
use crate::geometry::Bundle;
use rayon::prelude::*;

/// Widths of cells as they lie in the tied bundle, mm.
#[derive(Debug, Clone)]
pub(super) enum Widths {
    /// All cells of a slab alike.
    Even(Vec<f64>),
    /// Every cell its own, in the order of [`GridShape::index`].
    Each(Vec<f32>),
}

impl Widths {
    /// The widths of a bundle's cells: those of its flat cloth, drawn in or out as the binds do to the whole; of what has no cloth that
    /// of the gap.
    pub(super) fn of(bundle: &dyn Bundle, shape: GridShape, cell_mm: f64, sections: &[RodSection], cloth: &ClothShares) -> Self {
        if bundle.is_even() {
            return Self::Even(sections.iter().map(|section| section.width_mm / shape.across() as f64).collect());
        }
        let of_slab = |(slab, widths_mm): (usize, &mut [f32])| {
            let drawn = sections[slab].width_mm / sections[slab].pleat_mm;
            let along_mm = slab as f64 * cell_mm..(slab + 1) as f64 * cell_mm;
            let mut layer_mm = vec![0.0; shape.across()];
            for (place, widths_mm) in widths_mm.chunks_exact_mut(shape.across()).enumerate() {
                // A stack has at most a few thousand places.
                bundle.cell_widths_mm(along_mm.clone(), u32::try_from(place).unwrap_or(u32::MAX), &mut layer_mm);
                #[expect(clippy::cast_possible_truncation, reason = "widths are kept in f32")]
                widths_mm.iter_mut().zip(&layer_mm).for_each(|(kept, mm)| *kept = (mm * drawn).max(LEAST_MM) as f32);
            }
        };
        let mut widths_mm = vec![0.0; shape.cells()];
        widths_mm.par_chunks_mut(shape.plane()).enumerate().for_each(of_slab);
        let slabs = widths_mm.par_chunks_mut(shape.plane()).zip(cloth.cells.par_chunks(shape.plane()));
        slabs.for_each(|(widths_mm, cloth)| bridge(widths_mm, cloth, shape.across()));
        Self::Each(widths_mm)
    }

    /// The width of a cell, by its slab and its place in the slab's plane, mm.
    pub(super) fn at(&self, shape: GridShape, slab: usize, cell: usize) -> f64 {
        match self {
            Self::Even(widths_mm) => widths_mm[slab],
            Self::Each(widths_mm) => f64::from(widths_mm[slab * shape.plane() + cell]),
        }
    }
}

/// Makes what is missing in a slab's stack as wide as the layers lie on each other through it: as the narrower of the two that are next.
fn bridge(widths_mm: &mut [f32], cloth: &[f32], across: usize) {
    for column in 0..across {
        let cells: Vec<usize> = (column..widths_mm.len()).step_by(across).collect();
        let mut gaps_mm = vec![f32::INFINITY; cells.len()];
        let mut meet = |place: usize, next_mm: &mut f32| {
            if cloth[cells[place]] > 0.0 {
                *next_mm = widths_mm[cells[place]];
            } else {
                gaps_mm[place] = gaps_mm[place].min(*next_mm);
            }
        };
        let (mut below_mm, mut above_mm) = (f32::INFINITY, f32::INFINITY);
        (0..cells.len()).for_each(|place| meet(place, &mut below_mm));
        (0..cells.len()).rev().for_each(|place| meet(place, &mut above_mm));
        for (cell, gap_mm) in cells.into_iter().zip(gaps_mm).filter(|(_, gap_mm)| gap_mm.is_finite()) {
            widths_mm[cell] = gap_mm;
        }
    }
}

/// Least width of a cell, mm: a pleat that runs out has cells of no width, which conduct nothing and hold nothing (far below what a
/// dose is read from).
const LEAST_MM: f64 = 1e-3;

#[cfg(test)]
mod tests {
    use super::bridge;

    /// Two columns: layers of 4 and 2 mm with gaps between and at both ends; and nothing at all.
    #[test]
    fn a_gap_is_as_wide_as_what_meets_in_it() {
        let (mut widths_mm, cloth) =
            ([[1e-3, 7.0], [4.0, 7.0], [1e-3, 7.0], [9.0, 7.0], [2.0, 7.0], [1e-3, 7.0]], [0.0, 1.0, 0.0, 0.0, 0.5, 0.0]);
        let cloth = cloth.map(|share| [share, 0.0]);
        bridge(widths_mm.as_flattened_mut(), cloth.as_flattened(), 2);
        assert_eq!(widths_mm, [4.0, 4.0, 2.0, 2.0, 2.0, 2.0].map(|width_mm| [width_mm, 7.0]));
    }
}
