//! A thread wound round a flat bundle: where it presses the layers and what of the faces it keeps dry.
//!
//! It lies on slanting lines, which on the lower face are not under those on the upper one. Under a line the pressing passes through the stack to
//! what the other face has there, linearly with the cloth's depth: a layer of cloth is thin beside its breadth, and what presses its two faces is in
//! equilibrium (our own judgement; no calibration). Pressing closes the pores of cloth that is pressed already ever less, so what is left of its
//! conductance falls by equal ratios for equal steps of pressing: under a line of one face alone it is `c^(1 - z)` at a depth of a share `z` of
//! the cloth from that face, where a bind's thread leaves `c`. So straight lines above each other press as binds do, all the way through, and in
//! the middle each line alone is felt by half.
//!
//! # Limits
//! Thread presses no farther than as a bind, straight down; where it goes over the bundle's edges it keeps dry what lies there of its share, again
//! evenly from face to face. It makes no sections: one dye lies on both sides of every turn.

use super::cloth_shares::ClothShares;
use super::solver::GridShape;
use crate::geometry::{BundleFace, Covered, Wrap, WrapCover};
use crate::layout::BindEffect;

/// A thread wound round a bundle, as the bundle feels it.
#[derive(Debug, Clone, PartialEq)]
pub struct Wound {
    /// Where it lies.
    pub wrap: Wrap,
    /// Its breadth, mm.
    pub breadth_mm: f64,
    /// What it does there.
    pub effect: BindEffect,
}

/// What a thread does on one face of a column of cells: as shares of what of it lies within the bundle's outline.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct OnFace {
    /// The share that it covers.
    covered: f64,
    /// The share that it presses, what it covers included, and which way that looks.
    pressed: Covered,
}

/// What a wound thread leaves of a cell's conductance along and across the bundle, and through the stack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct UnderThread {
    pub(super) along: f64,
    pub(super) across: f64,
    pub(super) through: f64,
}

impl UnderThread {
    /// Under no thread.
    pub(super) const FREE: Self = Self { along: 1.0, across: 1.0, through: 1.0 };
}

/// Parts of a column of cells, each pressed alike: under the upper face's thread alone, under the lower one's alone, under both, and what is left of
/// the conductance in each. Both lie above each other as far as they can.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Pressed {
    parts: [(f64, f64); 3],
}

impl Pressed {
    /// At a place with so much of the cloth under it, 0 at the lower face, where a face's thread leaves `conductance` right under it.
    fn at([lower, upper]: &[OnFace; 2], over: f64, conductance: f64) -> Self {
        let [lower, upper] = [lower.pressed.share, upper.pressed.share];
        let both = lower.min(upper);
        let left = |pressing: f64| if pressing >= 1.0 { conductance } else { conductance.powf(pressing) };
        Self { parts: [(upper - both, left(over)), (lower - both, left(1.0 - over)), (both, conductance)] }
    }

    fn share(&self) -> f64 {
        self.parts.iter().map(|(share, _)| share).sum()
    }

    /// What is left of what conducts along all parts side by side, what is free included: their mean.
    fn beside(&self) -> f64 {
        self.parts.iter().map(|(share, left)| share * (left - 1.0)).sum::<f64>() + 1.0
    }

    /// What is left of what conducts through all parts one after the other: their harmonic mean.
    fn through(&self) -> f64 {
        1.0 / (self.parts.iter().map(|(share, left)| share * (1.0 / left - 1.0)).sum::<f64>() + 1.0)
    }
}

/// A share of a face over which nothing changes: what is left of the conductance towards it, and of the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Region {
    pub(super) share: f64,
    pub(super) left: f64,
    pub(super) free: f64,
}

impl Region {
    /// All of a face, under no thread.
    pub(super) const ALL: [Self; 3] = [Self { share: 1.0, left: 1.0, free: 1.0 }, Self::NONE, Self::NONE];
    const NONE: Self = Self { share: 0.0, left: 1.0, free: 1.0 };
}

/// A wound thread on a grid.
#[derive(Debug, Clone)]
pub(super) struct WoundColumns {
    across: usize,
    effect: BindEffect,
    /// Column by column, slab by slab: the lower face, and the upper one; none where no thread presses either.
    faces: Vec<Option<[OnFace; 2]>>,
    /// How much of the cloth in its column lies under the middle of each cell, 0 to 1.
    over: Vec<f32>,
    places: usize,
}

