//! Nonlinear least squares: Gauss and Newton's steps, damped as Levenberg and Marquardt have it.
//!
//! A step `d` solves `(A + lambda D) d = g`, with `A` the matrix of the linearised problem, `g` half the slope downward, and `D` the greatest
//! diagonal of `A` that was met: unknowns of any size are treated alike, and a step along a narrow valley is not cut short by its walls. `lambda`
//! follows how well the linearised problem foretold the gain (Nielsen, *Damping parameter in Marquardt's method*, IMM-REP-1999-05, from memory).

use nalgebra::{DMatrix, DVector};

/// A problem about a point.
#[derive(Debug, Clone, PartialEq)]
pub struct Normal {
    /// `J' W J`, and what is known beforehand.
    pub matrix: DMatrix<f64>,
    /// `J' W r`, and what is known beforehand: half the slope downward.
    pub descent: DVector<f64>,
}

/// A sum of squares, or something that is one nearby.
pub trait LeastSquares {
    /// Why it can't be computed.
    type Error;

    /// The sum at a point; infinite where there is none.
    ///
    /// # Errors
    /// As the problem has them.
    fn cost(&mut self, at: &DVector<f64>) -> Result<f64, Self::Error>;

    /// The problem linearised at the point of the last [`LeastSquares::cost`] that lowered it.
    ///
    /// # Errors
    /// As the problem has them.
    fn normal(&mut self, at: &DVector<f64>) -> Result<Normal, Self::Error>;
}

/// How long to look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeastSquaresOptions {
    /// Most linearised problems.
    pub most_steps: usize,
    /// Ends when the next step promises to lower the sum by less than this.
    pub gain: f64,
    /// Longest change of an unknown in a step.
    pub longest: f64,
}

/// Where the search ended.
#[derive(Debug, Clone, PartialEq)]
pub struct Minimum {
    /// The unknowns.
    pub at: DVector<f64>,
    /// The sum there.
    pub cost: f64,
    /// The problem linearised there; none where the steps ran out first.
    pub normal: Option<Normal>,
    /// Linearised problems.
    pub steps: usize,
}

/// First damping, as a share of the diagonal.
const FIRST_DAMPING: f64 = 1e-2;
/// Dampings tried at one point: the last is so strong that the step is nothing.
const MOST_TRIES: u32 = 12;

/// Searches from a point; `cost` is asked first.
///
/// # Errors
/// The problem's own.
pub fn minimise<P: LeastSquares>(
    problem: &mut P,
    start: &DVector<f64>,
    options: &LeastSquaresOptions,
) -> Result<Minimum, P::Error> {
    let mut found = Minimum { cost: problem.cost(start)?, at: start.clone(), normal: None, steps: 0 };
    let mut damping = FIRST_DAMPING;
    let mut scale = DVector::zeros(start.len());
    while found.steps < options.most_steps {
        let normal = problem.normal(&found.at)?;
        found.steps += 1;
        scale = scale.zip_map(&normal.matrix.diagonal(), f64::max);
        let promised = step(&normal, &scale, 0.0, options.longest).map_or(f64::INFINITY, |step| gain(&normal, &step));
        if promised < options.gain {
            found.normal = Some(normal);
            break;
        }
        let Some((at, cost)) = lower(problem, &found, &normal, &scale, &mut damping, options.longest)? else {
            found.normal = Some(normal);
            break;
        };
        (found.at, found.cost) = (at, cost);
    }
    Ok(found)
}

/// A lower point; none where no step lowers the sum.
fn lower<P: LeastSquares>(
    problem: &mut P,
    from: &Minimum,
    normal: &Normal,
    scale: &DVector<f64>,
    damping: &mut f64,
    longest: f64,
) -> Result<Option<(DVector<f64>, f64)>, P::Error> {
    let mut faster = 2.0;
    for _ in 0..MOST_TRIES {
        if let Some(step) = step(normal, scale, *damping, longest) {
            let at = &from.at + &step;
            let cost = problem.cost(&at)?;
            if cost < from.cost {
                let foretold = (from.cost - cost) / gain(normal, &step).max(f64::MIN_POSITIVE);
                *damping *= (1.0 - (2.0 * foretold - 1.0).powi(3)).clamp(0.2, 4.0);
                return Ok(Some((at, cost)));
            }
        }
        *damping *= faster;
        faster *= 2.0;
    }
    Ok(None)
}

/// The damped step, shortened where an unknown would change by more than the longest.
fn step(normal: &Normal, scale: &DVector<f64>, damping: f64, longest: f64) -> Option<DVector<f64>> {
    let matrix = &normal.matrix + DMatrix::from_diagonal(&(scale * damping));
    let step = matrix.cholesky()?.solve(&normal.descent);
    let most = step.amax();
    most.is_finite().then(|| if most > longest { step * (longest / most) } else { step })
}

