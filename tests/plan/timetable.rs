//! Timetables against rules checked minute by minute, and against every timetable there is.

use crate::{layout, process, recipe, regatta};
use pleatwright::plan::{Place, *};
use proptest::prelude::*;

const DAY: i64 = 1440;
/// Working hours of the problems here: 08:00 to 12:00 and 13:00 to 18:00, every day.
const WINDOWS: [(i64, i64); 2] = [(480, 720), (780, 1080)];

fn calendar(days: i64) -> WorkCalendar {
    let hours = |from: &str, to: &str| Hours { from: from.to_owned(), to: to.to_owned() };
    WorkCalendar::new(&DayHours::of(&[hours("08:00", "12:00"), hours("13:00", "18:00")], &[]).unwrap(), 0, days)
}

fn in_hours(minute: i64) -> bool {
    WINDOWS.iter().any(|&(from, to)| (from..to).contains(&minute.rem_euclid(DAY)))
}

fn next_in_chain(problem: &Problem, task: usize) -> Option<usize> {
    let mut at = 0;
    for &count in &problem.chains {
        if task < at + count {
            return (task + 1 < at + count).then_some(task + 1);
        }
        at += count;
    }
    None
}

/// What is wrong with a timetable, found by going through it minute by minute: hard rules, and most waits exceeded.
fn faults(problem: &Problem, starts: &[i64]) -> (Vec<String>, usize) {
    let mut hard = Vec::new();
    let mut late = 0;
    let end = starts.iter().max().unwrap() + 3 * DAY;
    let mut hands = vec![0_u32; usize::try_from(end).unwrap()];
    let mut places = vec![[0_u32; 6]; hands.len()];
    let mut vessels = vec![0_u32; hands.len() + usize::try_from(DAY).unwrap()];
    for (task, own) in problem.tasks.iter().enumerate() {
        let done = starts[task] + own.hands_min;
        for minute in starts[task]..done {
            hands[usize::try_from(minute).unwrap()] += 1;
            if !in_hours(minute) {
                hard.push(format!("task {task} out of hours at {minute}"));
            }
        }
        let next = next_in_chain(problem, task);
        if let Some(next) = next {
            let waited = starts[next] - done;
            if waited < own.least_min {
                hard.push(format!("task {task} waits {waited}"));
            }
            late += usize::from(own.most_min.is_some_and(|most| waited > most));
        }
        for &earlier in &own.after {
            let other = &problem.tasks[earlier];
            if starts[task] < starts[earlier] + other.hands_min + other.least_min {
                hard.push(format!("task {task} before {earlier}"));
            }
        }
        let leaves =
            if own.holds { next.map_or(done + own.least_min, |next| starts[next].max(done + own.least_min)) } else { done };
        if own.vessel {
            // Until the next task of the same bath begins; from the last one to the end of the day.
            let free = match next.filter(|&next| problem.tasks[next].vessel) {
                Some(next) => starts[next],
                None => (leaves.div_euclid(DAY) + 1) * DAY,
            };
            for minute in starts[task]..free {
                vessels[usize::try_from(minute).unwrap()] += 1;
            }
        }
        if let Some(place) = own.place {
            for minute in starts[task]..leaves {
                places[usize::try_from(minute).unwrap()][place as usize] += own.takes;
            }
        }
    }
    for (minute, (&busy, held)) in hands.iter().zip(&places).enumerate() {
        if busy > 1 {
            hard.push(format!("{busy} tasks for one pair of hands at {minute}"));
        }
        for place in Place::ALL {
            if held[place as usize] > problem.room.of(place) {
                hard.push(format!("{place} overfull at {minute}"));
            }
        }
    }
    for (minute, &baths) in vessels.iter().enumerate().filter(|(_, baths)| **baths > problem.room.vessels()) {
        hard.push(format!("{baths} baths in the vessels at {minute}"));
    }
    (hard, late)
}

