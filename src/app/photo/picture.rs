//! A photograph read off the window's thread, with what is looked for in it; and where it lies on the screen.

use super::tiles::{Tile, cut};
use crate::app::canvas::View;
use crate::photo::Photograph;
use crate::store::read_photograph;
use crate::telling::{AnyRefusal, Told};
use egui::{Context, Pos2, Rect};
use kurbo::Point;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// How often running work is looked at.
pub(super) const LOOK_EVERY: Duration = Duration::from_millis(50);

/// The picture, what it is painted with, and what was found in it.
pub(super) struct Picture<T> {
    pub(super) photograph: Arc<Photograph>,
    pub(super) tiles: Vec<Tile>,
    pub(super) found: T,
}

/// A thread that reads a picture.
pub(super) struct PictureReader<T>(Receiver<Result<Picture<T>, AnyRefusal>>);

impl<T> std::fmt::Debug for PictureReader<T> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("PictureReader")
    }
}

impl<T: Send + 'static> PictureReader<T> {
    /// Reads the photograph in a file, and looks for something in it.
    pub(super) fn begin(path: PathBuf, look: fn(&Photograph) -> T, ctx: &Context) -> Self {
        let (sender, receiver) = channel();
        let ctx = ctx.clone();
        // Without a thread the receiver tells that nothing comes.
        let _spawned = std::thread::Builder::new().name("picture".to_owned()).spawn(move || {
            let read = read_photograph(&path).map(|photograph| {
                let (tiles, found) = (cut(&photograph), look(&photograph));
                Picture { photograph: Arc::new(photograph), tiles, found }
            });
            let _gone = sender.send(read.map_err(AnyRefusal::from));
            ctx.request_repaint();
        });
        Self(receiver)
    }

    /// What it read, once it has.
    pub(super) fn take(&self) -> Option<Result<Picture<T>, AnyRefusal>> {
        match self.0.try_recv() {
            Ok(read) => Some(read),
            Err(TryRecvError::Empty) => None,
            Err(TryRecvError::Disconnected) => {
                Some(Err(Told::new("the photograph couldn't be read", "close other programs, then try again").into()))
            }
        }
    }
}

/// Where a photograph lies on the screen.
pub(super) struct OnScreen<'a> {
    pub(super) photograph: &'a Photograph,
    pub(super) view: View,
    pub(super) area: Rect,
}

impl OnScreen<'_> {
    /// Where a place of the whole picture shows.
    pub(super) fn screen(&self, whole: Point) -> Pos2 {
        self.view.screen_from_mm(self.area, self.photograph.kept_from_whole(whole))
    }

    /// The place of the whole picture that shows there.
    pub(super) fn whole(&self, screen: Pos2) -> Point {
        self.photograph.whole_from_kept(self.view.mm_from_screen(self.area, screen))
    }

    /// How far in the whole picture so much of the screen goes.
    pub(super) fn whole_by(&self, by: egui::Vec2) -> kurbo::Vec2 {
        self.photograph.step() * kurbo::Vec2::new(self.view.mm(by.x), self.view.mm(by.y))
    }

    /// Where a part of the whole picture shows.
    pub(super) fn rect(&self, whole: kurbo::Rect) -> Rect {
        let [first, last] = [whole.origin(), Point::new(whole.x1, whole.y1)].map(|at| self.screen(at));
        Rect::from_two_pos(first, last)
    }
}
