//! The job card: every number needed at the table, on one or two pages; with a plan, what to weigh, when to do what, what hurts.

use super::day::{timetable_of, weighing};
use super::flow::{Flow, set_airily};
use super::table::{Row, number, words};
use crate::layout::{BindFigures, Figures, Layout, MeasureFigures, SectionFigures};
use crate::measure::LengthStyle;
use crate::plan::{LinePlan, Plan};
use crate::print::Drawing;
use crate::reveal::Picture;
use crate::store::fingerprint;
use jiff::civil::Date;

/// A change in size smaller than this is not worth a line, mm.
const SHRINKAGE_SHOWN_MM: f64 = 0.05;
/// Columns of the table of binds.
const COLUMNS: usize = 11;

/// What a job card shows beside the layout's own numbers.
#[derive(Debug, Clone, Copy, Default)]
pub struct CardOptions<'a> {
    /// The plan of the day: grams, baths, timetable and cautions go on pages of their own.
    pub plan: Option<&'a Plan>,
    /// Which of the plan's lines the layout is, by its index: the first, as in the plan of one layout.
    pub line: usize,
    /// How the garment may come out, front and back.
    pub reveal: Option<&'a Picture>,
    /// The day that stands on the card; the plan's first where none is given.
    pub date: Option<Date>,
}

impl CardOptions<'_> {
    /// What tells this sheet from others: the layout's fingerprint and the day.
    pub(super) fn mark(&self, layout: &Layout) -> String {
        let date = self.date.or_else(|| self.plan.map(|plan| plan.timeline.begins.date()));
        let date = date.map_or_else(String::new, |date| format!(", {date}"));
        format!("Layout {}{date}.", fingerprint(layout.raw()))
    }

    /// The plan's line that the layout is.
    pub(super) fn plan_line(&self) -> Option<(&Plan, &LinePlan)> {
        let plan = self.plan?;
        Some((plan, plan.lines.get(self.line)?))
    }
}

