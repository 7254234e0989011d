//! The day's pages of a job card: what to weigh and to look out for, and when to do what.

use super::CardOptions;
use super::flow::{CAP_MM, Flow, PAGE_HEIGHT_MM, broken};
use super::table::{BOX, Column, Row, number, tick, words};
use crate::layout::Layout;
use crate::plan::{Amount, DEFER, Entry, LinePlan, Load, Plan, PlanCaution, short};
use crate::print::font::shortened;
use crate::print::{Anchor, Layer, Pattern, Pixels, Shape, Weight, width_mm};
use crate::reveal::Picture;
use jiff::civil::Date;
use kurbo::{Point, Rect, Shape as _};
use std::sync::Arc;

/// Breadth of the column of amounts beside the picture, mm.
const AMOUNTS_MM: f64 = 94.0;
/// Height that a picture takes at most, mm.
const PICTURE_MM: f64 = 46.0;
/// Pixels of a picture across and down at most: about 200 to the inch at its size.
const MOST_PIXELS: usize = 720;
/// Height of words in a box of cautions, mm.
const CAUTION_MM: f64 = 2.3;
/// A foot of a page higher than this is ruled for notes, mm.
const NOTES_FROM_MM: f64 = 45.0;
/// Lines for notes that a card has at least.
const NOTES: u32 = 3;

/// What to weigh, the baths, the cautions, room for notes.
pub(super) fn weighing(flow: &mut Flow, layout: &Layout, options: &CardOptions<'_>) {
    flow.heading(&format!("{}: to weigh and to look out for", layout.name()), 4.0);
    flow.paragraph(&belongs_to(layout, options));
    flow.y_mm += 1.5;
    let line = options.plan_line();
    let picture = options.reveal.and_then(pixels);
    let picture = |flow: &mut Flow| {
        if let Some(pixels) = &picture {
            flow.picture(pixels, PICTURE_MM);
            flow.words("As it may come out, front and back: an estimate.", 2.2, Weight::Regular);
        }
        key(flow, layout);
    };
    match line {
        Some((_, line)) => flow.columns(AMOUNTS_MM, 6.0, |flow| amounts(flow, line), picture),
        None => picture(flow),
    }
    if let Some((plan, _)) = line {
        baths(flow, plan, plan.loads_of(options.line));
        cautions(flow, &plan.cautions_of(options.line));
    }
    flow.notes("Notes", NOTES);
}

/// Which sheet this is, and what it belongs to.
fn belongs_to(layout: &Layout, options: &CardOptions<'_>) -> String {
    let mark = options.mark(layout);
    match options.plan_line() {
        Some((plan, line)) if plan.garments > 1 => format!("{} of it in \"{}\". {mark}", line.count, plan.name),
        _ => mark,
    }
}

/// The picture on paper, none if there is nothing on it.
fn pixels(picture: &Picture) -> Option<Arc<Pixels>> {
    Pixels::on_paper(picture.width, picture.height, &picture.rgba, MOST_PIXELS).map(Arc::new)
}

/// Which pattern stands for which colour on template and strips: for black and white. Beside each other, as many as fit.
fn key(flow: &mut Flow, layout: &Layout) {
    const WIDTH_MM: f64 = 12.0;
    const HEIGHT_MM: f64 = 6.5;
    let mut x_mm = flow.right_mm;
    let mut y_mm = flow.y_mm;
    for (index, swatch) in layout.raw().colours.rotation.iter().enumerate() {
        let name_mm = width_mm(&swatch.name, Weight::Bold, CAP_MM).min(flow.room_mm() - WIDTH_MM - 2.0);
        if x_mm + WIDTH_MM + 2.0 + name_mm > flow.right_mm {
            (x_mm, y_mm) = (flow.left_mm, flow.take(HEIGHT_MM + 2.0));
        }
        let square = Rect::new(x_mm, y_mm - HEIGHT_MM, x_mm + WIDTH_MM, y_mm);
        flow.page().add(Layer::Fill, Shape::Area { outline: square.to_path(0.1), pattern: Pattern::nth(index) });
        flow.page().path(Layer::Marks, square.to_path(0.1));
        let at = Point::new(x_mm + WIDTH_MM + 2.0, y_mm - 0.5 * (HEIGHT_MM - CAP_MM));
        let name = shortened(&swatch.name, Weight::Bold, CAP_MM, name_mm + 0.01);
        flow.put(&name, at, CAP_MM, Anchor::Start, Weight::Bold);
        x_mm += WIDTH_MM + 2.0 + name_mm + 5.0;
    }
    flow.y_mm += 1.0;
}

