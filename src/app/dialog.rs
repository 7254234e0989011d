//! What stands before the window: naming a file, questions before something is lost, the keys.

use super::action::Action;
use super::canvas::HANDLING;
use super::context::Ask;
use super::day::DayFile;
use super::journal::JournalAsk;
use super::theme::Palette;
use crate::store::backup_path;
use egui::{Key, RichText, TextEdit, Ui};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// What a file name is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Purpose {
    Open,
    Save,
    Print,
    Preset,
    Picture,
    Compare,
    ImportSwatches,
    ExportSwatches,
    Plan,
    PrintOrder,
    Day(DayFile),
    Photograph,
    ExportJournal,
    ImportJournal,
}

impl Purpose {
    fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a layout",
            Self::Save => "Save the layout as",
            Self::Print => "Print to a file",
            Self::Preset => "Save the spacing as a preset",
            Self::Picture => "Save the reveal's picture",
            Self::Compare => "Compare with the reveal of another layout",
            Self::ImportSwatches => "Take in swatches",
            Self::ExportSwatches => "Save your swatches",
            Self::Plan => "Save the plan",
            Self::PrintOrder => "Print everything into a folder",
            Self::Day(DayFile::Order) => "Plan an order",
            Self::Day(DayFile::Recipe) => "Use a recipe",
            Self::Day(DayFile::Process) => "Use a process",
            Self::Photograph => "Attach a photograph",
            Self::ExportJournal => "Export the journal into a folder",
            Self::ImportJournal => "Import a journal from a folder",
        }
    }

    fn button(self) -> &'static str {
        match self {
            Self::Open => "Open",
            Self::Save | Self::Preset | Self::Picture | Self::Plan | Self::ExportSwatches => "Save",
            Self::ImportSwatches => "Take in",
            Self::Day(_) => "Use",
            Self::Compare => "Compare",
            Self::Photograph => "Attach",
            Self::ExportJournal => "Export",
            Self::ImportJournal => "Import",
            Self::Print | Self::PrintOrder => "Print",
        }
    }

    /// Whether a file is read, not written.
    fn reads(self) -> bool {
        matches!(self, Self::Open | Self::Compare | Self::Day(_) | Self::Photograph | Self::ImportJournal | Self::ImportSwatches)
    }

    /// Whether a folder is named, not a file.
    fn is_folder(self) -> bool {
        matches!(self, Self::ExportJournal | Self::ImportJournal | Self::PrintOrder)
    }

    fn hint(self) -> &'static str {
        match self {
            Self::Open
            | Self::Compare
            | Self::Save
            | Self::Preset
            | Self::Day(_)
            | Self::ImportSwatches
            | Self::ExportSwatches => "a file ending in .ron",
            Self::Plan => "a file ending in .pdf, .txt or .ics",
            Self::PrintOrder => "a folder; it is made if it is not there; files of the same name are kept as backups",
            Self::Picture => "a file ending in .png",
            Self::Photograph => "a photograph: .jpg, .png, .webp, .gif, .tif, .heic or .avif; it is copied into the journal",
            Self::ExportJournal => "a folder; it is made if it is not there",
            Self::ImportJournal => "a folder that a journal was exported into",
            Self::Print => "a file ending in .pdf, .svg or .dxf",
        }
    }
}

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
    /// Somebody else wrote to the layout's file.
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
    },
    /// A preset gets another name.
    Rename {
        /// Its file.
        path: PathBuf,
        /// The name being written.
        name: String,
    },
    /// What keys and pointer do.
    Keys,
}

/// A field for a file's name, and the system's own picker if it has one.
#[derive(Debug)]
pub(crate) struct FileDialog {
    purpose: Purpose,
    path: String,
    preset: String,
    focused: bool,
    picker: Option<Receiver<Option<PathBuf>>>,
}

impl FileDialog {
    pub(crate) fn new(purpose: Purpose, folder: Option<&Path>, name: &str) -> Self {
        let path = folder.map_or_else(|| PathBuf::from(name), |folder| folder.join(name));
        Self { purpose, path: path.display().to_string(), preset: String::new(), focused: false, picker: None }
    }
}

impl Dialog {
    pub(crate) fn show(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let modal = egui::Modal::new(egui::Id::unique("dialog")).show(ui.ctx(), |ui| {
            ui.set_width(460.0);
            match self {
                Self::File(file) => file.show(asks, ui),
                Self::Unsaved { name } => unsaved(name, asks, ui),
                Self::ChangedOnDisk { path } => changed_on_disk(path, asks, ui),
                Self::Rename { path, name } => rename(path, name, asks, ui),
                Self::Keys => keys(asks, ui),
            }
        });
        if modal.should_close() {
            asks.push(Ask::CloseDialog);
        }
    }
}

fn unsaved(name: &str, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Save the changes?");
    ui.label(format!("\"{name}\" has changes that are in no file yet."));
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        if ui.button("Save").clicked() {
            asks.push(Ask::CloseDialog);
            asks.push(Ask::Act(Action::Save));
        }
        if ui.button("Go on without saving").clicked() {
            asks.push(Ask::GoOn);
        }
        if ui.button("Stay").clicked() {
            asks.push(Ask::CloseDialog);
        }
    });
}

fn changed_on_disk(path: &Path, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("The file was changed by another program");
    ui.label(format!("{} is not as it was when it was opened or saved here.", path.display()));
    let kept = backup_path(path);
    ui.label(format!("Saved over, what stands there now is kept as {}.", kept.file_name().unwrap_or_default().to_string_lossy()));
    ui.add_space(8.0);
    ui.horizontal_wrapped(|ui| {
        let answers = [
            ("Save over it", Some(Ask::SaveOver(path.to_owned()))),
            ("Save as…", Some(Ask::Act(Action::SaveAs))),
            ("Open it again", Some(Ask::Open(path.to_owned()))),
            ("Stay", None),
        ];
        for (words, ask) in answers {
            if ui.button(words).clicked() {
                asks.push(Ask::CloseDialog);
                asks.extend(ask);
            }
        }
    });
}

