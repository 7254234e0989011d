//! Curves as straight lines: how near they are to be.

/// How far a flattened curve may stray from the true one, in mm. A tenth of a printer's dot at 300 dpi.
pub const FLATTEN_MM: f64 = 0.008;
