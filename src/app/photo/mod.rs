//! A photograph of the opened garment held against its plan: its points are looked over and corrected, it is measured, and what that tells
//! stands beside the pictures. It takes the place of the reveal, or of the journal's entry, until it is put away.

mod ask;
mod compare;
mod hands;
mod history;
mod holder;
mod marking;
mod outline;
mod panel;
mod picture;
mod reader;
mod squares;
mod tiles;
mod told;

pub(crate) use ask::PhotoAsk;
pub(crate) use hands::MARKING;
pub(crate) use outline::{OUTLINING, OutlineView};
pub(crate) use squares::{SQUARES, SquaresView};

use self::history::History;
use self::holder::{Held, Holder, KnownPlan};
use self::marking::{Mark, Marking};
use self::picture::LOOK_EVERY;
use self::reader::{Came, Reader};
use self::tiles::Tiles;
use super::canvas::View;
use super::step::Step;
use super::theme::Palette;
use crate::geometry::Panel;
use crate::layout::Layout;
use crate::photo::{FoundPoints, Marks, Photograph};
use crate::reveal::colour::SrgbBytes;
use crate::store::marks_path;
use crate::telling::AnyRefusal;
use egui::{Align2, Context, FontId, TextureHandle, Ui};
use kurbo::Point;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What lies on the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Shown {
    /// The photograph with its points.
    #[default]
    Points,
    /// Photograph, plan and difference.
    Beside,
    /// The photograph over the plan.
    Curtain,
}

impl Shown {
    const ALL: [Self; 3] = [Self::Points, Self::Beside, Self::Curtain];

    const fn name(self) -> &'static str {
        match self {
            Self::Points => "Points",
            Self::Beside => "Side by side",
            Self::Curtain => "Curtain",
        }
    }
}

/// A photograph that is read.
struct Ready {
    photograph: Arc<Photograph>,
    tiles: Tiles,
    bytes: SrgbBytes,
    /// What the program found in it.
    found: Option<FoundPoints>,
    /// The marks, once there are any.
    history: Option<History<Marking>>,
    /// The mark that is to get the keys in the next frame.
    wanted: Option<Mark>,
    /// The plan's outline as marks have it, px.
    outline: Option<(Marks, Vec<Vec<Point>>)>,
    enlarged: Option<TextureHandle>,
    enlarged_at: Option<Point>,
}

impl std::fmt::Debug for Ready {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Ready").field("history", &self.history).finish_non_exhaustive()
    }
}

/// A photograph that is held against a plan.
#[derive(Debug)]
pub(crate) struct PhotoView {
    /// The step in whose place it shows.
    home: Step,
    /// Words for putting it away, where they are not the step's.
    back: Option<&'static str>,
    /// What it is called.
    name: String,
    layout: Arc<Layout>,
    marks_file: PathBuf,
    /// The marks as the file has them, or as the program found them.
    saved: Option<Marks>,
    /// Whether a file holds marks on it: what the program found is in none yet.
    is_in_file: bool,
    reader: Option<Reader>,
    ready: Option<Ready>,
    /// Why it, or the marks beside it, can't be used.
    refused: Option<AnyRefusal>,
    holder: Option<Holder>,
    held: Option<Box<Held>>,
    /// Why these marks were not measured.
    unmeasured: Option<(Marks, AnyRefusal)>,
    known: KnownPlan,
    shown: Shown,
    chosen: Option<Mark>,
    view: Option<View>,
    is_moved: bool,
    plan_view: Option<View>,
    is_plan_moved: bool,
    /// Whether the rings are left out of the pictures.
    rings_hidden: bool,
    /// Where the curtain hangs, as a share of the breadth.
    curtain: f32,
}

