//! Values on the grid for several right-hand sides at once.

use super::{GridShape, MOST_FIELDS, SolverError};

/// One value for each field and cell, in f32.
///
/// Slab by slab, in it place by place, in it field by field, in it across the pleat. The cells across one pleat are what a vector
/// register holds; a single field fills it as well as five do.
#[derive(Debug, Clone, PartialEq)]
pub struct Fields {
    shape: GridShape,
    count: usize,
    pub(super) values: Vec<f32>,
}

impl Fields {
    /// All zero.
    ///
    /// # Errors
    /// [`SolverError::Fields`] for none or more than [`MOST_FIELDS`].
    pub fn zero(shape: GridShape, count: usize) -> Result<Self, SolverError> {
        if !(1..=MOST_FIELDS).contains(&count) {
            return Err(SolverError::Fields { fields: count });
        }
        Ok(Self { shape, count, values: vec![0.0; shape.cells() * count] })
    }

    /// As many fields on a grid, all zero.
    #[must_use]
    pub fn zero_on(&self, shape: GridShape) -> Self {
        Self { shape, count: self.count, values: vec![0.0; shape.cells() * self.count] }
    }

    /// The grid.
    #[must_use]
    pub fn shape(&self) -> GridShape {
        self.shape
    }

    /// Number of fields.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// Values in one slab.
    pub(super) fn slab_len(&self) -> usize {
        self.shape.plane() * self.count
    }

    /// Where the run of cells across the pleat begins, in its slab.
    #[must_use]
    pub fn row(&self, place: usize, field: usize) -> usize {
        (place * self.count + field) * self.shape.across()
    }

    /// The values of a slab.
    #[must_use]
    pub fn slab(&self, slab: usize) -> &[f32] {
        let len = self.slab_len();
        &self.values[slab * len..(slab + 1) * len]
    }

    /// The values of a slab, to be changed.
    pub fn slab_mut(&mut self, slab: usize) -> &mut [f32] {
        let len = self.slab_len();
        &mut self.values[slab * len..(slab + 1) * len]
    }

    /// One value.
    #[must_use]
    pub fn value(&self, field: usize, slab: usize, place: usize, across: usize) -> f32 {
        self.slab(slab)[self.row(place, field) + across]
    }

    /// Multiplies all fields of each cell by the cell's factor, given in the order of [`GridShape::index`].
    pub fn scale_cells(&mut self, factors: &[f32]) {
        let (across, count) = (self.shape.across(), self.count);
        for (rows, factors) in self.values.chunks_exact_mut(across * count).zip(factors.chunks_exact(across)) {
            for row in rows.chunks_exact_mut(across) {
                row.iter_mut().zip(factors).for_each(|(value, factor)| *value *= factor);
            }
        }
    }

    /// Puts a field of another on the same grid in place of one of its own.
    pub fn put(&mut self, field: usize, other: &Self, from: usize) {
        let across = self.shape.across();
        for slab in 0..self.shape.slabs() {
            for place in 0..self.shape.places() {
                let (into, from) = (self.row(place, field), other.row(place, from));
                self.slab_mut(slab)[into..into + across].copy_from_slice(&other.slab(slab)[from..from + across]);
            }
        }
    }

    /// Whether all are numbers, none beyond what can be stored.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        self.values.chunks(4096).all(|run| run.iter().fold(true, |finite, value| finite & value.is_finite()))
    }

    /// Replaces what lies below 0 by 0.
    pub fn raise_to_zero(&mut self) {
        self.values.iter_mut().for_each(|value| *value = value.max(0.0));
    }
}
