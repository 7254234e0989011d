//! What a hand does on the cloth and in the fields of the binds: what is pressed is what moves, and what is typed stays.

use crate::harness::{SIZE, TEE, Window, beside_centre, click, drag, layout, press, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers, Pos2, Vec2, pos2, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::geometry::{GarmentKind, RawMeasures};
use pleatwright::layout::{Layout, starter_on_marks};
use pleatwright::measure::RuleMarks;
use pleatwright::store::layout_text;

fn tee(home: &tempfile::TempDir) -> Window {
    let mut window = window(home.path());
    click(&mut window, TEE);
    window
}

/// Opens the values of both sides.
fn by_numbers(window: &mut Window) {
    click(window, "View Binds");
    click(window, "By numbers");
}

/// What the first field of that name says, and what it says when it is empty.
fn says(window: &Window, label: &str) -> (String, String) {
    let node = window.get_all_by_role_and_label(Role::TextInput, label).next().unwrap();
    let node = node.accesskit_node();
    (node.value().unwrap_or_default(), node.placeholder().unwrap_or_default().to_owned())
}

fn write_first(window: &mut Window, label: &str, text: &str) {
    let field = |window: &Window, then: &dyn Fn(egui_kittest::Node<'_>)| {
        then(window.get_all_by_role_and_label(Role::TextInput, label).next().unwrap());
    };
    field(window, &|field| field.scroll_to_me());
    window.run_ok();
    field(window, &|field| field.focus());
    window.run_ok();
    press(window, Modifiers::COMMAND, Key::A);
    field(window, &|field| field.type_text(text));
    window.run_ok();
    press(window, Modifiers::NONE, Key::Enter);
}

/// "12 binds" could not be asked for: there was a number for either side, refused and erased beside a ratio.
#[test]
fn twelve_binds_are_asked_for_in_one_field() {
    let home = tempfile::tempdir().unwrap();
    let raw = starter_on_marks(GarmentKind::HoodedTop, Some("L"), &RawMeasures::default(), RuleMarks::InchSixteenth);
    let file = home.path().join("hood.ron");
    std::fs::write(&file, layout_text(&raw.unwrap())).unwrap();
    let mut window = window_with(home.path(), Some(file), SIZE);
    click(&mut window, "View Binds");
    let before = window.state().layout_text();
    write(&mut window, "Binds", "12");
    assert_eq!(layout(&window).binds().binds.len(), 12);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before, "one step takes it back");
    write(&mut window, "Binds", "0");
    assert_eq!(window.state().layout_text(), before);
    assert_eq!(says(&window, "Binds").0, "0", "what was typed stays");
    assert!(window.query_by_label_contains("it must be 1 to 500").is_some(), "the reason stands beside it");
    write(&mut window, "Binds", "9");
    assert!(window.query_by_label("!").is_none());
    assert_eq!(layout(&window).binds().binds.len(), 9);
}

#[test]
fn a_number_of_gaps_holds_and_the_ratio_is_worked_out() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home);
    by_numbers(&mut window);
    assert_ne!(says(&window, "Ratio").0, "");
    write_first(&mut window, "Number of gaps", "7");
    assert_eq!(layout(&window).binds().inward.count, 7);
    let (given, came_out) = says(&window, "Ratio");
    assert_eq!(given, "");
    let ratio = layout(&window).binds().inward.factor.unwrap();
    let told: f64 = came_out.strip_suffix(", worked out").unwrap().parse().unwrap();
    assert!((told - ratio).abs() <= 0.0005, "{came_out}");
    // Now the ratio is typed: what was typed before it stays, and something older gives way.
    write_first(&mut window, "Ratio", "0.9");
    let inward = layout(&window).binds().inward.clone();
    assert_eq!((inward.count, inward.factor), (7, Some(0.9)));
    // Emptied, it follows from the others again, and nothing moves.
    write_first(&mut window, "Ratio", "");
    assert_eq!(layout(&window).binds().inward.count, 7);
    assert!((layout(&window).binds().inward.factor.unwrap() - 0.9).abs() < 1e-6);
    assert!(window.query_by_label("!").is_none());
}

