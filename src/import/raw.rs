//! What a file draws, before anything is known about its unit.

use kurbo::BezPath;

/// A line as a file draws it: one part, in the file's numbers.
#[derive(Debug, Clone, Default)]
pub(super) struct RawLine {
    pub(super) name: Option<String>,
    pub(super) layer: Option<String>,
    pub(super) path: BezPath,
}

/// What a file draws.
#[derive(Debug, Default)]
pub(super) struct RawDrawing {
    pub(super) lines: Vec<RawLine>,
    /// What 1 measures, mm, where the file says it.
    pub(super) unit_mm: Option<f64>,
    /// Whether there is text in it.
    pub(super) has_text: bool,
}
