//! The rod cut into cells: along it, place by place through the stack, and across the pleats.

use super::binds::{self, Piece, RodBind};
use super::clamp::Clamp;
use super::cloth_shares::ClothShares;
use super::columns::{Column, Columns};
use super::laid::LaidFold;
use super::mates::Mates;
use super::rod_section::{RodSection, rod_section};
use super::solver::{ACROSS, GridShape};
use super::widths::Widths;
use super::wound::{Wound, WoundColumns};
use super::{RevealError, RevealLength};
use crate::geometry::{Bundle, BundlePoint, Cloth, DipZone, Extent, OpenFaces, Ring};
use crate::layout::Hand;
use std::sync::Arc;

/// How finely the rod is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GridSpec {
    /// Length of a cell along the rod, mm: 2 for a picture, a third of the breadth of a bind.
    pub cell_mm: f64,
    /// Cells across a pleat: one of [`ACROSS`].
    pub across: usize,
}

impl GridSpec {
    /// Coarse enough to follow a hand that drags: few cells across pleats; across a flat bundle, whose outline and blocks they have to show, none
    /// broader than 6 mm.
    #[must_use]
    pub fn preview(fold: &dyn Bundle) -> Self {
        let cell_mm = 5.0;
        let mut across = ACROSS[0];
        if fold.open().sides {
            let width_mm = fold.cell(0.0..cell_mm, 0, 0.0..1.0).width_mm;
            while width_mm > f64::from(u32::try_from(across).unwrap_or(u32::MAX)) * SHOWN_MM && ACROSS.contains(&(2 * across)) {
                across *= 2;
            }
        }
        Self { cell_mm, across }
    }

    /// Fine enough for a picture: as many cells across as the widest pleats ask for where doses fall to 1/e over `reach_mm`, or as
    /// many as fit when `fields` are solved; 8 at the least. The outermost tenth of the cloth, corners and hems, is not asked, nor is the
    /// tenth in the broadest pleats where these are unequal.
    ///
    /// Doses at the creases and in the outermost tenth of a pleat, against its middle, are then within 2 % of those on ever finer grids
    /// (measured for pleats of 29, 51 and 72 mm however the rod lies), and so are those across a pleat that is fed at its creases alone
    /// of Thiele's. The error falls to a quarter when cells are halved.
    #[must_use]
    pub fn fine(fold: &dyn Bundle, reach_mm: f64, fields: usize) -> Self {
        let cell_mm = 2.0;
        let slabs = slabs(fold.length_mm(), cell_mm);
        let widest_mm = if fold.open().sides {
            // A flat bundle's cells are as wide everywhere, its outline may not be.
            fold.cell(0.0..cell_mm, 0, 0.0..1.0).width_mm
        } else if fold.is_even() {
            widest_even_mm(fold, slabs, cell_mm)
        } else {
            widest_uneven_mm(fold).min(EVEN_WITHIN * reach_mm)
        };
        let is_enough = |across: usize| widest_mm <= across as f64 * BROADEST * reach_mm;
        let fits = |across: usize| {
            let values = slabs.saturating_mul(fold.places() as usize).saturating_mul(across);
            values <= MOST_CELLS && values.saturating_mul(fields) <= MOST_VALUES
        };
        let mut across = FEWEST_ACROSS;
        while !is_enough(across) && ACROSS.contains(&(2 * across)) && fits(2 * across) {
            across *= 2;
        }
        Self { cell_mm, across }
    }
}

