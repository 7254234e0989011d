//! `journal`: what was made, how it came out, what to change.

mod arguments;

pub(crate) use arguments::JournalArguments;

use super::arguments::UnitArguments;
use super::terminal::{self, Content};
use super::{CliError, counted, new};
use arguments::{JournalCommand, Said};
use jiff::civil::Date;
use pleatwright::store::journal::{Amendment, Difference, Draft, Journal, JournalEntry, Query};
use pleatwright::store::{layout_text, read_layout_text, read_run};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &JournalArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let nowhere = || CliError::argument("--journal", "this system names no journal folder", "give one with --journal FOLDER");
    let own = arguments.journal.clone().map(Journal::at).or_else(Journal::own);
    let journal = own.ok_or_else(nowhere)?;
    match &arguments.command {
        JournalCommand::Add { layout, made, said } => add(&journal, layout, *made, said, output),
        JournalCommand::Amend { id, made, said, drop_photo } => amend(&journal, id, *made, said, drop_photo, output),
        JournalCommand::List => list(&journal.entries()?, &journal, output),
        JournalCommand::Show { id, earlier, layout } => show(&journal, id, *earlier, *layout, output),
        JournalCommand::Search { words, garment, colours, rating_from, rating_to, from, to } => {
            let query = Query {
                words: words.clone(),
                kind: garment.as_deref().map(new::kind).transpose()?,
                colours: colours.clone(),
                rating_from: *rating_from,
                rating_to: *rating_to,
                from: *from,
                to: *to,
            };
            list(&journal.search(&query)?, &journal, output)
        }
        JournalCommand::Compare { first, second, units } => compare(&journal, first, second, *units, output),
        JournalCommand::Again { id, output: path, with_changes } => again(&journal, id, path, *with_changes, output),
        JournalCommand::Export { folder } => export(&journal, folder, output),
        JournalCommand::Salvage => salvage(&journal, output),
        JournalCommand::Import { folder } => import(&journal, folder, output),
    }
}

fn add(journal: &Journal, layout: &Path, made: Date, said: &Said, output: &mut dyn Write) -> Result<(), CliError> {
    let draft = Draft {
        rating: said.rating,
        differently: said.differently.clone().unwrap_or_default(),
        change: said.change.clone().unwrap_or_default(),
        note: said.note.clone().unwrap_or_default(),
        waits: waits(said)?.unwrap_or_default(),
        photos: said.photos.clone(),
        ..Draft::new(made, read_layout_text(layout)?)
    };
    let entry = journal.add(&draft)?;
    writeln!(output, "{}: added in {}", entry.raw().id, journal.folder().display())?;
    Ok(())
}

fn amend(
    journal: &Journal,
    id: &str,
    made: Option<Date>,
    said: &Said,
    drop_photos: &[String],
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let amendment = Amendment {
        made,
        rating: said.rating,
        differently: said.differently.clone(),
        change: said.change.clone(),
        note: said.note.clone(),
        waits: waits(said)?,
        photos: said.photos.clone(),
        drop_photos: drop_photos.to_vec(),
    };
    if amendment == Amendment::default() {
        return Err(CliError::argument(id, "nothing to change", "give --made, --rating, --differently, --change, --note ..."));
    }
    journal.amend(id, &amendment)?;
    writeln!(output, "{id}: saved; the earlier version is kept")?;
    Ok(())
}

/// How the waits of the run came out, if one is given.
fn waits(said: &Said) -> Result<Option<Vec<String>>, CliError> {
    let Some(path) = &said.run else { return Ok(None) };
    Ok(Some(read_run(path)?.verdicts().iter().map(pleatwright::plan::Judged::sentence).collect()))
}

fn list(entries: &[JournalEntry], journal: &Journal, output: &mut dyn Write) -> Result<(), CliError> {
    for entry in entries {
        let (raw, garment) = (entry.raw(), &entry.layout().garment);
        let size = garment.size.as_ref().map_or_else(String::new, |size| format!(" {size}"));
        let colours = entry.colours().collect::<Vec<_>>().join(", ");
        let photos = if raw.photos.is_empty() { String::new() } else { format!(", {}", counted(raw.photos.len(), "photograph")) };
        writeln!(output, "{}  {}  {}{size}; {colours}{photos}", raw.id, rated(entry), garment.kind.name())?;
        if !raw.change.is_empty() {
            writeln!(output, "    to change: {}", raw.change)?;
        }
    }
    let number = if entries.len() == 1 { "1 entry".to_owned() } else { format!("{} entries", entries.len()) };
    writeln!(output, "{number} in {}", journal.folder().display())?;
    Ok(())
}

