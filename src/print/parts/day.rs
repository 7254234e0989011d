//! The day on a job card: what to weigh, the baths, when to do what, what to look out for.

use super::CardOptions;
use super::flow::Flow;
use super::table::{BOX, Column, Row, blank, number, tick, words};
use crate::layout::{ColourFigures, Figures, Layout};
use crate::plan::{Amount, DEFER, DyeMass, Entry, LinePlan, Load, Plan, PlanCaution, PlanWarning, short};
use crate::print::font::shortened;
use crate::print::{Anchor, Face, Layer, Pattern, Pixels, Shape, width_mm};
use crate::reveal::Picture;
use crate::telling::{Voice, Warned as _};
use jiff::civil::Date;
use kurbo::{Point, Rect, Shape as _};
use std::sync::Arc;

/// Breadth of the column of amounts beside the picture, mm.
const AMOUNTS_MM: f64 = 116.0;
/// Between the two, mm.
const BETWEEN_MM: f64 = 6.0;
/// Height that a picture takes at least and at most, mm: as much as the amounts beside it leave.
const PICTURES_MM: [f64; 2] = [28.0, 46.0];
/// Pixels of a picture across and down at most: about 200 to the inch at its size.
const MOST_PIXELS: usize = 720;
/// Lines for notes that a card has at least, where it has any.
const NOTES: u32 = 2;

/// What to weigh, how it may come out, the baths.
pub(super) fn weighing(flow: &mut Flow, layout: &Layout, figures: &Figures, options: &CardOptions<'_>) {
    let picture = options.reveal.and_then(pixels);
    let beside = |flow: &mut Flow, high_mm: f64| {
        if let Some(pixels) = &picture {
            flow.y_mm += 2.0;
            flow.picture(pixels, high_mm);
            flow.words("As it may come out, front and back: an estimate.", Face::Regular);
        }
        key(flow, layout);
    };
    let Some((plan, line)) = options.plan_line() else { return beside(flow, PICTURES_MM[1]) };
    let amounts = |flow: &mut Flow| amounts(flow, line, &figures.colours);
    let beside_mm = flow.room_mm() - AMOUNTS_MM - BETWEEN_MM;
    let rest_mm = flow.height_mm(beside_mm, |flow| beside(flow, 0.0)).unwrap_or(0.0);
    let amounts_mm = flow.height_mm(AMOUNTS_MM, amounts).unwrap_or(0.0);
    let high_mm = (amounts_mm - rest_mm).clamp(PICTURES_MM[0], PICTURES_MM[1]);
    flow.columns(AMOUNTS_MM, BETWEEN_MM, amounts, |flow| beside(flow, high_mm));
    baths(flow, plan, plan.loads_of(options.line));
}

/// The picture on paper, none if there is nothing on it.
fn pixels(picture: &Picture) -> Option<Arc<Pixels>> {
    Pixels::on_paper(picture.width, picture.height, &picture.rgba, MOST_PIXELS).map(Arc::new)
}

/// Which pattern stands for which colour on template and strips: for black and white. Beside each other, as many as fit. Each of several ties has patterns of its own.
fn key(flow: &mut Flow, layout: &Layout) {
    for tie in layout.ties() {
        tie.tie_name().iter().for_each(|name| flow.words(name, Face::Regular));
        key_of_tie(flow, tie);
    }
}

fn key_of_tie(flow: &mut Flow, layout: &Layout) {
    const WIDTH_MM: f64 = 10.0;
    const HEIGHT_MM: f64 = 5.0;
    let cap_mm = flow.cap_mm;
    let mut x_mm = flow.right_mm;
    let mut y_mm = flow.y_mm;
    for (index, swatch) in layout.raw().colours.rotation.iter().enumerate() {
        let name_mm = width_mm(&swatch.name, Face::Bold, cap_mm).min(flow.room_mm() - WIDTH_MM - 2.0);
        if x_mm + WIDTH_MM + 2.0 + name_mm > flow.right_mm {
            (x_mm, y_mm) = (flow.left_mm, flow.take(HEIGHT_MM + 1.6));
        }
        let square = Rect::new(x_mm, y_mm - HEIGHT_MM, x_mm + WIDTH_MM, y_mm);
        flow.page().add(Layer::Fill, Shape::Area { outline: square.to_path(0.1), pattern: Pattern::nth(index) });
        flow.page().path(Layer::Marks, square.to_path(0.1));
        let at = Point::new(x_mm + WIDTH_MM + 2.0, y_mm - 0.5 * (HEIGHT_MM - cap_mm));
        let name = shortened(&swatch.name, Face::Bold, cap_mm, name_mm + 0.01);
        flow.put(&name, at, Anchor::Start, Face::Bold);
        x_mm += WIDTH_MM + 2.0 + name_mm + 5.0;
    }
    flow.y_mm += 1.0;
}

