//! What the day is planned for, and planning it off the window's thread.

use crate::layout::Layout;
use crate::plan::{Order, Plan, When, WorkshopV1};
use crate::store::{OfLayout, order_of_layout, read_order};
use egui::Context;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

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
    pub(super) workshop: WorkshopV1,
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
}

/// A plan, or why there is none.
pub(super) type Planned = Result<Made, String>;

/// Keeps the plan up with layout and wishes.
#[derive(Debug, Default)]
pub(super) struct Planner {
    done: Option<(Key, Planned)>,
    under_way: Option<(Key, Receiver<Planned>)>,
}

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
        if let Some((key, receiver)) = &self.under_way {
            let planned = match receiver.try_recv() {
                Ok(planned) => planned,
                Err(TryRecvError::Disconnected) => Err("the plan could not be made".to_owned()),
                Err(TryRecvError::Empty) => return ctx.request_repaint_after(std::time::Duration::from_millis(30)),
            };
            self.done = Some((key.clone(), planned));
            self.under_way = None;
        }
        if self.done.as_ref().is_some_and(|(key, _)| is(key, layout, wanted)) {
            return;
        }
        let key = (layout.clone(), wanted.clone());
        let (sender, receiver) = channel();
        let (egui, work) = (ctx.clone(), key.clone());
        let spawned = std::thread::Builder::new().name("plan".to_owned()).spawn(move || {
            let _gone = sender.send(plan(&work.0, &work.1));
            egui.request_repaint();
        });
        if spawned.is_ok() {
            self.under_way = Some((key, receiver));
        }
        ctx.request_repaint_after(std::time::Duration::from_millis(30));
    }

    /// Forgets what was made, so that files are read again.
    pub(super) fn look_again(&mut self) {
        self.done = None;
    }
}

fn plan(layout: &Layout, wanted: &Wanted) -> Planned {
    let order = match &wanted.order {
        Some(path) => read_order(path).map_err(|error| error.to_string())?,
        None => order_of_layout(layout.clone(), wanted.of_layout()).map_err(|error| error.to_string())?,
    };
    let when = if wanted.deadline { When::Deadline(wanted.time) } else { When::Start(wanted.time) };
    let plan = Plan::by_clock(&order, when, &TimeZone::system().into()).map_err(|error| error.to_string())?;
    Ok(Made { order: Arc::new(order), plan: Arc::new(plan) })
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
