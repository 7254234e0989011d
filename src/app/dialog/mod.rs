//! Modal dialogs: file names, confirmations before data is lost, the key list.

mod bundle;
mod file;
mod line;
mod listing;

pub(crate) use self::file::FileDialog;
pub(crate) use self::line::{LineDialog, free};

use super::action::{Action, keys_words};
use super::brought::Brought;
use super::canvas::HANDLING;
use super::context::Ask;
use super::day::DayAsk;
use super::photo::{MARKING, OUTLINING, PhotoAsk, SQUARES};
use super::projection::PROJECTING;
use super::purpose::{DayFile, Printed};
use super::step::Step;
use crate::store::backup_path;
use crate::telling::Voice;
use egui::{Key, RichText, ScrollArea, TextEdit, Ui, Vec2, vec2};
use std::path::{Path, PathBuf};

/// What stands before the window.
#[derive(Debug)]
pub(crate) enum Dialog {
    /// A file is to be named.
    File(FileDialog),
    /// The layout has changes that no file holds.
    Unsaved {
        /// The layout's name.
        name: String,
    },
    /// An order, a recipe or a process has changes that no file holds.
    UnsavedOfDay {
        /// Which.
        file: DayFile,
        /// Its name.
        name: String,
    },
    /// Marks were set on a photograph that no file holds.
    UnsavedMarks {
        /// What the photograph is called.
        name: String,
        /// Where its marks are kept.
        file: PathBuf,
    },
    /// The program is to be closed, and texts are not in the journal yet.
    Texts {
        /// What they are about and how they begin, a line each.
        lines: Vec<String>,
    },
    /// Somebody else wrote to the layout's file.
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
    },
    /// A file that is to be written is write-protected.
    Protected {
        /// The file.
        path: PathBuf,
        /// What writes to it.
        ask: Ask,
    },
    /// A preset gets another name.
    Rename {
        /// Its file.
        path: PathBuf,
        /// The name being written.
        name: String,
    },
    /// A drawing is asked about before a line is taken from it.
    Line(LineDialog),
    /// A bundle brought presets and swatches.
    Brought(Brought),
    /// What keys and pointer do.
    Keys,
}

impl Dialog {
    /// What is printed where it asks for a file to print to.
    pub(crate) fn printed(&self) -> Option<Printed> {
        match self {
            Self::File(file) => file.printed(),
            _ => None,
        }
    }

    /// Shows it, with what is to be said about the sheets that it asks a file for.
    pub(crate) fn show(&mut self, about: Option<&str>, voice: Voice, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let modal = egui::Modal::new(egui::Id::unique("dialog")).show(ui.ctx(), |ui| {
            let room = room_before(ui, WIDTH);
            ScrollArea::vertical().max_height(room.y).min_scrolled_height(room.y).show(ui, |ui| match self {
                Self::File(file) => file.show(about, asks, ui),
                Self::Unsaved { name } => unsaved(&has_changes(name), [Ask::Act(Action::Save), Ask::GoOn], asks, ui),
                Self::UnsavedOfDay { file, name } => {
                    let (save, give_up) = (DayAsk::Save(*file), DayAsk::GiveUp(*file));
                    unsaved(&has_changes(name), [Ask::Day(save), Ask::Day(give_up)], asks, ui);
                }
                Self::UnsavedMarks { name, file } => {
                    let (save, give_up) = (PhotoAsk::SaveMarks(file.clone()), PhotoAsk::GiveUpMarks);
                    unsaved(
                        &format!("The marks on \"{name}\" have unsaved changes."),
                        [Ask::Photo(save), Ask::Photo(give_up)],
                        asks,
                        ui,
                    );
                }
                Self::Texts { lines } => texts(lines, asks, ui),
                Self::ChangedOnDisk { path } => changed_on_disk(path, asks, ui),
                Self::Protected { path, ask } => protected(path, ask, asks, ui),
                Self::Rename { path, name } => rename(path, name, asks, ui),
                Self::Line(line) => line.show(voice, asks, ui),
                Self::Brought(brought) => bundle::show(brought, asks, ui),
                Self::Keys => keys(asks, ui),
            });
        });
        // A press beside it would lose what was written in it, or answer a question that was not read.
        let is_beside = modal.backdrop_response.clicked();
        if modal.should_close() && (!is_beside || matches!(self, Self::Keys)) {
            asks.push(Ask::CloseDialog);
        }
    }
}

/// Breadth of what stands before the window and of a field in it, points.
const WIDTH: f32 = 500.0;
const FIELD: f32 = 340.0;
/// What stands before the window leaves so much of a small one free, points.
const BESIDE: Vec2 = vec2(28.0, 28.0);

/// Makes what stands before the window so broad, less where the window has no room for it; all the room there is, points.
pub(super) fn room_before(ui: &mut Ui, width: f32) -> Vec2 {
    let room = ui.ctx().content_rect().size() - BESIDE;
    ui.set_width(width.min(room.x));
    room
}

/// The answer that loses nothing: the keys' first, and whether it was given.
fn safe_answer(words: &str, ui: &mut Ui) -> bool {
    let button = ui.button(words);
    if ui.memory(|memory| memory.focused().is_none()) {
        button.request_focus();
    }
    button.clicked()
}

