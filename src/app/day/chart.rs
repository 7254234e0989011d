//! The timetable as a chart: places from top to bottom, hours from left to right; and as a list.

use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::plan::{Entry, Hazard, Place, Plan, Timeline, duration};
use egui::{Align2, Color32, FontId, Label, Rangef, Rect, RichText, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};
use jiff::ToSpan as _;
use jiff::civil::{DateTime, Time};

/// Least height of a place's row, height of a lane in it, and breadth of the places' names, points.
const ROW: f32 = 34.0;
const LANE: f32 = 22.0;
/// Most height of a row: the lanes of a large order share it.
const MOST_ROW: f32 = 190.0;
const NAMES: f32 = 74.0;

/// Hours across the chart.
struct Scale {
    rect: Rect,
    begins: DateTime,
    minutes: f64,
}

impl Scale {
    fn new(rect: Rect, timeline: &Timeline) -> Self {
        let begins = timeline.begins.date().to_datetime(Time::midnight());
        let minutes = minutes(begins, timeline.ends).max(60.0);
        Self { rect, begins, minutes }
    }

    fn x(&self, time: DateTime) -> f32 {
        self.rect.left() + self.rect.width() * screen(minutes(self.begins, time) / self.minutes)
    }
}

fn minutes(from: DateTime, to: DateTime) -> f64 {
    from.duration_until(to).as_secs_f64() / 60.0
}

pub(super) fn show(plan: &Plan, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    let timeline = &plan.timeline;
    let words = |time: DateTime| time.strftime("%A %-d %B, %H:%M").to_string();
    ui.label(RichText::new(format!("{} to {}", words(timeline.begins), words(timeline.ends))).strong().size(17.0));
    for conflict in &timeline.conflicts {
        ui.label(RichText::new(format!("Conflict: {conflict}.")).color(palette.refused));
    }
    let places: Vec<Option<Place>> = Place::ALL
        .into_iter()
        .map(Some)
        .chain([None])
        .filter(|place| timeline.entries.iter().any(|entry| entry.place == *place))
        .collect();
    let rows: Vec<Row<'_>> = places.into_iter().map(|place| Row::of(place, timeline)).collect();
    let height = rows.iter().map(Row::height).sum::<f32>() + 24.0;
    let (response, painter) = ui.allocate_painter(vec2(ui.available_width() - 8.0, height), Sense::hover());
    response
        .widget_info(|| WidgetInfo::labeled(Role::Image, true, "Timetable: places from top to bottom, hours from left to right"));
    let rect = Rect::from_min_max(response.rect.min + vec2(NAMES, 20.0), response.rect.max);
    let scale = Scale::new(rect, timeline);
    hours(&scale, &painter, palette);
    let mut pointed = None;
    let mut top = rect.top();
    for row in &rows {
        let (middle, foot) = (top + 0.5 * row.height(), top + row.height());
        let name = row.place.map_or("anywhere", Place::name);
        painter.text(pos2(response.rect.left(), middle), Align2::LEFT_CENTER, name, FontId::proportional(14.0), palette.ink);
        painter.hline(rect.x_range(), foot, Stroke::new(1.0, palette.faint.gamma_multiply(0.4)));
        for (entry, lane) in &row.entries {
            let lane = row.lane(*lane, top, rect);
            if bars(entry, &scale, lane, &painter, palette)
                .is_some_and(|bar| response.hover_pos().is_some_and(|at| bar.contains(at)))
            {
                pointed = Some(*entry);
            }
        }
        top = foot;
    }
    if let Some(entry) = pointed {
        response.on_hover_ui_at_pointer(|ui| about(entry, ui));
    }
    let legend = "Solid: hands-on. Faint: waiting. Numbers are loads.";
    ui.label(RichText::new(legend).weak().small());
    ui.add_space(6.0);
    list(timeline, ui);
}

/// A place with what is done there, bars that overlap in lanes of their own.
struct Row<'a> {
    place: Option<Place>,
    entries: Vec<(&'a Entry, usize)>,
    lanes: usize,
}

impl<'a> Row<'a> {
    fn of(place: Option<Place>, timeline: &'a Timeline) -> Self {
        let mut entries: Vec<&Entry> = timeline.entries.iter().filter(|entry| entry.place == place).collect();
        entries.sort_by_key(|entry| entry.begins());
        let lanes = lanes(&entries.iter().map(|entry| (entry.begins(), leaves(entry))).collect::<Vec<_>>());
        let count = lanes.iter().max().map_or(1, |last| last + 1);
        Self { place, entries: entries.into_iter().zip(lanes).collect(), lanes: count }
    }

    fn height(&self) -> f32 {
        (LANE * screen(self.lanes as f64) + 8.0).clamp(ROW, MOST_ROW)
    }

