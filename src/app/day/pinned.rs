//! What ticks the step at hand, in sight below a run's page where that is longer than its room.

use super::RunAsk;
use super::run::Live;
use crate::plan::NowView;
use egui::{Panel, RichText, Ui};

/// Height of the run's room, points, from which the ticks stand with their step: less is soon filled by what a step needs and its
/// cautions.
const HIGH: f32 = 640.0;

impl Live {
    /// Shows the ticks of the step at hand below the page to come, where there is little height; which step that is.
    pub(super) fn pinned(&mut self, view: &NowView, asks: &mut Vec<RunAsk>, ui: &mut Ui) -> Option<u32> {
        let jobs = view.doing.len() + view.now.len();
        let (job, begun) = view.doing.first().map(|job| (job, true)).or_else(|| view.now.first().map(|job| (job, false)))?;
        if ui.available_height() >= HIGH {
            return None;
        }
        Panel::bottom("ticks").show(ui, |ui| {
            // Where several are at hand, their titles say which these belong to.
            if jobs > 1 {
                ui.label(RichText::new(self.title(job.step)).strong());
            }
            ui.horizontal_wrapped(|ui| self.ticks(job.step, begun, asks, ui));
        });
        Some(job.step)
    }
}
