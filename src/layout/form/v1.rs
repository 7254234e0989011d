//! Format 1: the burst is the only fold.

use super::parts::{
    BindsForm, CalibrationForm, CentreForm, DischargeForm, DrynessForm, DyeByForm, FibreShareForm, GarmentKindForm, HalfFoldForm,
    HandForm, IceLayersForm, LiesForm, LimitsForm, MeasuresForm, PleatsForm, RotationStartForm, SwatchForm, ThreadForm, WashForm,
};
use crate::form::{FileForm, FileFormat, FormatNumber, Keys, WrittenForm, stands_for};
use crate::geometry::{BurstSpec, Cloth};
use crate::layout::{Calibration, Colours, FoldSpec, GarmentSpec, LayoutSpec, Process};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// A layout file of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LayoutV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// The layout's name.
    pub name: String,
    /// Anything the maker wants to remember.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The garment.
    pub garment: GarmentV1,
    /// The burst on it.
    pub burst: BurstV1,
    /// Where the binds go.
    pub binds: BindsForm,
    /// What the rod is bound with.
    #[serde(default)]
    pub thread: ThreadForm,
    /// Which colour each section gets.
    #[serde(default)]
    pub colours: ColoursV1,
    /// How the rod is dyed.
    #[serde(default)]
    pub process: ProcessV1,
    /// Where the program starts to warn.
    #[serde(default)]
    pub limits: LimitsForm,
}

impl FileFormat for LayoutV1 {
    const NUMBER: u32 = 1;
    const KEYS: Keys = &[("fold", "burst")];
}

impl FileForm for LayoutV1 {
    type Live = LayoutSpec;

    fn live(self) -> LayoutSpec {
        let Self { format: FormatNumber, name, note, garment, burst, binds, thread, colours, process, limits } = self;
        LayoutSpec {
            name,
            note,
            garment: garment.live(),
            fold: FoldSpec::Burst(burst.live()),
            binds: binds.live(),
            blocks: None,
            wrap: None,
            ties: None,
            dips: Vec::new(),
            thread: thread.live(),
            colours: colours.live(),
            process: process.live(),
            limits: limits.live(),
        }
    }
}

impl LayoutV1 {
    /// A layout in this format; none where the format can't say all of it.
    #[must_use]
    pub fn of(layout: &LayoutSpec) -> Option<Self> {
        let LayoutSpec {
            name,
            note,
            garment,
            fold,
            binds,
            blocks: _,
            wrap: _,
            dips: _,
            ties: _,
            thread,
            colours,
            process,
            limits,
        } = layout.clone();
        let FoldSpec::Burst(burst) = fold else { return None };
        // Programs that write this format know of no blocks.
        if process.calibration.blocks != Calibration::default().blocks {
            return None;
        }
        let form = Self {
            format: FormatNumber,
            name,
            note,
            garment: GarmentV1::of(garment)?,
            burst: WrittenForm::of(burst),
            binds: WrittenForm::of(binds),
            thread: WrittenForm::of(thread),
            colours: ColoursV1::of(colours),
            process: WrittenForm::of(process),
            limits: WrittenForm::of(limits),
        };
        (form.clone().live() == *layout).then_some(form)
    }
}

/// Colours laid on the sections in rotation, with single sections changed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ColoursV1 {
    /// The colours in their order of rotation; none leaves every section without.
    pub rotation: Vec<SwatchForm>,
    /// Where the rotation starts: at the centre.
    pub start: RotationStartForm,
    /// Sections that get another colour than their turn, by section number (1 is at the centre) and name of a colour.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub single: BTreeMap<u32, String>,
}

impl FileForm for ColoursV1 {
    type Live = Colours;

    fn live(self) -> Colours {
        let Self { rotation, start, single } = self;
        Colours { rotation: rotation.live(), start: start.live(), single, bare: BTreeSet::new() }
    }
}

