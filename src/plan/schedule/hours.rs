//! Working hours: when hands may be busy. Waiting goes on through the night.

use crate::plan::{PlanFileError, PlanProblem};
use jiff::civil::Time;
use serde::Serialize;

/// Minutes of a day.
const DAY_MIN: i64 = 24 * 60;

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[expect(missing_docs, reason = "the days' names say it all")]
pub enum Weekday {
    Monday,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}

impl Weekday {
    /// The week, Monday first.
    pub const WEEK: [Self; 7] =
        [Self::Monday, Self::Tuesday, Self::Wednesday, Self::Thursday, Self::Friday, Self::Saturday, Self::Sunday];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Monday => "Monday",
            Self::Tuesday => "Tuesday",
            Self::Wednesday => "Wednesday",
            Self::Thursday => "Thursday",
            Self::Friday => "Friday",
            Self::Saturday => "Saturday",
            Self::Sunday => "Sunday",
        }
    }

    /// The day of a calendar.
    #[must_use]
    pub fn of(day: jiff::civil::Weekday) -> Self {
        let index = usize::try_from(day.to_monday_zero_offset()).unwrap_or(0);
        Self::WEEK.get(index).copied().unwrap_or(Self::Monday)
    }

    /// It in a calendar.
    #[must_use]
    pub const fn in_calendar(self) -> jiff::civil::Weekday {
        use jiff::civil::Weekday as Day;
        match self {
            Self::Monday => Day::Monday,
            Self::Tuesday => Day::Tuesday,
            Self::Wednesday => Day::Wednesday,
            Self::Thursday => Day::Thursday,
            Self::Friday => Day::Friday,
            Self::Saturday => Day::Saturday,
            Self::Sunday => Day::Sunday,
        }
    }
}

/// A stretch of working hours.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Hours {
    /// From, such as `08:00`.
    pub from: String,
    /// To, such as `12:30`.
    pub to: String,
}

/// The hours of hands-on work of every working day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayHours {
    /// Beginnings and ends, minutes after midnight, in order and apart.
    windows: Vec<(i64, i64)>,
    /// Days without work, Monday first.
    off: [bool; 7],
}

fn parse(hours: &Hours) -> Option<(i64, i64)> {
    let minutes = |text: &str| {
        let time: Time = text.parse().ok()?;
        Some(i64::from(time.hour()) * 60 + i64::from(time.minute()))
    };
    let to = if hours.to == "24:00" { DAY_MIN } else { minutes(&hours.to)? };
    Some((minutes(&hours.from)?, to))
}

const fn day_index(day: Weekday) -> usize {
    day as usize
}

impl DayHours {
    /// The hours of a workshop, and its days without work.
    ///
    /// # Errors
    /// A text that is no time of day, hours that end before they begin or overlap, and a week without any.
    pub fn of(hours: &[Hours], days_off: &[Weekday]) -> Result<Self, PlanFileError> {
        PlanFileError::check_count("hours", hours.len(), 12)?;
        let mut windows: Vec<(i64, i64)> = Vec::new();
        for hours in hours {
            let wrong = || {
                let problem = PlanProblem::Hours { from: hours.from.clone(), to: hours.to.clone() };
                PlanFileError::new("hours", problem)
            };
            let (from, to) = parse(hours).ok_or_else(wrong)?;
            if to <= from || windows.last().is_some_and(|last| from < last.1) {
                return Err(wrong());
            }
            windows.push((from, to));
        }
        let mut off = [false; 7];
        for day in days_off {
            off[day_index(*day)] = true;
        }
        if off == [true; 7] {
            return Err(PlanFileError::new("days_off", PlanProblem::Count { count: 7, most: 6 }));
        }
        Ok(Self { windows, off })
    }

    /// Hours on a working day together, min.
    #[must_use]
    pub fn worked_min(&self) -> i64 {
        self.windows.iter().map(|(from, to)| to - from).sum()
    }

    /// Working days in a week.
    #[must_use]
    pub fn days_a_week(&self) -> i64 {
        self.off.iter().map(|&off| i64::from(!off)).sum()
    }
}

/// Working hours over many days, in minutes after the midnight that begins the first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkCalendar {
    windows: Vec<(i64, i64)>,
    longest_min: i64,
    /// When each day but the first begins, and the last one ends.
    midnights: Vec<i64>,
    end: i64,
}

/// When each of so many days ends.
fn midnights(days: i64) -> Vec<i64> {
    (1..=days).map(|day| day * DAY_MIN).collect()
}

impl WorkCalendar {
    /// The hours over so many days, the first of which is this weekday (0 for Monday).
    #[must_use]
    pub fn new(hours: &DayHours, first_weekday: usize, days: i64) -> Self {
        let mut windows: Vec<(i64, i64)> = Vec::new();
        for day in 0..days {
            let weekday = (day + i64::try_from(first_weekday).unwrap_or(0)).rem_euclid(7);
            if usize::try_from(weekday).is_ok_and(|weekday| hours.off[weekday]) {
                continue;
            }
            for &(from, to) in &hours.windows {
                let (from, to) = (day * DAY_MIN + from, day * DAY_MIN + to);
                match windows.last_mut() {
                    // Hours that meet, as at midnight, are one stretch.
                    Some(last) if last.1 == from => last.1 = to,
                    _ => windows.push((from, to)),
                }
            }
        }
        let longest_min = windows.iter().map(|(from, to)| to - from).max().unwrap_or(0);
        Self { windows, longest_min, midnights: midnights(days), end: days * DAY_MIN }
    }

