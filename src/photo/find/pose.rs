//! How the plan's outline lies on an edge that was found: iterated closest points, first turned every way, then sheared, then as a camera sees it.
//!
//! (P. J. Besl, N. D. `McKay`, *A method for registration of 3-D shapes*, IEEE Transactions on Pattern Analysis and Machine Intelligence 14 (1992), 239-256.)

use crate::projection::{Homography, Pair};
use kurbo::{Affine, Point, Vec2};
use nalgebra::{SMatrix, SVector};

/// Turns that are tried, all round.
const TURNS: u32 = 8;
/// Rounds with each of them.
const TURN_ROUNDS: usize = 25;
/// Rounds of the best, sheared, and as a camera sees it.
const SHEAR_ROUNDS: usize = 20;
const CAMERA_ROUNDS: usize = 20;
/// Points of outline and edge that turns are tried with, and of the best.
const COARSE: usize = 140;
const FINE: usize = 420;
/// Pairs farther off than this many medians count for nothing.
const MOST_MEDIANS: f64 = 3.0;
/// How much better a garment has to lie turned by more than an eighth than upright: a square cloth lies every way alike.
const TURNED: f64 = 1.3;

/// A map from the plan to the picture.
#[derive(Debug, Clone, Copy)]
enum Map {
    Flat(Affine),
    Camera(Homography),
}

impl Map {
    fn apply(&self, at: Point) -> Option<Point> {
        match self {
            Self::Flat(map) => Some(*map * at),
            Self::Camera(map) => map.apply(at),
        }
    }
}

/// Where the plan lies so that its outline fits an edge; none where nothing fits. With the root mean square of what is left, in px.
pub(super) fn pose(outline: &[Point], edge: &[Point]) -> Option<(Homography, f64)> {
    let (coarse, coarse_edge) = (thinned(outline, COARSE), thinned(edge, 3 * COARSE));
    let turned = (0..TURNS).filter_map(|turn| {
        let angle = f64::from(turn) * std::f64::consts::TAU / f64::from(TURNS);
        let begun = begun(&coarse, &coarse_edge, angle)?;
        let map = closest(Map::Flat(begun), &coarse, &coarse_edge, TURN_ROUNDS, similar)?;
        // Both ways: an outline that shrinks into a corner lies near the edge, and the edge far from it.
        let seen: Vec<Point> = coarse.iter().filter_map(|at| map.apply(*at)).collect();
        let off = rms(&seen, &coarse_edge) + rms(&coarse_edge, &seen);
        let Map::Flat(flat) = map else { return None };
        let [a, b, ..] = flat.as_coeffs();
        let is_upright = b.atan2(a).abs() < 0.3 * std::f64::consts::PI;
        Some((if is_upright { off } else { TURNED * off }, map))
    });
    let (_, map) = turned.min_by(|(a, _), (b, _)| a.total_cmp(b))?;
    let (fine, fine_edge) = (thinned(outline, FINE), thinned(edge, 4 * FINE));
    let map = closest(map, &fine, &fine_edge, SHEAR_ROUNDS, affine)?;
    let Map::Camera(camera) = closest(map, &fine, &fine_edge, CAMERA_ROUNDS, camera)? else { return None };
    let seen: Vec<Point> = fine.iter().filter_map(|at| camera.apply(*at)).collect();
    Some((camera, rms(&seen, &fine_edge)))
}

/// At most about as many of them, evenly.
fn thinned(points: &[Point], count: usize) -> Vec<Point> {
    points.iter().copied().step_by(points.len().div_ceil(count).max(1)).collect()
}

fn middle(points: &[Point]) -> Point {
    (points.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2()) / points.len().max(1) as f64).to_point()
}

/// Laid so that middle and size are those of the edge.
fn begun(outline: &[Point], edge: &[Point], angle: f64) -> Option<Affine> {
    let spread = |points: &[Point]| {
        let middle = middle(points);
        (points.iter().map(|at| at.distance_squared(middle)).sum::<f64>() / points.len().max(1) as f64).sqrt()
    };
    let scale = spread(edge) / spread(outline);
    let to_middle = Affine::translate(-middle(outline).to_vec2());
    let map = Affine::translate(middle(edge).to_vec2()) * Affine::scale(scale) * Affine::rotate(angle) * to_middle;
    map.is_finite().then_some(map)
}

