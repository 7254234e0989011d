//! The program: arguments, then the job that they ask for.

mod cli;

use clap::Parser as _;
use std::io::Write as _;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments = match cli::Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => return cli::refuse(&error),
    };
    let done = cli::run(arguments, &mut cli::terminal::output());
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) if error.is_unheard() => error.exit_code(),
        Err(error) => {
            // Nothing is left to tell if the error can't be told.
            let _told = writeln!(cli::terminal::errors(), "pleatwright: {error}");
            error.exit_code()
        }
    }
}
