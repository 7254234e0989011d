//! `handbook`: its pages listed, shown, searched, or all of them as a PDF.

use super::CliError;
use super::arguments::HandbookArguments;
use super::paper::paper;
use super::terminal::{self, Content};
use pleatwright::handbook::{Chapter, book, page, pages, plain_text, search};
use pleatwright::measure::counted;
use std::io::Write;
use std::path::Path;

/// Letters on a line of a page, at most.
const COLUMNS: usize = 92;
/// Pages that a search shows at most.
const MOST_FOUND: usize = 12;

pub(crate) fn run(arguments: &HandbookArguments, output: &mut dyn Write) -> Result<(), CliError> {
    match (&arguments.output, &arguments.page, &arguments.search) {
        (Some(path), ..) => write(path, arguments.paper.as_deref(), output),
        (None, Some(name), _) => show(name, output),
        (None, None, Some(words)) => find(words, output),
        (None, None, None) => list(output),
    }
}

fn write(path: &Path, on: Option<&str>, output: &mut dyn Write) -> Result<(), CliError> {
    let is_pdf = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
    if !is_pdf && !terminal::is_output(path) {
        return Err(CliError::argument(path.display().to_string(), "the handbook is written as a PDF", "end the name in .pdf"));
    }
    let paper = paper(on.unwrap_or("A4"))?;
    terminal::deliver(path, &book(&paper)?, Content::Binary)?;
    let said = terminal::called(path);
    writeln!(terminal::beside(path, output), "{said}: the handbook, {} on {paper}", counted(pages().len(), "page"))?;
    Ok(())
}

fn show(name: &str, output: &mut dyn Write) -> Result<(), CliError> {
    let Some(page) = page(name) else {
        let known: Vec<&str> = pages().iter().map(|page| page.name()).collect();
        return Err(CliError::argument(
            format!("--page {name}"),
            "not a page of the handbook",
            format!("choose {}", pleatwright::telling::listed(known, "or")),
        ));
    };
    Ok(write!(output, "{}", plain_text(page, COLUMNS))?)
}

fn find(words: &str, output: &mut dyn Write) -> Result<(), CliError> {
    let hits = search(words);
    if hits.is_empty() {
        return Err(CliError::argument(
            format!("--search {words}"),
            "no page has all these words",
            "use fewer, or only their beginnings",
        ));
    }
    for hit in hits.iter().take(MOST_FOUND) {
        let part = hit.anchor.and_then(|anchor| hit.page.heading(anchor));
        let part = part.map_or_else(String::new, |heading| format!(", {heading}"));
        writeln!(output, "{}: {}{part}\n    {}", hit.page.name(), hit.page.title(), hit.excerpt)?;
    }
    if hits.len() > MOST_FOUND {
        writeln!(output, "And {}; add a word to find fewer.", counted(hits.len() - MOST_FOUND, "more page"))?;
    }
    Ok(())
}

fn list(output: &mut dyn Write) -> Result<(), CliError> {
    for chapter in Chapter::ALL {
        writeln!(output, "{}", chapter.title())?;
        for page in pages().iter().filter(|page| page.chapter() == chapter) {
            writeln!(output, "  {:16} {}", page.name(), page.title())?;
        }
    }
    writeln!(output, "Show one with --page NAME, or write them all with -o handbook.pdf.")?;
    Ok(())
}
