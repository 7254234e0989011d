//! Fields to write lengths and numbers in: sums and units are understood, and what is wrong is said beside the field.

mod steps;
mod values;

use self::steps::{Step, stepped_count, stepped_length, stepped_number, steps};
use self::values::{plain_number, read_length, unless_empty, whole_number};
use super::context::Context;
use super::hints::hint;
use super::theme::Palette;
use crate::measure::neat;
use crate::plan::{Unit, parse_quantity};
use crate::telling::{Refused as _, Voice};
use egui::{ComboBox, Id, Key, RectAlign, Response, RichText, TextEdit, Tooltip, Ui, WidgetText};

/// A text under the pen, kept while its field has the focus.
#[derive(Debug, Clone, Default)]
struct Draft {
    text: String,
    refusal: Option<String>,
    /// What the field said when writing began.
    written: String,
    /// Whether keys or the wheel stepped the value: the field then says what came of it.
    stepped: bool,
    /// Whether the refusal is still to be brought into sight.
    to_show: bool,
}

/// What a field gave last, for the case that the layout refuses it.
#[derive(Debug, Clone)]
struct GivenUp {
    field: Id,
    draft: Draft,
    /// The pass of the window in which it did.
    pass: u64,
    /// Whether keys or the wheel stepped it.
    stepped: bool,
}

/// A labelled field with a length in mm; the new one when it was changed to something that can be read.
pub(super) fn length(ctx: &Context<'_>, ui: &mut Ui, label: &str, value_mm: f64) -> Option<f64> {
    let kind = Kind { step: &|text, steps| stepped_length(ctx, text, steps), ..Kind::USUAL };
    labelled(ui, label, |ui| draft_as(ui, label, &ctx.lengths.format(value_mm), kind, |text| read_length(ctx, text)))
}

/// The same for what may be thinner than a mark of an inch rule: inches are written as a decimal.
pub(super) fn thickness(ctx: &Context<'_>, ui: &mut Ui, label: &str, value_mm: f64) -> Option<f64> {
    labelled(ui, label, |ui| draft(ui, label, &ctx.lengths.format_thickness(value_mm), |text| read_length(ctx, text)))
}

/// A labelled field with a length that need not be given; `Some(None)` when it was emptied.
pub(super) fn optional_length(ctx: &Context<'_>, ui: &mut Ui, label: &str, value_mm: Option<f64>) -> Option<Option<f64>> {
    let written = value_mm.map_or_else(String::new, |value| ctx.lengths.format(value));
    let kind = Kind { step: &|text, steps| stepped_length(ctx, text, steps), ..Kind::USUAL };
    labelled(ui, label, |ui| draft_as(ui, label, &written, kind, |text| unless_empty(text, |text| read_length(ctx, text))))
}

/// The same for a length that follows from others where it is not given: an empty field shows what came out.
pub(super) fn solved_length(
    ctx: &Context<'_>,
    ui: &mut Ui,
    label: &str,
    value_mm: Option<f64>,
    came_out_mm: f64,
) -> Option<Option<f64>> {
    let written = [value_mm, Some(came_out_mm)].map(|value| value.map(|value| ctx.lengths.format(value)));
    solved(ui, label, written, &|text, steps| stepped_length(ctx, text, steps), |text| read_length(ctx, text))
}

/// A labelled field with a plain number that follows from others where it is not given.
pub(super) fn solved_number(ui: &mut Ui, label: &str, value: Option<f64>, came_out: f64) -> Option<Option<f64>> {
    solved(ui, label, [value, Some(came_out)].map(|value| value.map(neat)), &stepped_number, plain_number)
}

/// A labelled field with a count that follows from others where it is not given.
pub(super) fn solved_count(ui: &mut Ui, label: &str, value: Option<u32>, came_out: u32) -> Option<Option<u32>> {
    let written = [value, Some(came_out)].map(|value| value.map(|count| count.to_string()));
    solved(ui, label, written, &stepped_count, whole_number)
}

/// A field with a value that follows from others where it is not given, with what it says where it is and where it is not.
fn solved<T>(
    ui: &mut Ui,
    label: &str,
    [given, came_out]: [Option<String>; 2],
    step: &Step<'_>,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<Option<T>> {
    let came_out = came_out.map_or_else(String::new, |came_out| format!("{came_out}, worked out"));
    let kind = Kind { when_empty: &came_out, step, ..Kind::USUAL };
    labelled(ui, label, |ui| draft_as(ui, label, &given.unwrap_or_default(), kind, |text| unless_empty(text, &read)))
}

