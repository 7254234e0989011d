//! Format 2: one of several folds, and keys in the words that the program has come to use.

use super::calibration::CalibrationV2;
use super::dips::{DipForm, DyeByV2};
use super::flat::{BlocksForm, FlatPatternForm, PackForm, is_zero};
use super::line::DrawnLineForm;
use super::outline::{GarmentKindV2, OwnOutlineForm};
use super::parts::{
    BindsForm, CentreForm, ColoursForm, DischargeForm, DrynessForm, FibreShareForm, HalfFoldForm, HandForm, IceLayersForm,
    LiesForm, LimitsForm, MeasuresForm, PleatsForm, SwatchForm, ThreadForm, WashForm,
};
use super::spiral::TwistForm;
use crate::form::{FileForm, FileFormat, FormatNumber, Keys, WrittenForm, stands_for};
use crate::geometry::{BurstSpec, Cloth, FlatFoldSpec, Gather, LineFoldSpec, SpiralSpec};
use crate::layout::{FoldSpec, GarmentSpec, LayoutSpec, Process};
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
    pub fold: FoldV2,
    /// Where the binds go.
    pub binds: BindsForm,
    /// The blocks that hold a flat bundle; none unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blocks: Option<BlocksForm>,
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
}

impl FileFormat for LayoutV2 {
    const NUMBER: u32 = 2;
    const KEYS: Keys = &[
        ("fold.further_arcs_mm", "fold.extra_arcs_mm"),
        ("fold.further_mm", "fold.extra_lines_mm"),
        ("fold.centring", "fold.half_fold"),
        ("garment.cloth.packing", "garment.cloth.packing_when_tied"),
        ("process.rest", "process.lies"),
    ];
}

stands_for!(file LayoutV2 for LayoutSpec { name, note, garment, fold, binds, blocks, dips, thread, colours, process, limits });

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

/// How the cloth is folded.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum FoldV2 {
    /// A burst: pleats round a centre.
    Burst {
        /// How the halves are stacked.
        half_fold: HalfFoldForm,
        /// Where the centre sits.
        centre: CentreForm,
        /// Radius of the arc that the cloth is pleated along, mm.
        guide_radius_mm: f64,
        /// Radii of extra arcs to chalk, mm.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        extra_arcs_mm: Vec<f64>,
        /// Pleat depth or count.
        pleats: PleatsForm,
    },
    /// Pleats along a line.
    Line {
        /// How the halves are stacked.
        half_fold: HalfFoldForm,
        /// The line.
        line: DrawnLineForm,
        /// Distance from the line of the parallel that the cloth is pleated along, mm: outside it above 0.
        #[serde(default)]
        guide_mm: f64,
        /// Distances from it of extra lines to chalk, mm: outside it above 0.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        extra_lines_mm: Vec<f64>,
        /// Pleat depth or count.
        pleats: PleatsForm,
        /// How the pleats are laid: by hand, fan folded.
        #[serde(default, skip_serializing_if = "GatherForm::is_default")]
        gather: GatherForm,
    },
    /// A flat bundle.
    Flat {
        /// How the halves are stacked.
        half_fold: HalfFoldForm,
        /// Where the creases run.
        pattern: FlatPatternForm,
        /// How the pieces come to lie on each other: to and fro.
        #[serde(default, skip_serializing_if = "PackForm::is_default")]
        pack: PackForm,
        /// By how much the direction that binds run across is turned from the pattern's own, degrees: 0.
        #[serde(default, skip_serializing_if = "is_zero")]
        along_turn_deg: f64,
        /// Where along the bundle the bind is that is tied first, mm from its first end; in the middle unless given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first_bind_mm: Option<f64>,
    },
    /// A puck, twisted about a pinch.
    Spiral {
        /// How the halves are stacked.
        half_fold: HalfFoldForm,
        /// Where it is pinched.
        centre: CentreForm,
        /// Radius of what the fingers hold, mm.
        pinch_radius_mm: f64,
        /// How often the pinch is turned.
        turns: f64,
        /// Which way, seen from above.
        twist: TwistForm,
        /// Diameter of the puck, mm.
        puck_diameter_mm: f64,
        /// Height of the puck, mm; as high as the cloth is when it is half air unless given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        puck_height_mm: Option<f64>,
        /// How many pleats begin at the pinch.
        pleats: u32,
        /// Seed of where they begin.
        #[serde(default)]
        seed: u64,
        /// How many bands go over it.
        bands: u32,
        /// Where the first of them crosses the rim, degrees clockwise from straight up: 0.
        #[serde(default, skip_serializing_if = "is_zero")]
        first_band_deg: f64,
    },
}

