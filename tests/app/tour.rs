//! The tour: begun on the first start and from Help, gone through by keys alone, left at any stop; it points at what is there.

use crate::harness::{SIZE, TEE, Window, click, press, window};
use egui::accesskit::{Role, Toggled};
use egui::{Key, Modifiers, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::app::App;
use std::path::Path;

const TITLES: [&str; 5] = ["1. The garment", "2. The fold", "3. The binds", "4. The reveal", "5. Printing"];

/// The program as it starts, with its tour if it is the first time.
fn started(home: &Path, size: Vec2) -> Window {
    let home = home.to_owned();
    let mut window = Harness::builder()
        .with_size(size)
        .with_max_steps(60)
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(home), None).with_first_tour(&creation.egui_ctx));
    window.run_ok();
    window
}

fn is_at(window: &Window, stop: usize) -> bool {
    window.query_by_label(TITLES[stop]).is_some()
}

fn is_over(window: &Window) -> bool {
    (0..TITLES.len()).all(|stop| !is_at(window, stop))
}

fn step_shown(window: &Window) -> Option<String> {
    let is_shown = |node: &egui_kittest::Node<'_>| node.accesskit_node().toggled() == Some(Toggled::True);
    let shown = window.query_all_by_role(Role::Tab).find(is_shown)?;
    shown.accesskit_node().label()
}

/// Enter alone goes through all five stops, in a large window and in the smallest that the tour is for; each stop shows its own step, and the
/// card stands within the window.
#[test]
fn the_first_start_begins_with_it_and_enter_goes_through() {
    for size in [SIZE, vec2(1024.0, 700.0)] {
        let home = tempfile::tempdir().unwrap();
        let mut window = started(home.path(), size);
        assert!(is_at(&window, 0), "the first start begins with the tour");
        for (stop, view) in [(1, "View Fold"), (2, "View Binds"), (3, "View Reveal"), (4, "View Sheets")] {
            let next = window.get_by_label("Next");
            assert!(next.accesskit_node().is_focused(), "Next has the keys at stop {stop}");
            assert!(next.accesskit_node().description().is_some_and(|words| words.starts_with(TITLES[stop - 1])));
            press(&mut window, Modifiers::NONE, Key::Enter);
            assert!(is_at(&window, stop), "stop {stop}");
            assert_eq!(step_shown(&window).as_deref(), Some(view));
            let card = window.get_by_label(TITLES[stop]).rect().union(window.get_by_label("Previous").rect());
            assert!(egui::Rect::from_min_size(egui::Pos2::ZERO, size).contains_rect(card), "{card} in {size}");
        }
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert!(is_over(&window));
        drop(window);
        assert!(is_over(&started(home.path(), size)), "the second start has no tour");
    }
}

/// Escape and the button leave at every stop; what began in a step ends there.
#[test]
fn it_is_left_at_any_stop() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    assert!(is_over(&window), "settings that were kept before know no first start");
    click(&mut window, TEE);
    click(&mut window, "View Colours");
    for stop in 0..TITLES.len() {
        click(&mut window, "Help");
        click(&mut window, "Take the tour");
        (0..stop).for_each(|_| click(&mut window, "Next"));
        assert!(is_at(&window, stop));
        if stop % 2 == 0 || stop + 1 == TITLES.len() {
            press(&mut window, Modifiers::NONE, Key::Escape);
        } else {
            click(&mut window, "Leave the tour");
        }
        assert!(is_over(&window), "stop {stop}");
        assert_eq!(step_shown(&window).as_deref(), Some("View Colours"));
    }
}

/// The way back, and the window's own controls beside it: nothing is locked.
#[test]
fn the_window_can_be_used_beside_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = started(home.path(), SIZE);
    click(&mut window, "Next");
    click(&mut window, "View Binds");
    assert!(is_at(&window, 1));
    click(&mut window, "Previous");
    assert!(is_at(&window, 0));
    assert_eq!(step_shown(&window).as_deref(), Some("View Garment"));
}

/// With nothing open, leaving at the first stop opens nothing.
#[test]
fn left_at_the_start_nothing_is_open() {
    let home = tempfile::tempdir().unwrap();
    let mut window = started(home.path(), SIZE);
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(is_over(&window) && window.state().layout_text().is_none());
    assert!(window.query_by_label(TEE).is_some());
}
