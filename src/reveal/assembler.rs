//! What equations are written from: the rod's cells, slab by slab, and what flows in them.

use super::binds::Piece;
use super::columns::Column;
use super::feed::Face;
use super::grid::RodGrid;
use super::solver::GridShape;
use super::wound::UnderThread;
use crate::geometry::DipZone;
use crate::layout::Reach;

/// How much better missing cloth conducts through the stack than a layer of cloth. It makes the gap a twentieth of a layer thick; more
/// would ask for more digits than doses have, for what flows over a bridge is its conductance times a difference of doses.
const BRIDGE: f64 = 20.0;

/// What flows in the rod and how it comes in.
pub(super) struct Medium<'a> {
    pub(super) reach: Reach,
    /// Rise of the potential across the pleats and through the stack, 1/mm.
    pub(super) seeping: (f64, f64),
    /// How well a face is fed.
    pub(super) feed: &'a (dyn Fn(&Face) -> f64 + Sync),
    /// The field that lies on a section, by its index.
    pub(super) field_on: &'a (dyn Fn(usize) -> Option<usize> + Sync),
    pub(super) fields: usize,
    /// What of the bundle lies in what feeds it; all of it where none is given.
    pub(super) zone: Option<&'a DipZone>,
    pub(super) uneven_creases: f64,
    pub(super) seed: u64,
}

/// Sizes and conductances of one slab's cells.
#[derive(Debug)]
pub(super) struct SlabFacts {
    pub(super) layer_mm: f64,
    pub(super) conduct_across: f64,
    pub(super) conduct_along: f64,
    pub(super) pieces: Vec<Piece>,
}

/// What equations are written from.
pub(super) struct Assembler<'a> {
    pub(super) grid: &'a RodGrid,
    pub(super) medium: &'a Medium<'a>,
    pub(super) shape: GridShape,
    pub(super) facts: Vec<SlabFacts>,
    pub(super) potential: Option<Vec<f64>>,
}

/// The one way from computed coefficients to stored ones.
#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
pub(super) fn to_f32(value: f64) -> f32 {
    value as f32
}

pub(super) fn slab_facts(grid: &RodGrid, slab: usize) -> SlabFacts {
    let (section, pieces) = (grid.section(slab), grid.pieces(slab));
    SlabFacts {
        layer_mm: section.layer_mm,
        // Across the rod its pieces lie side by side, along it one after the other.
        conduct_across: pieces.iter().map(|piece| piece.share * piece.conductance).sum(),
        conduct_along: 1.0 / pieces.iter().map(|piece| piece.share / piece.conductance).sum::<f64>(),
        pieces,
    }
}

impl Assembler<'_> {
    pub(super) fn cloth_share(&self, slab: usize, cell: usize) -> f64 {
        self.grid.cloth_share(slab, cell / self.shape.across(), cell % self.shape.across())
    }

    pub(super) fn width_mm(&self, slab: usize, cell: usize) -> f64 {
        self.grid.width_mm(slab, cell / self.shape.across(), cell % self.shape.across())
    }

    /// How long a cell is along the bundle, mm.
    pub(super) fn length_mm(&self, cell: usize) -> f64 {
        self.grid.length_mm(cell / self.shape.across())
    }

    /// The slab below one and the one above it, if there are any.
    pub(super) fn beside(&self, slab: usize) -> [Option<usize>; 2] {
        let (last, is_ring) = (self.shape.slabs() - 1, self.grid.ring().is_some());
        let above = if slab < last { Some(slab + 1) } else { is_ring.then_some(0) };
        [slab.checked_sub(1).or(is_ring.then_some(last)), above]
    }

    /// Thickness of one of the layers that a place stands for, mm.
    pub(super) fn sheet_mm(&self, slab: usize) -> f64 {
        self.facts[slab].layer_mm / self.grid.place_layers()
    }

    pub(super) fn column(&self, slab: usize, cell: usize) -> &Column {
        self.grid.column(slab, cell % self.shape.across())
    }

    /// What a wound thread does to a cell.
    pub(super) fn under_thread(&self, slab: usize, cell: usize) -> UnderThread {
        self.grid.wound_columns().map_or(UnderThread::FREE, |wound| wound.at(slab, cell))
    }

    /// What a wound thread leaves of what conducts between a cell and the one above it.
    pub(super) fn wound_through(&self, slab: usize, cell: usize) -> f64 {
        self.grid.wound_columns().map_or(1.0, |wound| wound.through(slab, cell))
    }

    /// How wide what of a cell lies within the bundle's outline is, were it as long as the cell, mm.
    pub(super) fn held_width_mm(&self, slab: usize, cell: usize) -> f64 {
        self.width_mm(slab, cell) * self.column(slab, cell).footprint
    }

    pub(super) fn thickness_mm(&self, slab: usize, cell: usize) -> f64 {
        let footprint = self.column(slab, cell).footprint;
        let share = if footprint > 0.0 { (self.cloth_share(slab, cell) / footprint).min(1.0) } else { 0.0 };
        self.facts[slab].layer_mm * (share + (1.0 - share) / BRIDGE)
    }

    pub(super) fn across_reach2(&self) -> f64 {
        self.medium.reach.along_mm * self.medium.reach.along_mm
    }

    pub(super) fn through_reach2(&self) -> f64 {
        self.medium.reach.through_mm * self.medium.reach.through_mm
    }
}
