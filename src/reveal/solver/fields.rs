//! Values on the grid for several right-hand sides at once.

use super::GridShape;

/// One value for each field and cell, in f32.
///
/// Slabs of even and of odd number are stored apart, so that the slabs of one colour can be changed while those of the other are
/// read. In a slab: place by place, in it field by field, in it across the pleat. The cells across one pleat are what a vector
/// register holds; a single field fills it as well as five do.
#[derive(Debug, Clone, PartialEq)]
pub struct Fields {
    shape: GridShape,
    count: usize,
    pub(super) colours: [Vec<f32>; 2],
}

impl Fields {
    /// All zero.
    #[must_use]
    pub fn zero(shape: GridShape, count: usize) -> Self {
        let half = shape.slabs / 2 * shape.plane() * count;
        Self { shape, count, colours: [vec![0.0; half], vec![0.0; half]] }
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
        (place * self.count + field) * self.shape.across
    }

    /// The values of a slab.
    #[must_use]
    pub fn slab(&self, slab: usize) -> &[f32] {
        let len = self.slab_len();
        &self.colours[slab % 2][slab / 2 * len..][..len]
    }

    /// The values of a slab, to be changed.
    pub fn slab_mut(&mut self, slab: usize) -> &mut [f32] {
        let len = self.slab_len();
        &mut self.colours[slab % 2][slab / 2 * len..][..len]
    }

    /// One value.
    #[must_use]
    pub fn value(&self, field: usize, slab: usize, place: usize, across: usize) -> f32 {
        self.slab(slab)[self.row(place, field) + across]
    }

    /// Sets all to zero.
    pub(super) fn clear(&mut self) {
        for colour in &mut self.colours {
            colour.fill(0.0);
        }
    }

    /// Multiplies all fields of each cell by the cell's factor, given in the order of [`GridShape::index`].
    pub fn scale_cells(&mut self, factors: &[f32]) {
        let (plane, across, count) = (self.shape.plane(), self.shape.across, self.count);
        for (slab, factors) in factors.chunks_exact(plane).enumerate() {
            let places = self.slab_mut(slab).chunks_exact_mut(across * count).zip(factors.chunks_exact(across));
            for (rows, factors) in places {
                for row in rows.chunks_exact_mut(across) {
                    row.iter_mut().zip(factors).for_each(|(value, factor)| *value *= factor);
                }
            }
        }
    }

    /// Replaces what lies below 0 by 0.
    pub fn raise_to_zero(&mut self) {
        self.colours.iter_mut().flatten().for_each(|value| *value = value.max(0.0));
    }
}
