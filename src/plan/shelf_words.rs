//! Amounts and packs of a shelf as a maker writes and reads them: `1.2 kg`, `50 g at 4.90, 250 g at 19`.

use super::{Blank, Material, Pack, Supply, Unit};
use crate::measure::{LengthStyle, LengthUnit, RuleMarks, neat};
use crate::telling::Told;

/// An avoirdupois ounce, g: exact, NIST Handbook 44, appendix C; a pound is 16.
const OUNCE_G: f64 = 28.349_523_125;
const POUND_G: f64 = 16.0 * OUNCE_G;
/// A US gallon, L: exact, as above; a quart is a quarter of it, a fluid ounce 1/128.
const GALLON_L: f64 = 3.785_411_784;
/// A yard, and a foot, m: exact, as above.
const YARD_M: f64 = LengthUnit::Yard.in_mm() / LengthUnit::Metre.in_mm();
const FOOT_M: f64 = YARD_M / 3.0;

/// Signs that an amount may end in, in small letters and longer ones first, and how much of its unit one is.
const MASSES: &[(&str, f64)] = &[("kg", 1000.0), ("lbs", POUND_G), ("lb", POUND_G), ("oz", OUNCE_G), ("g", 1.0), ("", 1.0)];
const LENGTHS: &[(&str, f64)] = &[("yd", YARD_M), ("ft", FOOT_M), ("m", 1.0), ("", 1.0)];
const VOLUMES: &[(&str, f64)] =
    &[("fl oz", GALLON_L / 128.0), ("gal", GALLON_L), ("qt", GALLON_L / 4.0), ("ml", 0.001), ("l", 1.0), ("", 1.0)];

/// Reads an amount of a material: grams, kilograms, ounces or pounds; thread in metres, yards or feet; a liquid in litres, millilitres, or US
/// fluid ounces, quarts or gallons. A bare number is in g, m or L.
///
/// # Errors
/// What is wrong with it and what would be right.
///
/// ```
/// use pleatwright::plan::{Unit, parse_quantity};
/// assert_eq!(parse_quantity("1.2 kg", Unit::Gram), Ok(1200.0));
/// assert_eq!(parse_quantity("100yd", Unit::Metre), Ok(91.44));
/// assert_eq!(parse_quantity("1 lb", Unit::Gram), Ok(453.59237));
/// assert!(parse_quantity("a lot", Unit::Gram).is_err());
/// ```
pub fn parse_quantity(text: &str, unit: Unit) -> Result<f64, Told> {
    let (units, example) = match unit {
        Unit::Metre => (LENGTHS, "30 m or 30 yd"),
        Unit::Litre => (VOLUMES, "5 L or 1 gal"),
        _ => (MASSES, "120 g or 4 oz"),
    };
    let written = text.trim().to_lowercase();
    let wrong = || Told::new(format!("not an amount: \"{}\"", text.trim()), format!("give one such as {example}"));
    let read = |&(sign, factor): &(&str, f64)| {
        let number: f64 = written.strip_suffix(sign)?.trim().parse().ok()?;
        (number.is_finite() && number >= 0.0).then_some(number * factor)
    };
    units.iter().find_map(read).ok_or_else(wrong)
}

/// Reads the packs that something is sold in: `50 g at 4.90, 250 g at 19`; nothing for none.
///
/// # Errors
/// What is wrong and what would be right.
pub fn parse_packs(text: &str, unit: Unit) -> Result<Vec<Pack>, Told> {
    let pack = |part: &str| {
        let wrong =
            || Told::new(format!("not a pack: \"{}\"", part.trim()), "write what it holds and costs, such as 50 g at 4.90");
        let (holds, price) = part.split_once(" at ").or_else(|| part.split_once('=')).ok_or_else(wrong)?;
        let holds = parse_quantity(holds, unit)?;
        let price: f64 = price.trim().parse().map_err(|_error: std::num::ParseFloatError| wrong())?;
        if holds > 0.0 && price.is_finite() && price >= 0.0 { Ok(Pack { holds, price }) } else { Err(wrong()) }
    };
    text.split(',').filter(|part| !part.trim().is_empty()).map(pack).collect()
}

