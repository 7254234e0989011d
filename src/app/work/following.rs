//! A drag whose changes take longer than a frame leaves room for: they are worked out on another thread, and the cloth follows the hand as
//! fast as it can. Where the hand has gone on meanwhile only its last place counts.

use super::App;
use crate::edit::{Change, Changed, Document, EditCommand};
use crate::layout::LayoutError;
use egui::Context;
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::{Duration, Instant};

/// What takes longer is worked out on another thread: a quarter of a frame at sixty a second (own choice).
const AT_ONCE: Duration = Duration::from_millis(4);
/// How long a hand pauses before a picture of where it is now is worth its while, between two frames and what a hand holds still for to look
/// (own choice).
const PAUSE: Duration = Duration::from_millis(100);

/// What a change led to, and how long that took.
type Outcome = (Result<Changed, LayoutError>, Duration);

/// What is worked out, and what comes after it.
#[derive(Debug, Default)]
pub(super) struct Following {
    /// Whether nothing is handed on.
    pub(super) is_at_once: bool,
    /// How long the last change took; none before the first, which may take longer than a frame.
    took: Option<Duration>,
    /// Where the hand was last, and when it came there.
    moved: Option<(EditCommand, Instant)>,
    /// Begun with the first change that is handed on: a thread that stays keeps to its core, a new one each time comes in the way of frames.
    worker: Option<Worker>,
    /// Whether the worker is at a change.
    is_busy: bool,
    next: Option<EditCommand>,
}

/// A thread that works out one change after another.
#[derive(Debug)]
struct Worker {
    changes: Sender<Change>,
    done: Receiver<Outcome>,
}

impl Worker {
    /// None where there is no thread to be had.
    fn begin(ctx: &Context) -> Option<Self> {
        let (changes, given) = channel();
        let (sender, done) = channel();
        let egui = ctx.clone();
        let work = move || {
            for change in given {
                if sender.send(timed(change)).is_err() {
                    return;
                }
                egui.request_repaint();
            }
        };
        std::thread::Builder::new().name("following".to_owned()).spawn(work).ok()?;
        Some(Self { changes, done })
    }
}

impl Following {
    /// Whether a hand is ahead of its changes, or was a moment ago.
    pub(super) fn is_at_it(&self) -> bool {
        self.is_busy || self.is_handed_on() && self.moved.as_ref().is_some_and(|(_, moved)| moved.elapsed() < PAUSE)
    }

    /// Whether changes are worked out on another thread.
    fn is_handed_on(&self) -> bool {
        !self.is_at_once && self.took.is_none_or(|took| took > AT_ONCE)
    }

    /// Performs a change at once where such changes are quick, and hands it on to another thread where they are not. Whether it is done.
    fn perform(&mut self, document: &mut Document, command: &EditCommand, ctx: &Context) -> Result<bool, LayoutError> {
        if self.is_busy {
            self.next = Some(command.clone());
            return Ok(false);
        }
        let mut change = document.change(command);
        if self.is_handed_on() {
            self.worker = self.worker.take().or_else(|| Worker::begin(ctx));
            if let Some(worker) = &self.worker {
                match worker.changes.send(change) {
                    Ok(()) => {
                        self.is_busy = true;
                        return Ok(false);
                    }
                    Err(unsent) => change = unsent.0,
                }
            }
        }
        let (outcome, took) = timed(change);
        let changed = outcome?;
        self.took = Some(took);
        document.take(changed);
        Ok(true)
    }
}

/// Works a change out, with what the canvas will ask of it, and tells how long that took.
fn timed(change: Change) -> Outcome {
    let begun = Instant::now();
    let outcome = change.work_out();
    if let Ok(changed) = &outcome {
        // It is kept, for the canvas.
        let _ridge = changed.tie().fold().ridge();
    }
    (outcome, begun.elapsed())
}

impl App {
    /// Does what a hand does as it goes. What goes too far stops, and why is told.
    pub(super) fn drag(&mut self, command: &EditCommand, ctx: &Context) {
        // What comes after its gesture has ended comes of a hand that has just let go.
        let Some(document) = self.document.as_mut().filter(|document| document.history().is_in_gesture()) else { return };
        // A hand that holds still asks for the same in every frame.
        if self.following.moved.as_ref().is_some_and(|(last, _)| last == command) {
            return;
        }
        self.following.moved = Some((command.clone(), Instant::now()));
        ctx.request_repaint_after(PAUSE);
        match self.following.perform(document, command, ctx) {
            Ok(true) => self.message = None,
            Ok(false) => {}
            Err(error) => self.refuse(error),
        }
    }

    /// Takes what was worked out since the last frame, and goes on with where the hand is now.
    pub(super) fn followed(&mut self, ctx: &Context) {
        let Some(worker) = self.following.worker.as_ref().filter(|_| self.following.is_busy) else { return };
        match worker.done.try_recv() {
            Err(TryRecvError::Empty) => return ctx.request_repaint(),
            Err(TryRecvError::Disconnected) => self.following.worker = None,
            Ok(outcome) => self.take_followed(outcome),
        }
        self.following.is_busy = false;
        if let (Some(document), Some(next)) = (&mut self.document, self.following.next.take())
            && let Err(error) = self.following.perform(document, &next, ctx)
        {
            self.refuse(error);
        }
    }

    /// Waits for what is worked out, with the last place that the hand was at: whatever comes now is done to the layout as it is then.
    pub(super) fn catch_up(&mut self) {
        self.following.moved = None;
        if !std::mem::take(&mut self.following.is_busy) {
            return;
        }
        if let Some(outcome) = self.following.worker.as_ref().and_then(|worker| worker.done.recv().ok()) {
            self.take_followed(outcome);
        }
        if let Some((document, next)) = self.document.as_ref().zip(self.following.next.take()) {
            self.take_followed(timed(document.change(&next)));
        }
    }

    /// What is refused is refused sooner than anything is worked out: its time tells nothing.
    fn take_followed(&mut self, (changed, took): Outcome) {
        let changed = match changed {
            Ok(changed) => changed,
            Err(error) => return self.refuse(error),
        };
        self.following.took = Some(took);
        if self.document.as_mut().is_some_and(|document| document.take(changed)) {
            self.message = None;
        }
    }
}
