//! The rows of an order, each with what is wrong with it below.

use super::{Design, Desk, Sheet, line};
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::day::DayAsk;
use crate::app::day::job::named;
use crate::app::field::{self, choice};
use crate::app::purpose::Purpose;
use crate::app::theme::Palette;
use crate::geometry::SizeName;
use crate::layout::Layout;
use crate::plan::{GradeRule, name_on};
use crate::store::{LineFault, read_layout};
use crate::telling::Voice;
use egui::{Button, Label, RichText, Ui};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

/// What the rows show beside what is written in them.
#[derive(Debug, Default)]
pub(in crate::app::day) struct Rows {
    /// The layouts of files that rows name; none where they can't be read.
    known: BTreeMap<PathBuf, Option<Arc<Layout>>>,
    /// The row whose rarer fields are open.
    open: Option<usize>,
}

/// What a row is made from, as it is chosen in a list.
#[derive(Clone, PartialEq)]
enum Chosen {
    Open,
    Row(usize),
    Another,
}

impl Rows {
    /// Forgets what was read, so that files are read again.
    pub(in crate::app::day) fn look_again(&mut self) {
        self.known.clear();
    }

    /// The rows, to be written in; `open` is the layout that is open in the window.
    pub(in crate::app::day) fn show(
        &mut self,
        desk: &mut Desk,
        open: &Arc<Layout>,
        faults: &[LineFault],
        voice: Voice,
        asks: &mut Vec<Ask>,
        ui: &mut Ui,
    ) {
        for index in 0..desk.now().spec.lines.len() {
            let removed = self.row(desk, index, open, asks, ui);
            for fault in faults.iter().filter(|fault| fault.line == index + 1) {
                let palette = Palette::of(ui.ctx());
                ui.add(Label::new(RichText::new(fault.refusal.say(voice)).color(palette.refused)).wrap());
            }
            ui.add_space(4.0);
            if removed {
                desk.change(&format!("remove row {}", index + 1), |sheet| sheet.remove(index));
                self.open = None;
                break;
            }
        }
        ui.horizontal_wrapped(|ui| {
            let hint = "Repeats the last row's design; then change its size, number or design";
            if ui.button("Add a row").on_hover_text(hint).clicked() {
                desk.change("add a row", Sheet::add);
            }
            if ui.button("Add a layout file…").on_hover_text("A row of another layout").clicked() {
                asks.push(Ask::NameFile(Purpose::Row(desk.now().spec.lines.len())));
            }
        });
    }

