//! What formats of layout files share, and preset and swatch files with them.
//!
//! A format in which one of these is written another way gets a part of its own; what stands here stays as it is.

mod colour;
mod garment;
mod limits;
mod process;
mod spacing;
mod thread;

pub use colour::{ColoursForm, ComponentForm, DyeForm, RotationStartForm, SrgbForm, SwatchForm};
pub use garment::{CentreForm, FibreForm, FibreShareForm, GarmentKindForm, HalfFoldForm, MeasuresForm, PleatsForm, WashForm};
pub use limits::LimitsForm;
pub use process::{
    BindEffectForm, BlockEffectForm, CalibrationForm, DischargeForm, DrynessForm, DyeByForm, HandForm, IceLayersForm, LiesForm,
    ReachForm,
};
pub use spacing::{BindEditForm, BindsForm, MarksForm, NeighboursForm, ProgressionForm, SpanForm};
pub use thread::{ThreadForm, ThreadKindForm};
