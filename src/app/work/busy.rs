//! Work on another thread whose end the maker waits for: told about at the foot of the window, with a way to stop it.

use super::App;
use crate::app::context::Ask;
use crate::reveal::Cancel;
use crate::telling::{AnyRefusal, Refused as _, Told};
use egui::Context;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// Work under way.
#[derive(Debug)]
pub(super) struct Busy {
    /// What is being done.
    pub(super) words: String,
    pub(super) handle: Handle,
    receiver: Receiver<Result<Finished, AnyRefusal>>,
}

/// What the window and the work share.
#[derive(Debug, Clone, Default)]
pub(super) struct Handle {
    /// Stops the work.
    pub(super) cancel: Cancel,
    /// How many of how many parts are done, where the work counts parts.
    parts: Arc<(AtomicUsize, AtomicUsize)>,
}

impl Handle {
    /// Tells how many of how many parts are done.
    pub(super) fn tell(&self, done: usize, of: usize) {
        self.parts.0.store(done, Ordering::Relaxed);
        self.parts.1.store(of, Ordering::Relaxed);
    }

    /// How much is done, 0 to 1.
    pub(super) fn done(&self) -> f64 {
        match (self.parts.0.load(Ordering::Relaxed), self.parts.1.load(Ordering::Relaxed)) {
            (_, 0) => self.cancel.done(),
            (done, of) => done as f64 / of as f64,
        }
    }
}

/// Work that is done.
#[derive(Debug)]
pub(super) struct Finished {
    /// What was done.
    pub(super) words: String,
    /// The file that was written; where several were, their folder or the name they were derived from.
    pub(super) to: PathBuf,
}

impl App {
    /// Does work on another thread. Only one such work goes on at a time.
    pub(super) fn begin_busy(
        &mut self,
        words: &str,
        ctx: &Context,
        work: impl FnOnce(&Handle) -> Result<Finished, AnyRefusal> + Send + 'static,
    ) {
        if let Some(busy) = &self.busy {
            return self.refuse(Told::new(format!("{} is still running", busy.words), "wait, or press Stop"));
        }
        let (sender, receiver) = channel();
        let (egui, handle) = (ctx.clone(), Handle::default());
        let shared = handle.clone();
        let spawned = std::thread::Builder::new().name("busy".to_owned()).spawn(move || {
            let _gone = sender.send(work(&shared));
            egui.request_repaint();
        });
        match spawned {
            Ok(_) => {
                self.message = None;
                self.busy = Some(Busy { words: words.to_owned(), handle, receiver });
            }
            Err(error) => self.refuse(Told::new(
                format!("{words} couldn't start: {}", error.told(self.voice()).what),
                "close other programs, then try again",
            )),
        }
    }

    /// Takes over what the other thread has done.
    pub(super) fn busy_done(&mut self, ctx: &Context) {
        let Some(busy) = &self.busy else { return };
        let result = match busy.receiver.try_recv() {
            Ok(result) => result,
            Err(TryRecvError::Disconnected) => Err(Told::new(format!("{} stopped unexpectedly", busy.words), "try again").into()),
            Err(TryRecvError::Empty) => return ctx.request_repaint_after(Duration::from_millis(100)),
        };
        let stopped = busy.handle.cancel.is_cancelled();
        self.busy = None;
        // Another frame shows it: this one is drawn already.
        ctx.request_repaint();
        match result {
            Ok(Finished { words, to }) if to.is_file() => self.offer(words, "Open", Ask::OpenOutside(to)),
            // Several files take names of their own; then their folder is what can be opened.
            Ok(Finished { words, to }) => match to.ancestors().find(|folder| folder.is_dir()) {
                Some(folder) => self.offer(words, "Open the folder", Ask::OpenOutside(folder.to_owned())),
                None => self.tell(Ok(words)),
            },
            Err(_) if stopped => self.tell(Ok("Stopped; nothing was saved".to_owned())),
            Err(words) => self.refuse(words),
        }
    }

    pub(super) fn stop_busy(&mut self) {
        if let Some(busy) = &self.busy {
            busy.handle.cancel.cancel();
        }
    }
}
