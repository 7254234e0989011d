//! The same jobs without a window: print, figures, check, new, plan, spacing.
//!
//! No arithmetic of the trade stands here: every number comes from the library.

mod arguments;
mod check;
mod error;
mod figures;
mod new;
mod plan;
mod print;
mod spacing;

pub(crate) use arguments::Arguments;
pub(crate) use error::CliError;

use arguments::Command;
use std::io::Write;

/// Does what the arguments ask for, writing what there is to say to `output`.
pub(crate) fn run(arguments: Arguments, output: &mut dyn Write) -> Result<(), CliError> {
    match (arguments.command, arguments.layout) {
        (Some(Command::Print(arguments)), _) => print::run(&arguments, output),
        (Some(Command::Figures(arguments)), _) => figures::run(&arguments, output),
        (Some(Command::Check(arguments)), _) => check::run(&arguments, output),
        (Some(Command::New(arguments)), _) => new::run(&arguments, output),
        (Some(Command::Plan(arguments)), _) => plan::run(&arguments, output),
        (Some(Command::Spacing(arguments)), _) => spacing::run(&arguments, output),
        (None, layout) => pleatwright::app::open_window(layout).map_err(CliError::Argument),
    }
}
