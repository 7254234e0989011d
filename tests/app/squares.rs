//! Swatches from a photograph, from the file to the maker's book: driven by the names of the controls.

use crate::drawn::scene::jpeg;
use crate::drawn::squares::{COLOURS, beside, squares};
use crate::harness::{TEE, Window, click, drag, fill, name_file, press, wait, window};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::layout::Srgb;
use pleatwright::reveal::colour::{Lab, ciede2000};
use pleatwright::store::read_swatches;
use std::path::Path;

fn says(window: &Window, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

/// The first example at its colours, with a photograph of six squares opened over it through the finder.
fn opened(home: &Path) -> Window {
    let path = home.join("dyed.jpg");
    std::fs::write(&path, jpeg(&beside(&squares(120.0, 180.0, 200.0)), None, None)).unwrap();
    let mut window = window(home);
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::K);
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text("swatches from a photograph");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    name_file(&mut window, &path);
    wait(&mut window, "the squares", |window| says(window, "to your swatches"));
    window
}

#[test]
fn squares_that_the_program_finds_become_the_makers_swatches() {
    let home = tempfile::tempdir().unwrap();
    let mut window = opened(home.path());
    assert!(says(&window, "Add 6 to your swatches"));
    fill(&mut window, "Shade of all, %", "2.5");
    // The name of the first, which every square's field has.
    let name = window.get_all_by_role_and_label(Role::TextInput, "Name").next().unwrap();
    name.click();
    window.run_ok();
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.get_all_by_role_and_label(Role::TextInput, "Name").next().unwrap().type_text("harbour teal");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    click(&mut window, "Add 6 to your swatches");
    assert!(says(&window, "Added 6 swatches"));
    let book = read_swatches(&home.path().join("swatches.ron")).unwrap();
    let [red, green, blue] = COLOURS[0].1;
    let teal = book.swatch("harbour teal").unwrap();
    assert!(ciede2000(Lab::from(teal.colour.srgb), Lab::from(Srgb { red, green, blue })) < 1.5, "{teal:?}");
    assert!(book.swatches().iter().all(|swatch| swatch.depth_percent == 2.5), "{book:?}");
    assert!(window.query_by_label("Back to the colours").is_none(), "the photograph is put away");
}

/// A square dragged onto another tells so, keys move it back, undo takes back a step, and Delete removes it.
#[test]
fn squares_are_moved_by_hand_and_keys() {
    let home = tempfile::tempdir().unwrap();
    let mut window = opened(home.path());
    let square = |window: &Window, name: &str| window.get_all_by_role_and_label(Role::Button, name).next().unwrap().rect();
    let (first, second) = (square(&window, "swatch 1"), square(&window, "swatch 2"));
    let apart = second.center() - first.center();
    drag(&mut window, first.center(), vec2(0.8 * apart.x, 0.0));
    assert!(says(&window, "lies over square 1"), "the second lies over the first");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(!says(&window, "lies over square"));
    assert!((square(&window, "swatch 1").center() - first.center()).length() < 1.0);
    drag(&mut window, first.center(), vec2(6.0, 0.0));
    for _ in 0..3 {
        press(&mut window, Modifiers::SHIFT, Key::ArrowDown);
    }
    let moved = square(&window, "swatch 1").center() - first.center();
    let down = 30.0 * apart.x / 200.0;
    assert!((moved.y - down).abs() < 1.0, "{moved:?}, not {down}");
    press(&mut window, Modifiers::NONE, Key::Delete);
    assert!(says(&window, "Add 5 to your swatches"));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(says(&window, "Add 6 to your swatches"));
    click(&mut window, "Back to the colours");
    assert!(!home.path().join("swatches.ron").exists());
}
