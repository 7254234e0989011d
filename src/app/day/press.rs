//! Presses that mean something: one that changed the view must not reach what then appears under the pointer.

use crate::app::echo::QUIET_S;
use egui::{Response, Ui};

/// Lets a press through, and for a moment no other.
#[derive(Debug, Default)]
pub(super) struct Presses {
    /// Until when presses by pointer are left alone, in the window's seconds; none before the first frame.
    quiet_until_s: Option<f64>,
}

impl Presses {
    /// To be told of each frame before its controls: what was not shown before begins quiet.
    pub(super) fn frame(&mut self, ui: &Ui) {
        let now_s = ui.input(|input| input.time);
        self.quiet_until_s.get_or_insert(now_s + QUIET_S);
    }

    /// Whether a control was pressed and it counts. What keyboard or screen reader press always does.
    pub(super) fn of(&mut self, response: &Response, ui: &Ui) -> bool {
        let (now_s, by_pointer) = ui.input(|input| (input.time, input.pointer.primary_clicked()));
        let is_quiet = by_pointer && self.quiet_until_s.is_some_and(|until_s| now_s < until_s);
        let counts = response.clicked() && !is_quiet;
        if counts {
            self.quiet_until_s = Some(now_s + QUIET_S);
        }
        counts
    }
}
