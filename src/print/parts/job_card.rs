//! The job card: every number needed at the table and, with a plan, what to weigh, when to do what, what hurts; on two pages at most
//! unless there is much to say.

use super::CardOptions;
use super::day::{day, weighing};
use super::flow::{Apart, Flow, set_in_fewest};
use super::table::{Column, Row, number, words};
use crate::geometry::Panel;
use crate::layout::{
    BindFigures, DipFigures, Figures, HandPart, Handwork, Layout, LooseFigures, MeasureFigures, SectionFigures, warning_runs,
};
use crate::measure::{LengthStyle, MetricUnit, RuleMarks, grams_number};
use crate::plan::GarmentMasses;
use crate::print::Drawing;
use crate::telling::{Voice, Warned as _, listed};

/// A change in size smaller than this is not worth a line, mm.
const SHRINKAGE_SHOWN_MM: f64 = 0.05;

/// Draws the card's page of numbers, or its two.
#[must_use]
pub fn job_card(layout: &Layout, figures: &Figures, lengths: LengthStyle) -> Vec<Drawing> {
    job_card_with(layout, figures, lengths, &CardOptions::default())
}

/// Draws the card with the day's part: numbers and what to weigh, then the day's timetable and its cautions. Two pages where two hold
/// it, else as many as it takes.
#[must_use]
pub fn job_card_with(layout: &Layout, figures: &Figures, lengths: LengthStyle, options: &CardOptions<'_>) -> Vec<Drawing> {
    let title = format!("{}: job card", layout.name());
    let has_day = options.plan_line().is_some();
    set_in_fewest(&title, |flow, apart| {
        numbers(flow, layout, figures, lengths, options);
        if has_day || options.reveal.is_some() {
            weighing(flow, layout, figures, options);
        }
        if has_day && apart == Apart::Yes {
            flow.start_page();
        }
        day(flow, layout, options);
    })
}

fn numbers(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle, options: &CardOptions<'_>) {
    flow.heading(layout.name(), 5.0);
    if !layout.raw().note.is_empty() {
        flow.paragraph(&layout.raw().note);
    }
    flow.paragraph(&options.belongs_to(layout));
    garment(flow, layout, figures, lengths);
    let masses = options.plan_line().map(|(_, line)| &line.each);
    for (number, (tie, figures)) in (1..).zip(layout.ties().iter().zip(figures.ties())) {
        if let Some(name) = tie.tie_name() {
            flow.heading(&format!("Tie {number}: {name}"), 3.6);
        }
        fold(flow, tie, figures, lengths);
        binds(flow, tie, figures, lengths, masses);
    }
    if let Some(several) = &figures.several {
        loose(flow, &several.loose, layout, lengths, masses);
        flow.paragraph(&format!("Thread to cut, total: {}.", lengths.format_long(figures.thread_mm)));
    }
    dips(flow, figures, lengths);
    if options.plan_line().is_none() {
        colours(flow, figures);
    }
    if !figures.warnings.is_empty() {
        flow.heading("Warnings", 3.2);
        for run in warning_runs(&figures.warnings) {
            flow.paragraph(&format!("- {}", run.say(Voice::window(lengths))));
        }
    }
}

fn garment(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle) {
    let garment = &figures.garment;
    let size = garment.size.as_ref().map_or_else(String::new, |size| format!(", size {size}"));
    // Outline times mass per area.
    let cloth = format!("{:.0} g of dry cloth without seams and ribs", garment.cloth.mass_g);
    flow.heading(&format!("Garment: {}{size}, {cloth}", garment.kind), 3.2);
    measures(flow, &garment.measures, layout.marks(), lengths);
    flow.paragraph(&sources(&garment.measures));
}

/// Blocks of measurements beside each other.
const BLOCKS: usize = 3;

/// Measurements: now and, where a wash changes anything, after it.
fn measures(flow: &mut Flow, measures: &[MeasureFigures], marks: RuleMarks, lengths: LengthStyle) {
    let now = number(match lengths {
        LengthStyle::Metric { unit: MetricUnit::Millimetre, .. } => "now, mm",
        LengthStyle::Metric { unit: MetricUnit::Centimetre, .. } => "now, cm",
        LengthStyle::Inches { .. } => "now, in",
    });
    let washed = number("washed");
    let shrinks = measures.iter().any(|m| (m.washed_mm - m.now_mm).abs() > SHRINKAGE_SHOWN_MM);
    let of_block = if shrinks { vec![words("Measure"), now, washed] } else { vec![words("Measure"), now] };
    let columns = of_block.repeat(BLOCKS);
    let cells = |m: &MeasureFigures| {
        let lengths = m.lengths(marks, lengths);
        let all = [plain(m), lengths.number(m.now_mm), lengths.number(m.washed_mm)];
        all.into_iter().take(of_block.len()).collect::<Vec<_>>()
    };
    let rows = measures.len().div_ceil(BLOCKS);
    let row = |at: usize| {
        let beside = (0..BLOCKS).filter_map(|block| measures.get(block * rows + at));
        Row { cells: beside.flat_map(cells).collect(), ..Row::default() }
    };
    flow.table(&columns, &(0..rows).map(row).collect::<Vec<_>>());
}

