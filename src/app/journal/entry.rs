//! An entry, open: its texts to be amended, its photographs, and the numbers of its layout.

use super::beside;
use super::form::Form;
use super::photos::{LARGE, Photos, Seen};
use super::words;
use crate::app::context::Ask;
use crate::app::heading::heading;
use crate::app::heights::heights;
use crate::app::photo::PhotoAsk;
use crate::app::theme::Palette;
use crate::layout::{Figures, Layout};
use crate::measure::{LengthStyle, grams_number};
use crate::plan::day_words;
use crate::store::journal::{EntryPhoto, Journal, JournalEntry};
use crate::telling::{AnyRefusal, Voice};
use egui::{Button, Color32, Rect, RichText, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

/// An entry that is open.
#[derive(Debug)]
pub(super) struct Opened {
    pub(super) id: String,
    /// The layout that it was made from as this program draws it, with its figures; or why it can't.
    frozen: Result<Box<(Layout, Figures)>, AnyRefusal>,
}

impl Opened {
    pub(super) fn new(entry: &JournalEntry) -> Self {
        let drawn = |layout: Layout| {
            let figures = Figures::of(&layout);
            Box::new((layout, figures))
        };
        Self { id: entry.raw().id.clone(), frozen: entry.again().map(drawn).map_err(AnyRefusal::from) }
    }

    /// Whether its layout can be made again.
    pub(super) fn can_be_made(&self) -> bool {
        self.frozen.is_ok()
    }

    /// The main numbers of the layout, as it was.
    pub(super) fn numbers(&self, lengths: LengthStyle, ui: &mut Ui) {
        heading(ui, "Layout as made");
        let (layout, figures) = match &self.frozen {
            Ok(frozen) => (&frozen.0, &frozen.1),
            Err(words) => {
                return drop(ui.label(RichText::new(words.say(Voice::window(lengths))).color(Palette::of(ui.ctx()).refused)));
            }
        };
        let fold = &figures.fold;
        let format = |mm| lengths.format(mm);
        let centre = figures.burst.as_ref().map(|burst| format(burst.centre_below_shoulder_mm)).unwrap_or_default();
        let size = figures.garment.size.clone().unwrap_or_else(|| "from measurements".to_owned());
        let guide = match &figures.line {
            None => ("Guide arc", format(fold.guide_mm)),
            Some(line) => ("Line", format!("{}, {} wide", line.shape.unwrap_or("own drawing"), format(line.width_mm))),
        };
        let rows = [
            ("Garment", layout.garment().kind().name().to_owned()),
            ("Size", size),
            ("Half fold", fold.centring.to_owned()),
            (heights(layout.garment().kind().top()).centre, centre),
            guide,
            ("Pleats", format!("{} of {}", fold.pleats, format(fold.pleat_depth_mm))),
            ("Tied", layout.bound_with()),
            ("Dry cloth", format!("{:.0} g", figures.garment.cloth.mass_g)),
            ("Thread, total", lengths.format_long(figures.thread_mm)),
        ];
        egui::Grid::new("frozen").num_columns(2).striped(true).show(ui, |ui| {
            for (name, value) in rows.into_iter().filter(|(_, value)| !value.is_empty()) {
                ui.label(RichText::new(name).weak());
                ui.label(value);
                ui.end_row();
            }
            for colour in &figures.colours {
                ui.label(RichText::new(&colour.name).weak());
                ui.label(format!("{} g of cloth", grams_number(colour.mass_g, 1)));
                ui.end_row();
            }
        });
    }
}

/// What is done with the fields of an open entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kept {
    /// They go on being written.
    Open,
    /// They are to be saved.
    Save,
    /// They are to say again what the entry says.
    Undo,
}

