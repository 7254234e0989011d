//! Half a garment of an outline that was seen: on the table, upright, its two sides laid over each other, and few curves.

use super::TraceError;
use super::mean::mean;
use super::nodes::open_nodes;
use super::rectified::table_from_picture;
use crate::import::simplified;
use crate::photo::Sheet;
use kurbo::{Affine, BezPath, Line, ParamCurveNearest as _, Point, Rect, Vec2};
use nalgebra::{Matrix2, Vector2};

/// Fewest nodes that go round cloth.
const FEWEST_NODES: usize = 4;
/// From place to place along the outline where its sides are laid over each other, mm.
const STEP_MM: f64 = 4.0;
/// Rounds of finding the middle; it hardly moves after a few.
const ROUNDS: usize = 12;
/// Ways down that the middle is looked for from, degrees from that of the picture (our own judgement).
const STARTS_DEG: [f64; 3] = [-30.0, 0.0, 30.0];
/// How far a garment may lean, degrees: more is laid askew or photographed on its side (our own judgement).
const MOST_LEANING_DEG: f64 = 30.0;
/// Places whose mirror image lies this far from the outline count half for where the middle is, mm: a sleeve that is laid elsewhere.
const ROBUST_MM: f64 = 8.0;
/// How far straight ways and then curves may lie from the outline, mm: together as far as it is known.
const WAYS_MM: f64 = 0.7;
const CURVES_MM: f64 = 0.8;

/// Which half of what is seen is taken; left and right as you see them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Halves {
    /// The mean of both.
    #[default]
    Mean,
    /// The left one.
    Left,
    /// The right one.
    Right,
}

impl Halves {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::Mean, Self::Left, Self::Right];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Mean => "mean",
            Self::Left => "left",
            Self::Right => "right",
        }
    }
}

/// Half a garment out of a photograph.
#[derive(Debug, Clone, PartialEq)]
pub struct TracedHalf {
    /// From top to foot, mm: the fold is where `x` is 0, cloth lies at `x >= 0`.
    pub half: BezPath,
    /// Width and height of the whole, mm.
    pub size_mm: [f64; 2],
    /// How far the two sides lie apart where they are most, mm.
    pub apart_mm: f64,
    /// How far the garment leans in the picture, degrees clockwise.
    pub leaning_deg: f64,
    /// The whole as it was taken, px of the picture: round it.
    pub seen: Vec<Point>,
}

/// Makes half a garment of nodes round it, px, where this sheet lies beside it.
///
/// # Errors
/// [`TraceError`].
pub fn half_of(nodes: &[Point], sheet: &Sheet, halves: Halves) -> Result<TracedHalf, TraceError> {
    if nodes.len() < FEWEST_NODES {
        return Err(TraceError::TooFew { count: nodes.len(), least: FEWEST_NODES });
    }
    let map = table_from_picture(sheet)?;
    let on_table: Vec<Point> = nodes.iter().map(|at| map.apply(*at)).collect::<Option<_>>().ok_or(TraceError::Sheet)?;
    let amid = nodes.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2() / nodes.len() as f64).to_point();
    let below = map.apply(amid).zip(map.apply(amid + Vec2::new(0.0, 1.0)));
    let (middle, down) = middle(&on_table, below.map_or(Vec2::new(0.0, 1.0), |(from, to)| (to - from).normalize()));
    let back = map.inverse(amid).ok_or(TraceError::Sheet)?;
    let seen = back.apply(middle).zip(back.apply(middle + down)).map(|(from, to)| to - from).ok_or(TraceError::Sheet)?;
    // How far the way down is turned from straight down in the picture, clockwise.
    let leaning_deg = (-seen.x).atan2(seen.y).to_degrees();
    if !leaning_deg.is_finite() || leaning_deg.abs() > MOST_LEANING_DEG {
        return Err(TraceError::Leaning { degrees: leaning_deg, most_degrees: MOST_LEANING_DEG });
    }
    let upright = Affine::rotate(down.x.atan2(down.y)) * Affine::translate(-middle.to_vec2());
    let [right, left] = sides(&on_table.iter().map(|at| upright * *at).collect::<Vec<_>>())?;
    let (right, left) = (samples(&right), samples(&mirrored(&left)));
    let apart = |from: &[Point], to: &[Point]| from.iter().map(|at| nearest(to, *at).0.distance(*at)).fold(0.0, f64::max);
    let apart_mm = apart(&right, &left).max(apart(&left, &right));
    let taken = match halves {
        Halves::Right => right,
        Halves::Left => left,
        Halves::Mean => mean(&right, &left),
    };
    let half = curves(&taken);
    let round = mirrored_whole(&half);
    let seen = round.iter().filter_map(|at| back.apply(upright.inverse() * *at)).collect();
    let bounds = round.iter().map(|at| Rect::from_points(*at, *at)).reduce(|a, b| a.union(b)).unwrap_or_default();
    Ok(TracedHalf { half, size_mm: [bounds.width(), bounds.height()], apart_mm, leaning_deg, seen })
}

