//! The reveal: the solver against textbook solutions, laws of the equations in a rod, and what the opened cloth has to show.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use crate::common;
use crate::matrix_market;
use common::fold_laws::{self, EXACT, Exactness};
use kurbo::{Point, Size};
use pleatwright::edit::{Document, EditCommand};
use pleatwright::geometry::{
    Bundle, BundlePoint, CellSize, Centre, Centring, Cloth, ClothPoint, Cut, Extent, GarmentKind, LineFold, LineShape, LineSpec,
    Panel, PanelPair, Pleats, RawMeasures, ThreadKind, rod_size, wraps,
};
use pleatwright::layout::{Discharge, DyeBy, Hand, Layout, LayoutSpec, Process, Reach, Rest, Swatch, starter};
use pleatwright::reveal::colour::{DyeSet, ciede2000};
use pleatwright::reveal::solver::{ConjugateGradients, Fields, GridShape, Operator, SolveOptions, SolverError};
use pleatwright::reveal::*;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use proptest::prelude::*;
use std::f64::consts::TAU;
use std::ops::Range;

pub(crate) fn example(name: &str) -> LayoutSpec {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap();
    parse_layout(example.text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}")).raw().clone()
}

/// The tee in size M, changed.
pub(crate) fn tee(change: impl FnOnce(&mut LayoutSpec)) -> Layout {
    let mut raw = example("harbour-row-tee-m.ron");
    raw.process.hand = Hand::EXACT;
    change(&mut raw);
    Layout::try_from(raw).unwrap()
}

/// A grid of whole garments that is quickly solved.
pub(crate) const WORKING: GridSpec = GridSpec { cell_mm: 4.0, across: 8 };

pub(crate) fn coarse() -> RevealOptions {
    RevealOptions { pixel_mm: 4.0, cells: Cells::Of(WORKING), ..RevealOptions::default() }
}

pub(crate) fn exact() -> SolveOptions {
    SolveOptions { residual: 1e-6, most_steps: 200 }
}

fn solve(operator: Operator, source: &Fields) -> Fields {
    let mut solver = ConjugateGradients::new(operator, source.count()).unwrap();
    let mut x = source.zero_on(source.shape());
    // Begun anew where it ended: within a solve the residual is carried on from step to step, and rounding adds up in it.
    for _ in 0..2 {
        solver.solve(source, &mut x, &exact(), &|| false).unwrap();
    }
    x
}

#[expect(clippy::cast_possible_truncation, reason = "coefficients are kept in f32")]
fn stored(value: f64) -> f32 {
    value as f32
}

/// A grid, its couplings set by face (`along`, `stack`, `across`), what its cells lose by themselves, and what is fed to them.
struct Textbook {
    operator: Operator,
    source: Fields,
}

impl Textbook {
    fn new(shape: GridShape, cell: impl Fn(usize, usize, usize) -> Cell) -> Self {
        let mut operator = Operator::unit(shape);
        let mut source = Fields::zero(shape, 1).unwrap();
        operator.loss.fill(0.0);
        for slab in 0..shape.slabs() {
            for place in 0..shape.places() {
                for across in 0..shape.across() {
                    let (at, cell) = (shape.index(slab, place, across), cell(slab, place, across));
                    operator.loss[at] = stored(cell.loss + cell.face);
                    let row = source.row(place, 0);
                    source.slab_mut(slab)[row + across] = stored(cell.face);
                    if slab > 0 {
                        operator.along[at] = stored(cell.along_below);
                    }
                    if place + 1 < shape.places() {
                        operator.stack[at] = stored(cell.stack);
                    }
                    if across + 1 < shape.across() {
                        operator.across[at] = stored(cell.across);
                    }
                }
            }
        }
        Self { operator, source }
    }

    /// Loss-weighted mean of the solution: the effectiveness, when the loss is the fixation in a volume.
    fn mean(self, loss: impl Fn(usize, usize, usize) -> f64) -> f64 {
        let x = solve(self.operator, &self.source);
        let (shape, mut sum, mut volume) = (x.shape(), 0.0, 0.0);
        for slab in 0..shape.slabs() {
            for place in 0..shape.places() {
                for across in 0..shape.across() {
                    sum += loss(slab, place, across) * f64::from(x.value(0, slab, place, across));
                    volume += loss(slab, place, across);
                }
            }
        }
        sum / volume
    }
}

#[derive(Default)]
struct Cell {
    loss: f64,
    face: f64,
    along_below: f64,
    stack: f64,
    across: f64,
}

/// Effectiveness of a slab of half thickness 1 fed on both faces, `k / D = phi^2`, cut into `cells` along one direction of the grid.
fn slab_effectiveness(phi: f64, cells: usize, direction: char) -> f64 {
    let h = 2.0 / cells as f64;
    let shape = match direction {
        'r' => GridShape::new(cells, 3, 8).unwrap(),
        _ => GridShape::new(4, cells, 8).unwrap(),
    };
    let cell = |slab: usize, place: usize, _: usize| {
        let at = if direction == 'r' { slab } else { place };
        let face = if at == 0 || at + 1 == cells { 2.0 / h } else { 0.0 };
        let (along_below, stack) = if direction == 'r' { (1.0 / h, 0.0) } else { (0.0, 1.0 / h) };
        Cell { loss: phi * phi * h, face, along_below, stack, across: 0.3 }
    };
    Textbook::new(shape, cell).mean(|_, _, _| 1.0)
}

/// Effectiveness of a cylinder of radius 1, fed round about: its radius along the rod's grid.
fn cylinder_effectiveness(phi: f64, cells: usize) -> f64 {
    let h = 1.0 / cells as f64;
    let volume = |slab: usize| (((slab + 1) as f64 * h).powi(2) - (slab as f64 * h).powi(2)) / 2.0;
    let shape = GridShape::new(cells, 2, 2).unwrap();
    let cell = |slab: usize, _: usize, _: usize| Cell {
        loss: phi * phi * volume(slab),
        face: if slab + 1 == cells { 2.0 / h } else { 0.0 },
        along_below: slab as f64 * h / h,
        stack: 0.1,
        across: 0.1,
    };
    Textbook::new(shape, cell).mean(|slab, _, _| volume(slab))
}

/// Thiele 1939, effectiveness of a slab `tanh(phi) / phi` and of a cylinder `2 I1(phi) / (phi I0(phi))`; computed with scipy
/// (`tests/reference/thiele.csv`). Within 0.5 % at the working grid: 76 layers through the stack, cells along it as fine.
#[test]
fn slab_and_cylinder_take_up_what_thiele_says() {
    for row in common::rows("thiele.csv") {
        let value = |index: usize| row[index].parse::<f64>().unwrap();
        let (phi, slab, cylinder) = (value(0), value(1), value(3));
        if !(0.1..=5.0).contains(&phi) {
            continue;
        }
        for direction in ['r', 'z'] {
            let found = slab_effectiveness(phi, 76, direction);
            assert_close!(found / slab, 1.0, 0.005, "slab, phi {phi}, {direction}");
        }
        assert_close!(cylinder_effectiveness(phi, 76) / cylinder, 1.0, 0.005, "cylinder, phi {phi}");
    }
}

