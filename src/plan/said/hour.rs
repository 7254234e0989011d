//! The hour of a day as people say it.

use super::time_of;
use jiff::civil::Time;

/// An hour, as far as it is said.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Hour {
    /// None is said.
    None,
    /// This.
    At(Time),
    /// 1 to 6, without saying of which half of the day.
    Bare(i8),
    /// Midnight, which begins a day and ends one.
    Midnight,
}

/// The hour that these words say and nothing else.
pub(super) fn read_hour(words: &[String]) -> Option<Hour> {
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words[..] {
        [] => Some(Hour::None),
        ["noon" | "midday"] => Some(Hour::At(time_of(12, 0))),
        ["midnight"] => Some(Hour::Midnight),
        [clock] => on_clock(clock),
        // `17 h`, `17 h 30`.
        [hour, "h" | "hours" | "uhr"] => Some(Hour::At(time(hour, "0")?)),
        [hour, "h", minute] => Some(Hour::At(time(hour, minute)?)),
        [clock, half @ ("am" | "a" | "pm" | "p" | "noon" | "midnight")] => half_day(clock, half),
        _ => None,
    }
}

/// `17:00`, `17.30`, `1700`, `8`.
fn on_clock(text: &str) -> Option<Hour> {
    if let Some((hour, minute)) = text.split_once([':', '.']) {
        return Some(Hour::At(time(hour, minute)?));
    }
    if text.len() == 4 && text.is_ascii() {
        let (hour, minute) = text.split_at(2);
        return Some(Hour::At(time(hour, minute)?));
    }
    match text.parse().ok()? {
        hour @ 1..=6 => Some(Hour::Bare(hour)),
        hour @ (0 | 7..=23) => Some(Hour::At(time_of(hour, 0))),
        _ => None,
    }
}

/// `5 pm`, `5:30 am`; 12 am begins the day, 12 pm is noon (NIST, "Times of day FAQs", which advises against both).
fn half_day(clock: &str, half: &str) -> Option<Hour> {
    let (hour, minute) = clock.split_once([':', '.']).unwrap_or((clock, "0"));
    let hour = hour.parse::<i8>().ok().filter(|hour| (1..=12).contains(hour))?;
    let after_noon = match half {
        "am" | "a" => false,
        "pm" | "p" => true,
        "noon" if hour == 12 => true,
        "midnight" if hour == 12 => return Some(Hour::Midnight),
        _ => return None,
    };
    let hour = hour % 12 + if after_noon { 12 } else { 0 };
    Some(Hour::At(time(&hour.to_string(), minute)?))
}

fn time(hour: &str, minute: &str) -> Option<Time> {
    let digits = |text: &str| (1..=2).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    if !digits(hour) || !digits(minute) {
        return None;
    }
    Time::new(hour.parse().ok()?, minute.parse().ok()?, 0, 0).ok()
}
