//! A key that is held down moves something again and again: one step to undo.

use crate::app::context::{Ask, Context};
use egui::{EventFilter, Key, Modifiers, Response, Ui};
use kurbo::Vec2;

/// The keys that move what is selected, and which way.
const ARROWS: [(Key, f64, f64); 4] =
    [(Key::ArrowLeft, -1.0, 0.0), (Key::ArrowRight, 1.0, 0.0), (Key::ArrowUp, 0.0, -1.0), (Key::ArrowDown, 0.0, 1.0)];

/// How many steps a key moves something by with Shift.
const LONG_NUDGE: f64 = 10.0;

/// How far the arrows pressed in this frame move what is selected on something that has the focus, mm, one after the other. They move that
/// instead of the focus, and Escape lets go of it.
pub(crate) fn arrows(ctx: &Context<'_>, response: &Response, ui: &Ui) -> Vec<Vec2> {
    let own = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: true, escape: true };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, own));
    let moved = |(key, x, y): (Key, f64, f64)| {
        // With Shift first: a key without it is taken for one with it.
        let (long, short) =
            ui.input_mut(|input| (input.consume_key(Modifiers::SHIFT, key), input.consume_key(Modifiers::NONE, key)));
        let by = ctx.step_mm() * if long { LONG_NUDGE } else { 1.0 } * Vec2::new(x, y);
        (short || long).then_some(by)
    };
    ARROWS.into_iter().filter_map(moved).collect()
}

/// Whether an arrow key is held down that moves something.
#[derive(Debug, Default)]
pub(crate) struct Nudge(bool);

impl Nudge {
    /// Moves something once more.
    pub(crate) fn step(&mut self, label: impl FnOnce() -> String, change: Ask, asks: &mut Vec<Ask>, ui: &Ui) {
        if !self.0 {
            self.0 = true;
            asks.push(Ask::BeginGesture(label()));
        }
        asks.push(change);
        // Its end is looked for in the next frame.
        ui.ctx().request_repaint();
    }

    /// Ends the step when no arrow is held down any more.
    pub(crate) fn look(&mut self, asks: &mut Vec<Ask>, ui: &Ui) {
        if self.0 && !ui.input(|input| ARROWS.iter().any(|(key, ..)| input.key_down(*key))) {
            self.0 = false;
            asks.push(Ask::EndGesture);
        }
    }
}
