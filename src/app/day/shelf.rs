//! The shelf in the window: what is there, what it is sold in, put on it and taken back. The store is read and written on another
//! thread, one work after the other.

use crate::app::field;
use crate::app::heading::heading;
use crate::app::theme::Palette;
use crate::measure::LengthStyle;
use crate::plan::{
    Blank, Pack, Plan, Shelf, Supply, Unit, packs_words_in, parse_material, parse_packs, parse_quantity, quantity_words_in,
};
use crate::store::journal::{Journal, JournalError};
use crate::telling::{AnyRefusal, Refused as _, Told, Voice};
use egui::{Button, Context, RichText, Role, Ui, WidgetInfo};
use std::collections::VecDeque;
use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

type Work = Box<dyn FnOnce(&Journal) -> Result<Shelf, JournalError> + Send>;
/// The shelf, and whether there is a change of it to undo.
type Done = Result<(Shelf, bool), AnyRefusal>;

/// Breadth of the fields, points, where there is room.
const WIDTH: f32 = 420.0;

/// The shelf, as it was read last.
#[derive(Default)]
pub(super) struct ShelfView {
    journal: Option<Journal>,
    shelf: Arc<Shelf>,
    /// Whether it was ever changed.
    can_undo: bool,
    /// Whether it was asked for at all.
    is_asked: bool,
    refused: Option<AnyRefusal>,
    waiting: VecDeque<Work>,
    under_way: Option<Receiver<Done>>,
}

impl std::fmt::Debug for ShelfView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ShelfView").field("journal", &self.journal).field("shelf", &self.shelf).finish_non_exhaustive()
    }
}

impl ShelfView {
    /// The shelf in the journal of the program's folder; without one nothing is kept.
    pub(super) fn new(home: Option<&Path>) -> Self {
        Self { journal: home.map(|home| Journal::at(home.join("journal"))), ..Self::default() }
    }

    pub(super) fn shelf(&self) -> &Arc<Shelf> {
        &self.shelf
    }

    pub(super) fn journal(&self) -> Option<&Journal> {
        self.journal.as_ref()
    }

    /// Reads it anew: the command line may have written meanwhile.
    pub(super) fn read_again(&mut self) {
        self.is_asked = false;
    }

    /// Takes over what is done, and begins what waits.
    pub(super) fn keep_up(&mut self, ctx: &Context) {
        if !std::mem::replace(&mut self.is_asked, true) {
            self.begin(Journal::shelf);
        }
        if let Some(receiver) = &self.under_way {
            let done = match receiver.try_recv() {
                Err(TryRecvError::Empty) => return,
                Err(TryRecvError::Disconnected) => Err(Told::new("the shelf stopped unexpectedly", "try again").into()),
                Ok(done) => done,
            };
            self.under_way = None;
            match done {
                Ok((shelf, can_undo)) => {
                    (self.refused, self.can_undo) = (None, can_undo);
                    if *self.shelf != shelf {
                        self.shelf = Arc::new(shelf);
                    }
                }
                Err(refused) => self.refused = Some(refused),
            }
        }
        let (Some(journal), Some(work)) = (self.journal.clone(), self.waiting.pop_front()) else { return };
        let (sender, receiver) = channel();
        let egui = ctx.clone();
        let spawned = std::thread::Builder::new().name("shelf".to_owned()).spawn(move || {
            let _gone = sender.send(done(&journal, work).map_err(AnyRefusal::from));
            egui.request_repaint();
        });
        self.under_way = spawned.is_ok().then_some(receiver);
    }

    fn begin(&mut self, work: impl FnOnce(&Journal) -> Result<Shelf, JournalError> + Send + 'static) {
        self.waiting.push_back(Box::new(work));
    }

    fn change(&mut self, change: impl FnOnce(&mut Shelf) + Send + 'static) {
        self.begin(move |journal| journal.change_shelf(change));
    }

    /// What is on it, to be changed; what a plan needs that is not, to be put there.
    pub(super) fn show(&mut self, plan: Option<&Plan>, voice: Voice, ui: &mut Ui) {
        ui.set_max_width(WIDTH.min(ui.available_width()));
        heading(ui, "Shelf");
        if self.journal.is_none() {
            ui.label("This system names no data folder, so nothing can be saved here.");
            return;
        }
        ui.label(RichText::new("What you have, read by every plan: supplies, the packs they come in, undyed garments.").weak());
        if let Some(refused) = &self.refused {
            ui.label(RichText::new(refused.say(voice)).color(Palette::of(ui.ctx()).refused));
            if ui.button("Try again").clicked() {
                self.read_again();
            }
        }
        let undo = ui.add_enabled(self.can_undo, Button::new("Undo the last change"));
        let undo = undo.on_hover_text("On the shelf; press again to redo it").on_disabled_hover_text("Nothing was changed yet");
        if undo.clicked() {
            self.begin(|journal| Ok(journal.undo_shelf()?.unwrap_or_default()));
        }
        let shelf = self.shelf.clone();
        for supply in &shelf.supplies {
            self.supply(supply, voice.lengths, ui);
        }
        for blank in &shelf.blanks {
            self.blank(blank, ui);
        }
        self.adding(&shelf, plan, voice, ui);
        if let Some(currency) = field::read_wide(ui, "Currency", &shelf.currency, |text| Ok(text.trim().to_owned())) {
            self.change(move |shelf| shelf.currency = currency);
        }
    }

