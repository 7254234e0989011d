//! A garment of the maker's own outline in the window: from a drawing, with its back and its layers, stretched and undone.

use crate::beside::drop_file;
use crate::harness::{TEE, Window, click, layout, name_file, press, wait, window, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::geometry::{GarmentKind, Measure, Panel, Panels};
use std::path::{Path, PathBuf};

/// A bib 520 mm wide and 700 mm high.
const BIB: &str = r#"<path id="bib" d="M150 50H450L560 300V750H40V300Z"/>"#;
/// A back of the same height, 500 mm wide, drawn 40 mm lower.
const BACK: &str = r#"<path id="back" d="M200 90H400L550 300V790H50V300Z"/>"#;

fn put(home: &Path, name: &str, size: &str, lines: &str) -> PathBuf {
    let path = home.join(name);
    let text = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 600 800"><g fill="none" stroke="red">{lines}</g></svg>"#
    );
    std::fs::write(&path, text).unwrap();
    path
}

const TRUE: &str = r#"width="600mm" height="800mm""#;

fn is_own(window: &Window) -> bool {
    window.state().layout_text().is_some() && layout(window).garment().kind() == GarmentKind::Own
}

fn says(words: &str) -> impl Fn(&Window) -> bool {
    move |window| window.query_by_label_contains(words).is_some()
}

/// Area of a panel's cloth, mm2.
fn area_mm2(window: &Window, panel: Panel) -> f64 {
    layout(window).garment().draft().panel(panel).whole().area_mm2()
}

fn is_near(found: f64, wanted: f64) -> bool {
    (found - wanted).abs() < 1e-5 * wanted
}

/// The trapezium and the rectangle of the bib, by the school's formulas.
const BIB_MM2: f64 = 0.5 * (300.0 + 520.0) * 250.0 + 520.0 * 450.0;
const BACK_MM2: f64 = 0.5 * (200.0 + 500.0) * 210.0 + 500.0 * 490.0;

