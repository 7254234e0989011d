//! What the day's panels ask for.

use crate::plan::Mark;

/// What is asked of the run.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum RunAsk {
    /// Begin the plan as a run.
    Begin,
    /// Say of a step that it is begun, done or left out.
    Tick(u32, Mark),
    /// Take the last tick back.
    Undo,
    /// Note something on a step.
    Note(u32, String),
    /// Put the run away.
    End,
}
