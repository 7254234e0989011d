//! The rod cut into cells: along it, place by place through the stack, and across the pleats.

use super::RevealError;
use super::binds::{self, RodBind};
use super::mates::Mates;
use super::solver::{ACROSS, GridShape};
use crate::geometry::{Cloth, Fold, RodPoint};
use rayon::prelude::*;
use std::f64::consts::PI;

/// How finely the rod is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GridSpec {
    /// Length of a cell along the rod, mm: 2 for a picture, a third of the breadth of a bind.
    pub cell_mm: f64,
    /// Cells across a pleat: 8, or 16 for a fine one.
    pub across: usize,
}

impl Default for GridSpec {
    fn default() -> Self {
        Self { cell_mm: 2.0, across: 8 }
    }
}

impl GridSpec {
    /// Coarse enough to follow a hand that drags.
    pub const PREVIEW: Self = Self { cell_mm: 5.0, across: 4 };
}

/// Most cells of a grid: what fits into 300 MB with five dyes.
pub const MOST_CELLS: usize = 1_200_000;
/// The number of slabs is a multiple of this, so that the grid can be halved that often; the last slabs may lie beyond the rod.
const SLABS_STEP: usize = 16;

/// The cross-section of the rod at one slab.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RodSection {
    /// Extent across the pleats, mm.
    pub width_mm: f64,
    /// Extent through the stack, mm.
    pub height_mm: f64,
    /// Width of the pleat's cloth, crease to crease, mm.
    pub pleat_mm: f64,
    /// Thickness of one layer, mm.
    pub layer_mm: f64,
    /// How round it is, 0 flat to 1 round.
    pub roundness: f64,
}

/// The rod's cells, which of them hold cloth, and the rod's shape.
#[derive(Debug, Clone)]
pub struct RodGrid {
    shape: GridShape,
    cell_mm: f64,
    used_slabs: usize,
    layers: usize,
    present: Vec<bool>,
    sections: Vec<RodSection>,
    mates: Mates,
    binds: Vec<RodBind>,
}

impl RodGrid {
    /// Cuts a bound rod into cells.
    ///
    /// # Errors
    /// [`RevealError::NoCloth`], [`RevealError::Length`] for an unusable cell, [`RevealError::TooManyCells`].
    pub fn new(
        fold: &(dyn Fold + Sync),
        cloth: &Cloth,
        binds: &[RodBind],
        flat_after_diameters: f64,
        spec: &GridSpec,
    ) -> Result<Self, RevealError> {
        let (shape, used_slabs) = shape(fold, spec)?;
        let sections = (0..shape.slabs)
            .map(|slab| rod_section(fold, cloth, binds, flat_after_diameters, (slab as f64 + 0.5) * spec.cell_mm))
            .collect();
        let present = present(fold, shape, used_slabs, spec.cell_mm);
        let mates = Mates::of(fold, 0.5 * fold.length_mm());
        let layers = fold.layers() as usize;
        Ok(Self { shape, cell_mm: spec.cell_mm, used_slabs, layers, present, sections, mates, binds: binds.to_vec() })
    }

    /// The grid's extent; slabs from [`RodGrid::used_slabs`] on lie beyond the rod.
    #[must_use]
    pub fn shape(&self) -> GridShape {
        self.shape
    }

    /// Slabs up to the end of the rod.
    #[must_use]
    pub fn used_slabs(&self) -> usize {
        self.used_slabs
    }

    /// Length of a cell along the rod, mm.
    #[must_use]
    pub fn cell_mm(&self) -> f64 {
        self.cell_mm
    }

    /// The middle of a slab, mm along the rod.
    #[must_use]
    pub fn along_mm(&self, slab: usize) -> f64 {
        (slab as f64 + 0.5) * self.cell_mm
    }

    /// The rod's cross-section at a slab.
    #[must_use]
    pub fn section(&self, slab: usize) -> &RodSection {
        &self.sections[slab]
    }

    /// Whether there is cloth in a cell.
    #[must_use]
    pub fn is_cloth(&self, slab: usize, place: usize, across: usize) -> bool {
        self.present[self.shape.index(slab, place, across)]
    }

    /// Layers of cloth in each pleat.
    #[must_use]
    pub fn layers(&self) -> usize {
        self.layers
    }

    /// Which places are joined at their creases.
    #[must_use]
    pub fn mates(&self) -> &Mates {
        &self.mates
    }

    /// The binds, from the tip outward.
    #[must_use]
    pub fn binds(&self) -> &[RodBind] {
        &self.binds
    }

