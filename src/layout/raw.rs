//! The layout as it stands in a file: every value as the maker gave it, nothing checked but its form.

use super::{Colours, FibreShare, Limits, Process, Swatch};
use crate::geometry::{BurstSpec, Cloth, GarmentKind, RawMeasures, SpacingSpec, Thread};
use serde::{Deserialize, Serialize};

/// The newest form of the layout file that this program writes.
pub const FORMAT: u32 = 1;

/// A layout file of form 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LayoutV1 {
    /// The form: 1.
    pub format: u32,
    /// The layout's name.
    pub name: String,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The garment.
    pub garment: GarmentV1,
    /// The burst on it.
    pub burst: BurstSpec,
    /// Where the binds go.
    pub binds: SpacingSpec,
    /// What the rod is bound with.
    #[serde(default)]
    pub thread: Thread,
    /// Which colour each section gets.
    #[serde(default)]
    pub colours: Colours,
    /// How the rod is dyed.
    #[serde(default)]
    pub process: Process,
    /// Where the program starts to warn.
    #[serde(default)]
    pub limits: Limits,
}

/// The garment in a layout file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GarmentV1 {
    /// The kind of garment.
    pub kind: GarmentKind,
    /// The size whose measurements are taken where none is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Measurements taken on this garment, as it is now.
    #[serde(default)]
    pub measures: RawMeasures,
    /// Its colour now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<Swatch>,
    /// What a full discharge leaves of it; where it is not given the program guesses.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub discharged: Option<Swatch>,
    /// What it is made of, as its label says; taken for cotton unless given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fibres: Vec<FibreShare>,
    /// Its cloth.
    #[serde(default)]
    pub cloth: Cloth,
    /// What a wash will do to it.
    #[serde(default)]
    pub wash: WashV1,
}

/// Change by washing in a layout file, in percent; shrinking is negative.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct WashV1 {
    /// Along the garment, down the centre line.
    pub length_percent: f64,
    /// Across it.
    pub width_percent: f64,
}
