//! How the garment lies otherwise than the plan: a smooth field of shifts, estimated from what is seen of it in places, with error bars.
//!
//! Kriging, also called Gaussian process regression: Rasmussen, Williams, *Gaussian Processes for Machine Learning* (2006), equations 2.25
//! and 2.26. Both coordinates of the shift have the same covariance and are independent; an observation sees the shift along one direction.

use kurbo::{Point, Vec2};
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use rayon::prelude::*;

/// What is known of the field before anything is seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Covariance {
    /// How far cloth is laid off, mm: 5 (measured on drawn photographs).
    pub sd_mm: f64,
    /// Over what length it is laid off one way, mm: 150 (the same).
    pub reach_mm: f64,
    /// How far the whole lies off, and how far it is stretched and sheared at `affine_reach_mm` from the middle, mm: 3 (the same).
    pub affine_sd_mm: f64,
    /// See there, mm: 300.
    pub affine_reach_mm: f64,
    /// The middle about which it is stretched.
    pub middle: Point,
}

impl Covariance {
    /// As measured on drawn photographs, about a garment's middle.
    #[must_use]
    pub const fn about(middle: Point) -> Self {
        Self { sd_mm: 5.0, reach_mm: 150.0, affine_sd_mm: 3.0, affine_reach_mm: 300.0, middle }
    }

    /// Of one coordinate of the shift at two places, mm2.
    #[must_use]
    #[inline]
    pub fn between(&self, a: Point, b: Point) -> f64 {
        let near = (-0.5 * a.distance_squared(b) / self.reach_mm.powi(2)).exp();
        let [a, b] = [a, b].map(|at| (at - self.middle) / self.affine_reach_mm);
        self.sd_mm.powi(2) * near + self.affine_sd_mm.powi(2) * (1.0 + a.dot(b))
    }
}

/// What is seen of the field somewhere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seen {
    /// Where, on the plan, mm.
    pub at: Point,
    /// Along which direction; a unit vector.
    pub along: Vec2,
    /// By how much the cloth lies off along it, mm.
    pub shift_mm: f64,
    /// How far off that may be, mm.
    pub sd_mm: f64,
}

/// The field, as far as it is known.
#[derive(Debug, Clone)]
pub struct LayField {
    covariance: Covariance,
    seen: Vec<(Point, Vec2)>,
    weights: Vec<f64>,
    factor: Cholesky<f64, Dyn>,
}

impl LayField {
    /// Estimates the field; none where an observation is not finite or claims to be exact twice over.
    #[must_use]
    pub fn fit(covariance: Covariance, seen: &[Seen]) -> Option<Self> {
        let columns: Vec<Vec<f64>> = seen.par_iter().map(|a| seen.iter().map(|b| between(&covariance, a, b)).collect()).collect();
        let matrix = DMatrix::from_fn(seen.len(), seen.len(), |row, column| {
            columns[column][row] + if row == column { seen[row].sd_mm.powi(2) } else { 0.0 }
        });
        let factor = matrix.cholesky()?;
        let weights = factor.solve(&DVector::from_iterator(seen.len(), seen.iter().map(|seen| seen.shift_mm)));
        let is_finite = weights.iter().all(|weight| weight.is_finite());
        let seen = seen.iter().map(|seen| (seen.at, seen.along)).collect();
        is_finite.then(|| Self { covariance, seen, weights: weights.iter().copied().collect(), factor })
    }

    /// By how much the cloth lies off at a point of the plan, mm.
    #[must_use]
    pub fn shift(&self, at: Point) -> Vec2 {
        let terms = self.seen.iter().zip(&self.weights);
        terms.map(|(&(seen, along), weight)| weight * self.covariance.between(at, seen) * along).fold(Vec2::ZERO, |a, b| a + b)
    }

    /// How far off the mean of the shift along some directions at some points may be, mm: one for a point, many for a line.
    #[must_use]
    pub fn sd_mm(&self, places: &[(Point, Vec2)]) -> f64 {
        let share = 1.0 / places.len().max(1) as f64;
        let known = DVector::from_iterator(
            self.seen.len(),
            self.seen.iter().map(|&(seen, direction)| {
                places.iter().map(|&(at, along)| share * self.covariance.between(at, seen) * along.dot(direction)).sum::<f64>()
            }),
        );
        let pairs = places.iter().flat_map(|a| places.iter().map(move |b| (a, b)));
        let before: f64 = pairs.map(|(a, b)| share * share * self.covariance.between(a.0, b.0) * a.1.dot(b.1)).sum();
        (before - known.dot(&self.factor.solve(&known))).max(0.0).sqrt()
    }
}

fn between(covariance: &Covariance, a: &Seen, b: &Seen) -> f64 {
    covariance.between(a.at, b.at) * a.along.dot(b.along)
}
