//! The run: ticks, waits and their verdicts, against a reckoning of its own minute by minute; files; nothing lost on closing.

use crate::{regatta, tested_tee};
use jiff::ToSpan as _;
use jiff::civil::DateTime;
use pleatwright::plan::{Place, *};
use pleatwright::store::*;
use pleatwright::telling::{Refused as _, Voice};
use proptest::prelude::*;
use std::sync::OnceLock;

fn when(text: &str) -> DateTime {
    text.parse().unwrap()
}

/// One tee, discharged and dyed, from a Monday morning.
fn tee_run() -> Run {
    static RUN: OnceLock<Run> = OnceLock::new();
    let make = || Run::of(&Plan::new(&tested_tee(), When::Start(when("2027-05-03T08:00"))).unwrap()).unwrap();
    RUN.get_or_init(make).clone()
}

fn regatta_run() -> Run {
    static RUN: OnceLock<Run> = OnceLock::new();
    let make = || Run::of(&Plan::new(&regatta(), When::Start(when("2027-05-03T08:00"))).unwrap()).unwrap();
    RUN.get_or_init(make).clone()
}

fn find(run: &Run, name: &str) -> u32 {
    run.steps().find(|step| step.name == name).unwrap_or_else(|| panic!("no step {name}")).number
}

/// Does every step of the run as planned, up to and without `name`.
fn as_planned_until(run: &mut Run, name: &str) {
    let steps: Vec<(u32, DateTime, DateTime)> =
        run.steps().take_while(|step| step.name != name).map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in steps {
        assert_eq!(run.begin(step, from), Ok(vec![]));
        assert_eq!(run.finish(step, to), Ok(vec![]));
    }
}

/// At least 20 minutes in the soda (common practice, no source): a tick after 15 is taken, said and stays on record.
#[test]
fn a_soak_cut_short_is_said_and_recorded() {
    let mut run = tee_run();
    as_planned_until(&mut run, "soda ash soak");
    let (soak, spin) = (find(&run, "soda ash soak"), find(&run, "spin"));
    let at = run.step(soak).unwrap().from;
    run.finish(soak, at).unwrap();
    let view = run.now(at.saturating_add(15.minutes()));
    let waiting = &view.waiting[0];
    assert_eq!((waiting.step, waiting.state, waiting.then), (soak, WaitState::Closed, Some(spin)));
    assert_eq!((waiting.earliest, waiting.latest), (at.saturating_add(20.minutes()), Some(at.saturating_add(60.minutes()))));
    assert!(view.now.is_empty() && view.idle_until == Some(waiting.earliest), "{view:?}");
    let warnings = run.begin(spin, at.saturating_add(15.minutes())).unwrap();
    let said = crate::warned(&warnings[0]);
    assert!(said.starts_with("5 min too early: soda ash soak, load 1 waits at least 20 min, until Monday"), "{said}");
    let judged = run.verdict(soak).unwrap();
    assert_eq!((judged.verdict, judged.waited_min()), (Verdict::Early { by_min: 5 }, 15));
    assert_eq!(judged.sentence(), "soda ash soak, load 1: waited 15 min, 20 min to 1 h: 5 min too short");
    // Undone, the soak goes on.
    assert_eq!(run.undo().map(|tick| tick.step), Some(spin));
    assert_eq!(run.verdict(soak), None);
    assert_eq!(run.begin(spin, at.saturating_add(21.minutes())), Ok(vec![]));
    assert_eq!(run.verdict(soak).unwrap().verdict, Verdict::Kept);
}

/// At least 24 hours after the melt (common practice, no source), three days at most.
#[test]
fn the_rest_is_a_day_from_its_own_tick() {
    let mut run = tee_run();
    as_planned_until(&mut run, "cure");
    let (rest, rinse) = (find(&run, "cure"), find(&run, "rinse and untie"));
    let melted = run.step(rest).unwrap().from.saturating_add(3.hours());
    run.finish(rest, melted).unwrap();
    let earliest = melted.saturating_add(24.hours());
    assert_eq!(run.now(melted).waiting[0].earliest, earliest);
    assert!(run.now(earliest.saturating_add(-1.minutes())).now.is_empty());
    // Three hours behind the plan: due as soon as it may be, or ahead of the plan's own hour.
    let view = run.now(earliest);
    assert!(view.now.iter().chain(&view.ahead).any(|job| job.step == rinse), "{view:?}");
    let late = run.now(melted.saturating_add(80.hours()));
    assert!(late.late.contains(&Late::Wait { step: rest, by_min: 8 * 60 }), "{:?}", late.late);
    let warnings = run.begin(rinse, melted.saturating_add(80.hours())).unwrap();
    assert!(matches!(warnings[..], [RunWarning::TooLate { by_min: 480, .. }]), "{warnings:?}");
    assert_eq!(run.verdict(rest).unwrap().verdict, Verdict::Late { by_min: 480 });
}

