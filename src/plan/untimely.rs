//! A plan that time does not hold: its deadline can't be met, or its beginning is past. Said first, with the earliest end and what would
//! make the deadline possible.

use super::timing::{Timing, Way};
use super::{DayHours, GoOn, Hours, Order, Solution, WallClock, Weekday, duration};
use jiff::civil::{DateTime, Time};
use serde::Serialize;

/// What is wrong with when a plan was asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Untimely {
    /// What time it was; none where the caller did not say.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<DateTime>,
    /// When the plan begins, where that was past.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub past: Option<DateTime>,
    /// Work can begin no sooner than this: now, or the start asked for.
    pub from: DateTime,
    /// When everything is over if it begins then.
    pub ends: DateTime,
    /// Whether no timetable from then is shown to end earlier.
    pub optimal: bool,
    /// The deadline, if that can't be met.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub missed: Option<MissedDeadline>,
}

/// A deadline that can't be met.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct MissedDeadline {
    /// The deadline.
    pub deadline: DateTime,
    /// By how much it is missed, min.
    pub by_min: i64,
    /// What would meet it, each by itself; each was planned.
    pub cures: Vec<Cure>,
}

/// Something that would meet a deadline.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Cure {
    /// An earlier start.
    Begin {
        /// By then.
        by: DateTime,
    },
    /// Fewer garments: the order's first so many.
    Garments {
        /// So many.
        count: u32,
        /// Of so many.
        of: u32,
    },
    /// More vessels for the discharge.
    Vessels {
        /// So many.
        count: u32,
    },
    /// Longer hours.
    Hours {
        /// Work ends at this time of day, `24:00` for midnight; none where it ends as it does.
        #[serde(skip_serializing_if = "Option::is_none")]
        until: Option<String>,
        /// Days off that are worked too.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        days: Vec<Weekday>,
    },
}

/// Most vessels beside those that there are that are tried. Own choice: nobody buys five pots for an order.
const MOST_MORE_VESSELS: u32 = 3;
/// How finely an hour of closing is searched, min.
const CLOSING_STEP_MIN: u32 = 15;
/// Minutes of a day.
const DAY_MIN: u32 = 24 * 60;

/// An order with what its end depends on.
pub(super) struct Deadline<'a> {
    pub(super) order: &'a Order,
    pub(super) clock: &'a WallClock,
    /// What time it is; none where nobody says.
    pub(super) now: Option<DateTime>,
    /// False when the work is to stop.
    pub(super) go_on: GoOn<'a>,
}