/// What one garment takes, with boxes.
pub(super) fn amounts(flow: &mut Flow, line: &LinePlan) {
    let each = &line.each;
    flow.heading(&format!("For one garment, {} g of dry cloth", short(each.dry_g)), 3.2);
    let columns = [tick(), words("What", 26.0), number("How much", 21.0), words("For", 36.0)];
    let row = |what: &str, amount: &Amount, rest: String| {
        let below = amount.kitchen.map(|kitchen| kitchen.to_string()).into_iter().collect();
        Row { cells: vec![BOX.to_owned(), what.to_owned(), amount.to_string(), rest], below, ..Row::default() }
    };
    let dyes =
        each.dyes.iter().map(|dye| row(&dye.colour, &dye.dye, format!("{} g of cloth, {}", short(dye.cloth_g), dye.depth)));
    let mut rows: Vec<Row> = dyes.collect();
    if each.undyed_g > 0.0 {
        let cells = vec![String::new(), "no dye".to_owned(), String::new(), format!("{} g of cloth", short(each.undyed_g))];
        rows.push(Row { cells, ..Row::default() });
    }
    if each.soda_strewn.value > 0.0 {
        rows.push(row("soda ash", &each.soda_strewn, "strewn over the dye".to_owned()));
    }
    for (number, ice) in (1..).zip(&each.ice) {
        rows.push(row(&format!("ice, layer {number}"), &ice.ice, format!("melts in about {}", ice.melts_in)));
    }
    rows.push(row("thread", &each.thread, "all binds".to_owned()));
    flow.table(&columns, &rows);
}

/// What goes into the tubs, a line a bath.
pub(super) fn baths<'a>(flow: &mut Flow, plan: &Plan, loads: impl Iterator<Item = &'a Load>) {
    let mut loads = loads.peekable();
    if loads.peek().is_none() {
        return;
    }
    flow.heading("Baths, for the whole load", 3.2);
    for load in loads {
        let items: Vec<String> =
            load.items.iter().map(|item| format!("{} x {}", item.count, plan.lines[item.line].name)).collect();
        flow.words(&format!("Load {}: {}", load.number, items.join(", ")), CAP_MM, Weight::Bold);
        if let Some(bath) = &load.discharge {
            flow.tick(&format!("discharge: {} of {} in {} of near-boiling water", bath.mass, bath.agent, bath.water));
        }
        if let Some(soak) = &load.soak {
            let ph = soak.ph.as_ref().map_or_else(String::new, |ph| format!(", {ph} at 25 C"));
            let kitchen = soak.soda_ash.kitchen.map_or_else(String::new, |kitchen| format!(" ({kitchen})"));
            flow.tick(&format!("soda soak: {} of soda ash in {} of water{ph}{kitchen}", soak.soda_ash, soak.water));
        }
        if !load.dyes.is_empty() {
            let dyes: Vec<String> = load.dyes.iter().map(|(colour, amount)| format!("{colour} {amount}")).collect();
            flow.tick(&format!("dye: {}", dyes.join(", ")));
        }
    }
}

