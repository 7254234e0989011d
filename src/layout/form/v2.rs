//! Format 2: one of several folds, and keys in the words that the program has come to use.

use super::calibration::CalibrationV2;
use super::dips::{DipForm, DyeByV2};
use super::flat::{BlocksForm, WrapForm};
use super::fold::FoldForm;
use super::outline::{GarmentKindV2, OwnOutlineForm};
use super::parts::{
    BindsForm, ColoursForm, DischargeForm, DrynessForm, FibreShareForm, HandForm, IceLayersForm, LiesForm, LimitsForm,
    MeasuresForm, SwatchForm, ThreadForm, WashForm,
};
use super::ties::TiesForm;
use crate::form::{FileFormat, FormatNumber, Keys, stands_for};
use crate::geometry::Cloth;
use crate::layout::{GarmentSpec, LayoutSpec, Process};
use serde::{Deserialize, Serialize};

/// A layout file of format 2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LayoutV2 {
    /// 2.
    pub format: FormatNumber<2>,
    /// The layout's name.
    pub name: String,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The garment.
    pub garment: GarmentV2,
    /// How it is folded.
    pub fold: FoldForm,
    /// Where the binds go.
    pub binds: BindsForm,
    /// The blocks that hold a flat bundle; none unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blocks: Option<BlocksForm>,
    /// The thread that is wound round a flat bundle; none unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wrap: Option<WrapForm>,
    /// What of a flat bundle is dipped into dye; nothing unless given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dips: Vec<DipForm>,
    /// What the rod is bound with.
    #[serde(default)]
    pub thread: ThreadForm,
    /// Which colour each section gets.
    #[serde(default)]
    pub colours: ColoursForm,
    /// How the rod is dyed.
    #[serde(default)]
    pub process: ProcessV2,
    /// Where the program starts to warn.
    #[serde(default)]
    pub limits: LimitsForm,
    /// The other ties on the garment; all of it is one tie unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ties: Option<TiesForm>,
}

impl FileFormat for LayoutV2 {
    const NUMBER: u32 = 2;
    const KEYS: Keys = &[
        ("fold.further_arcs_mm", "fold.extra_arcs_mm"),
        ("fold.further_mm", "fold.extra_lines_mm"),
        ("fold.centring", "fold.half_fold"),
        ("ties.further.*.fold.further_arcs_mm", "ties.further.*.fold.extra_arcs_mm"),
        ("ties.further.*.fold.further_mm", "ties.further.*.fold.extra_lines_mm"),
        ("ties.further.*.fold.centring", "ties.further.*.fold.half_fold"),
        ("garment.cloth.packing", "garment.cloth.packing_when_tied"),
        ("process.rest", "process.lies"),
    ];
}

stands_for!(file LayoutV2 for LayoutSpec {
    name, note, garment, fold, binds, blocks, wrap, dips, thread, colours, process, limits, ties
});

/// The garment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GarmentV2 {
    /// The kind of garment.
    pub kind: GarmentKindV2,
    /// The size whose measurements are taken where none is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// The outline of a garment of one's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outline: Option<OwnOutlineForm>,
    /// Measurements taken on this garment, as it is now.
    #[serde(default)]
    pub measures: MeasuresForm,
    /// Its colour now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colour: Option<SwatchForm>,
    /// What a full discharge leaves of it; where it is not given the program guesses.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub discharged: Option<SwatchForm>,
    /// What it is made of, as its label says; taken for cotton unless given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fibres: Vec<FibreShareForm>,
    /// Its cloth.
    #[serde(default)]
    pub cloth: ClothV2,
    /// What a wash will do to it.
    #[serde(default)]
    pub wash: WashForm,
}

stands_for!(struct GarmentV2 for GarmentSpec { kind, size, outline, measures, colour, discharged, fibres, cloth, wash });

/// The cloth of a garment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ClothV2 {
    /// Mass per area, g/m2: 180.
    pub grams_per_m2: f64,
    /// Thickness lying free, mm: 0.6.
    pub free_thickness_mm: f64,
    /// Thickness under the light pressure of a bind, mm: 0.45.
    pub pressed_thickness_mm: f64,
    /// The share of a tied rod's cross-section that is cloth: 0.85.
    pub packing_when_tied: f64,
}

impl Default for ClothV2 {
    fn default() -> Self {
        Self { grams_per_m2: 180.0, free_thickness_mm: 0.6, pressed_thickness_mm: 0.45, packing_when_tied: 0.85 }
    }
}

stands_for!(struct ClothV2 for Cloth { grams_per_m2, free_thickness_mm, pressed_thickness_mm; packing_when_tied = packing });

/// The dyeing of one rod.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ProcessV2 {
    /// The bath that takes the garment's own colour before the dyes go on; none unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discharge: Option<DischargeForm>,
    /// How the rod lies while it is dyed: edges up.
    pub lies: LiesForm,
    /// How the dye is put on: powder under ice.
    pub dye: DyeByV2,
    /// How dry the inside of the rod is when the dye goes on: dry.
    pub inside: DrynessForm,
    /// Layers of ice, one after the other: 1.
    pub ice_layers: IceLayersForm,
    /// The hand that folds, ties and sprinkles.
    pub hand: HandForm,
    /// Calibration values.
    pub calibration: CalibrationV2,
}

stands_for!(struct ProcessV2 for Process { discharge, dye, inside, ice_layers, hand, calibration; lies = rest });
