//! Projective maps between planes, fitted to pairs of points.
//!
//! Hartley, Zisserman, *Multiple View Geometry in Computer Vision*, 2nd edition (2004): the normalised direct linear transformation
//! (algorithm 4.2), and for more than four pairs the least squares of the distances in the second plane (section 4.2.2), by Gauss and
//! Newton's method.

use super::ProjectorProblem;
use kurbo::{Point, Vec2};
use nalgebra::{DMatrix, DVector, Matrix3, Vector3};
use std::f64::consts::SQRT_2;

/// Fewest pairs that settle a homography.
const FEWEST: usize = 4;
/// Least ratio of the last singular value that counts to the first, in normalised coordinates: below, the points say nothing of one of the
/// eight numbers. Own choice: the corners of a sheet have 0.28, those of a strip drawn out one to a thousand 0.0004.
const LEAST_RATIO: f64 = 1e-7;
/// Most steps of the refinement; two or three serve.
const MOST_STEPS: usize = 25;
/// A step this small ends the refinement, in normalised coordinates.
const SETTLED: f64 = 1e-14;
/// A point with less than this share of the middle's weight lies at the horizon.
const HORIZON: f64 = 1e-9;

/// A point of one plane, and where it comes to lie in the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// In the first plane.
    pub from: Point,
    /// In the second.
    pub to: Point,
}

/// A projective map from one plane to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Homography {
    /// To homogeneous coordinates of the second plane; the last one is 1 for the point that is `middle`.
    matrix: Matrix3<f64>,
}

impl Homography {
    /// The map that takes the first point of each pair nearest to its second: exactly with four, else with the least sum of squared
    /// distances in the second plane.
    ///
    /// ```
    /// use kurbo::Point;
    /// use pleatwright::projection::{Homography, Pair};
    /// let corners = [(0.0, 0.0), (420.0, 0.0), (420.0, 297.0), (0.0, 297.0)];
    /// let seen = [(100.0, 80.0), (700.0, 100.0), (680.0, 520.0), (120.0, 500.0)];
    /// let pairs: Vec<Pair> = corners.into_iter().zip(seen).map(|(from, to)| Pair { from: from.into(), to: to.into() }).collect();
    /// let map = Homography::fit(&pairs)?;
    /// assert!(map.apply(Point::new(420.0, 297.0)).unwrap().distance(Point::new(680.0, 520.0)) < 1e-9);
    /// # Ok::<(), pleatwright::projection::ProjectorProblem>(())
    /// ```
    ///
    /// # Errors
    /// [`ProjectorProblem::Unsettled`] where the pairs are fewer than four or settle no map: equal points, points in a line.
    pub fn fit(pairs: &[Pair]) -> Result<Self, ProjectorProblem> {
        let unsettled = || ProjectorProblem::Unsettled { marks: pairs.len() };
        if pairs.len() < FEWEST || pairs.iter().any(|pair| !pair.from.is_finite() || !pair.to.is_finite()) {
            return Err(unsettled());
        }
        let from = Normaliser::of(pairs.iter().map(|pair| pair.from)).ok_or_else(unsettled)?;
        let to = Normaliser::of(pairs.iter().map(|pair| pair.to)).ok_or_else(unsettled)?;
        let normal: Vec<Pair> = pairs.iter().map(|pair| Pair { from: from.apply(pair.from), to: to.apply(pair.to) }).collect();
        let mut matrix = direct(&normal).ok_or_else(unsettled)?;
        if pairs.len() > FEWEST {
            matrix = refined(matrix, &normal);
        }
        let back = to.matrix().try_inverse().ok_or_else(unsettled)?;
        Self::of(back * matrix * from.matrix(), from.middle).ok_or_else(unsettled)
    }

    /// The map of a matrix, row by row, to homogeneous coordinates. What lies on the side of `middle` is mapped.
    ///
    /// # Errors
    /// [`ProjectorProblem::Unsettled`] where the matrix has no inverse or `middle` lies at the horizon.
    pub fn from_rows(rows: [[f64; 3]; 3], middle: Point) -> Result<Self, ProjectorProblem> {
        let [a, b, c] = rows;
        let matrix = Matrix3::new(a[0], a[1], a[2], b[0], b[1], b[2], c[0], c[1], c[2]);
        Self::of(matrix, middle).ok_or(ProjectorProblem::Unsettled { marks: 0 })
    }

    fn of(matrix: Matrix3<f64>, middle: Point) -> Option<Self> {
        let weight = (matrix * Vector3::new(middle.x, middle.y, 1.0)).z;
        let matrix = matrix / weight;
        let is_sound = matrix.iter().all(|entry| entry.is_finite()) && matrix.try_inverse().is_some();
        is_sound.then_some(Self { matrix })
    }

    /// The matrix to homogeneous coordinates, row by row.
    #[must_use]
    pub fn rows(&self) -> [[f64; 3]; 3] {
        let row = |index: usize| [self.matrix[(index, 0)], self.matrix[(index, 1)], self.matrix[(index, 2)]];
        [row(0), row(1), row(2)]
    }

    /// The homogeneous coordinates of where a point comes to lie; the last is above 0 this side of the horizon.
    pub(super) fn homogeneous(&self, point: Point) -> [f64; 3] {
        let mapped = self.matrix * Vector3::new(point.x, point.y, 1.0);
        [mapped.x, mapped.y, mapped.z]
    }