    /// The same with every bound carried to another count of minutes that grows with this one, where a clock is put forward or back.
    #[must_use]
    pub fn carried(&self, carry: impl Fn(i64) -> Option<i64>) -> Option<Self> {
        let bounds = |&(from, to): &(i64, i64)| Some((carry(from)?, carry(to)?));
        let windows = self.windows.iter().map(bounds).collect::<Option<Vec<_>>>()?;
        let longest_min = windows.iter().map(|(from, to)| to - from).max().unwrap_or(0);
        let midnights = self.midnights.iter().map(|&midnight| carry(midnight)).collect::<Option<Vec<_>>>()?;
        Some(Self { windows, longest_min, midnights, end: carry(self.end)? })
    }

    /// One stretch without a break, for when nothing is known of hours.
    #[must_use]
    pub fn always(days: i64) -> Self {
        let end = days * DAY_MIN;
        Self { windows: vec![(0, end)], longest_min: end, midnights: midnights(days), end }
    }

    /// The stretches, in order and apart.
    pub(super) fn windows(&self) -> &[(i64, i64)] {
        &self.windows
    }

    /// Longest stretch, min.
    #[must_use]
    pub fn longest_min(&self) -> i64 {
        self.longest_min
    }

    /// Where the calendar ends.
    #[must_use]
    pub fn end(&self) -> i64 {
        self.end
    }

    /// When the next day begins after a time; beyond the calendar's end that many whole days later.
    #[must_use]
    pub fn next_day(&self, at: i64) -> i64 {
        let beyond = || self.end + ((at - self.end).div_euclid(DAY_MIN) + 1) * DAY_MIN;
        let index = self.midnights.partition_point(|&midnight| midnight <= at);
        self.midnights.get(index).copied().unwrap_or_else(beyond)
    }

    /// The earliest time from `from` on at which work of this length fits into the hours without a break; none before the
    /// calendar's end. Work longer than any stretch begins with a stretch and runs over: a conflict, to be reported.
    #[must_use]
    pub fn fit(&self, from: i64, work_min: i64) -> Option<i64> {
        if work_min == 0 {
            return (from <= self.end).then_some(from);
        }
        let first = self.windows.partition_point(|window| window.1 <= from);
        let over = work_min > self.longest_min;
        self.windows[first..].iter().find_map(|&(begin, end)| {
            let at = begin.max(from);
            let fits = if over { at == begin } else { at + work_min <= end };
            fits.then_some(at)
        })
    }

    /// Whether this work lies within the hours.
    #[must_use]
    pub fn holds(&self, at: i64, work_min: i64) -> bool {
        let begun = self.windows.partition_point(|window| window.0 <= at);
        work_min == 0 || self.windows[..begun].last().is_some_and(|&(_, end)| at + work_min <= end)
    }

    /// When so much work is done at the earliest if it may be broken off at any time and nothing else is done; none before the
    /// calendar's end.
    #[must_use]
    pub fn worked_by(&self, from: i64, work_min: i64) -> Option<i64> {
        let mut left = work_min;
        let first = self.windows.partition_point(|window| window.1 <= from);
        if left <= 0 {
            return Some(from);
        }
        for &(begin, end) in &self.windows[first..] {
            let at = begin.max(from);
            if at + left <= end {
                return Some(at + left);
            }
            left -= end - at;
        }
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn calendar() -> WorkCalendar {
        let hours = [Hours { from: "08:00".into(), to: "12:00".into() }, Hours { from: "13:00".into(), to: "18:00".into() }];
        // The first day is a Saturday.
        WorkCalendar::new(&DayHours::of(&hours, &[Weekday::Sunday]).unwrap(), 5, 4)
    }

    #[test]
    fn work_fits_into_the_hours() {
        let calendar = calendar();
        assert_eq!(calendar.fit(0, 60), Some(480));
        assert_eq!(calendar.fit(700, 60), Some(780));
        assert_eq!(calendar.fit(660, 60), Some(660));
        // Saturday evening to Monday morning.
        assert_eq!(calendar.fit(1070, 60), Some(2 * 1440 + 480));
        assert_eq!(calendar.fit(9999, 60), None);
        // Ten hours fit nowhere: they begin with a stretch.
        assert_eq!(calendar.fit(500, 600), Some(780));
        assert!(calendar.holds(480, 240) && !calendar.holds(480, 241));
        assert_eq!(calendar.worked_by(480, 300), Some(840));
    }

    #[test]
    fn a_day_ends_at_midnight() {
        let calendar = calendar();
        for (at, next) in [(0, 1440), (1439, 1440), (1440, 2880), (4 * 1440 - 1, 4 * 1440), (4 * 1440, 5 * 1440)] {
            assert_eq!(calendar.next_day(at), next, "{at}");
        }
        // A night that is an hour longer.
        let carried = calendar.carried(|minute| Some(if minute >= 1440 + 180 { minute + 60 } else { minute })).unwrap();
        assert_eq!((carried.next_day(100), carried.next_day(1500)), (1440, 2 * 1440 + 60));
    }

    #[test]
    fn hours_that_make_no_sense_are_refused() {
        let with = |hours: &[(&str, &str)]| {
            let hours: Vec<_> = hours.iter().map(|(from, to)| Hours { from: (*from).into(), to: (*to).into() }).collect();
            DayHours::of(&hours, &[])
        };
        assert!(with(&[("00:00", "24:00")]).is_ok());
        for hours in [&[("9", "x")][..], &[("10:00", "09:00")], &[("08:00", "12:00"), ("11:00", "15:00")], &[]] {
            assert!(with(hours).is_err(), "{hours:?}");
        }
    }
}
