//! Calibration values, as files of format 2 have them.

use super::parts::{BindEffectForm, BlockEffectForm, ReachForm};
use crate::form::stands_for;
use crate::layout::{Calibration, LearnedFrom};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Minutes of a usual dip.
const USUAL_DIP: f64 = 5.0;

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as serde asks")]
fn is_usual_dip(minutes: &f64) -> bool {
    (minutes - USUAL_DIP).abs() < f64::EPSILON
}

/// Values that no source gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CalibrationV2 {
    /// Reach of a dye in a dry rod under one layer of ice: 11 along, 5.5 through.
    pub dye_reach: ReachForm,
    /// Reach of a discharge bath: 20 along, 11 through.
    pub discharge_reach: ReachForm,
    /// Reach of a dye into a damp inside, as a share of that into a dry one: 0.8.
    pub damp_share: f64,
    /// The same for a wet inside: 0.6.
    pub wet_share: f64,
    /// What each layer of ice after the first adds to the reach, as a share: 0.2.
    pub further_ice_share: f64,
    /// Downward seeping, as the steepness that it would hold against diffusion, 1/mm: 0.03.
    pub seeping_per_mm: f64,
    /// How well run-off feeds the underside, as a share of an upper face: 0.25.
    pub underside: f64,
    /// How far round the sides powder still feeds, as the sine of the overhang reached: 0.2.
    pub side_catch: f64,
    /// How far from a bind the rod has sprung back flat, in diameters of the bound rod: 0.8.
    pub flat_after_diameters: f64,
    /// Waxed thread: conductance 0.003, cover 0.98, presses 1.5 mm beyond.
    pub waxed: BindEffectForm,
    /// Plain string: conductance 0.5, cover 0.25, presses 0.5 mm beyond.
    pub plain_string: BindEffectForm,
    /// A rubber band: conductance 0.05, cover 0.9, presses 1 mm beyond.
    pub rubber_band: BindEffectForm,
    /// Blocks screwed tight: conductance 0.02, cover 0.97.
    #[serde(skip_serializing_if = "BlockEffectForm::is_default")]
    pub blocks: BlockEffectForm,
    /// Minutes after which a dip has drawn dye as far as it reaches: 5.
    #[serde(skip_serializing_if = "is_usual_dip")]
    pub dip_minutes: f64,
    /// Dose of the bath at which half the garment's colour is gone: 0.5.
    pub discharge_half_dose: f64,
    /// How suddenly the colour goes about that dose: 4.
    pub discharge_steepness: f64,
    /// Dose from which cloth counts as reached: 0.1.
    pub reached_dose: f64,
    /// What these values were learned from; they are the program's own or the maker's unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub learned: Option<LearnedFromForm>,
}

/// What calibration values were learned from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnedFromForm {
    /// How many pieces taught.
    pub pieces: u32,
    /// The day on which the layout took them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub on: Option<Date>,
}

stands_for!(struct LearnedFromForm for LearnedFrom { pieces, on });

impl Default for CalibrationV2 {
    fn default() -> Self {
        Self {
            dye_reach: ReachForm { along_mm: 11.0, through_mm: 5.5 },
            discharge_reach: ReachForm { along_mm: 20.0, through_mm: 11.0 },
            damp_share: 0.8,
            wet_share: 0.6,
            further_ice_share: 0.2,
            seeping_per_mm: 0.03,
            underside: 0.25,
            side_catch: 0.2,
            flat_after_diameters: 0.8,
            waxed: BindEffectForm { conductance: 0.003, cover: 0.98, beyond_mm: 1.5 },
            plain_string: BindEffectForm { conductance: 0.5, cover: 0.25, beyond_mm: 0.5 },
            rubber_band: BindEffectForm { conductance: 0.05, cover: 0.9, beyond_mm: 1.0 },
            blocks: BlockEffectForm::default(),
            dip_minutes: USUAL_DIP,
            discharge_half_dose: 0.5,
            discharge_steepness: 4.0,
            reached_dose: 0.1,
            learned: None,
        }
    }
}

stands_for!(struct CalibrationV2 for Calibration {
    dye_reach, discharge_reach, damp_share, wet_share, further_ice_share, seeping_per_mm, underside, side_catch,
    flat_after_diameters, waxed, plain_string, rubber_band, blocks, dip_minutes, discharge_half_dose, discharge_steepness, reached_dose,
    learned
});
