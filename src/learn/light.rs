//! A side's colours held against those foretold: what is left of uneven light taken out, what fits nothing counting little.
//!
//! Of each channel the light is multiplied by the exponential of a polynomial of second order over the cloth, its terms known to be within
//! 2 % of none; they are solved along exactly as the colours are linear in them. Bins count by Cauchy's weights: one that lies off by
//! two and a half standard deviations counts half.

use super::bins::TERMS;
use super::model::lab;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};

/// How far a bin's colour strays from a foretold one, Lab (set on drawn pieces).
const BIN_SD: f64 = 2.0;
/// From where a bin counts half, Lab.
const HALF_AT: f64 = 2.5 * BIN_SD;
/// How uneven light is that was evened out, as a logarithm for each term (set on drawn photographs).
const LIGHT_SD: f64 = 0.02;
/// Rounds of weighing.
const ROUNDS: usize = 4;
/// Relative step by which light is changed to see colours change.
const STEP: f64 = 1e-3;

/// A side's colours beside those foretold.
#[derive(Debug, Clone)]
pub(super) struct Compared {
    /// Lab foretold in each bin.
    pub(super) foretold: Vec<[f64; 3]>,
    /// What is off once light is taken out; 0 where nothing is seen.
    off: DVector<f64>,
    /// How much each counts, over its variance.
    weights: DVector<f64>,
    columns: DMatrix<f64>,
    factor: Cholesky<f64, Dyn>,
    /// The robust sum of squares, light included.
    pub(super) cost: f64,
}

/// What a side adds to the matrices of a fit.
#[derive(Debug)]
pub(super) struct Added {
    pub(super) matrix: DMatrix<f64>,
    pub(super) descent: DVector<f64>,
}

impl Compared {
    /// Compares what is seen in each bin with the light foretold there; none where that can't be computed with.
    pub(super) fn of(seen: &[Option<[f64; 3]>], foretold: &[[f64; 3]], terms: &[[f64; TERMS]]) -> Option<Self> {
        let colours: Vec<[f64; 3]> = foretold.iter().map(|light| lab(*light)).collect();
        let raw = DVector::from_iterator(
            3 * seen.len(),
            seen.iter().zip(&colours).flat_map(|(seen, colour)| {
                let seen = seen.map_or(*colour, lab);
                [0, 1, 2].map(|axis| seen[axis] - colour[axis])
            }),
        );
        let columns = columns(foretold, &colours, terms);
        let is_seen = |bin: usize| if seen[bin].is_some() { 1.0 } else { 0.0 };
        let mut weights = DVector::from_fn(raw.len(), |row, _| is_seen(row / 3) / BIN_SD.powi(2));
        let mut fitted = None;
        for _ in 0..ROUNDS {
            let weighted = weighted(&columns, &weights);
            let matrix = columns.tr_mul(&weighted) + DMatrix::identity(columns.ncols(), columns.ncols());
            let factor = matrix.cholesky()?;
            let light = factor.solve(&weighted.tr_mul(&raw));
            let off = &raw - &columns * &light;
            let far2 = |bin: usize| off.fixed_rows::<3>(3 * bin).norm_squared() / 3.0 / HALF_AT.powi(2);
            let robust: f64 = (0..seen.len()).map(|bin| is_seen(bin) * far2(bin).ln_1p()).sum();
            let cost = 3.0 * (HALF_AT / BIN_SD).powi(2) * robust + light.norm_squared();
            weights = DVector::from_fn(raw.len(), |row, _| is_seen(row / 3) / BIN_SD.powi(2) / (1.0 + far2(row / 3)));
            fitted = Some((off, factor, cost));
        }
        let (off, factor, cost) = fitted?;
        cost.is_finite().then_some(Self { foretold: colours, off, weights, columns, factor, cost })
    }

    /// What this side says of unknowns by which its colours change so (a column each), light being free.
    pub(super) fn added(&self, slopes: &DMatrix<f64>) -> Added {
        let weighted = weighted(slopes, &self.weights);
        let with_light = weighted.tr_mul(&self.columns);
        let matrix = weighted.tr_mul(slopes) - &with_light * self.factor.solve(&with_light.transpose());
        Added { matrix, descent: weighted.tr_mul(&self.off) }
    }

    /// The slopes' products with what is off, block by block of bins that err together: a row a block, light being free.
    pub(super) fn scores(&self, slopes: &DMatrix<f64>, blocks: &[usize]) -> DMatrix<f64> {
        let with_light = weighted(slopes, &self.weights).tr_mul(&self.columns);
        let free = slopes - &self.columns * self.factor.solve(&with_light.transpose());
        let mut scores = DMatrix::zeros(blocks.iter().max().map_or(0, |last| last + 1), slopes.ncols());
        for row in 0..free.nrows() {
            let share = self.weights[row] * self.off[row];
            let mut score = scores.row_mut(blocks[row / 3]);
            score += share * free.row(row);
        }
        scores
    }