/// What one garment takes, with boxes.
pub(super) fn amounts(flow: &mut Flow, line: &LinePlan, colours: &[ColourFigures]) {
    let (each, fold) = (&line.each, line.work.work.fold_words());
    flow.heading(&format!("To weigh for one garment, {} g of dry cloth", short(each.dry_g)), 3.2);
    let columns = [tick(), words("What"), number("How much"), words("For")];
    let row = |what: &str, amount: &Amount, rest: String| {
        let kitchen = amount.kitchen.map_or_else(String::new, |kitchen| format!(", {kitchen}"));
        let cells = vec![BOX.to_owned(), what.to_owned(), amount.to_string(), format!("{rest}{kitchen}")];
        Row { cells, ..Row::default() }
    };
    let sections = |name: &str| {
        let colour = colours.iter().find(|colour| colour.name == name);
        colour.map_or_else(String::new, |colour| format!(" in {}", colour.goes_on(fold.section)))
    };
    let of_dye = |dye: &DyeMass| {
        let mixing = dye.mixing().map_or_else(String::new, |mixing| format!("; {mixing}"));
        format!("{} g of cloth{}, {}{mixing}", short(dye.cloth_g), sections(&dye.colour), dye.depth)
    };
    let mut rows: Vec<Row> = each.dyes.iter().map(|dye| row(&dye.colour, &dye.dye, of_dye(dye))).collect();
    if each.undyed_g > 0.0 {
        let cells = vec![String::new(), "no dye".to_owned(), String::new(), format!("{} g of cloth", short(each.undyed_g))];
        rows.push(Row { cells, ..Row::default() });
    }
    if each.soda_strewn.value > 0.0 {
        rows.push(row("soda ash", &each.soda_strewn, "sprinkled".to_owned()));
    }
    for (number, ice) in (1..).zip(&each.ice) {
        rows.push(row(
            &format!("ice, layer {number}"),
            &ice.ice,
            format!("over {}, melts in about {}", ice.area(), ice.melts_in),
        ));
    }
    for solution in &each.solutions {
        let urea = if solution.urea.value > 0.0 { format!(", {} of urea", solution.urea) } else { String::new() };
        let strength = short(solution.grams_per_l);
        rows.push(row(&solution.colour, &solution.volume, format!("of solution, {strength} g/L{urea}")));
    }
    if each.thread.value > 0.0 {
        rows.push(row("thread", &each.thread, "tails included".to_owned()));
    }
    let cells = vec![String::new(), fold.tied.to_owned(), each.dry_rod.to_string(), "about, when dry inside".to_owned()];
    rows.push(Row { cells, ..Row::default() });
    flow.table(&columns, &rows);
}

/// What goes into the tubs, a line a bath; what is for one load stays together.
pub(super) fn baths<'a>(flow: &mut Flow, plan: &Plan, loads: impl Iterator<Item = &'a Load>) {
    let loads: Vec<&Load> = loads.collect();
    for (turn, load) in loads.iter().enumerate() {
        let of_load = |flow: &mut Flow| {
            let items: Vec<String> =
                load.items.iter().map(|item| format!("{} x {}", item.count, plan.lines[item.line].name)).collect();
            let named = format!("load {}: {}", load.number, items.join(", "));
            match loads.len() {
                1 => flow.heading(&format!("Baths, for {named}"), 3.2),
                _ => {
                    if turn == 0 {
                        flow.heading("Baths, for whole loads", 3.2);
                    }
                    flow.words(&format!("For {named}"), Face::Bold);
                }
            }
            bath(flow, load, plan);
        };
        if let Some(height_mm) = flow.height_mm(flow.room_mm(), of_load) {
            flow.keep_together(height_mm);
        }
        of_load(flow);
    }
}

/// The baths of a load.
pub(super) fn bath(flow: &mut Flow, load: &Load, plan: &Plan) {
    if let Some(bath) = &load.discharge {
        flow.tick(&format!("discharge: {}", bath.contents(plan.lengths)));
        flow.paragraph(&format!("  {}; in {}", bath.heat_words(), plan.vessel.words(plan.lengths)));
    }
    if let Some(soak) = &load.soak {
        let ph = soak.ph.as_ref().map_or_else(String::new, |ph| format!(", {ph} at 25 °C"));
        let kitchen = soak.soda_ash.kitchen.map_or_else(String::new, |kitchen| format!(" ({kitchen})"));
        flow.tick(&format!("soda ash soak: {} of soda ash in {} of water{ph}{kitchen}", soak.soda_ash, soak.water));
    }
    // One garment's dyes stand above already.
    if !load.dyes.is_empty() && plan.garments > 1 {
        let dyes: Vec<String> = load.dyes.iter().map(|(colour, amount)| format!("{colour}: {amount}")).collect();
        flow.tick(&format!("dye: {}", dyes.join("; ")));
    }
}

