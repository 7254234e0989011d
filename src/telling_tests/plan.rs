//! Refusals and warnings of recipes, processes, orders, plans and runs.

use super::handbook::{named_by_variant, quoted};
use super::{every, refusals, warnings};
use crate::geometry::{GarmentError, GarmentKind, SizeName};
use crate::layout::{Fibre, LayoutError, LayoutProblem};
use crate::plan::{
    DyeClass, Full, GradeError, Named, OutOfOrder, Place, PlanError, PlanFileError, PlanProblem, PlanWarning, Refusal, Region,
    RunError, RunWarning, SaidTimeError, Shared, Temperature, WorkPlace, ZoneError,
};
use crate::telling::Field;
use jiff::civil::DateTime;

fn name() -> String {
    "weigh out".to_owned()
}

fn time(text: &str) -> DateTime {
    text.parse().unwrap()
}

fn grades() -> Vec<GradeError> {
    every!(GradeError:
        GradeError::NoSize { .. } => GradeError::NoSize { name: name() },
        GradeError::Garment(_) =>
            GarmentError::NotASizeOfKind { kind: GarmentKind::ToteBag, size: SizeName::M }.into(),
        GradeError::Layout { .. } => GradeError::Layout {
            size: SizeName::L,
            problem: Box::new(LayoutError {
                field: "burst.guide_radius_mm".into(),
                problem: LayoutProblem::Number { value: 9000.0, least: 0.0, most: 5000.0 },
            }),
        },
    )
}

fn run_errors() -> Vec<RunError> {
    let (step, at) = (name, || time("2027-05-03T09:00"));
    every!(RunError:
        RunError::NoStep { .. } => RunError::NoStep { step: 400, steps: 12 },
        RunError::Ticked { .. } => RunError::Ticked { step: step(), at: at() },
        RunError::NotYet { .. } => RunError::NotYet { step: step(), before: "wash, load 1".to_owned() },
        RunError::TimeBefore { .. } => RunError::TimeBefore { step: step(), at: at(), least: time("2027-05-03T09:30") },
        RunError::ToCome { .. } => RunError::ToCome { step: step(), at: time("2027-05-03T09:30"), now: at() },
        RunError::BeforeReady { .. } => RunError::BeforeReady { step: step(), at: at(), least: time("2027-05-03T09:30") },
        RunError::NoPart { .. } => RunError::NoPart { step: step(), garment: 2 },
        RunError::PartTicked { .. } => RunError::PartTicked { part: "Harbour Row tee, M: bind 7".to_owned() },
        RunError::NotBegun { .. } => RunError::NotBegun { step: "fold and tie, load 1".to_owned() },
        RunError::Followed { .. } => RunError::Followed { step: step(), after: "cure, load 1".to_owned() },
        RunError::SamePlace { .. } => RunError::SamePlace { number: 3 },
        RunError::LongNote { .. } => RunError::LongNote { length: 5000, most: 4000 },
    )
}

fn dangers() -> Vec<Refusal> {
    let mixed = ["bleach", "a reductive discharge"];
    let place = WorkPlace::Indoors { room_m3: 30.0 };
    every!(Refusal:
        Refusal::NoExtraction { .. } => Refusal::NoExtraction {
            step: name(), agent: Some("thiourea dioxide"), grams: 5.2, ppm: 40.0, place, region: Region::Europe
        },
        Refusal::OneBath { .. } =>
            Refusal::OneBath { first: name(), second: "rinse".to_owned(), shared: Shared::Bath("blue tub".to_owned()), mixed },
        Refusal::NoRinse { .. } => Refusal::NoRinse { first: name(), second: "rinse".to_owned(), mixed },
    )
}

#[test]
fn said_times() {
    let (one, other) = (|| time("2026-11-27T05:00"), || time("2026-11-27T17:00"));
    refusals(&every!(SaidTimeError:
        SaidTimeError::Unread { .. } => SaidTimeError::Unread { text: "soon".to_owned(), now: one() },
        SaidTimeError::Past { .. } => SaidTimeError::Past { at: one(), now: other() },
        SaidTimeError::ToCome { .. } => SaidTimeError::ToCome { at: other(), now: one() },
        SaidTimeError::UnreadDay { .. } => SaidTimeError::UnreadDay { text: "soon".to_owned() },
        SaidTimeError::UnreadPast { .. } => SaidTimeError::UnreadPast { text: "soon".to_owned() },
        SaidTimeError::Either { .. } => SaidTimeError::Either { readings: vec![one(), other()] },
        SaidTimeError::DayOrMonth { .. } => SaidTimeError::DayOrMonth { one: 3, other: 4 },
        SaidTimeError::NoDay { .. } => SaidTimeError::NoDay { month: 2, day: 30 },
        SaidTimeError::Hours { .. } => SaidTimeError::Hours { text: "all day".to_owned() },
        SaidTimeError::OtherWeekday { .. } => SaidTimeError::OtherWeekday { date: one().date(), said: "Monday" },
    ));
}

