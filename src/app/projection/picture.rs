//! The picture that is projected: a window of its own, or one within the program's where the system has no second.

use super::paint::Easel;
use super::{Aligned, Projection, Stage};
use crate::app::context::Context;
use crate::projection::{MarkSet, TableScene};
use egui::{
    EventFilter, Pos2, Rect, Response, Role, Sense, Ui, Vec2, ViewportBuilder, ViewportClass, ViewportId, WidgetInfo, pos2, vec2,
};
use kurbo::Point;

/// The window before it fills a screen, points; and the picture within the program's window where there is no other.
const WINDOW: Vec2 = vec2(1280.0, 720.0);
const EMBEDDED: Vec2 = vec2(560.0, 315.0);
const EMBEDDED_AT: Pos2 = pos2(360.0, 110.0);
/// Size of what a mark is taken hold of by, points.
const HANDLE: f32 = 44.0;

impl Projection {
    /// Shows the picture in a window of its own, and does what pointer and keys do there.
    pub(crate) fn show_picture(&mut self, ctx: &Context<'_>, ui: &Ui) {
        if !self.is_open {
            return;
        }
        let embeds = ui.ctx().embed_viewports();
        let builder = ViewportBuilder::default()
            .with_title("Projection – Pleatwright")
            .with_app_id("pleatwright")
            .with_inner_size(if embeds { EMBEDDED } else { WINDOW })
            .with_fullscreen(self.screen.is_some());
        let builder = match self.screen {
            Some(index) => builder.with_monitor(index),
            // Over the cloth: the panels stay free.
            None if embeds => builder.with_position(EMBEDDED_AT),
            None => builder,
        };
        ui.ctx().show_viewport_immediate(ViewportId::from_hash_of("projection"), builder, |ui, class| {
            let embedded = class == ViewportClass::EmbeddedWindow;
            if !embedded && ui.input(|input| input.viewport().close_requested()) {
                self.close();
            }
            let area = if embedded { ui.allocate_space(EMBEDDED).1 } else { ui.ctx().content_rect() };
            self.picture(ctx, area, embedded, ui);
            // The panel, which was drawn before, tells of what was done here.
            if ui.input(|input| !input.events.is_empty()) {
                ui.ctx().request_repaint_of(ViewportId::ROOT);
            }
        });
    }

    fn picture(&mut self, ctx: &Context<'_>, area: Rect, embedded: bool, ui: &mut Ui) {
        let px_per_point = ui.ctx().pixels_per_point();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a screen has no more pixels, and no fewer than none"
        )]
        let size = [area.width(), area.height()].map(|points| (points * px_per_point).round() as u32);
        self.picture = Some(size);
        if self.stage == Stage::Rectangle
            && let Some(projector) = self.projector.as_mut().filter(|projector| projector.picture != size)
        {
            projector.begin_anew(size);
        }
        let scene = self.scene(ctx);
        let response = ui.interact(area, ui.scope_id().with("projected picture"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, "Projected picture"));
        if response.clicked() {
            response.request_focus();
        }
        let easel = Easel::new(ui.painter().with_clip_rect(area), area, px_per_point);
        easel.ground();
        let mut is_held = response.has_focus();
        if self.stage == Stage::Marks {
            is_held |= self.handles(&easel, ui);
        } else if self.stage == Stage::Show {
            self.drag(&scene, &easel, &response);
        }
        // In a window of its own every key is the picture's.
        if is_held || !embedded {
            let own = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: true, escape: true };
            if let Some(focused) = ui.memory(egui::Memory::focused) {
                ui.memory_mut(|memory| memory.set_focus_lock_filter(focused, own));
            }
            self.keys(&scene, ui);
        }
        self.paint(ctx, &scene, &easel);
    }

    /// The marks, to be dragged; whether one of them has the keys.
    fn handles(&mut self, easel: &Easel, ui: &mut Ui) -> bool {
        let marks = self.projector.as_ref().map(|projector| projector.marks.clone()).unwrap_or_default();
        let mut is_held = false;
        for (index, at) in marks.into_iter().enumerate() {
            let rect = Rect::from_center_size(easel.at(at), Vec2::splat(HANDLE));
            let response = ui.interact(rect, ui.scope_id().with(("mark", index)), Sense::click_and_drag());
            let name = format!("Mark {}, {}", index + 1, MarkSet::place_name(index + 1));
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
            if response.drag_started() || response.clicked() {
                response.request_focus();
                self.mark = index;
            }
            if response.gained_focus() {
                self.mark = index;
            }
            if response.dragged() {
                self.move_mark(index, easel.px(dragged(&response)));
            }
            is_held |= response.has_focus();
        }
        is_held
    }

    /// Moves the layout with the hand: what lies under the pointer stays under it.
    fn drag(&mut self, scene: &TableScene, easel: &Easel, response: &Response) {
        let Some(to) = response.interact_pointer_pos().filter(|_| response.dragged()) else { return };
        let from = to - dragged(response);
        let Ok(Aligned { alignment, .. }) = self.aligned() else { return };
        let on_table = |at: Pos2| alignment.table_from_picture().apply(easel.point(at));
        let by = on_table(to).zip(on_table(from)).map(|(to, from): (Point, Point)| to - from);
        if let (Some(by), Some(placed)) = (by, self.placed(scene)) {
            self.placement = Some(placed.moved(by));
        }
    }
}

/// How far the pointer came since the last frame. A drag counts as one only after a few points; what is held does not lag behind by them.
fn dragged(response: &Response) -> Vec2 {
    let since_press = response.drag_started().then(|| response.ctx.input(|input| input.pointer.press_origin())).flatten();
    let at = response.interact_pointer_pos();
    since_press.zip(at).map_or(response.drag_delta(), |(from, to)| to - from)
}