impl PhotoView {
    /// Reads a photograph, to be held against a layout in a step's place.
    pub(crate) fn new(path: &Path, name: String, layout: Arc<Layout>, home: Step, ctx: &Context) -> Self {
        let marks_file = marks_path(path);
        let side = first_side(&layout);
        let reader = Reader::begin(path.to_owned(), marks_file.clone(), layout.clone(), side, ctx);
        Self {
            home,
            back: None,
            name,
            layout,
            marks_file,
            saved: None,
            is_in_file: false,
            reader: Some(reader),
            ready: None,
            refused: None,
            holder: None,
            held: None,
            unmeasured: None,
            known: None,
            shown: Shown::default(),
            chosen: None,
            view: None,
            is_moved: false,
            plan_view: None,
            is_plan_moved: false,
            rings_hidden: false,
            curtain: 0.5,
        }
    }

    /// The same, with other words for putting it away.
    pub(crate) fn left_by(self, back: &'static str) -> Self {
        Self { back: Some(back), ..self }
    }

    /// The step in whose place it shows.
    pub(crate) fn home(&self) -> Step {
        self.home
    }

    /// What it is called.
    pub(crate) fn name(&self) -> &str {
        &self.name
    }

    /// Where its marks are kept.
    pub(crate) fn marks_file(&self) -> &Path {
        &self.marks_file
    }

    /// What is marked.
    pub(crate) fn marks(&self) -> Option<Marks> {
        self.ready.as_ref()?.history.as_ref().map(|history| history.now.marks())
    }

    /// Whether marks were set by hand that no file holds.
    pub(crate) fn is_unsaved(&self) -> bool {
        self.marks().is_some_and(|marks| self.saved.as_ref() != Some(&marks))
    }

    /// That a file holds the marks now, or that they are given up.
    pub(crate) fn marks_are_kept(&mut self, in_file: bool) {
        self.saved = self.marks();
        self.is_in_file |= in_file;
    }

    /// Takes the marks of a file.
    pub(crate) fn read_marks(&mut self, path: PathBuf, ctx: &Context) {
        self.refused = None;
        if let Some(ready) = &self.ready {
            let side = ready.history.as_ref().map_or(Panel::Front, |history| history.now.side);
            self.reader = Some(Reader::again(ready.photograph.clone(), self.layout.clone(), side, Some(path), ctx));
        }
    }

    fn find_again(&mut self, ctx: &Context) {
        self.refused = None;
        if let Some(ready) = &self.ready {
            let side = ready.history.as_ref().map_or(Panel::Front, |history| history.now.side);
            self.reader = Some(Reader::again(ready.photograph.clone(), self.layout.clone(), side, None, ctx));
        }
    }

    /// What undo and redo would do.
    pub(crate) fn steps(&self) -> [Option<&str>; 2] {
        let history = self.ready.as_ref().and_then(|ready| ready.history.as_ref());
        history.map_or([None, None], History::labels)
    }

    pub(crate) fn step(&mut self, forward: bool) {
        if let Some(history) = self.ready.as_mut().and_then(|ready| ready.history.as_mut()) {
            history.step(forward);
        }
    }

    /// Shows all of the picture.
    pub(crate) fn fit(&mut self) {
        (self.is_moved, self.is_plan_moved) = (false, false);
    }

    /// Looks closer by a factor.
    pub(crate) fn zoom(&mut self, factor: f64) {
        let is_photograph = self.shown == Shown::Points;
        let view = if is_photograph { &mut self.view } else { &mut self.plan_view };
        if let Some(view) = view {
            // About the middle of the table, wherever that is on the screen.
            let area = egui::Rect::ZERO;
            view.zoom_at(area, area.center(), factor);
        }
        *(if is_photograph { &mut self.is_moved } else { &mut self.is_plan_moved }) = true;
    }

    fn measure(&mut self, ctx: &Context) {
        let Some(ready) = &self.ready else { return };
        let Some(marks) = ready.history.as_ref().map(|history| history.now.marks()) else { return };
        self.unmeasured = None;
        self.holder = Some(Holder::begin(ready.photograph.clone(), self.layout.clone(), marks, &self.known, ctx));
    }