/// The second ice is left out where the underside shows colour: the first one's wait goes on to the rest.
#[test]
fn a_step_left_out_lets_the_wait_before_it_go_on() {
    let mut run = tee_run();
    as_planned_until(&mut run, "second ice");
    let (ice, second, rest) = (find(&run, "ice"), find(&run, "second ice"), find(&run, "cure"));
    let iced = run.step(ice).unwrap().finished.unwrap();
    run.leave_out(second, iced.saturating_add(9.hours())).unwrap();
    assert_eq!(run.now(iced.saturating_add(9.hours())).waiting[0].then, Some(rest));
    run.begin(rest, iced.saturating_add(10.hours())).unwrap();
    let judged = run.verdict(ice).unwrap();
    assert_eq!((judged.waited_min(), judged.verdict), (600, Verdict::Kept));
    assert_eq!(run.verdict(second), None);
    assert_eq!(
        run.undo_step(second),
        Err(RunError::Followed { step: "second ice, load 1".to_owned(), after: "cure, load 1".to_owned() })
    );
}

#[test]
fn a_tick_that_cannot_be_is_refused_and_changes_nothing() {
    let mut run = tee_run();
    let (wash, bind) = (find(&run, "wash"), find(&run, "fold and tie"));
    let before = run.clone();
    let said = run.begin(bind, when("2027-05-03T09:00")).unwrap_err().to_string();
    assert_eq!(said, "wash, load 1 comes before fold and tie, load 1; tick that first, or skip it");
    assert!(matches!(run.begin(999, when("2027-05-03T09:00")), Err(RunError::NoStep { step: 999, .. })));
    assert!(matches!(run.begin(0, when("2027-05-03T09:00")), Err(RunError::NoStep { .. })));
    assert_eq!(run, before);
    run.begin(wash, when("2027-05-03T09:00")).unwrap();
    assert!(matches!(run.finish(wash, when("2027-05-03T08:59")), Err(RunError::TimeBefore { .. })));
    run.finish(wash, when("2027-05-03T09:05")).unwrap();
    assert!(matches!(run.begin(wash, when("2027-05-03T10:00")), Err(RunError::Ticked { .. })));
    assert!(run.note(wash, &"x".repeat(5000)).is_err());
    assert_eq!(
        (run.undo_step(wash).unwrap().unwrap().mark, run.undo_step(wash).unwrap().unwrap().mark),
        (Mark::Finished, Mark::Begun)
    );
    assert_eq!((run.undo_step(wash), run.undo(), &run), (Ok(None), None, &before));
}

