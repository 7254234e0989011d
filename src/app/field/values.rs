//! What is written in a field, as the value that it stands for.

use crate::app::context::Context;
use crate::measure::parse_length;
use crate::telling::Refused as _;

/// Reads a length as the window's unit has it.
pub(super) fn read_length(ctx: &Context<'_>, text: &str) -> Result<f64, String> {
    parse_length(text, ctx.unit()).map_err(|error| error.say(ctx.voice()))
}

pub(super) fn plain_number(text: &str) -> Result<f64, String> {
    let number = text.trim().replace(',', ".").parse();
    number.map_err(|_reason: std::num::ParseFloatError| format!("Not a number: \"{text}\"; give one such as 12.5"))
}

pub(super) fn whole_number(text: &str) -> Result<u32, String> {
    text.trim()
        .parse()
        .map_err(|_reason: std::num::ParseIntError| format!("Not a whole number above 0: \"{text}\"; give 1, 2, 3 ..."))
}

/// What `read` makes of a text, none of an empty one.
pub(super) fn unless_empty<T>(text: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<Option<T>, String> {
    if text.trim().is_empty() { Ok(None) } else { read(text).map(Some) }
}
