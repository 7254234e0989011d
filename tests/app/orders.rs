//! Orders written in the window: rows, sizes and numbers, their file, what is asked before one is lost.

use crate::harness::{SIZE, TEE, Window, click, fill, name_file, press, wait, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::plan::{Plan, When, plan_text};
use pleatwright::store::{EXAMPLE_LAYOUTS, EXAMPLE_ORDERS, order_text, parse_order, read_order, read_order_spec, save};
use std::path::Path;

/// Far enough ahead that it is not past while these tests are run.
const START: &str = "2055-05-03 08:00";

/// The Day view of the example tee, begun at a fixed time.
fn at_day(window: &mut Window) {
    click(window, "View Day");
    write(window, "Date and time", START);
    wait(window, "the plan", |window| window.query_by_label("Shopping list").is_some());
}

/// An order of the open layout: two of its own size, one graded to L.
fn two_sizes(window: &mut Window) {
    click(window, "Several sizes or designs");
    write(window, "Garments, row 1", "2");
    click(window, "Add a row");
    click(window, "Size, row 2");
    click(window, "L");
    wait(window, "both sizes", |window| {
        window.query_by_label_contains("For each of 2 × Harbour Row tee, M").is_some()
            && window.query_by_label_contains("For Harbour Row tee, L").is_some()
    });
}

/// The layout in a file of its own, open.
fn in_file(home: &Path) -> Window {
    let path = home.join("tee.ron");
    std::fs::write(&path, EXAMPLE_LAYOUTS[0].text).unwrap();
    window_with(home, Some(path), SIZE)
}

fn save_order(window: &mut Window, path: &Path) {
    click(window, "Save order as…");
    name_file(window, path);
    wait(window, "the file", |_| path.exists());
}

/// "Save order" once proposed the open layout's own file, and replaced it.
#[test]
fn an_order_is_not_saved_over_its_layout() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("harbour-row-tee-m.ron");
    std::fs::write(&path, EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), SIZE);
    at_day(&mut window);
    two_sizes(&mut window);
    click(&mut window, "Save order as…");
    let own = home.path().join("harbour-row-tee-m-order.ron");
    let proposed = window.get_by_role_and_label(Role::TextInput, "File").accesskit_node().value();
    assert_eq!(proposed, Some(own.display().to_string()));
    // Told before it is answered, and the answer is not taken.
    name_file(&mut window, &path);
    assert!(window.query_by_label_contains("it holds a layout, not an order; give another name").is_some());
    assert!(window.get_by_role_and_label(Role::Button, "Save").accesskit_node().is_disabled());
    // Nor is anything else that is no order.
    let notes = home.path().join("notes.ron");
    std::fs::write(&notes, "call the club").unwrap();
    name_file(&mut window, &notes);
    assert!(window.query_by_label_contains("it does not hold an order; give another name").is_some());
    save_order(&mut window, &own);
    // Nor a layout over an order.
    press(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    name_file(&mut window, &own);
    assert!(window.query_by_label_contains("it holds an order, not a layout; give another name").is_some());
    assert_eq!(std::fs::read_to_string(&path).unwrap(), EXAMPLE_LAYOUTS[0].text);
    assert_eq!(std::fs::read_to_string(&notes).unwrap(), "call the club");
    assert_eq!(read_order(&own).unwrap().garments(), 3);
}

/// From an open layout in eight presses and two numbers: the plan is the library's of the saved order.
#[test]
fn three_garments_of_two_sizes_are_planned_saved_and_read_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    let path = home.path().join("orders").join("crew.ron");
    std::fs::create_dir(home.path().join("orders")).unwrap();
    save_order(&mut window, &path);
    let order = read_order(&path).unwrap();
    let lines: Vec<_> = order.lines().iter().map(|line| (line.layout.name(), line.count)).collect();
    assert_eq!(lines, [(TEE, 2), ("Harbour Row tee, L", 1)]);
    assert_eq!(order.raw().lines[0].layout, "../tee.ron", "by the way from the order's folder");
    let plan = Plan::new(&order, When::Start(START.replace(' ', "T").parse().unwrap())).unwrap();
    let text = home.path().join("plan.txt");
    click(&mut window, "Save plan…");
    name_file(&mut window, &text);
    wait(&mut window, "the plan's file", |_| text.exists());
    assert_eq!(std::fs::read_to_string(&text).unwrap(), plan_text(&plan, false));
}

