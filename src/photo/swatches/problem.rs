//! Why the colours of squares can't be told.

use crate::photo::PhotoError;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// Why the colours of squares can't be told.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct SquaresError {
    /// Where it is: `squares.3`, counted from 1, or `sheet`; none of the picture as a whole.
    pub field: Option<Field>,
    /// What is wrong.
    pub problem: SquaresProblem,
}

/// What is wrong with a square, or with the picture that it lies in.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum SquaresProblem {
    /// More squares than a photograph shows.
    TooMany {
        /// How many there are.
        count: usize,
        /// Most.
        most: usize,
    },
    /// A square that lies outside the picture, or is none.
    Outside {
        /// Left, upper, right and lower side, px.
        sides: [f64; 4],
        /// Width and height of the picture, px.
        picture: [u32; 2],
    },
    /// A square too small to tell a colour by.
    Small {
        /// Its shorter side, px.
        side: f64,
        /// The least that serves, px.
        least: f64,
    },
    /// A square that lies over another.
    Over {
        /// The other, from 1.
        other: usize,
    },
    /// A square that lies half on the sheet.
    HalfOnSheet,
    /// A square that is burnt out.
    BurntOut {
        /// How much of it, percent.
        percent: f64,
        /// How much may be, percent.
        most_percent: f64,
    },
    /// A square that reflects more than the paper does.
    BrighterThanPaper {
        /// How much light its brightest channel reflects, percent.
        percent: f64,
        /// How much may be, percent.
        most_percent: f64,
    },
    /// The sheet is burnt out, or too little shows of what the squares lie on.
    Picture(PhotoError),
}

displayed_as_in_files!(SquaresError);

impl From<PhotoError> for SquaresError {
    fn from(error: PhotoError) -> Self {
        Self { field: None, problem: SquaresProblem::Picture(error) }
    }
}

impl Refused for SquaresError {
    fn told(&self, voice: Voice) -> Told {
        let told = self.problem.told(voice);
        match &self.field {
            Some(field) => told.at(field.said(voice)),
            None => told,
        }
    }
}

impl SquaresProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::TooMany { count, most } => Told::new(
                format!("{count} squares are too many"),
                format!("give at most {most}, and the rest of another photograph"),
            ),
            Self::Outside { sides, picture: [width, height] } => Told::new(
                format!("{} px make no square within the picture", sides.map(|side| voice.number(side)).join(", ")),
                format!("give left, upper, right and lower side within 0 to {width} and 0 to {height} px"),
            ),
            Self::Small { side, least } => Told::new(
                format!("a side of {} px is too small to tell a colour by", voice.number(*side)),
                format!("take at least {} px of the cloth, or go closer", voice.number(*least)),
            ),
            Self::Over { other } => {
                Told::new(format!("it lies over square {other}"), "draw each square within its own piece of cloth")
            }
            Self::HalfOnSheet => Told::new("it lies half on the sheet", "draw it within the cloth, clear of the sheet's edge"),
            Self::BurntOut { percent, most_percent } => Told::new(
                format!("{percent:.0} % of it is burnt out; at most {most_percent:.0} % may be"),
                "photograph it again, exposed less",
            ),
            Self::BrighterThanPaper { percent, most_percent } => Told::new(
                format!(
                    "by that white it would reflect {percent:.0} % of the light, and cloth reflects at most {most_percent:.0} %"
                ),
                "give the corners of the sheet of white paper",
            ),
            Self::Picture(PhotoError::Table { places, least }) => Told::new(
                format!("what the squares lie on shows in {places} places, of {least} needed"),
                "leave more of it free round the squares",
            ),
            Self::Picture(error) => error.told(voice),
        }
    }
}
