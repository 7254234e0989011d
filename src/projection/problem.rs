//! What is wrong with a projector's alignment.

use crate::layout::usual;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};

/// A value of a projector that can't be used, with its field.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub struct ProjectorError {
    /// Where it is, such as `projectors.2.rectangle.width_mm`; projectors are counted from 1.
    pub field: Field,
    /// What is wrong with it.
    pub problem: ProjectorProblem,
}

/// What is wrong with a alignment or a value of it. Marks are counted from 1: the corners round from the upper left, then the middles of the
/// sides in the same order, then the middle.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ProjectorProblem {
    /// A name that is empty, too long or of more than one line.
    Name {
        /// Its number of characters.
        length: usize,
        /// Most allowed.
        most: usize,
    },
    /// Two projectors of one name.
    NameTwice {
        /// The name.
        name: String,
        /// The earlier projector, counted from 1.
        first: usize,
    },
    /// More projectors than are kept.
    TooMany {
        /// How many there are.
        count: usize,
        /// Most that are kept.
        most: usize,
    },
    /// A length out of range, mm.
    Length {
        /// The given value.
        value_mm: f64,
        /// Least allowed.
        least_mm: f64,
        /// Greatest allowed.
        most_mm: f64,
    },
    /// A number out of range.
    Number {
        /// The given value.
        value: f64,
        /// Least allowed.
        least: f64,
        /// Greatest allowed.
        most: f64,
    },
    /// Neither four marks nor nine.
    Marks {
        /// How many there are.
        count: usize,
    },
    /// A mark outside the picture, or one that is not a number.
    Outside {
        /// Which.
        mark: usize,
        /// Where it is, px.
        at: [f64; 2],
        /// Width and height of the picture, px.
        picture: [u32; 2],
    },
    /// Two corners nearly on each other.
    Near {
        /// Which.
        corners: [usize; 2],
        /// How far apart they are, px.
        apart_px: f64,
        /// Least that is right, px.
        least_px: f64,
    },
    /// Three corners nearly in a line.
    InLine {
        /// Which.
        corners: [usize; 3],
    },
    /// Two sides of the rectangle cross.
    Crossed {
        /// The corners at the ends of one of them.
        one: [usize; 2],
        /// And of the other.
        other: [usize; 2],
    },
    /// A corner within the triangle of the others.
    Inside {
        /// Which.
        corner: usize,
    },
    /// The table would run off to infinity within the picture.
    Horizon {
        /// The corner of the picture that would lie beyond, counted as the rectangle's.
        corner: usize,
    },
    /// The marks settle no map.
    Unsettled {
        /// How many there are.
        marks: usize,
    },
    /// The bar measures so much more or less than it should that something else is wrong.
    Bar {
        /// What it measures, mm.
        measured_mm: f64,
        /// What it should, mm.
        drawn_mm: f64,
    },
    /// The picture has another size than the one aligned.
    OtherPicture {
        /// Width and height aligned, px.
        aligned: [u32; 2],
        /// And now.
        now: [u32; 2],
    },
}

displayed_as_in_files!(ProjectorError);

impl Refused for ProjectorError {
    fn told(&self, voice: Voice) -> Told {
        self.problem.told(voice).at(self.field.said(voice))
    }
}

impl Refused for ProjectorProblem {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Name { length, most } => usual::name(*length, *most),
            Self::NameTwice { name, first } => {
                Told::new(format!("projector {first} is named \"{name}\" too"), "keep one or rename it")
            }
            Self::TooMany { count, most } => {
                Told::new(format!("{count} projectors are too many"), format!("keep at most {most}"))
            }
            Self::Length { value_mm, least_mm, most_mm } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::Number { value, least, most } => Told::new(
                format!("{} is out of range", voice.number(*value)),
                format!("give {} to {}", voice.number(*least), voice.number(*most)),
            ),
            Self::Marks { count } => Told::new(
                format!("{count} marks are neither four nor nine"),
                "give the 4 corners, or those, the middles of the sides and the middle",
            ),
            Self::Outside { mark, at: [x, y], picture: [width, height] } => Told::new(
                format!("mark {mark} at {} and {} px lies outside the picture", voice.number(*x), voice.number(*y)),
                format!("give 0 to {width} and 0 to {height} px"),
            ),
            Self::Near { corners: [one, other], apart_px, least_px } => Told::new(
                format!("corners {one} and {other} are only {apart_px:.0} px apart"),
                format!("drag them at least {least_px:.0} px apart, or lay down a larger rectangle"),
            ),
            Self::InLine { corners: [one, two, three] } => Told::new(
                format!("corners {one}, {two} and {three} lie almost in a line"),
                "drag each onto the corner that has its number",
            ),
            Self::Crossed { one, other } => Told::new(
                format!("the sides from corner {} to {} and from {} to {} cross", one[0], one[1], other[0], other[1]),
                "drag the corners into their order round the rectangle, 1 to 4",
            ),
            Self::Inside { corner } => Told::new(
                format!("corner {corner} lies between the other three"),
                "drag it outward, onto its own corner of the rectangle",
            ),
            Self::Horizon { corner } => Told::new(
                format!("the table would run off to infinity before corner {corner} of the picture"),
                "drag each corner onto the rectangle's own, or point the projector straighter at the table",
            ),
            Self::Unsettled { marks } => Told::new(
                format!("{marks} marks don't settle where the table is"),
                "drag each onto its own place on the rectangle",
            ),
            Self::Bar { measured_mm, drawn_mm } => Told::new(
                format!("the bar measures {}, not {}", voice.length(*measured_mm), voice.length(*drawn_mm)),
                "check the rectangle's sides and corners",
            ),
            Self::OtherPicture { aligned, now } => Told::new(
                format!("the picture has {} x {} px, aligned for {} x {}", now[0], now[1], aligned[0], aligned[1]),
                "align again, or set the projector as it was",
            ),
        }
    }
}
