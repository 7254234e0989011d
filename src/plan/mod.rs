//! The day: what to weigh, when to do what, and what hurts.
//!
//! From layouts, a recipe and a process to amounts with their formulas ([`GarmentMasses`], [`Load`], [`Totals`]), a timetable
//! ([`Timeline`]), cautions ([`Caution`]), costs, and files for a calendar or a wall ([`calendar_text`], [`plan_text`]);
//! then the day itself, ticked off ([`Run`]). Every formula
//! of the trade beyond geometry stands here, as a pure function with unit and source.
//!
//! This module must not know files, paper or the window; times are civil: what the clock on the wall ([`WallClock`]) shows.

mod amount;
mod build;
mod calendar;
mod clock;
mod error;
mod fumes;
mod grade;
mod ice;
mod masses;
mod needs;
mod order;
mod plan_of;
mod process;
mod recipe;
mod run;
mod schedule;
mod soda;
mod text;
mod timeline;
mod wait;

pub use amount::{
    Amount, CUP_ML, DENSE_SODA_ASH_G_PER_ML, KitchenMeasure, LIGHT_SODA_ASH_G_PER_ML, Sourced, TEASPOON_ML, Unit, short,
};
pub use calendar::calendar_text;
pub use clock::{ClockChange, WallClock, ZoneError};
pub use error::{PlanFileError, PlanProblem, Refusal};
pub use fumes::{DischargeAgent, SO2_CARTRIDGE_PPM, SO2_DANGER_PPM, SO2_DAY_LIMIT_PPM, SO2_SHORT_LIMIT_PPM, WorkPlace};
pub use grade::{GradeError, GradeRule, grade};
pub use ice::{FUSION_KJ_PER_KG, ICE_KG_PER_M3, ice_for_water_g, ice_to_cool_g, layer_g, melting_h, melting_heat_kj};
pub use masses::{DischargeBath, DyeMass, GarmentMasses, IceMass, SoakBath, discharge_bath, dye_g, liquor_l, soak_bath};
pub use needs::{Needed, Share};
pub use order::{
    ColourTotal, CostSheet, HoursV1, LineCost, Load, LoadItem, Material, MaterialTotal, MoneyV1, ORDER_FORMAT, Order, OrderLine,
    OrderLineV1, OrderParts, OrderV1, Pack, PackBuy, Packing, ShoppingLine, Supply, Totals, Weekday, WorkshopV1, cheapest_packs,
    costs, loads, pack, shopping_list, totals, usual_process, usual_recipe,
};
pub use plan_of::{LinePlan, Plan, PlanCaution, PlanError, When};
pub use process::{
    Caution, Chemistry, DEFER, Hands, Hazard, Need, PROCESS_FORMAT, Place, Process, Step, Temperature, Wait, cautions,
    check_safety,
};
pub use recipe::{
    BathVolume, DepthPercent, DischargeRule, DyeRule, IceLayer, IceRule, RECIPE_FORMAT, Recipe, ShadeDepth, SodaRule,
};
pub use run::{
    Ahead, Blocked, Coming, Endangered, Job, Judged, Late, Mark, NowView, RUN_FORMAT, Replan, Run, RunCaution, RunError,
    RunKindV1, RunNeed, RunShare, RunStep, RunStepV1, RunV1, RunWarning, Tick, Verdict, WaitState, Waiting,
};
pub use schedule::{
    Capacities, Conflict, DayHours, Problem, Solution, Standing, Task, WorkCalendar, conflicts, resume, solve_backward,
    solve_forward,
};
pub use soda::{DECAHYDRATE_PER_SODA_ASH, SODA_ASH_G_PER_MOL, SOLUBLE_G_PER_KG, soda_ash_ph};
pub use text::plan_text;
pub use timeline::{Entry, Stretch, Timeline, duration, work_time};
