//! Why a garment can't be folded flat.

use crate::geometry::Top;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use kurbo::Point;

/// Why a garment can't be folded flat.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FlatError {
    /// A width or a place that is no usable length.
    Length {
        /// Field of [`super::FlatFoldSpec`].
        field: Field,
        /// Given value, mm.
        value_mm: f64,
        /// Least, mm.
        least_mm: f64,
        /// Most, mm.
        most_mm: f64,
    },
    /// A direction that is no angle.
    Angle {
        /// Field of [`super::FlatFoldSpec`].
        field: Field,
        /// Given value, rad.
        value_deg: f64,
    },
    /// No crease at all, or more half folds than can be followed.
    HalfFolds {
        /// How many there are.
        folds: usize,
        /// Most.
        most: usize,
    },
    /// A number of wedges that can't be folded.
    Wedges {
        /// How many in the whole turn.
        wedges: u32,
        /// Most.
        most: u32,
    },
    /// Pieces so narrow that what is folded already is thicker than they are wide.
    TooNarrow {
        /// Field of [`super::FlatFoldSpec`].
        field: Field,
        /// Their width, mm.
        width_mm: f64,
        /// How thick the cloth is that is folded into them, mm.
        thick_mm: f64,
    },
    /// More layers on each other than can be held.
    TooManyLayers {
        /// How many.
        layers: u64,
        /// Most.
        most: u32,
    },
    /// A centre or a crease that has no cloth.
    OffCloth {
        /// Field of [`super::FlatFoldSpec`].
        field: Field,
        /// Where it is.
        at: Point,
        /// What heights are counted from.
        top: Top,
    },
    /// Wedges laid from the garment's fold about a centre beside it: their creases would cross on the cloth.
    Crosses {
        /// Where.
        at: Point,
        /// What heights are counted from.
        top: Top,
        /// Whether the garment is folded on its centre line at all.
        is_folded: bool,
    },
}

displayed_as_in_files!(FlatError);

impl FlatError {
    /// The field of [`super::FlatFoldSpec`] that is wrong.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::Length { field, .. }
            | Self::Angle { field, .. }
            | Self::TooNarrow { field, .. }
            | Self::OffCloth { field, .. } => field.clone(),
            Self::HalfFolds { .. } => Field::from("half_folds"),
            Self::Wedges { .. } => Field::from("wedges"),
            Self::TooManyLayers { .. } => Field::from("pattern"),
            Self::Crosses { .. } => Field::from("first"),
        }
    }
}

impl Refused for FlatError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::Length { value_mm, least_mm, most_mm, .. } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::Angle { value_deg, .. } => {
                Told::new(format!("{} is not an angle", voice.number(*value_deg)), "give -360 to 360 degrees")
            }
            Self::HalfFolds { folds: 0, .. } => Told::new("there is no crease", "give one at least"),
            Self::HalfFolds { folds, most } => {
                Told::new(format!("{folds} half folds are too many"), format!("give at most {most}"))
            }
            Self::Wedges { wedges, most } => {
                Told::new(format!("{wedges} wedges can't be folded"), format!("give an even number from 2 to {most}"))
            }
            Self::TooNarrow { width_mm, thick_mm, .. } => {
                let [width, thick] = voice.apart(*width_mm, *thick_mm);
                Told::new(
                    format!("{width} is narrower than the cloth that is folded so, which is {thick} thick"),
                    "make it wider, or fold fewer layers before",
                )
            }
            Self::TooManyLayers { layers, most } => {
                Told::new(format!("{layers} layers come to lie on each other"), format!("fold wider, for at most {most}"))
            }
            Self::OffCloth { at, top, .. } => {
                Told::new(format!("no cloth lies there, {}", top.refused_place(*at, voice)), "move it onto the garment")
            }
            Self::Crosses { at, top, is_folded } => Told::new(
                format!("the wedges' creases would cross on the cloth, {}", top.refused_place(*at, voice)),
                if *is_folded {
                    "put the centre onto the fold, or fold the cloth in half through the centre first"
                } else {
                    "fold the cloth in half through the centre first"
                },
            ),
        };
        told.at(self.field().said(voice))
    }
}