/// How the pleats along a line are laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum GatherForm {
    /// Fan folded.
    #[default]
    FanFold,
    /// By a running stitch, drawn up.
    Stitch,
}

impl GatherForm {
    fn is_default(&self) -> bool {
        *self == Self::default()
    }
}

stands_for!(enum GatherForm for Gather { FanFold {}, Stitch {} });

impl FileForm for FoldV2 {
    type Live = FoldSpec;

    fn live(self) -> FoldSpec {
        match self {
            Self::Burst { half_fold, centre, guide_radius_mm, extra_arcs_mm, pleats } => FoldSpec::Burst(BurstSpec {
                centring: half_fold.live(),
                centre: centre.live(),
                guide_radius_mm,
                further_arcs_mm: extra_arcs_mm,
                pleats: pleats.live(),
            }),
            Self::Line { half_fold, line, guide_mm, extra_lines_mm, pleats, gather } => FoldSpec::Line(LineFoldSpec {
                centring: half_fold.live(),
                line: line.live(),
                guide_mm,
                further_mm: extra_lines_mm,
                pleats: pleats.live(),
                gather: gather.live(),
            }),
            Self::Flat { half_fold, pattern, pack, along_turn_deg, first_bind_mm } => FoldSpec::Flat(FlatFoldSpec {
                centring: half_fold.live(),
                pattern: pattern.live(),
                pack: pack.live(),
                along_turn_deg,
                first_bind_mm,
            }),
            Self::Spiral {
                half_fold,
                centre,
                pinch_radius_mm,
                turns,
                twist,
                puck_diameter_mm,
                puck_height_mm,
                pleats,
                seed,
                bands,
                first_band_deg,
            } => FoldSpec::Spiral(SpiralSpec {
                centring: half_fold.live(),
                centre: centre.live(),
                pinch_radius_mm,
                turns,
                twist: twist.live(),
                puck_diameter_mm,
                puck_height_mm,
                pleats,
                seed,
                bands,
                first_band_deg,
            }),
        }
    }
}

impl WrittenForm for FoldV2 {
    fn of(live: FoldSpec) -> Self {
        match live {
            FoldSpec::Burst(BurstSpec { centring, centre, guide_radius_mm, further_arcs_mm, pleats }) => Self::Burst {
                half_fold: WrittenForm::of(centring),
                centre: WrittenForm::of(centre),
                guide_radius_mm,
                extra_arcs_mm: further_arcs_mm,
                pleats: WrittenForm::of(pleats),
            },
            FoldSpec::Line(LineFoldSpec { centring, line, guide_mm, further_mm, pleats, gather }) => Self::Line {
                half_fold: WrittenForm::of(centring),
                line: WrittenForm::of(line),
                guide_mm,
                extra_lines_mm: further_mm,
                pleats: WrittenForm::of(pleats),
                gather: WrittenForm::of(gather),
            },
            FoldSpec::Flat(FlatFoldSpec { centring, pattern, pack, along_turn_deg, first_bind_mm }) => Self::Flat {
                half_fold: WrittenForm::of(centring),
                pattern: WrittenForm::of(pattern),
                pack: WrittenForm::of(pack),
                along_turn_deg,
                first_bind_mm,
            },
            FoldSpec::Spiral(SpiralSpec {
                centring,
                centre,
                pinch_radius_mm,
                turns,
                twist,
                puck_diameter_mm,
                puck_height_mm,
                pleats,
                seed,
                bands,
                first_band_deg,
            }) => Self::Spiral {
                half_fold: WrittenForm::of(centring),
                centre: WrittenForm::of(centre),
                pinch_radius_mm,
                turns,
                twist: WrittenForm::of(twist),
                puck_diameter_mm,
                puck_height_mm,
                pleats,
                seed,
                bands,
                first_band_deg,
            },
        }
    }
}

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
