//! Rough edges that were mended, each with what it was.

use crate::harness::{SIZE, TEE, Window, click, fill, layout, press, wait, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;

/// It began with the size in the middle of the list, which is a child's.
#[test]
fn a_garment_is_begun_in_the_size_m() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Start with a crew-neck tee");
    assert_eq!(layout(&window).raw().garment.size.as_deref(), Some("M"));
}

/// The refusal spoke of the file's fields, with their paths and units.
#[test]
fn a_refusal_speaks_the_windows_words() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    write(&mut window, "Half chest", "9999");
    assert!(window.query_by_label("Half chest: 9999 mm is outside the plausible range; give 120 to 1100 mm").is_some());
}

/// A paper that there is not was passed over without a word.
#[test]
fn a_paper_that_there_is_not_is_told_about() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Sheets");
    write(&mut window, "Or size", "a bed sheet");
    assert!(window.query_by_label("!").is_some());
    write(&mut window, "Or size", "300x400");
    assert!(window.query_by_label("!").is_none());
    wait(&mut window, "the paper", |window| window.query_by_label_contains("on 300 x 400 mm").is_some());
}

/// A line of the panel was broader than the panel and pushed the table aside.
#[test]
fn the_table_stays_where_it_is_from_step_to_step() {
    let home = tempfile::tempdir().unwrap();
    for size in [egui::vec2(1024.0, 700.0), SIZE, egui::vec2(1700.0, 1100.0)] {
        let mut window = window_with(home.path(), None, size);
        window.get_by_label(TEE).scroll_to_me();
        window.run_ok();
        click(&mut window, TEE);
        let mut lefts = Vec::new();
        for step in ["View Garment", "View Fold", "View Binds", "View Colours"] {
            click(&mut window, step);
            window.run_ok();
            lefts.push(window.get_by_label("Garment, As laid").rect().left());
        }
        assert!(lefts.iter().all(|left| (left - lefts[0]).abs() < 0.5), "{size:?}: {lefts:?}");
    }
}

/// What was worked on yesterday stood below everything else.
#[test]
fn files_opened_lately_come_first() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("yesterday.ron");
    std::fs::write(&path, pleatwright::store::EXAMPLE_LAYOUTS[0].text).unwrap();
    drop(window_with(home.path(), Some(path), SIZE));
    let next = window(home.path());
    let top = |label: &str| next.get_by_label(label).rect().top();
    assert!(top("yesterday.ron") < top("Start with a garment"));
}

/// A safe answer is the keys' first: Enter saves, it does not throw away.
#[test]
fn the_keys_give_the_answer_that_loses_nothing() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, pleatwright::store::EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), SIZE);
    write(&mut window, "Guide arc", "210");
    let changed = window.state().layout_text();
    press(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.get_by_label("Save").is_focused());
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(std::fs::read_to_string(&path).ok(), changed);
    assert_eq!(window.state().layout_text(), None, "what was asked for goes on");
}

/// Values that no source gives could be changed in the file alone.
#[test]
fn what_is_thin_and_how_dense_a_rod_is_can_be_said() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    write(&mut window, "Packing when tied", "0.8");
    click(&mut window, "View Rod");
    write(&mut window, "Thin below", "0.6");
    let layout = layout(&window);
    assert!((layout.cloth().packing - 0.8).abs() < 1e-12 && (layout.thread().thin_below - 0.6).abs() < 1e-12);
}

/// Words of the trade are explained where the pointer rests on them.
#[test]
fn a_field_says_what_it_means() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Rod");
    assert!(window.query_by_label_contains("where the rod is thin").is_none());
    let at = window.get_by_role_and_label(Role::TextInput, "Extra where thin").rect().center();
    window.hover_at(at);
    for _ in 0..20 {
        window.step();
    }
    assert!(window.query_by_label_contains("where the rod is thin").is_some());
}

/// A plum tee could be told of by its name alone, and its discharge only at the reveal.
#[test]
fn a_plum_tee_is_coloured_from_the_swatches_and_discharged() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Start with a crew-neck tee");
    click(&mut window, "View Colours");
    click(&mut window, "Garment: colour");
    click(&mut window, "Take plum");
    click(&mut window, "Discharge the garment's colour first");
    let layout = layout(&window);
    let colour = layout.raw().garment.colour.as_ref().unwrap();
    assert_eq!(colour.name, "plum");
    assert!(colour.srgb.green < 100, "{:?}", colour.srgb);
    assert!(layout.process().discharge.is_some() && window.query_by_label("Discharged: colour").is_some());
}

