//! The projection, by the names of its controls: aligned by drags and keys, checked, kept, moved; its picture lies in the window here, as it does
//! where the system has no second one.

use crate::harness::{TEE, Window, click, drag, layout, press, wait, window, write};
use egui::accesskit::{Role, Toggled};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::projection::Projectors;
use pleatwright::store::read_projectors;
use std::path::Path;

const PICTURE: &str = "Projected picture";

fn projecting(home: &Path) -> Window {
    let mut window = window(home);
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::P);
    assert!(window.query_by_label(PICTURE).is_some());
    window
}

fn kept(home: &Path) -> Projectors {
    read_projectors(&home.join("projectors.ron")).unwrap()
}

fn says(window: &Window, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

fn field(window: &Window, label: &str) -> String {
    window.get_by_role_and_label(Role::TextInput, label).accesskit_node().value().unwrap_or_default()
}

fn is_chosen(window: &Window, layer: &str) -> bool {
    window.get_by_role_and_label(Role::RadioButton, layer).accesskit_node().toggled() == Some(Toggled::True)
}

/// Aligned as the corners come to lie at first: a sheet in the middle.
fn aligned(home: &Path) -> Window {
    let mut window = projecting(home);
    for button in ["Next: corners", "Next: check", "Show the layout"] {
        click(&mut window, button);
    }
    window
}

#[test]
fn a_picture_is_aligned_step_by_step_and_kept() {
    let home = tempfile::tempdir().unwrap();
    let mut window = projecting(home.path());
    write(&mut window, "Upper side", "600");
    write(&mut window, "Right side", "50");
    assert!(says(&window, "50 mm is out of range; give 80 to 5000 mm"));
    write(&mut window, "Right side", "400");
    click(&mut window, "Next: corners");
    let corner = window.get_by_label("Mark 1, upper left corner").rect().center();
    drag(&mut window, corner, vec2(-30.0, -12.0));
    let dragged = window.get_by_label("Mark 1, upper left corner").rect().center();
    assert!((dragged - corner - vec2(-30.0, -12.0)).length() < 0.6, "{corner} {dragged}");
    // What was dragged has the keys; a number chooses another.
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    press(&mut window, Modifiers::SHIFT, Key::ArrowDown);
    let pushed = window.get_by_label("Mark 1, upper left corner").rect().center();
    assert!((pushed - dragged - vec2(1.0, 0.1)).length() < 0.02, "{dragged} {pushed}");
    let third = window.get_by_label("Mark 3, lower right corner").rect().center();
    press(&mut window, Modifiers::NONE, Key::Num3);
    press(&mut window, Modifiers::NONE, Key::ArrowLeft);
    let moved = window.get_by_label("Mark 3, lower right corner").rect().center();
    assert!((moved - third - vec2(-1.0, 0.0)).length() < 0.02, "{third} {moved}");
    assert!(says(&window, "Four corners always fit."));
    click(&mut window, "Mark the middles too");
    assert!(window.query_by_label("Mark 9, middle").is_some());
    let residual = window.get_by_label_contains("Residual").accesskit_node().value();
    assert!(residual.as_ref().is_some_and(|words| words.starts_with("Residual: 0 mm; mark")), "{residual:?}");
    let middle = window.get_by_label("Mark 9, middle").rect().center();
    drag(&mut window, middle, vec2(12.0, 0.0));
    assert!(says(&window, "mark 9 is off most"));
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.query_by_label(PICTURE).is_none(), "Escape in the picture ends it");
    press(&mut window, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::P);
    click(&mut window, "Mark the middles too");
    click(&mut window, "Next: check");
    let bar = field(&window, "Bar measures");
    assert_eq!(bar, "500 mm");
    write(&mut window, "Bar measures", "505");
    assert!(says(&window, "Corrected by +1.00 %."));
    write(&mut window, "Bar measures", "200");
    assert!(says(&window, "The bar measures 200 mm, not 500 mm; check the rectangle's sides and corners"));
    write(&mut window, "Cross, across", "301");
    assert!(says(&window, "The cross is off by 1 mm at most."));
    assert_eq!(kept(home.path()), Projectors::default(), "nothing is kept before it is done");
    write(&mut window, "Projector name", "Over the table");
    click(&mut window, "Show the layout");
    let kept = kept(home.path());
    let projector = kept.named("Over the table").unwrap();
    assert!((projector.scale - 1.01).abs() < 1e-9 && projector.rectangle.width_mm == 600.0 && projector.marks.len() == 4);
}

