//! A run timed anew from where it stands, and waits over a change of the clock: reckoned by hand.

use crate::{regatta, tested_tee};
use jiff::ToSpan as _;
use jiff::civil::DateTime;
use pleatwright::plan::*;
use pleatwright::store::{parse_run, run_text};
use std::collections::BTreeMap;

fn when(text: &str) -> DateTime {
    text.parse().unwrap()
}

fn later(time: DateTime, minutes: i64) -> DateTime {
    time.saturating_add(minutes.minutes())
}

fn run_of(order: &Order) -> (Plan, Run) {
    let plan = Plan::new(order, When::Start(when("2027-05-03T08:00"))).unwrap();
    let run = Run::of(&plan).unwrap();
    (plan, run)
}

fn find(run: &Run, name: &str) -> u32 {
    run.steps().find(|step| step.name == name).unwrap_or_else(|| panic!("no step {name}")).number
}

/// Does every step as planned, up to and without `name`.
fn as_planned_until(run: &mut Run, name: &str) {
    let steps: Vec<_> = run.steps().take_while(|step| step.name != name).map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in steps {
        run.begin(step, from).unwrap();
        run.finish(step, to).unwrap();
    }
}

/// Nothing done late: every step keeps its planned time, in a large order too.
#[test]
fn as_long_as_all_goes_as_planned_nothing_moves() {
    for order in [tested_tee(), regatta()] {
        let (plan, mut run) = run_of(&order);
        let mut ticks: Vec<(DateTime, bool, u32)> =
            run.steps().flat_map(|step| [(step.from, true, step.number), (step.to, false, step.number)]).collect();
        ticks.sort_unstable();
        for (turn, (at, begins, number)) in ticks.into_iter().enumerate() {
            if turn % 7 == 0 {
                let replan = run.replan(at).unwrap();
                let moved: Vec<_> = replan.steps.iter().filter(|ahead| ahead.moved_min != 0).collect();
                assert!(moved.is_empty(), "{} at {at}, turn {turn}: {moved:?}", plan.name);
                assert_eq!(replan.endangered, []);
                assert_eq!((replan.ends, replan.planned_end), (plan.timeline.ends, plan.timeline.ends), "{} at {at}", plan.name);
                assert_eq!(replan.steps.len(), run.steps().filter(|step| step.finished.is_none()).count());
            }
            if begins {
                run.begin(number, at).unwrap()
            } else {
                run.finish(number, at).unwrap()
            };
        }
        assert_eq!(run.replan(plan.timeline.ends).unwrap().steps, []);
    }
}

/// A plan that begins on a Monday at 08:00, its wash done on the Friday evening before. By hand, with hours from 08:00 to 20:00 on every day
/// but Sunday: the wash waits 1 h to 12 h (common practice, no source), so from 22:07 until 23:07 at least and 10:07 at most, and hands come
/// back on Saturday at 08:00. It once "could begin" only on the Monday while it was under way, then at the last minute of the limit.
#[test]
fn what_follows_work_begun_ahead_is_timed_from_what_was_done() {
    let days_off = vec![Weekday::Sunday];
    let of = OfGarments { scrap_tested: true, workshop: Workshop { days_off, ..Workshop::default() }, ..OfGarments::default() };
    let order = Order::of_garments(
        crate::layout("harbour-row-tee-m.ron"),
        of,
        crate::recipe("powder-under-ice"),
        crate::process("discharge-and-dye"),
    )
    .unwrap();
    let (_, mut run) = run_of(&order);
    let (wash, fold) = (find(&run, "wash"), find(&run, "fold and tie"));
    for step in run.steps().map(|step| step.number).take_while(|&step| step != wash).collect::<Vec<_>>() {
        run.finish(step, when("2027-04-30T21:00")).unwrap();
    }
    let expected = |run: &Run, at: &str| {
        let replan = run.replan(when(at)).unwrap();
        assert_eq!(replan.endangered, [], "at {at}");
        replan.steps.iter().find(|ahead| ahead.step == fold).unwrap().from
    };
    let saturday = when("2027-05-01T08:00");
    // Before it is begun everything is as planned.
    assert_eq!(expected(&run, "2027-04-30T21:30"), run.step(fold).unwrap().from);
    run.begin(wash, when("2027-04-30T22:00")).unwrap();
    assert_eq!(expected(&run, "2027-04-30T22:01"), saturday);
    run.finish(wash, when("2027-04-30T22:07")).unwrap();
    for at in ["2027-04-30T22:08", "2027-04-30T23:30"] {
        assert_eq!(expected(&run, at), saturday);
        let view = run.now(when(at));
        assert!(view.now.is_empty() && view.late.is_empty(), "{view:?}");
        assert_eq!(view.idle_until, Some(saturday), "at {at}");
    }
    let [next] = &run.now(when("2027-04-30T22:08")).next[..] else { panic!("one step is next") };
    assert_eq!((next.step, next.not_before), (fold, saturday));
    assert_eq!(run.now(saturday).now.iter().map(|job| job.step).collect::<Vec<_>>(), [fold]);
}

