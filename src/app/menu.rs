//! The bar along the top: menus, and the steps of the work.

use super::action::{Action, Menu, Possible, keys_words};
use super::context::Ask;
use super::heading::heading;
use super::settings::Settings;
use super::step::Step;
use super::theme::Palette;
use super::tour::Spot;
use crate::layout::{self, Figures};
use crate::telling::capitalised;
use egui::{Align, Id, Layout, Popup, RichText, Role, ScrollArea, Stroke, Ui, WidgetInfo, vec2};

/// What the bar shows besides the actions.
pub(crate) struct Bar<'a> {
    pub(crate) possible: Possible,
    pub(crate) settings: &'a Settings,
    /// What undo and redo would do.
    pub(crate) undo: Option<&'a str>,
    pub(crate) redo: Option<&'a str>,
    pub(crate) layout: Option<(&'a layout::Layout, &'a Figures)>,
    pub(crate) step: Step,
    /// Whether a run is under way.
    pub(crate) running: bool,
}

impl Bar<'_> {
    pub(crate) fn show(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if is_low(ui.ctx()) {
            return self.in_one_line(asks, ui);
        }
        egui::MenuBar::new().ui(ui, |ui| {
            for menu in Menu::ALL {
                staying(ui, menu.name(), |ui| whole(ui, |ui| self.menu(menu, asks, ui)));
            }
            if self.layout.is_some() {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| print(asks, ui));
            }
        });
        ui.horizontal_wrapped(|ui| self.places(asks, ui));
    }

    /// All menus under one name, and the steps beside it: lines of them would leave no room for the step itself.
    fn in_one_line(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        ui.horizontal(|ui| {
            ui.menu_button("Menu", |ui| {
                whole(ui, |ui| {
                    for menu in Menu::ALL {
                        heading(ui, menu.name());
                        self.menu(menu, asks, ui);
                    }
                });
            });
            ui.style_mut().always_scroll_the_only_direction = true;
            ScrollArea::horizontal().id_salt("steps").show(ui, |ui| ui.horizontal(|ui| self.places(asks, ui)));
        });
    }

    fn places(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        match self.layout {
            Some((layout, figures)) => {
                for step in Step::ALL {
                    self.step(step, layout, figures, asks, ui);
                }
            }
            None => self.without_layout(asks, ui),
        }
    }

    fn menu(&self, menu: Menu, asks: &mut Vec<Ask>, ui: &mut Ui) {
        for (index, group) in Action::groups(menu).into_iter().enumerate() {
            if index > 0 {
                ui.separator();
            }
            for action in group {
                self.entry(action, asks, ui);
            }
        }
    }

    /// Where one can go when no layout is open.
    fn without_layout(&self, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let run = self.running.then_some((Step::Day, "Run", Action::Go(Step::Day).tooltip()));
        let start = (Step::default(), "Start", "Start with a garment, or open a layout");
        let places = [Some(start), run, Some((Step::Journal, "Journal", Step::Journal.about()))];
        let at = if matches!(self.step, Step::Day | Step::Journal) { self.step } else { Step::default() };
        for (step, name, about) in places.into_iter().flatten() {
            let tab = Tab { name, selected: step == at, step: None, settled: None, hint: about.to_owned() };
            if tab.show(ui) {
                asks.push(Ask::Go(step));
            }
        }
    }

    fn entry(&self, action: Action, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let label = match (action, self.undo, self.redo) {
            (Action::Undo, Some(what), _) => format!("Undo {what}"),
            (Action::Redo, _, Some(what)) => format!("Redo {what}"),
            _ => action.full_label().to_owned(),
        };
        if action.menu_button(&label, action.is_enabled(self.possible), self.settings, ui) {
            asks.push(Ask::Act(action));
        }
    }

    /// A step, with what is done in it and what is still to be looked at.
    fn step(&self, step: Step, layout: &layout::Layout, figures: &Figures, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let settled = Some(step.is_settled(layout, figures));
        let hint = format!("{}\n{}", step.about(), capitalised(step.state(layout, figures)));
        if (Tab { name: step.name(), selected: step == self.step, step: Some(step), settled, hint }).show(ui) {
            asks.push(Ask::Go(step));
        }
    }
}

