//! Small windows and large letters: nothing needed is out of reach.

use crate::harness::{SIZE, TEE, Window, click, press, wait, window_with};
use egui::{Key, Modifiers, Rect, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};

/// The tee, opened from the welcome screen of a window of that size.
fn at_the_tee(home: &std::path::Path, size: Vec2) -> Window {
    let mut window = window_with(home, None, size);
    window.get_by_label(TEE).scroll_to_me();
    window.run_ok();
    click(&mut window, TEE);
    window
}

#[test]
fn every_step_fits_a_small_window() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(1024.0, 700.0);
    let mut window = at_the_tee(home.path(), size);
    let room = Rect::from_min_size(egui::Pos2::ZERO, size);
    for step in ["Garment", "Fold", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
        let label = format!("View {step}");
        assert!(room.contains_rect(window.get_by_label(&label).rect()), "{step} can be reached");
        click(&mut window, &label);
    }
    click(&mut window, "View Fold");
    let table = window.get_by_label("Garment, As laid").rect();
    assert!(table.width() > 360.0 && table.height() > 480.0, "{table:?}");
}

/// What is changed used to stand far below a table of eighteen rows.
#[test]
fn the_reveals_settings_are_seen_without_scrolling() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(1024.0, 700.0);
    let mut window = window_with(home.path(), None, size);
    click(&mut window, TEE);
    click(&mut window, "View Reveal");
    let room = Rect::from_min_size(egui::Pos2::ZERO, size);
    let field = window.get_by_role_and_label(egui::accesskit::Role::TextInput, "Layers of ice").rect();
    assert!(room.contains_rect(field), "{field:?}");
    wait(&mut window, "the table of sections", |window| window.query_by_label("Reached").is_some());
    let rows = window.get_by_label_contains("Reached: cloth").rect().top() - window.get_by_label("Reached").rect().top();
    assert!((120.0..240.0).contains(&rows), "{rows} points of rows");
    click(&mut window, "What to expect");
    assert!(window.query_by_label("Reached").is_none());
}

/// Notes beside amounts used to run past the window's edge, and formulas with them.
#[test]
fn the_days_notes_end_within_a_small_window() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(1024.0, 700.0);
    let mut window = window_with(home.path(), None, size);
    click(&mut window, TEE);
    click(&mut window, "View Day");
    wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
    click(&mut window, "Formulas");
    let notes: Vec<Rect> = window.query_all_by_label_contains("roughly").map(|node| node.rect()).collect();
    let formulas: Vec<Rect> = window.query_all_by_label_contains(" = ").map(|node| node.rect()).collect();
    assert!(!notes.is_empty() && formulas.len() > 6, "{notes:?}, {formulas:?}");
    for rect in notes.into_iter().chain(formulas) {
        assert!(rect.right() <= size.x && rect.width() > 200.0, "{rect:?}");
    }
}

/// The tee at the rod, in a window of that size.
fn at_rod(home: &std::path::Path, size: Vec2) -> Window {
    let mut window = at_the_tee(home, size);
    click(&mut window, "View Rod");
    window
}

/// Each step of the way to the rod with its words and a drawing that is large enough to be read.
const STEPS: [(&str, &str, &str); 4] = [
    ("1  Lay", "4 layers", "The layers as laid"),
    ("2  Mark", "230 mm", "The arcs to chalk"),
    ("3  Fan fold", "19 pleats", "The creases to fold"),
    ("4  Tie", "Tie the guide arc first", "The binds, in tying order"),
];

