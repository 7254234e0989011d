//! What a fit teaches: values with how far off each may be, and how strong the dyes came out.

use super::TaughtBy;
use super::value::LearnedValue;
use crate::layout::ComponentReach;
use nalgebra::{DMatrix, DVector};

/// What pieces taught, fitted together.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// The values that they show.
    pub(super) values: Vec<LearnedValue>,
    /// The components of mixtures that they show, each with its maker's guess; they follow the values in what stands below.
    pub(super) components: Vec<ComponentReach>,
    /// Of each, how many pieces show it.
    pub(super) shown_by: Vec<usize>,
    /// Of each, whether none but discharged pieces show it.
    pub(super) is_bathed: Vec<bool>,
    /// Where each lies on its scale.
    pub(super) mean: DVector<f64>,
    /// The fit's own covariance, of what is off in blocks of bins that err together: too small by each value's factor.
    pub(super) covariance: DMatrix<f64>,
    /// How strong the dyes came out, piece by piece.
    pub strengths: Vec<Strength>,
    /// The pieces.
    pub pieces: Vec<TaughtBy>,
    /// How far the colours of bins are off the fit, as a root of a mean square, Lab.
    pub off: f64,
    /// How many bins were seen.
    pub bins: usize,
    /// How often the equations of doses were solved.
    pub solves: usize,
}

/// How strong a dye came out on a piece, beside its swatch.
#[derive(Debug, Clone, PartialEq)]
pub struct Strength {
    /// The dye's name in the layout.
    pub dye: String,
    /// Its strength as a logarithm: 0 as the swatch says.
    pub log: f64,
    /// The fit's own standard deviation.
    pub sd: f64,
}

impl Lesson {
    /// The values that are shown.
    #[must_use]
    pub fn values(&self) -> &[LearnedValue] {
        &self.values
    }

    /// Where a value lies on its scale by these pieces alone, and the fit's own standard deviation, which is too small by the value's factor; none
    /// of a value that none shows.
    #[must_use]
    pub fn found(&self, value: LearnedValue) -> Option<(f64, f64)> {
        let at = self.values.iter().position(|other| *other == value)?;
        Some((self.mean[at], self.covariance[(at, at)].sqrt()))
    }

    /// The components of mixtures that are shown, each with its maker's guess.
    #[must_use]
    pub fn components(&self) -> &[ComponentReach] {
        &self.components
    }

    /// The logarithm of a component's factor by these pieces alone, and the fit's own standard deviation, which is too small; none of one that none
    /// shows.
    #[must_use]
    pub fn found_component(&self, mixture: &str, component: &str) -> Option<(f64, f64)> {
        let at = self.values.len() + self.components.iter().position(|of| of.is_of(mixture, component))?;
        Some((self.mean[at], self.covariance[(at, at)].sqrt()))
    }
}