/// Draws the card's page of numbers, or its two.
#[must_use]
pub fn job_card(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Drawing> {
    job_card_with(layout, figures, lengths, &CardOptions::default())
}

/// Draws the card with the day's part: the page of numbers, one of what to weigh and to look out for, and the day's timetable.
#[must_use]
pub fn job_card_with(layout: &Layout, figures: &Figures, lengths: LengthStyle, options: &CardOptions<'_>) -> Vec<Drawing> {
    let title = format!("{}: job card", layout.name());
    let mut pages = set_airily(&title, |flow| fill(flow, layout, figures, lengths, options));
    if options.plan_line().is_some() || options.reveal.is_some() {
        pages.extend(set_airily(&title, |flow| weighing(flow, layout, options)));
    }
    if options.plan_line().is_some() {
        pages.extend(set_airily(&title, |flow| timetable_of(flow, layout, options)));
    }
    pages
}

fn fill(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle, options: &CardOptions<'_>) {
    flow.heading(layout.name(), 5.0);
    if !layout.raw().note.is_empty() {
        flow.paragraph(&layout.raw().note);
    }
    garment(flow, figures, lengths, &options.mark(layout));
    burst(flow, figures, lengths);
    binds(flow, layout, figures, lengths);
    colours(flow, figures, options);
    if !figures.warnings.is_empty() {
        flow.heading("Look out for", 3.2);
        for warning in &figures.warnings {
            flow.paragraph(&format!("- {}", warning.sentence(lengths)));
        }
    }
}

fn garment(flow: &mut Flow, figures: &Figures, lengths: LengthStyle, mark: &str) {
    let garment = &figures.garment;
    let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
    flow.heading(&format!("Garment: {}{size}", garment.kind), 3.2);
    let list = |length_mm: fn(&MeasureFigures) -> f64| {
        let word = |m: &MeasureFigures| format!("{} {}", plain(m), lengths.format(length_mm(m)));
        garment.measures.iter().map(word).collect::<Vec<_>>().join("; ")
    };
    flow.paragraph(&format!("Now: {}", list(|m| m.now_mm)));
    if garment.measures.iter().any(|m| (m.washed_mm - m.now_mm).abs() > SHRINKAGE_SHOWN_MM) {
        flow.paragraph(&format!("After a wash: {}", list(|m| m.washed_mm)));
    }
    flow.paragraph(&sources(figures));
    let dry_g = garment.cloth.mass_g;
    flow.paragraph(&format!("Dry cloth: {dry_g:.0} g (outline times mass per area, without seams and ribs). {mark}"));
}

/// A measurement's name in plain words.
fn plain(measure: &MeasureFigures) -> String {
    measure.name.trim_end_matches("_mm").replace('_', " ")
}

/// Where the measurements come from, those of one source together, in the order in which they first come.
fn sources(figures: &Figures) -> String {
    let mut sources: Vec<(String, Vec<String>)> = Vec::new();
    for measure in &figures.garment.measures {
        let source = measure.status.map_or_else(|| measure.origin.to_owned(), |status| format!("{}, {status}", measure.origin));
        match sources.iter_mut().find(|(known, _)| *known == source) {
            Some((_, names)) => names.push(plain(measure)),
            None => sources.push((source, vec![plain(measure)])),
        }
    }
    if let [(source, _)] = &sources[..] {
        return format!("All of it from: {source}.");
    }
    let said: Vec<String> = sources.into_iter().map(|(source, names)| format!("{}: {source}", names.join(", "))).collect();
    format!("From: {}.", said.join("; "))
}

fn burst(flow: &mut Flow, figures: &Figures, lengths: LengthStyle) {
    let burst = &figures.burst;
    flow.heading("Fold", 3.2);
    flow.paragraph(&format!("Centring: {}. {}", burst.centring, burst.matching));
    flow.paragraph(&format!(
        "Burst centre: {} below the shoulder point, {} from the centre line ({} above the middle).",
        lengths.format(burst.centre_below_shoulder_mm),
        lengths.format(burst.centre_from_centre_line_mm),
        lengths.format(burst.centre_above_middle_mm)
    ));
    flow.paragraph(&format!(
        "Guide arc: {}. Fan fold {} pleats of {} along it ({:.1} degrees each, {} layers).",
        lengths.format(burst.guide_radius_mm),
        burst.pleats,
        lengths.format(burst.pleat_depth_mm),
        burst.pleat_angle_deg,
        burst.layers
    ));
    if !burst.further_arcs_mm.is_empty() {
        let arcs: Vec<String> = burst.further_arcs_mm.iter().map(|&radius_mm| lengths.format(radius_mm)).collect();
        flow.paragraph(&format!("Further arcs, string from pin to chalk: {}.", arcs.join(", ")));
    }
}

/// One table for both: a bind's row names the section inside it too.
fn binds(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle) {
    flow.heading(&format!("Binds and sections: {}", layout.thread().kind.name()), 3.2);
    let order = figures.tying_order.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    let cut_mm = figures.thread_to_cut_mm(lengths);
    flow.paragraph(&format!("Tie in this order: {order}. Thread to cut in all: {}.", lengths.format_long(cut_mm)));
    let columns = [
        number("Bind", 11.0),
        number("Tied", 10.5),
        number("From centre", 20.0),
        number("Gap inside", 19.0),
        number("Pleat", 17.0),
        number("Rod high", 17.0),
        number("Girth", 17.0),
        number("Wraps", 12.5),
        number("Thread", 16.5),
        number("Cloth", 14.0),
        words("Colour", 29.5),
    ];
    let mut rows: Vec<Row> =
        figures.binds.iter().zip(&figures.sections).map(|(bind, section)| row(bind, section, lengths)).collect();
    rows.extend(figures.sections.last().map(|section| edge_row(section, lengths)));
    flow.table(&columns, &rows);
    flow.paragraph(
        "Bold: the guide arc, tied first. *: set by hand. Cloth and colour: of the section inside the bind, which has its number. \
         From centre is also the string, pin to chalk. Pleat and rod high: the free rod's width and height; girth: when bound.",
    );
}

/// Cloth by colour, and the dye for it where there is a plan.
fn colours(flow: &mut Flow, figures: &Figures, options: &CardOptions<'_>) {
    for colour in &figures.colours {
        let of_colour = |line: &LinePlan| line.each.dyes.iter().find(|dye| dye.colour == colour.name).cloned();
        let dye = options.plan_line().and_then(|(_, line)| of_colour(line));
        let dye = dye.map_or_else(String::new, |dye| format!(": {} of dye ({})", dye.dye, dye.depth));
        let sections = colour.sections.len();
        flow.paragraph(&format!("{}: {:.1} g of cloth in {sections} sections{dye}", colour.name, colour.mass_g));
    }
}

fn row(bind: &BindFigures, section: &SectionFigures, lengths: LengthStyle) -> Row {
    let by_hand = if bind.by_hand { "*" } else { "" };
    let cells = vec![
        format!("{by_hand}{}", bind.number),
        bind.tied.to_string(),
        lengths.format(bind.radius_mm),
        lengths.format(bind.gap_inside_mm),
        lengths.format(bind.pleat_depth_mm),
        lengths.format(bind.rod.height_mm),
        lengths.format(bind.rod.bound_girth_mm),
        bind.wraps.to_string(),
        lengths.format(lengths.to_cut_mm(bind.thread_mm)),
        format!("{:.1} g", section.mass_g),
        section.colour.clone().unwrap_or_default(),
    ];
    Row { cells, bold: bind.on_guide_arc, ..Row::default() }
}

/// The section beyond the last bind.
fn edge_row(section: &SectionFigures, lengths: LengthStyle) -> Row {
    let mut cells = vec![String::new(); COLUMNS];
    cells[0] = "edge".to_owned();
    cells[2] = lengths.format(section.outer_mm);
    cells[3] = lengths.format(section.length_mm);
    cells[9] = format!("{:.1} g", section.mass_g);
    cells[10] = section.colour.clone().unwrap_or_default();
    Row { cells, ..Row::default() }
}
