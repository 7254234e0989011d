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
    /// What the field said when writing began.
    written: String,
}

/// What a field gave last, for the case that the layout refuses it.
#[derive(Debug, Clone)]
struct GivenUp {
    field: Id,
    draft: Draft,
    /// The pass of the window in which it did.
    pass: u64,
}

/// Why what is written in a field was refused; kept for the line below it.
#[derive(Debug, Clone)]
struct Refusal(String);

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

/// The same for a length that follows from others where it is not given: an empty field shows what came out.
pub(super) fn solved_length(
    ctx: &Context<'_>,
    ui: &mut Ui,
    label: &str,
    value_mm: Option<f64>,
    came_out_mm: f64,
) -> Option<Option<f64>> {
    let read = |text: &str| parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()));
    solved(ui, label, value_mm, came_out_mm, |value| ctx.lengths.format(value), read)
}

/// A labelled field with a plain number that follows from others where it is not given.
pub(super) fn solved_number(ui: &mut Ui, label: &str, value: Option<f64>, came_out: f64) -> Option<Option<f64>> {
    let read = |text: &str| text.replace(',', ".").parse().map_err(|_reason: std::num::ParseFloatError| not_a_number(text));
    solved(ui, label, value, came_out, neat, read)
}

/// A labelled field with a count that follows from others where it is not given.
pub(super) fn solved_count(ui: &mut Ui, label: &str, value: Option<u32>, came_out: u32) -> Option<Option<u32>> {
    solved(ui, label, value, came_out, |count| count.to_string(), whole_number)
}

fn solved<T: Copy>(
    ui: &mut Ui,
    label: &str,
    value: Option<T>,
    came_out: T,
    written: impl Fn(T) -> String,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<Option<T>> {
    let read = |text: &str| match text.trim() {
        "" => Ok(None),
        text => read(text).map(Some),
    };
    let text = value.map_or_else(String::new, &written);
    let came_out = format!("{}, worked out", written(came_out));
    labelled(ui, label, |ui| draft_as(ui, label, &text, Room::Usual, &came_out, read))
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

fn whole_number(text: &str) -> Result<u32, String> {
    text.trim().parse().map_err(|_reason: std::num::ParseIntError| format!("Not a whole number: \"{text}\"; give 1, 2, 3 ..."))
}

/// A labelled field with something that `read` understands.
pub(super) fn read<T>(ui: &mut Ui, label: &str, value: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
    labelled(ui, label, |ui| draft(ui, label, value, read))
}

/// A label, and under it a field with something that `read` understands.
pub(super) fn read_wide<T>(ui: &mut Ui, label: &str, value: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
    above(ui, label, |ui| draft_as(ui, label, value, Room::Wide, "", read))
}

/// A labelled field with words, after something on its line that takes `used` points of the label's room.
pub(super) fn words_after(ui: &mut Ui, used: f32, label: &str, value: &str) -> Option<String> {
    labelled_after(ui, used, label, |ui| draft(ui, label, value, |text| Ok(text.to_owned())))
}

/// A label, and under it a field with words that takes the whole breadth.
pub(super) fn wide_words(ui: &mut Ui, label: &str, value: &str) -> Option<String> {
    above(ui, label, |ui| draft_as(ui, label, value, Room::Wide, "", |text| Ok(text.to_owned())))
}

/// A label, and under it a field with lines of words.
pub(super) fn lines(ui: &mut Ui, label: &str, value: &str) -> Option<String> {
    above(ui, label, |ui| draft_as(ui, label, value, Room::Lines, "", |text| Ok(text.to_owned())))
}

fn above<T>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    let name = ui.label(label);
    let (response, value) = add(ui);
    let field = response.labelled_by(name.id).id;
    say_refusal(ui, field);
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
    let row = ui.horizontal(|ui| {
        let room = egui::vec2(LABEL_WIDTH - used, ui.spacing().interact_size.y);
        let left = egui::Layout::left_to_right(egui::Align::Center);
        let name = ui.allocate_ui_with_layout(room, left, |ui| {
            ui.set_min_size(room);
            ui.add(egui::Label::new(label).truncate())
        });
        let (response, value) = add(ui);
        let response = response.labelled_by(name.inner.id);
        let field = response.id;
        if let Some(words) = hint(label) {
            name.inner.on_hover_text(words);
            response.on_hover_text(words);
        }
        (field, value)
    });
    let (field, value) = row.inner;
    say_refusal(ui, field);
    value
}

/// A slider with its label.
pub(super) fn slider(ui: &mut Ui, label: &str, value: &mut f64, range: std::ops::RangeInclusive<f64>) -> Response {
    labelled(ui, label, |ui| {
        ui.spacing_mut().slider_width = width(ui);
        let response = ui.add(egui::Slider::new(value, range).show_value(false));
        (response.clone(), response)
    })
}

/// A choice among a few, with its label.
pub(super) fn choice<T: Copy + PartialEq>(ui: &mut Ui, label: &str, now: T, all: &[T], name: impl Fn(T) -> String) -> Option<T> {
    let mut chosen = now;
    pick(ui, label, name(now), |ui| {
        let opens = has_just_come(ui);
        for &one in all {
            let entry = ui.selectable_value(&mut chosen, one, name(one));
            // A long list opens at what is chosen.
            if opens && one == now {
                entry.scroll_to_me(Some(egui::Align::Center));
            }
        }
    });
    (chosen != now).then_some(chosen)
}

/// Whether this part of the window was not there in the pass before.
fn has_just_come(ui: &Ui) -> bool {
    let (id, pass) = (ui.scope_id().with("seen in pass"), ui.ctx().cumulative_pass_nr());
    let before = ui.data_mut(|data| std::mem::replace(data.get_temp_mut_or(id, 0_u64), pass));
    before + 1 < pass
}

/// A choice with its label; what can be chosen is added by `add`.
pub(super) fn pick(ui: &mut Ui, label: &str, chosen: impl Into<WidgetText>, add: impl FnOnce(&mut Ui)) {
    labelled(ui, label, |ui| {
        let room = LIST_SHARE * ui.ctx().content_rect().height();
        let combo = ComboBox::from_id_salt(label).width(width(ui)).height(room).selected_text(chosen).truncate();
        (combo.show_ui(ui, add).response, ())
    });
}

/// The most of the window's height that a list takes.
const LIST_SHARE: f32 = 0.6;
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
    draft_as(ui, label, written, Room::Usual, "", read)
}