/// In a small window one step shows at a time, whole, with a drawing of some size.
#[test]
fn the_way_to_the_rod_is_drawn_step_by_step_in_a_small_window() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(1024.0, 700.0);
    let mut window = at_rod(home.path(), size);
    for (index, (title, words, drawing)) in STEPS.into_iter().enumerate() {
        assert!(window.query_by_label(title).is_some() && window.query_all_by_label_contains(words).next().is_some(), "{title}");
        let rect = window.get_by_label(drawing).rect();
        assert!(rect.width() >= 300.0 && rect.height() >= 200.0, "{drawing}: {rect:?}");
        assert!(Rect::from_min_size(egui::Pos2::ZERO, size).contains_rect(rect), "{drawing}: {rect:?}");
        if index < 3 {
            assert!(window.query_by_label(STEPS[index + 1].0).is_none());
            click(&mut window, "Next");
        }
    }
    click(&mut window, "Back");
    assert!(window.query_by_label("3  Fan fold").is_some());
}

/// Where there is room, all steps stand beside each other.
#[test]
fn the_way_to_the_rod_is_seen_whole_in_a_large_window() {
    let home = tempfile::tempdir().unwrap();
    let window = at_rod(home.path(), vec2(1700.0, 1100.0));
    for (title, _, drawing) in STEPS {
        assert!(window.query_by_label(title).is_some());
        let rect = window.get_by_label(drawing).rect();
        assert!(rect.width() >= 180.0 && rect.height() >= 180.0, "{drawing}: {rect:?}");
    }
    let usual = at_rod(home.path(), SIZE);
    assert!(usual.get_by_label(STEPS[0].2).rect().height() >= 200.0);
}

/// Nothing in the panel beside the table is cut off at its edge.
#[test]
fn the_panels_controls_end_within_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_the_tee(home.path(), vec2(1024.0, 700.0));
    for (step, controls) in [
        ("View Garment", &["Kind", "Size", "Half chest"][..]),
        ("View Fold", &["Half fold", "Guide arc"]),
        ("View Binds", &["Round radii to"]),
        ("View Colours", &["Dye 1", "Dye 3", "Keep", "Rotation starts"]),
        ("View Sheets", &["Paper", "Or size"]),
    ] {
        click(&mut window, step);
        let edge = if step == "View Sheets" { None } else { window.query_by_label("Garment, As laid") };
        let edge = edge.map_or(326.0, |table| table.rect().left());
        for control in controls {
            let ends: Vec<f32> =
                window.query_all_by_label(control).map(|node| node.rect().right()).filter(|&end| end < 500.0).collect();
            assert!(!ends.is_empty() && ends.iter().all(|&end| end <= edge), "{step}, {control}: {ends:?} beyond {edge}");
        }
    }
}

/// In the smallest window that there can be, every step is in reach, and the table is not squeezed away by the numbers.
#[test]
fn the_smallest_window_can_be_worked_in() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(760.0, 520.0);
    let mut window = at_the_tee(home.path(), size);
    let room = Rect::from_min_size(egui::Pos2::ZERO, size);
    for step in ["Garment", "Fold", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
        let rect = window.get_by_label(&format!("View {step}")).rect();
        assert!(room.contains_rect(rect), "{step}: {rect:?}");
    }
    click(&mut window, "View Fold");
    assert!(window.get_by_label("Garment, As laid").rect().width() > 400.0);
    click(&mut window, "File");
    let quit = window.get_all_by_role(egui::accesskit::Role::Button).find(|node| label_of(node).starts_with("Quit"));
    quit.unwrap().scroll_to_me();
    window.run_ok();
    let quit = window.get_all_by_role(egui::accesskit::Role::Button).find(|node| label_of(node).starts_with("Quit"));
    assert!(room.contains_rect(quit.unwrap().rect()), "a menu is not cut off");
    press(&mut window, Modifiers::NONE, Key::Escape);
    // Asked for all the same, they are told about.
    for _ in 0..2 {
        press(&mut window, Modifiers::COMMAND, Key::J);
    }
    assert!(window.query_by_label_contains("No room for the numbers").is_some());
}

