//! What can be wrong with a layout whose form is right.

use crate::geometry::{BurstError, GarmentError, SpacingError, WashError};

/// A value in a layout that can't be used, with the path of its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{field}: {problem}")]
pub struct LayoutError {
    /// Dotted path of the field, such as `garment.measures.neck_width_mm`.
    pub field: String,
    /// What is wrong with it.
    pub problem: LayoutProblem,
}

impl LayoutError {
    pub(super) fn new(field: impl Into<String>, problem: impl Into<LayoutProblem>) -> Self {
        Self { field: field.into(), problem: problem.into() }
    }
}

/// What is wrong with a value in a layout.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LayoutProblem {
    /// The form is newer than this program, or none that ever was.
    #[error("this file has form {found}, and {}", other_form(*found, *known))]
    Format {
        /// The number in the file.
        found: u32,
        /// The newest form known.
        known: u32,
    },
    /// A measurement, or two that do not fit together.
    #[error(transparent)]
    Garment(#[from] GarmentError),
    /// A change by washing out of range.
    #[error(transparent)]
    Wash(#[from] WashError),
    /// A centre, radius or pleat that can't be.
    #[error(transparent)]
    Burst(#[from] BurstError),
    /// A progression of binds that can't be solved.
    #[error(transparent)]
    Spacing(#[from] SpacingError),
    /// A number out of range.
    #[error("{value} is out of range; give a number from {least} to {most}")]
    Number {
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
    /// Cloth that would be thicker pressed than free.
    #[error(
        "free_thickness_mm is {free_mm} and pressed_thickness_mm is {pressed_mm}: cloth is no thicker pressed than lying free; \
         are the two exchanged?"
    )]
    FreeBelowPressed {
        /// Thickness lying free, mm.
        free_mm: f64,
        /// Thickness under a bind, mm.
        pressed_mm: f64,
    },
    /// Fibres that are not all of the cloth, or one named twice.
    #[error("the fibres make {percent} % together; give each once, 100 % in all, or leave them out for cotton")]
    Fibres {
        /// Their sum, percent.
        percent: f64,
    },
    /// A name that is empty, too long or of more than one line.
    #[error("a name has 1 to {most} characters on one line, none of them a control character; this one has {length}")]
    Name {
        /// Its number of characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// A text longer than one can be meant.
    #[error("it has {length} characters, and at most {most} fit; keep what is longer in a file of its own")]
    LongText {
        /// Its number of characters.
        length: usize,
        /// Most that fit.
        most: usize,
    },
    /// More of something than can be meant.
    #[error("there are {count} {what}, and at most {most} fit; leave some out")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many there are.
        count: usize,
        /// Most that fit.
        most: usize,
    },
    /// Two colours of one name.
    #[error("two colours are named \"{name}\"; give each a name of its own")]
    ColourTwice {
        /// The name.
        name: String,
    },
    /// A section set to a colour that is not in the rotation.
    #[error("there is no colour \"{name}\"; the rotation has {known}")]
    UnknownColour {
        /// The name.
        name: String,
        /// The names there are.
        known: String,
    },
    /// A colour for a section that is not there.
    #[error("there is no section {section}; this layout has sections 1 to {most}")]
    UnknownSection {
        /// The number given.
        section: u32,
        /// How many sections there are.
        most: usize,
    },
}

/// What to say of a file's form that this program does not read.
///
/// ```
/// use pleatwright::layout::other_form;
/// assert_eq!(other_form(0, 1), "the first form is 1; write format: 1 if it has the fields of this program's files");
/// assert_eq!(other_form(3, 1), "this program knows forms up to 1; use a newer version of the program for it");
/// ```
#[must_use]
pub fn other_form(found: u32, known: u32) -> String {
    if found == 0 {
        format!("the first form is 1; write format: {known} if it has the fields of this program's files")
    } else {
        format!("this program knows forms up to {known}; use a newer version of the program for it")
    }
}