impl GridSpec {
    /// The same so much finer that thread which goes `slope` mm along for each mm across shows as an even line: cells along as short as
    /// a millimetre, and so many across that from one to the next thread moves by a cell along at the most; as far as cells are left
    /// for `fields` that are solved at once.
    #[must_use]
    pub fn for_slanting(self, fold: &dyn Bundle, slope: f64, fields: usize) -> Self {
        let width_mm = fold.cell(0.0..self.cell_mm, 0, 0.0..1.0).width_mm;
        let values = |spec: &Self| {
            slabs(fold.length_mm(), spec.cell_mm).saturating_mul(fold.places() as usize).saturating_mul(spec.across)
        };
        let fits = |spec: &Self| values(spec) <= MOST_CELLS && values(spec).saturating_mul(fields.max(1)) <= MOST_VALUES;
        let mut spec = self;
        loop {
            let finer = Self { across: 2 * spec.across, ..spec };
            let moves_mm = slope * width_mm / spec.across as f64;
            let shorter = Self { cell_mm: 0.5 * spec.cell_mm, ..spec };
            let next = if spec.cell_mm > SLANTING_MM && fits(&shorter) {
                shorter
            } else if moves_mm > spec.cell_mm && ACROSS.contains(&finer.across) && fits(&finer) {
                finer
            } else {
                return spec;
            };
            spec = next;
        }
    }
}

/// Length of a cell along a bundle at which slanting thread shows as an even line, mm: at twice as much, lines of a millimetre come out
/// dashed where they pass from cell to cell (own choice, by eye).
const SLANTING_MM: f64 = 1.0;

/// How wide pleats are that are alike, where they are widest, mm.
fn widest_even_mm(fold: &dyn Bundle, slabs: usize, cell_mm: f64) -> f64 {
    let cloth_mm2 = |slabs: usize| fold.cut(slabs as f64 * cell_mm).map(|cut| cut.area_mm2).sum();
    let asked_mm2 = (1.0 - NOT_ASKED) * cloth_mm2(slabs);
    let asked = (0..slabs).take_while(|&slab| slab == 0 || cloth_mm2(slab) < asked_mm2);
    asked.map(|slab| fold.width_mm((slab as f64 + 0.5) * cell_mm)).filter(|mm| mm.is_finite()).fold(0.0, f64::max)
}

/// How wide unequal pleats are, mm: less than the broadest that hold a tenth of the cloth.
fn widest_uneven_mm(fold: &dyn Bundle) -> f64 {
    let mut widths_mm = Vec::new();
    let mut along_mm = 0.5 * SAMPLED_MM;
    while along_mm < fold.length_mm() {
        let middle = |place: u32| BundlePoint { along_mm, across: 0.5, place: f64::from(place) };
        let has_cloth = |place: &u32| fold.to_cloth(middle(*place)).is_some_and(|cloth| fold.has_cloth(cloth));
        let width_mm = |place: u32| fold.cell(along_mm..along_mm, place, 0.0..1.0).width_mm;
        widths_mm.extend((0..fold.places()).filter(has_cloth).map(width_mm).filter(|mm| mm.is_finite()));
        along_mm += SAMPLED_MM;
    }
    widths_mm.sort_by(|a, b| b.total_cmp(a));
    // As much cloth as they are wide.
    let mut not_asked_mm = NOT_ASKED * widths_mm.iter().sum::<f64>();
    let asked = widths_mm.into_iter().find(|width_mm| {
        not_asked_mm -= width_mm;
        not_asked_mm <= 0.0
    });
    asked.unwrap_or(0.0)
}

/// How far apart unequal pleats are looked at along the bundle, mm.
const SAMPLED_MM: f64 = 16.0;
/// Breadth of a pleat, in reaches, beyond which its middle is even and asks for no more cells. On 32 cells across, pictures of the
/// heart, whose pleats are up to 335 mm wide, are as near to those on 64 (0.27 CIEDE2000 in the mean, 1.5 for the worst hundredth) as
/// the tee's burst on 16 is to its own on 32 (measured).
const EVEN_WITHIN: f64 = 12.0;
/// Greatest breadth of a cell across a flat bundle where a hand is followed, mm: a corner or a block of a few centimetres keeps its shape (own
/// choice, by eye).
const SHOWN_MM: f64 = 6.0;
/// Breadth of a cell across a pleat as a share of the reach along the cloth from which doses would be more than 2 % off (measured).
const BROADEST: f64 = 0.375;
/// Share of the cloth, the farthest from the tip, for which a pleat may be broader (our own judgement).
const NOT_ASKED: f64 = 0.1;
/// Fewest cells across a pleat of a picture.
const FEWEST_ACROSS: usize = 8;
/// Most cells of a grid: what fits into 300 MB with five dyes.
pub const MOST_CELLS: usize = 1_200_000;
/// Most cells of a picture's grid times fields that are solved at once: those five dyes' ([`GridSpec::fine`]).
const MOST_VALUES: usize = 5 * MOST_CELLS;
/// The rod's cells, which of them hold cloth, and the rod's shape.
#[derive(Debug, Clone)]
pub struct RodGrid {
    shape: GridShape,
    cell_mm: f64,
    layers: usize,
    cloth: Arc<ClothShares>,
    columns: Columns,
    sections: Vec<RodSection>,
    widths: Widths,
    mates: Mates,
    open: OpenFaces,
    is_closed: bool,
    ring: Option<Ring>,
    binds: Vec<RodBind>,
    wound: Option<Arc<WoundColumns>>,
}

