//! In which unit lengths are written and read.

use crate::cli::CliError;
use clap::{Args, ValueEnum};
use pleatwright::measure::{InchFraction, LengthStyle, LengthUnit, ParseLengthError, RuleMarks, parse_length};

/// How lengths are written.
#[derive(Debug, Clone, Copy, Args)]
pub(crate) struct UnitArguments {
    /// Unit of lengths. Default: that of the layout's marks.
    #[arg(long, value_enum)]
    pub(crate) units: Option<Units>,
    /// Finest fraction of an inch, one in this many: 2, 4, 8 or 16. Default: as fine as the layout's marks.
    #[arg(long, value_parser = inch_fraction)]
    pub(crate) nearest: Option<InchFraction>,
}

/// The unit of lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches and fractions.
    In,
}

impl Units {
    /// The unit of a length given without one.
    pub(crate) fn unit(self) -> LengthUnit {
        match self {
            Self::Mm => LengthUnit::Millimetre,
            Self::Cm => LengthUnit::Centimetre,
            Self::In => LengthUnit::Inch,
        }
    }

    /// How lengths are written in it where no layout says more.
    pub(crate) fn style(self) -> LengthStyle {
        match self {
            Self::Mm => LengthStyle::MILLIMETRES,
            Self::Cm => LengthStyle::CENTIMETRES,
            Self::In => LengthStyle::Inches { nearest: InchFraction::default() },
        }
    }
}

impl UnitArguments {
    /// How the lengths of a layout with these marks are written: by its own rule, unless something else is asked for.
    pub(crate) fn style(self, marks: RuleMarks) -> Result<LengthStyle, CliError> {
        match (self.units, marks.lengths(), self.nearest) {
            (Some(units @ (Units::Mm | Units::Cm)), _, None) => Ok(units.style()),
            (None, own @ LengthStyle::Metric { .. }, None) => Ok(own),
            (Some(Units::In) | None, own @ LengthStyle::Inches { .. }, None) => Ok(own),
            (Some(Units::In), LengthStyle::Metric { .. }, nearest) => {
                Ok(LengthStyle::Inches { nearest: nearest.unwrap_or_default() })
            }
            (Some(Units::In) | None, LengthStyle::Inches { .. }, Some(nearest)) => Ok(LengthStyle::Inches { nearest }),
            (Some(Units::Mm | Units::Cm), _, Some(_)) | (None, LengthStyle::Metric { .. }, Some(_)) => {
                let written = self.units.map_or(marks.lengths(), Units::style).sign();
                Err(CliError::argument(
                    "--nearest",
                    format!("it is a fraction of an inch, and lengths are written in {written}"),
                    "leave it out, or add --units in",
                ))
            }
        }
    }
}

fn inch_fraction(text: &str) -> Result<InchFraction, String> {
    match text.trim_start_matches("1/") {
        "2" => Ok(InchFraction::Half),
        "4" => Ok(InchFraction::Quarter),
        "8" => Ok(InchFraction::Eighth),
        "16" => Ok(InchFraction::Sixteenth),
        _ => Err("give 2, 4, 8 or 16".to_owned()),
    }
}

/// A length as a maker types it, in mm where no unit is given.
pub(crate) fn length_mm(text: &str) -> Result<f64, ParseLengthError> {
    parse_length(text, LengthUnit::Millimetre)
}
