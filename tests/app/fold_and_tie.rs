//! Folding and tying in the run: every part ticked by its name, kept in the run's file, taken back one by one.

use crate::day_run::{as_planned_until, at_run, cut, long_ago, order, run};
use crate::harness::{SIZE, TEE, Window, click};
use egui::accesskit::{Role, Toggled};
use egui::{Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::layout::{Figures, HandPart, Layout};
use pleatwright::measure::{LengthStyle, RuleMarks};
use pleatwright::plan::{Mark, Run};
use pleatwright::store::{EXAMPLE_LAYOUTS, OfLayout, order_of_layout, parse_layout, read_run};
use std::collections::BTreeSet;
use std::path::Path;

fn at_tying(home: &Path, garments: u32, size: Vec2) -> (Run, Window) {
    let mut run = run(&order(garments), long_ago());
    as_planned_until(&mut run, "fold and tie");
    let window = at_run(home, &run, size);
    (run, window)
}

fn is_ticked(window: &Window, name: &str) -> bool {
    window.get_by_role_and_label(Role::CheckBox, name).accesskit_node().toggled() == Some(Toggled::True)
}

fn done(home: &Path, garment: usize) -> BTreeSet<HandPart> {
    let run = read_run(&home.join("run.ron")).unwrap();
    let step = run.steps().find(|step| step.name == "fold and tie").unwrap().number;
    run.tied_garments(step)[garment].done.clone()
}

/// The run once said of folding and tying one sentence, and its ticks, its places and its threads stood on paper only.
#[test]
fn every_bind_is_ticked_with_its_numbers_and_a_restart_keeps_it() {
    let home = tempfile::tempdir().unwrap();
    let (_, mut window) = at_tying(home.path(), 2, SIZE);
    let figures = Figures::of(&parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
    let first = |title: &str| format!("{TEE}, 1 of 2: {title}");
    let format = |mm| LengthStyle::default().format(mm);
    // As the job card says them.
    let fold = &figures.fold;
    let pleats = format!("Fan fold {} pleats of {} along it", fold.pleats, format(fold.pleat_depth_mm));
    let half = format!("Half fold: {}. {}", fold.centring, fold.matching);
    let centre = "Burst centre: ";
    for words in [half.as_str(), centre, &pleats] {
        assert!(window.query_by_label_contains(words).is_some(), "{words}");
    }
    for part in ["lay", "mark", "fan fold"] {
        click(&mut window, &first(part));
    }
    let mut last = None;
    for number in &figures.tying_order {
        let bind = &figures.binds[*number as usize - 1];
        let title = if bind.on_guide_arc { format!("bind {number}, guide arc") } else { format!("bind {number}") };
        let (along, girth, thread) = (format(bind.radius_mm), format(bind.rod.bound_girth_mm), format(bind.thread_mm));
        let words = format!("{along} from the centre");
        let end = format!("; girth {girth}, {} wraps, {thread} of thread.", bind.wraps);
        let told = window.query_all_by_label_contains(&words).filter_map(|node| node.accesskit_node().value());
        let told: Vec<String> = told.filter(|told| told.starts_with(&words)).collect();
        assert!(matches!(&told[..], [one] if one.ends_with(&end)), "{title}: {words} ... {end}: {told:?}");
        // Every other bind: what is left out stays open.
        if number % 2 == 0 {
            click(&mut window, &first(&title));
            assert!(is_ticked(&window, &first(&title)), "{title}");
            last = Some((*number, title));
        }
    }
    let (number, title) = last.unwrap();
    let ticked = done(home.path(), 0);
    assert!(ticked.contains(&HandPart::Tie(number)) && ticked.contains(&HandPart::Fold));
    drop(window);
    // The program was closed and opened again.
    let mut again = crate::harness::window(home.path());
    click(&mut again, "Continue the run");
    assert!(is_ticked(&again, &first(&title)) && is_ticked(&again, &first("fan fold")));
    let counted = format!("{TEE}, 1 of 2: {} of {} done", ticked.len(), figures.binds.len() + 3);
    assert!(again.query_by_label(&counted).is_some(), "{counted}");
    // One undo for the last tick, no more.
    click(&mut again, "Undo last tick");
    assert!(again.query_by_label_contains(&format!("Undone: {}", first(&title))).is_some());
    assert!(!is_ticked(&again, &first(&title)));
    assert_eq!(done(home.path(), 0).len(), ticked.len() - 1);
    // A wrong tick is taken back where it stands.
    click(&mut again, &first("lay"));
    assert!(!done(home.path(), 0).contains(&HandPart::Lay));
    assert!(done(home.path(), 1).is_empty(), "the other garment has its own");
}

/// With the last part of a garment the next one opens; a tick begins the step, and an unticked bind is told of when it is done.
#[test]
fn garment_after_garment_is_tied() {
    let home = tempfile::tempdir().unwrap();
    let (run, mut window) = at_tying(home.path(), 2, SIZE);
    let step = run.steps().find(|step| step.name == "fold and tie").unwrap();
    let garments = run.tied_garments(step.number);
    let work = &garments[0].garment.work;
    for part in work.parts() {
        let name = format!("{}: {}", garments[0].name, work.title(part));
        click(&mut window, &name);
    }
    let marks: Vec<Mark> = read_run(&home.path().join("run.ron"))
        .unwrap()
        .raw()
        .ticks
        .iter()
        .filter(|tick| tick.step == step.number)
        .map(|tick| tick.mark)
        .collect();
    assert_eq!(marks[0], Mark::Begun);
    assert_eq!(marks.len(), work.parts().count() + 1);
    let second = format!("{}: lay", garments[1].name);
    assert!(window.query_by_label(&second).is_some(), "the next one is open");
    click(&mut window, &format!("Done: {}", step.title()));
    let left = format!("{} parts are not ticked in {}", work.parts().count(), step.title());
    assert!(window.query_by_label_contains(&left).is_some(), "{left}");
}

/// Lengths are in the unit of the rule, on whatever the layout that is open is laid out.
#[test]
fn an_inch_layout_is_tied_in_inches() {
    let home = tempfile::tempdir().unwrap();
    let mut raw = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
    raw.binds.marks = RuleMarks::InchEighth;
    let layout = Layout::try_from(raw).unwrap();
    let figures = Figures::of(&layout);
    let order = order_of_layout(layout, OfLayout { count: 1, scrap_tested: true, ..OfLayout::default() }).unwrap();
    let mut run = run(&order, long_ago());
    as_planned_until(&mut run, "fold and tie");
    let window = at_run(home.path(), &run, SIZE);
    let guide = RuleMarks::InchEighth.lengths().format(figures.fold.guide_mm);
    assert!(window.query_by_label_contains(&format!("{guide} from the centre; girth ")).is_some(), "{guide}");
    assert!(window.query_by_label_contains("mm from the centre").is_none());
}

/// At every size: nothing runs on past the edge, and every box can be reached.
#[test]
fn folding_and_tying_fits_every_window() {
    for size in [SIZE, vec2(760.0, 520.0), vec2(304.0, 208.0)] {
        let home = tempfile::tempdir().unwrap();
        let (_, mut window) = at_tying(home.path(), 2, size);
        for part in ["lay", "fan fold", "bind 1"] {
            let name = format!("{TEE}, 1 of 2: {part}");
            click(&mut window, &name);
            let rect = window.get_by_label(&name).rect();
            assert!(rect.left() >= 0.0 && rect.right() <= size.x && rect.bottom() <= size.y, "{size}: {name} at {rect:?}");
            let found = cut(&window);
            assert!(found.is_empty(), "{size}, {name}: {found:?}");
        }
    }
}

/// "Note…" once left the keyboard where it was.
#[test]
fn a_note_is_written_at_once() {
    let home = tempfile::tempdir().unwrap();
    let run = run(&order(1), long_ago());
    let mut window = at_run(home.path(), &run, SIZE);
    click(&mut window, "Write a note on read the label");
    let field = window.get_by_role_and_label(Role::TextInput, "Note on read the label");
    assert!(field.is_focused());
    field.type_text("97 % cotton");
    window.run_ok();
    click(&mut window, "Done: read the label");
    let kept = read_run(&home.path().join("run.ron")).unwrap();
    assert_eq!(kept.raw().notes.values().collect::<Vec<_>>(), ["97 % cotton"]);
}
