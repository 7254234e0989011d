//! Lines from drawings made elsewhere: SVG and DXF files, read into paths in mm with `y` down.
//!
//! | file | subject |
//! |---|---|
//! | `found.rs`, `line.rs` | reading a drawing's lines, choosing one; what a line is told apart by |
//! | `svg.rs` | what an SVG file draws, by `usvg` |
//! | `dxf/` | the entities of a DXF file: tags, shapes, splines, blocks |
//! | `chain.rs` | pieces whose ends meet become one line |
//! | `simplify.rs` | many points become few curves |
//! | `unit.rs` | what a number in a file may measure |
//!
//! This module must not know garments, folds, or where files lie.

mod chain;
mod dxf;
mod error;
mod found;
mod limits;
mod line;
mod raw;
mod simplify;
mod svg;
mod unit;

pub use error::ImportError;
pub use found::{DrawingFormat, choose_line, outlines, read_lines};
pub use limits::{JOIN_MM, MOST_DRAWING_BYTES, MOST_LINES, MOST_SEGMENTS, SIMPLIFIED_MM};
pub use line::{FoundLine, LineBrief};
pub use simplify::simplified;
pub use unit::FileUnit;
