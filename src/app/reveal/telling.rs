//! Text beside a fine reveal: advice, warnings, section table. Coarse reveals are skipped; their numbers differ too much.

use super::maker::Shown;
use crate::app::heading::section;
use crate::app::theme::Palette;
use crate::layout::{DyeBy, Layout};
use crate::measure::LengthStyle;
use crate::reveal::colour::{ColourWarning, TOLD_APART, colour_warnings_by_tie};
use crate::reveal::{Reveal, SectionReveal};
use crate::telling::{Voice, Warned as _};
use egui::{Align, Grid, Label, RichText, ScrollArea, Ui, vec2};
use std::sync::Arc;

/// Height of the table's rows, points: what is longer scrolls.
const ROWS_HEIGHT: f32 = 190.0;

/// The columns: their heads, which stay when the rows scroll, and their widths, points.
const HEADS: [(&str, f32); 5] = [("Section", 48.0), ("Dye", 70.0), ("Reached", 52.0), ("Middle", 44.0), ("Even", 44.0)];

/// What one fine reveal tells.
pub(super) struct Telling {
    layout: Arc<Layout>,
    /// What to know before dyeing.
    advice: Vec<String>,
    /// Section, dye, reached, middle, even.
    rows: Vec<[String; 5]>,
    /// How many dips there are, where nothing else is dyed.
    only_dips: Option<usize>,
}

impl Telling {
    /// What `shown` tells; none of a coarse reveal.
    pub(super) fn of(shown: &Shown) -> Option<Self> {
        if !shown.fine {
            return None;
        }
        let full = shown.layout.process().discharged_share(1.0);
        let warnings = colour_warnings_by_tie(&shown.layout, &shown.dyes, full, TOLD_APART);
        // Nothing of it has a length.
        let (advice, voice) = (shown.reveal.advice(), Voice::window(LengthStyle::default()));
        let warned = |(tie, warning): &(Option<&str>, ColourWarning)| {
            let tie = tie.map_or_else(String::new, |tie| format!("{tie}: "));
            format!("{tie}{}", warning.say(voice))
        };
        let advice = warnings.iter().map(warned).chain(advice.iter().map(|one| one.say(voice))).collect();
        let row = |tie: &Reveal, number: Option<usize>, section: &SectionReveal| {
            let dye = section
                .dye
                .and_then(|dye| tie.layout().raw().colours.rotation.get(dye))
                .map_or("none", |swatch| swatch.name.as_str());
            let even = section.even_front_back.min(section.even_left_right);
            let of = number.map_or_else(String::new, |number| format!("{number}: "));
            [
                format!("{of}{}", section.number),
                dye.to_owned(),
                percent(section.reached),
                percent(section.middle_dose),
                percent(even),
            ]
        };
        let several = shown.layout.is_of_several();
        let of_tie = |(number, tie): (usize, &Reveal)| -> Vec<[String; 5]> {
            tie.summary.iter().map(|section| row(tie, several.then_some(number), section)).collect()
        };
        let rows = (1..).zip(shown.reveal.ties()).flat_map(of_tie).collect();
        let only_dips = (shown.layout.process().dye == DyeBy::Dipped).then(|| shown.layout.dips().len());
        Some(Self { layout: shown.layout.clone(), advice, rows, only_dips })
    }

    /// Whether it is of this very layout.
    pub(super) fn is_of(&self, layout: &Arc<Layout>) -> bool {
        Arc::ptr_eq(&self.layout, layout)
    }
}

/// The section of the panel: `last`, grey where it is of an earlier `layout`; `done` is the share of the fine reveal under way, if
/// one is.
pub(super) fn show(last: Option<&Telling>, layout: &Arc<Layout>, done: Option<f64>, ui: &mut Ui) {
    section(ui, "What to expect", |ui| {
        let current = last.is_some_and(|last| last.is_of(layout));
        if !current {
            let share = done.map_or_else(String::new, |done| format!(" {}", percent(done)));
            ui.label(format!("Working it out…{share}"));
        }
        // Of another piece it would only mislead.
        if let Some(last) = last.filter(|last| current || last.layout.name() == layout.name()) {
            ui.add_enabled_ui(current, |ui| told(last, ui));
        }
    });
}

fn told(telling: &Telling, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    for words in &telling.advice {
        ui.label(RichText::new(words).color(palette.warn));
    }
    // Sections get nothing where only dips are dyed.
    if let Some(dips) = telling.only_dips {
        ui.label(match dips {
            0 => "Nothing is dipped yet, so no dye reaches the cloth.",
            _ => "Dye reaches what is dipped and a little beyond; all other cloth stays as it is.",
        });
        return;
    }
    if telling.advice.is_empty() {
        ui.label("Dye reaches every section well and evenly, and neighbouring colours can be told apart.");
    }
    Grid::new("heads").num_columns(5).show(ui, |ui| {
        for (head, width) in HEADS {
            cell(ui, width, RichText::new(head).weak().small());
        }
    });
    ScrollArea::vertical().id_salt("reached").max_height(ROWS_HEIGHT).min_scrolled_height(ROWS_HEIGHT).show(ui, |ui| {
        Grid::new("reached").num_columns(5).striped(true).show(ui, |ui| {
            for row in &telling.rows {
                for (text, (_, width)) in row.iter().zip(HEADS) {
                    cell(ui, width, RichText::new(text));
                }
                ui.end_row();
            }
        });
    });
    let reached =
        if telling.layout.blocks().is_some() { "cloth beside the blocks that takes dye" } else { "cloth that takes dye" };
    if telling.layout.is_of_several() {
        ui.label(RichText::new("Section: the tie's number, then the section's.").weak().small());
    }
    let words =
        format!("Reached: {reached}. Middle: dose at the thickest point, against the surface. Even: paler side over darker.");
    ui.label(RichText::new(words).weak().small());
}

/// A cell that is as wide under its head as beside it; a longer name is cut off, and whole under the pointer.
fn cell(ui: &mut Ui, width: f32, text: RichText) {
    let size = vec2(width, ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_width(width);
        ui.add(Label::new(text).truncate());
    });
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}
