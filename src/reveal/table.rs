//! The doses in the rod, tabled so that every pixel of the opened cloth can be read at once: crease by crease mixed with the pleat
//! that the cloth goes on into, and carried on to just beyond the rod's edges.
//!
//! Dye goes along the cloth round a crease. Two strips of cloth joined at their ends and held at different doses by what lies on them
//! meet half-way between the two, each falling to its own exponentially over the reach along the cloth.

use super::RodDoses;
use super::dose::DoseField;
use super::grid::between;
use crate::geometry::{Bundle, BundlePoint, ClothPoint};
use crate::layout::DyeFields;
use rayon::prelude::*;

/// Numbers of values that are read together.
pub(super) const LANES: [usize; 3] = [4, 8, 24];

/// Runs generic code for the number of lanes that a table has.
macro_rules! for_lanes {
    ($lanes:expr, $L:ident => $body:expr) => {
        match $lanes {
            4 => {
                const $L: usize = 4;
                $body
            }
            8 => {
                const $L: usize = 8;
                $body
            }
            _ => {
                const $L: usize = 24;
                $body
            }
        }
    };
}
pub(super) use for_lanes;

/// Doses at nodes: slab by slab in the middle of the grid's cells, and across the pleat in the cells' middles and at both creases.
/// Between nodes doses go straight.
///
/// Of each node the doses of all dyes, then that of the bath, then zeros up to [`DoseTable::lanes`].
#[derive(Debug, Clone)]
pub(super) struct DoseTable {
    places: usize,
    slabs: usize,
    across: usize,
    cell_mm: f64,
    /// Whether the last slab goes on into the first.
    is_ring: bool,
    /// Whether any cloth lies over a fold that is no edge of a layer: hardly any fold has some, and each pixel would ask.
    has_joins: bool,
    lanes: usize,
    dyes: usize,
    /// The dyes' reach along the cloth, mm.
    reach_mm: f64,
    /// That of each of the values that are read together; empty where all have the dyes'.
    reaches_mm: Vec<f64>,
    /// Width of the pleats, crease to crease, in the middle of each slab, mm: place by place, or of one where all are alike.
    pleats_mm: Vec<f64>,
    values: Vec<f32>,
}

/// Distance from a fold, in reaches, beyond which the other side counts for nothing (1/500 at most).
const FAR_REACHES: f64 = 5.5;

impl DoseTable {
    /// Tables the doses of a rod, kept as these fields; `reach_mm` is the dyes' reach along the cloth.
    pub(super) fn new(fold: &dyn Bundle, rod: &RodDoses, fields: &DyeFields, reach_mm: f64) -> Self {
        let (grid, shape, dyes) = (&rod.grid, rod.grid.shape(), fields.len());
        let mut groups = fields.by_reach();
        // The bath is mixed as dyes are.
        groups[0].1.push(dyes);
        let lanes = LANES.into_iter().find(|&lanes| lanes > dyes).unwrap_or(LANES[2]);
        let (slabs, nodes) = (grid.shape().slabs(), shape.across() + 2);
        let mut values = vec![0.0; shape.places() * slabs * nodes * lanes];
        let shares = |factor: f64, place: usize| -> Vec<f32> {
            let of_slab = |slab: usize| {
                let reaches = grid.flat_width_mm(slab, place) / (factor * reach_mm);
                (0..nodes).map(move |node| crease_share(reaches, place_of(node, shape.across())))
            };
            (0..slabs).flat_map(of_slab).collect()
        };
        let alike: Option<Vec<Vec<f32>>> = fold.is_even().then(|| groups.iter().map(|(factor, _)| shares(*factor, 0)).collect());
        let has_dose: Vec<bool> =
            (0..slabs * nodes).map(|at| grid.column_has_cloth(at / nodes, (at % nodes).clamp(1, nodes - 2) - 1)).collect();
        let pressed: Vec<bool> = (0..slabs).map(|slab| grid.is_pressed(slab)).collect();
        values.par_chunks_mut(slabs * nodes * lanes).enumerate().for_each(|(place, values)| {
            let layer = Layer { rod, place, dyes, lanes, nodes, has_dose: &has_dose, pressed: &pressed };
            for (number, (factor, fields)) in groups.iter().enumerate() {
                match &alike {
                    Some(shares) => layer.mix(&shares[number], fields, values),
                    None => layer.mix(&shares(*factor, place), fields, values),
                }
            }
            layer.carry_on(values);
        });
        let (places, across, cell_mm, is_ring) = (shape.places(), shape.across(), grid.cell_mm(), grid.ring().is_some());
        let pleat_mm = |at: usize| {
            // A stack has at most a few thousand places.
            let (along_mm, place) = (grid.along_mm(at % slabs), u32::try_from(at / slabs).unwrap_or(u32::MAX));
            fold.cell(along_mm..along_mm, place, 0.0..1.0).width_mm
        };
        let pleats_mm = (0..if fold.is_even() { slabs } else { places * slabs }).into_par_iter().map(pleat_mm).collect();
        let has_joins = fold.has_joins();
        let mut reaches_mm = Vec::new();
        if !fields.is_plain() {
            reaches_mm = vec![reach_mm; lanes];
            fields.all().iter().zip(&mut reaches_mm).for_each(|(field, mm)| *mm *= field.reach_factor);
        }
        Self { places, slabs, across, cell_mm, is_ring, has_joins, lanes, dyes, reach_mm, reaches_mm, pleats_mm, values }
    }

