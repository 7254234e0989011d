//! What a job card shows beside the layout's own numbers.

use crate::layout::Layout;
use crate::plan::{LinePlan, Plan};
use crate::reveal::Picture;
use jiff::civil::Date;

/// What a job card shows beside the layout's own numbers.
#[derive(Debug, Clone, Copy, Default)]
pub struct CardOptions<'a> {
    /// The plan of the day: grams, baths, timetable and cautions.
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
        format!("Layout {}{date}.", layout.fingerprint())
    }

    /// Which sheet this is, and what it belongs to.
    pub(super) fn belongs_to(&self, layout: &Layout) -> String {
        let mark = self.mark(layout);
        match self.plan_line() {
            Some((plan, line)) if plan.garments > 1 => format!("{} of it in \"{}\". {mark}", line.count, plan.name),
            _ => mark,
        }
    }

    /// The plan's line that the layout is.
    pub(super) fn plan_line(&self) -> Option<(&Plan, &LinePlan)> {
        let plan = self.plan?;
        Some((plan, plan.lines.get(self.line)?))
    }
}
