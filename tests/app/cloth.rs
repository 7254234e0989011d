//! What shows over the cloth while one works on it, and what is done there besides moving things: the small reveal, lengths beside the
//! hand, menus, dyes given by hand.

use crate::harness::{TEE, Window, beside_centre, click, drag, layout, press, wait, window, write};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, MouseWheelUnit, PointerButton, Pos2, Shape, TextureId, TouchPhase, Vec2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::layout::Layout;

fn tee(home: &tempfile::TempDir, step: &str) -> Window {
    std::fs::write(home.path().join("settings.ron"), "(inset_hidden: false)").unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, step);
    window
}

/// The place of a radius, mm, beside the centre.
fn at_radius(window: &Window, radius_mm: f64) -> Pos2 {
    #[expect(clippy::cast_possible_truncation, reason = "a share of the window")]
    let share = (radius_mm / layout(window).guide_mm()) as f32;
    beside_centre(window, share)
}

/// The middle of a section, counted from 1 at the centre, beside the centre.
fn in_section(window: &Window, number: usize) -> Pos2 {
    let layout = layout(window);
    let binds = &layout.binds().binds;
    at_radius(window, 0.5 * (binds[number - 2].radius_mm + binds[number - 1].radius_mm))
}

fn press_at(window: &mut Window, at: Pos2, button: PointerButton) {
    window.hover_at(at);
    window.run_ok();
    for pressed in [true, false] {
        window.event(Event::PointerButton { pos: at, button, pressed, modifiers: Modifiers::NONE });
        window.step();
    }
    window.run_ok();
}

fn shows_reveal(window: &Window) -> bool {
    window.query_by_label_contains("Small reveal of").is_some()
}

#[test]
fn the_reveal_stays_in_view_and_can_be_put_away() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Fold");
    for step in ["View Fold", "View Binds", "View Colours"] {
        click(&mut window, step);
        assert!(shows_reveal(&window), "{step}");
    }
    click(&mut window, "View Garment");
    assert!(!shows_reveal(&window));
    click(&mut window, "View Binds");
    // A picture of the cloth, not an empty frame.
    let pictures = |window: &Window| textured(window).into_iter().filter(|id| *id != TextureId::default()).count();
    wait(&mut window, "the reveal", |window| pictures(window) >= 1);
    press(&mut window, Modifiers::COMMAND, Key::R);
    assert!(!shows_reveal(&window));
    click(&mut window, "View Colours");
    assert!(!shows_reveal(&window), "it stays away");
    press(&mut window, Modifiers::COMMAND, Key::R);
    assert!(shows_reveal(&window));
    let picture = window.get_by_label_contains("Small reveal of").rect().center();
    press_at(&mut window, picture, PointerButton::Primary);
    assert!(window.query_by_label("Hold for comparison").is_some(), "a click shows it large");
}

/// The pictures that are painted.
fn textured(window: &Window) -> Vec<TextureId> {
    fn of(shape: &Shape, found: &mut Vec<TextureId>) {
        match shape {
            Shape::Mesh(mesh) => found.push(mesh.texture_id),
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| of(shape, found)),
            shape => found.push(shape.texture_id()),
        }
    }
    let mut found = Vec::new();
    window.output().shapes.iter().for_each(|clipped| of(&clipped.shape, &mut found));
    found
}

#[test]
fn lengths_stand_beside_the_hand_that_drags() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Binds");
    let guide = beside_centre(&window, 1.0);
    window.hover_at(guide);
    window.run_ok();
    window.drag_at(guide);
    window.step();
    for by in [6.0, 14.0] {
        window.hover_at(guide + vec2(by, 0.0));
        window.step();
    }
    window.step();
    let now = layout(&window);
    let number = now.binds().binds.iter().position(pleatwright::geometry::Bind::is_guide).unwrap();
    let [inside, outside] =
        [0, 1].map(|next| now.binds().binds[number + next].radius_mm - now.binds().binds[number + next - 1].radius_mm);
    let words = format!("gaps {inside} mm inside, {outside} mm outside");
    assert!(window.query_by_label(&words).is_some(), "no \"{words}\"");
    window.drop_at(guide + vec2(14.0, 0.0));
    window.run_ok();
    assert!(window.query_by_label(&words).is_none());
}

