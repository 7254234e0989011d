//! The run: a plan being lived through. A frozen timetable of steps, and ticks at times of the clock.
//!
//! A [`Run`] is a value: what it says at a time ([`Run::now`]) follows from the ticks alone, so that a program closed in the middle of a
//! soak and opened again knows as much as one that stayed open. The clock is an argument; nothing here reads one. Times are civil, as
//! in the [`Plan`](super::Plan): what its clock shows; waits are true lengths of time.

mod alarm;
mod checked;
mod done;
mod error;
mod full;
mod hand;
mod hold;
mod now;
mod outlook;
mod raw;
mod reading;
mod replan;
mod report;
mod step;
mod verdict;
mod vessel;
mod warning;

pub use alarm::Alarm;
pub use checked::Run;
pub use error::RunError;
pub use full::Full;
pub use hand::TiedGarment;
pub use hold::Hold;
pub use now::{Blocked, Coming, Job, Late, NowView, WaitState, Waiting};
pub use raw::{Acknowledged, AlarmKind, Mark, RunCaution, RunKind, RunNeed, RunRecord, RunShare, RunStepRecord, RunTied, Tick};
pub use replan::{Ahead, Endangered, Replan};
pub use report::RunReport;
pub use step::RunStep;
pub use verdict::{Judged, Verdict};
pub use warning::RunWarning;