/// Each caution once, in full, in a box of its own; on one page where a page holds it. Who says so stands at its end, by number.
pub(super) fn cautions(flow: &mut Flow, told: &[PlanCaution<'_>]) {
    if told.is_empty() {
        return;
    }
    let mut sources: Vec<&str> = Vec::new();
    let mut texts: Vec<String> = Vec::new();
    for PlanCaution { caution, steps } in told {
        let known = sources.iter().position(|source| *source == caution.source);
        let number = known.unwrap_or_else(|| {
            sources.push(caution.source);
            sources.len() - 1
        });
        texts.push(format!("! At {}: {} [{}]", steps.join(", "), caution.text, number + 1));
    }
    let sources: Vec<String> = (1..).zip(sources).map(|(number, source)| format!("[{number}] {source}")).collect();
    let sources = format!("Sources: {}.", sources.join("; "));
    let boxed = |flow: &mut Flow| {
        flow.framed(|flow| {
            flow.heading("Cautions", 3.2);
            texts.iter().for_each(|text| flow.words(text, Face::Regular));
            flow.words(DEFER, Face::Bold);
            flow.words(&sources, Face::Regular);
        });
    };
    if let Some(height_mm) = flow.height_mm(flow.room_mm(), boxed) {
        flow.keep_together(height_mm);
    }
    boxed(flow);
}

/// When to do what, for the garments of one line; what hurts; room for notes.
pub(super) fn day(flow: &mut Flow, layout: &Layout, options: &CardOptions<'_>) {
    let Some((plan, _)) = options.plan_line() else { return };
    flow.keep_together(START_OF_DAY_MM);
    flow.heading(&format!("{}: the day", layout.name()), 3.6);
    untimely(flow, plan);
    let entries = plan.entries_of(options.line);
    let over = entries.iter().filter_map(|entry| entry.ready.max(entry.stretches.last().map(|stretch| stretch.to))).max();
    let over = over.unwrap_or(plan.timeline.ends).strftime("%A %-d %B %Y, %H:%M");
    let mut words = format!("{} Read each step on the plan's sheets first. Local clock time. Ends {over}.", options.mark(layout));
    if let Some(load) = only_load(&entries).filter(|_| plan.garments > 1) {
        words += &format!(" All of it in load {}.", load_words(load));
    }
    for change in &plan.timeline.clock_changes {
        words += &format!(" Clock change: {}.", change.sentence());
    }
    flow.paragraph(&words);
    look_out(flow, plan, plan.warnings_of(options.line));
    cautions(flow, &plan.cautions_of(options.line));
    timetable(flow, &entries, Days::InRows, Some(options.line));
    flow.notes("Notes", NOTES);
}

/// What time does not hold, framed.
pub(super) fn untimely(flow: &mut Flow, plan: &Plan) {
    if let Some(untimely) = &plan.untimely {
        flow.framed(|flow| {
            flow.heading(if untimely.missed.is_some() { "Deadline" } else { "Start" }, 3.2);
            untimely.sentences().iter().for_each(|words| flow.paragraph(&format!("! {words}")));
        });
    }
}

/// What may spoil the pieces, and what can't be kept, framed.
pub(super) fn look_out<'a>(flow: &mut Flow, plan: &Plan, warnings: impl Iterator<Item = &'a PlanWarning>) {
    for (title, told) in [
        ("Warnings", warnings.map(|warning| warning.say(Voice::window(plan.lengths))).collect::<Vec<_>>()),
        ("Conflicts", plan.timeline.conflicts.iter().map(|conflict| format!("{conflict}.")).collect()),
    ] {
        if !told.is_empty() {
            flow.framed(|flow| {
                flow.heading(title, 3.2);
                told.iter().for_each(|words| flow.paragraph(&format!("! {words}")));
            });
        }
    }
}

/// A day is not begun on a page with less room than this, mm: its heading and the first steps.
const START_OF_DAY_MM: f64 = 60.0;

/// Where a timetable names its days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Days {
    /// In a row of their own, in full.
    AsHeadings,
    /// In a column, at the first row of each: takes less height.
    InRows,
}

