//! What the day is planned for, and planning it off the window's thread.

use crate::layout::Layout;
use crate::plan::{Order, Plan, When, Workshop};
use crate::reveal::Cancel;
use crate::store::{OfLayout, order_of_layout, planning_time, read_order};
use crate::telling::{AnyRefusal, Told};
use egui::Context;
use jiff::SignedDuration;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::{Duration, Instant};

/// What is planned.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wanted {
    /// An order file; without one, garments of the layout at hand.
    pub(super) order: Option<PathBuf>,
    /// How many garments of the layout at hand.
    pub(super) count: u32,
    /// A recipe's file; the one that suits, without.
    pub(super) recipe: Option<PathBuf>,
    /// A process' file; the one that suits, without.
    pub(super) process: Option<PathBuf>,
    /// Where it is made.
    pub(super) workshop: Workshop,
    /// Whether a scrap was tested already.
    pub(super) scrap_tested: bool,
    /// Whether the time is a deadline, or a start.
    pub(super) deadline: bool,
    pub(super) time: DateTime,
}

/// For which layout and wishes a plan was made.
type Key = (Arc<Layout>, Wanted);
/// An order and its plan.
#[derive(Debug, Clone)]
pub(crate) struct Made {
    pub(crate) order: Arc<Order>,
    pub(crate) plan: Arc<Plan>,
    /// What time it was when it was made.
    at: DateTime,
}

/// How long a plan may be that begins in the past before it is made anew: what it says of that would be stale.
const FRESH: SignedDuration = SignedDuration::from_mins(5);

impl Made {
    fn is_stale(&self) -> bool {
        let now = planning_time(&TimeZone::system().into());
        self.plan.timeline.begins < now && self.at.duration_until(now) >= FRESH
    }
}

/// A plan, or why there is none.
pub(super) type Planned = Result<Made, AnyRefusal>;

/// Keeps the plan up with layout and wishes.
#[derive(Debug, Default)]
pub(super) struct Planner {
    done: Option<(Key, Planned)>,
    under_way: Option<UnderWay>,
    /// Whether the maker stopped the last one.
    stopped: bool,
}

/// A plan that is being made.
#[derive(Debug)]
struct UnderWay {
    key: Key,
    receiver: Receiver<Planned>,
    cancel: Cancel,
    since: Instant,
}

/// How often a plan is looked at for its age.
const LOOKED_AT: Duration = Duration::from_secs(30);
/// What is done sooner is not told of.
const TOLD_AFTER: Duration = Duration::from_millis(400);

fn is(key: &Key, layout: &Arc<Layout>, wanted: &Wanted) -> bool {
    // An order file does not depend on the layout at hand.
    key.1 == *wanted && (wanted.order.is_some() || Arc::ptr_eq(&key.0, layout))
}

impl Planner {
    /// The plan, once it is there; while another is being made, the one before.
    pub(super) fn plan(&self) -> Option<&Planned> {
        self.done.as_ref().map(|(_, planned)| planned)
    }

    /// Plans anew when layout or wishes have changed, and takes over what is done.
    pub(super) fn keep_up(&mut self, layout: &Arc<Layout>, wanted: &Wanted, ctx: &Context) {
        if let Some(UnderWay { key, receiver, cancel, .. }) = &self.under_way {
            let is_wanted = is(key, layout, wanted);
            if !is_wanted {
                cancel.cancel();
            }
            let planned = match receiver.try_recv() {
                Ok(planned) => planned,
                Err(TryRecvError::Disconnected) => {
                    Err(Told::new("the plan couldn't be made", "change a value to try again").into())
                }
                Err(TryRecvError::Empty) => return ctx.request_repaint_after(Duration::from_millis(30)),
            };
            // What was stopped because something else is wanted has nothing to say.
            if is_wanted || planned.is_ok() {
                self.done = Some((key.clone(), planned));
            }
            self.under_way = None;
        }
        let is_done = |(key, planned): &(Key, Planned)| is(key, layout, wanted) && !planned.as_ref().is_ok_and(Made::is_stale);
        if self.done.as_ref().is_some_and(is_done) {
            return ctx.request_repaint_after(LOOKED_AT);
        }
        let key = (layout.clone(), wanted.clone());
        let (sender, receiver) = channel();
        let cancel = Cancel::new();
        let (egui, work, watch) = (ctx.clone(), key.clone(), cancel.clone());
        let spawned = std::thread::Builder::new().name("plan".to_owned()).spawn(move || {
            let _gone = sender.send(plan(&work.0, &work.1, &watch));
            egui.request_repaint();
        });
        if spawned.is_ok() {
            self.stopped = false;
            self.under_way = Some(UnderWay { key, receiver, cancel, since: Instant::now() });
        }
        ctx.request_repaint_after(Duration::from_millis(30));
    }

