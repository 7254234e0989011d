//! What the pointer and the keys do to the cloth.

use super::others::tie_at;
use super::view::View;
use super::{Canvas, Held, REACH, arrows, laid};
use crate::app::context::{Ask, Context};
use crate::edit::{DragRules, EditCommand, Target, folded, with_points};
use egui::{Key, Modifiers, PointerButton, Response, Ui, vec2};

/// What pointer and keys do on the cloth, for the help.
pub(crate) const HANDLING: [(&str, &str); 19] = [
    ("Drag the cross", "Move the burst centre; it snaps to the centre line and the middle (Shift: no snapping)"),
    ("Drag a ring", "Move a bind, the guide arc or an extra arc"),
    ("Drag a crease of a flat bundle", "Make its pieces wider or narrower; near its end, turn all creases (Shift: no snapping)"),
    ("Ctrl-drag a crease", "Move all creases together"),
    ("Click a ring or its tag", "Select it, to move it with keys"),
    ("Double-click the cloth", "Add a bind there, except in Colours"),
    ("Right-click", "See what you can do there"),
    ("Click another tie", "Work on that one"),
    ("Click a section in Colours", "Give it a dye"),
    ("Drag a dye's colour onto the cloth", "Give the section under it that dye"),
    ("Ctrl-click a ring", "Remove that bind"),
    ("Delete", "Remove the selected bind or extra arc"),
    ("Arrow keys", "Move the selection by a mark of your rule (Shift: ten times as far)"),
    ("Page Down, Page Up", "Select the next ring outward, inward"),
    ("Home", "Select the burst centre"),
    ("Alt-drag", "Measure a distance"),
    ("Wheel, pinch", "Zoom in or out at the pointer"),
    ("Drag the table", "Move the view; the middle or right button does so anywhere"),
    ("Escape", "Clear the selection; during a drag, put back what you drag"),
];