/// The error falls to a quarter when cells are halved.
#[test]
fn the_grid_converges_at_second_order() {
    let (phi, slab) = (3.0, 0.331_684_917_9);
    let error = |cells: usize| (slab_effectiveness(phi, cells, 'z') - slab).abs();
    let order = (error(12) / error(24)).log2();
    assert_close!(order, 2.0, 0.15);
    let cylinder = 0.539_990_195_9;
    let error = |cells: usize| (cylinder_effectiveness(phi, cells) - cylinder).abs();
    assert_close!((error(12) / error(24)).log2(), 2.0, 0.15);
}

/// The dye system of a layout on a coarse grid, with the grid.
fn system(layout: &Layout) -> (RodGrid, System) {
    let process = layout.process();
    let spec = WORKING;
    let flat_after = process.calibration.flat_after_diameters;
    let grid = RodGrid::new(layout.fold(), layout.cloth(), &rod_binds(layout), flat_after, &spec).unwrap();
    let system = dye_system(&grid, process, &layout.section_colours(), 3).unwrap();
    (grid, system)
}

/// Conservation: the dye that enters over the faces and with the water is fixed, or leaves over the faces and with water that drips
/// off; so for every dye whichever way water seeps, and for the bath.
#[test]
fn what_enters_is_fixed_or_leaves() {
    let balance = |grid: &RodGrid, system: System| {
        let System { operator, source, scale, fixed, leaving, .. } = system;
        let (shape, x) = (grid.shape(), solve(operator, &source));
        for field in 0..source.count() {
            let (mut entered, mut taken, mut left) = (0.0, 0.0, 0.0);
            for cell in 0..shape.cells() {
                let (slab, place, across) = (cell / shape.plane(), cell % shape.plane() / shape.across(), cell % shape.across());
                let scale = scale.as_ref().map_or(1.0, |scale| f64::from(scale[cell]));
                let dose = scale * f64::from(x.value(field, slab, place, across));
                entered += scale * f64::from(source.value(field, slab, place, across));
                taken += f64::from(fixed[cell]) * dose;
                left += f64::from(leaving[cell]) * dose;
            }
            assert!(taken > 0.0 && left > 0.0);
            assert_close!((taken + left) / entered, 1.0, 1e-4, "field {field}: {taken} fixed, {left} left");
        }
    };
    for rest in [Rest::EdgesUp, Rest::OnItsFlat, Rest::TurnedHalfWay] {
        let (grid, system) = system(&tee(|raw| raw.process.rest = rest));
        balance(&grid, system);
    }
    let layout = tee(|_| {});
    let (grid, _) = system(&layout);
    balance(&grid, discharge_system(&grid, layout.process()).unwrap());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, rng_seed: prop::test_runner::RngSeed::Fixed(11), ..ProptestConfig::default() })]

    /// No dose is negative, and at no place is more dye than lies on the rod: whichever way it rests and however it seeps.
    #[test]
    fn doses_stay_between_nothing_and_the_source(
        rest in prop::sample::select(vec![Rest::EdgesUp, Rest::OnItsFlat, Rest::TurnedHalfWay]),
        by_hand in any::<bool>(),
        seeping in 0.0..0.08_f64,
        along_mm in 3.0..30.0_f64,
    ) {
        let layout = tee(|raw| {
            raw.process.rest = rest;
            raw.process.dye = if by_hand { DyeBy::ByHand } else { DyeBy::PowderUnderIce };
            raw.process.calibration.seeping_per_mm = seeping;
            raw.process.calibration.dye_reach.along_mm = along_mm;
        });
        let (grid, system) = system(&layout);
        let scale = system.scale.clone();
        let mut x = solve(system.operator, &system.source);
        if let Some(scale) = scale {
            x.scale_cells(&scale);
        }
        let shape = grid.shape();
        for slab in 0..grid.shape().slabs() {
            for place in 0..shape.places() {
                for across in 0..shape.across() {
                    let doses = [0, 1, 2].map(|dye| f64::from(x.value(dye, slab, place, across)));
                    prop_assert!(doses.iter().all(|&dose| dose > -1e-3), "{doses:?}");
                    prop_assert!(doses.iter().sum::<f64>() < 1.0 + 1e-3, "{doses:?}");
                }
            }
        }
    }
}

/// A strip of cloth folded to and fro into a plain rod, all of it cloth: nothing in it jumps but at its faces.
#[derive(Debug)]
pub(crate) struct Strip {
    pub(crate) pleats: u32,
    pub(crate) width_mm: f64,
    pub(crate) length_mm: f64,
}

impl Bundle for Strip {
    fn extent(&self) -> Extent {
        Extent { length_mm: self.length_mm, pleats: self.pleats, layers: 1, is_closed: false }
    }

    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let place =
            (0..self.pleats - 1).find(|&place| point.x_mm < f64::from(place + 1) * self.width_mm).unwrap_or(self.pleats - 1);
        let fraction = (point.x_mm / self.width_mm - f64::from(place)).clamp(0.0, 1.0);
        let across = if place % 2 == 1 { 1.0 - fraction } else { fraction };
        Some(BundlePoint { along_mm: point.y_mm, across, place: f64::from(place) })
    }

    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let fraction = if point.layer() % 2 == 1 { 1.0 - point.across } else { point.across };
        let x_mm = (f64::from(point.layer()) + fraction) * self.width_mm;
        Some(ClothPoint { panel: Panel::Front, x_mm, y_mm: point.along_mm })
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        let (before, after) = (place.checked_sub(1), Some(place + 1).filter(|&after| after < self.pleats));
        if place % 2 == 1 { [after, before] } else { [before, after] }
    }

    fn cell(&self, along_mm: Range<f64>, _place: u32, across: Range<f64>) -> CellSize {
        let width_mm = self.width_mm * (across.end - across.start);
        CellSize { length_mm: along_mm.end - along_mm.start, width_mm }
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        (0.0..=f64::from(self.pleats) * self.width_mm).contains(&point.x_mm) && (0.0..=self.length_mm).contains(&point.y_mm)
    }

    fn width_mm(&self, _along_mm: f64) -> f64 {
        self.width_mm
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let cloth_mm = f64::from(self.pleats) * self.width_mm;
        PanelPair { front: Cut { cloth_mm, area_mm2: cloth_mm * along_mm }, back: Cut::default() }
    }
}

