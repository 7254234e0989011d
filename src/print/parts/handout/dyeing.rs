//! Dyeing it: cautions first, then what one garment takes, then what is done and how long it takes.

use super::{Content, Detail};
use crate::plan::{Entry, Wait, duration, work_time};
use crate::print::parts::day::{amounts, bath, cautions, look_out};
use crate::print::parts::flow::Flow;
use crate::print::parts::table::{Row, number, words};

/// Cautions, amounts, baths, steps.
pub(super) fn show(flow: &mut Flow, content: &Content<'_>, detail: Detail) {
    let plan = content.plan;
    flow.heading("Dyeing one garment", 4.0);
    cautions(flow, &plan.cautions());
    look_out(flow, plan, plan.warnings.iter());
    if let Some(line) = plan.lines.first() {
        let of_line = |flow: &mut Flow| amounts(flow, line, &content.figures.colours);
        if let Some(height_mm) = flow.height_mm(flow.room_mm(), of_line) {
            flow.keep_together(height_mm);
        }
        of_line(flow);
        let dry_g = line.each.dry_g;
        flow.paragraph(&format!(
            "For a garment of another weight, take each amount times its dry weight in grams over {dry_g:.0}."
        ));
    }
    if plan.loads.iter().any(|load| load.discharge.is_some() || load.soak.is_some()) {
        flow.heading("Baths", 3.2);
        plan.loads.iter().for_each(|load| bath(flow, load, plan));
    }
    flow.heading("Steps and times", 3.2);
    let days = plan.timeline.begins.date().until(plan.timeline.ends.date()).map_or(1, |span| span.get_days() + 1);
    let hands = work_time(plan.timeline.hands_min);
    flow.paragraph(&format!("{hands} hands-on; {days} days with the waits, if you work from morning to evening."));
    if detail == Detail::Full {
        flow.paragraph("Where a step names the job card or the plan, this handout stands for it; share each colour out by eye over its sections.");
    } else {
        flow.paragraph("How each step is done stands on the plan that the program prints: ask for it with this handout.");
    }
    match detail {
        Detail::Full => told(flow, &plan.timeline.entries),
        Detail::Short => listed(flow, &plan.timeline.entries),
    }
}

/// Every step with its words.
fn told(flow: &mut Flow, entries: &[Entry]) {
    let columns = [words("Step"), words("What to do"), words("Where"), words("Hands-on"), words("Then wait")];
    let row = |entry: &Entry| {
        let [title, place, hands, wait] = cells(entry);
        Row { cells: vec![title, entry.what.clone(), place, hands, wait], ..Row::default() }
    };
    flow.table(&columns, &entries.iter().map(row).collect::<Vec<_>>());
}

/// Every step with its times alone, in two columns.
fn listed(flow: &mut Flow, entries: &[Entry]) {
    let of_block = [words("Step"), words("Where"), number("Hands-on"), words("Then wait")];
    let columns = of_block.repeat(2);
    let rows = entries.len().div_ceil(2);
    let row = |at: usize| {
        let beside = [at, at + rows].into_iter().filter_map(|at| entries.get(at));
        Row { cells: beside.flat_map(cells).collect(), ..Row::default() }
    };
    flow.table(&columns, &(0..rows).map(row).collect::<Vec<_>>());
}

/// What it is, where it is done, how long hands are at it, how long it then waits.
fn cells(entry: &Entry) -> [String; 4] {
    let place = entry.place.map(|place| place.to_string());
    let warmth = entry.temperature.map(|range| range.to_string());
    let place = place.into_iter().chain(warmth).collect::<Vec<_>>().join(", ");
    [entry.title.clone(), place, duration(entry.hands_min), entry.wait.map(waits).unwrap_or_default()]
}

/// A wait in words: `20 min to 1 h`, `8 h or more`, `at most 3 h`.
fn waits(wait: Wait) -> String {
    let time = |minutes: u32| duration(i64::from(minutes));
    match (wait.least_min, wait.most_min) {
        (0, None) => String::new(),
        (least, None) => format!("{} or more", time(least)),
        (0, Some(most)) => format!("at most {}", time(most)),
        (least, Some(most)) => format!("{} to {}", time(least), time(most)),
    }
}