impl Canvas {
    /// Zoom to the pointer, and pan with the middle or right button, or with the left on the bare table.
    pub(super) fn look(&mut self, view: &mut View, response: &Response, ui: &Ui) {
        if response.hovered() {
            let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta, input.zoom_delta()));
            let pointer = ui.input(|input| input.pointer.hover_pos());
            let factor = f64::from(pinch) * (f64::from(scroll.y) * 0.004).exp();
            if let Some(pointer) = pointer.filter(|_| (factor - 1.0).abs() > 1e-6) {
                view.zoom_at(response.rect, pointer, factor);
                self.moved = true;
            }
            if scroll.x != 0.0 {
                view.pan(vec2(scroll.x, 0.0));
                self.moved = true;
            }
        }
        let by_hand = response.dragged_by(PointerButton::Middle) || response.dragged_by(PointerButton::Secondary);
        self.panned &= response.dragged_by(PointerButton::Primary);
        if by_hand || self.panned {
            // A drag counts as one only after a few points; the table does not lag behind by them.
            let since_press = response.drag_started().then(|| ui.input(|input| input.pointer.press_origin())).flatten();
            let at = response.interact_pointer_pos();
            view.pan(since_press.zip(at).map_or(response.drag_delta(), |(from, to)| to - from));
            self.moved = true;
        }
    }

    /// Lets go of what is dragged. Whether anything was.
    pub(crate) fn let_go(&mut self) -> bool {
        self.grip = None;
        self.dragged.take().is_some()
    }

    /// Ends a drag with the hand that lets go, or with Escape as if it had never been.
    fn end_drag(&mut self, asks: &mut Vec<Ask>, ui: &Ui, response: &Response) {
        if self.dragged.is_some() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.let_go();
            asks.push(Ask::DropGesture);
        }
        // A hand that lets go while another view shows is not seen to do so.
        if (response.drag_stopped() || !ui.input(|input| input.pointer.primary_down())) && self.let_go() {
            asks.push(Ask::EndGesture);
        }
    }

    pub(super) fn handle(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &Ui, response: &Response, view: &View) {
        let modifiers = ui.input(|input| input.modifiers);
        let pointer = response.interact_pointer_pos();
        let at = pointer.map(|at| laid(view, response.rect, at, ctx.layout, self.showing));
        // Only a click asks; a drag already holds what it moves.
        let under = pointer
            .filter(|_| response.clicked() || response.double_clicked())
            .and_then(|at| self.under(ctx.layout, view, response.rect, at));
        if let (Some(held), Some(at)) = (self.dragged, at)
            && response.dragged_by(PointerButton::Primary)
        {
            let rules = DragRules {
                snap_mm: if modifiers.shift { 0.0 } else { view.mm(REACH) },
                step_mm: ctx.step_mm(),
                neighbours: self.neighbours,
                held_off_mm: held.off_mm,
            };
            let change = match &self.grip {
                Some(grip) => folded(ctx.layout, grip.moved(at, rules.of_creases())),
                None => held.target.dragged_to(ctx.layout, at + held.offset, rules),
            };
            asks.extend(change.map(Ask::Drag));
        }
        if let (Some(ends), Some(at)) = (&mut self.measured, at)
            && response.dragged_by(PointerButton::Primary)
        {
            ends[1] = at;
        }
        self.end_drag(asks, ui, response);
        if response.clicked() {
            response.request_focus();
            self.measured = None;
            let shown = pointer.filter(|_| under.is_none()).map(|at| view.mm_from_screen(response.rect, at));
            if let Some(tie) = shown.and_then(|at| tie_at(ctx, self.showing, at)).filter(|&tie| tie != ctx.tie) {
                asks.push(Ask::WorkOnTie(tie));
            }
            // In Colours a click is about the section, however near a bind lies.
            self.selected = under.filter(|_| !self.tinted);
            if let Some(Target::Bind(id)) = self.selected.filter(|_| modifiers.command) {
                asks.push(Ask::Edit(EditCommand::RemoveBind(id)));
                self.selected = None;
            }
        }
        if response.double_clicked()
            && !self.tinted
            && let Some(at) = at.filter(|_| under.is_none())
        {
            let zero_mm = ctx.layout.zero_mm();
            let is_on_line = (ctx.layout.fold().along_as_laid_mm(at) - zero_mm).abs() <= view.mm(REACH);
            if self.drawing && is_on_line && ctx.layout.line_points().is_some() {
                let added = with_points(ctx.layout, |points| {
                    points.add_near(at);
                });
                asks.extend(added.map(Ask::Edit));
                return;
            }
            let from_zero_mm = (ctx.layout.fold().along_as_laid_mm(at) - zero_mm).round();
            asks.push(Ask::Edit(EditCommand::AddBind((zero_mm + from_zero_mm).max(1.0))));
        }
    }

    /// A press takes hold of what lies under it, of the table where nothing does; with Alt it begins to measure instead.
    pub(super) fn take_hold(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &Ui, response: &Response, view: &View) {
        if !response.drag_started_by(PointerButton::Primary) {
            return;
        }
        let (press, modifiers) = ui.input(|input| (input.pointer.press_origin(), input.modifiers));
        self.measured = None;
        let Some(pressed) = press else { return };
        let press = laid(view, response.rect, pressed, ctx.layout, self.showing);
        if modifiers.alt {
            self.measured = Some([press, press]);
            return;
        }
        let Some(target) = self.under(ctx.layout, view, response.rect, pressed) else {
            self.panned = true;
            return;
        };
        self.selected = Some(target);
        let offset = target.place(ctx.layout).map_or(kurbo::Vec2::ZERO, |place| place - press);
        let off_mm = target.radius_mm(ctx.layout).map_or(0.0, |radius_mm| radius_mm - ctx.layout.fold().along_as_laid_mm(press));
        self.dragged = Some(Held { target, offset, off_mm });
        self.grip = target.grip(ctx.layout, press, view.mm(REACH), modifiers.command);
        asks.push(Ask::BeginGesture(target.gesture(ctx.layout)));
    }

    pub(super) fn keys(&mut self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &Ui, response: &Response) {
        self.nudge.look(asks, ui);
        if !response.has_focus() {
            return;
        }
        for by in arrows(ctx, response, ui) {
            let Some(target) = self.selected else { continue };
            let Some(nudge) = target.nudged(ctx.layout, by, self.neighbours) else { continue };
            self.nudge.step(|| target.gesture(ctx.layout), Ask::Edit(nudge), asks, ui);
        }
        let removes = ui.input_mut(|input| {
            input.consume_key(Modifiers::NONE, Key::Delete) || input.consume_key(Modifiers::NONE, Key::Backspace)
        });
        if let Some(removal) = self.selected.filter(|_| removes).and_then(|target| target.removal(ctx.layout)) {
            asks.push(Ask::Edit(removal));
            self.selected = None;
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.selected = None;
            self.measured = None;
        }
        self.step_selection(ctx, ui);
    }

    /// Page Down and Page Up go from ring to ring, outward and inward; Home takes the centre.
    fn step_selection(&mut self, ctx: &Context<'_>, ui: &Ui) {
        let (outward, inward, home) = ui.input_mut(|input| {
            let mut pressed = |key| input.consume_key(Modifiers::NONE, key);
            (pressed(Key::PageDown), pressed(Key::PageUp), pressed(Key::Home))
        });
        if home {
            self.selected = Some(Target::Centre);
        }
        if !outward && !inward {
            return;
        }
        let binds = &ctx.layout.binds().binds;
        let now = self.selected.and_then(|target| target.bind_number(ctx.layout)).unwrap_or(0);
        let next = if outward { (now + 1).min(binds.len()) } else { now.saturating_sub(1) };
        self.selected = match next.checked_sub(1).and_then(|index| binds.get(index)) {
            Some(bind) => Some(Target::of_bind(bind.id)),
            None => Some(Target::Centre),
        };
    }
}