/// A plain strip keeps the laws of folds, and so does a burst that a hand has laid, as well as the hand lets it.
#[test]
fn strips_and_laid_folds_keep_the_laws_of_folds() {
    let strip = Strip { pleats: 7, width_mm: 40.0, length_mm: 90.0 };
    let layout = tee(|_| {});
    let laid = LaidFold::new(layout.fold(), &layout.process().hand);
    // Three steps back leave 0.02 mm; a hand that strays by a tenth over its length stretches cloth by about as much.
    let by_hand = Exactness { back_mm: 0.05, area: 0.25 };
    for step in 0..300_u32 {
        let (along, across) = (f64::from(step), 0.05 + 0.9 * f64::from(step % 17) / 17.0);
        let place = step % strip.places();
        let at = BundlePoint { along_mm: 1.0 + 0.29 * along, across, place: f64::from(place) };
        fold_laws::there_and_back(&strip, at, EXACT);
        fold_laws::keeps_area(&strip, at, EXACT);
        fold_laws::joins_are_mutual(&strip, place, at.along_mm, EXACT);
        let place = step % laid.places();
        let at = BundlePoint { along_mm: 20.0 + along, across, place: f64::from(place) };
        // Near the centre line the hand may carry a point over it, to the other half.
        if laid.to_cloth(at).is_some_and(|cloth| cloth.x_mm.abs() > 8.0) {
            fold_laws::there_and_back(&laid, at, by_hand);
            fold_laws::keeps_area(&laid, at, by_hand);
        }
    }
    fold_laws::cells_hold_the_cloth(&strip, [45, 8], 1e-9);
    fold_laws::cells_hold_the_cloth(&laid, [300, 16], 5e-3);
}

/// What a rod fixes of a field.
fn total(grid: &RodGrid, fixed: &[f32], fields: &Fields, field: usize) -> f64 {
    let shape = grid.shape();
    let dose =
        |cell: usize| fields.value(field, cell / shape.plane(), cell % shape.plane() / shape.across(), cell % shape.across());
    (0..shape.cells()).map(|cell| f64::from(fixed[cell]) * f64::from(dose(cell))).sum()
}

/// Where nothing jumps the whole system, as it is assembled for a rod, converges at second order along the rod: halving its cells
/// leaves a quarter of the error. Across the pleat it comes near that (1.5): single layers end side by side at the creases, and that
/// takes cells of a layer's size to follow; on its flat (0.9), where powder thins out over the worn edge, cells of that edge's size.
#[test]
fn a_smooth_rod_converges_at_second_order() {
    let strip = Strip { pleats: 12, width_mm: 48.0, length_mm: 128.0 };
    let fixed = |rest: Rest, cell_mm: f64, across: usize| {
        let process = Process { rest, hand: Hand::EXACT, ..Process::default() };
        let grid = RodGrid::new(&strip, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm, across }).unwrap();
        let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
        let fixed = system.fixed.clone();
        let doses = DoseField::solve(system, None, &exact(), &Cancel::new()).unwrap();
        total(&grid, &fixed, doses.fields(), 0)
    };
    let order = |[coarse, middle, fine]: [f64; 3]| ((middle - coarse) / (fine - middle)).abs().log2();
    for (rest, least) in [(Rest::EdgesUp, 1.4), (Rest::OnItsFlat, 0.7), (Rest::TurnedHalfWay, 1.4)] {
        assert_close!(order([8.0, 4.0, 2.0].map(|cell_mm| fixed(rest, cell_mm, 8))), 2.0, 0.3, "along, {rest:?}");
        let across = order([4, 8, 16].map(|across| fixed(rest, 2.0, across)));
        assert!((least..2.3).contains(&across), "{across} across, {rest:?}");
    }
}

/// Thiele 1939 for a slab: in the middle of a stack that nothing comes through, the dose across a pleat falls from both
/// creases to `1 / cosh(phi)` in its middle, and to `tanh(phi) / phi` in the mean, where `phi` is half the pleat's width over the reach
/// (`tests/reference/thiele.csv`, computed with scipy). Within 2 % with the cells across that a picture takes, and
/// nearer yet with the most that there are. What was read at the crease was the dose of the cell's middle,
/// a third too low for `phi` 3.3 and 8 cells, and cells narrower than 0.7 of their length were conducted through as if they were so wide.
#[test]
fn doses_fall_across_a_pleat_as_thiele_says() {
    let mut process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
    process.calibration.dye_reach.through_mm = 0.8;
    let reach_mm = process.dye_reach().along_mm;
    for row in common::rows("thiele.csv") {
        let value = |index: usize| row[index].parse::<f64>().unwrap();
        let (phi, mean, middle) = (value(0), value(1), value(2));
        if !(1.0..=4.0).contains(&phi) {
            continue;
        }
        let strip = Strip { pleats: 40, width_mm: 2.0 * phi * reach_mm, length_mm: 240.0 };
        for (across, tolerance) in [(GridSpec::fine(&strip, reach_mm, 1).across, 0.02), (64, 3e-3)] {
            let grid = RodGrid::new(&strip, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: 20.0, across }).unwrap();
            let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
            let doses = DoseField::solve(system, None, &exact(), &Cancel::new()).unwrap();
            let crease = f64::from(doses.creases().value(0, 2, 20, 0));
            let cells: Vec<f64> = (0..across).map(|cell| f64::from(doses.fields().value(0, 2, 20, cell))).collect();
            let found = 0.5 * (cells[across / 2 - 1] + cells[across / 2]) / crease;
            assert_close!(found / middle, 1.0, tolerance, "middle over crease, phi {phi}, {across} across");
            let found = cells.iter().sum::<f64>() / across as f64 / crease;
            assert_close!(found / mean, 1.0, tolerance, "mean over crease, phi {phi}, {across} across");
        }
    }
}

/// A strip folded to and fro into pleats of two widths by turns.
#[derive(Debug)]
struct Uneven {
    pleats: u32,
    widths_mm: [f64; 2],
    length_mm: f64,
}

impl Uneven {
    fn width_of(&self, place: u32) -> f64 {
        self.widths_mm[place as usize % 2]
    }

    /// Where a pleat begins on the strip, mm.
    fn start_mm(&self, place: u32) -> f64 {
        (0..place).map(|before| self.width_of(before)).sum()
    }
}

impl Bundle for Uneven {
    fn extent(&self) -> Extent {
        Extent { length_mm: self.length_mm, pleats: self.pleats, layers: 1, is_closed: true }
    }

    fn to_bundle(&self, point: ClothPoint) -> Option<BundlePoint> {
        let place = (0..self.pleats).rev().find(|&place| point.x_mm >= self.start_mm(place))?;
        let fraction = ((point.x_mm - self.start_mm(place)) / self.width_of(place)).clamp(0.0, 1.0);
        let across = if place % 2 == 1 { 1.0 - fraction } else { fraction };
        Some(BundlePoint { along_mm: point.y_mm, across, place: f64::from(place) })
    }

    fn to_cloth(&self, point: BundlePoint) -> Option<ClothPoint> {
        let place = point.layer();
        let fraction = if place % 2 == 1 { 1.0 - point.across } else { point.across };
        let x_mm = self.start_mm(place) + fraction * self.width_of(place);
        Some(ClothPoint { panel: Panel::Front, x_mm, y_mm: point.along_mm })
    }