/// The soak is done 90 min later than planned. At least 20 min in the soda, 10 min after the spin (common practice, no source): spin and
/// drying move as much, and so does what the dry rods wait for: a day and an hour on the line end in working hours either way.
#[test]
fn what_was_done_late_moves_what_follows() {
    let (_, mut run) = run_of(&tested_tee());
    as_planned_until(&mut run, "soda ash soak");
    let soak = find(&run, "soda ash soak");
    let step = run.step(soak).unwrap();
    let (from, to) = (later(step.from, 90), later(step.to, 90));
    run.begin(soak, from).unwrap();
    run.finish(soak, to).unwrap();
    let replan = run.replan(later(to, 1)).unwrap();
    let ahead = |name: &str| replan.steps.iter().find(|ahead| ahead.step == find(&run, name)).unwrap().clone();
    let spin = ahead("spin");
    assert_eq!((spin.from, spin.moved_min, spin.planned), (later(to, 20), 90, run.step(spin.step).unwrap().from));
    assert_eq!(spin.ready, Some(later(spin.to, 10)));
    assert_eq!((ahead("dry").from, ahead("dry").moved_min), (spin.ready.unwrap(), 90));
    assert_eq!(ahead("lay and sprinkle").moved_min, 90);
    assert_eq!(replan.endangered, []);
}

/// Soaked a quarter of an hour before the workshop closes at 20:00: the least 20 min are over at 20:05, the most of an hour at 20:45, and
/// hands come back at 08:00: 11 h 15 min too long. That is said while there is time to do otherwise.
#[test]
fn a_limit_that_will_be_missed_is_said_beforehand() {
    let (_, mut run) = run_of(&tested_tee());
    as_planned_until(&mut run, "soda ash soak");
    run.finish(find(&run, "soda ash soak"), when("2027-05-03T19:45")).unwrap();
    let replan = run.replan(when("2027-05-03T19:46")).unwrap();
    let [said] = &replan.endangered[..] else { panic!("{:?}", replan.endangered) };
    assert_eq!(
        said.to_string(),
        "soda ash soak, load 1 may wait 1 h at most, until Monday 3 May, 20:45; spin, load 1 can begin Tuesday 4 May, 08:00: 11 h 15 min too long"
    );
    assert!(replan.ends > replan.planned_end);
}

/// At most 20 min in the discharge (common practice, no source), the first 15 with somebody beside it; then nobody came for 40.
#[test]
fn a_limit_that_is_missed_is_said_with_how_much() {
    let (_, mut run) = run_of(&tested_tee());
    as_planned_until(&mut run, "rinse cold");
    let at = later(run.step(find(&run, "discharge")).unwrap().to, 40);
    let replan = run.replan(at).unwrap();
    let by = |endangered: &Endangered| if let Endangered::Wait { by_min, .. } = endangered { Some(*by_min) } else { None };
    assert_eq!(replan.endangered.iter().filter_map(by).collect::<Vec<_>>(), [35]);
    assert_eq!(replan.steps[0].from, at);
}

/// Whatever is late, the new times keep what the process asks: waits, working hours, one pair of hands.
#[test]
fn new_times_keep_waits_hands_and_hours() {
    let (_, mut run) = run_of(&regatta());
    let steps: Vec<_> = run.steps().take(18).map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in steps {
        run.begin(step, later(from, 100)).unwrap();
        run.finish(step, later(to, 100)).unwrap();
    }
    let at = run.steps().filter_map(|step| step.finished).max().unwrap();
    let replan = run.replan(at).unwrap();
    assert!(replan.steps.iter().any(|ahead| ahead.moved_min > 0));
    let mut loads: BTreeMap<Option<u32>, Vec<&Ahead>> = BTreeMap::new();
    for ahead in &replan.steps {
        assert!(ahead.from >= at && ahead.to >= ahead.from);
        for time in [ahead.from, ahead.to] {
            let minute = i32::from(time.hour()) * 60 + i32::from(time.minute());
            assert!((480..=1140).contains(&minute) && time.weekday() != jiff::civil::Weekday::Sunday, "{ahead:?}");
        }
        loads.entry(run.step(ahead.step).unwrap().load).or_default().push(ahead);
    }
    let said: Vec<String> = replan.endangered.iter().map(ToString::to_string).collect();
    for pair in loads.values().flat_map(|of_load| of_load.windows(2)) {
        assert!(pair[0].ready.unwrap_or(pair[0].to) <= pair[1].from, "{pair:?}");
        let title = run.step(pair[0].step).unwrap().title();
        let is_kept = pair[0].latest.is_none_or(|latest| pair[1].from <= latest);
        assert!(is_kept || said.iter().any(|said| said.contains(&title)), "{pair:?}");
    }
    // Folding may pause for other work; everything else takes hands from its begin to its end.
    let mut busy: Vec<&Ahead> = replan
        .steps
        .iter()
        .filter(|ahead| run.step(ahead.step).unwrap().name != "fold and tie" && ahead.to > ahead.from)
        .collect();
    busy.sort_by_key(|ahead| ahead.from);
    assert!(busy.windows(2).all(|pair| pair[0].to <= pair[1].from));
}

