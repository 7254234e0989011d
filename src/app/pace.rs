//! How often what is not saved is kept.

use egui::Ui;
use std::time::Duration;

/// From one keeping to the next, seconds.
const KEEP_EVERY_S: f64 = 5.0;

/// Lets something be kept at once, and then at most every few seconds.
#[derive(Debug, Default)]
pub(super) struct Pace {
    /// Before this time of the window's clock nothing is kept, seconds.
    next_s: f64,
}

impl Pace {
    /// Whether it is time; else another frame comes when it will be.
    pub(super) fn is_due(&mut self, ui: &Ui) -> bool {
        let now_s = ui.input(|input| input.time);
        if now_s < self.next_s {
            ui.ctx().request_repaint_after(Duration::from_secs_f64(self.next_s - now_s));
            return false;
        }
        self.next_s = now_s + KEEP_EVERY_S;
        true
    }

    /// Has another frame come when it is time again, whatever happens until then.
    pub(super) fn comes_again(&self, ui: &Ui) {
        ui.ctx().request_repaint_after(Duration::from_secs_f64(KEEP_EVERY_S));
    }
}
