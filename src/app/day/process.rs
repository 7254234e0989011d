//! A process in the window: its steps, and every field of one.

use super::editor::Editor;
use super::job::named;
use crate::app::context::Ask;
use crate::app::field::{self, choice};
use crate::app::heading::heading;
use crate::geometry::SourceStatus;
use crate::plan::{AgentGoes, Chemistry, Hands, Need, Place, Process, Step, Temperature, Until, Wait};
use crate::telling::Voice;
use egui::{Button, RichText, Ui};

const CHEMISTRIES: [Chemistry; 5] =
    [Chemistry::Plain, Chemistry::Alkali, Chemistry::Reductive, Chemistry::Bleach, Chemistry::Acid];

/// What a step may use, in words.
const NEEDS: [(Need, &str); 14] = [
    (Need::Thread, "thread"),
    (Need::BathWater, "discharge water"),
    (Need::Discharge, "discharge agent"),
    (Need::ScrapBath, "scrap's discharge"),
    (Need::ScrapSoak, "scrap's soak"),
    (Need::ScrapDye, "scrap's dye"),
    (Need::SodaSoak, "soda ash soak"),
    (Need::Dye, "dye"),
    (Need::SodaStrewn, "soda ash, sprinkled"),
    (Need::Ice(1), "ice, layer 1"),
    (Need::Ice(2), "ice, layer 2"),
    (Need::Ice(3), "ice, layer 3"),
    (Need::Stock, "dye solution"),
    (Need::HotSoak, "hot soak"),
];

const UNTILS: [(Until, &str); 4] = [
    (Until::Heated, "the water is hot"),
    (Until::Discharged, "the agent has worked"),
    (Until::Dry, "the rods are dry"),
    (Until::Fixed, "the dye has fixed"),
];

/// Hands-on time that a new step begins with, min. Own choice.
const NEW_STEP_MIN: u32 = 5;

impl Editor<Process> {
    /// The process, to be changed.
    pub(super) fn show(&mut self, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.head(asks, ui);
        let process = self.work.now().clone();
        if let Some(name) = field::wide_words(ui, "Process name", &process.name) {
            self.attempt("the name", voice, ui, |process| process.name = name);
        }
        if let Some(note) = field::lines(ui, "Process note", &process.note) {
            self.attempt("the note", voice, ui, |process| process.note = note);
        }
        heading(ui, "Steps");
        ui.horizontal_wrapped(|ui| {
            for (index, step) in process.steps.iter().enumerate() {
                let words = format!("{}. {}", index + 1, step.name);
                if ui.selectable_label(self.open == index, words).clicked() {
                    self.open = index;
                }
            }
        });
        self.open = self.open.min(process.steps.len().saturating_sub(1));
        let Some(step) = process.steps.get(self.open).cloned() else { return };
        self.arrange(&process, voice, ui);
        ui.separator();
        self.step(&step, voice, ui);
        self.wait(&step, voice, ui);
        self.what_it_uses(&step, voice, ui);
        self.after(&process, &step, voice, ui);
    }

    /// Steps added, removed and moved.
    fn arrange(&mut self, process: &Process, voice: Voice, ui: &mut Ui) {
        let at = self.open;
        ui.horizontal_wrapped(|ui| {
            if ui.button("Add a step after it").clicked() {
                self.attempt("add a step", voice, ui, |process| {
                    let name = free_name(process);
                    let hands = Hands { load_min: NEW_STEP_MIN, garment_min: 0 };
                    process.steps.insert(at + 1, Step { hands, ..Step::new(name) });
                });
                self.open = at + 1;
            }
            let is_alone = process.steps.len() == 1;
            let name = &process.steps[at].name;
            let remove =
                ui.add_enabled_ui(!is_alone, |ui| named(ui, Button::new("Remove"), &format!("Remove step {name}"))).inner;
            if remove.clicked() {
                self.attempt("remove a step", voice, ui, |process| drop(process.steps.remove(at)));
            }
            for (words, to) in [("Earlier", at.checked_sub(1)), ("Later", (at + 1 < process.steps.len()).then_some(at + 1))] {
                let button =
                    ui.add_enabled_ui(to.is_some(), |ui| named(ui, Button::new(words), &format!("{words}: step {name}"))).inner;
                if let Some(to) = to.filter(|_| button.clicked()) {
                    let before = self.work.now().clone();
                    self.attempt("move a step", voice, ui, |process| process.steps.swap(at, to));
                    if *self.work.now() != before {
                        self.open = to;
                    }
                }
            }
        });
    }