#[test]
fn a_right_click_offers_what_can_be_done_there() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Binds");
    let before = layout(&window);
    let count = |window: &Window| layout(window).binds().binds.len();
    let bind = at_radius(&window, before.binds().binds[2].radius_mm);
    press_at(&mut window, bind, PointerButton::Secondary);
    assert!(window.query_by_label("Bind 3").is_some(), "by the name that it has everywhere");
    click(&mut window, "Remove bind 3");
    assert_eq!(count(&window), before.binds().binds.len() - 1);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    // Wide enough that its middle lies out of the binds' reach.
    let guide = before.binds().binds.iter().position(pleatwright::geometry::Bind::is_guide).unwrap();
    let section = in_section(&window, guide + 1);
    press_at(&mut window, section, PointerButton::Secondary);
    click(&mut window, "Add a bind here");
    assert_eq!(count(&window), before.binds().binds.len() + 1);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    let centre = beside_centre(&window, 0.0);
    press_at(&mut window, centre, PointerButton::Secondary);
    click(&mut window, "To the middle of the length");
    let now = layout(&window);
    let (to, middle_mm) = (now.burst().unwrap().centre(), pleatwright::geometry::middle_mm(now.panels()));
    assert!((to.y - middle_mm).abs() < 1e-9, "{to:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    // Beside the cloth the table has a menu of its own.
    let canvas = window.get_by_label("Garment, As laid").rect();
    press_at(&mut window, canvas.left_bottom() + vec2(30.0, -30.0), PointerButton::Secondary);
    window.get_all_by_label("Front, opened").last().unwrap().click();
    window.run_ok();
    assert!(window.query_by_label("Garment, Front, opened").is_some());
    assert_eq!(layout(&window).raw(), before.raw());
}

/// A tag beside the fold used to be bare table: a right click on it was about the section, or about nothing.
#[test]
fn a_tag_stands_for_its_bind() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Binds");
    let tag = |window: &Window| window.get_by_label("Tag of bind 3").rect().center();
    let at = tag(&window);
    press_at(&mut window, at, PointerButton::Secondary);
    assert!(window.query_by_label("Bind 3").is_some() && window.query_by_label("Remove bind 3").is_some());
    press(&mut window, Modifiers::NONE, Key::Escape);
    let radius_mm = |window: &Window| layout(window).binds().binds[2].radius_mm;
    let before_mm = radius_mm(&window);
    let at = tag(&window);
    drag(&mut window, at, vec2(0.0, 6.0));
    assert!(radius_mm(&window) > before_mm, "{before_mm} {}", radius_mm(&window));
}

#[test]
fn a_click_or_a_dragged_dye_colours_a_section() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Colours");
    let names: Vec<String> = layout(&window).raw().colours.rotation.iter().map(|swatch| swatch.name.clone()).collect();
    let single = |layout: &Layout, number| layout.raw().colours.single.get(&number).cloned();
    let other = |window: &Window, number: usize| {
        let now = layout(window).section_colours()[number - 1].unwrap();
        (now + 1) % names.len()
    };
    let (section, dye) = (in_section(&window, 5), other(&window, 5));
    press_at(&mut window, section, PointerButton::Primary);
    let entries: Vec<_> = window.get_all_by_role_and_label(Role::Button, &names[dye]).map(|node| node.rect().center()).collect();
    press_at(&mut window, *entries.last().unwrap(), PointerButton::Primary);
    assert_eq!(single(&layout(&window), 5).as_ref(), Some(&names[dye]));
    let (section, dye) = (in_section(&window, 4), other(&window, 4));
    let button = window.get_by_label(&format!("Dye {}: colour", dye + 1)).rect().center();
    drag(&mut window, button, section - button);
    assert_eq!(single(&layout(&window), 4).as_ref(), Some(&names[dye]));
    // The same section left without dye, which undo takes back.
    press_at(&mut window, section, PointerButton::Primary);
    let none: Vec<_> = window.get_all_by_role_and_label(Role::Button, "no dye").map(|node| node.rect().center()).collect();
    press_at(&mut window, *none.last().unwrap(), PointerButton::Primary);
    assert_eq!((layout(&window).section_colours()[3], single(&layout(&window), 4)), (None, None));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(single(&layout(&window), 4).as_ref(), Some(&names[dye]));
    // Let go over the bare table, it colours nothing.
    let before = layout(&window);
    let bare = window.get_by_label("Garment, As laid").rect().left_bottom() + vec2(30.0, -30.0);
    drag(&mut window, button, bare - button);
    assert_eq!(layout(&window).raw(), before.raw());
}

