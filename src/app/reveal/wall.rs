//! The wall of variations: what else the layout could be, pictured small; a click takes one.

use crate::app::context::{Ask, Context};
use crate::app::screen::screen;
use crate::app::theme::Palette;
use crate::layout::Layout;
use crate::reveal::{Cancel, Picture, RevealError};
use crate::telling::Refused as _;
use crate::variation::{Variation, Wall, WallOptions, wall};
use egui::text::LayoutJob;
use egui::{
    Align2, Color32, ColorImage, CursorIcon, FontId, Painter, Rect, Response, Role, ScrollArea, Sense, Stroke, StrokeKind,
    TextureHandle, TextureOptions, Ui, WidgetInfo, vec2,
};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};
use std::time::Duration;

/// The wall, kept up with the layout at hand.
#[derive(Default)]
pub(super) struct WallView {
    shown: Option<Hung>,
    job: Option<Job>,
    refused: Option<(Arc<Layout>, RevealError)>,
    /// Which of several ties is varied.
    tie: usize,
}

/// A wall as it hangs.
struct Hung {
    of: Arc<Layout>,
    now: TextureHandle,
    tiles: Vec<Tile>,
    /// Whether it was shown already: the first tile then takes the keys, if nothing else has them.
    is_seen: bool,
}

struct Tile {
    variation: Variation,
    texture: TextureHandle,
    /// Mean CIEDE2000 from the layout.
    apart: f64,
}

/// A wall that another thread is at.
struct Job {
    of: Arc<Layout>,
    cancel: Cancel,
    receiver: Receiver<Result<Wall, RevealError>>,
}

/// How often running work is looked at.
const LOOK_EVERY: Duration = Duration::from_millis(200);
/// Room above the tiles for what they are, below each for its words, and between them, points.
const HEAD: f32 = 30.0;
const WORDS: f32 = 40.0;
const GAP: f32 = 10.0;
/// Room for the frame about a tile of the first row, points.
const FRAME: f32 = 6.0;
/// Least breadth of a tile, points: where less is left, the wall scrolls.
const LEAST: f32 = 150.0;
/// A breadth that counts as the broadest.
const NEARLY: f32 = 0.95;
/// Breadth of the picture that is looked at more closely, points.
const CLOSE: f32 = 440.0;

impl WallView {
    /// The wall within the room of the table.
    pub(super) fn show(&mut self, ctx: &Context<'_>, room: Rect, asks: &mut Vec<Ask>, ui: &mut Ui) {
        if self.tie != ctx.tie {
            // Dropped, a wall that is being made is stopped.
            *self = Self::default();
            self.tie = ctx.tie;
        }
        self.keep_up(ctx.layout, ui.ctx());
        let of = ctx.layout.ties().get(ctx.tie).map_or_else(|| ctx.layout.name().to_owned(), Layout::title);
        let palette = Palette::of(ui.ctx());
        let painter = ui.painter_at(room);
        let head = painter.text(
            room.left_top() + vec2(12.0, 6.0),
            Align2::LEFT_TOP,
            format!("Variations of {of}"),
            FontId::proportional(15.5),
            palette.ink,
        );
        painter.text(
            head.right_top() + vec2(12.0, 1.0),
            Align2::LEFT_TOP,
            self.state(ctx.layout),
            FontId::proportional(13.5),
            palette.faint,
        );
        let area = room.with_min_y(room.top() + HEAD).shrink2(vec2(GAP, 0.0));
        if let Some((_, error)) = self.refused.as_ref().filter(|(refused, _)| Arc::ptr_eq(refused, ctx.layout)) {
            let galley = painter.layout(error.say(ctx.voice()), FontId::proportional(15.0), palette.refused, area.width());
            painter.galley(area.left_top() + vec2(10.0, 20.0), galley, palette.refused);
            return;
        }
        let Some(hung) = &mut self.shown else { return };
        let is_current = Arc::ptr_eq(&hung.of, ctx.layout);
        ui.scope_builder(egui::UiBuilder::new().max_rect(area), |ui| {
            ScrollArea::vertical()
                .id_salt("wall")
                .auto_shrink(false)
                .show(ui, |ui| hung.show(ctx, is_current, area.size(), asks, ui));
        });
    }

