//! What a bundle brought beside its layout.

use crate::geometry::SpacingPreset;
use crate::reveal::colour::SwatchBook;

/// What a bundle brought beside its layout, and the maker does not have yet.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Brought {
    pub(crate) presets: Vec<SpacingPreset>,
    pub(crate) swatches: Option<SwatchBook>,
}

impl Brought {
    pub(crate) fn is_empty(&self) -> bool {
        self.presets.is_empty() && self.swatches.is_none()
    }
}
