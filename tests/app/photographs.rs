//! A photograph held against its plan, from the file to the findings: drawn with known truth, driven by the names of the controls.

use crate::drawn::scene::{Scene, SceneOptions, jpeg};
use crate::harness::{TEE, Window, click, drag, name_file, press, wait, window, window_with};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::geometry::Panel;
use pleatwright::layout::Layout;
use pleatwright::photo::{MarkedPoint, Marks, Plan, named_points};
use pleatwright::reveal::Cancel;
use pleatwright::store::journal::{Draft, Journal};
use pleatwright::store::{EXAMPLE_LAYOUTS, backup_path, layout_text, marks_path, parse_layout, read_marks, save_marks};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

static LAYOUT: LazyLock<Layout> = LazyLock::new(|| parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());

/// A photograph of the first example, made exactly: its file, and where its points are seen.
static TAKEN: LazyLock<(Vec<u8>, Vec<MarkedPoint>)> = LazyLock::new(|| {
    let plan = Plan::of(&LAYOUT, Panel::Front, &Cancel::new()).unwrap();
    let options = SceneOptions { size: [1200, 900], tilt_deg: 4.0, ..SceneOptions::default() };
    let scene = Scene::new(41, &plan, options);
    let seen = |point: pleatwright::photo::NamedPoint| MarkedPoint { at: scene.seen(point.at), name: point.name };
    let points = named_points(&LAYOUT, Panel::Front).into_iter().map(seen).collect();
    (jpeg(&scene.render(), None, None), points)
});

pub(crate) fn photograph(home: &Path) -> PathBuf {
    let path = home.join("front.jpg");
    std::fs::write(&path, &TAKEN.0).unwrap();
    path
}