/// What is done before the dye is weighed, and more loads in a tub than there are tubs, is said.
#[test]
fn needs_and_places_are_looked_at() {
    let mut run = regatta_run();
    let first = |run: &Run, name: &str, load: u32| {
        run.steps().find(|step| step.name == name && step.load == Some(load)).map(|step| step.number)
    };
    let chain = |run: &Run, load: u32, until: &str| -> Vec<u32> {
        let mut steps: Vec<_> = run.steps().filter(|step| step.load == Some(load)).map(|step| (step.from, step.number)).collect();
        steps.sort();
        let stop = first(run, until, load).unwrap();
        steps.into_iter().map(|(_, number)| number).take_while(|&number| number != stop).collect()
    };
    let mut at = when("2027-05-03T08:00");
    let loads: Vec<u32> = (1..=4).filter(|&load| first(&run, "heat the bath", load).is_some()).collect();
    for &load in &loads[..3] {
        for step in chain(&run, load, "heat the bath") {
            at = at.saturating_add(1.hours());
            run.finish(step, at).unwrap();
        }
        let soak = first(&run, "heat the bath", load).unwrap();
        at = at.saturating_add(1.minutes());
        let warnings = run.begin(soak, at).unwrap();
        let full =
            warnings.iter().any(|warning| matches!(warning, RunWarning::PlaceFull { place: Place::Tub, taken: 3, room: 2 }));
        assert_eq!(full, load == loads[2], "{warnings:?}");
        run.finish(soak, at).unwrap();
        if load == loads[1] {
            let third = loads[2];
            let mut other = run.clone();
            for step in chain(&other, third, "heat the bath") {
                other.finish(step, at).unwrap();
            }
            let view = other.now(at);
            let stuck = first(&other, "heat the bath", third).unwrap();
            assert!(
                view.blocked.iter().any(|blocked| (blocked.job.step, blocked.full) == (stuck, Full::Place(Place::Tub))),
                "{view:?}"
            );
        }
    }
    let load = loads[0];
    for step in chain(&run, load, "lay and sprinkle") {
        if run.step(step).unwrap().finished.is_none() {
            at = at.saturating_add(1.hours());
            run.finish(step, at).unwrap();
        }
    }
    let warnings = run.begin(first(&run, "lay and sprinkle", load).unwrap(), at.saturating_add(1.days())).unwrap();
    assert!(warnings.contains(&RunWarning::Unfinished { step: "weigh out: Discharge and dye".to_owned() }), "{warnings:?}");
}

/// Instructions, amounts and cautions are frozen with the plan.
#[test]
fn a_step_carries_all_that_the_maker_needs() {
    let run = regatta_run();
    let step = run.steps().find(|step| step.name == "discharge").unwrap();
    assert!(step.what.contains("in small lots"));
    assert!(step.needs.iter().any(|need| need.what == "thiourea dioxide" && need.amount.ends_with('g')), "{:?}", step.needs);
    assert!(step.cautions.iter().any(|caution| caution.hazard == Hazard::SulfurDioxide && caution.source.contains("NIOSH")));
    assert_eq!(step.cautions.last().unwrap().text, DEFER);
}

/// Closing the program between any two ticks changes nothing: what is read is what was saved.
#[test]
fn a_run_survives_closing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("day.ron");
    let mut run = tee_run();
    as_planned_until(&mut run, "spin");
    run.note(find(&run, "wash"), "the plum ran a little").unwrap();
    save_run(&path, &run).unwrap();
    let read = read_run(&path).unwrap();
    assert_eq!((&read, file_kind(&path).unwrap()), (&run, FileKind::Run));
    let at = when("2027-05-04T12:00");
    assert_eq!(read.now(at), run.now(at));
    // Saved a hundred times, it leaves no heap of backups; another file of that name is kept.
    run.undo();
    save_run(&path, &run).unwrap();
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
    assert_eq!(read_run(&path).unwrap(), run);
    std::fs::write(&path, "mine").unwrap();
    save_run(&path, &run).unwrap();
    assert_eq!(std::fs::read(backup_path(&path)).unwrap(), b"mine");
}

#[test]
fn a_file_that_could_not_have_been_is_refused_by_its_place() {
    let mut run = tee_run();
    as_planned_until(&mut run, "discharge");
    let text = run_text(&run);
    let said = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        match parse_run(&text.replacen(from, to, 1)) {
            Ok(_) => "right".to_owned(),
            Err((place, problem)) => format!("{}: {problem}", place.map_or(0, |place| place.line)),
        }
    };
    assert_eq!(said("format: 1", "format: 1"), "right");
    assert!(said("format: 1", "format: 7").contains("unknown file format 7"));
    assert!(said("mark: Begun", "mark: Started").contains("Started"));
    assert!(
        said("step: 1,", "step: 400,").contains("ticks.1: 400 is not a step; choose 1 to "),
        "{}",
        said("step: 1,", "step: 400,")
    );
    assert!(said("kind: 1,", "kind: 0,").contains("steps.1.kind: 0 is out of range"));
    assert!(said("rooms", "room").contains("room"));
}

#[derive(Debug, Clone, Copy)]
enum Act {
    Begin,
    Finish,
    LeaveOut,
    Undo,
    UndoStep,
}

fn acts() -> impl Strategy<Value = Vec<(Act, u32, i64)>> {
    let act = prop_oneof![
        6 => Just(Act::Begin),
        8 => Just(Act::Finish),
        1 => Just(Act::LeaveOut),
        1 => Just(Act::Undo),
        1 => Just(Act::UndoStep),
    ];
    // Seconds since the act before; some go back.
    prop::collection::vec((act, 0..40_u32, -600..20_000_i64), 1..120)
}

