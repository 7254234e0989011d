//! Rings wished on the opened garment: drawn and dragged on its picture, or by numbers; beside it what comes of them, and how far that is off.

mod ask;
mod dyes;
mod finder;
mod like;
mod panel;
mod rings;
mod tints;

pub(crate) use ask::WishAsk;

use self::finder::{Charting, Search};
use self::like::Liking;
use self::rings::Grip;
use super::context::{Ask, Context};
use super::panel::Swatches;
use super::screen::screen;
use super::theme::Palette;
use crate::layout::{Layout, Srgb, Swatch};
use crate::telling::{Refused as _, Told, capitalised};
use crate::wish::{Chart, FulfilError, Fulfilled, Sketch, Tint, Wish, WishPart, difference_colour, profile_at};
use egui::{
    Align2, Color32, ColorImage, CursorIcon, FontId, Pos2, Rect, Role, Sense, TextureHandle, TextureOptions, Ui, WidgetInfo,
    pos2, vec2,
};
use std::path::PathBuf;
use std::sync::Arc;

/// The wish, kept while the program runs.
#[derive(Default)]
pub(crate) struct WishView {
    wished: Wished,
    /// What was wished for before another wish was taken up, and what that is.
    before: Option<(Wished, String)>,
    liking: Option<Liking>,
    grip: Option<Grip>,
    charting: Option<Charting>,
    charted: Option<(Arc<Layout>, Option<Arc<Chart>>)>,
    painted: Option<Painted<(Wished, Arc<Layout>)>>,
    search: Option<Search>,
    found: Option<Found>,
    refused: Option<String>,
}

/// What is wished for.
#[derive(Debug, Clone, Default, PartialEq)]
struct Wished {
    rings: Vec<WishPart>,
    /// The dyes to choose among; none for those of the layout.
    dyes: Vec<Swatch>,
    most_binds: Option<u32>,
}

/// A picture and what it was painted from.
struct Painted<T> {
    of: T,
    texture: TextureHandle,
}

/// What came of a wish.
struct Found {
    of: Arc<Layout>,
    fulfilled: Fulfilled,
    /// The result, and how far it is off.
    pictures: Option<[TextureHandle; 2]>,
}

/// Room for a picture's name, and between pictures, points.
const HEAD: f32 = 26.0;
const GAP: f32 = 10.0;
/// How near to an edge the pointer takes hold of it, points.
const REACH: f32 = 7.0;

impl std::fmt::Debug for WishView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("WishView").field("wished", &self.wished).finish_non_exhaustive()
    }
}

impl WishView {
    /// The pictures beside each other: the wish, and once it is found the result and the difference.
    pub(crate) fn show(&mut self, ctx: &Context<'_>, room: Rect, ui: &mut Ui) {
        self.keep_up(ctx, ui.ctx());
        let palette = Palette::of(ui.ctx());
        let say = |words: String, colour: Color32| {
            ui.painter().text(room.left_top() + vec2(14.0, 12.0), Align2::LEFT_TOP, words, FontId::proportional(15.0), colour);
        };
        if let Some(words) = hindrance(ctx) {
            return say(words, palette.ink);
        }
        let chart = match &self.charted {
            Some((_, Some(chart))) => chart.clone(),
            Some((_, None)) => return say("This garment can't be pictured.".to_owned(), palette.refused),
            None => return say("measuring the cloth".to_owned(), palette.faint),
        };
        self.paint_wish(ctx, &chart, ui.ctx());
        self.paint_found(&chart, ui.ctx());
        let pictures = self.found.as_ref().and_then(|found| found.pictures.clone());
        let names = [
            "wish: drag to draw a ring, or its edge to move it",
            "result, an estimate",
            "difference: white none, dark red 20 or more",
        ];
        let count = if pictures.is_some() { 3 } else { 1 };
        let size = [chart.width, chart.height].map(|pixels| screen(pixels as f64));
        let places = places(room, count, size[1] / size[0].max(1.0));
        for (index, place) in places.iter().enumerate() {
            let at = place.left_top() - vec2(0.0, HEAD - 6.0);
            ui.painter().text(at, Align2::LEFT_TOP, names[index], FontId::proportional(13.5), palette.faint);
            let texture = match (index, &self.painted, &pictures) {
                (0, Some(painted), _) => &painted.texture,
                (index, _, Some(pictures)) if index > 0 => &pictures[index - 1],
                _ => continue,
            };
            ui.painter().image(texture.id(), *place, Rect::from_min_max(Pos2::ZERO, pos2(1.0, 1.0)), Color32::WHITE);
            if index > 0 {
                let response = ui.interact(*place, ui.scope_id().with(("wish picture", index)), Sense::hover());
                response.widget_info(|| WidgetInfo::labeled(Role::Image, true, names[index]));
            }
        }
        if let Some(place) = places.first() {
            self.handle(ctx, &chart, *place, ui);
        }
    }

