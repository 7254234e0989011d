//! Choosing a colour: swatches first, then any shade in a plane, or its name or digits.

use super::context::{Ask, Context};
use super::field;
use super::theme::{Palette, tone};
use crate::layout::{Srgb, Swatch};
use crate::telling::Refused as _;
use egui::{
    Color32, CornerRadius, CursorIcon, EventFilter, Id, Key, Mesh, Modifiers, Popup, PopupCloseBehavior, Pos2, Rect, Response,
    Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2,
};

/// What a maker takes a colour from.
pub(super) struct Picker<'a> {
    /// What is coloured.
    pub(super) label: &'a str,
    pub(super) now: Srgb,
    /// Swatches to take one of, and whether each can be taken; gathered when they are asked for.
    pub(super) offered: &'a dyn Fn() -> Offered<'a>,
    /// Whether it may be said to be mixed of others.
    pub(super) mixes: bool,
}

/// Swatches, and whether each can be taken.
pub(super) type Offered<'a> = Vec<(&'a Swatch, bool)>;

/// What was taken.
pub(super) enum Taken {
    /// A swatch, with its name.
    Swatch(Swatch),
    /// A colour without one.
    Colour(Srgb),
    /// The same colour, mixed of others.
    Mixture,
}

/// Size of the button, of a swatch to take and of one beside its name, of the plane, and height of the band of hues, points.
const BUTTON: Vec2 = vec2(40.0, 26.0);
const PATCH: Vec2 = vec2(30.0, 26.0);
const SMALL_PATCH: Vec2 = vec2(22.0, 18.0);
const PLANE: Vec2 = vec2(272.0, 150.0);
const BAND: f32 = 22.0;
/// Swatches in a row.
const IN_A_ROW: usize = 8;
/// Most height of the swatches' list, points.
const LIST: f32 = 132.0;
/// Share of the plane or the band that an arrow key goes.
const KEY_STEP: f32 = 0.02;
/// Corners of the plane's mesh along a side: triangles between them hide that colours are not linear across it.
const CORNERS: u16 = 13;