fn task() -> impl Strategy<Value = Task> {
    let halves = |most: i64| (0..=most).prop_map(|n| 30 * n);
    let wait = prop_oneof![3 => halves(4), 1 => Just(600_i64)];
    let most = prop_oneof![2 => Just(None), 2 => halves(4).prop_map(Some), 1 => Just(Some(1440))];
    let place = prop_oneof![1 => Just(None), 3 => prop::sample::select(Place::ALL.to_vec()).prop_map(Some)];
    let place = (place, prop::bool::weighted(0.3));
    (halves(4), wait, most, any::<bool>(), place, 1..3_u32).prop_map(
        |(hands_min, least_min, more, holds, (place, vessel), takes)| Task {
            hands_min,
            least_min,
            most_min: more.map(|more: i64| least_min + more),
            holds,
            place,
            takes: if place == Some(Place::Rack) { takes } else { 1 },
            vessel,
            after: Vec::new(),
        },
    )
}

/// Chains of tasks; with `named`, the last task of every later chain needs the first chain.
fn problem(chains: std::ops::Range<usize>, length: std::ops::Range<usize>) -> impl Strategy<Value = Problem> {
    let chains = prop::collection::vec(prop::collection::vec(task(), length), chains);
    (chains, any::<bool>(), 1..3_u32).prop_map(|(chains, named, tubs)| {
        let counts: Vec<usize> = chains.iter().map(Vec::len).collect();
        let mut tasks = chains.concat();
        if named && counts.len() > 1 {
            tasks.last_mut().unwrap().after = vec![counts[0] - 1];
        }
        Problem { tasks, chains: counts, room: Capacities::new(tubs, 1, 1, 1, 2).with_vessels(tubs) }
    })
}

/// Whether any timetable on a grid of half hours is over before `finish`: tried one task after another, all of them.
fn better_exists(problem: &Problem, from: i64, finish: i64) -> bool {
    fn go(problem: &Problem, from: i64, finish: i64, starts: &mut Vec<i64>) -> bool {
        let task = starts.len();
        if task == problem.tasks.len() {
            let (hard, late) = faults(problem, starts);
            return hard.is_empty() && late == 0;
        }
        let own = &problem.tasks[task];
        let follows = task > 0 && next_in_chain(problem, task - 1) == Some(task);
        let (mut at, mut until) = (from, finish - 1 - own.hands_min - own.least_min);
        if follows {
            let before = &problem.tasks[task - 1];
            let done = starts[task - 1] + before.hands_min;
            at = done + before.least_min;
            until = before.most_min.map_or(until, |most| until.min(done + most));
        }
        while at <= until {
            let busy = |other: usize| at < starts[other] + problem.tasks[other].hands_min && starts[other] < at + own.hands_min;
            let hands_free = own.hands_min == 0 || !(0..task).any(|other| problem.tasks[other].hands_min > 0 && busy(other));
            let open = (at..at + own.hands_min).step_by(30).all(in_hours);
            if hands_free && open {
                starts.push(at);
                if go(problem, from, finish, starts) {
                    return true;
                }
                starts.pop();
            }
            at += 30;
        }
        false
    }
    go(problem, from, finish, &mut Vec::new())
}