/// IANA tz database: in Europe/Berlin the clock is put back on 25 October 2026 at 03:00 and forward on 28 March 2027 at 02:00, in
/// `America/New_York` back on 1 November 2026 at 02:00. A rest of 24 hours that begins at noon the day before is over at eleven, or at one.
#[test]
fn a_rest_over_a_change_of_the_clock_is_a_true_day() {
    for (zone, noon, over, put) in [
        ("Europe/Berlin", "2026-10-24T12:00", "2026-10-25T11:00", "put back 1 h on Sunday 25 October 2026 at 03:00"),
        ("Europe/Berlin", "2027-03-27T12:00", "2027-03-28T13:00", "put forward 1 h on Sunday 28 March 2027 at 02:00"),
        ("America/New_York", "2026-10-31T12:00", "2026-11-01T11:00", "put back 1 h on Sunday 1 November 2026 at 02:00"),
    ] {
        let clock = WallClock::of_zone(zone).unwrap();
        let start = when(noon).date().yesterday().unwrap().at(8, 0, 0, 0);
        let plan = Plan::by_clock(&tested_tee(), When::Start(start), &clock).unwrap();
        assert!(plan_text(&plan, false).split_whitespace().collect::<Vec<_>>().join(" ").contains(put), "{zone}");
        // Every wait of the plan is as long as the process says, and work lies within the hours of the clock.
        for entry in &plan.timeline.entries {
            let (wait, end) = (entry.wait.unwrap_or_default(), entry.stretches.last().unwrap().to);
            let passed = |time: DateTime| clock.minutes(end, time);
            assert_eq!(entry.ready.and_then(passed).unwrap_or(0), i64::from(wait.least_min), "{zone}: {}", entry.step);
            assert_eq!(entry.latest.and_then(passed), wait.most_min.map(i64::from), "{zone}: {}", entry.step);
            assert!((8..20).contains(&entry.begins().hour()), "{zone}: {} at {}", entry.step, entry.begins());
        }
        let mut run = Run::of(&plan).unwrap();
        let open: Vec<u32> = run.steps().take_while(|step| step.name != "cure").map(|step| step.number).collect();
        open.into_iter().for_each(|step| run.leave_out(step, start).unwrap());
        run.finish(find(&run, "cure"), when(noon)).unwrap();
        let waiting = run.now(when(noon)).waiting.pop().unwrap();
        assert_eq!((waiting.earliest, waiting.to_earliest_s), (when(over), 24 * 3600), "{zone}");
        let view = run.now(later(when(over), -1));
        assert_eq!((view.waiting[0].state, view.waiting[0].to_earliest_s), (WaitState::Closed, 60), "{zone}");
        assert_eq!(run.now(when(over)).waiting[0].state, WaitState::Open, "{zone}");
        let rinse = run.replan(when(noon)).unwrap().steps[0].clone();
        assert!(rinse.from >= when(over) && (8..20).contains(&rinse.from.hour()), "{zone}: {rinse:?}");
    }
}

/// Ticked at 02:40, and the next at 02:10 when that comes again: half an hour of true time, no step backward.
#[test]
fn the_hour_that_comes_twice_can_be_ticked_through() {
    let clock = WallClock::of_zone("Europe/Berlin").unwrap();
    let plan = Plan::by_clock(&tested_tee(), When::Start(when("2026-10-24T08:00")), &clock).unwrap();
    let mut run = Run::of(&plan).unwrap();
    as_planned_until(&mut run, "soda ash soak");
    let (soak, spin) = (find(&run, "soda ash soak"), find(&run, "spin"));
    run.finish(soak, when("2026-10-25T02:40")).unwrap();
    assert_eq!(run.begin(spin, when("2026-10-25T02:10")), Ok(vec![]));
    let judged = run.verdict(soak).unwrap();
    assert_eq!((judged.waited_min(), judged.verdict), (30, Verdict::Kept));
    assert_eq!(run.step(spin).unwrap().begun, Some(when("2026-10-25T02:10")));
    let text = run_text(&run);
    assert_eq!(parse_run(&text).unwrap(), run);
    let said = parse_run(&text.replace("Europe/Berlin", "Harbour/Row")).unwrap_err().1.to_string();
    assert!(said.contains("zone: not a time zone: \"Harbour/Row\""), "{said}");
}
