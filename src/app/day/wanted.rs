//! What the day is planned for, and planning it off the window's thread.

use super::order::Sheet;
use crate::layout::Layout;
use crate::measure::LengthStyle;
use crate::plan::{Order, Plan, Shelf, When, Workshop};
use crate::reveal::Cancel;
use crate::store::{LineFault, OfLayout, order_of_layout, planning_time};
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
    /// An order that is being written; without one, garments of the layout at hand.
    pub(super) order: Option<Written>,
    /// How many garments of the layout at hand.
    pub(super) count: u32,
    /// A recipe's file; the one that suits, without.
    pub(super) recipe: Option<PathBuf>,
    /// A process' file; the one that suits, without.
    pub(super) process: Option<PathBuf>,
    /// Where it is made.
    pub(super) workshop: Workshop,
    /// What is on the shelf.
    pub(super) shelf: Arc<Shelf>,
    /// Whether a scrap was tested already.
    pub(super) scrap_tested: bool,
    /// Whether the time is a deadline, or a start.
    pub(super) deadline: bool,
    pub(super) time: DateTime,
    /// A deadline that may be meant in place of `time`, to be tried.
    pub(super) doubtful: Option<DateTime>,
    /// How lengths are written in it.
    pub(super) lengths: LengthStyle,
}

/// A state of an order; the same only as itself.
#[derive(Debug, Clone)]
pub(super) struct Written(pub(super) Arc<Sheet>);

impl PartialEq for Written {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
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
    /// When everything is over at the earliest, where that is after the doubtful deadline.
    earliest: Option<DateTime>,
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

/// What came of planning.
#[derive(Debug, Clone)]
struct Outcome {
    planned: Planned,
    /// What is wrong with single rows of the order.
    faults: Vec<LineFault>,
}

impl From<AnyRefusal> for Outcome {
    fn from(refusal: AnyRefusal) -> Self {
        Self { planned: Err(refusal), faults: Vec::new() }
    }
}

/// Keeps the plan up with layout and wishes.
#[derive(Debug, Default)]
pub(super) struct Planner {
    done: Option<(Key, Outcome)>,
    /// Whether files may say something else than when that was made. It stays until there is another, so that nothing on the page jumps.
    is_stale: bool,
    under_way: Option<UnderWay>,
    /// Whether the maker stopped the last one.
    stopped: bool,
}

/// A plan that is being made.
#[derive(Debug)]
struct UnderWay {
    key: Key,
    receiver: Receiver<Outcome>,
    cancel: Cancel,
    since: Instant,
}

/// How often a plan is looked at for its age.
const LOOKED_AT: Duration = Duration::from_secs(30);
/// What is done sooner is not told of.
const TOLD_AFTER: Duration = Duration::from_millis(400);

fn is(key: &Key, layout: &Arc<Layout>, wanted: &Wanted) -> bool {
    let follows = wanted.order.as_ref().is_none_or(|order| order.0.follows_open_layout());
    key.1 == *wanted && (!follows || Arc::ptr_eq(&key.0, layout))
}

impl Planner {
    /// The plan, once it is there; while another is being made, the one before.
    pub(super) fn plan(&self) -> Option<&Planned> {
        self.done.as_ref().map(|(_, outcome)| &outcome.planned)
    }

    /// When everything is over at the earliest, where a doubtful deadline was tried and is before that.
    pub(super) fn earliest_after(&self, doubtful: DateTime) -> Option<DateTime> {
        let (key, outcome) = self.done.as_ref()?;
        outcome.planned.as_ref().ok()?.earliest.filter(|_| key.1.doubtful == Some(doubtful))
    }

    /// What is wrong with single rows of the order that was planned last.
    pub(super) fn faults(&self) -> &[LineFault] {
        self.done.as_ref().map_or(&[], |(_, outcome)| &outcome.faults)
    }

    /// Plans anew when layout or wishes have changed, and takes over what is done.
    pub(super) fn keep_up(&mut self, layout: &Arc<Layout>, wanted: &Wanted, ctx: &Context) {
        if let Some(UnderWay { key, receiver, cancel, .. }) = &self.under_way {
            let is_wanted = is(key, layout, wanted);
            if !is_wanted {
                cancel.cancel();
            }
            let outcome = match receiver.try_recv() {
                Ok(outcome) => outcome,
                Err(TryRecvError::Disconnected) => {
                    AnyRefusal::from(Told::new("the plan couldn't be made", "change a value to try again")).into()
                }
                Err(TryRecvError::Empty) => return ctx.request_repaint_after(Duration::from_millis(30)),
            };
            // What was stopped because something else is wanted has nothing to say.
            if is_wanted || outcome.planned.is_ok() {
                self.done = Some((key.clone(), outcome));
                self.is_stale = false;
            }
            self.under_way = None;
        }
        let is_done =
            |(key, outcome): &(Key, Outcome)| is(key, layout, wanted) && !outcome.planned.as_ref().is_ok_and(Made::is_stale);
        if !self.is_stale && self.done.as_ref().is_some_and(is_done) {
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

    /// Makes the plan anew, so that files are read again.
    pub(super) fn look_again(&mut self) {
        if let Some(work) = self.under_way.take() {
            work.cancel.cancel();
        }
        self.is_stale = true;
    }
}

fn plan(layout: &Arc<Layout>, wanted: &Wanted, cancel: &Cancel) -> Outcome {
    let draft = wanted.order.as_ref().map(|order| order.0.draft(layout));
    let order = match &draft {
        Some(draft) => draft.order().map_err(AnyRefusal::from),
        None => order_of_layout((**layout).clone(), wanted.of_layout()).map_err(AnyRefusal::from),
    };
    // Only where the order as a whole can't be, its rows are looked at one by one.
    let faults = draft.filter(|_| order.is_err()).map(|draft| draft.faults()).unwrap_or_default();
    Outcome { planned: order.and_then(|order| planned(order, wanted, cancel)), faults }
}

fn planned(order: Order, wanted: &Wanted, cancel: &Cancel) -> Planned {
    let when = if wanted.deadline { When::Deadline(wanted.time) } else { When::Start(wanted.time) };
    let order = order.with_shelf((*wanted.shelf).clone()).written_in(wanted.lengths);
    let clock = TimeZone::system().into();
    let at = planning_time(&clock);
    let by = |when: When| Plan::at(&order, when, at, &clock, cancel);
    let tried = wanted.doubtful.map(|doubtful| by(When::Deadline(doubtful))).transpose()?;
    let earliest =
        tried.and_then(|tried| tried.untimely).filter(|untimely| untimely.missed.is_some()).map(|untimely| untimely.ends);
    let plan = by(when)?;
    Ok(Made { order: Arc::new(order), plan: Arc::new(plan), at, earliest })
}

impl Wanted {
    /// The order of one garment of a layout, in this workshop; an order that is open does not enter.
    pub(super) fn order_of_one(&self, layout: &Layout) -> Result<Order, AnyRefusal> {
        Ok(order_of_layout(layout.clone(), OfLayout { count: 1, ..self.of_layout() })?)
    }

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
            shelf: Arc::default(),
            scrap_tested: false,
            deadline: true,
            doubtful: None,
            time,
            lengths: LengthStyle::default(),
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
