//! Labelled snapshots, for undo and redo.

use crate::layout::LayoutSpec;
use std::sync::Arc;

/// Most steps kept: a day's work; each step is a few hundred bytes.
const MOST_STEPS: usize = 500;

/// The steps of a document: every state it was in, and what led from each to the next.
///
/// A *gesture* (a drag, a word being typed) is many changes that count as one step.
#[derive(Debug, Clone)]
pub struct History {
    states: Vec<Arc<LayoutSpec>>,
    /// `labels[i]` led from state `i` to state `i + 1`.
    labels: Vec<String>,
    at: usize,
    gesture: bool,
}

impl History {
    /// Begins with a state.
    #[must_use]
    pub fn new(state: Arc<LayoutSpec>) -> Self {
        Self { states: vec![state], labels: Vec::new(), at: 0, gesture: false }
    }

    /// The state now.
    #[must_use]
    pub fn current(&self) -> &Arc<LayoutSpec> {
        &self.states[self.at]
    }

    /// Takes a new state that `label` led to; what could be redone is forgotten. Within a gesture it takes the place of the
    /// gesture's state before. A state that is the same as the one before is no step.
    pub fn push(&mut self, state: Arc<LayoutSpec>, label: String) {
        if self.gesture {
            self.states.truncate(self.at + 1);
            self.labels.truncate(self.at);
            self.states[self.at] = state;
            if let Some(last) = self.at.checked_sub(1) {
                self.labels[last] = label;
            }
            return;
        }
        if *state == **self.current() {
            return;
        }
        self.states.truncate(self.at + 1);
        self.labels.truncate(self.at);
        self.states.push(state);
        self.labels.push(label);
        self.at += 1;
        if self.labels.len() > MOST_STEPS {
            self.states.remove(0);
            self.labels.remove(0);
            self.at -= 1;
        }
    }

    /// Begins a gesture: what comes until [`Self::end_gesture`] is one step.
    pub fn begin_gesture(&mut self, label: &str) {
        if !self.gesture {
            let state = self.current().clone();
            self.states.truncate(self.at + 1);
            self.labels.truncate(self.at);
            self.states.push(state);
            self.labels.push(label.to_owned());
            self.at += 1;
            self.gesture = true;
        }
    }

    /// Ends the gesture; one that changed nothing is no step.
    pub fn end_gesture(&mut self) {
        if !self.gesture {
            return;
        }
        self.gesture = false;
        if self.states[self.at] == self.states[self.at - 1] {
            self.states.pop();
            self.labels.pop();
            self.at -= 1;
        }
    }

    /// Ends the gesture as if it had never been. Whether there was one.
    pub fn drop_gesture(&mut self) -> bool {
        if !std::mem::take(&mut self.gesture) {
            return false;
        }
        self.states.pop();
        self.labels.pop();
        self.at -= 1;
        true
    }

    /// Whether a gesture is under way.
    #[must_use]
    pub fn is_in_gesture(&self) -> bool {
        self.gesture
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_label(&self) -> Option<&str> {
        self.at.checked_sub(1).map(|index| self.labels[index].as_str())
    }

    /// What redo would do again.
    #[must_use]
    pub fn redo_label(&self) -> Option<&str> {
        self.labels.get(self.at).map(String::as_str)
    }

    /// One step back. Whether there was one.
    pub fn undo(&mut self) -> bool {
        self.end_gesture();
        let there = self.at > 0;
        self.at = self.at.saturating_sub(1);
        there
    }

    /// One step forward. Whether there was one.
    pub fn redo(&mut self) -> bool {
        self.end_gesture();
        let there = self.at + 1 < self.states.len();
        if there {
            self.at += 1;
        }
        there
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    fn named(name: &str) -> Arc<LayoutSpec> {
        let raw = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
        Arc::new(LayoutSpec { name: name.to_owned(), ..raw })
    }

    fn name(history: &History) -> &str {
        &history.current().name
    }

    #[test]
    fn a_gesture_that_is_dropped_leaves_no_step() {
        let mut history = History::new(named("a"));
        history.push(named("b"), "to b".to_owned());
        assert!(!history.drop_gesture());
        history.begin_gesture("drag");
        history.push(named("c"), "drag".to_owned());
        assert!(history.drop_gesture() && !history.is_in_gesture());
        assert_eq!((name(&history), history.undo_label(), history.redo_label()), ("b", Some("to b"), None));
    }

    #[test]
    fn steps_go_back_and_forth() {
        let mut history = History::new(named("a"));
        history.push(named("b"), "to b".to_owned());
        history.push(named("c"), "to c".to_owned());
        history.push(named("c"), "nothing".to_owned());
        assert_eq!(history.undo_label(), Some("to c"));
        assert!(history.undo() && name(&history) == "b" && history.redo_label() == Some("to c"));
        assert!(history.undo() && !history.undo() && name(&history) == "a");
        assert!(history.redo() && history.redo() && !history.redo() && name(&history) == "c");
        history.undo();
        history.push(named("d"), "to d".to_owned());
        assert_eq!((name(&history), history.redo_label()), ("d", None));
    }

    #[test]
    fn a_gesture_is_one_step() {
        let mut history = History::new(named("a"));
        history.begin_gesture("drag");
        for n in ["b", "c", "d"] {
            history.push(named(n), "drag".to_owned());
        }
        history.end_gesture();
        assert!(history.undo() && name(&history) == "a" && !history.undo());
        assert!(history.redo() && name(&history) == "d");
        history.begin_gesture("nothing");
        history.end_gesture();
        assert_eq!(history.undo_label(), Some("drag"));
    }

    #[test]
    fn the_oldest_steps_are_forgotten() {
        let mut history = History::new(named("start"));
        for n in 0..MOST_STEPS + 20 {
            history.push(named(&n.to_string()), n.to_string());
        }
        let mut steps = 0;
        while history.undo() {
            steps += 1;
        }
        assert_eq!((steps, name(&history)), (MOST_STEPS, "19"));
    }
}
