//! Stepping a value with arrows or wheel.

use super::values::{plain_number, read_length, whole_number};
use crate::app::context::Context;
use egui::{Event, Id, Key, Modifiers, MouseWheelUnit, Ui};

/// What the text becomes when its value is stepped up so many times, or down; none where it is no such value.
pub(super) type Step<'a> = dyn Fn(&str, f64) -> Option<String> + 'a;

/// A length goes from mark to mark of the rule.
pub(super) fn stepped_length(ctx: &Context<'_>, text: &str, steps: f64) -> Option<String> {
    let mark_mm = ctx.step_mm();
    let marks = read_length(ctx, text).ok()? / mark_mm;
    // One that lies between two marks goes to the next one first.
    let next = if steps > 0.0 { (marks + EXACT).floor() } else { (marks - EXACT).ceil() } + steps;
    Some(ctx.lengths.format(next * mark_mm))
}

/// A plain number goes by one in its last place.
pub(super) fn stepped_number(text: &str, steps: f64) -> Option<String> {
    let text = text.trim().replace(',', ".");
    let places = text.split_once('.').map_or(0, |(_, places)| places.len()).min(MOST_PLACES);
    let digits = i32::try_from(places).unwrap_or(0);
    Some(format!("{:.places$}", plain_number(&text).ok()? + steps * 10_f64.powi(-digits)))
}

pub(super) fn stepped_count(text: &str, steps: f64) -> Option<String> {
    Some(format!("{:.0}", (f64::from(whole_number(text).ok()?) + steps).max(0.0)))
}

/// How near, of a mark, a length counts as lying on it.
const EXACT: f64 = 1e-6;
/// Most places behind the point that a number is stepped by.
const MOST_PLACES: usize = 3;
/// Points that fingers on a pad go for a step.
const POINTS_A_STEP: f64 = 40.0;
/// Steps at once with Shift.
const LONG_STEP: f64 = 10.0;

/// How many steps up or down are asked for of the field with the focus: by arrows, or by the wheel over it.
pub(super) fn steps(ui: &Ui, field: Id) -> f64 {
    let is_over = ui.ctx().read_response(field).is_some_and(|response| response.contains_pointer());
    let left = ui.data(|data| data.get_temp::<f64>(field)).unwrap_or(0.0);
    let (arrows, turned) = ui.input_mut(|input| {
        let mut arrows = 0.0;
        for (modifiers, length) in [(Modifiers::SHIFT, LONG_STEP), (Modifiers::NONE, 1.0)] {
            for (key, way) in [(Key::ArrowUp, 1.0), (Key::ArrowDown, -1.0)] {
                let times = u32::try_from(input.count_and_consume_key(modifiers, key)).unwrap_or(0);
                arrows += way * length * f64::from(times);
            }
        }
        if !is_over {
            return (arrows, 0.0);
        }
        // The panel does not scroll away from under it.
        input.smooth_scroll_delta.y = 0.0;
        let turns = input.events.iter().map(|event| match event {
            Event::MouseWheel { unit: MouseWheelUnit::Point, delta, .. } => f64::from(delta.y) / POINTS_A_STEP,
            // A fine wheel comes in parts of a line.
            Event::MouseWheel { delta, .. } => f64::from(delta.y),
            _ => 0.0,
        });
        (arrows, turns.sum())
    });
    // Fingers on a pad come a few points at a time.
    let sum = if is_over { left + turned } else { 0.0 };
    ui.data_mut(|data| data.insert_temp(field, sum.fract()));
    arrows + sum.trunc()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_goes_by_one_in_its_last_place() {
        for (text, steps, next) in [("0.968", 1.0, "0.969"), ("12,5", -2.0, "12.3"), ("9", 10.0, "19"), ("0.1", -1.0, "0.0")] {
            assert_eq!(stepped_number(text, steps).as_deref(), Some(next));
        }
        assert_eq!((stepped_number("", 1.0), stepped_number("many", 1.0)), (None, None));
        assert_eq!(stepped_count("3", -5.0).as_deref(), Some("0"));
    }
}
