//! A photograph held against its plan: opening it, its marks in files, what shows of it.

use super::App;
use crate::app::action::Action;
use crate::app::context::Ask;
use crate::app::dialog::Dialog;
use crate::app::journal::JournalAsk;
use crate::app::learn::LearnAsk;
use crate::app::photo::{OutlineView, PhotoAsk, PhotoView, SquaresView};
use crate::app::step::Step;
use crate::store::{file_said, save_marks};
use egui::Context;
use std::path::Path;
use std::sync::Arc;

/// The step in whose place a photograph shows that swatches are taken from.
pub(super) const SQUARES_AT: Step = Step::Colours;
/// And one that the garment's outline is taken from.
pub(super) const OUTLINING_AT: Step = Step::Garment;

impl App {
    pub(super) fn do_photo(&mut self, ask: PhotoAsk, ctx: &Context) {
        match ask {
            PhotoAsk::Hold(path) => {
                let Some(document) = &self.document else { return };
                let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
                self.photo = Some(PhotoView::new(&path, name, document.layout().clone(), Step::Reveal, ctx));
                self.step = Step::Reveal;
            }
            PhotoAsk::HoldEntry { id, path, name } => match self.journal.layout_of(&id, false) {
                Ok(layout) => {
                    self.photo = Some(PhotoView::new(&path, name, Arc::new(layout), Step::Journal, ctx));
                    self.step = Step::Journal;
                }
                Err(error) => self.refuse(error),
            },
            PhotoAsk::SaveMarks(path) => self.save_marks(&path, ctx),
            PhotoAsk::ReadMarks(path) => {
                if let Some(photo) = &mut self.photo {
                    photo.read_marks(path, ctx);
                }
            }
            PhotoAsk::GiveUpMarks => {
                self.dialog = None;
                self.photo.iter_mut().for_each(|photo| photo.marks_are_kept(false));
                self.go_on(ctx);
            }
            PhotoAsk::Close => self.photo = None,
            PhotoAsk::Squares(path) => {
                self.squares = Some(SquaresView::new(&path, ctx));
                self.step = SQUARES_AT;
            }
            PhotoAsk::TakeSquares(book) => {
                let taken = self.swatches.take_in(&book);
                if taken.is_ok() {
                    self.squares = None;
                }
                self.tell(taken);
            }
            PhotoAsk::CloseSquares => self.squares = None,
            PhotoAsk::Outline { path, back } => {
                self.outlining = Some(OutlineView::new(&path, back, ctx));
                self.step = OUTLINING_AT;
            }
            PhotoAsk::TakeOutline { half, back } => {
                if self.take_traced(&half, back, ctx) {
                    self.outlining = None;
                }
            }
            PhotoAsk::CloseOutline => self.outlining = None,
        }
    }

    fn save_marks(&mut self, path: &Path, ctx: &Context) {
        let Some(photo) = &mut self.photo else { return };
        let Some(marks) = photo.marks() else { return };
        match save_marks(path, &marks) {
            Ok(()) => {
                photo.marks_are_kept(true);
                let said = file_said(path, self.voice());
                self.tell(Ok(format!("Saved the marks to {said}")));
                self.go_on(ctx);
            }
            Err(error) => {
                self.held = None;
                self.refuse(error);
            }
        }
    }

    /// The name of the file that marks are saved in, to begin with.
    pub(super) fn marks_name(&self) -> String {
        let file = self.photo.as_ref().and_then(|photo| photo.marks_file().file_name());
        file.map_or_else(|| "marks.ron".to_owned(), |name| name.to_string_lossy().into_owned())
    }

    /// The folder that marks are saved in, to begin with: the photograph's.
    pub(super) fn marks_folder(&self) -> Option<&Path> {
        self.photo.as_ref().and_then(|photo| photo.marks_file().parent()).filter(|folder| !folder.as_os_str().is_empty())
    }

    /// What is to be asked before the marks on a photograph would be lost.
    pub(super) fn question_of_marks(&self, ask: &Ask) -> Option<Dialog> {
        let photo = self.photo.as_ref().filter(|photo| photo.is_unsaved())?;
        let is_gone = matches!(
            ask,
            Ask::Act(Action::Quit)
                | Ask::Learn(LearnAsk::Mark(..))
                | Ask::Photo(PhotoAsk::Close | PhotoAsk::Hold(_) | PhotoAsk::HoldEntry { .. } | PhotoAsk::ReadMarks(_))
        );
        let leaves = matches!(ask, Ask::Open(_) | Ask::OpenExample(_) | Ask::Begin(..) | Ask::Act(Action::New))
            || matches!(ask, Ask::Journal(JournalAsk::MakeAgain { .. }) | Ask::Recover(_, true));
        (is_gone || (leaves && photo.home() == Step::Reveal))
            .then(|| Dialog::UnsavedMarks { name: photo.name().to_owned(), file: photo.marks_file().to_owned() })
    }

    /// Takes over what the photograph's threads have done.
    pub(super) fn photo_done(&mut self, ctx: &Context) {
        if let Some(photo) = &mut self.photo {
            photo.keep_up(self.document.as_ref().map(|document| document.layout()), ctx);
        }
        self.squares.iter_mut().for_each(|squares| squares.keep_up(ctx));
        self.outlining.iter_mut().for_each(|outlining| outlining.keep_up(ctx));
    }

    /// The photograph that swatches are taken from, where it shows.
    fn shown_squares(&mut self) -> Option<&mut SquaresView> {
        self.squares.as_mut().filter(|_| self.step == SQUARES_AT)
    }

    /// Whether a photograph shows that the garment's outline is taken from: at the garment, or where no layout is open.
    pub(super) fn is_outlining(&self) -> bool {
        let is_there = if self.document.is_some() { self.step == OUTLINING_AT } else { self.step != Step::Journal };
        self.outlining.is_some() && is_there
    }

    /// Shows all of what lies on the table.
    pub(super) fn fit(&mut self) {
        if let Some(squares) = self.shown_squares() {
            return squares.fit();
        }
        if self.is_outlining() {
            return self.outlining.iter_mut().for_each(OutlineView::fit);
        }
        match self.photo.as_mut().filter(|photo| photo.home() == self.step) {
            Some(photo) => photo.fit(),
            None => self.canvas.fit(),
        }
    }

    /// Looks closer at what lies on the table.
    pub(super) fn zoom(&mut self, factor: f64) {
        if let Some(squares) = self.shown_squares() {
            return squares.zoom(factor);
        }
        if self.is_outlining() {
            return self.outlining.iter_mut().for_each(|outlining| outlining.zoom(factor));
        }
        match self.photo.as_mut().filter(|photo| photo.home() == self.step) {
            Some(photo) => photo.zoom(factor),
            None => self.canvas.zoom(factor),
        }
    }
}