/// A labelled field with a plain number.
pub(super) fn number(ui: &mut Ui, label: &str, value: f64) -> Option<f64> {
    let kind = Kind { step: &stepped_number, ..Kind::USUAL };
    labelled(ui, label, |ui| draft_as(ui, label, &neat(value), kind, plain_number))
}

/// A labelled field with a volume in L, which may be written in other units.
pub(super) fn litres(ui: &mut Ui, label: &str, value: f64) -> Option<f64> {
    let kind = Kind { step: &stepped_number, ..Kind::USUAL };
    let measured = |text: &str| parse_quantity(text, Unit::Litre).map_err(|told| told.say(Voice::FILE));
    let read = |text: &str| plain_number(text).or_else(|_refusal| measured(text));
    labelled(ui, label, |ui| draft_as(ui, label, &neat(value), kind, read))
}

/// A labelled field with a count.
pub(super) fn count(ui: &mut Ui, label: &str, value: u32) -> Option<u32> {
    let kind = Kind { step: &stepped_count, ..Kind::USUAL };
    labelled(ui, label, |ui| draft_as(ui, label, &value.to_string(), kind, whole_number))
}

/// A labelled field with something that `read` understands.
pub(super) fn read<T>(ui: &mut Ui, label: &str, value: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
    labelled(ui, label, |ui| draft(ui, label, value, read))
}

/// The same, with whether something stands in it that is refused; it takes the keyboard where it `is_new`.
pub(super) fn read_firmly<T>(
    ui: &mut Ui,
    label: &str,
    value: &str,
    is_new: bool,
    read: impl Fn(&str) -> Result<T, String>,
) -> (Option<T>, bool) {
    labelled(ui, label, |ui| {
        let (response, value) = draft(ui, label, value, read);
        if is_new {
            response.request_focus();
        }
        let kept = ui.data(|data| data.get_temp::<Draft>(response.id));
        (response, (value, kept.is_some_and(|draft| draft.refusal.is_some())))
    })
}

/// A label, and under it a field with something that `read` understands.
pub(super) fn read_wide<T>(ui: &mut Ui, label: &str, value: &str, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
    above(ui, label, |ui| draft_as(ui, label, value, Kind::WIDE, read))
}

/// The same with what could be written there, while nothing is.
pub(super) fn read_wide_such_as<T>(
    ui: &mut Ui,
    label: &str,
    value: &str,
    example: &str,
    read: impl Fn(&str) -> Result<T, String>,
) -> Option<T> {
    above(ui, label, |ui| draft_as(ui, label, value, Kind { when_empty: example, ..Kind::WIDE }, read))
}

/// A labelled field with words, after something on its line that takes `used` points of the label's room.
pub(super) fn words_after(ui: &mut Ui, used: f32, label: &str, value: &str) -> Option<String> {
    labelled_after(ui, used, label, |ui| draft(ui, label, value, |text| Ok(text.to_owned())))
}

/// A label, and under it a field with words that takes the whole breadth.
pub(super) fn wide_words(ui: &mut Ui, label: &str, value: &str) -> Option<String> {
    above(ui, label, |ui| draft_as(ui, label, value, Kind::WIDE, |text| Ok(text.to_owned())))
}

/// A label, and under it a field with lines of words.
pub(super) fn lines(ui: &mut Ui, label: &str, value: &str) -> Option<String> {
    above(ui, label, |ui| draft_as(ui, label, value, Kind::LINES, |text| Ok(text.to_owned())))
}

/// Puts away what is written in a field of this `ui` and refused, for its value is set elsewhere.
pub(super) fn forget(ui: &Ui, label: &str) {
    let id = ui.make_persistent_id(("draft", label));
    ui.data_mut(|data| data.remove::<Draft>(id));
}

fn above<T>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    let name = ui.label(label);
    let (response, value) = add(ui);
    let response = response.labelled_by(name.id);
    bring_into_sight(&response);
    say_refusal(ui, response.id);
    value
}

/// A control that takes the focus is brought into sight: keys lead to it wherever it lies.
fn bring_into_sight(response: &Response) {
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
}

/// How much room a field takes.
#[derive(Clone, Copy, PartialEq)]
enum Room {
    Usual,
    Wide,
    Lines,
}

/// What sort of field it is.
#[derive(Clone, Copy)]
struct Kind<'a> {
    room: Room,
    /// What stands in it when it is empty.
    when_empty: &'a str,
    step: &'a Step<'a>,
}

