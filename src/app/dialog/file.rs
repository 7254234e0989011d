//! Naming a file or a folder, and what it is named for.

use super::FIELD;
use super::listing::{Chosen, Listing};
use crate::app::context::Ask;
use crate::app::day::DayAsk;
use crate::app::journal::JournalAsk;
use crate::app::learn::LearnAsk;
use crate::app::photo::PhotoAsk;
use crate::app::purpose::{DrawnAs, Printed, Purpose};
use crate::app::theme::Palette;
use crate::app::wish::WishAsk;
use crate::store::{backup_path, is_named_photograph, refuse_other_kind};
use crate::telling::{Refused as _, Voice};
use egui::{Key, RichText, TextEdit, Ui};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, TryRecvError, channel};

/// A field for a file's name, what lies in its folder, and the system's own picker if it has one.
#[derive(Debug)]
pub(crate) struct FileDialog {
    purpose: Purpose,
    /// The folder that names are in where none is written.
    folder: PathBuf,
    path: String,
    preset: String,
    focused: bool,
    listing: Listing,
    picker: Option<Receiver<Option<PathBuf>>>,
    /// The path that was looked at last, and why nothing can be written there.
    looked: Option<(PathBuf, Option<String>)>,
}

impl FileDialog {
    pub(crate) fn new(purpose: Purpose, folder: &Path, name: &str) -> Self {
        Self {
            purpose,
            folder: folder.to_owned(),
            path: folder.join(name).display().to_string(),
            preset: String::new(),
            focused: false,
            listing: Listing::default(),
            picker: None,
            looked: None,
        }
    }

    pub(super) fn show(&mut self, about: Option<&str>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.take_picked();
        ui.heading(self.purpose.title());
        if let Some(about) = about {
            ui.add(egui::Label::new(about).wrap());
        }
        let mut entered = self.fields(ui);
        ui.label(RichText::new(self.purpose.hint()).weak());
        let written = self.folder.join(self.path.trim());
        let within = if written.is_dir() { Some(written.as_path()) } else { written.parent() };
        if let Some(folder) = within.filter(|folder| folder.is_dir()) {
            self.listing.look(folder, self.purpose.endings());
        }
        match self.listing.show(ui) {
            Some(Chosen::Folder(folder)) => self.path = self.purpose.within(&folder, &written).display().to_string(),
            Some(Chosen::File(file)) => {
                self.path = file.display().to_string();
                // Enter answers with it.
                self.focused = false;
            }
            Some(Chosen::Answer(file)) => {
                self.path = file.display().to_string();
                entered = true;
            }
            None => {}
        }
        let path = self.purpose.with_ending(self.folder.join(self.path.trim()));
        self.look_at(&path);
        let refused = self.looked.as_ref().and_then(|(_, refused)| refused.as_deref());
        if let Some(refused) = refused {
            ui.add(egui::Label::new(RichText::new(refused).color(Palette::of(ui.ctx()).refused)).wrap());
        } else if !self.purpose.reads() && path.is_file() {
            let kept = backup_path(&path);
            let words = format!(
                "This file exists; the earlier version is kept as {}.",
                kept.file_name().unwrap_or_default().to_string_lossy()
            );
            ui.label(RichText::new(words).color(Palette::of(ui.ctx()).warn));
        }
        ui.add_space(8.0);
        let is_free = refused.is_none();
        ui.horizontal(|ui| {
            let named = self.purpose.is_folder() || !written.is_dir();
            let ready = is_free
                && named
                && !self.path.trim().is_empty()
                && (self.purpose != Purpose::Preset || !self.preset.trim().is_empty());
            if ui.add_enabled(ready, egui::Button::new(self.purpose.button())).clicked() || (entered && ready) {
                asks.push(Ask::PutDialogAway);
                asks.push(self.ask(path));
            }
            if ui.button("Cancel").clicked() {
                asks.push(Ask::CloseDialog);
            }
        });
    }

    /// What is printed, if it asks where to print.
    pub(super) fn printed(&self) -> Option<Printed> {
        self.purpose.printed()
    }

    /// Looks whether what is written there already is of another kind.
    fn look_at(&mut self, path: &Path) {
        if self.looked.as_ref().is_none_or(|(looked, _)| looked != path) {
            // What can't be made out may be its own file, damaged: that is known where it is saved.
            let refused = |kind| refuse_other_kind(path, kind, Some(path)).err();
            let refused = self.purpose.kind().and_then(refused).map(|refused| refused.say(Voice::window(Default::default())));
            self.looked = Some((path.to_owned(), refused));
        }
    }

