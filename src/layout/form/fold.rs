//! How the cloth is folded: one of several folds.

use super::flat::{FlatPatternForm, PackForm, is_zero};
use super::line::DrawnLineForm;
use super::parts::{CentreForm, HalfFoldForm, PleatsForm};
use super::spiral::TwistForm;
use crate::form::{FileForm, WrittenForm, stands_for};
use crate::geometry::{BurstSpec, FlatFoldSpec, Gather, LineFoldSpec, SpiralSpec};
use crate::layout::FoldSpec;
use serde::{Deserialize, Serialize};

/// How the cloth is folded.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum FoldForm {
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

impl FileForm for FoldForm {
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

impl WrittenForm for FoldForm {
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
