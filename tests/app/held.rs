//! A flat bundle in the hand: its creases dragged on the cloth, its blocks on the bundle from above. Each drag is one step to undo.

use crate::harness::{TEE, Window, click, drag, layout, press, window, write};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Vec2, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{FlatPattern, WedgesFirst, WrapSpec};

fn folded(home: &tempfile::TempDir, kind: &str) -> Window {
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, &format!("Fold: into {kind}"));
    window
}

fn pattern(window: &Window) -> FlatPattern {
    layout(window).raw().fold.flat().unwrap().pattern.clone()
}

fn handle(window: &Window, label: &str) -> Pos2 {
    window.get_by_role_and_label(Role::Button, label).rect().center()
}

/// Drags with keys held.
fn drag_with(window: &mut Window, modifiers: Modifiers, from: Pos2, by: Vec2) {
    let button = |pos, pressed| Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers };
    window.event(Event::ModifiersChanged(modifiers));
    window.event(Event::PointerMoved(from));
    window.step();
    window.event(button(from, true));
    window.step();
    for step in [0.4, 0.8, 1.0] {
        window.event(Event::PointerMoved(from + by * step));
        window.step();
    }
    window.event(button(from + by, false));
    window.step();
    window.event(Event::ModifiersChanged(Modifiers::NONE));
    window.run_ok();
}

fn stripes(pattern: &FlatPattern) -> (f64, f64, bool) {
    let FlatPattern::Stripes { width_mm, angle_deg, start } = pattern else { panic!("stripes") };
    (*width_mm, *angle_deg, start.is_some())
}

#[test]
fn a_dragged_crease_makes_stripes_wider_and_stays_under_the_hand() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "stripes");
    let before = layout(&window).raw().clone();
    let (was_mm, angle_deg, _) = stripes(&pattern(&window));
    let from = handle(&window, "Fold 2 handle");
    drag(&mut window, from, vec2(24.0, 0.0));
    let (width_mm, now_deg, starts) = stripes(&pattern(&window));
    assert!(width_mm > was_mm + 5.0 && width_mm.fract() == 0.0, "{width_mm} after {was_mm}");
    assert_eq!((now_deg, starts), (angle_deg, false));
    // The hand's crease is within half a step of two stripes' width, a millimetre.
    let now = handle(&window, "Fold 2 handle");
    assert!((now - from - vec2(24.0, 0.0)).x.abs() < 2.0, "{now:?} after {from:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before, "one step");
}

#[test]
fn all_creases_slide_with_ctrl_and_a_slid_pattern_begins_at_the_edge_again() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "stripes");
    let before = layout(&window).raw().clone();
    let from = handle(&window, "Fold 3 handle");
    drag_with(&mut window, Modifiers::COMMAND, from, vec2(13.0, 0.0));
    let slid = stripes(&pattern(&window));
    assert_eq!(slid.0, stripes(&before.fold.flat().unwrap().pattern).0, "its width stays");
    assert!(slid.2, "it begins at a point");
    click(&mut window, "Begin at the cloth's edge");
    assert_eq!(layout(&window).raw(), &before);
}

#[test]
fn creases_turn_by_an_end() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "stripes");
    let before = layout(&window).raw().clone();
    let (middle, end) = (handle(&window, "Fold 4 handle"), handle(&window, "End of fold 4 handle"));
    let arm = end - middle;
    // By 14 degrees, which 15 attracts.
    let (sin, cos) = 14.0_f32.to_radians().sin_cos();
    let to = vec2(cos * arm.x - sin * arm.y, sin * arm.x + cos * arm.y);
    drag(&mut window, end, to - arm);
    let (width_mm, angle_deg, _) = stripes(&pattern(&window));
    let (was_mm, was_deg, _) = stripes(&before.fold.flat().unwrap().pattern);
    assert_eq!((width_mm, angle_deg), (was_mm, was_deg + 15.0));
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before, "one step");
    drag_with(&mut window, Modifiers::SHIFT, end, to - arm);
    let free_deg = stripes(&pattern(&window)).1 - was_deg;
    assert!(free_deg != 15.0 && (free_deg - 14.0).abs() < 1.0, "{free_deg}");
}

#[test]
fn a_selected_crease_is_moved_by_keys() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "stripes");
    let before = layout(&window).raw().clone();
    let at = handle(&window, "Fold 2 handle");
    window.hover_at(at);
    window.run_ok();
    window.drag_at(at);
    window.drop_at(at);
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    let moved_mm = stripes(&pattern(&window)).0 - stripes(&before.fold.flat().unwrap().pattern).0;
    assert!((moved_mm - 0.5).abs() < 1e-9, "the second crease by a millimetre: {moved_mm}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before);
}