    fn supply(&mut self, supply: &Supply, lengths: LengthStyle, ui: &mut Ui) {
        let (material, unit) = (supply.material.clone(), supply.material.unit());
        let said = |told: Told| told.say(Voice::FILE);
        ui.separator();
        let on_hand = quantity_words_in(supply.on_hand, unit, lengths);
        let on_hand =
            field::read_wide(ui, &format!("{material}: in stock"), &on_hand, |text| parse_quantity(text, unit).map_err(said));
        let packs = packs_words_in(&supply.packs, unit, lengths);
        let example = format!("such as {}", packs_words_in(&example_packs(unit, lengths), unit, lengths));
        let label = format!("{material}: sold as");
        let packs = field::read_wide_such_as(ui, &label, &packs, &example, |text| parse_packs(text, unit).map_err(said));
        if on_hand.is_some() || packs.is_some() {
            let mut now = supply.clone();
            now.on_hand = on_hand.unwrap_or(now.on_hand);
            now.packs = packs.unwrap_or(now.packs);
            self.change(move |shelf| shelf.set(now));
        }
        if removed(&material.to_string(), ui) {
            self.change(move |shelf| shelf.supplies.retain(|supply| supply.material != material));
        }
    }

    fn blank(&mut self, blank: &Blank, ui: &mut Ui) {
        let name = &blank.name;
        ui.separator();
        let on_hand = field::read_wide(ui, &format!("{name}: in stock"), &blank.on_hand.to_string(), whole);
        let written = blank.price.map_or_else(String::new, |price| format!("{price:.2}"));
        let price = field::read_wide(ui, &format!("{name}: price of one"), &written, price);
        if on_hand.is_some() || price.is_some() {
            let mut now = blank.clone();
            now.on_hand = on_hand.unwrap_or(now.on_hand);
            now.price = price.unwrap_or(now.price);
            self.change(move |shelf| shelf.set_blank(now));
        }
        if removed(name, ui) {
            let name = name.clone();
            self.change(move |shelf| shelf.blanks.retain(|blank| blank.name != name));
        }
    }

    fn adding(&mut self, shelf: &Shelf, plan: Option<&Plan>, voice: Voice, ui: &mut Ui) {
        ui.separator();
        let materials = plan.map(|plan| plan.totals.materials.iter().map(|total| total.material.clone()).collect());
        let materials: Vec<_> = materials.unwrap_or_default();
        let mut blanks: Vec<String> = plan.iter().flat_map(|plan| &plan.lines).map(|line| line.work.blank.clone()).collect();
        blanks.dedup();
        ui.horizontal_wrapped(|ui| {
            for material in materials.into_iter().filter(|material| shelf.supply(material).is_none()) {
                if ui.button(format!("Add {material}")).clicked() {
                    self.change(|shelf| shelf.set(Supply { material, on_hand: 0.0, packs: Vec::new() }));
                }
            }
            for name in blanks.into_iter().filter(|name| shelf.blank(name).is_none()) {
                if ui.button(format!("Add undyed {name}")).clicked() {
                    self.change(|shelf| shelf.set_blank(Blank { name, on_hand: 0, price: None }));
                }
            }
        });
        let read = |text: &str| {
            if text.trim().is_empty() { Err(String::new()) } else { parse_material(text).map_err(|told| told.say(voice)) }
        };
        if let Some(material) = field::read_wide(ui, "Another supply", "", read)
            && shelf.supply(&material).is_none()
        {
            self.change(|shelf| shelf.set(Supply { material, on_hand: 0.0, packs: Vec::new() }));
        }
    }
}

fn done(journal: &Journal, work: Work) -> Result<(Shelf, bool), JournalError> {
    let shelf = work(journal)?;
    Ok((shelf, journal.has_shelf()?))
}

/// Packs as they are written, for who has not written any yet.
fn example_packs(unit: Unit, lengths: LengthStyle) -> [Pack; 2] {
    let [small, large] = match (unit, lengths.is_metric()) {
        (Unit::Gram, true) => ["50 g", "250 g"],
        (Unit::Gram, false) => ["2 oz", "1 lb"],
        (_, true) => ["100 m", "500 m"],
        (_, false) => ["100 yd", "500 yd"],
    }
    .map(|text| parse_quantity(text, unit).unwrap_or_default());
    [Pack { holds: small, price: 4.9 }, Pack { holds: large, price: 19.0 }]
}

fn removed(name: &str, ui: &mut Ui) -> bool {
    let button = ui.small_button("Remove");
    button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Remove {name}")));
    button.clicked()
}

fn whole(text: &str) -> Result<u32, String> {
    text.trim()
        .parse()
        .map_err(|_error: std::num::ParseIntError| format!("Not a whole number from 0: \"{}\"; give 0, 1, 2 ...", text.trim()))
}

/// A price; none where none is written.
fn price(text: &str) -> Result<Option<f64>, String> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(None);
    }
    let price: Option<f64> = text.parse().ok().filter(|price: &f64| price.is_finite() && *price >= 0.0);
    price.map(Some).ok_or_else(|| format!("Not a price: \"{text}\"; give one such as 4.90"))
}
