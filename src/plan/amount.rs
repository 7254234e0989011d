//! Amounts that carry their own formula, and figures that carry their source.

use crate::geometry::SourceStatus;
use crate::measure::{LengthStyle, LengthUnit, RuleMarks, total};
use serde::Serialize;
use std::fmt;

/// What an amount is counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Unit {
    /// Grams.
    #[serde(rename = "g")]
    Gram,
    /// Litres.
    #[serde(rename = "L")]
    Litre,
    /// Metres.
    #[serde(rename = "m")]
    Metre,
    /// Yards.
    #[serde(rename = "yd")]
    Yard,
    /// Millilitres.
    #[serde(rename = "mL")]
    Millilitre,
    /// Millimetres.
    #[serde(rename = "mm")]
    Millimetre,
    /// Degrees Celsius.
    #[serde(rename = "C")]
    Celsius,
    /// Minutes.
    #[serde(rename = "min")]
    Minute,
    /// Hours.
    #[serde(rename = "h")]
    Hour,
    /// Kilojoules.
    #[serde(rename = "kJ")]
    Kilojoule,
    /// pH, at 25 C.
    #[serde(rename = "pH")]
    Ph,
    /// Parts of gas in a million parts of air, by volume.
    #[serde(rename = "ppm")]
    Ppm,
}

impl Unit {
    /// Its sign; none for pH.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Gram => "g",
            Self::Litre => "L",
            Self::Metre => "m",
            Self::Yard => "yd",
            Self::Millilitre => "mL",
            Self::Millimetre => "mm",
            Self::Celsius => "°C",
            Self::Minute => "min",
            Self::Hour => "h",
            Self::Kilojoule => "kJ",
            Self::Ph => "",
            Self::Ppm => "ppm",
        }
    }

    /// What thread is counted in where lengths are written so: as it is sold.
    #[must_use]
    pub const fn of_thread(lengths: LengthStyle) -> Self {
        if lengths.is_metric() { Self::Metre } else { Self::Yard }
    }

    /// One of it, mm, if it is a length of thread.
    #[must_use]
    pub const fn in_mm(self) -> Option<f64> {
        match self {
            Self::Metre => Some(LengthUnit::Metre.in_mm()),
            Self::Yard => Some(LengthUnit::Yard.in_mm()),
            _ => None,
        }
    }

    /// So much of it in words, rounded as a maker weighs: three figures, grams from 1000 on as kilograms. Lengths are those of thread,
    /// whose pieces are to add up: they are said whole. What would be rounded to nothing is said to be under a hundredth.
    ///
    /// ```
    /// use pleatwright::plan::Unit;
    /// assert_eq!((Unit::Gram.say(12.34), Unit::Gram.say(2434.0)), ("12.3 g".to_owned(), "2.43 kg".to_owned()));
    /// ```
    #[must_use]
    pub fn say(self, value: f64) -> String {
        match self {
            Self::Gram | Self::Millilitre if value > 0.0 && short(value) == "0" => format!("under {LEAST_SAID} {}", self.sign()),
            Self::Gram if value >= 1000.0 => format!("{} kg", short(value / 1000.0)),
            // An estimate at best: a tenth of an hour says enough.
            Self::Hour => format!("{value:.1} h"),
            Self::Ph => format!("pH {value:.1}"),
            // Estimates too: no tenths of a degree, no seconds.
            Self::Celsius | Self::Minute | Self::Millimetre => format!("{value:.0} {}", self.sign()),
            Self::Metre => RuleMarks::Millimetres1.lengths().format_long(value * LengthUnit::Metre.in_mm()),
            Self::Yard => RuleMarks::InchSixteenth.lengths().format_long(value * LengthUnit::Yard.in_mm()),
            unit => format!("{} {}", short(value), unit.sign()),
        }
    }
}

/// Least that is told of a mass or a volume.
const LEAST_SAID: f64 = 0.01;

/// A figure that a recipe gives, with where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced {
    /// The value, in the unit that the field's name says.
    pub value: f64,
    /// How far it can be trusted.
    pub status: SourceStatus,
    /// Where it was read, or how it was found out.
    pub source: String,
}

impl Sourced {
    /// A figure with its status and no further words.
    #[must_use]
    pub const fn new(value: f64, status: SourceStatus) -> Self {
        Self { value, status, source: String::new() }
    }
}