/// A measurement's name in plain words.
fn plain(measure: &MeasureFigures) -> String {
    measure.name.trim_end_matches("_mm").replace('_', " ")
}

/// Where the measurements come from, those of one source together, in the order in which they first come; the largest of several
/// lots is the rest.
fn sources(measures: &[MeasureFigures]) -> String {
    let mut sources: Vec<(String, Vec<String>)> = Vec::new();
    for measure in measures {
        let source = measure.status.map_or_else(|| measure.origin.to_owned(), |status| format!("{}, {status}", measure.origin));
        match sources.iter_mut().find(|(known, _)| *known == source) {
            Some((_, names)) => names.push(plain(measure)),
            None => sources.push((source, vec![plain(measure)])),
        }
    }
    if let [(source, _)] = &sources[..] {
        return format!("All from: {source}.");
    }
    sources.sort_by_key(|(_, names)| names.len());
    let rest = sources.pop().filter(|(_, names)| names.len() > 1 || sources.is_empty());
    let mut said: Vec<String> = sources.iter().map(|(source, names)| format!("{}: {source}", names.join(", "))).collect();
    said.extend(rest.map(|(source, _)| format!("the rest: {source}")));
    format!("From: {}.", said.join("; "))
}

fn fold(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle) {
    let work = Handwork::of(layout, figures);
    flow.heading("Fold", 3.2);
    flow.paragraph(&work.lay_words());
    work.centre_words(lengths).iter().for_each(|words| flow.paragraph(words));
    let arcs = work.arcs_words(lengths).map_or_else(String::new, |words| format!(" {words}"));
    // The pleats lie along the arc that was just named.
    flow.paragraph(&format!("{}{arcs}", work.words(HandPart::Fold, lengths)));
    for part in work.parts().filter(|part| matches!(part, HandPart::Wrap | HandPart::Clamp)) {
        flow.paragraph(&work.words(part, lengths));
    }
}

/// The cloth that no tie takes.
fn loose(flow: &mut Flow, loose: &LooseFigures, layout: &Layout, lengths: LengthStyle, masses: Option<&GarmentMasses>) {
    flow.heading("Loose cloth", 3.2);
    let area = |panel| lengths.format_area(*loose.area_mm2.of(panel));
    let on_each: Vec<String> = match layout.panels().back {
        None => vec![area(Panel::Front)],
        Some(_) => Panel::BOTH.iter().map(|&panel| format!("{} on the {panel}", area(panel))).collect(),
    };
    let colour = loose.colour.as_deref().unwrap_or("no dye");
    let dye = masses.and_then(|masses| masses.of_loose(loose)).map_or_else(String::new, |dye| format!(", {dye} of it"));
    flow.paragraph(&format!("{}; {} g of cloth, {colour}{dye}.", listed(on_each, "and"), grams_number(loose.mass_g, 1)));
}

/// One table for both: a bind's row names the section inside it too.
fn binds(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle, masses: Option<&GarmentMasses>) {
    let (kind, unit) = (layout.thread().kind.name(), lengths.unit_name());
    let is_tied = !figures.binds.is_empty();
    let what = if is_tied { format!("Binds and sections: {kind}") } else { "Section".to_owned() };
    let order = figures.tying_order.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
    let thread = lengths.format_long(figures.thread_mm);
    let head = |flow: &mut Flow| {
        flow.heading(&format!("{what}; lengths in {unit}, cloth in g"), 3.2);
        if is_tied {
            let total = if layout.tie_name().is_some() { "" } else { ", total" };
            flow.paragraph(&format!("Tie in this order: {order}. Thread to cut{total}: {thread}."));
        } else if figures.thread_mm > 0.0 {
            flow.paragraph(&format!("Thread to cut, total: {thread}."));
        }
    };
    let mut rows: Vec<Row> = figures
        .binds
        .iter()
        .zip(&figures.sections)
        .map(|(bind, section)| row(bind, section, figures.fold.zero_mm, lengths))
        .collect();
    let edge = figures.sections.get(figures.binds.len());
    rows.extend(edge.map(|section| edge_row(section, figures.fold.zero_mm, lengths)));
    let dye = masses.map(|masses| Dye::of(masses, figures));
    let from = match layout.words().from() {
        "centre" => "From\ncentre",
        "line" => "From\nline",
        "tip" => "From\ntip",
        _ => "From\nend",
    };
    let columns: Vec<Column> = columns(from).into_iter().chain(dye.iter().map(|dye| number(dye.title))).collect();
    for (row, amount) in rows.iter_mut().zip(dye.into_iter().flat_map(|dye| dye.of_sections)) {
        row.cells.push(amount);
    }
    // What stands above the table stays with its first rows.
    let begun = |flow: &mut Flow| {
        head(flow);
        flow.table(&columns, &rows[..rows.len().min(2)]);
    };
    if let Some(height_mm) = flow.height_mm(flow.room_mm(), begun) {
        flow.keep_together(height_mm);
    }
    head(flow);
    flow.table(&columns, &rows);
    if is_tied {
        below_binds(flow, layout, figures, lengths, masses.is_some());
    }
}

