//! A lesson from beginning to end: pieces learned from, added to what was known, and judged by one that was kept back.

use super::judge::{Foretold, foretold};
use super::{LearnError, Learned, Lesson, Piece, check_teaches, learn};
use crate::layout::Calibration;
use crate::reveal::Cancel;

/// What came of learning.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// What these pieces taught.
    pub lesson: Lesson,
    /// What is believed after it.
    pub after: Learned,
    /// How far the piece that was kept back is foretold, where there was one.
    pub verdict: Option<Foretold>,
}

/// Learns from pieces on top of what was known, and judges it by a piece from which nothing is learned.
///
/// # Errors
/// [`LearnError`] naming the piece or its photograph: also for a photograph that taught already, or that is given twice.
pub fn teach(pieces: &[Piece], kept_back: Option<&Piece>, before: &Learned, cancel: &Cancel) -> Result<Outcome, LearnError> {
    pieces.iter().chain(kept_back).try_for_each(|piece| check_teaches(&piece.name, &piece.layout))?;
    before.check_new(pieces.iter().chain(kept_back))?;
    let lesson = learn(pieces, before, cancel)?;
    let bins = lesson.bins;
    let after = before.after(&lesson).ok_or(LearnError::Unsettled { bins })?;
    let judged = |piece: &Piece| {
        let mut spec = piece.layout.raw().clone();
        spec.process.calibration = Calibration::default();
        let [earlier, yours] = [before, &after].map(|learned| learned.tuning(&spec));
        foretold(piece, &earlier, &yours, cancel)
    };
    let verdict = kept_back.map(judged).transpose()?;
    Ok(Outcome { lesson, after, verdict })
}