impl ColoursV1 {
    /// Colours in this format, which knows no bare sections.
    fn of(Colours { rotation, start, single, bare: _ }: Colours) -> Self {
        Self { rotation: WrittenForm::of(rotation), start: WrittenForm::of(start), single }
    }
}

/// The garment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GarmentV1 {
    /// The kind of garment.
    pub kind: GarmentKindForm,
    /// The size whose measurements are taken where none is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
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
    pub cloth: ClothV1,
    /// What a wash will do to it.
    #[serde(default)]
    pub wash: WashForm,
}

impl FileForm for GarmentV1 {
    type Live = GarmentSpec;

    fn live(self) -> GarmentSpec {
        let Self { kind, size, measures, colour, discharged, fibres, cloth, wash } = self;
        GarmentSpec {
            kind: kind.live(),
            size,
            outline: None,
            measures: measures.live(),
            colour: colour.live(),
            discharged: discharged.live(),
            fibres: fibres.live(),
            cloth: cloth.live(),
            wash: wash.live(),
        }
    }
}

impl GarmentV1 {
    /// A garment in this format; none of one's own outline.
    fn of(garment: GarmentSpec) -> Option<Self> {
        let GarmentSpec { kind, size, outline, measures, colour, discharged, fibres, cloth, wash } = garment;
        let kind = GarmentKindForm::of(kind).filter(|_| outline.is_none())?;
        Some(Self {
            kind,
            size,
            measures: WrittenForm::of(measures),
            colour: WrittenForm::of(colour),
            discharged: WrittenForm::of(discharged),
            fibres: WrittenForm::of(fibres),
            cloth: WrittenForm::of(cloth),
            wash: WrittenForm::of(wash),
        })
    }
}

/// The cloth of a garment.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ClothV1 {
    /// Mass per area, g/m2: 180.
    pub grams_per_m2: f64,
    /// Thickness lying free, mm: 0.6.
    pub free_thickness_mm: f64,
    /// Thickness under the light pressure of a bind, mm: 0.45.
    pub pressed_thickness_mm: f64,
    /// The share of a tied rod's cross-section that is cloth: 0.85.
    pub packing: f64,
}

impl Default for ClothV1 {
    fn default() -> Self {
        Self { grams_per_m2: 180.0, free_thickness_mm: 0.6, pressed_thickness_mm: 0.45, packing: 0.85 }
    }
}

stands_for!(struct ClothV1 for Cloth { grams_per_m2, free_thickness_mm, pressed_thickness_mm, packing });

/// A burst.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BurstV1 {
    /// How the garment is laid.
    pub centring: HalfFoldForm,
    /// Where the centre sits.
    pub centre: CentreForm,
    /// Radius of the arc that the cloth is fan folded along, mm.
    pub guide_radius_mm: f64,
    /// Radii of extra arcs, for orientation, mm.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub further_arcs_mm: Vec<f64>,
    /// Pleat depth or count.
    pub pleats: PleatsForm,
}

stands_for!(struct BurstV1 for BurstSpec { centring, centre, guide_radius_mm, further_arcs_mm, pleats });

/// The dyeing of one rod.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ProcessV1 {
    /// The bath that takes the garment's own colour before the dyes go on; none unless given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub discharge: Option<DischargeForm>,
    /// How the rod lies while it is dyed: edges up.
    pub rest: LiesForm,
    /// How the dye is put on: powder under ice.
    pub dye: DyeByForm,
    /// How dry the inside of the rod is when the dye goes on: dry.
    pub inside: DrynessForm,
    /// Layers of ice, one after the other: 1.
    pub ice_layers: IceLayersForm,
    /// The hand that folds, ties and sprinkles.
    pub hand: HandForm,
    /// Calibration values.
    pub calibration: CalibrationForm,
}

stands_for!(struct ProcessV1 for Process { discharge, rest, dye, inside, ice_layers, hand, calibration });