fn has_changes(name: &str) -> String {
    format!("\"{name}\" has unsaved changes.")
}

/// Asks whether changes are saved; what is asked for then, and where they are given up.
fn unsaved(what: &str, [save, give_up]: [Ask; 2], asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Save changes?");
    ui.label(what);
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        if safe_answer("Save", ui) {
            asks.push(Ask::PutDialogAway);
            asks.push(save);
        }
        if ui.button("Don't save").clicked() {
            asks.push(give_up);
        }
        if ui.button("Cancel").clicked() {
            asks.push(Ask::CloseDialog);
        }
    });
}

fn texts(lines: &[String], asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Not in the journal yet");
    ui.label("This journal text would be lost:");
    for line in lines {
        ui.label(RichText::new(line).strong());
    }
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        if safe_answer("Keep for next time", ui) {
            asks.push(Ask::LeaveTexts { kept: true });
        }
        if ui.button("Discard").clicked() {
            asks.push(Ask::LeaveTexts { kept: false });
        }
        if ui.button("Open the journal").clicked() {
            asks.push(Ask::CloseDialog);
            asks.push(Ask::Go(Step::Journal));
        }
        if ui.button("Cancel").clicked() {
            asks.push(Ask::CloseDialog);
        }
    });
}

fn changed_on_disk(path: &Path, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("The file was changed by another program");
    ui.label(format!("{} has changed on disk since you opened or saved it.", path.display()));
    let kept = backup_path(path);
    ui.label(format!(
        "If you overwrite it, the current file is kept as {}.",
        kept.file_name().unwrap_or_default().to_string_lossy()
    ));
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        let answers = [
            ("Overwrite", Some(Ask::SaveOver(path.to_owned()))),
            ("Save as…", Some(Ask::Act(Action::SaveAs))),
            ("Reopen", Some(Ask::Open(path.to_owned()))),
            ("Cancel", None),
        ];
        for (words, ask) in answers {
            if ui.button(words).clicked() {
                // Saved, what was held up by the question goes on.
                let saves = matches!(ask, Some(Ask::SaveOver(_) | Ask::Act(Action::SaveAs)));
                asks.push(if saves { Ask::PutDialogAway } else { Ask::CloseDialog });
                asks.extend(ask);
            }
        }
    });
}

fn protected(path: &Path, ask: &Ask, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("The file is write-protected");
    ui.label(format!("{} is protected against changes.", path.display()));
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        if safe_answer("Cancel", ui) {
            asks.push(Ask::CloseDialog);
        }
        if ui.button("Remove protection and save").clicked() {
            asks.push(Ask::PutDialogAway);
            asks.push(Ask::AllowWriting(path.to_owned(), Box::new(ask.clone())));
        }
        if matches!(ask, Ask::SaveTo(_) | Ask::SaveOver(_)) && ui.button("Save as…").clicked() {
            asks.push(Ask::PutDialogAway);
            asks.push(Ask::Act(Action::SaveAs));
        }
    });
}

fn rename(path: &Path, name: &mut String, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Rename the preset");
    let mut entered = false;
    ui.horizontal(|ui| {
        let label = ui.label("Name");
        let field = ui.add(TextEdit::singleline(name).desired_width(FIELD.min(ui.available_width()))).labelled_by(label.id);
        entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    });
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        let ready = !name.trim().is_empty();
        if ui.add_enabled(ready, egui::Button::new("Rename")).clicked() || (entered && ready) {
            asks.push(Ask::CloseDialog);
            asks.push(Ask::RenamePreset { path: path.to_owned(), name: name.clone() });
        }
        if ui.button("Cancel").clicked() {
            asks.push(Ask::CloseDialog);
        }
    });
}

fn keys(asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Keys and pointer");
    let height = (ui.ctx().content_rect().height() - 190.0).max(80.0);
    ScrollArea::vertical().id_salt("keys").max_height(height).show(ui, |ui| {
        let row = |ui: &mut Ui, keys: String, words: &str| {
            ui.label(RichText::new(keys).strong());
            ui.add(egui::Label::new(words).wrap());
            ui.end_row();
        };
        egui::Grid::new("keys").num_columns(2).striped(true).min_col_width(150.0).show(ui, |ui| {
            for (what, does) in HANDLING {
                row(ui, what.to_owned(), does);
            }
            for action in Action::all() {
                if let Some(keys) = action.shortcut() {
                    row(ui, keys_words(&keys, ui.ctx()), action.full_label());
                }
            }
            for (what, does) in MARKING {
                row(ui, format!("On a photograph: {what}"), does);
            }
            for (what, does) in OUTLINING {
                row(ui, format!("On an undyed garment: {what}"), does);
            }
            for (what, does) in SQUARES {
                row(ui, format!("On dyed squares: {what}"), does);
            }
            for (what, does) in PROJECTING {
                row(ui, format!("Projected: {what}"), does);
            }
        });
    });
    ui.add_space(8.0);
    if ui.button("Close").clicked() {
        asks.push(Ask::CloseDialog);
    }
}