    /// Width of the pleat that a place is in, crease to crease, mm: straight from slab to slab.
    #[inline]
    pub(super) fn pleat_mm(&self, there: &BundlePoint) -> f64 {
        let (slab, next, along) = self.slabs_about(there.along_mm);
        let place = if self.pleats_mm.len() == self.slabs { 0 } else { (there.layer() as usize).min(self.places - 1) };
        let [here, beyond] = [slab, next].map(|slab| self.pleats_mm[place * self.slabs + slab]);
        here + f64::from(along) * (beyond - here)
    }

    /// Values read together.
    pub(super) fn lanes(&self) -> usize {
        self.lanes
    }

    /// Index of the bath's dose among them.
    pub(super) fn bath(&self) -> usize {
        self.dyes
    }

    /// The doses of a point of the cloth that lies there in the bundle. By a fold that is no edge of a layer they are mixed with those of
    /// the cloth on its other side, as at a crease.
    #[inline]
    #[expect(clippy::cast_possible_truncation, reason = "a share")]
    pub(super) fn at_cloth<const L: usize>(&self, fold: &dyn Bundle, cloth: ClothPoint, there: &BundlePoint) -> [f32; L] {
        let own = self.at::<L>(there);
        if !self.has_joins {
            return own;
        }
        let farthest_mm = self.reaches_mm.iter().copied().fold(self.reach_mm, f64::max);
        let joins = fold.joins(cloth, FAR_REACHES * farthest_mm).into_iter().flatten();
        joins.fold(own, |mixed, beyond| {
            let Some(other) = fold.to_bundle(beyond.point) else { return mixed };
            let (share, other) = (|mm: f64| 0.5 * (-beyond.away_mm / mm).exp() as f32, self.at::<L>(&other));
            let alike = share(self.reach_mm);
            let share = |lane: usize| self.reaches_mm.get(lane).map_or(alike, |mm| share(*mm));
            std::array::from_fn(|lane| mixed[lane] + share(lane) * (other[lane] - own[lane]))
        })
    }

    /// The doses at a place in the bundle, between two layers straight from one to the other; `L` is [`DoseTable::lanes`].
    #[inline]
    #[expect(clippy::cast_possible_truncation, reason = "a share")]
    pub(super) fn at<const L: usize>(&self, there: &BundlePoint) -> [f32; L] {
        let (place, up) = between(there.place, self.places);
        let lower = self.in_layer::<L>(there, place);
        if up == 0.0 {
            return lower;
        }
        let (up, upper) = (up as f32, self.in_layer::<L>(there, place + 1));
        std::array::from_fn(|lane| lower[lane] + up * (upper[lane] - lower[lane]))
    }

