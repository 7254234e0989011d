//! Several pieces fitted together: measured, straightened by what is believed, fitted, straightened anew and fitted again.

use super::component::{factor_at, place_of, position, shown_components};
use super::learned::Learned;
use super::lesson::{Lesson, Strength};
use super::model::Model;
use super::piece::{Measured, Piece};
use super::problem::{Fitted, Problem};
use super::value::{LearnedValue, shown_by};
use super::{LearnError, LeastSquares as _, LeastSquaresOptions, TaughtBy, minimise};
use crate::layout::ComponentReach;
use crate::reveal::Cancel;
use nalgebra::{DMatrix, DVector};

/// Photographs are straightened and fitted as often as this, each time until a step promises to lower the sum of squares by less, for each
/// piece. Four is less
/// than a tenth of one standard deviation's worth once errors are widened by their factors; the first time, what is straightened anew moves
/// more.
const GAINS: [f64; 2] = [40.0, 4.0];
/// Longest change of a value in a step, on its scale.
const LONGEST: f64 = 0.8;
/// Most steps of a round.
const MOST_STEPS: usize = 6;
/// Fewest bins for each unknown. Own choice.
const FEWEST_BINS: usize = 20;
/// About how many linearised problems a fit takes, to tell how far it is (measured).
const USUAL_STEPS: f64 = 6.0;

/// Learns from pieces, starting from what was learned `before`; that itself does not count again.
///
/// # Errors
/// [`LearnError`] naming the piece or its photograph.
pub fn learn(pieces: &[Piece], before: &Learned, cancel: &Cancel) -> Result<Lesson, LearnError> {
    let taught: Vec<TaughtBy> = pieces.iter().map(TaughtBy::of).collect();
    before.check_new(pieces)?;
    if let Some(bare) = pieces.iter().find(|piece| shown_by(&piece.layout).is_empty()) {
        return Err(LearnError::Bare { piece: bare.name.clone() });
    }
    let measured: Vec<Measured<'_>> = pieces.iter().map(|piece| Measured::of(piece, cancel)).collect::<Result<_, _>>()?;
    let mut problem = problem(&measured, before, cancel);
    let bins = measured.iter().flat_map(|piece| &piece.sides).map(|side| side.bins.len()).sum::<usize>();
    if bins < FEWEST_BINS * problem.prior_mean.len() {
        return Err(LearnError::Unsettled { bins });
    }
    let mut at = problem.prior_mean.clone();
    for (place, value) in at.iter_mut().zip(&problem.values) {
        *place = before.place(*value);
    }
    for (place, component) in at.iter_mut().skip(problem.values.len()).zip(&problem.components) {
        *place = before.component_place(component).unwrap_or(*place);
    }
    let mut normal = None;
    for gain in GAINS {
        let gain = gain * pieces.len() as f64;
        let options = LeastSquaresOptions { most_steps: MOST_STEPS, gain, longest: LONGEST };
        straighten(&mut problem, &at)?;
        let found = minimise(&mut problem, &at, &options)?;
        (at, normal) = (found.at, found.normal);
    }
    let normal = match normal {
        Some(normal) => normal,
        None => problem.normal(&at)?,
    };
    let covariance = sandwich(&problem, &normal.matrix).ok_or(LearnError::Unsettled { bins })?;
    cancel.note(1.0);
    Ok(lesson(&problem, &at, &covariance, taught))
}

/// The unknowns, and what is believed of them beforehand.
fn problem<'a>(measured: &'a [Measured<'a>], before: &Learned, cancel: &'a Cancel) -> Problem<'a> {
    let shown: Vec<Vec<LearnedValue>> = measured.iter().map(|piece| shown_by(&piece.layout)).collect();
    let values: Vec<LearnedValue> =
        LearnedValue::ALL.into_iter().filter(|value| shown.iter().any(|shown| shown.contains(value))).collect();
    let on_pieces: Vec<Vec<ComponentReach>> = measured.iter().map(|piece| shown_components(&piece.layout)).collect();
    let components = guessed(&on_pieces, before);
    let mut unknowns = values.len() + components.len();
    let mut pieces = Vec::with_capacity(measured.len());
    for ((piece, shown), on_piece) in measured.iter().zip(&shown).zip(&on_pieces) {
        let of_values = (0..values.len()).filter(|number| shown.contains(&values[*number]));
        let of_components = components.iter().zip(values.len()..).filter(|(of, _)| position(on_piece, of).is_some());
        let shown = of_values.chain(of_components.map(|(_, number)| number)).collect();
        let fitted = Fitted { model: Model::of(piece), shown, first_strength: unknowns, seen: Vec::new() };
        unknowns += fitted.model.dyes();
        pieces.push(fitted);
    }
    let of_values = values.iter().map(|value| value.prior_mean());
    let of_components = components.iter().map(|of| place_of(of.reach_factor));
    let prior_mean =
        DVector::from_iterator(unknowns, of_values.chain(of_components).chain(std::iter::repeat(0.0)).take(unknowns));
    let each = pieces.iter().map(|piece| USUAL_STEPS * (piece.shown.len() + 2) as f64);
    let expected_solves = each.sum::<f64>() + 2.0;
    let mut problem = Problem {
        expected_solves,
        prior: DMatrix::zeros(unknowns, unknowns),
        prior_mean,
        pieces,
        best: None,
        slopes: Vec::new(),
        cancel,
        values,
        components,
    };
    let precision = DVector::from_fn(unknowns, |number, _| problem.prior_sd(number).powi(-2));
    problem.prior = DMatrix::from_diagonal(&precision);
    problem
}