impl RodGrid {
    /// Cuts a bound rod into cells, its cloth laid by an exact hand.
    ///
    /// # Errors
    /// [`RevealError::NoCloth`], [`RevealError::Length`] for an unusable cell, [`RevealError::TooManyCells`].
    pub fn new(
        fold: &dyn Bundle,
        cloth: &Cloth,
        binds: &[RodBind],
        flat_after_diameters: f64,
        spec: &GridSpec,
    ) -> Result<Self, RevealError> {
        Self::laid(fold, &Hand::EXACT, cloth, binds, flat_after_diameters, spec)
    }

    /// Cuts a bound rod into cells, its cloth laid by this hand.
    ///
    /// # Errors
    /// As for [`RodGrid::new`].
    pub fn laid(
        fold: &dyn Bundle,
        hand: &Hand,
        cloth: &Cloth,
        binds: &[RodBind],
        flat_after_diameters: f64,
        spec: &GridSpec,
    ) -> Result<Self, RevealError> {
        Self::laid_as(None, (fold, hand), cloth, binds, flat_after_diameters, spec)
    }

    /// As [`RodGrid::laid`]; where another grid has the same cells, its cloth is taken over: that of the same fold, laid by the same hand.
    pub(super) fn laid_as(
        other: Option<&Self>,
        (fold, hand): (&dyn Bundle, &Hand),
        cloth: &Cloth,
        binds: &[RodBind],
        flat_after_diameters: f64,
        spec: &GridSpec,
    ) -> Result<Self, RevealError> {
        let shape = shape(fold, spec)?;
        let spec = &GridSpec { cell_mm: cell_mm(fold, shape, spec), ..*spec };
        let sections: Vec<RodSection> = (0..shape.slabs())
            .map(|slab| rod_section(fold, cloth, binds, flat_after_diameters, (slab as f64 + 0.5) * spec.cell_mm))
            .collect();
        let same = other.filter(|other| other.shape == shape && other.cell_mm == spec.cell_mm);
        let mut shares = match same {
            Some(other) => Arc::clone(&other.cloth),
            None => Arc::new(ClothShares::of(&LaidFold::new(fold, hand), shape, spec.cell_mm)),
        };
        let widths = Widths::of(fold, shape, spec.cell_mm, &sections, &shares);
        let (mates, columns) = (Mates::of(fold), Columns::of(fold, shape, spec.cell_mm, &shares));
        if same.is_none() {
            columns.clear_outside(shape, Arc::make_mut(&mut shares));
        }
        let Extent { layers, is_closed, .. } = fold.extent();
        Ok(Self {
            shape,
            cell_mm: spec.cell_mm,
            layers: layers as usize,
            cloth: shares,
            columns,
            sections,
            widths,
            mates,
            open: fold.open(),
            is_closed,
            ring: fold.ring(),
            binds: binds.to_vec(),
            wound: None,
        })
    }

    /// The same bundle between blocks; one pair of them, the last that is put on.
    #[must_use]
    pub fn clamped(mut self, clamp: &Clamp) -> Self {
        let width_mm = self.sections.first().map_or(0.0, |section| section.width_mm);
        self.columns.clamp(self.shape, self.cell_mm, width_mm, clamp);
        self
    }

