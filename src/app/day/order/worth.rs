//! What an order says besides its rows: how deep its colours are, and what work is worth.

use super::Desk;
use crate::app::field::{self, choice};
use crate::app::heading::section;
use crate::plan::{Money, Region, ShadeDepth};
use egui::Ui;

const SHADES: [Option<ShadeDepth>; 5] =
    [None, Some(ShadeDepth::Pale), Some(ShadeDepth::Medium), Some(ShadeDepth::Full), Some(ShadeDepth::VeryDeep)];

/// The currency that an order begins with where the shelf names none.
const fn usual_currency(region: Region) -> &'static str {
    match region {
        Region::Europe => "EUR",
        Region::UnitedStates => "USD",
    }
}

/// The shade of each of these colours, those that the order names among them.
pub(in crate::app::day) fn shades(desk: &mut Desk, colours: &[String], ui: &mut Ui) {
    let named = desk.now().spec.depths.clone();
    let mut all: Vec<&String> = named.keys().collect();
    all.extend(colours.iter().filter(|colour| !named.contains_key(*colour)));
    all.sort();
    if all.is_empty() {
        return;
    }
    section(ui, "Shades", |ui| {
        for colour in all {
            let words = |shade: Option<ShadeDepth>| shade.map_or_else(|| "as the recipe".to_owned(), |shade| shade.to_string());
            if let Some(shade) = choice(ui, &format!("Shade, {colour}"), named.get(colour).copied(), &SHADES, words) {
                desk.change(&format!("the shade of {colour}"), |sheet| {
                    match shade {
                        Some(shade) => drop(sheet.spec.depths.insert(colour.clone(), shade)),
                        None => drop(sheet.spec.depths.remove(colour)),
                    };
                });
            }
        }
    });
}

/// What work is worth, and with it costs and prices.
pub(in crate::app::day) fn worth(desk: &mut Desk, currency: &str, ui: &mut Ui) {
    section(ui, "Prices", |ui| {
        let now = desk.now().spec.money.clone();
        let mut asked = now.is_some();
        let hint = "What each garment costs, and what to ask for it; supplies cost what the shelf or the order says";
        if ui.checkbox(&mut asked, "Work out prices").on_hover_text(hint).changed() {
            desk.change("whether prices are worked out", |sheet| {
                let currency = if currency.is_empty() { usual_currency(sheet.spec.workshop.region) } else { currency };
                let money = Money { currency: currency.to_owned(), hourly_rate: 0.0, margin_percent: 0.0 };
                sheet.spec.money = asked.then_some(money);
            });
        }
        let Some(now) = now.filter(|_| asked) else { return };
        let mut money = now.clone();
        money.currency = field::read(ui, "Currency", &now.currency, words).unwrap_or(money.currency);
        money.hourly_rate = field::number(ui, "An hour of work", now.hourly_rate).unwrap_or(money.hourly_rate);
        money.margin_percent = field::number(ui, "Margin, %", now.margin_percent).unwrap_or(money.margin_percent);
        if money != now {
            desk.change("what work is worth", |sheet| sheet.spec.money = Some(money));
        }
    });
}

fn words(text: &str) -> Result<String, String> {
    match text.trim() {
        "" => Err("Give a currency, such as EUR".to_owned()),
        text => Ok(text.to_owned()),
    }
}