#[test]
fn the_slider_tightens_the_whole_rod_in_one_step() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home);
    click(&mut window, "View Binds");
    let before = window.state().layout_text();
    let slider = window.get_by_role_and_label(Role::Slider, "Even to tighter").rect();
    drag(&mut window, slider.center(), vec2(slider.width() * 0.6, 0.0));
    let gap = |layout: &Layout, at: usize| layout.binds().binds[at + 1].radius_mm - layout.binds().binds[at].radius_mm;
    let tight = layout(&window);
    let last = tight.binds().binds.len() - 2;
    assert!(gap(&tight, 0) < 0.2 * gap(&tight, last), "{} of {}", gap(&tight, 0), gap(&tight, last));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before);
    drag(&mut window, slider.center(), vec2(-slider.width(), 0.0));
    let even = layout(&window);
    assert!((gap(&even, 0) - gap(&even, 1)).abs() <= 1.0);
}

/// The table beside the folded cloth moved a bind.
#[test]
fn the_bare_table_moves_nothing_but_the_view() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home);
    let before = window.state().layout_text();
    let cross = beside_centre(&window, 0.0);
    // The guide arc's circle goes on to the left of the fold, beyond the tags, and there is no cloth.
    let reach = (beside_centre(&window, 1.0) - cross).x;
    drag(&mut window, cross + vec2(-45.0, (reach * reach - 2025.0).sqrt()), vec2(30.0, 18.0));
    assert_eq!(window.state().layout_text(), before);
    let moved = beside_centre(&window, 0.0) - cross;
    assert!((moved - vec2(30.0, 18.0)).length() < 1.5, "the table follows the hand: {moved:?}");
}

/// A quick hand's first step is wide: it moved the view by that, and took what lay there.
#[test]
fn a_quick_drag_moves_what_was_pressed_and_not_the_view() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home);
    let before = layout(&window);
    let (cross, guide) = (beside_centre(&window, 0.0), beside_centre(&window, 1.0));
    quick_drag(&mut window, cross, vec2(0.0, 34.0));
    let after = layout(&window);
    assert_eq!(after.raw().binds, before.raw().binds, "no bind moved");
    assert!(after.burst().unwrap().centre().y > before.burst().unwrap().centre().y + 5.0);
    let below = beside_centre(&window, 0.0);
    assert!((below - cross - vec2(0.0, 34.0)).length() < 3.0, "the cross is under the hand: {below:?} after {cross:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!((beside_centre(&window, 0.0) - cross).length() < 0.5, "the view stood still");
    quick_drag(&mut window, guide + vec2(4.0, 0.0), vec2(17.0, 0.0));
    let moved = beside_centre(&window, 1.0) - guide;
    assert!((moved.x - 17.0).abs() < 2.0, "the ring keeps its place under the hand: {moved:?}");
    assert!((beside_centre(&window, 0.0) - cross).length() < 0.5, "the view stood still");
}

/// Presses, moves in two steps, lets go.
fn quick_drag(window: &mut Window, from: Pos2, by: Vec2) {
    window.hover_at(from);
    window.run_ok();
    window.drag_at(from);
    window.step();
    for step in [0.5, 1.0] {
        window.hover_at(from + by * step);
        window.step();
    }
    window.drop_at(from + by);
    window.run_ok();
}

/// Presses, and moves half way.
fn half_a_drag(window: &mut Window, from: Pos2, by: Vec2) {
    window.hover_at(from);
    window.run_ok();
    window.drag_at(from);
    window.step();
    window.hover_at(from + by * 0.5);
    window.step();
    window.step();
}

/// A drag that is broken off: by another step of the program, by Undo, by Escape. The hand holds nothing afterwards, and all of the drag is one
/// step or none.
#[test]
fn a_drag_that_is_broken_off_leaves_nothing_in_the_hand() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home);
    let before = window.state().layout_text();
    let (cross, by) = (beside_centre(&window, 0.0), vec2(0.0, 60.0));
    // It is let go while another view shows, and what is dragged then is the table.
    half_a_drag(&mut window, cross, by);
    let moved = window.state().layout_text();
    assert_ne!(moved, before);
    press(&mut window, Modifiers::ALT, Key::Num6);
    window.drop_at(cross + by);
    window.run_ok();
    press(&mut window, Modifiers::ALT, Key::Num2);
    quick_drag(&mut window, pos2(640.0, 800.0), vec2(60.0, -40.0));
    assert_eq!(window.state().layout_text(), moved, "the hand held nothing");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before, "it was one step");
    // Undo and Escape put back what is dragged; moving on does nothing.
    for (modifiers, key) in [(Modifiers::COMMAND, Key::Z), (Modifiers::NONE, Key::Escape)] {
        let cross = beside_centre(&window, 0.0);
        half_a_drag(&mut window, cross, by);
        assert_ne!(window.state().layout_text(), before);
        press(&mut window, modifiers, key);
        assert_eq!(window.state().layout_text(), before, "{key:?}");
        window.hover_at(cross + by);
        window.run_ok();
        window.drop_at(cross + by);
        window.run_ok();
        assert_eq!(window.state().layout_text(), before, "after {key:?}");
    }
}

