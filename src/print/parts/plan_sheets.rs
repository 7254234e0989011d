//! The plan on paper: amounts and shopping with boxes to tick, conflicts, cautions, what each step is, the days as a chart and as a table.

use super::chart::chart;
use super::day::{Days, amounts, baths, cautions, look_out, timetable, untimely};
use super::flow::{Flow, set_pages};
use super::table::{BOX, Row, number, tick, words};
use crate::measure::counted;
use crate::plan::{
    Amount, BlankLine, CostSheet, DECAHYDRATE_PER_SODA_ASH, Entry, LineCostWords, LinePlan, Load, Plan, ShoppingLine,
    blanks_unpriced, packs_unknown, short, work_time,
};
use crate::print::{Drawing, Face, Paper, Part, PdfDocument, PrintError, TilingOptions, named_part, write_pdf};
use jiff::civil::DateTime;

/// What the plan's sheets show.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PlanOptions {
    /// The formula of every amount, with its numbers and how far they can be trusted. Not shown where nothing is said.
    pub formulas: bool,
}

/// The plan's pages.
#[must_use]
pub fn plan_sheets(plan: &Plan, options: PlanOptions) -> Vec<Drawing> {
    set_pages(&format!("{}: plan", plan.name), |flow| fill(flow, plan, options))
}

/// The plan's pages on sheets of a paper.
///
/// # Errors
/// [`PrintError`] for settings out of range, or paper too small for the band of bars.
pub fn plan_part(plan: &Plan, options: PlanOptions, paper: &Paper, tiling: &TilingOptions) -> Result<Part, PrintError> {
    named_part(&plan_sheets(plan, options), "Plan", paper, tiling)
}

/// The plan as a PDF.
///
/// # Errors
/// As for [`plan_part`].
pub fn plan_pdf(plan: &Plan, options: PlanOptions, paper: &Paper, tiling: &TilingOptions) -> Result<Vec<u8>, PrintError> {
    let part = plan_part(plan, options, paper, tiling)?;
    write_pdf(&PdfDocument { title: part.title.clone(), parts: vec![part] })
}

fn fill(flow: &mut Flow, plan: &Plan, options: PlanOptions) {
    head(flow, plan);
    garments(flow, &plan.lines, options);
    baths(flow, plan, plan.loads.iter());
    if options.formulas {
        plan.loads.iter().for_each(|load| load_formulas(flow, load));
    }
    shopping(flow, plan, options);
    if let Some(costs) = &plan.costs {
        prices(flow, costs, options);
    }
    cautions(flow, &plan.cautions());
    limits(flow, plan);
    steps(flow, plan);
    flow.start_page();
    chart(flow, plan);
    flow.heading("Timetable, local clock time", 3.2);
    timetable(flow, &plan.timeline.entries.iter().collect::<Vec<_>>(), Days::AsHeadings, None);
    flow.paragraph(&format!("Ends {}.", day_time(plan.timeline.ends)));
    flow.notes("Notes", 3);
}

fn head(flow: &mut Flow, plan: &Plan) {
    let times = &plan.timeline;
    flow.heading(&plan.name, 5.0);
    untimely(flow, plan);
    let garments = counted(plan.garments, "garment");
    let dry_g = plan.totals.dry_g;
    let cloth = if dry_g < 1000.0 { format!("{} g", short(dry_g)) } else { format!("{} kg", short(dry_g / 1000.0)) };
    let loads = counted(plan.loads.len(), "load");
    flow.paragraph(&format!("{garments}, {cloth} of dry cloth, in {loads}. Recipe: {}.", plan.recipe));
    let hands = work_time(times.hands_min);
    flow.paragraph(&format!("From {} to {}, {hands} of it hands-on.", day_time(times.begins), day_time(times.ends)));
    flow.paragraph(if times.optimal { "No timetable from this start ends earlier." } else { "Good, but not proven shortest." });
    for change in &times.clock_changes {
        flow.paragraph(&format!("Clock change: {}. Waits allow for it.", change.sentence()));
    }
    if plan.loads.iter().any(|load| load.discharge.is_some()) {
        flow.words(&format!("Discharge {}, nowhere else.", plan.place), Face::Bold);
    }
    look_out(flow, plan, plan.warnings.iter());
}

/// Breadth of each of two columns, and the space between them, mm.
const COLUMN_MM: f64 = 93.0;
const BETWEEN_MM: f64 = 6.0;

/// What each line takes: two beside each other, or each on the whole breadth where there are formulas.
fn garments(flow: &mut Flow, lines: &[LinePlan], options: PlanOptions) {
    if options.formulas {
        lines.iter().for_each(|line| garment(flow, line, options));
        return;
    }
    for pair in lines.chunks(2) {
        let (left, right) = (pair.first(), pair.get(1));
        let of = |line: Option<&LinePlan>, flow: &mut Flow| line.into_iter().for_each(|line| garment(flow, line, options));
        flow.columns(COLUMN_MM, BETWEEN_MM, |flow| of(left, flow), |flow| of(right, flow));
    }
}

