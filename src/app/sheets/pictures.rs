//! Pictures for job cards, made on another thread and kept by their layouts' fingerprints.

use super::card::card_picture;
use crate::layout::Layout;
use crate::reveal::{Cancel, Picture};
use crate::telling::{AnyRefusal, Told};
use egui::Context;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// Most pictures kept, so that undo and redo find theirs again; each is about a megabyte.
const MOST: usize = 8;
/// How often running work is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(100);

/// A picture, or why there is none.
type Made = Result<Arc<Picture>, AnyRefusal>;

/// A picture that another thread is at.
#[derive(Debug)]
struct Job {
    mark: String,
    cancel: Cancel,
    receiver: Receiver<Result<Picture, AnyRefusal>>,
}

/// The pictures that were wanted last.
#[derive(Debug, Default)]
pub(super) struct CardPictures {
    /// By fingerprint, the one that was made last at the end.
    kept: Vec<(String, Made)>,
    job: Option<Job>,
    /// The layout asked for last, and its fingerprint.
    asked: Option<(Arc<Layout>, String)>,
}

impl CardPictures {
    /// The picture of a layout; none while it is being made.
    pub(super) fn get(&mut self, layout: &Arc<Layout>, ctx: &Context) -> Option<&Made> {
        let mark = self.mark(layout);
        self.take_over(ctx);
        if let Some(job) = self.job.as_ref().filter(|job| job.mark != mark) {
            job.cancel.cancel();
        } else if self.job.is_none() && !self.kept.iter().any(|(of, _)| *of == mark) {
            self.begin(layout.clone(), mark.clone(), ctx);
        }
        if self.job.is_some() {
            ctx.request_repaint_after(LOOK_EVERY);
        }
        self.kept.iter().find(|(of, _)| *of == mark).map(|(_, made)| made)
    }

    /// How much of the picture is made, 0 to 1, while one is being made.
    pub(super) fn done(&self) -> Option<f64> {
        self.job.as_ref().map(|job| job.cancel.done())
    }

    /// The picture of a layout if it is at hand.
    pub(super) fn at_hand(&self, layout: &Arc<Layout>) -> Option<Arc<Picture>> {
        let (_, mark) = self.asked.as_ref().filter(|(asked, _)| Arc::ptr_eq(asked, layout))?;
        self.kept.iter().find(|(of, _)| of == mark)?.1.clone().ok()
    }

    /// A layout's fingerprint, reckoned only when another layout is asked for.
    fn mark(&mut self, layout: &Arc<Layout>) -> String {
        match &self.asked {
            Some((asked, mark)) if Arc::ptr_eq(asked, layout) => mark.clone(),
            _ => {
                let mark = layout.fingerprint();
                self.asked = Some((layout.clone(), mark.clone()));
                mark
            }
        }
    }

    fn begin(&mut self, layout: Arc<Layout>, mark: String, ctx: &Context) {
        let (sender, receiver) = channel();
        let (egui, cancel) = (ctx.clone(), Cancel::new());
        let shared = cancel.clone();
        let spawned = std::thread::Builder::new().name("card picture".to_owned()).spawn(move || {
            let _gone = sender.send(card_picture(&layout, &shared));
            egui.request_repaint();
        });
        match spawned {
            Ok(_) => self.job = Some(Job { mark, cancel, receiver }),
            Err(error) => self.keep(mark, Err(error.into())),
        }
    }

    fn take_over(&mut self, ctx: &Context) {
        let Some(job) = &self.job else { return };
        let made = match job.receiver.try_recv() {
            Err(TryRecvError::Empty) => return,
            Ok(made) => made.map(Arc::new),
            Err(TryRecvError::Disconnected) => {
                Err(Told::new("the picture stopped unexpectedly", "change a value to try again").into())
            }
        };
        let (mark, cancelled) = (job.mark.clone(), job.cancel.is_cancelled());
        self.job = None;
        // What was stopped on the way is begun anew when it is asked for again.
        if !(cancelled && made.is_err()) {
            self.keep(mark, made);
        }
        ctx.request_repaint();
    }

    fn keep(&mut self, mark: String, made: Made) {
        self.kept.push((mark, made));
        let over = self.kept.len().saturating_sub(MOST);
        self.kept.drain(..over);
    }
}

impl Drop for CardPictures {
    fn drop(&mut self) {
        if let Some(job) = &self.job {
            job.cancel.cancel();
        }
    }
}