/// A bag was said to have a shoulder.
#[test]
fn a_bag_is_measured_from_its_upper_edge() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row tote");
    write(&mut window, "Below the edge", "190");
    assert!((layout(&window).burst().unwrap().centre().y - 190.0).abs() < 1e-9);
    assert!(window.query_by_label("Centre below edge").is_some());
    assert!(window.query_all_by_label_contains("shoulder").next().is_none());
}

/// A value under the pen was left out of the file that was saved by its key.
#[test]
fn what_is_under_the_pen_is_saved_too() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, pleatwright::store::EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), SIZE);
    pen(&mut window, "Guide arc", "207");
    press(&mut window, Modifiers::COMMAND, Key::S);
    let saved = pleatwright::store::read_layout(&path).unwrap();
    assert!((saved.guide_mm() - 207.0).abs() < 1e-9);
    // Nor is it lost with the window.
    pen(&mut window, "Guide arc", "208");
    press(&mut window, Modifiers::COMMAND, Key::Q);
    assert!(window.query_by_label("Save changes?").is_some());
    click(&mut window, "Save");
    assert!((layout(&window).guide_mm() - 208.0).abs() < 1e-9);
}

/// Undo while a text is written took back a step of the layout that nobody saw.
#[test]
fn undo_in_a_text_leaves_the_layout_alone() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    write(&mut window, "Guide arc", "210");
    let changed = window.state().layout_text();
    click(&mut window, "View Journal");
    fill(&mut window, "How it came out", "rings crisp");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), changed);
    // A field that only has the focus is no text: undo is the layout's.
    click(&mut window, "View Fold");
    window.get_by_role_and_label(Role::TextInput, "Pleat depth").focus();
    window.run_ok();
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!((layout(&window).guide_mm() - 230.0).abs() < 1e-9);
    pen(&mut window, "Pleat depth", "31");
    press(&mut window, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
    assert!((layout(&window).guide_mm() - 230.0).abs() < 1e-9, "redo is the field's while it is written in");
}

/// Writes into a field and stays in it.
fn pen(window: &mut Window, label: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, label).focus();
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, label).type_text(text);
    window.run_ok();
}

/// The figure stood below thirteen fields, out of sight in a window of the usual height.
#[test]
fn the_measuring_figure_is_seen_beside_what_it_shows() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    let room = egui::Rect::from_min_size(egui::Pos2::ZERO, SIZE);
    let figure = window.get_by_label_contains("Figure: ").rect();
    assert!(room.contains_rect(figure), "{figure:?}");
    let field = window.get_by_role_and_label(Role::TextInput, "Half chest").rect();
    assert!(field.top() > figure.bottom() && room.contains_rect(field), "{field:?}");
    window.hover_at(field.center());
    window.run_ok();
    assert!(window.query_by_label("Figure: Half chest").is_some());
}

/// The picker spoke of "U8" and "R 245".
#[test]
fn a_shade_is_chosen_without_codes_and_by_keys_alone() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Colours");
    let before = layout(&window).raw().colours.rotation[0].srgb;
    click(&mut window, "Dye 1: colour");
    assert!(window.query_by_label("U8").is_none());
    window.get_by_label("Dye 1: shade").focus();
    window.run_ok();
    for _ in 0..5 {
        press(&mut window, Modifiers::NONE, Key::ArrowDown);
    }
    let after = layout(&window).raw().colours.rotation[0].srgb;
    assert_ne!(after, before);
    assert!(u16::from(after.red) + u16::from(after.green) < u16::from(before.red) + u16::from(before.green), "{after:?}");
}

/// A letter in a length was told by its column, as in a file.
#[test]
fn a_wrong_length_is_told_without_columns() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    write(&mut window, "Half chest", "5e");
    let told = "Not a unit of length: \"e\"; use mm, cm, m, in, ft or yd";
    assert!(window.query_by_label(told).is_some());
    assert!(window.query_all_by_label_contains("column").next().is_none());
}

/// Some were 18 points high beside others of 26.
#[test]
fn buttons_are_as_high_as_their_neighbours() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    for (step, names) in [
        ("View Colours", &["Remove", "Keep", "Add from swatches"][..]),
        ("View Day", &["Edit the recipe", "Edit the process", "Calendar"]),
    ] {
        click(&mut window, step);
        for name in names {
            let heights: Vec<f32> = window.query_all_by_label(name).map(|node| node.rect().height()).collect();
            assert!(!heights.is_empty() && heights.iter().all(|height| *height >= 25.0), "{step}, {name}: {heights:?}");
        }
    }
}
