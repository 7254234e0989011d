//! When to do what: one pair of hands, tubs and machines shared by the loads of an order, waits that have a least and a most.
//!
//! [`Problem`] is the bare question, in whole minutes; [`solve_forward`] and [`solve_backward`] answer it, [`resume`] goes on from where
//! an answer stands; [`conflicts`] judges any
//! answer, theirs or one changed by hand. This module knows places, but no cloth, recipe or calendar date.

mod conflict;
mod exact;
mod hands;
mod held;
mod hours;
mod insert;
mod problem;
mod resume;
mod solve;

pub use conflict::{Conflict, conflicts};
pub use hours::{DayHours, Hours, Weekday, WorkCalendar};
use problem::Bath;
pub use problem::{Capacities, Problem, Task};
pub use resume::{Standing, resume};
pub use solve::{GoOn, Solution, solve_backward, solve_forward};
