//! The same jobs without a window: print, figures, check, new, plan, journal, shelf, reveal, wish, like, photo, swatches,
//! learn, testcloth, handout, bundle, spacing; the handbook; and what helps to type them.
//!
//! No arithmetic of the trade stands here: every number comes from the library.

mod area;
mod arguments;
mod bundle;
mod check;
mod completions;
mod error;
mod figures;
mod given;
mod handbook;
mod handout;
mod journal;
mod learn;
mod like;
mod man;
mod marked;
mod new;
mod new_dips;
mod new_drawing;
mod new_flat;
mod new_fold;
mod new_line;
mod new_outline;
mod new_photo;
mod new_spiral;
mod paper;
mod photo;
mod plan;
mod print;
mod progress;
mod refusal;
mod reveal;
mod shelf;
mod spacing;
mod swatches;
pub(crate) mod terminal;
mod test_cloth;
mod unsure;
mod wish;

pub(crate) use arguments::Arguments;
pub(crate) use error::CliError;
pub(crate) use refusal::refuse;

use arguments::Command;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The program's name.
const PROGRAM: &str = "pleatwright";

/// Does what the arguments ask for, writing what there is to say to `output`.
pub(crate) fn run(arguments: Arguments, output: &mut dyn Write) -> Result<(), CliError> {
    match (arguments.command, arguments.layout) {
        (Some(Command::Print(arguments)), _) => print::run(&arguments, output),
        (Some(Command::Figures(arguments)), _) => figures::run(&arguments, output),
        (Some(Command::Check(arguments)), _) => check::run(&arguments, output),
        (Some(Command::New(arguments)), _) => new::run(&arguments, output),
        (Some(Command::Plan(arguments)), _) => plan::run(&arguments, output),
        (Some(Command::Journal(arguments)), _) => journal::run(&arguments, output),
        (Some(Command::Shelf(arguments)), _) => shelf::run(&arguments, output),
        (Some(Command::Reveal(arguments)), _) => reveal::run(&arguments, output),
        (Some(Command::Wish(arguments)), _) => wish::run(&arguments, output),
        (Some(Command::Like(arguments)), _) => like::run(&arguments, output),
        (Some(Command::Photo(arguments)), _) => photo::run(&arguments, output),
        (Some(Command::Swatches(arguments)), _) => swatches::run(&arguments, output),
        (Some(Command::Learn(arguments)), _) => learn::run(&arguments, output),
        (Some(Command::TestCloth(arguments)), _) => test_cloth::run(&arguments, output),
        (Some(Command::Handout(arguments)), _) => handout::run(&arguments, output),
        (Some(Command::Spacing(arguments)), _) => spacing::run(&arguments, output),
        (Some(Command::Bundle(arguments)), _) => bundle::run(&arguments, output),
        (Some(Command::Handbook(arguments)), _) => handbook::run(&arguments, output),
        (Some(Command::Completions(arguments)), _) => completions::run(&arguments, output),
        (Some(Command::Man(arguments)), _) => man::run(&arguments, output),
        (None, layout) => open_window(layout),
    }
}

/// Opens the window; where there is none to be had, says how to do without.
fn open_window(layout: Option<PathBuf>) -> Result<(), CliError> {
    let program = std::env::args().next().unwrap_or_else(|| PROGRAM.to_owned());
    let without_one = without_a_window(&program, layout.as_deref());
    pleatwright::app::open_window(layout).map_err(|reason| CliError::NoWindow {
        // The system's words begin with where in its own code it gave up.
        reason: reason.rsplit(": ").next().unwrap_or(&reason).trim_end_matches([')', '.']).to_owned(),
        without_one,
    })
}

/// How to print without a window: the layout that was named, or one to begin with.
fn without_a_window(program: &str, layout: Option<&Path>) -> String {
    let begins = if layout.is_none() { format!("\"{program} new -o shirt.ron\" begins a layout, and ") } else { String::new() };
    let layout = layout.unwrap_or_else(|| Path::new("shirt.ron"));
    let sheets = layout.with_extension("pdf");
    let sheets = sheets.file_name().unwrap_or_default().to_string_lossy();
    format!("{begins}\"{program} print {} -o {sheets}\" prints it without one", layout.display())
}