    /// The doses in one layer.
    #[inline]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the table; shares are of f32 values")]
    fn in_layer<const L: usize>(&self, there: &BundlePoint, place: usize) -> [f32; L] {
        let (slab, next, along) = self.slabs_about(there.along_mm);
        let across = (there.across * self.across as f64 + 0.5) as f32;
        let node = (across as usize).min(self.across);
        // From a crease to the middle of its cell it is half as far as from middle to middle.
        let across = match node {
            0 => 2.0 * across - 1.0,
            last if last == self.across => 2.0 * (across - last as f32),
            between => across - between as f32,
        };
        let row = (self.across + 2) * L;
        let [below, above] = [slab, next].map(|slab| (place * self.slabs + slab) * row + node * L);
        let read = |from: usize| -> [f32; L] {
            let (first, next) = (&self.values[from..from + L], &self.values[from + L..from + 2 * L]);
            std::array::from_fn(|lane| first[lane] + across * (next[lane] - first[lane]))
        };
        let (below, above) = (read(below), read(above));
        std::array::from_fn(|lane| below[lane] + along * (above[lane] - below[lane]))
    }
}

impl DoseTable {
    /// The two slabs between whose middles a distance along lies, and how far it is on the way to the second.
    #[inline]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share; held within the ring")]
    fn slabs_about(&self, along_mm: f64) -> (usize, usize, f32) {
        let at = along_mm / self.cell_mm - 0.5;
        if self.is_ring {
            let at = at.rem_euclid(self.slabs as f64);
            let slab = (at as usize).min(self.slabs - 1);
            return (slab, (slab + 1) % self.slabs, (at - slab as f64) as f32);
        }
        let (slab, along) = between(at, self.slabs);
        (slab, (slab + 1).min(self.slabs - 1), along as f32)
    }
}

/// Where a node lies across the pleat, 0 to 1.
fn place_of(node: usize, across: usize) -> f64 {
    ((node as f64 - 0.5) / across as f64).clamp(0.0, 1.0)
}

/// What the pleat beyond a crease has in the dose at a distance from it (as a share of the pleat, which is `reaches` broad): half at
/// the crease itself, falling to nothing at the other crease.
#[expect(clippy::cast_possible_truncation, reason = "a share")]
fn crease_share(reaches: f64, away: f64) -> f32 {
    let at_far_crease = (-reaches).exp();
    let left = 1.0 - at_far_crease;
    if left > 0.0 { (0.5 * ((-away * reaches).exp() - at_far_crease) / left) as f32 } else { 0.5 * (1.0 - away) as f32 }
}

/// A place's node: slab, place, node across.
type Node = (usize, usize, usize);

/// Cells over which doses are carried on: from a whole cell into one that an edge runs through, and from that to the next, which is as
/// far as a pixel of the cloth reads.
const CARRIED: u8 = 2;
/// How much a cell beside another counts that lies along the rod from it, against 1 of one across: little, for along the rod doses
/// change faster (our own judgement).
const ALONG: f32 = 0.25;
/// How much the equations' own dose counts beside doses carried on: so little that it only stands in where there is no cloth beside
/// (our own judgement).
const STAND_IN: f32 = 0.02;

/// One place of the stack, all along the rod.
struct Layer<'a> {
    rod: &'a RodDoses,
    place: usize,
    dyes: usize,
    lanes: usize,
    nodes: usize,
    /// Whether there is a dose at a node: slab by slab.
    has_dose: &'a [bool],
    /// Whether thread presses a slab.
    pressed: &'a [bool],
}

