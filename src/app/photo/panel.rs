//! The panel beside the photograph: side, sheet, points, measuring.

use super::hands::state;
use super::marking::{Mark, Origin};
use super::{PhotoAsk, PhotoView, Ready, Shown, told};
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::field;
use crate::app::heading::section;
use crate::app::screen::screen;
use crate::app::step::Step;
use crate::app::theme::Palette;
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::photo::{Plan, Sheet, SheetPaper, guessed_sheet};
use crate::store::file_said;
use crate::telling::{Refused as _, Voice};
use egui::{Button, Label, ProgressBar, RichText, Role, Ui, WidgetInfo};

/// Fewest points with which it is measured.
const FEWEST: usize = 4;

impl PhotoView {
    /// The panel.
    pub(crate) fn choices(&mut self, lengths: LengthStyle, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let voice = Voice::window(lengths);
        section(ui, "Photograph", |ui| self.about(voice, asks, ui));
        if self.ready.as_ref().is_none_or(|ready| ready.history.is_none()) {
            return;
        }
        self.measuring(voice, ui);
        // What is being looked at comes first.
        if self.shown == Shown::Points {
            section(ui, "Marks", |ui| self.marks_choices(voice, asks, ui));
        }
        if let Some(held) = &self.held {
            let is_stale = self.is_stale();
            section(ui, "What it tells", |ui| told::show(held, is_stale, lengths, ui));
        }
        if self.shown != Shown::Points {
            section(ui, "Marks", |ui| self.marks_choices(voice, asks, ui));
        }
    }

    fn about(&self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.add(Label::new(RichText::new(&self.name).strong()).wrap());
        ui.add(Label::new(RichText::new(format!("against {}", self.layout.name())).weak()).wrap());
        if let Some(refused) = &self.refused {
            ui.add(Label::new(RichText::new(refused.say(voice)).color(Palette::of(ui.ctx()).refused)).wrap());
        }
        if let Some(words) = self.reading_words() {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label(words);
            });
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button(self.back_words()).clicked() {
                asks.push(Ask::Photo(PhotoAsk::Close));
            }
            if self.home == Step::Reveal
                && ui.button("Another photograph…").on_hover_text(Action::HoldPhotograph.tooltip()).clicked()
            {
                asks.push(Ask::Act(Action::HoldPhotograph));
            }
        });
    }

    fn marks_choices(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let layout = self.layout.clone();
        let Some(ready) = &mut self.ready else { return };
        ready.side_choice(&layout, ui);
        ready.sheet_choice(ui);
        ready.advice(ui);
        if let Some(mark) = ready.point_list(self.chosen, ui) {
            self.turn_to(mark);
            self.shown = Shown::Points;
        }
        ui.horizontal_wrapped(|ui| {
            let save = ui.add_enabled(self.is_unsaved() || !self.is_in_file, Button::new("Save marks"));
            let said = file_said(&self.marks_file, voice);
            if save.on_hover_text(format!("To {said}, beside the photograph")).clicked() {
                asks.push(Ask::Photo(PhotoAsk::SaveMarks(self.marks_file.clone())));
            }
            for action in [Action::SaveMarksAs, Action::OpenMarks] {
                if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
                    asks.push(Ask::Act(action));
                }
            }
            if ui.button("Find points again").on_hover_text("Put every point where the program finds it").clicked() {
                self.find_again(ui.ctx());
            }
        });
    }

    fn measuring(&mut self, voice: Voice, ui: &mut Ui) {
        if let Some(holder) = &self.holder {
            ui.horizontal(|ui| {
                ui.spinner();
                ui.label(holder.stage());
            });
            ui.horizontal(|ui| {
                ui.add(ProgressBar::new(screen(holder.done())).desired_width(160.0));
                if ui.button("Stop").clicked() {
                    holder.stop();
                }
            });
            return;
        }
        // What is wrong with the layout is told before any work on its points.
        let hindrance = Plan::check(&self.layout).err().map(|refused| refused.say(voice));
        let has_points = self.marks().is_some_and(|marks| marks.points.len() >= FEWEST) && self.reader.is_none();
        let is_ready = has_points && hindrance.is_none();
        if let Some(words) = &hindrance {
            ui.add(Label::new(RichText::new(format!("{words}.")).color(Palette::of(ui.ctx()).warn)).wrap());
        }
        ui.horizontal_wrapped(|ui| {
            let words = if self.held.is_some() { "Measure again" } else { "Measure" };
            if ui.add_enabled(is_ready, Button::new(words)).on_hover_text("Straighten it onto the plan and measure it").clicked()
            {
                self.measure(ui.ctx());
            }
            let mut shows_rings = !self.rings_hidden;
            if self.held.is_some() && ui.checkbox(&mut shows_rings, "Rings in the pictures").changed() {
                self.rings_hidden = !shows_rings;
            }
        });
        ui.horizontal_wrapped(|ui| {
            for shown in Shown::ALL {
                let is_there = shown == Shown::Points || self.held.is_some();
                if ui.add_enabled(is_there, Button::selectable(self.shown == shown, shown.name())).clicked() {
                    self.shown = shown;
                }
            }
        });
        if let Some((_, refused)) = &self.unmeasured {
            ui.add(Label::new(RichText::new(refused.say(voice)).color(Palette::of(ui.ctx()).refused)).wrap());
        }
    }
}

