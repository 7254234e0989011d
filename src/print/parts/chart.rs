//! The timetable as a chart: a panel a day, a row for the hands and for each tub, sink, washer, table, rack and line, hours across.

use super::flow::{CAP_MM, Flow, PAGE_WIDTH_MM};
use crate::plan::{Entry, Place, Plan};
use crate::print::{Anchor, Face, Layer, Pattern, Shape, width_mm};
use jiff::civil::{Date, DateTime};
use jiff::{SignedDuration, ToSpan as _};
use kurbo::{Point, Rect, Shape as _};

/// Between the names of the rows and the hours, mm.
const BEHIND_NAMES_MM: f64 = 3.0;
/// From one row to the next, and height of a bar, mm.
const ROW_MM: f64 = 5.8;
const BAR_MM: f64 = 4.8;
/// Shortest bar drawn, mm: a step of a minute can still be seen.
const SHORTEST_MM: f64 = 0.4;

/// What is busy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Row {
    Hands,
    /// The place and which of several, from 0.
    Place(Place, usize),
}

/// A stretch of time on a row.
#[derive(Debug, Clone, PartialEq)]
struct Bar {
    row: Row,
    from: DateTime,
    /// Hands are at it until then.
    hands_until: DateTime,
    to: DateTime,
    /// The load's number, and the step.
    load: Option<u32>,
    step: String,
}

/// Every bar of a plan.
fn bars(plan: &Plan) -> Vec<Bar> {
    let mut bars = Vec::new();
    for entry in &plan.timeline.entries {
        let bar = |row, from, hands_until, to| Bar { row, from, hands_until, to, load: entry.load, step: entry.step.clone() };
        for stretch in &entry.stretches {
            bars.push(bar(Row::Hands, stretch.from, stretch.to, stretch.to));
        }
        let Some(place) = entry.place else { continue };
        let last = entry.stretches.len().saturating_sub(1);
        for (index, stretch) in entry.stretches.iter().enumerate() {
            let to = if index == last { leaves(entry, stretch.to) } else { stretch.to };
            bars.push(bar(Row::Place(place, 0), stretch.from, stretch.to, to));
        }
    }
    bars.sort_by_key(|bar| (bar.row, bar.from, bar.to));
    give_lanes(&mut bars);
    bars
}

/// When a load leaves the place of a step: when the next step takes it, or its least wait is over.
fn leaves(entry: &Entry, hands_end: DateTime) -> DateTime {
    match (entry.wait, entry.next) {
        (None, _) => hands_end,
        (Some(_), Some(next)) => next.max(hands_end),
        (Some(_), None) => entry.ready.unwrap_or(hands_end),
    }
}

/// Puts bars of one place that overlap in lanes of their own, each in the first that is free.
fn give_lanes(bars: &mut [Bar]) {
    let mut taken: Vec<(Place, Vec<DateTime>)> = Vec::new();
    for bar in bars {
        let Row::Place(place, lane) = &mut bar.row else { continue };
        let known = taken.iter().position(|(known, _)| known == place);
        let index = known.unwrap_or_else(|| {
            taken.push((*place, Vec::new()));
            taken.len() - 1
        });
        let lanes = &mut taken[index].1;
        *lane = lanes.iter().position(|&until| until <= bar.from).unwrap_or_else(|| {
            lanes.push(bar.to);
            lanes.len() - 1
        });
        lanes[*lane] = bar.to;
    }
}

