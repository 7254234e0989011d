//! What was done before it is said: ticked at the time when it was done.

use super::{Run, RunError, RunWarning};
use jiff::Timestamp;
use jiff::civil::DateTime;

impl Run {
    /// That a step can be said at `now` to have been done at a time: not before it could begin, and not later than now.
    ///
    /// # Errors
    /// [`RunError::ToCome`], [`RunError::BeforeReady`] or [`RunError::NoStep`].
    pub fn check_done(&self, step: u32, at: DateTime, now: DateTime) -> Result<(), RunError> {
        let index = self.index(step)?;
        let instant = self.instant(at);
        if instant > self.instant(now) {
            return Err(RunError::ToCome { step: self.title(index), at, now });
        }
        match self.could_begin(index).filter(|&least| instant < least) {
            Some(least) => Err(RunError::BeforeReady { step: self.title(index), at, least: self.clock.shows(least) }),
            None => Ok(()),
        }
    }

    /// Notes at `now` that a step was done at an earlier time: its wait is taken to have begun then.
    ///
    /// # Errors
    /// As for [`Run::check_done`] and [`Run::finish`].
    pub fn done_already(&mut self, step: u32, at: DateTime, now: DateTime) -> Result<Vec<RunWarning>, RunError> {
        self.check_done(step, at, now)?;
        self.finish(step, at)
    }

    /// When hands began, or could by what is ticked; none where nothing bounds it.
    fn could_begin(&self, index: usize) -> Option<Timestamp> {
        let settled = self.before[index].and_then(|before| self.states[before].finished);
        let waited = self.done_before(index).and_then(|waiting| self.ready(waiting));
        let needed = self.needed[index].iter().filter_map(|&needed| self.ready(needed));
        self.states[index].begun.or_else(|| settled.into_iter().chain(waited).chain(needed).max())
    }
}