    fn is_even(&self) -> bool {
        false
    }

    fn cell(&self, along_mm: Range<f64>, place: u32, across: Range<f64>) -> CellSize {
        let width_mm = self.width_of(place) * (across.end - across.start);
        CellSize { length_mm: along_mm.end - along_mm.start, width_mm }
    }

    fn mates(&self, place: u32) -> [Option<u32>; 2] {
        let (before, after) = (place.checked_sub(1), Some(place + 1).filter(|&after| after < self.pleats));
        if place % 2 == 1 { [after, before] } else { [before, after] }
    }

    fn has_cloth(&self, point: ClothPoint) -> bool {
        (0.0..=self.start_mm(self.pleats)).contains(&point.x_mm) && (0.0..=self.length_mm).contains(&point.y_mm)
    }

    fn cut(&self, along_mm: f64) -> PanelPair<Cut> {
        let cloth_mm = self.start_mm(self.pleats);
        PanelPair { front: Cut { cloth_mm, area_mm2: cloth_mm * along_mm }, back: Cut::default() }
    }

    /// The mean by cloth of both widths.
    fn width_mm(&self, _along_mm: f64) -> f64 {
        let [a, b] = self.widths_mm;
        (a * a + b * b) / (a + b)
    }
}

/// Thiele 1939 for a slab, in each of two pleats of unequal widths that nothing passes between: the dose falls from both creases to
/// `1 / cosh(phi)` in the middle of either, each by its own width. With one width for all pleats both had the same.
#[test]
fn unequal_pleats_take_up_dye_by_their_own_widths() {
    let mut process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
    // So little goes through the stack that pleats don't share what they get.
    process.calibration.dye_reach.through_mm = 0.02;
    let reach_mm = process.dye_reach().along_mm;
    let widths_mm = [2.0, 5.0].map(|phi: f64| phi * reach_mm);
    let uneven = Uneven { pleats: 40, widths_mm, length_mm: 240.0 };
    for step in 0..40 {
        let across = 0.03 + 0.94 * f64::from(step) / 40.0;
        let at = BundlePoint { along_mm: 5.0 * f64::from(step) + 3.0, across, place: f64::from(step) };
        fold_laws::there_and_back(&uneven, at, EXACT);
        fold_laws::keeps_area(&uneven, at, EXACT);
        fold_laws::joins_are_mutual(&uneven, step, at.along_mm, EXACT);
    }
    fold_laws::cells_hold_the_cloth(&uneven, [24, 8], 1e-9);
    let spec = GridSpec { cell_mm: 20.0, across: 64 };
    // As they lie: nothing bound, and not so many layers that the stack bunches.
    let grid = RodGrid::new(&uneven, &Cloth::default(), &[], 1.0, &spec).unwrap();
    let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
    let doses = DoseField::solve(system, None, &exact(), &Cancel::new()).unwrap();
    for (place, width_mm) in [(20, widths_mm[0]), (21, widths_mm[1])] {
        let drawn = grid.layer_width_mm(2, place) / width_mm;
        assert_close!(grid.flat_width_mm(2, place), width_mm, 1e-3 * width_mm);
        let crease = f64::from(doses.creases().value(0, 2, place, 0));
        let cell = |cell: usize| f64::from(doses.fields().value(0, 2, place, cell));
        let found = 0.5 * (cell(31) + cell(32)) / crease;
        let phi = 0.5 * width_mm * drawn / reach_mm;
        assert_close!(found * phi.cosh(), 1.0, 0.01, "middle over crease of the pleat of {width_mm} mm");
    }
    // The end is closed: nothing comes in there that does not come in at the creases.
    let middle = |slab: usize| f64::from(doses.fields().value(0, slab, 20, 32));
    assert_close!(middle(grid.shape().slabs() - 1) / middle(2), 1.0, 1e-3);
}

/// A single layer opened round its middle and dyed on its flat: what is read on the cloth at the creases and in the outermost tenth of a
/// pleat, against its middle, where pleats are 29, 51 and 72 mm wide. The error falls with every halving of the cells across and is
/// below 2 % of the finest grid's with the cells that a picture takes: with 8 for all, and the crease read as its cell, it was
/// 20 % at 72 mm.
#[test]
fn doses_at_the_creases_of_wide_pleats_converge() {
    let measures = RawMeasures { cloth_width_mm: Some(900.0), cloth_height_mm: Some(900.0), ..RawMeasures::default() };
    let mut raw = starter(GarmentKind::FlatCloth, None, &measures).unwrap();
    raw.fold.burst_mut().unwrap().centring = Centring::Open;
    raw.fold.burst_mut().unwrap().centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 450.0 };
    raw.fold.burst_mut().unwrap().pleats = Pleats::Count { count: 30 };
    raw.process = Process { rest: Rest::OnItsFlat, hand: Hand::EXACT, discharge: None, ..raw.process };
    let layout = Layout::try_from(raw).unwrap();
    let fold = layout.fold();
    assert_eq!(fold.layers(), 1);
    let read = |cells: Cells| -> Vec<f64> {
        let reveal =
            reveal_doses(&layout, &RevealOptions { pixel_mm: 50.0, cells, ..RevealOptions::default() }, &Cancel::new()).unwrap();
        let mut ratios = Vec::new();
        for width_mm in [29.0, 51.0, 72.0] {
            let along_mm = 100.0 * width_mm / fold.width_mm(100.0);
            for place in [3, 9, 15, 21, 26] {
                let dose = |across: f64| {
                    let cloth = fold.to_cloth(BundlePoint { along_mm, across, place: f64::from(place) }).unwrap();
                    reveal.probe(cloth.panel, Point::new(cloth.x_mm, cloth.y_mm)).unwrap().doses.iter().sum::<f64>()
                };
                let both = |across: f64| 0.5 * (dose(across) + dose(1.0 - across)) / dose(0.5);
                ratios.push(both(1e-9));
                ratios.push((0..10).map(|step| both(0.005 + 0.01 * f64::from(step))).sum::<f64>() / 10.0);
            }
        }
        ratios
    };
    let finest = read(Cells::Of(GridSpec { cell_mm: 2.0, across: 64 }));
    let error = |cells: Cells| -> f64 {
        read(cells).iter().zip(&finest).map(|(found, finest)| (found / finest - 1.0).abs()).fold(0.0, f64::max)
    };
    let [coarse, middle, fine] = [8, 16, 32].map(|across| error(Cells::Of(GridSpec { cell_mm: 2.0, across })));
    assert!(middle < 0.5 * coarse && fine < 0.5 * middle && coarse < 0.05, "{coarse} {middle} {fine}");
    let default = error(Cells::Fine);
    assert!(default < 0.02, "{default}");
}

