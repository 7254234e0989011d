//! The spacing preset as it stands in a file.

use crate::geometry::{Progression, SpacingPreset};
use crate::measure::RuleMarks;
use serde::{Deserialize, Serialize};

/// The newest form of the preset file that this program writes.
pub const PRESET_FORMAT: u32 = 1;

/// A preset file of form 1; the fields are those of [`SpacingPreset`].
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PresetV1 {
    format: u32,
    name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    note: String,
    guide_radius_mm: f64,
    inward: Progression,
    outward: Progression,
    #[serde(default)]
    marks: RuleMarks,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    smallest_gap_mm: Option<f64>,
}

impl From<&SpacingPreset> for PresetV1 {
    fn from(preset: &SpacingPreset) -> Self {
        let SpacingPreset { name, note, guide_radius_mm, inward, outward, marks, smallest_gap_mm } = preset.clone();
        Self { format: PRESET_FORMAT, name, note, guide_radius_mm, inward, outward, marks, smallest_gap_mm }
    }
}

impl From<PresetV1> for SpacingPreset {
    fn from(file: PresetV1) -> Self {
        let PresetV1 { format: _, name, note, guide_radius_mm, inward, outward, marks, smallest_gap_mm } = file;
        Self { name, note, guide_radius_mm, inward, outward, marks, smallest_gap_mm }
    }
}
