//! What formats of recipes, processes, orders and runs share.

mod figure;
mod handwork;
mod order;
mod recipe;
mod run;
mod shelf;
mod step;
mod workshop;

pub use figure::{SourceStatusForm, SourcedForm, TemperatureForm};
pub use handwork::{
    CentrePlaceForm, GarmentWorkForm, HandPartForm, HandworkForm, RunTiedForm, TiePartForm, TiedBindForm, TopForm,
};
pub use order::{GradeForm, LineForm, MaterialForm, MoneyForm, PackForm, SupplyForm};
pub use recipe::{
    AgentForm, BathForm, CureForm, DischargeRuleForm, DyeClassForm, IceForm, IceLayerForm, PercentForm, ShadeForm, SolutionForm,
};
pub use run::{
    AcknowledgedForm, AlarmKindForm, HazardForm, MarkForm, RunCautionForm, RunKindForm, RunNeedForm, RunShareForm, RunStepForm,
    StretchForm, TickForm,
};
pub use shelf::{BlankForm, UsedForm};
pub use step::{AgentGoesForm, ChemistryForm, HandsForm, PlaceForm, StepForm, UntilForm, WaitForm};
pub use workshop::{
    HeatingForm, HoursForm, RegionForm, RingForm, VesselForm, VesselMaterialForm, WeekdayForm, WorkPlaceForm, WorkshopForm,
    WorkshopV1,
};
