//! Dye given to edges, corners and flats of a flat bundle by dipping them.

use super::check::check_count;
use super::{LayoutError, LayoutProblem, LayoutSpec};
use crate::geometry::{DipError, DipPart, DipZone, Folded};
use crate::telling::Field;

/// A part of a flat bundle, dipped into one of the layout's colours.
#[derive(Debug, Clone, PartialEq)]
pub struct DipSpec {
    /// What goes into the dye.
    pub part: DipPart,
    /// How deep, mm.
    pub depth_mm: f64,
    /// How long, minutes.
    pub minutes: f64,
    /// The colour, by its name in the rotation.
    pub colour: String,
}

/// A dip that can be made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dip {
    /// What of the bundle lies in dye.
    pub zone: DipZone,
    /// How long, minutes.
    pub minutes: f64,
    /// Index of the colour in the rotation.
    pub colour: usize,
}

/// Most dips: every edge, corner and flat of a bundle of six corners, and again (own choice).
const MOST_DIPS: usize = 28;
/// Shortest and longest dip, minutes: three seconds and a night (own choice).
const MINUTES: [f64; 2] = [0.05, 720.0];

/// The dips of a layout.
///
/// # Errors
/// [`LayoutError`]: no flat bundle, a part that it lacks, a depth or a time out of range, an unknown colour, too many.
pub(super) fn dips(raw: &LayoutSpec, folded: &Folded) -> Result<Vec<Dip>, LayoutError> {
    check_count("dips", raw.dips.len(), MOST_DIPS)?;
    let layer_mm = raw.garment.cloth.free_thickness_mm;
    let dip = |(index, spec): (usize, &DipSpec)| {
        let field = |of: Field| Field::from("dips").item(index + 1).then(of);
        let zone = folded.flat().ok_or(DipError::NoFlatBundle).and_then(|flat| flat.dip(spec.part, spec.depth_mm, layer_mm));
        let zone = zone.map_err(|error| LayoutError::new(field(error.field()), error))?;
        let [least, most] = MINUTES;
        if !(least..=most).contains(&spec.minutes) {
            let problem = LayoutProblem::Number { value: spec.minutes, least, most };
            return Err(LayoutError::new(field("minutes".into()), problem));
        }
        let colours = &raw.colours.rotation;
        let colour = colours.iter().position(|swatch| swatch.name == spec.colour).ok_or_else(|| {
            let known = colours.iter().map(|swatch| swatch.name.clone()).collect();
            LayoutError::new(field("colour".into()), LayoutProblem::UnknownColour { name: spec.colour.clone(), known })
        })?;
        Ok(Dip { zone, minutes: spec.minutes, colour })
    };
    raw.dips.iter().enumerate().map(dip).collect()
}
