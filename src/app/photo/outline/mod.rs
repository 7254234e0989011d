//! A garment's outline from a photograph of it undyed: sheet and outline are found, corrected by hand, and taken as a garment of one's own. It
//! takes the place of the cloth at the garment, or of the start, until it is put away.

mod hands;
mod marked;
mod panel;

pub(crate) use hands::OUTLINING;

use self::marked::{Grip, Marked};
use super::history::History;
use super::picture::{LOOK_EVERY, Picture, PictureReader};
use super::tiles::Tiles;
use crate::app::canvas::View;
use crate::app::theme::Palette;
use crate::photo::{FoundOutline, Photograph, TraceError, TracedHalf, find_outline, half_of};
use crate::telling::AnyRefusal;
use egui::{Align2, Context, FontId, Ui};
use std::path::Path;
use std::sync::Arc;

/// A photograph that is read.
struct Ready {
    photograph: Arc<Photograph>,
    tiles: Tiles,
    found: FoundOutline,
    history: History<Marked>,
    /// What is made of the marks, and of which.
    traced: Option<(Marked, Result<TracedHalf, TraceError>)>,
    /// What is to get the keys in the next frame.
    wanted: Option<Grip>,
}

impl std::fmt::Debug for Ready {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Ready").field("history", &self.history).finish_non_exhaustive()
    }
}

impl Ready {
    fn new(Picture { photograph, tiles, found }: Picture<FoundOutline>) -> Self {
        let history = History::new(Marked::of(&found, &photograph));
        Self { photograph, tiles: Tiles::new(tiles), found, history, traced: None, wanted: None }
    }

    /// Makes half a garment anew where something changed: some milliseconds.
    fn trace(&mut self) {
        let now = &self.history.now;
        if self.traced.as_ref().is_none_or(|(of, _)| of != now) {
            self.traced = Some((now.clone(), half_of(&now.nodes, &now.sheet, now.halves)));
        }
    }

    fn half(&self) -> Option<&TracedHalf> {
        self.traced.as_ref().and_then(|(_, traced)| traced.as_ref().ok())
    }
}

/// A photograph that an outline is taken from.
#[derive(Debug)]
pub(crate) struct OutlineView {
    name: String,
    /// Whether it shows the back.
    back: bool,
    reader: Option<PictureReader<FoundOutline>>,
    ready: Option<Ready>,
    refused: Option<AnyRefusal>,
    chosen: Option<Grip>,
    view: Option<View>,
    is_moved: bool,
}

impl OutlineView {
    /// Reads a photograph.
    pub(crate) fn new(path: &Path, back: bool, ctx: &Context) -> Self {
        Self {
            name: path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            back,
            reader: Some(PictureReader::begin(path.to_owned(), find_outline, ctx)),
            ready: None,
            refused: None,
            chosen: None,
            view: None,
            is_moved: false,
        }
    }

    /// Takes over what was read.
    pub(crate) fn keep_up(&mut self, ctx: &Context) {
        let Some(reader) = &self.reader else { return };
        match reader.take() {
            Some(Ok(read)) => self.ready = Some(Ready::new(read)),
            Some(Err(refused)) => self.refused = Some(refused),
            None => return ctx.request_repaint_after(LOOK_EVERY),
        }
        self.reader = None;
    }

    /// What undo and redo would do.
    pub(crate) fn steps(&self) -> [Option<&str>; 2] {
        self.ready.as_ref().map_or([None, None], |ready| ready.history.labels())
    }

    pub(crate) fn step(&mut self, forward: bool) {
        if let Some(ready) = &mut self.ready {
            ready.history.step(forward);
        }
    }

    /// Shows all of the picture.
    pub(crate) fn fit(&mut self) {
        self.is_moved = false;
    }

    /// Looks closer by a factor.
    pub(crate) fn zoom(&mut self, factor: f64) {
        if let Some(view) = &mut self.view {
            // About the middle of the table, wherever that is on the screen.
            view.zoom_at(egui::Rect::ZERO, egui::Pos2::ZERO, factor);
        }
        self.is_moved = true;
    }

    /// What lies on the table.
    pub(crate) fn show(&mut self, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let area = ui.available_rect_before_wrap();
        ui.painter().rect_filled(area, 0.0, palette.table);
        if self.ready.is_none() {
            let words = if self.refused.is_some() { "" } else { "Reading the photograph…" };
            ui.painter().text(area.center(), Align2::CENTER_CENTER, words, FontId::proportional(17.0), palette.ink);
            return;
        }
        self.picture(area, ui);
    }
}