/// A hood is cloth of the back alone and lies beside the front: it was left undyed in Colours.
#[test]
fn cloth_below_the_upper_layer_is_coloured_too() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Colours");
    press(&mut window, Modifiers::COMMAND, Key::R);
    let pictures: Vec<TextureId> = textured(&window).into_iter().filter(|id| *id != TextureId::default()).collect();
    // Cloth is painted first, then its thread.
    let layers = pictures.iter().filter(|id| **id == pictures[0]).count();
    assert_eq!(layers, 2);
}

#[test]
fn arrows_and_wheel_step_a_number_and_one_undo_takes_it_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Binds");
    let (before, binds) = (window.state().layout_text(), layout(&window).binds().binds.len());
    let field = window.get_by_role_and_label(Role::TextInput, "Binds").rect().center();
    press_at(&mut window, field, PointerButton::Primary);
    for _ in 0..3 {
        window.key_press(Key::ArrowUp);
        window.step();
    }
    turn(&mut window, -1.0);
    window.step();
    assert_eq!(layout(&window).binds().binds.len(), binds + 2);
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before, "one step");
    click(&mut window, "View Fold");
    let was_mm = layout(&window).guide_mm();
    let field = window.get_by_role_and_label(Role::TextInput, "Guide arc").rect().center();
    press_at(&mut window, field, PointerButton::Primary);
    press(&mut window, Modifiers::SHIFT, Key::ArrowDown);
    assert!((layout(&window).guide_mm() - was_mm + 10.0).abs() < 1e-9, "{}", layout(&window).guide_mm());
}

/// Turns the wheel by one.
fn turn(window: &mut Window, way: f32) {
    window.event(Event::MouseWheel {
        unit: MouseWheelUnit::Line,
        delta: Vec2::new(0.0, way),
        phase: TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
        modifiers: Modifiers::NONE,
    });
    window.step();
}

#[test]
fn the_first_click_in_a_number_takes_all_of_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Binds");
    let field = window.get_by_role_and_label(Role::TextInput, "Binds").rect().center();
    press_at(&mut window, field, PointerButton::Primary);
    window.event(Event::Text("9".to_owned()));
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(layout(&window).binds().binds.len(), 9);
}

#[test]
fn a_colour_is_taken_from_a_swatch_a_plane_or_its_name() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home, "View Colours");
    let dye = |window: &Window| layout(window).raw().colours.rotation[0].clone();
    let first = dye(&window);
    click(&mut window, "Dye 1: colour");
    write(&mut window, "Name or digits", "dark red");
    assert_eq!((dye(&window).srgb.to_string(), dye(&window).name), ("#8b0000".to_owned(), first.name.clone()));
    // A name that everybody knows brings its colour, wherever it is written; any other is only a name.
    write(&mut window, "Dye 2", "gold");
    let second = || layout(&window).raw().colours.rotation[1].clone();
    assert_eq!((second().name, second().srgb.to_string()), ("gold".to_owned(), "#ffd700".to_owned()));
    write(&mut window, "Name or digits", "no such colour");
    assert!(window.query_by_label_contains("Not a colour: \"no such colour\"").is_some());
    assert_eq!(dye(&window).srgb.to_string(), "#8b0000");
    let before = window.state().layout_text();
    let plane = window.get_by_label("Dye 1: shade").rect();
    drag(&mut window, plane.center(), vec2(40.0, -20.0));
    assert_ne!(window.state().layout_text(), before);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before, "one step");
    let take = window.get_all_by_role(Role::Button).filter_map(|node| node.accesskit_node().label());
    let offered: Vec<String> = take.filter(|label| label.starts_with("Take ")).collect();
    assert!(offered.len() > 5, "{offered:?}");
    click(&mut window, offered.last().unwrap());
    assert_eq!(dye(&window).name, offered.last().unwrap()["Take ".len()..]);
}
