//! Files: opening, saving, printing, presets, unsaved work of earlier runs.

use super::App;
use super::busy::Finished;
use super::foot::Message;
use crate::app::action::Action;
use crate::app::canvas::Canvas;
use crate::app::context::Ask;
use crate::app::dialog::{Dialog, FileDialog};
use crate::app::purpose::Purpose;
use crate::app::step::Step;
use crate::app::welcome::Welcome;
use crate::edit::{Document, DocumentError, OnDisk};
use crate::geometry::SpacingPreset;
use crate::print::parts::{
    HANDOUT_PX, Handout, HandoutOptions, OrderPrint, OrderPrintOptions, OrderProgress, PrintedFile, file_name,
    printed_files_with, printed_sheet,
};
use crate::reveal::colour::DyeSet;
use crate::reveal::{RevealOptions, picture_until, reveal_doses};
use crate::store::{
    BUNDLE_ENDING, EXAMPLE_LAYOUTS, FileFault, FileKind, FileWork, LAYOUT_ENDING, check_preset, parse_layout, picture_png,
    preset_text, read_layout, reads_as_bundle, refuse_other_kind, save, save_each, save_each_in,
};
use crate::telling::{AnyRefusal, Told, listed};
use std::path::{Path, PathBuf};
use std::sync::Arc;

impl App {
    pub(super) fn open(&mut self, path: &Path) {
        if reads_as_bundle(path) {
            return self.open_bundle(path);
        }
        match Document::open(path) {
            Ok(document) => {
                self.settings.remember(path);
                self.keep.write_settings(&self.settings);
                self.take(document, Step::Fold);
                self.tell_of_unsaved(path);
            }
            Err(error) => self.refuse(error),
        }
    }

    /// Tells of unsaved changes that an earlier run left of a file, which is opened without them.
    fn tell_of_unsaved(&mut self, path: &Path) {
        let is_same = |other: &PathBuf| other == path || is_same_file(other, path);
        let Some(work) = self.keep.recovered.iter().find(|work| work.file.as_ref().is_some_and(is_same)) else { return };
        let words = format!("Unsaved changes to {} are kept from an earlier run.", work.layout.name());
        let recover = Ask::Recover(work.path.clone(), true);
        self.call_for(words, "Recover", recover);
    }

    /// Tells of all unsaved work of earlier runs, which a start with a layout does not show; that of this layout is told already.
    pub(super) fn tell_of_left(&mut self) {
        let names: Vec<&str> = self.keep.recovered.iter().map(|work| work.layout.name()).collect();
        // What is refused or asked already stays.
        let is_plain = |message: &&Message| !message.refused && message.offer.is_none();
        if self.document.is_none() || names.is_empty() || self.message.as_ref().is_some_and(|message| !is_plain(&message)) {
            return;
        }
        let told = self.message.as_ref().map_or_else(String::new, |message| format!("{}. ", message.words));
        let names = listed(names.into_iter().map(str::to_owned), "and");
        let words = format!("{told}Unsaved work is kept from an earlier run: {names}.");
        self.call_for(words, "Show it", Ask::Act(Action::New));
    }

    pub(super) fn open_example(&mut self, index: usize) {
        let example = EXAMPLE_LAYOUTS.get(index).and_then(|example| parse_layout(example.text).ok());
        if let Some(layout) = example {
            self.take(Document::new(layout), Step::Fold);
        }
    }

    /// Takes up a document in place of the one before.
    pub(super) fn take(&mut self, document: Document, step: Step) {
        self.put_away();
        self.show_document(document, step);
    }

    fn show_document(&mut self, document: Document, step: Step) {
        self.document = Some(document);
        self.welcome.iter_mut().for_each(Welcome::look_again);
        self.canvas = Canvas::new(self.settings.showing);
        self.step = step;
    }

