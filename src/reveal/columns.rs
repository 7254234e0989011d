//! What is particular to the columns of cells through a bundle's stack: how much of each lies within the bundle's outline, which way that
//! looks, and the blocks that hold it. On a rod nothing is.

use super::clamp::Clamp;
use super::cloth_shares::ClothShares;
use super::solver::GridShape;
use crate::geometry::Bundle;
use kurbo::Vec2;
use std::f64::consts::TAU;

/// A column of cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Column {
    /// The share of it that lies within the bundle's outline, 0 to 1.
    pub(super) footprint: f64,
    /// The direction in which the outline near it looks out, of length 1, `x` along and `y` across; none where it is not near.
    pub(super) outward: Vec2,
    /// The share of what lies within that is under a block.
    pub(super) covered: f64,
    /// What the block leaves of its conductance along and across the bundle, and through the stack.
    pub(super) along: f64,
    pub(super) across: f64,
    pub(super) through: f64,
}

impl Column {
    /// Whole, and under no block.
    pub(super) const FREE: Self =
        Self { footprint: 1.0, outward: Vec2::ZERO, covered: 0.0, along: 1.0, across: 1.0, through: 1.0 };

    /// How much of a face is open towards a column of which `beyond` lies within the outline, as a share of a whole one; `part` is how
    /// far the outline looks that way, 0 to 1.
    ///
    /// What a slanting edge shows to the two directions of the grid is more than its length; each counts by as much as the edge looks
    /// its way, so that they add up to it. An edge that runs along the cells' faces is there whole.
    pub(super) fn opening(&self, beyond: f64, part: f64) -> f64 {
        let open = (self.footprint - beyond).max(0.0);
        if open >= WHOLE { open } else { open * part.abs() }
    }
}

/// What counts as all of a column.
const WHOLE: f64 = 1.0 - 1e-6;
/// What counts as none.
const NONE: f64 = 1e-3;
/// Directions that an outline is told apart by, to know what is wrapped round it.
const DIRECTIONS: usize = 24;

/// The columns of a bundle.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    /// Slab by slab; none where all are alike.
    columns: Vec<Column>,
    across: usize,
    /// Layers wrapped round the edge of each place, by the direction in which it looks; none where no outline runs through the grid.
    wrapped: Vec<[u32; DIRECTIONS]>,
    /// What blocks leave of the faces under them: conductance, and the share that is not kept dry.
    pub(super) under: (f64, f64),
}

impl Columns {
    /// The columns of a bundle whose outline is open, which goes as far as its creases and its cloth let it; of any other all alike.
    pub(super) fn of(bundle: &dyn Bundle, shape: GridShape, cell_mm: f64, cloth: &ClothShares) -> Self {
        let across = shape.across();
        if !bundle.open().sides {
            return Self { columns: vec![], across, wrapped: vec![], under: (1.0, 1.0) };
        }
        let footprint = |slab: usize, column: usize| {
            let along_mm = slab as f64 * cell_mm..(slab + 1) as f64 * cell_mm;
            let share = bundle.footprint(along_mm, column as f64 / across as f64..(column + 1) as f64 / across as f64);
            let most = (0..shape.places()).map(|place| cloth.cells[shape.index(slab, place, column)]).fold(0.0, f32::max);
            // A hand lays some cloth beyond the outline.
            let share = if share < NONE { f64::from(most) } else { share.min(f64::from(most)) };
            if share < NONE { 0.0 } else { share }
        };
        let columns = 0..shape.slabs() * across;
        let columns = columns.map(|at| Column { footprint: footprint(at / across, at % across), ..Column::FREE }).collect();
        let width_mm = bundle.cell(0.0..cell_mm, 0, 0.0..1.0).width_mm / across as f64;
        let direction = |number: usize| Vec2::from_angle(number as f64 * TAU / DIRECTIONS as f64);
        // A stack has at most a few thousand places.
        let wrapped = |place: u32| std::array::from_fn(|number| bundle.wrapped(place, direction(number)));
        let wrapped = (0..bundle.places()).map(wrapped).collect();
        let mut columns = Self { columns, across, wrapped, under: (1.0, 1.0) };
        let footprints: Vec<f64> = columns.columns.iter().map(|column| column.footprint).collect();
        for (at, outward) in slopes(&footprints, across, [cell_mm, width_mm]).into_iter().enumerate() {
            columns.columns[at].outward = outward;
        }
        columns
    }

    /// Takes the last traces of cloth from cells that count as none: nothing would hold them to the others.
    pub(super) fn clear_outside(&self, shape: GridShape, cloth: &mut ClothShares) {
        for (at, _) in self.columns.iter().enumerate().filter(|(_, column)| column.footprint <= 0.0) {
            for place in 0..shape.places() {
                cloth.cells[shape.index(at / self.across, place, at % self.across)] = 0.0;
            }
        }
    }

