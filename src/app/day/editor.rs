//! What the editors of recipes and processes share: a change is checked before it is made, and what is refused stays written.

use super::work::Work;
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::day::DayAsk;
use crate::app::field;
use crate::app::purpose::DayFile;
use crate::app::theme::Palette;
use crate::plan::{PlanFileError, Process, Recipe};
use crate::telling::{Refused as _, Voice};
use egui::{Button, Label, RichText, Ui};

/// Something that a file of the maker's own may hold, and that can be checked as a whole.
pub(super) trait Written: Clone + PartialEq {
    /// Which file of the day's it is.
    const FILE: DayFile;
    fn check(&self) -> Result<(), PlanFileError>;
    fn name(&self) -> &str;
}

impl Written for Recipe {
    const FILE: DayFile = DayFile::Recipe;

    fn check(&self) -> Result<(), PlanFileError> {
        Self::check(self)
    }

    fn name(&self) -> &str {
        &self.name
    }
}

impl Written for Process {
    const FILE: DayFile = DayFile::Process;

    fn check(&self) -> Result<(), PlanFileError> {
        Self::check(self)
    }

    fn name(&self) -> &str {
        &self.name
    }
}

/// Something being edited.
#[derive(Debug)]
pub(super) struct Editor<T> {
    pub(super) work: Work<T>,
    /// Why the last change was refused that no field gave.
    refused: Option<String>,
    /// The part that is open, by its number.
    pub(super) open: usize,
}

impl<T: Written> Editor<T> {
    pub(super) fn of(work: Work<T>) -> Self {
        Self { work, refused: None, open: 0 }
    }

    /// Changes it if that can be; else the field that gave the value says why not.
    pub(super) fn attempt(&mut self, what: &str, voice: Voice, ui: &Ui, change: impl FnOnce(&mut T)) {
        let mut next = (**self.work.now()).clone();
        change(&mut next);
        self.refused = None;
        match next.check() {
            Ok(()) => self.work.set(what, next),
            Err(error) => {
                let words = error.say(voice);
                if !field::refuse(ui.ctx(), &words) {
                    self.refused = Some(words);
                }
            }
        }
    }

    /// What is edited, where it is saved, and what can be done with all of it.
    pub(super) fn head(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let file = match self.work.path() {
            Some(path) => path.display().to_string(),
            None => "in no file of your own yet".to_owned(),
        };
        let mark = if self.work.is_unsaved() { ", not saved" } else { "" };
        ui.label(RichText::new(self.work.now().name()).size(20.0).strong());
        ui.add(Label::new(RichText::new(format!("{file}{mark}")).weak()).wrap());
        ui.horizontal_wrapped(|ui| {
            let save = Button::new(format!("Save the {}", word(T::FILE)));
            let hint = "Save it as a file of your own and use it in the plan";
            if ui.add_enabled(self.work.is_unsaved(), save).on_hover_text(hint).clicked() {
                asks.push(Ask::Day(DayAsk::Save(T::FILE)));
            }
            let hint = "Save it under another name and use it in the plan";
            if ui.button(format!("Save the {} as…", word(T::FILE))).on_hover_text(hint).clicked() {
                asks.push(Ask::NameFile(crate::app::purpose::Purpose::SaveDay(T::FILE)));
            }
            for (words, action, step) in [("Undo", Action::Undo, 0), ("Redo", Action::Redo, 1)] {
                if let Some(step) = self.work.steps()[step]
                    && ui.button(format!("{words}: {step}")).clicked()
                {
                    asks.push(Ask::Act(action));
                }
            }
            if ui.button("Close").clicked() {
                asks.push(Ask::Day(DayAsk::Close(T::FILE)));
            }
        });
        if let Some(refused) = &self.refused {
            ui.add(Label::new(RichText::new(refused).color(palette.refused)).wrap());
        }
    }
}

/// What a file of the day's is called within a sentence.
pub(crate) const fn word(file: DayFile) -> &'static str {
    match file {
        DayFile::Order => "order",
        DayFile::Recipe => "recipe",
        DayFile::Process => "process",
    }
}
