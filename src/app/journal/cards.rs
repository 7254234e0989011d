//! The entries as cards, what was made last first.

use super::photos::{Photos, SMALL, Seen};
use super::words;
use crate::app::theme::Palette;
use crate::plan::day_words;
use crate::store::journal::{Journal, JournalEntry};
use egui::{
    Align2, CornerRadius, FontId, Label, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui, UiBuilder, WidgetInfo, vec2,
};
use std::sync::Arc;

/// Height of a card, and of its photograph, points.
const HEIGHT: f32 = 144.0;
const PHOTO: f32 = 120.0;

/// All cards; the entry of the one that was chosen.
pub(super) fn show(found: &[Arc<JournalEntry>], journal: &Journal, photos: &mut Photos, ui: &mut Ui) -> Option<String> {
    let mut chosen = None;
    for entry in found {
        if card(entry, journal, photos, ui) {
            chosen = Some(entry.raw().id.clone());
        }
    }
    chosen
}

fn card(entry: &JournalEntry, journal: &Journal, photos: &mut Photos, ui: &mut Ui) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), HEIGHT), Sense::click());
    let name = format!("{}, {}, {}", words::title(entry), words::garment(entry), words::rating(entry.raw().rating));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
    // Cards out of sight keep their place and their name, and cost nothing more.
    if ui.is_rect_visible(rect) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(rect, CornerRadius::same(6), palette.panel);
        if response.hovered() || response.has_focus() {
            ui.painter().rect_stroke(rect, CornerRadius::same(6), Stroke::new(2.0, palette.accent), StrokeKind::Inside);
        }
        let inner = rect.shrink(12.0);
        photograph(entry, journal, photos, Rect::from_min_size(inner.min, vec2(PHOTO, PHOTO)), ui);
        let room = inner.with_min_x(inner.left() + PHOTO + 14.0);
        let mut texts = ui.new_child(UiBuilder::new().max_rect(room).id_salt(&entry.raw().id));
        texts.set_clip_rect(room.expand(2.0).intersect(ui.clip_rect()));
        texts.style_mut().interaction.selectable_labels = false;
        texts.spacing_mut().item_spacing.y = 3.0;
        texts.spacing_mut().interact_size.y = 20.0;
        about(entry, &mut texts);
    }
    response.clicked()
}

/// The first photograph, or the design where there is none.
fn photograph(entry: &JournalEntry, journal: &Journal, photos: &mut Photos, rect: Rect, ui: &Ui) {
    let palette = Palette::of(ui.ctx());
    ui.painter().rect_filled(rect, CornerRadius::same(4), palette.table);
    let photo = entry.raw().photos.first();
    let seen = match photo {
        Some(photo) => photos.photograph(&journal.photo_path(photo), SMALL, ui.ctx()),
        None => photos.design(entry, SMALL, ui.ctx()),
    };
    let words = match seen {
        Seen::Shown(texture) => {
            let (room, caption) = if photo.is_none() { (rect.shrink2(vec2(6.0, 10.0)), 10.0) } else { (rect, 0.0) };
            let size = texture.size_vec2();
            let size = size * (room.width() / size.x).min(room.height() / size.y);
            let whole = Rect::from_min_max(egui::Pos2::ZERO, egui::pos2(1.0, 1.0));
            let place = Rect::from_center_size(room.center() - vec2(0.0, 0.5 * caption), size);
            ui.painter().image(texture.id(), place, whole, egui::Color32::WHITE);
            if photo.is_none() {
                let at = rect.center_bottom() - vec2(0.0, 3.0);
                ui.painter().text(at, Align2::CENTER_BOTTOM, "as designed", FontId::proportional(12.0), palette.ink);
            }
            return;
        }
        Seen::Coming => "…",
        Seen::Refused(_) => "not shown here",
    };
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, words, FontId::proportional(13.0), palette.ink);
}

fn about(entry: &JournalEntry, ui: &mut Ui) {
    let raw = entry.raw();
    ui.add(Label::new(RichText::new(entry.name()).strong().size(18.0)).truncate());
    ui.horizontal(|ui| {
        ui.label(day_words(raw.made));
        ui.add_space(6.0);
        words::marks(raw.rating, ui);
        ui.label(words::rating(raw.rating));
        ui.add_space(6.0);
        ui.add(Label::new(words::garment(entry)).truncate());
    });
    ui.horizontal(|ui| words::colours(entry, ui));
    let told = [("", &raw.note), ("To change: ", &raw.change), ("Done differently: ", &raw.differently)];
    for (lead, text) in told.into_iter().filter(|(_, text)| !text.is_empty()).take(2) {
        let first = text.lines().next().unwrap_or_default();
        ui.add(Label::new(format!("{lead}{first}")).truncate());
    }
}