    /// Draws and drags rings.
    fn handle(&mut self, ctx: &Context<'_>, chart: &Chart, place: Rect, ui: &mut Ui) {
        let response = ui.interact(place, ui.scope_id().with("wish"), Sense::click_and_drag());
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, "the wish"));
        let step_mm = ctx.step_mm();
        let on_step = |at_mm: f64| (at_mm / step_mm).round() * step_mm;
        let at_mm = |at: Pos2| distance_mm(chart, place, at);
        let reach_mm = f64::from(REACH) * mm_per_point(ctx.layout, place);
        if let Some(at_mm) = response.hover_pos().and_then(at_mm)
            && (self.grip.is_some() || rings::grip(&self.wished.rings, at_mm, reach_mm).is_some())
        {
            ui.set_cursor_icon(CursorIcon::Grab);
        }
        if response.drag_started()
            && let Some(at_mm) = ui.input(|input| input.pointer.press_origin()).and_then(at_mm)
        {
            let tint = self.next_tint(ctx.layout);
            self.grip = rings::grip(&self.wished.rings, at_mm, reach_mm)
                .or_else(|| rings::begin(&mut self.wished.rings, on_step(at_mm), tint));
        }
        if let (Some(grip), Some(at_mm)) = (&self.grip, response.interact_pointer_pos().and_then(at_mm)) {
            rings::drag(&mut self.wished.rings, grip, on_step(at_mm));
        }
        if response.drag_stopped() {
            self.grip = None;
        }
    }

    /// The dye that comes next of those to choose among.
    fn next_tint(&self, layout: &Layout) -> Tint {
        let dyes = self.wished.dyes(layout);
        let next = dyes.get(self.wished.rings.len() % dyes.len().max(1));
        next.map_or(Tint::Ground, |swatch| Tint::Dye(swatch.name.clone()))
    }

    /// The wish as it stands.
    pub(crate) fn wish(&self, layout: &Layout) -> Wish {
        let Wished { rings, dyes, most_binds } = self.wished.clone();
        let mut parts = rings;
        parts.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
        Wish { name: layout.name().to_owned(), layout: "-".to_owned(), dyes, most_binds, parts }
    }

    /// Takes up another wish; what was wished for before can be had back.
    pub(crate) fn take_up(&mut self, wish: Wish) {
        let taken = Wished { rings: wish.parts, dyes: wish.dyes, most_binds: wish.most_binds };
        let before = std::mem::replace(&mut self.wished, taken);
        self.before = Some((before, wish.name));
        (self.found, self.search, self.refused, self.grip) = (None, None, None, None);
    }

    /// Begins to look at a photograph for rings to wish for.
    pub(crate) fn begin_like(&mut self, path: PathBuf, layout: &Arc<Layout>, egui: &egui::Context) {
        self.refused = None;
        self.liking = like::begin(path, layout, egui);
    }

    fn keep_up(&mut self, ctx: &Context<'_>, egui: &egui::Context) {
        if self.found.as_ref().is_some_and(|found| !Arc::ptr_eq(&found.of, ctx.layout)) {
            self.found = None;
        }
        if self.search.as_ref().is_some_and(|search| !Arc::ptr_eq(&search.of, ctx.layout)) {
            self.search = None;
        }
        if self.liking.as_ref().is_some_and(|liking| !Arc::ptr_eq(&liking.of, ctx.layout)) {
            self.liking = None;
        }
        self.take_liked(ctx, egui);
        self.take_found(ctx, egui);
        if let Some(Ok(done)) = self.charting.as_ref().map(|charting| charting.take(egui)) {
            let of = self.charting.take().map(|charting| charting.of.clone());
            self.charted = of.map(|of| (of, done.flatten().map(Arc::new)));
        }
        self.charted = self.charted.take().filter(|(of, _)| same_cloth(of, ctx.layout));
        let is_begun = self.charting.as_ref().is_some_and(|charting| same_cloth(&charting.of, ctx.layout));
        if self.charted.is_none() && !is_begun && Wish::check_layout(ctx.layout).is_ok() {
            self.charting = finder::chart(ctx.layout, egui);
        }
    }

    fn take_liked(&mut self, ctx: &Context<'_>, egui: &egui::Context) {
        let Some(Ok(done)) = self.liking.as_ref().map(|liking| liking.take(egui)) else { return };
        self.liking = None;
        match done {
            Some(Ok(wish)) => self.take_up(wish),
            Some(Err(refused)) => self.refused = Some(refused.say(ctx.voice())),
            None => {}
        }
    }

    fn take_found(&mut self, ctx: &Context<'_>, egui: &egui::Context) {
        let Some(Ok(done)) = self.search.as_ref().map(|search| search.take(egui)) else { return };
        self.search = None;
        match done {
            Some(Ok(fulfilled)) => self.found = Some(Found { of: ctx.layout.clone(), fulfilled, pictures: None }),
            Some(Err(error)) if !error.is_cancelled() => self.refused = Some(error.say(ctx.voice())),
            _ => {}
        }
    }

    /// Paints the wish anew when it has changed.
    fn paint_wish(&mut self, ctx: &Context<'_>, chart: &Chart, egui: &egui::Context) {
        let of = (self.wished.clone(), ctx.layout.clone());
        if self.painted.as_ref().is_some_and(|painted| painted.of.0 == of.0 && Arc::ptr_eq(&painted.of.1, &of.1)) {
            return;
        }
        let garment = ctx.layout.raw().garment.colour.as_ref().map_or(UNDYED, |swatch| swatch.srgb);
        let sketch = if self.wished.rings.is_empty() { None } else { Sketch::of(&self.wish(ctx.layout), ctx.layout).ok() };
        if sketch.is_none() && !self.wished.rings.is_empty() && self.painted.is_some() {
            // What can't be wished is told beside it.
            return;
        }
        let picture = chart.picture(|at_mm| sketch.as_ref().map_or(garment, |sketch| sketch.at(at_mm).unwrap_or(sketch.bare)));
        self.painted = Some(Painted { of, texture: texture(egui, "wish", &picture) });
    }

    fn paint_found(&mut self, chart: &Chart, egui: &egui::Context) {
        let Some(found) = self.found.as_mut().filter(|found| found.pictures.is_none()) else { return };
        let profile = &found.fulfilled.profile;
        let result = chart.picture(|at_mm| profile_at(profile, at_mm).and_then(|row| row.reached).unwrap_or(NOT_ASKED));
        let wished = |at_mm: f64| profile_at(profile, at_mm).filter(|row| row.is_asked);
        let off = chart.picture(|at_mm| wished(at_mm).and_then(|row| row.difference).map_or(NOT_ASKED, difference_colour));
        found.pictures = Some([texture(egui, "wish result", &result), texture(egui, "wish difference", &off)]);
    }

    /// Begins to look for binds.
    fn begin(&mut self, ctx: &Context<'_>, egui: &egui::Context) {
        let wish = self.wish(ctx.layout);
        self.found = None;
        self.refused = wish.check_on(ctx.layout).err().map(|error| FulfilError::from(error).say(ctx.voice()));
        if self.refused.is_none() {
            self.search = finder::search(wish, ctx.layout, egui);
        }
    }

    /// The choices and what came of them, in the panel beside the table.
    pub(crate) fn choices(&mut self, ctx: &Context<'_>, swatches: &Swatches, asks: &mut Vec<Ask>, ui: &mut Ui) {
        panel::show(self, ctx, swatches, asks, ui);
    }
}