    /// The same bundle with a thread wound round it; one, the last that is wound.
    #[must_use]
    pub fn wound(mut self, wound: &Wound) -> Self {
        let width_mm = self.sections.first().map_or(0.0, |section| section.width_mm) / self.shape.across() as f64;
        let footprint = |slab: usize, across: usize| self.columns.at(slab, across).footprint;
        let columns = WoundColumns::of(wound, self.shape, [self.cell_mm, width_mm], footprint, &self.cloth);
        self.wound = Some(Arc::new(columns));
        self
    }

    /// The thread that is wound round it.
    pub(super) fn wound_columns(&self) -> Option<&WoundColumns> {
        self.wound.as_deref()
    }

    /// Cloth of all layers that lies under blocks, mm2.
    #[must_use]
    pub fn under_blocks_mm2(&self) -> f64 {
        let columns = (0..self.shape.slabs()).flat_map(|slab| (0..self.shape.across()).map(move |across| (slab, across)));
        let covered = columns.map(|(slab, across)| (slab, across, self.column(slab, across).covered));
        let under = covered.filter(|&(_, _, covered)| covered > 0.0).map(|(slab, across, covered)| {
            covered * (0..self.shape.places()).map(|place| self.cloth_mm2(slab, place, across)).sum::<f64>()
        });
        under.sum()
    }

    /// Layers of cloth between the blocks where most are; pressed, so many times a layer's thickness is how far a clamp must open.
    #[must_use]
    pub fn layers_under_blocks(&self) -> f64 {
        let columns = (0..self.shape.slabs()).flat_map(|slab| (0..self.shape.across()).map(move |across| (slab, across)));
        let layers = columns
            .filter(|&(slab, across)| self.column(slab, across).covered > 0.0)
            .map(|(slab, across)| (0..self.shape.places()).map(|place| self.cloth_share(slab, place, across)).sum::<f64>());
        layers.fold(0.0, f64::max)
    }

    /// The share of a cell that lies in a zone of dye.
    pub(super) fn share_in(&self, zone: &DipZone, slab: usize, place: usize, across: usize) -> f64 {
        let (along_mm, cells) = (self.cell_mm * slab as f64, self.shape.across() as f64);
        let across = across as f64 / cells..(across + 1) as f64 / cells;
        // A stack has at most a few thousand places.
        zone.share(along_mm..along_mm + self.cell_mm, across, u32::try_from(place).unwrap_or(u32::MAX))
    }

    /// What is particular to a column of cells.
    pub(super) fn column(&self, slab: usize, across: usize) -> &Column {
        self.columns.at(slab, across)
    }

    /// All columns.
    pub(super) fn columns(&self) -> &Columns {
        &self.columns
    }

    /// The grid's extent.
    #[must_use]
    pub fn shape(&self) -> GridShape {
        self.shape
    }

    /// Length of a cell along the rod, mm; of a ring at its rim.
    #[must_use]
    pub fn cell_mm(&self) -> f64 {
        self.cell_mm
    }

    /// Length of a cell of a place, mm: alike but in a ring, whose places lie round each other.
    #[must_use]
    pub fn length_mm(&self, place: usize) -> f64 {
        self.cell_mm * self.length_share(place)
    }

    fn length_share(&self, place: usize) -> f64 {
        // A stack has at most a few thousand places.
        let count = |places: usize| u32::try_from(places).unwrap_or(u32::MAX);
        self.ring.map_or(1.0, |_| Ring::length_share(count(place), count(self.shape.places())))
    }

    /// How many layers of cloth a place stands for: one, but in a ring.
    #[must_use]
    pub fn place_layers(&self) -> f64 {
        self.ring.map_or(1.0, |ring| ring.place_layers)
    }

    /// The ring that the bundle is bent into, if it is.
    #[must_use]
    pub fn ring(&self) -> Option<Ring> {
        self.ring
    }

    /// Index of the section that a place along it lies in.
    pub(super) fn section_at(&self, along_mm: f64) -> usize {
        match self.ring {
            None => binds::section(&self.binds, along_mm),
            Some(_) => binds::section_of_ring(&self.binds, along_mm),
        }
    }

