//! What keys do in the projected picture.

use super::{Projection, Stage};
use crate::projection::TableScene;
use egui::{Key, Modifiers, Ui};
use kurbo::Vec2;

/// What keys and pointer do in the projected picture, for the help.
pub(crate) const PROJECTING: [(&str, &str); 7] = [
    ("Page Down, Page Up", "Next layer, layer before"),
    ("Space, Backspace", "The same"),
    (
        "Arrow keys",
        "Move the layout a little (Shift: a tenth of that); at the corners, the chosen one by a pixel (Shift: a tenth)",
    ),
    ("[ and ]", "Turn the layout by a degree (Shift: a tenth)"),
    ("1 to 9", "Choose a corner or middle of the rectangle"),
    ("Drag", "Move the layout, or a corner"),
    ("Escape", "End the projection"),
];

/// How far a key moves the layout on the table, mm, and turns it, degrees; with Shift a tenth.
const STEP_MM: f64 = 5.0;
const STEP_DEGREES: f64 = 1.0;
/// How far a key moves a mark, px; with Shift a tenth.
const STEP_PX: f64 = 1.0;
const FINE: f64 = 0.1;

const ARROWS: [(Key, f64, f64); 4] =
    [(Key::ArrowLeft, -1.0, 0.0), (Key::ArrowRight, 1.0, 0.0), (Key::ArrowUp, 0.0, -1.0), (Key::ArrowDown, 0.0, 1.0)];
const NUMBERS: [Key; 9] = [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];

/// How often a key was pressed, with Shift as a tenth each.
fn pressed(ui: &Ui, key: Key) -> f64 {
    // With Shift first: a key without it is taken for one with it.
    let [fine, plain] =
        ui.input_mut(|input| [Modifiers::SHIFT, Modifiers::NONE].map(|held| input.count_and_consume_key(held, key)));
    let count = |times: usize| u32::try_from(times).map_or(0.0, f64::from);
    FINE * count(fine) + count(plain)
}

impl Projection {
    /// Does what the keys say that were pressed in the picture.
    pub(super) fn keys(&mut self, scene: &TableScene, ui: &Ui) {
        if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
            return self.close();
        }
        let by: Vec2 =
            ARROWS.into_iter().map(|(key, x, y)| pressed(ui, key) * Vec2::new(x, y)).fold(Vec2::ZERO, |sum, by| sum + by);
        match self.stage {
            Stage::Marks => {
                let chosen = NUMBERS.iter().position(|key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, *key)));
                let count = self.projector.as_ref().map_or(0, |projector| projector.marks.len());
                self.mark = chosen.filter(|mark| *mark < count).unwrap_or(self.mark);
                self.move_mark(self.mark, STEP_PX * by);
            }
            Stage::Show => {
                self.step_layer(ui);
                let turn = pressed(ui, Key::CloseBracket) - pressed(ui, Key::OpenBracket);
                if (by == Vec2::ZERO && turn == 0.0) || self.placed(scene).is_none() {
                    return;
                }
                let turn_rad = (STEP_DEGREES * turn).to_radians();
                self.placement =
                    self.placement.map(|placed| placed.moved(STEP_MM * by).turned(turn_rad, scene.bounds().center()));
            }
            Stage::Rectangle | Stage::Check => {}
        }
    }

    fn step_layer(&mut self, ui: &Ui) {
        let any = |keys: [Key; 2]| keys.into_iter().any(|key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key)));
        if any([Key::PageDown, Key::Space]) {
            self.layer = self.layer.next();
        }
        if any([Key::PageUp, Key::Backspace]) {
            self.layer = self.layer.back();
        }
    }

    /// Moves a mark in the picture, px; it stays within.
    pub(super) fn move_mark(&mut self, mark: usize, by: Vec2) {
        let Some(projector) = &mut self.projector else { return };
        let [width, height] = projector.picture.map(f64::from);
        if let Some(at) = projector.marks.get_mut(mark).filter(|_| by != Vec2::ZERO) {
            *at += by;
            (at.x, at.y) = (at.x.clamp(0.0, width), at.y.clamp(0.0, height));
        }
    }
}
