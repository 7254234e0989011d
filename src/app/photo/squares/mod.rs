//! Swatches from a photograph: dyed squares are found, corrected and named, and their colours join the maker's own swatches. It takes the place of
//! the cloth at the colours until it is put away.

mod drawn;
mod hands;
mod panel;

pub(crate) use hands::SQUARES;

use self::drawn::{Drawn, Grip};
use super::history::History;
use super::picture::{LOOK_EVERY, Picture, PictureReader};
use super::tiles::Tiles;
use crate::app::canvas::View;
use crate::app::theme::Palette;
use crate::layout::Srgb;
use crate::photo::{FoundSquares, Photograph, SquareColour, SquaresError, White, find_squares, square_colours};
use crate::telling::AnyRefusal;
use egui::{Align2, Context, FontId, Ui};
use kurbo::Rect;
use std::path::Path;
use std::sync::Arc;

/// Colours, or why there are none, and the white and the squares that they are of.
type Measured = (White, Vec<Rect>, Result<Vec<SquareColour>, SquaresError>);

/// A photograph that is read.
struct Ready {
    photograph: Arc<Photograph>,
    tiles: Tiles,
    history: History<Drawn>,
    /// The colours, and of what they are.
    measured: Option<Measured>,
    /// What is to get the keys in the next frame.
    wanted: Option<Grip>,
}

impl std::fmt::Debug for Ready {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Ready").field("history", &self.history).finish_non_exhaustive()
    }
}

impl Ready {
    fn new(Picture { photograph, tiles, found }: Picture<FoundSquares>) -> Self {
        let history = History::new(Drawn::of(&found, &photograph));
        Self { photograph, tiles: Tiles::new(tiles), history, measured: None, wanted: None }
    }

    /// Measures anew where something moved: some milliseconds.
    fn measure(&mut self) {
        let Drawn { white, squares } = &self.history.now;
        let places: Vec<Rect> = squares.iter().map(|square| square.place).collect();
        if self.measured.as_ref().is_none_or(|(of, at, _)| of != white || *at != places) {
            let colours = square_colours(&self.photograph, white, &places);
            self.measured = Some((white.clone(), places, colours));
        }
    }

    /// The colours as they were measured last, one a square; none where they can't be told.
    fn colours(&self) -> &[SquareColour] {
        self.measured.as_ref().and_then(|(.., colours)| colours.as_deref().ok()).unwrap_or_default()
    }
}

/// A photograph of dyed squares.
#[derive(Debug)]
pub(crate) struct SquaresView {
    name: String,
    reader: Option<PictureReader<FoundSquares>>,
    ready: Option<Ready>,
    refused: Option<AnyRefusal>,
    chosen: Option<Grip>,
    /// Colour of the undyed cloth; white where none is said.
    over: Option<Srgb>,
    view: Option<View>,
    is_moved: bool,
}

impl SquaresView {
    /// Reads a photograph.
    pub(crate) fn new(path: &Path, ctx: &Context) -> Self {
        Self {
            name: path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            reader: Some(PictureReader::begin(path.to_owned(), find_squares, ctx)),
            ready: None,
            refused: None,
            chosen: None,
            over: None,
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