/// Where the middle of an outline runs: a point and the way down it, which is about the one given. Found from several ways; the one is taken by which
/// the outline lies best on its own mirror image.
fn middle(outline: &[Point], about_down: Vec2) -> (Point, Vec2) {
    let closed: Vec<Point> = outline.iter().chain(outline.first()).copied().collect();
    let places = samples(&closed);
    let found = STARTS_DEG.map(|degrees| {
        let down = (Affine::rotate(degrees.to_radians()) * about_down.to_point()).to_vec2();
        middle_from(&places, &closed, down)
    });
    let best = found.into_iter().max_by(|a, b| a.0.total_cmp(&b.0));
    best.map_or((Point::ORIGIN, about_down), |(_, at, down)| (at, down))
}

/// The same from one way down, with how much of the outline lies on its image. It begins through the outline's middle; each round mirrors places at it,
/// and moves and turns it so that the images come to lie on the sides of the outline that are nearest to them, wherever along those (Gauss and Newton's
/// least squares).
fn middle_from(places: &[Point], closed: &[Point], mut down: Vec2) -> (f64, Point, Vec2) {
    let sum = places.iter().fold(Vec2::ZERO, |sum, at| sum + at.to_vec2());
    let mut at = (sum / places.len().max(1) as f64).to_point();
    let mut alike = 0.0;
    for _ in 0..ROUNDS {
        // Across the middle, to the left as one looks down it.
        let across = down.turn_90();
        let (mut normal, mut right) = (Matrix2::identity() * 1e-9, Vector2::zeros());
        alike = 0.0;
        for place in places {
            let away = *place - at;
            let image = *place - 2.0 * away.dot(across) * across;
            let (met, side) = nearest(closed, image);
            let square = side.turn_90();
            // What moving the middle across by 1 mm, and turning it by 1, does to how far the image lies off that side.
            let turned = -2.0 * (away.dot(across) * -down + away.dot(-down) * across);
            let slope = Vector2::new(2.0 * across.dot(square), turned.dot(square));
            let weight = 1.0 / (1.0 + (image.distance(met) / ROBUST_MM).powi(2));
            alike += weight;
            normal += weight * slope * slope.transpose();
            right += weight * (image - met).dot(square) * slope;
        }
        let Some(step) = normal.cholesky().map(|normal| -normal.solve(&right)) else { break };
        at += step.x * across;
        down = (Affine::rotate(step.y) * down.to_point()).to_vec2();
    }
    (alike, at, down)
}

/// The right and the left side of an upright outline, each from its top to its foot, where both lie on the middle.
fn sides(outline: &[Point]) -> Result<[Vec<Point>; 2], TraceError> {
    let count = outline.len();
    let next = |index: usize| outline[(index + 1) % count];
    let crossings: Vec<(usize, Point)> = (0..count)
        .filter(|&index| (outline[index].x < 0.0) != (next(index).x < 0.0))
        .map(|index| {
            let (from, to) = (outline[index], next(index));
            (index, Point::new(0.0, from.y + (to.y - from.y) * from.x / (from.x - to.x)))
        })
        .collect();
    let [one, other] = crossings[..] else { return Err(TraceError::Middle { times: crossings.len() }) };
    let part = |(first, from): (usize, Point), (last, to): (usize, Point)| {
        let steps = (last + count - first) % count;
        let within = (1..=steps).map(|step| outline[(first + step) % count]);
        let mut part: Vec<Point> = std::iter::once(from).chain(within).chain([to]).collect();
        if from.y > to.y {
            part.reverse();
        }
        part
    };
    let parts = [part(one, other), part(other, one)];
    let across = |part: &[Point]| part.iter().map(|at| at.x).sum::<f64>();
    let [first, second] = parts;
    Ok(if across(&first) > across(&second) { [first, second] } else { [second, first] })
}

fn mirrored(line: &[Point]) -> Vec<Point> {
    line.iter().map(|at| Point::new(-at.x, at.y)).collect()
}

/// Places along a line not farther apart than a step, its nodes among them.
fn samples(line: &[Point]) -> Vec<Point> {
    let mut places: Vec<Point> = line.first().copied().into_iter().collect();
    for side in line.windows(2) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a garment's size in steps")]
        let steps = ((side[0].distance(side[1]) / STEP_MM).ceil() as u32).max(1);
        places.extend((1..=steps).map(|step| side[0].lerp(side[1], f64::from(step) / f64::from(steps))));
    }
    places
}