/// A computed amount with the formula that led to it, the numbers put in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Amount {
    /// The value, exact; rounding is for the reader's eye.
    pub value: f64,
    /// What it is counted in.
    pub unit: Unit,
    /// The formula with the numbers put in.
    pub formula: String,
    /// The weakest status of what went in: a formula is no better than its poorest figure.
    pub status: SourceStatus,
    /// The same in kitchen measures, roughly, where a bulk density is published.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kitchen: Option<KitchenMeasure>,
}

impl Amount {
    pub(super) fn new(value: f64, unit: Unit, status: SourceStatus, formula: String) -> Self {
        Self { value, unit, formula, status, kitchen: None }
    }

    /// The value in another unit of length; as it is in any other unit.
    #[must_use]
    pub fn value_in(&self, unit: Unit) -> f64 {
        match (self.unit.in_mm(), unit.in_mm()) {
            (Some(own_mm), Some(other_mm)) if self.unit != unit => self.value * own_mm / other_mm,
            _ => self.value,
        }
    }

    /// The sum of amounts of one unit, or of lengths; its formula names them in order.
    #[must_use]
    pub fn sum<'a>(unit: Unit, amounts: impl IntoIterator<Item = &'a Self>) -> Self {
        let amounts: Vec<&Self> = amounts.into_iter().collect();
        let value = total(amounts.iter().map(|amount| amount.value_in(unit)));
        let status = amounts.iter().map(|amount| amount.status).max().unwrap_or(SourceStatus::Computed);
        Self::new(value, unit, status, runs(&amounts))
    }
}

/// `3 x 12.4 g + 20.1 g`: equal neighbours are counted.
fn runs(amounts: &[&Amount]) -> String {
    let mut terms: Vec<(String, usize)> = Vec::new();
    for amount in amounts {
        let term = amount.to_string();
        match terms.last_mut() {
            Some((last, count)) if *last == term => *count += 1,
            _ => terms.push((term, 1)),
        }
    }
    let write = |(term, count): (String, usize)| if count == 1 { term } else { format!("{count} x {term}") };
    let written: Vec<_> = terms.into_iter().map(write).collect();
    if written.is_empty() { "nothing".to_owned() } else { written.join(" + ") }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.unit.say(self.value))
    }
}

/// A number to three figures, with a decimal point and without needless noughts.
#[must_use]
pub fn short(value: f64) -> String {
    let decimals = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        _ => 2,
    };
    let text = format!("{value:.decimals$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A length in mm to as many figures as [`short`] gives a number.
pub(super) fn to_three_figures(mm: f64) -> f64 {
    let step_mm = if mm.abs() >= 100.0 { 1.0 } else { 0.1 };
    (mm / step_mm).round() * step_mm
}

/// One US teaspoon, mL: exact, household table after NIST Handbook 44 App. C.
pub const TEASPOON_ML: f64 = 4.928_921_593_75;
/// One US cup, mL: exact, as above.
pub const CUP_ML: f64 = 236.588_236_5;
/// Bulk density of light soda ash at its loosest, g/mL: published, IS 251:1998.
pub const LIGHT_SODA_ASH_G_PER_ML: f64 = 0.50;
/// Bulk density of dense soda ash at its closest, g/mL: 1.1 (published with the grade).
pub const DENSE_SODA_ASH_G_PER_ML: f64 = 1.1;

/// A rough kitchen measure: from so many to so many, because the powder lies loose or dense.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct KitchenMeasure {
    /// Fewest US teaspoons: the powder at its densest.
    pub least_teaspoons: f64,
    /// Most US teaspoons: the powder at its loosest.
    pub most_teaspoons: f64,
}

impl KitchenMeasure {
    /// Kitchen measure of soda ash: `grams / bulk density / teaspoon`, for the loosest and the densest grade.
    #[must_use]
    pub fn of_soda_ash(grams: f64) -> Self {
        let teaspoons = |grams_per_ml: f64| grams / grams_per_ml / TEASPOON_ML;
        Self { least_teaspoons: teaspoons(DENSE_SODA_ASH_G_PER_ML), most_teaspoons: teaspoons(LIGHT_SODA_ASH_G_PER_ML) }
    }
}

/// What is to be said once, below a list that holds a [`KitchenMeasure`].
pub const WEIGH_IF_YOU_CAN: &str = "Weigh soda ash if you can: spoons and cups are rough.";