fn rename(path: &Path, name: &mut String, asks: &mut Vec<Ask>, ui: &mut Ui) {
    ui.heading("Rename the preset");
    let mut entered = false;
    ui.horizontal(|ui| {
        let label = ui.label("Name");
        let field = ui.add(TextEdit::singleline(name).desired_width(340.0)).labelled_by(label.id);
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
    let height = ui.ctx().content_rect().height() - 190.0;
    egui::ScrollArea::vertical().max_height(height).show(ui, |ui| {
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
                    row(ui, ui.ctx().format_shortcut(&keys), action.label());
                }
            }
        });
    });
    ui.add_space(8.0);
    if ui.button("Close").clicked() {
        asks.push(Ask::CloseDialog);
    }
}

impl FileDialog {
    fn show(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.take_picked();
        ui.heading(self.purpose.title());
        if self.purpose == Purpose::Preset {
            ui.horizontal(|ui| {
                let label = ui.label("Name");
                ui.add(TextEdit::singleline(&mut self.preset).desired_width(300.0)).labelled_by(label.id);
            });
        }
        let mut entered = false;
        ui.horizontal(|ui| {
            let label = ui.label(if self.purpose.is_folder() { "Folder" } else { "File" });
            let field = ui.add(TextEdit::singleline(&mut self.path).desired_width(320.0)).labelled_by(label.id);
            if !self.focused {
                field.request_focus();
                self.focused = true;
            }
            entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            if ui.add_enabled(self.picker.is_none(), egui::Button::new("Browse…")).clicked() {
                self.browse(ui.ctx().clone());
            }
        });
        ui.label(RichText::new(self.purpose.hint()).weak());
        let path = PathBuf::from(self.path.trim());
        if !self.purpose.reads() && path.is_file() {
            let kept = backup_path(&path);
            let words = format!(
                "There is a file of that name; it is kept as {}.",
                kept.file_name().unwrap_or_default().to_string_lossy()
            );
            ui.label(RichText::new(words).color(Palette::of(ui.ctx()).warn));
        }
        ui.add_space(8.0);
        ui.horizontal(|ui| {
            let ready = !self.path.trim().is_empty() && (self.purpose != Purpose::Preset || !self.preset.trim().is_empty());
            if ui.add_enabled(ready, egui::Button::new(self.purpose.button())).clicked() || (entered && ready) {
                asks.push(Ask::CloseDialog);
                asks.push(self.ask(path));
            }
            if ui.button("Cancel").clicked() {
                asks.push(Ask::CloseDialog);
            }
        });
    }

    fn ask(&self, path: PathBuf) -> Ask {
        match self.purpose {
            Purpose::Open => Ask::Open(path),
            Purpose::Save => Ask::SaveTo(with_ending(path, "ron")),
            Purpose::Print => Ask::PrintTo(path),
            Purpose::Picture => Ask::SavePictureTo(with_ending(path, "png")),
            Purpose::Compare => Ask::CompareWith(path),
            Purpose::ImportSwatches => Ask::ImportSwatches(path),
            Purpose::ExportSwatches => Ask::ExportSwatches(with_ending(path, "ron")),
            Purpose::Plan => Ask::SavePlanTo(path),
            Purpose::PrintOrder => Ask::PrintOrderTo(path),
            Purpose::Day(file) => Ask::UseForDay(file, path),
            Purpose::Photograph => Ask::Journal(JournalAsk::Attach(vec![path])),
            Purpose::ExportJournal => Ask::Journal(JournalAsk::Export(path)),
            Purpose::ImportJournal => Ask::Journal(JournalAsk::Import(path)),
            Purpose::Preset => Ask::SavePreset { name: self.preset.trim().to_owned(), path: with_ending(path, "ron") },
        }
    }

    /// Asks the system's own picker, on another thread: it may take its time, and there may be none.
    fn browse(&mut self, ctx: egui::Context) {
        let (sender, receiver) = channel();
        let path = PathBuf::from(self.path.trim());
        let (opening, folder) = (self.purpose.reads(), self.purpose.is_folder());
        let spawned = std::thread::Builder::new().name("picker".to_owned()).spawn(move || {
            let mut picker = rfd::FileDialog::new();
            if let Some(folder) = path.parent().filter(|folder| folder.is_dir()) {
                picker = picker.set_directory(folder);
            }
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            let picked = match (folder, opening) {
                (true, _) => picker.pick_folder(),
                (false, true) => picker.pick_file(),
                (false, false) => picker.set_file_name(name).save_file(),
            };
            let _gone = sender.send(picked);
            ctx.request_repaint();
        });
        self.picker = spawned.is_ok().then_some(receiver);
    }

    fn take_picked(&mut self) {
        let Some(receiver) = &self.picker else { return };
        match receiver.try_recv() {
            Ok(picked) => {
                self.path = picked.map_or_else(|| self.path.clone(), |path| path.display().to_string());
                self.picker = None;
            }
            Err(TryRecvError::Disconnected) => self.picker = None,
            Err(TryRecvError::Empty) => {}
        }
    }
}

/// A path with this ending, added where there is none.
fn with_ending(path: PathBuf, ending: &str) -> PathBuf {
    if path.extension().is_some() { path } else { path.with_extension(ending) }
}
