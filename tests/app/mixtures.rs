//! Dyes mixed of others, in the Colours view.

use crate::harness::{SIZE, TEE, Window, click, layout, press, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::layout::{Component, ComponentReach};
use pleatwright::learn::{ComponentPart, Learned, LearnedValue, TaughtBy};
use pleatwright::store::{EXAMPLE_LAYOUTS, learned_text};

/// What the first dye is mixed of.
fn components(window: &Window) -> Vec<Component> {
    layout(window).raw().colours.rotation[0].components.clone()
}

/// Clicks the first button of several with that label.
fn click_first(window: &mut Window, label: &str) {
    window.get_all_by_role_and_label(Role::Button, label).next().unwrap().scroll_to_me();
    window.run_ok();
    window.get_all_by_role_and_label(Role::Button, label).next().unwrap().click();
    window.run_ok();
}

/// Writes into one of several fields with that label, from 0.
fn write_nth(window: &mut Window, label: &str, number: usize, text: &str) {
    window.get_all_by_role_and_label(Role::TextInput, label).nth(number).unwrap().focus();
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    window.get_all_by_role_and_label(Role::TextInput, label).nth(number).unwrap().type_text(text);
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
}

#[test]
fn a_dye_is_mixed_in_the_window_and_each_change_is_one_step() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Colours");
    let unmixed = window.state().layout_text();
    click(&mut window, "Dye 1: colour");
    click(&mut window, "Mixed of…");
    let own = layout(&window).raw().colours.rotation[0].srgb;
    assert!(components(&window).iter().all(|one| one.srgb == own && one.percent == 50.0 && one.reach_factor == 1.0));
    assert!(window.query_by_label("together: like this dye").is_some(), "two halves of a dye look like it");

    write(&mut window, "No. 1", "navy");
    write(&mut window, "No. 2", "rust");
    let [navy, rust] = &components(&window)[..] else { panic!("two components") };
    assert_eq!((navy.srgb.to_string(), rust.name.as_str()), ("#000080".to_owned(), "rust"), "a known name brings its colour");
    write_nth(&mut window, "Share, %", 1, "30");
    assert_eq!(components(&window).iter().map(|one| one.percent).collect::<Vec<_>>(), [70.0, 30.0]);
    write_nth(&mut window, "Spreads farther, %", 1, "40");
    assert_eq!(components(&window)[1].reach_factor, 1.4);

    // What can't be stays in its field, with why; the layout stays as it was.
    let before = window.state().layout_text();
    write_nth(&mut window, "Spreads farther, %", 1, "900");
    assert_eq!(window.state().layout_text(), before);
    assert!(window.query_by_label_contains("out of range; give 0.4 to 2.5").is_some());
    window.get_all_by_role_and_label(Role::TextInput, "Spreads farther, %").nth(1).unwrap().focus();
    window.run_ok();
    window.key_press(Key::Escape);
    window.run_ok();

    assert!(window.query_by_label("together: unlike this dye").is_some());
    click(&mut window, "Take this colour");
    assert!(window.query_by_label("together: like this dye").is_some());
    click(&mut window, "Add a component");
    assert_eq!(components(&window).len(), 3);
    click_first(&mut window, "Remove component");
    assert_eq!(components(&window).len(), 2);
    click(&mut window, "Not mixed");
    assert_eq!(components(&window), []);
    // Nine changes, nine steps back.
    for _ in 0..9 {
        assert_ne!(window.state().layout_text(), unmixed);
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(window.state().layout_text(), unmixed);
}

/// A mixture that was kept among the maker's swatches comes back as one; a garment takes its colour alone.
#[test]
fn a_kept_swatch_stays_a_mixture() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Colours");
    write(&mut window, "Dye 1", "storm");
    click(&mut window, "Dye 1: colour");
    click(&mut window, "Mixed of…");
    let mixed = layout(&window).raw().colours.rotation[0].clone();
    click_first(&mut window, "Keep");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    click(&mut window, "Dye 1: colour");
    click(&mut window, "Take storm");
    assert_eq!(layout(&window).raw().colours.rotation[0], mixed);
    click(&mut window, "Garment: colour");
    let take = window.get_all_by_label_contains("Take storm").next().unwrap();
    take.click();
    window.run_ok();
    assert_eq!(layout(&window).raw().garment.colour, Some(mixed.unmixed()));
}

/// What pieces taught of a mixture is offered where its components are written, whether it came from the book of swatches or was made up in the window, and
/// changes nothing by itself; all of it is taken in one step together with the calibration, and what changed is told.
#[test]
fn what_pieces_taught_of_a_mixture_is_offered_and_taken() {
    let home = tempfile::tempdir().unwrap();
    let own = home.path().join("mine.ron");
    let part = |component: &str, reach_factor: f64, covariance: Vec<f64>| ComponentPart {
        reach: ComponentReach { mixture: "slate".to_owned(), component: component.to_owned(), reach_factor },
        guess: 1.0,
        covariance,
        pieces: 1,
    };
    let piece = TaughtBy { name: "tee".to_owned(), photographs: Vec::new(), values: vec![LearnedValue::DyeAlong] };
    let parts = [part("rust", 0.7, vec![0.0, 0.002]), part("blue", 1.5, vec![0.0, 0.0, 0.002])];
    let learned = Learned::from_parts(&[(LearnedValue::DyeAlong, 20.0, vec![0.001])], &parts, vec![piece], Vec::new()).unwrap();
    std::fs::write(&own, learned_text(&learned)).unwrap();
    std::fs::write(home.path().join("settings.ron"), format!("(inset_hidden: true, learned: Some({own:?}))")).unwrap();
    let file = home.path().join("slate.ron");
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == "harbour-row-slate-tee-m.ron").unwrap();
    std::fs::write(&file, example.text).unwrap();
    let mut window = window_with(home.path(), Some(file), SIZE);
    let before = window.state().layout_text();
    let factors = |window: &Window| {
        let rotation = layout(window).raw().colours.rotation.clone();
        let slate = rotation.iter().find(|swatch| swatch.name == "slate").unwrap().components.clone();
        slate.iter().map(|one| one.reach_factor).collect::<Vec<_>>()
    };
    assert_eq!(factors(&window), [0.8, 1.8]);
    click(&mut window, "View Colours");
    assert!(window.query_by_label("Your pieces taught: 30 % less far.").is_some());
    assert!(window.query_by_label("Your pieces taught: 50 % farther.").is_some());
    assert_eq!(window.state().layout_text(), before, "nothing is taken that was not asked for");
    click_first(&mut window, "Use that");
    assert_eq!(factors(&window), [0.7, 1.8]);
    assert!(window.query_by_label("Spreads as your pieces taught.").is_some());
    press(&mut window, Modifiers::COMMAND, Key::Z);

    click(&mut window, "View Reveal");
    click(&mut window, "Calibration");
    click(&mut window, "Use what you learned");
    assert_eq!(factors(&window), [0.7, 1.5]);
    assert!((layout(&window).process().calibration.dye_reach.along_mm - 20.0).abs() < 1e-6);
    let told = "has what was learned; rust in slate reaches 30 % less far (was: 20 % less far); blue in slate reaches 50 % farther (was: 80 % farther)";
    assert!(window.query_by_label_contains(told).is_some());
    click(&mut window, "Use what you learned");
    assert!(window.query_by_label_contains("has these calibration values already").is_some());
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before, "one step back");
}