impl Kind<'_> {
    const USUAL: Kind<'static> = Kind { room: Room::Usual, when_empty: "", step: &|_, _| None };
    const WIDE: Kind<'static> = Kind { room: Room::Wide, ..Kind::USUAL };
    const LINES: Kind<'static> = Kind { room: Room::Lines, ..Kind::USUAL };
}

/// A label and what it names on one line, the fields under each other.
pub(super) fn labelled<T>(ui: &mut Ui, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    labelled_after(ui, 0.0, label, add)
}

/// The same after something that takes `used` points of the label's room.
fn labelled_after<T>(ui: &mut Ui, used: f32, label: &str, add: impl FnOnce(&mut Ui) -> (Response, T)) -> T {
    let row = ui.horizontal(|ui| {
        let label_width = LABEL_WIDTH.min(LABEL_SHARE * ui.available_width());
        let room = egui::vec2((label_width - used).max(0.0), ui.spacing().interact_size.y);
        let left = egui::Layout::left_to_right(egui::Align::Center);
        let name = ui.allocate_ui_with_layout(room, left, |ui| {
            ui.set_min_size(room);
            ui.add(egui::Label::new(label).truncate())
        });
        let (response, value) = add(ui);
        let response = response.labelled_by(name.inner.id);
        bring_into_sight(&response);
        let field = response.id;
        // A field that is written in needs no hint.
        if let Some(words) = hint(label).filter(|_| !response.has_focus()) {
            beside(&name.inner.union(response), words);
        }
        (field, value)
    });
    let (field, value) = row.inner;
    say_refusal(ui, field);
    value
}

/// A hint beside what the pointer rests on: below, it would lie over the next fields.
fn beside(response: &Response, words: &str) {
    let mut tooltip = Tooltip::for_enabled(response);
    tooltip.popup = tooltip.popup.align(RectAlign::RIGHT).align_alternatives(&[RectAlign::TOP_START, RectAlign::BOTTOM_START]);
    tooltip.show(|ui| ui.label(words));
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
/// Room for a field's name, points, and its share of a line that is too short for that and a field.
const LABEL_WIDTH: f32 = 150.0;
const LABEL_SHARE: f32 = 0.49;
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
    draft_as(ui, label, written, Kind::USUAL, read)
}

