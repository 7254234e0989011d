//! When a run calls: at the end of a wait, before its limit, after it; once, until it is acknowledged.

use crate::tested_tee;
use jiff::ToSpan as _;
use jiff::civil::DateTime;
use pleatwright::plan::*;
use pleatwright::store::*;

/// One tee, everything done as planned up to and with a step; when that was done.
fn after(name: &str) -> (Run, u32, DateTime) {
    let start = "2027-05-03T08:00".parse().unwrap();
    let mut run = Run::of(&Plan::new(&tested_tee(), When::Start(start)).unwrap()).unwrap();
    let last = run.steps().position(|step| step.name == name).unwrap();
    let steps: Vec<_> = run.steps().take(last + 1).map(|step| (step.number, step.from, step.to)).collect();
    for &(step, from, to) in &steps {
        assert_eq!((run.begin(step, from), run.finish(step, to)), (Ok(vec![]), Ok(vec![])));
    }
    let (step, _, at) = steps[last];
    (run, step, at)
}

fn of(run: &Run, step: u32) -> Vec<(AlarmKind, DateTime)> {
    run.alarms().iter().filter(|alarm| alarm.step == step).map(|alarm| (alarm.kind, alarm.at)).collect()
}

/// The soak waits 20 min to 1 h (common practice, no source): it calls after 20 min, a fifth of the hour before its end, and after it.
#[test]
fn a_wait_calls_when_it_ends_before_its_limit_and_after_it() {
    let (run, soak, done) = after("soda ash soak");
    let at = |minutes: i64| done.saturating_add(minutes.minutes());
    let all = [(AlarmKind::Ready, at(20)), (AlarmKind::Closing, at(48)), (AlarmKind::Overdue, at(60).saturating_add(1.second()))];
    assert_eq!(of(&run, soak), all);
    let standing = |at: DateTime| run.standing_alarms(at).iter().map(Alarm::sentence).collect::<Vec<_>>();
    assert_eq!(standing(at(20).saturating_sub(1.second())), [""; 0]);
    let clock = |minutes: i64| at(minutes).strftime("%H:%M").to_string();
    let (title, next) = ("soda ash soak, load 1", "spin, load 1");
    assert_eq!(standing(at(20)), [format!("{title}: the wait is over. Next: {next} by {}.", clock(60))]);
    assert_eq!(standing(at(48)), [format!("{title}: its time runs out. Start {next} by {}.", clock(60))]);
    assert_eq!(standing(at(60)), [format!("{title}: its time runs out. Start {next} by {}.", clock(60))]);
    assert_eq!(standing(at(61)), [format!("{title}: too long since {}. Start {next} now.", clock(60))]);
}

/// A wait that only may not last: nothing is ready, and little time is left. A discharge may wait 5 min (the plan's own limit).
#[test]
fn a_short_limit_is_warned_of_a_minute_before() {
    let (run, discharge, done) = after("discharge");
    let wait = run.step(discharge).unwrap().wait.unwrap();
    let at = |minutes: i64| done.saturating_add(minutes.minutes());
    let most = i64::from(wait.most_min.unwrap());
    let kinds: Vec<AlarmKind> = of(&run, discharge).iter().map(|(kind, _)| *kind).collect();
    if wait.least_min == 0 {
        assert_eq!(kinds, [AlarmKind::Closing, AlarmKind::Overdue]);
    }
    let closing = of(&run, discharge).into_iter().find(|(kind, _)| *kind == AlarmKind::Closing);
    assert_eq!(closing, Some((AlarmKind::Closing, at(most - (most / 5).clamp(1, 15)))));
}

#[test]
fn an_alarm_is_acknowledged_once_and_comes_again_only_with_another_wait() {
    let (mut run, soak, done) = after("soda ash soak");
    run.acknowledge(soak, AlarmKind::Closing).unwrap();
    let kept = parse_run(&run_text(&run)).unwrap();
    assert_eq!(kept, run);
    // What came before it is heard too.
    assert_eq!(of(&kept, soak).iter().map(|(kind, _)| *kind).collect::<Vec<_>>(), [AlarmKind::Overdue]);
    // Taken back and done again, it is another wait.
    run.undo();
    assert!(of(&run, soak).is_empty());
    run.finish(soak, done.saturating_add(5.minutes())).unwrap();
    assert_eq!(of(&run, soak).len(), 3);
    // The next step ends the wait and its alarms.
    let spin = run.steps().find(|step| step.name == "spin").unwrap().number;
    run.begin(spin, done.saturating_add(30.minutes())).unwrap();
    assert!(of(&run, soak).is_empty());
    assert!(run.acknowledge(999, AlarmKind::Ready).is_err());
}