    /// Cells with cloth.
    #[must_use]
    pub fn cloth_cells(&self) -> usize {
        self.present.iter().filter(|&&present| present).count()
    }
}

fn shape(fold: &dyn Fold, spec: &GridSpec) -> Result<(GridShape, usize), RevealError> {
    let (length_mm, places) = (fold.length_mm(), fold.places());
    if !(0.1..=100.0).contains(&spec.cell_mm) {
        return Err(RevealError::Length { what: "a cell along the rod", value_mm: spec.cell_mm, least_mm: 0.1, most_mm: 100.0 });
    }
    if places == 0 || !(length_mm > 0.0 && length_mm.is_finite()) {
        return Err(RevealError::NoCloth { length_mm, places });
    }
    let across = ACROSS.into_iter().rev().find(|&across| across <= spec.across).unwrap_or(1);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a positive length over at least 0.1 mm")]
    let used_slabs = (length_mm / spec.cell_mm).ceil() as usize;
    let shape = GridShape { slabs: used_slabs.next_multiple_of(SLABS_STEP), places: places as usize, across };
    if shape.cells() > MOST_CELLS {
        return Err(RevealError::TooManyCells { cells: shape.cells(), most: MOST_CELLS });
    }
    Ok((shape, used_slabs))
}

/// Height over width at which a stack on its edge no longer stands: where pleats are narrow the free rod bunches until it is no
/// steeper (our own judgement).
const STEEPEST: f64 = 1.5;

/// The rod's cross-section: the free rod's width and height, drawn toward a disc of the pressed cloth's area as far as it is round.
fn rod_section(fold: &dyn Fold, cloth: &Cloth, binds: &[RodBind], flat_after_diameters: f64, along_mm: f64) -> RodSection {
    let cloth_mm = fold.cut(along_mm).map(|cut| cut.cloth_mm).sum();
    let pleat_mm = fold.pleat_width_mm(along_mm).max(f64::MIN_POSITIVE);
    let layers = (cloth_mm / pleat_mm).max(1.0);
    let roundness = binds::roundness(binds, along_mm, flat_after_diameters);
    let diameter_mm = 2.0 * (cloth.pressed_thickness_mm * layers * pleat_mm / (cloth.packing * PI)).sqrt();
    let drawn = |free_mm: f64| free_mm.powf(1.0 - roundness) * diameter_mm.powf(roundness);
    let stack_mm = layers * cloth.free_thickness_mm;
    let free_width_mm = pleat_mm.max((pleat_mm * stack_mm / STEEPEST).sqrt());
    let (width_mm, height_mm) = (drawn(free_width_mm), drawn(pleat_mm * stack_mm / free_width_mm));
    RodSection { width_mm, height_mm, pleat_mm, layer_mm: height_mm / layers, roundness }
}

/// Slabs over which cloth that is there at both ends is taken to be there between: 8 mm of a picture's grid, less than any strap.
const STRIDE: usize = 4;

/// Where there is cloth: asked of the fold at every fourth slab, and between where the answer changes.
fn present(fold: &(dyn Fold + Sync), shape: GridShape, used_slabs: usize, cell_mm: f64) -> Vec<bool> {
    let lines: Vec<Vec<bool>> = (0..shape.plane())
        .into_par_iter()
        .map(|line| {
            let (place, across) = (line / shape.across, line % shape.across);
            let across = (across as f64 + 0.5) / shape.across as f64;
            cloth_along(used_slabs, |slab| {
                let along_mm = (slab as f64 + 0.5) * cell_mm;
                // A stack has at most a few thousand places.
                let place = u32::try_from(place).unwrap_or(u32::MAX);
                fold.has_cloth(fold.to_cloth(RodPoint { along_mm, across, place }))
            })
        })
        .collect();
    let mut present = vec![false; shape.cells()];
    for (line, cloth) in lines.iter().enumerate() {
        for (slab, &is_cloth) in cloth.iter().enumerate() {
            present[slab * shape.plane() + line] = is_cloth;
        }
    }
    present
}

fn cloth_along(slabs: usize, has_cloth: impl Fn(usize) -> bool) -> Vec<bool> {
    let mut cloth = vec![false; slabs];
    let (mut from, mut at_from) = (0, has_cloth(0));
    cloth[0] = at_from;
    while from + 1 < slabs {
        let to = (from + STRIDE).min(slabs - 1);
        let at_to = has_cloth(to);
        for (slab, cloth) in cloth.iter_mut().enumerate().take(to).skip(from + 1) {
            *cloth = if at_to == at_from { at_from } else { has_cloth(slab) };
        }
        cloth[to] = at_to;
        (from, at_from) = (to, at_to);
    }
    cloth
}