#[test]
fn an_outline_comes_from_a_drawing_and_goes_in_one_step() {
    let home = tempfile::tempdir().unwrap();
    let bib = put(home.path(), "bib.svg", TRUE, BIB);
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    let before = layout(&window).raw().clone();
    click(&mut window, "Outline from a drawing…");
    name_file(&mut window, &bib);
    wait(&mut window, "the outline", is_own);
    assert!(says("taken as the whole garment; the garment is 520 mm wide and 700 mm high")(&window));
    assert!(is_near(area_mm2(&window, Panel::Front), BIB_MM2), "{}", area_mm2(&window, Panel::Front));
    let kind = window.get_by_role_and_label(Role::ComboBox, "Kind").accesskit_node().value();
    assert_eq!(kind.as_deref(), Some("own outline"));
    assert!(window.query_by_role_and_label(Role::ComboBox, "Size").is_none(), "it has none");
    // Measured wider it is stretched; an empty field is as drawn.
    write(&mut window, "Cloth width", "650");
    assert!(is_near(area_mm2(&window, Panel::Front), 650.0 / 520.0 * BIB_MM2));
    window.get_by_role_and_label(Role::TextInput, "Cloth width").focus();
    window.run_ok();
    for (modifiers, key) in [(Modifiers::COMMAND, Key::A), (Modifiers::NONE, Key::Delete), (Modifiers::NONE, Key::Enter)] {
        press(&mut window, modifiers, key);
    }
    assert!(is_near(area_mm2(&window, Panel::Front), BIB_MM2));
    for _ in 0..3 {
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(layout(&window).raw(), &before, "one step for the outline, one for each width");
}

#[test]
fn the_back_is_cut_otherwise_and_as_the_front_again() {
    let home = tempfile::tempdir().unwrap();
    let bib = put(home.path(), "bib.svg", TRUE, BIB);
    let back = put(home.path(), "back.svg", TRUE, BACK);
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    assert!(window.query_by_label("Back from a drawing…").is_none() && window.query_by_label("Layers").is_none());
    click(&mut window, "Outline from a drawing…");
    name_file(&mut window, &bib);
    wait(&mut window, "the outline", is_own);
    click(&mut window, "Back from a drawing…");
    name_file(&mut window, &back);
    wait(&mut window, "the back", says("Imported the back, taken as the whole garment"));
    let areas = |window: &Window| Panel::BOTH.map(|panel| area_mm2(window, panel));
    assert!(is_near(areas(&window)[0], BIB_MM2) && is_near(areas(&window)[1], BACK_MM2), "{:?}", areas(&window));
    // Both begin at the same height, wherever they were drawn.
    let garment = layout(&window).garment().clone();
    assert!(is_near(garment.value_mm(Measure::ClothHeight).unwrap(), 700.0));
    click(&mut window, "Back as the front");
    assert!(areas(&window).iter().all(|&mm2| is_near(mm2, BIB_MM2)), "{:?}", areas(&window));
    assert!(window.query_by_label("Back as the front").is_none());
    // A width that was measured stays when only the layers change.
    write(&mut window, "Cloth width", "600");
    window.get_by_role_and_label(Role::ComboBox, "Layers").click();
    window.run_ok();
    click(&mut window, "one");
    assert_eq!(layout(&window).garment().panels(), Panels::One);
    assert!(layout(&window).panels().back.is_none());
    assert_eq!(layout(&window).garment().value_mm(Measure::ClothWidth), Some(600.0));
    assert!(window.query_by_label("Back from a drawing…").is_none());
}

#[test]
fn a_garment_is_begun_with_its_own_outline() {
    let home = tempfile::tempdir().unwrap();
    let bib = put(home.path(), "bib.svg", TRUE, BIB);
    // A card beside the kinds, or the drawing dropped.
    for is_dropped in [false, true] {
        let mut window = window(home.path());
        if is_dropped {
            drop_file(&mut window, &bib);
        } else {
            click(&mut window, "Start with a garment of your own outline");
            name_file(&mut window, &bib);
        }
        wait(&mut window, "the outline", is_own);
        assert!(window.query_by_label("Outline from a drawing…").is_some(), "the Garment view shows");
        if is_dropped {
            continue;
        }
        for (step, what) in [("View Rod", "How to fold it"), ("View Sheets", "Print…"), ("View Day", "Shopping list")] {
            click(&mut window, step);
            wait(&mut window, what, |window| window.query_all_by_label_contains(what).next().is_some());
        }
    }
}

/// Of a dropped drawing it is asked what for; of several closed lines, which; what is no outline is refused and changes nothing.
#[test]
fn a_dropped_drawing_is_offered_as_the_outline() {
    let home = tempfile::tempdir().unwrap();
    let bar = r#"<path id="bar" d="M20 20L280 30"/>"#;
    let two = put(home.path(), "two.svg", "", &[BIB, BACK, bar].concat());
    let elbow = put(home.path(), "elbow.svg", TRUE, r#"<path d="M50 50L350 110V150L170 140L160 450L70 470Z"/>"#);
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Rod");
    let before = layout(&window).raw().clone();
    drop_file(&mut window, &elbow);
    click(&mut window, "Use it as the garment's outline");
    wait(&mut window, "the refusal", says("\"elbow.svg\": its sides differ by "));
    assert_eq!(layout(&window).raw(), &before);
    click(&mut window, "OK");
    drop_file(&mut window, &two);
    assert!(window.query_by_label("Fold along a line of it").is_some());
    click(&mut window, "Use it as the garment's outline");
    wait(&mut window, "the units", |window| window.query_by_label("Which unit?").is_some());
    window.get_by_label_contains("mm: 540 mm x ").click();
    window.run_ok();
    wait(&mut window, "the lines", says("\"two.svg\" has 2 lines that may be the garment's outline"));
    assert!(window.query_by_label_contains("\"bar\"").is_none(), "it is open");
    window.get_by_label_contains("2 \"back\" (closed, 500 mm x ").click();
    window.run_ok();
    wait(&mut window, "the outline", is_own);
    assert!(is_near(area_mm2(&window, Panel::Front), BACK_MM2));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before);
}

#[test]
fn the_finder_and_the_list_of_kinds_lead_to_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    let title = "Import the garment's outline from a drawing or a photograph";
    press(&mut window, Modifiers::COMMAND, Key::K);
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text("outline");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert!(window.query_by_label(title).is_some());
    click(&mut window, "Cancel");
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    window.get_by_role_and_label(Role::ComboBox, "Kind").click();
    window.run_ok();
    click(&mut window, "own outline");
    assert!(window.query_by_label(title).is_some());
}
