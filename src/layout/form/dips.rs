//! Dips, as files of format 2 have them.

use crate::form::stands_for;
use crate::geometry::DipPart;
use crate::layout::{DipSpec, DyeBy};
use serde::{Deserialize, Serialize};

/// A part of a flat bundle, dipped into one of the layout's colours.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DipForm {
    /// What goes into the dye.
    pub part: DipPartForm,
    /// How deep, mm.
    pub depth_mm: f64,
    /// How long, minutes.
    pub minutes: f64,
    /// The colour, by its name in the rotation.
    pub colour: String,
}

stands_for!(struct DipForm for DipSpec { part, depth_mm, minutes, colour });

/// What of a flat bundle goes into dye first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum DipPartForm {
    /// A straight side of the outline, counted from 1.
    Edge(u32),
    /// A corner of the outline, counted from 1.
    Corner(u32),
    /// The flat that lies up.
    Top,
    /// The flat that lies down.
    Underside,
}

impl crate::form::FileForm for DipPartForm {
    type Live = DipPart;

    fn live(self) -> DipPart {
        match self {
            Self::Edge(number) => DipPart::Edge(number),
            Self::Corner(number) => DipPart::Corner(number),
            Self::Top => DipPart::Top,
            Self::Underside => DipPart::Underside,
        }
    }
}

impl crate::form::WrittenForm for DipPartForm {
    fn of(live: DipPart) -> Self {
        match live {
            DipPart::Edge(number) => Self::Edge(number),
            DipPart::Corner(number) => Self::Corner(number),
            DipPart::Top => Self::Top,
            DipPart::Underside => Self::Underside,
        }
    }
}

/// How dye is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DyeByV2 {
    /// As powder on the upper faces, ice over it.
    #[default]
    PowderUnderIce,
    /// Dissolved and by hand, on all faces.
    ByHand,
    /// Dissolved, on what is dipped alone.
    Dipped,
}

stands_for!(enum DyeByV2 for DyeBy { PowderUnderIce {}, ByHand {}, Dipped {} });
