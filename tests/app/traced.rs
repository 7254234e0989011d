//! A garment's outline from a photograph, from the start to the open layout: driven by the names of the controls.

use crate::drawn::smock::{camera, picture, smock};
use crate::harness::{TEE, Window, click, drag, layout, name_file, press, wait, window};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{GarmentKind, Measure, Panels};
use std::path::Path;

fn says(window: &Window, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

fn photograph(home: &Path) -> std::path::PathBuf {
    let path = home.join("smock.png");
    picture(&smock(0.0), camera(1.05)).save(&path).unwrap();
    path
}

#[test]
fn a_garment_begins_with_a_photograph_of_it() {
    let home = tempfile::tempdir().unwrap();
    let path = photograph(home.path());
    let mut window = window(home.path());
    click(&mut window, "Start with a garment of your own outline");
    name_file(&mut window, &path);
    wait(&mut window, "the outline", |window| says(window, "The halves lie up to"));
    // A point dragged off the cloth is told by the halves, and undone.
    let point = window.get_all_by_role_and_label(Role::Button, "outline point 2").next().unwrap().rect();
    drag(&mut window, point.center(), vec2(-60.0, -10.0));
    let apart = window.query_all_by_label_contains("The halves lie up to").next().is_some();
    assert!(apart || says(&window, "meets its outline"), "a point far off is no refusal of the whole");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    click(&mut window, "Use it as the garment's outline");
    let begun = layout(&window);
    assert_eq!((begun.garment().kind(), begun.garment().panels()), (GarmentKind::Own, Panels::Two));
    let [width_mm, height_mm] =
        [Measure::ClothWidth, Measure::ClothHeight].map(|measure| begun.garment().value_mm(measure).unwrap());
    assert!((width_mm / 700.0 - 1.0).abs() < 0.01 && (height_mm / 715.0 - 1.0).abs() < 0.01, "{width_mm} x {height_mm}");
    assert!(says(&window, "Took the outline, out of the photograph"));
}

#[test]
fn an_open_layout_takes_it_in_a_step_that_is_undone() {
    let home = tempfile::tempdir().unwrap();
    let path = photograph(home.path());
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::K);
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text("outline from a photograph");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    name_file(&mut window, &path);
    wait(&mut window, "the outline", |window| says(window, "The halves lie up to"));
    click(&mut window, "Put it away");
    assert_eq!(layout(&window).garment().kind(), GarmentKind::CrewTee, "nothing was taken");
    click(&mut window, "Outline from a photograph…");
    name_file(&mut window, &path);
    wait(&mut window, "the outline", |window| says(window, "The halves lie up to"));
    click(&mut window, "Use it as the garment's outline");
    assert_eq!(layout(&window).garment().kind(), GarmentKind::Own);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).garment().kind(), GarmentKind::CrewTee);
}
