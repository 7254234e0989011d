//! Learning calibration values from photographs: which pieces teach, what came of it, and what is done with that.

mod ask;
mod panel;
mod pieces;
mod told;

pub(crate) use ask::LearnAsk;
pub(crate) use panel::begins;

use self::pieces::{Added, Change, Looking, Origin, Part, Row, Taken};
use super::context::Ask;
use super::job::Job;
use super::theme::Palette;
use crate::layout::Layout;
use crate::learn::{Learned, Outcome, Piece, teach};
use crate::store::read_piece;
use crate::telling::{AnyRefusal, Told, Voice};
use egui::{Frame, Label, Margin, RichText, ScrollArea, Ui};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Learning under way; no error where it was stopped.
type Learning = Job<(), Result<Outcome, Option<AnyRefusal>>>;

/// What came of it.
#[derive(Debug)]
struct Found {
    outcome: Outcome,
    /// How many pieces taught.
    taught: usize,
    /// Whether a file holds it.
    is_kept: bool,
}

/// Learning from photographs, kept while the program runs.
#[derive(Default)]
pub(crate) struct LearnView {
    /// The maker's own file of what was learned.
    own: Option<PathBuf>,
    /// What it says; none before it is read.
    earlier: Option<Result<Learned, AnyRefusal>>,
    rows: Vec<Row>,
    added: Vec<Added>,
    looking: Option<Looking>,
    /// Whether something changed that the look under way does not see.
    is_stale: bool,
    learning: Option<Learning>,
    found: Option<Found>,
    refused: Option<AnyRefusal>,
    /// In which version of the journal, and in which frame, it was looked last.
    looked: Option<(u64, u64)>,
}

impl std::fmt::Debug for LearnView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("LearnView").field("rows", &self.rows).finish_non_exhaustive()
    }
}

impl LearnView {
    /// Learns on top of this file from now on.
    pub(crate) fn set_own(&mut self, own: Option<PathBuf>) {
        if self.own != own {
            self.own = own;
            self.earlier = None;
        }
        self.is_stale = true;
    }

    /// Takes a layout's file as a piece.
    pub(crate) fn add(&mut self, layout: PathBuf) {
        if self.added.iter().all(|(path, _)| *path != layout) {
            self.added.push((layout, Vec::new()));
        }
        self.is_stale = true;
    }

    /// Takes a photograph of a piece from a file.
    pub(crate) fn add_photograph(&mut self, piece: usize, photograph: PathBuf) {
        if let Some((_, photographs)) = self.added.get_mut(piece)
            && !photographs.contains(&photograph)
        {
            photographs.push(photograph);
        }
        self.is_stale = true;
    }

    /// A photograph of a piece with the piece's layout, to be marked.
    pub(crate) fn photograph(&self, piece: usize, photo: usize) -> Option<(PathBuf, String, Arc<Layout>)> {
        let row = self.rows.get(piece)?;
        let photo = row.photos.get(photo)?;
        Some((photo.path.clone(), photo.name.clone(), row.layout.as_ref().ok()?.clone()))
    }

    /// Whether something was learned: now, or by the maker's own file.
    fn has_learned(&self) -> bool {
        self.found.is_some() || self.own.is_some()
    }

    /// What came of learning, to be written.
    pub(crate) fn unkept(&self) -> Option<&Learned> {
        self.found.as_ref().filter(|found| !found.is_kept).map(|found| &found.outcome.after)
    }

    /// What came of learning is in a file, on top of which more is learned.
    pub(crate) fn is_kept(&mut self, path: PathBuf) {
        self.found.iter_mut().for_each(|found| found.is_kept = true);
        self.own = Some(path);
        self.earlier = None;
        self.is_stale = true;
    }

    /// What lies on the table: the pieces, and what came of them. `taken` gives the entries with photographs, none before the journal is read.
    pub(crate) fn show(&mut self, taken: impl FnOnce() -> Option<Vec<Taken>>, version: u64, asks: &mut Vec<Ask>, ui: &mut Ui) {
        self.keep_up(taken, version, ui.ctx());
        ScrollArea::vertical().id_salt("learning").auto_shrink(false).show(ui, |ui| {
            Frame::NONE.inner_margin(Margin { right: 12, ..Margin::ZERO }).show(ui, |ui| {
                ui.set_max_width(ui.available_width().min(WIDTH));
                if let Some(found) = &self.found {
                    told::show(found, ui);
                    ui.add_space(12.0);
                }
                self.pieces(asks, ui);
            });
        });
    }

    fn pieces(&mut self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.label(RichText::new("Pieces that can teach").size(20.0).strong());
        if self.earlier.is_none() && self.rows.is_empty() {
            ui.label(RichText::new("Looking at your photographs…").weak());
            return;
        }
        if self.rows.is_empty() {
            ui.add(Label::new(RichText::new(NOTHING_YET).weak()).wrap());
            return;
        }
        match pieces::list(&self.rows, &self.added, asks, ui) {
            Some(Change::Part(number, part)) => self.set_part(number, part),
            Some(Change::Remove(path)) => {
                self.added.retain(|(added, _)| *added != path);
                self.rows.retain(|row| row.origin != Origin::File(path.clone()));
            }
            None => {}
        }
    }

