//! The menu of a right click on the cloth: what can be done with what lies there.

use super::dyeing::dyes_for;
use super::view::View;
use super::{Asked, Canvas, Showing, laid};
use crate::app::action::Action;
use crate::app::context::{Ask, Context};
use crate::app::field;
use crate::edit::{EditCommand, Target, folded, section_at, with_points};
use crate::geometry::{Neighbours, middle_mm};
use egui::{Button, Popup, PopupCloseBehavior, Response, Ui};
use kurbo::Point;

impl Canvas {
    pub(super) fn menu(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &Ui, response: &Response, view: &View) {
        let at = ui.input(|input| input.pointer.interact_pos()).filter(|_| response.secondary_clicked());
        if let Some(at) = at {
            let place = laid(view, response.rect, at, ctx.layout, self.showing);
            // As a click is, so is its menu about the section in Colours.
            let target = self.under(ctx.layout, view, response.rect, at).filter(|_| !self.tinted);
            self.asked = Asked { target, place, section: section_at(ctx.layout, ctx.figures, place) };
            self.selected = target.or(self.selected);
        }
        Popup::context_menu(response).close_behavior(PopupCloseBehavior::CloseOnClickOutside).show(|ui| {
            ui.set_min_width(230.0);
            match self.asked.target {
                // What a command has taken away meanwhile has no menu.
                Some(target) if target.radius_mm(ctx.layout).is_none() => ui.close(),
                Some(Target::Centre) => centre(ctx, asks, ui),
                Some(target @ Target::Crease(number, _)) => crease(ctx, target, number, asks, ui),
                Some(target) if target.point().is_some() => point(ctx, target, asks, ui),
                Some(target) => self.ring(ctx, target, asks, ui),
                None => self.bare(ctx, asks, ui),
            }
        });
    }

    fn ring(&mut self, ctx: &Context<'_>, target: Target, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let name = target.name(ctx.layout);
        ui.strong(crate::telling::capitalised(&name));
        let now_mm = target.radius_mm(ctx.layout).unwrap_or(0.0);
        // A field among a menu's buttons keeps the room that it has elsewhere.
        let given = ui.scope(|ui| {
            ui.reset_style();
            let label = format!("From {}", ctx.layout.words().zero);
            field::length(ctx, ui, &label, ctx.layout.from_zero_mm(now_mm))
        });
        if let Some(from_zero_mm) = given.inner {
            let by = kurbo::Vec2::new(from_zero_mm + ctx.layout.zero_mm() - now_mm, 0.0);
            asks.extend(target.nudged(ctx.layout, by, self.neighbours).map(Ask::Edit));
            ui.close();
        }
        if let Target::Bind(id) = target {
            ui.horizontal(|ui| {
                ui.label("Its neighbours");
                ui.selectable_value(&mut self.neighbours, Neighbours::Stay, "stay");
                ui.selectable_value(&mut self.neighbours, Neighbours::Follow, "follow");
            });
            let by_hand = ctx.layout.binds().binds.iter().any(|bind| bind.id == id && bind.is_by_hand());
            done(asks, ui, &format!("Reset {name}"), by_hand, || EditCommand::ReleaseBind(id));
        }
        if let Some(removal) = target.removal(ctx.layout)
            && done(asks, ui, &format!("Remove {name}"), true, || removal)
        {
            self.selected = None;
        }
    }

    /// The cloth between the rings, and the table beside it.
    fn bare(&self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if let Some(number) = self.asked.section {
            let along_mm = ctx.layout.fold().along_as_laid_mm(self.asked.place);
            let from_zero_mm = (ctx.layout.from_zero_mm(along_mm) / ctx.step_mm()).round() * ctx.step_mm();
            let at_mm = (ctx.layout.zero_mm() + from_zero_mm).max(ctx.step_mm());
            let words = ctx.layout.words();
            ui.strong(format!("Section {number}, {}", words.place(ctx.layout.from_zero_mm(at_mm), ctx.lengths)));
            done(asks, ui, "Add a bind here", true, || EditCommand::AddBind(at_mm));
            done(asks, ui, &format!("Add an {} here", words.further), true, || {
                EditCommand::SetReferences(ctx.layout.references_mm().into_iter().chain([at_mm]).collect())
            });
            ui.menu_button("Dye of this section", |ui| dyes_for(ctx, number, asks, ui));
            ui.separator();
        }
        for action in [Action::Fit].into_iter().chain(Showing::ALL.map(Action::from)).chain([Action::Inset, Action::Numbers]) {
            if action.menu_button(action.full_label(), true, ctx.settings, ui) {
                asks.push(Ask::Act(action));
            }
        }
    }
}

fn centre(ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(now) = ctx.layout.middle() else { return };
    ui.strong(crate::telling::capitalised(ctx.layout.words().middle));
    let middle_mm = middle_mm(ctx.layout.panels());
    done(asks, ui, "Onto the centre line", now.x != 0.0, || EditCommand::MoveCentre(Point::new(0.0, now.y)));
    done(asks, ui, "To the middle of the length", now.y != middle_mm, || EditCommand::MoveCentre(Point::new(now.x, middle_mm)));
}

/// The menu of a crease of a flat bundle: where its pattern is laid from.
fn crease(ctx: &Context<'_>, target: Target, number: u32, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let Some(spec) = ctx.layout.raw().fold.flat() else { return };
    ui.strong(crate::telling::capitalised(&Target::Crease(number, false).name(ctx.layout)));
    let starts = spec.pattern.start().is_some();
    done(asks, ui, "Begin at the cloth's edge", starts, || folded(ctx.layout, spec.starting(None)));
    if let Some(at) = target.crease_at(ctx.layout) {
        ui.weak(ctx.figures.fold.top.place([at.y, at.x], ctx.lengths));
    }
}

/// The menu of a point of the line.
fn point(ctx: &Context<'_>, target: Target, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let (Some(index), Some(points)) = (target.point(), ctx.layout.line_points()) else { return };
    let Some(now) = points.get(index) else { return };
    ui.strong(crate::telling::capitalised(&Target::Point(index).name(ctx.layout)));
    let is_on_fold = ctx.layout.lay().is_folded() && points.is_end(index);
    done(asks, ui, "Make it a corner", now.before.is_some() || now.after.is_some(), || {
        with_points(ctx.layout, |points| points.make_corner(index))
    });
    done(asks, ui, "Make it smooth", !now.is_smooth(), || {
        with_points(ctx.layout, |points| points.make_smooth(index, is_on_fold))
    });
    done(asks, ui, "Remove it", points.count() > 2, || with_points(ctx.layout, |points| points.remove(index)));
}

/// A command of the menu, if it would change something; whether it was chosen.
fn done<C: Into<Option<EditCommand>>>(
    asks: &mut Vec<Ask>,
    ui: &mut Ui,
    words: &str,
    possible: bool,
    command: impl FnOnce() -> C,
) -> bool {
    let chosen = ui.add_enabled(possible, Button::new(words)).clicked();
    if chosen {
        asks.extend(command().into().map(Ask::Edit));
        ui.close();
    }
    chosen
}
