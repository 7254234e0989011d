//! What is said when the arguments can't be used: a refused value in the program's own form, anything else as the parser says it.

use super::terminal;
use clap::error::{ContextKind, ErrorKind};
use std::error::Error as _;
use std::io::Write as _;
use std::process::ExitCode;

/// Says it, help and version among it.
pub(crate) fn refuse(error: &clap::Error) -> ExitCode {
    // Nothing is left to tell if the error can't be told.
    let _told = match refused_value(error) {
        Some(words) => writeln!(terminal::errors(), "pleatwright: {words}"),
        None if error.use_stderr() => write!(terminal::errors(), "{}", error.render()),
        None => write!(terminal::output(), "{}", error.render()),
    };
    ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2))
}

/// `--margin -3: it can't be negative; give 0 mm or more`; none for an error of another kind.
fn refused_value(error: &clap::Error) -> Option<String> {
    let of = |kind| error.get(kind).map(ToString::to_string);
    let (argument, value) = (of(ContextKind::InvalidArg)?, of(ContextKind::InvalidValue)?);
    // `--pounce[=<LENGTH>]`, `--units <UNITS>`, `<FILE>`
    let name = argument.split([' ', '[', '=']).next().unwrap_or(&argument);
    let why = match error.kind() {
        ErrorKind::ValueValidation => error.source()?.to_string(),
        ErrorKind::InvalidValue if !value.is_empty() => format!("give one of {}", of(ContextKind::ValidValue)?),
        _ => return None,
    };
    Some(format!("{name} {value}: {why}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cli::Arguments;
    use clap::Parser as _;

    #[test]
    fn a_refused_value_is_told_in_one_line_with_what_would_be_right() {
        let said = |words: &str| {
            let error = Arguments::try_parse_from(words.split(' ')).unwrap_err();
            refused_value(&error).unwrap_or_else(|| error.to_string())
        };
        let print = "pleatwright print tee.ron -o tee.pdf";
        assert_eq!(said(&format!("{print} --margin -3")), "--margin -3: it can't be negative; give 0 mm or more");
        assert_eq!(said(&format!("{print} --units inch")), "--units inch: give one of mm, cm, in");
        assert_eq!(said(&format!("{print} --nearest 3")), "--nearest 3: give 2, 4, 8 or 16");
        assert!(said(&format!("{print} --pounce=long")).starts_with("--pounce long: "));
        assert!(said("pleatwright plan tee.ron --zone Harbour/Row --start 2027-05-03").contains("not a time zone"));
        // Of a word that nothing is, the parser says more.
        assert!(said("pleatwright print").contains("--output"));
    }
}
