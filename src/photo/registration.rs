//! Where each point of the plan is seen in the photograph.

use super::kriging::{Covariance, LayField, Seen};
use super::lattice::Lattice;
use super::lens::{Lens, LensPrior};
use super::outline::SeenOutline;
use super::snap::{middle_of, snap};
use super::{PhotoError, Photograph, Sheet};
use crate::projection::Pair;
use crate::reveal::Cancel;
use kurbo::{Point, Vec2};

/// How the edge of the cloth is looked for and what is believed of it: as measured on drawn photographs.
#[derive(Debug, Clone, PartialEq)]
pub struct RegistrationOptions {
    /// How far off a click is, px of the whole picture: 1.5 (own choice).
    pub click_px: f64,
    /// How far off a mark's point itself is on a laid garment, mm: 0.7.
    pub mark_sd_mm: f64,
    /// How far off a found edge is, mm: 1.
    pub edge_sd_mm: f64,
    /// Within what distance the edge is looked for, mm, one after the other: 30, 16, 10. None: the clicks alone count.
    pub windows_mm: Vec<f64>,
    /// What is known of the lens.
    pub lens: LensPrior,
}

impl Default for RegistrationOptions {
    fn default() -> Self {
        Self { click_px: 1.5, mark_sd_mm: 0.7, edge_sd_mm: 1.0, windows_mm: vec![30.0, 16.0, 10.0], lens: LensPrior::default() }
    }
}

/// An edge that lies farther off the field than this and three median deviations counts for nothing, mm.
const OUTLIER_MM: f64 = 1.5;
/// Rounds of leaving out what does not fit.
const ROUNDS: usize = 4;
/// From point to point of the lattice on which the field is kept, mm: a fifteenth of its reach.
const LATTICE_MM: f64 = 10.0;
/// How far the lattice goes beyond the outline, mm.
const MARGIN_MM: f64 = 20.0;

/// How the plan lies in the photograph.
#[derive(Debug, Clone)]
pub struct Registration {
    lens: Lens,
    field: LayField,
    lattice: Lattice,
    middle: Point,
    /// Share of the outline in the picture that was found and fits.
    found: f64,
}

impl Registration {
    /// Fits the map to marks, then to the edge of the cloth.
    ///
    /// # Errors
    /// [`PhotoError::Unsettled`], [`PhotoError::Mirrored`]; [`PhotoError::Reveal`] where it is stopped.
    pub(super) fn of(
        photograph: &Photograph,
        outline: &SeenOutline,
        pairs: &[Pair],
        sheet: Option<&Sheet>,
        options: &RegistrationOptions,
        cancel: &Cancel,
    ) -> Result<Self, PhotoError> {
        let unsettled = || PhotoError::Unsettled { points: pairs.len() };
        let lens = Lens::fit(pairs, photograph.whole(), options.lens)?;
        let covariance = Covariance::about(outline.middle);
        let clicks = clicks(&lens, pairs, options).ok_or_else(unsettled)?;
        let mut field = LayField::fit(covariance, &clicks).ok_or_else(unsettled)?;
        let mut found = 1.0;
        for &half_mm in &options.windows_mm {
            cancel.check()?;
            let places = &outline.places;
            let map = |at: Point| lens.apply(at);
            let shifted: Vec<_> =
                places.iter().map(|place| super::outline::EdgePlace { at: place.at + field.shift(place.at), ..*place }).collect();
            let off = snap(photograph, &shifted, map, sheet, half_mm);
            let edges = places.iter().zip(&shifted).zip(off);
            let edges: Vec<Seen> = edges
                .filter_map(|((place, shifted), off)| {
                    let shift_mm = (shifted.at - place.at).dot(place.outward) + off?;
                    Some(Seen { at: place.at, along: place.outward, shift_mm, sd_mm: options.edge_sd_mm })
                })
                .collect();
            let in_picture =
                shifted.iter().filter(|place| lens.apply(place.at).is_some_and(|at| photograph.at(at).is_some())).count();
            let (fitted, kept) = fit_robustly(covariance, &clicks, edges, cancel)?.ok_or_else(unsettled)?;
            field = fitted;
            found = kept as f64 / in_picture.max(1) as f64;
        }
        let area = outline.bounds().inset(MARGIN_MM);
        let lattice = Lattice::of(area, LATTICE_MM, |at| field.shift(at));
        Ok(Self { lens, field, lattice, middle: outline.middle, found })
    }

    /// The lens.
    #[must_use]
    pub const fn lens(&self) -> &Lens {
        &self.lens
    }

    /// By how much the cloth lies off at a point of the plan as it is seen, mm, and how far off that may be along a direction.
    #[must_use]
    pub const fn lay(&self) -> &LayField {
        &self.field
    }

    /// Share of the outline within the picture whose edge was found where the lay allows it, 0 to 1.
    #[must_use]
    pub const fn outline_found(&self) -> f64 {
        self.found
    }

    /// Where a point of the plan as it is seen lies in the picture, px; none beyond the horizon.
    #[must_use]
    #[inline]
    pub fn apply(&self, plan: Point) -> Option<Point> {
        self.lens.apply(plan + self.lattice.at(plan))
    }

    /// The point of the plan that is seen at a place of the picture, as if the garment lay as planned.
    #[must_use]
    pub fn back(&self, seen: Point) -> Option<Point> {
        self.lens.back(seen, self.middle)
    }
}

/// What the clicks see of the field: both coordinates of each.
fn clicks(lens: &Lens, pairs: &[Pair], options: &RegistrationOptions) -> Option<Vec<Seen>> {
    let mut seen = Vec::with_capacity(2 * pairs.len());
    for pair in pairs {
        let off = lens.on_plan(pair.from, pair.to - lens.apply(pair.from)?)?;
        let sd_mm = (options.click_px / lens.px_per_mm(pair.from)?).hypot(options.mark_sd_mm);
        for along in [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)] {
            seen.push(Seen { at: pair.from, along, shift_mm: off.dot(along), sd_mm });
        }
    }
    Some(seen)
}

/// Fits the field to clicks and edges, leaving out edges that don't fit; tells how many counted.
fn fit_robustly(
    covariance: Covariance,
    clicks: &[Seen],
    edges: Vec<Seen>,
    cancel: &Cancel,
) -> Result<Option<(LayField, usize)>, PhotoError> {
    let fit = |edges: &[Seen]| LayField::fit(covariance, &[clicks, edges].concat());
    let mut kept = edges.clone();
    let Some(mut field) = fit(&kept) else { return Ok(None) };
    for _ in 1..ROUNDS {
        let off_mm = |seen: &Seen| (seen.shift_mm - field.shift(seen.at).dot(seen.along)).abs();
        let most_mm = OUTLIER_MM + 3.0 * middle_of(kept.iter().map(off_mm).collect());
        let next: Vec<Seen> = edges.iter().filter(|seen| off_mm(seen) < most_mm).copied().collect();
        if next == kept {
            break;
        }
        cancel.check()?;
        kept = next;
        let Some(fitted) = fit(&kept) else { return Ok(None) };
        field = fitted;
    }
    Ok(Some((field, kept.len())))
}
