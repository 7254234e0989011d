//! Mass per area of cloth, in the two systems it is sold by.

/// One avoirdupois ounce in grams: exact, NIST Handbook 44 App. C.
const GRAMS_PER_OUNCE: f64 = 28.349_523_125;
/// One square yard in square metres: exact, 0.9144 m squared, NIST Handbook 44 App. C.
const M2_PER_YD2: f64 = 0.836_127_36;

/// The mass of cloth in g/m2, from ounces per square yard.
#[must_use]
pub const fn grams_per_m2_from_oz_per_yd2(oz_per_yd2: f64) -> f64 {
    oz_per_yd2 * GRAMS_PER_OUNCE / M2_PER_YD2
}