/// In the tee's rod, where thread and the cloth's edges make the cells' values jump, finer cells change what is fixed of each dye by
/// little, and by less each time: along the rod, and across the pleat.
#[test]
fn finer_grids_converge() {
    let layout = tee(|_| {});
    let fixed = |&(cell_mm, across): &(f64, usize)| {
        let options = RevealOptions { cells: Cells::Of(GridSpec { cell_mm, across }), ..coarse() };
        let rod = rod_doses(&layout, &options, None, &Cancel::new()).unwrap();
        let fixed = dye_system(&rod.grid, layout.process(), &layout.section_colours(), 3).unwrap().fixed;
        [0, 1, 2].map(|dye| total(&rod.grid, &fixed, rod.dyes.as_ref().unwrap().fields(), dye))
    };
    let apart = |a: [f64; 3], b: [f64; 3]| a.iter().zip(b).map(|(a, b)| (a / b - 1.0).abs()).fold(0.0, f64::max);
    for grids in [[(2.0, 8), (1.0, 8), (0.5, 8)], [(2.0, 4), (2.0, 8), (2.0, 16)]] {
        let [coarse, middle, fine] = [0, 1, 2].map(|index| fixed(&grids[index]));
        let (first, second) = (apart(coarse, middle), apart(middle, fine));
        assert!(second < 0.6 * first && second < 0.015, "{grids:?}: {first} {second}");
    }
}

/// The colours that a reveal gives to two pixels that lie mirrored at the centre line, compared over all cloth but that of the first
/// and the last pleat, which lie against the rod's flats: CIEDE2000, rising.
fn left_against_right(map: &DoseMap, layout: &Layout) -> Vec<f64> {
    let (colours, fold) = (DyeSet::of_layout(layout, None), layout.fold());
    let lab = |pixel: usize| {
        let doses: Vec<f64> = map.doses[map.dyes * pixel..map.dyes * (pixel + 1)].iter().map(|&dose| f64::from(dose)).collect();
        colours.lab(&doses, f64::from(map.discharged[pixel]))
    };
    let mirrored = |pixel: usize| pixel / map.frame.width * map.frame.width + map.frame.width - 1 - pixel % map.frame.width;
    let inside = |pixel: usize| {
        let Point { x: x_mm, y: y_mm } = map.frame.middle(pixel % map.frame.width, pixel / map.frame.width);
        let there = fold.to_bundle(ClothPoint { panel: map.panel, x_mm, y_mm }).unwrap();
        (1..fold.extent().pleats - 1).contains(&(there.layer() / fold.layers()))
    };
    let cloth = (0..map.coverage.len()).filter(|&pixel| map.coverage[pixel] > 0.5 && inside(pixel));
    let mut apart: Vec<f64> = cloth.map(|pixel| ciede2000(lab(pixel), lab(mirrored(pixel)))).collect();
    apart.sort_by(f64::total_cmp);
    apart
}

/// A nested burst with its centre on the fold, evenly rested and exactly folded, opens to its own mirror image as far as the eye sees:
/// the two halves of a panel are neighbours in the stack, not one layer, and differ by what a layer of cloth holds back; most so
/// where they lie against the rod's flats, which is left out. By a plain
/// half fold the halves of the back lie on both sides of the front, and differ more. Laid open, both halves fold alike, and mirror
/// but for rounding and the solver's residual.
#[test]
fn a_nested_burst_opens_to_its_own_mirror_image() {
    let apart = |centring: Centring| {
        let layout = tee(|raw| {
            raw.process.rest = Rest::TurnedHalfWay;
            raw.fold.burst_mut().unwrap().centring = centring;
        });
        let reveal = reveal_doses(&layout, &coarse(), &Cancel::new()).unwrap();
        Panel::BOTH.map(|panel| {
            let apart = left_against_right(&reveal.map(panel).unwrap(), &layout);
            (apart.iter().sum::<f64>() / apart.len() as f64, apart[apart.len() * 95 / 100])
        })
    };
    let (nested, plain, open) = (apart(Centring::Nested), apart(Centring::PlainHalf), apart(Centring::Open));
    for (mean, nearly_worst) in nested {
        assert!(mean < 1.0 && nearly_worst < DIFFERS_ABOVE, "nested: {mean} {nearly_worst}");
    }
    assert!(plain[1].0 > 2.0 * nested[1].0, "a plain half fold's back: {:?}, nested: {:?}", plain[1], nested[1]);
    for (_, nearly_worst) in open {
        assert!(nearly_worst < 0.05, "open: {nearly_worst}");
    }
}

/// No seam shows where the garment was folded: the cloth goes on round the fold, and so does its dye, on the fold's crease and, for a burst
/// beside the fold, where that is no crease.
#[test]
fn no_seam_shows_at_the_centre_line() {
    for (from_centre_line_mm, centring) in [(0.0, Centring::Nested), (90.0, Centring::Nested), (90.0, Centring::PlainHalf)] {
        let layout = tee(|raw| {
            raw.fold.burst_mut().unwrap().centring = centring;
            raw.fold.burst_mut().unwrap().centre = Centre::AboveMiddle { from_centre_line_mm, above_middle_mm: 55.0 };
            raw.process.hand = Hand::EXACT;
        });
        let reveal = reveal_doses(&layout, &coarse(), &Cancel::new()).unwrap();
        let mut seen = 0;
        for panel in Panel::BOTH {
            for step in 0..70 {
                let [right, left] = [-1e-6, 1e-6].map(|x| reveal.probe(panel, Point::new(x, 130.0 + 8.0 * f64::from(step))));
                let (Some(right), Some(left)) = (right, left) else { continue };
                let apart: f64 = right.doses.iter().zip(&left.doses).map(|(a, b)| (a - b).abs()).sum();
                assert!(apart < 1e-3, "{panel:?} {step}: {right:?} {left:?}");
                seen += 1;
            }
        }
        assert!(seen > 120, "{seen}");
    }
}

/// Input that is its own mirror image across the pleat and through the stack gives a solution that is, to the last bit.
#[test]
fn mirrored_input_gives_mirrored_doses() {
    let shape = GridShape::new(16, 9, 8).unwrap();
    let cell = |slab: usize, place: usize, across: usize| Cell {
        loss: 1.0 + (slab % 3) as f64,
        face: if place == 4 && slab % 5 == 2 { 2.0 } else { 0.0 },
        along_below: 2.0 + slab as f64,
        stack: 6.0,
        across: 1.5 + 0.25 * (across as f64 - 3.0).abs(),
    };
    let textbook = Textbook::new(shape, cell);
    let x = solve(textbook.operator, &textbook.source);
    for slab in 0..16 {
        for place in 0..9 {
            for across in 0..8 {
                let own = x.value(0, slab, place, across);
                assert_eq!(own.to_bits(), x.value(0, slab, place, 7 - across).to_bits(), "across, {slab} {place} {across}");
                assert_eq!(own.to_bits(), x.value(0, slab, 8 - place, across).to_bits(), "through, {slab} {place} {across}");
            }
        }
    }
}

