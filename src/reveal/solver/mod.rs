//! The linear solver: conjugate gradients with a multigrid cycle for preconditioner, all right-hand sides at once.
//!
//! Through the stack the couplings are by far the strongest (a layer is half a millimetre thick, a cell a few millimetres long), so
//! lines through the stack are solved exactly, slabs of even and odd number in turn; along the rod and across the pleats the grid
//! is halved again and again. Between two grids values are constant over a cell and residuals are added up.
//!
//! Values are kept in f32, sums in f64. It must not know rods, dyes or cloth.
//!
//! # Sources
//! Multigrid with line relaxation and semicoarsening: Trottenberg, Oosterlee, Schueller, *Multigrid* (2001), chapter 5 (from
//! memory). Preconditioned conjugate gradients: Saad, *Iterative Methods for Sparse Linear Systems*, algorithm 9.1 (from memory).

mod coarsen;
mod fields;
mod kernels;
mod level;
mod matrix_market;
mod multigrid;
mod operator;

pub use fields::Fields;
pub use kernels::MOST_FIELDS;
pub use matrix_market::{write_matrix, write_vector};
pub use multigrid::{Multigrid, SolveOptions, Solved};
pub use operator::{ACROSS, GridShape, Operator};
