//! Colours.

use crate::form::{FileForm, WrittenForm, stands_for};
use crate::layout::{Colours, Component, ParseColourError, RotationStart, Srgb, Swatch};
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

impl FileForm for SwatchForm {
    type Live = Swatch;

    fn live(self) -> Swatch {
        let Self { name, srgb } = self;
        Swatch { name, srgb: srgb.live(), components: Vec::new() }
    }
}

impl WrittenForm for SwatchForm {
    /// The colour alone, which is all that there is of cloth.
    fn of(Swatch { name, srgb, components: _ }: Swatch) -> Self {
        Self { name, srgb: WrittenForm::of(srgb) }
    }
}

/// A dye: its colour at full strength on white cloth, and what a mixed one is made of.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DyeForm {
    /// Plain words for it.
    pub name: String,
    /// How it looks.
    pub srgb: SrgbForm,
    /// What it is mixed of, two or three dyes; none unless given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub components: Vec<ComponentForm>,
}

stands_for!(struct DyeForm for Swatch { name, srgb, components });

/// A dye in a mixture, by the maker's guess.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ComponentForm {
    /// Plain words for it.
    pub name: String,
    /// How it looks by itself, at full strength on white cloth.
    pub srgb: SrgbForm,
    /// Its share of the powder by weight, percent.
    pub percent: f64,
    /// How far it reaches, as a factor on how far dyes do: 1.
    #[serde(default = "one")]
    pub reach_factor: f64,
}

fn one() -> f64 {
    1.0
}

stands_for!(struct ComponentForm for Component { name, srgb, percent, reach_factor });

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
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ColoursForm {
    /// The colours in their order of rotation; none leaves every section without.
    pub rotation: Vec<DyeForm>,
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
