//! The panel beside the table: what is written down, and what can be done with what lies there.

use super::entry::Opened;
use super::shelf::{About, Told};
use super::unsaved::Aside;
use super::{JournalAsk, JournalView, Page, words};
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::heading::heading;
use crate::app::settings::Settings;
use crate::app::theme::Palette;
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::plan::day_words;
use egui::{Button, RichText, Ui};
use std::sync::Arc;

impl JournalView {
    /// The choices, in the panel beside the table.
    pub(crate) fn choices(
        &mut self,
        layout: Option<&Arc<Layout>>,
        lengths: LengthStyle,
        settings: &Settings,
        asks: &mut Vec<Ask>,
        ui: &mut Ui,
    ) {
        if self.shelf.journal().is_none() {
            return;
        }
        if self.shelf.is_writing() {
            ui.label(RichText::new("Saving the journal…").weak());
        }
        let next = match &self.page {
            Page::Open(opened) => {
                let next = open_choices(&opened.id, opened.can_be_made(), asks, ui);
                opened.numbers(lengths, ui);
                next
            }
            Page::Writing(number) => self.writing_choices(*number, ui),
            Page::Beside(comparison) => {
                let mut next = back(ui);
                for entry in [&comparison.first, &comparison.second] {
                    if ui.button(format!("Open {}", words::title(entry))).clicked() {
                        next = Some(Page::Open(Opened::new(entry)));
                    }
                }
                next
            }
            Page::Learning => {
                let next = back(ui);
                self.learn.choices(layout.is_some(), settings, asks, ui);
                next
            }
            Page::All | Page::Choosing(_) => {
                // What a run told stands first, or its garment would get a second entry without it.
                let next = self.unfinished_choices(ui);
                match layout {
                    Some(layout) => self.adding(layout, asks, ui),
                    None => without_layout(asks, ui),
                }
                learning(asks, ui);
                plain_files(asks, ui);
                next
            }
        };
        if matches!(next, Some(Page::Choosing(_))) {
            // What found the first is seldom what finds the second.
            self.finding.clear();
        }
        if let Some(next) = next {
            self.page = next;
        }
    }

    fn adding(&mut self, layout: &Arc<Layout>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        heading(ui, "Add what you made");
        let words = format!("The entry keeps {} as it is now.", layout.name());
        ui.label(RichText::new(words).weak());
        self.form.show(false, asks, ui);
        if ui.add_enabled(!self.shelf.is_writing(), Button::new(ADD)).clicked() {
            let now = Aside::new(self.number, layout, self.form.clone());
            self.add(now, ui.ctx());
        }
    }

    /// Writes something new into the journal.
    pub(super) fn add(&mut self, aside: Aside, ctx: &egui::Context) {
        let Aside { number, name, layout, form } = aside;
        let draft = form.draft(layout);
        self.shelf.begin(About::Adding(number, Box::new(form)), ctx, move |journal| {
            let made = journal.add(&draft)?.raw().made;
            Ok(Some(Told::plain(format!("Added {name}, made {}", day_words(made)))))
        });
    }

    /// What is written elsewhere and not in the journal yet.
    fn unfinished_choices(&mut self, ui: &mut Ui) -> Option<Page> {
        let mut next = None;
        if !self.asides.is_empty() || !self.forms.is_empty() {
            heading(ui, "Not in the journal yet");
        }
        for aside in &self.asides {
            let name = format!("Continue writing about {}", aside.name);
            if begun(&aside.name, &aside.form.beginning(), &name, ui) {
                next = Some(Page::Writing(aside.number));
            }
        }
        for (id, form) in &self.forms {
            let Some(entry) = self.shelf.entry(id) else {
                let words = format!("{id}: {}. This entry no longer exists.", form.beginning());
                ui.label(RichText::new(words).color(Palette::of(ui.ctx()).warn));
                continue;
            };
            let title = words::title(entry);
            if begun(&title, &form.beginning(), &format!("Continue editing {title}"), ui) {
                next = Some(Page::Open(Opened::new(entry)));
            }
        }
        if let Some(thrown) = self.thrown.take_if(|thrown| taken_back(&thrown.name, ui)) {
            next = Some(Page::Writing(thrown.number));
            self.asides.push(thrown);
        }
        next
    }

    fn writing_choices(&mut self, number: u64, ui: &mut Ui) -> Option<Page> {
        let mut next = back(ui);
        ui.add_space(6.0);
        let throw = ui.button("Discard").on_hover_text("You can restore it until you close the program");
        if throw.clicked()
            && let Some(place) = self.asides.iter().position(|aside| aside.number == number)
        {
            self.thrown = Some(self.asides.remove(place));
            next = Some(Page::All);
        }
        next
    }
}

/// The button that writes something new into the journal.
pub(super) const ADD: &str = "Add to the journal";

/// Something begun, and whether to go on with it.
fn begun(title: &str, beginning: &str, name: &str, ui: &mut Ui) -> bool {
    ui.label(title);
    ui.label(RichText::new(beginning).weak());
    let button = ui.button("Continue");
    button.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, name));
    button.clicked()
}

fn taken_back(name: &str, ui: &mut Ui) -> bool {
    ui.add_space(4.0);
    ui.button(format!("Restore the discarded text about {name}")).clicked()
}

fn without_layout(asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Add what you made");
    ui.label(RichText::new("An entry keeps its layout: open the one you made, then come back here.").weak());
    if ui.button(Action::Open.label()).on_hover_text(Action::Open.tooltip()).clicked() {
        asks.push(Ask::Act(Action::Open));
    }
}

fn learning(asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "Calibration");
    let action = Action::LearnFromPhotographs;
    if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
        asks.push(Ask::Act(action));
    }
}

fn plain_files(asks: &mut Vec<Ask>, ui: &mut Ui) {
    heading(ui, "As plain files");
    ui.horizontal_wrapped(|ui| {
        for action in [Action::ExportJournal, Action::ImportJournal] {
            if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
                asks.push(Ask::Act(action));
            }
        }
    });
}

fn back(ui: &mut Ui) -> Option<Page> {
    ui.button("All entries").clicked().then_some(Page::All)
}

/// What can be done with an open entry; the page that is chosen.
fn open_choices(id: &str, can_be_made: bool, asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Page> {
    let mut next = back(ui);
    ui.add_space(6.0);
    for (words, about, with_changes) in [
        ("Make again", "Open its layout as a new one", false),
        ("Make again with changes", "The same, with the changes to make in the layout's note", true),
    ] {
        if ui.add_enabled(can_be_made, Button::new(words)).on_hover_text(about).clicked() {
            asks.push(Ask::Journal(JournalAsk::MakeAgain { id: id.to_owned(), with_changes }));
        }
    }
    if ui.button("Compare with…").on_hover_text("Show another entry beside this one").clicked() {
        next = Some(Page::Choosing(id.to_owned()));
    }
    next
}
