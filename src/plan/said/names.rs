//! The English names of days and months.

use jiff::civil::Weekday;

/// A day of the week by its name, or the first three letters of it and more.
pub(super) fn weekday(text: &str) -> Option<Weekday> {
    let short = crate::plan::Weekday::WEEK.into_iter().find(|day| is_short_for(text, day.name()));
    short.map(crate::plan::Weekday::in_calendar).or(match text {
        "weds" => Some(Weekday::Wednesday),
        _ => None,
    })
}

/// Its name.
pub(super) fn name_of(day: Weekday) -> &'static str {
    crate::plan::Weekday::of(day).name()
}

/// The months' names, January first.
pub(super) const MONTHS: [&str; 12] =
    ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/// A month in the same way: its number.
pub(super) fn month(text: &str) -> Option<i8> {
    MONTHS.iter().position(|name| is_short_for(text, name)).and_then(|index| i8::try_from(index + 1).ok())
}

fn is_short_for(text: &str, name: &str) -> bool {
    text.len() >= 3 && name.to_lowercase().starts_with(text)
}
