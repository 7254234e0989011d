//! The day as people say it.

use super::SaidTimeError;
use super::names::{month, name_of, weekday};
use jiff::civil::{Date, Weekday};
use jiff::{Span, ToSpan as _};

/// A day, as far as it is said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Day {
    /// None is said.
    None,
    /// Counted from today.
    Of(Date),
    /// With its year.
    Full(Date),
    /// Of this year or the next.
    OfYear {
        /// It in this year.
        month: i8,
        day: i8,
    },
    /// The next such day of the week.
    Week(Weekday),
    /// The coming one to some, the one after it to others.
    Next(Weekday),
}

impl From<Date> for Day {
    fn from(date: Date) -> Self {
        Self::Of(date)
    }
}

/// How long after a day that is said without its year that day is past, not next year's, days. Own choice: nobody plans eleven months ahead.
const JUST_PAST_DAYS: i64 = 30;

impl Day {
    /// Whether no other year can be meant.
    pub(super) fn has_year(self) -> bool {
        matches!(self, Self::Full(_))
    }

    /// The dates that may be meant, the earliest first: a day of the week said on that day is today or in a week.
    pub(super) fn dates(self, today: Date) -> Result<Vec<Date>, SaidTimeError> {
        Ok(match self {
            Self::None => vec![today],
            Self::Of(date) | Self::Full(date) => vec![date],
            Self::Week(weekday) if weekday == today.weekday() => vec![today, later(today, 7)],
            Self::Week(weekday) => vec![later(today, i64::from(today.weekday().until(weekday)))],
            Self::Next(weekday) => {
                let days = match i64::from(today.weekday().until(weekday)) {
                    0 => 7,
                    days => days,
                };
                vec![later(today, days), later(today, days + 7)]
            }
            Self::OfYear { month, day } => vec![of_year(month, day, today)?],
        })
    }
}

/// A day of this year or the next, or the next that there is: the twenty-ninth of February may be years ahead.
fn of_year(month: i8, day: i8, today: Date) -> Result<Date, SaidTimeError> {
    let years = today.year()..today.year().saturating_add(9);
    let mut dates = years.filter_map(|year| Date::new(year, month, day).ok());
    let is_over = |date: &Date| days_between(*date, today) > JUST_PAST_DAYS;
    dates.find(|date| !is_over(date)).ok_or(SaidTimeError::NoDay { month, day })
}

fn later(date: Date, days: i64) -> Date {
    date.checked_add(Span::new().days(days)).unwrap_or(date)
}

fn days_between(from: Date, to: Date) -> i64 {
    to.since(from).map_or(0, |span| i64::from(span.get_days()))
}

/// The day that words begin or end with, if they do, and the words that are left.
pub(super) fn read_day(words: &[String], today: Date) -> Result<(Day, &[String]), SaidTimeError> {
    let plain: Vec<&str> = words.iter().map(String::as_str).collect();
    // The hour may be said first: `5 pm Friday`.
    for (from, to) in splits(plain.len()) {
        if let Some(day) = whole_day(&plain[from..to], today)? {
            let rest = if from == 0 { &words[to..] } else { &words[..from] };
            return Ok((day, rest));
        }
    }
    Ok((Day::None, words))
}

/// Beginnings of a list of words, the longest first, then its ends.
fn splits(count: usize) -> impl Iterator<Item = (usize, usize)> {
    (1..=count).rev().map(|to| (0, to)).chain((1..count).map(move |from| (from, count)))
}

/// The day that these words say and nothing else.
fn whole_day(words: &[&str], today: Date) -> Result<Option<Day>, SaidTimeError> {
    Ok(match words {
        ["today" | "tonight"] => Some(Day::Of(today)),
        ["yesterday"] => Some(Day::Of(later(today, -1))),
        ["tomorrow" | "tmrw"] => Some(Day::Of(later(today, 1))),
        ["day", "after", "tomorrow"] => Some(Day::Of(later(today, 2))),
        ["in", number, unit] => counted(number, unit, today),
        ["next", name] => match weekday(name) {
            Some(weekday) => Some(Day::Next(weekday)),
            None if *name == "week" => Some(Day::Of(later(today, 7))),
            None => None,
        },
        ["this" | "coming", name] => weekday(name).map(Day::Week),
        [name] if weekday(name).is_some() => weekday(name).map(Day::Week),
        [name, rest @ ..] if weekday(name).is_some() && !rest.is_empty() => {
            let Some(day) = date(rest)? else { return Ok(None) };
            named(weekday(name), day, today)?
        }
        _ => date(words)?,
    })
}