    /// Where a point comes to lie; none at the horizon and beyond it.
    #[must_use]
    pub fn apply(&self, point: Point) -> Option<Point> {
        let [x, y, weight] = self.homogeneous(point);
        (weight > HORIZON).then(|| Point::new(x / weight, y / weight))
    }

    /// The way back; `middle` is a point of the first plane, on whose side points are to be mapped.
    #[must_use]
    pub fn inverse(&self, middle: Point) -> Option<Self> {
        let middle = self.apply(middle)?;
        Self::of(self.matrix.try_inverse()?, middle)
    }

    /// How much longer lengths become at a point, on average over the directions: the root of how much larger areas become. None beyond the
    /// horizon.
    #[must_use]
    pub fn scale_at(&self, point: Point) -> Option<f64> {
        let [_, _, weight] = self.homogeneous(point);
        // The determinant of the derivative of a projective map.
        (weight > HORIZON).then(|| (self.matrix.determinant() / weight.powi(3)).abs().sqrt())
    }

    /// Whether it turns a plane over, as a mirror does.
    #[must_use]
    pub fn is_mirrored(&self) -> bool {
        self.matrix.determinant() < 0.0
    }
}

/// Moves points to their middle and scales them to a mean distance of the root of 2 from it.
#[derive(Debug, Clone, Copy)]
struct Normaliser {
    middle: Point,
    scale: f64,
}

impl Normaliser {
    fn of(points: impl Iterator<Item = Point> + Clone) -> Option<Self> {
        #[expect(clippy::cast_precision_loss, reason = "a handful of points")]
        let count = points.clone().count() as f64;
        let middle = (points.clone().fold(Vec2::ZERO, |sum, point| sum + point.to_vec2()) / count).to_point();
        let mean = points.map(|point| point.distance(middle)).sum::<f64>() / count;
        (mean > 0.0).then(|| Self { middle, scale: SQRT_2 / mean })
    }

    fn apply(&self, point: Point) -> Point {
        (self.scale * (point - self.middle)).to_point()
    }

    fn matrix(&self) -> Matrix3<f64> {
        let Self { middle, scale } = *self;
        Matrix3::new(scale, 0.0, -scale * middle.x, 0.0, scale, -scale * middle.y, 0.0, 0.0, 1.0)
    }
}

/// The matrix with the least algebraic error; none where the points don't settle it.
fn direct(pairs: &[Pair]) -> Option<Matrix3<f64>> {
    // A row of zeros for four pairs: the singular vector that is looked for is the ninth.
    let mut equations = DMatrix::<f64>::zeros((2 * pairs.len()).max(9), 9);
    for (index, Pair { from, to }) in pairs.iter().enumerate() {
        let first = [-from.x, -from.y, -1.0, 0.0, 0.0, 0.0, to.x * from.x, to.x * from.y, to.x];
        let second = [0.0, 0.0, 0.0, -from.x, -from.y, -1.0, to.y * from.x, to.y * from.y, to.y];
        for (column, (x, y)) in first.into_iter().zip(second).enumerate() {
            equations[(2 * index, column)] = x;
            equations[(2 * index + 1, column)] = y;
        }
    }
    let solved = equations.try_svd(false, true, f64::EPSILON, 0)?;
    let values = &solved.singular_values;
    if values[7] < LEAST_RATIO * values[0] {
        return None;
    }
    let least = solved.v_t.as_ref()?.row(8);
    Some(Matrix3::from_row_iterator(least.iter().copied()))
}

/// The matrix with the least sum of squared distances in the second plane, from one that is near. The last entry stays 1: in normalised
/// coordinates it is the weight of the middle, which is never 0.
fn refined(start: Matrix3<f64>, pairs: &[Pair]) -> Matrix3<f64> {
    let mut matrix = start / start[(2, 2)];
    for _ in 0..MOST_STEPS {
        let mut slopes = DMatrix::<f64>::zeros(2 * pairs.len(), 8);
        let mut off = DVector::<f64>::zeros(2 * pairs.len());
        for (index, Pair { from, to }) in pairs.iter().enumerate() {
            let mapped = matrix * Vector3::new(from.x, from.y, 1.0);
            let (x, y) = (mapped.x / mapped.z, mapped.y / mapped.z);
            let [u, v, w] = [from.x, from.y, 1.0].map(|entry| entry / mapped.z);
            let rows = [[u, v, w, 0.0, 0.0, 0.0, -x * u, -x * v], [0.0, 0.0, 0.0, u, v, w, -y * u, -y * v]];
            for (row, slope) in rows.iter().enumerate() {
                for (column, entry) in slope.iter().enumerate() {
                    slopes[(2 * index + row, column)] = *entry;
                }
            }
            off[2 * index] = to.x - x;
            off[2 * index + 1] = to.y - y;
        }
        let Ok(step) = slopes.svd(true, true).solve(&off, f64::EPSILON) else { return matrix };
        for (index, by) in step.iter().enumerate() {
            matrix[(index / 3, index % 3)] += by;
        }
        if step.norm() < SETTLED {
            break;
        }
    }
    matrix
}