    /// Changes the step that is open.
    fn change(&mut self, what: &str, voice: Voice, ui: &Ui, change: impl FnOnce(&mut Step)) {
        let at = self.open;
        let name = self.work.now().steps.get(at).map_or("", |step| step.name.as_str()).to_owned();
        self.attempt(&format!("{what} of {name}"), voice, ui, |process| {
            if let Some(step) = process.steps.get_mut(at) {
                change(step);
            }
        });
    }

    fn step(&mut self, step: &Step, voice: Voice, ui: &mut Ui) {
        if let Some(name) = field::wide_words(ui, "Step name", &step.name) {
            let (at, before) = (self.open, step.name.clone());
            self.attempt("a step's name", voice, ui, |process| {
                // Steps that wait for it go on to.
                let after = process.steps.iter_mut().flat_map(|step| &mut step.after).filter(|other| **other == before);
                after.for_each(|other| name.clone_into(other));
                process.steps[at].name = name;
            });
        }
        if let Some(what) = field::lines(ui, "What to do", &step.what) {
            self.change("what to do", voice, ui, |step| step.what = what);
        }
        for (words, hint, value, set) in [
            ("Once for the whole order", "Not for each load", step.once, (|step, on| step.once = on) as fn(&mut Step, bool)),
            ("Garment by garment", "Other work may come between two garments", step.one_by_one, |step, on| step.one_by_one = on),
            ("Tests a scrap", "Left out when a scrap was tested already", step.scrap, |step, on| step.scrap = on),
            ("Rinses the cloth fully", "So that two baths don't meet", step.rinses, |step, on| step.rinses = on),
        ] {
            let mut on = value;
            if ui.checkbox(&mut on, words).on_hover_text(hint).changed() {
                self.change(words, voice, ui, |step| set(step, on));
            }
        }
        for (label, value, set) in [
            ("Hands-on per load, min", step.hands.load_min, (|hands, to| hands.load_min = to) as fn(&mut Hands, u32)),
            ("Hands-on per garment, min", step.hands.garment_min, |hands, to| hands.garment_min = to),
        ] {
            if let Some(value) = field::count(ui, label, value) {
                self.change(label, voice, ui, |step| set(&mut step.hands, value));
            }
        }
        let places: Vec<Option<Place>> = std::iter::once(None).chain(Place::ALL.into_iter().map(Some)).collect();
        let words = |place: Option<Place>| place.map_or("anywhere", Place::name).to_owned();
        if let Some(place) = choice(ui, "Place", step.place, &places, words) {
            self.change("the place", voice, ui, |step| step.place = place);
        }
        if let Some(bath) =
            field::read(ui, "Bath's name", step.bath.as_deref().unwrap_or_default(), |text| Ok(text.trim().to_owned()))
        {
            self.change("the bath", voice, ui, |step| step.bath = Some(bath).filter(|bath| !bath.is_empty()));
        }
        let mut warm = step.temperature.is_some();
        if ui.checkbox(&mut warm, "With a temperature").changed() {
            self.change("the temperature", voice, ui, |step| {
                step.temperature = warm.then_some(Temperature { from_c: 20.0, to_c: 40.0 });
            });
        }
        if let Some(range) = step.temperature {
            if let Some(from_c) = field::number(ui, "From, °C", range.from_c) {
                self.change("the temperature", voice, ui, |step| step.temperature = Some(Temperature { from_c, ..range }));
            }
            if let Some(to_c) = field::number(ui, "To, °C", range.to_c) {
                self.change("the temperature", voice, ui, |step| step.temperature = Some(Temperature { to_c, ..range }));
            }
        }
        let all = [SourceStatus::Published, SourceStatus::Computed, SourceStatus::Practice, SourceStatus::Memory];
        if let Some(status) = choice(ui, "Times are", step.status, &all, |status| status.to_string()) {
            self.change("the status", voice, ui, |step| step.status = status);
        }
    }