#[test]
fn plan_files() {
    let known = || vec!["wash".to_owned(), "soak".to_owned()];
    let problems = every!(PlanProblem:
        PlanProblem::Format { .. } => PlanProblem::Format { found: 9, known: 1 },
        PlanProblem::Number { .. } => PlanProblem::Number { value: f64::NAN, least: 1.0, most: 500.0 },
        PlanProblem::Count { .. } => PlanProblem::Count { count: 0, most: 200 },
        PlanProblem::TooMany { .. } => PlanProblem::TooMany { count: 300, most: 200 },
        PlanProblem::Name { .. } => PlanProblem::Name { length: 81, most: 80 },
        PlanProblem::LongText { .. } => PlanProblem::LongText { length: 1001, most: 1000 },
        PlanProblem::Twice { .. } => PlanProblem::Twice { name: name() },
        PlanProblem::Unknown { .. } => PlanProblem::Unknown { what: Named::Process, name: name(), known: known() },
        PlanProblem::Wait { .. } => PlanProblem::Wait { least_min: 90, most_min: 60 },
        PlanProblem::NoDischarge { .. } => PlanProblem::NoDischarge { recipe: name() },
        PlanProblem::NeverMelts { .. } => PlanProblem::NeverMelts { layer: 1, hours: 900.0, room_c: Some(1.0) },
        PlanProblem::Hours { .. } => PlanProblem::Hours { from: "09:00".to_owned(), to: "08:00".to_owned() },
        PlanProblem::Backward { .. } =>
            PlanProblem::Backward { from: "2027-05-03T09:00".to_owned(), to: "2027-05-03T08:00".to_owned() },
        PlanProblem::TubTooSmall { .. } =>
            PlanProblem::TubTooSmall { garment_g: 146.0, needed_l: 4.4, litres_per_kg: 30.0, tub_l: 1.0 },
        PlanProblem::VesselTooSmall { .. } =>
            PlanProblem::VesselTooSmall { cloth_g: 146.0, needed_l: 9.4, vessel_l: 5.0 },
        PlanProblem::PlasticOnHob => PlanProblem::PlasticOnHob,
        PlanProblem::MixtureUnsaid => PlanProblem::MixtureUnsaid,
        PlanProblem::WrongFibre { .. } => PlanProblem::WrongFibre { fibre: Fibre::Silk, percent: 100.0, is_harmed: true },
        PlanProblem::Grade(_) => GradeError::NoSize { name: name() }.into(),
        PlanProblem::Layout(_) =>
            LayoutError { field: "thread.tail_mm".into(), problem: LayoutProblem::Fibres { percent: 9.0 } }.into(),
        PlanProblem::Run(_) => RunError::NoStep { step: 0, steps: 4 }.into(),
        PlanProblem::Zone(_) => ZoneError { name: "Harbour/Row".to_owned() }.into(),
        PlanProblem::Refused(_) => dangers()[0].clone().into(),
    );
    let more = [
        PlanProblem::Unknown { what: Named::Colour, name: name(), known: known() },
        PlanProblem::Unknown { what: Named::EarlierStep, name: name(), known: Vec::new() },
        PlanProblem::WrongFibre { fibre: Fibre::Polyester, percent: 65.0, is_harmed: false },
        PlanProblem::Number { value: 400.0, least: 0.1, most: 215.0 },
    ];
    for field in [
        Field::from("steps").item(3).then("wait.least_min"),
        Field::from("workshop.vessel.floor_cm2"),
        Field::from("ice.layers.depth_mm"),
        Field::from("depths").named("harbour blue"),
    ] {
        let placed = |problem: &PlanProblem| PlanFileError { field: field.clone(), problem: problem.clone() };
        refusals(&problems.iter().chain(&more).map(placed).collect::<Vec<_>>());
    }
    refusals(&grades());
    refusals(&[ZoneError { name: "Harbour/Row".to_owned() }]);
}

#[test]
fn plans() {
    refusals(&every!(PlanError:
        PlanError::OutOfTime { .. } => PlanError::OutOfTime { when: time("9999-12-31T00:00") },
        PlanError::Stopped => PlanError::Stopped,
        PlanError::Order(_) => PlanFileError { field: "lines".into(), problem: PlanProblem::Count { count: 0, most: 9 } }.into(),
    ));
    refusals(&dangers());
    let place = WorkPlace::Indoors { room_m3: 3000.0 };
    refusals(&[
        Refusal::NoExtraction { step: name(), agent: None, grams: 0.0, ppm: 0.0, place, region: Region::UnitedStates },
        Refusal::OneBath { first: name(), second: name(), shared: Shared::Place("tub"), mixed: ["acid", "bleach"] },
    ]);
}

