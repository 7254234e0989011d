//! The banner: what calls, until it is acknowledged.

use crate::app::context::Ask;
use crate::app::day::RunAsk;
use crate::app::theme::Palette;
use crate::plan::{Alarm, AlarmKind};
use egui::{Button, CornerRadius, Frame, Label, Margin, RichText, Role, Stroke, Ui, WidgetInfo};

/// Shows the alarms that stand; beside another view than the run's, with the way there.
pub(in crate::app) fn banner(standing: &[Alarm], is_run_shown: bool, asks: &mut Vec<Ask>, ui: &mut Ui) {
    let palette = Palette::of(ui.ctx());
    for alarm in standing {
        let tone = if alarm.kind == AlarmKind::Ready { palette.accent } else { palette.refused };
        let frame = Frame::NONE
            .stroke(Stroke::new(2.0, tone))
            .corner_radius(CornerRadius::same(6))
            .inner_margin(Margin::symmetric(10, 6));
        frame.show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.add(Label::new(RichText::new(alarm.sentence()).size(20.0).strong().color(tone)).wrap());
            ui.horizontal_wrapped(|ui| {
                let heard = ui.add(Button::new(RichText::new("OK").size(17.0)));
                heard.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("OK: {}", alarm.title)));
                if heard.clicked() {
                    asks.push(Ask::Run(RunAsk::Acknowledge(alarm.step, alarm.kind)));
                }
                if !is_run_shown && ui.button("Open the run").clicked() {
                    asks.push(Ask::Run(RunAsk::Show));
                }
            });
        });
        ui.add_space(4.0);
    }
}
