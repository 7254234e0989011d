//! What the day is asked for: what is made, where, when; and what begins it.

use super::chosen::{self, Picked};
use super::order;
use super::{DayAsk, DayView, hours, workshop};
use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::app::heading::heading;
use crate::app::purpose::DayFile;
use crate::plan::Workshop;
use crate::store::EXAMPLE_ORDERS;
use crate::telling::Voice;
use egui::{Id, Ui, UiBuilder};
use std::path::PathBuf;

impl DayView {
    /// The choices, in the panel beside the table.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.when(asks, ui);
        ui.add_space(6.0);
        ui.horizontal_wrapped(|ui| {
            for action in [Action::SavePlan, Action::PrintOrder] {
                if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
                    asks.push(Ask::Act(action));
                }
            }
        });
        // Under a name of its own: what a plan brings above must not close a menu that is open here.
        ui.scope_builder(UiBuilder::new().scope_id(Id::unique("planned for")), |ui| {
            heading(ui, "Plan for");
            if self.desk.is_some() {
                self.order(ctx, asks, ui);
            } else {
                self.layout_choices(ctx, asks, ui);
            }
            self.orders(asks, ui);
            self.workshop_fields(ctx.voice(), ui);
        });
    }

    /// Ways to an order: a new one, those that come with the program, a file's.
    fn orders(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.horizontal_wrapped(|ui| {
            if self.desk.is_none() {
                let hint = "Several sizes of this layout, or several layouts, in one plan";
                if ui.button("Several sizes or designs").on_hover_text(hint).clicked() {
                    asks.push(Ask::Day(DayAsk::NewOrder));
                }
            }
            if ui.button(Action::OpenOrder.label()).on_hover_text(Action::OpenOrder.tooltip()).clicked() {
                asks.push(Ask::Act(Action::OpenOrder));
            }
            ui.menu_button("Example orders", |ui| {
                for (index, example) in EXAMPLE_ORDERS.iter().enumerate() {
                    if ui.button(example.short_name()).clicked() {
                        asks.push(Ask::Day(DayAsk::ExampleOrder(index)));
                        ui.close();
                    }
                }
            });
        });
    }

    /// The order that is being written.
    fn order(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let faults = self.planner.faults().to_vec();
        let made = self.made().map(|made| made.plan.clone());
        let colours: Vec<String> =
            made.iter().flat_map(|plan| &plan.totals.colours).map(|colour| colour.colour.clone()).collect();
        let currency = self.shelf.shelf().currency.clone();
        let Some(desk) = &mut self.desk else { return };
        let spec = desk.now().spec.clone();
        let path = desk.path().map(|path| path.display().to_string());
        let mark = if desk.is_unsaved() && path.is_some() { ", not saved" } else { "" };
        ui.label(format!("{}{mark}", path.unwrap_or_else(|| "New order, not saved yet".to_owned())));
        if let Some(name) = field::wide_words(ui, "Order name", &spec.name) {
            desk.change("the order's name", |sheet| sheet.spec.name = name);
        }
        self.rows.show(desk, ctx.layout, &faults, ctx.voice(), asks, ui);
        order::buttons(desk, asks, ui);
        let folder = desk.now().folder.clone();
        let picks = [
            (DayFile::Recipe, "Recipe", spec.recipe.clone(), chosen::recipes()),
            (DayFile::Process, "Process", spec.process.clone(), chosen::processes()),
        ];
        for (file, label, now, shipped) in picks {
            let own = now.as_ref().and_then(|now| self.own_names.of(&folder.join(now), file));
            let picked = chosen::pick(ui, label, now.as_deref(), own, shipped);
            let name = match picked {
                None => continue,
                Some(Picked::File) => {
                    asks.push(Ask::NameFile(crate::app::purpose::Purpose::Day(file)));
                    continue;
                }
                Some(Picked::Automatic) => None,
                Some(Picked::Shipped(short)) => Some(short.to_owned()),
            };
            if let Some(desk) = &mut self.desk {
                desk.change(&format!("the {}", label.to_lowercase()), |sheet| match file {
                    DayFile::Recipe => sheet.spec.recipe = name,
                    _ => sheet.spec.process = name,
                });
            }
        }
        edit_buttons(asks, ui);
        let Some(desk) = &mut self.desk else { return };
        let mut tested = spec.scrap_tested;
        if ui.checkbox(&mut tested, "Scrap already tested").on_hover_text(TESTED).changed() {
            desk.change("whether a scrap was tested", |sheet| sheet.spec.scrap_tested = tested);
        }
        let mut mixed = spec.mix_grounds;
        let hint = "Garments of different colours may share a discharge; undyed ones never share it with coloured ones";
        if ui.checkbox(&mut mixed, "Mix garment colours").on_hover_text(hint).changed() {
            desk.change("whether colours are mixed", |sheet| sheet.spec.mix_grounds = mixed);
        }
        order::shades(desk, &colours, ui);
        order::worth(desk, &currency, ui);
        if let Some(note) = field::lines(ui, "Order note", &spec.note) {
            desk.change("the order's note", |sheet| sheet.spec.note = note);
        }
    }

    fn layout_choices(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.label(ctx.layout.name());
        let wanted = &mut self.wanted;
        if let Some(count) = field::count(ui, "Garments", wanted.count) {
            wanted.count = count;
        }
        let picks = [
            (DayFile::Recipe, "Recipe", &mut wanted.recipe, chosen::recipes()),
            (DayFile::Process, "Process", &mut wanted.process, chosen::processes()),
        ];
        for (file, label, now, shipped) in picks {
            let words = now.as_ref().map(|path| path.to_string_lossy().into_owned());
            let own = now.as_ref().and_then(|path| self.own_names.of(path, file));
            match chosen::pick(ui, label, words.as_deref(), own, shipped) {
                None => {}
                Some(Picked::Automatic) => *now = None,
                Some(Picked::Shipped(short)) => *now = Some(PathBuf::from(short)),
                Some(Picked::File) => asks.push(Ask::NameFile(crate::app::purpose::Purpose::Day(file))),
            }
        }
        edit_buttons(asks, ui);
        ui.checkbox(&mut wanted.scrap_tested, "Scrap already tested").on_hover_text(TESTED);
    }

    /// The workshop that is planned for: the order's, or this machine's.
    pub(super) fn workshop(&self) -> &Workshop {
        self.desk.as_ref().map_or(&self.wanted.workshop, |desk| &desk.now().spec.workshop)
    }

    fn workshop_fields(&mut self, voice: Voice, ui: &mut Ui) {
        let mut workshop = self.workshop().clone();
        crate::app::heading::section(ui, "Hours", |ui| hours::show(&mut workshop, voice, ui));
        workshop::show(&mut workshop, self.wanted.lengths, ui);
        crate::app::heading::section(ui, "Places", |ui| hours::places(&mut workshop, ui));
        if workshop == *self.workshop() {
            return;
        }
        match &mut self.desk {
            Some(desk) => desk.change(THE_WORKSHOP, |sheet| sheet.spec.workshop = workshop),
            None => self.set_workshop(workshop),
        }
    }

    /// The maker's own workshop, kept for the next start.
    fn set_workshop(&mut self, workshop: Workshop) {
        self.wanted.workshop = workshop;
        if let Some(path) = &self.workshop_path {
            workshop::write(&self.wanted.workshop, path);
        }
    }

    /// What the maker changed of the workshop while an order was written goes on when that is put away.
    pub(super) fn keep_workshop(&mut self) {
        if let Some(desk) = self.desk.as_ref().filter(|desk| desk.has_step(THE_WORKSHOP)) {
            self.set_workshop(desk.now().spec.workshop.clone());
        }
    }
}

/// The step that changes an order's workshop.
const THE_WORKSHOP: &str = "the workshop";

const TESTED: &str = "A scrap was discharged and dyed; the plan skips that step";

/// Ways to write a recipe or process of one's own.
fn edit_buttons(asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.horizontal_wrapped(|ui| {
        for (file, words) in [(DayFile::Recipe, "Edit the recipe"), (DayFile::Process, "Edit the process")] {
            let hint = "Change it and save it as a file of your own; what comes with the program stays";
            if ui.button(words).on_hover_text(hint).clicked() {
                asks.push(Ask::Day(DayAsk::Write(file)));
            }
        }
    });
}
