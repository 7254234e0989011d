//! The photograph drawn onto the plan.

use super::{Light, Photograph, Plan, Registration};
use crate::reveal::Picture;
use crate::reveal::colour::SrgbBytes;
use rayon::prelude::*;

/// The photograph where the plan's pixels are, in the plan's light where the light is known. What is not cloth on the plan, or lies outside the
/// photograph, is left clear.
#[must_use]
pub fn straightened(photograph: &Photograph, plan: &Plan, map: &Registration, light: Option<&Light>) -> Picture {
    let frame = plan.frame();
    let bytes = SrgbBytes::new();
    let mut rgba = vec![0_u8; 4 * frame.pixels()];
    rgba.par_chunks_exact_mut((4 * frame.width).max(1)).enumerate().for_each(|(row, line)| {
        for (column, pixel) in line.as_chunks_mut::<4>().0.iter_mut().enumerate() {
            let at = frame.middle(column, row);
            let (_, cloth) = plan.at(at);
            let seen = || photograph.at(map.apply(at)?);
            let Some(seen) = (cloth > 0.0).then(seen).flatten() else { continue };
            #[expect(clippy::cast_possible_truncation, reason = "light is painted in single precision")]
            let shown = light.map_or(seen, |light| light.reflected(at, seen).map(|channel| channel as f32));
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share between 0 and 1")]
            let alpha = (255.0 * cloth.clamp(0.0, 1.0)).round() as u8;
            let [red, green, blue] = shown.map(|channel| bytes.byte(channel));
            *pixel = [red, green, blue, alpha];
        }
    });
    Picture { width: frame.width, height: frame.height, rgba }
}