    fn wait(&mut self, step: &Step, voice: Voice, ui: &mut Ui) {
        let mut waits = step.wait.is_some();
        if ui.checkbox(&mut waits, "Then waits").changed() {
            self.change("the wait", voice, ui, |step| step.wait = waits.then(Wait::default));
        }
        if let Some(wait) = step.wait {
            if let Some(least_min) = field::count(ui, "At least, min", wait.least_min) {
                self.change("the wait", voice, ui, |step| step.wait = Some(Wait { least_min, ..wait }));
            }
            let written = wait.most_min.map_or_else(String::new, |most| most.to_string());
            let read = |text: &str| match text.trim() {
                "" => Ok(None),
                text => text
                    .parse()
                    .map(Some)
                    .map_err(|_no_number| format!("Not whole minutes: \"{text}\"; give 0, 1, 2 ..., or leave it blank")),
            };
            if let Some(most_min) = field::read(ui, "At most, min", &written, read) {
                self.change("the wait", voice, ui, |step| step.wait = Some(Wait { most_min, ..wait }));
            }
        }
        ui.label(RichText::new("And until").weak());
        ui.horizontal_wrapped(|ui| {
            for (until, words) in UNTILS {
                let mut on = step.until.contains(&until);
                if ui.checkbox(&mut on, words).changed() {
                    self.change("what it waits for", voice, ui, |step| toggle(&mut step.until, until, on));
                }
            }
        });
    }

    fn what_it_uses(&mut self, step: &Step, voice: Voice, ui: &mut Ui) {
        ui.label(RichText::new("Uses").weak());
        ui.horizontal_wrapped(|ui| {
            for (need, words) in NEEDS {
                let mut on = step.needs.contains(&need);
                if ui.checkbox(&mut on, words).changed() {
                    self.change("what it uses", voice, ui, |step| toggle(&mut step.needs, need, on));
                }
            }
        });
        if let Some(holds) = choice(ui, "The bath holds", step.chemistry, &CHEMISTRIES, |one| one.name().to_owned()) {
            self.change("what the bath holds", voice, ui, |step| step.chemistry = holds);
        }
        let ways = [None, Some(AgentGoes::IntoWater), Some(AgentGoes::OntoRods)];
        let words = |way: Option<AgentGoes>| {
            let words = match way {
                None => "no agent here",
                Some(AgentGoes::IntoWater) => "into the hot water",
                Some(AgentGoes::OntoRods) => "over the wet rods",
            };
            words.to_owned()
        };
        if let Some(way) = choice(ui, "The agent goes", step.agent_goes, &ways, words) {
            self.change("how the agent goes in", voice, ui, |step| step.agent_goes = way);
        }
        let words = "Cautions follow from what a step holds, uses and waits for, and stand beside it in the plan. Where the agent \
                     works, its gas is warned of, whatever the bath is said to hold.";
        ui.add(egui::Label::new(RichText::new(words).weak()).wrap());
    }

    /// Earlier steps that have to be over.
    fn after(&mut self, process: &Process, step: &Step, voice: Voice, ui: &mut Ui) {
        let earlier: Vec<&str> =
            process.steps[..self.open].iter().filter(|earlier| earlier.once).map(|earlier| earlier.name.as_str()).collect();
        if earlier.is_empty() {
            return;
        }
        ui.label(RichText::new("Comes after").weak());
        ui.horizontal_wrapped(|ui| {
            for name in earlier {
                let mut on = step.after.iter().any(|other| other == name);
                if ui.checkbox(&mut on, name).changed() {
                    self.change("what comes before", voice, ui, |step| toggle(&mut step.after, name.to_owned(), on));
                }
            }
        });
    }
}

/// Puts something into a list or takes it out.
fn toggle<T: PartialEq>(list: &mut Vec<T>, thing: T, on: bool) {
    list.retain(|other| *other != thing);
    if on {
        list.push(thing);
    }
}

/// A name that no step has.
fn free_name(process: &Process) -> String {
    let names = std::iter::once("new step".to_owned()).chain((2_u32..).map(|number| format!("new step {number}")));
    let mut names = names.skip_while(|name| process.steps.iter().any(|step| step.name == *name));
    names.next().unwrap_or_default()
}