    /// A lane of it, its upper edge being at `top`.
    fn lane(&self, lane: usize, top: f32, chart: Rect) -> Rect {
        let high = (self.height() - 8.0) / screen(self.lanes as f64);
        let above = top + 4.0 + high * screen(lane as f64);
        Rect::from_min_max(pos2(chart.left(), above + 1.0), pos2(chart.right(), above + high - 1.0))
    }
}

/// When a bar ends: its wait too.
fn leaves(entry: &Entry) -> DateTime {
    let hands_end = entry.stretches.last().map_or_else(|| entry.begins(), |last| last.to);
    entry.next.or(entry.ready).map_or(hands_end, |ready| ready.max(hands_end))
}

/// The first lane that is free for each of some bars, which rise by their beginnings.
fn lanes(bars: &[(DateTime, DateTime)]) -> Vec<usize> {
    let mut taken: Vec<DateTime> = Vec::new();
    let lane = |&(from, to): &(DateTime, DateTime)| {
        let lane = taken.iter().position(|&until| until <= from).unwrap_or(taken.len());
        if lane == taken.len() {
            taken.push(to);
        } else {
            taken[lane] = to;
        }
        lane
    };
    bars.iter().map(lane).collect()
}

/// Days and hours as lines.
fn hours(scale: &Scale, painter: &egui::Painter, palette: &Palette) {
    let per_hour = f64::from(scale.rect.width()) / (scale.minutes / 60.0);
    let step_h = [1_i64, 2, 3, 6, 12, 24].into_iter().find(|&hours| hours as f64 * per_hour > 34.0).unwrap_or(24);
    let end_h = scale.minutes / 60.0;
    let steps = || (0_i64..).map(|step| step * step_h).take_while(|&hour| hour as f64 <= end_h);
    let times: Vec<DateTime> = steps().map_while(|hour| scale.begins.checked_add(hour.hours()).ok()).collect();
    let (days, hours): (Vec<DateTime>, Vec<DateTime>) = times.into_iter().partition(|time| time.time() == Time::midnight());
    // Days first: an hour's name stands where they leave room.
    let mut taken: Vec<Rangef> = Vec::new();
    for time in days.into_iter().chain(hours) {
        let x = scale.x(time);
        let midnight = time.time() == Time::midnight();
        let stroke =
            Stroke::new(if midnight { 1.6 } else { 0.6 }, palette.faint.gamma_multiply(if midnight { 0.9 } else { 0.4 }));
        painter.vline(x, scale.rect.y_range(), stroke);
        let words = if midnight { time.strftime("%a %-d").to_string() } else { time.strftime("%H").to_string() };
        let size = if midnight { 13.0 } else { 11.0 };
        let galley = painter.layout_no_wrap(words, FontId::proportional(size), palette.faint);
        if let Some(left) = label_left(x, galley.size().x, &taken, scale.rect.x_range()) {
            taken.push(Rangef::new(left - 2.0, left + galley.size().x + 2.0));
            painter.galley(pos2(left, scale.rect.top() - 2.0 - galley.size().y), galley, palette.faint);
        }
    }
}

/// Where the label of a line begins: right of it; left of it where the chart ends before; none where neither is free.
fn label_left(x: f32, width: f32, taken: &[Rangef], chart: Rangef) -> Option<f32> {
    let is_free = |left: f32| taken.iter().all(|other| left + width <= other.min || left >= other.max);
    let fits = |left: f32| left >= chart.min && left + width <= chart.max;
    [x + 2.0, x - 2.0 - width].into_iter().find(|&left| fits(left) && is_free(left))
}

/// A step's bars; the whole of them.
fn bars(entry: &Entry, scale: &Scale, lane: Rect, painter: &egui::Painter, palette: &Palette) -> Option<Rect> {
    let bar = |from: DateTime, to: DateTime| {
        let (left, right) = (scale.x(from), scale.x(to));
        Rect::from_min_max(pos2(left, lane.top()), pos2(right.max(left + 2.0), lane.bottom()))
    };
    let mut whole: Option<Rect> = None;
    let mut add = |rect: Rect, tone: Color32| {
        painter.rect_filled(rect, 2.0, tone);
        whole = Some(whole.map_or(rect, |before| before.union(rect)));
    };
    if let (Some(last), Some(ready)) = (entry.stretches.last(), entry.next.or(entry.ready)) {
        add(bar(last.to, ready.max(last.to)), palette.accent.gamma_multiply(0.35));
    }
    for stretch in &entry.stretches {
        add(bar(stretch.from, stretch.to), palette.accent);
    }
    if let (Some(load), Some(rect)) = (entry.load, whole.filter(|rect| rect.width() > 14.0 && rect.height() > 12.0)) {
        let tone = palette.ink;
        painter.text(rect.center(), Align2::CENTER_CENTER, load.to_string(), FontId::proportional(12.0), tone);
    }
    whole
}