impl Deadline<'_> {
    /// What to say of a plan that begins in the past.
    pub(super) fn past(&self, begins: DateTime, deadline: Option<DateTime>) -> Option<Untimely> {
        let now = self.now.filter(|now| begins < *now)?;
        let (ends, optimal) = self.end(self.order, &self.hours()?, now)?;
        let missed = deadline.filter(|deadline| ends > *deadline);
        let missed = missed.and_then(|deadline| self.missed(deadline, now, ends));
        Some(Untimely { now: self.now, past: Some(begins), from: now, ends, optimal, missed })
    }

    /// What to say of a deadline that a plan begun no sooner than `from` misses, by when that is over.
    pub(super) fn late(&self, deadline: DateTime, from: DateTime, ends: DateTime, solution: &Solution) -> Option<Untimely> {
        let missed = Some(self.missed(deadline, from, ends)?);
        Some(Untimely { now: self.now, past: None, from, ends, optimal: solution.optimal, missed })
    }

    fn missed(&self, deadline: DateTime, from: DateTime, ends: DateTime) -> Option<MissedDeadline> {
        let by_min = self.clock.minutes(deadline, ends)?;
        let cures = if deadline > from { self.cures(deadline, from) } else { Vec::new() };
        Some(MissedDeadline { deadline, by_min, cures })
    }

    fn cures(&self, deadline: DateTime, from: DateTime) -> Vec<Cure> {
        let hours = [self.later_closing(deadline, from, &[]), self.days_off(deadline, from)];
        let mut hours: Vec<Cure> = hours.into_iter().flatten().collect();
        if hours.is_empty() {
            let days = &self.order.raw().workshop.days_off;
            hours.extend(if days.is_empty() { None } else { self.later_closing(deadline, from, days) });
        }
        self.earlier(deadline, from)
            .into_iter()
            .chain(self.fewer(deadline, from))
            .chain(self.vessels(deadline, from))
            .chain(hours)
            .collect()
    }

    /// The latest start that meets the deadline, where it is still to come.
    fn earlier(&self, deadline: DateTime, from: DateTime) -> Option<Cure> {
        let timing = Timing::of(self.order, &self.hours()?, (deadline, Way::Backward), self.clock)?;
        let by = timing.begins(&timing.by(deadline, self.go_on)?)?;
        (by < from && self.now.is_none_or(|now| by >= now)).then_some(Cure::Begin { by })
    }

    /// Most of the order's first garments that meet it.
    fn fewer(&self, deadline: DateTime, from: DateTime) -> Option<Cure> {
        let hours = self.hours()?;
        let of = self.order.garments();
        let meets = |count: u32| {
            let end = self.order.first(count).and_then(|order| self.end(&order, &hours, from));
            end.is_some_and(|(ends, _)| ends <= deadline)
        };
        let count = most(of.saturating_sub(1), meets)?;
        Some(Cure::Garments { count, of })
    }

    /// The fewest vessels more than there are that meet it.
    fn vessels(&self, deadline: DateTime, from: DateTime) -> Option<Cure> {
        let (own, hours) = (self.order.raw().workshop.vessels, self.hours()?);
        let baths = self.order.loads().iter().filter(|load| load.discharge.is_some()).count();
        let most = u32::try_from(baths).unwrap_or(u32::MAX).min(own.saturating_add(MOST_MORE_VESSELS));
        let meets =
            |count: &u32| self.end(&self.order.with_vessels(*count), &hours, from).is_some_and(|(ends, _)| ends <= deadline);
        (own + 1..=most).find(meets).map(|count| Cure::Vessels { count })
    }

    /// The earliest closing, later than now, that meets it on working days and on these.
    fn later_closing(&self, deadline: DateTime, from: DateTime, days: &[Weekday]) -> Option<Cure> {
        let last: Time = self.order.raw().workshop.hours.last()?.to.parse().ok()?;
        let closes_min = u32::try_from(i64::from(last.hour()) * 60 + i64::from(last.minute())).ok()?;
        // Steps before midnight, so that the most of them is the least closing.
        let until = |before: u32| time_of_day(DAY_MIN - CLOSING_STEP_MIN * before);
        let steps = DAY_MIN.saturating_sub(closes_min + 1) / CLOSING_STEP_MIN;
        let meets = |before: u32| self.meets(deadline, from, Some(&until(before)), days);
        if !meets(0) {
            return None;
        }
        let before = most(steps, meets).unwrap_or(0);
        Some(Cure::Hours { until: Some(until(before)), days: days.to_vec() })
    }

    /// Work on the days off too, until the hour at which it ends on others.
    fn days_off(&self, deadline: DateTime, from: DateTime) -> Option<Cure> {
        let days = &self.order.raw().workshop.days_off;
        (!days.is_empty() && self.meets(deadline, from, None, days)).then(|| Cure::Hours { until: None, days: days.clone() })
    }

    fn meets(&self, deadline: DateTime, from: DateTime, until: Option<&str>, days: &[Weekday]) -> bool {
        let shop = &self.order.raw().workshop;
        let mut hours: Vec<Hours> = shop.hours.clone();
        if let (Some(last), Some(until)) = (hours.last_mut(), until) {
            until.clone_into(&mut last.to);
        }
        let off: Vec<Weekday> = shop.days_off.iter().copied().filter(|day| !days.contains(day)).collect();
        let end = DayHours::of(&hours, &off).ok().and_then(|hours| self.end(self.order, &hours, from));
        end.is_some_and(|(ends, _)| ends <= deadline)
    }

    /// When an order is over that begins no sooner than a time, and whether no earlier end is possible.
    fn end(&self, order: &Order, hours: &DayHours, from: DateTime) -> Option<(DateTime, bool)> {
        let timing = Timing::of(order, hours, (from, Way::Forward), self.clock)?;
        let solution = timing.from(from, self.go_on)?;
        Some((timing.ends(&solution)?, solution.optimal))
    }

    fn hours(&self) -> Option<DayHours> {
        let shop = &self.order.raw().workshop;
        DayHours::of(&shop.hours, &shop.days_off).ok()
    }
}

