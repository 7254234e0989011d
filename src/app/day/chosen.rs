//! Choosing a recipe or process: one that comes with the program, by its name, or a file.

use crate::app::field;
use crate::app::purpose::DayFile;
use crate::store::{EXAMPLE_PROCESSES, EXAMPLE_RECIPES, Example, parse_process, parse_recipe, read_process, read_recipe};
use egui::Ui;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// What comes with the program: the name that an order gives it, and its own.
pub(super) type Shipped = [(&'static str, String)];

static RECIPES: LazyLock<Vec<(&str, String)>> =
    LazyLock::new(|| names(&EXAMPLE_RECIPES, |text| parse_recipe(text).ok().map(|recipe| recipe.name)));
static PROCESSES: LazyLock<Vec<(&str, String)>> =
    LazyLock::new(|| names(&EXAMPLE_PROCESSES, |text| parse_process(text).ok().map(|process| process.name)));

fn names(examples: &'static [Example], own: impl Fn(&str) -> Option<String>) -> Vec<(&'static str, String)> {
    let name = |example: &Example| (example.short_name(), own(example.text).unwrap_or_else(|| example.short_name().to_owned()));
    examples.iter().map(name).collect()
}

pub(super) fn recipes() -> &'static Shipped {
    &RECIPES
}

pub(super) fn processes() -> &'static Shipped {
    &PROCESSES
}

/// The names of what files hold, read once.
#[derive(Debug, Default)]
pub(super) struct OwnNames(BTreeMap<PathBuf, Option<String>>);

impl OwnNames {
    /// What a recipe or process in a file is called; none where it comes with the program, or can't be read.
    pub(super) fn of(&mut self, path: &Path, file: DayFile) -> Option<&str> {
        let read = |path: &PathBuf| match file {
            DayFile::Recipe => read_recipe(path).ok().map(|recipe| recipe.name),
            _ => read_process(path).ok().map(|process| process.name),
        };
        self.0.entry(path.to_owned()).or_insert_with_key(read).as_deref()
    }

    /// Forgets them, so that files are read again.
    pub(super) fn look_again(&mut self) {
        self.0.clear();
    }
}

/// What was picked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Picked {
    /// The one that suits.
    Automatic,
    /// One that comes with the program.
    Shipped(&'static str),
    /// A file, still to be named.
    File,
}

/// A list to pick from: what is chosen `now`, by its short name or file, and what that file's is called.
pub(super) fn pick(
    ui: &mut Ui,
    label: &str,
    now: Option<&str>,
    own_name: Option<&str>,
    shipped: &'static Shipped,
) -> Option<Picked> {
    let mut picked = None;
    field::pick(ui, label, name(now, own_name, shipped), |ui| {
        if ui.selectable_label(now.is_none(), AUTOMATIC).clicked() {
            picked = Some(Picked::Automatic);
        }
        for (short, name) in shipped {
            if ui.selectable_label(now == Some(short), name).clicked() {
                picked = Some(Picked::Shipped(short));
            }
        }
        let own = now.filter(|now| shipped.iter().all(|(short, _)| short != now));
        if let Some(own) = own {
            // Its entry is there to be seen; it is chosen already.
            let _chosen = ui.selectable_label(true, own_name.map_or_else(|| file_words(own), ToOwned::to_owned));
        }
        if ui.selectable_label(false, "From a file…").clicked() {
            picked = Some(Picked::File);
        }
    });
    picked
}

const AUTOMATIC: &str = "automatic";

/// What is chosen, in words.
fn name(now: Option<&str>, own_name: Option<&str>, shipped: &Shipped) -> String {
    let Some(now) = now else { return AUTOMATIC.to_owned() };
    let shipped = shipped.iter().find(|(short, _)| *short == now).map(|(_, name)| name.as_str());
    shipped.or(own_name).map_or_else(|| file_words(now), ToOwned::to_owned)
}

/// A file by its own name, without its folder.
fn file_words(path: &str) -> String {
    Path::new(path).file_name().map_or_else(|| path.to_owned(), |name| name.to_string_lossy().into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_chosen_is_called_by_its_name() {
        assert_eq!(name(None, None, recipes()), "automatic");
        assert_eq!(name(Some("powder-under-ice"), None, recipes()), "Powder under ice");
        assert_eq!(name(Some("plain-dye"), None, processes()), "Plain dye on white");
        assert_eq!(name(Some("own/blue.ron"), Some("Deep blue"), recipes()), "Deep blue");
        assert_eq!(name(Some("own/blue.ron"), None, recipes()), "blue.ron", "what can't be read");
        assert_eq!((recipes().len(), processes().len()), (3, 4));
    }
}
