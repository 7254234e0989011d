//! How the rod is dyed.

use crate::form::{FileForm, WrittenForm, stands_for};
use crate::layout::{BindEffect, BlockEffect, Calibration, Discharge, Dryness, DyeBy, Hand, IceLayers, Reach, Rest};
use serde::{Deserialize, Serialize};

/// A discharge bath.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct DischargeForm {
    /// Strength against an ordinary bath: 1.
    pub strength: f64,
}

impl Default for DischargeForm {
    fn default() -> Self {
        Self { strength: 1.0 }
    }
}

stands_for!(struct DischargeForm for Discharge { strength });

/// How the rod lies while it is dyed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum LiesForm {
    /// On one row of creases, the other up.
    #[default]
    EdgesUp,
    /// On the flat of its first pleat, the last up.
    OnItsFlat,
    /// On one row of creases, turned over when half is done.
    TurnedHalfWay,
}

stands_for!(enum LiesForm for Rest { EdgesUp {}, OnItsFlat {}, TurnedHalfWay {} });

/// How dye is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DyeByForm {
    /// As powder on the upper faces, ice over it.
    #[default]
    PowderUnderIce,
    /// Dissolved and by hand, on all faces.
    ByHand,
}

impl FileForm for DyeByForm {
    type Live = DyeBy;

    fn live(self) -> DyeBy {
        match self {
            Self::PowderUnderIce => DyeBy::PowderUnderIce,
            Self::ByHand => DyeBy::ByHand,
        }
    }
}

/// What is dipped comes out as dyed by hand, which a format that can't say it then finds to be another layout.
impl WrittenForm for DyeByForm {
    fn of(live: DyeBy) -> Self {
        match live {
            DyeBy::PowderUnderIce => Self::PowderUnderIce,
            DyeBy::ByHand | DyeBy::Dipped => Self::ByHand,
        }
    }
}

/// How dry the inside of the rod is when the dye goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DrynessForm {
    /// Dry.
    #[default]
    Dry,
    /// Damp, as spun.
    Damp,
    /// Soaking wet.
    Wet,
}

stands_for!(enum DrynessForm for Dryness { Dry {}, Damp {}, Wet {} });

/// A number of layers of ice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct IceLayersForm(pub u32);

impl Default for IceLayersForm {
    fn default() -> Self {
        Self(1)
    }
}

impl FileForm for IceLayersForm {
    type Live = IceLayers;

    fn live(self) -> IceLayers {
        IceLayers(self.0)
    }
}

impl WrittenForm for IceLayersForm {
    fn of(live: IceLayers) -> Self {
        Self(live.0)
    }
}

/// How evenly the hand works.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct HandForm {
    /// How far cloth strays from where it should lie, mm, as the root of the mean square: 1.5.
    pub wander_mm: f64,
    /// Over what length it strays one way, mm: 40.
    pub wander_length_mm: f64,
    /// How unequally creases stick out of the rod, as a share of what they take up: 0.35.
    pub uneven_creases: f64,
    /// Seed of all that is drawn: 1.
    pub seed: u64,
}

impl Default for HandForm {
    fn default() -> Self {
        Self { wander_mm: 1.5, wander_length_mm: 40.0, uneven_creases: 0.35, seed: 1 }
    }
}

stands_for!(struct HandForm for Hand { wander_mm, wander_length_mm, uneven_creases, seed });

/// How far something reaches into the rod, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReachForm {
    /// Along the cloth.
    pub along_mm: f64,
    /// From layer to layer.
    pub through_mm: f64,
}

stands_for!(struct ReachForm for Reach { along_mm, through_mm });

/// What a bind does to the rod.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BindEffectForm {
    /// What is left of the cloth's conductance where it presses, 0 to 1.
    pub conductance: f64,
    /// The share of the surface under it that it keeps dry, 0 to 1.
    pub cover: f64,
    /// How far beyond the thread it presses, on either side, mm.
    pub beyond_mm: f64,
}

stands_for!(struct BindEffectForm for BindEffect { conductance, cover, beyond_mm });

