//! What lies in a folder, to choose from: not every system has a picker of its own.

use crate::measure::LengthStyle;
use crate::store::{FileFault, FileWork};
use crate::telling::{AnyRefusal, Voice};
use egui::{Label, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo};
use std::fs;
use std::path::{Path, PathBuf};

/// Height of the list, points.
const HEIGHT: f32 = 226.0;
/// Most names that are listed of a kind.
const MOST: usize = 500;

/// A folder's content as it was read last.
#[derive(Debug, Default)]
pub(super) struct Listing {
    of: Option<PathBuf>,
    folders: Vec<String>,
    files: Vec<String>,
    /// Why it can't be read.
    refused: Option<AnyRefusal>,
}

/// What was chosen in the list.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Chosen {
    /// A folder to look into.
    Folder(PathBuf),
    /// A file.
    File(PathBuf),
    /// A file, and that is the answer.
    Answer(PathBuf),
}

impl Listing {
    /// Reads a folder, unless it is the one that was read last; of its files only those with one of the endings.
    pub(super) fn look(&mut self, folder: &Path, endings: &[&str]) {
        if self.of.as_deref() == Some(folder) {
            return;
        }
        *self = Self { of: Some(folder.to_owned()), ..Self::default() };
        let entries = match fs::read_dir(folder) {
            Ok(entries) => entries,
            Err(error) => {
                self.refused = Some(FileFault::of(folder, FileWork::List)(error).into());
                return;
            }
        };
        for path in entries.flatten().map(|entry| entry.path()) {
            let Some(name) = path.file_name().and_then(|name| name.to_str()).filter(|name| !name.starts_with('.')) else {
                continue;
            };
            let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default().to_lowercase();
            if path.is_dir() {
                self.folders.push(name.to_owned());
            } else if endings.contains(&ending.as_str()) {
                self.files.push(name.to_owned());
            }
        }
        for names in [&mut self.folders, &mut self.files] {
            names.sort_by_key(|name| name.to_lowercase());
            names.truncate(MOST);
        }
    }

    /// The list; what is chosen in it.
    pub(super) fn show(&self, ui: &mut Ui) -> Option<Chosen> {
        let folder = self.of.as_ref()?;
        let mut chosen = None;
        ui.add(Label::new(RichText::new(folder.display().to_string()).weak()).truncate());
        ScrollArea::vertical().id_salt("listing").max_height(HEIGHT).min_scrolled_height(HEIGHT).auto_shrink(false).show(
            ui,
            |ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                if let Some(above) = folder.parent()
                    && row("..", "parent folder", ui).clicked()
                {
                    chosen = Some(Chosen::Folder(above.to_owned()));
                }
                for name in &self.folders {
                    if row(&format!("{name}/"), &format!("folder {name}"), ui).clicked() {
                        chosen = Some(Chosen::Folder(folder.join(name)));
                    }
                }
                for name in &self.files {
                    let response = row(name, &format!("file {name}"), ui);
                    if response.double_clicked() {
                        chosen = Some(Chosen::Answer(folder.join(name)));
                    } else if response.clicked() {
                        chosen = Some(Chosen::File(folder.join(name)));
                    }
                }
                if let Some(words) = &self.refused {
                    ui.label(RichText::new(words.say(Voice::window(LengthStyle::default()))).weak());
                } else if self.folders.is_empty() && self.files.is_empty() {
                    ui.label(RichText::new("Nothing to choose in this folder.").weak());
                }
            },
        );
        chosen
    }
}

fn row(words: &str, name: &str, ui: &mut Ui) -> egui::Response {
    let response = ui.add(egui::Button::selectable(false, words).sense(Sense::click()));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_and_files_of_the_right_kind_are_listed_by_name() {
        let place = tempfile::tempdir().unwrap();
        for name in ["b.ron", "A.RON", "c.pdf", ".hidden.ron"] {
            fs::write(place.path().join(name), "").unwrap();
        }
        fs::create_dir(place.path().join("orders")).unwrap();
        let mut listing = Listing::default();
        listing.look(place.path(), &["ron"]);
        assert_eq!(
            (listing.folders.as_slice(), listing.files.as_slice()),
            (&["orders".to_owned()][..], &["A.RON".into(), "b.ron".into()][..])
        );
        listing.look(&place.path().join("gone"), &["ron"]);
        assert!(listing.files.is_empty() && listing.refused.is_some());
    }
}
