//! The spacing preset in a file.

use crate::form::{FileFormat, FormatNumber, stands_for};
use crate::geometry::SpacingPreset;
use crate::layout::form::parts::{MarksForm, ProgressionForm};
use serde::{Deserialize, Serialize};

/// A preset file of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PresetV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// What it is called.
    pub name: String,
    /// What it is good for.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The guide arc's radius it was made for, mm.
    pub guide_radius_mm: f64,
    /// From the guide arc to the burst centre.
    pub inward: ProgressionForm,
    /// From the guide arc to the edge of the cloth.
    pub outward: ProgressionForm,
    /// The marks that radii are rounded to: every millimetre.
    #[serde(default)]
    pub marks: MarksForm,
    /// Gaps below this can't be tied, mm; what the thread makes of it unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smallest_gap_mm: Option<f64>,
}

impl FileFormat for PresetV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file PresetV1 for SpacingPreset { name, note, guide_radius_mm, inward, outward, marks, smallest_gap_mm });
