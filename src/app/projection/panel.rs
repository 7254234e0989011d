//! The panel beside the work that controls the projection.

use super::{Projection, Stage};
use crate::app::context::Context;
use crate::app::field;
use crate::app::theme::Palette;
use crate::projection::check_line;
use crate::telling::Refused as _;
use egui::{Button, Panel, RichText, ScrollArea, Ui};

/// Breadth of the panel, points.
const BREADTH: f32 = 310.0;
/// Least breadth of the window, points, for the panel beside work that can still be done; else it stands in its place.
const ROOM_BESIDE: f32 = 880.0;

impl Projection {
    /// Shows the panel, if the projection is on; whether there is room left for the work.
    pub(crate) fn show_panel(&mut self, ctx: &Context<'_>, ui: &mut Ui) -> bool {
        if !self.is_open {
            return true;
        }
        let is_beside = ui.available_width() >= ROOM_BESIDE;
        let before = (self.stage, self.layer);
        if is_beside {
            Panel::right("projection").default_size(BREADTH).min_size(280.0).max_size(420.0).show(ui, |ui| self.within(ctx, ui));
        } else {
            egui::CentralPanel::default().show(ui, |ui| self.within(ctx, ui));
        }
        self.keep();
        if before != (self.stage, self.layer) {
            // What was drawn before the button shows the old state.
            ui.ctx().request_repaint();
        }
        is_beside
    }

    fn within(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        ui.horizontal(|ui| {
            ui.heading("Projection");
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.button("End").on_hover_text("Close the projected picture and this panel").clicked() {
                    self.close();
                }
            });
        });
        ui.separator();
        ScrollArea::vertical().id_salt("projection").auto_shrink(false).show(ui, |ui| {
            // The bar must not lie on the words.
            ui.set_max_width(ui.available_width() - 10.0);
            if let Some(refused) = &self.refused {
                let words = RichText::new(refused.say(ctx.voice())).color(Palette::of(ui.ctx()).refused);
                ui.add(egui::Label::new(words).wrap());
            }
            self.which(ui);
            ui.add_space(4.0);
            ui.horizontal_wrapped(|ui| {
                // All four on one line.
                (ui.spacing_mut().item_spacing.x, ui.spacing_mut().button_padding.x) = (2.0, 6.0);
                for stage in Stage::ALL {
                    if ui.selectable_label(self.stage == stage, stage.name()).clicked() {
                        self.go(stage);
                    }
                }
            });
            ui.separator();
            match self.stage {
                Stage::Rectangle => self.rectangle(ctx, ui),
                Stage::Marks => self.marks(ctx, ui),
                Stage::Check => self.check(ctx, ui),
                Stage::Show => self.layout(ctx, ui),
            }
            ui.separator();
            self.look(ctx, ui);
        });
    }

    /// Which projector, and on which screen it is.
    fn which(&mut self, ui: &mut Ui) {
        let names: Vec<String> = self.kept.iter().flat_map(|kept| kept.all()).map(|projector| projector.name.clone()).collect();
        let now = self.projector.as_ref().map_or("", |projector| projector.name.as_str()).to_owned();
        let (mut chosen, mut is_new) = (None, false);
        field::pick(ui, "Projector", now.as_str(), |ui| {
            for name in &names {
                if ui.selectable_label(self.kept_as.as_ref() == Some(name), name).clicked() {
                    chosen = Some(name.clone());
                }
            }
            is_new = ui.selectable_label(self.kept_as.is_none(), "New projector").clicked();
        });
        let known = chosen.and_then(|name| self.kept.as_ref()?.named(&name).cloned());
        if let Some(known) = known {
            self.take_up(known);
        } else if is_new {
            self.begin_new(None);
        }
        let named = field::read(ui, "Projector name", &now, |text| {
            let name = text.trim().to_owned();
            let is_other = names.contains(&name) && self.kept_as.as_ref() != Some(&name);
            if is_other { Err(format!("\"{name}\" is kept already; give another name")) } else { Ok(name) }
        });
        if let (Some(name), Some(projector)) = (named.filter(|name| !name.is_empty()), &mut self.projector) {
            projector.name = name;
        }
        let said = |number: usize| self.screens.get(number - 1).map(|screen| screen.said(number));
        let numbers: Vec<Option<usize>> = std::iter::once(None).chain((0..self.screens.len()).map(Some)).collect();
        let words = |index: Option<usize>| index.and_then(|index| said(index + 1)).unwrap_or_else(|| "A window".to_owned());
        if let Some(screen) = field::choice(ui, "Shown on", self.screen, &numbers, words) {
            self.screen = screen;
        }
    }

    /// Brightness and breadth of the lines.
    fn look(&mut self, ctx: &Context<'_>, ui: &mut Ui) {
        let Some(projector) = &mut self.projector else { return };
        let mut percent = 100.0 * projector.brightness;
        if field::slider(ui, "Brightness", &mut percent, 5.0..=100.0).changed() {
            projector.brightness = (percent / 100.0).clamp(0.05, 1.0);
        }
        let read = |text: &str| {
            let line_mm = crate::measure::parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()))?;
            check_line(line_mm).map_err(|problem| problem.say(ctx.voice()))?;
            Ok(line_mm)
        };
        if let Some(line_mm) = field::read(ui, "Line thickness", &ctx.lengths.format_thickness(projector.line_mm), read) {
            projector.line_mm = line_mm;
        }
        if self.kept_as.is_some() {
            ui.add_space(6.0);
            if ui.add(Button::new("Forget this projector")).on_hover_text("Remove its alignment").clicked() {
                self.forget();
            }
        }
    }
}
