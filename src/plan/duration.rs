//! Lengths of time in words.

/// Working time in hours and minutes, however long: a day of work is no day.
#[must_use]
pub fn work_time(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest:02} min"),
    }
}

/// A length of time in words: `35 min`, `2 h 05 min`, `3 d 4 h`.
#[must_use]
pub fn duration(minutes: i64) -> String {
    let (days, hours, rest) = (minutes / 1440, minutes / 60 % 24, minutes % 60);
    match (days, hours, rest) {
        (0, 0, _) => format!("{rest} min"),
        (0, _, 0) => format!("{hours} h"),
        (0, ..) => format!("{hours} h {rest:02} min"),
        (_, 0, 0) => format!("{days} d"),
        (_, _, 0) => format!("{days} d {hours} h"),
        _ => format!("{days} d {hours} h {rest:02} min"),
    }
}
