//! The run under the maker's hands: presses, portions, waiting, and windows of every size.

use crate::harness::{SIZE, TEE, Window, click, planned_day, wait, window_with, write};
use egui::accesskit::Role;
use egui::{Event, Modifiers, PointerButton, Pos2, Rect, Shape, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use jiff::civil::DateTime;
use jiff::{SignedDuration, ZonedDateTime};
use pleatwright::app::App;
use pleatwright::plan::{Hours, Mark, Order, Plan, Run, When, Workshop};
use pleatwright::store::{EXAMPLE_LAYOUTS, OfLayout, order_of_layout, parse_layout, read_run, save_run};
use std::path::Path;

pub(crate) fn order(count: u32) -> Order {
    let hours = vec![Hours { from: "00:00".to_owned(), to: "24:00".to_owned() }];
    let workshop = Workshop { hours, days_off: Vec::new(), ..Workshop::default() };
    let of = OfLayout { count, workshop, scrap_tested: true, ..OfLayout::default() };
    order_of_layout(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap(), of).unwrap()
}

pub(crate) fn run(order: &Order, start: DateTime) -> Run {
    Run::of(&Plan::new(order, When::Start(start)).unwrap()).unwrap()
}

/// Ticks every step off as planned, up to and without one; without a name none.
pub(crate) fn as_planned_until(run: &mut Run, name: &str) {
    let steps: Vec<_> = run.steps().take_while(|step| step.name != name).map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in steps {
        run.begin(step, from).unwrap();
        run.finish(step, to).unwrap();
    }
}

/// The window at a run that is under way.
pub(crate) fn at_run(home: &Path, run: &Run, size: Vec2) -> Window {
    save_run(&home.join("run.ron"), run).unwrap();
    let mut window = window_with(home, None, size);
    click(&mut window, "Continue the run");
    window
}

pub(crate) fn long_ago() -> DateTime {
    "2020-05-04T08:00".parse().unwrap()
}

/// Two presses at one place of a control, so far down it, a fifth of a second apart: the window has shown what the first one did.
fn double_click(window: &mut Window, label: &str, down: f32) {
    window.get_by_label(label).scroll_to_me();
    window.run_ok();
    let rect = window.get_by_label(label).rect();
    let pos = rect.center_top() + vec2(0.0, down * rect.height());
    window.event(Event::PointerMoved(pos));
    // As long after the window was opened as a hand needs.
    (0..40).for_each(|_| window.step());
    for _ in 0..2 {
        for pressed in [true, false] {
            window.event(Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE });
        }
        (0..2).for_each(|_| window.step());
    }
    window.run_ok();
}

/// "Done" once came to lie under the pointer that had pressed "Start", and the second press of a double click ticked it.
#[test]
fn a_double_click_begins_and_does_not_tick() {
    let title = "read the label";
    // That it is late is no longer said once it is begun: all below moves up by a line, and another part of it lies under the pointer.
    for down in [0.1, 0.3, 0.5, 0.9] {
        let home = tempfile::tempdir().unwrap();
        save_run(&home.path().join("run.ron"), &run(&order(1), long_ago())).unwrap();
        let folder = home.path().to_owned();
        // A frame lasts a twentieth of a second, and each event takes one.
        let mut window: Window = Harness::builder()
            .with_size(SIZE)
            .with_max_steps(60)
            .with_step_dt(0.05)
            .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(folder), None));
        click(&mut window, "Continue the run");
        double_click(&mut window, &format!("Start: {title}"), down);
        let ticks = || read_run(&home.path().join("run.ron")).unwrap().raw().ticks.clone();
        let marks = || ticks().iter().map(|tick| tick.mark).collect::<Vec<_>>();
        assert_eq!(marks(), [Mark::Begun], "{down}");
        // One press later it counts.
        (0..20).for_each(|_| window.step());
        click(&mut window, &format!("Done: {title}"));
        assert_eq!(marks(), [Mark::Begun, Mark::Finished], "{down}");
    }
}

/// With three garments the run once showed only what all of them take.
#[test]
fn every_pot_is_told_and_the_sum_as_a_sum() {
    let home = tempfile::tempdir().unwrap();
    let order = order(3);
    let mut run = run(&order, long_ago());
    as_planned_until(&mut run, "weigh out");
    let window = at_run(home.path(), &run, SIZE);
    let dye = |name: &str| order.lines()[0].masses.dyes.iter().find(|dye| dye.colour == name).unwrap().dye.to_string();
    for turn in 1..=3 {
        let pot = format!("{TEE}, {turn} of 3: dye, teal: {};", dye("teal"));
        assert_eq!(window.query_all_by_label_contains(&pot).count(), 1, "{pot}");
    }
    assert!(window.query_by_label_contains("Together for all 3 garments: dye, teal: ").is_some());
}

