//! Actions: what menus, keys, finder, help and the page of keys all derive from. Each is one entry of `table.rs`.

mod entry;
mod table;

pub(crate) use entry::{Deed, Menu, Possible};
pub(crate) use table::Action;

use super::canvas::Showing;
use super::settings::Settings;
use super::step::Step;
use egui::{Button, Context, KeyboardShortcut, RichText, Role, Ui, WidgetInfo};

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

    /// Whether what it chooses is chosen, what it shows shown; nothing for what has no state.
    pub(crate) fn is_on(self, settings: &Settings) -> Option<bool> {
        let mut after = settings.clone();
        match self.entry().deed {
            Deed::Numbers => Some(!settings.numbers_hidden),
            Deed::Show(is_away) => Some(!*is_away(&mut after)),
            Deed::Choose(choose) => {
                choose(&mut after);
                Some(after == *settings)
            }
            _ => None,
        }
    }

    /// Its button in a menu, marked where what it chooses is chosen; whether it was clicked, which closes the menu.
    pub(crate) fn menu_button(self, words: &str, possible: bool, settings: &Settings, ui: &mut Ui) -> bool {
        let mut button = Button::new(words);
        if let Some(keys) = self.shortcut() {
            // Weak letters would not be read on the ground of what is chosen.
            let tone = ui.visuals().text_color();
            button = button.shortcut_text(RichText::new(keys_words(&keys, ui.ctx())).color(tone));
        }
        let is_on = self.is_on(settings);
        let response = ui.add_enabled(possible, button.selected(is_on == Some(true)));
        if let Some(is_on) = is_on {
            response.widget_info(|| WidgetInfo::selected(Role::Button, possible, is_on, words));
        }
        let clicked = response.on_hover_text(self.tooltip()).clicked();
        if clicked {
            ui.close();
        }
        clicked
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

/// Keys as they stand on a keyboard.
pub(crate) fn keys_words(keys: &KeyboardShortcut, ctx: &Context) -> String {
    let signs = [("Equals", "="), ("Minus", "−"), ("Plus", "+"), ("Comma", ",")];
    signs.into_iter().fold(ctx.format_shortcut(keys), |words, (name, sign)| words.replace(name, sign))
}

#[cfg(test)]
mod tests;