    /// The mean square of what is off in the bins that are seen, Lab, and how many there are.
    pub(super) fn left(&self) -> (f64, usize) {
        let seen = (0..self.off.len() / 3).filter(|bin| self.weights[3 * bin] > 0.0).count();
        (self.off.norm_squared() / (3 * seen).max(1) as f64, seen)
    }
}

fn weighted(matrix: &DMatrix<f64>, weights: &DVector<f64>) -> DMatrix<f64> {
    let mut weighted = matrix.clone();
    for mut column in weighted.column_iter_mut() {
        column.component_mul_assign(weights);
    }
    weighted
}

/// How colours change with each term of the light, over its standard deviation: channel by channel.
fn columns(light: &[[f64; 3]], colours: &[[f64; 3]], terms: &[[f64; TERMS]]) -> DMatrix<f64> {
    let mut columns = DMatrix::zeros(3 * light.len(), 3 * TERMS);
    for (bin, (light, colour)) in light.iter().zip(colours).enumerate() {
        for channel in 0..3 {
            let mut other = *light;
            other[channel] *= 1.0 + STEP;
            let other = lab(other);
            for axis in 0..3 {
                let slope = (other[axis] - colour[axis]) / STEP * LIGHT_SD;
                for (number, term) in terms[bin].iter().enumerate() {
                    columns[(3 * bin + axis, TERMS * channel + number)] = slope * term;
                }
            }
        }
    }
    columns
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bins() -> (Vec<[f64; 3]>, Vec<[f64; TERMS]>) {
        let at = |bin: u32| (f64::from(bin % 20) / 10.0 - 1.0, f64::from(bin / 20) / 10.0 - 1.0);
        let light = (0..400).map(|bin| [0.2 + 0.02 * f64::from(bin % 7), 0.4, 0.3 + 0.01 * f64::from(bin % 11)]).collect();
        let terms = (0..400).map(at).map(|(x, y)| [1.0, x, y, x * x, y * y, x * y]).collect();
        (light, terms)
    }

    /// Light that is uneven as a polynomial has it is taken out; stains on a tenth of the cloth hardly count.
    #[test]
    fn planted_light_is_taken_out_among_stains() {
        let (light, terms) = bins();
        let uneven = |bin: usize, light: [f64; 3]| {
            let factor = (0.02 * terms[bin][1] - 0.015 * terms[bin][3] + 0.01).exp();
            if bin % 10 == 3 { Some(light.map(|channel| 0.3 * channel)) } else { Some([factor * light[0], light[1], light[2]]) }
        };
        let seen: Vec<_> = light.iter().enumerate().map(|(bin, light)| uneven(bin, *light)).collect();
        let compared = Compared::of(&seen, &light, &terms).unwrap();
        let clean = (0..400).filter(|bin| bin % 10 != 3);
        let worst = clean.map(|bin| compared.off.fixed_rows::<3>(3 * bin).norm()).fold(0.0, f64::max);
        // What is believed of light holds it back a little.
        assert!(worst < 0.4, "{worst}");
        assert!(compared.weights[9] < 0.1 * compared.weights[0], "a stain counts little");
    }

    /// The descent is half the slope of the robust sum, found by changing what is foretold.
    #[test]
    fn descent_is_half_the_slope_of_the_sum() {
        let (light, terms) = bins();
        let seen: Vec<_> =
            light.iter().enumerate().map(|(bin, light)| Some(light.map(|c| c * (1.0 + 0.03 * (bin % 5) as f64)))).collect();
        let moved =
            |by: f64| light.iter().enumerate().map(|(bin, l)| l.map(|c| c * (by * (bin % 3) as f64).exp())).collect::<Vec<_>>();
        let of = |by: f64| Compared::of(&seen, &moved(by), &terms).unwrap();
        let (here, step) = (of(0.0), 1e-4);
        let [plus, minus] = [of(step), of(-step)];
        let slopes = DMatrix::from_fn(1200, 1, |row, _| {
            (plus.foretold[row / 3][row % 3] - minus.foretold[row / 3][row % 3]) / (2.0 * step)
        });
        let slope = (plus.cost - minus.cost) / (2.0 * step);
        let descent = here.added(&slopes).descent[0];
        assert!((descent / (-0.5 * slope) - 1.0).abs() < 0.02, "{descent} beside {}", -0.5 * slope);
    }

    /// What is not seen says nothing.
    #[test]
    fn bins_that_are_not_seen_add_nothing() {
        let (light, terms) = bins();
        let compared = Compared::of(&vec![None; 400], &light, &terms).unwrap();
        let added = compared.added(&DMatrix::from_element(1200, 2, 1.0));
        assert!(compared.cost == 0.0 && added.matrix.amax() == 0.0 && added.descent.amax() == 0.0);
        assert_eq!(compared.left().1, 0);
    }
}
