//! How creases stand out of the opened cloth.

/// How far from a crease the cloth still rises to it, mm.
pub(super) const CREASE_MM: f64 = 6.0;
/// Steepest slope of [`bump`] over a unit of its argument (computed: at `1 / sqrt 3`).
pub(super) const STEEPEST: f64 = 1.539_600_717_839;

/// A smooth hill of height 1 at 0, which ends at 1.
fn bump(away: f64) -> f64 {
    let rest = (1.0 - away * away).max(0.0);
    rest * rest
}

/// From 0 to 1 with no kink at either.
pub(super) fn ramp(t: f64) -> f64 {
    let t = t.clamp(0.0, 1.0);
    t * t * (3.0 - 2.0 * t)
}

/// What is left of creases so far away, mm: of the nearest ridge and the nearest valley.
#[expect(clippy::cast_possible_truncation, reason = "a share")]
pub(super) fn relief_beside([ridge_mm, valley_mm]: [f64; 2]) -> f32 {
    (bump((ridge_mm / CREASE_MM).min(1.0)) - bump((valley_mm / CREASE_MM).min(1.0))) as f32
}

/// What is left of the creases at a place across a pleat: 1 on the ridge where `across` is 1, -1 in the valley where it is 0, nothing
/// where pleats are so narrow that creases would meet.
#[expect(clippy::cast_possible_truncation, reason = "a share")]
pub(super) fn relief(across: f64, pleat_mm: f64) -> f32 {
    let (valley, ridge) = (across * pleat_mm / CREASE_MM, (1.0 - across) * pleat_mm / CREASE_MM);
    if valley >= 1.0 && ridge >= 1.0 {
        return 0.0;
    }
    (ramp(0.5 * (pleat_mm / CREASE_MM - 2.0)) * (bump(ridge) - bump(valley))) as f32
}
