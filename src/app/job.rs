//! Work on another thread, whose result one view takes.

use crate::reveal::Cancel;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// How often running work is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(100);

/// Work on another thread about something; it is stopped when it is let go.
pub(super) struct Job<Of, T> {
    pub(super) of: Of,
    pub(super) cancel: Cancel,
    receiver: Receiver<T>,
}

impl<Of, T: Send + 'static> Job<Of, T> {
    /// Begins it; none where there is no thread to be had.
    pub(super) fn begin(
        name: &str,
        of: Of,
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
        Some(Self { of, cancel, receiver })
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

impl<Of, T> Drop for Job<Of, T> {
    fn drop(&mut self) {
        self.cancel.cancel();
    }
}
