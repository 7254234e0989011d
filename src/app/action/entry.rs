//! An entry of the table of actions.

use crate::app::day::DayAsk;
use crate::app::purpose::Purpose;
use crate::app::settings::Settings;
use crate::app::step::Step;
use crate::edit::EditCommand;
use egui::{Key, KeyboardShortcut, Modifiers};

/// All there is to an action.
pub(crate) struct Entry {
    /// The menu that it stands in, and its group there, counted from the top; without one, only keys and finder have it.
    pub(super) place: Option<(Menu, u8)>,
    /// Its words beside what it is about.
    pub(super) label: &'static str,
    /// Its words where nothing around it tells what it is about, if those are others.
    pub(super) full_label: Option<&'static str>,
    /// One sentence about it.
    pub(super) tooltip: &'static str,
    pub(super) keys: Option<KeyboardShortcut>,
    /// What must be there for it to be possible.
    pub(super) needs: Needs,
    /// True if the action reads or closes fields; the focused field commits first.
    pub(super) needs_values: bool,
    /// What it does.
    pub(crate) deed: Deed,
}

impl Entry {
    /// An entry of a layout's: it can be done when one is open.
    pub(super) fn new(label: &'static str, tooltip: &'static str, deed: Deed) -> Self {
        let needs = Needs::Document;
        Self { place: None, label, full_label: None, tooltip, keys: None, needs, needs_values: false, deed }
    }

    pub(super) fn within(self, menu: Menu, group: u8) -> Self {
        Self { place: Some((menu, group)), ..self }
    }

    pub(super) fn alone(self, full_label: &'static str) -> Self {
        Self { full_label: Some(full_label), ..self }
    }

    pub(super) fn keys(self, modifiers: Modifiers, key: Key) -> Self {
        Self { keys: Some(KeyboardShortcut::new(modifiers, key)), ..self }
    }

    pub(super) fn needing(self, needs: Needs) -> Self {
        Self { needs, ..self }
    }

    pub(super) fn with_values(self) -> Self {
        Self { needs_values: true, ..self }
    }
}

/// The menus, from left to right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Menu {
    File,
    Edit,
    View,
    Help,
}

impl Menu {
    pub(crate) const ALL: [Self; 4] = [Self::File, Self::Edit, Self::View, Self::Help];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::File => "File",
            Self::Edit => "Edit",
            Self::View => "View",
            Self::Help => "Help",
        }
    }
}

/// What must be there for an action to be possible.
#[derive(Debug, Clone, Copy)]
pub(super) enum Needs {
    Nothing,
    Document,
    Journal,
    Photograph,
    Run,
    Order,
    Undo,
    Redo,
}

/// What there is now of what actions need.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Possible {
    /// A layout is open.
    pub(crate) document: bool,
    /// The journal is at hand: it shows, or there is a step to it.
    pub(crate) journal: bool,
    /// A photograph is held against its plan.
    pub(crate) photograph: bool,
    /// A day is at hand: a run is under way, or a layout is open.
    pub(crate) run: bool,
    /// An order is being written.
    pub(crate) order: bool,
    /// There is a step back.
    pub(crate) undo: bool,
    /// There is a step forward.
    pub(crate) redo: bool,
}

impl Needs {
    pub(super) fn are_met(self, possible: Possible) -> bool {
        match self {
            Self::Nothing => true,
            Self::Document => possible.document,
            Self::Journal => possible.journal,
            Self::Photograph => possible.photograph,
            Self::Run => possible.run,
            Self::Order => possible.order,
            Self::Undo => possible.undo,
            Self::Redo => possible.redo,
        }
    }
}

/// What an action does; `work` does it.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Deed {
    /// Puts the layout away and begins anew.
    Begin,
    /// Saves the layout in its file, or asks for one.
    Save,
    /// Asks for a file or folder, and goes on with it.
    AskFile(Purpose),
    /// Does something with the day's orders, recipes or processes.
    Day(fn() -> DayAsk),
    /// Closes the window.
    Quit,
    Undo,
    Redo,
    /// Changes the layout.
    Edit(fn() -> EditCommand),
    /// Shows the whole garment.
    Fit,
    /// Looks closer by a factor.
    Zoom(f64),
    /// Shows the numbers beside the table or puts them away.
    Numbers,
    /// Changes what is remembered.
    Set(fn(&mut Settings)),
    /// Chooses one of several states of what is remembered.
    Choose(fn(&mut Settings)),
    /// Shows something or puts it away: what is remembered of it is whether it is away.
    Show(fn(&mut Settings) -> &mut bool),
    /// Opens the projection, or ends it.
    Project,
    /// Shows the wall of variations, or puts it away.
    Vary,
    /// Shows the rings that are wished for, or puts them away.
    Wish,
    /// Turns to learning from photographs.
    Learn,
    Find,
    Keys,
    /// Begins the tour.
    Tour,
    /// Turns the handbook to the step at hand, or closes it.
    Handbook,
    /// Goes to a step of the work.
    Go(Step),
}
