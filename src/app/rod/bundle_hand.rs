//! Blocks on the drawn bundle, dragged and turned by the pointer or by keys, and the ends of a thread wound round it, dragged along it.

use super::bundle::BundleView;
use crate::app::canvas::{Nudge, REACH, arrows};
use crate::app::context::{Ask, Context};
use crate::edit::{BlockHandle, BlocksGrip, EditCommand, WrapEnd, WrapGrip};
use crate::geometry::BlockRules;
use crate::layout::Layout;
use crate::measure::counted;
use crate::telling::{Voice, capitalised};
use egui::{CursorIcon, Key, Modifiers, PointerButton, Rect, Response, Role, Sense, Tooltip, Ui, WidgetInfo, vec2};
use kurbo::{Point, Vec2};

/// What can be taken hold of on the bundle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Handle {
    Blocks(BlockHandle),
    Wrap(WrapEnd),
}

/// What is held.
#[derive(Debug)]
enum Grip {
    Blocks(BlocksGrip),
    Wrap(WrapGrip),
}

impl Handle {
    const ALL: [Self; 4] =
        [Self::Blocks(BlockHandle::Blocks), Self::Blocks(BlockHandle::Turn), Self::Wrap(WrapEnd::From), Self::Wrap(WrapEnd::To)];

    /// The ends of thread lie on top, and are smaller.
    fn at(layout: &Layout, point: Point, reach_mm: f64) -> Option<Self> {
        let end = WrapEnd::at(layout, point, reach_mm).map(Self::Wrap);
        end.or_else(|| BlockHandle::at(layout, point, reach_mm).map(Self::Blocks))
    }

    fn place(self, layout: &Layout) -> Option<Point> {
        match self {
            Self::Blocks(handle) => handle.place(layout),
            Self::Wrap(end) => end.place(layout),
        }
    }

    const fn name(self) -> &'static str {
        match self {
            Self::Blocks(handle) => handle.name(),
            Self::Wrap(end) => end.name(),
        }
    }

    const fn gesture(self) -> &'static str {
        match self {
            Self::Blocks(handle) => handle.gesture(),
            Self::Wrap(end) => end.gesture(),
        }
    }

    fn grip(self, layout: &Layout, pressed: Point) -> Option<Grip> {
        match self {
            Self::Blocks(handle) => handle.grip(layout, pressed).map(Grip::Blocks),
            Self::Wrap(end) => end.grip(layout, pressed).map(Grip::Wrap),
        }
    }

    fn nudged(self, layout: &Layout, by: Vec2, step_mm: f64) -> Option<EditCommand> {
        match self {
            Self::Blocks(handle) => handle.nudged(layout, by, step_mm),
            Self::Wrap(end) => end.nudged(layout, by),
        }
    }
}

impl Grip {
    fn dragged_to(&self, layout: &Layout, to: Point, rules: BlockRules) -> Option<EditCommand> {
        match self {
            Self::Blocks(grip) => grip.dragged_to(layout, to, rules),
            Self::Wrap(grip) => grip.dragged_to(layout, to, rules),
        }
    }
}

/// What a hand does on the bundle.
#[derive(Debug, Default)]
pub(super) struct BundleHand {
    selected: Option<Handle>,
    held: Option<(Handle, Grip)>,
    nudge: Nudge,
}

impl BundleHand {
    /// Lets go of what is dragged. Whether anything was.
    pub(super) fn let_go(&mut self) -> bool {
        self.held.take().is_some()
    }