    /// What is to be said of the whole wall.
    fn state(&self, layout: &Arc<Layout>) -> String {
        match (&self.job, &self.shown) {
            (Some(job), _) => format!("looking for what differs most, {:.0} %", 100.0 * job.cancel.done()),
            (None, Some(hung)) if Arc::ptr_eq(&hung.of, layout) && hung.tiles.is_empty() => {
                "nothing that can be changed here would be seen".to_owned()
            }
            (None, Some(_)) => "coarse estimates; click one to take it".to_owned(),
            (None, None) => String::new(),
        }
    }

    fn keep_up(&mut self, layout: &Arc<Layout>, ctx: &egui::Context) {
        self.take_over(ctx);
        if let Some(job) = &self.job {
            if !Arc::ptr_eq(&job.of, layout) {
                job.cancel.cancel();
            }
            ctx.request_repaint_after(LOOK_EVERY);
            return;
        }
        let is_there = self.shown.as_ref().is_some_and(|hung| Arc::ptr_eq(&hung.of, layout));
        let is_refused = self.refused.as_ref().is_some_and(|(refused, _)| Arc::ptr_eq(refused, layout));
        // A hand that drags is not followed: a wall takes a second.
        if is_there || is_refused || ctx.input(|input| input.pointer.any_down()) {
            return;
        }
        let (sender, receiver) = channel();
        let cancel = Cancel::new();
        let job = Job { of: layout.clone(), cancel: cancel.clone(), receiver };
        let (layout, egui, tie) = (layout.clone(), ctx.clone(), self.tie);
        let work = move || {
            let _gone = sender.send(wall(&layout, &WallOptions { tie, ..WallOptions::default() }, &cancel));
            egui.request_repaint();
        };
        let spawned = std::thread::Builder::new().name("variations".to_owned()).spawn(work);
        self.job = spawned.is_ok().then_some(job);
        ctx.request_repaint_after(LOOK_EVERY);
    }

    fn take_over(&mut self, ctx: &egui::Context) {
        let Some(job) = &self.job else { return };
        let result = match job.receiver.try_recv() {
            Err(TryRecvError::Empty) => return,
            Ok(result) => result,
            Err(TryRecvError::Disconnected) => Err(RevealError::Cancelled),
        };
        let of = job.of.clone();
        self.job = None;
        match result {
            Ok(wall) => self.shown = Some(Hung::new(of, wall, ctx)),
            Err(RevealError::Cancelled) => {}
            Err(error) => self.refused = Some((of, error)),
        }
    }
}

impl Drop for WallView {
    fn drop(&mut self) {
        if let Some(job) = &self.job {
            job.cancel.cancel();
        }
    }
}

impl Hung {
    fn new(of: Arc<Layout>, wall: Wall, ctx: &egui::Context) -> Self {
        let texture = |picture: &Picture| {
            let image = ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba);
            let options = TextureOptions::LINEAR.with_mipmap_mode(Some(egui::TextureFilter::Linear));
            ctx.load_texture("variation", image, options)
        };
        let tile =
            |tile: crate::variation::Tile| Tile { texture: texture(&tile.picture), variation: tile.variation, apart: tile.apart };
        Self { of, now: texture(&wall.now), tiles: wall.tiles.into_iter().map(tile).collect(), is_seen: false }
    }

    fn show(&mut self, ctx: &Context<'_>, is_current: bool, area: egui::Vec2, asks: &mut Vec<Ask>, ui: &mut Ui) {
        let [width, height] = self.now.size().map(|pixels| screen(pixels as f64));
        let (columns, breadth) = columns(self.tiles.len() + 1, area, height / width.max(1.0));
        let tile = vec2(breadth, breadth * height / width.max(1.0) + WORDS);
        let palette = Palette::of(ui.ctx());
        let (rect, _) = {
            let rows = (self.tiles.len() + 1).div_ceil(columns);
            ui.allocate_exact_size(vec2(area.x, FRAME + screen(rows as f64) * (tile.y + GAP)), Sense::hover())
        };
        let aside = 0.5 * (rect.width() - screen(columns as f64) * (tile.x + GAP) + GAP).max(0.0);
        let place = |index: usize| {
            let at = vec2(screen((index % columns) as f64), screen((index / columns) as f64));
            Rect::from_min_size(rect.min + vec2(aside, FRAME) + at * (tile + vec2(GAP, GAP)), tile)
        };
        let painter = ui.painter().clone();
        let own = place(0);
        let response = ui.interact(own, ui.scope_id().with("as it is now"), Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, "as it is now"));
        let light = if is_current { Color32::WHITE } else { WAITING };
        paint(&painter, own, &self.now, "as it is now", light, palette.faint);
        for (index, tile) in self.tiles.iter().enumerate() {
            let response = tile.show(ctx, is_current, place(index + 1), asks, ui);
            let is_free = ui.ctx().memory(|memory| memory.focused().is_none());
            if index == 0 && !self.is_seen && is_current && is_free {
                response.request_focus();
            }
        }
        self.is_seen |= is_current;
    }
}

