//! The operator of the dose on the rod's grid: a symmetric matrix of seven diagonals with positive couplings.

/// The extent of the grid: slabs along the rod, places in the stack, cells across a pleat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GridShape {
    /// Cells along the rod.
    pub slabs: usize,
    /// Places in the stack.
    pub places: usize,
    /// Cells across a pleat: one of [`ACROSS`].
    pub across: usize,
}

/// Numbers of cells across a pleat that the kernels are made for: one vector register, or two, and what halving leaves of them.
pub const ACROSS: [usize; 5] = [1, 2, 4, 8, 16];

impl GridShape {
    /// Cells in one slab.
    #[must_use]
    pub fn plane(&self) -> usize {
        self.places * self.across
    }

    /// Cells in all.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.slabs * self.plane()
    }

    /// Where a cell stands in arrays of cells: slab by slab, in it place by place.
    #[must_use]
    pub fn index(&self, slab: usize, place: usize, across: usize) -> usize {
        (slab * self.places + place) * self.across + across
    }
}

/// A symmetric matrix `A` with `(A x)_i = loss_i x_i + sum of coupling_ij (x_i - x_j)` over the six neighbours of a cell.
///
/// Couplings are stored once, at the cell from which the neighbour lies upward. All are at least 0, and the matrix is positive
/// definite when no loss is below 0 and one in each connected part is above it.
#[derive(Debug, Clone, PartialEq)]
pub struct Operator {
    /// The grid.
    pub shape: GridShape,
    /// Coupling of a cell to the one a slab *below*, one slab more than the grid has: zeros below the first and beyond the last.
    pub along: Vec<f32>,
    /// Coupling to the next place; 0 at the last.
    pub stack: Vec<f32>,
    /// Coupling to the next cell across; 0 at the last.
    pub across: Vec<f32>,
    /// What a cell loses by itself: the diagonal without the couplings, which are often so large that f32 could not hold the sum.
    pub loss: Vec<f32>,
}

impl Operator {
    /// No couplings, a loss of 1.
    #[must_use]
    pub fn unit(shape: GridShape) -> Self {
        let cells = shape.cells();
        Self {
            shape,
            along: vec![0.0; cells + shape.plane()],
            stack: vec![0.0; cells],
            across: vec![0.0; cells],
            loss: vec![1.0; cells],
        }
    }

    /// The sum of a cell's couplings along the rod and across, in f64; the same to the last bit for a mirror image.
    pub(super) fn beside(&self, at: usize) -> f64 {
        let before = if at.is_multiple_of(self.shape.across) { 0.0 } else { self.across[at - 1] };
        let along = f64::from(self.along[at]) + f64::from(self.along[at + self.shape.plane()]);
        along + (f64::from(self.across[at]) + f64::from(before))
    }

    /// The diagonal at a cell, in f64.
    pub(super) fn diagonal(&self, at: usize) -> f64 {
        let below = if at % self.shape.plane() < self.shape.across { 0.0 } else { self.stack[at - self.shape.across] };
        f64::from(self.loss[at]) + self.beside(at) + (f64::from(self.stack[at]) + f64::from(below))
    }
}