    /// A row; whether it is to be removed.
    fn row(&mut self, desk: &mut Desk, index: usize, open: &Arc<Layout>, asks: &mut Vec<Ask>, ui: &mut Ui) -> bool {
        let number = index + 1;
        let layout = self.layout(desk.now(), index, open);
        let is_open = self.open == Some(index);
        let mut removed = false;
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(format!("{number}.")).strong());
            ui.label(RichText::new(name_on_size(desk.now(), index, layout.as_deref())).strong());
            removed = named(ui, Button::new("Remove").small(), &format!("Remove row {number}")).clicked();
            let words = if is_open { "Less" } else { "More" };
            if named(ui, Button::new(words).small(), &format!("{words} about row {number}")).clicked() {
                self.open = (!is_open).then_some(index);
            }
        });
        size(desk, index, layout.as_deref(), ui);
        let count = desk.now().spec.lines[index].count;
        if let Some(count) = field::count(ui, &format!("Garments, row {number}"), count) {
            desk.change(&format!("the number of row {number}"), |sheet| sheet.spec.lines[index].count = count);
        }
        if is_open {
            self.design(desk, index, open, asks, ui);
            rarer(desk, index, ui);
        }
        removed
    }

    /// The design of a row, chosen among those at hand or from a file.
    fn design(&mut self, desk: &mut Desk, index: usize, open: &Arc<Layout>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let label = format!("Design, row {}", index + 1);
        let sheet = desk.now().clone();
        let mut chosen = None;
        let now = name(&sheet, index, self.layout(&sheet, index, open).as_deref());
        field::pick(ui, &label, now, |ui| {
            let mut entry = |ui: &mut Ui, words: String, what: Chosen, is_now: bool| {
                if ui.selectable_label(is_now, words).clicked() {
                    chosen = Some(what);
                }
            };
            let words = format!("{}, the open layout", open.name());
            entry(ui, words, Chosen::Open, sheet.designs[index] == Design::Open);
            for other in sheet.distinct_designs() {
                let words = name(&sheet, other, self.layout(&sheet, other, open).as_deref());
                entry(ui, words, Chosen::Row(other), sheet.is_same_design(index, other));
            }
            entry(ui, "Another file…".to_owned(), Chosen::Another, false);
        });
        let step = format!("the design of row {}", index + 1);
        match chosen {
            Some(Chosen::Open) => desk.change(&step, |sheet| sheet.set_design(index, Design::Open, open.name())),
            Some(Chosen::Row(other)) => desk.change(&step, |sheet| {
                let (design, name) = (sheet.designs[other].clone(), sheet.spec.lines[other].layout.clone());
                sheet.set_design(index, design, &name);
            }),
            Some(Chosen::Another) => asks.push(Ask::NameFile(Purpose::Row(index))),
            None => {}
        }
    }

    /// A row's layout, if it can be read.
    fn layout(&mut self, sheet: &Sheet, index: usize, open: &Arc<Layout>) -> Option<Arc<Layout>> {
        match &sheet.designs[index] {
            Design::Open => Some(open.clone()),
            Design::Kept(layout) => Some(layout.clone()),
            Design::File => {
                let path = sheet.folder.join(&sheet.spec.lines[index].layout);
                self.known.entry(path).or_insert_with_key(|path| read_layout(path).ok().map(Arc::new)).clone()
            }
        }
    }
}

/// What a row is made from: its layout's name, or the file that it names.
fn name(sheet: &Sheet, index: usize, layout: Option<&Layout>) -> String {
    layout.map_or_else(|| sheet.spec.lines[index].layout.clone(), |layout| layout.name().to_owned())
}

/// What a row is called: its layout's name on the row's size.
fn name_on_size(sheet: &Sheet, index: usize, layout: Option<&Layout>) -> String {
    let of_size = layout.and_then(|layout| {
        let size = sheet.spec.lines[index].size.as_deref()?;
        Some(name_on(layout, layout.garment().kind().size_named(size).ok()?))
    });
    of_size.unwrap_or_else(|| name(sheet, index, layout))
}

/// The size of a row: the layout's own, or one that it is graded to.
fn size(desk: &mut Desk, index: usize, layout: Option<&Layout>, ui: &mut Ui) {
    let Some(layout) = layout else { return };
    let own = layout.garment().size();
    let number = index + 1;
    let line = &desk.now().spec.lines[index];
    let sizes: Vec<Option<SizeName>> =
        std::iter::once(None).chain(layout.garment().kind().sizes().into_iter().map(|size| Some(size.name))).collect();
    let now = line.size.as_deref().and_then(|size| layout.garment().kind().size_named(size).ok());
    let unknown = line.size.clone().filter(|_| now.is_none());
    let words = |size: Option<SizeName>| match (size, own, &unknown) {
        (Some(size), _, _) => size.in_list(),
        (None, _, Some(unknown)) => unknown.clone(),
        (None, Some(own), None) => format!("{own}, as it is"),
        (None, None, None) => "as it is".to_owned(),
    };
    if let Some(size) = choice(ui, &format!("Size, row {number}"), now, &sizes, words) {
        let before = name_on_size(desk.now(), index, Some(layout));
        desk.change(&format!("the size of row {number}"), |sheet| {
            sheet.spec.lines[index].size = size.map(|size| size.to_string());
            // An order that has its first row's name goes on having it.
            if index == 0 && sheet.spec.name == before {
                sheet.spec.name = name_on_size(sheet, index, Some(layout));
            }
        });
    }
}

