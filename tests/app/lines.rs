//! Folding along a line in the window: chosen by its picture, sized and moved, bound and undone.

use crate::harness::{TEE, Window, click, drag, layout, press, wait, window, write};
use egui::{Event, Key, Modifiers, PointerButton, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{DrawnLine, LineShape};
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