impl Wished {
    /// The dyes to choose among.
    fn dyes<'a>(&'a self, layout: &'a Layout) -> &'a [Swatch] {
        if self.dyes.is_empty() { &layout.raw().colours.rotation } else { &self.dyes }
    }
}

/// White, as cloth comes.
const UNDYED: Srgb = Srgb { red: 245, green: 243, blue: 234 };
/// Cloth that nothing was wished of.
const NOT_ASKED: Srgb = Srgb { red: 150, green: 150, blue: 150 };

/// Why nothing can be wished of the layout; none where it can.
fn hindrance(ctx: &Context<'_>) -> Option<String> {
    let Told { what, cure, .. } = Wish::check_layout(ctx.layout).err()?.told(ctx.voice());
    Some(format!("{}; {cure}.", capitalised(&what)))
}

/// Whether two layouts are folded alike from the same cloth.
fn same_cloth(one: &Arc<Layout>, other: &Arc<Layout>) -> bool {
    let (a, b) = (one.raw(), other.raw());
    Arc::ptr_eq(one, other) || (a.garment == b.garment && a.fold == b.fold && one.zero_mm() == other.zero_mm())
}

fn texture(egui: &egui::Context, name: &str, picture: &crate::reveal::Picture) -> TextureHandle {
    let image = ColorImage::from_rgba_unmultiplied([picture.width, picture.height], &picture.rgba);
    egui.load_texture(name, image, TextureOptions::LINEAR)
}

