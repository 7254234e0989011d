//! The fold that `new` begins with, and arguments that belong to another.

use super::arguments::NewArguments;
use super::{CliError, new_flat, new_line, new_spiral};
use pleatwright::layout::{FoldKind, FoldStart};
use pleatwright::measure::LengthUnit;

/// The fold that is asked for; lengths without a unit are in this one.
pub(super) fn start(new: &NewArguments, unit: LengthUnit) -> Result<FoldStart, CliError> {
    let what = match new.fold {
        FoldKind::Burst => "a burst",
        FoldKind::Line => "a fold along a line",
        FoldKind::Flat(_) => "a flat bundle",
        FoldKind::Spiral => "a spiral",
    };
    let of_flat = new_flat::first_given(&new.flat).filter(|_| !matches!(new.fold, FoldKind::Flat(_)));
    if let Some(name) = of_flat {
        let (why, cure) = (format!("{what} is no flat bundle"), "add --fold stripes or another flat one, or leave it out");
        return Err(CliError::argument(name, why, cure));
    }
    if let Some(name) = new_line::first_given(&new.line).filter(|_| new.fold != FoldKind::Line) {
        return Err(CliError::argument(name, format!("{what} has no line"), "add --fold line, or leave it out"));
    }
    if let Some(name) = new_spiral::first_given(&new.spiral).filter(|_| new.fold != FoldKind::Spiral) {
        return Err(CliError::argument(name, format!("{what} is no puck"), "add --fold spiral, or leave it out"));
    }
    match new.fold {
        FoldKind::Burst => Ok(FoldStart::Burst),
        FoldKind::Line => new_line::start(&new.line, unit),
        FoldKind::Flat(kind) => new_flat::start(kind, &new.flat, unit).map(FoldStart::Flat),
        FoldKind::Spiral => new_spiral::start(&new.spiral, unit).map(FoldStart::Spiral),
    }
}
