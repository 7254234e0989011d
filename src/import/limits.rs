//! How much of a drawing is read, and how exactly.

/// Most bytes of a drawing: a scan of a whole sheet traced into points has less (own choice).
pub const MOST_DRAWING_BYTES: u64 = 16 << 20;
/// Most lines and curves in a drawing (own choice).
pub const MOST_SEGMENTS: usize = 200_000;
/// Most lines that a drawing offers (own choice).
pub const MOST_LINES: usize = 2000;
/// How far a simplified line may lie from the points and curves that it is made of, mm: a tenth of a chalk line (own choice).
pub const SIMPLIFIED_MM: f64 = 0.05;
/// Ends no farther apart than this meet, mm: drawings are written with fewer digits than they are drawn with (own choice).
pub const JOIN_MM: f64 = 0.05;
/// How far the curves of an arc or a spline may lie from it, mm.
pub(super) const CURVE_MM: f64 = 0.005;
/// What is shorter than this is a speck, mm.
pub(super) const SPECK_MM: f64 = 0.1;
/// How deep blocks are followed into each other.
pub(super) const MOST_DEPTH: u32 = 16;
