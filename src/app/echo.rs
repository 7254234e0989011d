//! What is left of a press that closed something: a slow double click must not reach what then lies under the pointer.

use egui::{Area, Id, Order, Pos2, Rect, Sense, Ui, Vec2, vec2};
use std::time::Duration;

/// How long after a press the next one by pointer is taken for part of it, s: a slow double click takes about half a second (practice).
pub(super) const QUIET_S: f64 = 0.6;
/// A hand moves the pointer less than this between the two presses of a double click, points (own choice).
const REACH: Vec2 = vec2(8.0, 8.0);

/// Where something was closed by a press a moment ago.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Echo {
    at: Option<(Pos2, f64)>,
}

impl Echo {
    /// To be told that something closed in this frame.
    pub(super) fn closed(&mut self, ui: &Ui) {
        let pressed = ui.input(|input| input.pointer.primary_clicked().then(|| input.pointer.interact_pos()).flatten());
        self.at = pressed.map(|at| (at, ui.input(|input| input.time)));
    }

    /// Takes what is pressed there again, for a moment.
    pub(super) fn take(&mut self, ui: &Ui) {
        let Some((at, since_s)) = self.at else { return };
        let left_s = since_s + QUIET_S - ui.input(|input| input.time);
        if left_s <= 0.0 {
            self.at = None;
            return;
        }
        let reach = Rect::from_center_size(at, 2.0 * REACH);
        let area = Area::new(Id::unique("echo of a press")).order(Order::Foreground).fixed_pos(reach.min);
        area.show(ui.ctx(), |ui| ui.allocate_exact_size(reach.size(), Sense::click()));
        ui.ctx().request_repaint_after(Duration::from_secs_f64(left_s));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::{Event, Modifiers, PointerButton};
    use egui_kittest::Harness;
    use egui_kittest::kittest::Queryable as _;

    #[derive(Default)]
    struct Asked {
        echo: Echo,
        is_answered: bool,
        removed: u32,
    }

    /// A question whose answer lies where afterwards something can be removed.
    fn asking() -> Harness<'static, Asked> {
        let show = |ui: &mut Ui, asked: &mut Asked| {
            asked.echo.take(ui);
            if asked.is_answered {
                asked.removed += u32::from(ui.button("Remove").clicked());
            } else if ui.button("Cancel").clicked() {
                asked.is_answered = true;
                asked.echo.closed(ui);
            }
        };
        Harness::builder().with_step_dt(0.05).build_ui_state(show, Asked::default())
    }

    fn press_twice(window: &mut Harness<'_, Asked>, label: &str) {
        let pos = window.get_by_label(label).rect().center();
        window.event(Event::PointerMoved(pos));
        window.step();
        for _ in 0..2 {
            for pressed in [true, false] {
                window.event(Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE });
            }
            (0..4).for_each(|_| window.step());
        }
    }

    #[test]
    fn the_second_press_of_a_double_click_meets_nothing() {
        let mut window = asking();
        press_twice(&mut window, "Cancel");
        assert!(window.state().is_answered);
        assert_eq!(window.state().removed, 0);
        (0..20).for_each(|_| window.step());
        press_twice(&mut window, "Remove");
        assert_eq!(window.state().removed, 2, "what is pressed later counts");
    }
}
