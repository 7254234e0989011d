//! Random clicks, keys and words in the window: the layout is right at every moment.

use crate::harness::{TEE, Window, click, window};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::store::parse_layout;

/// What is not pressed at random: it reaches outside the window.
const LEFT_ALONE: [&str; 6] = ["Browse…", "Open", "Open the folder", "Quit", "Print", "Save"];

/// Presses whatever can be pressed and writes whatever comes to mind, from a fixed seed.
#[test]
fn random_clicks_and_words_do_no_harm() {
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
    for _ in 0..160 {
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
}

/// Where the controls lie that may be pressed at random.
fn controls(window: &Window) -> Vec<egui::Rect> {
    let roles = [Role::Button, Role::CheckBox, Role::TextInput, Role::ComboBox, Role::Tab, Role::Canvas, Role::RadioButton];
    let of = |role| window.query_all_by_role(role);
    let nodes = roles.into_iter().flat_map(of);
    let allowed = nodes.filter(|node| !node.accesskit_node().label().is_some_and(|label| LEFT_ALONE.contains(&label.as_str())));
    allowed.map(|node| node.rect()).collect()
}
