//! The dips that `new` begins with.

use super::CliError;
use super::given::given_mm;
use pleatwright::geometry::DipPart;
use pleatwright::layout::{DipSpec, DyeBy, LayoutSpec};
use pleatwright::measure::LengthUnit;

/// How long a dip takes that does not say so, minutes.
const MINUTES: f64 = 2.0;
/// What stands between the parts of a dip.
const BETWEEN: char = ':';
/// What a dip looks like.
const SUCH_AS: &str =
    "write the part and how deep, such as \"corner 1:30mm\", and if wanted minutes and a colour: \"edge 2:15mm:5:teal\"";

/// Dips a layout's bundle as asked for, and in nothing else; lengths without a unit are in this one.
pub(super) fn dip(raw: &mut LayoutSpec, dips: &[String], unit: LengthUnit) -> Result<(), CliError> {
    if dips.is_empty() {
        return Ok(());
    }
    let dips: Result<Vec<DipSpec>, CliError> = dips.iter().map(|text| one(text, raw, unit)).collect();
    raw.dips = dips?;
    raw.process.dye = DyeBy::Dipped;
    Ok(())
}

fn one(text: &str, raw: &LayoutSpec, unit: LengthUnit) -> Result<DipSpec, CliError> {
    let wrong = |what: String, cure: &str| CliError::argument(format!("--dip {text}"), what, cure);
    let parts: Vec<&str> = text.split(BETWEEN).map(str::trim).collect();
    let [part, depth, rest @ ..] = parts.as_slice() else { return Err(wrong("it says no depth".to_owned(), SUCH_AS)) };
    let known = || wrong(format!("\"{part}\" is no part of a bundle"), "use edge or corner with a number, top, or underside");
    let part = DipPart::named(part).ok_or_else(known)?;
    let depth_mm = given_mm("--dip", Some(depth), unit)?.unwrap_or_default();
    let (minutes, colour) = match rest {
        [] => (None, None),
        [minutes] => (Some(*minutes), None),
        [minutes, colour] => (Some(*minutes), Some(*colour)),
        _ => return Err(wrong("it has too many parts".to_owned(), SUCH_AS)),
    };
    let number = |text: &str| text.parse().map_err(|_refusal| wrong(format!("\"{text}\" is no number of minutes"), SUCH_AS));
    let minutes = minutes.map_or(Ok(MINUTES), number)?;
    let first = || raw.colours.rotation.first().map(|swatch| swatch.name.clone()).unwrap_or_default();
    Ok(DipSpec { part, depth_mm, minutes, colour: colour.map_or_else(first, str::to_owned) })
}
