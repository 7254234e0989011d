//! Actions: what menus, keys, finder, help and the page of keys all derive from. Each is one entry of `table.rs`.

mod entry;
mod table;

pub(crate) use entry::{Deed, Menu, Possible};
pub(crate) use table::Action;

use super::canvas::Showing;
use super::step::Step;
use egui::KeyboardShortcut;

impl Action {
    /// Every action: those of the table, in the order of the menus, and going to each step.
    pub(crate) fn all() -> Vec<Self> {
        Self::TABLE.iter().copied().chain(Step::ALL.map(Self::Go)).collect()
    }

    /// The actions of a menu, in their groups.
    pub(crate) fn groups(menu: Menu) -> Vec<Vec<Self>> {
        let place = |action: Self| action.entry().place;
        let of_menu: Vec<Self> =
            Self::TABLE.iter().copied().filter(|action| place(*action).is_some_and(|p| p.0 == menu)).collect();
        of_menu.chunk_by(|one, next| place(*one) == place(*next)).map(<[Self]>::to_vec).collect()
    }

    /// Its words beside what it is about.
    pub(crate) fn label(self) -> &'static str {
        self.entry().label
    }

    /// Its words where nothing around it tells what it is about: in menus and in the finder.
    pub(crate) fn full_label(self) -> &'static str {
        let entry = self.entry();
        entry.full_label.unwrap_or(entry.label)
    }

    /// One sentence about it.
    pub(crate) fn tooltip(self) -> &'static str {
        self.entry().tooltip
    }

    /// Its keys.
    pub(crate) fn shortcut(self) -> Option<KeyboardShortcut> {
        self.entry().keys
    }

    /// True if the action reads or closes fields; the focused field commits first.
    pub(crate) fn needs_values(self) -> bool {
        self.entry().needs_values
    }

    /// Whether it can be done now.
    pub(crate) fn is_enabled(self, possible: Possible) -> bool {
        self.entry().needs.are_met(possible)
    }
}

impl From<Showing> for Action {
    fn from(showing: Showing) -> Self {
        match showing {
            Showing::AsLaid => Self::ShowAsLaid,
            Showing::Front => Self::ShowFront,
            Showing::Back => Self::ShowBack,
        }
    }
}

#[cfg(test)]
mod tests;