/// All directions from the burst's centre, on both panels, where the cloth under a radius can be probed.
fn probes(reveal: &Reveal, radius_mm: f64) -> Vec<Probe> {
    let centre = reveal.layout().burst().unwrap().centre();
    let at = |step: i32| centre + radius_mm * kurbo::Vec2::from_angle(f64::from(step) * TAU / 240.0);
    Panel::BOTH.into_iter().flat_map(|panel| (0..240).filter_map(move |step| reveal.probe(panel, at(step)))).collect()
}

/// Waxed thread keeps the first colour in the middle of every ring (CIEDE2000 to the garment's colour below 6 in all directions);
/// plain string loses it (above 15 in the middle of the cloth's values, as the bath leaves the ground). Common practice, no source.
///
/// A dye of the garment's own colour beside a ring is no measure of what the ring lost, so that is told of the ground; with the dyes on
/// it no waxed ring changes.
#[test]
fn waxed_thread_keeps_the_first_colour_and_plain_string_does_not() {
    let reveal = |kind: ThreadKind| {
        let layout = tee(|raw| raw.thread.kind = kind);
        let options = RevealOptions { pixel_mm: 20.0, cells: Cells::Of(GridSpec { cell_mm: 1.0, across: 8 }), ..coarse() };
        reveal_doses(&layout, &options, &Cancel::new()).unwrap()
    };
    let (waxed, plain) = (reveal(ThreadKind::Waxed), reveal(ThreadKind::PlainString));
    let colours = DyeSet::of_layout(waxed.layout(), None);
    let garment = colours.lab(&[], 0.0);
    for (index, bind) in waxed.layout().binds().binds.iter().enumerate() {
        for probe in probes(&waxed, bind.radius_mm) {
            let apart = ciede2000(colours.lab(&probe.doses, 1.0 - probe.ground_left), garment);
            assert!(apart < 6.0, "{apart} under waxed bind {index}: {probe:?}");
        }
        let ground = |probe: &Probe| ciede2000(colours.lab(&[], 1.0 - probe.ground_left), garment);
        let mut lost: Vec<f64> = probes(&plain, bind.radius_mm).iter().map(ground).collect();
        lost.sort_by(f64::total_cmp);
        assert!(lost[lost.len() / 2] > 15.0, "{} under plain bind {index}", lost[lost.len() / 2]);
    }
}

/// A colour's ring lies at its section's radii within 1 mm: at every bind, in every direction, on both panels, the colours of the two
/// sections change places there.
#[test]
fn colours_change_at_their_binds() {
    let layout = tee(|_| {});
    let options = RevealOptions { pixel_mm: 20.0, cells: Cells::Of(GridSpec { cell_mm: 1.0, across: 8 }), ..coarse() };
    let reveal = reveal_doses(&layout, &options, &Cancel::new()).unwrap();
    let colours = layout.section_colours();
    for (index, bind) in layout.binds().binds.iter().enumerate() {
        let [Some(inner), Some(outer)] = [colours[index], colours[index + 1]] else { panic!("every section has a colour") };
        let (before, after) = (probes(&reveal, bind.radius_mm - 1.0), probes(&reveal, bind.radius_mm + 1.0));
        // A thousandth of a dose is less than 8 bits of colour can show.
        let more = |probe: &Probe| probe.doses[inner] > probe.doses[outer] - 1e-3;
        let less = |probe: &Probe| probe.doses[inner] < probe.doses[outer] + 1e-3;
        assert!(!before.is_empty() && !after.is_empty());
        assert!(before.iter().all(more), "inside bind {index}: {:?}", before.iter().find(|probe| !more(probe)));
        assert!(after.iter().all(less), "outside bind {index}: {:?}", after.iter().find(|probe| !less(probe)));
    }
}

/// The same layout gives the same bytes, on one thread and on several.
#[test]
fn the_same_layout_gives_the_same_bytes() {
    let layout = Layout::try_from(example("harbour-row-tee-m.ron")).unwrap();
    let run = || {
        let reveal = reveal_doses(&layout, &coarse(), &Cancel::new()).unwrap();
        Panel::BOTH.map(|panel| reveal.map(panel).unwrap())
    };
    let alone = rayon::ThreadPoolBuilder::new().num_threads(1).build().unwrap().install(run);
    let three = rayon::ThreadPoolBuilder::new().num_threads(3).build().unwrap().install(run);
    assert!(alone == three);
}

/// Every example can be revealed; every pixel of cloth belongs to a section, and its doses are numbers.
#[test]
fn every_example_can_be_revealed() {
    for name in EXAMPLE_LAYOUTS.iter().map(|example| example.name) {
        let layout = Layout::try_from(example(name)).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        // What is discharged alone has no dose of dye to tell of.
        let sections = if layout.raw().colours.rotation.is_empty() { 0 } else { layout.sections() };
        assert_eq!(reveal.summary.len(), sections, "{name}");
        for map in reveal.panels().iter().map(|&(panel, _)| reveal.map(panel).unwrap()) {
            let pixels = map.coverage.iter().zip(&map.section);
            assert!(pixels.clone().all(|(&covered, &section)| (covered > 0.0) == (section > 0)), "{name}");
            assert!(map.doses.iter().chain(&map.discharged).all(|dose| (0.0..=1.01).contains(dose)), "{name}");
        }
        // A bandana is a single cloth, folded or not.
        assert_eq!(reveal.has_back(), !name.contains("bandana"), "{name}");
    }
}

#[test]
fn work_stops_when_asked_and_says_what_is_wrong() {
    let (layout, cancel) = (tee(|_| {}), Cancel::new());
    cancel.cancel();
    assert_eq!(reveal_doses(&layout, &coarse(), &cancel).unwrap_err(), RevealError::Cancelled);
    let tiny = RevealOptions { pixel_mm: 0.06, ..coarse() };
    let refusal = reveal_doses(&layout, &tiny, &Cancel::new()).unwrap_err();
    let RevealError::TooManyPixels { width, height, most, finest_mm } = refusal else { panic!("{refusal}") };
    assert!(width * height > most && most == MOST_PIXELS);
    // The finest pixel that it names fits, and a hundredth of a mm less does not.
    let with = |pixel_mm: f64, most_pixels: usize| bare_picture(&layout, &RevealOptions { pixel_mm, most_pixels, ..coarse() });
    let fitting = with(finest_mm, most).unwrap();
    assert!(fitting.width * fitting.height <= most && with(finest_mm - 0.01, most).is_err(), "{finest_mm}");
    let RevealError::TooManyPixels { finest_mm, .. } = with(1.0, 100_000).unwrap_err() else { panic!("100 000 pixels") };
    assert!(with(finest_mm, 100_000).is_ok() && with(finest_mm - 0.01, 100_000).is_err(), "{finest_mm}");
    let fine = RevealOptions { cells: Cells::Of(GridSpec { cell_mm: 0.2, across: 16 }), ..coarse() };
    assert!(matches!(reveal_doses(&layout, &fine, &Cancel::new()), Err(RevealError::TooManyCells { .. })));
    let five = RevealOptions { cells: Cells::Of(GridSpec { cell_mm: 4.0, across: 5 }), ..coarse() };
    let refusal = reveal_doses(&layout, &five, &Cancel::new()).unwrap_err();
    assert!(matches!(refusal, RevealError::Solver(SolverError::Shape { across: 5, .. })), "{refusal}");
}

