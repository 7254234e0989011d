//! Mass per area of cloth, in the two systems it is sold by, and small masses in words.

/// One avoirdupois ounce in grams: exact, NIST Handbook 44 App. C.
const GRAMS_PER_OUNCE: f64 = 28.349_523_125;
/// One square yard in square metres: exact, 0.9144 m squared, NIST Handbook 44 App. C.
const M2_PER_YD2: f64 = 0.836_127_36;

/// The mass of cloth in g/m2, from ounces per square yard.
#[must_use]
pub const fn grams_per_m2_from_oz_per_yd2(oz_per_yd2: f64) -> f64 {
    oz_per_yd2 * GRAMS_PER_OUNCE / M2_PER_YD2
}

/// Most decimals that a mass in grams gets for being small: scales for dye show no more.
const MOST_DECIMALS: usize = 3;

/// A mass in grams as a number of so many decimals. Of one that these would write as nothing it has as many more as show a figure, and what
/// is less than a thousandth is `<0.001`.
///
/// ```
/// use pleatwright::measure::grams_number;
/// assert_eq!([12.34, 0.04, 0.0, 0.0001].map(|grams| grams_number(grams, 1)), ["12.3", "0.04", "0.0", "<0.001"]);
/// ```
#[must_use]
pub fn grams_number(grams: f64, decimals: usize) -> String {
    let is_told =
        |decimals: &usize| format!("{grams:.decimals$}", decimals = *decimals).contains(|c: char| ('1'..='9').contains(&c));
    if grams == 0.0 {
        return format!("{grams:.decimals$}");
    }
    match (decimals..=MOST_DECIMALS.max(decimals)).find(is_told) {
        Some(decimals) => format!("{grams:.decimals$}"),
        None => format!("<{:.MOST_DECIMALS$}", 10_f64.powi(-3)),
    }
}