    /// At most one piece is kept back.
    fn set_part(&mut self, number: usize, part: Part) {
        if part == Part::KeptBack {
            let others = self.rows.iter_mut().filter(|row| row.part == Part::KeptBack);
            others.for_each(|row| row.part = Part::Teaches);
        }
        self.rows.get_mut(number).into_iter().for_each(|row| row.part = part);
    }

    /// Looks again when one comes here, when the journal changed, or when something was added; takes what other threads have done.
    fn keep_up(&mut self, taken: impl FnOnce() -> Option<Vec<Taken>>, version: u64, ctx: &egui::Context) {
        let now = ctx.cumulative_pass_nr();
        let is_new = self.looked.is_none_or(|(of, at)| of != version || now > at + 1);
        self.looked = Some((version, now));
        self.is_stale |= is_new || ctx.input(came_back);
        // Without what the journal holds there is nothing to look at yet.
        if self.is_stale
            && self.looking.is_none()
            && self.learning.is_none()
            && let Some(taken) = taken()
        {
            self.is_stale = false;
            self.looking = pieces::look(self.own.clone(), taken, self.added.clone(), ctx);
        }
        if let Some(Ok(seen)) = self.looking.as_ref().map(|looking| looking.take(ctx)) {
            self.looking = None;
            if let Some(seen) = seen {
                self.rows = pieces::merged(&self.rows, seen.rows);
                self.earlier = Some(seen.earlier);
                ctx.request_repaint();
            }
        }
        self.take_learned(ctx);
    }

    fn take_learned(&mut self, ctx: &egui::Context) {
        let Some(Ok(done)) = self.learning.as_ref().map(|learning| learning.take(ctx)) else { return };
        self.learning = None;
        match done {
            Some(Ok(outcome)) => {
                let taught = outcome.lesson.pieces.len();
                self.found = Some(Found { outcome, taught, is_kept: false });
            }
            Some(Err(refused)) => self.refused = refused,
            None => {
                self.refused = Some(Told::new("learning stopped unexpectedly", "close other programs, then try again").into());
            }
        }
        ctx.request_repaint();
    }

    fn rows_that(&self, part: Part) -> impl Iterator<Item = &Row> {
        self.rows.iter().filter(move |row| row.part == part && row.is_ready())
    }

    /// Whether it can begin: a piece teaches, and what was learned before is read.
    fn can_begin(&self) -> bool {
        self.rows_that(Part::Teaches).next().is_some() && matches!(self.earlier, Some(Ok(_)))
    }

    /// Begins to learn.
    fn begin(&mut self, ctx: &egui::Context) {
        let Some(Ok(before)) = self.earlier.clone() else { return };
        type Files = (String, Arc<Layout>, Vec<(String, PathBuf)>);
        let files =
            |row: &Row| -> Option<Files> { Some((row.name.clone(), row.layout.as_ref().ok()?.clone(), row.ready_photos())) };
        let teaching: Vec<Files> = self.rows_that(Part::Teaches).filter_map(files).collect();
        let kept_back = self.rows_that(Part::KeptBack).find_map(files);
        let read = |(name, layout, photos): Files| read_piece(name, (*layout).clone(), &photos);
        (self.refused, self.found) = (None, None);
        self.learning = Job::begin("learning", (), ctx, move |cancel| {
            let pieces: Vec<Piece> = teaching.into_iter().map(read).collect::<Result<_, _>>().map_err(Some)?;
            let kept_back = kept_back.map(read).transpose().map_err(Some)?;
            let done = teach(&pieces, kept_back.as_ref(), &before, cancel);
            done.map_err(|error| (!error.is_cancelled()).then(|| AnyRefusal::from(error)))
        });
    }

    /// The choices, in the panel beside the table.
    pub(crate) fn choices(&mut self, has_layout: bool, settings: &super::settings::Settings, asks: &mut Vec<Ask>, ui: &mut Ui) {
        panel::show(self, has_layout, settings, asks, ui);
    }
}

/// Longest line, points.
const WIDTH: f32 = 720.0;
/// What to do where there is nothing to learn from.
const NOTHING_YET: &str = "Nothing to learn from yet: make the test cloth, photograph its squares opened and flat beside a white sheet, attach \
     the photographs to their journal entries, and mark the points on each.";

/// Whether the maker came back to the window.
fn came_back(input: &egui::InputState) -> bool {
    input.events.iter().any(|event| matches!(event, egui::Event::WindowFocused(true)))
}

/// A refusal in the panel.
fn refusal(refused: &AnyRefusal, ui: &mut Ui) {
    let words = refused.say(Voice::window(Default::default()));
    ui.add(Label::new(RichText::new(words).color(Palette::of(ui.ctx()).refused)).wrap());
}

/// A file's name as it is told.
pub(super) fn said(path: &Path) -> String {
    pieces::file_name(path)
}
