//! What was learned, as a table and sentences.

use super::Found;
use crate::app::theme::Palette;
use crate::learn::{FROM_DRAWN_PIECES, HELD_BY_CONVENTION, Learned, NOT_JUDGED};
use crate::measure::counted;
use egui::{Grid, Label, RichText, Ui};

pub(super) fn show(found: &Found, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let outcome = &found.outcome;
    ui.label(RichText::new("What your photographs taught").size(20.0).strong());
    let pieces = |count: usize| counted(count, "piece");
    let all = outcome.after.pieces().len();
    let words = format!("From {}, {} patches of cloth; {} in all.", pieces(found.taught), outcome.lesson.bins, pieces(all));
    ui.label(RichText::new(words).weak());
    ui.add_space(4.0);
    let verdict = outcome.verdict.as_ref();
    let (words, colour) = match verdict {
        Some(verdict) if verdict.after < verdict.before => (verdict.sentence(), palette.ink),
        Some(verdict) => (verdict.sentence(), palette.warn),
        None => (format!("{NOT_JUDGED}."), palette.warn),
    };
    ui.add(Label::new(RichText::new(words).color(colour)).wrap());
    if let Some(words) = outcome.lesson.misfit() {
        ui.add(Label::new(RichText::new(words).color(palette.warn)).wrap());
    }
    ui.add_space(6.0);
    table(&outcome.after, ui);
    for dye in outcome.after.dyes() {
        ui.add(Label::new(format!("{}.", dye.words())).wrap());
    }
    for reach in outcome.after.told_components() {
        ui.add(Label::new(format!("{}.", reach.words())).wrap());
    }
    ui.add_space(4.0);
    for words in [HELD_BY_CONVENTION, FROM_DRAWN_PIECES] {
        ui.add(Label::new(RichText::new(words).weak()).wrap());
    }
}

/// Every value that a piece shows.
fn table(learned: &Learned, ui: &mut Ui) {
    Grid::new("learned").num_columns(5).striped(true).spacing([18.0, 4.0]).show(ui, |ui| {
        for head in ["Value", "Was", "Is", "Probably", "Pieces"] {
            ui.label(RichText::new(head).strong());
        }
        ui.end_row();
        for row in learned.rows() {
            let written = |words: String| if row.is_learned { RichText::new(words) } else { RichText::new(words).weak() };
            for words in [row.name, row.was, row.is, row.probably, row.pieces.to_string()] {
                ui.label(written(words));
            }
            ui.end_row();
        }
    });
}