    /// Follows pointer and keys; what is to be shown as handled.
    pub(super) fn follow(
        &mut self,
        ctx: &Context<'_>,
        view: &BundleView,
        response: &Response,
        asks: &mut Vec<Ask>,
        ui: &Ui,
    ) -> Option<Handle> {
        let reach_mm = view.mm(REACH);
        let under = |at| Handle::at(ctx.layout, view.mm_from_screen(at), reach_mm);
        if response.drag_started_by(PointerButton::Primary)
            && let Some(press) = ui.input(|input| input.pointer.press_origin())
            && let Some(handle) = under(press)
        {
            response.request_focus();
            self.selected = Some(handle);
            self.held = handle.grip(ctx.layout, view.mm_from_screen(press)).map(|grip| (handle, grip));
            asks.push(Ask::BeginGesture(handle.gesture().to_owned()));
        }
        let shift = ui.input(|input| input.modifiers.shift);
        let rules = BlockRules { snap_mm: if shift { 0.0 } else { reach_mm }, step_mm: if shift { 0.0 } else { ctx.step_mm() } };
        if self.held.is_some() && ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.let_go();
            asks.push(Ask::DropGesture);
        }
        if let (Some((_, grip)), Some(at)) = (&self.held, response.interact_pointer_pos())
            && response.dragged_by(PointerButton::Primary)
        {
            asks.extend(grip.dragged_to(ctx.layout, view.mm_from_screen(at), rules).map(Ask::Drag));
        }
        // A hand that lets go while another view shows is not seen to do so.
        if (response.drag_stopped() || !ui.input(|input| input.pointer.primary_down())) && self.let_go() {
            asks.push(Ask::EndGesture);
        }
        if response.clicked() {
            response.request_focus();
            self.selected = response.interact_pointer_pos().and_then(under);
        }
        self.keys(ctx, response, asks, ui);
        let hovered = response.hover_pos().filter(|_| self.held.is_none()).and_then(under);
        if hovered.is_some() {
            ui.ctx().set_cursor_icon(CursorIcon::Grab);
        }
        if let Some((handle, _)) = &self.held {
            ui.ctx().set_cursor_icon(CursorIcon::Grabbing);
            Tooltip::for_widget(response).at_pointer().gap(16.0).show(|ui| match handle {
                Handle::Blocks(_) => numbers(ctx, ui),
                Handle::Wrap(_) => stretch(ctx, ui),
            });
        }
        announce(ctx, view, ui, response.rect);
        hovered.or(self.selected)
    }

    fn keys(&mut self, ctx: &Context<'_>, response: &Response, asks: &mut Vec<Ask>, ui: &Ui) {
        self.nudge.look(asks, ui);
        if !response.has_focus() {
            return;
        }
        for by in arrows(ctx, response, ui) {
            let Some(handle) = self.selected else { continue };
            if let Some(change) = handle.nudged(ctx.layout, by, ctx.step_mm()) {
                self.nudge.step(|| handle.gesture().to_owned(), Ask::Edit(change), asks, ui);
            }
        }
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            self.selected = None;
        }
    }
}

/// Where the blocks lie, beside the hand.
fn numbers(ctx: &Context<'_>, ui: &mut Ui) {
    let Some(spec) = &ctx.layout.raw().blocks else { return };
    let format = |mm| ctx.lengths.format(mm);
    ui.label(format!("{} along, {} across", format(spec.along_mm), format(spec.across_mm)));
    ui.label(format!("turned by {}°", Voice::FILE.number(spec.turn_deg)));
    if let Some(held) = ctx.figures.flat.as_ref().and_then(|flat| flat.blocks) {
        ui.label(format!("up to {} under them", counted(held.most_layers, "layer")));
    }
}

/// Where the wound thread goes, beside the hand.
fn stretch(ctx: &Context<'_>, ui: &mut Ui) {
    let Some(wrap) = ctx.figures.flat.as_ref().and_then(|flat| flat.wrap) else { return };
    let format = |mm| ctx.lengths.format(mm);
    ui.label(format!("{} to {}", format(wrap.from_mm), format(wrap.to_mm)));
    ui.label(format!("{} turns, {} of thread", Voice::FILE.number((10.0 * wrap.turns).round() / 10.0), format(wrap.thread_mm)));
}

/// Gives each handle a name for those who do not see it, and for tests.
fn announce(ctx: &Context<'_>, view: &BundleView, ui: &Ui, area: Rect) {
    for handle in Handle::ALL {
        let Some(at) = handle.place(ctx.layout) else { continue };
        let rect = Rect::from_center_size(view.screen_from_mm(at), vec2(2.0 * REACH, 2.0 * REACH)).intersect(area);
        let response = ui.interact(rect, ui.scope_id().with(handle), Sense::hover());
        let name = format!("{} handle", capitalised(handle.name()));
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    }
}