/// Process, load, place in the process.
type Key = (usize, Option<u32>, usize);

/// Chains by load and process order, told again from the file's own words.
fn chains(run: &Run) -> Vec<Vec<u32>> {
    let raw = run.raw();
    let mut numbers: Vec<(Key, u32)> = Vec::new();
    for (number, step) in (1..).zip(&raw.steps) {
        let kind = &raw.kinds[step.kind as usize - 1];
        numbers.push(((kind.process, step.load, kind.number), number));
    }
    numbers.sort_unstable();
    // A step done once that waits holds up only the steps that name it.
    let waits = |number: u32| raw.kinds[raw.steps[number as usize - 1].kind as usize - 1].wait.is_some();
    let same = |a: &(Key, u32), b: &(Key, u32)| (a.0.0, a.0.1) == (b.0.0, b.0.1) && !(a.0.1.is_none() && waits(a.1));
    numbers.chunk_by(same).map(|chain| chain.iter().map(|(_, number)| *number).collect()).collect()
}

fn seconds(from: DateTime, to: DateTime) -> i64 {
    from.duration_until(to).as_secs()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, rng_seed: proptest::test_runner::RngSeed::Fixed(11), ..ProptestConfig::default() })]

    /// Whatever is ticked, taken back and refused: times never run backward along a load, verdicts say what the seconds say, every
    /// open step stands in the view exactly once or behind another of its load, and the file brings the same run back.
    #[test]
    fn a_run_is_always_one_that_could_have_been(acts in acts(), whole_order in any::<bool>()) {
        let mut run = if whole_order { regatta_run() } else { tee_run() };
        let mut at = when("2027-05-03T08:00");
        for (act, step, pass) in acts {
            at = at.saturating_add(pass.seconds());
            let kept = run.clone();
            let refused = match act {
                Act::Begin => run.begin(step, at).is_err(),
                Act::Finish => run.finish(step, at).is_err(),
                Act::LeaveOut => run.leave_out(step, at).is_err(),
                Act::Undo => run.undo().is_none(),
                Act::UndoStep => !matches!(run.undo_step(step), Ok(Some(_))),
            };
            prop_assert!(!refused || run == kept);
            // A tick taken back leaves no trace.
            if !refused && matches!(act, Act::Begin | Act::Finish | Act::LeaveOut) {
                let mut back = run.clone();
                back.undo();
                prop_assert_eq!(&back, &kept);
            }
        }
        let view = run.now(at);
        for chain in chains(&run) {
            let steps: Vec<_> = chain.iter().map(|&number| run.step(number).unwrap()).collect();
            let mut last: Option<DateTime> = None;
            let mut open = false;
            for step in &steps {
                for time in [step.begun, step.finished].into_iter().flatten() {
                    prop_assert!(!open && last.is_none_or(|last| last <= time), "{}", step.title());
                    last = Some(time);
                }
                open |= step.finished.is_none();
            }
            let done: Vec<_> = steps.iter().filter(|step| !step.left_out).collect();
            for pair in done.windows(2) {
                let (from, to) = (pair[0].finished, pair[1].begun.or(pair[1].finished));
                let judged = run.verdict(pair[0].number);
                let (Some(wait), Some(from), Some(to)) = (pair[0].wait, from, to) else {
                    prop_assert_eq!(judged, None);
                    continue;
                };
                let waited = seconds(from, to);
                let (least, most) = (60 * i64::from(wait.least_min), wait.most_min.map(|most| 60 * i64::from(most)));
                match judged.unwrap().verdict {
                    Verdict::Early { by_min } => prop_assert!(waited < least && (60 * by_min - (least - waited)).abs() < 60),
                    Verdict::Late { by_min } => prop_assert!(most.is_some_and(|most| waited > most && 60 * by_min >= waited - most)),
                    Verdict::Kept => prop_assert!(waited >= least && most.is_none_or(|most| waited <= most)),
                }
            }
        }
        let named: Vec<u32> = view.doing.iter().chain(&view.now).chain(&view.ahead).chain(view.blocked.iter().map(|b| &b.job))
            .map(|job| job.step).chain(view.next.iter().map(|coming| coming.step)).collect();
        let mut once = named.clone();
        once.sort_unstable();
        once.dedup();
        prop_assert_eq!(once.len(), named.len());
        // Nothing is called possible whose wait is not over, and nothing that waits is forgotten.
        for waiting in view.waiting.iter().filter(|waiting| waiting.state == WaitState::Closed) {
            prop_assert!(view.now.iter().chain(&view.ahead).all(|job| Some(job.step) != waiting.then));
        }
        prop_assert!(view.ends >= at || view.over);
        prop_assert_eq!(parse_run(&run_text(&run)).unwrap(), run);
    }
}

