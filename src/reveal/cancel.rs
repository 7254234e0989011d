//! Stopping long work from outside, and how far it is.

use super::RevealError;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};

/// A handle on running work: shared by cloning, it stops the work and tells how far it is.
#[derive(Debug, Clone, Default)]
pub struct Cancel {
    cancelled: Arc<AtomicBool>,
    done_permille: Arc<AtomicU32>,
}

impl Cancel {
    /// A handle on work that has not begun.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A handle on a part of the work: stopped with the whole, it tells how far the part is.
    #[must_use]
    pub fn beneath(&self) -> Self {
        Self { cancelled: self.cancelled.clone(), ..Self::default() }
    }

    /// Asks the work to stop; it does so within a step of the solver or a band of the picture.
    pub fn cancel(&self) {
        self.cancelled.store(true, Ordering::Relaxed);
    }

    /// Whether it was asked to stop.
    #[must_use]
    pub fn is_cancelled(&self) -> bool {
        self.cancelled.load(Ordering::Relaxed)
    }

    /// How much of the work is done, 0 to 1: an estimate that never falls.
    #[must_use]
    pub fn done(&self) -> f64 {
        f64::from(self.done_permille.load(Ordering::Relaxed)) / 1000.0
    }

    /// Notes what share is done, 0 to 1; whether the work is to go on.
    pub(crate) fn note(&self, done: f64) -> bool {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 1000")]
        let permille = (done * 1000.0).clamp(0.0, 1000.0) as u32;
        self.done_permille.fetch_max(permille, Ordering::Relaxed);
        !self.is_cancelled()
    }

    /// Notes how much is done, and stops the work when that was asked for.
    pub(super) fn reach(&self, done_permille: u32) -> Result<(), RevealError> {
        self.done_permille.fetch_max(done_permille, Ordering::Relaxed);
        self.check()
    }

    /// Stops the work when that was asked for.
    pub(crate) fn check(&self) -> Result<(), RevealError> {
        if self.is_cancelled() { Err(RevealError::Cancelled) } else { Ok(()) }
    }
}
