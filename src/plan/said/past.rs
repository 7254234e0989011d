//! A time that is over, as people say it: `14:30`, `10 minutes ago`, `yesterday 17:00`.

use super::day::{Day, count, read_day};
use super::hour::{Hour, read_hour};
use super::{SaidTimeError, exact, time_of, words};
use jiff::civil::{Date, DateTime, Time};
use jiff::{SignedDuration, ToSpan as _};

/// How far ahead a time of the clock alone is refused as one to come; what lies farther ahead is yesterday's, h. Own choice.
const HALF_A_DAY: SignedDuration = SignedDuration::from_hours(12);

/// The time that a text says of something done, seen from `now`. An hour alone is today's, or yesterday's where today's is more than half a
/// day ahead.
///
/// # Errors
/// [`SaidTimeError`] with what could be meant; [`SaidTimeError::ToCome`] for a time after `now`.
///
/// ```
/// use pleatwright::plan::said_past;
/// let now = "2026-11-23T10:00".parse()?;
/// assert_eq!(said_past("9:40", now)?, "2026-11-23T09:40".parse()?);
/// assert_eq!(said_past("10 minutes ago", now)?, "2026-11-23T09:50".parse()?);
/// assert_eq!(said_past("yesterday 5 pm", now)?, "2026-11-22T17:00".parse()?);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn said_past(text: &str, now: DateTime) -> Result<DateTime, SaidTimeError> {
    let unread = || SaidTimeError::UnreadPast { text: text.trim().to_owned() };
    let words = words(text);
    let said = exact(text).map_or_else(|| ago(&words, now), |exact| Some(vec![exact]));
    let meant = match said {
        Some(meant) => meant,
        None => {
            let (day, rest) = read_day(&words, now.date())?;
            meant(day, read_hour(rest).ok_or_else(unread)?, now)?
        }
    };
    let over: Vec<DateTime> = meant.iter().copied().filter(|time| *time <= now).collect();
    match (&over[..], meant.first()) {
        ([one], _) => Ok(*one),
        ([], Some(&at)) => Err(SaidTimeError::ToCome { at, now }),
        ([], None) => Err(unread()),
        _ => Err(SaidTimeError::Either { readings: over }),
    }
}

/// The day that a text says of something done, seen from `today`: of days of the week and dates without a year the one that was last. A date
/// with its year is taken as it is.
///
/// # Errors
/// [`SaidTimeError`] with what would be right.
///
/// ```
/// use pleatwright::plan::{day_words, said_past_day};
/// let today = "2026-11-23".parse()?;
/// assert_eq!(said_past_day("Fri", today)?, "2026-11-20".parse()?);
/// assert_eq!(said_past_day(&day_words(today), today)?, today);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn said_past_day(text: &str, today: Date) -> Result<Date, SaidTimeError> {
    let unread = || SaidTimeError::UnreadDay { text: text.trim().to_owned() };
    if let Ok(date) = text.trim().parse() {
        return Ok(date);
    }
    let words = words(text);
    match read_day(&words, today)? {
        (Day::None, _) => Err(unread()),
        (day, []) => date(day, today.to_datetime(Time::MAX), Time::midnight()),
        _ => Err(unread()),
    }
}

/// A day as [`said_past_day`] reads it back: `3 May 2027`.
#[must_use]
pub fn day_words(date: Date) -> String {
    date.strftime("%-d %b %Y").to_string()
}

/// `now`, `10 minutes ago`, `half an hour ago`.
fn ago(words: &[String], now: DateTime) -> Option<Vec<DateTime>> {
    let plain: Vec<&str> = words.iter().map(String::as_str).collect();
    let before = |minutes: i64| now.checked_sub(SignedDuration::from_mins(minutes)).into_iter().collect();
    match plain[..] {
        ["now"] | ["just", "now"] => Some(vec![now]),
        ["half", "an", "hour", "ago"] => Some(before(30)),
        [number, unit, "ago"] => {
            let unit_min = match unit {
                "m" | "min" | "mins" | "minute" | "minutes" => 1,
                "h" | "hr" | "hrs" | "hour" | "hours" => 60,
                "d" | "day" | "days" => 24 * 60,
                _ => return None,
            };
            Some(before(count(number)?.checked_mul(unit_min)?))
        }
        _ => None,
    }
}

/// Every time that a day and an hour may say, the earliest first; none without an hour.
fn meant(day: Day, hour: Hour, now: DateTime) -> Result<Vec<DateTime>, SaidTimeError> {
    let on = |time: Time| Ok(date(day, now, time)?.to_datetime(time));
    Ok(match hour {
        Hour::None => Vec::new(),
        Hour::At(time) => vec![on(time)?],
        Hour::Bare(hour) => vec![on(time_of(hour, 0))?, on(time_of(hour + 12, 0))?],
        Hour::Midnight => {
            let begins = on(Time::midnight())?;
            vec![begins, begins.checked_add(1.day()).unwrap_or(begins)]
        }
    })
}

