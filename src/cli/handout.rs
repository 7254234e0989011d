//! `handout`: a layout on a few pages, for others to follow on a garment of theirs.

use super::CliError;
use super::arguments::{HandoutArguments, RegionArgument};
use super::paper::paper;
use super::progress::watched;
use super::terminal::{self, Content};
use pleatwright::measure::counted;
use pleatwright::plan::Workshop;
use pleatwright::print::parts::{HANDOUT_PX, Handout, HandoutOptions};
use pleatwright::store::{OfLayout, order_of_layout, picture_png, read_layout};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &HandoutArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let path = &arguments.output;
    let is_picture = is_picture(path)?;
    if is_picture && arguments.paper.is_some() {
        return Err(CliError::argument("--paper", "it applies to PDF only", "leave it out, or end the file in .pdf"));
    }
    let paper = paper(arguments.paper.as_deref().unwrap_or("A4"))?;
    let layout = read_layout(&arguments.layout)?;
    let lengths = Some(arguments.units.style(layout.marks())?);
    let usual = Workshop::default();
    let of_layout = OfLayout {
        count: 1,
        recipe: arguments.recipe.as_deref(),
        process: arguments.process.as_deref(),
        workshop: Workshop { region: arguments.region.map_or(usual.region, RegionArgument::region), ..usual },
        scrap_tested: false,
    };
    let order = order_of_layout(layout, of_layout).map_err(|error| error.of_file(&arguments.layout))?;
    let options = HandoutOptions { lengths, rule: arguments.rings.rule(), ..HandoutOptions::default() };
    let handout = watched("computing", |cancel| Handout::of(&order, &options, cancel))?;
    let pages = counted(handout.pages().len(), "page");
    let (bytes, words) = if is_picture {
        let picture = handout.picture(HANDOUT_PX)?;
        (picture_png(&picture, Handout::pixel_mm(HANDOUT_PX))?, format!("{} x {} pixels, {pages}", picture.width, picture.height))
    } else {
        (handout.pdf(&paper)?, format!("{pages} on {paper}"))
    };
    terminal::deliver(path, &bytes, Content::Binary)?;
    writeln!(terminal::beside(path, output), "{}: {words}", terminal::called(path))?;
    Ok(())
}

/// Whether a name asks for a picture; if not it asks for a PDF.
fn is_picture(path: &Path) -> Result<bool, CliError> {
    let ending = path.extension().and_then(|ending| ending.to_str()).map(str::to_lowercase);
    match ending.as_deref() {
        _ if terminal::is_output(path) => Ok(false),
        Some("pdf") => Ok(false),
        Some("png") => Ok(true),
        _ => Err(CliError::argument(path.display().to_string(), "not the name of a handout", "end it in .pdf or .png")),
    }
}
