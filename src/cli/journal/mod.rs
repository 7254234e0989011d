//! `journal`: what was made, how it came out, what to change.

mod arguments;

pub(crate) use arguments::JournalArguments;

use super::arguments::UnitArguments;
use super::terminal;
use super::{CliError, new};
use arguments::{JournalCommand, Said};
use jiff::civil::Date;
use pleatwright::measure::counted;
use pleatwright::plan::{Judged, Run, RunReport};
use pleatwright::store::journal::{Amendment, Difference, Draft, Journal, JournalEntry, Query};
use pleatwright::store::{FileKind, layout_text, read_layout, read_layout_text, read_run};
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &JournalArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let nowhere = || CliError::argument("--journal", "this system names no journal folder", "give one with --journal FOLDER");
    let own = arguments.journal.clone().map(Journal::at).or_else(Journal::own);
    let journal = own.ok_or_else(nowhere)?;
    match &arguments.command {
        JournalCommand::Add { layout, made, garment, said } => add(&journal, (layout, *garment), *made, said, output),
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

fn add(
    journal: &Journal,
    (layout, garment): (&Path, Option<u32>),
    made: Date,
    said: &Said,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let run = said.run.as_deref().map(read_run).transpose()?;
    let Told { garment, notes, times, waits } =
        run.as_ref().map(|run| told(run, layout, garment)).transpose()?.unwrap_or_default();
    let draft = Draft {
        rating: said.rating,
        differently: said.differently.clone().unwrap_or_default(),
        change: said.change.clone().unwrap_or_default(),
        note: said.note.clone().unwrap_or_else(|| notes.join("\n")),
        garment,
        waits,
        times,
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
        waits: said.run.as_deref().map(read_run).transpose()?.as_ref().map(waits),
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

/// What a run tells of garments for an entry.
#[derive(Default)]
struct Told {
    garment: String,
    notes: Vec<String>,
    times: Vec<String>,
    waits: Vec<String>,
}

/// What a run tells of one garment of a layout, by its number; without one, of all of them together.
fn told(run: &Run, layout: &Path, garment: Option<u32>) -> Result<Told, CliError> {
    let layout = read_layout(layout)?;
    let own: Vec<RunReport> = run.reports().into_iter().filter(|report| report.of == layout.name()).collect();
    let Some(number) = garment else {
        let mut told = Told { waits: waits(run), ..Told::default() };
        for report in own {
            add_new(&mut told.notes, report.notes);
            add_new(&mut told.times, report.times);
        }
        return Ok(told);
    };
    let of = own.len();
    let report = usize::try_from(number).ok().and_then(|number| own.into_iter().nth(number.checked_sub(1)?));
    match report {
        Some(RunReport { garment, notes, times, waits, .. }) => Ok(Told { garment, notes, times, waits }),
        None if of == 0 => {
            let what = format!("the run tells nothing of \"{}\"", layout.name());
            Err(CliError::argument(format!("--garment {number}"), what, "name a layout that was made in it"))
        }
        None => {
            let what = format!("the run made {} of it", counted(of, "garment"));
            Err(CliError::argument(format!("--garment {number}"), what, format!("give 1 to {of}")))
        }
    }
}

/// Adds the lines that are not there yet.
fn add_new(lines: &mut Vec<String>, more: Vec<String>) {
    for line in more {
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
}

/// How the waits of a run came out.
fn waits(run: &Run) -> Vec<String> {
    run.verdicts().iter().map(Judged::sentence).collect()
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
    let number = counted(entries.len(), "entry");
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
    writeln!(output, "{}\n{}, made {}, {}", raw.id, entry.name(), raw.made, rated(entry))?;
    for (lead, text) in [("done differently", &raw.differently), ("to change", &raw.change), ("note", &raw.note)] {
        if !text.is_empty() {
            writeln!(output, "{lead}: {text}")?;
        }
    }
    for wait in &raw.waits {
        writeln!(output, "wait: {wait}")?;
    }
    for time in &raw.times {
        writeln!(output, "time: {time}")?;
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
    terminal::deliver_kind(path, &text, FileKind::Layout)?;
    let output = &mut *terminal::beside(path, output);
    writeln!(output, "{}: \"{}\"", terminal::called(path), layout.name())?;
    if with_changes {
        writeln!(output, "{}", layout.raw().note)?;
    }
    Ok(())
}

fn export(journal: &Journal, folder: &Path, output: &mut dyn Write) -> Result<(), CliError> {
    let count = journal.export(folder)?;
    writeln!(output, "{}: {}", folder.display(), counted(count, "entry"))?;
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
