//! What a bundle says it holds.

use crate::form::{FileFormat, FormatNumber, stands_for};
use crate::store::Contents;
use serde::{Deserialize, Serialize};

/// `bundle.ron` in a bundle of format 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BundleV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// How many spacing presets: `preset-1.ron` and so on.
    #[serde(default)]
    pub presets: usize,
    /// Whether there is a book of swatches: `swatches.ron`.
    #[serde(default)]
    pub swatches: bool,
    /// Whether there is a picture: `reveal.png`.
    #[serde(default)]
    pub picture: bool,
}

impl FileFormat for BundleV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file BundleV1 for Contents { presets, swatches, picture });
