//! Drawings: a file is read on another thread, then its line, or a chosen one of several, is folded along or is the garment's outline.

use super::App;
use crate::app::context::Ask;
use crate::app::dialog::{Dialog, LineDialog, free};
use crate::app::purpose::DrawnAs;
use crate::app::step::Step;
use crate::edit::EditCommand;
use crate::geometry::{FreeLine, GarmentKind, Measure, OwnOutline, Panels, half_outline};
use crate::import::{FileUnit, FoundLine, ImportError, outlines};
use crate::layout::{FoldStart, GarmentSpec};
use crate::store::{DrawingError, file_said, read_drawing};
use crate::telling::{Refused as _, Told};
use egui::Context;
use kurbo::BezPath;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// A drawing being read.
#[derive(Debug)]
pub(super) struct Reading {
    drawn: DrawnAs,
    path: PathBuf,
    receiver: Receiver<Result<Vec<FoundLine>, DrawingError>>,
}

impl App {
    /// A drawing was dropped on the window: what it is for is asked where a layout is open, else a garment begins with it.
    pub(super) fn dropped_drawing(&mut self, path: &Path) -> Option<Ask> {
        if self.document.is_none() {
            return Some(Ask::ReadDrawing(DrawnAs::Outline, path.to_owned(), None));
        }
        if self.dialog.is_none() {
            self.dialog = Some(Dialog::Line(LineDialog::used_as(path.to_owned())));
        }
        None
    }

    /// Reads a drawing on another thread; one that is being read already is forgotten.
    pub(super) fn read_drawing(&mut self, drawn: DrawnAs, path: PathBuf, unit: Option<FileUnit>, ctx: &Context) {
        let (sender, receiver) = channel();
        let (egui, file) = (ctx.clone(), path.clone());
        let spawned = std::thread::Builder::new().name("drawing".to_owned()).spawn(move || {
            let _gone = sender.send(read_drawing(&file, unit));
            egui.request_repaint();
        });
        match spawned {
            Ok(_) => {
                self.message = None;
                self.reading = Some(Reading { drawn, path, receiver });
            }
            Err(error) => self.refuse(error.told(self.voice()).at(file_said(&path, self.voice()))),
        }
    }

    /// Takes over what was read: the only line is taken at once.
    pub(super) fn reading_done(&mut self, ctx: &Context) {
        let Some(reading) = &self.reading else { return };
        let result = match reading.receiver.try_recv() {
            Ok(result) => Some(result),
            Err(TryRecvError::Disconnected) => None,
            Err(TryRecvError::Empty) => return ctx.request_repaint_after(Duration::from_millis(50)),
        };
        let (drawn, path) = (reading.drawn, reading.path.clone());
        self.reading = None;
        // Another frame shows it: this one is drawn already.
        ctx.request_repaint();
        let voice = self.voice();
        let refused = match result {
            Some(Ok(lines)) => return self.offer_lines(drawn, path, lines, ctx),
            Some(Err(DrawingError::Drawing(ImportError::UnknownUnit { size }))) => {
                self.dialog = Some(Dialog::Line(LineDialog::unit(drawn, path, size)));
                return;
            }
            Some(Err(error)) => error.told(voice),
            None => Told::new("reading stopped unexpectedly", "save the drawing anew, then try again"),
        };
        self.refuse(refused.at(file_said(&path, voice)));
    }

    fn offer_lines(&mut self, drawn: DrawnAs, path: PathBuf, lines: Vec<FoundLine>, ctx: &Context) {
        let lines = if drawn == DrawnAs::Line { lines } else { outlines(lines) };
        match <[FoundLine; 1]>::try_from(lines) {
            Ok([line]) => self.take_drawn(drawn, &path, &line, ctx),
            Err(lines) => self.dialog = Some(Dialog::Line(LineDialog::which(drawn, path, lines))),
        }
    }

    /// Makes of a line of a drawing what it is for.
    pub(super) fn take_drawn(&mut self, drawn: DrawnAs, path: &Path, line: &FoundLine, ctx: &Context) {
        let half = match drawn {
            DrawnAs::Line => return self.take_line(free(path, line), ctx),
            DrawnAs::Outline | DrawnAs::Back => half_outline(&line.path),
        };
        let own = self.document.as_ref().and_then(|document| document.layout().raw().garment.outline.clone());
        match (half, drawn, own) {
            (Err(error), ..) => self.refuse(error.told(self.voice()).at(file_said(path, self.voice()))),
            (Ok((back, taken)), DrawnAs::Back, Some(own)) => {
                self.take_outline("Imported the back", own.with_back(back), taken.words(), ctx);
            }
            (Ok((front, taken)), _, own) => {
                let panels = own.map_or(Panels::Two, |own| own.panels);
                self.take_outline("Imported the outline", OwnOutline::alike(front, panels), taken.words(), ctx);
            }
        }
    }

    /// Folds along a line of a drawing, with first binds for it.
    fn take_line(&mut self, line: FreeLine, ctx: &Context) {
        let name = line.name.clone();
        if self.is_changed_by(&EditCommand::SetFold(FoldStart::Drawn(line)), ctx) {
            self.step = Step::Fold;
            self.tell(Ok(format!("Imported \"{name}\"; set its size and place beside the cloth")));
        }
    }

    /// Gives the open layout's garment, or its back, half an outline out of a photograph, or begins a layout with it; whether it can be.
    pub(super) fn take_traced(&mut self, half: &BezPath, back: bool, ctx: &Context) -> bool {
        let half = match half_outline(half) {
            Ok((half, _)) => half,
            Err(error) => {
                self.refuse(error);
                return false;
            }
        };
        let own = self.document.as_ref().and_then(|document| document.layout().raw().garment.outline.clone());
        let taken = "out of the photograph";
        match own {
            Some(own) if back => self.take_outline("Took the back", own.with_back(half), taken, ctx),
            own => {
                let panels = own.map_or(Panels::Two, |own| own.panels);
                self.take_outline("Took the outline", OwnOutline::alike(half, panels), taken, ctx)
            }
        }
    }

    /// Gives the open layout's garment this outline, or begins a layout with it; whether it can be.
    fn take_outline(&mut self, what: &str, outline: OwnOutline, taken: &str, ctx: &Context) -> bool {
        let is_taken = if self.document.is_some() {
            self.is_changed_by(&EditCommand::SetOutline(Box::new(outline)), ctx)
        } else {
            self.begin_with(outline)
        };
        let Some(document) = self.document.as_ref().filter(|_| is_taken) else { return false };
        let garment = document.layout().garment();
        let size = [Measure::ClothWidth, Measure::ClothHeight].map(|measure| garment.value_mm(measure).unwrap_or_default());
        let [width, height] = size.map(|mm| self.voice().about(mm));
        self.step = Step::Garment;
        self.tell(Ok(format!("{what}, {taken}; the garment is {width} wide and {height} high")));
        true
    }

    /// Begins a layout with a garment of the maker's own outline; whether it can be.
    fn begin_with(&mut self, outline: OwnOutline) -> bool {
        let garment = GarmentSpec { outline: Some(outline), ..GarmentSpec::of(GarmentKind::Own) };
        self.begin_on(FoldStart::Burst, &garment)
    }

    /// Changes the open layout; whether it could be.
    fn is_changed_by(&mut self, command: &EditCommand, ctx: &Context) -> bool {
        let layout = |app: &Self| app.document.as_ref().map(|document| document.layout().clone());
        let before = layout(self);
        self.edit(command, ctx);
        before.zip(layout(self)).is_some_and(|(before, after)| !Arc::ptr_eq(&before, &after))
    }
}
