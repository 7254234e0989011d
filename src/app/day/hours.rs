//! Working hours and days off in the window, and how many of each place there are.

use super::job::named;
use crate::app::field;
use crate::plan::{DayHours, Weekday, Workshop, hours_words, said_hours};
use crate::telling::{Refused as _, Voice};
use egui::{Button, Ui};

/// Size of a day, points: seven of them fit the narrowest panel.
const DAY: egui::Vec2 = egui::vec2(34.0, 24.0);

/// When hands work.
pub(super) fn show(workshop: &mut Workshop, voice: Voice, ui: &mut Ui) {
    let read = |text: &str| {
        let hours = said_hours(text).map_err(|error| error.say(voice))?;
        DayHours::of(&hours, &[]).map_err(|error| error.say(voice))?;
        Ok(hours)
    };
    if let Some(hours) = field::read_wide(ui, "Working hours", &hours_words(&workshop.hours), read) {
        workshop.hours = hours;
    }
    ui.label("Days off");
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.spacing_mut().button_padding.x = 2.0;
        for day in Weekday::WEEK {
            let is_off = workshop.days_off.contains(&day);
            let name = day.name();
            // With its edge: a day that is worked on is a button too.
            let button = Button::new(name.get(..2).unwrap_or_default()).selected(is_off).min_size(DAY);
            // One day is left to work on.
            let is_last = !is_off && workshop.days_off.len() == 6;
            let response = ui.add_enabled_ui(!is_last, |ui| named(ui, button, &format!("{name} off"))).inner;
            if response.on_disabled_hover_text("Leave at least one day for work").clicked() {
                set_off(workshop, day, !is_off);
            }
        }
    });
}

fn set_off(workshop: &mut Workshop, day: Weekday, is_off: bool) {
    workshop.days_off = Weekday::WEEK
        .into_iter()
        .filter(|other| if *other == day { is_off } else { workshop.days_off.contains(other) })
        .collect();
}

/// How many places there are for work to lie in.
pub(super) fn places(workshop: &mut Workshop, ui: &mut Ui) {
    for (label, count) in [
        ("Tubs", &mut workshop.tubs),
        ("Sinks", &mut workshop.sinks),
        ("Washing machines", &mut workshop.washers),
        ("Tables", &mut workshop.tables),
        ("Rods on the rack", &mut workshop.rack_rods),
        ("Discharge vessels", &mut workshop.vessels),
    ] {
        if let Some(given) = field::count(ui, label, *count) {
            *count = given;
        }
    }
    if let Some(litres) = field::litres(ui, "Each tub, L", workshop.tub_l) {
        workshop.tub_l = litres;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_off_stand_in_the_weeks_order() {
        let mut workshop = Workshop::default();
        for day in [Weekday::Sunday, Weekday::Wednesday] {
            set_off(&mut workshop, day, true);
        }
        assert_eq!(workshop.days_off, [Weekday::Wednesday, Weekday::Sunday]);
        set_off(&mut workshop, Weekday::Wednesday, false);
        assert_eq!(workshop.days_off, [Weekday::Sunday]);
    }
}