/// The distance from the centre or the line under a point of the screen, mm.
fn distance_mm(chart: &Chart, place: Rect, at: Pos2) -> Option<f64> {
    let share = (at - place.min) / place.size();
    if !(0.0..1.0).contains(&share.x) || !(0.0..1.0).contains(&share.y) {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the picture")]
    let pixel = |share: f32, count: usize| (f64::from(share) * count as f64) as usize;
    chart.at_mm(pixel(share.x, chart.width), pixel(share.y, chart.height))
}

/// How many mm a point of the screen stands for.
fn mm_per_point(layout: &Layout, place: Rect) -> f64 {
    let height_mm = layout.panels().iter().map(|(_, panel)| panel.whole().bounds().height()).fold(0.0, f64::max);
    height_mm / f64::from(place.height()).max(1.0)
}

/// Where pictures of this height to width lie in a room, beside or under each other as they come out larger.
fn places(room: Rect, count: usize, height_to_width: f32) -> Vec<Rect> {
    let of = screen(count.max(1) as f64);
    let breadth = |columns: f32| {
        let rows = (of / columns).ceil();
        let across = (room.width() - GAP) / columns - GAP;
        across.min(((room.height() - GAP) / rows - HEAD - GAP) / height_to_width).max(1.0)
    };
    let columns = (1..=count.max(1))
        .map(|columns| screen(columns as f64))
        .max_by(|a, b| breadth(*a).total_cmp(&breadth(*b)))
        .unwrap_or(1.0);
    let size = vec2(breadth(columns), breadth(columns) * height_to_width);
    let place = |index: usize| {
        let index = screen(index as f64);
        let (row, column) = ((index / columns).floor(), index % columns);
        let at = vec2(GAP + column * (size.x + GAP), HEAD + row * (size.y + HEAD + GAP));
        Rect::from_min_size(room.min + at, size)
    };
    (0..count).map(place).collect()
}