/// Draws the chart, a panel for every day on which hands have something to do.
pub(super) fn chart(flow: &mut Flow, plan: &Plan) {
    let bars = bars(plan);
    let hands: Vec<&Bar> = bars.iter().filter(|bar| bar.row == Row::Hands && bar.to > bar.from).collect();
    let hours = hours(&hands);
    let mut days: Vec<Date> = hands.iter().map(|bar| bar.from.date()).collect();
    days.sort_unstable();
    days.dedup();
    flow.heading("The days at a glance", 3.2);
    flow.paragraph("Numbers are loads. White: hands-on. Hatched: waiting, past the edge if it lasts overnight.");
    let mut panels: Vec<Panel<'_>> = days.into_iter().map(|day| Panel::of(&bars, day, hours)).collect();
    // All panels begin their hours behind the longest name.
    let names_mm = panels.iter().map(Panel::longest_name_mm).fold(0.0, f64::max) + BEHIND_NAMES_MM;
    panels.iter_mut().for_each(|panel| panel.names_mm = names_mm);
    panels.iter().for_each(|panel| panel.draw(flow));
}

/// The hours that all panels show: from the first full hour at which hands ever begin to the last at which they are done.
fn hours(hands: &[&Bar]) -> (i64, i64) {
    let hour = |time: DateTime| i64::from(time.hour());
    let first = hands.iter().map(|bar| hour(bar.from)).min().unwrap_or(8);
    let last = hands.iter().map(|bar| if bar.to.date() > bar.from.date() { 24 } else { hour(bar.to) + 1 }).max().unwrap_or(20);
    (first, last.clamp(first + 1, 24))
}

/// One day.
struct Panel<'a> {
    day: Date,
    from: DateTime,
    to: DateTime,
    bars: Vec<&'a Bar>,
    rows: Vec<Row>,
    /// Breadth of the names of the rows, mm.
    names_mm: f64,
}

impl<'a> Panel<'a> {
    fn of(bars: &'a [Bar], day: Date, (first, last): (i64, i64)) -> Self {
        let midnight = day.to_datetime(jiff::civil::Time::midnight());
        let (from, to) = (midnight.saturating_add(first.hours()), midnight.saturating_add(last.hours()));
        let bars: Vec<&Bar> = bars.iter().filter(|bar| bar.from < to && bar.to > from).collect();
        let mut rows: Vec<Row> = bars.iter().map(|bar| bar.row).collect();
        rows.sort_unstable();
        rows.dedup();
        Self { day, from, to, bars, rows, names_mm: 0.0 }
    }

    fn draw(&self, flow: &mut Flow) {
        flow.keep_together(6.0 + 5.0 + self.rows.len() as f64 * ROW_MM + 2.0);
        flow.heading(&self.day.strftime("%A %-d %B %Y").to_string(), 2.8);
        let top_mm = flow.take(4.0) + 1.0;
        flow.take(1.0 + self.rows.len() as f64 * ROW_MM);
        self.hour_lines(flow, top_mm);
        for (index, &row) in self.rows.iter().enumerate() {
            let row_mm = top_mm + index as f64 * ROW_MM;
            let at = Point::new(0.0, row_mm + 0.5 * (ROW_MM + CAP_MM));
            flow.put(&self.name(row), at, Anchor::Start, Face::Bold);
            for bar in self.bars.iter().filter(|bar| bar.row == row) {
                self.bar(flow, bar, row_mm + 0.5 * (ROW_MM - BAR_MM));
            }
        }
        flow.y_mm += 1.5;
    }

    fn longest_name_mm(&self) -> f64 {
        self.rows.iter().map(|&row| width_mm(&self.name(row), Face::Bold, CAP_MM)).fold(0.0, f64::max)
    }

    /// A row's name, with a number where there are several of it.
    fn name(&self, row: Row) -> String {
        match row {
            Row::Hands => "hands".to_owned(),
            Row::Place(place, lane) => {
                let several =
                    self.bars.iter().any(|bar| matches!(bar.row, Row::Place(other, lane) if other == place && lane > 0));
                if several { format!("{place} {}", lane + 1) } else { place.to_string() }
            }
        }
    }

    fn x_mm(&self, time: DateTime) -> f64 {
        let share = self.from.duration_until(time.clamp(self.from, self.to)).as_secs_f64() / self.span().as_secs_f64();
        self.names_mm + share * (PAGE_WIDTH_MM - self.names_mm)
    }

