//! Folding along a line in the window: chosen by its picture, sized and moved, bound and undone.

use crate::beside::drop_file;
use crate::harness::{TEE, Window, click, drag, fill, layout, name_file, press, wait, window, window_that_follows, write};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, PointerButton, vec2};
use egui_kittest::kittest::Queryable as _;
use kurbo::Shape as _;
use pleatwright::geometry::{DrawnLine, LineKind, LineShape, Pleats};
use pleatwright::layout::Layout;

fn shape(layout: &Layout) -> (LineShape, f64, f64) {
    match layout.raw().fold.line().map(|line| line.line.clone()) {
        Some(DrawnLine::Shape { shape, size, .. }) => (shape, size.width, size.height),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_line_is_chosen_by_its_picture_and_taken_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    let burst = layout(&window).raw().clone();
    for of in LineShape::ALL {
        click(&mut window, &format!("Fold: along a {}", of.name()));
        assert_eq!(shape(&layout(&window)).0, of);
        let label = format!("Fold: along a {}", of.name());
        assert!(window.query_by_label(&label).is_some());
    }
    for _ in LineShape::ALL {
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(layout(&window).raw(), &burst, "one step for each");
}

#[test]
fn a_line_is_sized_moved_and_pleated_by_numbers() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: along a star");
    let (_, width, height) = shape(&layout(&window));
    write(&mut window, "Line width", "300");
    let (_, wider, higher) = shape(&layout(&window));
    assert!((wider - 300.0).abs() < 1e-9 && (higher - 300.0 * height / width).abs() < 1e-9, "in proportion");
    click(&mut window, "Keep proportions");
    write(&mut window, "Line height", "200");
    assert_eq!(shape(&layout(&window)).1, wider);
    assert!((shape(&layout(&window)).2 - 200.0).abs() < 1e-9);
    write(&mut window, "Points", "7");
    assert_eq!(shape(&layout(&window)).0, LineShape::Star { points: 7, depth: 0.5 });
    write(&mut window, "Points", "70");
    assert!(window.query_by_label_contains("no number from 3 to 24").is_some());
    assert_eq!(shape(&layout(&window)).0, LineShape::Star { points: 7, depth: 0.5 });
    write(&mut window, "Depth", "40 %");
    assert_eq!(shape(&layout(&window)).0, LineShape::Star { points: 7, depth: 0.4 });
    write(&mut window, "Fold guide", "25");
    let guided = layout(&window);
    assert!((guided.raw().fold.line().unwrap().guide_mm - 25.0).abs() < 1e-9);
    assert!((guided.pleated_mm() - guided.zero_mm() - 25.0).abs() < 1e-9);
    click(&mut window, "Add a line");
    write(&mut window, "Extra line 1", "40");
    assert_eq!(layout(&window).raw().fold.further_mm(), &[40.0]);
}

#[test]
fn the_middle_is_dragged_and_binds_are_told_from_the_line() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: along a heart");
    let before = layout(&window).middle().unwrap();
    let handle = window.get_by_label("Middle of the line handle").rect().center();
    drag(&mut window, handle, vec2(0.0, 40.0));
    let after = layout(&window).middle().unwrap();
    assert!(after.y > before.y + 10.0 && after.x == 0.0, "{before:?} {after:?}");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).middle(), Some(before), "the whole drag is one step");
    // In the table of binds, on the cloth and in the foot places count from the line.
    assert!(window.query_by_label("From line").is_some() && window.query_by_label("the line").is_some());
    click(&mut window, "View Binds");
    click(&mut window, "bind 2");
    let at = layout(&window).binds().binds[1];
    let from_line = layout(&window).from_zero_mm(at.radius_mm);
    write(&mut window, "bind 2 at", &format!("{}", from_line - 2.0));
    let moved = layout(&window).binds().binds[1];
    assert!((moved.radius_mm - at.radius_mm + 2.0).abs() < 1e-9);
    // Everything after it works as for a burst.
    for (step, what) in [("View Rod", "How to fold it"), ("View Sheets", "Print…"), ("View Day", "Calendar")] {
        click(&mut window, step);
        wait(&mut window, what, |window| window.query_all_by_label_contains(what).next().is_some());
    }
    assert!(window.query_by_label_contains("swing strip").is_none());
}

/// Followed on another thread, where changes are slow, a drag ends where it ends in one: with the hand, as one step.
#[test]
fn a_drag_that_is_followed_ends_with_the_hand() {
    let ended = |make: fn(&std::path::Path) -> Window| {
        let home = tempfile::tempdir().unwrap();
        let mut window = make(home.path());
        click(&mut window, TEE);
        click(&mut window, "View Fold");
        click(&mut window, "Fold: along a heart");
        click(&mut window, "Edit its points");
        let before = window.state().layout_text();
        for by in [vec2(24.0, 6.0), vec2(-12.0, 9.0)] {
            let point = window.get_by_label("Point 2 of the line").rect().center();
            drag(&mut window, point, by);
        }
        let after = window.state().layout_text();
        press(&mut window, Modifiers::COMMAND, Key::Z);
        press(&mut window, Modifiers::COMMAND, Key::Z);
        assert_eq!(window.state().layout_text(), before, "two steps");
        after
    };
    assert_eq!(ended(window_that_follows), ended(window));
}

