//! The judge of what was learned: a piece that was kept back.

use super::LearnError;
use super::model::{Model, lab};
use super::piece::{Measured, Piece};
use crate::layout::Tuning;
use crate::reveal::Cancel;
use crate::reveal::colour::{Lab, ciede2000};

/// How far a piece that was kept back comes out from what is foretold of it, as mean CIEDE2000 over its cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Foretold {
    /// The piece.
    pub piece: String,
    /// With the earlier values.
    pub before: f64,
    /// With those that were learned.
    pub after: f64,
    /// Over how many bins of cloth.
    pub bins: usize,
}

impl Foretold {
    /// What to make of it, in two sentences.
    #[must_use]
    pub fn sentence(&self) -> String {
        let Self { piece, before, after, bins } = self;
        let verdict = if after < before { "Yours come nearer" } else { "Yours come no nearer: don't begin layouts with them" };
        format!(
            "Kept back: \"{piece}\" came out {before:.1} off what the earlier values foretell and {after:.1} off what yours foretell \
             (mean colour difference over {bins} patches of cloth; below 1 is hard to see). {verdict}."
        )
    }
}

/// Foretells a piece with the calibration values and reaches of before and with those that were learned. Nothing is fitted to it but where its lines lie.
///
/// # Errors
/// [`LearnError`] naming the piece or its photograph.
pub fn foretold(piece: &Piece, before: &Tuning, after: &Tuning, cancel: &Cancel) -> Result<Foretold, LearnError> {
    let measured = Measured::of(piece, cancel)?;
    let model = Model::of(&measured);
    let [(before, bins), (after, _)] = [off(&model, before, cancel)?, off(&model, after, cancel)?];
    Ok(Foretold { piece: piece.name.clone(), before, after, bins })
}

/// The mean difference, each bin counting by its cloth, and how many there are.
fn off(model: &Model<'_>, tuning: &Tuning, cancel: &Cancel) -> Result<(f64, usize), LearnError> {
    let strengths = vec![0.0; model.dyes()];
    let solved = model.solve(tuning.clone(), None, cancel)?;
    let (seen, foretold) = (model.seen(&solved, &strengths), model.bins(&solved, &strengths));
    let (mut sum, mut cloth, mut bins) = (0.0, 0.0, 0);
    for ((side, seen), foretold) in model.piece.sides.iter().zip(seen).zip(foretold) {
        for ((pixels, seen), foretold) in side.bins.pixels.iter().zip(seen).zip(foretold) {
            let Some(seen) = seen else { continue };
            let [seen, foretold] = [seen, foretold].map(|light| {
                let [l, a, b] = lab(light);
                Lab { l, a, b }
            });
            let pixels = pixels.len() as f64;
            sum += pixels * ciede2000(seen, foretold);
            cloth += pixels;
            bins += 1;
        }
    }
    if bins == 0 {
        return Err(LearnError::Unsettled { bins });
    }
    Ok((sum / cloth, bins))
}