    /// The fields to write in; whether one was left with Enter.
    fn fields(&mut self, ui: &mut Ui) -> bool {
        let mut first = None;
        if self.purpose == Purpose::Preset {
            ui.horizontal_wrapped(|ui| {
                let label = ui.label("Name");
                first = Some(
                    ui.add(TextEdit::singleline(&mut self.preset).desired_width(FIELD.min(ui.available_width())))
                        .labelled_by(label.id),
                );
            });
        }
        let mut entered = false;
        ui.horizontal_wrapped(|ui| {
            let label = ui.label(if self.purpose.is_folder() { "Folder" } else { "File" });
            let field =
                ui.add(TextEdit::singleline(&mut self.path).desired_width(FIELD.min(ui.available_width()))).labelled_by(label.id);
            entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
            let browse = ui.add_enabled(self.picker.is_none(), egui::Button::new("Browse…"));
            if browse.on_hover_text("Use the system's file picker, if it has one").clicked() {
                self.browse(ui.ctx().clone());
            }
            if !self.focused {
                first.unwrap_or(field).request_focus();
                self.focused = true;
            }
        });
        entered
    }

    fn ask(&self, path: PathBuf) -> Ask {
        match self.purpose {
            Purpose::Open => Ask::Open(path),
            Purpose::Save => Ask::SaveTo(path),
            Purpose::Print => Ask::PrintTo(None, path),
            Purpose::PrintSheet(sheet) => Ask::PrintTo(Some(sheet), path),
            Purpose::Picture => Ask::SavePictureTo(path),
            Purpose::Bundle => Ask::SaveBundleTo(path),
            Purpose::Handout => Ask::SaveHandoutTo(path),
            Purpose::Compare => Ask::CompareWith(path),
            Purpose::OutlinePhotograph { back } => Ask::Photo(PhotoAsk::Outline { path, back }),
            Purpose::SwatchPhotograph => Ask::Photo(PhotoAsk::Squares(path)),
            Purpose::LikePhotograph => Ask::Wish(WishAsk::Like(path)),
            Purpose::OpenWish => Ask::Wish(WishAsk::Open(path)),
            Purpose::SaveWish => Ask::Wish(WishAsk::Save(path)),
            Purpose::ImportSwatches => Ask::ImportSwatches(path),
            Purpose::ExportSwatches => Ask::ExportSwatches(path),
            // A photograph shows an outline as well as a drawing does.
            Purpose::Drawing(drawn @ (DrawnAs::Outline | DrawnAs::Back)) if is_named_photograph(&path) => {
                Ask::Photo(PhotoAsk::Outline { path, back: drawn == DrawnAs::Back })
            }
            Purpose::Drawing(drawn) => Ask::ReadDrawing(drawn, path, None),
            Purpose::Plan => Ask::SavePlanTo(path),
            Purpose::PrintOrder => Ask::PrintOrderTo(path),
            Purpose::Day(file) => Ask::UseForDay(file, path),
            Purpose::SaveDay(file) => Ask::Day(DayAsk::SaveTo(file, path)),
            Purpose::Row(index) => Ask::Day(DayAsk::Row(index, path)),
            Purpose::Photograph => Ask::Journal(JournalAsk::Attach(vec![path])),
            Purpose::HeldPhotograph => Ask::Photo(PhotoAsk::Hold(path)),
            Purpose::OpenMarks => Ask::Photo(PhotoAsk::ReadMarks(path)),
            Purpose::SaveMarks => Ask::Photo(PhotoAsk::SaveMarks(path)),
            Purpose::ExportJournal => Ask::Journal(JournalAsk::Export(path)),
            Purpose::ImportJournal => Ask::Journal(JournalAsk::Import(path)),
            Purpose::PieceLayout => Ask::Learn(LearnAsk::AddPiece(path)),
            Purpose::PiecePhotograph(piece) => Ask::Learn(LearnAsk::AddPhotograph(piece, path)),
            Purpose::KeepLearned => Ask::Learn(LearnAsk::Keep(path)),
            Purpose::EarlierLearned => Ask::Learn(LearnAsk::Earlier(Some(path))),
            Purpose::TestCloth => Ask::Learn(LearnAsk::TestCloth(path)),
            Purpose::Preset => Ask::SavePreset { name: self.preset.trim().to_owned(), path },
        }
    }

    /// Asks the system's own picker, on another thread: it may take its time, and there may be none.
    fn browse(&mut self, ctx: egui::Context) {
        let (sender, receiver) = channel();
        let path = self.folder.join(self.path.trim());
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
