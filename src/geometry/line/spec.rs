//! A fold along a line as a maker gives it.

use super::error::LineError;
use crate::geometry::{Centring, LARGEST_RADIUS_MM, Pleats};
use kurbo::BezPath;

/// What a line is to the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LineKind {
    /// Round some cloth: closed, or from the fold line of a folded garment to the fold line. Its parallels run inside and outside.
    Ring,
    /// From edge to edge, continued straight beyond both ends; or from the fold line to an edge. Its parallels run on either side.
    Across,
    /// Strokes of a pen that hang together by their ends, or one that begins on the fold line. Their parallels run all round them.
    Stroke,
    /// A single point. Its parallels are circles.
    Point,
}

impl LineKind {
    /// Whether no cloth lies within it: the first bind is then a parallel round it.
    #[must_use]
    pub const fn has_no_inside(self) -> bool {
        matches!(self, Self::Stroke | Self::Point)
    }
}

/// A fold along a line as a maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineSpec {
    /// How the garment is laid.
    pub centring: Centring,
    /// What the line is to the cloth.
    pub kind: LineKind,
    /// The line on the laid garment, mm: one part, of lines and curves; strokes may be several. A point is the place that the path begins at.
    pub path: BezPath,
    /// The parallel along which the cloth is fan folded, mm: its signed distance from the line, outward above 0.
    pub guide_mm: f64,
    /// Further parallels to mark, for orientation, mm; signed.
    pub further_mm: Vec<f64>,
    /// Depth of the pleats at the guide, or their number.
    pub pleats: Pleats,
}

/// How far the line's arcs may lie from the curves that are given, mm: a tenth of a chalk line (own choice).
pub const LINE_TOLERANCE_MM: f64 = 0.05;

/// Least distance of the guide from what has no inside, mm: at a point or a stroke itself there is no length to pleat along.
const LEAST_GUIDE_MM: f64 = 1.0;

impl LineSpec {
    /// Refuses distances that can't be used: of what has no inside there are none below 0.
    pub(super) fn check_distances(&self, has_inside: bool) -> Result<(), LineError> {
        let least_mm = if has_inside { -LARGEST_RADIUS_MM } else { LEAST_GUIDE_MM };
        check_distance("guide_mm", self.guide_mm, least_mm)?;
        self.further_mm.iter().try_for_each(|&further_mm| check_distance("further_mm", further_mm, least_mm))
    }
}

fn check_distance(field: &'static str, value_mm: f64, least_mm: f64) -> Result<(), LineError> {
    let most_mm = LARGEST_RADIUS_MM;
    if (least_mm..=most_mm).contains(&value_mm) {
        return Ok(());
    }
    Err(LineError::Length { field: field.into(), value_mm, least_mm, most_mm })
}