/// The map that `fit` finds for the plan's points and the edge nearest to each, again and again.
fn closest(mut map: Map, outline: &[Point], edge: &[Point], rounds: usize, fit: impl Fn(&[Pair]) -> Option<Map>) -> Option<Map> {
    for _ in 0..rounds {
        let near = |from: &Point| {
            let seen = map.apply(*from)?;
            let to = edge.iter().min_by(|a, b| a.distance_squared(seen).total_cmp(&b.distance_squared(seen)))?;
            Some((seen.distance(*to), Pair { from: *from, to: *to }))
        };
        let mut pairs: Vec<(f64, Pair)> = outline.iter().filter_map(near).collect();
        pairs.sort_by(|(a, _), (b, _)| a.total_cmp(b));
        let most = MOST_MEDIANS * pairs.get(pairs.len() / 2)?.0 + 1.0;
        let kept: Vec<Pair> = pairs.iter().filter(|(off, _)| *off < most).map(|(_, pair)| *pair).collect();
        map = fit(&kept)?;
    }
    Some(map)
}

/// Turned, moved and scaled, by least squares.
fn similar(pairs: &[Pair]) -> Option<Map> {
    let from = middle(&pairs.iter().map(|pair| pair.from).collect::<Vec<_>>());
    let to = middle(&pairs.iter().map(|pair| pair.to).collect::<Vec<_>>());
    let (mut dot, mut cross, mut square) = (0.0, 0.0, 0.0);
    for pair in pairs {
        let (a, b) = (pair.from - from, pair.to - to);
        dot += a.dot(b);
        cross += a.cross(b);
        square += a.hypot2();
    }
    let (cos, sin) = (dot / square, cross / square);
    let turned = Affine::new([cos, sin, -sin, cos, 0.0, 0.0]);
    let map = Affine::translate(to.to_vec2()) * turned * Affine::translate(-from.to_vec2());
    map.is_finite().then_some(Map::Flat(map))
}

/// Sheared too.
fn affine(pairs: &[Pair]) -> Option<Map> {
    let about = middle(&pairs.iter().map(|pair| pair.from).collect::<Vec<_>>());
    let (mut matrix, mut right) = (SMatrix::<f64, 3, 3>::zeros(), [SVector::<f64, 3>::zeros(); 2]);
    for pair in pairs {
        let v = pair.from - about;
        let terms = SVector::from([v.x, v.y, 1.0]);
        matrix += terms * terms.transpose();
        right[0] += pair.to.x * terms;
        right[1] += pair.to.y * terms;
    }
    let factor = matrix.cholesky()?;
    let [x, y] = right.map(|right| factor.solve(&right));
    Some(Map::Flat(Affine::new([x[0], y[0], x[1], y[1], x[2], y[2]]) * Affine::translate(-about.to_vec2())))
}

fn camera(pairs: &[Pair]) -> Option<Map> {
    Homography::fit(pairs).ok().map(Map::Camera)
}

/// The root mean square of how far points lie from the nearest of others.
fn rms(points: &[Point], others: &[Point]) -> f64 {
    let nearest = |at: &Point| others.iter().map(|other| other.distance_squared(*at)).fold(f64::INFINITY, f64::min);
    (points.iter().map(nearest).sum::<f64>() / points.len().max(1) as f64).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An outline of letter L, which lies only one way, comes back turned, scaled and seen from the side.
    #[test]
    fn a_planted_pose_comes_back() {
        let corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 150.0), (130.0, 150.0), (130.0, 500.0), (0.0, 500.0)].map(Point::from);
        let outline: Vec<Point> = (0..6)
            .flat_map(|side| {
                let (from, to) = (corners[side], corners[(side + 1) % 6]);
                // A point every 4 mm.
                let steps = [75_u32, 37, 42, 87, 32, 125][side];
                (0..steps).map(move |step| from.lerp(to, f64::from(step) / f64::from(steps)))
            })
            .collect();
        for turn in [0.1_f64, 1.5, -2.9] {
            let (sin, cos) = turn.sin_cos();
            let rows = [[0.5 * cos, -0.5 * sin, 220.0], [0.5 * sin, 0.5 * cos, 260.0], [6e-5, -4e-5, 1.0]];
            let planted = Homography::from_rows(rows, Point::new(150.0, 250.0)).unwrap();
            let edge: Vec<Point> = outline.iter().filter_map(|at| planted.apply(*at + Vec2::new(1.1, 0.7))).collect();
            let (found, off) = pose(&outline, &edge).unwrap();
            assert!(off < 1.0, "{off}");
            for at in corners {
                let away = found.apply(at).unwrap().distance(planted.apply(at).unwrap());
                assert!(away < 2.5, "{turn}: {away}");
            }
        }
    }
}