fn draft_as<T>(
    ui: &mut Ui,
    label: &str,
    written: &str,
    Kind { room, when_empty, step }: Kind<'_>,
    read: impl Fn(&str) -> Result<T, String>,
) -> (Response, Option<T>) {
    let id: Id = ui.make_persistent_id(("draft", label));
    let fresh = || Draft { text: written.to_owned(), written: written.to_owned(), ..Draft::default() };
    let mut draft = ui.data(|data| data.get_temp::<Draft>(id)).unwrap_or_else(fresh);
    let is_focused = ui.memory(|memory| memory.has_focus(id));
    // What was refused is over when the value is changed elsewhere; so is a text that nobody has touched: the field before it may have
    // given up its value when this one took the focus.
    let is_touched = is_focused && draft.text != draft.written;
    let is_anew = (draft.written != written && !is_touched) || draft.stepped;
    if is_anew {
        draft = fresh();
    }
    let steps = if is_focused && room == Room::Usual { steps(ui, id) } else { 0.0 };
    let stepped = Some(steps).filter(|steps| *steps != 0.0).and_then(|steps| step(&draft.text, steps));
    draft.text = stepped.clone().unwrap_or(draft.text);
    // A field that takes the whole line has no room beside it.
    let is_marked = room == Room::Usual && draft.refusal.is_some();
    let mark = if is_marked { MARK_WIDTH } else { 0.0 };
    let response = ui.add(edit(room, &mut draft.text, width(ui) - mark).hint_text(when_empty).id(id));
    if (response.gained_focus() || (is_anew && is_focused && steps == 0.0)) && room != Room::Lines {
        select_all(ui, response.id, &draft.text);
    }
    if response.gained_focus() {
        draft.to_show = draft.refusal.is_some();
    }
    if response.has_focus() {
        ui.data_mut(|data| data.insert_temp(untouched(), (draft.text == written).then_some(response.id)));
    }
    let mut value = None;
    if response.lost_focus() && ui.input(|input| input.key_pressed(Key::Escape)) {
        ui.data_mut(|data| data.remove::<Draft>(id));
        return (response, None);
    }
    if (response.lost_focus() || stepped.is_some()) && draft.text != written {
        match read(&draft.text) {
            Ok(read) => {
                value = Some(read);
                let given = GivenUp { field: id, draft, pass: ui.ctx().cumulative_pass_nr(), stepped: stepped.is_some() };
                ui.data_mut(|data| data.insert_temp(given_up(), given));
                draft = Draft { stepped: stepped.is_some(), ..Draft::default() };
            }
            Err(refusal) => {
                (draft.refusal, draft.to_show) = (Some(refusal), true);
                ui.ctx().request_repaint();
            }
        }
    }
    if response.changed() {
        draft.refusal = None;
    }
    let keep = response.has_focus() || draft.refusal.is_some();
    // From the pass on that left room for it: beside a field of full breadth it would make the panel broader, for good.
    if let Some(refusal) = draft.refusal.as_ref().filter(|_| is_marked) {
        let palette = Palette::of(ui.ctx());
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

/// The field itself; one of the usual room is so broad, points.
fn edit(room: Room, text: &mut String, width: f32) -> TextEdit<'_> {
    match room {
        Room::Usual => TextEdit::singleline(text).desired_width(width),
        Room::Wide => TextEdit::singleline(text).desired_width(f32::INFINITY),
        Room::Lines => TextEdit::multiline(text).desired_width(f32::INFINITY).desired_rows(2),
    }
}

/// Whether letters are being written that undo is to take back: in a text, or in a field whose value is not given up yet.
pub(super) fn is_written_in(ctx: &egui::Context) -> bool {
    let focused = ctx.memory(egui::Memory::focused);
    ctx.text_edit_focused() && ctx.data(|data| data.get_temp::<Option<Id>>(untouched())).flatten() != focused
}

/// Whether the value that was taken in this pass of the window was stepped by keys or wheel: the field that it is of.
pub(super) fn stepped(ctx: &egui::Context) -> Option<Id> {
    let given = ctx.data(|data| data.get_temp::<GivenUp>(given_up()))?;
    (given.stepped && given.pass == ctx.cumulative_pass_nr()).then_some(given.field)
}

/// Marks the field whose value was taken in this pass of the window with why it was refused; what was written stays in it. Whether there
/// is such a field.
pub(super) fn refuse(ctx: &egui::Context, refusal: &str) -> bool {
    let Some(given) = ctx.data(|data| data.get_temp::<GivenUp>(given_up())) else { return false };
    let is_now = given.pass == ctx.cumulative_pass_nr();
    if is_now {
        let draft = Draft { refusal: Some(refusal.to_owned()), to_show: true, ..given.draft };
        ctx.data_mut(|data| data.insert_temp(given.field, draft));
        ctx.request_repaint();
    }
    is_now
}

/// Says below a field why what is written in it was refused.
fn say_refusal(ui: &mut Ui, field: Id) {
    let Some(draft) = ui.data(|data| data.get_temp::<Draft>(field)) else { return };
    let Some(words) = &draft.refusal else { return };
    // Not while a press that left the field is held: what it is on would slip away from under it.
    if draft.to_show && ui.input(|input| input.pointer.any_down()) {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let said = ui.add(egui::Label::new(RichText::new(words).color(palette.refused)).wrap());
    let pass = ui.ctx().cumulative_pass_nr();
    ui.data_mut(|data| data.insert_temp(refused(), (field, pass)));
    if draft.to_show {
        // With its field, which stands just above.
        let above = ui.ctx().read_response(field).map_or(said.rect, |field| field.rect);
        ui.scroll_to_rect(said.rect.union(above), None);
        ui.data_mut(|data| data.insert_temp(field, Draft { to_show: false, ..draft }));
    }
}

/// The field in sight in which something refused stands.
fn refused_field(ctx: &egui::Context) -> Option<Id> {
    let (field, pass) = ctx.data(|data| data.get_temp::<(Id, u64)>(refused()))?;
    let stands = ctx.data(|data| data.get_temp::<Draft>(field)).is_some_and(|draft| draft.refusal.is_some());
    (stands && pass + 1 >= ctx.cumulative_pass_nr()).then_some(field)
}

/// Whether something refused stands in a field in sight: undo takes that back first.
pub(super) fn has_refused(ctx: &egui::Context) -> bool {
    refused_field(ctx).is_some()
}

/// Gives a field in which something refused stands what it said before.
pub(super) fn take_back_refused(ctx: &egui::Context) {
    if let Some(field) = refused_field(ctx) {
        ctx.data_mut(|data| data.remove::<Draft>(field));
    }
}

/// Where the field is noted whose refusal was said last, with the pass of the window in which it was.
fn refused() -> Id {
    Id::unique("field with what is refused")
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
