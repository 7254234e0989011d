//! Colours.

use crate::form::{FileForm, WrittenForm, stands_for};
use crate::layout::{Colours, ParseColourError, RotationStart, Srgb, Swatch};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// A colour, written `#rrggbb`: sRGB (IEC 61966-2-1), 8 bits a channel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct SrgbForm {
    /// Red, green, blue.
    pub channels: [u8; 3],
}

impl TryFrom<String> for SrgbForm {
    type Error = ParseColourError;

    fn try_from(text: String) -> Result<Self, ParseColourError> {
        let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit()));
        match digits.and_then(|digits| u32::from_str_radix(digits, 16).ok()) {
            Some(number) => {
                let [_, channels @ ..] = number.to_be_bytes();
                Ok(Self { channels })
            }
            None => Err(ParseColourError { text }),
        }
    }
}

impl From<SrgbForm> for String {
    fn from(SrgbForm { channels: [red, green, blue] }: SrgbForm) -> Self {
        format!("#{red:02x}{green:02x}{blue:02x}")
    }
}

impl FileForm for SrgbForm {
    type Live = Srgb;

    fn live(self) -> Srgb {
        let [red, green, blue] = self.channels;
        Srgb { red, green, blue }
    }
}

impl WrittenForm for SrgbForm {
    fn of(Srgb { red, green, blue }: Srgb) -> Self {
        Self { channels: [red, green, blue] }
    }
}

/// A named colour: of the garment, or of a dye at full strength on white cloth.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwatchForm {
    /// Plain words for it.
    pub name: String,
    /// How it looks.
    pub srgb: SrgbForm,
}

stands_for!(struct SwatchForm for Swatch { name, srgb });

/// The end of the rod at which the rotation of colours starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum RotationStartForm {
    /// The section within the innermost bind gets the first colour.
    #[default]
    Centre,
    /// The section beyond the outermost bind gets the first colour.
    Edge,
}

stands_for!(enum RotationStartForm for RotationStart { Centre {}, Edge {} });

/// Colours laid on the sections in rotation, with single sections changed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ColoursForm {
    /// The colours in their order of rotation; none leaves every section without.
    pub rotation: Vec<SwatchForm>,
    /// Where the rotation starts: at the centre.
    pub start: RotationStartForm,
    /// Sections that get another colour than their turn, by section number (1 is at the centre) and name of a colour.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub single: BTreeMap<u32, String>,
    /// Sections that get no dye, by section number.
    #[serde(skip_serializing_if = "BTreeSet::is_empty")]
    pub bare: BTreeSet<u32>,
}

stands_for!(struct ColoursForm for Colours { rotation, start, single, bare });
