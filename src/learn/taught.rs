//! What is kept and told of pieces that taught.

use super::piece::Piece;
use super::value::{LearnedValue, shown_by};
use crate::layout::ComponentReach;

/// A piece that taught.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TaughtBy {
    /// Its name.
    pub name: String,
    /// Marks of its photographs' files.
    pub photographs: Vec<String>,
    /// The values that it shows.
    pub values: Vec<LearnedValue>,
}

impl TaughtBy {
    /// A piece as it is kept.
    #[must_use]
    pub fn of(piece: &Piece) -> Self {
        Self {
            name: piece.name.clone(),
            photographs: piece.photographs.iter().map(|photo| photo.mark.clone()).collect(),
            values: shown_by(&piece.layout),
        }
    }
}

/// How strong a dye comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct DyeStrength {
    /// Its name in the layouts.
    pub name: String,
    /// Its strength beside its swatch: 1 as the swatch says.
    pub strength: f64,
    /// How far off that may be, as a share.
    pub sd: f64,
    /// How many pieces showed it.
    pub pieces: usize,
}

/// How far a component of a mixture reaches, as it is told.
#[derive(Debug, Clone, PartialEq)]
pub struct ToldReach {
    /// Its names, and the factor that pieces taught; its maker's guess where nothing was learned.
    pub of: ComponentReach,
    /// Its maker's guess.
    pub guess: f64,
    /// How far off the factor may be, as a share: one standard deviation; none where it was not learned.
    pub sd: Option<f64>,
    /// How many pieces show it.
    pub pieces: usize,
}

/// A value as it is told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToldValue {
    /// Which.
    pub value: LearnedValue,
    /// The default.
    pub was: f64,
    /// What pieces taught; the default where nothing was learned.
    pub is: f64,
    /// Where it lies by one standard deviation either way; none where it was not learned.
    pub between: Option<[f64; 2]>,
    /// How many pieces show it.
    pub pieces: usize,
}
