//! Fields to write lengths and numbers in: sums and units are understood, and what is wrong is said beside the field.

use super::context::Context;
use super::hints::hint;
use super::theme::Palette;
use crate::measure::{neat, parse_length};
use crate::telling::Refused as _;
use egui::{ComboBox, Id, Key, Response, RichText, TextEdit, Ui, WidgetText};

/// A text under the pen, kept while its field has the focus.
#[derive(Debug, Clone, Default)]
struct Draft {
    text: String,
    refusal: Option<String>,
}

/// A labelled field with a length in mm; the new one when it was changed to something that can be read.
pub(super) fn length(ctx: &Context<'_>, ui: &mut Ui, label: &str, value_mm: f64) -> Option<f64> {
    let read = |text: &str| parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()));
    labelled(ui, label, |ui| draft(ui, label, &ctx.lengths.format(value_mm), read))
}

/// A labelled field with a length that need not be given; `Some(None)` when it was emptied.
pub(super) fn optional_length(ctx: &Context<'_>, ui: &mut Ui, label: &str, value_mm: Option<f64>) -> Option<Option<f64>> {
    let written = value_mm.map_or_else(String::new, |value| ctx.lengths.format(value));
    let read = |text: &str| match text.trim() {
        "" => Ok(None),
        text => parse_length(text, ctx.unit()).map(Some).map_err(|error| error.say(ctx.voice())),
    };
    labelled(ui, label, |ui| draft(ui, label, &written, read))
}

/// A labelled field with a plain number that need not be given.
pub(super) fn optional_number(ui: &mut Ui, label: &str, value: Option<f64>) -> Option<Option<f64>> {
    let read = |text: &str| match text.trim() {
        "" => Ok(None),
        text => text.replace(',', ".").parse().map(Some).map_err(|_reason: std::num::ParseFloatError| not_a_number(text)),
    };
    labelled(ui, label, |ui| draft(ui, label, &value.map_or_else(String::new, neat), read))
}

fn not_a_number(text: &str) -> String {
    format!("Not a number: \"{text}\"; give one such as 12.5")
}

/// A labelled field with a plain number.
pub(super) fn number(ui: &mut Ui, label: &str, value: f64) -> Option<f64> {
    let read = |text: &str| text.trim().replace(',', ".").parse::<f64>().map_err(|_reason| not_a_number(text));
    labelled(ui, label, |ui| draft(ui, label, &neat(value), read))
}

/// A labelled field with a count.
pub(super) fn count(ui: &mut Ui, label: &str, value: u32) -> Option<u32> {
    labelled(ui, label, |ui| draft(ui, label, &value.to_string(), whole_number))
}

/// A labelled field with a count that need not be given.
pub(super) fn optional_count(ui: &mut Ui, label: &str, value: Option<u32>) -> Option<Option<u32>> {
    let read = |text: &str| match text.trim() {
        "" => Ok(None),
        text => whole_number(text).map(Some),
    };
    labelled(ui, label, |ui| draft(ui, label, &value.map_or_else(String::new, |value| value.to_string()), read))
}

fn whole_number(text: &str) -> Result<u32, String> {
    text.trim().parse().map_err(|_reason: std::num::ParseIntError| format!("Not a whole number: \"{text}\"; give 1, 2, 3 ..."))
}

/// A labelled field with something that `read` understands.
pub(super) fn read<T>(ui: &mut Ui, label: &str, value: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
    labelled(ui, label, |ui| draft(ui, label, value, read))
}

/// A label, and under it a field with something that `read` understands.
pub(super) fn read_wide<T>(ui: &mut Ui, label: &str, value: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
    above(ui, label, |ui| draft_as(ui, label, value, Room::Wide, read))
}

/// A labelled field with words, after something on its line that takes `used` points of the label's room.
pub(super) fn words_after(ui: &mut Ui, used: f32, label: &str, value: &str) -> Option<String> {
    labelled_after(ui, used, label, |ui| draft(ui, label, value, |text| Ok(text.to_owned())))
}

/// A label, and under it a field with words that takes the whole breadth.
pub(super) fn wide_words(ui: &mut Ui, label: &str, value: &str) -> Option<String> {
    above(ui, label, |ui| draft_as(ui, label, value, Room::Wide, |text| Ok(text.to_owned())))
}

/// A label, and under it a field with lines of words.
pub(super) fn lines(ui: &mut Ui, label: &str, value: &str) -> Option<String> {
    above(ui, label, |ui| draft_as(ui, label, value, Room::Lines, |text| Ok(text.to_owned())))
}

fn above<T>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    let name = ui.label(label);
    let (response, value) = add(ui);
    response.labelled_by(name.id);
    value
}

/// How much room a field takes.
#[derive(Clone, Copy, PartialEq)]
enum Room {
    Usual,
    Wide,
    Lines,
}

/// A label and what it names on one line, the fields under each other.
pub(super) fn labelled<T>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    labelled_after(ui, 0.0, label, add)
}

