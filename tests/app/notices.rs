//! What is said at the foot of the window: notices leave by themselves, refusals stay.

use crate::harness::{SIZE, TEE, Window, click, press, window_with};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;

/// Lets so many seconds of the window's clock pass.
fn pass(window: &mut Window, seconds: f64) {
    let begun = window.ctx.input(|input| input.time);
    while window.ctx.input(|input| input.time) < begun + seconds {
        window.step();
    }
}

/// "No room for the numbers" stood there until it was put away by hand.
#[test]
fn a_notice_leaves_by_itself() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window_with(home.path(), None, egui::vec2(760.0, 520.0));
    window.get_by_label(TEE).scroll_to_me();
    window.run_ok();
    click(&mut window, TEE);
    for _ in 0..2 {
        press(&mut window, Modifiers::COMMAND, Key::J);
    }
    let notice = |window: &Window| window.query_by_label_contains("No room for the numbers").is_some();
    assert!(notice(&window));
    // Not on the foot, where the notice would be read.
    window.hover_at(egui::pos2(20.0, 300.0));
    pass(&mut window, 5.0);
    assert!(notice(&window), "it can be read");
    pass(&mut window, 10.0);
    assert!(!notice(&window));
    assert!(window.query_by_label_contains("not saved yet").is_some(), "the file's name is back");
}

#[test]
fn a_refusal_stays() {
    let home = tempfile::tempdir().unwrap();
    let broken = home.path().join("broken.ron");
    std::fs::write(&broken, "(format: 2").unwrap();
    let mut window = window_with(home.path(), Some(broken), SIZE);
    assert!(window.query_by_label_contains("broken.ron").is_some());
    pass(&mut window, 60.0);
    assert!(window.query_by_label_contains("broken.ron").is_some());
    click(&mut window, "OK");
    assert!(window.query_by_label_contains("broken.ron").is_none());
}
