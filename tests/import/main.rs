//! Lines taken from drawings, held against published values, textbook formulas and independent readers.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod back;
#[path = "../common/mod.rs"]
mod common;
mod dxf;
mod refused;
mod simple;
mod svg;

use kurbo::{Rect, Shape as _};
use pleatwright::import::{DrawingFormat, FileUnit, FoundLine, ImportError, read_lines};

/// The lines of an SVG text.
fn svg(text: &str) -> Result<Vec<FoundLine>, ImportError> {
    read_lines(text.as_bytes(), DrawingFormat::Svg, None)
}

/// The lines of a DXF text in mm.
fn dxf(text: &str) -> Result<Vec<FoundLine>, ImportError> {
    read_lines(text.as_bytes(), DrawingFormat::Dxf, Some(FileUnit::Millimetre))
}

fn bounds(line: &FoundLine) -> Rect {
    line.path.bounding_box()
}

/// The elements of a path that draw.
fn sides(line: &FoundLine) -> usize {
    line.path.segments().count()
}