/// A shape becomes a line of the maker's own, point by point; each change is one step back.
#[test]
fn a_line_is_drawn_by_its_points() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: along a diamond");
    let shaped = layout(&window).raw().clone();
    click(&mut window, "Edit its points");
    let points = |window: &Window| layout(window).line_points().unwrap();
    assert_eq!(points(&window).count(), 3, "half of it is drawn, the fold mirrors it");
    // The point beside the fold is dragged outward; the ends on the fold stay on it.
    let corner = window.get_by_label("Point 2 of the line").rect().center();
    let before = points(&window).get(1).unwrap().at;
    drag(&mut window, corner, vec2(30.0, 0.0));
    assert!(points(&window).get(1).unwrap().at.x > before.x + 5.0);
    let end = window.get_by_label("Point 3 of the line").rect().center();
    drag(&mut window, end, vec2(40.0, 25.0));
    let end = points(&window).get(2).unwrap().at;
    assert!(end.x == 0.0 && end.y > before.y, "{end:?}");
    // By numbers, and smooth.
    click(&mut window, "Select point 2");
    write(&mut window, "Point 2, aside", "150");
    assert_eq!(points(&window).get(1).unwrap().at.x, 150.0);
    click(&mut window, "Smooth");
    assert!(points(&window).get(1).unwrap().is_smooth());
    click(&mut window, "Corner");
    assert!(!points(&window).get(1).unwrap().is_smooth());
    // Wider as a whole, lower as a whole.
    let (middle, lowest) = (layout(&window).middle().unwrap(), points(&window).get(2).unwrap().at.y);
    write(&mut window, "Below the shoulder", &format!("{}", middle.y + 20.0));
    assert!((points(&window).get(2).unwrap().at.y - lowest - 20.0).abs() < 1e-9);
    let low = points(&window).get(2).unwrap().at.y;
    assert!(layout(&window).line().is_some() && low > lowest);
    // Back to the shape.
    for _ in 0..8 {
        press(&mut window, Modifiers::COMMAND, Key::Z);
        if layout(&window).raw() == &shaped {
            return;
        }
    }
    panic!("{:?}", layout(&window).raw().fold);
}

/// A double click on the line adds a point there, one beside it adds a bind as ever; a right click makes it smooth.
#[test]
fn points_are_added_and_taken_away_by_hand() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: along a diamond");
    click(&mut window, "Edit its points");
    let count = |window: &Window| layout(window).line_points().unwrap().count();
    let [one, two] = [1, 2].map(|number| window.get_by_label(&format!("Point {number} of the line")).rect().center());
    let between = one + 0.5 * (two - one);
    window.hover_at(between);
    window.run_ok();
    // All within a frame: frames of this window lie farther apart than the presses of a double click.
    let press = |pressed| {
        let button = PointerButton::Primary;
        Event::PointerButton { pos: between, button, pressed, modifiers: Modifiers::NONE }
    };
    window.input_mut().events.extend([true, false, true, false].map(press));
    window.run_ok();
    assert_eq!(count(&window), 4);
    click(&mut window, "Select point 2");
    click(&mut window, "Remove point");
    assert_eq!(count(&window), 3);
}

/// A drawing of a heart 260 mm wide, and whatever else.
fn drawing(size: &str, more: &str) -> String {
    let heart = "M150 90C170 30 280 20 280 110C280 190 200 230 150 290C100 230 20 190 20 110C20 20 130 30 150 90Z";
    format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 300 300" stroke="red" fill="none"><path id="heart" d="{heart}"/>{more}</svg>"#
    )
}

fn drawn(window: &Window) -> Option<(LineKind, f64)> {
    match layout(window).raw().fold.line().map(|line| line.line.clone()) {
        Some(DrawnLine::Path { kind, path }) => Some((kind, 2.0 * path.bounding_box().x1)),
        _ => None,
    }
}

fn is_heart(window: &Window) -> bool {
    drawn(window).is_some_and(|(kind, width_mm)| kind == LineKind::Ring && (width_mm - 260.0).abs() < 0.2)
}

