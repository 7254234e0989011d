//! A run that ends leaves its notes, verdicts and times to the journal.

use crate::day_run::{as_planned_until, at_run, long_ago, order, run};
use crate::harness::{SIZE, TEE, click, fill, wait};
use crate::journal::{is_there, only_entry};
use egui_kittest::kittest::Queryable as _;
use jiff::ToSpan as _;
use pleatwright::store::journal::{Comparison, Journal};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};

/// What was noted beside the tub once stayed in a file of the run that nothing read.
#[test]
fn what_a_run_knows_goes_into_the_entry() {
    let home = tempfile::tempdir().unwrap();
    let mut run = run(&order(1), long_ago());
    as_planned_until(&mut run, "soda ash soak");
    let (soak, spin) = (step(&run, "soda ash soak"), step(&run, "spin"));
    let at = run.step(soak).unwrap().from;
    run.begin(soak, at).unwrap();
    run.finish(soak, at.saturating_add(15.minutes())).unwrap();
    // Too soon: that stays on record.
    run.begin(spin, at.saturating_add(25.minutes())).unwrap();
    run.note(soak, "the water was cold").unwrap();
    let mut window = at_run(home.path(), &run, SIZE);
    click(&mut window, "End the run");
    click(&mut window, "End the run early");
    assert!(window.query_by_label_contains("its notes, waits and times are ready for the journal").is_some());
    click(&mut window, "View Journal");
    let judged = "soda ash soak, load 1: waited 10 min, 20 min to 1 h: 10 min too short";
    let timed = format!("soda ash soak, load 1: {} to ", at.strftime("%a %-d %b %H:%M"));
    for words in [judged, &timed, "the water was cold"] {
        let found = window.query_by_label_contains(words).is_some() || window.query_by_value(words).is_some();
        assert!(found || window.query_all_by_value("soda ash soak, load 1: the water was cold").next().is_some(), "{words}");
    }
    click(&mut window, "Add to the journal");
    wait(&mut window, "the confirmation", is_there("Added Harbour Row tee, M, made "));
    assert!(window.query_all_by_label_contains(" May 2020").next().is_some(), "on the day of the run");
    let entry = only_entry(home.path());
    let raw = entry.raw();
    assert_eq!(raw.note, "soda ash soak, load 1: the water was cold");
    assert!(raw.waits.iter().any(|wait| wait == judged), "{:?}", raw.waits);
    assert!(raw.times.iter().any(|time| time.starts_with(&timed) && time.contains(", planned for ")), "{:?}", raw.times);
    assert_eq!(raw.made, at.date());
    assert_eq!(entry.again().unwrap().raw(), parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw());
    // It is shown where it is read again, and after a restart.
    drop(window);
    let mut window = crate::harness::window(home.path());
    click(&mut window, "View Journal");
    wait(&mut window, "the entry", is_there("1 entry"));
    window.get_by_label_contains(&format!("{TEE}, {}", pleatwright::plan::day_words(raw.made))).click();
    window.run_ok();
    assert!(window.query_by_label(judged).is_some());
    click(&mut window, "When it was done");
    assert!(window.query_by_label_contains(&timed).is_some());
}

/// The view stayed empty until the pointer was moved: the frame that took over what the journal's thread had done was drawn already.
#[test]
fn the_view_after_adding_comes_by_itself() {
    let home = tempfile::tempdir().unwrap();
    let mut run = run(&order(1), long_ago());
    as_planned_until(&mut run, "soda ash soak");
    let mut window = at_run(home.path(), &run, SIZE);
    click(&mut window, "End the run");
    click(&mut window, "End the run early");
    click(&mut window, "View Journal");
    window.get_by_label("Add to the journal").scroll_to_me();
    window.run_ok();
    window.get_by_label("Add to the journal").click();
    // Frames come only as the window asks for them: at once, or when a thread has done its work.
    let delay = |window: &crate::harness::Window| window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
    let journal = crate::journal::journal(home.path());
    let mut is_added = false;
    while !is_added {
        window.step();
        std::thread::sleep(std::time::Duration::from_millis(5));
        is_added = journal.entries().is_ok_and(|entries| entries.len() == 1);
    }
    // The thread has asked for a frame by now.
    std::thread::sleep(std::time::Duration::from_millis(300));
    if !is_there("1 entry")(&window) {
        window.step();
    }
    for _ in 0..20 {
        if !delay(&window).is_zero() {
            break;
        }
        window.step();
    }
    assert!(window.query_by_label("Discard").is_none() && is_there("1 entry")(&window), "all entries are shown");
}

/// Nothing is offered of a run in which nothing was done; and what is offered can be left out, and outlives the program.
#[test]
fn what_is_offered_is_the_makers_to_keep() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_run(home.path(), &run(&order(1), long_ago()), SIZE);
    click(&mut window, "End the run");
    click(&mut window, "End the run early");
    assert!(window.query_by_label_contains("are ready for the journal").is_none());
    let mut ticked = run(&order(2), long_ago());
    as_planned_until(&mut ticked, "fold and tie");
    let mut window = at_run(home.path(), &ticked, SIZE);
    click(&mut window, "End the run");
    click(&mut window, "End the run early");
    assert!(window.query_by_label_contains("are ready for the journal").is_some());
    (0..40).for_each(|_| window.step());
    drop(window);
    let mut window = crate::harness::window(home.path());
    click(&mut window, "View Journal");
    click(&mut window, &format!("Continue writing about {TEE}, 1 of 2"));
    assert!(window.query_by_label("From the run").is_some());
    click(&mut window, "Leave out the run's times");
    assert!(window.query_by_label("From the run").is_none());
    click(&mut window, "Add to the journal");
    wait(&mut window, "the confirmation", is_there("Added Harbour Row tee, M"));
    assert!(only_entry(home.path()).raw().times.is_empty());
}

/// Two garments of one layout once had to share an entry.
#[test]
fn each_garment_has_an_entry_of_its_own() {
    let home = tempfile::tempdir().unwrap();
    let mut ticked = run(&order(2), long_ago());
    as_planned_until(&mut ticked, "fold and tie");
    let mut window = at_run(home.path(), &ticked, SIZE);
    click(&mut window, "End the run");
    click(&mut window, "End the run early");
    click(&mut window, "View Journal");
    for (which, words, rating) in [("1 of 2", "as wished", "5, just right"), ("2 of 2", "too pale", "2, poor")] {
        click(&mut window, &format!("Continue writing about {TEE}, {which}"));
        fill(&mut window, "How it came out", words);
        click(&mut window, rating);
        click(&mut window, "Add to the journal");
        wait(&mut window, "the confirmation", is_there(&format!("Added {TEE}, {which}")));
        window.run_ok();
        if window.query_by_label("All entries").is_some() {
            click(&mut window, "All entries");
        }
    }
    let entries = Journal::at(home.path().join("journal")).entries().unwrap();
    let mut told: Vec<_> =
        entries.iter().map(|entry| (entry.raw().garment.as_str(), entry.raw().rating, entry.raw().note.as_str())).collect();
    told.sort_unstable();
    assert_eq!(told, [("1 of 2", Some(5), "as wished"), ("2 of 2", Some(2), "too pale")]);
    // Beside each other they differ in which they are, and in what was written.
    let made = Comparison::of(entries[0].clone(), entries[1].clone(), Default::default()).made;
    assert_eq!(made.iter().map(|difference| difference.what.as_str()).collect::<Vec<_>>(), ["garment", "rating", "note"]);
}

fn step(run: &pleatwright::plan::Run, name: &str) -> u32 {
    run.steps().find(|step| step.name == name).unwrap().number
}