/// What of a row is rarely written.
fn rarer(desk: &mut Desk, index: usize, ui: &mut Ui) {
    let number = index + 1;
    let line = desk.now().spec.lines[index].clone();
    let rings = |rings| match rings {
        GradeRule::Scaled => "grow with the size".to_owned(),
        GradeRule::Kept => "stay as they are".to_owned(),
    };
    if let Some(rule) = choice(ui, &format!("Rings, row {number}"), line.rings, &[GradeRule::Scaled, GradeRule::Kept], rings) {
        desk.change(&format!("the rings of row {number}"), |sheet| sheet.spec.lines[index].rings = rule);
    }
    let written = line.blank_price.map_or_else(String::new, |price| format!("{price:.2}"));
    let read = |text: &str| match text.trim() {
        "" => Ok(None),
        text => {
            let wrong = |_no_number| format!("Not a price: \"{text}\"; give one such as 3.40, or leave it blank");
            text.replace(',', ".").parse::<f64>().map(Some).map_err(wrong)
        }
    };
    if let Some(price) = field::read(ui, &format!("Price undyed, row {number}"), &written, read) {
        desk.change(&format!("the price of row {number}"), |sheet| sheet.spec.lines[index].blank_price = price);
    }
}

impl Sheet {
    fn remove(&mut self, index: usize) {
        self.spec.lines.remove(index);
        self.designs.remove(index);
    }

    /// Another row of the last one's design.
    fn add(&mut self) {
        let last = self.spec.lines.last().map(|last| (last.layout.clone(), last.process.clone()));
        let (layout, process) = last.unwrap_or_default();
        let design = self.designs.last().cloned().unwrap_or(Design::Open);
        self.spec.lines.push(crate::plan::OrderLineSpec { process, ..line(&layout, 1) });
        self.designs.push(design);
    }

    /// Makes a row of another design, in that design's own size; a row after the last is added.
    pub(in crate::app::day) fn set_design(&mut self, index: usize, design: Design, name: &str) {
        if let (Some(line), Some(own)) = (self.spec.lines.get_mut(index), self.designs.get_mut(index)) {
            name.clone_into(&mut line.layout);
            line.size = None;
            *own = design;
        } else {
            self.spec.lines.push(line(name, 1));
            self.designs.push(design);
        }
        // A scrap stands for the cloth and dyes that it was tested with.
        self.spec.scrap_tested = false;
    }

    fn is_same_design(&self, one: usize, other: usize) -> bool {
        self.designs[one] == self.designs[other]
            && (self.designs[one] != Design::File || self.spec.lines[one].layout == self.spec.lines[other].layout)
    }

    /// The first row of each design other than the open layout.
    fn distinct_designs(&self) -> Vec<usize> {
        let is_first = |&index: &usize| !(0..index).any(|earlier| self.is_same_design(earlier, index));
        (0..self.designs.len()).filter(|&index| self.designs[index] != Design::Open).filter(is_first).collect()
    }
}

/// What is asked of an order as a whole, in buttons.
pub(in crate::app::day) fn buttons(desk: &Desk, asks: &mut Vec<Ask>, ui: &mut Ui) {
    use crate::app::purpose::DayFile;
    ui.horizontal_wrapped(|ui| {
        let save = ui.add_enabled(desk.is_unsaved() || desk.path().is_none(), Button::new(Action::SaveOrder.label()));
        if save.on_hover_text(Action::SaveOrder.tooltip()).clicked() {
            asks.push(Ask::Act(Action::SaveOrder));
        }
        if ui.button(Action::SaveOrderAs.label()).on_hover_text(Action::SaveOrderAs.tooltip()).clicked() {
            asks.push(Ask::Act(Action::SaveOrderAs));
        }
        if ui.button("Plan the open layout instead").on_hover_text("Close the order").clicked() {
            asks.push(Ask::Day(DayAsk::Close(DayFile::Order)));
        }
    });
    let steps = desk.steps();
    if steps.iter().any(Option::is_some) {
        ui.horizontal_wrapped(|ui| {
            for (words, action, step) in [("Undo", Action::Undo, steps[0]), ("Redo", Action::Redo, steps[1])] {
                if let Some(step) = step
                    && ui.button(format!("{words}: {step}")).clicked()
                {
                    asks.push(Ask::Act(action));
                }
            }
        });
    }
}
