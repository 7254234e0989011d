//! The document: a garment with a burst, its binds, thread and sections; checked from its raw file form; and all its figures.

mod check;
mod checked;
mod colour;
mod error;
mod fibre;
mod figures;
mod fingerprint;
mod limits;
mod marks;
mod process;
mod profile;
pub mod raw;
mod rotation;
mod starter;
mod text;
mod warning;
mod warnings;

pub use checked::Layout;
pub use colour::{ParseColourError, Srgb, Swatch};
pub use error::{LayoutError, LayoutProblem, other_form};
pub use fibre::{
    FIBRES_ROUND_PERCENT, Fibre, FibreShare, LEAST_CELLULOSE_PERCENT, ParseFibresError, Serves, Take, UNDYED_UNNOTICED_PERCENT,
    fibre_words, parse_fibres, serves,
};
pub use figures::{
    BindFigures, BurstFigures, ClothFigures, ColourFigures, Figures, FoldFigures, GarmentFigures, MeasureFigures, SectionFigures,
    SideFigures, StringFigures,
};
pub use fingerprint::fingerprint;
pub use limits::Limits;
pub use marks::{Mark, MarkRole};
pub use process::{BindEffect, Calibration, Discharge, Dryness, DyeBy, Hand, IceLayers, Process, Reach, Rest};
pub use profile::RodProfile;
pub use rotation::{Colours, RotationStart};
pub use starter::{starter, starter_on_marks};
pub use text::layout_text;
pub(crate) use text::to_ron;

use check::panel_set;
pub(crate) use check::{check_name, check_note};
pub use warning::{BindRef, Warning};
