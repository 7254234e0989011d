//! From an order to the bare scheduling problem, and which task is which step of which load.

use super::hot_soak::hot_soak_rounds;
use super::wait::{StepWait, leads_on};
use super::{Capacities, Load, Order, Problem, Process, Step, Task, Wait, Workshop};

/// What a task stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct TaskLabel {
    /// Index of the process.
    pub process: usize,
    /// Index of its step.
    pub step: usize,
    /// Index of the load; none for a step done once.
    pub load: Option<usize>,
}

/// The loads that a step is done to: its own, or for a step done once all of its process.
pub(super) fn loads_of(order: &Order, label: TaskLabel) -> Vec<&Load> {
    match label.load {
        Some(index) => vec![&order.loads()[index]],
        None => order.loads().iter().filter(|load| load.process == label.process).collect(),
    }
}

/// The problem of an order and what its tasks stand for.
pub(super) fn problem(order: &Order) -> (Problem, Vec<TaskLabel>) {
    let mut build = Build { order, tasks: Vec::new(), labels: Vec::new(), chains: Vec::new() };
    // Steps done once come first: later chains name them.
    let processes = order.processes().iter().enumerate();
    let once: Vec<Vec<(String, usize)>> = processes.map(|(index, process)| build.once(index, process)).collect();
    for (index, load) in order.loads().iter().enumerate() {
        build.load(&order.processes()[load.process], load.process, index, load.garments, &once[load.process]);
    }
    let problem = Problem { tasks: build.tasks, chains: build.chains, room: room(&order.raw().workshop) };
    (problem, build.labels)
}

/// Room in the workshop's places.
pub(super) fn room(shop: &Workshop) -> Capacities {
    Capacities::new(shop.tubs, shop.sinks, shop.washers, shop.tables, shop.rack_rods).with_vessels(shop.vessels)
}

struct Build<'a> {
    order: &'a Order,
    tasks: Vec<Task>,
    labels: Vec<TaskLabel>,
    chains: Vec<usize>,
}

impl Build<'_> {
    fn once(&mut self, process_index: usize, process: &Process) -> Vec<(String, usize)> {
        let garments: u32 =
            self.order.loads().iter().filter(|load| load.process == process_index).map(|load| load.garments).sum();
        let mut first = self.tasks.len();
        let mut names: Vec<(String, usize)> = Vec::new();
        for (index, step) in process.steps.iter().enumerate().filter(|(_, step)| step.once && garments > 0) {
            let label = TaskLabel { process: process_index, step: index, load: None };
            let wait = self.wait(step, label);
            let attended_min = wait.as_ref().map_or(0, |wait| wait.attended_min);
            let wait = wait.map(|wait| wait.wait);
            let named = |name: &String| names.iter().find(|(known, _)| known == name).map(|(_, task)| *task);
            let after = step.after.iter().filter_map(named).collect();
            self.push(Task { after, ..task(step, wait, step.hands_min(garments) + attended_min, 1) }, label);
            names.push((step.name.clone(), self.tasks.len() - 1));
            if !leads_on(true, wait.is_some()) {
                self.close(first);
                first = self.tasks.len();
            }
        }
        self.close(first);
        names
    }

    fn load(&mut self, process: &Process, process_index: usize, load: usize, garments: u32, once: &[(String, usize)]) {
        let first = self.tasks.len();
        for (index, step) in process.steps.iter().enumerate().filter(|(_, step)| !step.once) {
            let label = TaskLabel { process: process_index, step: index, load: Some(load) };
            let named = |name: &String| once.iter().find(|(known, _)| known == name).map(|(_, task)| *task);
            let after: Vec<usize> = step.after.iter().filter_map(named).collect();
            let room = if step.place == Some(super::Place::Rack) { garments } else { 1 };
            let wait = self.wait(step, label);
            let attended_min = wait.as_ref().map_or(0, |wait| wait.attended_min);
            let wait = wait.map(|wait| wait.wait);
            let rounds = hot_soak_rounds(self.order, step, &loads_of(self.order, label));
            let pieces = if step.one_by_one { garments } else { 1 };
            for piece in 0..pieces {
                let hands_min = match (step.one_by_one, piece) {
                    (false, _) => step.hands_min(garments) + (rounds - 1) * step.hands.load_min,
                    (true, 0) => step.hands_min(1),
                    (true, _) => step.hands.garment_min,
                };
                let last = piece + 1 == pieces;
                let whole = task(step, wait, hands_min + if last { attended_min } else { 0 }, room);
                let kept = if last { whole } else { Task { least_min: 0, most_min: None, holds: false, ..whole } };
                self.push(Task { after: after.clone(), ..kept }, label);
            }
        }
        self.close(first);
    }

    fn wait(&self, step: &Step, label: TaskLabel) -> Option<StepWait> {
        StepWait::of(self.order, step, &loads_of(self.order, label))
    }

    fn push(&mut self, task: Task, label: TaskLabel) {
        self.tasks.push(task);
        self.labels.push(label);
    }

    fn close(&mut self, first: usize) {
        if self.tasks.len() > first {
            self.chains.push(self.tasks.len() - first);
        }
    }
}

fn task(step: &Step, wait: Option<Wait>, hands_min: u32, takes: u32) -> Task {
    Task {
        hands_min: i64::from(hands_min),
        least_min: wait.map_or(0, |wait| i64::from(wait.least_min)),
        most_min: wait.and_then(|wait| wait.most_min).map(i64::from),
        holds: wait.is_some(),
        place: step.place,
        takes,
        vessel: step.in_vessel(),
        after: Vec::new(),
    }
}