fn seeded(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, rng_seed: proptest::test_runner::RngSeed::Fixed(5), ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(seeded(200))]

    /// Hands, places, hours and least waits are always kept; most waits are kept or reported.
    #[test]
    fn forward_timetables_keep_the_rules(problem in problem(1..5, 1..5)) {
        let calendar = calendar(60);
        let solution = solve_forward(&problem, &calendar, 500, &|_| true).unwrap();
        let (hard, late) = faults(&problem, &solution.starts);
        prop_assert!(hard.is_empty(), "{:?}", hard);
        prop_assert!(solution.starts.iter().all(|&start| start >= 500));
        let reported = conflicts(&problem, &calendar, &solution.starts, None);
        let too_long = |conflict: &&Conflict| matches!(conflict, Conflict::WaitTooLong { .. });
        prop_assert_eq!(reported.iter().filter(too_long).count(), late);
        prop_assert_eq!(reported.len(), late, "{:?}", reported);
        prop_assert_eq!(solve_forward(&problem, &calendar, 500, &|_| true).unwrap(), solution);
    }

    /// Backward timetables are over by the deadline and keep the same rules.
    #[test]
    fn backward_timetables_meet_the_deadline(problem in problem(1..4, 1..4)) {
        let calendar = calendar(90);
        let deadline = 80 * DAY + 900;
        let solution = solve_backward(&problem, &calendar, deadline, &|_| true).unwrap();
        prop_assert!(problem.finish(&solution.starts) <= deadline);
        prop_assert!(faults(&problem, &solution.starts).0.is_empty());
    }

    /// What is broken on purpose is reported.
    #[test]
    fn the_judge_sees_what_the_minutes_show(problem in problem(2..4, 1..4), shifts in prop::collection::vec(-4..5_i64, 12)) {
        let calendar = calendar(60);
        let mut starts = solve_forward(&problem, &calendar, 2 * DAY, &|_| true).unwrap().starts;
        for (start, shift) in starts.iter_mut().zip(shifts) {
            *start += 30 * shift;
        }
        let (hard, late) = faults(&problem, &starts);
        let reported = conflicts(&problem, &calendar, &starts, None);
        prop_assert_eq!(hard.is_empty() && late == 0, reported.is_empty(), "{:?} {:?}", hard, reported);
    }
}

proptest! {
    #![proptest_config(seeded(60))]

    /// On small orders nothing beats the timetable that is called optimal.
    #[test]
    fn small_orders_are_optimal(problem in problem(2..4, 1..3)) {
        let calendar = calendar(30);
        let solution = solve_forward(&problem, &calendar, 480, &|_| true).unwrap();
        let finish = problem.finish(&solution.starts);
        // Long ones have too many timetables to try.
        prop_assume!(faults(&problem, &solution.starts).1 == 0 && finish <= 480 + 900);
        prop_assert!(solution.optimal);
        // The search itself finds what there is: a timetable as good as this one.
        prop_assert!(better_exists(&problem, 480, finish + 1));
        prop_assert!(!better_exists(&problem, 480, finish), "better than {} for {:?}", finish, problem);
    }
}

fn when(text: &str) -> jiff::civil::DateTime {
    text.parse().unwrap()
}

#[test]
fn the_example_order_keeps_every_limit() {
    let order = regatta();
    let plan = Plan::new(&order, When::Start(when("2027-05-03T08:00"))).unwrap();
    assert_eq!(plan.timeline.conflicts, [] as [&str; 0]);
    assert_eq!(plan.timeline.begins, when("2027-05-03T08:00"));
    for entry in &plan.timeline.entries {
        for stretch in &entry.stretches {
            assert!(stretch.from < stretch.to && stretch.from.weekday() != jiff::civil::Weekday::Sunday, "{}", entry.step);
            assert!(
                stretch.from.time() >= when("2027-05-03T08:00").time() && stretch.to.time() <= when("2027-05-03T19:00").time()
            );
        }
        if let Some(next) = entry.next {
            assert!(entry.ready.is_none_or(|ready| ready <= next), "{} is ended too soon", entry.step);
            assert!(entry.latest.is_none_or(|latest| next <= latest), "{} waits too long", entry.step);
        }
    }
    // Soak 20 minutes at least, rest 24 hours at least: common practice, no source.
    let waits = |step: &str| -> Vec<i64> {
        let of_step = plan.timeline.entries.iter().filter(|entry| entry.step == step);
        of_step
            .map(|entry| {
                entry.stretches.last().unwrap().to.until((jiff::Unit::Minute, entry.next.unwrap())).unwrap().get_minutes()
            })
            .collect()
    };
    assert!(waits("soda ash soak").iter().all(|&minutes| (20..=60).contains(&minutes)));
    assert!(waits("cure").len() == 4 && waits("cure").iter().all(|&minutes| minutes >= 1440));
}

