//! What a hand meets around its work: menus, the view in a window that grows, what a field says while a press is held.

use crate::harness::{SIZE, TEE, Window, click, drag, layout, press, window, write};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::geometry::{GarmentKind, SizeName};

/// The pointer that comes from an open menu opens the next; the click then closed what it was to open.
#[test]
fn a_click_on_the_next_menu_opens_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let has_save = |window: &Window| window.query_by_label_contains("Save as").is_some();
    for is_open in [true, false, true] {
        click(&mut window, "File");
        assert_eq!(has_save(&window), is_open);
    }
    let edit = window.get_by_label("Edit").rect().center();
    // A pointer that stood still is not known to hover.
    for away in [40.0, 2.0, 1.0, 0.0] {
        window.hover_at(edit + vec2(away, 0.0));
        window.run_ok();
    }
    let has_undo = |window: &Window| window.query_by_label_contains("Redo").is_some();
    assert!(has_undo(&window), "the pointer that comes by opens it");
    window.get_by_label("Edit").click();
    window.run_ok();
    assert!(has_undo(&window), "the click leaves it open");
    window.get_by_label("Edit").click();
    window.run_ok();
    assert!(!has_undo(&window), "the next closes it");
}

/// A view that a hand had moved stayed as small as the window once was.
#[test]
fn a_moved_view_grows_and_shrinks_with_the_window() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let radius = |window: &Window| {
        let [centre, guide] = ["Burst centre handle", "Guide arc handle"].map(|label| window.get_by_label(label).rect().center());
        centre.distance(guide)
    };
    let fitted = radius(&window);
    let cloth = window.get_by_role_and_label(Role::Canvas, "Garment, As laid").rect();
    drag(&mut window, cloth.left_bottom() + vec2(60.0, -60.0), vec2(30.0, -20.0));
    assert!((radius(&window) - fitted).abs() < 0.5, "moved, not scaled");
    window.set_size(vec2(1024.0, 700.0));
    window.run_ok();
    let small = radius(&window);
    assert!(small < 0.95 * fitted, "{small} of {fitted}");
    window.set_size(vec2(1700.0, 1100.0));
    window.run_ok();
    assert!(radius(&window) > 1.1 * fitted, "{} of {fitted}", radius(&window));
    window.set_size(SIZE);
    window.run_ok();
    assert!((radius(&window) - fitted).abs() < 0.5, "{} of {fitted}", radius(&window));
}

/// What is refused in a field is said when the press that left it is over: else what was pressed slips away from under the pointer.
#[test]
fn a_press_that_leaves_a_refused_field_counts() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let inner = || Role::TextInput;
    window.get_by_role_and_label(inner(), "Guide arc").focus();
    window.run_ok();
    window.get_by_role_and_label(inner(), "Guide arc").type_text("x");
    window.run_ok();
    let below = window.get_by_role_and_label(inner(), "Pleat depth").rect();
    let button =
        |pos: Pos2, pressed| Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE };
    window.hover_at(below.center());
    window.step();
    window.event(button(below.center(), true));
    window.step();
    window.step();
    assert_eq!(window.get_by_role_and_label(inner(), "Pleat depth").rect(), below, "nothing moves under the press");
    window.event(button(below.center(), false));
    window.run_ok();
    assert!(window.get_by_role_and_label(inner(), "Pleat depth").accesskit_node().is_focused());
    assert!(window.query_by_label_contains("\"x\"").is_some(), "then it is said");
    assert_eq!(
        window.get_by_role_and_label(inner(), "Pleat depth").rect().x_range(),
        below.x_range(),
        "the panel keeps its breadth"
    );
}

/// What was refused came last: undo takes it back before it takes back a step that stands.
#[test]
fn undo_takes_back_what_was_refused_first() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let guide_mm = |window: &Window| layout(window).raw().fold.burst().unwrap().guide_radius_mm;
    let before_mm = guide_mm(&window);
    write(&mut window, "Guide arc", "201");
    write(&mut window, "Guide arc", "201 parsecs");
    assert!(window.query_by_label_contains("parsecs\"").is_some(), "it is refused");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(window.query_by_label_contains("parsecs\"").is_none(), "it is taken back");
    assert_eq!(guide_mm(&window), 201.0, "the step before it stands");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(guide_mm(&window), before_mm);
}

/// Flat cloth began as a pillowcase, whose two layers nobody had asked for.
#[test]
fn flat_cloth_begins_with_one_layer() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    window.get_by_role_and_label(Role::ComboBox, "Kind").click();
    window.run_ok();
    window.get_by_role_and_label(Role::Button, "flat cloth").click();
    window.run_ok();
    let layout = layout(&window);
    assert_eq!((layout.garment().kind(), layout.garment().size()), (GarmentKind::FlatCloth, Some(SizeName::Bandana)));
    assert!(layout.panels().back.is_none());
}
