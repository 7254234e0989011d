//! Why a garment can't be twisted into a puck.

use super::spec::{MOST_PACKING, PINCH_PLEATS, PUCK_BANDS};
use crate::geometry::Top;
use crate::telling::{Field, Refused, Told, Voice, displayed_as_in_files};
use kurbo::Point;

/// Why a garment can't be twisted into a puck.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SpiralError {
    /// A length or a place that can't be used.
    Length {
        /// Field of [`super::SpiralSpec`].
        field: Field,
        /// Given value, mm.
        value_mm: f64,
        /// Least, mm.
        least_mm: f64,
        /// Most, mm: of the puck's diameter what leaves cloth to draw in.
        most_mm: f64,
    },
    /// A number of turns that can't be computed with.
    Turns {
        /// Given value.
        turns: f64,
        /// Least.
        least: f64,
        /// Most.
        most: f64,
    },
    /// Too few or too many pleats at the pinch.
    Pleats {
        /// Given value.
        pleats: u32,
    },
    /// Too few or too many bands.
    Bands {
        /// Given value.
        bands: u32,
    },
    /// Where the first band crosses the rim is not a direction.
    Direction {
        /// Given value, degrees.
        degrees: f64,
    },
    /// No cloth at the centre, on either panel.
    OffCloth {
        /// Where it is.
        at: Point,
        /// What heights are counted from.
        top: Top,
    },
    /// More cloth than the puck has room for, pressed as it may be.
    TooTight {
        /// Given or ordinary height, mm.
        height_mm: f64,
        /// The cloth's volume, lying free, over the puck's.
        packing: f64,
        /// The least height that holds it, mm.
        least_mm: f64,
    },
}

displayed_as_in_files!(SpiralError);

impl SpiralError {
    /// The field of [`super::SpiralSpec`] that is wrong.
    #[must_use]
    pub fn field(&self) -> Field {
        match self {
            Self::Length { field, .. } => field.clone(),
            Self::Turns { .. } => Field::from("turns"),
            Self::Pleats { .. } => Field::from("pleats"),
            Self::Bands { .. } => Field::from("bands"),
            Self::Direction { .. } => Field::from("first_band_deg"),
            Self::OffCloth { .. } => Field::from("centre"),
            Self::TooTight { .. } => Field::from("puck_height_mm"),
        }
    }
}

impl Refused for SpiralError {
    fn told(&self, voice: Voice) -> Told {
        let told = match self {
            Self::Length { value_mm, least_mm, most_mm, .. } => Told::length(voice, *value_mm, [*least_mm, *most_mm]),
            Self::Turns { turns, least, most } => Told::new(
                format!("{} turns can't be wound", voice.number(*turns)),
                format!("give {} to {}", voice.number(*least), voice.number(*most)),
            ),
            Self::Pleats { pleats } => {
                let [least, most] = PINCH_PLEATS;
                Told::new(format!("{pleats} pleats can't be pinched"), format!("give {least} to {most}"))
            }
            Self::Bands { bands } => {
                let [least, most] = PUCK_BANDS;
                Told::new(format!("{bands} bands can't be laid over a puck"), format!("give {least} to {most}"))
            }
            Self::Direction { degrees } => {
                Told::new(format!("{} is not a direction", voice.number(*degrees)), "give 0 to 360 degrees")
            }
            Self::OffCloth { at, top } => {
                Told::new(format!("no cloth lies there, {}", top.refused_place(*at, voice)), "move it onto the garment")
            }
            Self::TooTight { height_mm, packing, least_mm } => {
                let [height, least] = voice.apart(*height_mm, *least_mm);
                Told::new(
                    format!(
                        "a puck {height} high has no room for the cloth, which fills it {} times and can be pressed to {} of that",
                        voice.number((100.0 * packing).round() / 100.0),
                        voice.number((100.0 / MOST_PACKING).round() / 100.0)
                    ),
                    format!("make it at least {least} high, or wider"),
                )
            }
        };
        told.at(self.field().said(voice))
    }
}