/// What blocks do to a bundle that they are clamped on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlockEffectForm {
    /// What is left of the cloth's conductance where they press, 0 to 1.
    pub conductance: f64,
    /// The share of the faces under them that they keep dry, 0 to 1.
    pub cover: f64,
}

impl Default for BlockEffectForm {
    fn default() -> Self {
        Self { conductance: 0.02, cover: 0.97 }
    }
}

impl BlockEffectForm {
    pub(in crate::layout::form) fn is_default(&self) -> bool {
        *self == Self::default()
    }
}

stands_for!(struct BlockEffectForm for BlockEffect { conductance, cover });

/// Values that no source gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CalibrationForm {
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
    /// Dose of the bath at which half the garment's colour is gone: 0.5.
    pub discharge_half_dose: f64,
    /// How suddenly the colour goes about that dose: 4.
    pub discharge_steepness: f64,
    /// Dose from which cloth counts as reached: 0.1.
    pub reached_dose: f64,
}

impl Default for CalibrationForm {
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
            discharge_half_dose: 0.5,
            discharge_steepness: 4.0,
            reached_dose: 0.1,
        }
    }
}

impl FileForm for CalibrationForm {
    type Live = Calibration;

    fn live(self) -> Calibration {
        let Self {
            dye_reach,
            discharge_reach,
            damp_share,
            wet_share,
            further_ice_share,
            seeping_per_mm,
            underside,
            side_catch,
            flat_after_diameters,
            waxed,
            plain_string,
            rubber_band,
            blocks,
            discharge_half_dose,
            discharge_steepness,
            reached_dose,
        } = self;
        Calibration {
            dye_reach: FileForm::live(dye_reach),
            discharge_reach: FileForm::live(discharge_reach),
            damp_share: FileForm::live(damp_share),
            wet_share: FileForm::live(wet_share),
            further_ice_share: FileForm::live(further_ice_share),
            seeping_per_mm: FileForm::live(seeping_per_mm),
            underside: FileForm::live(underside),
            side_catch: FileForm::live(side_catch),
            flat_after_diameters: FileForm::live(flat_after_diameters),
            waxed: FileForm::live(waxed),
            plain_string: FileForm::live(plain_string),
            rubber_band: FileForm::live(rubber_band),
            blocks: FileForm::live(blocks),
            discharge_half_dose: FileForm::live(discharge_half_dose),
            discharge_steepness: FileForm::live(discharge_steepness),
            reached_dose: FileForm::live(reached_dose),
            dip_minutes: Calibration::default().dip_minutes,
            learned: None,
        }
    }
}

/// Without what the format does not know, which is then found to be another layout.
impl WrittenForm for CalibrationForm {
    fn of(live: Calibration) -> Self {
        let Calibration {
            dye_reach,
            discharge_reach,
            damp_share,
            wet_share,
            further_ice_share,
            seeping_per_mm,
            underside,
            side_catch,
            flat_after_diameters,
            waxed,
            plain_string,
            rubber_band,
            blocks,
            discharge_half_dose,
            discharge_steepness,
            reached_dose,
            dip_minutes: _,
            learned: _,
        } = live;
        Self {
            dye_reach: WrittenForm::of(dye_reach),
            discharge_reach: WrittenForm::of(discharge_reach),
            damp_share: WrittenForm::of(damp_share),
            wet_share: WrittenForm::of(wet_share),
            further_ice_share: WrittenForm::of(further_ice_share),
            seeping_per_mm: WrittenForm::of(seeping_per_mm),
            underside: WrittenForm::of(underside),
            side_catch: WrittenForm::of(side_catch),
            flat_after_diameters: WrittenForm::of(flat_after_diameters),
            waxed: WrittenForm::of(waxed),
            plain_string: WrittenForm::of(plain_string),
            rubber_band: WrittenForm::of(rubber_band),
            blocks: WrittenForm::of(blocks),
            discharge_half_dose: WrittenForm::of(discharge_half_dose),
            discharge_steepness: WrittenForm::of(discharge_steepness),
            reached_dose: WrittenForm::of(reached_dose),
        }
    }
}
