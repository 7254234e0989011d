//! A month to click a day in.

use super::job::named;
use crate::app::theme::Palette;
use crate::plan::Weekday as Off;
use egui::{Button, Grid, RichText, Ui, vec2};
use jiff::ToSpan as _;
use jiff::civil::{Date, Weekday};

/// The month that shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Month {
    /// A day of it.
    of: Date,
    /// The day that weeks begin with.
    first: Weekday,
}

/// What the days of a month are looked at for.
pub(super) struct Days<'a> {
    pub(super) chosen: Date,
    pub(super) today: Date,
    /// Days without work.
    pub(super) off: &'a [Off],
}

/// Size of a day, points.
const DAY: egui::Vec2 = vec2(36.0, 22.0);

impl Month {
    /// The month of a day, weeks as this machine's language has them.
    pub(super) fn of(day: Date) -> Self {
        let locale =
            ["LC_ALL", "LC_TIME", "LANG"].into_iter().find_map(|name| std::env::var(name).ok().filter(|at| !at.is_empty()));
        Self { of: day, first: first_of_week(locale.as_deref().unwrap_or_default()) }
    }

    /// Shows it; the day that was clicked.
    pub(super) fn show(&mut self, days: &Days<'_>, ui: &mut Ui) -> Option<Date> {
        ui.horizontal(|ui| {
            for (sign, name, months) in [("<", "Earlier month", -1), (">", "Later month", 1)] {
                if named(ui, Button::new(sign), name).clicked() {
                    self.of = self.of.checked_add(months.months()).unwrap_or(self.of);
                }
            }
            ui.label(RichText::new(self.of.strftime("%B %Y").to_string()).strong());
        });
        let mut clicked = None;
        Grid::new("month").num_columns(7).spacing(vec2(4.0, 4.0)).show(ui, |ui| {
            for day in self.weeks().first().into_iter().flatten() {
                let name = day.strftime("%a").to_string();
                ui.label(RichText::new(name.get(..2).unwrap_or_default()).weak());
            }
            ui.end_row();
            for week in self.weeks() {
                for day in week {
                    if self.day(day, days, ui) {
                        clicked = Some(day);
                    }
                }
                ui.end_row();
            }
        });
        clicked
    }

    fn day(&self, day: Date, days: &Days<'_>, ui: &mut Ui) -> bool {
        let palette = Palette::of(ui.ctx());
        let is_off = days.off.iter().any(|off| *off as i8 == day.weekday().to_monday_zero_offset());
        let mut words = RichText::new(day.day().to_string());
        if day == days.today {
            words = words.strong().underline();
        }
        if is_off || day.month() != self.of.month() {
            words = words.color(palette.faint);
        }
        let button = Button::selectable(day == days.chosen, words).min_size(DAY);
        let enabled = day >= days.today;
        let name = day.strftime("%A %-d %B %Y").to_string();
        let response = ui.add_enabled_ui(enabled, |ui| named(ui, button, &name)).inner;
        let response = if is_off { response.on_hover_text("A day off") } else { response };
        response.clicked()
    }

    /// Its days, whole weeks of them.
    fn weeks(&self) -> Vec<[Date; 7]> {
        let first = self.of.first_of_month();
        let back = first.weekday().since(self.first);
        let mut week = first.checked_sub(i64::from(back).days()).unwrap_or(first);
        let mut weeks = Vec::new();
        while week <= self.of.last_of_month() {
            weeks.push(std::array::from_fn(|day| {
                let ahead = i64::try_from(day).unwrap_or(0);
                week.checked_add(ahead.days()).unwrap_or(week)
            }));
            match week.checked_add(7.days()) {
                Ok(next) => week = next,
                Err(_end_of_calendar) => break,
            }
        }
        weeks
    }
}

/// Territories whose weeks begin with Sunday, and with Saturday; elsewhere with Monday (Unicode CLDR, weekData, those that several copies
/// of it agree on; not compared with the newest).
const SUNDAY: &str = "AG AS BR BS BT BW BZ CA CO DM DO ET GT GU HK HN ID IL IN JM JP KE KH KR LA MH MM MO MT MX MZ NI NP PA PE PH PK PR \
                      SG TH TT TW UM US VE VI ZA ZW";
const SATURDAY: &str = "AF BH DJ DZ EG IQ IR JO KW LY OM QA SD SY";

/// The day that weeks begin with, by a locale such as `en_US.UTF-8`.
fn first_of_week(locale: &str) -> Weekday {
    let bare = locale.split(['.', '@']).next().unwrap_or_default();
    let territory = bare.split(['_', '-']).nth(1).unwrap_or_default();
    let is_in = |list: &str| !territory.is_empty() && list.split_whitespace().any(|known| known == territory);
    match (is_in(SUNDAY), is_in(SATURDAY)) {
        (true, _) => Weekday::Sunday,
        (_, true) => Weekday::Saturday,
        _ => Weekday::Monday,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn month(of: &str, first: Weekday) -> Month {
        Month { of: of.parse().unwrap(), first }
    }

    /// Against the pages of `cal` and `cal -s`, November 2026 and February 2027, which has four weeks of its own.
    #[test]
    fn weeks_are_whole_and_begin_where_they_do() {
        for (of, first, begins, count) in [
            ("2026-11-27", Weekday::Monday, "2026-10-26", 6),
            ("2026-11-27", Weekday::Sunday, "2026-11-01", 5),
            ("2027-02-01", Weekday::Monday, "2027-02-01", 4),
            ("2027-02-28", Weekday::Sunday, "2027-01-31", 5),
        ] {
            let weeks = month(of, first).weeks();
            assert_eq!((weeks[0][0], weeks.len()), (begins.parse().unwrap(), count), "{of}, {first:?}");
            assert!(weeks.iter().flatten().zip(weeks.iter().flatten().skip(1)).all(|(a, b)| a.tomorrow().unwrap() == *b));
        }
        assert!(!month("9999-12-31", Weekday::Monday).weeks().is_empty());
    }

    #[test]
    fn weeks_begin_as_the_territory_has_them() {
        for (locale, first) in [
            ("en_US.UTF-8", Weekday::Sunday),
            ("pt_BR", Weekday::Sunday),
            ("de_DE.UTF-8@euro", Weekday::Monday),
            ("en_GB", Weekday::Monday),
            ("ar-EG", Weekday::Saturday),
            ("C", Weekday::Monday),
            ("", Weekday::Monday),
        ] {
            assert_eq!(first_of_week(locale), first, "{locale}");
        }
    }
}
