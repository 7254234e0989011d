//! Spirals in the window: chosen by their picture, twisted by numbers, their bands turned, and every view of them opened.

use crate::harness::{TEE, click, layout, press, window, write};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;

#[test]
fn a_spiral_is_chosen_by_its_picture_and_every_view_shows_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    let burst = layout(&window).raw().clone();
    click(&mut window, "Fold: into a spiral");
    assert!(layout(&window).spiral().is_some());
    click(&mut window, "View Rod");
    assert!(window.query_by_label("The puck from above, with its bands and wedges").is_some());
    click(&mut window, "View Binds");
    write(&mut window, "Bands over the puck", "4");
    assert_eq!(layout(&window).sections(), 8);
    for view in ["View Colours", "View Sheets", "View Reveal", "View Fold"] {
        click(&mut window, view);
    }
    press(&mut window, Modifiers::COMMAND, Key::Z);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &burst, "one step for the fold, one for the bands");
}

#[test]
fn a_puck_is_twisted_by_numbers() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: into a spiral");
    write(&mut window, "Puck across", "210");
    write(&mut window, "Turns", "1.5");
    write(&mut window, "First band at", "15");
    let spec = *layout(&window).raw().fold.spiral().unwrap();
    assert_eq!((spec.puck_diameter_mm, spec.turns, spec.first_band_deg), (210.0, 1.5, 15.0));
    write(&mut window, "Puck height", "5");
    assert!(window.query_by_label_contains("has no room for the cloth").is_some());
    write(&mut window, "Turns", "6");
    assert!(window.query_by_label_contains("6 turns stretch the cloth").is_some(), "a warning, no refusal");
    write(&mut window, "Bands over the puck", "0");
    assert!(window.query_by_label_contains("0 bands can't be laid").is_some());
    assert_eq!(layout(&window).raw().fold.spiral().unwrap().bands, 3);
}
