//! `completions`: what a shell needs to complete the program's commands and options, from their one definition.

use super::arguments::{Arguments, CompletionsArguments};
use super::terminal::{self, Content};
use super::{CliError, PROGRAM};
use clap::CommandFactory as _;
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &CompletionsArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), PROGRAM, &mut script);
    let path = arguments.output.as_deref().unwrap_or_else(|| Path::new("-"));
    terminal::deliver(path, &script, Content::Text)?;
    if !terminal::is_output(path) {
        writeln!(output, "{}: completions for {}", path.display(), arguments.shell)?;
    }
    Ok(())
}
