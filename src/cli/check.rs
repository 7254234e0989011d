//! `check`: what is wrong with files, and what to look out for.

use super::CliError;
use super::arguments::{CheckArguments, UnitArguments};
use pleatwright::layout::{Figures, Layout, warning_runs};
use pleatwright::measure::counted;
use pleatwright::store::{
    Contents, FileKind, file_kind, read_bundle, read_layout, read_learned, read_marks, read_order, read_preset, read_process,
    read_recipe, read_run, read_shelf, read_swatches, read_wish,
};
use pleatwright::telling::{Names, Voice, Warned as _};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &CheckArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let mut errors = Vec::new();
    for path in &arguments.files {
        match check(path, arguments.units) {
            Ok(lines) => writeln!(output, "{}: {lines}", path.display())?,
            Err(error) => errors.push(error),
        }
    }
    match errors.pop() {
        None => Ok(()),
        Some(only) if arguments.files.len() == 1 => Err(only),
        Some(last) => {
            let wrong = errors.len() + 1;
            for error in errors.iter().chain([&last]) {
                writeln!(output, "{error}")?;
            }
            Err(CliError::Check { wrong, all: arguments.files.len() })
        }
    }
}

fn check(path: &Path, units: UnitArguments) -> Result<String, CliError> {
    match file_kind(path)? {
        FileKind::SpacingPreset => Ok(format!("spacing preset \"{}\": no problems", read_preset(path)?.name)),
        FileKind::Recipe => Ok(format!("recipe \"{}\": no problems", read_recipe(path)?.name)),
        FileKind::Process => Ok(format!("process \"{}\": no problems", read_process(path)?.name)),
        FileKind::Run => {
            let run = read_run(path)?;
            let settled = run.steps().filter(|step| step.finished.is_some()).count();
            Ok(format!(
                "run of \"{}\": no problems, {settled} of {} ticked off",
                run.name(),
                counted(run.steps().count(), "step")
            ))
        }
        FileKind::Order => {
            let order = read_order(path)?;
            let (garments, loads) = (counted(order.garments(), "garment"), counted(order.loads().len(), "load"));
            Ok(format!("order \"{}\": no problems, {garments} in {loads}", order.raw().name))
        }
        FileKind::Swatches => {
            let book = read_swatches(path)?;
            Ok(format!("swatches \"{}\": no problems, {}", book.name(), counted(book.swatches().len(), "colour")))
        }
        FileKind::Shelf => {
            let shelf = read_shelf(path)?;
            Ok(format!("shelf: no problems, {}", counted(shelf.supplies.len() + shelf.blanks.len(), "item")))
        }
        FileKind::Bundle => {
            let bundle = read_bundle(path)?;
            let Contents { presets, swatches, picture } = bundle.contents();
            let swatches = if swatches { ", swatches" } else { "" };
            let picture = if picture { ", a picture" } else { "" };
            let (verdict, warnings) = verdict(&bundle.layout, units)?;
            let (name, presets) = (bundle.layout.name(), counted(presets, "preset"));
            Ok(format!("bundle of \"{name}\": {verdict}, {presets}{swatches}{picture}{warnings}"))
        }
        FileKind::Marks => {
            let marks = read_marks(path)?;
            let sheet = if marks.sheet.is_some() { " and a sheet" } else { "" };
            Ok(format!("marks on the {}: no problems, {}{sheet}", marks.side, counted(marks.points.len(), "point")))
        }
        FileKind::Learned => {
            let learned = read_learned(path)?;
            Ok(format!("learned calibration values: no problems, from {}", counted(learned.pieces().len(), "piece")))
        }
        FileKind::Wish => {
            let (wish, layout) = read_wish(path)?;
            Ok(format!("wish \"{}\": no problems, {} of \"{}\"", wish.name, counted(wish.parts.len(), "part"), layout.name()))
        }
        FileKind::Layout => check_layout(path, units),
    }
}

fn check_layout(path: &Path, units: UnitArguments) -> Result<String, CliError> {
    let layout = read_layout(path)?;
    let (verdict, warnings) = verdict(&layout, units)?;
    Ok(format!("layout \"{}\": {verdict}, {}{warnings}", layout.name(), layout.bound_with()))
}

/// Whether something is to look out for in a layout, and what, each in a line of its own.
fn verdict(layout: &Layout, units: UnitArguments) -> Result<(String, String), CliError> {
    let style = units.style(layout.marks())?;
    let figures = Figures::of(layout);
    let runs = warning_runs(&figures.warnings);
    let verdict = match runs.len() {
        0 => "no problems".to_owned(),
        count => format!("usable, {}", counted(count, "warning")),
    };
    let voice = Voice { lengths: style, names: Names::Keys };
    let lines = runs.into_iter().map(|run| format!("\n    {}", run.say(voice)));
    Ok((verdict, lines.collect()))
}
