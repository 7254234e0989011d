//! The linear solver: conjugate gradients with a multigrid cycle for preconditioner, all right-hand sides at once.
//!
//! Lines through the stack are solved exactly, slabs of even and odd number in turn, for a layer is half a millimetre thick and its
//! couplings are the strongest on all but the finest grids; along the rod two slabs are merged into one again and again, and across
//! the pleats the grid is halved. Slabs that a tight bind parts from their neighbours are merged late, for what
//! differs between them no coarser grid would see. Between two grids values are interpolated by conductances. Where cells are so
//! narrow that lines through them hold each other fast, what is even across them is solved besides (`stiff_rows.rs`).
//!
//! A rod may be closed to a ring ([`Operator::along`]): then a cycle is one on either of two arcs that cover it (`ring.rs`).
//!
//! Values are kept in f32, sums in f64. Mirrored input gives mirrored output to the last bit, across the pleats and through the
//! stack, and the same input the same bytes whatever the number of processors. It must not know rods, dyes or cloth.
//!
//! # Sources
//! Multigrid with line relaxation and semicoarsening: Trottenberg, Oosterlee, Schueller, *Multigrid* (2001), chapters 5 and 7 (from
//! memory). Preconditioned conjugate gradients: Saad, *Iterative Methods for Sparse Linear Systems*, algorithm 9.1 (from memory).

mod across;
mod block;
mod coarsen;
mod conjugate_gradients;
mod error;
mod fields;
mod kernels;
#[cfg(test)]
mod laws;
mod level;
mod lines;
mod multigrid;
mod operator;
mod ring;
mod stiff_rows;
mod transfer;
mod vectors;

pub use conjugate_gradients::{ConjugateGradients, SolveOptions, Solved};
pub use error::{SolverError, Values};
pub use fields::Fields;
pub use kernels::{ACROSS, MOST_FIELDS};
pub use operator::{GridShape, Operator};