fn garment(flow: &mut Flow, line: &LinePlan, options: PlanOptions) {
    flow.heading(&format!("{} x {}", line.count, line.name), 3.2);
    amounts(flow, line, &[]);
    if options.formulas {
        let each = &line.each;
        let ice = each.ice.iter().flat_map(|ice| [&ice.ice, &ice.heat, &ice.melts_in]);
        let all = each.dyes.iter().map(|dye| &dye.dye).chain([&each.soda_strewn, &each.thread]).chain(ice);
        all.filter(|amount| amount.value > 0.0).for_each(|amount| formula(flow, amount));
    }
}

fn load_formulas(flow: &mut Flow, load: &Load) {
    flow.words(&format!("Load {}, worked out:", load.number), Face::Bold);
    if let Some(bath) = &load.discharge {
        formula(flow, &bath.mass);
        formula(flow, &bath.water);
    }
    if let Some(soak) = &load.soak {
        formula(flow, &soak.soda_ash);
        formula(flow, &soak.water);
        soak.ph.iter().for_each(|ph| formula(flow, ph));
        let (crystals, factor) = (short(soak.soda_ash.value * DECAHYDRATE_PER_SODA_ASH), short(DECAHYDRATE_PER_SODA_ASH));
        let text = format!("or {crystals} g of washing soda crystals: {factor} times as much, as they hold water");
        flow.words(&text, Face::Regular);
    }
    load.dyes.iter().for_each(|(_, amount)| formula(flow, amount));
}

fn formula(flow: &mut Flow, amount: &Amount) {
    flow.words(&format!("{amount}: {} [{}]", amount.formula, amount.status), Face::Regular);
}

fn shopping(flow: &mut Flow, plan: &Plan, options: PlanOptions) {
    flow.heading("Shopping list", 3.2);
    let columns = [tick(), words("What"), number("Needed"), number("In stock"), words("To buy"), number("Price")];
    let mut rows: Vec<Row> = plan.shopping.iter().map(|line| to_buy(line, options)).collect();
    rows.extend(plan.blanks.iter().map(blank_to_buy));
    flow.table(&columns, &rows);
    for words in packs_unknown(&plan.shopping).into_iter().chain(blanks_unpriced(&plan.blanks)) {
        flow.paragraph(&words);
    }
    if let Some(total) = plan.shopping_total() {
        flow.paragraph(&format!("Total {total}."));
    }
}

fn blank_to_buy(line: &BlankLine) -> Row {
    let cells = vec![
        if line.missing > 0 { BOX.to_owned() } else { String::new() },
        line.name.clone(),
        line.needed.to_string(),
        line.on_hand.to_string(),
        if line.missing > 0 { line.missing.to_string() } else { "nothing".to_owned() },
        line.price.filter(|price| *price > 0.0).map_or_else(String::new, |price| format!("{price:.2}")),
    ];
    Row { cells, ..Row::default() }
}

fn to_buy(line: &ShoppingLine, options: PlanOptions) -> Row {
    let unit = line.needed.unit;
    let buy = line.to_buy_words();
    let cells = vec![
        if buy.is_some() { BOX.to_owned() } else { String::new() },
        line.material.to_string(),
        line.needed.to_string(),
        unit.say(line.on_hand),
        buy.unwrap_or_else(|| "nothing".to_owned()),
        line.price.filter(|price| *price > 0.0).map_or_else(String::new, |price| format!("{price:.2}")),
    ];
    let formula = options.formulas.then(|| format!("{} [{}]", line.needed.formula, line.needed.status));
    let below = line.uses_words().into_iter().chain(formula).collect();
    Row { cells, below, ..Row::default() }
}

fn prices(flow: &mut Flow, costs: &CostSheet, options: PlanOptions) {
    flow.heading(&format!("Costs and asking price of one garment, {}", costs.currency), 3.2);
    let columns = [
        words("What"),
        number("Garment"),
        number("Materials"),
        number("Hours"),
        number("Labour"),
        number("Cost"),
        number("Price"),
    ];
    let row = |line: &crate::plan::LineCost| {
        let LineCostWords { blank, materials, labour, cost, price } = line.words();
        let cells = vec![line.name.clone(), blank, materials, format!("{:.2}", line.labour_h), labour, cost, price];
        Row { cells, below: if options.formulas { vec![line.formula.clone()] } else { Vec::new() }, ..Row::default() }
    };
    flow.table(&columns, &costs.lines.iter().map(row).collect::<Vec<_>>());
    flow.paragraph(&costs.total_words());
    if let Some(words) = costs.not_counted() {
        flow.paragraph(&format!("{words}."));
    }
}

/// What may not wait longer.
fn limits(flow: &mut Flow, plan: &Plan) {
    let limits = plan.limits();
    if !limits.is_empty() {
        flow.heading("Once you start", 3.2);
        limits.iter().for_each(|limit| flow.words(&format!("{limit}."), Face::Bold));
    }
}

/// What each step is, once.
fn steps(flow: &mut Flow, plan: &Plan) {
    flow.heading("The steps", 3.2);
    let mut of: Option<usize> = None;
    for Entry { process, step, what, .. } in plan.steps() {
        if plan.processes.len() > 1 && of != Some(*process) {
            flow.words(&plan.processes[*process], Face::Bold);
        }
        of = Some(*process);
        flow.paragraph(&format!("{step}: {what}"));
    }
}

fn day_time(time: DateTime) -> String {
    time.strftime("%A %-d %B %Y, %H:%M").to_string()
}