/// "Nothing has to be done until" once left no way to go on, and no reason.
#[test]
fn waiting_says_why_and_until_when() {
    let home = tempfile::tempdir().unwrap();
    let order = order(1);
    let planned = run(&order, long_ago());
    let waits = planned.steps().find(|step| step.load.is_some() && step.wait.is_some_and(|wait| wait.least_min > 600)).unwrap();
    let (waiting, done) = (waits.title(), long_ago().duration_until(waits.to));
    let start = ZonedDateTime::now().datetime().checked_sub(done + SignedDuration::from_mins(10)).unwrap();
    let mut run = run(&order, start);
    let next: Vec<String> = run.steps().map(|step| step.name.to_owned()).collect();
    let next = &next[next.iter().position(|name| *name == waits.name).unwrap() + 1];
    as_planned_until(&mut run, next);
    let mut window = at_run(home.path(), &run, SIZE);
    assert!(window.query_by_label_contains("Nothing has to be done until").is_some());
    let held = format!("after {waiting} wait ");
    assert!(window.query_by_label_contains(&held).is_some(), "{held}");
    // What is possible before its time can be begun, or is done already.
    click(&mut window, "Undo last tick");
    drop(window);
    let tomorrow = ZonedDateTime::now().datetime().checked_add(SignedDuration::from_hours(24)).unwrap();
    let early = tempfile::tempdir().unwrap();
    let mut window = at_run(early.path(), &self::run(&order, tomorrow), SIZE);
    assert!(window.query_by_label_contains("Nothing has to be done until").is_some());
    click(&mut window, "read the label is done already");
    click(&mut window, "Done then: read the label");
    assert_eq!(read_run(&early.path().join("run.ron")).unwrap().raw().ticks[0].mark, Mark::Finished);
}

/// A wash begun days ahead of the plan was called a conflict until it was done; then three times were told for what follows.
#[test]
fn work_begun_ahead_is_no_conflict_and_one_time_is_told() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("run.ron");
    let now = ZonedDateTime::now().datetime();
    let in_days = |days: i64| now.checked_add(SignedDuration::from_hours(24 * days)).unwrap();
    let mut run = run(&order(1), in_days(3));
    for step in run.steps().take_while(|step| step.name != "wash").map(|step| step.number).collect::<Vec<_>>() {
        run.finish(step, in_days(-1)).unwrap();
    }
    let wash = run.steps().find(|step| step.name == "wash").unwrap().title();
    let fold = run.steps().find(|step| step.name == "fold and tie").unwrap().number;
    let mut window = at_run(home.path(), &run, SIZE);
    click(&mut window, &format!("Start {wash} now"));
    assert!(window.query_by_label_contains("Conflict: ").is_none());
    click(&mut window, &format!("Done: {wash}"));
    assert!(window.query_by_label_contains("Conflict: ").is_none());
    // An hour's wait, and hands at all hours: as soon as that is over.
    let done =
        read_run(&file).unwrap().step(run.steps().find(|step| step.name == "wash").unwrap().number).unwrap().finished.unwrap();
    let replan = read_run(&file).unwrap().replan(done).unwrap();
    let from = replan.steps.iter().find(|ahead| ahead.step == fold).unwrap().from;
    assert!((60..=61).contains(&done.duration_until(from).as_mins()), "{done}, {from}");
    let idle = format!("Nothing has to be done until {}.", from.strftime("%A %-d %B, %H:%M"));
    assert!(window.query_by_label(&idle).is_some(), "{idle}");
    let next = format!(", expected {}: after ", from.strftime("%a %-d %b %H:%M"));
    assert!(window.query_by_label_contains(&next).is_some(), "{next}");
}