fn about(entry: &Entry, ui: &mut Ui) {
    ui.set_max_width((ui.ctx().content_rect().width() - 24.0).min(360.0));
    ui.strong(title(entry));
    ui.label(&entry.what);
    for needs in entry.needs_words() {
        ui.label(needs);
    }
    for caution in entry.cautions.iter().filter(|caution| caution.hazard != Hazard::Defer) {
        ui.label(RichText::new(&caution.text).color(Palette::of(ui.ctx()).warn));
    }
}

fn title(entry: &Entry) -> String {
    entry.load.map_or_else(|| entry.title.clone(), |load| format!("{}, load {load}", entry.step))
}

/// The steps in the order of the clock.
fn list(timeline: &Timeline, ui: &mut Ui) {
    let mut entries: Vec<&Entry> = timeline.entries.iter().collect();
    entries.sort_by_key(|entry| entry.begins());
    if ui.available_width() < NARROW {
        for entry in entries {
            ui.horizontal_wrapped(|ui| {
                ui.label(begins_words(entry));
                ui.label(hands_words(entry));
            });
            ui.add(named(entry)).on_hover_ui(|ui| about(entry, ui));
            after(entry, ui);
            ui.add_space(4.0);
        }
        return;
    }
    let rest = (ui.available_width() - BEGINS - HANDS - 3.0 * ui.spacing().item_spacing.x).max(1.0);
    for (row, entry) in entries.into_iter().enumerate() {
        let ground = if row % 2 == 1 { ui.visuals().faint_bg_color } else { Color32::TRANSPARENT };
        egui::Frame::NONE.fill(ground).show(ui, |ui| {
            ui.horizontal_top(|ui| {
                cell(BEGINS, ui, |ui| drop(ui.label(begins_words(entry))));
                cell(HANDS, ui, |ui| drop(ui.label(hands_words(entry))));
                cell(TITLE_SHARE * rest, ui, |ui| drop(ui.add(named(entry)).on_hover_ui(|ui| about(entry, ui))));
                cell((1.0 - TITLE_SHARE) * rest, ui, |ui| after(entry, ui));
            });
        });
    }
}

/// A cell of the list, so broad; its words go on below.
fn cell(width: f32, ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(vec2(width, 0.0), egui::Layout::top_down(egui::Align::Min), |ui| {
        ui.set_width(width);
        add(ui);
    });
}

/// Room below which the list has no columns, points.
const NARROW: f32 = 560.0;
/// Breadth of a step's beginning and of how long hands are on it, points, and the share of the rest that its title takes.
const BEGINS: f32 = 140.0;
const HANDS: f32 = 84.0;
const TITLE_SHARE: f32 = 0.38;

fn begins_words(entry: &Entry) -> String {
    entry.begins().strftime("%a %-d %b %H:%M").to_string()
}

/// How long hands are on it.
fn hands_words(entry: &Entry) -> RichText {
    RichText::new(duration(entry.hands_min)).weak()
}

fn named(entry: &Entry) -> Label {
    Label::new(title(entry)).wrap()
}

/// How long it waits then, and whether there is something to mind.
fn after(entry: &Entry, ui: &mut Ui) {
    if let Some(wait) = entry.wait_words() {
        ui.add(Label::new(RichText::new(wait).weak()).wrap());
    }
    if entry.cautions.iter().any(|caution| caution.hazard != Hazard::Defer) {
        let tone = Palette::of(ui.ctx()).warn;
        ui.label(RichText::new("caution").color(tone)).on_hover_ui(|ui| about(entry, ui));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The last hour's label used to be cut by the chart's edge.
    #[test]
    fn labels_stay_inside_the_chart_and_off_each_other() {
        let chart = Rangef::new(0.0, 100.0);
        let until = |end: f32| [Rangef::new(0.0, end)];
        assert_eq!(label_left(50.0, 20.0, &[], chart), Some(52.0));
        assert_eq!(label_left(100.0, 20.0, &until(74.0), chart), Some(78.0), "left of the last line");
        assert_eq!(label_left(90.0, 20.0, &until(74.0), chart), None, "no room on either side");
        assert_eq!(label_left(30.0, 20.0, &[Rangef::new(40.0, 60.0)], chart), Some(8.0), "clear of a day's name behind it");
    }

    /// Two loads in one tub stood over each other, and their numbers with them.
    #[test]
    fn bars_that_overlap_lie_in_lanes_of_their_own() {
        let at = |hour: i8| jiff::civil::date(2027, 5, 3).at(hour, 0, 0, 0);
        let bars = [(at(8), at(10)), (at(9), at(12)), (at(10), at(11)), (at(11), at(13)), (at(11), at(12))];
        assert_eq!(lanes(&bars), [0, 1, 0, 0, 2]);
        assert_eq!(lanes(&[]), [0; 0]);
    }
}
