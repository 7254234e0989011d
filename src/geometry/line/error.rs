//! Why a garment can't be folded along a line.

use crate::geometry::Top;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use kurbo::Point;

/// Why a garment can't be folded along a line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LineError {
    /// The path has no length, more than one part, or a point at no finite place.
    NoLine,
    /// A ring that does not close.
    Open {
        /// Between its ends, mm.
        gap_mm: f64,
        /// Whether ends on the fold line would do.
        is_folded: bool,
    },
    /// A ring round no area.
    NoInside,
    /// Strokes that don't hang together by their ends, or that enclose cloth.
    NotStrokes,
    /// The line meets itself.
    Crosses {
        /// Where.
        at: Point,
        /// What heights are counted from.
        top: Top,
    },
    /// None of it lies on cloth.
    OffCloth {
        /// A point of it.
        at: Point,
        /// What heights are counted from.
        top: Top,
    },
    /// On a folded garment it runs across the fold line.
    OverFold {
        /// The point farthest beyond.
        at: Point,
        /// What heights are counted from.
        top: Top,
    },
    /// It bends, without a corner, through more within one pleat than cloth lies flat over.
    TooTight {
        /// Where.
        at: Point,
        /// What heights are counted from.
        top: Top,
        /// Radius of the bend there, mm.
        radius_mm: f64,
        /// Crease to crease there, mm.
        pleat_mm: f64,
    },
    /// A distance or depth that is no usable length.
    Length {
        /// Field of [`super::LineSpec`].
        field: Field,
        /// Given value, mm.
        value_mm: f64,
        /// Least, mm.
        least_mm: f64,
        /// Most, mm.
        most_mm: f64,
    },
    /// Too few or too many pleats.
    PleatCount {
        /// The number asked for, or that the depth comes to.
        pleats: f64,
        /// Fewest that the line's corners allow.
        fewest: u32,
        /// Most that can be folded.
        most: u32,
    },
}

displayed_as_in_files!(LineError);

impl LineError {
    /// The field of [`super::LineSpec`] that is wrong.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::Length { field, .. } => field.clone(),
            Self::PleatCount { .. } => Field::from("pleats"),
            _ => Field::from("line"),
        }
    }
}

impl Refused for LineError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::NoLine => Told::new("the line has no length or several parts", "draw one line, with finite coordinates"),
            Self::Open { gap_mm, is_folded } => Told::new(
                format!("the ring's ends are {} apart", voice.length(*gap_mm)),
                if *is_folded { "close it, or let both ends lie on the fold line" } else { "close it" },
            ),
            Self::NoInside => Told::new("the ring encloses nothing", "draw it round some cloth, or make it a stroke"),
            Self::NotStrokes => Told::new(
                "the strokes don't hang together, or enclose cloth",
                "let them branch at their ends only, and leave gaps in bowls",
            ),
            Self::Crosses { at, top } => Told::new(
                format!("the line meets itself {}", top.refused_place(*at, voice)),
                "draw it so that it stays clear of itself",
            ),
            Self::OffCloth { at, top } => Told::new(
                format!("no cloth lies under the line, which runs {}", top.refused_place(*at, voice)),
                "move it onto the garment",
            ),
            Self::OverFold { at, top } => Told::new(
                format!("the line runs across the fold line, {}", top.refused_place(*at, voice)),
                "keep it on one side: the fold mirrors it",
            ),
            Self::TooTight { at, top, radius_mm, pleat_mm } => Told::new(
                format!(
                    "{} the line bends round {} within a pleat of {}",
                    top.refused_place(*at, voice),
                    voice.about(*radius_mm),
                    voice.about(*pleat_mm)
                ),
                "make the bend wider or a corner, or the pleats shallower",
            ),
            Self::Length { value_mm, least_mm, most_mm, .. } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::PleatCount { pleats, fewest, most } => Told::new(
                format!("{} pleats can't be folded along this line", voice.number(*pleats)),
                format!("make them deeper or shallower, for {fewest} to {most} of them"),
            ),
        };
        told.at(self.field().said(voice))
    }
}
