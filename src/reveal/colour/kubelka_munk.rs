//! Single-constant Kubelka-Munk: between reflectance and K/S, in which colorants add.

/// K/S of an opaque layer that reflects the share `reflectance` of light: (1 - R)^2 / 2R.
///
/// `reflectance` above 0; 1 gives 0. Source: Kubelka & Munk, Z. techn. Phys. 12, 593 (1931).
#[must_use]
pub fn k_over_s(reflectance: f64) -> f64 {
    (1.0 - reflectance) * (1.0 - reflectance) / (2.0 * reflectance)
}

/// The share of light reflected by an opaque layer of this K/S, 0 or more: 1 + K/S - sqrt((K/S)^2 + 2 K/S).
///
/// Written as a reciprocal, which keeps its digits for dark cloth. Always above 0 and at most 1.
#[must_use]
pub fn reflectance(k_over_s: f64) -> f64 {
    1.0 / (1.0 + k_over_s + (k_over_s * (k_over_s + 2.0)).sqrt())
}
