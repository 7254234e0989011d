//! Dye given to edges, corners and flats of a flat bundle by dipping them.

use super::{LayoutError, LayoutProblem, Swatch};
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
pub(super) const MOST_DIPS: usize = 28;
/// Shortest and longest dip, minutes: three seconds and a night (own choice).
const MINUTES: [f64; 2] = [0.05, 720.0];

/// The dips of a folded garment, in colours of a rotation; its layers are `layer_mm` thick when they lie free.
///
/// # Errors
/// [`LayoutError`]: no flat bundle, a part that it lacks, a depth or a time out of range, an unknown colour.
pub(super) fn dips(specs: &[DipSpec], colours: &[Swatch], folded: &Folded, layer_mm: f64) -> Result<Vec<Dip>, LayoutError> {
    let dip = |(index, spec): (usize, &DipSpec)| {
        let field = |of: Field| Field::from("dips").item(index + 1).then(of);
        let zone = folded.flat().ok_or(DipError::NoFlatBundle).and_then(|flat| flat.dip(spec.part, spec.depth_mm, layer_mm));
        let zone = zone.map_err(|error| LayoutError::new(field(error.field()), error))?;
        let [least, most] = MINUTES;
        if !(least..=most).contains(&spec.minutes) {
            let problem = LayoutProblem::Number { value: spec.minutes, least, most };
            return Err(LayoutError::new(field("minutes".into()), problem));
        }
        let colour = colours.iter().position(|swatch| swatch.name == spec.colour).ok_or_else(|| {
            let known = colours.iter().map(|swatch| swatch.name.clone()).collect();
            LayoutError::new(field("colour".into()), LayoutProblem::UnknownColour { name: spec.colour.clone(), known })
        })?;
        Ok(Dip { zone, minutes: spec.minutes, colour })
    };
    specs.iter().enumerate().map(dip).collect()
}