    fn span(&self) -> SignedDuration {
        self.from.duration_until(self.to)
    }

    /// Hours, their lines broken where a bar is.
    fn hour_lines(&self, flow: &mut Flow, top_mm: f64) {
        for hour in 0..=self.span().as_hours() {
            let time = self.from.saturating_add(hour.hours());
            let x_mm = self.x_mm(time);
            for (index, &row) in self.rows.iter().enumerate() {
                let row_mm = top_mm + index as f64 * ROW_MM;
                if self.bars.iter().all(|bar| bar.row != row || time <= bar.from || time >= bar.to) {
                    flow.page().line(Layer::Map, (x_mm, row_mm), (x_mm, row_mm + ROW_MM));
                }
            }
            let (anchor, name) = match hour {
                hour if hour == self.span().as_hours() => (Anchor::End, i64::from(self.from.hour()) + hour),
                _ => (Anchor::Middle, i64::from(time.hour())),
            };
            flow.put(&name.to_string(), Point::new(x_mm, top_mm - 1.0), anchor, Face::Regular);
        }
    }

    fn bar(&self, flow: &mut Flow, bar: &Bar, top_mm: f64) {
        let (x0, x1) = (self.x_mm(bar.from), self.x_mm(bar.to));
        let x1 = x1.max(x0 + SHORTEST_MM);
        let rect = Rect::new(x0, top_mm, x1, top_mm + BAR_MM);
        let label = self.label(bar, rect.width());
        let label_mm = label.as_ref().map_or(0.0, |label| width_mm(label, Face::Regular, CAP_MM) + 1.4);
        // Words stand on bare paper; what waits is hatched behind them.
        let waits_from = self.x_mm(bar.hands_until).max(x0 + label_mm);
        if bar.to > bar.hands_until && waits_from < x1 {
            let area = Rect::new(waits_from, rect.y0, x1, rect.y1);
            flow.page().add(Layer::Fill, Shape::Area { outline: area.to_path(0.1), pattern: Pattern::Rising });
        }
        flow.page().path(Layer::Cut, rect.to_path(0.1));
        if let Some(label) = label {
            let at = Point::new(x0 + 0.7, top_mm + 0.5 * (BAR_MM + CAP_MM));
            flow.put(&label, at, Anchor::Start, Face::Regular);
        }
    }

    /// Load and step, or the load alone, or nothing, as there is room.
    fn label(&self, bar: &Bar, room_mm: f64) -> Option<String> {
        let load = bar.load.map(|load| load.to_string());
        let whole = load.as_ref().map_or_else(|| bar.step.clone(), |load| format!("{load} {}", bar.step));
        let fits = |label: &String| width_mm(label, Face::Regular, CAP_MM) + 1.4 <= room_mm;
        // What began on an earlier day is named by its load alone.
        let whole = Some(whole).filter(|_| bar.from >= self.from);
        whole.filter(fits).or(load.filter(fits))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(place: Place, from: i64, to: i64) -> Bar {
        let at = |minute: i64| jiff::civil::date(2027, 5, 3).at(8, 0, 0, 0).saturating_add(minute.minutes());
        Bar { row: Row::Place(place, 0), from: at(from), hands_until: at(from), to: at(to), load: Some(1), step: String::new() }
    }

    #[test]
    fn bars_that_overlap_get_lanes_of_their_own() {
        let mut bars = [bar(Place::Tub, 0, 60), bar(Place::Tub, 30, 90), bar(Place::Tub, 60, 70), bar(Place::Sink, 0, 60)];
        give_lanes(&mut bars);
        let lanes: Vec<usize> = bars.iter().map(|bar| if let Row::Place(_, lane) = bar.row { lane } else { 9 }).collect();
        assert_eq!(lanes, [0, 1, 0, 0]);
    }
}
