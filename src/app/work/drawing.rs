//! Lines from drawings: a file is read on another thread, then its line is folded along, or one of several is chosen.

use super::App;
use crate::app::context::Ask;
use crate::app::dialog::{Dialog, LineDialog, free};
use crate::app::step::Step;
use crate::edit::EditCommand;
use crate::geometry::FreeLine;
use crate::import::{DrawingFormat, FileUnit, FoundLine, ImportError, MOST_DRAWING_BYTES, read_lines};
use crate::layout::FoldStart;
use crate::store::{NotRead, file_said, read_regular};
use crate::telling::{Refused as _, Told};
use egui::Context;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// A drawing being read.
#[derive(Debug)]
pub(super) struct Reading {
    path: PathBuf,
    receiver: Receiver<Result<Vec<FoundLine>, Fault>>,
}

/// Why a drawing gives no lines.
#[derive(Debug)]
enum Fault {
    File(NotRead),
    Drawing(ImportError),
}

fn read(path: &Path, unit: Option<FileUnit>) -> Result<Vec<FoundLine>, Fault> {
    let format = DrawingFormat::of(path).map_err(Fault::Drawing)?;
    let bytes = read_regular(path, MOST_DRAWING_BYTES).map_err(Fault::File)?;
    read_lines(&bytes, format, unit).map_err(Fault::Drawing)
}

impl App {
    /// What a drawing that was dropped on the window asks for.
    pub(super) fn dropped_drawing(&mut self, path: &Path) -> Option<Ask> {
        if self.document.is_some() {
            return Some(Ask::ReadLine(path.to_owned(), None));
        }
        let told = Told::new("no layout is open for this line", "open a layout or start with a garment, then drop it");
        self.refuse(told.at(file_said(path, self.voice())));
        None
    }

    /// Reads a drawing on another thread; one that is being read already is forgotten.
    pub(super) fn read_line(&mut self, path: PathBuf, unit: Option<FileUnit>, ctx: &Context) {
        let (sender, receiver) = channel();
        let (egui, file) = (ctx.clone(), path.clone());
        let spawned = std::thread::Builder::new().name("drawing".to_owned()).spawn(move || {
            let _gone = sender.send(read(&file, unit));
            egui.request_repaint();
        });
        match spawned {
            Ok(_) => {
                self.message = None;
                self.reading = Some(Reading { path, receiver });
            }
            Err(error) => self.refuse(error.told(self.voice()).at(file_said(&path, self.voice()))),
        }
    }

    /// Takes over what was read: the only line is folded along at once.
    pub(super) fn reading_done(&mut self, ctx: &Context) {
        let Some(reading) = &self.reading else { return };
        let result = match reading.receiver.try_recv() {
            Ok(result) => Some(result),
            Err(TryRecvError::Disconnected) => None,
            Err(TryRecvError::Empty) => return ctx.request_repaint_after(Duration::from_millis(50)),
        };
        let path = reading.path.clone();
        self.reading = None;
        // Another frame shows it: this one is drawn already.
        ctx.request_repaint();
        let voice = self.voice();
        let refused = match result {
            Some(Ok(lines)) => return self.offer_lines(path, lines, ctx),
            Some(Err(Fault::Drawing(ImportError::UnknownUnit { size }))) => {
                self.dialog = Some(Dialog::Line(LineDialog::unit(path, size)));
                return;
            }
            Some(Err(Fault::Drawing(error))) => error.told(voice),
            Some(Err(Fault::File(error))) => error.told(voice),
            None => Told::new("reading stopped unexpectedly", "save the drawing anew, then try again"),
        };
        self.refuse(refused.at(file_said(&path, voice)));
    }

    fn offer_lines(&mut self, path: PathBuf, lines: Vec<FoundLine>, ctx: &Context) {
        match <[FoundLine; 1]>::try_from(lines) {
            Ok([line]) => self.take_line(free(&path, &line), ctx),
            Err(lines) => self.dialog = Some(Dialog::Line(LineDialog::which(path, lines))),
        }
    }

    /// Folds along a line of a drawing, with first binds for it.
    pub(super) fn take_line(&mut self, line: FreeLine, ctx: &Context) {
        let name = line.name.clone();
        let layout = |app: &Self| app.document.as_ref().map(|document| document.layout().clone());
        let before = layout(self);
        self.edit(&EditCommand::SetFold(FoldStart::Drawn(line)), ctx);
        let is_taken = before.zip(layout(self)).is_some_and(|(before, after)| !Arc::ptr_eq(&before, &after));
        if is_taken {
            self.step = Step::Fold;
            self.tell(Ok(format!("Imported \"{name}\"; set its size and place beside the cloth")));
        }
    }
}
