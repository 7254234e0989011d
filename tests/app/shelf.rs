//! The shelf in the window: filled, read by the plan, refused beside the field, taken from by a run.

use crate::day_run::{at_run, long_ago, order, run};
use crate::harness::{SIZE, TEE, Window, click, press, wait, window, write};
use crate::journal::journal;
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::plan::{Material, Shelf, Supply, Unit};
use pleatwright::store::read_run;
use std::path::Path;

fn at_shelf(home: &Path) -> Window {
    let mut window = window(home);
    click(&mut window, TEE);
    click(&mut window, "View Day");
    wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
    click(&mut window, "Shelf");
    window
}

fn is_kept(home: &Path, is_so: impl Fn(&Shelf) -> bool) -> impl Fn(&Window) -> bool {
    let journal = journal(home);
    move |_| is_so(&journal.shelf().unwrap())
}

/// How packs are written could only be found out by trying.
#[test]
fn what_a_supply_is_sold_as_has_an_example() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_shelf(home.path());
    let can_undo = |window: &Window| !window.get_by_label("Undo the last change").accesskit_node().is_disabled();
    assert!(!can_undo(&window), "nothing was changed yet");
    click(&mut window, "Add soda ash");
    wait(&mut window, "what can be undone", can_undo);
    wait(&mut window, "its fields", |window| window.query_by_label("Remove soda ash").is_some());
    let example = window.get_by_label("soda ash: sold as").accesskit_node().placeholder().map(str::to_owned);
    let example = example.as_deref().and_then(|words| words.strip_prefix("such as ")).unwrap().to_owned();
    write(&mut window, "soda ash: sold as", &example);
    let sold = |shelf: &Shelf| shelf.supply(&Material::SodaAsh).is_some_and(|supply| supply.packs.len() == 2);
    wait(&mut window, "the packs", is_kept(home.path(), sold));
}

/// Supplies were once a part of every order, and told anew for each.
#[test]
fn supplies_are_kept_once_and_every_plan_reads_them() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_shelf(home.path());
    for add in ["Add soda ash", "Add thread", "Add undyed crew-neck tee, M, plum"] {
        click(&mut window, add);
        let name = add.trim_start_matches("Add ").trim_start_matches("undyed ").to_owned();
        wait(&mut window, add, move |window| window.query_by_label(&format!("Remove {name}")).is_some());
    }
    write(&mut window, "soda ash: in stock", "1.5 kg");
    write(&mut window, "thread: sold as", "100 m at 7.50");
    write(&mut window, "crew-neck tee, M, plum: in stock", "4");
    let soda = |shelf: &Shelf| shelf.supply(&Material::SodaAsh).is_some_and(|supply| supply.on_hand == 1500.0);
    wait(&mut window, "the soda ash", is_kept(home.path(), soda));
    wait(&mut window, "the shirts", is_kept(home.path(), |shelf| shelf.blanks.first().is_some_and(|blank| blank.on_hand == 4)));
    // What can't be is refused beside its field, and stays in it.
    write(&mut window, "soda ash: in stock", "a lot");
    assert!(window.query_by_label_contains("ot an amount: \"a lot\"; give one such as 120 g").is_some());
    write(&mut window, "soda ash: in stock", "1.5 kg");
    click(&mut window, "To weigh");
    let stock = Unit::Gram.say(1500.0);
    wait(&mut window, "the plan with the shelf", |window| window.query_by_label(&stock).is_some());
    assert!(window.query_by_label("crew-neck tee, M, plum").is_some());
    // One step back, and it is there after a restart.
    click(&mut window, "Shelf");
    click(&mut window, "Remove thread");
    wait(&mut window, "that it is gone", is_kept(home.path(), |shelf| shelf.supply(&Material::Thread).is_none()));
    click(&mut window, "Undo the last change");
    wait(&mut window, "that it is back", is_kept(home.path(), |shelf| shelf.supply(&Material::Thread).is_some()));
    drop(window);
    let window = at_shelf(home.path());
    let mut window = window;
    wait(&mut window, "the shelf", |window| window.query_by_label("Remove thread").is_some());
}