/// A menu of the bar. One that opened as the pointer came by from another stays open when it is clicked: by itself the click would close
/// what the maker means to open.
fn staying(ui: &mut Ui, name: &str, add: impl FnOnce(&mut Ui)) {
    let shown = ui.menu_button(name, add);
    let menu = Popup::default_response_id(&shown.response);
    let [open, came_by] = ["menu that is open", "menu that opened as the pointer came by"].map(Id::unique);
    let noted = |id| ui.data(|data| data.get_temp::<Id>(id)) == Some(menu);
    let note = |id, is_so: bool| {
        ui.data_mut(|data| {
            if is_so {
                data.insert_temp(id, menu);
            } else {
                data.remove::<Id>(id);
            }
        });
    };
    let mut is_open = Popup::is_id_open(ui.ctx(), menu);
    if shown.response.clicked() {
        if noted(came_by) {
            Popup::open_id(ui.ctx(), menu);
            is_open = true;
        }
        note(came_by, false);
    } else if is_open && !noted(open) {
        note(came_by, true);
    }
    if is_open || noted(open) {
        note(open, is_open);
    }
}

/// Printing is at hand in every step.
fn print(asks: &mut Vec<Ask>, ui: &mut Ui) {
    // A button, not a word among the menus.
    ui.reset_style();
    let keys = Action::Print.shortcut().map_or_else(String::new, |keys| format!(" ({})", keys_words(&keys, ui.ctx())));
    let button = ui.button("Print…").on_hover_text(format!("{}{keys}", Action::Print.tooltip()));
    Spot::Print.is_at(button.rect, ui.ctx());
    if button.clicked() {
        asks.push(Ask::Act(Action::Print));
    }
}

/// All of a menu, also in a low window.
fn whole(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let most = (ui.ctx().content_rect().height() - BELOW_THE_BAR).max(120.0);
    // By itself it would begin to scroll long before.
    ScrollArea::vertical().max_height(most).min_scrolled_height(most).show(ui, add);
}

/// Whether the window is so low that its bars leave the step what room they can.
pub(super) fn is_low(ctx: &egui::Context) -> bool {
    ctx.content_rect().height() < LOW
}

/// Height of a window, points, below which menus and steps stand in one line, and the foot shows only what it has to say.
const LOW: f32 = 400.0;
/// Room that a menu leaves above and below itself, points.
const BELOW_THE_BAR: f32 = 60.0;

/// A name to be chosen in the bar.
struct Tab {
    name: &'static str,
    selected: bool,
    /// The step of a layout that it is.
    step: Option<Step>,
    /// Where it is a step: whether it is settled. A full dot says so, a ring that it is not.
    settled: Option<bool>,
    hint: String,
}

/// Room for the mark before a name: so many spaces, and its middle from the left edge, points.
const MARK: (&str, f32) = ("    ", 14.0);

impl Tab {
    /// Shows it; whether it was chosen.
    fn show(&self, ui: &mut Ui) -> bool {
        let Self { name, selected, settled, hint, .. } = self;
        let words = if settled.is_some() { format!("{}{name}", MARK.0) } else { (*name).to_owned() };
        let words = RichText::new(words).size(16.5);
        let response = ui.selectable_label(*selected, if *selected { words.strong() } else { words });
        if let Some(step) = self.step {
            Spot::Tab(step).is_at(response.rect, ui.ctx());
        }
        response.widget_info(|| WidgetInfo::selected(Role::Tab, true, *selected, format!("View {name}")));
        if *selected {
            // Where the tabs don't all fit, the one gone to comes into sight.
            let id = Id::unique("tab that shows");
            // Larger letters move it out of sight too.
            let shown = (*name, ui.ctx().content_rect().width().to_bits());
            if ui.data(|data| data.get_temp::<(&'static str, u32)>(id)) != Some(shown) {
                ui.data_mut(|data| data.insert_temp(id, shown));
                response.scroll_to_me(None);
            }
        }
        if let Some(settled) = settled {
            let palette = Palette::of(ui.ctx());
            let at = response.rect.left_center() + vec2(MARK.1, 0.0);
            if *settled {
                ui.painter().circle_filled(at, 4.0, if *selected { palette.ink } else { palette.faint });
            } else {
                let tone = if *selected { palette.ink } else { palette.warn };
                ui.painter().circle_stroke(at, 4.0, Stroke::new(1.8, tone));
            }
        }
        response.on_hover_text(hint).clicked()
    }
}
