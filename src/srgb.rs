//! The curve of sRGB, between what a channel says and its light.

/// From a channel as written, 0 to 1, to one in proportion to light. Source: IEC 61966-2-1.
pub(crate) fn light_of_channel(channel: f64) -> f64 {
    if channel <= 0.04045 { channel / 12.92 } else { ((channel + 0.055) / 1.055).powf(2.4) }
}

/// The other way. Source: IEC 61966-2-1.
fn encode(linear: f64) -> f64 {
    if linear <= 0.003_130_8 { 12.92 * linear } else { 1.055 * linear.powf(1.0 / 2.4) - 0.055 }
}

/// The byte of a channel in proportion to light, held between 0 and 1 and rounded.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and 255, and rounded")]
pub(crate) fn byte_of_light(linear: f64) -> u8 {
    (255.0 * encode(linear.clamp(0.0, 1.0))).round() as u8
}
