//! The same jobs without a window: print, figures, check, new, spacing.
//!
//! No arithmetic of the trade stands here: every number comes from the library.

mod arguments;
mod check;
mod error;
mod figures;
mod new;
mod print;
mod spacing;

pub(crate) use arguments::Arguments;
pub(crate) use error::CliError;

use arguments::Command;
use pleatwright::store::EXAMPLE_LAYOUTS;
use std::io::Write;
use std::path::Path;

/// Does what the arguments ask for, writing what there is to say to `output`.
pub(crate) fn run(arguments: Arguments, output: &mut dyn Write) -> Result<(), CliError> {
    match (arguments.command, arguments.layout) {
        (Some(Command::Print(arguments)), _) => print::run(&arguments, output),
        (Some(Command::Figures(arguments)), _) => figures::run(&arguments, output),
        (Some(Command::Check(arguments)), _) => check::run(&arguments, output),
        (Some(Command::New(arguments)), _) => new::run(&arguments, output),
        (Some(Command::Spacing(arguments)), _) => spacing::run(&arguments, output),
        (None, Some(layout)) => print::print_here(&pleatwright::store::read_layout(&layout)?, output),
        (None, None) => print_example(output),
    }
}

/// With nothing asked for: the first example's template, into the current folder.
fn print_example(output: &mut dyn Write) -> Result<(), CliError> {
    let example = &EXAMPLE_LAYOUTS[0];
    let layout = pleatwright::store::parse_layout(example.text).map_err(|(place, problem)| {
        CliError::from(pleatwright::store::ReadError::Text { path: Path::new(example.name).to_owned(), place, problem })
    })?;
    writeln!(output, "No layout was named, so the example is printed; \"pleatwright --help\" says what else there is.")?;
    print::print_here(&layout, output)
}