/// The same by keys alone, by a deadline said in words.
#[test]
fn keys_alone_order_two_sizes_by_a_deadline() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    let focus_and = |window: &mut Window, label: &str, key: Key| {
        window.get_by_label(label).focus();
        window.run_ok();
        press(window, Modifiers::NONE, key);
    };
    press(&mut window, Modifiers::ALT, Key::Num8);
    focus_and(&mut window, "Finish by", Key::Space);
    write(&mut window, "Date and time", "in 30 days 5 pm");
    focus_and(&mut window, "Several sizes or designs", Key::Enter);
    write(&mut window, "Garments, row 1", "2");
    focus_and(&mut window, "Add a row", Key::Enter);
    window.get_by_role_and_label(Role::ComboBox, "Size, row 2").focus();
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    focus_and(&mut window, "L", Key::Enter);
    wait(&mut window, "both sizes", |window| window.query_by_label_contains("For Harbour Row tee, L").is_some());
    assert!(window.query_by_label_contains("can't be met").is_none());
}

/// What is wrong with a row is said below it, and nothing that was typed is lost.
#[test]
fn a_wrong_row_says_so_beside_itself() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    click(&mut window, "Add a row");
    write(&mut window, "Garments, row 2", "0");
    wait(&mut window, "the refusal", |window| window.query_by_label_contains("Count: 0 is out of range; give 1 to").is_some());
    let said = window.get_by_label_contains("Count: 0 is out of range").rect();
    let field = |label: &str| window.get_by_role_and_label(Role::TextInput, label).rect();
    assert!(said.top() > field("Garments, row 2").top() && said.top() < field("Garments, row 3").top(), "{said:?}");
    let typed = window.get_by_role_and_label(Role::TextInput, "Garments, row 2").accesskit_node().value();
    assert_eq!(typed.as_deref(), Some("0"));
    // What is no number stays too.
    fill(&mut window, "Garments, row 3", "several");
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert!(window.query_by_label_contains("Not a whole number above 0: \"several\"").is_some());
    let typed = window.get_by_role_and_label(Role::TextInput, "Garments, row 3").accesskit_node().value();
    assert_eq!(typed.as_deref(), Some("several"));
    write(&mut window, "Garments, row 2", "4");
    wait(&mut window, "the plan", |window| window.query_by_label_contains("For each of 4 ×").is_some());
}

/// A row removed comes back with the keys of undo, and the layout is not touched by them.
#[test]
fn undo_gives_a_removed_row_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    write(&mut window, "Guide arc", "210");
    at_day(&mut window);
    two_sizes(&mut window);
    let layout = window.state().layout_text();
    click(&mut window, "Remove row 2");
    assert!(window.query_by_label("Remove row 2").is_none());
    assert!(window.query_by_label("Undo: remove row 2").is_some());
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(window.query_by_label("Remove row 2").is_some());
    assert_eq!(window.state().layout_text(), layout);
    press(&mut window, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
    assert!(window.query_by_label("Remove row 2").is_none());
}

/// An order with changes that no file holds is asked about: before it is closed, and before the program is.
#[test]
fn an_unsaved_order_is_asked_about() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    click(&mut window, "Plan the open layout instead");
    assert!(window.query_by_label("Save changes?").is_some());
    click(&mut window, "Cancel");
    assert!(window.query_by_label("Remove row 2").is_some());
    press(&mut window, Modifiers::COMMAND, Key::Q);
    assert!(window.query_by_label("Save changes?").is_some());
    let path = home.path().join("crew.ron");
    window.get_by_label("Save").click();
    window.run_ok();
    name_file(&mut window, &path);
    wait(&mut window, "the file", |_| path.exists());
    assert_eq!(read_order_spec(&path).unwrap().lines.len(), 2);
    // Changed again and given up.
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    click(&mut window, "Plan the open layout instead");
    click(&mut window, "Don't save");
    assert!(window.query_by_label("Remove row 1").is_none());
    assert!(window.query_by_role_and_label(Role::TextInput, "Garments").is_some());
}

