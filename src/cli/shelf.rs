//! `shelf`: supplies kept once, read by every plan.

use super::CliError;
use super::arguments::{ShelfArguments, ShelfCommand};
use super::terminal;
use pleatwright::measure::counted;
use pleatwright::plan::{Blank, Shelf, Supply, parse_material, parse_packs, parse_quantity};
use pleatwright::store::journal::Journal;
use pleatwright::store::{FileKind, read_shelf, shelf_text};
use pleatwright::telling::Told;
use std::io::Write;
use std::path::Path;

pub(crate) fn run(arguments: &ShelfArguments, output: &mut dyn Write) -> Result<(), CliError> {
    let nowhere = || CliError::argument("--journal", "this system names no journal folder", "give one with --journal FOLDER");
    let journal = arguments.journal.clone().map(Journal::at).or_else(Journal::own).ok_or_else(nowhere)?;
    match &arguments.command {
        ShelfCommand::List => list(&journal.shelf()?, &journal, output),
        ShelfCommand::Set { name, blank: true, on_hand, pack, price, currency } => {
            if !pack.is_empty() {
                return Err(CliError::argument("--pack", "undyed garments have no packs", "give --price"));
            }
            set_blank(&journal, name, (on_hand.as_deref(), *price), currency.as_deref(), output)
        }
        ShelfCommand::Set { name, blank: false, on_hand, pack, price, currency } => {
            if price.is_some() {
                return Err(CliError::argument("--price", "a supply costs what its packs do", "give --pack, or --blank"));
            }
            set(&journal, name, (on_hand.as_deref(), pack), currency.as_deref(), output)
        }
        ShelfCommand::Remove { name } => remove(&journal, name, output),
        ShelfCommand::Undo => undo(&journal, output),
        ShelfCommand::Export { file } => export(&journal, file, output),
        ShelfCommand::Import { file } => {
            let shelf = read_shelf(file)?;
            journal.keep_shelf(&shelf)?;
            writeln!(output, "{}: {} on the shelf", file.display(), counted(shelf.supplies.len() + shelf.blanks.len(), "item"))?;
            Ok(())
        }
    }
}

fn list(shelf: &Shelf, journal: &Journal, output: &mut dyn Write) -> Result<(), CliError> {
    for line in shelf.supplies.iter().map(Supply::words).chain(shelf.blanks.iter().map(Blank::words)) {
        writeln!(output, "{line}")?;
    }
    let currency = if shelf.currency.is_empty() { String::new() } else { format!("; prices in {}", shelf.currency) };
    let items = counted(shelf.supplies.len() + shelf.blanks.len(), "item");
    writeln!(output, "{items} in {}{currency}", journal.folder().display())?;
    Ok(())
}

fn set(
    journal: &Journal,
    name: &str,
    (on_hand, packs): (Option<&str>, &[String]),
    currency: Option<&str>,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let material = parse_material(name).map_err(|told| wrong(name, &told))?;
    let unit = material.unit();
    let on_hand = on_hand.map(|text| parse_quantity(text, unit).map_err(|told| wrong("--on-hand", &told))).transpose()?;
    let packs = parse_packs(&packs.join(","), unit).map_err(|told| wrong("--pack", &told))?;
    let mut shelf = journal.shelf()?;
    let mut supply = shelf.supply(&material).cloned().unwrap_or(Supply { material, on_hand: 0.0, packs: Vec::new() });
    supply.on_hand = on_hand.unwrap_or(supply.on_hand);
    if !packs.is_empty() {
        supply.packs = packs;
    }
    let words = supply.words();
    shelf.set(supply);
    keep(journal, shelf, currency, &words, output)
}

fn set_blank(
    journal: &Journal,
    name: &str,
    (on_hand, price): (Option<&str>, Option<f64>),
    currency: Option<&str>,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    let number = |text: &str| {
        let error = || CliError::argument("--on-hand", format!("not a number of garments: \"{text}\""), "give 0, 1, 2 ...");
        text.trim().parse::<u32>().map_err(|_error| error())
    };
    let on_hand = on_hand.map(number).transpose()?;
    let mut shelf = journal.shelf()?;
    let mut blank = shelf.blank(name).cloned().unwrap_or(Blank { name: name.to_owned(), on_hand: 0, price: None });
    blank.on_hand = on_hand.unwrap_or(blank.on_hand);
    blank.price = price.or(blank.price);
    let words = blank.words();
    shelf.set_blank(blank);
    keep(journal, shelf, currency, &words, output)
}

fn keep(
    journal: &Journal,
    mut shelf: Shelf,
    currency: Option<&str>,
    words: &str,
    output: &mut dyn Write,
) -> Result<(), CliError> {
    if let Some(currency) = currency {
        currency.clone_into(&mut shelf.currency);
    }
    journal.keep_shelf(&shelf)?;
    writeln!(output, "{words}")?;
    Ok(())
}

fn remove(journal: &Journal, name: &str, output: &mut dyn Write) -> Result<(), CliError> {
    let mut shelf = journal.shelf()?;
    let before = shelf.clone();
    shelf.supplies.retain(|supply| supply.material.to_string() != name);
    shelf.blanks.retain(|blank| blank.name != name);
    if shelf == before {
        return Err(CliError::argument(name, "it is not on the shelf", "\"shelf list\" shows what is"));
    }
    journal.keep_shelf(&shelf)?;
    writeln!(output, "{name}: removed")?;
    Ok(())
}

fn undo(journal: &Journal, output: &mut dyn Write) -> Result<(), CliError> {
    match journal.undo_shelf()? {
        Some(shelf) => list(&shelf, journal, output),
        None => Err(CliError::argument("undo", "the shelf was never changed", "\"shelf set\" puts something on it")),
    }
}

fn export(journal: &Journal, file: &Path, output: &mut dyn Write) -> Result<(), CliError> {
    let shelf = journal.shelf()?;
    terminal::deliver_kind(file, &shelf_text(&shelf), FileKind::Shelf)?;
    let items = counted(shelf.supplies.len() + shelf.blanks.len(), "item");
    writeln!(terminal::beside(file, output), "{}: {items}", terminal::called(file))?;
    Ok(())
}

fn wrong(argument: &str, told: &Told) -> CliError {
    CliError::argument(argument, told.what.clone(), told.cure.clone())
}