/// A drag that would take away a section that is named by its number stops there; it used to do so without a word.
#[test]
fn why_a_drag_stops_is_told() {
    let home = tempfile::tempdir().unwrap();
    let slate = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/harbour-row-slate-tee-m.ron");
    let mut window = window_with(home.path(), Some(slate), SIZE);
    click(&mut window, "View Fold");
    let centre = window.get_by_label("Burst centre handle").rect().center();
    drag(&mut window, centre, vec2(76.0, 49.0));
    assert!(window.query_by_label_contains("is beyond the last section").is_some());
    let last = layout(&window).section_colours().len();
    assert!(layout(&window).raw().colours.bare.iter().all(|bare| *bare as usize <= last));
    // On the way back it follows again, and nothing more is said.
    let centre = window.get_by_label("Burst centre handle").rect().center();
    drag(&mut window, centre, vec2(-20.0, -10.0));
    assert!(window.query_by_label_contains("is beyond the last section").is_none());
}

fn select_guide_arc(window: &mut Window) {
    let guide = beside_centre(window, 1.0);
    window.hover_at(guide);
    window.run_ok();
    window.drag_at(guide);
    window.drop_at(guide);
    window.run_ok();
}

#[test]
fn a_held_key_is_one_step_and_escape_lets_go() {
    let home = tempfile::tempdir().unwrap();
    let mut window = tee(&home);
    let before = window.state().layout_text();
    let radius = |window: &Window| layout(window).guide_mm();
    let was_mm = radius(&window);
    select_guide_arc(&mut window);
    let key = |pressed, repeat| egui::Event::Key {
        key: Key::ArrowRight,
        physical_key: None,
        pressed,
        repeat,
        modifiers: Modifiers::NONE,
    };
    for repeat in [false, true, true, true] {
        window.event(key(true, repeat));
        window.step();
    }
    window.event(key(false, false));
    window.run_ok();
    assert!((radius(&window) - was_mm - 4.0).abs() < 1e-9, "{} after {was_mm}", radius(&window));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before, "one step");
    press(&mut window, Modifiers::NONE, Key::Escape);
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(window.state().layout_text(), before, "nothing is selected");
}

/// In an inch layout keys moved by millimetres; and Shift made no difference.
#[test]
fn keys_move_by_the_marks_of_the_rule() {
    let home = tempfile::tempdir().unwrap();
    let raw = starter_on_marks(GarmentKind::CrewTee, Some("M"), &RawMeasures::default(), RuleMarks::InchSixteenth).unwrap();
    let file = home.path().join("tee.ron");
    std::fs::write(&file, layout_text(&raw)).unwrap();
    let mut window = window_with(home.path(), Some(file), SIZE);
    select_guide_arc(&mut window);
    let was_mm = layout(&window).guide_mm();
    for (modifiers, sixteenths) in [(Modifiers::NONE, 1.0), (Modifiers::SHIFT, 11.0)] {
        press(&mut window, modifiers, Key::ArrowRight);
        let moved_mm = layout(&window).guide_mm() - was_mm;
        assert!((moved_mm - sixteenths * 25.4 / 16.0).abs() < 1e-9, "{moved_mm}");
    }
}

/// The sizes of a tee begin with an infant's: the list opened there, whatever size was chosen.
#[test]
fn a_long_list_opens_at_what_is_chosen() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window_with(home.path(), None, vec2(1024.0, 700.0));
    click(&mut window, "Start with a crew-neck tee");
    click(&mut window, "View Garment");
    window.get_by_role_and_label(Role::ComboBox, "Size").click();
    window.run_ok();
    let window_rect = egui::Rect::from_min_size(Pos2::ZERO, vec2(1024.0, 700.0));
    let chosen = layout(&window).raw().garment.size.clone().unwrap();
    let entries: Vec<_> =
        window.get_all_by_role(Role::Button).filter(|node| node.accesskit_node().label().as_deref() == Some(&chosen)).collect();
    assert!(entries.iter().any(|entry| window_rect.contains_rect(entry.rect())), "{chosen} is in sight");
}
