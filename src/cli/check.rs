//! `check`: what is wrong with files, and what to look out for.

use super::CliError;
use super::arguments::CheckArguments;
use pleatwright::layout::Figures;
use pleatwright::measure::LengthStyle;
use pleatwright::store::{FileKind, ReadError, file_kind, read_layout, read_order, read_preset, read_process, read_recipe};
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
    match file_kind(path)? {
        FileKind::SpacingPreset => Ok(format!("spacing preset \"{}\", right", read_preset(path)?.name)),
        FileKind::Recipe => Ok(format!("recipe \"{}\", right", read_recipe(path)?.name)),
        FileKind::Process => Ok(format!("process \"{}\", right", read_process(path)?.name)),
        FileKind::Order => {
            let order = read_order(path)?;
            Ok(format!("order \"{}\", right; {} garments in {} loads", order.raw().name, order.garments(), order.loads().len()))
        }
        FileKind::Layout => check_layout(path, style),
    }
}

fn check_layout(path: &Path, style: LengthStyle) -> Result<String, ReadError> {
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