/// The date meant of something that was done at this time of it.
fn date(day: Day, now: DateTime, time: Time) -> Result<Date, SaidTimeError> {
    let today = now.date();
    let back = |days: i64| today.checked_sub(days.days()).unwrap_or(today);
    let at = today.to_datetime(time);
    Ok(match day {
        Day::None if now.duration_until(at) > HALF_A_DAY => back(1),
        Day::None => today,
        Day::Of(date) | Day::Full(date) => date,
        Day::Week(weekday) if weekday == today.weekday() && at > now => back(7),
        Day::Week(weekday) => back(i64::from(weekday.until(today.weekday()))),
        Day::Next(_) => day.dates(today)?.first().copied().unwrap_or(today),
        Day::OfYear { month, day } => {
            // The twenty-ninth of February may be years back.
            let years = (0..9).map(|back| today.year().saturating_sub(back));
            let mut dates = years.filter_map(|year| Date::new(year, month, day).ok());
            dates.find(|date| date.to_datetime(time) <= now).ok_or(SaidTimeError::NoDay { month, day })?
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::telling::{Refused as _, Voice};

    /// A Monday.
    const NOW: &str = "2026-11-23T10:00";

    fn said(text: &str, now: &str) -> Result<DateTime, String> {
        said_past(text, now.parse().unwrap()).map_err(|error| error.say(Voice::FILE))
    }

    #[test]
    fn what_is_over_is_understood() {
        for (text, now, at) in [
            ("now", NOW, "2026-11-23T10:00"),
            ("9:40", NOW, "2026-11-23T09:40"),
            ("at 9.40", NOW, "2026-11-23T09:40"),
            ("8", NOW, "2026-11-23T08:00"),
            // Of the two halves of the day only one is over.
            ("5", NOW, "2026-11-23T05:00"),
            ("10 minutes ago", NOW, "2026-11-23T09:50"),
            ("10min ago", NOW, "2026-11-23T09:50"),
            ("an hour ago", NOW, "2026-11-23T09:00"),
            ("half an hour ago", NOW, "2026-11-23T09:30"),
            ("2 days ago", NOW, "2026-11-21T10:00"),
            ("yesterday 5 pm", NOW, "2026-11-22T17:00"),
            ("Fri 17:00", NOW, "2026-11-20T17:00"),
            ("Mon 8:00", NOW, "2026-11-23T08:00"),
            ("Mon 17:00", NOW, "2026-11-16T17:00"),
            ("22 Nov 17:00", NOW, "2026-11-22T17:00"),
            ("Sun 22 Nov 2026 17:00", NOW, "2026-11-22T17:00"),
            ("2026-11-22 17:00", NOW, "2026-11-22T17:00"),
            ("midnight", NOW, "2026-11-23T00:00"),
            ("23:50", "2026-11-24T00:10", "2026-11-23T23:50"),
            ("30 Dec 17:00", "2027-01-03T10:00", "2026-12-30T17:00"),
        ] {
            assert_eq!(said(text, now), Ok(at.parse().unwrap()), "{text}");
        }
    }

    #[test]
    fn a_day_that_was_is_understood() {
        let today: Date = "2027-01-03".parse().unwrap();
        for (text, day) in [
            ("today", "2027-01-03"),
            ("Yesterday", "2027-01-02"),
            // A Sunday.
            ("Sun", "2027-01-03"),
            ("fri", "2027-01-01"),
            ("Mon", "2026-12-28"),
            ("30 Dec", "2026-12-30"),
            ("3 May 2027", "2027-05-03"),
            (" 2026-12-01 ", "2026-12-01"),
            ("Tue 1 Dec 2026", "2026-12-01"),
        ] {
            assert_eq!(said_past_day(text, today), Ok(day.parse().unwrap()), "{text}");
        }
        for text in ["", "soon", "Fri 17:00", "31 June 2026", "0000000000000"] {
            assert!(said_past_day(text, today).is_err(), "{text}");
        }
        for days in 0..800 {
            let day = today.checked_add(days.days()).unwrap();
            assert_eq!(said_past_day(&day_words(day), today), Ok(day));
        }
    }

    #[test]
    fn what_is_to_come_or_unclear_is_refused() {
        for (text, told) in [
            ("14:30", "Mon 23 Nov 2026 14:30 is still to come"),
            ("tomorrow 8:00", "Tue 24 Nov 2026 08:00 is still to come"),
            ("soon", "not a time that is over: \"soon\""),
            ("yesterday", "not a time that is over: \"yesterday\""),
            ("yesterday 5", "this can be meant in two ways"),
        ] {
            let refusal = said(text, NOW).unwrap_err();
            assert!(refusal.contains(told), "{text}: {refusal}");
        }
    }
}
