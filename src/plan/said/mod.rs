//! A day and time as people say it: `Fri 5 pm`, `tomorrow 8`, `in 3 days`, `27 Nov 17:00`.
//!
//! What could be meant in two ways is refused, with both ways to say it; so is what is past, unless its year is given: then nobody
//! can have meant another, and the plan itself says what is wrong with it.

mod day;
mod error;
mod hour;
mod hours;
mod names;
mod past;
#[cfg(test)]
mod tests;

pub use error::SaidTimeError;
pub use hours::{hours_words, said_hours};
pub use past::{day_words, said_past, said_past_day};

use self::day::{Day, read_day};
use self::hour::{Hour, read_hour};
use jiff::civil::{Date, DateTime, Time};
use jiff::{SignedDuration, ToSpan as _};
use std::collections::BTreeSet;

/// Words that mean nothing here.
const FILLERS: [&str; 8] = ["at", "on", "by", "the", "before", "until", "of", "oclock"];

/// The time that a text says, seen from `now`; a text that says no hour means the `usual` one.
///
/// # Errors
/// [`SaidTimeError`] with what could be meant.
///
/// ```
/// use jiff::civil::Time;
/// use pleatwright::plan::said_time;
/// let (now, closing) = ("2026-11-23T10:00".parse()?, Time::constant(20, 0, 0, 0));
/// assert_eq!(said_time("Fri 5 pm", now, closing)?, "2026-11-27T17:00".parse()?);
/// assert_eq!(said_time("in 3 days", now, closing)?, "2026-11-26T20:00".parse()?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn said_time(text: &str, now: DateTime, usual: Time) -> Result<DateTime, SaidTimeError> {
    if let Some(exact) = exact(text) {
        return Ok(exact);
    }
    let words = words(text);
    let unread = || SaidTimeError::Unread { text: text.trim().to_owned(), now };
    if let Some(later) = later(&words, now) {
        return later.ok_or_else(unread);
    }
    let (day, rest) = read_day(&words, now.date())?;
    let hour = read_hour(rest).ok_or_else(unread)?;
    match day {
        Day::None if matches!(hour, Hour::None) => Err(unread()),
        Day::None => on(now.date().into(), hour, now, usual),
        day => on(day, hour, now, usual),
    }
}

/// A date and time as a file or another program writes them.
fn exact(text: &str) -> Option<DateTime> {
    let text = text.trim();
    // A date alone has its usual hour.
    let has_time = text.contains(':') && text.starts_with(|first: char| first.is_ascii_digit());
    has_time.then(|| text.replacen(' ', "T", 1).parse().ok()).flatten()
}

/// The words of a text, in small letters: numbers parted from letters beside them.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut word = String::new();
    let text = text.to_lowercase().replace("o'clock", "oclock").replace("a.m.", "am").replace("p.m.", "pm");
    let mut end = |word: &mut String| {
        // A full stop ends a number of a day, an abbreviation, or the sentence.
        let bare = word.trim_end_matches('.');
        if !bare.is_empty() && !FILLERS.contains(&bare) {
            words.push(bare.to_owned());
        }
        word.clear();
    };
    for letter in text.chars() {
        let ended_number = letter.is_alphabetic() && word.ends_with(|last: char| last.is_ascii_digit());
        let ended_letters = letter.is_ascii_digit() && word.ends_with(char::is_alphabetic);
        if letter.is_whitespace() || letter == ',' || ended_number || ended_letters {
            end(&mut word);
        }
        if !letter.is_whitespace() && letter != ',' {
            word.push(letter);
        }
    }
    end(&mut word);
    // `2026-11-27T17:00`, `27th`.
    words.retain(|word| !matches!(word.as_str(), "t" | "st" | "nd" | "rd" | "th"));
    words
}

/// `in 5 hours`, `in 90 min`: a length of time from now, to the minute. None where it is something else.
fn later(words: &[String], now: DateTime) -> Option<Option<DateTime>> {
    let [lead, count, unit] = words else { return None };
    let count = day::count(count)?;
    let minutes = match unit.as_str() {
        "h" | "hr" | "hrs" | "hour" | "hours" => count.checked_mul(60)?,
        "m" | "min" | "mins" | "minute" | "minutes" => count,
        _ => return None,
    };
    (lead == "in").then(|| now.checked_add(SignedDuration::from_mins(minutes)).ok())
}

/// A day's hour, if that can be meant in one way only: what is past is not, unless its year is said.
fn on(day: Day, hour: Hour, now: DateTime, usual: Time) -> Result<DateTime, SaidTimeError> {
    let times = match hour {
        Hour::None => vec![(0, usual)],
        Hour::At(time) => vec![(0, time)],
        Hour::Bare(hour) => vec![(0, time_of(hour, 0)), (0, time_of(hour + 12, 0))],
        Hour::Midnight => vec![(0, Time::midnight()), (1, Time::midnight())],
    };
    let dates = day.dates(now.date())?;
    let on = |date: Date, (days, time): (i64, Time)| date.checked_add(days.days()).unwrap_or(date).to_datetime(time);
    let all: BTreeSet<DateTime> = dates.iter().flat_map(|date| times.iter().map(move |time| on(*date, *time))).collect();
    let to_come: Vec<DateTime> = all.iter().copied().filter(|at| *at > now || day.has_year()).collect();
    match to_come[..] {
        [at] => Ok(at),
        [] => Err(SaidTimeError::Past { at: all.last().copied().unwrap_or(now), now }),
        _ => Err(SaidTimeError::Either { readings: to_come }),
    }
}

/// An hour and minute that are known to be some.
fn time_of(hour: i8, minute: i8) -> Time {
    Time::new(hour, minute, 0, 0).unwrap_or(Time::MIN)
}