impl WoundColumns {
    /// Lays a thread onto a grid whose cells are so large; `footprint` is what of a column lies within the outline.
    pub(super) fn of(
        wound: &Wound,
        shape: GridShape,
        [cell_mm, width_mm]: [f64; 2],
        footprint: impl Fn(usize, usize) -> f64,
        cloth: &ClothShares,
    ) -> Self {
        let (across, effect) = (shape.across(), wound.effect);
        let covers = |breadth_mm: f64| [BundleFace::Lower, BundleFace::Upper].map(|face| wound.wrap.cover(face, breadth_mm));
        let (thread, pressing) = (covers(wound.breadth_mm), covers(wound.breadth_mm + 2.0 * effect.beyond_mm));
        let faces = (0..shape.slabs() * across).map(|at| {
            let (slab, column) = (at / across, at % across);
            let within = footprint(slab, column);
            let of = |cover: &WrapCover| {
                let along_mm = slab as f64 * cell_mm..(slab + 1) as f64 * cell_mm;
                let covered = cover.of(along_mm, column as f64 * width_mm..(column + 1) as f64 * width_mm);
                Covered { share: (covered.share / within).min(1.0), ..covered }
            };
            let faces = [0, 1].map(|face| {
                let pressed = of(&pressing[face]);
                OnFace { covered: of(&thread[face]).share.min(pressed.share), pressed }
            });
            (within > 0.0 && faces.iter().any(|face| face.pressed.share > 0.0)).then_some(faces)
        });
        Self { across, effect, faces: faces.collect(), over: under_middles(shape, cloth), places: shape.places() }
    }

    fn column(&self, slab: usize, across: usize) -> Option<&[OnFace; 2]> {
        self.faces[slab * self.across + across].as_ref()
    }

    fn over(&self, slab: usize, cell: usize) -> f64 {
        f64::from(self.over[slab * self.places * self.across + cell])
    }

    /// Whether any thread presses a column.
    pub(super) fn is_pressed(&self, slab: usize, across: usize) -> bool {
        self.column(slab, across).is_some()
    }

    /// What it leaves of what conducts along and across in a cell.
    pub(super) fn at(&self, slab: usize, cell: usize) -> UnderThread {
        let Some(faces) = self.column(slab, cell % self.across) else { return UnderThread::FREE };
        let pressed = Pressed::at(faces, self.over(slab, cell), self.effect.conductance);
        let (beside, through) = (pressed.beside(), pressed.through());
        let all: f64 = faces.iter().map(|face| face.pressed.share).sum();
        let looks_along = faces.iter().map(|face| face.pressed.share * face.pressed.looks_along).sum::<f64>() / all;
        UnderThread {
            along: beside - (beside - through) * looks_along,
            across: beside - (beside - through) * (1.0 - looks_along),
            through: beside,
        }
    }

    /// What it leaves of what conducts between a cell and the one above it.
    pub(super) fn through(&self, slab: usize, cell: usize) -> f64 {
        let over = || 0.5 * (self.over(slab, cell) + self.over(slab, cell + self.across));
        let column = self.column(slab, cell % self.across);
        column.map_or(1.0, |faces| Pressed::at(faces, over(), self.effect.conductance).beside())
    }

    /// The lower face of a column (`through` is -1), or the upper one (1), part by part.
    pub(super) fn flat(&self, slab: usize, across: usize, through: f64) -> [Region; 3] {
        let Some(faces) = self.column(slab, across) else { return Region::ALL };
        let face = &faces[usize::from(through > 0.0)];
        self.regions(face.covered, face.pressed.share, self.effect.conductance)
    }

    /// A cell's faces at the bundle's edges, part by part.
    pub(super) fn side(&self, slab: usize, cell: usize) -> [Region; 3] {
        let Some(faces) = self.column(slab, cell % self.across) else { return Region::ALL };
        let over = self.over(slab, cell);
        let pressed = Pressed::at(faces, over, self.effect.conductance);
        let covered = faces[0].covered + over * (faces[1].covered - faces[0].covered);
        let share = pressed.share();
        self.regions(covered, share, 1.0 - (1.0 - pressed.beside()) / share)
    }

    /// What is free, what is pressed and bare, what is covered.
    fn regions(&self, covered: f64, pressed: f64, left: f64) -> [Region; 3] {
        [
            Region { share: 1.0 - pressed, left: 1.0, free: 1.0 },
            Region { share: pressed - covered, left, free: 1.0 },
            Region { share: covered, left, free: 1.0 - self.effect.cover },
        ]
    }
}