impl Picker<'_> {
    /// A button in the colour, and what it opens: the button, and what was taken.
    pub(super) fn show(&self, ctx: &Context<'_>, asks: &mut Vec<Ask>, ui: &mut Ui) -> (Response, Option<Taken>) {
        let (rect, button) = ui.allocate_exact_size(BUTTON, Sense::click_and_drag());
        button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("{}: colour", self.label)));
        let edge = ui.style().interact(&button).fg_stroke.color;
        ui.painter().rect(rect, CornerRadius::same(4), tone(self.now), Stroke::new(1.0, edge), StrokeKind::Inside);
        let button = button.on_hover_cursor(CursorIcon::PointingHand);
        let opened = Popup::from_toggle_button_response(&button).close_behavior(PopupCloseBehavior::CloseOnClickOutside);
        let taken = opened.show(|ui| self.open(ctx, button.id, asks, ui)).and_then(|shown| shown.inner);
        (button, taken)
    }

    fn open(&self, ctx: &Context<'_>, id: Id, asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Taken> {
        ui.set_width(PLANE.x);
        let offered = (self.offered)();
        let swatch = swatches(&offered, ui);
        let shade = self.shades(id, asks, ui);
        let typed = field::read_wide(ui, "Name or digits", &self.now.to_string(), |text| read(ctx, &offered, text));
        let words = "Say what the powder is made of, if its dyes part in the cloth";
        let mixture = self.mixes && ui.button("Mixed of…").on_hover_text(words).clicked();
        if mixture {
            ui.close();
        }
        swatch.map(Taken::Swatch).or(shade.map(Taken::Colour)).or(typed).or(mixture.then_some(Taken::Mixture))
    }

    /// The colour that a name stands for: that of a swatch, else one that everybody knows.
    pub(super) fn known(&self, name: &str) -> Option<Srgb> {
        let own = (self.offered)().into_iter().find(|(swatch, _)| swatch.name.eq_ignore_ascii_case(name.trim()));
        let is_word = name.chars().all(|letter| letter.is_alphabetic() || letter == ' ');
        own.map(|(swatch, _)| swatch.srgb).or_else(|| Srgb::from_typed(name).ok().filter(|_| is_word))
    }

    /// Saturation to the right and value upward, and below them the hues.
    fn shades(&self, id: Id, asks: &mut Vec<Ask>, ui: &mut Ui) -> Option<Srgb> {
        // Greys have no hue: the one that was chosen last stays.
        let kept = ui.data(|data| data.get_temp::<[f32; 3]>(id)).filter(|hsv| Srgb::from_hsv(*hsv) == self.now);
        let [mut hue, mut saturation, mut value] = kept.unwrap_or_else(|| self.now.to_hsv());
        let plane = handle(ui, PLANE, &format!("{}: shade", self.label), asks);
        if let Some(share) = share(&plane) {
            (saturation, value) = (share.x, 1.0 - share.y);
        }
        let by_keys = arrows(&plane, ui);
        (saturation, value) = ((saturation + by_keys.x).clamp(0.0, 1.0), (value - by_keys.y).clamp(0.0, 1.0));
        let band = handle(ui, vec2(PLANE.x, BAND), &format!("{}: hue", self.label), asks);
        if let Some(share) = share(&band) {
            // The band's right end is its left end again.
            hue = (360.0 * share.x).min(359.9);
        }
        hue = (hue + 360.0 * arrows(&band, ui).x).rem_euclid(360.0);
        let shade = |x: f32, y: f32| tone(Srgb::from_hsv([hue, x, 1.0 - y]));
        grid(ui, plane.rect, [CORNERS, CORNERS], shade);
        grid(ui, band.rect, [CORNERS, 2], |x, _| tone(Srgb::from_hsv([(360.0 * x).min(359.9), 1.0, 1.0])));
        let at = |rect: Rect, x: f32, y: f32| pos2(rect.left() + x * rect.width(), rect.top() + y * rect.height());
        knob(ui, at(plane.rect, saturation, 1.0 - value));
        knob(ui, at(band.rect, hue / 360.0, 0.5));
        let chosen = Srgb::from_hsv([hue, saturation, value]);
        ui.data_mut(|data| data.insert_temp(id, [hue, saturation, value]));
        let is_held = [&plane, &band].iter().any(|place| place.has_focus() || share(place).is_some());
        (chosen != self.now && is_held).then_some(chosen)
    }
}

/// What is typed: the name of a swatch that is offered before those that everybody knows.
fn read(ctx: &Context<'_>, offered: &Offered<'_>, text: &str) -> Result<Taken, String> {
    let is_it = |swatch: &Swatch| swatch.name.eq_ignore_ascii_case(text.trim());
    match offered.iter().find(|(swatch, _)| is_it(swatch)) {
        Some((swatch, true)) => Ok(Taken::Swatch((*swatch).clone())),
        Some((swatch, false)) => Ok(Taken::Colour(swatch.srgb)),
        None => Srgb::from_typed(text).map(Taken::Colour).map_err(|error| error.say(ctx.voice())),
    }
}

/// The swatches to take one of.
fn swatches(offered: &Offered<'_>, ui: &mut Ui) -> Option<Swatch> {
    let mut taken = None;
    egui::ScrollArea::vertical().id_salt("swatches").max_height(LIST).show(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(4.0, 4.0);
        for row in offered.chunks(IN_A_ROW) {
            ui.horizontal(|ui| {
                for (swatch, free) in row {
                    if patch(swatch, *free, ui).clicked() {
                        taken = Some((*swatch).clone());
                        ui.close();
                    }
                }
            });
        }
    });
    taken
}

/// A patch of a swatch's colour, and beside it what stands for it.
pub(super) fn with_patch<T>(swatch: &Swatch, ui: &mut Ui, add: impl FnOnce(&mut Ui) -> T) -> T {
    ui.horizontal(|ui| {
        let (rect, response) = ui.allocate_exact_size(SMALL_PATCH, Sense::hover());
        response.widget_info(|| WidgetInfo::labeled(Role::ColorWell, true, format!("Colour of {}", swatch.name)));
        paint_patch(rect, tone(swatch.srgb), ui);
        add(ui)
    })
    .inner
}