fn says(window: &Window, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

/// The example's reveal with a photograph opened over it by keys.
pub(crate) fn holding(window: &mut Window, path: &Path) {
    press(window, Modifiers::COMMAND, Key::H);
    name_file(window, path);
}

pub(crate) fn read(window: &mut Window) {
    wait(window, "the points", |window| says(window, "Find points again"));
}

pub(crate) fn measured(window: &mut Window) {
    click(window, "Measure");
    wait(window, "the outline", |window| !says(window, "Finding the outline"));
    wait(window, "the plan", |window| !says(window, "Computing the plan"));
    wait(window, "the measurement", |window| !says(window, "Measuring…"));
    assert!(says(window, "What it tells"));
}

#[test]
fn a_photograph_is_measured_with_the_points_that_the_program_finds() {
    let home = tempfile::tempdir().unwrap();
    let path = photograph(home.path());
    let mut window = window(home.path());
    click(&mut window, TEE);
    holding(&mut window, &path);
    assert!(says(&window, "Reading the photograph…"), "decoding keeps no frame waiting");
    read(&mut window);
    for point in &TAKEN.1[..4] {
        assert!(window.query_by_label(&format!("{}, found", point.name)).is_some(), "{}", point.name);
    }
    assert!(window.query_by_label("sheet corner 1").is_some(), "the sheet is found");
    // What is found can be kept as it is, and nothing is asked where nothing was set.
    click(&mut window, "Save marks");
    assert!(read_marks(&marks_path(&path)).unwrap().points.len() >= 4);
    measured(&mut window);
    // Made exactly: no ring is told of, and colours are as planned.
    assert!(says(&window, "% of the outline found") && says(&window, "Give or take"));
    assert!(!says(&window, "farther out than planned") && !says(&window, "The centre came"));
    for picture in ["Photograph, straightened", "Plan", "Difference"] {
        assert!(window.query_all_by_role_and_label(Role::Image, picture).next().is_some(), "{picture}");
    }
    click(&mut window, "Curtain");
    let curtain =
        |window: &Window| window.query_all_by_role(Role::Slider).find_map(|slider| slider.accesskit_node().numeric_value());
    assert_eq!(curtain(&window), Some(50.0));
    window.get_by_role_and_label(Role::Slider, "Curtain").focus();
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    press(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!(curtain(&window), Some(62.0));
    // Other marks: what was measured is told to be of those before.
    click(&mut window, "Use shoulder left");
    assert!(says(&window, "measure again"));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(!says(&window, "Marks or layout have changed since"));
    click(&mut window, "Back to the reveal");
    assert!(says(&window, "Hold for comparison"));
}

#[test]
fn points_are_corrected_by_hand_and_keys_and_kept_beside_the_photograph() {
    let home = tempfile::tempdir().unwrap();
    let path = photograph(home.path());
    let kept = marks_path(&path);
    // Marks of an earlier day come back, without the program's own points.
    let marks = Marks { side: Panel::Front, points: TAKEN.1[..5].to_vec(), sheet: None };
    save_marks(&kept, &marks).unwrap();
    let marks = read_marks(&kept).unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    holding(&mut window, &path);
    read(&mut window);
    assert!(window.query_by_label("neck left, set").is_some() && window.query_by_label("cuff top left, left out").is_some());
    let at = window.get_by_label("neck left, set").rect().center();
    drag(&mut window, at, vec2(30.0, 12.0));
    let dragged = window.get_by_label("neck left, set").rect().center();
    assert!((dragged - at - vec2(30.0, 12.0)).length() < 0.6, "{at} {dragged}");
    press(&mut window, Modifiers::NONE, Key::ArrowLeft);
    press(&mut window, Modifiers::SHIFT, Key::ArrowUp);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    let back = window.get_by_label("neck left, set").rect().center();
    assert!((back - at).length() < 0.1, "{at} {back}");
    // By keys alone: a point chosen in the list, moved, another left out.
    click(&mut window, "Go to hem right");
    press(&mut window, Modifiers::SHIFT, Key::ArrowDown);
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    click(&mut window, "Use armpit left");
    assert_eq!(read_marks(&kept).unwrap(), marks, "nothing is written before it is saved");
    // What no file holds is asked about.
    click(&mut window, "Back to the reveal");
    assert!(says(&window, "The marks on \"front.jpg\" have unsaved changes."));
    click(&mut window, "Cancel");
    click(&mut window, "Save marks");
    let now = read_marks(&kept).unwrap();
    let moved = marks.points[3].at + kurbo::Vec2::new(1.0, 10.0);
    assert!(now.points.len() == 4 && now.points[3].at.distance(moved) < 1e-9, "{now:?}");
    assert!(backup_path(&kept).is_file(), "the earlier file is kept");
    click(&mut window, "Back to the reveal");
    assert!(says(&window, "Hold for comparison"), "nothing is asked where nothing is lost");
}

#[test]
fn what_is_no_photograph_is_refused_where_it_was_opened() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window_with(home.path(), None, vec2(1024.0, 700.0));
    click(&mut window, TEE);
    let path = home.path().join("front.heic");
    std::fs::write(&path, b"\0\0\0\x18ftypheic\0\0\0\0mif1heic").unwrap();
    holding(&mut window, &path);
    wait(&mut window, "the refusal", |window| says(window, "HEIC pictures can't be measured; export it as JPEG"));
    click(&mut window, "Back to the reveal");
    // Marks that can't be read are told, and the file is left as it is.
    let path = home.path().join("plain.png");
    image::RgbImage::from_pixel(80, 60, image::Rgb([90, 80, 70])).save(&path).unwrap();
    std::fs::write(marks_path(&path), "(format: 1, points: [(name: \"neck left\", x: 1.0)])").unwrap();
    holding(&mut window, &path);
    read(&mut window);
    assert!(says(&window, "plain.png.marks.ron"), "the file is named");
    assert!(says(&window, "12 points are guesses"));
    click(&mut window, "Measure");
    wait(&mut window, "a refusal", |window| says(window, "pixel of the picture covers"));
    // A sheet that was not found comes as a guess, to be dragged.
    assert!(window.query_by_label("sheet corner 3").is_none());
    window.get_by_role_and_label(Role::ComboBox, "White sheet").scroll_to_me();
    window.run_ok();
    window.get_by_role_and_label(Role::ComboBox, "White sheet").click();
    window.run_ok();
    click(&mut window, "Letter");
    let corner = window.get_by_label("sheet corner 3").rect().center();
    drag(&mut window, corner, vec2(-20.0, -10.0));
    let dragged = window.get_by_label("sheet corner 3").rect().center();
    assert!((dragged - corner - vec2(-20.0, -10.0)).length() < 0.6, "{corner} {dragged}");
}

#[test]
fn a_photograph_of_an_entry_is_held_against_the_layout_that_it_was_made_from() {
    let home = tempfile::tempdir().unwrap();
    let path = photograph(home.path());
    let draft = Draft { photos: vec![path], ..Draft::new("2027-05-03".parse().unwrap(), layout_text(LAYOUT.raw())) };
    Journal::at(home.path().join("journal")).add(&draft).unwrap();
    let mut window = window(home.path());
    click(&mut window, "Open the journal");
    let card = "Harbour Row tee, M, 3 May 2027, crew-neck tee, M";
    wait(&mut window, "the entry", |window| says(window, card));
    window.get_by_label_contains(card).click();
    window.run_ok();
    click(&mut window, "Hold against the plan: front.jpg");
    read(&mut window);
    assert!(says(&window, "against Harbour Row tee, M") && window.query_by_label("neck left, found").is_some());
    click(&mut window, "Measure");
    click(&mut window, "Stop");
    wait(&mut window, "the end", |window| !says(window, "Stop"));
    assert!(!says(&window, "What it tells") && says(&window, "Measure"));
    click(&mut window, "Back to the entry");
    assert!(says(&window, "As photographed"));
}