    /// Whether what was measured is of other marks or another layout than there are now.
    fn is_stale(&self) -> bool {
        let is_of = |held: &Held| Arc::ptr_eq(&held.layout, &self.layout) && self.marks().as_ref() == Some(&held.marks);
        self.held.as_ref().is_some_and(|held| !is_of(held))
    }

    /// What is being read.
    fn reading_words(&self) -> Option<&'static str> {
        let reader = self.reader.as_ref()?;
        Some(if reader.has_picture { "Looking for the points…" } else { "Reading the photograph…" })
    }

    /// Words for putting it away.
    fn back_words(&self) -> &'static str {
        let usual = if self.home == Step::Journal { "Back to the entry" } else { "Back to the reveal" };
        self.back.unwrap_or(usual)
    }

    /// Takes over what other threads have done, and the layout as it is now where that is the open one.
    pub(crate) fn keep_up(&mut self, open: Option<&Arc<Layout>>, ctx: &Context) {
        if let Some(open) = open.filter(|open| self.home == Step::Reveal && !Arc::ptr_eq(open, &self.layout)) {
            self.layout = open.clone();
            if let Some(history) = self.ready.as_mut().and_then(|ready| ready.history.as_mut()) {
                history.now = history.now.turned(open, history.now.side);
            }
        }
        while let Some(came) = self.reader.as_mut().and_then(Reader::take) {
            match came {
                Ok(Came::Picture(photograph, tiles)) => self.come(photograph, Tiles::new(tiles)),
                Ok(Came::Found(found, kept)) => self.found(*found, kept),
                Err(refused) => {
                    self.refused = Some(refused);
                    self.reader = None;
                }
            }
        }
        if let Some(done) = self.holder.as_ref().and_then(|holder| holder.take(&mut self.known, ctx)) {
            let marks = self.holder.take().map(|holder| holder.marks().clone());
            match done {
                Ok(held) => {
                    self.held = Some(held);
                    if self.shown == Shown::Points {
                        self.shown = Shown::Beside;
                    }
                }
                Err(refused) => self.unmeasured = marks.zip(refused),
            }
        }
        let now = self.marks();
        self.unmeasured.take_if(|(of, _)| now.as_ref() != Some(of));
        if self.reader.is_some() || self.holder.is_some() {
            ctx.request_repaint_after(LOOK_EVERY);
        }
    }

    fn come(&mut self, photograph: Arc<Photograph>, tiles: Tiles) {
        self.ready = Some(Ready {
            photograph,
            tiles,
            bytes: SrgbBytes::new(),
            found: None,
            history: None,
            wanted: None,
            outline: None,
            enlarged: None,
            enlarged_at: None,
        });
    }

    fn found(&mut self, found: FoundPoints, kept: Option<Result<Marks, AnyRefusal>>) {
        self.reader = None;
        let Some(ready) = &mut self.ready else { return };
        let now = match kept {
            Some(Ok(kept)) => {
                let marking = Marking::of_marks(&kept, &found);
                (self.saved, self.is_in_file) = (Some(kept), true);
                marking
            }
            kept => {
                self.refused = kept.and_then(Result::err);
                let side = ready.history.as_ref().map_or_else(|| first_side(&self.layout), |history| history.now.side);
                Marking::of_found(&found, side)
            }
        };
        match &mut ready.history {
            Some(history) => history.change("Find the points", |marking| *marking = now),
            None => {
                // What the program finds it finds again: nothing is lost with it.
                self.saved.get_or_insert_with(|| now.marks());
                ready.history = Some(History::new(now));
            }
        }
        ready.found = Some(found);
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
        match self.shown {
            Shown::Beside | Shown::Curtain if self.held.is_some() => self.compared(area, ui),
            _ => self.points(area, ui),
        }
    }
}

/// The side that a maker photographs first.
fn first_side(layout: &Layout) -> Panel {
    layout.panels().iter().map(|(side, _)| side).next().unwrap_or(Panel::Front)
}