/// The point of a line that is nearest to a place, and the way, of length 1, that the line runs there.
fn nearest(line: &[Point], place: Point) -> (Point, Vec2) {
    let on = line.windows(2).filter(|side| side[0] != side[1]).map(|side| {
        let found = Line::new(side[0], side[1]).nearest(place, 1e-9);
        (found.distance_sq, side[0].lerp(side[1], found.t), side[1] - side[0])
    });
    on.min_by(|a, b| a.0.total_cmp(&b.0)).map_or((place, Vec2::ZERO), |(_, at, way)| (at, way.normalize()))
}

/// Few curves through places of a half, whose ends lie on the fold and which goes nowhere beyond it.
fn curves(places: &[Point]) -> BezPath {
    let mut places = open_nodes(places, WAYS_MM);
    let last = places.len().saturating_sub(1);
    for (index, at) in places.iter_mut().enumerate() {
        at.x = if index == 0 || index == last { 0.0 } else { at.x.max(0.0) };
    }
    let mut drawn = BezPath::new();
    for at in places {
        if drawn.elements().is_empty() { drawn.move_to(at) } else { drawn.line_to(at) }
    }
    let few = simplified(&drawn, CURVES_MM);
    // A fit may loop where points lie unevenly; straight ways never do.
    if strays(&few, &drawn) <= 2.0 * CURVES_MM { few } else { drawn }
}

/// How far a path strays from another at most, mm.
fn strays(path: &BezPath, from: &BezPath) -> f64 {
    let mut points = Vec::new();
    kurbo::flatten(path, 0.1, |element| points.extend(element.end_point()));
    let ways: Vec<Point> = from.elements().iter().filter_map(kurbo::PathEl::end_point).collect();
    samples(&points).into_iter().map(|at| nearest(&ways, at).0.distance(at)).fold(0.0, f64::max)
}

/// Round the whole garment that a half is of.
fn mirrored_whole(half: &BezPath) -> Vec<Point> {
    let mut right = Vec::new();
    kurbo::flatten(half, 0.2, |element| right.extend(element.end_point()));
    let left = right.iter().rev().map(|at| Point::new(-at.x, at.y));
    right.clone().into_iter().chain(left).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An upright middle meets a C four times, and a box twice: its sides from top to foot.
    #[test]
    fn sides_run_from_top_to_foot() {
        let line = |points: &[(f64, f64)]| points.iter().copied().map(Point::from).collect::<Vec<_>>();
        let c = [(-9.0, 0.0), (9.0, 0.0), (9.0, 2.0), (-5.0, 2.0), (-5.0, 8.0), (9.0, 8.0), (9.0, 10.0), (-9.0, 10.0)];
        assert_eq!(sides(&line(&c)), Err(TraceError::Middle { times: 4 }));
        let found = sides(&line(&[(-9.0, 10.0), (-9.0, 0.0), (7.0, 0.0), (7.0, 10.0)])).unwrap();
        assert_eq!(found[0], line(&[(0.0, 0.0), (7.0, 0.0), (7.0, 10.0), (0.0, 10.0)]));
        assert_eq!(found[1], line(&[(0.0, 0.0), (-9.0, 0.0), (-9.0, 10.0), (0.0, 10.0)]));
    }

    /// An outline that is not alike on both sides: the middle is that of its body, and each half is itself. The sheet lies a millimetre a pixel.
    #[test]
    fn a_longer_sleeve_moves_no_middle() {
        let half = [(0.0, 60.0), (90.0, 0.0), (350.0, 130.0), (310.0, 270.0), (225.0, 235.0), (240.0, 700.0), (0.0, 715.0)];
        let left = half.iter().rev().map(|(x, y)| (if *x > 300.0 { -x - 24.0 } else { -x }, *y)).skip(1).take(5);
        let nodes: Vec<Point> = half.iter().copied().chain(left).map(Point::from).collect();
        let corners = [(500.0, 0.0), (710.0, 0.0), (710.0, 297.0), (500.0, 297.0)].map(Point::from);
        let sheet = Sheet { paper: crate::photo::SheetPaper::A4, corners };
        let width = |halves| half_of(&nodes, &sheet, halves).unwrap().size_mm[0];
        let widths = [Halves::Left, Halves::Mean, Halves::Right].map(width);
        let off = widths.iter().zip([748.0, 724.0, 700.0]).map(|(found, wanted)| (found - wanted).abs()).fold(0.0, f64::max);
        assert!(off < 4.0, "{widths:?}");
    }
}
