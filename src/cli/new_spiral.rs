//! The spiral that `new` begins with.

use super::CliError;
use super::arguments::SpiralArguments;
use super::given::given_mm;
use pleatwright::layout::SpiralStart;
use pleatwright::measure::LengthUnit;

/// The first argument about spirals that is given.
pub(super) fn first_given(spiral: &SpiralArguments) -> Option<&'static str> {
    let given = [
        ("--puck-diameter", spiral.puck_diameter.is_some()),
        ("--turns", spiral.turns.is_some()),
        ("--twist", spiral.twist.is_some()),
        ("--bands", spiral.bands.is_some()),
    ];
    given.into_iter().find(|(_, is_given)| *is_given).map(|(name, _)| name)
}

/// The spiral that is asked for; lengths without a unit are in this one.
pub(super) fn start(spiral: &SpiralArguments, unit: LengthUnit) -> Result<SpiralStart, CliError> {
    Ok(SpiralStart {
        puck_diameter_mm: given_mm("--puck-diameter", spiral.puck_diameter.as_deref(), unit)?,
        turns: spiral.turns,
        twist: spiral.twist,
        bands: spiral.bands,
    })
}