/// As planned, a run raises nothing and ends when the plan does, on whatever day of the week it begins.
#[test]
fn the_plan_itself_runs_without_a_word() {
    for start in ["2027-05-03T08:00", "2027-05-07T08:00", "2027-05-08T13:30"] {
        let plan = Plan::new(&regatta(), When::Start(when(start))).unwrap();
        let mut run = Run::of(&plan).unwrap();
        let mut ticks: Vec<(DateTime, bool, u32)> =
            run.steps().flat_map(|step| [(step.from, true, step.number), (step.to, false, step.number)]).collect();
        // At one time, what ends goes before what begins, along the loads.
        ticks.sort_unstable();
        for (at, begins, number) in ticks {
            let warnings = if begins { run.begin(number, at) } else { run.finish(number, at) };
            assert_eq!(warnings, Ok(vec![]), "step {number} at {at}");
        }
        assert!(run.verdicts().iter().all(|judged| judged.verdict == Verdict::Kept));
        assert!(!run.now(plan.timeline.ends.saturating_add(-1.minutes())).over && run.now(plan.timeline.ends).over);
    }
}

/// Before it begins: every wait with a most, in the order of the work; in the text too. The shortest once came first.
#[test]
fn limits_are_told_before_the_run() {
    let plan = Plan::new(&tested_tee(), When::Start(when("2027-05-03T08:00"))).unwrap();
    let limits = plan.limits();
    assert!(limits.iter().any(|limit| limit.to_string() == "discharge may wait at most 5 min, then rinse cold"));
    let steps = crate::process("discharge-and-dye").steps;
    assert!(limits.is_sorted_by_key(|limit| steps.iter().position(|step| step.name == limit.step)), "{limits:?}");
    // As the process has them; of a discharge's 15 to 20 min somebody stays beside it for the first 15.
    for limit in limits.iter().filter(|limit| !["heat the bath", "discharge"].contains(&limit.step.as_str())) {
        let own = crate::process("discharge-and-dye").steps.into_iter().find(|own| own.name == limit.step);
        let most_min = own.and_then(|own| own.wait).and_then(|wait| wait.most_min);
        assert_eq!(limit.wait.most_min, most_min, "{}", limit.step);
    }
    assert!(plan_text(&plan, false).contains("- discharge may wait at most 5 min, then rinse cold."));
}

/// A step that can't begin says what it waits for, and until when.
#[test]
fn what_holds_a_step_is_said() {
    let mut run = tee_run();
    let (soak, spin) = (find(&run, "soda ash soak"), find(&run, "spin"));
    let before = run.step(soak).unwrap().title();
    assert!(run.held(spin, when("2027-05-03T08:00")).contains(&Hold::Undone { title: before.clone() }));
    as_planned_until(&mut run, "soda ash soak");
    let from = run.step(soak).unwrap().from;
    run.finish(soak, from).unwrap();
    let held = run.held(spin, from);
    // The process says 20 min at least.
    let until = from.checked_add(jiff::SignedDuration::from_mins(20)).unwrap();
    assert_eq!(held, [Hold::Wait { title: before, least_min: 20, until, reason: None }]);
    assert!(held[0].to_string().starts_with("after soda ash soak, load 1 wait 20 min, until "), "{}", held[0]);
    assert!(run.held(spin, until).is_empty() && run.held(0, from).is_empty() && run.held(999, from).is_empty());
}

