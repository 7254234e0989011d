//! Random clicks, keys and words in the window: the layout is right at every moment, and undone to the last byte.

use crate::harness::{TEE, Window, click, press, window};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::store::parse_layout;

/// What is not pressed at random: it reaches outside the window, or leaves the layout for another.
const LEFT_ALONE: [&str; 10] = [
    "Browse…",
    "Open",
    "Open the folder",
    "Quit",
    "Print",
    "Save",
    "File",
    "Find a command…",
    "Make again",
    "Make again with changes",
];
/// What is done from one undoing to the next.
const IN_A_ROUND: usize = 80;
/// Most steps that a round can have made: a key, a press and a word each time, at most.
const MOST_STEPS: usize = 3 * IN_A_ROUND;

/// Presses whatever can be pressed and writes whatever comes to mind, from a fixed seed; every round is undone. `RANDOM_USE` says how
/// many times, where it is to be more than two rounds.
#[test]
fn random_clicks_and_words_do_no_harm() {
    let times = std::env::var("RANDOM_USE").ok().and_then(|times| times.parse().ok()).unwrap_or(4 * IN_A_ROUND);
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let mut seed = 20_260_503_u32;
    let mut draw = |below: usize| {
        // Numerical Recipes' linear congruential generator.
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (seed >> 8) as usize % below.max(1)
    };
    let words = ["", "12", "-5", "1e9", "8 in + 3", "plum", "0", "999999999999", "1/0", "ß"];
    let mut changed = 0;
    for round in 0..times.div_ceil(IN_A_ROUND) {
        let start = window.state().layout_text();
        for _ in 0..IN_A_ROUND {
            let pressed: Vec<egui::Rect> = controls(&window);
            let chosen = pressed[draw(pressed.len())];
            if chosen.center().is_finite() {
                window.hover_at(chosen.center());
                window.drag_at(chosen.center());
                window.drop_at(chosen.center());
                window.run_ok();
            }
            match draw(8) {
                0..=2 => {
                    window.event(egui::Event::Text(words[draw(words.len())].to_owned()));
                    window.key_press(Key::Enter);
                }
                3 => window.key_press_modifiers(Modifiers::COMMAND, Key::Z),
                4 => window.key_press(Key::Escape),
                5 => window.key_press(Key::ArrowDown),
                _ => {}
            }
            window.run_ok();
            if let Some(text) = window.state().layout_text() {
                parse_layout(&text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}"));
            }
        }
        changed += usize::from(window.state().layout_text() != start);
        undo_all(&mut window, start.as_ref());
        assert_eq!(window.state().layout_text(), start, "round {round} is not undone");
    }
    assert!(changed > 0, "nothing was changed in any round");
}

/// Lets go of fields and menus, then undoes until it is as at the start.
fn undo_all(window: &mut Window, start: Option<&String>) {
    for _ in 0..4 {
        press(window, Modifiers::NONE, Key::Escape);
    }
    // In the day's view undo is about what is written there.
    click(window, "View Fold");
    for _ in 0..MOST_STEPS {
        if window.state().layout_text().as_ref() == start {
            return;
        }
        press(window, Modifiers::COMMAND, Key::Z);
    }
}

/// Where the controls lie that may be pressed at random.
fn controls(window: &Window) -> Vec<egui::Rect> {
    let roles = [Role::Button, Role::CheckBox, Role::TextInput, Role::ComboBox, Role::Tab, Role::Canvas, Role::RadioButton];
    let of = |role| window.query_all_by_role(role);
    let nodes = roles.into_iter().flat_map(of);
    let allowed = nodes.filter(|node| !node.accesskit_node().label().is_some_and(|label| LEFT_ALONE.contains(&label.as_str())));
    allowed.map(|node| node.rect()).collect()
}