    /// What its binds do along a slab.
    pub(super) fn pieces(&self, slab: usize) -> Vec<Piece> {
        let (from_mm, to_mm) = (slab as f64 * self.cell_mm, (slab + 1) as f64 * self.cell_mm);
        match self.ring {
            None => binds::pieces(&self.binds, from_mm, to_mm),
            Some(_) => binds::pieces_of_ring(&self.binds, self.around_mm(), from_mm, to_mm),
        }
    }

    /// All the way along it, mm.
    fn around_mm(&self) -> f64 {
        self.shape.slabs() as f64 * self.cell_mm
    }

    /// The middle of a slab, mm along the rod.
    #[must_use]
    pub fn along_mm(&self, slab: usize) -> f64 {
        (slab as f64 + 0.5) * self.cell_mm
    }

    /// The rod's cross-section at a slab.
    #[must_use]
    pub fn section(&self, slab: usize) -> &RodSection {
        &self.sections[slab]
    }

    /// How wide a cell is in the tied bundle, by its slab, place and column, mm.
    #[must_use]
    pub fn width_mm(&self, slab: usize, place: usize, across: usize) -> f64 {
        self.widths.at(self.shape, slab, place * self.shape.across() + across)
    }

    /// How far the middles of a layer's cells lie from its own middle, mm, one after the other across.
    pub(super) fn off_middle_mm(&self, slab: usize, place: usize) -> impl Iterator<Item = f64> {
        let (cells, layer_mm) = (self.shape.across(), self.layer_width_mm(slab, place));
        let mut before_mm = 0.0;
        (0..cells).map(move |across| match &self.widths {
            Widths::Even(widths_mm) => (across as f64 + 0.5 - 0.5 * cells as f64) * widths_mm[slab],
            Widths::Each(_) => {
                let width_mm = self.width_mm(slab, place, across);
                let off_middle_mm = before_mm + 0.5 * (width_mm - layer_mm);
                before_mm += width_mm;
                off_middle_mm
            }
        })
    }

    /// How wide a whole layer is in the tied bundle, mm.
    #[must_use]
    pub fn layer_width_mm(&self, slab: usize, place: usize) -> f64 {
        match &self.widths {
            Widths::Even(_) => self.sections[slab].width_mm,
            Widths::Each(_) => (0..self.shape.across()).map(|across| self.width_mm(slab, place, across)).sum(),
        }
    }

    /// How wide a whole layer is as flat cloth, mm.
    #[must_use]
    pub fn flat_width_mm(&self, slab: usize, place: usize) -> f64 {
        let section = &self.sections[slab];
        match &self.widths {
            Widths::Even(_) => section.pleat_mm,
            Widths::Each(_) => self.layer_width_mm(slab, place) * section.pleat_mm / section.width_mm,
        }
    }

    /// Cloth in a cell, mm2.
    #[must_use]
    pub fn cloth_mm2(&self, slab: usize, place: usize, across: usize) -> f64 {
        let section = &self.sections[slab];
        let flat_mm = match &self.widths {
            Widths::Even(_) => section.pleat_mm / self.shape.across() as f64,
            Widths::Each(_) => self.width_mm(slab, place, across) * section.pleat_mm / section.width_mm,
        };
        self.length_mm(place) * flat_mm * self.cloth_share(slab, place, across) * self.place_layers()
    }

    /// Which of its outer faces are open.
    #[must_use]
    pub fn open(&self) -> OpenFaces {
        let [tip, end] = self.open.ends;
        OpenFaces { ends: [tip, end && !self.is_closed], ..self.open }
    }

    /// How much of a cell is cloth, 0 to 1.
    #[must_use]
    pub fn cloth_share(&self, slab: usize, place: usize, across: usize) -> f64 {
        f64::from(self.cloth.cells[self.shape.index(slab, place, across)])
    }

    /// Whether a cell is cloth for the greater part.
    #[must_use]
    pub fn is_cloth(&self, slab: usize, place: usize, across: usize) -> bool {
        self.cloth_share(slab, place, across) >= 0.5
    }