/// What was forgotten to be ticked is ticked at the time when it was done: its wait began then, and so does all that follows.
#[test]
fn what_was_done_earlier_is_timed_from_then() {
    let mut run = tee_run();
    as_planned_until(&mut run, "soda ash soak");
    let (soak, spin) = (find(&run, "soda ash soak"), find(&run, "spin"));
    let before = run.clone();
    let begins = run.step(soak).unwrap().from;
    let (done, now) = (begins.saturating_add(5.minutes()), begins.saturating_add(40.minutes()));
    assert_eq!(run.done_already(soak, done, now), Ok(vec![]));
    let waiting = run.now(now).waiting[0].clone();
    assert_eq!((waiting.since, waiting.earliest, waiting.state), (done, done.saturating_add(20.minutes()), WaitState::Open));
    // At once, by hand: the soak's 20 minutes are over, so that the spin can begin.
    assert_eq!(run.now(now).now.iter().chain(&run.now(now).ahead).map(|job| job.step).collect::<Vec<_>>(), [spin]);
    assert_eq!(run.undo().map(|tick| (tick.step, tick.at)), Some((soak, done)));
    assert_eq!(run, before);
}

/// Neither before the step could begin nor later than now.
#[test]
fn what_can_not_have_been_done_then_is_refused() {
    let mut run = tee_run();
    as_planned_until(&mut run, "spin");
    let (soak, spin) = (find(&run, "soda ash soak"), find(&run, "spin"));
    let soaked = run.step(soak).unwrap().finished.unwrap();
    let (ready, now) = (soaked.saturating_add(20.minutes()), soaked.saturating_add(50.minutes()));
    let before = run.clone();
    let said = |result: Result<Vec<RunWarning>, RunError>| result.unwrap_err().say(Voice::FILE);
    let early = said(run.done_already(spin, soaked.saturating_add(19.minutes()), now));
    assert!(
        early.contains("spin, load 1 could not begin by Monday") && early.contains(&ready.strftime("%H:%M").to_string()),
        "{early}"
    );
    let late = said(run.done_already(spin, now.saturating_add(1.minutes()), now));
    assert!(late.contains("spin, load 1 can't be done by Monday"), "{late}");
    assert_eq!(run, before);
    assert_eq!(run.done_already(spin, ready, now), Ok(vec![]));
}

/// A spent bath stays in its vessel to the next day: the next load's water once counted as possible at once, in the vessel that held it.
#[test]
fn a_spent_bath_keeps_its_vessel_to_the_next_day() {
    let hours = vec![Hours { from: "00:00".to_owned(), to: "24:00".to_owned() }];
    let workshop =
        Workshop { tubs: 4, tub_l: 9.0, vessel: Vessel { litres: 6.0, ..Vessel::default() }, hours, ..Workshop::default() };
    let of = OfGarments { count: 2, workshop, scrap_tested: true };
    let (recipe, process) = (crate::recipe("powder-under-ice"), crate::process("discharge-and-dye"));
    let order = Order::of_garments(crate::layout("harbour-row-tee-m.ron"), of, recipe, process).unwrap();
    assert_eq!(order.loads().len(), 2);
    let plan = Plan::new(&order, When::Start(when("2027-05-03T08:00"))).unwrap();
    let mut run = Run::of(&plan).unwrap();
    let of_load = |run: &Run, load: u32, name: &str| {
        run.steps()
            .find(|step| step.load == Some(load) && step.name == name)
            .unwrap_or_else(|| panic!("{name}, load {load}"))
            .number
    };
    // Load 1 as planned until it lies in the rinse, load 2 until its water would be heated.
    let until = [(1, "rinse cold"), (2, "heat the bath")].map(|(load, name)| (load, of_load(&run, load, name)));
    let is_before = |step: &RunStep<'_>| until.iter().all(|(load, stop)| step.load != Some(*load) || step.number < *stop);
    let mut steps: Vec<(DateTime, DateTime, u32)> =
        run.steps().filter(|step| is_before(step)).map(|step| (step.from, step.to, step.number)).collect();
    let in_chain = |number: &u32| {
        let step = run.step(*number).unwrap();
        let stop = until.iter().find(|(load, _)| Some(*load) == step.load).map(|(_, stop)| run.step(*stop).unwrap().from);
        stop.is_none_or(|stop| step.from < stop)
    };
    steps.retain(|(_, _, number)| in_chain(number));
    steps.sort();
    for (from, to, step) in steps {
        let is_first = run.step(step).unwrap().load == Some(1);
        // What load 2 does before is done on the same day.
        let day = run.step(of_load(&run, 1, "discharge")).unwrap().from;
        let at =
            if is_first || run.step(step).unwrap().load.is_none() { from } else { from.min(day.saturating_add((-1).hours())) };
        if run.finish(step, if at == from { to } else { at }).is_err() {
            run.finish(step, to).unwrap();
        }
    }
    let rinse = of_load(&run, 1, "rinse cold");
    let at = run.step(rinse).unwrap().from;
    let heat = of_load(&run, 2, "heat the bath");
    let blocked =
        |run: &Run, at: DateTime| run.now(at).blocked.iter().find(|blocked| blocked.job.step == heat).map(|blocked| blocked.full);
    assert_eq!(blocked(&run, at), Some(Full::Vessel { until: None }), "the first load is still in it: {:?}", run.now(at));
    assert_eq!(run.begin(rinse, at), Ok(vec![]));
    let tomorrow = at.date().tomorrow().unwrap().to_datetime(jiff::civil::Time::midnight());
    assert_eq!(blocked(&run, at), Some(Full::Vessel { until: Some(tomorrow) }));
    let words = Full::Vessel { until: Some(tomorrow) }.to_string();
    assert_eq!(words, format!("a spent bath stays in the discharge vessel until {}", tomorrow.strftime("%A %-d %B")));
    let ahead = run.replan(at).unwrap();
    let expected = ahead.steps.iter().find(|step| step.step == heat).unwrap().from;
    assert!(expected >= tomorrow, "{expected}");
    assert!(ahead.endangered.iter().all(|endangered| !matches!(endangered, Endangered::Vessel { .. })), "{:?}", ahead.endangered);
    // From the next day on it is free; begun before, that is said.
    assert_eq!(blocked(&run, tomorrow), None);
    let warnings = run.clone().begin(heat, at).unwrap();
    assert!(warnings.iter().any(|warning| matches!(warning, RunWarning::VesselTaken { .. })), "{warnings:?}");
    // In a file as in the window.
    assert_eq!(parse_run(&run_text(&run)).unwrap().now(at), run.now(at));
}

