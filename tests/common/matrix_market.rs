//! The operator and right-hand sides in Matrix Market form, for other solvers to read.
//!
//! Format: Boisvert, Pozo, Remington, *The Matrix Market Exchange Formats*, NISTIR 5935 (1996): coordinate real symmetric, the lower
//! triangle; array real general, column by column.

use pleatwright::reveal::solver::{Fields, Operator};
use std::io::{self, Write};

/// Writes the operator: rows numbered from 1, slab by slab, in it place by place, in it across.
///
/// # Errors
/// What the writer says.
pub(crate) fn write_matrix(operator: &Operator, out: &mut dyn Write) -> io::Result<()> {
    let (shape, entries) = (operator.shape, lower_triangle(operator));
    writeln!(out, "%%MatrixMarket matrix coordinate real symmetric")?;
    writeln!(out, "{} {} {}", shape.cells(), shape.cells(), entries.len())?;
    for (row, column, value) in entries {
        writeln!(out, "{} {} {value:e}", row + 1, column + 1)?;
    }
    Ok(())
}

/// The entries on and below the diagonal.
fn lower_triangle(operator: &Operator) -> Vec<(usize, usize, f64)> {
    let shape = operator.shape;
    let mut entries = Vec::with_capacity(4 * shape.cells());
    for cell in 0..shape.cells() {
        let mut push = |row: usize, column: usize, value: f64| {
            if value != 0.0 {
                entries.push((row, column, value));
            }
        };
        push(cell, cell, operator.diagonal(cell));
        push(cell, cell.wrapping_sub(shape.plane()), -f64::from(operator.along[cell]));
        push(cell + shape.across(), cell, -f64::from(operator.stack[cell]));
        push(cell + 1, cell, -f64::from(operator.across[cell]));
    }
    entries
}

/// Writes fields as the columns of a dense matrix.
///
/// # Errors
/// What the writer says.
pub(crate) fn write_vector(fields: &Fields, out: &mut dyn Write) -> io::Result<()> {
    let shape = fields.shape();
    writeln!(out, "%%MatrixMarket matrix array real general")?;
    writeln!(out, "{} {}", shape.cells(), fields.count())?;
    for field in 0..fields.count() {
        for slab in 0..shape.slabs() {
            for place in 0..shape.places() {
                let row = fields.row(place, field);
                for value in &fields.slab(slab)[row..row + shape.across()] {
                    writeln!(out, "{value:e}")?;
                }
            }
        }
    }
    Ok(())
}
