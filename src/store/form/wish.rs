//! A wish in a file.

use crate::form::{FileForm, FileFormat, FormatNumber, WrittenForm, stands_for};
use crate::layout::form::parts::{DyeForm, SrgbForm};
use crate::reveal::colour::Lab;
use crate::wish::{Tint, Wish, WishColour, WishPart};
use serde::{Deserialize, Serialize};

/// A file of a wish of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WishV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// Its name, which the layout takes.
    pub name: String,
    /// The file of the layout to begin with, beside the wish's own.
    pub layout: String,
    /// The dyes to choose among; those of the layout unless given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dyes: Vec<DyeForm>,
    /// Most binds that are to be tied; as many as it takes unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_binds: Option<u32>,
    /// What is wished from where to where.
    pub wished: Vec<WishPartV1>,
}

impl FileFormat for WishV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file WishV1 for Wish { name, layout, dyes, most_binds; wished = parts });

/// A part in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WishPartV1 {
    /// Where it begins, mm from the burst centre, or from the line: within it below 0.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
    /// Its colour.
    pub colour: WishColourV1,
    /// How much it matters beside others: 1.
    #[serde(default = "one")]
    pub weight: f64,
}

fn one() -> f64 {
    1.0
}

stands_for!(struct WishPartV1 for WishPart { from_mm, to_mm, colour, weight });

/// The colour of a part in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum WishColourV1 {
    /// As a screen shows it.
    Srgb {
        /// The colour.
        srgb: SrgbForm,
    },
    /// CIE 1976 L\*a\*b\* under D65.
    Lab {
        /// Lightness, 0 to 100.
        l: f64,
        /// From green to red.
        a: f64,
        /// From blue to yellow.
        b: f64,
    },
    /// A dye's, at its swatch's strength on the ground.
    Dye {
        /// Its name.
        name: String,
    },
    /// The garment's own.
    Garment,
    /// That of the ground which dye goes onto.
    Ground,
    /// From one colour to another.
    Ramp {
        /// Where the part begins.
        from: TintV1,
        /// Where it ends.
        to: TintV1,
    },
}

/// An end of a ramp in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum TintV1 {
    /// As a screen shows it.
    Srgb {
        /// The colour.
        srgb: SrgbForm,
    },
    /// CIE 1976 L\*a\*b\* under D65.
    Lab {
        /// Lightness, 0 to 100.
        l: f64,
        /// From green to red.
        a: f64,
        /// From blue to yellow.
        b: f64,
    },
    /// A dye's, at its swatch's strength on the ground.
    Dye {
        /// Its name.
        name: String,
    },
    /// The garment's own.
    Garment,
    /// That of the ground which dye goes onto.
    Ground,
}

impl FileForm for TintV1 {
    type Live = Tint;

    fn live(self) -> Tint {
        match self {
            Self::Srgb { srgb } => Tint::Srgb(srgb.live()),
            Self::Lab { l, a, b } => Tint::Lab(Lab { l, a, b }),
            Self::Dye { name } => Tint::Dye(name),
            Self::Garment => Tint::Garment,
            Self::Ground => Tint::Ground,
        }
    }
}

impl WrittenForm for TintV1 {
    fn of(live: Tint) -> Self {
        match live {
            Tint::Srgb(srgb) => Self::Srgb { srgb: SrgbForm::of(srgb) },
            Tint::Lab(Lab { l, a, b }) => Self::Lab { l, a, b },
            Tint::Dye(name) => Self::Dye { name },
            Tint::Garment => Self::Garment,
            Tint::Ground => Self::Ground,
        }
    }
}

impl FileForm for WishColourV1 {
    type Live = WishColour;

    fn live(self) -> WishColour {
        WishColour::Even(match self {
            Self::Ramp { from, to } => return WishColour::Ramp(from.live(), to.live()),
            Self::Srgb { srgb } => Tint::Srgb(srgb.live()),
            Self::Lab { l, a, b } => Tint::Lab(Lab { l, a, b }),
            Self::Dye { name } => Tint::Dye(name),
            Self::Garment => Tint::Garment,
            Self::Ground => Tint::Ground,
        })
    }
}

impl WrittenForm for WishColourV1 {
    fn of(live: WishColour) -> Self {
        match live {
            WishColour::Ramp(from, to) => Self::Ramp { from: TintV1::of(from), to: TintV1::of(to) },
            WishColour::Even(Tint::Srgb(srgb)) => Self::Srgb { srgb: SrgbForm::of(srgb) },
            WishColour::Even(Tint::Lab(Lab { l, a, b })) => Self::Lab { l, a, b },
            WishColour::Even(Tint::Dye(name)) => Self::Dye { name },
            WishColour::Even(Tint::Garment) => Self::Garment,
            WishColour::Even(Tint::Ground) => Self::Ground,
        }
    }
}
