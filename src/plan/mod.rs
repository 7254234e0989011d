//! The day: what to weigh, when to do what, and what hurts.
//!
//! From layouts, a recipe and a process to amounts with their formulas ([`GarmentMasses`], [`Load`], [`Totals`]), a timetable
//! ([`Timeline`]), cautions ([`Caution`]), costs, and files for a calendar or a wall ([`calendar_text`], [`plan_text`]);
//! then the day itself, ticked off ([`Run`]). Every formula
//! of the trade beyond geometry stands here, as a pure function with unit and source.
//!
//! This module must not know files, paper or the window; times are civil: what the clock on the wall ([`WallClock`]) shows.

mod agent;
mod air;
mod amount;
mod bath;
mod build;
mod calendar;
mod clock;
mod cure;
mod dry;
mod duration;
mod error;
mod figures;
pub mod form;
mod garment_work;
mod gathered;
mod grade;
mod heat;
mod heat_loss;
mod hot_soak;
mod ice;
mod instruction;
mod limits;
mod masses;
mod melting;
mod needs;
mod order;
mod plan_of;
mod process;
mod recipe;
mod refusal;
mod rod_bulk;
mod run;
mod said;
mod schedule;
mod scrap;
mod shelf;
mod shelf_words;
mod soda;
mod text;
mod timeline;
mod timing;
mod untimely;
mod vessel;
mod wait;
mod warning;
mod work_place;

pub use agent::{AgentUse, DischargeAgent, DischargeRule};
pub use air::{AirLimits, Gas, Region, SO2_ASTHMA_PPM, SO2_DANGER_PPM, air_limits, dust_mask, gas_respirator, so2_mask_ppm};
pub use amount::{
    Amount, CUP_ML, DENSE_SODA_ASH_G_PER_ML, KitchenMeasure, LIGHT_SODA_ASH_G_PER_ML, Sourced, TEASPOON_ML, Unit,
    WEIGH_IF_YOU_CAN, short,
};
pub use bath::{BathHeat, DAMP_PICK_UP, DischargeBath, discharge_bath, litres_of_rods};
pub use calendar::calendar_text;
pub use clock::{ClockChange, WallClock, ZoneError};
pub use cure::{CureRule, DyeClass, fixing_time};
pub use dry::{dries_slower, dry_rod_g, drying_h, soda_left_g, thread_g_per_m};
pub use duration::{duration, work_time};
pub use error::{Named, PlanFileError, PlanProblem};
pub use figures::Figure;
pub use garment_work::{GarmentWork, blank_name};
pub use grade::{GradeError, GradeRule, grade, name_on};
pub use heat::{Body, COTTON_KJ_PER_KG_K, HeatedBath, WATER_KJ_PER_KG_K, mixing_temperature_c};
pub use heat_loss::{COVERED_W_PER_M2_K, OPEN_AIR_C, OPEN_W_PER_M2, open_w_per_m2};
pub use hot_soak::{HOT_SOAK_L_PER_KG, HotSoak};
pub use ice::{FUSION_KJ_PER_KG, ICE_KG_PER_M3, ice_for_water_g, ice_to_cool_g, layer_g, melting_h, melting_heat_kj};
pub use limits::WaitLimit;
pub use masses::{DyeMass, GarmentMasses, IceMass, SoakBath, SolutionMass, dye_g, liquor_l, soak_bath};
pub use needs::{Needed, Share};
pub use order::{
    ColourTotal, CostSheet, LineCost, LineCostWords, Load, LoadItem, Material, MaterialTotal, MaterialUse, Money, OfGarments,
    Order, OrderLine, OrderLineSpec, OrderParts, OrderSpec, Pack, PackBuy, Packing, ShoppingLine, Supply, Totals, Workshop,
    cheapest_packs, costs, loads, pack, packs_unknown, shopping_list, totals, usual_process, usual_recipe,
};
pub use plan_of::{LinePlan, Plan, PlanCaution, PlanError, When};
pub use process::{
    AgentGoes, Caution, CautionContext, Chemistry, DEFER, Hands, Hazard, Need, OutOfOrder, Place, Process, Step, Temperature,
    Until, Wait, cautions, check_safety, out_of_order,
};
pub use recipe::{BathVolume, DepthPercent, DyeRule, IceLayer, IceRule, Recipe, ShadeDepth, SodaRule, SolutionRule};
pub use refusal::{Refusal, Shared};
pub use rod_bulk::RodBulk;
pub use run::{
    Acknowledged, Ahead, Alarm, AlarmKind, Blocked, Coming, Endangered, Full, Hold, Job, Judged, Late, Mark, NowView, Replan,
    Run, RunCaution, RunError, RunKind, RunNeed, RunRecord, RunReport, RunShare, RunStep, RunStepRecord, RunTied, RunWarning,
    Tick, TiedGarment, Verdict, WaitState, Waiting,
};
pub use said::{SaidTimeError, day_words, hours_words, said_hours, said_past, said_past_day, said_time};
pub use schedule::{
    Capacities, Conflict, DayHours, GoOn, Hours, Problem, Solution, Standing, Task, Weekday, WorkCalendar, conflicts, resume,
    solve_backward, solve_forward,
};
pub use scrap::{ScrapBath, scrap_soak};
pub use shelf::{Blank, BlankLine, Shelf, Used, blanks_unpriced};
pub use shelf_words::{
    pack_words, packs_words, packs_words_in, parse_material, parse_packs, parse_quantity, quantity_words, quantity_words_in,
};
pub use soda::{DECAHYDRATE_PER_SODA_ASH, SODA_ASH_G_PER_MOL, SOLUBLE_G_PER_KG, soda_ash_ph};
pub use text::plan_text;
pub use timeline::{Entry, Stretch, Timeline};
pub use untimely::{Cure, MissedDeadline, Untimely};
pub use vessel::{Heating, LARGEST_FILLING, Ring, Vessel, VesselMaterial};
pub use warning::PlanWarning;
pub use work_place::WorkPlace;