/// The open entry, on the table.
pub(super) fn show(
    entry: &JournalEntry,
    form: &mut Form,
    journal: &Journal,
    photos: &mut Photos,
    asks: &mut Vec<Ask>,
    ui: &mut Ui,
) -> Kept {
    ui.label(RichText::new(entry.name()).size(24.0).strong());
    ui.horizontal_wrapped(|ui| {
        ui.label(format!("made {}, {}", day_words(entry.raw().made), words::garment(entry)));
        ui.add_space(6.0);
        words::marks(entry.raw().rating, ui);
        ui.label(words::rating(entry.raw().rating));
    });
    ui.horizontal_wrapped(|ui| words::colours(entry, ui));
    ui.add_space(6.0);
    // Photograph and reveal stand beside each other in a small window too.
    let side = PHOTO.min((0.5 * (ui.available_width() - ui.spacing().item_spacing.x)).floor());
    ui.horizontal_wrapped(|ui| {
        for (turn, photo) in entry.raw().photos.iter().enumerate() {
            photograph(photo, side, form, (journal, photos), entry, asks, ui);
            if turn == 0 {
                beside::reveal(entry, side, photos, ui);
            }
        }
    });
    for wait in &entry.raw().waits {
        ui.label(RichText::new(wait).weak());
    }
    if !entry.raw().times.is_empty() {
        egui::CollapsingHeader::new("When it was done").id_salt("times").show(ui, |ui| {
            for time in &entry.raw().times {
                ui.add(egui::Label::new(RichText::new(time).weak()).wrap());
            }
        });
    }
    ui.add_space(4.0);
    ui.scope(|ui| {
        ui.set_max_width(ui.available_width().min(TEXT_WIDTH));
        form.show(entry.raw().rating.is_some(), asks, ui);
    });
    let changed = *form != Form::of(entry.raw());
    ui.add_space(6.0);
    let mut kept = Kept::Open;
    ui.horizontal_wrapped(|ui| {
        if ui.add_enabled(changed, Button::new("Save changes")).clicked() {
            kept = Kept::Save;
        }
        if ui.add_enabled(changed, Button::new("Discard changes")).clicked() {
            kept = Kept::Undo;
        }
        if changed {
            ui.label(RichText::new("Not saved yet").color(Palette::of(ui.ctx()).warn));
        }
    });
    kept
}

/// Longest line of an entry's texts, points.
pub(super) const TEXT_WIDTH: f32 = 640.0;
/// Largest side of its photographs, points.
const PHOTO: f32 = 300.0;

fn photograph(
    photo: &EntryPhoto,
    side: f32,
    form: &mut Form,
    (journal, photos): (&Journal, &mut Photos),
    entry: &JournalEntry,
    asks: &mut Vec<Ask>,
    ui: &mut Ui,
) {
    let palette = Palette::of(ui.ctx());
    let path = journal.photo_path(photo);
    let name = if photo.from.is_empty() { &photo.file } else { &photo.from };
    ui.vertical(|ui| {
        let seen = photos.photograph(&path, LARGE, ui.ctx());
        let refused = if let Seen::Refused(words) = &seen {
            format!("Not shown here: {}", words.say(Voice::window(LengthStyle::default())))
        } else {
            String::new()
        };
        let size = match &seen {
            Seen::Shown(texture) => {
                let size = texture.size_vec2();
                size * (side / size.x).min(side * 0.75 / size.y)
            }
            _ => vec2(side * 0.5, side * 0.375),
        };
        let (rect, response) = ui.allocate_exact_size(size, Sense::click());
        let label = format!("Photograph {name}{}{refused}", if refused.is_empty() { "" } else { ". " });
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, label.as_str()));
        match seen {
            Seen::Shown(texture) => {
                let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
                let faded = if form.is_dropped(&photo.file) { Color32::from_white_alpha(70) } else { Color32::WHITE };
                ui.painter().image(texture.id(), rect, whole, faded);
            }
            Seen::Coming | Seen::Refused(_) => {
                ui.painter().rect_filled(rect, 4.0, palette.table);
                let words = if refused.is_empty() { "…".to_owned() } else { refused };
                let galley = ui.painter().layout(words, egui::FontId::proportional(13.0), palette.ink, rect.width() - 12.0);
                ui.painter().galley(rect.min + vec2(6.0, 6.0), galley, palette.ink);
            }
        }
        if response.hovered() || response.has_focus() {
            ui.painter().rect_stroke(rect, 2.0, Stroke::new(2.0, palette.accent), StrokeKind::Inside);
        }
        if response.on_hover_text(format!("Open {name} in its usual program")).clicked() {
            asks.push(Ask::OpenOutside(path.clone()));
        }
        ui.label(RichText::new("As photographed").weak());
        let dropped = form.is_dropped(&photo.file);
        let words = if dropped { "Keep" } else { "Remove" };
        let toggle = ui.button(words);
        toggle.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{words}: {name}")));
        if toggle.clicked() {
            form.toggle_photo(&photo.file);
        }
        let hold = ui.button("Hold against the plan");
        hold.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Hold against the plan: {name}")));
        if hold.on_hover_text("Straighten it onto the plan of this entry, and measure what came out").clicked() {
            let (id, name) = (entry.raw().id.clone(), name.clone());
            asks.push(Ask::Photo(PhotoAsk::HoldEntry { id, path, name }));
        }
    });
}