#[test]
fn a_deadline_is_met_as_late_as_possible() {
    let order = regatta();
    let deadline = when("2027-06-12T09:00");
    let plan = Plan::new(&order, When::Deadline(deadline)).unwrap();
    assert!(plan.timeline.ends <= deadline && plan.timeline.conflicts.is_empty());
    // Not needlessly early: within four days, for a Sunday and nights are no time for hands.
    assert!(plan.timeline.ends >= when("2027-06-08T09:00"), "{}", plan.timeline.ends);
    let late = Plan::new(&order, When::Between { start: when("2027-05-03T08:00"), deadline: when("2027-05-06T08:00") }).unwrap();
    assert!(late.untimely.unwrap().sentences()[0].starts_with("The deadline can't be met: Thursday 6 May 2027, 08:00."));
}

/// Two hours of work a day can't end a soak within two hours and begin it six hours before: said, not hidden.
#[test]
fn what_cannot_be_kept_is_said() {
    let mut process = process("plain-dye");
    let soak = process.steps.iter_mut().find(|step| step.name == "soda ash soak").unwrap();
    soak.wait = Some(Wait { least_min: 360, most_min: Some(420) });
    let hours = vec![Hours { from: "09:00".to_owned(), to: "11:00".to_owned() }];
    let workshop = Workshop { hours, ..Workshop::default() };
    let order = Order::of_layout(layout("harbour-row-tote.ron"), recipe("powder-on-white"), process, workshop).unwrap();
    let plan = Plan::new(&order, When::Start(when("2027-05-03"))).unwrap();
    let said = &plan.timeline.conflicts;
    assert!(said.iter().any(|conflict| conflict.contains("soda ash soak waits") && conflict.contains("at most 7 h")), "{said:?}");
}

/// Many loads of one rack: each garment is planned, none waits too long, and no place is over-full.
#[test]
fn a_large_order_is_planned_without_conflicts() {
    let (layout, process) = (layout("harbour-row-tote.ron"), process("plain-dye"));
    let workshop = Workshop { rack_rods: 3, ..Workshop::default() };
    let of = OfGarments { count: 300, workshop, scrap_tested: true };
    let order = Order::of_garments(layout, of, recipe("powder-on-white"), process).unwrap();
    let plan = Plan::new(&order, When::Start(when("2027-05-03T08:00"))).unwrap();
    assert_eq!((plan.garments, plan.loads.len()), (300, 100));
    assert_eq!(plan.timeline.conflicts, Vec::<String>::new());
}

/// Told how far it is, stopped at any moment, and then nothing is said to be planned.
#[test]
fn planning_is_told_about_and_stopped() {
    let shares = std::cell::RefCell::new(Vec::new());
    let task = Task { hands_min: 30, least_min: 60, holds: true, place: Some(Place::Tub), takes: 1, ..Task::default() };
    let problem = Problem { tasks: vec![task; 50], chains: vec![1; 50], room: Capacities::new(1, 1, 1, 1, 1) };
    let calendar = calendar(60);
    let tell = |done: f64| {
        shares.borrow_mut().push(done);
        true
    };
    let solution = solve_backward(&problem, &calendar, 50 * DAY, &tell).unwrap();
    let shares = shares.into_inner();
    assert!(shares.is_sorted() && shares[0] < 0.05 && shares.iter().all(|share| (0.0..=1.0).contains(share)));
    assert_eq!(solve_backward(&problem, &calendar, 50 * DAY, &|_| true), Some(solution));
    for stop_at in [0, 1, 49, 50, 51, shares.len() - 1] {
        let told = std::cell::Cell::new(0);
        let go_on = |_| told.replace(told.get() + 1) < stop_at;
        assert_eq!(solve_backward(&problem, &calendar, 50 * DAY, &go_on), None, "{stop_at} of {}", shares.len());
        assert_eq!(told.get(), stop_at + 1, "it went on after it was stopped");
    }
    let cancel = pleatwright::reveal::Cancel::new();
    cancel.cancel();
    let stopped = Plan::watched(&regatta(), When::Start(when("2027-05-03T08:00")), &WallClock::unchanged(), &cancel);
    assert_eq!(stopped, Err(PlanError::Stopped));
}