    pub(super) fn recover(&mut self, path: &Path, take: bool) {
        let Some(work) = self.keep.recovered.iter().find(|work| work.path == path).cloned() else { return };
        if take {
            let document = Document::recovered(&work);
            self.put_away();
            let told = self.keep.take_over(work, &document);
            self.show_document(document, Step::Fold);
            told.into_iter().for_each(|words| self.refuse(words));
            return;
        }
        match work.forget() {
            Ok(()) => self.keep.look_again(),
            Err(error) => self.refuse(FileFault::of(path, FileWork::Remove)(error)),
        }
    }

    /// Saves the document; a file that somebody else wrote to meanwhile is asked about, unless the answer is known. What waited for
    /// it goes on then.
    pub(super) fn save_to(&mut self, path: &Path, over: bool, ctx: &egui::Context) {
        let Some(document) = &mut self.document else { return };
        match if over { document.save_over(path) } else { document.save(path) } {
            Ok(()) => {
                self.settings.remember(path);
                self.keep.write_settings(&self.settings);
                self.keep.forget();
                // An order may have it in a row.
                self.day.look_again();
                self.tell(Ok(format!("Saved {}", path.display())));
                self.go_on(ctx);
            }
            Err(DocumentError::ChangedOnDisk { path }) => self.dialog = Some(Dialog::ChangedOnDisk { path }),
            Err(error) => {
                self.held = None;
                self.refuse(error);
            }
        }
    }

    /// Tells about a file that somebody else wrote to or removed while the window was not looked at.
    pub(super) fn look_at_disk(&mut self) {
        let Some(document) = &mut self.document else { return };
        let Some(path) = document.path().map(Path::to_owned) else { return };
        match document.on_disk() {
            OnDisk::AsLeft => {}
            OnDisk::Changed => {
                let words = format!("{} has changed on disk since you opened it.", path.display());
                self.call_for(words, "Reopen", Ask::Open(path));
            }
            OnDisk::Gone => {
                document.lose_file();
                let words = format!("{} no longer exists; save to write it again.", path.display());
                self.call_for(words, "Save", Ask::Act(Action::Save));
            }
        }
    }

    /// Asks for a file's name, with one to begin with.
    pub(super) fn name_file(&mut self, purpose: Purpose) {
        let document = self.document.as_ref();
        let own = document.and_then(Document::path).and_then(Path::file_stem).map(|stem| stem.to_string_lossy().into_owned());
        let stem = own.unwrap_or_else(|| document.map_or_else(String::new, |document| file_name(document.layout().name())));
        let (name, shelf) = match purpose {
            Purpose::Open
            | Purpose::Compare
            | Purpose::Day(_)
            | Purpose::Row(_)
            | Purpose::ImportSwatches
            | Purpose::HeldPhotograph
            | Purpose::SwatchPhotograph
            | Purpose::OutlinePhotograph { .. }
            | Purpose::OpenMarks
            | Purpose::LikePhotograph
            | Purpose::OpenWish
            | Purpose::Drawing(_) => (String::new(), None),
            Purpose::SaveWish => (format!("{stem}-wish.ron"), None),
            Purpose::SaveMarks => (self.marks_name(), self.marks_folder()),
            Purpose::SaveDay(file) => (format!("{}.ron", self.day.file_stem(file)), None),
            Purpose::ExportSwatches => ("swatches.ron".to_owned(), None),
            Purpose::Plan => (format!("{stem}-plan.pdf"), None),
            Purpose::PrintOrder => (format!("{stem}-sheets"), None),
            Purpose::Photograph | Purpose::ImportJournal => (String::new(), None),
            Purpose::ExportJournal => ("journal".to_owned(), None),
            Purpose::PieceLayout | Purpose::PiecePhotograph(_) | Purpose::EarlierLearned => (String::new(), None),
            Purpose::TestCloth => ("test-cloth".to_owned(), None),
            Purpose::KeepLearned => (self.learned_name(), self.settings.learned.as_deref().and_then(Path::parent)),
            Purpose::Picture => (format!("{stem}.png"), None),
            Purpose::Handout => (format!("{stem}-handout.pdf"), None),
            Purpose::Bundle => (format!("{stem}.{BUNDLE_ENDING}"), None),
            Purpose::Save => (format!("{stem}.{}", self.layout_ending()), None),
            Purpose::Print => (format!("{stem}.pdf"), None),
            Purpose::PrintSheet(sheet) => (format!("{stem}-sheet-{}.pdf", sheet + 1), None),
            Purpose::Preset => (format!("{stem}-spacing.ron"), self.presets.folder()),
        };
        let folder = shelf.or(self.settings.folder.as_deref()).map(Path::to_owned);
        let folder = folder.or_else(std::env::home_dir).unwrap_or_default();
        self.dialog = Some(Dialog::File(FileDialog::new(purpose, &folder, &name)));
    }