impl Ready {
    fn side_choice(&mut self, layout: &Layout, ui: &mut Ui) {
        let Some(history) = &mut self.history else { return };
        let sides: Vec<Panel> = layout.panels().iter().map(|(side, _)| side).collect();
        if sides.len() < 2 {
            return;
        }
        ui.horizontal(|ui| {
            ui.label("Side");
            for side in sides {
                if ui.radio(history.now.side == side, side.to_string()).clicked() && history.now.side != side {
                    history.change("Choose the side", |marking| *marking = marking.turned(layout, side));
                }
            }
        });
    }

    fn sheet_choice(&mut self, ui: &mut Ui) {
        let Some(history) = &mut self.history else { return };
        let papers = [None, Some(SheetPaper::A4), Some(SheetPaper::Letter), Some(SheetPaper::A3)];
        let words = |paper: Option<SheetPaper>| paper.map_or("none", SheetPaper::name).to_owned();
        let Some(chosen) = field::choice(ui, "White sheet", history.now.paper(), &papers, words) else { return };
        let sheet = chosen.map(|paper| {
            let known = history.now.sheet.clone().or_else(|| self.found.as_ref().and_then(|found| found.sheet.clone()));
            Sheet { paper, ..known.unwrap_or_else(|| guessed_sheet(&self.photograph, paper)) }
        });
        history.change("Choose the sheet", |marking| marking.sheet = sheet);
    }

    /// What is still to be done about the points.
    fn advice(&self, ui: &mut Ui) {
        let Some(history) = &self.history else { return };
        let palette = Palette::of(ui.ctx());
        let counted = || history.now.points.iter().filter(|handle| !handle.is_out);
        let words = match counted().filter(|handle| handle.origin == Origin::Guessed).count() {
            0 => None,
            1 => Some("One point is a guess: put it in its place, or leave it out.".to_owned()),
            count => Some(format!("{count} points are guesses: put them in their places, or leave them out.")),
        };
        if let Some(words) = words {
            ui.add(Label::new(RichText::new(words).color(palette.warn)).wrap());
        }
        if counted().count() < FEWEST {
            let words = format!("Take in at least {FEWEST} points, best those of neck and hem.");
            ui.add(Label::new(RichText::new(words).color(palette.refused)).wrap());
        }
    }

    /// Every point, to be chosen or left out; the one that was chosen.
    fn point_list(&mut self, chosen: Option<Mark>, ui: &mut Ui) -> Option<Mark> {
        let points = self.history.as_ref().map(|history| history.now.points.clone()).unwrap_or_default();
        let mut next = None;
        egui::Grid::new("points").num_columns(3).show(ui, |ui| {
            for (at, handle) in points.iter().enumerate() {
                let (name, mut is_in) = (&handle.name, !handle.is_out);
                let check = ui.checkbox(&mut is_in, "");
                check.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, is_in, format!("Use {name}")));
                if check.on_hover_text("Use this point, or leave it out").changed() {
                    self.leave_out(at);
                }
                let button = ui.selectable_label(chosen == Some(Mark::Point(at)), name);
                button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Go to {name}")));
                if button.on_hover_text("Choose it, to move it by arrow keys").clicked() {
                    next = Some(Mark::Point(at));
                }
                ui.label(RichText::new(state(handle)).weak());
                ui.end_row();
            }
        });
        next
    }
}