/// "Done already" once took the moment of the press for the time when it was done.
#[test]
fn what_is_done_already_is_asked_when() {
    let home = tempfile::tempdir().unwrap();
    let ticks = || read_run(&home.path().join("run.ron")).unwrap().raw().ticks.clone();
    let now = ZonedDateTime::now().datetime();
    let tomorrow = now.checked_add(SignedDuration::from_hours(24)).unwrap();
    let mut window = at_run(home.path(), &run(&order(1), tomorrow), SIZE);
    click(&mut window, "read the label is done already");
    assert_eq!(ticks(), []);
    // The time is written at once, as a note is.
    assert!(window.get_by_role_and_label(Role::TextInput, "Done at").is_focused());
    // What is still to come is refused beside the field, and can't be pressed past.
    write(&mut window, "Done at", "tomorrow 8:00");
    assert!(window.query_by_label_contains("is still to come").is_some());
    assert!(window.get_by_label("Done then: read the label").accesskit_node().is_disabled());
    write(&mut window, "Done at", "2 hours ago");
    click(&mut window, "Done then: read the label");
    let [tick] = ticks()[..] else { panic!("{:?}", ticks()) };
    let ago = tick.at.duration_until(now).as_mins();
    assert!(tick.mark == Mark::Finished && (115..=120).contains(&ago), "{ago} min ago");
    // One step back, as for any other tick.
    click(&mut window, "Undo last tick");
    assert_eq!(ticks(), []);
    click(&mut window, "read the label is done already");
    click(&mut window, "5 min earlier");
    click(&mut window, "5 min earlier");
    click(&mut window, "Done then: read the label");
    let ago = ticks()[0].at.duration_until(ZonedDateTime::now().datetime()).as_mins();
    assert!((9..=12).contains(&ago), "{ago} min ago");
}

/// Whoever begins a bath has to know how soon it must go on.
#[test]
fn limits_are_said_beside_the_button_that_begins() {
    let home = tempfile::tempdir().unwrap();
    let window = planned_day(home.path());
    let limit = window.get_by_label_contains("discharge may wait at most 5 min, then rinse cold").rect();
    let begin = window.get_by_label("Start the run").rect();
    assert!(limit.top() - begin.bottom() < 160.0 && limit.left() < begin.right(), "{limit:?} {begin:?}");
}

/// All limits at once once pushed what the day is asked for out of sight, the shortest before what comes first.
#[test]
fn limits_are_folded_and_in_working_order() {
    let home = tempfile::tempdir().unwrap();
    let mut window = planned_day(home.path());
    let limits = |window: &Window| {
        let is_limit = |words: &str| words.contains(" may wait at most ") || words.contains(" waits at least ");
        let all = window.query_all_by(move |node| node.value().is_some_and(|words| is_limit(&words)));
        let labels = all.filter(|node| node.accesskit_node().role() == Role::Label);
        labels.filter_map(|node| node.accesskit_node().value()).collect::<Vec<_>>()
    };
    assert_eq!(limits(&window).len(), 1, "{:?}", limits(&window));
    assert!(window.get_by_label("Plan for").rect().bottom() < SIZE.y);
    window.get_by_label_contains(" limits, in order").click();
    window.run_ok();
    let told = limits(&window);
    let is_of = |words: &str, step: &str| [" may", " waits"].iter().any(|waits| words.starts_with(&format!("{step}{waits}")));
    let at = |step: &str| told.iter().skip(1).position(|words| is_of(words, step)).unwrap();
    assert!(at("wash") < at("discharge") && at("discharge") < at("cure"), "{told:?}");
}

/// What was planned, beside what is to be expected, once ran out of the window where the table was broader than it.
#[test]
fn what_was_planned_is_not_cut() {
    let long_ago = long_ago();
    let mut run = run(&order(3), long_ago);
    as_planned_until(&mut run, "discharge");
    for size in [vec2(1024.0, 700.0), vec2(900.0, 650.0), vec2(760.0, 520.0)] {
        let home = tempfile::tempdir().unwrap();
        let window = at_run(home.path(), &run, size);
        let planned: Vec<Rect> = window.query_all_by_label_contains(" later").map(|node| node.rect()).collect();
        assert!(planned.len() > 5, "{planned:?}");
        for rect in planned {
            assert!(rect.left() >= 0.0 && rect.right() <= size.x, "{size}: {rect:?}");
        }
    }
}

/// Words that are cut off at the right, wherever they stand.
pub(crate) fn cut(window: &Window) -> Vec<String> {
    fn look(shape: &Shape, clip: Rect, found: &mut Vec<String>) {
        match shape {
            Shape::Text(text) => {
                let words = text.visual_bounding_rect();
                let is_seen = words.intersects(clip);
                if is_seen && (words.right() > clip.right() + 0.5 || words.left() < clip.left() - 0.5) {
                    found.push(format!("{:?} at {words:?} in {clip:?}", text.galley.text()));
                }
            }
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| look(shape, clip, found)),
            _ => {}
        }
    }
    let mut found = Vec::new();
    window.output().shapes.iter().for_each(|clipped| look(&clipped.shape, clipped.clip_rect, &mut found));
    found
}

