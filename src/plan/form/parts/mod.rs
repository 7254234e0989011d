//! What formats of recipes, processes, orders and runs share.

mod figure;
mod order;
mod recipe;
mod run;
mod step;
mod workshop;

pub use figure::{SourceStatusForm, SourcedForm, TemperatureForm};
pub use order::{GradeForm, LineForm, MaterialForm, MoneyForm, PackForm, SupplyForm};
pub use recipe::{
    AgentForm, BathForm, CureForm, DischargeRuleForm, DyeClassForm, IceForm, IceLayerForm, PercentForm, ShadeForm, SolutionForm,
};
pub use run::{HazardForm, MarkForm, RunCautionForm, RunKindForm, RunNeedForm, RunShareForm, RunStepForm, StretchForm, TickForm};
pub use step::{AgentGoesForm, ChemistryForm, HandsForm, PlaceForm, StepForm, UntilForm, WaitForm};
pub use workshop::{
    HeatingForm, HoursForm, RegionForm, RingForm, VesselForm, VesselMaterialForm, WeekdayForm, WorkPlaceForm, WorkshopForm,
};