/// What an undyed garment costs was on the shopping list and not in the price to ask; the list had no total.
#[test]
fn the_price_to_ask_counts_the_undyed_garment() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_shelf(home.path());
    click(&mut window, "Add undyed crew-neck tee, M, plum");
    wait(&mut window, "its fields", |window| window.query_by_label("Remove crew-neck tee, M, plum").is_some());
    write(&mut window, "crew-neck tee, M, plum: price of one", "12.50");
    wait(
        &mut window,
        "the price",
        is_kept(home.path(), |shelf| shelf.blanks.first().is_some_and(|blank| blank.price == Some(12.5))),
    );
    click(&mut window, "To weigh");
    wait(&mut window, "the total", |window| window.query_by_label("Total: 12.50").is_some());
    click(&mut window, "Several sizes or designs");
    click(&mut window, "Work out prices");
    wait(&mut window, "the price to ask", |window| window.query_by_label_contains("One garment in ").is_some());
    assert!(window.query_all_by_label("12.50").next().is_some(), "the garment");
    assert!(window.query_all_by_label("no price").next().is_some(), "the dyes");
    assert!(window.query_by_label_contains("Not counted, price unknown: dye, ").is_some());
    assert!(window.query_by_label_contains("without what has no price").is_some());
}

/// Ounces were refused, and yards came back as metres.
#[test]
fn ounces_and_yards_are_written_as_they_were() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_shelf(home.path());
    press(&mut window, Modifiers::COMMAND, Key::K);
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text("inch");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    for add in ["Add soda ash", "Add thread"] {
        click(&mut window, add);
        let name = add.trim_start_matches("Add ").to_owned();
        wait(&mut window, add, move |window| window.query_by_label(&format!("Remove {name}")).is_some());
    }
    let example = window.get_by_label("soda ash: sold as").accesskit_node().placeholder().map(str::to_owned);
    assert_eq!(example.as_deref(), Some("such as 2 oz at 4.90, 1 lb at 19.00"));
    // Twice an avoirdupois pound, 453.592 37 g (NIST Handbook 44, appendix C).
    for (label, typed, value) in [
        ("soda ash: in stock", "2 lb", 907.184_74),
        ("soda ash: in stock", "1 oz", 28.349_523_125),
        ("thread: in stock", "100 yd", 91.44),
    ] {
        write(&mut window, label, typed);
        let is_it = move |shelf: &Shelf| shelf.supplies.iter().any(|supply| (supply.on_hand - value).abs() < 1e-9);
        wait(&mut window, typed, is_kept(home.path(), is_it));
        window.run_ok();
        let shown = window.get_by_role_and_label(Role::TextInput, label).accesskit_node().value();
        assert_eq!(shown.as_deref(), Some(typed));
    }
    write(&mut window, "soda ash: sold as", "2 oz at 4.90, 1 lb at 19");
    let sold = |shelf: &Shelf| shelf.supply(&Material::SodaAsh).is_some_and(|supply| supply.packs.len() == 2);
    wait(&mut window, "the packs", is_kept(home.path(), sold));
    // A mark stood on a line of its own above what was wrong.
    write(&mut window, "soda ash: in stock", "a lot");
    assert!(window.query_by_label_contains("not an amount: \"a lot\"; give one such as 120 g or 4 oz").is_some());
    assert!(window.query_by_label("!").is_none());
}

/// A finished run is asked about, takes what its plan used, and one step of the shelf takes that back.
#[test]
fn a_finished_run_takes_from_the_shelf() {
    let home = tempfile::tempdir().unwrap();
    let mut shelf = Shelf::default();
    shelf.set(Supply { material: Material::SodaAsh, on_hand: 2000.0, packs: Vec::new() });
    journal(home.path()).keep_shelf(&shelf).unwrap();
    let mut run = run(&order(1), long_ago());
    let steps: Vec<_> = run.steps().map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in steps {
        run.begin(step, from).unwrap();
        run.finish(step, to).unwrap();
    }
    let used = run.raw().used.iter().find(|used| used.material == Material::SodaAsh).unwrap().amount;
    let mut window = at_run(home.path(), &run, SIZE);
    let words = format!("soda ash: {}", Unit::Gram.say(used));
    wait(&mut window, "what it takes", |window| window.query_by_label_contains(&words).is_some());
    assert!(read_run(&home.path().join("run.ron")).is_ok());
    click(&mut window, "End the run");
    assert!(window.query_by_label_contains("what it used is taken from the shelf").is_some());
    let left = journal(home.path()).shelf().unwrap().supply(&Material::SodaAsh).unwrap().on_hand;
    assert!((2000.0 - left - used).abs() < 1e-6, "{left}");
    assert_eq!(journal(home.path()).undo_shelf().unwrap(), Some(shelf.clone()));
    // One that ends before its last step takes nothing unless the maker says so.
    let other = tempfile::tempdir().unwrap();
    journal(other.path()).keep_shelf(&shelf).unwrap();
    let mut window = at_run(other.path(), &self::run(&order(1), long_ago()), SIZE);
    click(&mut window, "End the run");
    wait(&mut window, "the question", |window| window.query_by_label("Take all that the plan needs from the shelf").is_some());
    click(&mut window, "End the run early");
    assert_eq!(journal(other.path()).shelf().unwrap(), shelf);
}