/// By how much the linearised sum falls over a step.
fn gain(normal: &Normal, step: &DVector<f64>) -> f64 {
    2.0 * step.dot(&normal.descent) - step.dot(&(&normal.matrix * step))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;

    /// A model of two unknowns with its slopes, and what was measured.
    struct Curve<'a> {
        model: fn(f64, f64, f64) -> (f64, [f64; 2]),
        data: &'a [(f64, f64)],
    }

    impl Curve<'_> {
        fn terms(&self, at: &DVector<f64>) -> impl Iterator<Item = (f64, DVector<f64>)> {
            self.data.iter().map(move |&(y, x)| {
                let (value, slopes) = (self.model)(at[0], at[1], x);
                (y - value, DVector::from(slopes.to_vec()))
            })
        }
    }

    impl LeastSquares for Curve<'_> {
        type Error = Infallible;

        fn cost(&mut self, at: &DVector<f64>) -> Result<f64, Infallible> {
            Ok(self.terms(at).map(|(off, _)| off * off).sum())
        }

        fn normal(&mut self, at: &DVector<f64>) -> Result<Normal, Infallible> {
            let mut normal = Normal { matrix: DMatrix::zeros(2, 2), descent: DVector::zeros(2) };
            for (off, slopes) in self.terms(at) {
                normal.matrix += &slopes * slopes.transpose();
                normal.descent += off * &slopes;
            }
            Ok(normal)
        }
    }

    const TIGHT: LeastSquaresOptions = LeastSquaresOptions { most_steps: 200, gain: 1e-22, longest: f64::INFINITY };

    /// Misra1a of the NIST Statistical Reference Datasets, nonlinear regression (Misra 1978, dental research: volume against pressure), of lower
    /// difficulty, and its certified values; all from memory. The certified sum comes out of the data to nine digits, which it would not
    /// were a digit of either wrong.
    #[test]
    fn misra1a_is_certified() {
        let y = [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78];
        let x = [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0];
        let data: Vec<(f64, f64)> = y.into_iter().zip(x).collect();
        let model = |a: f64, b: f64, x: f64| (a * (1.0 - (-b * x).exp()), [1.0 - (-b * x).exp(), a * x * (-b * x).exp()]);
        for start in [[500.0, 0.0001], [250.0, 0.0005]] {
            let mut curve = Curve { model, data: &data };
            let found = minimise(&mut curve, &DVector::from(start.to_vec()), &TIGHT).unwrap();
            let certified = [2.389_421_291_8e2, 5.501_564_318_1e-4];
            for (found, certified) in found.at.iter().zip(certified) {
                assert!((found / certified - 1.0).abs() < 1e-6, "{found} is not {certified}");
            }
            assert!((found.cost / 1.245_513_889_4e-1 - 1.0).abs() < 1e-8, "{}", found.cost);
            // Standard deviations: of the residuals over 12 degrees of freedom.
            let inverse = found.normal.unwrap().matrix.try_inverse().unwrap();
            for (at, certified) in [2.707_007_524_1, 7.266_868_843_6e-6].into_iter().enumerate() {
                let sd = (inverse[(at, at)] * found.cost / 12.0).sqrt();
                assert!((sd / certified - 1.0).abs() < 1e-6, "{sd} is not {certified}");
            }
        }
    }

    /// Rosenbrock's valley (Computer Journal 3, 175 (1960)), narrow and curved, with its least at (1, 1); as residuals `10 (y - x2)` and `1 - x`.
    #[test]
    fn a_narrow_curved_valley_is_followed_to_its_end() {
        let model = |a: f64, b: f64, which: f64| {
            if which < 0.5 { (10.0 * (b - a * a), [-20.0 * a, 10.0]) } else { (a, [1.0, 0.0]) }
        };
        let data = [(0.0, 0.0), (1.0, 1.0)];
        let found = minimise(&mut Curve { model, data: &data }, &DVector::from(vec![-1.2, 1.0]), &TIGHT).unwrap();
        assert!((found.at - DVector::from(vec![1.0, 1.0])).norm() < 1e-6 && found.steps < 60, "{} steps", found.steps);
    }

    #[test]
    fn no_unknown_steps_farther_than_allowed() {
        let model = |a: f64, b: f64, x: f64| (a + b * x, [1.0, x]);
        let data = [(10.0, 0.0), (10.0, 1.0)];
        let short = LeastSquaresOptions { longest: 0.5, most_steps: 1, ..TIGHT };
        let found = minimise(&mut Curve { model, data: &data }, &DVector::zeros(2), &short).unwrap();
        assert!((found.at.amax() - 0.5).abs() < 1e-12, "{}", found.at);
    }
}
