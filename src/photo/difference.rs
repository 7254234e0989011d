//! How far a straightened photograph is from its plan, point by point.

use super::Plan;
use crate::layout::Srgb;
use crate::reveal::Picture;
use crate::reveal::colour::{Lab, LinearRgb, SrgbBytes, ciede2000};
use rayon::prelude::*;

/// Colours of differences (CIEDE2000), between which others are mixed: below the first nothing is told apart in a photograph (measured on drawn
/// ones: 3); beyond the last all look alike. From grey to red by way of yellow, each lighter or more vivid than the one before (own choice).
pub const DIFFERENCE_STOPS: [(f64, Srgb); 4] = [
    (3.0, Srgb { red: 96, green: 104, blue: 110 }),
    (8.0, Srgb { red: 214, green: 196, blue: 96 }),
    (16.0, Srgb { red: 232, green: 116, blue: 52 }),
    (30.0, Srgb { red: 176, green: 22, blue: 60 }),
];

/// The colour that a difference is drawn in.
#[must_use]
pub fn difference_colour(delta_e: f64) -> Srgb {
    let after = DIFFERENCE_STOPS.partition_point(|(stop, _)| *stop < delta_e);
    let [before, after] = [after.saturating_sub(1), after.min(DIFFERENCE_STOPS.len() - 1)].map(|at| DIFFERENCE_STOPS[at]);
    let share = ((delta_e - before.0) / (after.0 - before.0).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between two bytes")]
    let mixed = |from: u8, to: u8| (f64::from(from) + share * (f64::from(to) - f64::from(from))).round() as u8;
    let (from, to) = (before.1, after.1);
    Srgb { red: mixed(from.red, to.red), green: mixed(from.green, to.green), blue: mixed(from.blue, to.blue) }
}

/// The plan as a picture, with the cloth's edge as its opacity.
#[must_use]
pub fn planned(plan: &Plan) -> Picture {
    let frame = plan.frame();
    let bytes = SrgbBytes::new();
    let mut rgba = vec![0_u8; 4 * frame.pixels()];
    rgba.par_chunks_exact_mut((4 * frame.width).max(1)).enumerate().for_each(|(row, line)| {
        for (column, pixel) in line.as_chunks_mut::<4>().0.iter_mut().enumerate() {
            let (light, cloth) = plan.at(frame.middle(column, row));
            if cloth > 0.0 {
                let [red, green, blue] = light.map(|channel| bytes.byte(channel));
                *pixel = [red, green, blue, bytes_of_share(cloth)];
            }
        }
    });
    Picture { width: frame.width, height: frame.height, rgba }
}

/// How far each pixel of a [straightened](super::straightened) photograph is from its plan, in the colours of [`difference_colour`]; clear where
/// one of them shows no cloth.
#[must_use]
pub fn difference(straight: &Picture, plan: &Plan) -> Picture {
    let (frame, width) = (plan.frame(), straight.width);
    let light: Vec<f64> = (0..=u8::MAX).map(|byte| LinearRgb::from(Srgb { red: byte, green: byte, blue: byte }).0[0]).collect();
    let lab = |light: [f64; 3]| -> Lab { LinearRgb(light).to_xyz().to_lab() };
    let mut rgba = vec![0_u8; straight.rgba.len()];
    let rows = straight.rgba.par_chunks_exact((4 * width).max(1));
    rgba.par_chunks_exact_mut((4 * width).max(1)).zip(rows).enumerate().for_each(|(row, (line, seen))| {
        for (column, (pixel, seen)) in line.as_chunks_mut::<4>().0.iter_mut().zip(seen.as_chunks::<4>().0).enumerate() {
            let (planned, cloth) = plan.at(frame.middle(column, row));
            let [red, green, blue, opacity] = *seen;
            if cloth <= 0.0 || opacity == 0 {
                continue;
            }
            let seen = lab([red, green, blue].map(|byte| light[usize::from(byte)]));
            let colour = difference_colour(ciede2000(seen, lab(planned.map(f64::from))));
            *pixel = [colour.red, colour.green, colour.blue, opacity];
        }
    });
    Picture { width, height: straight.height, rgba }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share between 0 and 1")]
fn bytes_of_share(share: f32) -> u8 {
    (255.0 * share.clamp(0.0, 1.0)).round() as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_of_differences_are_those_of_the_stops_and_mixed_between() {
        for (stop, colour) in DIFFERENCE_STOPS {
            assert_eq!(difference_colour(stop), colour);
        }
        assert_eq!(difference_colour(0.0), DIFFERENCE_STOPS[0].1);
        assert_eq!(difference_colour(90.0), DIFFERENCE_STOPS[3].1);
        assert_eq!(difference_colour(5.5), Srgb { red: 155, green: 150, blue: 103 });
    }
}