/// The most of 1 to `most` for which something holds that holds for all fewer; none where it does not for 1.
fn most(most: u32, holds: impl Fn(u32) -> bool) -> Option<u32> {
    if most == 0 || !holds(1) {
        return None;
    }
    let (mut yes, mut no) = (1, most + 1);
    while no - yes > 1 {
        let middle = yes + (no - yes) / 2;
        if holds(middle) {
            yes = middle;
        } else {
            no = middle;
        }
    }
    Some(yes)
}

fn time_of_day(minutes: u32) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

fn day_time(time: DateTime) -> String {
    time.strftime("%A %-d %B %Y, %H:%M").to_string()
}

impl Untimely {
    /// It in sentences, what is wrong first, what would help last.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let begun = if self.now == Some(self.from) { "now".to_owned() } else { day_time(self.from) };
        let known = if self.optimal { "at the earliest" } else { "at the earliest found" };
        let ends = format!("Starting {begun}, the work ends {} {known}", day_time(self.ends));
        let past = self.past.map(|past| format!("The plan starts in the past: {}.", day_time(past)));
        let Some(missed) = &self.missed else {
            return past.into_iter().chain([format!("{ends}. Choose a later start.")]).collect();
        };
        let deadline = day_time(missed.deadline);
        let is_past = self.now.is_some_and(|now| missed.deadline <= now);
        let wrong = if is_past { "The deadline has passed" } else { "The deadline can't be met" };
        let late = format!("{wrong}: {deadline}. {ends}: {} late.", duration(missed.by_min));
        [Some(late), past, Some(self.cure(missed))].into_iter().flatten().collect()
    }

    fn cure(&self, missed: &MissedDeadline) -> String {
        let later = format!("set the deadline to {} or later", day_time(self.ends));
        if missed.cures.is_empty() {
            let tried = if missed.deadline > self.from {
                "Neither a single garment nor work until midnight on every day meets it; "
            } else {
                ""
            };
            return sentence(&format!("{tried}{later}."));
        }
        let cures: Vec<String> = missed.cures.iter().map(Cure::words).chain([later]).collect();
        format!("What would help: {}.", cures.join("; or "))
    }
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

impl Cure {
    /// What to do, as the middle of a sentence.
    fn words(&self) -> String {
        match self {
            Self::Begin { by } => format!("start by {}", day_time(*by)),
            Self::Garments { count, of } => format!("make the first {count} of the {of} garments"),
            Self::Vessels { count } => format!("set up {count} vessels alike for the discharge"),
            Self::Hours { until: Some(until), days } if days.is_empty() => format!("work until {until}"),
            Self::Hours { until, days } => {
                let names: Vec<String> = days.iter().map(|day| format!("{day:?}s")).collect();
                let until = until.as_ref().map_or_else(String::new, |until| format!("until {until}, "));
                format!("work {until}on {} too", names.join(" and "))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_most_that_holds_is_found() {
        for limit in 0..20 {
            assert_eq!(most(17, |count| count <= limit), Some(limit.min(17)).filter(|&found| found > 0), "{limit}");
        }
        assert_eq!(most(0, |_| true), None);
    }
}