fn draft_as<T>(
    ui: &mut Ui,
    label: &str,
    written: &str,
    room: Room,
    when_empty: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> (Response, Option<T>) {
    let id: Id = ui.make_persistent_id(("draft", label));
    let fresh = || Draft { text: written.to_owned(), refusal: None, written: written.to_owned() };
    let mut draft = ui.data(|data| data.get_temp::<Draft>(id)).unwrap_or_else(fresh);
    let is_focused = ui.memory(|memory| memory.has_focus(id.with("edit")));
    // What was refused is over when the value is changed elsewhere.
    if draft.written != written && !is_focused {
        draft = fresh();
    }
    let mark = if draft.refusal.is_some() { MARK_WIDTH } else { 0.0 };
    let edit = match room {
        Room::Usual => TextEdit::singleline(&mut draft.text).desired_width(width(ui) - mark),
        Room::Wide => TextEdit::singleline(&mut draft.text).desired_width(f32::INFINITY),
        Room::Lines => TextEdit::multiline(&mut draft.text).desired_width(f32::INFINITY).desired_rows(2),
    };
    let response = ui.add(edit.hint_text(when_empty).id(id.with("edit")));
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
                let given = GivenUp { field: id, draft, pass: ui.ctx().cumulative_pass_nr() };
                ui.data_mut(|data| data.insert_temp(given_up(), given));
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
        ui.label(RichText::new("!").strong().color(palette.refused)).on_hover_text(refusal);
        ui.data_mut(|data| data.insert_temp(response.id, Refusal(refusal.clone())));
    } else {
        ui.data_mut(|data| data.remove::<Refusal>(response.id));
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

/// Marks the field whose value was taken in this pass of the window with why it was refused; what was written stays in it. Whether there
/// is such a field.
pub(super) fn refuse(ctx: &egui::Context, refusal: &str) -> bool {
    let Some(given) = ctx.data(|data| data.get_temp::<GivenUp>(given_up())) else { return false };
    let is_now = given.pass == ctx.cumulative_pass_nr();
    if is_now {
        let draft = Draft { refusal: Some(refusal.to_owned()), ..given.draft };
        ctx.data_mut(|data| data.insert_temp(given.field, draft));
        ctx.request_repaint();
    }
    is_now
}

/// Says below a field why what is written in it was refused.
fn say_refusal(ui: &mut Ui, field: Id) {
    if let Some(Refusal(words)) = ui.data(|data| data.get_temp::<Refusal>(field)) {
        let palette = Palette::of(ui.ctx());
        ui.add(egui::Label::new(RichText::new(words).color(palette.refused)).wrap());
    }
}

/// Where the field is noted that gave its value last.
fn given_up() -> Id {
    Id::unique("field that gave its value")
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