fn rated(entry: &JournalEntry) -> String {
    entry.raw().rating.map_or_else(|| "not rated".to_owned(), |rating| format!("{rating} of 5"))
}

fn show(journal: &Journal, id: &str, earlier: bool, layout: bool, output: &mut dyn Write) -> Result<(), CliError> {
    let entry = journal.entry(id)?;
    show_entry(journal, &entry, output)?;
    if earlier {
        let before = journal.earlier(id)?;
        for (turn, entry) in before.iter().enumerate() {
            writeln!(output, "\nearlier version {} of {}:", turn + 1, before.len())?;
            show_entry(journal, entry, output)?;
        }
    }
    if layout {
        write!(output, "\n{}", entry.raw().layout)?;
    }
    Ok(())
}

fn show_entry(journal: &Journal, entry: &JournalEntry, output: &mut dyn Write) -> Result<(), CliError> {
    let raw = entry.raw();
    writeln!(output, "{}\n{}, made {}, {}", raw.id, entry.layout().name, raw.made, rated(entry))?;
    for (lead, text) in [("done differently", &raw.differently), ("to change", &raw.change), ("note", &raw.note)] {
        if !text.is_empty() {
            writeln!(output, "{lead}: {text}")?;
        }
    }
    for wait in &raw.waits {
        writeln!(output, "wait: {wait}")?;
    }
    for photo in &raw.photos {
        writeln!(output, "photograph: {}  (was {})", journal.photo_path(photo).display(), photo.from)?;
    }
    Ok(())
}

fn compare(journal: &Journal, first: &str, second: &str, units: UnitArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let lengths = units.style(journal.entry(first)?.layout().binds.marks)?;
    let comparison = journal.compare(first, second, lengths)?;
    writeln!(output, "{first}  |  {second}")?;
    let mut lines = |title: &str, differences: &[Difference]| -> Result<(), CliError> {
        if differences.is_empty() {
            writeln!(output, "{title}: no differences")?;
        } else {
            writeln!(output, "{title}:")?;
        }
        for Difference { what, first, second } in differences {
            writeln!(output, "    {what}: {first}  |  {second}")?;
        }
        Ok(())
    };
    lines("as made", &comparison.made)?;
    lines("layouts", &comparison.layouts)
}

fn again(journal: &Journal, id: &str, path: &Path, with_changes: bool, output: &mut dyn Write) -> Result<(), CliError> {
    let layout = if with_changes { journal.again_with_changes(id)? } else { journal.again(id)? };
    // Without changes the file is the one it was made from, its comments among it.
    let text = if with_changes { layout_text(layout.raw()) } else { journal.entry(id)?.raw().layout.clone() };
    terminal::deliver(path, text.as_bytes(), Content::Text)?;
    let output = &mut *terminal::beside(path, output);
    writeln!(output, "{}: \"{}\"", terminal::called(path), layout.name())?;
    if with_changes {
        writeln!(output, "{}", layout.raw().note)?;
    }
    Ok(())
}

fn export(journal: &Journal, folder: &Path, output: &mut dyn Write) -> Result<(), CliError> {
    let count = journal.export(folder)?;
    writeln!(output, "{}: {}", folder.display(), if count == 1 { "1 entry".to_owned() } else { format!("{count} entries") })?;
    Ok(())
}

fn salvage(journal: &Journal, output: &mut dyn Write) -> Result<(), CliError> {
    let done = journal.salvage()?;
    for line in done.sentences() {
        writeln!(output, "{line}")?;
    }
    Ok(())
}

fn import(journal: &Journal, folder: &Path, output: &mut dyn Write) -> Result<(), CliError> {
    let done = journal.import(folder)?;
    for id in &done.added {
        writeln!(output, "{id}: imported")?;
    }
    for id in &done.same {
        writeln!(output, "{id}: already there")?;
    }
    for (wanted, id) in &done.beside {
        writeln!(output, "{wanted}: the name was taken; kept as {id}")?;
    }
    Ok(())
}
