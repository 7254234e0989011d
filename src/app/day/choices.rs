//! What the day is asked for: what is made, where, when; and what begins it.

use super::{DayView, RunAsk, workshop};
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::field;
use crate::app::heading::heading;
use crate::app::theme::Palette;
use egui::{RichText, Ui};
use jiff::civil::DateTime;

impl DayView {
    /// The choices, in the panel beside the table.
    pub(crate) fn choices(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        heading(ui, "What for");
        match &self.wanted.order {
            Some(path) => {
                ui.label(format!("Order file {}", path.display()));
                if ui.button("Plan the open layout instead").clicked() {
                    self.wanted.order = None;
                }
            }
            None => self.layout_choices(asks, ui),
        }
        if ui.button(Action::OpenOrder.label()).on_hover_text(Action::OpenOrder.tooltip()).clicked() {
            asks.push(Ask::Act(Action::OpenOrder));
        }
        heading(ui, "When");
        ui.radio_value(&mut self.wanted.deadline, false, "Start at");
        ui.radio_value(&mut self.wanted.deadline, true, "Finish by");
        let written = self.wanted.time.strftime("%Y-%m-%d %H:%M").to_string();
        if let Some(time) = field::read_wide(ui, "Date and time", &written, |text| {
            let wrong = |_error| format!("Not a date and time: \"{text}\"; give one such as {written}");
            text.trim().replace(' ', "T").parse::<DateTime>().map_err(wrong)
        }) {
            self.wanted.time = time;
        }
        ui.add_space(8.0);
        ui.horizontal_wrapped(|ui| {
            if ui.button(Action::SavePlan.label()).on_hover_text(Action::SavePlan.tooltip()).clicked() {
                asks.push(Ask::Act(Action::SavePlan));
            }
            if ui.button(Action::PrintOrder.label()).on_hover_text(Action::PrintOrder.tooltip()).clicked() {
                asks.push(Ask::Act(Action::PrintOrder));
            }
            let begin = ui.add_enabled(self.live.is_none() && self.plan().is_some(), egui::Button::new("Start the run"));
            if begin.on_hover_text("Work through the plan step by step, with timers").clicked() {
                asks.push(Ask::Run(RunAsk::Begin));
            }
        });
        self.limits(ui);
    }

    /// What may not wait longer once the run is begun.
    fn limits(&self, ui: &mut Ui) {
        let limits = self.plan().map(|plan| plan.limits()).unwrap_or_default();
        if limits.is_empty() || self.live.is_some() {
            return;
        }
        let palette = Palette::of(ui.ctx());
        ui.add_space(4.0);
        ui.label(RichText::new("Once begun:").strong());
        for limit in limits {
            ui.label(RichText::new(format!("{limit}.")).color(palette.warn));
        }
    }

    fn layout_choices(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let wanted = &mut self.wanted;
        if let Some(count) = field::count(ui, "Garments", wanted.count) {
            wanted.count = count;
        }
        for (label, path, action) in
            [("Recipe", &mut wanted.recipe, Action::OpenRecipe), ("Process", &mut wanted.process, Action::OpenProcess)]
        {
            ui.horizontal_wrapped(|ui| {
                let own = path.as_ref().and_then(|path| path.file_name()).map(|name| name.to_string_lossy().into_owned());
                let name = own.unwrap_or_else(|| "automatic".to_owned());
                ui.label(format!("{label}: {name}"));
                if ui.small_button(action.label()).on_hover_text(action.tooltip()).clicked() {
                    asks.push(Ask::Act(action));
                }
                if path.is_some() && ui.small_button(format!("Default {}", label.to_lowercase())).clicked() {
                    *path = None;
                }
            });
        }
        ui.checkbox(&mut wanted.scrap_tested, "Scrap already tested")
            .on_hover_text("A scrap was discharged and dyed; the plan skips that step");
        if workshop::show(&mut wanted.workshop, ui)
            && let Some(path) = &self.workshop_path
        {
            workshop::write(&wanted.workshop, path);
        }
    }
}
