//! Working hours as people say them: `8-12:30, 13:30-19`, `9 to 5`.

use super::hour::{Hour, read_hour};
use super::{SaidTimeError, time_of, words};
use crate::plan::Hours;
use jiff::civil::Time;

/// The stretches of hours that a text says. Whether they are in order is not looked at.
///
/// # Errors
/// [`SaidTimeError::Hours`].
pub fn said_hours(text: &str) -> Result<Vec<Hours>, SaidTimeError> {
    let parts: Vec<&str> = text.split([',', ';']).flat_map(|part| part.split(" and ")).collect();
    let hours: Option<Vec<Hours>> = parts.into_iter().map(stretch).collect();
    hours.ok_or_else(|| SaidTimeError::Hours { text: text.trim().to_owned() })
}

/// Hours as [`said_hours`] reads them.
#[must_use]
pub fn hours_words(hours: &[Hours]) -> String {
    hours.iter().map(|hours| format!("{} to {}", hours.from, hours.to)).collect::<Vec<_>>().join(", ")
}

fn stretch(text: &str) -> Option<Hours> {
    let text = text.to_lowercase().replace(['-', '–'], " to ");
    let (from, to) = text.split_once(" to ")?;
    let from = match read_hour(&words(from))? {
        Hour::At(time) => time,
        Hour::Bare(hour) => time_of(hour, 0),
        Hour::Midnight => Time::midnight(),
        Hour::None => return None,
    };
    let to = match read_hour(&words(to)) {
        Some(Hour::At(time)) => written(time),
        // From 9 to 5: the later of the two that it can be.
        Some(Hour::Bare(hour)) => written(if hour > from.hour() { time_of(hour, 0) } else { time_of(hour + 12, 0) }),
        Some(Hour::Midnight) => MIDNIGHT.to_owned(),
        None if matches!(to.trim(), "24" | MIDNIGHT) => MIDNIGHT.to_owned(),
        Some(Hour::None) | None => return None,
    };
    Some(Hours { from: written(from), to })
}

/// The end of a day, as the files write it.
const MIDNIGHT: &str = "24:00";

fn written(time: Time) -> String {
    time.strftime("%H:%M").to_string()
}
