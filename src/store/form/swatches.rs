//! A book of swatches in a file.

use crate::form::{FileForm, FileFormat, FormatNumber, Keys, WrittenForm as _, stands_for};
use crate::layout::form::parts::{DyeForm, SrgbForm, SwatchForm};
use crate::reveal::colour::{DyeSwatch, Origin, SwatchBook, SwatchBookError};
use serde::{Deserialize, Serialize};

/// A file of swatches of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwatchesV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// The book's name.
    pub name: String,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The swatches, in the maker's order.
    pub swatches: Vec<DyeSwatchV1>,
}

impl FileFormat for SwatchesV1 {
    const NUMBER: u32 = 1;
}

impl FileForm for SwatchesV1 {
    type Live = Result<SwatchBook, SwatchBookError>;

    fn live(self) -> Self::Live {
        let Self { format: FormatNumber, name, note, swatches } = self;
        SwatchBook::new(name, note, swatches.live())
    }
}

/// A file of swatches of format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwatchesV2 {
    /// 2.
    pub format: FormatNumber<2>,
    /// The book's name.
    pub name: String,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The swatches, in the maker's order.
    pub swatches: Vec<DyeSwatchV2>,
}

impl FileFormat for SwatchesV2 {
    const NUMBER: u32 = 2;
    const KEYS: Keys = &[("swatches.*.depth_percent", "swatches.*.shade_percent")];
}

impl FileForm for SwatchesV2 {
    type Live = Result<SwatchBook, SwatchBookError>;

    fn live(self) -> Self::Live {
        let Self { format: FormatNumber, name, note, swatches } = self;
        SwatchBook::new(name, note, swatches.live())
    }
}

impl SwatchesV2 {
    /// A book in this format.
    #[must_use]
    pub fn of(book: &SwatchBook) -> Self {
        Self {
            format: FormatNumber,
            name: book.name().to_owned(),
            note: book.note().to_owned(),
            swatches: Vec::of(book.swatches().to_vec()),
        }
    }
}

/// How a swatch's colour is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum OriginForm {
    /// Chosen by eye on a screen.
    #[default]
    ByEye,
    /// Taken from dyed, washed and dried cloth.
    Measured,
}

stands_for!(enum OriginForm for Origin { ByEye {}, Measured {} });

/// One dye as it looks on cloth, in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DyeSwatchV1 {
    /// Its name and how it looks.
    pub colour: SwatchForm,
    /// Shade that it was dyed to, % on weight of fibre.
    pub depth_percent: f64,
    /// The undyed cloth it was dyed on; white unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub over: Option<SrgbForm>,
    /// How its colour is known: by eye.
    #[serde(default)]
    pub origin: OriginForm,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

stands_for!(struct DyeSwatchV1 for DyeSwatch { colour, depth_percent, over, origin, note });

/// One dye as it looks on cloth, in format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DyeSwatchV2 {
    /// Its name, how it looks, and what it is mixed of.
    pub colour: DyeForm,
    /// Shade that it was dyed to, % on weight of fibre.
    pub shade_percent: f64,
    /// The undyed cloth it was dyed on; white unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub over: Option<SrgbForm>,
    /// How its colour is known: by eye.
    #[serde(default)]
    pub origin: OriginForm,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

stands_for!(struct DyeSwatchV2 for DyeSwatch { colour, over, origin, note; shade_percent = depth_percent });