/// An order's file opens, and what the window has no field for is still in it when it is saved; the earlier file is kept.
#[test]
fn an_order_file_is_changed_without_loss() {
    let home = tempfile::tempdir().unwrap();
    for example in EXAMPLE_LAYOUTS {
        save(&home.path().join(example.name), example.text.as_bytes()).unwrap();
    }
    std::fs::create_dir(home.path().join("orders")).unwrap();
    let path = home.path().join("orders").join(EXAMPLE_ORDERS[0].name);
    std::fs::write(&path, EXAMPLE_ORDERS[0].text).unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Day");
    click(&mut window, "Open order…");
    name_file(&mut window, &path);
    wait(&mut window, "the order", |window| window.query_by_label_contains("For each of 6 ×").is_some());
    write(&mut window, "Garments, row 1", "7");
    wait(&mut window, "the seventh", |window| window.query_by_label_contains("For each of 7 ×").is_some());
    click(&mut window, "Save order");
    let mut wanted = parse_order(EXAMPLE_ORDERS[0].text).unwrap();
    wanted.lines[0].count = 7;
    assert_eq!(std::fs::read_to_string(&path).unwrap(), order_text(&wanted));
    assert_eq!(std::fs::read_to_string(path.with_extension("ron.bak")).unwrap(), EXAMPLE_ORDERS[0].text);
}

/// Hours that were set while an order was written went with it when the open layout was planned instead.
#[test]
fn hours_stay_when_an_order_is_put_away() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    write(&mut window, "Working hours", "9 to 5");
    click(&mut window, "Plan the open layout instead");
    click(&mut window, "Don't save");
    let hours = window.get_by_role_and_label(Role::TextInput, "Working hours").accesskit_node().value();
    assert_eq!(hours.as_deref(), Some("09:00 to 17:00"));
}

/// Shades and prices of an order could once be written only in its file.
#[test]
fn shades_and_prices_of_an_order_are_fields() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("crew.ron");
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    click(&mut window, "Shade, teal");
    click(&mut window, "full");
    click(&mut window, "Work out prices");
    write(&mut window, "An hour of work", "24");
    write(&mut window, "Margin, %", "20");
    wait(&mut window, "the price", |window| window.query_by_label_contains("One garment in EUR").is_some());
    save_order(&mut window, &path);
    let spec = read_order_spec(&path).unwrap();
    assert_eq!(spec.depths.get("teal"), Some(&pleatwright::plan::ShadeDepth::Full));
    let money = spec.money.unwrap();
    assert_eq!((money.currency.as_str(), money.hourly_rate, money.margin_percent), ("EUR", 24.0, 20.0));
    click(&mut window, "Shade, teal");
    click(&mut window, "as the recipe");
    click(&mut window, "Work out prices");
    click(&mut window, "Save order");
    let spec = read_order_spec(&path).unwrap();
    assert!(spec.depths.is_empty() && spec.money.is_none());
}

/// A row kept its layout's name, with another size in it, when it was graded.
#[test]
fn a_row_is_called_by_its_own_size() {
    let home = tempfile::tempdir().unwrap();
    let mut window = in_file(home.path());
    at_day(&mut window);
    two_sizes(&mut window);
    assert!(window.query_all_by_label("Harbour Row tee, L").next().is_some());
    click(&mut window, "Size, row 2");
    click(&mut window, "XL");
    assert!(window.query_all_by_label("Harbour Row tee, XL").next().is_some());
    assert!(window.query_all_by_label("Harbour Row tee, L").next().is_none());
}

