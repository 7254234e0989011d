//! The reveal as a small picture over the cloth: what a change comes to, while it is being made.

use super::maker::Look;
use super::{RevealView, paint};
use crate::app::context::{Ask, Context};
use crate::app::screen::screen;
use crate::app::step::Step;
use crate::app::theme::Palette;
use crate::reveal::PictureMap;
use crate::telling::Refused as _;
use egui::{
    Align, Align2, CursorIcon, Id, Layout, Margin, Rect, RichText, Role, Sense, Stroke, Ui, Vec2, WidgetInfo, Window, vec2,
};

/// Its breadth and height at first, and the least that a hand can make it, points.
const SIZE: Vec2 = vec2(236.0, 176.0);
const LEAST: Vec2 = vec2(120.0, 96.0);
/// The most of the table's breadth and height that it takes at first.
const MOST_SHARE: f32 = 0.42;
/// Between it and the table's edge, points.
const MARGIN: f32 = 12.0;
/// What its frame adds around the picture, points.
const FRAME: i8 = 6;

/// Least breadth and height of a table that it is shown on, points: on a smaller one it would hide the cloth.
const LEAST_TABLE: Vec2 = vec2(260.0, 240.0);

/// How it lies on the table.
#[derive(Default)]
pub(super) struct Inset {
    /// Breadth and height of the table when it was laid there, points.
    table: Vec2,
    /// Its own size then; none before it was seen.
    laid: Option<Vec2>,
    /// Whether a hand has moved it, or drawn it larger or smaller.
    by_hand: bool,
    /// How often it was laid anew.
    turn: u32,
}

impl Inset {
    /// On another table it is laid anew, unless it lies as a hand has put it.
    fn lie_on(&mut self, table: Vec2) {
        if (self.table - table).abs().max_elem() > 1.0 {
            let is_anew = self.laid.is_some() && !self.by_hand;
            self.turn = self.turn.wrapping_add(u32::from(is_anew));
            (self.table, self.laid) = (table, None);
        }
    }

    /// Takes note of where it is, in its corner or not, and how large.
    fn seen(&mut self, is_in_corner: bool, size: Vec2) {
        match self.laid {
            None => self.laid = Some(size),
            // The frame after it was laid may still settle its size.
            Some(laid) => self.by_hand |= !is_in_corner || (laid - size).abs().max_elem() > SETTLES,
        }
    }
}

/// By how much its size may settle once it was laid, points.
const SETTLES: f32 = 12.0;

impl RevealView {
    /// Shows the reveal over the table that takes `room`: coarse while a hand changes the layout, fine at rest. What it covers of the
    /// table's lower right corner, nothing once a hand has moved it; none when it is put away.
    pub(crate) fn inset(&mut self, ctx: &Context<'_>, room: Rect, asks: &mut Vec<Ask>, ui: &Ui) -> Option<Vec2> {
        if room.width() < LEAST_TABLE.x || room.height() < LEAST_TABLE.y {
            return Some(Vec2::ZERO);
        }
        self.inset.lie_on(room.size());
        let look = Look { map: PictureMap::default(), texture: self.look.texture };
        self.now.keep_up_with(ctx, look, ui.ctx());
        let size = SIZE.min(room.size() * MOST_SHARE).max(LEAST);
        let mut stays = true;
        let corner = room.right_bottom() - vec2(MARGIN, MARGIN);
        let shown = Window::new(RichText::new("Reveal").size(14.0))
            .id(Id::unique(("reveal inset", self.inset.turn)))
            .open(&mut stays)
            .collapsible(false)
            .default_size(size)
            .min_size(LEAST)
            .pivot(Align2::RIGHT_BOTTOM)
            .default_pos(corner)
            .constrain_to(room)
            .frame(egui::Frame::window(ui.style()).inner_margin(Margin::same(FRAME)))
            .show(ui.ctx(), |ui| self.small(ctx, asks, ui));
        let rect = shown.map_or(Rect::NOTHING, |shown| shown.response.rect);
        let is_in_corner = (rect.max - corner).abs().max_elem() < 2.0 * MARGIN;
        self.inset.seen(is_in_corner, rect.size());
        stays.then(|| if is_in_corner { room.max - rect.min } else { Vec2::ZERO })
    }

    /// The picture, or why there is none.
    fn small(&self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let palette = Palette::of(ui.ctx());
        let (response, painter) = ui.allocate_painter(ui.available_size(), Sense::click());
        let is_fine = self.now.shown().is_some_and(|(shown, _)| shown.fine && std::sync::Arc::ptr_eq(&shown.layout, ctx.layout));
        let state = if is_fine { "" } else { ", coarse so far" };
        let label = format!("Small reveal of {}{state}", ctx.layout.name());
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &label));
        let area = response.rect;
        if let Some(refusal) = self.now.refusal(ctx.layout) {
            let builder = egui::UiBuilder::new().max_rect(area).layout(Layout::top_down(Align::Min));
            let words = RichText::new(refusal.say(ctx.voice())).size(13.5).color(palette.refused);
            ui.scope_builder(builder, |ui| ui.add(egui::Label::new(words).wrap()));
            return;
        }
        if let Some((shown, texture)) = self.now.shown() {
            paint::panels(shown, &[texture], None, area, &response, &painter, palette);
        }
        if let Some(done) = self.now.refining() {
            let bar = area.with_min_y(area.bottom() - 1.0);
            let end = bar.left() + bar.width() * screen(done);
            painter.hline(bar.left()..=end, bar.bottom(), Stroke::new(2.0, palette.accent));
        }
        let response = response.on_hover_cursor(CursorIcon::PointingHand);
        if response.on_hover_text("An estimate. Click to see it large.").clicked() {
            asks.push(Ask::Go(Step::Reveal));
        }
    }
}
