//! What is marked on a photograph, with the steps back and forth.

/// Most steps that are kept; a hand makes fewer on a photograph. Own choice.
const MOST_STEPS: usize = 200;

/// What is marked, with the steps to it.
#[derive(Debug)]
pub(super) struct History<T> {
    pub(super) now: T,
    undo: Vec<(String, T)>,
    redo: Vec<(String, T)>,
    /// Whether a hand is at a step that goes on.
    is_held: bool,
}

impl<T: Clone + PartialEq> History<T> {
    pub(super) fn new(now: T) -> Self {
        Self { now, undo: Vec::new(), redo: Vec::new(), is_held: false }
    }

    /// What follows until [`let_go`](Self::let_go) is one step.
    pub(super) fn take_hold(&mut self, label: String) {
        if self.undo.last().is_some_and(|(before, _)| *before != label) {
            self.let_go();
        }
        if !self.is_held {
            self.begin(label);
            self.is_held = true;
        }
    }

    pub(super) fn let_go(&mut self) {
        if std::mem::take(&mut self.is_held) && self.undo.last().is_some_and(|(_, before)| *before == self.now) {
            self.undo.pop();
        }
    }

    /// A step by itself.
    pub(super) fn change(&mut self, label: &str, change: impl FnOnce(&mut T)) {
        self.let_go();
        self.begin(label.to_owned());
        self.is_held = true;
        change(&mut self.now);
        self.let_go();
    }

    fn begin(&mut self, label: String) {
        self.redo.clear();
        self.undo.push((label, self.now.clone()));
        if self.undo.len() > MOST_STEPS {
            self.undo.remove(0);
        }
    }

    /// What undo and redo would do.
    pub(super) fn labels(&self) -> [Option<&str>; 2] {
        [&self.undo, &self.redo].map(|steps| steps.last().map(|(label, _)| label.as_str()))
    }

    pub(super) fn step(&mut self, forward: bool) {
        self.let_go();
        let (from, to) = if forward { (&mut self.redo, &mut self.undo) } else { (&mut self.undo, &mut self.redo) };
        if let Some((label, marking)) = from.pop() {
            to.push((label, std::mem::replace(&mut self.now, marking)));
        }
    }
}
