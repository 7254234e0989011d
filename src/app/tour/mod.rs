//! The tour: five stops through the window, each pointing at the real thing, to be left at any time.

mod spot;
mod stops;

pub(crate) use self::spot::{Spot, seen};
use self::stops::{STOPS, Stop};
use super::context::Ask;
use super::step::Step;
use super::theme::Palette;
use egui::{
    Align2, Area, Button, Context, CornerRadius, Frame, Id, Key, Label, LayerId, Modifiers, Order, Pos2, Rect, RichText, Stroke,
    StrokeKind, Ui, pos2, vec2,
};

/// Breadth of the card, points, and the height that is kept for it.
const WIDTH: f32 = 330.0;
const HEIGHT: f32 = 190.0;
/// Between the card and what it points at, and from the window's edge, points.
const APART: f32 = 14.0;
const MARGIN: f32 = 10.0;
/// The frame round what is pointed at, points: its distance, breadth and rounding.
const FRAME: (f32, f32, u8) = (3.0, 3.0, 6);

/// The tour while it goes on.
#[derive(Debug)]
pub(crate) struct Tour {
    /// The stop at hand, from 0.
    stop: usize,
    /// Whether it has not been shown yet: then its first answer gets the keys.
    is_new: bool,
    /// The step that showed before, to go back to; none where nothing was open.
    from: Option<Step>,
}

/// What became of it in a frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Turn {
    Stays,
    Ends,
}

impl Tour {
    /// A tour from its first stop; `at` is the step that shows, of a layout that is open.
    pub(crate) fn begin(at: Option<Step>, asks: &mut Vec<Ask>) -> Self {
        let tour = Self { stop: 0, is_new: true, from: at };
        tour.go(at.is_some(), asks);
        tour
    }

    /// Shows the stop at hand over the window. Escape leaves, unless something else has a use for it.
    pub(crate) fn show(&mut self, has_layout: bool, takes_keys: bool, asks: &mut Vec<Ask>, ui: &Ui) -> Turn {
        let Some(stop) = STOPS.get(self.stop) else { return Turn::Ends };
        let ctx = ui.ctx();
        let is_free = takes_keys && !ctx.text_edit_focused() && !egui::Popup::is_any_open(ctx);
        let mut leaves = is_free && ctx.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
        let spots: Vec<Rect> = stop.spots.iter().filter_map(|spot| seen(*spot, ctx)).collect();
        spots.iter().for_each(|spot| framed(*spot, ctx));
        let before = self.stop;
        let card = Area::new(Id::unique("tour")).order(Order::Foreground).fixed_pos(place(spots.first().copied(), ctx));
        card.show(ctx, |ui| {
            Frame::popup(ui.style()).inner_margin(14.0).show(ui, |ui| {
                ui.set_width(WIDTH - 28.0);
                leaves |= self.card(stop, has_layout, ui);
            });
        });
        if leaves || self.stop >= STOPS.len() {
            // Back to where it began, at its own end too.
            asks.extend(self.from.map(Ask::Go));
            return Turn::Ends;
        }
        if self.stop != before {
            self.is_new = true;
            self.go(has_layout, asks);
        }
        Turn::Stays
    }

    /// What stands on the card; whether the tour is to be left.
    fn card(&mut self, stop: &Stop, has_layout: bool, ui: &mut Ui) -> bool {
        let title = format!("{}. {}", self.stop + 1, stop.title);
        ui.label(RichText::new(&title).size(19.0).strong());
        let words = if has_layout { stop.words } else { stop.without_layout.unwrap_or(stop.words) };
        ui.add(Label::new(words).wrap());
        ui.add_space(10.0);
        let mut leaves = false;
        ui.horizontal(|ui| {
            let is_last = self.stop + 1 == STOPS.len();
            let next = ui.add(Button::new(if is_last { "Finish" } else { "Next" }));
            // Who can't see the card hears it with its button.
            ui.ctx().accesskit_node_builder(next.id, |node| node.set_description(format!("{title}. {words}")));
            if std::mem::take(&mut self.is_new) {
                next.request_focus();
            }
            let back = ui.add_enabled(self.stop > 0, Button::new("Previous"));
            if !is_last {
                leaves = ui.button("Leave the tour").on_hover_text("Take the tour, in the Help menu, begins it again").clicked();
            }
            ui.label(RichText::new(format!("{} of {}", self.stop + 1, STOPS.len())).weak());
            if next.clicked() {
                self.stop += 1;
            } else if back.clicked() {
                self.stop -= 1;
            }
        });
        leaves
    }

    /// Brings what a stop points at into sight: its step, of an example where nothing is open.
    fn go(&self, has_layout: bool, asks: &mut Vec<Ask>) {
        let Some(stop) = STOPS.get(self.stop) else { return };
        // The first stop is the start itself, where nothing is open.
        if !has_layout && self.stop > 0 {
            asks.push(Ask::OpenExample(0));
        }
        if has_layout || self.stop > 0 {
            asks.push(Ask::Go(stop.step));
        }
    }
}

/// A frame round what is pointed at, over everything but the card.
fn framed(spot: Rect, ctx: &Context) {
    let (distance, breadth, rounding) = FRAME;
    let rect = spot.expand(distance).intersect(ctx.content_rect().shrink(0.5 * breadth));
    let stroke = Stroke::new(breadth, Palette::of(ctx).accent);
    let painter = ctx.layer_painter(LayerId::new(Order::Middle, Id::unique("what the tour points at")));
    painter.rect_stroke(rect, CornerRadius::same(rounding), stroke, StrokeKind::Middle);
}

/// Where the card stands: right of what it points at, else below, else in a corner of it.
fn place(spot: Option<Rect>, ctx: &Context) -> Pos2 {
    let room = ctx.content_rect().shrink(MARGIN);
    let size = vec2(WIDTH, HEIGHT);
    let Some(spot) = spot else { return Align2::CENTER_CENTER.align_size_within_rect(size, room).min };
    let at = if spot.right() + APART + size.x <= room.right() {
        spot.right_top() + vec2(APART, APART)
    } else if spot.bottom() + APART + size.y <= room.bottom() {
        spot.left_bottom() + vec2(0.0, APART)
    } else {
        // Over its upper right corner, which is the least in the way.
        pos2(room.right() - size.x, spot.top() - APART - size.y)
    };
    at.clamp(room.min, room.max - size)
}
