//! Splines of any degree, with weights or without, as cubics.
//!
//! Points and directions come from de Boor's algorithm (C. de Boor, A Practical Guide to Splines, 1978; L. Piegl and W. Tiller, The NURBS
//! Book, 2nd edition 1997, sections 3.3 and 4.3). Between two knots a cubic with these points and directions at its ends is the spline
//! itself where its degree is at most 3 and it has no weights; any other is halved until the cubic is near enough.

use super::entity::Entity;
use crate::import::error::ImportError;
use kurbo::{BezPath, CubicBez, ParamCurve as _, Point, Vec2};

/// Highest degree that is drawn.
const MOST_DEGREE: usize = 25;
/// Ends where it begins (bit of group code 70).
const CLOSED: i64 = 1;
/// How often a stretch between knots is halved at the most.
const MOST_HALVINGS: u32 = 8;
/// Knots nearer than this share of all are one.
const SAME_KNOT: f64 = 1e-12;

/// A spline's path within `tolerance`; none where it has no control points, or too few for its knots.
pub(super) fn path(entity: &Entity<'_>, tolerance: f64) -> Result<Option<BezPath>, ImportError> {
    let Some(spline) = Spline::of(entity)? else { return Ok(None) };
    let knots = &spline.knots[spline.degree..=spline.control.len()];
    let least = SAME_KNOT * (knots[knots.len() - 1] - knots[0]);
    let mut path = BezPath::new();
    for span in knots.windows(2).filter(|span| span[1] - span[0] > least) {
        let [from, to] = [spline.at(span[0], span[0]), spline.at(span[1], span[0])];
        if path.elements().is_empty() {
            path.move_to(from.0);
        }
        spline.stretch(&mut path, [span[0], span[1]], [from, to], span[0], tolerance, 0);
    }
    if entity.bits(70)? & CLOSED != 0 {
        path.close_path();
    }
    Ok((path.elements().len() > 1).then_some(path))
}

struct Spline {
    degree: usize,
    /// One more than points and degree together, in ascending order.
    knots: Vec<f64>,
    /// Each with its weight.
    control: Vec<[f64; 3]>,
}

/// A point and the direction there, by the parameter.
type Place = (Point, Vec2);

impl Spline {
    fn of(entity: &Entity<'_>) -> Result<Option<Self>, ImportError> {
        let (points, knots, weights) = (entity.points(10)?, entity.numbers(40)?, entity.numbers(41)?);
        let degree = usize::try_from(entity.bits(71)?).unwrap_or(usize::MAX);
        let is_whole = (1..=MOST_DEGREE).contains(&degree)
            && points.len() > degree
            && knots.len() == points.len() + degree + 1
            && knots.is_sorted_by(|a, b| a <= b)
            && knots[degree] < knots[points.len()];
        if !is_whole {
            return Ok(None);
        }
        let weight = |index: usize| weights.get(index).copied().filter(|weight| *weight > 0.0).unwrap_or(1.0);
        let control = points.iter().enumerate().map(|(index, p)| [weight(index) * p.x, weight(index) * p.y, weight(index)]);
        Ok(Some(Self { degree, knots, control: control.collect() }))
    }

    /// Whether a cubic between two knots is the spline itself.
    fn is_cubic(&self) -> bool {
        self.degree <= 3 && self.control.iter().all(|point| point[2] == self.control[0][2])
    }

    /// The place at a parameter, of the polynomial between the knot `within` and the next.
    fn at(&self, parameter: f64, within: f64) -> Place {
        let last = self.control.len() - 1;
        let span = self.knots.partition_point(|knot| *knot <= within).saturating_sub(1).clamp(self.degree, last);
        let first = span - self.degree;
        let mut points = self.control[first..=span].to_vec();
        let mut slope = [0.0; 3];
        for round in 1..=self.degree {
            // The last two that are left span the direction.
            if round == self.degree {
                let width = self.knots[span + 1] - self.knots[span];
                slope = [0, 1, 2]
                    .map(|axis| (points[self.degree][axis] - points[self.degree - 1][axis]) * self.degree as f64 / width);
            }
            for index in (round..=self.degree).rev() {
                let [low, high] = [self.knots[first + index], self.knots[span + 1 + index - round]];
                let share = (parameter - low) / (high - low);
                points[index] = [0, 1, 2].map(|axis| (1.0 - share) * points[index - 1][axis] + share * points[index][axis]);
            }
        }
        let [x, y, weight] = points[self.degree];
        let at = Point::new(x / weight, y / weight);
        (at, Vec2::new(slope[0] - slope[2] * at.x, slope[1] - slope[2] * at.y) / weight)
    }

    /// Adds the cubics of a stretch of parameters, whose ends are known, between the knot `within` and the next.
    fn stretch(&self, path: &mut BezPath, over: [f64; 2], ends: [Place; 2], within: f64, tolerance: f64, halvings: u32) {
        let third = (over[1] - over[0]) / 3.0;
        let [from, to] = ends;
        let cubic = CubicBez::new(from.0, from.0 + third * from.1, to.0 - third * to.1, to.0);
        let middle = 0.5 * (over[0] + over[1]);
        let is_near = self.is_cubic() || halvings == MOST_HALVINGS || {
            let off = |share: f64| {
                let at = self.at(over[0] + share * (over[1] - over[0]), within).0;
                cubic.eval(share).distance(at)
            };
            [0.25, 0.5, 0.75].into_iter().all(|share| off(share) <= tolerance)
        };
        if is_near {
            path.curve_to(cubic.p1, cubic.p2, cubic.p3);
            return;
        }
        let between = self.at(middle, within);
        self.stretch(path, [over[0], middle], [from, between], within, tolerance, halvings + 1);
        self.stretch(path, [middle, over[1]], [between, to], within, tolerance, halvings + 1);
    }
}