/// Every garment has a report of its own: which it is, its load's steps, and when its own parts were tied.
#[test]
fn each_garment_is_reported_by_itself() {
    let of = OfGarments { count: 3, scrap_tested: true, ..OfGarments::default() };
    let (recipe, process) = (crate::recipe("powder-under-ice"), crate::process("discharge-and-dye"));
    let order = Order::of_garments(crate::layout("harbour-row-tee-m.ron"), of, recipe, process).unwrap();
    let mut run = Run::of(&Plan::new(&order, When::Start(when("2027-05-03T08:00"))).unwrap()).unwrap();
    as_planned_until(&mut run, "fold and tie");
    let tie = run.steps().find(|step| step.name == "fold and tie").unwrap();
    let (tie, begins) = (tie.number, tie.from);
    let parts: Vec<_> = run.tied_garments(tie)[1].garment.work.parts().collect();
    for (turn, part) in (0..).zip(&parts) {
        run.part_done(tie, 2, *part, begins.saturating_add((50 + turn).minutes())).unwrap();
    }
    run.note(tie, "damp again").unwrap();
    let reports = run.reports();
    assert_eq!(reports.iter().map(|report| report.garment.as_str()).collect::<Vec<_>>(), ["1 of 3", "2 of 3", "3 of 3"]);
    let own = |turn: usize| reports[turn].times.iter().find(|time| time.starts_with("fold and tie")).unwrap().clone();
    let last = begins.saturating_add((50 + i64::try_from(parts.len()).unwrap() - 1).minutes());
    let (from, count) = (begins.saturating_add(50.minutes()).strftime("%a %-d %b %H:%M"), parts.len());
    assert_eq!(own(1), format!("fold and tie, load 1: {from} to {}, {count} of {count} parts", last.strftime("%H:%M")));
    assert!(own(0).contains("begun ") && own(0) == own(2), "nothing of theirs is ticked: {}", own(0));
    for report in &reports {
        assert_eq!(report.notes, ["fold and tie, load 1: damp again"]);
        assert_eq!(report.of, "Harbour Row tee, M");
    }
    // An only garment needs no number.
    let mut one = tee_run();
    as_planned_until(&mut one, "spin");
    assert_eq!(one.reports().iter().map(|report| report.garment.as_str()).collect::<Vec<_>>(), [""]);
}
