//! What is usual where the maker lives, and what was chosen last time.

use crate::harness::{SIZE, TEE, Window, click, layout, wait, window_with, write};
use egui::Rect;
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::app::App;
use pleatwright::measure::{Region, RuleMarks};
use std::path::Path;

/// The window for someone who lives where a locale says.
fn window_in(home: &Path, locale: &'static str) -> Window {
    let home = home.to_owned();
    let mut window = Harness::builder()
        .with_size(SIZE)
        .with_max_steps(60)
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(home), None).in_region(Region::of_locale(locale)));
    window.run_ok();
    window
}

fn paper(window: &mut Window) -> String {
    click(window, "View Sheets");
    let field = window.get_by_role_and_label(Role::TextInput, "Or size");
    field.accesskit_node().value().unwrap_or_default()
}

/// Letter and inches were to be chosen by hand each time.
#[test]
fn the_first_paper_and_unit_are_those_of_the_region() {
    for (locale, marks, name) in [
        ("en_US.UTF-8", RuleMarks::InchSixteenth, "Letter"),
        ("en-CA", RuleMarks::Millimetres1, "Letter"),
        ("de_DE", RuleMarks::Millimetres1, "A4"),
        ("C", RuleMarks::Millimetres1, "A4"),
    ] {
        let home = tempfile::tempdir().unwrap();
        let mut window = window_in(home.path(), locale);
        click(&mut window, "Start with a crew-neck tee");
        assert_eq!(layout(&window).marks(), marks, "{locale}");
        assert_eq!(paper(&mut window), name, "{locale}");
        wait(&mut window, "the sheets", |window| window.query_by_label_contains(&format!("on {name}")).is_some());
    }
}

/// Paper and correction began anew with every start.
#[test]
fn paper_and_printer_are_as_last_time() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = window_in(home.path(), "en_US");
        click(&mut window, TEE);
        assert_eq!(paper(&mut window), "Letter");
        write(&mut window, "Or size", "A3");
        write(&mut window, "100 mm bar prints", "99.2");
    }
    let mut window = window_in(home.path(), "en_US");
    click(&mut window, TEE);
    assert_eq!(paper(&mut window), "A3");
    let bar = window.get_by_role_and_label(Role::TextInput, "100 mm bar prints");
    assert_eq!(bar.accesskit_node().value().as_deref(), Some("99.2 mm"));
}

/// Half of a maker's prints were begun from another step, by the menu.
#[test]
fn printing_is_in_reach_in_every_step() {
    for size in [SIZE, egui::vec2(1024.0, 700.0), egui::vec2(760.0, 520.0)] {
        let home = tempfile::tempdir().unwrap();
        let mut window = window_with(home.path(), None, size);
        assert!(window.query_by_label("Print…").is_none(), "there is nothing to print yet");
        window.get_by_label(TEE).scroll_to_me();
        window.run_ok();
        click(&mut window, TEE);
        for step in ["Garment", "Fold", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
            click(&mut window, &format!("View {step}"));
            let rect = window.get_by_label("Print…").rect();
            assert!(Rect::from_min_size(egui::Pos2::ZERO, size).contains_rect(rect), "{step}: {rect:?}");
        }
        click(&mut window, "Print…");
        assert!(window.query_by_role_and_label(Role::TextInput, "File").is_some());
    }
}
