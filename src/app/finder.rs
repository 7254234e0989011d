//! The command finder: a few letters of anything that can be done.

use super::action::{Action, Possible, keys_words};
use super::context::Ask;
use super::dialog::room_before;
use egui::{Key, RichText, ScrollArea, TextEdit, Ui};

/// The finder while it is open.
#[derive(Debug, Default)]
pub(crate) struct Finder {
    text: String,
    chosen: usize,
}

impl Finder {
    /// Shows it; whether it stays open.
    pub(crate) fn show(&mut self, possible: Possible, asks: &mut Vec<Ask>, ui: &mut Ui) -> bool {
        let mut open = true;
        let modal = egui::Modal::new(egui::Id::unique("finder")).show(ui.ctx(), |ui| {
            let room = room_before(ui, WIDTH);
            let label = ui.label(RichText::new("Find a command").strong());
            let field = ui
                .add(TextEdit::singleline(&mut self.text).desired_width(f32::INFINITY).hint_text("a few letters"))
                .labelled_by(label.id);
            field.request_focus();
            if field.changed() {
                self.chosen = 0;
            }
            let found = found(&self.text, possible);
            let (down, up) = ui.input(|input| (input.key_pressed(Key::ArrowDown), input.key_pressed(Key::ArrowUp)));
            if down {
                self.chosen = (self.chosen + 1).min(found.len().saturating_sub(1));
            }
            if up {
                self.chosen = self.chosen.saturating_sub(1);
            }
            let list = (room.y - HEAD).max(HEAD);
            ScrollArea::vertical().max_height(list).min_scrolled_height(list).show(ui, |ui| {
                for (index, &action) in found.iter().enumerate() {
                    let is_chosen = index == self.chosen;
                    let entry = ui.selectable_label(is_chosen, entry_words(action, ui)).on_hover_text(action.tooltip());
                    if is_chosen && (down || up) {
                        entry.scroll_to_me(None);
                    }
                    if entry.clicked() {
                        asks.push(Ask::Act(action));
                        open = false;
                    }
                }
            });
            if found.is_empty() {
                ui.label(RichText::new("No command matches.").weak());
            }
            if ui.input(|input| input.key_pressed(Key::Enter)) {
                asks.extend(found.get(self.chosen).copied().map(Ask::Act));
                open = false;
            }
        });
        open && !modal.should_close()
    }
}

/// Breadth of the finder and height of its head, points.
const WIDTH: f32 = 420.0;
const HEAD: f32 = 60.0;

fn entry_words(action: Action, ui: &Ui) -> String {
    let keys = action.shortcut().map_or_else(String::new, |keys| format!("   {}", keys_words(&keys, ui.ctx())));
    format!("{}{keys}", action.full_label())
}

/// Actions that can be done now and have the letters in order, those that have them together first.
fn found(text: &str, possible: Possible) -> Vec<Action> {
    let wanted = text.trim().to_lowercase();
    let labels = |action: &Action| format!("{}\n{}", action.full_label(), action.label()).to_lowercase();
    let together = |action: &Action| labels(action).contains(&wanted);
    let in_order = |action: &Action| {
        let labels = labels(action);
        let has = |label: &str| {
            let mut letters = label.chars();
            wanted.chars().all(|letter| letters.any(|other| other == letter))
        };
        labels.lines().any(has)
    };
    let mut found: Vec<Action> =
        Action::all().into_iter().filter(|action| *action != Action::Find && action.is_enabled(possible)).collect();
    // What an action does may be told only by its hint, as the names of the two looks.
    let hinted = |action: &Action| action.tooltip().to_lowercase().contains(&wanted);
    found.retain(|action| in_order(action) || hinted(action));
    found.sort_by_key(|action| (!together(action), !hinted(action)));
    found.truncate(9);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_in_order_find_commands() {
        let all = Possible { document: true, journal: true, photograph: true, run: true, order: true, undo: true, redo: true };
        assert_eq!(found("print", all)[0], Action::Print);
        assert_eq!(found("svas", all)[0], Action::SaveAs);
        assert!(found("dark", all)[..2].contains(&Action::Dark) && found("light", all)[..2].contains(&Action::Light));
        assert_eq!(found("open order", all)[0], Action::OpenOrder);
        assert!(found("xyzzy", all).is_empty());
        let none =
            Possible { document: false, journal: false, photograph: false, run: false, order: false, undo: false, redo: false };
        assert!(!found("", none).contains(&Action::Save));
    }
}