/// The components on any piece, each once, with its maker's guess: what was guessed when it was first learned of, else what the first of these pieces'
/// layouts that has it says.
fn guessed(on_pieces: &[Vec<ComponentReach>], before: &Learned) -> Vec<ComponentReach> {
    let mut components: Vec<ComponentReach> = Vec::new();
    for of in on_pieces.iter().flatten() {
        if position(&components, of).is_none() {
            let reach_factor = before.guess(of).unwrap_or(of.reach_factor);
            components.push(ComponentReach { reach_factor, ..of.clone() });
        }
    }
    components
}

/// Draws every photograph's lines to where these values have them.
fn straighten(problem: &mut Problem<'_>, at: &DVector<f64>) -> Result<(), LearnError> {
    for number in 0..problem.pieces.len() {
        let piece = &problem.pieces[number];
        let solved = piece.model.solve(problem.tuning(piece, at), None, problem.cancel)?;
        let seen = piece.model.seen(&solved, piece.strengths(at));
        problem.pieces[number].seen = seen;
    }
    // What is compared is another picture now.
    problem.best = None;
    Ok(())
}

/// The covariance of all unknowns by what is really off: `A^-1 (M + P) A^-1`, with `M` the squares of each block's score (Huber 1967, from
/// memory).
fn sandwich(problem: &Problem<'_>, matrix: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let mut middle = problem.prior.clone();
    for (unknowns, compared, slopes, blocks) in problem.with_slopes() {
        let scores = compared.scores(slopes, blocks);
        let squares = scores.tr_mul(&scores);
        for (row, &to_row) in unknowns.iter().enumerate() {
            for (column, &to_column) in unknowns.iter().enumerate() {
                middle[(to_row, to_column)] += squares[(row, column)];
            }
        }
    }
    let inverse = matrix.clone().cholesky()?.inverse();
    Some(&inverse * middle * &inverse)
}

fn lesson(problem: &Problem<'_>, at: &DVector<f64>, covariance: &DMatrix<f64>, pieces: Vec<TaughtBy>) -> Lesson {
    let count = problem.values.len() + problem.components.len();
    let mut mean = at.rows(0, count).into_owned();
    mean.iter_mut().skip(problem.values.len()).for_each(|place| *place = place_of(factor_at(*place)));
    let of_piece = |piece: &Fitted<'_>| {
        let dyes = &piece.model.piece.layout.raw().colours.rotation;
        let first = piece.first_strength;
        let strength = |(number, dye): (usize, &crate::layout::Swatch)| Strength {
            dye: dye.name.clone(),
            log: at[first + number],
            sd: covariance[(first + number, first + number)].sqrt(),
        };
        dyes.iter().enumerate().map(strength).collect::<Vec<_>>()
    };
    let compared = problem.best.iter().flat_map(|(_, best)| best).flat_map(|piece| &piece.compared);
    let (squares, bins) = compared.fold((0.0, 0), |(squares, bins), side| {
        let (square, seen) = side.left();
        (squares + square * seen as f64, bins + seen)
    });
    let shown = |number: usize| problem.pieces.iter().filter(|piece| piece.shown.contains(&number)).count();
    let is_bathed = |number: usize| {
        let mut pieces = problem.pieces.iter().filter(|piece| piece.shown.contains(&number));
        pieces.all(|piece| piece.model.piece.layout.process().discharge.is_some())
    };
    Lesson {
        shown_by: (0..count).map(shown).collect(),
        is_bathed: (0..count).map(is_bathed).collect(),
        mean,
        covariance: covariance.view((0, 0), (count, count)).into_owned(),
        strengths: problem.pieces.iter().flat_map(of_piece).collect(),
        values: problem.values.clone(),
        components: problem.components.clone(),
        pieces,
        off: (squares / bins.max(1) as f64).sqrt(),
        bins,
        solves: problem.solves(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learn::ComponentPart;

    fn reach(component: &str, reach_factor: f64) -> ComponentReach {
        ComponentReach { mixture: "grey".to_owned(), component: component.to_owned(), reach_factor }
    }

    /// Where two pieces' layouts have other factors for a component, the first is the guess; of one that was learned of before, what was guessed then.
    #[test]
    fn the_guess_is_the_first_that_was_made() {
        let on_pieces = [vec![reach("blue", 1.2)], vec![reach("blue", 0.9), reach("rust", 0.8)]];
        assert_eq!(guessed(&on_pieces, &Learned::default()), [reach("blue", 1.2), reach("rust", 0.8)]);
        let part = ComponentPart { reach: reach("rust", 1.4), guess: 1.1, covariance: vec![0.01], pieces: 1 };
        let before = Learned::from_parts(&[], &[part], Vec::new(), Vec::new()).unwrap();
        assert_eq!(guessed(&on_pieces, &before), [reach("blue", 1.2), reach("rust", 1.1)]);
    }
}