/// Writes the tee's dye systems and our solutions for `tests/reference/solve_with_scipy.py` to solve again, and how long we took: the
/// best of five, for the script takes the best of three.
#[test]
#[ignore = "writes 500 MB for a script that is run by hand"]
fn write_the_systems_for_other_solvers() {
    use matrix_market::{write_matrix, write_vector};
    use std::{fs::File, io::BufWriter, path::Path, time::Instant};
    let layout = tee(|raw| {
        for name in ["fourth", "fifth"] {
            let swatch = Swatch { name: name.to_owned(), ..raw.colours.rotation[0].clone() };
            raw.colours.rotation.push(swatch);
        }
    });
    let flat_after = layout.process().calibration.flat_after_diameters;
    for (name, cell_mm, across) in [("tenth", 2.9, 8), ("whole", 0.68, 16)] {
        let spec = GridSpec { cell_mm, across };
        let grid = RodGrid::new(layout.fold(), layout.cloth(), &rod_binds(&layout), flat_after, &spec).unwrap();
        let system = dye_system(&grid, layout.process(), &layout.section_colours(), 5).unwrap();
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
        std::fs::create_dir_all(&folder).unwrap();
        let file = |name: &str| BufWriter::new(File::create(folder.join(name)).unwrap());
        write_matrix(&system.operator, &mut file("operator.mtx")).unwrap();
        write_vector(&system.source, &mut file("source.mtx")).unwrap();
        let seconds = (0..5).map(|_| {
            let (operator, mut x) = (system.operator.clone(), system.source.zero_on(system.source.shape()));
            let start = Instant::now();
            let mut solver = ConjugateGradients::new(operator, 5).unwrap();
            solver.solve(&system.source, &mut x, &SolveOptions::default(), &|| false).unwrap();
            start.elapsed().as_secs_f64()
        });
        let seconds = seconds.fold(f64::INFINITY, f64::min);
        std::fs::write(folder.join("seconds.txt"), format!("{seconds}")).unwrap();
        write_vector(&solve(system.operator, &system.source), &mut file("solution.mtx")).unwrap();
    }
}

/// The probe reads what the picture shows: doses, ground and section of the pixel that it points at, on both panels.
#[test]
fn the_probe_reads_what_the_picture_shows() {
    let layout = Layout::try_from(example("harbour-row-tee-m.ron")).unwrap();
    let reveal = reveal_doses(&layout, &RevealOptions { pixel_mm: 2.0, ..coarse() }, &Cancel::new()).unwrap();
    for map in reveal.panels().iter().map(|&(panel, _)| reveal.map(panel).unwrap()) {
        let mut read = 0;
        for pixel in (0..map.coverage.len()).step_by(499).filter(|&pixel| map.coverage[pixel] >= 1.0) {
            let drawn = map.frame.middle(pixel % map.frame.width, pixel / map.frame.width);
            let at = if map.panel == Panel::Back { Point::new(-drawn.x, drawn.y) } else { drawn };
            let probe = reveal.probe(map.panel, at).unwrap();
            // The picture's wander is straight between nodes, so near a crease or a bind the two may differ by what lies beyond it.
            let apart: f64 = probe.doses.iter().zip(&map.doses[3 * pixel..]).map(|(a, &b)| (a - f64::from(b)).abs()).sum();
            read += usize::from(probe.section == usize::from(map.section[pixel]) && apart < 0.02);
            assert!((0.0..=1.0).contains(&probe.across) && (0.0..=1.0).contains(&probe.ground_left), "{probe:?}");
            assert!((1..=probe.places_here).contains(&probe.place) && probe.places_here <= layout.fold().places(), "{probe:?}");
            assert!(probe.depth_mm > 0.0 && probe.depth_mm < 60.0, "{probe:?}");
            assert!((probe.along_mm - at.distance(layout.burst().unwrap().centre())).abs() < 12.0, "{probe:?}");
        }
        let asked = (0..map.coverage.len()).step_by(499).filter(|&pixel| map.coverage[pixel] >= 1.0).count();
        assert!(asked > 100 && read * 100 >= asked * 97, "{read} of {asked} agree");
    }
    assert_eq!(reveal.probe(Panel::Front, Point::new(900.0, 0.0)), None);
}

/// A layout is no different from itself; with plain string it loses rings, and says by how much.
#[test]
fn two_reveals_are_compared() {
    let (waxed, plain) = (tee(|_| {}), tee(|raw| raw.thread.kind = ThreadKind::PlainString));
    let [first, second] = [&waxed, &plain].map(|layout| reveal_doses(layout, &coarse(), &Cancel::new()).unwrap());
    let dyes = DyeSet::of_layout(&waxed, None);
    let same = comparison(&first, &dyes, &first, &dyes).unwrap();
    assert_eq!(same, Comparison { mean: 0.0, percentile_95: 0.0, differing: 0.0 });
    let apart = comparison(&first, &dyes, &second, &dyes).unwrap();
    assert!(apart.mean > 1.0 && apart.percentile_95 > apart.mean && (0.02..1.0).contains(&apart.differing), "{apart:?}");
    assert_eq!(comparison(&second, &dyes, &first, &dyes).unwrap(), apart, "either way round");
    let tote = Layout::try_from(example("harbour-row-tote.ron")).unwrap();
    let other = reveal_doses(&tote, &coarse(), &Cancel::new()).unwrap();
    assert_eq!(comparison(&first, &dyes, &other, &DyeSet::of_layout(&tote, None)), None);
}

/// Every fix that a section asks for stands in one sentence of advice, with that section.
#[test]
fn advice_gathers_the_sections_fixes() {
    let reveal = reveal_doses(&tee(|_| {}), &coarse(), &Cancel::new()).unwrap();
    let advice = reveal.advice();
    let asked: usize = reveal.summary.iter().map(|section| section.fixes.len()).sum();
    assert_eq!(advice.iter().map(|advice| advice.sections.len() * advice.fixes.len()).sum::<usize>(), asked);
    assert!(!advice.is_empty() && advice.len() <= Fix::ALL.len());
    for advice in &advice {
        let asks = |number: usize| advice.fixes.iter().all(|fix| reveal.summary[number - 1].fixes.contains(fix));
        assert!(advice.sections.iter().all(|&number| asks(number)));
    }
}

