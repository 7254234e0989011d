//! How entries are told: ratings, garments, colours.

use crate::app::theme::Palette;
use crate::layout::Swatch;
use crate::measure::counted;
use crate::plan::day_words;
use crate::store::journal::{JournalEntry, RATINGS};
use egui::{CornerRadius, RichText, Sense, Stroke, StrokeKind, Ui, vec2};

/// A rating in words.
pub(super) fn rating(rating: Option<u8>) -> &'static str {
    match rating {
        Some(1) => "1, not again",
        Some(2) => "2, poor",
        Some(3) => "3, fair",
        Some(4) => "4, good",
        Some(_) => "5, just right",
        None => "not rated",
    }
}

/// As many full marks as it is rated, of five.
pub(super) fn marks(rating: Option<u8>, ui: &mut Ui) {
    let ink = Palette::of(ui.ctx()).ink;
    let (rect, _) = ui.allocate_exact_size(vec2(5.0 * 14.0, 16.0), Sense::hover());
    for (mark, place) in RATINGS.zip(0_u8..) {
        let at = rect.left_center() + vec2(7.0 + 14.0 * f32::from(place), 0.0);
        if rating.is_some_and(|rating| mark <= rating) {
            ui.painter().circle_filled(at, 5.0, ink);
        } else {
            ui.painter().circle_stroke(at, 4.5, Stroke::new(1.2, ink));
        }
    }
}

/// Garment and size.
pub(super) fn garment(entry: &JournalEntry) -> String {
    let garment = &entry.layout().garment;
    let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", {size}"));
    format!("{}{size}", garment.kind.name())
}

/// How many entries.
pub(super) fn entries(count: usize) -> String {
    counted(count, "entry")
}

/// What an entry is called, so that it can be told from others.
pub(super) fn title(entry: &JournalEntry) -> String {
    format!("{}, {}", entry.name(), day_words(entry.raw().made))
}

/// The garment's own colour and those of the design, each with its name.
pub(super) fn colours(entry: &JournalEntry, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let own = entry.layout().garment.colour.as_ref();
    if let Some(own) = own {
        swatch(own, ui);
        ui.label(RichText::new("dyed").color(palette.faint));
    }
    for one in entry.layout().swatches() {
        swatch(one, ui);
    }
}

fn swatch(swatch: &Swatch, ui: &mut Ui) {
    let (rect, _) = ui.allocate_exact_size(vec2(18.0, 18.0), Sense::hover());
    let rect = rect.shrink(1.0);
    let colour = crate::app::theme::tone(swatch.srgb);
    ui.painter().rect_filled(rect, CornerRadius::same(3), colour);
    let edge = Stroke::new(1.0, Palette::of(ui.ctx()).faint);
    ui.painter().rect_stroke(rect, CornerRadius::same(3), edge, StrokeKind::Inside);
    ui.label(&swatch.name);
}
