//! The bar along the top: menus, and the steps of the work.

use super::action::{Action, Possible};
use super::context::Ask;
use super::step::Step;
use super::theme::Palette;
use crate::layout::{Figures, Layout};
use egui::{Button, Color32, RichText, Sense, Stroke, Ui, vec2};

/// What the bar shows besides the actions.
pub(crate) struct Bar<'a> {
    pub(crate) possible: Possible,
    /// What undo and redo would do.
    pub(crate) undo: Option<&'a str>,
    pub(crate) redo: Option<&'a str>,
    pub(crate) layout: Option<(&'a Layout, &'a Figures)>,
    pub(crate) step: Step,
    /// Whether a run is under way.
    pub(crate) running: bool,
}

impl Bar<'_> {
    pub(crate) fn show(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        egui::MenuBar::new().ui(ui, |ui| {
            for (name, groups) in Action::MENUS {
                ui.menu_button(*name, |ui| {
                    for (index, group) in groups.iter().enumerate() {
                        if index > 0 {
                            ui.separator();
                        }
                        for &action in *group {
                            self.entry(action, asks, ui);
                        }
                    }
                });
            }
        });
        ui.horizontal(|ui| match self.layout {
            Some((layout, figures)) => {
                for step in Step::ALL {
                    self.step(step, layout, figures, asks, ui);
                }
            }
            None => self.without_layout(asks, ui),
        });
    }

    /// Where one can go when no layout is open.
    fn without_layout(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let run = self.running.then_some((Step::Day, "Run", Action::Go(Step::Day).tooltip()));
        let start = (Step::default(), "Start", "Begin with a garment, or open a layout");
        let places = [Some(start), run, Some((Step::Journal, "Journal", Step::Journal.about()))];
        let at = if matches!(self.step, Step::Day | Step::Journal) { self.step } else { Step::default() };
        for (step, name, about) in places.into_iter().flatten() {
            if tab(name, step == at, about, ui) {
                asks.push(Ask::Go(step));
            }
            ui.add_space(6.0);
        }
    }

    fn entry(&self, action: Action, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let label = match (action, self.undo, self.redo) {
            (Action::Undo, Some(what), _) => format!("Undo {what}"),
            (Action::Redo, _, Some(what)) => format!("Redo {what}"),
            _ => action.full_label().to_owned(),
        };
        let mut button = Button::new(label);
        if let Some(keys) = action.shortcut() {
            button = button.shortcut_text(ui.ctx().format_shortcut(&keys));
        }
        if ui.add_enabled(action.is_enabled(self.possible), button).on_hover_text(action.tooltip()).clicked() {
            asks.push(Ask::Act(action));
            ui.close();
        }
    }

    /// A step with a mark that says whether it is settled: a full dot, or a ring.
    fn step(&self, step: Step, layout: &Layout, figures: &Figures, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let (settled, selected) = (step.is_settled(layout, figures), step == self.step);
        let (mark, painter) = ui.allocate_painter(vec2(12.0, 24.0), Sense::hover());
        let tone = if settled { palette.faint } else { palette.warn };
        if settled {
            painter.circle_filled(mark.rect.center(), 4.0, tone);
        } else {
            painter.circle(mark.rect.center(), 4.0, Color32::TRANSPARENT, Stroke::new(1.8, tone));
        }
        if tab(step.name(), selected, step.state(layout, figures), ui) {
            asks.push(Ask::Go(step));
        }
        ui.add_space(6.0);
    }
}

/// A name to be chosen in the bar; whether it was.
fn tab(name: &str, selected: bool, hint: &str, ui: &mut Ui) -> bool {
    let words = RichText::new(name).size(16.5);
    let words = if selected { words.strong() } else { words };
    let response = ui.selectable_label(selected, words).on_hover_text(hint);
    response.widget_info(|| egui::WidgetInfo::selected(egui::Role::Tab, true, selected, format!("Step {name}")));
    response.clicked()
}