impl Tile {
    fn show(&self, ctx: &Context<'_>, is_current: bool, rect: Rect, asks: &mut Vec<Ask>, ui: &mut Ui) -> Response {
        let palette = Palette::of(ui.ctx());
        let words = self.variation.words(ctx.lengths);
        let sense = if is_current { Sense::click() } else { Sense::hover() };
        let response = ui.interact(rect, ui.scope_id().with(("variation", &words)), sense);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, is_current, &words));
        let (light, ink) = if is_current { (Color32::WHITE, palette.ink) } else { (WAITING, palette.faint) };
        paint(ui.painter(), rect, &self.texture, &words, light, ink);
        if response.has_focus() || (is_current && response.hovered()) {
            ui.painter().rect_stroke(rect.expand(3.0), 4.0, Stroke::new(2.0, palette.accent), StrokeKind::Outside);
        }
        if response.clicked() {
            asks.push(Ask::BeginGesture(words.clone()));
            asks.extend(self.variation.commands().iter().cloned().map(Ask::Edit));
            asks.push(Ask::EndGesture);
        }
        let [width, height] = self.texture.size().map(|pixels| screen(pixels as f64));
        response.on_hover_cursor(CursorIcon::PointingHand).on_hover_ui(|ui| {
            ui.image((self.texture.id(), vec2(CLOSE, CLOSE * height / width.max(1.0))));
            ui.strong(&words);
            ui.label(format!("Mean colour difference {:.0}, where 1 is hardly seen", self.apart));
        })
    }
}

/// What is left of a tile's light while the next wall is being made.
const WAITING: Color32 = Color32::from_rgba_premultiplied(110, 110, 110, 110);

/// A tile: the picture, and under it its words, two lines at the most.
fn paint(painter: &Painter, rect: Rect, texture: &TextureHandle, words: &str, light: Color32, ink: Color32) {
    let picture = rect.with_max_y(rect.bottom() - WORDS);
    let whole = Rect::from_min_max(egui::Pos2::ZERO, egui::pos2(1.0, 1.0));
    painter.image(texture.id(), picture, whole, light);
    let mut job = LayoutJob::simple(words.to_owned(), FontId::proportional(13.5), ink, rect.width());
    job.wrap.max_rows = 2;
    job.halign = egui::Align::Center;
    let galley = painter.layout_job(job);
    painter.galley(picture.center_bottom() + vec2(0.0, 3.0), galley, ink);
}

/// Into how many columns so many tiles are hung, and how broad each is, so that they are as large as the room allows.
fn columns(count: usize, area: egui::Vec2, height_to_width: f32) -> (usize, f32) {
    let breadth = |columns: usize| {
        let rows = count.div_ceil(columns);
        let across = (area.x - GAP) / screen(columns as f64) - GAP;
        let down = (area.y / screen(rows as f64) - GAP - WORDS) / height_to_width;
        across.min(down)
    };
    let broadest = (1..=count.max(1)).map(breadth).fold(0.0, f32::max);
    // Of those nearly as broad, the most columns: they use the room's breadth.
    let best = (1..=count.max(1)).rev().find(|&columns| breadth(columns) >= NEARLY * broadest).unwrap_or(1);
    if breadth(best) >= LEAST {
        return (best, breadth(best));
    }
    // Too many for the room: as many beside each other as are broad enough, the rest below.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few columns; casts saturate")]
    let fitting = ((area.x / (LEAST + GAP)).floor() as usize).clamp(1, count.max(1));
    (fitting, (area.x - GAP) / screen(fitting as f64) - GAP)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tiles_fill_the_room_and_never_shrink_below_what_can_be_seen() {
        let (many, broad) = columns(13, vec2(900.0, 700.0), 0.62);
        assert!((4..=5).contains(&many) && broad > 170.0, "{many} of {broad}");
        let (few, narrow) = columns(13, vec2(340.0, 300.0), 0.62);
        assert!(few == 2 && narrow >= LEAST - GAP, "{few} of {narrow}");
        assert_eq!(columns(1, vec2(500.0, 500.0), 0.5).0, 1);
    }
}