/// An entry of the one load that all entries are of, but those done once; none where there are several.
fn only_load<'a>(entries: &[&'a Entry]) -> Option<&'a Entry> {
    let mut of_loads = entries.iter().filter(|entry| entry.load.is_some());
    let first = of_loads.next()?;
    of_loads.all(|entry| entry.load == first.load).then_some(first)
}

/// `2 (12)`: the load's number and its garments.
fn load_words(entry: &Entry) -> String {
    entry.load.map_or_else(|| format!("once ({})", entry.garments), |load| format!("{load} ({})", entry.garments))
}

/// Steps in the order of their hours, a row a stretch of work; cautions and what to have ready beside each, for the garments of a line
/// where it is for those.
pub(super) fn timetable(flow: &mut Flow, entries: &[&Entry], days: Days, line: Option<usize>) {
    let with_loads = only_load(entries).is_none();
    let day = [words("Day")].into_iter().filter(|_| days == Days::InRows);
    let load = [words("Load")].into_iter().filter(|_| with_loads);
    let behind = [words("Step"), words("Where"), words("Then wait (until)"), blank("Done at", DONE_AT_MM)];
    let columns: Vec<Column> = [tick()].into_iter().chain(day).chain([words("When")]).chain(load).chain(behind).collect();
    let mut stretches: Vec<(usize, &Entry)> =
        entries.iter().flat_map(|&entry| (0..entry.stretches.len()).map(move |index| (index, entry))).collect();
    stretches.sort_by_key(|(index, entry)| entry.stretches[*index].from);
    let date = |(index, entry): &(usize, &Entry)| -> Date { entry.stretches[*index].from.date() };
    let mut rows: Vec<Row> = Vec::new();
    for of_day in stretches.chunk_by(|a, b| date(a) == date(b)) {
        let named = of_day.first().map(date);
        if days == Days::AsHeadings {
            let heading = named.map(|date| date.strftime("%A %-d %B %Y").to_string());
            rows.push(Row { heading, ..Row::default() });
        }
        for (turn, (index, entry)) in of_day.iter().enumerate() {
            let day = named.filter(|_| turn == 0).map_or_else(String::new, |date| date.strftime("%a %-d %b").to_string());
            let day = [day].into_iter().filter(|_| days == Days::InRows);
            let load = [load_words(entry)].into_iter().filter(|_| with_loads);
            let [when, rest @ ..] = cells(entry, *index, with_loads);
            let cells = [BOX.to_owned()].into_iter().chain(day).chain([when]).chain(load).chain(rest).collect();
            rows.push(Row { cells, below: below(entry, *index, line), ..Row::default() });
        }
    }
    flow.table(&columns, &rows);
}

/// Breadth of the column for when it was really done, mm: hours and minutes by hand.
const DONE_AT_MM: f64 = 18.0;

/// When, what, where, then how long, and the blank to write in.
fn cells(entry: &Entry, index: usize, with_loads: bool) -> [String; 5] {
    let (stretch, many) = (entry.stretches[index], entry.stretches.len());
    let part = if many > 1 { format!(" ({} of {many})", index + 1) } else { String::new() };
    let once = if entry.load.is_none() && !with_loads && entry.garments > 1 {
        format!(", once for {}", entry.garments)
    } else {
        String::new()
    };
    let place = entry.place.map(|place| place.to_string());
    let warmth = entry.temperature.map(|range| range.to_string());
    let wait = if index + 1 == many { entry.short_wait_words().unwrap_or_default() } else { String::new() };
    let when = format!("{}–{}", stretch.from.strftime("%H:%M"), stretch.to.strftime("%H:%M"));
    let place = place.into_iter().chain(warmth).collect::<Vec<_>>().join(", ");
    [when, format!("{}{once}{part}", entry.title), place, wait, String::new()]
}

/// What to have ready and to mind, under a step's first stretch; why it waits so long, under its last.
fn below(entry: &Entry, index: usize, line: Option<usize>) -> Vec<String> {
    let (is_first, is_last) = (index == 0, index + 1 == entry.stretches.len());
    let needs = line.map_or_else(|| entry.needs_words(), |line| entry.needs_words_of(line));
    let marks = entry.marks().map(|marks| format!("! {marks}"));
    let waits = || entry.wait_reason.as_ref().map(|reason| format!("This long because {reason}."));
    let why = entry.attended_words().or_else(waits).filter(|_| is_last);
    marks.into_iter().chain(needs).filter(|_| is_first).chain(why).collect()
}