/// `in 3 days`, `in a week`.
fn counted(number: &str, unit: &str, today: Date) -> Option<Day> {
    let span = match (count(number)?, unit) {
        (days @ 0..=36_500, "d" | "day" | "days") => days.days(),
        (weeks @ 0..=5_200, "w" | "week" | "weeks") => weeks.weeks(),
        (months @ 0..=1_200, "month" | "months") => months.months(),
        _ => return None,
    };
    today.checked_add(span).ok().map(Day::Of)
}

/// A count in digits or as a word.
pub(super) fn count(text: &str) -> Option<i64> {
    const NUMBERS: [&str; 13] =
        ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    match text {
        "a" | "an" => Some(1),
        _ if text.bytes().all(|byte| byte.is_ascii_digit()) => text.parse().ok().filter(|&count| count < 1_000_000),
        _ => NUMBERS.iter().position(|number| *number == text).and_then(|count| i64::try_from(count).ok()),
    }
}

/// A date that a weekday is said beside, which has to be its own.
fn named(name: Option<Weekday>, day: Day, today: Date) -> Result<Option<Day>, SaidTimeError> {
    let dates = day.dates(today)?;
    match (name, dates.first()) {
        (Some(weekday), Some(&date)) if date.weekday() != weekday => {
            Err(SaidTimeError::OtherWeekday { date, said: name_of(weekday) })
        }
        _ => Ok(Some(day)),
    }
}

/// A date in digits or with its month's name.
fn date(words: &[&str]) -> Result<Option<Day>, SaidTimeError> {
    let number = |text: &str, digits: usize| {
        let is_number = (1..=digits).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
        is_number.then(|| text.parse::<i16>().ok()).flatten()
    };
    let day = |text: &str| number(text, 2).and_then(|day| i8::try_from(day).ok());
    let of = |day: Option<i8>, month: Option<i8>, year: Option<i16>| match (day, month, year) {
        (Some(day), Some(month), Some(year)) => {
            Date::new(year, month, day).map(|date| Some(Day::Full(date))).map_err(|_no_day| SaidTimeError::NoDay { month, day })
        }
        (Some(day), Some(month), None) => Ok(Some(Day::OfYear { month, day })),
        _ => Ok(None),
    };
    // What is no year of ours is an hour: `27 Nov 1700`.
    let year = |text: &str| number(text, 4).filter(|year| (2000..2200).contains(year));
    match words {
        [one, other] if month(other).is_some() => of(day(one), month(other), None),
        [one, other] if month(one).is_some() => of(day(other), month(one), None),
        [one, other, last] if month(other).is_some() && year(last).is_some() => of(day(one), month(other), year(last)),
        [one, other, last] if month(one).is_some() && year(last).is_some() => of(day(other), month(one), year(last)),
        [text] => {
            let parts: Vec<&str> = text.split(['-', '/', '.']).collect();
            let sign = text.chars().find(|letter| !letter.is_ascii_digit());
            match (sign, &parts[..]) {
                (Some('-'), [first, second, third]) if year(first).is_some() => of(day(third), day(second), year(first)),
                // A stop between two numbers is an hour's, unless a year follows.
                (Some('.'), [first, second, third]) if year(third).is_some() => of(day(first), day(second), year(third)),
                (Some('/'), [first, second, rest @ ..]) if rest.len() < 2 => {
                    let last = rest.first().map(|text| year(text));
                    let (Some(one), Some(other)) = (day(first), day(second)) else { return Ok(None) };
                    match last {
                        Some(None) => Ok(None),
                        last => slashed(one, other).and_then(|(day, month)| of(Some(day), Some(month), last.flatten())),
                    }
                }
                _ => Ok(None),
            }
        }
        _ => Ok(None),
    }
}

/// Day and month of `27/11`: which is which can be told only where one is no month, or both are equal.
fn slashed(one: i8, other: i8) -> Result<(i8, i8), SaidTimeError> {
    match (one > 12, other > 12) {
        (true, false) => Ok((one, other)),
        (false, true) => Ok((other, one)),
        _ if one == other => Ok((one, other)),
        _ => Err(SaidTimeError::DayOrMonth { one, other }),
    }
}