/// A colour with an edge, without which one like the panel's could not be seen.
fn paint_patch(rect: Rect, colour: Color32, ui: &Ui) {
    let edge = Stroke::new(1.0, Palette::of(ui.ctx()).faint);
    ui.painter().rect(rect, CornerRadius::same(3), colour, edge, StrokeKind::Inside);
}

/// A swatch in the list.
fn patch(swatch: &Swatch, free: bool, ui: &mut Ui) -> Response {
    let (rect, response) = ui.allocate_exact_size(PATCH, if free { Sense::click() } else { Sense::hover() });
    response.widget_info(|| WidgetInfo::labeled(Role::Button, free, format!("Take {}", swatch.name)));
    let colour = if free { tone(swatch.srgb) } else { tone(swatch.srgb).gamma_multiply(0.3) };
    paint_patch(rect, colour, ui);
    if response.hovered() || response.has_focus() {
        let stroke = Stroke::new(2.0, Palette::of(ui.ctx()).accent);
        ui.painter().rect_stroke(rect, CornerRadius::same(3), stroke, StrokeKind::Outside);
    }
    let words = if free { swatch.name.clone() } else { format!("{}, in use already", swatch.name) };
    response.on_hover_text(words)
}

/// Something to press or drag in; a drag is one step.
fn handle(ui: &mut Ui, size: Vec2, label: &str, asks: &mut Vec<Ask>) -> Response {
    let (_, response) = ui.allocate_exact_size(size, Sense::click_and_drag());
    response.widget_info(|| WidgetInfo::labeled(Role::Canvas, true, label));
    if response.drag_started() {
        asks.push(Ask::BeginGesture("choose colour".to_owned()));
    }
    if response.drag_stopped() {
        asks.push(Ask::EndGesture);
    }
    response
}

/// Where it is pressed, each way from 0 to 1.
fn share(response: &Response) -> Option<Vec2> {
    let at = response.interact_pointer_pos().filter(|_| response.dragged() || response.clicked())?;
    Some(((at - response.rect.min) / response.rect.size()).clamp(Vec2::ZERO, Vec2::splat(1.0)))
}

/// How far arrows go, right and down, where it has the focus.
fn arrows(response: &Response, ui: &Ui) -> Vec2 {
    if !response.has_focus() {
        return Vec2::ZERO;
    }
    let own = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, own));
    let way = |key, x, y| (key, vec2(x, y));
    let ways = [
        way(Key::ArrowLeft, -1.0, 0.0),
        way(Key::ArrowRight, 1.0, 0.0),
        way(Key::ArrowUp, 0.0, -1.0),
        way(Key::ArrowDown, 0.0, 1.0),
    ];
    let pressed = |(key, way)| if ui.input_mut(|input| input.consume_key(Modifiers::NONE, key)) { way } else { Vec2::ZERO };
    KEY_STEP * ways.into_iter().map(pressed).fold(Vec2::ZERO, |sum, way| sum + way)
}

/// Colours of so many corners each way, from 0 to 1.
fn grid(ui: &Ui, rect: Rect, [across, down]: [u16; 2], colour: impl Fn(f32, f32) -> Color32) {
    let mut mesh = Mesh::default();
    for row in 0..down {
        for column in 0..across {
            let (x, y) = (f32::from(column) / f32::from(across - 1), f32::from(row) / f32::from(down - 1));
            mesh.colored_vertex(rect.min + vec2(x, y) * rect.size(), colour(x, y));
            if row > 0 && column > 0 {
                let here = u32::from(row) * u32::from(across) + u32::from(column);
                let above = here - u32::from(across);
                mesh.add_triangle(above - 1, above, here - 1);
                mesh.add_triangle(above, here - 1, here);
            }
        }
    }
    ui.painter().add(mesh);
}

fn knob(ui: &Ui, at: Pos2) {
    ui.painter().circle_stroke(at, 7.0, Stroke::new(3.0, Color32::BLACK));
    ui.painter().circle_stroke(at, 7.0, Stroke::new(1.5, Color32::WHITE));
}