#[test]
fn badly_placed_corners_are_told_and_go_no_further() {
    let home = tempfile::tempdir().unwrap();
    let mut window = projecting(home.path());
    click(&mut window, "Next: corners");
    let corner =
        |window: &Window, number: usize, place: &str| window.get_by_label(&format!("Mark {number}, {place}")).rect().center();
    let (one, two) = (corner(&window, 1, "upper left corner"), corner(&window, 2, "upper right corner"));
    drag(&mut window, one, two - one - vec2(6.0, 0.0));
    assert!(says(&window, "Corners 1 and 2 are only 6 px apart"));
    assert!(window.get_by_label("Next: check").accesskit_node().is_disabled());
    click(&mut window, "Start over");
    let four = corner(&window, 4, "lower left corner");
    let begun = corner(&window, 1, "upper left corner");
    drag(&mut window, begun, four - begun + vec2(-40.0, 60.0));
    assert!(says(&window, "cross") || says(&window, "lies between") || says(&window, "in a line"));
    click(&mut window, "Start over");
    assert!(says(&window, "Residual: 0 mm"));
}

#[test]
fn the_layout_is_moved_and_turned_layer_by_layer_while_it_is_edited() {
    let home = tempfile::tempdir().unwrap();
    let mut window = aligned(home.path());
    assert!(is_chosen(&window, "Centre and guide"));
    click(&mut window, "Next layer");
    assert!(is_chosen(&window, "Binds"));
    // Keys in the picture.
    window.get_by_label(PICTURE).focus();
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::PageDown);
    assert!(is_chosen(&window, "Creases"));
    press(&mut window, Modifiers::NONE, Key::PageUp);
    assert!(is_chosen(&window, "Binds"));
    press(&mut window, Modifiers::NONE, Key::ArrowRight);
    press(&mut window, Modifiers::SHIFT, Key::ArrowDown);
    for _ in 0..3 {
        press(&mut window, Modifiers::NONE, Key::CloseBracket);
    }
    press(&mut window, Modifiers::NONE, Key::OpenBracket);
    let place = |window: &Window| ["Moved right", "Moved down", "Turned, °"].map(|label| field(window, label));
    assert_eq!(place(&window), ["5 mm", "0.5 mm", "2"]);
    // By hand: what lies under the pointer stays under it.
    let at = window.get_by_label(PICTURE).rect().center();
    drag(&mut window, at, vec2(40.0, 0.0));
    let moved = field(&window, "Moved right");
    assert!(moved.trim_end_matches(" mm").parse::<f64>().unwrap() > 50.0, "{moved}");
    // It stays where it is when the layout changes, and every change goes on being possible.
    let before = place(&window);
    click(&mut window, "View Fold");
    let spaced = layout(&window).raw().clone();
    write(&mut window, "Guide arc", "236");
    assert_ne!(layout(&window).raw(), &spaced);
    assert_eq!(place(&window), before);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &spaced);
    write(&mut window, "Turned, °", "-90");
    click(&mut window, "Middle of the picture");
    assert_eq!(place(&window), ["0 mm", "0 mm", "0"]);
    click(&mut window, "End");
    assert!(window.query_by_label(PICTURE).is_none());
}

/// A kept projector is taken up with the next start; a broken file is told, and nothing is written over it.
#[test]
fn a_projector_is_taken_up_again_and_a_broken_file_is_left() {
    let home = tempfile::tempdir().unwrap();
    let mut first = aligned(home.path());
    write(&mut first, "Line thickness", "3.5");
    assert_eq!(kept(home.path()).all()[0].line_mm, 3.5);
    drop(first);
    let mut again = projecting(home.path());
    assert!(is_chosen(&again, "Centre and guide"), "at the layout at once");
    assert_eq!(field(&again, "Line thickness"), "3.5 mm");
    click(&mut again, "Forget this projector");
    assert!(kept(home.path()).all().is_empty());
    drop(again);
    let file = home.path().join("projectors.ron");
    std::fs::write(&file, "(format: 1, projectors: [(name: 3)])").unwrap();
    let mut window = aligned(home.path());
    assert!(says(&window, "projectors.ron"));
    write(&mut window, "Line thickness", "1");
    wait(&mut window, "the field", |window| field(window, "Line thickness") == "1 mm");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "(format: 1, projectors: [(name: 3)])");
}
