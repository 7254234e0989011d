//! The day in the window: the plan, its files, a run that outlives the program.

use crate::harness::{TEE, Window, click, layout, name_file, press, wait, window, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::plan::{Mark, OfGarments, Order, Plan, Run, When, calendar_text, plan_text};
use pleatwright::print::parts::{OrderPrint, OrderPrintOptions, PartKind, PrintOptions, TemplateOptions};
use pleatwright::print::{Paper, STANDARD_PAPERS, TilingOptions};
use pleatwright::reveal::Cancel;
use pleatwright::store::{
    EXAMPLE_LAYOUTS, OfLayout, order_of_layout, parse_layout, read_process, read_recipe, read_run, save_run,
};
use std::path::Path;

/// Far enough ahead that it is not past while these tests are run.
const START: &str = "2055-05-03 08:00";

fn planned(window: &mut Window) {
    click(window, TEE);
    click(window, "View Day");
    write(window, "Date and time", START);
    wait(window, "the plan", |window| window.query_by_label("Shopping list").is_some());
}

/// What the library plans of the same.
fn plan(window: &Window) -> Plan {
    ordered(window).1
}

fn ordered(window: &Window) -> (Order, Plan) {
    let process = read_process(Path::new("discharge-and-dye")).unwrap();
    let recipe = read_recipe(Path::new("powder-under-ice")).unwrap();
    let order = Order::of_garments(layout(window), OfGarments { count: 3, ..OfGarments::default() }, recipe, process).unwrap();
    let plan = Plan::new(&order, When::Start(START.replace(' ', "T").parse().unwrap())).unwrap();
    (order, plan)
}

#[test]
fn the_saved_plan_is_the_librarys() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    planned(&mut window);
    write(&mut window, "Garments", "3");
    wait(&mut window, "three garments", |window| window.query_by_label_contains("For each of 3").is_some());
    for (name, text) in [("plan.txt", plan_text(&plan(&window), false)), ("plan.ics", calendar_text(&plan(&window), None))] {
        click(&mut window, "Save plan…");
        let path = home.path().join(name);
        name_file(&mut window, &path);
        wait(&mut window, name, |_| path.exists());
        assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
    }
}

/// A file for the garment and one for the plan, byte for byte the library's.
#[test]
fn everything_is_printed_into_a_folder() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    planned(&mut window);
    write(&mut window, "Garments", "3");
    wait(&mut window, "three garments", |window| window.query_by_label_contains("For each of 3").is_some());
    click(&mut window, "Print everything…");
    let folder = home.path().join("sheets");
    window.get_by_role_and_label(Role::TextInput, "Folder").focus();
    window.run_ok();
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, "Folder").type_text(folder.to_str().unwrap());
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    wait(&mut window, "the offer to open the folder", |window| window.query_by_label("Open the folder").is_some());
    let print = PrintOptions {
        paper: Paper::standard(STANDARD_PAPERS[0]),
        tiling: TilingOptions::default(),
        template: TemplateOptions::default(),
    };
    let options = OrderPrintOptions { print, kinds: PartKind::ALL.to_vec(), formulas: false, pictures: false };
    let (order, plan) = ordered(&window);
    let files = OrderPrint { order: &order, plan: &plan, folder: &folder, options: &options };
    let files = files.files(&Cancel::new(), &|_| {}).unwrap();
    assert_eq!(files.len(), 2);
    for file in files {
        assert_eq!(std::fs::read(&file.path).unwrap(), file.bytes, "{}", file.path.display());
    }
}

#[test]
fn a_plan_that_breaks_a_caution_is_refused_in_words() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    planned(&mut window);
    click(&mut window, "Where you discharge");
    click(&mut window, "in a room");
    wait(&mut window, "the refusal", |window| {
        window.query_by_label_contains("extraction").is_some_and(|_| window.query_by_label("Shopping list").is_none())
    });
}

/// Ticks are in the file at once, so that timers go on while the program is closed.
#[test]
fn a_run_outlives_the_program() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = window(home.path());
        planned(&mut window);
        click(&mut window, "Start the run");
        click(&mut window, "Start read the label now");
        click(&mut window, "Done: read the label");
        assert!(window.query_by_label_contains("1 of 24 steps").is_some());
    }
    let run = read_run(&home.path().join("run.ron")).unwrap();
    let marks: Vec<Mark> = run.raw().ticks.iter().map(|tick| tick.mark).collect();
    assert_eq!(marks, [Mark::Begun, Mark::Finished]);
    let mut next = window(home.path());
    click(&mut next, "Continue the run");
    assert!(next.query_by_label_contains("1 of 24 steps").is_some());
    click(&mut next, "Undo last tick");
    click(&mut next, "Done: read the label");
    click(&mut next, "End the run");
    assert!(home.path().join("run.ron").exists(), "asked first");
    click(&mut next, "End the run early");
    assert!(!home.path().join("run.ron").exists());
    let kept =
        std::fs::read_dir(home.path()).unwrap().flatten().find(|entry| entry.file_name().to_string_lossy().starts_with("run-"));
    assert_eq!(read_run(&kept.unwrap().path()).unwrap().raw().ticks.len(), 2);
}

/// A run taken up long after its time: the steps to come are timed anew from what was ticked, what was planned stands beside them, and a
/// limit that is missed is said.
#[test]
fn a_run_left_alone_is_timed_anew() {
    let home = tempfile::tempdir().unwrap();
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let order = order_of_layout(layout, OfLayout { count: 1, ..OfLayout::default() }).unwrap();
    let plan = Plan::new(&order, When::Start("2020-05-04T08:00".parse().unwrap())).unwrap();
    let mut run = Run::of(&plan).unwrap();
    let done: Vec<_> =
        run.steps().take_while(|step| step.name != "rinse cold").map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in done {
        run.begin(step, from).unwrap();
        run.finish(step, to).unwrap();
    }
    save_run(&home.path().join("run.ron"), &run).unwrap();
    let mut window = window(home.path());
    click(&mut window, "Continue the run");
    wait(&mut window, "the steps to come", |window| window.query_by_label("Still to do, retimed").is_some());
    assert!(window.query_by_label_contains("Conflict: discharge, load 1 may wait 5 min at most").is_some());
    assert!(window.query_by_label_contains(", planned ").is_some());
    // Every step to come, by the library's reckoning of the same ticks.
    for ahead in run.replan("2026-01-05T12:00".parse().unwrap()).unwrap().steps {
        let title = run.step(ahead.step).unwrap().title();
        assert!(window.query_all_by_label(&title).next().is_some(), "{title}");
    }
    assert!(window.query_all_by_label_contains("later").next().is_some());
}

/// A plan that began years ago was given without a word, and a missed deadline only among the times.
#[test]
fn a_deadline_that_cant_be_met_is_said_first() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    planned(&mut window);
    write(&mut window, "Date and time", "2020-05-04 08:00");
    wait(&mut window, "the past", |window| window.query_by_label_contains("The plan starts in the past: Monday 4 May").is_some());
    click(&mut window, "Finish by");
    let said = "The deadline has passed: Monday 4 May 2020, 08:00. Starting now, the work ends ";
    wait(&mut window, "the deadline", |window| window.query_by_label_contains(said).is_some());
    let top = window.get_by_label_contains(said).rect().top();
    assert!(top < window.get_by_label_contains("g of dry cloth").rect().top(), "first of all");
    for view in ["Times", "Cautions"] {
        click(&mut window, view);
        assert!(window.query_by_label_contains(said).is_some(), "{view}");
    }
}