/// What the table of binds means, and which were moved.
fn below_binds(flow: &mut Flow, layout: &Layout, figures: &Figures, lengths: LengthStyle, has_dye: bool) {
    let dye = if has_dye { ", dye (a rough guide)" } else { "" };
    let [inside, outside] = figures.fold.words.sides;
    let below = if inside == outside { String::new() } else { format!(" From line: below 0 is {inside}.") };
    flow.paragraph(&format!(
        "Bold: {}, tie first. *: moved by hand. Cloth, colour{dye}: section inside the bind, same number. Pleat, height: \
        rod before tying. Girth: bound rod.{below}",
        figures.fold.words.guide
    ));
    let moved = |bind: &BindFigures| Some(format!("bind {} {}", bind.number, bind.rounding(layout.marks(), lengths)?));
    let moved: Vec<String> = figures.binds.iter().filter_map(moved).collect();
    if !moved.is_empty() {
        flow.paragraph(&format!("By more than half a mark, to keep the gaps in order: {}.", moved.join(", ")));
    }
}

/// The column of what each section gets of its dye.
struct Dye {
    title: &'static str,
    of_sections: Vec<String>,
}

impl Dye {
    /// Powder in g, a solution in mL.
    fn of(masses: &GarmentMasses, figures: &Figures) -> Self {
        let by_hand = !masses.solutions.is_empty();
        let amount = |section: &SectionFigures| match masses.of_section(section) {
            None => String::new(),
            Some(amount) => grams_number(amount.value, if by_hand { 1 } else { 2 }),
        };
        Self { title: if by_hand { "Dye,\nmL" } else { "Dye,\ng" }, of_sections: figures.sections.iter().map(amount).collect() }
    }
}

/// Columns of the table of binds.
fn columns(from: &'static str) -> [Column; COLUMNS] {
    [
        number("Bind"),
        number("Tied"),
        number(from),
        number("Gap\ninside"),
        number("Pleat"),
        number("Height"),
        number("Girth"),
        number("Wraps"),
        number("Thread"),
        number("Cloth"),
        words("Colour"),
    ]
}

/// How many there are.
const COLUMNS: usize = 11;

/// What goes into dye, in the order in which it is dipped.
fn dips(flow: &mut Flow, figures: &Figures, lengths: LengthStyle) {
    if figures.dips.is_empty() {
        return;
    }
    flow.heading(&format!("Dips; depth in {}, cloth in g", lengths.unit_name()), 3.2);
    let columns = [number("Dip"), words("Part"), number("Depth"), number("Minutes"), number("Cloth"), words("Colour")];
    let row = |dip: &DipFigures| Row {
        cells: vec![
            dip.number.to_string(),
            dip.part.clone(),
            lengths.number(dip.depth_mm),
            Voice::FILE.number(dip.minutes),
            grams_number(dip.mass_g, 1),
            dip.colour.clone(),
        ],
        ..Row::default()
    };
    flow.table(&columns, &figures.dips.iter().map(row).collect::<Vec<_>>());
    flow.paragraph(
        "Pour each dye into a tray, deep enough for its dips: the amounts are what the cloth takes up, so mix as much more of the same \
        strength as fills it. Lower the part into it, hold it for its minutes, lift it, and let it \
        drip over the tray before the next. Edges and corners are numbered on the folding card.",
    );
}

/// Cloth by colour, where no plan says it beside the dye.
fn colours(flow: &mut Flow, figures: &Figures) {
    for colour in &figures.colours {
        flow.paragraph(&format!(
            "{}: {} g of cloth in {}",
            colour.name,
            grams_number(colour.mass_g, 1),
            colour.goes_on("section")
        ));
    }
}

fn row(bind: &BindFigures, section: &SectionFigures, zero_mm: f64, lengths: LengthStyle) -> Row {
    let by_hand = if bind.by_hand { "*" } else { "" };
    let cells = vec![
        format!("{by_hand}{}", bind.number),
        bind.tied.to_string(),
        lengths.number(bind.radius_mm - zero_mm),
        lengths.number(bind.gap_inside_mm),
        lengths.number(bind.pleat_depth_mm),
        lengths.number(bind.rod.height_mm),
        lengths.number(bind.rod.bound_girth_mm),
        bind.wraps.to_string(),
        lengths.number(bind.thread_mm),
        grams_number(section.mass_g, 1),
        section.colour_words().to_owned(),
    ];
    Row { cells, bold: bind.on_guide_arc, ..Row::default() }
}

/// The section beyond the last bind.
fn edge_row(section: &SectionFigures, zero_mm: f64, lengths: LengthStyle) -> Row {
    let mut cells = vec![String::new(); COLUMNS];
    cells[0] = format!("edge {}", section.number);
    cells[2] = lengths.number(section.outer_mm - zero_mm);
    cells[3] = lengths.number(section.length_mm);
    cells[9] = grams_number(section.mass_g, 1);
    cells[10] = section.colour_words().to_owned();
    Row { cells, ..Row::default() }
}
