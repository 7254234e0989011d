//! The window, driven by the names of its controls, without a display.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use pleatwright::app::App;
use pleatwright::layout::Layout;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use std::path::Path;

/// The first example's name, which is also its card's on the welcome screen.
const TEE: &str = "Harbour Row tee, M";

type Window = Harness<'static, App>;

fn window(home: &Path) -> Window {
    let home = home.to_owned();
    let size = egui::vec2(1280.0, 860.0);
    let mut window = Harness::builder()
        .with_size(size)
        .with_max_steps(60)
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(home), None));
    window.run_ok();
    window
}

fn click(window: &mut Window, label: &str) {
    window.get_by_label(label).click();
    window.run_ok();
}

/// Writes into a field and leaves it.
fn write(window: &mut Window, label: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, label).focus();
    window.run_ok();
    window.get_by_role_and_label(Role::TextInput, label).type_text(text);
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
}

fn layout(window: &Window) -> Layout {
    parse_layout(&window.state().layout_text().expect("a layout is open")).unwrap()
}

#[test]
fn a_garment_is_begun_from_its_picture() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    assert_eq!(window.state().layout_text(), None);
    click(&mut window, "Begin with a tank");
    assert_eq!(layout(&window).garment().kind().name(), "tank");
}

#[test]
fn every_example_opens_and_every_step_shows() {
    for example in EXAMPLE_LAYOUTS {
        let home = tempfile::tempdir().unwrap();
        let mut window = window(home.path());
        let layout_of = parse_layout(example.text).unwrap();
        click(&mut window, layout_of.name());
        assert_eq!(layout(&window).raw(), layout_of.raw());
        for step in ["Garment", "Burst", "Binds", "Colours", "Rod", "Sheets"] {
            click(&mut window, &format!("Step {step}"));
        }
    }
}

#[test]
fn typed_lengths_with_units_and_sums_change_the_layout_and_undo_takes_them_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let before = window.state().layout_text();
    write(&mut window, "Guide arc", "8in + 5mm");
    assert!((layout(&window).burst().guide_radius_mm() - 208.2).abs() < 1e-9);
    write(&mut window, "Above the middle", "40");
    assert!((layout(&window).burst().centre().y - (735.0 / 2.0 - 40.0)).abs() < 1e-9);
    let after = window.state().layout_text();
    for _ in 0..2 {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        window.run_ok();
    }
    assert_eq!(window.state().layout_text(), before);
    for _ in 0..2 {
        window.key_press_modifiers(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
        window.run_ok();
    }
    assert_eq!(window.state().layout_text(), after);
}

#[test]
fn a_wrong_value_is_refused_and_changes_nothing() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let before = window.state().layout_text();
    write(&mut window, "Below the shoulder", "5000");
    assert_eq!(window.state().layout_text(), before);
    assert!(window.query_by_label_contains("lies outside the cloth").is_some());
    click(&mut window, "Understood");
    assert!(window.query_by_label_contains("lies outside the cloth").is_none());
}

/// The burst centre is dragged down by its handle: one step, and the layout is still right.
#[test]
fn the_burst_centre_is_dragged_in_one_step() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let before = window.state().layout_text();
    let start = window.get_by_label("Handle of the burst centre").rect().center();
    window.hover_at(start);
    window.run_ok();
    window.drag_at(start);
    window.step();
    for step in 1..=8_u8 {
        window.hover_at(start + egui::vec2(0.0, 5.0 * f32::from(step)));
        window.step();
    }
    window.drop_at(start + egui::vec2(0.0, 40.0));
    window.run_ok();
    let dragged = layout(&window).burst().centre();
    assert!(dragged.x == 0.0 && dragged.y > 330.0, "{dragged:?}");
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run_ok();
    assert_eq!(window.state().layout_text(), before);
}

/// From a new garment to a saved layout and a PDF, without the pointer.
#[test]
fn keys_alone_save_and_print() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    window.get_by_label("Begin with a crew-neck tee").focus();
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
    assert!(window.state().layout_text().is_some());
    for (keys, name) in [(Key::S, "mine.ron"), (Key::P, "mine.pdf")] {
        window.key_press_modifiers(Modifiers::COMMAND, keys);
        window.run_ok();
        let path = home.path().join(name);
        let field = window.get_by_role_and_label(Role::TextInput, "File");
        assert!(field.is_focused(), "the name is asked for");
        window.key_press_modifiers(Modifiers::COMMAND, Key::A);
        window.run_ok();
        window.get_by_role_and_label(Role::TextInput, "File").type_text(path.to_str().unwrap());
        window.run_ok();
        window.key_press(Key::Enter);
        for _ in 0..400 {
            window.run_ok();
            if path.exists() {
                break;
            }
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        assert!(path.exists(), "{name}");
    }
    let saved = std::fs::read_to_string(home.path().join("mine.ron")).unwrap();
    assert_eq!(Some(saved), window.state().layout_text());
}

#[test]
fn the_finder_does_what_it_finds() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    assert!(window.query_by_label_contains("230 mm").is_some());
    window.key_press_modifiers(Modifiers::COMMAND, Key::K);
    window.run_ok();
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text("inch");
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
    assert!(window.query_by_label_contains("19 of 1 1/2 in").is_some());
}

/// A run that ends without saving leaves its work for the next one.
#[test]
fn unsaved_work_is_offered_after_a_crash() {
    let home = tempfile::tempdir().unwrap();
    let text = {
        let mut window = window(home.path());
        click(&mut window, TEE);
        write(&mut window, "Guide arc", "200");
        for _ in 0..20 {
            window.step();
        }
        window.state().layout_text()
    };
    let mut next = window(home.path());
    click(&mut next, "Take it up again");
    assert_eq!(next.state().layout_text(), text);
}

/// Only the window's module knows the toolkit that it is drawn with.
#[test]
fn only_the_window_names_its_toolkit() {
    fn walk(folder: &Path, found: &mut Vec<String>) {
        for entry in std::fs::read_dir(folder).unwrap().map(Result::unwrap) {
            let path = entry.path();
            if path.is_dir() {
                if path.file_name().unwrap() != "app" {
                    walk(&path, found);
                }
            } else if path.extension().is_some_and(|ending| ending == "rs")
                && std::fs::read_to_string(&path).unwrap().contains("egui")
            {
                found.push(path.display().to_string());
            }
        }
    }
    let mut found = Vec::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert_eq!(found, [""; 0]);
}
