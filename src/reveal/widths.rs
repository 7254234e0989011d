//! How wide each cell of a bundle is.

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
    /// The widths of a bundle's cells: those of its flat cloth, drawn in or out as the binds do to the whole.
    pub(super) fn of(bundle: &dyn Bundle, shape: GridShape, cell_mm: f64, sections: &[RodSection]) -> Self {
        let across = shape.across() as f64;
        if bundle.is_even() {
            return Self::Even(sections.iter().map(|section| section.width_mm / across).collect());
        }
        let of_slab = |slab: usize| {
            let drawn = sections[slab].width_mm / sections[slab].pleat_mm;
            let along_mm = slab as f64 * cell_mm..(slab + 1) as f64 * cell_mm;
            (0..shape.plane()).map(move |cell| {
                let (place, column) = (cell / shape.across(), (cell % shape.across()) as f64);
                // A stack has at most a few thousand places.
                let place = u32::try_from(place).unwrap_or(u32::MAX);
                let size = bundle.cell(along_mm.clone(), place, column / across..(column + 1.0) / across);
                #[expect(clippy::cast_possible_truncation, reason = "widths are kept in f32")]
                let width_mm = (size.width_mm * drawn).max(LEAST_MM) as f32;
                width_mm
            })
        };
        Self::Each((0..shape.slabs()).into_par_iter().flat_map_iter(of_slab).collect())
    }

    /// The width of a cell, by its slab and its place in the slab's plane, mm.
    pub(super) fn at(&self, shape: GridShape, slab: usize, cell: usize) -> f64 {
        match self {
            Self::Even(widths_mm) => widths_mm[slab],
            Self::Each(widths_mm) => f64::from(widths_mm[slab * shape.plane() + cell]),
        }
    }
}

/// Least width of a cell, mm: a pleat that runs out has cells of no width, which conduct nothing and hold nothing (far below what a
/// dose is read from).
const LEAST_MM: f64 = 1e-3;