impl Layer<'_> {
    /// Writes the mixed doses of fields that reach equally far where any place has cloth. Where this one has none the equations give the dose that cloth would have
    /// there, between what lies under and over it: that of a sliver which the cells are too coarse for, and what the cells at the
    /// cloth's edge are read toward.
    fn mix(&self, shares: &[f32], fields: &[usize], values: &mut [f32]) {
        let (grid, nodes) = (&self.rod.grid, self.nodes);
        let mates = [grid.mates().at_start(self.place), grid.mates().at_end(self.place)];
        let mut is_whole = vec![false; nodes];
        for (slab, values) in values.chunks_exact_mut(nodes * self.lanes).enumerate() {
            let shares = &shares[slab * nodes..][..nodes];
            #[expect(clippy::cast_possible_truncation, reason = "shares")]
            let creases = grid.crease_shares(slab, self.place).map(|crease| crease as f32);
            is_whole.fill(true);
            for place in std::iter::once(self.place).chain(mates.into_iter().flatten()) {
                let cloth = grid.cloth_shares(slab, place);
                for (node, is_whole) in is_whole.iter_mut().enumerate() {
                    *is_whole &= cloth[self.cell(node)] >= 1.0;
                }
            }
            self.mix_whole(slab, mates, creases, (shares, &is_whole), fields, values);
            let has_dose = &self.has_dose[slab * nodes..][..nodes];
            let others = values.chunks_exact_mut(self.lanes).enumerate();
            for (node, values) in others.filter(|(node, _)| has_dose[*node] && !is_whole[*node]) {
                let mut own = 1.0;
                for ((mate, share), crease) in mates.into_iter().zip([shares[node], shares[nodes - 1 - node]]).zip(creases) {
                    let Some(mate) = mate else { continue };
                    let share = share * crease;
                    own -= share;
                    self.add((slab, mate, node), share, CARRIED, fields, values);
                }
                self.add((slab, self.place, node), own, CARRIED, fields, values);
            }
        }
    }

    /// The same of a slab's nodes in whose cells this place and those beyond its creases are cloth throughout, as nearly everywhere: field by
    /// field, all nodes across in a row.
    fn mix_whole(
        &self,
        slab: usize,
        mates: [Option<usize>; 2],
        creases: [f32; 2],
        (shares, is_whole): (&[f32], &[bool]),
        fields: &[usize],
        values: &mut [f32],
    ) {
        let nodes = self.nodes;
        for &field in fields {
            let (of, number) = if field < self.dyes { (&self.rod.dyes, field) } else { (&self.rod.bath, field - self.dyes) };
            let Some(of) = of else { continue };
            let doses = |place: usize| {
                let ends = &of.creases().slab(slab)[of.creases().row(place, number)..];
                (&of.fields().slab(slab)[of.fields().row(place, number)..][..nodes - 2], [ends[0], ends[1]])
            };
            let own = doses(self.place);
            let beyond = mates.map(|mate| mate.map(doses));
            let at = |(cells, ends): (&[f32], [f32; 2]), node: usize| match node {
                0 => ends[0],
                last if last == nodes - 1 => ends[1],
                node => cells[node - 1],
            };
            for (node, values) in values.chunks_exact_mut(self.lanes).enumerate().filter(|(node, _)| is_whole[*node]) {
                let (mut dose, mut left) = (0.0, 1.0);
                for ((beyond, share), crease) in beyond.iter().zip([shares[node], shares[nodes - 1 - node]]).zip(creases) {
                    let Some(beyond) = *beyond else { continue };
                    left -= share * crease;
                    dose += share * crease * at(beyond, node);
                }
                values[field] = dose + left * at(own, node);
            }
        }
    }

    /// Adds a share of the dose of a node's cloth: of a whole cell what the equations give. In a cell that an edge runs through they
    /// count what lies beyond the edge as well, so there, and beyond, the dose of the cloth beside it is carried on, as far as there
    /// is any; `steps` cells far at the most.
    fn add(&self, node: Node, share: f32, steps: u8, fields: &[usize], values: &mut [f32]) {
        let cloth = self.cloth_share(node);
        if cloth >= 1.0 || steps == 0 {
            return self.add_solved(node, share, fields, values);
        }
        let (mut beside, mut all) = (self.beside(node), 0.0);
        for (node, weight) in beside.iter_mut().flatten() {
            *weight *= self.cloth_share(*node);
            all += *weight;
        }
        all += STAND_IN;
        let carried = share * (1.0 - cloth) / all;
        self.add_solved(node, share * cloth + carried * STAND_IN, fields, values);
        for (beside, weight) in beside.into_iter().flatten().filter(|&(_, weight)| weight > 0.0) {
            self.add(beside, carried * weight, steps - 1, fields, values);
        }
    }

    /// The cell that a node lies in.
    fn cell(&self, node: usize) -> usize {
        node.clamp(1, self.nodes - 2) - 1
    }

    #[expect(clippy::cast_possible_truncation, reason = "a share")]
    fn cloth_share(&self, (slab, place, node): Node) -> f32 {
        self.rod.grid.cloth_share(slab, place, self.cell(node)) as f32
    }

    /// The nodes beside one in its place of the stack, in other cells, and how much they count. Along the rod none does where thread
    /// presses, for there doses change within a cell.
    fn beside(&self, (slab, place, node): Node) -> [Option<(Node, f32)>; 4] {
        let (slabs, middle) = (self.rod.grid.shape().slabs(), self.cell(node) + 1);
        let along = |to: usize| {
            let is_pressed = |slab: usize| self.pressed[slab] || self.rod.grid.is_wound(slab, self.cell(node));
            let free = to < slabs && !is_pressed(slab) && !is_pressed(to);
            free.then_some(((to, place, node), ALONG))
        };
        [
            (middle > 1).then_some(((slab, place, middle - 1), 1.0)),
            (middle < self.nodes - 2).then_some(((slab, place, middle + 1), 1.0)),
            slab.checked_sub(1).and_then(along),
            along(slab + 1),
        ]
    }

    fn add_solved(&self, (slab, place, node): Node, share: f32, fields: &[usize], values: &mut [f32]) {
        let add = |of: &DoseField, fields: &[usize], values: &mut [f32], first: usize| {
            let (doses, across) = match node {
                0 => (of.creases(), 0),
                last if last == self.nodes - 1 => (of.creases(), 1),
                node => (of.fields(), node - 1),
            };
            let slab = doses.slab(slab);
            for &field in fields {
                values[field] += share * slab[doses.row(place, field - first) + across];
            }
        };
        let (dyes, bath) = fields.split_at(fields.partition_point(|field| *field < self.dyes));
        if let Some(of) = &self.rod.dyes {
            add(of, dyes, values, 0);
        }
        if let Some(of) = &self.rod.bath {
            add(of, bath, values, self.dyes);
        }
    }

    /// Carries doses on to where no place has cloth, for pixels at the rod's edges: from the nearest dose at the same distance along
    /// the rod, or where there is none from the nearest slab that has some.
    fn carry_on(&self, values: &mut [f32]) {
        let (nodes, row) = (self.nodes, self.nodes * self.lanes);
        let mut last: Option<usize> = None;
        for (slab, has_dose) in self.has_dose.chunks_exact(nodes).enumerate() {
            if !has_dose.contains(&true) {
                continue;
            }
            for node in (0..nodes).filter(|&node| !has_dose[node]) {
                let nearest = (0..nodes).filter(|&other| has_dose[other]).min_by_key(|&other| other.abs_diff(node));
                let from = slab * row + nearest.unwrap_or(node) * self.lanes;
                values.copy_within(from..from + self.lanes, slab * row + node * self.lanes);
            }
            // The gap since the last slab with a dose is shared between the two; before the first and behind the last it is theirs.
            let gap = last.map_or(0, |last| last + 1)..slab;
            let middle = if last.is_some() { gap.start + gap.len() / 2 } else { gap.start };
            for bare in gap {
                let from = if bare < middle { last.unwrap_or(slab) } else { slab };
                values.copy_within(from * row..(from + 1) * row, bare * row);
            }
            last = Some(slab);
        }
        let Some(last) = last else { return };
        for bare in last + 1..self.has_dose.len() / nodes {
            values.copy_within(last * row..(last + 1) * row, bare * row);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{
        CellSize, Centring, Cloth, Cut, Extent, FlatFold, FlatFoldSpec, FlatPattern, Fold as _, Pack, Panel, PanelOutline,
        PanelPair, PanelSet, Top, Triangle,
    };
    use crate::layout::{DyeBy, Hand, Process};
    use crate::reveal::solver::SolveOptions;
    use crate::reveal::{Cancel, GridSpec, RodGrid, dye_system};
    use std::ops::Range;

    /// At a crease both pleats count alike, so that no line shows there; at the far crease nothing is left of the other pleat.
    #[test]
    fn pleats_meet_half_way_at_their_crease() {
        for reaches in [0.0, 0.1, 4.0, 60.0] {
            assert!((crease_share(reaches, 0.0) - 0.5).abs() < 1e-6);
            assert!(crease_share(reaches, 1.0).abs() < 1e-6);
            assert!(crease_share(reaches, 0.2) > crease_share(reaches, 0.3));
        }
        assert_eq!([0, 1, 8, 9].map(|node| place_of(node, 8)), [0.0, 0.0625, 0.9375, 1.0]);
    }

    /// A plain rod of single layers whose upper twelve places end along a slanted line.
    #[derive(Debug)]
    struct Slanted;

    const WIDTH_MM: f64 = 48.0;
    const PLACES: u32 = 25;
    /// The place that the slanted line is over.
    const UNDER: u32 = 12;

    impl Slanted {
        /// Where the upper places end, mm along the rod.
        fn end_mm(across: f64) -> f64 {
            26.0 + 40.0 * across
        }

        /// The reverse of itself: every second pleat is turned.
        fn turned(place: u32, across: f64) -> f64 {
            if place % 2 == 1 { 1.0 - across } else { across }
        }
    }

    impl Bundle for Slanted {
        fn extent(&self) -> Extent {
            Extent { length_mm: 96.0, pleats: PLACES, layers: 1, is_closed: false }
        }

        fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
            let place = (0..PLACES - 1).find(|&place| point.x_mm < f64::from(place + 1) * WIDTH_MM).unwrap_or(PLACES - 1);
            let fraction = (point.x_mm / WIDTH_MM - f64::from(place)).clamp(0.0, 1.0);
            Some(BundlePoint { along_mm: point.y_mm, across: Self::turned(place, fraction), place: f64::from(place) })
        }

        fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
            let fraction = Self::turned(point.layer(), point.across);
            Some(ClothPoint { panel: Panel::Front, x_mm: (point.place + fraction) * WIDTH_MM, y_mm: point.along_mm })
        }

        fn mates(&self, place: u32) -> [Option<u32>; 2] {
            let (before, after) = (place.checked_sub(1), Some(place + 1).filter(|&after| after < PLACES));
            if place % 2 == 1 { [after, before] } else { [before, after] }
        }

        fn cell(&self, along_mm: Range<f64>, _place: u32, across: Range<f64>) -> CellSize {
            let (length_mm, width_mm) = (along_mm.end - along_mm.start, (across.end - across.start) * WIDTH_MM);
            CellSize { length_mm, width_mm }
        }

        fn has_cloth(&self, point: ClothPoint) -> bool {
            let Some(there) = self.to_bundle(point) else { return false };
            (0.0..=96.0).contains(&point.y_mm) && (there.layer() <= UNDER || there.along_mm <= Self::end_mm(there.across))
        }

        fn width_mm(&self, _along_mm: f64) -> f64 {
            WIDTH_MM
        }

        fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
            let cloth_mm = f64::from(PLACES) * WIDTH_MM;
            PanelPair { front: Cut { cloth_mm, area_mm2: cloth_mm * along_mm }, back: Cut::default() }
        }
    }

    fn table_of_slanted(cell_mm: f64, across: usize) -> DoseTable {
        let process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
        let grid = RodGrid::new(&Slanted, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm, across }).unwrap();
        let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
        let dyes = Some(DoseField::solve(system, None, &SolveOptions::default(), &Cancel::new()).unwrap());
        DoseTable::new(
            &Slanted,
            &RodDoses { grid, dyes, dips: vec![], bath: None },
            &DyeFields::plain(1),
            process.dye_reach().along_mm,
        )
    }

    /// Over creases that are no sides of the grid doses go on without a step: by a triangle's three, and by those of its strip.
    #[test]
    fn doses_go_on_over_the_creases_of_triangles() {
        let mut profile = kurbo::BezPath::new();
        profile.move_to((0.0, 0.0));
        [(150.0, 0.0), (150.0, 300.0), (0.0, 300.0)].into_iter().for_each(|corner| profile.line_to(corner));
        let panels = PanelSet { front: PanelOutline::from_half_profile(&profile).unwrap(), back: None, top: Top::UpperEdge };
        let pattern = FlatPattern::Triangles { triangle: Triangle::Equilateral, width_mm: 100.0, angle_deg: 0.0, start: None };
        let spec =
            FlatFoldSpec { centring: Centring::Open, pattern, pack: Pack::Zigzag, along_turn_deg: 11.0, first_bind_mm: None };
        let fold = FlatFold::new(&spec, panels, 0.6).unwrap();
        let process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
        let grid = RodGrid::new(&fold, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: 4.0, across: 16 }).unwrap();
        let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
        let dyes = Some(DoseField::solve(system, None, &SolveOptions::default(), &Cancel::new()).unwrap());
        let table = DoseTable::new(
            &fold,
            &RodDoses { grid, dyes, dips: vec![], bath: None },
            &DyeFields::plain(1),
            process.dye_reach().along_mm,
        );
        let (mut least, mut most) = (f32::INFINITY, 0.0_f32);
        for crease in fold.creases(-1e6) {
            let run = (crease.line.p1 - crease.line.p0).normalize();
            let [here, beyond] = [1e-4, -1e-4].map(|off| {
                let at = crease.line.midpoint() + off * kurbo::Vec2::new(-run.y, run.x);
                let cloth = ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y };
                table.at_cloth::<4>(&fold, cloth, &fold.to_bundle(cloth).unwrap())[0]
            });
            assert!((here - beyond).abs() < 0.02, "{here} beside {beyond} at {crease:?}");
            (least, most) = (least.min(here), most.max(here));
        }
        assert!(most - least > 0.1, "doses differ from crease to crease: {least} to {most}");
    }

    /// Where the cloth over a layer ends along a slanted line, the layer's dose rises along that line and not along the edges of cells:
    /// all along the line the working grid is as far off a grid of four times as many cells, within 3 % of the rise (root mean
    /// square). With cells that were cloth or not the line was a staircase with steps of a cell's breadth, and it was 4.5 %.
    #[test]
    fn a_slanted_edge_casts_no_staircase() {
        let (working, fine) = (table_of_slanted(2.0, 8), table_of_slanted(1.0, 16));
        let dose = |table: &DoseTable, along_mm: f64, across: f64| {
            f64::from(table.at::<4>(&BundlePoint { along_mm, across, place: f64::from(UNDER) })[0])
        };
        let (low, high) = (dose(&fine, 10.0, 0.5), dose(&fine, 84.0, 0.5));
        assert!(high > low + 0.2, "the line shows: {low} to {high}");
        // How far the working grid is off along the line, at each distance from it: that it is less sharp is the same all along.
        let mut square = 0.0;
        for away in -12..=12_i32 {
            let off = (0..=60_i32).map(|step| {
                let across = 0.2 + 0.01 * f64::from(step);
                let along_mm = Slanted::end_mm(across) + 0.5 * f64::from(away);
                dose(&working, along_mm, across) - dose(&fine, along_mm, across)
            });
            let mean = off.clone().sum::<f64>() / 61.0;
            square += off.map(|off| (off - mean) * (off - mean)).sum::<f64>() / 61.0 / 25.0;
        }
        let off = square.sqrt();
        assert!(off < 0.03 * (high - low), "{off} of a rise from {low} to {high}");
    }
}
