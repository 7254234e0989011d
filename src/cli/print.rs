//! `print`: sheets true to size.

use super::CliError;
use super::arguments::{PartArgument, PrintArguments};
use pleatwright::layout::{Figures, Layout};
use pleatwright::print::parts::{PartKind, PrintOptions, TemplateOptions, drawings, print_parts};
use pleatwright::print::{Drawing, PrintError, PrinterCorrection, TilingOptions, write_dxf, write_pdf, write_svg};
use pleatwright::store::{read_layout, save};
use std::ffi::OsStr;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Closest dots of a pounced line, mm, and the farthest that still show a curve.
const POUNCE_MM: std::ops::RangeInclusive<f64> = 1.0..=50.0;

/// The form of a printed file.
#[derive(Clone, Copy)]
enum Form {
    Pdf,
    Svg,
    Dxf,
}

pub(crate) fn run(arguments: &PrintArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let form = form(&arguments.output)?;
    let options = options(arguments)?;
    let layout = read_layout(&arguments.layout)?;
    let figures = Figures::of(&layout);
    let kinds = PartArgument::kinds(&arguments.part);
    match form {
        Form::Pdf => print_pdf(&layout, &figures, &kinds, &options, &arguments.output, output),
        Form::Svg => print_whole(&layout, &figures, &kinds, &options, &arguments.output, write_svg, output),
        Form::Dxf => print_whole(&layout, &figures, &kinds, &options, &arguments.output, write_dxf, output),
    }
}

/// Prints every part of a layout on A4 into the current folder, under the layout's name.
pub(crate) fn print_here(layout: &Layout, output: &mut dyn Write) -> Result<(), CliError> {
    let path = PathBuf::from(file_name(layout.name()) + ".pdf");
    let options = PrintOptions { paper: "A4".parse()?, tiling: TilingOptions::default(), template: TemplateOptions::default() };
    print_pdf(layout, &Figures::of(layout), &PartKind::ALL, &options, &path, output)
}

/// A layout's name as a file name: small letters, digits and hyphens.
fn file_name(name: &str) -> String {
    let plain: String = name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    let joined = plain.split_whitespace().collect::<Vec<_>>().join("-");
    if joined.is_empty() { "layout".to_owned() } else { joined }
}

fn form(path: &Path) -> Result<Form, CliError> {
    match path.extension().and_then(OsStr::to_str).map(str::to_lowercase).as_deref() {
        Some("pdf") => Ok(Form::Pdf),
        Some("svg") => Ok(Form::Svg),
        Some("dxf") => Ok(Form::Dxf),
        _ => Err(CliError::Argument(format!("{}: the name must end in .pdf, .svg or .dxf", path.display()))),
    }
}

fn options(arguments: &PrintArguments) -> Result<PrintOptions, CliError> {
    if let Some(spacing_mm) = arguments.pounce.filter(|spacing_mm| !POUNCE_MM.contains(spacing_mm)) {
        let (least, most) = (POUNCE_MM.start(), POUNCE_MM.end());
        return Err(CliError::Argument(format!("--pounce {spacing_mm} mm: give a distance from {least} to {most} mm")));
    }
    let usual = TilingOptions::default();
    Ok(PrintOptions {
        paper: arguments.paper.parse()?,
        tiling: TilingOptions {
            margin_mm: arguments.margin.unwrap_or(usual.margin_mm),
            overlap_mm: arguments.overlap.unwrap_or(usual.overlap_mm),
            correction: PrinterCorrection::from_printed_mm_per_100(arguments.printer_prints)?,
        },
        template: TemplateOptions {
            lengths: arguments.units.style(),
            pounce_mm: arguments.pounce,
            creases: !arguments.without_creases,
        },
    })
}

fn print_pdf(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
    path: &Path,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let document = print_parts(layout, figures, kinds, options)?;
    save(path, &write_pdf(&document)?)?;
    writeln!(output, "{}: {} on {}", path.display(), pages(&document), options.paper)?;
    writeln!(output, "Print at 100 % (actual size) and measure the 100 mm bar before cutting.")?;
    Ok(())
}

fn pages(document: &pleatwright::print::PdfDocument) -> String {
    let count = |part: &pleatwright::print::Part| {
        let title = part.title.rsplit(": ").next().unwrap_or(&part.title);
        let plural = if part.pages.len() == 1 { "page" } else { "pages" };
        format!("{title} {} {plural}", part.pages.len())
    };
    document.parts.iter().map(count).collect::<Vec<_>>().join(", ")
}

/// Writes each part whole, into a file of its own when there are several.
fn print_whole(
    layout: &Layout,
    figures: &Figures,
    kinds: &[PartKind],
    options: &PrintOptions,
    path: &Path,
    write: fn(&Drawing) -> Result<String, PrintError>,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let all: Vec<(PartKind, Drawing)> = kinds
        .iter()
        .flat_map(|&kind| drawings(layout, figures, kind, &options.template).into_iter().map(move |d| (kind, d)))
        .collect();
    // Everything is made before anything is written.
    let texts = all.iter().map(|(_, drawing)| write(drawing)).collect::<Result<Vec<_>, _>>()?;
    for (index, ((kind, _), text)) in all.iter().zip(texts).enumerate() {
        let turn = all[..index].iter().filter(|(earlier, _)| earlier == kind).count();
        let path = if all.len() == 1 { path.to_owned() } else { part_path(path, *kind, turn) };
        save(&path, text.as_bytes())?;
        writeln!(output, "{}: {}", path.display(), kind.name())?;
    }
    Ok(())
}

/// `tee.svg` as `tee-template.svg`, or `tee-job-card-2.svg` for a second page.
fn part_path(path: &Path, kind: PartKind, turn: usize) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    let page = if turn == 0 { String::new() } else { format!("-{}", turn + 1) };
    path.with_file_name(format!("{stem}-{}{page}.{ending}", kind.name()))
}