/// An amount as it reads back exactly: `1200 g`, `91.44 m`.
#[must_use]
pub fn quantity_words(value: f64, unit: Unit) -> String {
    format!("{} {}", neat(value), if unit == Unit::Metre { "m" } else { "g" })
}

/// The same for whoever writes lengths so: beside an inch rule thread in yards, and in ounces or pounds what is a round number of them.
///
/// ```
/// use pleatwright::measure::RuleMarks;
/// use pleatwright::plan::{Unit, quantity_words_in};
/// let inches = RuleMarks::InchSixteenth.lengths();
/// assert_eq!(quantity_words_in(56.69904625, Unit::Gram, inches), "2 oz");
/// assert_eq!(quantity_words_in(50.0, Unit::Gram, inches), "50 g");
/// ```
#[must_use]
pub fn quantity_words_in(value: f64, unit: Unit, lengths: LengthStyle) -> String {
    if lengths.is_metric() {
        return quantity_words(value, unit);
    }
    let of = |one: f64, sign: &str| is_round(value / one).then(|| format!("{} {sign}", neat(value / one)));
    let round = match unit {
        Unit::Metre => of(YARD_M, "yd"),
        Unit::Gram if value >= POUND_G => of(POUND_G, "lb").or_else(|| of(OUNCE_G, "oz")),
        Unit::Gram => of(OUNCE_G, "oz"),
        _ => None,
    };
    round.unwrap_or_else(|| quantity_words(value, unit))
}

/// What a pack holds, as it is sold: in ounces or pounds where it is a round number of them and of no grams.
///
/// ```
/// use pleatwright::plan::{Unit, pack_words};
/// assert_eq!(pack_words(28.349_523_125, Unit::Gram), "1 oz");
/// assert_eq!(pack_words(250.0, Unit::Gram), "250 g");
/// ```
#[must_use]
pub fn pack_words(holds: f64, unit: Unit) -> String {
    let is_imperial = unit == Unit::Gram && !is_round(holds) && [OUNCE_G, POUND_G].iter().any(|one| is_round(holds / one));
    if is_imperial { quantity_words_in(holds, unit, RuleMarks::InchSixteenth.lengths()) } else { unit.say(holds) }
}

/// Whether a number has two decimals at most: somebody wrote it so.
fn is_round(number: f64) -> bool {
    ((number * 100.0).round() / 100.0 - number).abs() < 1e-9 * number.abs().max(1.0)
}

/// Packs as they read back: `50 g at 4.90, 250 g at 19.00`.
#[must_use]
pub fn packs_words(packs: &[Pack], unit: Unit) -> String {
    packs_words_by(packs, |holds| quantity_words(holds, unit))
}

/// The same for whoever writes lengths so, as [`quantity_words_in`] does: `2 oz at 4.90`.
#[must_use]
pub fn packs_words_in(packs: &[Pack], unit: Unit, lengths: LengthStyle) -> String {
    packs_words_by(packs, |holds| quantity_words_in(holds, unit, lengths))
}

fn packs_words_by(packs: &[Pack], holds: impl Fn(f64) -> String) -> String {
    let pack = |pack: &Pack| format!("{} at {:.2}", holds(pack.holds), pack.price);
    packs.iter().map(pack).collect::<Vec<_>>().join(", ")
}

impl Supply {
    /// What is there of it and in what it is sold, in a line.
    #[must_use]
    pub fn words(&self) -> String {
        let unit = self.material.unit();
        let packs = if self.packs.is_empty() { String::new() } else { format!("; sold as {}", packs_words(&self.packs, unit)) };
        format!("{}: {}{packs}", self.material, quantity_words(self.on_hand, unit))
    }
}

impl Blank {
    /// How many are there and what one costs, in a line.
    #[must_use]
    pub fn words(&self) -> String {
        let price = self.price.map_or_else(String::new, |price| format!("; {price:.2} each"));
        format!("{}: {}{price}", self.name, self.on_hand)
    }
}