/// Each caution once, in full, in a box of its own; on one page where a page holds it.
pub(super) fn cautions(flow: &mut Flow, told: &[PlanCaution<'_>]) {
    if told.is_empty() {
        return;
    }
    let told = told
        .iter()
        .map(|PlanCaution { caution, steps }| format!("! {} At: {}. [{}]", caution.text, steps.join(", "), caution.source));
    let told: Vec<String> = told.collect();
    // The frame takes a little off the breadth: two lines more than counted are ample.
    let lines: usize = told.iter().map(|text| broken(text, flow.room_mm(), Weight::Regular, CAUTION_MM).len()).sum();
    let height_mm = (lines + 5) as f64 * flow.line_mm;
    if height_mm < PAGE_HEIGHT_MM {
        flow.keep_together(height_mm);
    }
    flow.framed(|flow| {
        flow.heading("Look out", 3.2);
        told.iter().for_each(|text| flow.words(text, CAUTION_MM, Weight::Regular));
        flow.words(DEFER, CAUTION_MM, Weight::Bold);
    });
}

/// When to do what, for the garments of one line.
pub(super) fn timetable_of(flow: &mut Flow, layout: &Layout, options: &CardOptions<'_>) {
    let Some((plan, _)) = options.plan_line() else { return };
    flow.heading(&format!("{}: the day", layout.name()), 4.0);
    flow.paragraph(&format!("{} Times by the clock on the wall.", belongs_to(layout, options)));
    let entries = plan.entries_of(options.line);
    timetable(flow, &entries);
    let over = entries.iter().filter_map(|entry| entry.ready.max(entry.stretches.last().map(|stretch| stretch.to))).max();
    let over = over.unwrap_or(plan.timeline.ends).strftime("%A %-d %B %Y, %H:%M");
    flow.paragraph(&format!("Done {over}."));
    if flow.left_over_mm() > NOTES_FROM_MM {
        flow.notes("Notes", NOTES);
    }
}

const TIMETABLE: [Column; 7] = [
    tick(),
    words("When", 27.0),
    words("Load", 24.0),
    words("Step", 48.0),
    words("Where", 19.0),
    words("Warmth", 24.0),
    words("Done at", 36.0),
];

/// Steps in the order of their hours, a row a stretch of work, a day at a time; cautions and what to have ready beside each.
pub(super) fn timetable(flow: &mut Flow, entries: &[&Entry]) {
    let mut stretches: Vec<(usize, &Entry)> =
        entries.iter().flat_map(|&entry| (0..entry.stretches.len()).map(move |index| (index, entry))).collect();
    stretches.sort_by_key(|(index, entry)| entry.stretches[*index].from);
    let day = |(index, entry): &(usize, &Entry)| -> Date { entry.stretches[*index].from.date() };
    let mut rows: Vec<Row> = Vec::new();
    for day_stretches in stretches.chunk_by(|a, b| day(a) == day(b)) {
        if let Some(first) = day_stretches.first() {
            rows.push(Row { heading: Some(day(first).strftime("%A %-d %B %Y").to_string()), ..Row::default() });
        }
        rows.extend(day_stretches.iter().map(|(index, entry)| row(entry, *index)));
    }
    flow.table(&TIMETABLE, &rows);
}

fn row(entry: &Entry, index: usize) -> Row {
    let (stretch, many) = (entry.stretches[index], entry.stretches.len());
    let load = entry.load.map_or_else(|| "once".to_owned(), |load| format!("load {load}"));
    let part = if many > 1 { format!(" ({} of {many})", index + 1) } else { String::new() };
    let cells = vec![
        BOX.to_owned(),
        format!("{} - {}", stretch.from.strftime("%H:%M"), stretch.to.strftime("%H:%M")),
        format!("{load} ({})", entry.garments),
        format!("{}{part}", entry.step),
        entry.place.map_or_else(String::new, |place| place.to_string()),
        entry.temperature.map_or_else(String::new, |range| range.to_string()),
        String::new(),
    ];
    let mut below = Vec::new();
    let mut plain = String::new();
    let needs: Vec<String> = entry.needs.iter().map(|(name, amount)| format!("{name} {amount}")).collect();
    if index == 0 && !needs.is_empty() {
        plain = format!("Have ready: {}. ", needs.join("; "));
    }
    if index + 1 == many {
        plain += &entry.wait_words().unwrap_or_default();
    }
    if !plain.is_empty() {
        below.push(plain);
    }
    let marks: Vec<&str> = entry.cautions.iter().filter_map(|caution| caution.hazard.mark()).collect();
    if index == 0 && !marks.is_empty() {
        below.push(format!("! {}", marks.join("; ")));
    }
    Row { cells, below, ..Row::default() }
}