/// The same after something that takes `used` points of the label's room.
fn labelled_after<T>(ui: &mut Ui, used: f32, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    ui.horizontal(|ui| {
        let room = egui::vec2(LABEL_WIDTH - used, ui.spacing().interact_size.y);
        let left = egui::Layout::left_to_right(egui::Align::Center);
        let name = ui.allocate_ui_with_layout(room, left, |ui| {
            ui.set_min_size(room);
            ui.add(egui::Label::new(label).truncate())
        });
        let (response, value) = add(ui);
        let response = response.labelled_by(name.inner.id);
        if let Some(words) = hint(label) {
            name.inner.on_hover_text(words);
            response.on_hover_text(words);
        }
        value
    })
    .inner
}

/// A choice among a few, with its label.
pub(super) fn choice<T: Copy + PartialEq>(ui: &mut Ui, label: &str, now: T, all: &[T], name: impl Fn(T) -> String) -> Option<T> {
    let mut chosen = now;
    pick(ui, label, name(now), |ui| {
        for &one in all {
            ui.selectable_value(&mut chosen, one, name(one));
        }
    });
    (chosen != now).then_some(chosen)
}

/// A choice with its label; what can be chosen is added by `add`.
pub(super) fn pick(ui: &mut Ui, label: &str, chosen: impl Into<WidgetText>, add: impl FnOnce(&mut Ui)) {
    labelled(ui, label, |ui| {
        let combo = ComboBox::from_id_salt(label).width(width(ui)).selected_text(chosen).truncate();
        (combo.show_ui(ui, add).response, ())
    });
}

/// Room for a field's name, points.
const LABEL_WIDTH: f32 = 150.0;
/// Least and largest breadth of a field, points.
const WIDTHS: std::ops::RangeInclusive<f32> = 128.0..=190.0;
/// Room beside a field for the mark that something is wrong in it, points.
const MARK_WIDTH: f32 = 16.0;

/// Breadth of a field in what room is left of its line: fields and choices end alike.
fn width(ui: &Ui) -> f32 {
    ui.available_width().clamp(*WIDTHS.start(), *WIDTHS.end())
}

/// A text that becomes a value when the field is left or Enter is pressed; Escape gives the old one back.
fn draft<T>(ui: &mut Ui, label: &str, written: &str, read: impl Fn(&str) -> Result<T, String>) -> (Response, Option<T>) {
    draft_as(ui, label, written, Room::Usual, read)
}

fn draft_as<T>(
    ui: &mut Ui,
    label: &str,
    written: &str,
    room: Room,
    read: impl Fn(&str) -> Result<T, String>,
) -> (Response, Option<T>) {
    let id: Id = ui.make_persistent_id(("draft", label));
    let mut draft =
        ui.data(|data| data.get_temp::<Draft>(id)).unwrap_or_else(|| Draft { text: written.to_owned(), refusal: None });
    let mark = if draft.refusal.is_some() { MARK_WIDTH } else { 0.0 };
    let edit = match room {
        Room::Usual => TextEdit::singleline(&mut draft.text).desired_width(width(ui) - mark),
        Room::Wide => TextEdit::singleline(&mut draft.text).desired_width(f32::INFINITY),
        Room::Lines => TextEdit::multiline(&mut draft.text).desired_width(f32::INFINITY).desired_rows(2),
    };
    let mut response = ui.add(edit.id(id.with("edit")));
    if response.gained_focus() && room != Room::Lines {
        select_all(ui, response.id, &draft.text);
    }
    if response.has_focus() {
        ui.data_mut(|data| data.insert_temp(untouched(), (draft.text == written).then_some(response.id)));
    }
    let mut value = None;
    if response.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape)) {
        ui.data_mut(|data| data.remove::<Draft>(id));
        return (response, None);
    }
    if response.lost_focus() && draft.text != written {
        match read(&draft.text) {
            Ok(read) => {
                value = Some(read);
                draft = Draft::default();
            }
            Err(refusal) => draft.refusal = Some(refusal),
        }
    }
    if response.changed() {
        draft.refusal = None;
    }
    let keep = response.has_focus() || draft.refusal.is_some();
    if let Some(refusal) = &draft.refusal {
        let palette = Palette::of(ui.ctx());
        response = response.on_hover_text(refusal);
        ui.label(RichText::new("!").strong().color(palette.refused)).on_hover_text(refusal);
    }
    ui.data_mut(|data| {
        if keep {
            data.insert_temp(id, draft);
        } else {
            data.remove::<Draft>(id);
        }
    });
    (response, value)
}

/// Whether letters are being written that undo is to take back: in a text, or in a field whose value is not given up yet.
pub(super) fn is_written_in(ctx: &egui::Context) -> bool {
    let focused = ctx.memory(egui::Memory::focused);
    ctx.text_edit_focused() && ctx.data(|data| data.get_temp::<Option<Id>>(untouched())).flatten() != focused
}

/// Where the field is noted that has the focus and says what it said before.
fn untouched() -> Id {
    Id::unique("field with the focus, untouched")
}

fn select_all(ui: &Ui, id: Id, text: &str) {
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), id).unwrap_or_default();
    let end = egui::text::CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(egui::text::CCursorRange::two(egui::text::CCursor::new(0), end)));
    state.store(ui.ctx(), id);
}