/// Reads the name of a material.
///
/// # Errors
/// That nothing is called so, and what is.
pub fn parse_material(name: &str) -> Result<Material, Told> {
    let unknown = || {
        let cure = "write \"dye, \" and its colour, or soda ash, discharge agent, urea, ice or thread";
        Told::new(format!("not a supply: \"{}\"", name.trim()), cure)
    };
    Material::named(name).ok_or_else(unknown)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST Handbook 44, appendix C: an avoirdupois ounce is 28.349 523 125 g, a pound 453.592 37 g; a US fluid ounce 29.573 529 562 5 mL, a
    /// US gallon 3.785 411 784 L; a yard 0.9144 m.
    #[test]
    fn customary_units_are_read_and_written_back() {
        let close = |read: Result<f64, Told>, exact: f64| (read.unwrap() - exact).abs() < 1e-12 * exact;
        for (text, unit, exact) in [
            ("1 oz", Unit::Gram, 28.349_523_125),
            ("0.5 OZ", Unit::Gram, 14.174_761_562_5),
            ("2lb", Unit::Gram, 907.184_74),
            ("2 lbs", Unit::Gram, 907.184_74),
            ("8 fl oz", Unit::Litre, 0.236_588_236_5),
            ("5 gal", Unit::Litre, 18.927_058_92),
            ("1 qt", Unit::Litre, 0.946_352_946),
            ("500 mL", Unit::Litre, 0.5),
            ("9 ft", Unit::Metre, 2.7432),
        ] {
            assert!(close(parse_quantity(text, unit), exact), "{text}: {:?}", parse_quantity(text, unit));
        }
        let inches = RuleMarks::InchSixteenth.lengths();
        for (text, unit) in
            [("1 oz", Unit::Gram), ("0.25 oz", Unit::Gram), ("5 lb", Unit::Gram), ("500 g", Unit::Gram), ("100 yd", Unit::Metre)]
        {
            assert_eq!(quantity_words_in(parse_quantity(text, unit).unwrap(), unit, inches), text);
        }
        assert_eq!(quantity_words_in(100.0, Unit::Metre, inches), "100 m");
        let packs = parse_packs("2 oz at 4.90, 1 lb at 19", Unit::Gram).unwrap();
        assert_eq!(packs_words_in(&packs, Unit::Gram, inches), "2 oz at 4.90, 1 lb at 19.00");
        let millimetres = RuleMarks::Millimetres1.lengths();
        assert_eq!(packs_words_in(&packs, Unit::Gram, millimetres), packs_words(&packs, Unit::Gram));
        assert!(parse_quantity("1 oz", Unit::Metre).is_err() && parse_quantity("1 fl oz", Unit::Gram).is_err());
    }

    #[test]
    fn what_is_written_reads_back() {
        let packs = [Pack { holds: 50.0, price: 4.9 }, Pack { holds: 1250.0, price: 19.0 }];
        let words = packs_words(&packs, Unit::Gram);
        assert_eq!(words, "50 g at 4.90, 1250 g at 19.00");
        assert_eq!(parse_packs(&words, Unit::Gram), Ok(packs.to_vec()));
        assert_eq!(parse_packs(" ", Unit::Gram), Ok(Vec::new()));
        assert_eq!(parse_packs("100yd=7", Unit::Metre), Ok(vec![Pack { holds: 91.44, price: 7.0 }]));
        for wrong in ["50 g", "50 g at much", "0 g at 3", "50 g at -1", "x at 3"] {
            assert!(parse_packs(wrong, Unit::Gram).is_err(), "{wrong}");
        }
        for wrong in ["", "-3 g", "3 m", "NaN", "inf g"] {
            assert!(parse_quantity(wrong, Unit::Gram).is_err(), "{wrong}");
        }
        for name in ["dye, harbour blue", "soda ash", "thread"] {
            assert_eq!(parse_material(name).unwrap().to_string(), name);
        }
        assert!(parse_material("dye, ").is_err());
    }
}
