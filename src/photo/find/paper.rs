//! A white sheet: a bright region with four straight sides.

use super::super::Photograph;
use super::super::snap::middle_of;
use super::region::{Mask, Region};
use super::small::{Small, least_channel};
use kurbo::{Point, Vec2};

/// A sheet is brighter than this share of the brightest there is (our own judgement).
const BRIGHT: f32 = 0.6;
/// The brightest there is: all but this share of the pixels are darker.
const BRIGHTEST: f64 = 0.01;
/// Smallest part of the picture that is taken for a sheet: A4 beside a shirt covers a twentieth.
const LEAST_SHARE: f64 = 0.006;
/// Longer side to shorter as it is seen: paper has 1.29 to 1.41; a camera that looks from the side changes it by a tenth (our own judgement).
const ASPECT: std::ops::RangeInclusive<f64> = 1.15..=1.6;
/// How much of the quadrilateral's area the region may lack or have beyond it.
const MOST_OFF: f64 = 0.06;
/// How far the sides' lines keep from the corners, as a share of the side.
const FROM_CORNER: f64 = 0.08;
/// Edge points farther off a side are none of its, px.
const NEAR_PX: f64 = 3.0;
/// Rounds of finding the sides from the corners.
const ROUNDS: usize = 3;
/// Places along a side where its edge is looked for in the photograph itself, how far to both sides of it, and from sample to sample, as shares of
/// the side.
const PLACES: u32 = 24;
const SEARCH: f64 = 0.03;
const SAMPLES: i32 = 24;

/// Its corners in the small picture, round it from the upper left one; none where there is none.
pub(in crate::photo) fn sheet(small: &Small, away: &[f32], limit: f32) -> Option<[Point; 4]> {
    let least = |index: usize| least_channel(&small.light[index]);
    let mut sorted: Vec<f32> = (0..small.light.len()).map(least).collect();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of some pixels")]
    let at = ((1.0 - BRIGHTEST) * (sorted.len() - 1) as f64) as usize;
    let (_, brightest, _) = sorted.select_nth_unstable_by(at, f32::total_cmp);
    let bright = BRIGHT * *brightest;
    let is_bright = |index: usize| least(index) > bright && away[index] > limit;
    let mask = Mask::new(small.width, small.height, is_bright).opened(1);
    // What lies on the sheet is of it.
    let mask = mask.filled();
    let least_area = LEAST_SHARE * small.light.len() as f64;
    let regions = mask.regions().into_iter().filter(|region| region.pixels.len() as f64 > least_area);
    // The truest of them: a sleeve may have four sides too.
    let found = regions.filter_map(|region| quadrilateral(&region)).min_by(|(a, _), (b, _)| a.total_cmp(b));
    found.map(|(_, corners)| from_upper_left(corners))
}

/// The corners by the edge of the sheet in the photograph itself, px of the whole; as they are where it is not sharp there.
pub(in crate::photo) fn sharpened(photograph: &Photograph, corners: [Point; 4]) -> [Point; 4] {
    let edge: Vec<Point> = (0..4)
        .flat_map(|side| {
            let (from, to) = (corners[side], corners[(side + 1) % 4]);
            let inward = (to - from).turn_90();
            (0..PLACES).filter_map(move |place| {
                let share = FROM_CORNER + (1.0 - 2.0 * FROM_CORNER) * (f64::from(place) + 0.5) / f64::from(PLACES);
                crossing(photograph, from.lerp(to, share), SEARCH * inward)
            })
        })
        .collect();
    let longest = (0..4).map(|side| corners[side].distance(corners[(side + 1) % 4])).fold(0.0, f64::max);
    refined(corners, &edge, 2.0 * SEARCH * longest).unwrap_or(corners)
}

