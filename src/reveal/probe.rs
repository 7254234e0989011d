//! One place of the opened cloth: what the rod had there.

use super::Reveal;
use super::grid::RodGrid;
use super::table::for_lanes;
use super::unfold::{Unfold, section_number};
use crate::geometry::{BundlePoint, ClothPoint, Panel};
use crate::layout::DyeFields;
use kurbo::Point;

/// What is known of one place of the cloth. An estimate, like the picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Probe {
    /// Which of several ties it belongs to, from 0.
    pub tie: usize,
    /// Number of its section, 1 at the centre.
    pub section: usize,
    /// Doses to colour it by: one for each dye of its rotation, then what mixtures have besides ([`DyeFields`]); 1 is the dose at a fully fed
    /// surface.
    pub doses: Vec<f64>,
    /// Of each dye of the rotation what lies there.
    pub dyes: Vec<DyeDose>,
    /// Share of the garment's own colour that is left, 0 to 1.
    pub ground_left: f64,
    /// How far along the rod it lay, mm.
    pub along_mm: f64,
    /// Its place across the pleat, 0 to 1 from one crease to the other.
    pub across: f64,
    /// Its layer in the stack, counted from the bottom among those that are there: 1 to `places_here`.
    pub place: u32,
    /// Layers of cloth that lay on each other there.
    pub places_here: u32,
    /// Depth in the rod, mm: the shortest way to a face, straight through the stack or across the pleat and through what is wrapped
    /// round its crease.
    pub depth_mm: f64,
}

/// What lies of a dye at a place; 1 is the dose at a fully fed surface.
#[derive(Debug, Clone, PartialEq)]
pub struct DyeDose {
    /// Dose of the dye: of a mixture by the weight of its components.
    pub dose: f64,
    /// Dose of each component of a mixture; none of an unmixed dye.
    pub components: Vec<f64>,
}

impl DyeDose {
    /// What lies of each dye, by the doses of the fields.
    fn of_all(fields: &DyeFields, doses: &[f64]) -> Vec<Self> {
        let component = |dye: usize, component: usize| {
            fields.of_dye(dye).find(|(_, field)| field.components.contains(&component)).map(|(number, _)| doses[number])
        };
        let of_dye = |dye: usize| Self {
            dose: fields.dose(dye, |field| doses[field]),
            components: (0..).map_while(|index| component(dye, index)).collect(),
        };
        (0..fields.dyes()).map(of_dye).collect()
    }
}

impl Reveal {
    /// What lies at a point of the garment's frame (mm; the back as in that frame, seen through the garment, not flipped); `None`
    /// where there is no cloth of the bundle.
    ///
    /// It tells what the picture shows there: with the hand's wander.
    #[must_use]
    pub fn probe(&self, panel: Panel, at: Point) -> Option<Probe> {
        if let [_, _, ..] = self.ties() {
            let of_tie = |(tie, reveal): (usize, &Self)| Some(Probe { tie, ..reveal.probe(panel, at)? });
            return self.ties().iter().enumerate().find_map(of_tie);
        }
        let layout = self.layout();
        let cloth = ClothPoint { panel, x_mm: at.x, y_mm: at.y };
        if !layout.fold().has_cloth(cloth) {
            return None;
        }
        let unfold = Unfold::of(layout, &self.rod, &self.table);
        let taken = unfold.taken(panel, at);
        let (rod, doses): (BundlePoint, Vec<f64>) = for_lanes!(self.table.lanes(), L => {
            let (rod, doses) = unfold.read::<L>(taken)?;
            (rod, doses.map(f64::from).to_vec())
        });
        let column = Column::at(&self.rod.grid, &rod);
        Some(Probe {
            tie: 0,
            section: usize::from(section_number(&self.rod.grid, rod.along_mm)),
            dyes: DyeDose::of_all(&DyeFields::of(&layout.raw().colours.rotation), &doses),
            doses: doses[..unfold.dyes].to_vec(),
            ground_left: 1.0 - layout.process().discharged_share(doses[self.table.bath()]),
            along_mm: rod.along_mm,
            across: rod.across,
            place: column.below + 1,
            places_here: column.below + 1 + column.above,
            depth_mm: depth_mm(&self.rod.grid, &rod, &column),
        })
    }
}

/// The cloth below and above a place of the stack.
struct Column {
    slab: usize,
    below: u32,
    above: u32,
}

impl Column {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the grid")]
    fn at(grid: &RodGrid, rod: &BundlePoint) -> Self {
        let shape = grid.shape();
        let cell = |at: f64, cells: usize| (at.max(0.0) as usize).min(cells.saturating_sub(1));
        let slab = cell(rod.along_mm / grid.cell_mm(), grid.shape().slabs());
        let across = cell(rod.across * shape.across() as f64, shape.across());
        let count = |places: std::ops::Range<usize>| {
            // A stack has at most a few thousand places.
            u32::try_from(places.filter(|&place| grid.is_cloth(slab, place, across)).count()).unwrap_or(u32::MAX)
        };
        let place = rod.layer() as usize;
        Self { slab, below: count(0..place), above: count(place + 1..shape.places()) }
    }
}

fn depth_mm(grid: &RodGrid, rod: &BundlePoint, column: &Column) -> f64 {
    let (section, place) = (grid.section(column.slab), rod.layer() as usize);
    let through_mm = (f64::from(column.below.min(column.above)) + 0.5) * section.layer_mm;
    let width_mm = grid.layer_width_mm(column.slab, place);
    let crease_mm = |across: f64, wrapped: usize| across * width_mm + wrapped as f64 * section.layer_mm;
    let [over_start, over_end] = grid.mates().wrapped_over(place);
    let start_mm = crease_mm(rod.across, over_start);
    let end_mm = crease_mm(1.0 - rod.across, over_end);
    through_mm.min(start_mm).min(end_mm)
}