/// The smallest window and a small one, as usual and with letters at their largest, 2.5 times as large: so many points there are.
const ROOMS: [Vec2; 4] = [vec2(760.0, 520.0), vec2(1024.0, 700.0), vec2(304.0, 208.0), vec2(409.6, 280.0)];

/// Every step with a caution, at every size: nothing runs on past the edge, and every button can be reached.
#[test]
fn a_run_fits_every_window() {
    let order = order(3);
    for size in ROOMS {
        for name in ["read the label", "weigh out", "discharge", "rinse cold"] {
            let home = tempfile::tempdir().unwrap();
            let mut run = run(&order, long_ago());
            as_planned_until(&mut run, name);
            let mut window = at_run(home.path(), &run, size);
            window.run_ok();
            let title = run.steps().find(|step| step.name == name).unwrap().title();
            // What the step at hand is ticked with is in sight at once, however much is to be said of it.
            let at_hand = run.now(ZonedDateTime::now().datetime()).now[0].step;
            let at_hand = run.step(at_hand).unwrap().title();
            for label in ["Start: ", "Done: ", "Skip "].map(|words| format!("{words}{at_hand}")) {
                let rect = window.get_by_role_and_label(Role::Button, &label).rect();
                assert!(
                    Rect::from_min_size(Pos2::ZERO, size).contains_rect(rect),
                    "{size}: {label} is not seen at once: {rect:?}"
                );
            }
            let found = cut(&window);
            assert!(found.is_empty(), "{size}, {name}: {found:?}");
            let own = ["Undo last tick".to_owned(), "End the run".to_owned()].into_iter();
            let ticks = ["Start: ", "Done: ", "Skip ", "Write a note on "].map(|words| format!("{words}{title}"));
            for label in own.chain(ticks) {
                let rect = window.get_by_role_and_label(Role::Button, &label).rect();
                assert!(rect.left() >= 0.0 && rect.right() <= size.x, "{size}: {label} at {rect:?}");
                window.get_by_role_and_label(Role::Button, &label).scroll_to_me();
                window.run_ok();
                let rect = window.get_by_role_and_label(Role::Button, &label).rect();
                assert!(rect.top() >= 0.0 && rect.bottom() <= size.y, "{size}: {label} is not reached: {rect:?}");
                let found = cut(&window);
                assert!(found.is_empty(), "{size}, {name}, at {label}: {found:?}");
            }
            let step = run.steps().find(|step| step.name == name).unwrap();
            for caution in step.cautions {
                let rect = window.get_by_label(&caution.text).rect();
                assert!(rect.right() <= size.x && rect.left() >= 0.0, "{size}: {rect:?} {}", caution.text);
            }
        }
    }
}

/// A view of the day, also where its name has to be scrolled to.
fn show(window: &mut Window, view: &str) {
    window.get_by_label(view).scroll_to_me();
    window.run_ok();
    click(window, view);
}

/// The plan at every size: cautions and warnings wrap, what the day is asked for can be reached.
#[test]
fn the_day_fits_every_window() {
    for size in ROOMS {
        let home = tempfile::tempdir().unwrap();
        let file = home.path().join("tee.ron");
        std::fs::write(&file, EXAMPLE_LAYOUTS[0].text).unwrap();
        let mut window = window_with(home.path(), Some(file), size);
        click(&mut window, "View Day");
        wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
        for view in ["Cautions", "Run", "To weigh", "Times"] {
            show(&mut window, view);
            let rect = window.get_by_label(view).rect();
            assert!(rect.left() >= 0.0 && rect.right() <= size.x, "{size}: {view} at {rect:?}");
        }
        show(&mut window, "Cautions");
        let found = cut(&window);
        let found: Vec<_> = found.iter().filter(|words| words.contains("respirator") || words.contains("Source")).collect();
        assert!(found.is_empty(), "{size}: {found:?}");
        let cautions: Vec<Rect> = window.query_all_by_label_contains("Source: ").map(|node| node.rect()).collect();
        assert!(
            !cautions.is_empty() && cautions.iter().all(|rect| rect.right() <= size.x && rect.width() > 140.0),
            "{size}: {cautions:?}"
        );
        if window.query_by_label("Start the run").is_none() {
            show(&mut window, "Plan for");
        }
        let begin = window.get_by_label("Start the run").rect();
        assert!(begin.left() >= 0.0 && begin.right() <= size.x, "{size}: {begin:?}");
        window.get_by_label("Start the run").scroll_to_me();
        window.run_ok();
        let begin = window.get_by_label("Start the run");
        assert!(begin.rect().bottom() <= size.y && begin.accesskit_node().label().is_some(), "{size}: {:?}", begin.rect());
    }
}