/// Where light passes half between what lies `inward` of a place and what lies outward.
fn crossing(photograph: &Photograph, at: Point, inward: Vec2) -> Option<Point> {
    let place = |step: i32| at + f64::from(step) / f64::from(SAMPLES) * inward;
    let light = |step: i32| photograph.at(place(step)).map(|light| f64::from(light.into_iter().fold(f32::INFINITY, f32::min)));
    let line: Vec<f64> = (-SAMPLES..=SAMPLES).map(light).collect::<Option<_>>()?;
    let quarter = line.len() / 4;
    let [outside, inside] = [&line[..quarter], &line[line.len() - quarter..]].map(|end| middle_of(end.to_vec()));
    let half = f64::midpoint(outside, inside);
    let steps = line.windows(2).position(|pair| pair[0] < half && pair[1] >= half)?;
    let share = (half - line[steps]) / (line[steps + 1] - line[steps]);
    let from_middle = (steps as f64 + share) / f64::from(SAMPLES) - 1.0;
    (inside > 1.15 * outside).then(|| at + from_middle * inward)
}

/// A region's four corners, and by how much its area is off theirs as a share; none where it has not four straight sides.
fn quadrilateral(region: &Region) -> Option<(f64, [Point; 4])> {
    let edge = region.edge();
    let farthest = |from: &dyn Fn(Point) -> f64| edge.iter().copied().max_by(|a, b| from(*a).total_cmp(&from(*b)));
    let middle = (edge.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2()) / edge.len().max(1) as f64).to_point();
    let first = farthest(&|at| at.distance(middle))?;
    let third = farthest(&|at| at.distance(first))?;
    let across = (third - first).turn_90();
    let (second, fourth) = (farthest(&|at| (at - first).dot(across))?, farthest(&|at| -(at - first).dot(across))?);
    let mut corners = [first, second, third, fourth];
    for _ in 0..ROUNDS {
        corners = refined(corners, &edge, NEAR_PX)?;
    }
    let sides = [0, 1, 2, 3].map(|side| corners[side].distance(corners[(side + 1) % 4]));
    let [one, other] = [sides[0] + sides[2], sides[1] + sides[3]];
    let area = 0.5 * (corners[2] - corners[0]).cross(corners[3] - corners[1]).abs();
    let off = (region.pixels.len() as f64 / area - 1.0).abs();
    (ASPECT.contains(&(one.max(other) / one.min(other))) && off < MOST_OFF).then_some((off, corners))
}

/// Where the lines through the edge beside each side cross.
fn refined(corners: [Point; 4], edge: &[Point], near_px: f64) -> Option<[Point; 4]> {
    let side = |side: usize| {
        let (from, to) = (corners[side], corners[(side + 1) % 4]);
        let along = to - from;
        let is_near = |at: &&Point| {
            let share = (**at - from).dot(along) / along.hypot2();
            (FROM_CORNER..1.0 - FROM_CORNER).contains(&share) && ((**at - from).cross(along) / along.hypot()).abs() < near_px
        };
        line(edge.iter().filter(is_near).copied())
    };
    let sides = [side(0)?, side(1)?, side(2)?, side(3)?];
    let meeting = |(a, along_a): (Point, Vec2), (b, along_b): (Point, Vec2)| {
        let turn = along_a.cross(along_b);
        (turn.abs() > 0.1).then(|| a + (b - a).cross(along_b) / turn * along_a)
    };
    let corner = |at: usize| meeting(sides[(at + 3) % 4], sides[at]);
    Some([corner(0)?, corner(1)?, corner(2)?, corner(3)?])
}

/// The line nearest to points, by its middle and its direction: the longer axis of their scatter.
fn line(points: impl Iterator<Item = Point> + Clone) -> Option<(Point, Vec2)> {
    let count = points.clone().count();
    if count < 8 {
        return None;
    }
    let middle = (points.clone().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2()) / count as f64).to_point();
    let (xx, xy, yy) = points.fold((0.0, 0.0, 0.0), |(xx, xy, yy), at| {
        let v = at - middle;
        (xx + v.x * v.x, xy + v.x * v.y, yy + v.y * v.y)
    });
    Some((middle, Vec2::from_angle(0.5 * (2.0 * xy).atan2(xx - yy))))
}

/// The same corners, clockwise as they are seen, from the upper left one.
fn from_upper_left(mut corners: [Point; 4]) -> [Point; 4] {
    if (corners[1] - corners[0]).cross(corners[2] - corners[1]) < 0.0 {
        corners.reverse();
    }
    let first = (0..4).min_by(|a, b| (corners[*a].x + corners[*a].y).total_cmp(&(corners[*b].x + corners[*b].y)));
    corners.rotate_left(first.unwrap_or_default());
    corners
}
