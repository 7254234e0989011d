//! `check`: what is wrong with files, and what to look out for.

use super::CliError;
use super::arguments::CheckArguments;
use pleatwright::layout::Figures;
use pleatwright::measure::LengthStyle;
use pleatwright::store::{FileKind, ReadError, file_kind, read_layout, read_preset};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &CheckArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let style = arguments.units.style();
    let mut errors = Vec::new();
    for path in &arguments.files {
        match check(path, style) {
            Ok(lines) => writeln!(output, "{}: {lines}", path.display())?,
            Err(error) => errors.push(error),
        }
    }
    match errors.pop() {
        None => Ok(()),
        Some(only) if arguments.files.len() == 1 => Err(only.into()),
        Some(last) => {
            let wrong = errors.len() + 1;
            for error in errors.iter().chain([&last]) {
                writeln!(output, "{error}")?;
            }
            Err(CliError::Check { wrong, all: arguments.files.len() })
        }
    }
}

fn check(path: &Path, style: LengthStyle) -> Result<String, ReadError> {
    if file_kind(path)? == FileKind::SpacingPreset {
        let preset = read_preset(path)?;
        return Ok(format!("spacing preset \"{}\", right", preset.name));
    }
    let layout = read_layout(path)?;
    let figures = Figures::of(&layout);
    let count = figures.binds.len();
    let mut lines = format!("layout \"{}\", right; {count} binds", layout.name());
    for warning in &figures.warnings {
        lines += "\n    ";
        lines += &warning.sentence(style);
    }
    Ok(lines)
}