#[test]
fn squares_and_triangles_are_dragged_too() {
    for kind in ["squares", "triangles", "right triangles"] {
        let home = tempfile::tempdir().unwrap();
        let mut window = folded(&home, kind);
        let before = layout(&window).raw().clone();
        let folds = layout(&window).marked_creases().iter().map(|crease| crease.number).max().unwrap();
        // The last crease of squares runs across the strip; the first one of triangles bounds it.
        let number = if kind == "squares" { folds } else { 1 };
        let from = handle(&window, &format!("Fold {number} handle"));
        drag(&mut window, from, vec2(20.0, 9.0));
        assert_ne!(layout(&window).raw(), &before, "{kind}");
        press(&mut window, Modifiers::COMMAND, Key::Z);
        assert_eq!(layout(&window).raw(), &before, "{kind}");
    }
}

/// Its centre stays on the fold that its wedges are laid from; its rays change how many there are.
#[test]
fn a_wheel_is_dragged_by_its_centre_and_counted_by_its_rays() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "wedges");
    let before = layout(&window).raw().clone();
    let centre = layout(&window).middle().unwrap();
    let from = handle(&window, "Centre of the wedges handle");
    drag(&mut window, from, vec2(25.0, 30.0));
    let now = layout(&window).middle().unwrap();
    assert!(now.x == 0.0 && now.y > centre.y + 5.0, "{now:?} after {centre:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before);
    let FlatPattern::Wedges { wedges: was, first: WedgesFirst::OnTheFold, .. } = pattern(&window) else { panic!("wedges") };
    let at = handle(&window, "Fold 1 handle");
    drag(&mut window, at, vec2(-0.55 * (at.x - from.x), -0.1 * (at.x - from.x)));
    let FlatPattern::Wedges { wedges, .. } = pattern(&window) else { panic!("wedges") };
    assert!(wedges > was && wedges % 2 == 0, "{wedges} after {was}");
}

#[test]
fn blocks_are_dragged_and_turned_on_the_bundle() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "squares");
    click(&mut window, "View Rod");
    let before = layout(&window).raw().clone();
    let blocks = |window: &Window| layout(window).raw().blocks.clone().unwrap();
    let middle = handle(&window, "Blocks handle");
    drag(&mut window, middle, vec2(14.0, 3.0));
    let moved = blocks(&window);
    assert!(moved.along_mm > 0.0 && moved.across_mm == 0.0, "drawn to the axis: {moved:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before, "one step");
    let knob = handle(&window, "Turn of the blocks handle");
    let arm = (knob - middle).length();
    drag(&mut window, knob, vec2(-0.293 * arm, 0.707 * arm));
    assert_eq!(blocks(&window).turn_deg, 45.0);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before);
    // Keys move what was dragged last: the turn by a degree, and after a click the blocks by a millimetre.
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(blocks(&window).turn_deg, 1.0);
    window.hover_at(middle);
    window.run_ok();
    window.drag_at(middle);
    window.drop_at(middle);
    window.run_ok();
    press(&mut window, Modifiers::SHIFT, Key::ArrowRight);
    assert_eq!((blocks(&window).along_mm, blocks(&window).turn_deg), (10.0, 1.0));
}

/// A wound thread is put round by numbers in Binds, and its ends are dragged along the bundle, each drag one step.
#[test]
fn the_ends_of_wound_thread_are_dragged_along_the_bundle() {
    let home = tempfile::tempdir().unwrap();
    let mut window = folded(&home, "stripes");
    click(&mut window, "View Binds");
    click(&mut window, "Wind thread round the bundle");
    let wrap = |window: &Window| layout(window).raw().wrap.unwrap();
    let begun = wrap(&window);
    assert!(begun.from_mm == 25.0 && begun.gap_mm == 30.0 && !begun.crossed, "{begun:?}");
    write(&mut window, "Gap between turns", "40");
    write(&mut window, "Wound from", "60");
    click(&mut window, "Crossed");
    assert_eq!(wrap(&window), WrapSpec { from_mm: 60.0, gap_mm: 40.0, crossed: true, ..begun });
    assert!(window.query_by_label_contains("turns each way").is_some());
    write(&mut window, "Gap between turns", "0");
    assert!(window.query_by_label_contains("out of range").is_some());
    assert_eq!(wrap(&window).gap_mm, 40.0);
    press(&mut window, Modifiers::NONE, Key::Escape);
    click(&mut window, "View Rod");
    let before = layout(&window).raw().clone();
    let end = handle(&window, "End of the wound thread handle");
    drag(&mut window, end, vec2(-60.0, 0.0));
    let moved = wrap(&window);
    assert!(moved.to_mm < begun.to_mm - 10.0 && moved.from_mm == 60.0 && moved.to_mm.fract() == 0.0, "{moved:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before, "one step");
    let from = handle(&window, "Beginning of the wound thread handle");
    drag(&mut window, from, vec2(2000.0, 0.0));
    assert_eq!(wrap(&window).from_mm, before.wrap.unwrap().to_mm - 40.0, "a turn is left");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    assert_eq!(wrap(&window).from_mm, 61.0);
}