/// How much of the cloth in its column lies under the middle of each cell, as a share of all of it; half where there is none.
#[expect(clippy::cast_possible_truncation, reason = "shares are kept in f32")]
fn under_middles(shape: GridShape, cloth: &ClothShares) -> Vec<f32> {
    let mut over = vec![0.5_f32; shape.cells()];
    for slab in 0..shape.slabs() {
        for across in 0..shape.across() {
            let share = |place: usize| f64::from(cloth.cells[shape.index(slab, place, across)]);
            let all: f64 = (0..shape.places()).map(share).sum();
            let mut under = 0.0;
            for place in (0..shape.places()).filter(|_| all > 0.0) {
                over[shape.index(slab, place, across)] = ((under + 0.5 * share(place)) / all) as f32;
                under += share(place);
            }
        }
    }
    over
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Centring, Cloth, FlatFold, FlatFoldSpec, FlatPattern, Pack, PanelOutline, PanelSet, Top, Triangle};
    use crate::layout::{DyeBy, Hand, Process};
    use crate::reveal::solver::SolveOptions;
    use crate::reveal::{Cancel, DoseField, GridSpec, RodBind, RodGrid, dye_system};
    use kurbo::BezPath;

    fn folded(pattern: FlatPattern) -> FlatFold {
        let mut profile = BezPath::new();
        profile.move_to((0.0, 0.0));
        for corner in [(60.0, 0.0), (60.0, 120.0), (0.0, 120.0)] {
            profile.line_to(corner);
        }
        let panels = PanelSet { front: PanelOutline::from_half_profile(&profile).unwrap(), back: None, top: Top::UpperEdge };
        let spec =
            FlatFoldSpec { centring: Centring::Open, pattern, pack: Pack::Zigzag, along_turn_deg: 0.0, first_bind_mm: None };
        FlatFold::new(&spec, panels, 0.6).unwrap()
    }

    /// Where the slant comes to nothing a wound thread is a row of binds: doses are theirs, cell by cell, to what the solver leaves, whatever the
    /// shares of cells that thread and pressing take. Where the bundle's outline runs through a cell, binds count by their share of the whole slab
    /// and wound thread by that of what lies within: there, and near it, they differ by that (0.06 at the most).
    #[test]
    fn without_a_slant_it_is_a_row_of_binds() {
        let process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
        let effect = BindEffect { conductance: 0.1, cover: 0.9, beyond_mm: 1.3 };
        let strip = FlatPattern::Stripes { width_mm: 40.0, angle_deg: 0.0, start: None };
        let triangles = FlatPattern::Triangles { triangle: Triangle::Right, width_mm: 40.0, angle_deg: 0.0, start: None };
        for (pattern, most_off) in [(strip, 1e-4), (triangles, 0.06)] {
            let fold = folded(pattern);
            let along_mm: Vec<f64> = [0.23, 0.41, 0.78].into_iter().map(|share| share * fold.size().width).collect();
            let grid = |binds: &[RodBind]| {
                RodGrid::new(&fold, &Cloth::default(), binds, 1.0, &GridSpec { cell_mm: 2.0, across: 8 }).unwrap()
            };
            let bind = |&along_mm: &f64| RodBind { along_mm, breadth_mm: 1.7, diameter_mm: 20.0, effect };
            let binds: Vec<RodBind> = along_mm.iter().map(bind).collect();
            let wound = Wound { wrap: Wrap::straight(&fold, &along_mm), breadth_mm: 1.7, effect };
            let doses = |grid: &RodGrid| {
                let system = dye_system(grid, &process, &[Some(0); 4], 1).unwrap();
                let solve = SolveOptions { residual: 1e-6, most_steps: 200 };
                let field = DoseField::solve(system, None, &solve, &Cancel::new()).unwrap();
                let values: Vec<f32> = (0..grid.shape().slabs()).flat_map(|slab| field.fields().slab(slab).to_vec()).collect();
                values
            };
            let [bound, wound, free] = [grid(&binds), grid(&[]).wound(&wound), grid(&[])].map(|grid| doses(&grid));
            let off = |a: &[f32], b: &[f32]| a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max);
            assert!(off(&bound, &wound) < most_off, "{} off for {:?}", off(&bound, &wound), fold.spec().pattern);
            assert!(off(&bound, &free) > 0.1);
        }
    }

    /// At its own face a thread leaves what a bind's does, at the other one all, and half way through the cloth the root of it; what lies beside it
    /// counts by its share.
    #[test]
    fn what_is_pressed_passes_through_the_stack() {
        let face = |share: f64| OnFace { covered: 0.0, pressed: Covered { share, looks_along: 1.0 } };
        let left = |faces: [f64; 2], over: f64| Pressed::at(&faces.map(face), over, 0.04);
        for (over, expected) in [(1.0, 0.04), (0.5, 0.2), (0.0, 1.0)] {
            assert!((left([0.0, 1.0], over).beside() - expected).abs() < 1e-12);
            assert!((left([1.0, 0.0], 1.0 - over).through() - expected).abs() < 1e-12);
            // Above each other they press all the way as one.
            assert!((left([0.3, 0.3], over).beside() - (0.7 + 0.3 * 0.04)).abs() < 1e-12);
        }
        let part = left([0.0, 0.5], 0.5);
        assert!((part.beside() - 0.6).abs() < 1e-12 && (part.through() - 1.0 / (0.5 + 0.5 / 0.2)).abs() < 1e-12);
    }
}
