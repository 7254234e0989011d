//! What a bundle says it holds.

/// What a bundle says it holds beside the layout.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Contents {
    /// How many presets.
    pub presets: usize,
    /// Whether there are swatches.
    pub swatches: bool,
    /// Whether there is a picture.
    pub picture: bool,
}