    /// How much of a plan is made, 0 to 1, where the maker has waited for it.
    pub(super) fn progress(&self) -> Option<f64> {
        self.under_way.as_ref().filter(|work| work.since.elapsed() >= TOLD_AFTER).map(|work| work.cancel.done())
    }

    /// Stops the plan that is being made.
    pub(super) fn stop(&mut self) {
        if let Some(work) = &self.under_way {
            work.cancel.cancel();
            self.stopped = true;
        }
    }

    /// Whether the last plan was stopped, and no other has been begun.
    pub(super) fn is_stopped(&self) -> bool {
        self.stopped && self.under_way.is_none()
    }

    /// Forgets what was made, so that files are read again.
    pub(super) fn look_again(&mut self) {
        self.done = None;
    }
}

fn plan(layout: &Layout, wanted: &Wanted, cancel: &Cancel) -> Planned {
    let order = match &wanted.order {
        Some(path) => read_order(path)?,
        None => order_of_layout(layout.clone(), wanted.of_layout())?,
    };
    let when = if wanted.deadline { When::Deadline(wanted.time) } else { When::Start(wanted.time) };
    let clock = TimeZone::system().into();
    let at = planning_time(&clock);
    let plan = Plan::at(&order, when, at, &clock, cancel)?;
    Ok(Made { order: Arc::new(order), plan: Arc::new(plan), at })
}

impl Wanted {
    fn of_layout(&self) -> OfLayout<'_> {
        OfLayout {
            count: self.count,
            recipe: self.recipe.as_deref(),
            process: self.process.as_deref(),
            workshop: self.workshop.clone(),
            scrap_tested: self.scrap_tested,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};
    use crate::telling::Voice;

    /// A plan that takes its time can be stopped, says so, and is made when asked for again.
    #[test]
    fn a_plan_is_stopped_and_made_again() {
        let layout = Arc::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        let time = "2027-05-03T08:00".parse().unwrap();
        // Everything is tried for a deadline again and again.
        let wanted = Wanted {
            order: None,
            count: 1500,
            recipe: None,
            process: None,
            workshop: Workshop::default(),
            scrap_tested: false,
            deadline: true,
            time,
        };
        let (mut planner, ctx) = (Planner::default(), Context::default());
        let wait = |planner: &mut Planner| {
            while planner.under_way.is_some() {
                std::thread::sleep(Duration::from_millis(2));
                planner.keep_up(&layout, &wanted, &ctx);
            }
        };
        planner.keep_up(&layout, &wanted, &ctx);
        planner.stop();
        wait(&mut planner);
        assert!(planner.is_stopped());
        let said = planner.plan().unwrap().as_ref().unwrap_err().say(Voice::FILE);
        assert_eq!(said, "planning was stopped; start it again for a plan");
        planner.look_again();
        planner.keep_up(&layout, &wanted, &ctx);
        assert!(!planner.is_stopped());
        wait(&mut planner);
        assert_eq!(planner.plan().unwrap().as_ref().unwrap().plan.garments, 1500);
    }
}