/// With the largest letters the cloth once had 70 points beside a panel that took the rest: now each is a page, and the bars a line.
#[test]
fn with_the_largest_letters_options_and_table_are_pages() {
    let home = tempfile::tempdir().unwrap();
    let size = vec2(304.0, 208.0);
    let mut window = at_the_tee(home.path(), size);
    let room = Rect::from_min_size(egui::Pos2::ZERO, size);
    let go = |window: &mut Window, step: &str| {
        let label = format!("View {step}");
        window.get_by_label(&label).scroll_to_me();
        window.run_ok();
        click(window, &label);
        let rect = window.get_by_label(&label).rect();
        assert!(room.contains_rect(rect), "{step}: {rect:?}");
    };
    for (step, field) in [
        ("Garment", "Name"),
        ("Fold", "Fold: burst"),
        ("Binds", "Binds"),
        ("Colours", "Garment"),
        ("Sheets", "Paper"),
        ("Rod", "Thread"),
    ] {
        go(&mut window, step);
        let table = if matches!(step, "Sheets" | "Rod") { step } else { "As laid" };
        if table == "As laid" {
            let cloth = window.get_by_label("Garment, As laid").rect();
            assert!(cloth.width() > 270.0 && cloth.height() > 110.0, "{step}: {cloth:?}");
        }
        click(&mut window, "Options");
        assert!(window.query_by_label("Garment, As laid").is_none(), "{step}: the cloth has made room");
        let fields: Vec<Rect> = window.query_all_by_label(field).map(|node| node.rect()).collect();
        assert!(fields.iter().any(|rect| rect.right() <= size.x && rect.width() > 0.0), "{step}, {field}: {fields:?}");
        click(&mut window, table);
    }
    // What a bar has no room for is in one menu.
    click(&mut window, "Menu");
    for heading in ["File", "Edit", "View", "Help"] {
        assert!(window.query_by_label(heading).is_some(), "{heading}");
    }
}

/// With the largest letters a dialog was larger than the window, its field and its buttons out of sight and out of reach.
#[test]
fn dialogs_fit_the_smallest_window() {
    let size = vec2(304.0, 208.0);
    let room = Rect::from_min_size(egui::Pos2::ZERO, size);
    let home = tempfile::tempdir().unwrap();
    let mut window = at_the_tee(home.path(), size);
    press(&mut window, Modifiers { shift: true, ..Modifiers::COMMAND }, Key::S);
    for label in ["Save", "Cancel"] {
        window.get_by_role_and_label(egui::accesskit::Role::Button, label).scroll_to_me();
        window.run_ok();
        let rect = window.get_by_role_and_label(egui::accesskit::Role::Button, label).rect();
        assert!(room.contains_rect(rect), "{label}: {rect:?}");
    }
    click(&mut window, "Cancel");
    press(&mut window, Modifiers::COMMAND, Key::K);
    let field = window.get_by_role_and_label(egui::accesskit::Role::TextInput, "Find a command").rect();
    assert!(room.contains_rect(field), "{field:?}");
    let found = window.get_by_label_contains("New layout…").rect();
    assert!(room.contains_rect(found), "{found:?}");
}

/// Where a step's words went on below each other in a narrow column, its row was as high as a page.
#[test]
fn the_list_of_times_has_low_rows() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window_with(home.path(), None, SIZE);
    click(&mut window, TEE);
    click(&mut window, "View Day");
    wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
    click(&mut window, "Times");
    let mut tops: Vec<f32> =
        window.query_all_by_label("5 min").chain(window.query_all_by_label("15 min")).map(|row| row.rect().top()).collect();
    tops.sort_by(f32::total_cmp);
    assert!(tops.len() > 3, "{tops:?}");
    let rows: Vec<f32> = ["mix the dyes", "read the label", "weigh out"]
        .iter()
        .filter_map(|step| window.query_by_label(step).map(|row| row.rect().height()))
        .collect();
    assert!(rows.iter().all(|&high| high < 50.0), "{rows:?}");
    let ends = window.query_all_by_label_contains(":").map(|node| node.rect().right()).fold(0.0, f32::max);
    assert!(ends <= SIZE.x, "{ends}");
}

fn label_of(node: &egui_kittest::Node<'_>) -> String {
    node.accesskit_node().label().unwrap_or_default()
}