/// A line from a file, asked for by name: one step, undone as one; what can't be read is refused and changes nothing.
#[test]
fn a_line_comes_from_a_drawing() {
    let home = tempfile::tempdir().unwrap();
    let put = |name: &str, text: String| {
        let path = home.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    };
    let heart = put("heart.svg", drawing(r#"width="300mm""#, ""));
    let broken = put("broken.svg", "<svg".to_owned());
    let crossing = drawing(r#"width="300mm""#, "").replace("M150 90", "M150 90L300 300L10 290L280 60L150 90");
    let crossing = put("crossing.svg", crossing);
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    let before = layout(&window).raw().clone();
    click(&mut window, "Line from a file…");
    name_file(&mut window, &heart);
    wait(&mut window, "the line", is_heart);
    assert!(window.query_by_label_contains("Imported \"heart\"").is_some());
    assert!(layout(&window).lay().is_folded(), "its halves are alike");
    // It is a line of the maker's own now: sized by numbers.
    write(&mut window, "Line width", "200");
    assert!((drawn(&window).unwrap().1 - 200.0).abs() < 0.2);
    for _ in 0..2 {
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(layout(&window).raw(), &before, "one step for the line, one for its size");
    for (file, words) in [(broken, "\"broken.svg\": line 1 is not well-formed XML"), (crossing, "the line meets itself")] {
        click(&mut window, "Line from a file…");
        name_file(&mut window, &file);
        wait(&mut window, words, |window| window.query_by_label_contains(words).is_some());
        assert_eq!(layout(&window).raw(), &before);
        click(&mut window, "OK");
    }
}

/// Dropped on the window, a drawing is asked what for, one that doesn't say its unit for it, one of several lines for which.
#[test]
fn a_dropped_drawing_is_asked_about() {
    let home = tempfile::tempdir().unwrap();
    let file = home.path().join("two.svg");
    std::fs::write(&file, drawing("", r#"<path id="bar" d="M20 20L280 30"/>"#)).unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Binds");
    let before = layout(&window).raw().clone();
    for unit in ["in", "mm"] {
        drop_file(&mut window, &file);
        click(&mut window, "Fold along a line of it");
        wait(&mut window, "the units", |window| window.query_by_label("Which unit?").is_some());
        let label = if unit == "in" { "in: 6604 mm x " } else { "mm: 260 mm x " };
        window.get_by_label_contains(label).click();
        window.run_ok();
        wait(&mut window, "the lines", |window| window.query_by_label("Which line?").is_some());
        if unit == "in" {
            click(&mut window, "Cancel");
            assert_eq!(layout(&window).raw(), &before);
        }
    }
    assert!(window.query_by_label_contains("2 \"bar\" (open, 260 mm x 10 mm)").is_some());
    window.get_by_label_contains("1 \"heart\" (closed, 260 mm x ").click();
    window.run_ok();
    wait(&mut window, "the line", is_heart);
    assert!(window.query_by_label("From the edge").is_some(), "the Fold view shows");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), &before);
}

#[test]
fn a_line_runs_along_the_hem_or_the_neck() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    let before = layout(&window).raw().clone();
    click(&mut window, "Along the hem");
    let lowest = |window: &Window| match layout(window).raw().fold.line().map(|line| line.line.clone()) {
        Some(DrawnLine::Path { kind: LineKind::Across, path }) => path.bounding_box().y1,
        other => panic!("{other:?}"),
    };
    let at_60_mm = lowest(&window);
    write(&mut window, "From the edge", "100");
    click(&mut window, "Along the hem");
    assert!((at_60_mm - lowest(&window) - 40.0).abs() < 1e-6);
    click(&mut window, "Along the neck");
    assert!(lowest(&window) < 0.5 * at_60_mm);
    for _ in 0..3 {
        press(&mut window, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(layout(&window).raw(), &before);
}

/// Tab takes the focus to a field whose value has just changed with the one before it; left untouched, that once went back to what it said
/// when the focus came, and took the first one's value with it.
#[test]
fn a_field_that_tab_passes_through_changes_nothing() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    click(&mut window, "Fold: along a heart");
    fill(&mut window, "Pleat depth", "24");
    press(&mut window, Modifiers::NONE, Key::Tab);
    window.run_ok();
    let asked = Pleats::Depth { depth_mm: 24.0 };
    assert_eq!(layout(&window).raw().fold.pleats(), Some(asked));
    click(&mut window, "View Binds");
    assert_eq!(layout(&window).raw().fold.pleats(), Some(asked), "the number of pleats is left as it was shown");
    click(&mut window, "View Fold");
    fill(&mut window, "Line width", "260");
    press(&mut window, Modifiers::NONE, Key::Tab);
    click(&mut window, "View Binds");
    assert!((shape(&layout(&window)).1 - 260.0).abs() < 1e-9, "the height is left as it followed");
}

/// What is typed is named first where other measurements no longer go with it.
#[test]
fn a_measurement_that_does_not_fit_is_named_itself() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    write(&mut window, "Half chest", "125");
    assert!(window.query_by_label_contains("Half chest 125 mm does not fit the rest. Sleeve").is_some());
}

/// Pleats are drawn up by a running stitch in place of folding them, and back, each in one step.
#[test]
fn pleats_are_stitched_and_drawn_up() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row heart tee, M");
    let before = window.state().layout_text();
    window.get_by_role_and_label(Role::ComboBox, "Pleats by").click();
    window.run_ok();
    window.get_by_role_and_label(Role::Button, "stitch and draw up").click();
    window.run_ok();
    let holes = layout(&window).stitch_holes().len();
    assert!(holes > 10);
    assert!(window.query_by_label_contains(&format!("{holes} holes, about ")).is_some());
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(window.state().layout_text(), before);
}