    /// The ending that the layout is saved with: that of its file, or the one that opens it by a double click.
    fn layout_ending(&self) -> &'static str {
        let own = self.document.as_ref().and_then(Document::path).and_then(Path::extension);
        if own.is_some_and(|own| own == "ron") { "ron" } else { LAYOUT_ENDING }
    }

    pub(super) fn save_preset(&mut self, name: &str, path: &Path) {
        let Some(document) = &self.document else { return };
        let layout = document.layout();
        let preset = SpacingPreset::of(name.to_owned(), String::new(), layout.guide_mm(), &layout.raw().binds);
        let saved = check_preset(&preset).map_err(AnyRefusal::from).and_then(|()| {
            refuse_other_kind(path, FileKind::SpacingPreset, None)?;
            // The shelf's folder is made when its first preset is kept.
            let made =
                path.parent().filter(|folder| Some(*folder) == self.presets.folder()).map_or(Ok(()), std::fs::create_dir_all);
            made.map_err(FileFault::of(path, FileWork::Make))?;
            save(path, preset_text(&preset).as_bytes()).map_err(AnyRefusal::from)
        });
        self.presets.look_again();
        self.tell(saved.map(|()| format!("Saved spacing preset \"{name}\" to {}", path.display())));
    }

    pub(super) fn rename_preset(&mut self, path: &Path, name: &str) {
        let renamed = self.presets.rename(path, name);
        self.tell(renamed.map(|()| format!("Renamed to \"{}\"", name.trim())).map_err(AnyRefusal::from));
    }

    pub(super) fn remove_preset(&mut self, path: &Path) {
        let removed = self.presets.remove(path);
        self.tell(removed.map(|kept| format!("Removed; its file is kept as {}", kept.display())).map_err(AnyRefusal::from));
    }

    /// Makes and writes the sheets, or one of them, on another thread.
    pub(super) fn print_to(&mut self, sheet: Option<usize>, path: PathBuf, ctx: &egui::Context) {
        let Some(document) = &self.document else { return };
        let lengths = self.settings.asked_lengths_for(document.layout().marks());
        let options = match self.sheets.wanted.options(lengths) {
            Ok(options) => options,
            Err(error) => return self.refuse(error),
        };
        let (layout, figures, parts) = (document.layout().clone(), document.figures().clone(), self.sheets.wanted.parts.clone());
        let card = self.sheets.card_to_print(document.layout());
        self.begin_busy(&format!("Printing to {}", path.display()), ctx, move |handle| {
            let files = card.with(&layout, &handle.cancel, |card| {
                let files = match sheet {
                    Some(sheet) => printed_sheet(&layout, &figures, &parts, &options, card, sheet, &path).map(|file| vec![file]),
                    None => printed_files_with(&layout, &figures, &parts, &options, card, &path),
                };
                files.map_err(AnyRefusal::from)
            })?;
            save_each(&files, PrintedFile::content)?;
            let words: Vec<_> = files.iter().map(|file| format!("{}: {}", file.path.display(), file.words)).collect();
            Ok(Finished { words: format!("Printed {}", words.join("; ")), to: path })
        });
    }

    /// Computes the reveal finely and saves its picture, on another thread.
    pub(super) fn save_picture(&mut self, path: PathBuf, ctx: &egui::Context) {
        let Some(document) = &self.document else { return };
        let (layout, look) = (document.layout().clone(), self.reveal.look());
        self.begin_busy(&format!("Saving the picture to {}", path.display()), ctx, move |handle| {
            let options = RevealOptions::default();
            let reveal = reveal_doses(&layout, &options, &handle.cancel)?;
            let dyes = DyeSet::of_layout(&layout, None);
            let picture = picture_until(&reveal, &dyes, look.map, look.texture, &handle.cancel);
            let picture = picture?;
            let png = picture_png(&picture, options.pixel_mm)?;
            save(&path, &png)?;
            let words = format!("Saved {}: {} x {} pixels, an estimate", path.display(), picture.width, picture.height);
            Ok(Finished { words, to: path })
        });
    }

    /// Makes the handout and saves it, as a picture where the name ends in .png, on another thread.
    pub(super) fn save_handout(&mut self, path: PathBuf, ctx: &egui::Context) {
        let Some(document) = &self.document else { return };
        let layout = document.layout();
        let lengths = Some(self.settings.lengths(layout.marks()));
        let paper = self.sheets.wanted.paper.clone();
        let order = match self.day.order_of_one(layout) {
            Ok(order) => order,
            Err(error) => return self.refuse(error),
        };
        self.begin_busy(&format!("Saving the handout to {}", path.display()), ctx, move |handle| {
            let options = HandoutOptions { lengths, ..HandoutOptions::default() };
            let handout = Handout::of(&order, &options, &handle.cancel)?;
            let is_picture = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png"));
            let bytes = if is_picture {
                picture_png(&handout.picture(HANDOUT_PX)?, Handout::pixel_mm(HANDOUT_PX))?
            } else {
                handout.pdf(&paper)?
            };
            save(&path, &bytes)?;
            let pages = handout.pages().len();
            let plural = if pages == 1 { "page" } else { "pages" };
            Ok(Finished { words: format!("Saved {}: {pages} {plural}", path.display()), to: path })
        });
    }

    pub(super) fn save_plan(&mut self, path: &Path) {
        match self.day.save_plan(path, &self.sheets.wanted.paper) {
            Ok(words) => self.offer(words, "Open", Ask::OpenOutside(path.to_owned())),
            Err(words) => self.refuse(words),
        }
    }

    /// Prints everything of the plan's order into a folder, on another thread.
    pub(super) fn print_order(&mut self, folder: PathBuf, ctx: &egui::Context) {
        let Some(made) = self.day.made().cloned() else {
            return self.refuse(Told::new("no plan to print yet", "open the Day view first"));
        };
        let wanted = &self.sheets.wanted;
        let print = match wanted.options(self.settings.asked_lengths()) {
            Ok(print) => print,
            Err(error) => return self.refuse(error),
        };
        let options = OrderPrintOptions { print, kinds: wanted.parts.clone(), formulas: false, pictures: wanted.picture };
        self.begin_busy(&format!("Printing to {}", folder.display()), ctx, move |handle| {
            let progress = |progress: OrderProgress<'_>| handle.tell(progress.done, progress.of);
            let print = OrderPrint { order: &made.order, plan: &made.plan, folder: &folder, options: &options };
            let files = print.files(&handle.cancel, &progress)?;
            save_each_in(&folder, &files, PrintedFile::content)?;
            Ok(Finished { words: format!("Printed {} files to {}", files.len(), folder.display()), to: folder })
        });
    }

    /// Sets another layout's reveal beside this one's.
    pub(super) fn compare_with(&mut self, path: &Path) {
        match read_layout(path) {
            Ok(layout) => {
                self.reveal.compare_with(Arc::new(layout));
                self.step = Step::Reveal;
            }
            Err(error) => self.refuse(error),
        }
    }

    /// Opens a file in the program that the system has for it.
    pub(super) fn open_outside(&mut self, path: &Path) {
        if let Err(error) = open::that_detached(path) {
            self.refuse(FileFault::of(path, FileWork::OpenOutside)(error));
        }
    }
}

/// Whether two paths lead to one file that there is.
fn is_same_file(one: &Path, other: &Path) -> bool {
    let whole = |path: &Path| path.canonicalize().ok();
    whole(one).is_some_and(|one| whole(other) == Some(one))
}
