//! The swatches that dyes are taken from: the maker's own, and those that come with the program.

use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::picker::{Offered, with_patch};
use crate::layout::Swatch;
use crate::reveal::colour::{DyeSwatch, Renamed, SwatchBook};
use crate::store::{EXAMPLE_SWATCHES, SwatchShelf, SwatchShelfError, parse_swatches};
use crate::telling::{AnyRefusal, Told, Voice};
use egui::Ui;
use std::path::{Path, PathBuf};

/// The books of swatches, read when the program starts and when something is kept.
#[derive(Debug)]
pub(crate) struct Swatches {
    shelf: Option<SwatchShelf>,
    own: Result<Vec<Swatch>, AnyRefusal>,
    ours: Vec<Swatch>,
}

impl Swatches {
    /// The swatches, with the maker's own from this file.
    pub(crate) fn new(path: Option<PathBuf>) -> Self {
        let colours = |book: &SwatchBook| book.swatches().iter().map(|swatch| swatch.colour.clone()).collect::<Vec<_>>();
        let books = EXAMPLE_SWATCHES.iter().filter_map(|example| parse_swatches(example.text).ok());
        let ours = books.flat_map(|book| colours(&book)).collect();
        let mut swatches = Self { shelf: path.map(SwatchShelf::new), own: Ok(Vec::new()), ours };
        swatches.look_again();
        swatches
    }

    fn look_again(&mut self) {
        let book = self.shelf.as_ref().map(SwatchShelf::book).transpose();
        self.own = book
            .map(|book| book.iter().flat_map(|book| book.swatches()).map(|swatch| swatch.colour.clone()).collect())
            .map_err(AnyRefusal::from);
    }

    /// Keeps a colour among the maker's own: what to tell.
    pub(crate) fn keep(&mut self, colour: &Swatch) -> Result<String, AnyRefusal> {
        self.change(|shelf| shelf.keep(colour), &format!("Added {}", colour.name))
    }

    /// Takes in the swatches of a file: what to tell.
    pub(crate) fn import(&mut self, path: &Path) -> Result<String, AnyRefusal> {
        self.change(|shelf| shelf.import(path), &format!("Imported {}", path.display()))
    }

    /// The maker's own, or an empty book.
    pub(crate) fn book(&self) -> Result<SwatchBook, AnyRefusal> {
        match &self.shelf {
            Some(shelf) => Ok(shelf.book()?),
            None => Ok(SwatchBook::new("None".to_owned(), String::new(), Vec::new())?),
        }
    }

    /// What of a book the maker's own has not; none where it has all.
    pub(crate) fn unknown(&self, book: &SwatchBook) -> Option<SwatchBook> {
        let own = self.book().ok()?;
        let is_known = |swatch: &DyeSwatch| {
            let known = own.swatch(&swatch.colour.name);
            known.is_some_and(|known| *known == DyeSwatch { note: known.note.clone(), ..swatch.clone() })
        };
        let unknown: Vec<DyeSwatch> = book.swatches().iter().filter(|swatch| !is_known(swatch)).cloned().collect();
        let book = SwatchBook::new(book.name().to_owned(), String::new(), unknown).ok()?;
        (!book.swatches().is_empty()).then_some(book)
    }

    /// Takes in swatches that came from elsewhere: what to tell.
    pub(crate) fn take_in(&mut self, book: &SwatchBook) -> Result<String, AnyRefusal> {
        let count = book.swatches().len();
        self.change(|shelf| shelf.take_in(book), &format!("Added {count} swatch{}", if count == 1 { "" } else { "es" }))
    }

    /// Writes the maker's own to a file: what to tell.
    pub(crate) fn export(&self, path: &Path) -> Result<String, AnyRefusal> {
        let shelf = self.shelf.as_ref().ok_or_else(no_folder)?;
        shelf.export(path).map(|()| format!("Exported {}", path.display())).map_err(AnyRefusal::from)
    }

    fn change(
        &mut self,
        change: impl FnOnce(&SwatchShelf) -> Result<Vec<Renamed>, SwatchShelfError>,
        words: &str,
    ) -> Result<String, AnyRefusal> {
        let shelf = self.shelf.as_ref().ok_or_else(no_folder)?;
        let renamed = change(shelf)?;
        self.look_again();
        let told: Vec<String> = renamed.iter().map(|one| format!("{} as \"{}\"", one.from, one.to)).collect();
        Ok(if told.is_empty() { words.to_owned() } else { format!("{words}: {}, as the name was taken", told.join(", ")) })
    }

    /// All swatches, the maker's own first, and whether each can be taken: those whose names are in use can't be.
    pub(super) fn offered(&self, used: &[Swatch]) -> Offered<'_> {
        let all = self.own.iter().flatten().chain(&self.ours);
        all.map(|swatch| (swatch, used.iter().all(|other| other.name != swatch.name))).collect()
    }

    /// A menu of all swatches; the one that was chosen. Those whose names are in use can't be.
    pub(crate) fn menu(&self, words: &str, used: &[Swatch], voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Swatch> {
        let mut chosen = None;
        ui.menu_button(words, |ui| {
            egui::ScrollArea::vertical().max_height(420.0).show(ui, |ui| {
                match &self.own {
                    Ok(own) => list("Your swatches", own, used, &mut chosen, ui),
                    Err(refused) => drop(ui.label(refused.say(voice))),
                }
                list("Starter swatches", &self.ours, used, &mut chosen, ui);
            });
            ui.separator();
            for action in [Action::SwatchesFromPhoto, Action::ImportSwatches, Action::ExportSwatches] {
                if ui.button(action.label()).on_hover_text(action.tooltip()).clicked() {
                    asks.push(Ask::Act(action));
                    ui.close();
                }
            }
        });
        chosen
    }
}

fn no_folder() -> Told {
    Told::new("this system names no data folder, so swatches can't be saved", "put the colours in the layout")
}

fn list(title: &str, swatches: &[Swatch], used: &[Swatch], chosen: &mut Option<Swatch>, ui: &mut Ui) {
    if swatches.is_empty() {
        return;
    }
    ui.label(egui::RichText::new(title).weak());
    for (index, swatch) in swatches.iter().enumerate() {
        ui.push_id((title, index), |ui| {
            with_patch(swatch, ui, |ui| {
                let free = used.iter().all(|other| other.name != swatch.name);
                if ui.add_enabled(free, egui::Button::new(&swatch.name)).clicked() {
                    *chosen = Some(swatch.clone());
                    ui.close();
                }
            });
        });
    }
}
