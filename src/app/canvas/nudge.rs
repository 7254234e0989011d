//! A key that is held down moves something again and again: one step to undo.

use crate::app::context::Ask;
use egui::{Key, Ui};

/// The keys that move what is selected, and which way.
pub(crate) const ARROWS: [(Key, f64, f64); 4] =
    [(Key::ArrowLeft, -1.0, 0.0), (Key::ArrowRight, 1.0, 0.0), (Key::ArrowUp, 0.0, -1.0), (Key::ArrowDown, 0.0, 1.0)];

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