#[test]
fn runs() {
    refusals(&run_errors());
    let all = every!(RunWarning:
        RunWarning::TooEarly { .. } => RunWarning::TooEarly {
            step: "soda ash soak, load 1".to_owned(),
            least_min: 20,
            reason: Some("the bath is cold".to_owned()),
            by_min: 5,
            ready: time("2027-05-03T09:30"),
        },
        RunWarning::TooLate { .. } => RunWarning::TooLate { step: "discharge, load 1".to_owned(), most_min: 60, by_min: 12 },
        RunWarning::Unfinished { .. } => RunWarning::Unfinished { step: "step 4, weigh out".to_owned() },
        RunWarning::PartsLeft { .. } => RunWarning::PartsLeft { step: "fold and tie, load 1".to_owned(), left: 3 },
        RunWarning::VesselTaken { .. } =>
            RunWarning::VesselTaken { step: "discharge, load 2".to_owned(), full: Full::Vessel { until: Some(time("2027-05-04T00:00")) } },
        RunWarning::PlaceFull { .. } => RunWarning::PlaceFull { place: Place::Tub, taken: 3, room: 2 },
    );
    warnings(&all);
    quoted(&all);
    named_by_variant(&all);
}

fn out_of_order() -> Vec<OutOfOrder> {
    let step = || "step 4, rinse".to_owned();
    every!(OutOfOrder:
        OutOfOrder::DischargedAfterDyeing { .. } => OutOfOrder::DischargedAfterDyeing { step: step() },
        OutOfOrder::HeatedAfterAgent { .. } => OutOfOrder::HeatedAfterAgent { step: step() },
        OutOfOrder::AgentLeft { .. } => OutOfOrder::AgentLeft { step: step() },
        OutOfOrder::NoSoda { .. } => OutOfOrder::NoSoda { step: step() },
        OutOfOrder::SodaLost { .. } => OutOfOrder::SodaLost { step: step() },
        OutOfOrder::IceBeforeDye { .. } => OutOfOrder::IceBeforeDye { step: step() },
        OutOfOrder::RinsedTooSoon { .. } => OutOfOrder::RinsedTooSoon { step: step() },
        OutOfOrder::NeverFixed => OutOfOrder::NeverFixed,
    )
}

#[test]
fn plan_warnings() {
    let (process, layout) = (|| "Boathouse dyeing".to_owned(), || "Harbour Row tee, M".to_owned());
    let step = || "discharge".to_owned();
    let fixes_at = Temperature { from_c: 40.0, to_c: 60.0 };
    let too_cool = |heated| PlanWarning::BathTooCool {
        load: 1,
        with_goods_c: 70.0,
        at_end_c: 61.0,
        works: Temperature { from_c: 85.0, to_c: 100.0 },
        heated,
    };
    let all = every!(PlanWarning:
        PlanWarning::BathTooCool { .. } => too_cool(true),
        PlanWarning::NeverHot { .. } => PlanWarning::NeverHot { load: 1, power_w: 300.0 },
        PlanWarning::NoHeating { .. } => PlanWarning::NoHeating { process: process(), minutes: 31.0 },
        PlanWarning::NoAlkali { .. } => PlanWarning::NoAlkali { recipe: process() },
        PlanWarning::AgentStrewn { .. } => PlanWarning::AgentStrewn { process: process(), step: step(), said: true },
        PlanWarning::BathSpent { .. } =>
            PlanWarning::BathSpent { process: process(), step: step(), minutes: 90, spent_after_min: 45 },
        PlanWarning::Paler { .. } => PlanWarning::Paler { layout: layout(), fibre: Fibre::Polyester, percent: 40.0 },
        PlanWarning::DoesNotFix { .. } => PlanWarning::DoesNotFix { class: DyeClass::Warm, kept_at_c: 20.0, fixes_at },
        PlanWarning::OtherMethod { .. } => PlanWarning::OtherMethod { layout: layout(), by_hand: true },
        PlanWarning::MoreIce { .. } => PlanWarning::MoreIce { layout: layout(), wants: 4, laid: 2 },
        PlanWarning::Sequence { .. } => PlanWarning::Sequence { process: process(), wrong: OutOfOrder::NeverFixed },
        PlanWarning::NothingToDischarge { .. } =>
            PlanWarning::NothingToDischarge { layout: layout(), process: process() },
        PlanWarning::RodTooLong { .. } => PlanWarning::RodTooLong { load: 2, rod_mm: 900.0, holds_mm: 754.0 },
        PlanWarning::VesselInTurn { .. } => {
            let days = [3, 4].map(|day| jiff::civil::date(2027, 5, day)).to_vec();
            PlanWarning::VesselInTurn { loads: vec![1, 2], days, vessels: 1 }
        },
        PlanWarning::NoScrap { .. } => PlanWarning::NoScrap { process: process() },
    );
    warnings(&all);
    quoted(&all.iter().filter(|warning| !matches!(warning, PlanWarning::Sequence { .. })).cloned().collect::<Vec<_>>());
    warnings(&[
        too_cool(false),
        PlanWarning::AgentStrewn { process: process(), step: step(), said: false },
        PlanWarning::OtherMethod { layout: layout(), by_hand: false },
        PlanWarning::DoesNotFix { class: DyeClass::Warm, kept_at_c: 80.0, fixes_at },
    ]);
    warnings(&out_of_order());
    quoted(&out_of_order());
    named_by_variant(&out_of_order());
    let sequence = |wrong| PlanWarning::Sequence { process: process(), wrong };
    warnings(&out_of_order().into_iter().map(sequence).collect::<Vec<_>>());
}