/// When an order is to be done once was in no file: it had to be said anew each time it was opened.
#[test]
fn an_order_keeps_its_deadline() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("crew.ron");
    let when = |window: &Window| window.get_by_role_and_label(Role::TextInput, "Date and time").accesskit_node().value();
    let is_deadline = |window: &Window| window.get_by_role_and_label(Role::RadioButton, "Finish by").accesskit_node().toggled();
    {
        let mut window = in_file(home.path());
        at_day(&mut window);
        two_sizes(&mut window);
        click(&mut window, "Finish by");
        write(&mut window, "Date and time", "2055-05-14 17:00");
        // It is a step of the order like any other.
        press(&mut window, Modifiers::COMMAND, Key::Z);
        assert_ne!(when(&window).as_deref(), Some("Fri 14 May 2055 17:00"));
        press(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
        assert_eq!(when(&window).as_deref(), Some("Fri 14 May 2055 17:00"));
        save_order(&mut window, &path);
    }
    assert_eq!(read_order_spec(&path).unwrap().deadline, Some("2055-05-14T17:00".parse().unwrap()));
    let mut window = in_file(home.path());
    at_day(&mut window);
    click(&mut window, "Open order…");
    name_file(&mut window, &path);
    wait(&mut window, "the order", |window| window.query_by_label("Remove row 2").is_some());
    window.run_ok();
    assert_eq!(when(&window).as_deref(), Some("Fri 14 May 2055 17:00"));
    assert_eq!(is_deadline(&window), Some(egui::accesskit::Toggled::True));
    assert!(window.query_by_label_contains("crew.ron, not saved").is_none());
    // With a start it has none.
    click(&mut window, "Start at");
    click(&mut window, "Save order");
    assert_eq!(read_order_spec(&path).unwrap().deadline, None);
}

/// The order that comes with the program opens without its files, and is saved together with its layouts.
#[test]
fn an_example_order_opens_and_is_saved_with_its_layouts() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    at_day(&mut window);
    click(&mut window, "Example orders");
    click(&mut window, "harbour-row-regatta");
    wait(&mut window, "the order", |window| window.query_by_label_contains("For each of 6 ×").is_some());
    let path = home.path().join("mine.ron");
    save_order(&mut window, &path);
    let order = read_order(&path).unwrap();
    assert_eq!((order.garments(), order.raw().supplies.len()), (33, 7));
    // Another layout opened does not change it.
    let lines = window.query_all_by_label_contains("Remove row").count();
    assert_eq!(lines, 5);
}

/// Rows keep the layout that they were made from when another is opened.
#[test]
fn another_layout_does_not_change_an_orders_rows() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    at_day(&mut window);
    two_sizes(&mut window);
    press(&mut window, Modifiers::COMMAND, Key::N);
    click(&mut window, "Harbour Row tote");
    click(&mut window, "View Day");
    wait(&mut window, "both sizes", |window| window.query_by_label_contains("For Harbour Row tee, L").is_some());
    // The open layout can be a row beside them.
    click(&mut window, "Add a row");
    click(&mut window, "More about row 3");
    click(&mut window, "Design, row 3");
    click(&mut window, "Harbour Row tote, the open layout");
    wait(&mut window, "the bag", |window| window.query_by_label_contains("For Harbour Row tote").is_some());
}

/// What is written of an order used to exist only in the window.
#[test]
fn an_unsaved_order_outlives_a_crash() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = window(home.path());
        click(&mut window, TEE);
        at_day(&mut window);
        two_sizes(&mut window);
        for _ in 0..400 {
            window.step();
        }
        // Dropped without a question, as a crash does.
    }
    let mut next = window(home.path());
    assert!(next.query_by_label_contains("Recovered \"Harbour Row tee, M\", not saved before").is_some());
    click(&mut next, "Harbour Row tote");
    click(&mut next, "View Day");
    wait(&mut next, "both sizes", |window| {
        window.query_by_label_contains("For each of 2 × Harbour Row tee, M").is_some()
            && window.query_by_label_contains("For Harbour Row tee, L").is_some()
    });
    // Given up, it does not come again.
    click(&mut next, "Plan the open layout instead");
    click(&mut next, "Don't save");
    next.run_ok();
    drop(next);
    let last = window(home.path());
    assert!(last.query_by_label_contains("Recovered").is_none());
}
