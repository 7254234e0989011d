//! How far two colours lie apart.

use super::Lab;

/// The CIEDE2000 colour difference with all weights 1: about 1 is just seen side by side (common practice, no source).
///
/// Symmetric, and 0 for equal colours. Source: CIE 142-2001, in the form of Sharma, Wu, Dalal, Color Res. Appl. 30(1), 21-30
/// (2005); the equation numbers are theirs.
#[must_use]
pub fn ciede2000(first: Lab, second: Lab) -> f64 {
    // (2) to (7): a is stretched near the grey axis.
    let g = 0.5 * (1.0 - chroma_share(f64::midpoint(first.a.hypot(first.b), second.a.hypot(second.b))));
    let (a1, a2) = ((1.0 + g) * first.a, (1.0 + g) * second.a);
    let (c1, c2) = (a1.hypot(first.b), a2.hypot(second.b));
    let (h1, h2) = (hue_deg(a1, first.b), hue_deg(a2, second.b));
    // (8) to (11)
    let dl = second.l - first.l;
    let dc = c2 - c1;
    let grey = c1 * c2 == 0.0;
    let turn_deg = if grey { 0.0 } else { turn_deg(h1, h2) };
    let dh = 2.0 * (c1 * c2).sqrt() * (0.5 * turn_deg).to_radians().sin();
    // (12) to (14)
    let l = f64::midpoint(first.l, second.l);
    let c = f64::midpoint(c1, c2);
    let h_deg = if grey { h1 + h2 } else { mean_hue_deg(h1, h2) };
    // (15) to (21)
    let t = 1.0 - 0.17 * cos_deg(h_deg - 30.0) + 0.24 * cos_deg(2.0 * h_deg) + 0.32 * cos_deg(3.0 * h_deg + 6.0)
        - 0.20 * cos_deg(4.0 * h_deg - 63.0);
    let blue_deg = 30.0 * (-((h_deg - 275.0) / 25.0).powi(2)).exp();
    let from_middle = (l - 50.0).powi(2);
    let sl = 1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt();
    let sc = 1.0 + 0.045 * c;
    let sh = 1.0 + 0.015 * c * t;
    let rt = -(2.0 * blue_deg).to_radians().sin() * 2.0 * chroma_share(c);
    // (22); rounding may leave a square a hair below zero.
    let (l, c, h) = (dl / sl, dc / sc, dh / sh);
    (l * l + c * c + h * h + rt * c * h).max(0.0).sqrt()
}

/// sqrt(C^7 / (C^7 + 25^7)).
fn chroma_share(chroma: f64) -> f64 {
    let seventh = chroma.powi(7);
    (seventh / (seventh + 25.0_f64.powi(7))).sqrt()
}

/// 0 to 360.
fn hue_deg(a: f64, b: f64) -> f64 {
    b.atan2(a).to_degrees().rem_euclid(360.0)
}

/// The shorter way from one hue to the other.
fn turn_deg(from_deg: f64, to_deg: f64) -> f64 {
    let turn = to_deg - from_deg;
    match turn {
        turn if turn > 180.0 => turn - 360.0,
        turn if turn < -180.0 => turn + 360.0,
        turn => turn,
    }
}

/// The hue half-way on the shorter way.
fn mean_hue_deg(h1: f64, h2: f64) -> f64 {
    let mean = f64::midpoint(h1, h2);
    match (h1 - h2).abs() <= 180.0 {
        true => mean,
        false if h1 + h2 < 360.0 => mean + 180.0,
        false => mean - 180.0,
    }
}

fn cos_deg(angle_deg: f64) -> f64 {
    angle_deg.to_radians().cos()
}
