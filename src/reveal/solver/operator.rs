//! The operator of the dose on the rod's grid: a symmetric matrix of seven diagonals with positive couplings.

use super::{ACROSS, MOST_FIELDS, SolverError, Values};

/// The extent of the grid: slabs along the rod, places in the stack, cells across a pleat. None is without cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GridShape {
    slabs: usize,
    places: usize,
    across: usize,
}

impl GridShape {
    /// A grid.
    ///
    /// # Errors
    /// [`SolverError::Shape`] where there is no cell, more values than can be counted, or a number of cells across that is none of
    /// [`ACROSS`].
    pub fn new(slabs: usize, places: usize, across: usize) -> Result<Self, SolverError> {
        // One slab more than there are has couplings, and each cell has values for all fields.
        let values =
            slabs.checked_add(1).and_then(|slabs| slabs.checked_mul(places)?.checked_mul(across)?.checked_mul(MOST_FIELDS));
        if slabs == 0 || places == 0 || !ACROSS.contains(&across) || values.is_none() {
            return Err(SolverError::Shape { slabs, places, across });
        }
        Ok(Self { slabs, places, across })
    }

    /// The next coarser grid: so many slabs, of which no grid has more than the finer one, and the cells across halved or not.
    pub(super) fn coarser(self, slabs: usize, halved: bool) -> Self {
        Self { slabs, across: if halved { self.across / 2 } else { self.across }, ..self }
    }

    /// Each row of cells across as one cell.
    pub(super) fn of_rows(self) -> Self {
        Self { across: 1, ..self }
    }

    /// The two creases of each place in each slab, as a grid of their own.
    #[must_use]
    pub fn creases(self) -> Self {
        Self { across: 2, ..self }
    }

    /// Cells along the rod.
    #[must_use]
    pub fn slabs(self) -> usize {
        self.slabs
    }

    /// Places in the stack.
    #[must_use]
    pub fn places(self) -> usize {
        self.places
    }

    /// Cells across a pleat: one of [`ACROSS`].
    #[must_use]
    pub fn across(self) -> usize {
        self.across
    }

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
    /// Coupling of a cell to the one a slab *below*, one slab more than the grid has: zeros below the first and beyond the last. On a ring
    /// both have what couples the last slab to the first.
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

    /// Refuses coefficients that are not as many as the grid has, no numbers, or below 0.
    pub(super) fn check(&self) -> Result<(), SolverError> {
        let cells = self.shape.cells();
        let lists = [
            (Values::Along, &self.along, cells + self.shape.plane()),
            (Values::Stack, &self.stack, cells),
            (Values::Across, &self.across, cells),
            (Values::Loss, &self.loss, cells),
        ];
        lists
            .into_iter()
            .try_for_each(|(what, values, wanted)| what.check_length(values, wanted).and_then(|()| what.check(values)))?;
        let mut ends = self.along[..self.shape.plane()].iter().zip(&self.along[cells..]);
        match ends.position(|(first, last)| first.to_bits() != last.to_bits()) {
            Some(index) => Err(SolverError::Unclosed { index }),
            None => Ok(()),
        }
    }

    /// Whether the last slab is coupled to the first.
    pub(super) fn is_ring(&self) -> bool {
        self.along[..self.shape.plane()].iter().any(|&coupling| coupling > 0.0)
    }

    /// The sum of a cell's couplings along the rod, in f64; the same to the last bit for a mirror image.
    pub(super) fn along_to_both(&self, at: usize) -> f64 {
        f64::from(self.along[at]) + f64::from(self.along[at + self.shape.plane()])
    }

    /// The same across.
    pub(super) fn across_to_both(&self, at: usize) -> f64 {
        let before = if at.is_multiple_of(self.shape.across()) { 0.0 } else { self.across[at - 1] };
        f64::from(self.across[at]) + f64::from(before)
    }

    /// The sum of both.
    pub(super) fn beside(&self, at: usize) -> f64 {
        self.along_to_both(at) + self.across_to_both(at)
    }

    /// The diagonal at a cell, given in the order of [`GridShape::index`].
    #[must_use]
    pub fn diagonal(&self, at: usize) -> f64 {
        let below = if at % self.shape.plane() < self.shape.across() { 0.0 } else { self.stack[at - self.shape.across()] };
        f64::from(self.loss[at]) + self.beside(at) + (f64::from(self.stack[at]) + f64::from(below))
    }
}
