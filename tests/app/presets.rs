//! The maker's own spacing presets in the window.

use crate::harness::{SIZE, TEE, Window, click, layout, press, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{GarmentKind, Progression, RawMeasures};
use pleatwright::layout::starter_on_marks;
use pleatwright::measure::RuleMarks;
use pleatwright::store::layout_text;

fn fill(window: &mut Window, label: &str, text: &str) {
    window.get_by_role_and_label(Role::TextInput, label).focus();
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, label).type_text(text);
    window.run_ok();
}

#[test]
fn a_spacing_is_kept_renamed_applied_and_removed() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Binds");
    let spacing = layout(&window).raw().binds.clone();
    click(&mut window, "Save spacing preset…");
    fill(&mut window, "Name", "Regatta");
    click(&mut window, "Save");
    assert_eq!(std::fs::read_dir(home.path().join("presets")).unwrap().count(), 1);
    click(&mut window, "Apply Even rings");
    assert!(matches!(layout(&window).raw().binds.inward, Progression::Even { .. }));
    click(&mut window, "Rename Regatta");
    fill(&mut window, "Name", "Start and finish");
    click(&mut window, "Rename");
    click(&mut window, "Apply Start and finish");
    assert_eq!(layout(&window).raw().binds, spacing);
    // On another guide arc the gaps grow with it, or keep their lengths.
    click(&mut window, "View Fold");
    write(&mut window, "Guide arc", "115");
    click(&mut window, "View Binds");
    click(&mut window, "Apply Start and finish");
    let first = |window: &Window| match layout(window).raw().binds.inward {
        Progression::Ratio { first_gap_mm, .. } => first_gap_mm,
        ref other => panic!("{other:?}"),
    };
    assert_eq!(first(&window), Some(17.0));
    click(&mut window, "Apply Start and finish unscaled");
    assert_eq!(first(&window), Some(34.0));
    click(&mut window, "Remove Start and finish");
    assert!(window.query_by_label("Apply Start and finish").is_none());
    let kept = std::fs::read_dir(home.path().join("presets")).unwrap().flatten();
    assert!(kept.into_iter().any(|entry| entry.path().to_string_lossy().ends_with(".ron.removed")));
}

/// "3.4" became 3 without a word.
#[test]
fn a_number_of_gaps_that_is_not_whole_is_refused() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Binds");
    click(&mut window, "By numbers");
    let before = window.state().layout_text();
    for (text, refused) in [("3.4", true), ("-2", true), ("many", true), ("5", false)] {
        let field = |window: &Window, then: &dyn Fn(egui_kittest::Node<'_>)| {
            then(window.get_all_by_role_and_label(Role::TextInput, "Number of gaps").next().unwrap());
        };
        field(&window, &|field| field.focus());
        window.run_ok();
        press(&mut window, Modifiers::COMMAND, Key::A);
        field(&window, &|field| field.type_text(text));
        window.run_ok();
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert_eq!(window.query_by_label("!").is_some(), refused, "{text}");
        assert_eq!(window.state().layout_text() == before, refused, "{text}");
    }
}

/// An inch layout was shown in millimetres, and a preset made it metric without a word.
#[test]
fn an_inch_layout_shows_in_inches_and_a_preset_leaves_it_so() {
    let home = tempfile::tempdir().unwrap();
    let marks = RuleMarks::InchSixteenth;
    let mut raw = starter_on_marks(GarmentKind::HoodedTop, Some("L"), &RawMeasures::default(), marks).unwrap();
    raw.fold.burst_mut().unwrap().guide_radius_mm = 181.1;
    let file = home.path().join("hood.ron");
    std::fs::write(&file, layout_text(&raw)).unwrap();
    let mut window = window_with(home.path(), Some(file), SIZE);
    click(&mut window, "View Fold");
    assert!(window.query_by_label_contains("15 of 1 1/2 in").is_some());
    assert!(window.query_by_label_contains("moved in by 0.005 in to the nearest mark").is_some());
    click(&mut window, "View Binds");
    click(&mut window, "Apply Even rings");
    assert_eq!(layout(&window).marks(), marks);
    assert!(window.query_by_label_contains("marks stay every 1/16 in (the preset has every 5 mm)").is_some());
    click(&mut window, "View");
    click(&mut window, "Millimetres");
    click(&mut window, "View Fold");
    assert!(window.query_by_label_contains("moved in by 0.1 mm to the nearest mark").is_some());
}
