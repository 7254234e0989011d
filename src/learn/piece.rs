//! A piece of cloth that was made from a layout, and what its photographs show once they are registered.

use super::LearnError;
use super::bins::Bins;
use crate::geometry::Panel;
use crate::layout::{Hand, Layout};
use crate::photo::{Light, Marks, PhotoMeasure, Photograph, Plan, RegistrationOptions, Stray, measure, register};
use crate::reveal::{Cancel, PixelFrame, RodBind, rod_binds};
use rayon::prelude::*;

/// A piece and its photographs.
#[derive(Debug)]
pub struct Piece {
    /// What it is called.
    pub name: String,
    /// The layout that it was made from.
    pub layout: Layout,
    /// Photographs of it, each of one side.
    pub photographs: Vec<PiecePhoto>,
}

/// A photograph of a piece.
#[derive(Debug)]
pub struct PiecePhoto {
    /// What it is called.
    pub name: String,
    /// A mark of its file's bytes, so that no photograph teaches twice.
    pub mark: String,
    /// The picture.
    pub photograph: Photograph,
    /// The marks on it, its white sheet among them.
    pub marks: Marks,
}

/// A photograph that was measured, with the bins that it is looked at in.
#[derive(Debug)]
pub(super) struct Side<'a> {
    photograph: &'a Photograph,
    pub(super) panel: Panel,
    pub(super) frame: PixelFrame,
    measured: PhotoMeasure,
    light: Light,
    pub(super) bins: Bins,
}

/// Whether a piece of this layout can teach, which is told before any work.
///
/// # Errors
/// [`LearnError::SeveralTies`]; [`LearnError::Photo`] for a puck.
pub fn check_teaches(name: &str, layout: &Layout) -> Result<(), LearnError> {
    if layout.is_of_several() {
        return Err(LearnError::SeveralTies { piece: name.to_owned(), ties: layout.ties().len() });
    }
    Plan::check(layout).map_err(|error| LearnError::Photo { photograph: name.to_owned(), error })
}

/// A piece whose photographs were measured.
#[derive(Debug)]
pub(super) struct Measured<'a> {
    /// Its layout, made by an exact hand.
    pub(super) layout: Layout,
    /// Its binds where they were found; those that were not, where they were planned.
    pub(super) binds: Vec<RodBind>,
    pub(super) sides: Vec<Side<'a>>,
}

impl<'a> Measured<'a> {
    /// Registers and measures every photograph of a piece.
    pub(super) fn of(piece: &'a Piece, cancel: &Cancel) -> Result<Self, LearnError> {
        check_teaches(&piece.name, &piece.layout)?;
        let mut spec = piece.layout.raw().clone();
        spec.process.hand = Hand { seed: spec.process.hand.seed, ..Hand::EXACT };
        // A layout stays usable whatever its hand; if not, the maker's own is next best.
        let layout = Layout::try_from(spec).unwrap_or_else(|_refused| piece.layout.clone());
        let mut sides = Vec::with_capacity(piece.photographs.len());
        for photo in &piece.photographs {
            sides.push(Side::of(photo, &layout, cancel)?);
        }
        if sides.is_empty() {
            return Err(LearnError::NoPhotograph { piece: piece.name.clone() });
        }
        let mut binds = rod_binds(&layout);
        for (number, bind) in binds.iter_mut().enumerate() {
            let shifts = sides.iter().flat_map(|side| &side.measured.tie().rings.rings).filter(|ring| ring.bind == number + 1);
            // Front and back count by how well each is known.
            let (weights, sum) = shifts.fold((0.0, 0.0), |(weights, sum), ring| {
                let weight = ring.sd_mm.max(LEAST_SD_MM).powi(-2);
                (weights + weight, sum + weight * ring.shift_mm)
            });
            bind.along_mm += if weights > 0.0 { sum / weights } else { 0.0 };
        }
        binds.sort_by(|a, b| a.along_mm.total_cmp(&b.along_mm));
        Ok(Self { layout, binds, sides })
    }
}

/// No ring is known better, mm.
const LEAST_SD_MM: f64 = 0.1;

impl<'a> Side<'a> {
    fn of(photo: &'a PiecePhoto, layout: &Layout, cancel: &Cancel) -> Result<Self, LearnError> {
        let refused = |error| LearnError::Photo { photograph: photo.name.clone(), error };
        if photo.marks.sheet.is_none() {
            return Err(LearnError::NoSheet { photograph: photo.name.clone() });
        }
        let options = RegistrationOptions::default();
        let registration = register(&photo.photograph, layout, &photo.marks, &options, cancel).map_err(refused)?;
        let plan = Plan::of(layout, photo.marks.side, &cancel.beneath()).map_err(refused)?;
        let measured = measure(&photo.photograph, &plan, &photo.marks, registration, cancel).map_err(refused)?;
        let Some(light) = measured.light.clone() else {
            return Err(LearnError::NoSheet { photograph: photo.name.clone() });
        };
        let bins = Bins::of(layout, photo.marks.side, plan.frame());
        Ok(Self { photograph: &photo.photograph, panel: photo.marks.side, frame: plan.frame(), measured, light, bins })
    }

    /// The mean light that each bin reflects, its lines drawn to where a plan has them: that of the same cloth as it is foretold. None
    /// of a bin that the photograph does not show.
    pub(super) fn straightened(&self, plan: &Plan) -> Vec<Option<[f64; 3]>> {
        let stray = Stray::of(self.photograph, plan, &self.measured);
        let map = &self.measured.registration;
        let reflected = |at| {
            let seen = self.photograph.at(map.apply(stray.apply(at))?)?;
            Some(self.light.reflected(at, seen))
        };
        let of_bin = |pixels: &[u32]| {
            let mut sum = [0.0; 3];
            for &pixel in pixels {
                let (column, row) = (pixel as usize % self.frame.width, pixel as usize / self.frame.width);
                let light = reflected(self.frame.middle(column, row))?;
                sum.iter_mut().zip(light).for_each(|(sum, channel)| *sum += channel);
            }
            Some(sum.map(|sum| sum / pixels.len() as f64))
        };
        self.bins.pixels.par_iter().map(|pixels| of_bin(pixels)).collect()
    }
}
