//! The maker's own spacing presets in the window.

use crate::harness::{TEE, Window, click, layout, press, window, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::Progression;

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
    click(&mut window, "Step Binds");
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
    click(&mut window, "Step Burst");
    write(&mut window, "Guide arc", "115");
    click(&mut window, "Step Binds");
    click(&mut window, "Apply Start and finish");
    let first = |window: &Window| match layout(window).raw().binds.inward {
        Progression::Ratio { first_gap_mm, .. } => first_gap_mm,
        ref other => panic!("{other:?}"),
    };
    assert_eq!(first(&window), Some(17.0));
    click(&mut window, "Apply Start and finish with its lengths");
    assert_eq!(first(&window), Some(34.0));
    click(&mut window, "Remove Start and finish");
    assert!(window.query_by_label("Apply Start and finish").is_none());
    let kept = std::fs::read_dir(home.path().join("presets")).unwrap().flatten();
    assert!(kept.into_iter().any(|entry| entry.path().to_string_lossy().ends_with(".ron.removed")));
}
