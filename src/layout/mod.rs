//! The document: a garment with its fold, binds, thread and sections; as the maker gives it, as it stands in files, checked; and all its
//! figures.

mod check;
mod check_ties;
mod checked;
mod colour;
mod colour_words;
mod dips;
mod dye_fields;
mod error;
mod fibre;
mod figures;
mod fingerprint;
mod fold_kind;
mod fold_spec;
mod fold_words;
pub mod form;
mod learned_from;
mod limits;
mod loose;
mod marks;
mod mixture;
mod process;
mod profile;
mod rotation;
mod spec;
mod starter;
mod swatch;
mod text;
mod tie_problem;
mod tie_spec;
mod ties;
mod tuning;
pub(crate) mod usual;
mod warning;
mod warning_told;

pub use checked::Layout;
pub use colour::{ParseColourError, Srgb};
pub use dips::{Dip, DipSpec};
pub use dye_fields::{DyeField, DyeFields};
pub use error::{LayoutError, LayoutProblem};
pub use fibre::{
    FIBRES_ROUND_PERCENT, Fibre, FibreShare, LEAST_CELLULOSE_PERCENT, ParseFibresError, Serves, Take, UNDYED_UNNOTICED_PERCENT,
    fibre_words, parse_fibres, serves,
};
pub use figures::{
    BindFigures, BlockFigures, BlocksPlace, BundlePlace, BurstFigures, CentrePlace, ClothFigures, ColourFigures,
    ComponentFigures, DipFigures, Figures, FlatFigures, FoldFigures, GarmentFigures, HandPart, Handwork, LineFigures, LinePlace,
    LooseFigures, MeasureFigures, PuckPlace, SectionFigures, SeveralFigures, SideFigures, SpiralFigures, StitchFigures,
    StringFigures, TieFigures, TiePart, TiedBind, WrapFigures, WrapPlace,
};
pub use fingerprint::fingerprint;
pub use fold_kind::FoldKind;
pub use fold_spec::FoldSpec;
pub use fold_words::FoldWords;
pub use learned_from::LearnedFrom;
pub use limits::Limits;
pub use loose::Loose;
pub use marks::{Mark, MarkRole};
pub use mixture::{
    COMPONENTS, Component, LEAST_PERCENT, MixtureProblem, REACH_FACTORS, SHARES_ROUND_PERCENT, check_components,
    first_components, shares, with_another, with_share, without,
};
pub use process::{BindEffect, BlockEffect, Calibration, Discharge, Dryness, DyeBy, Hand, IceLayers, Process, Reach, Rest};
pub use profile::RodProfile;
pub use rotation::{Colours, RotationStart};
pub use spec::{GarmentSpec, LayoutSpec, WashSpec};
pub use starter::{FlatStart, FoldStart, SpiralStart, starter, starter_name, starter_on, starter_on_marks, starter_tie};
pub use swatch::Swatch;
pub use text::layout_text;
pub(crate) use text::to_ron;
pub use tie_problem::TieProblem;
pub use tie_spec::{MOST_TIES, TieSpec, TiesSpec};
pub use tuning::{ComponentReach, Tuning};

use check::panel_set;
pub(crate) use check::{check_name, check_note};
pub(crate) use usual::LONGEST_NAME;
pub use warning::{BindRef, Warning};
pub use warning_told::{WarningRun, warning_runs};