/// As `roughly 0.4 to 0.9 US teaspoons`.
impl fmt::Display for KitchenMeasure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let per_cup = CUP_ML / TEASPOON_ML;
        let (by, name) = if self.least_teaspoons >= per_cup / 4.0 { (per_cup, "cups") } else { (1.0, "teaspoons") };
        let (least, most) = (self.least_teaspoons / by, self.most_teaspoons / by);
        let [least, most] = [least, most].map(|spoons| format!("{spoons:.1}"));
        match (least.as_str(), most.as_str()) {
            (_, "0.0") => write!(f, "less than 0.1 US {name}"),
            ("0.0", _) => write!(f, "at most {most} US {name}"),
            _ if least == most => write!(f, "roughly {most} US {name}"),
            _ => write!(f, "roughly {least} to {most} US {name}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        let cases = [(0.0, "0"), (0.126, "0.13"), (1.5, "1.5"), (12.34, "12.3"), (100.0, "100"), (1234.6, "1235"), (20.0, "20")];
        for (value, text) in cases {
            assert_eq!(short(value), text);
        }
    }

    /// 0.004 g used to be "0 g".
    #[test]
    fn what_is_there_is_never_said_to_be_nothing() {
        assert_eq!([0.004, 0.0, 0.006].map(|grams| Unit::Gram.say(grams)), ["under 0.01 g", "0 g", "0.01 g"]);
        assert_eq!(Unit::Millilitre.say(0.001), "under 0.01 mL");
    }

    #[test]
    fn sums_name_their_parts_and_keep_the_poorest_status() {
        let amount = |value, status| Amount::new(value, Unit::Gram, status, String::new());
        let parts = [2.0, 2.0, 5.0].map(|value| amount(value, SourceStatus::Practice));
        let sum = Amount::sum(Unit::Gram, &parts);
        assert_eq!((sum.value, sum.status, sum.formula.as_str()), (9.0, SourceStatus::Practice, "2 x 2 g + 5 g"));
        assert_eq!(Amount::sum(Unit::Gram, []).value, 0.0);
    }

    /// A yard is 0.9144 m exactly (NIST Handbook 44, appendix C).
    #[test]
    fn lengths_of_either_unit_add_up() {
        let thread = |value, unit| Amount::new(value, unit, SourceStatus::Practice, String::new());
        let parts = [thread(2.5, Unit::Yard), thread(1.2355, Unit::Metre)];
        let sum = Amount::sum(Unit::Metre, &parts);
        assert!((sum.value - (2.5 * 0.9144 + 1.2355)).abs() < 1e-12);
        assert_eq!(sum.formula, "2 yd 18 in + 1.236 m");
        assert!((Amount::sum(Unit::Yard, &parts).value - (2.5 + 1.2355 / 0.9144)).abs() < 1e-12);
        assert_eq!(thread(12.345, Unit::Metre).to_string(), "12.345 m");
    }

    /// 0.3 g used to be "roughly 0.1 to 0.1 US teaspoons".
    #[test]
    fn a_kitchen_measure_names_two_numbers_only_where_they_differ() {
        let said = [0.05, 0.2, 0.4, 4.0].map(|grams| KitchenMeasure::of_soda_ash(grams).to_string());
        let measure = |least_teaspoons, most_teaspoons| KitchenMeasure { least_teaspoons, most_teaspoons }.to_string();
        assert_eq!(measure(0.06, 0.14), "roughly 0.1 US teaspoons");
        assert_eq!(said[0], "less than 0.1 US teaspoons");
        assert_eq!(said[1], "at most 0.1 US teaspoons");
        assert_eq!(said[2..], ["roughly 0.1 to 0.2 US teaspoons", "roughly 0.7 to 1.6 US teaspoons"]);
    }

    /// A teaspoon of soda ash weighs 2.5 to 5.4 g (IS 251:1998 and the dense grade's density).
    #[test]
    fn a_teaspoon_of_soda_ash_is_two_and_a_half_to_five_and_a_half_grams() {
        let light = KitchenMeasure::of_soda_ash(LIGHT_SODA_ASH_G_PER_ML * TEASPOON_ML);
        assert!((light.most_teaspoons - 1.0).abs() < 1e-12 && (LIGHT_SODA_ASH_G_PER_ML * TEASPOON_ML - 2.5).abs() < 0.05);
        assert!((DENSE_SODA_ASH_G_PER_ML * TEASPOON_ML - 5.4).abs() < 0.05);
    }
}