    /// Puts blocks on, of a bundle that goes `width_mm` across.
    pub(super) fn clamp(&mut self, shape: GridShape, cell_mm: f64, width_mm: f64, clamp: &Clamp) {
        if self.columns.is_empty() {
            self.columns = vec![Column::FREE; shape.slabs() * self.across];
        }
        let cell_width_mm = width_mm / self.across as f64;
        let share = |at: usize| {
            let (slab, column) = ((at / self.across) as f64, (at % self.across) as f64);
            clamp.block.share(slab * cell_mm..(slab + 1.0) * cell_mm, column * cell_width_mm..(column + 1.0) * cell_width_mm)
        };
        let shares: Vec<f64> = (0..self.columns.len()).map(share).collect();
        let edges = slopes(&shares, self.across, [cell_mm, cell_width_mm]);
        for ((column, share), edge) in self.columns.iter_mut().zip(shares).zip(edges) {
            let covered = (share / column.footprint.max(NONE)).min(1.0);
            // Of two stuffs in layers what conducts along them is their mean, and across them their harmonic mean.
            let beside = 1.0 - covered + covered * clamp.conductance;
            let through = 1.0 / (1.0 - covered + covered / clamp.conductance);
            column.covered = covered;
            column.through = beside;
            column.along = beside - (beside - through) * edge.x * edge.x;
            column.across = beside - (beside - through) * edge.y * edge.y;
        }
        self.under = (clamp.conductance, 1.0 - clamp.cover);
    }

    /// One of them.
    pub(super) fn at(&self, slab: usize, across: usize) -> &Column {
        self.columns.get(slab * self.across + across).unwrap_or(&Column::FREE)
    }

    /// How much of the column beside one lies within the outline; none of what lies beyond the grid.
    pub(super) fn beyond(&self, slab: Option<usize>, across: Option<usize>) -> f64 {
        let (Some(slab), Some(across)) = (slab, across.filter(|&across| across < self.across)) else { return 0.0 };
        self.columns.get(slab * self.across + across).map_or(0.0, |column| column.footprint)
    }

    /// Whether an outline runs through the grid.
    pub(super) fn has_sides(&self) -> bool {
        !self.wrapped.is_empty()
    }

    /// Layers wrapped round the edge of a place that looks so.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a turn, from 0 to the directions")]
    pub(super) fn wrapped(&self, place: usize, outward: Vec2) -> u32 {
        let number = (outward.atan2().rem_euclid(TAU) / TAU * DIRECTIONS as f64).round() as usize % DIRECTIONS;
        self.wrapped.get(place).map_or(0, |wrapped| wrapped[number])
    }
}

/// The directions in which shares fall fastest, cell by cell, of length 1 where they do; beyond the grid there are none.
fn slopes(shares: &[f64], across: usize, [along_mm, across_mm]: [f64; 2]) -> Vec<Vec2> {
    let at = |slab: Option<usize>, column: Option<usize>| match (slab, column) {
        (Some(slab), Some(column)) if column < across => shares.get(slab * across + column).copied().unwrap_or(0.0),
        _ => 0.0,
    };
    let slope = |cell: usize| {
        let (slab, column) = (cell / across, cell % across);
        let along = at(slab.checked_sub(1), Some(column)) - at(Some(slab + 1), Some(column));
        let beside = at(Some(slab), column.checked_sub(1)) - at(Some(slab), Some(column + 1));
        let slope = Vec2::new(along / along_mm, beside / across_mm);
        if slope.hypot() * along_mm.min(across_mm) > 1e-9 { slope.normalize() } else { Vec2::ZERO }
    };
    (0..shares.len()).map(slope).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A straight edge at a slant: what it shows to both directions, weighed, is as long as the edge.
    #[test]
    fn a_slanting_edge_is_as_long_as_it_is() {
        let (count, across) = (40_usize, 40_usize);
        for angle in [0.0_f64, 0.2, 0.5, 0.785, 1.2] {
            let normal = Vec2::from_angle(angle);
            // The share of a cell on the near side, by a fine net.
            let share = |cell: usize| {
                let fine = (0..400).filter(|dot| {
                    let at = Vec2::new(
                        (cell / across) as f64 + (f64::from(dot % 20) + 0.5) / 20.0,
                        (cell % across) as f64 + (f64::from(dot / 20) + 0.5) / 20.0,
                    );
                    (at - Vec2::new(20.0, 20.0)).dot(normal) < 0.0
                });
                fine.count() as f64 / 400.0
            };
            let shares: Vec<f64> = (0..count * across).map(share).collect();
            let outward = slopes(&shares, across, [1.0, 1.0]);
            let mut length = 0.0;
            // Within a ring, so that the grid's own edges don't count.
            for cell in
                (0..count * across).filter(|cell| (8..32).contains(&(cell / across)) && (8..32).contains(&(cell % across)))
            {
                let column = Column { footprint: shares[cell], outward: outward[cell], ..Column::FREE };
                length += column.opening(shares[cell + across], column.outward.x)
                    + column.opening(shares[cell - across], column.outward.x);
                length += column.opening(shares[cell + 1], column.outward.y) + column.opening(shares[cell - 1], column.outward.y);
            }
            let expected = 24.0 / angle.sin().abs().max(angle.cos().abs());
            assert!((length / expected - 1.0).abs() < 0.06, "{length} of {expected} at {angle}");
        }
    }
}
