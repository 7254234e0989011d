//! `print`: sheets true to size.

use super::CliError;
use super::arguments::{PartArgument, PrintArguments};
use super::paper::paper;
use super::terminal::{self, Content};
use pleatwright::layout::{Figures, Layout};
use pleatwright::measure::RuleMarks;
use pleatwright::print::parts::{PartKind, PrintForm, PrintOptions, PrintedFile, TemplateOptions, printed_files};
use pleatwright::print::{PrinterCorrection, TilingOptions};
use pleatwright::store::{read_layout, save_each};
use std::io::Write;
use std::path::Path;

/// Closest dots of a pounced line, mm, and the farthest that still show a curve.
const POUNCE_MM: std::ops::RangeInclusive<f64> = 1.0..=50.0;

pub(crate) fn run(arguments: &PrintArguments, output: &mut dyn Write) -> Result<(), CliError> {
    PrintForm::of(name(arguments))?;
    refuse_what_is_for_sheets(arguments)?;
    let layout = read_layout(&arguments.layout)?;
    let options = options(arguments, layout.marks())?;
    print(&layout, &options, arguments, output)
}

/// The name that says the format; to standard output that is a PDF, as a printer takes it.
fn name(arguments: &PrintArguments) -> &Path {
    if terminal::is_output(&arguments.output) { Path::new("standard output.pdf") } else { &arguments.output }
}

fn print(layout: &Layout, options: &PrintOptions, arguments: &PrintArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let (path, kinds) = (name(arguments), PartArgument::kinds(&arguments.part));
    refuse_what_is_not_there(layout, &kinds)?;
    // Everything is made before anything is written.
    let files = printed_files(layout, &Figures::of(layout), &kinds, options, path)?;
    match &files[..] {
        [only] if terminal::is_output(&arguments.output) => {
            terminal::deliver(&arguments.output, &only.bytes, Content::Binary)?;
        }
        files => save_each(files, PrintedFile::content)?,
    }
    let output = &mut *terminal::beside(&arguments.output, output);
    for file in &files {
        writeln!(output, "{}: {}", file.path.display(), file.words)?;
    }
    if PrintForm::of(path)? == PrintForm::Pdf {
        writeln!(
            output,
            "On {}. Print at 100 % (actual size) and measure the 100 mm or 4 in bar before cutting.",
            options.paper
        )?;
    }
    Ok(())
}

fn options(arguments: &PrintArguments, marks: RuleMarks) -> Result<PrintOptions, CliError> {
    if let Some(spacing_mm) = arguments.pounce.filter(|spacing_mm| !POUNCE_MM.contains(spacing_mm)) {
        let (least, most) = (POUNCE_MM.start(), POUNCE_MM.end());
        return Err(CliError::argument(
            format!("--pounce {spacing_mm} mm"),
            "out of range",
            format!("give {least} to {most} mm"),
        ));
    }
    let usual = TilingOptions::default();
    Ok(PrintOptions {
        paper: paper(arguments.paper.as_deref().unwrap_or("A4"))?,
        tiling: TilingOptions {
            margin_mm: arguments.margin.unwrap_or(usual.margin_mm),
            overlap_mm: arguments.overlap.unwrap_or(usual.overlap_mm),
            correction: PrinterCorrection::from_printed_mm_per_100(arguments.printer_prints.unwrap_or(100.0))?,
        },
        template: TemplateOptions {
            lengths: Some(arguments.units.style(marks)?),
            pounce_mm: arguments.pounce,
            creases: !arguments.without_creases,
        },
    })
}

/// Parts of which none serves this layout would be an empty file.
fn refuse_what_is_not_there(layout: &Layout, kinds: &[PartKind]) -> Result<(), CliError> {
    match kinds.first().filter(|_| !kinds.iter().any(|kind| kind.serves(layout))) {
        Some(kind) => {
            let (what, cure) = kind.lacking();
            Err(CliError::argument(format!("--part {}", kind.name()), what, cure))
        }
        None => Ok(()),
    }
}

/// SVG and DXF are written whole: what is about sheets would be passed over in silence.
fn refuse_what_is_for_sheets(arguments: &PrintArguments) -> Result<(), CliError> {
    let is_cut = name(arguments).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
    let given = [
        ("--paper", arguments.paper.is_some()),
        ("--margin", arguments.margin.is_some()),
        ("--overlap", arguments.overlap.is_some()),
    ];
    match given.into_iter().find(|(_, is_given)| *is_given && !is_cut) {
        Some((name, _)) => Err(CliError::argument(
            name,
            format!("it applies to PDF only, and {} is one whole drawing", arguments.output.display()),
            "leave it out or print to .pdf",
        )),
        None => Ok(()),
    }
}
