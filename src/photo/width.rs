//! How wide a ring's line is.

use super::photograph::root;
use super::track::Track;
use super::{Photograph, Plan, Registration};
use kurbo::{Point, Vec2};

/// From sample to sample across the line, mm.
const STEP_MM: f64 = 0.25;
/// How far on both sides the cloth beside the line is looked at, mm; at most 0.45 of the gap.
const REACH_MM: f64 = 10.0;
/// From where on cloth beside the line counts, as a share of the reach.
const BESIDE: f64 = 0.75;
/// How far the line's middle may lie from where the line was found, mm.
const NEAR_MM: f64 = 3.0;
/// Least depth, in square roots of light: twice the noise of a section's mean (own choice).
const LEAST_DEPTH: f64 = 0.04;

/// The width of a line at half of its depth, mm, its places moved to their own shifts before they are averaged; none of a line without depth.
pub(super) fn width_mm(
    photograph: &Photograph,
    plan: &Plan,
    map: &Registration,
    track: &Track,
    places: &[(Point, Vec2, f64)],
    displacement: Vec2,
) -> Option<f64> {
    let reach_mm = REACH_MM.min(0.45 * track.gap_mm).min(0.9 * track.along_mm);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some mm in steps")]
    let half = (reach_mm / STEP_MM) as usize;
    let mut sums = vec![[0.0_f64; 3]; 2 * half + 1];
    let mut count = 0.0;
    for (at, outward, shift_mm) in places {
        let place = |index: usize| *at + displacement + (*shift_mm + STEP_MM * (index as f64 - half as f64)) * *outward;
        let colour = |index: usize| {
            let (_, cloth) = plan.at(place(index));
            if cloth < 1.0 { None } else { photograph.at(map.apply(place(index))?).map(root) }
        };
        let Some(line) = (0..sums.len()).map(colour).collect::<Option<Vec<_>>>() else { continue };
        count += 1.0;
        for (sum, colour) in sums.iter_mut().zip(line) {
            sum.iter_mut().zip(colour).for_each(|(sum, channel)| *sum += f64::from(channel));
        }
    }
    let mean: Vec<[f64; 3]> = sums.into_iter().map(|sum| sum.map(|channel| channel / count)).collect();
    if count > 0.0 { at_half_depth(&depths(&mean, half), half) } else { None }
}

/// How far each sample differs from the cloth on either side of the line: cloth steps from one colour to the other under it, and does not slope.
fn depths(profile: &[[f64; 3]], half: usize) -> [Vec<f64>; 2] {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of some steps")]
    let beside = ((1.0 - BESIDE) * half as f64).max(1.0) as usize;
    let mean = |side: &[[f64; 3]]| {
        let sum = side.iter().fold([0.0; 3], |sum, colour| [0, 1, 2].map(|channel| sum[channel] + colour[channel]));
        sum.map(|channel| channel / side.len().max(1) as f64)
    };
    [mean(&profile[..beside]), mean(&profile[profile.len() - beside..])].map(|cloth| {
        let depth = |colour: &[f64; 3]| (0..3).map(|channel| (colour[channel] - cloth[channel]).powi(2)).sum::<f64>().sqrt();
        profile.iter().map(depth).collect()
    })
}

/// The width at half of the depth, of each side against its own cloth.
fn at_half_depth([inner, outer]: &[Vec<f64>; 2], half: usize) -> Option<f64> {
    // The line is what differs from the cloth on both sides.
    let least = |index: usize| inner[index].min(outer[index]);
    let deepest = (0..inner.len()).max_by(|a, b| least(*a).total_cmp(&least(*b)))?;
    let is_near = STEP_MM * deepest.abs_diff(half) as f64 <= NEAR_MM;
    if least(deepest) < LEAST_DEPTH || !is_near {
        return None;
    }
    // Steps to where a side passes half of its depth, counted from the deepest.
    let to_half = |depths: &[f64], side: &mut dyn Iterator<Item = f64>| {
        let (mut before, level) = (depths[deepest], 0.5 * depths[deepest]);
        for (step, depth) in side.enumerate() {
            if depth < level {
                return Some(step as f64 + (before - level) / (before - depth));
            }
            before = depth;
        }
        None
    };
    let inward = to_half(inner, &mut inner[..deepest].iter().rev().copied())?;
    let outward = to_half(outer, &mut outer[deepest + 1..].iter().copied())?;
    Some(STEP_MM * (inward + outward))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A triangle of depth is half as wide at half of it, on a ground that slopes.
    #[test]
    fn a_triangle_is_measured_exactly() {
        let half = 40;
        let profile: Vec<[f64; 3]> = (0..=2 * half)
            .map(|index| {
                let from_mm = STEP_MM * (f64::from(index) - f64::from(half)).abs();
                let depth = (0.3 * (1.0 - from_mm / 4.0)).max(0.0);
                [0.4 + 0.001 * f64::from(index) - depth, 0.5, 0.2]
            })
            .collect();
        let half = usize::try_from(half).unwrap();
        let width_mm = at_half_depth(&depths(&profile, half), half).unwrap();
        assert!((width_mm - 4.0).abs() < 0.05, "{width_mm}");
        assert_eq!(at_half_depth(&depths(&vec![[0.3; 3]; 81], half), half), None);
    }

    /// A line that fades evenly over 4 mm into one colour inside and another outside is 4 mm wide at half of its depth.
    #[test]
    fn unlike_colours_do_not_widen_a_line() {
        let (half, inside, outside, line) = (40, [0.3, 0.3, 0.5], [0.6, 0.4, 0.1], [0.9, 0.9, 0.9]);
        let profile: Vec<[f64; 3]> = (0..=2 * half)
            .map(|index| {
                let from_mm = STEP_MM * (f64::from(index) - f64::from(half));
                let (cloth, share) = (if from_mm < 0.0 { inside } else { outside }, (1.0 - from_mm.abs() / 4.0).max(0.0));
                [0, 1, 2].map(|channel| cloth[channel] + share * (line[channel] - cloth[channel]))
            })
            .collect();
        let half = usize::try_from(half).unwrap();
        let width_mm = at_half_depth(&depths(&profile, half), half).unwrap();
        assert!((width_mm - 4.0).abs() < 0.05, "{width_mm}");
    }
}
