//! Why a text is not taken for a time.

use super::names::MONTHS;
use crate::telling::{Refused, Told, Voice, displayed_as_in_files, listed};
use jiff::civil::{Date, DateTime};

/// Why a text is not taken for a time.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SaidTimeError {
    /// It is not understood.
    Unread {
        /// The text.
        text: String,
        /// What time it is, for an example that would be right.
        now: DateTime,
    },
    /// It says a time that is past, and no year.
    Past {
        /// The time said.
        at: DateTime,
        /// What time it is.
        now: DateTime,
    },
    /// It says a time that is not over, of something that is.
    ToCome {
        /// The time said.
        at: DateTime,
        /// What time it is.
        now: DateTime,
    },
    /// It is not understood as a time that is over.
    UnreadPast {
        /// The text.
        text: String,
    },
    /// It is not understood as a day.
    UnreadDay {
        /// The text.
        text: String,
    },
    /// Several times could be meant.
    Either {
        /// They, the earliest first.
        readings: Vec<DateTime>,
    },
    /// Two numbers of which either could be the month.
    DayOrMonth {
        /// The first.
        one: i8,
        /// The second.
        other: i8,
    },
    /// A day that its month does not have.
    NoDay {
        /// The month's number.
        month: i8,
        /// The day's.
        day: i8,
    },
    /// What is not understood as working hours.
    Hours {
        /// The text.
        text: String,
    },
    /// A weekday beside a date that is another.
    OtherWeekday {
        /// The date.
        date: Date,
        /// The weekday said.
        said: &'static str,
    },
}

displayed_as_in_files!(SaidTimeError);

impl SaidTimeError {
    /// The times that could be meant, the earliest first; none where that is not what is wrong.
    #[must_use]
    pub fn readings(&self) -> &[DateTime] {
        if let Self::Either { readings } = self { readings } else { &[] }
    }
}

/// A time as it is said in full, which can be meant in one way only.
fn in_full(at: DateTime) -> String {
    at.strftime("%a %-d %b %Y %H:%M").to_string()
}

fn day_in_full(date: Date) -> String {
    date.strftime("%a %-d %b %Y").to_string()
}

fn short_month(month: i8) -> String {
    let name = usize::try_from(month - 1).ok().and_then(|index| MONTHS.get(index));
    name.and_then(|name| name.get(..3)).map_or_else(|| format!("month {month}"), str::to_owned)
}

impl Refused for SaidTimeError {
    fn told(&self, _voice: Voice) -> Told {
        match self {
            Self::Unread { text, now } => {
                let example = now.date().tomorrow().unwrap_or(now.date()).to_datetime(super::time_of(17, 0));
                Told::new(
                    format!("not a day and time: \"{text}\""),
                    format!("give one such as \"{}\", \"Fri 5 pm\" or \"in 3 days\"", in_full(example)),
                )
            }
            Self::Past { at, now } => Told::new(
                format!("{} is past; it is {}", in_full(*at), in_full(*now)),
                "give a later time, or the year too if you mean another",
            ),
            Self::ToCome { at, now } => {
                Told::new(format!("{} is still to come; it is {}", in_full(*at), in_full(*now)), "give a time that is over")
            }
            Self::UnreadPast { text } => Told::new(
                format!("not a time that is over: \"{text}\""),
                "give one such as \"14:30\", \"10 minutes ago\" or \"yesterday 17:00\"",
            ),
            Self::UnreadDay { text } => {
                Told::new(format!("not a day: \"{text}\""), "give one such as \"3 May 2027\", \"yesterday\" or \"2027-05-03\"")
            }
            Self::Either { readings } => {
                let ways = if readings.len() == 2 { "two" } else { "several" };
                let quoted = readings.iter().map(|at| format!("\"{}\"", in_full(*at)));
                Told::new(format!("this can be meant in {ways} ways"), format!("give {}", listed(quoted, "or")))
            }
            Self::DayOrMonth { one, other } => Told::new(
                format!("\"{one}/{other}\" can be meant in two ways"),
                format!("give \"{one} {}\" or \"{other} {}\"", short_month(*other), short_month(*one)),
            ),
            Self::NoDay { month, day } => {
                Told::new(format!("{} has no day {day}", short_month(*month)), "give a day that the month has")
            }
            Self::Hours { text } => {
                Told::new(format!("not working hours: \"{text}\""), "give them such as \"8:00 to 12:30, 13:30 to 19:00\"")
            }
            Self::OtherWeekday { date, said } => {
                Told::new(format!("{} is not a {said}", day_in_full(*date)), "leave one of them out, or change it")
            }
        }
    }
}
