//! Looking for binds off the window's thread.

use crate::layout::Layout;
use crate::reveal::Cancel;
use crate::wish::{Chart, FulfilError, Fulfilled, Wish, WishOptions, fulfil};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// How often running work is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(100);

/// Work on another thread.
pub(super) struct Job<T> {
    pub(super) of: Arc<Layout>,
    pub(super) cancel: Cancel,
    receiver: Receiver<T>,
}

impl<T: Send + 'static> Job<T> {
    /// Begins it; none where there is no thread to be had.
    pub(super) fn begin(
        name: &str,
        of: &Arc<Layout>,
        egui: &egui::Context,
        work: impl FnOnce(&Cancel) -> T + Send + 'static,
    ) -> Option<Self> {
        let (sender, receiver) = channel();
        let cancel = Cancel::new();
        let (own, egui) = (cancel.clone(), egui.clone());
        let run = move || {
            let _gone = sender.send(work(&own));
            egui.request_repaint();
        };
        std::thread::Builder::new().name(name.to_owned()).spawn(run).ok()?;
        Some(Self { of: of.clone(), cancel, receiver })
    }

    /// What came of it: `Err` while it goes on, none where the thread is gone.
    pub(super) fn take(&self, egui: &egui::Context) -> Result<Option<T>, ()> {
        match self.receiver.try_recv() {
            Ok(done) => Ok(Some(done)),
            Err(TryRecvError::Disconnected) => Ok(None),
            Err(TryRecvError::Empty) => {
                egui.request_repaint_after(LOOK_EVERY);
                Err(())
            }
        }
    }
}

impl<T> Drop for Job<T> {
    fn drop(&mut self) {
        self.cancel.cancel();
    }
}

/// A search for binds.
pub(super) type Search = Job<Result<Fulfilled, FulfilError>>;

pub(super) fn search(wish: Wish, layout: &Arc<Layout>, egui: &egui::Context) -> Option<Search> {
    let own = layout.clone();
    Job::begin("wish", layout, egui, move |cancel| fulfil(&wish, &own, &WishOptions::default(), cancel))
}

/// Measuring how far each pixel lies.
pub(super) type Charting = Job<Option<Chart>>;

pub(super) fn chart(layout: &Arc<Layout>, egui: &egui::Context) -> Option<Charting> {
    let own = layout.clone();
    let extent_mm = layout.panels().iter().map(|(_, panel)| panel.whole().bounds().width().max(panel.whole().bounds().height()));
    let pixel_mm = (extent_mm.fold(0.0, f64::max) / PIXELS).clamp(0.5, 8.0);
    Job::begin("wish chart", layout, egui, move |_| Chart::of(&own, pixel_mm).ok())
}

/// Pixels along the longest side of a panel.
const PIXELS: f64 = 260.0;