/// Process and discharged colour are changed by commands, which say what they do and can be undone.
#[test]
fn process_and_discharged_colour_are_edited() {
    let mut document = Document::new(tee(|_| {}));
    let process = Process { rest: Rest::OnItsFlat, ..*document.layout().process() };
    let rose = Swatch::plain("rose", "#d8a8a0".parse().unwrap());
    document.perform(&EditCommand::SetProcess(process)).unwrap();
    document.perform(&EditCommand::SetDischargedColour(Some(rose.clone()))).unwrap();
    assert_eq!((document.layout().process(), &document.layout().raw().garment.discharged), (&process, &Some(rose)));
    assert_eq!(document.history().undo_label(), Some("colour discharged cloth"));
    let wrong = Process { discharge: Some(Discharge { strength: f64::NAN }), ..process };
    assert_eq!(document.perform(&EditCommand::SetProcess(wrong)).unwrap_err().field, "process.discharge.strength");
}

/// A line folded into a tee, middle 300 mm below the shoulders, tied every 30 mm.
fn line_on(layout: &Layout, shape: LineShape, size: Size) -> (LineFold, Vec<RodBind>) {
    let path = shape.half_path(Point::new(0.0, 300.0), size);
    let pleats = Pleats::Depth { depth_mm: 36.0 };
    let spec = LineSpec { centring: Centring::Nested, kind: shape.kind(), path, guide_mm: 60.0, further_mm: vec![], pleats };
    let fold = LineFold::new(&spec, layout.panels().clone()).unwrap();
    let first_mm = fold.first_bind_mm() % 30.0;
    let places_mm = (0..).map(|bind| first_mm + 30.0 * f64::from(bind)).take_while(|&mm| mm < fold.length_mm() - 15.0);
    let size = |along_mm: f64| rod_size(&fold, layout.cloth(), along_mm);
    let guide_girth_mm = size(fold.first_bind_mm()).bound_girth_mm;
    let bind = |along_mm: f64| RodBind {
        along_mm,
        breadth_mm: f64::from(wraps(layout.thread(), size(along_mm).bound_girth_mm, guide_girth_mm))
            * layout.thread().diameter_mm,
        diameter_mm: size(along_mm).bound_diameter_mm,
        effect: layout.process().calibration.bind(layout.thread().kind),
    };
    let binds = places_mm.filter(|&mm| mm > 20.0).map(bind).collect();
    (fold, binds)
}

/// A pleat that has ended leaves a gap, and what is next to it on either side lies on each other, as wide as the narrower of both: there it
/// conducts at least as well as cloth of that width. (Where the gap was as narrow as the pleat at its end nothing went through.)
#[test]
fn pleats_lie_on_each_other_where_one_between_has_ended() {
    let layout = tee(|_| {});
    let process = layout.process();
    let (fold, binds) = line_on(&layout, LineShape::Heart, LineShape::Heart.natural_size(320.0));
    let grid = RodGrid::new(&fold, layout.cloth(), &binds, process.calibration.flat_after_diameters, &WORKING).unwrap();
    let operator = discharge_system(&grid, process).unwrap().operator;
    let (shape, through_mm) = (grid.shape(), process.calibration.discharge_reach.through_mm);
    let mut gaps = 0;
    for slab in (0..shape.slabs()).filter(|&slab| !grid.is_pressed(slab)) {
        for across in 0..shape.across() {
            let cloth: Vec<usize> = (0..shape.places()).filter(|&place| grid.cloth_share(slab, place, across) > 0.0).collect();
            for next in cloth.windows(2).filter(|next| next[1] > next[0] + 1) {
                let width_mm = grid.width_mm(slab, next[0], across).min(grid.width_mm(slab, next[1], across));
                let as_cloth = through_mm.powi(2) * grid.cell_mm() * width_mm / grid.section(slab).layer_mm;
                let least = (next[0]..next[1])
                    .map(|place| operator.stack[shape.index(slab, place, across)])
                    .fold(f32::INFINITY, f32::min);
                assert!(f64::from(least) >= 0.999 * as_cloth, "slab {slab}, places {next:?}: {least} of {as_cloth}");
                gaps += 1;
            }
        }
    }
    assert!(gaps > 200, "{gaps}");
}

/// Pleats along a line run out to nothing, each at a place of its own; still it is solved about as fast as a burst, which takes five
/// steps. (The heart took ten and the wave fourteen.)
#[test]
fn a_line_is_solved_in_about_as_many_steps_as_a_burst() {
    let layout = tee(|_| {});
    let process = layout.process();
    for (shape, size, most) in
        [(LineShape::Heart, LineShape::Heart.natural_size(320.0), 7), (LineShape::Wave { crests: 2 }, Size::new(480.0, 150.0), 7)]
    {
        let (fold, binds) = line_on(&layout, shape, size);
        let spec = GridSpec { cell_mm: 2.0, across: 32 };
        let flat_after = process.calibration.flat_after_diameters;
        let grid = RodGrid::new(&fold, layout.cloth(), &binds, flat_after, &spec).unwrap();
        let colours: Vec<Option<usize>> = (0..=binds.len()).map(|section| Some(section % 3)).collect();
        let system = dye_system(&grid, process, &colours, 3).unwrap();
        let solved = DoseField::solve(system, None, &RevealOptions::default().solve, &Cancel::new()).unwrap().solved();
        assert!(solved.steps <= most, "{shape:?}: {solved:?}");
    }
}

/// Begun from the doses of other values a reveal ends where it does begun from none, within what 8 bits of colour can show: what the
/// discharge reaches, how round the rod is and where thread presses change doses by a great deal, but so smoothly that little is seen of it in
/// the residual that such a solve begins with.
#[test]
fn a_reveal_begun_from_another_ends_where_it_does_anew() {
    let options = RevealOptions { pixel_mm: 8.0, ..coarse() };
    let first_layout = tee(|_| {});
    let first = reveal_doses(&first_layout, &options, &Cancel::new()).unwrap();
    let own = first_layout.process().calibration;
    let farther = Reach { along_mm: 1.5 * own.discharge_reach.along_mm, through_mm: 1.5 * own.discharge_reach.through_mm };
    let mut others = [own; 3];
    others[0].discharge_reach = farther;
    others[1].flat_after_diameters *= 1.5;
    others[2].waxed.beyond_mm *= 1.6;
    let off = |one: &Reveal, other: &Reveal| {
        let [one, other] = [one, other].map(|reveal| reveal.map(Panel::Front).unwrap());
        let apart = |a: &[f32], b: &[f32]| a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max);
        apart(&one.doses, &other.doses).max(apart(&one.discharged, &other.discharged))
    };
    let exactly = RevealOptions { solve: SolveOptions { residual: 1e-6, ..options.solve }, ..options };
    for calibration in others {
        let layout = first_layout.with_calibration(calibration);
        let [exact, anew] = [&exactly, &options].map(|options| reveal_doses(&layout, options, &Cancel::new()).unwrap());
        let after = reveal_doses_after(&layout, &options, Some(&first), &Cancel::new()).unwrap();
        let (changed, anew, after) = (off(&exact, &first), off(&exact, &anew), off(&exact, &after));
        assert!(
            changed > 0.05 && after < 1.5 * anew + 0.005,
            "{after} off, anew {anew}, after a change of {changed}: {calibration:?}"
        );
    }
}