    /// How much of each cell of a place in a slab is cloth, 0 to 1, across.
    pub(super) fn cloth_shares(&self, slab: usize, place: usize) -> &[f32] {
        &self.cloth.cells[self.shape.index(slab, place, 0)..][..self.shape.across()]
    }

    /// How much of a place's two creases in a slab, where `across` is 0 and where it is 1, lies on cloth, 0 to 1.
    #[must_use]
    pub fn crease_shares(&self, slab: usize, place: usize) -> [f64; 2] {
        self.cloth.creases[slab * self.shape.places() + place].map(f64::from)
    }

    /// Whether any place has cloth in this column of cells.
    #[must_use]
    pub fn column_has_cloth(&self, slab: usize, across: usize) -> bool {
        (0..self.shape.places()).any(|place| self.cloth_share(slab, place, across) > 0.0)
    }

    /// Whether a bind presses any of a slab.
    #[must_use]
    pub fn is_pressed(&self, slab: usize) -> bool {
        let (middle_mm, half_mm) = (self.along_mm(slab), 0.5 * self.cell_mm);
        let reach_mm = |bind: &RodBind| 0.5 * bind.breadth_mm + bind.effect.beyond_mm + half_mm;
        let away_mm = |bind: &RodBind| {
            let away_mm = (bind.along_mm - middle_mm).abs();
            if self.ring.is_some() { away_mm.min(self.around_mm() - away_mm) } else { away_mm }
        };
        self.binds.iter().any(|bind| away_mm(bind) < reach_mm(bind))
    }

    /// Whether a wound thread presses any of a column of cells.
    pub(super) fn is_wound(&self, slab: usize, across: usize) -> bool {
        self.wound.as_ref().is_some_and(|wound| wound.is_pressed(slab, across))
    }

    /// Layers of cloth in each pleat.
    #[must_use]
    pub fn layers(&self) -> usize {
        self.layers
    }

    /// Which places are joined at their creases.
    #[must_use]
    pub fn mates(&self) -> &Mates {
        &self.mates
    }

    /// The binds, from the tip outward.
    #[must_use]
    pub fn binds(&self) -> &[RodBind] {
        &self.binds
    }
}

/// The entry before a place in a row of `count`, and how far it lies toward the next, 0 to 1.
#[inline]
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the row")]
pub(super) fn between(at: f64, count: usize) -> (usize, f64) {
    let at = at.clamp(0.0, count.saturating_sub(1) as f64);
    let first = (at as usize).min(count.saturating_sub(2));
    (first, at - first as f64)
}

fn shape(fold: &dyn Bundle, spec: &GridSpec) -> Result<GridShape, RevealError> {
    let (length_mm, places) = (fold.length_mm(), fold.places());
    if !(0.1..=100.0).contains(&spec.cell_mm) {
        return Err(RevealError::Length { what: RevealLength::Cell, value_mm: spec.cell_mm, least_mm: 0.1, most_mm: 100.0 });
    }
    if places == 0 || !(length_mm > 0.0 && length_mm.is_finite()) {
        return Err(RevealError::NoCloth { length_mm, places });
    }
    let slabs = slabs(length_mm, spec.cell_mm);
    let cells = slabs.saturating_mul(places as usize).saturating_mul(spec.across);
    if cells > MOST_CELLS {
        return Err(RevealError::TooManyCells { cells, most: MOST_CELLS });
    }
    Ok(GridShape::new(slabs, places as usize, spec.across)?)
}

/// Length of a cell: as asked for, but round a ring there is a whole number.
fn cell_mm(fold: &dyn Bundle, shape: GridShape, spec: &GridSpec) -> f64 {
    if fold.ring().is_some() { fold.length_mm() / shape.slabs() as f64 } else { spec.cell_mm }
}

/// Cells along a rod; no rod has so many that they could not be counted.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate, and a NaN becomes 0")]
fn slabs(length_mm: f64, cell_mm: f64) -> usize {
    (length_mm / cell_mm).ceil() as usize
}
