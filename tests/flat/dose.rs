//! Dye in flat bundles: clamped ones against textbook solutions of slabs and squares, whichever way the grid lies over them.

use crate::bodies::{LAYER_MM, spec, square};
use kurbo::Point;
use pleatwright::geometry::*;
use pleatwright::layout::{Calibration, Discharge, DyeBy, DyeFields, Hand, Process};
use pleatwright::reveal::solver::{Fields, SolveOptions, Solved};
use pleatwright::reveal::*;
use std::f64::consts::{FRAC_PI_4, PI};

fn by_hand() -> Process {
    Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() }
}

/// Cloth so thin that what lies within a crease counts for nothing.
fn thin(layer_mm: f64) -> Cloth {
    Cloth { free_thickness_mm: layer_mm, ..Cloth::default() }
}

struct Dosed {
    grid: RodGrid,
    fixed: Vec<f32>,
    doses: Fields,
    solved: Solved,
}

fn dosed(grid: RodGrid, process: &Process) -> Dosed {
    let system = dye_system(&grid, process, &[Some(0)], 1).unwrap();
    let (fixed, solve) = (system.fixed.clone(), SolveOptions { residual: 1e-6, most_steps: 200 });
    let field = DoseField::solve(system, None, &solve, &Cancel::new()).unwrap();
    Dosed { grid, fixed, doses: field.fields().clone(), solved: field.solved() }
}

impl Dosed {
    fn at(&self, slab: usize, place: usize, across: usize) -> f64 {
        f64::from(self.doses.value(0, slab, place, across))
    }

    /// The dose in the mean of all cloth.
    fn mean(&self) -> f64 {
        let shape = self.grid.shape();
        let (mut dose, mut cloth) = (0.0, 0.0);
        for (cell, &fixed) in self.fixed.iter().enumerate() {
            let (slab, in_plane) = (cell / shape.plane(), cell % shape.plane());
            dose += f64::from(fixed) * self.at(slab, in_plane / shape.across(), in_plane % shape.across());
            cloth += f64::from(fixed);
        }
        dose / cloth
    }

    /// The dose where four cells meet in the middle of a place.
    fn middle(&self, place: usize) -> f64 {
        let (slabs, across) = (self.grid.shape().slabs() / 2, self.grid.shape().across() / 2);
        let corners = [(slabs - 1, across - 1), (slabs - 1, across), (slabs, across - 1), (slabs, across)];
        corners.into_iter().map(|(slab, across)| 0.25 * self.at(slab, place, across)).sum()
    }
}

/// How far a sheet wet on both faces has filled up in its middle, and in all (Crank, *The Mathematics of Diffusion*, 1975, equations 4.17
/// and 4.18), by `D t / l^2`, `l` being half its thickness.
fn sheet(time: f64) -> (f64, f64) {
    let (mut middle, mut all) = (1.0, 1.0);
    for n in 0..200_u32 {
        let odd = f64::from(2 * n + 1);
        let fading = (-odd * odd * PI * PI * time / 4.0).exp();
        middle -= 4.0 / PI * if n % 2 == 0 { 1.0 } else { -1.0 } / odd * fading;
        all -= 8.0 / (odd * odd * PI * PI) * fading;
    }
    (middle, all)
}

/// The steady dose in the middle of a square prism wet on its four sides and in the mean, while what is in it is fixed at first order:
/// Danckwerts' rule `G = k times the integral of e^(-k t) C(t)` (1951), with Newman's product of two sheets for `C`. `phi` is
/// half the side over the reach.
fn square_prism(phi: f64) -> (f64, f64) {
    let steps = 4000_u32;
    // By k t to 40, in steps that are finer at first, where a sheet fills up by its root.
    let at = |step: u32| 40.0 * (f64::from(step) / f64::from(steps)).powi(3);
    (0..steps).fold((0.0, 0.0), |(middle, mean), step| {
        let (from, to) = (at(step), at(step + 1));
        let (at_middle, all) = sheet(0.5 * (from + to) / (phi * phi));
        let weight = (-from).exp() - (-to).exp();
        let product = |filled: f64| weight * (1.0 - (1.0 - filled) * (1.0 - filled));
        (middle + product(at_middle), mean + product(all))
    })
}

#[test]
fn the_textbook_solutions_are_the_tables() {
    for row in crate::common::rows("crank_square_and_cube.csv") {
        let value = |index: usize| row[index].parse::<f64>().unwrap();
        let (middle, all) = sheet(value(0));
        assert!((all - value(1)).abs() < 1e-6, "{row:?}: {all}");
        assert!((1.0 - (1.0 - all) * (1.0 - all) - value(2)).abs() < 1e-6, "{row:?}");
        assert!((1.0 - (1.0 - middle) * (1.0 - middle) - value(4)).abs() < 1e-6, "{row:?}");
    }
}

/// A square of cloth of one piece, seen by a grid that is turned.
fn one_square(side_mm: f64, turn_rad: f64) -> FlatFold {
    let pattern = FlatPattern::Squares { width_mm: side_mm, height_mm: side_mm, angle_deg: 0.0, start: None };
    let spec = FlatFoldSpec { along_turn_deg: turn_rad.to_degrees(), ..spec(Centring::Open, pattern, Pack::Zigzag) };
    FlatFold::new(&spec, square(side_mm), LAYER_MM).unwrap()
}

/// Between blocks as large as itself, which let nothing in over the flats, a square takes up over its sides what the textbook says:
/// in the mean and in its middle; and as well where the grid lies at 45 degrees or at any slant over it, so that its sides are
/// none of the grid's.
#[test]
fn a_square_between_blocks_takes_up_what_its_sides_let_in() {
    let process = by_hand();
    let reach_mm = process.dye_reach().along_mm;
    for phi in [1.0, 2.0, 3.0] {
        let side_mm = 2.0 * phi * reach_mm;
        let (middle, mean) = square_prism(phi);
        for (turn_rad, tolerance) in [(0.0, 0.01), (FRAC_PI_4, 0.03), (0.3, 0.03)] {
            let fold = one_square(side_mm, turn_rad);
            let shape = BlockShape::Square { side_mm: 2.0 * side_mm };
            let size = fold.size();
            let block = Block::new(&shape, Point::new(0.5 * size.width, 0.5 * size.height), 0.0).unwrap();
            let clamp = Clamp { block, conductance: 1.0, cover: 1.0 };
            let spec = GridSpec { cell_mm: size.width / 64.0 * (1.0 + 1e-9), across: 64 };
            let grid = RodGrid::new(&fold, &thin(0.01), &[], 1.0, &spec).unwrap().clamped(&clamp);
            assert!((grid.under_blocks_mm2() / (side_mm * side_mm) - 1.0).abs() < 0.01, "{}", grid.under_blocks_mm2());
            let dosed = dosed(grid, &process);
            let found = (dosed.middle(0), dosed.mean());
            assert!((found.0 / middle - 1.0).abs() < tolerance, "middle {} of {middle}, phi {phi}, turned {turn_rad}", found.0);
            assert!((found.1 / mean - 1.0).abs() < tolerance, "mean {} of {mean}, phi {phi}, turned {turn_rad}", found.1);
        }
    }
}

/// Long across, it is a slab: Thiele 1939 (`tests/reference/thiele.csv`, computed with scipy), behind the half layer at its creases as
/// behind a film: the dose in the middle is `1 / (cosh phi + b sinh phi)`, `b` being the film's resistance over the reach's (Crank, *The
/// Mathematics of Diffusion*, 1975, on surface evaporation, from memory).
#[test]
fn a_strip_between_blocks_takes_up_what_thiele_says() {
    let process = by_hand();
    let (reach, layer_mm) = (process.dye_reach(), 0.3);
    for row in crate::common::rows("thiele.csv") {
        let value = |index: usize| row[index].parse::<f64>().unwrap();
        let (phi, mean, middle) = (value(0), value(1), value(2));
        if !(1.0..=4.0).contains(&phi) {
            continue;
        }
        let pattern =
            FlatPattern::Squares { width_mm: 400.0, height_mm: 2.0 * phi * reach.along_mm, angle_deg: 0.0, start: None };
        let fold = FlatFold::new(&spec(Centring::Open, pattern, Pack::Zigzag), square(400.0), LAYER_MM).unwrap();
        let shape = BlockShape::Bar { length_mm: 900.0, width_mm: 900.0 };
        let clamp = Clamp { block: Block::new(&shape, Point::new(0.0, 0.0), 0.0).unwrap(), conductance: 1.0, cover: 1.0 };
        let spec = GridSpec { cell_mm: fold.size().width / 60.0 * (1.0 + 1e-9), across: 16 };
        let grid = RodGrid::new(&fold, &thin(layer_mm), &[], 1.0, &spec).unwrap().clamped(&clamp);
        let dosed = dosed(grid, &process);
        let found = 0.5 * (dosed.at(29, 1, 8) + dosed.at(30, 1, 8));
        let film = 0.5 * layer_mm * reach.along_mm / (reach.through_mm * reach.through_mm);
        // The table's mean is tanh(phi) / phi. Sides 18 reaches away let in nothing; layers that end inside the stack
        // are bridged, and share what comes in.
        let expected = middle / (1.0 + film * mean * phi);
        assert!((found / expected - 1.0).abs() < 0.03, "{found} of {expected}, phi {phi}");
    }
}

/// Under a bar that leaves a share of the conductance and keeps its faces dry, the dose falls from its edges as in a slab whose reach is
/// shorter by the share's root: between two distances from its middle by the ratio of their hyperbolic cosines.
#[test]
fn doses_fall_from_a_blocks_edge_as_in_a_slab() {
    let process = by_hand();
    let reach_mm = process.dye_reach().along_mm;
    let fold = one_square(400.0, 0.0);
    for conductance in [1.0, 0.25, 0.1] {
        let block = Block::new(&BlockShape::Bar { length_mm: 80.0, width_mm: 900.0 }, Point::new(200.0, 200.0), 0.0).unwrap();
        let clamp = Clamp { block, conductance, cover: 1.0 };
        let grid =
            RodGrid::new(&fold, &thin(LAYER_MM), &[], 1.0, &GridSpec { cell_mm: 0.5, across: 16 }).unwrap().clamped(&clamp);
        let dosed = dosed(grid, &process);
        let within_mm = reach_mm * f64::sqrt(conductance);
        // The middles of cells lie 0.25 and 25.25 mm from the middle of the bar.
        let (middle, off) = (dosed.at(400, 0, 8), dosed.at(450, 0, 8));
        let expected = (0.25 / within_mm).cosh() / (25.25 / within_mm).cosh();
        assert!((middle / off / expected - 1.0).abs() < 0.01, "{} of {expected} at {conductance}", middle / off);
        // And beside the bar, fed over both faces, a single layer is full.
        assert!(dosed.at(40, 0, 8) > 0.99, "{}", dosed.at(40, 0, 8));
    }
}

/// A square of 49 layers clamped between discs: the finer the grid, the nearer to the finest; each halving of the cells leaves clearly
/// less, and no grid takes the solver more than a few steps.
#[test]
fn a_clamped_square_converges() {
    let (process, width_mm) = (by_hand(), 640.0 / 7.0);
    let pattern = FlatPattern::Squares { width_mm, height_mm: width_mm, angle_deg: 0.0, start: None };
    let fold = FlatFold::new(&spec(Centring::Open, pattern, Pack::Zigzag), square(640.0), LAYER_MM).unwrap();
    let block = Block::new(&BlockShape::Disc { diameter_mm: 62.0 }, Point::new(0.5 * width_mm, 0.5 * width_mm), 0.0).unwrap();
    let solved = |across: usize| {
        let cell_mm = width_mm / f64::from(u32::try_from(across).unwrap()) * (1.0 + 1e-9);
        let grid = RodGrid::new(&fold, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm, across }).unwrap();
        dosed(grid.clamped(&Clamp::of(block.clone(), Calibration::default().blocks)), &process)
    };
    let finest = solved(64);
    assert_eq!(finest.grid.shape().slabs(), 64);
    // Cloth under the discs: 49 layers of a disc.
    let under_mm2 = finest.grid.under_blocks_mm2();
    assert!((under_mm2 / (49.0 * PI * 31.0 * 31.0) - 1.0).abs() < 1e-4, "{under_mm2}");
    assert!((finest.grid.layers_under_blocks() - 49.0).abs() < 1e-6);
    let off = |coarse: &Dosed| {
        let across = coarse.grid.shape().across();
        let step = 64 / across;
        let mut squares = 0.0;
        for cell in 0..across * across * 49 {
            let (place, at) = (cell / (across * across), cell % (across * across));
            let (slab, column) = (at / across, at % across);
            let fine = (0..step * step).map(|k| finest.at(slab * step + k / step, place, column * step + k % step)).sum::<f64>();
            let count = f64::from(u32::try_from(step * step).unwrap());
            squares += (coarse.at(slab, place, column) - fine / count).powi(2);
        }
        (squares / f64::from(u32::try_from(across * across * 49).unwrap())).sqrt()
    };
    let coarse = [8, 16, 32].map(solved);
    let [eight, sixteen, thirty_two] = [0, 1, 2].map(|index| off(&coarse[index]));
    assert!(sixteen < 0.6 * eight && thirty_two < 0.6 * sixteen, "{eight} {sixteen} {thirty_two}");
    assert!(eight < 0.08 && thirty_two < 0.015, "{eight} {sixteen} {thirty_two}");
    for grid in coarse.iter().chain([&finest]) {
        assert!(grid.solved.steps <= 20, "{:?} across {}", grid.solved, grid.grid.shape().across());
    }
}

/// Screwed tight between blocks as large as itself, a thick stack is dyed along its edges alone; without blocks its outer layers take up
/// more than the inner ones, which dye hardly reaches.
#[test]
fn layers_that_dye_does_not_reach_are_found() {
    let (process, width_mm) = (by_hand(), 160.0);
    let pattern = FlatPattern::Squares { width_mm, height_mm: width_mm, angle_deg: 0.0, start: None };
    let fold = FlatFold::new(&spec(Centring::Open, pattern, Pack::Zigzag), square(1120.0), LAYER_MM).unwrap();
    let unreached = |clamp: Option<Clamp>| {
        let grid = RodGrid::new(&fold, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: 8.0, across: 16 }).unwrap();
        let grid = match &clamp {
            Some(clamp) => grid.clamped(clamp),
            None => grid,
        };
        let system = dye_system(&grid, &process, &[Some(0)], 1).unwrap();
        let dyes = DoseField::solve(system, None, &SolveOptions::default(), &Cancel::new()).unwrap();
        RodDoses { grid, dyes: Some(dyes), dips: vec![], bath: None }.unreached(&DyeFields::plain(1), 0.4)
    };
    let free = unreached(None);
    assert!(free.contains(&24) && !free.contains(&0) && !free.contains(&48), "{free:?}");
    let block = Block::new(&BlockShape::Square { side_mm: 400.0 }, Point::ORIGIN, 0.0).unwrap();
    assert_eq!(unreached(Some(Clamp::of(block, Calibration::default().blocks))).len(), 49);
}

/// A clamped reverse: a discharge bath takes the colour all round, and under the blocks on either flat the cloth keeps it.
#[test]
fn a_bath_leaves_the_ground_under_the_blocks() {
    let (process, width_mm) = (Process { discharge: Some(Discharge::default()), ..by_hand() }, 640.0 / 7.0);
    let pattern = FlatPattern::Squares { width_mm, height_mm: width_mm, angle_deg: 0.0, start: None };
    let fold = FlatFold::new(&spec(Centring::Open, pattern, Pack::Zigzag), square(640.0), LAYER_MM).unwrap();
    let block = Block::new(&BlockShape::Disc { diameter_mm: 62.0 }, Point::new(0.5 * width_mm, 0.5 * width_mm), 0.0).unwrap();
    let cell_mm = width_mm / 16.0 * (1.0 + 1e-9);
    let grid = RodGrid::new(&fold, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm, across: 16 }).unwrap();
    let grid = grid.clamped(&Clamp::of(block, Calibration::default().blocks));
    let solve = SolveOptions { residual: 1e-6, most_steps: 200 };
    let bath = DoseField::solve(discharge_system(&grid, &process).unwrap(), None, &solve, &Cancel::new()).unwrap();
    let left = |slab: usize, place: usize, across: usize| {
        1.0 - process.discharged_share(f64::from(bath.fields().value(0, slab, place, across)))
    };
    for place in [0, 48] {
        assert!(left(8, place, 8) > 0.8 && left(0, place, 0) < 0.2, "{} and {} left", left(8, place, 8), left(0, place, 0));
    }
    // Two equal blocks: both flats come out alike, away from the edges, round which different creases run.
    for (slab, across) in [(8, 8), (8, 5), (5, 5)] {
        assert!((left(slab, 0, across) - left(slab, 48, across)).abs() < 1e-2);
    }
}

/// The picture's grid takes as many cells across as the reach asks for, from the bundle's own width.
#[test]
fn wide_bundles_take_more_cells_across() {
    let across = |width_mm: f64| {
        let fold = one_square(width_mm, 0.0);
        GridSpec::fine(&fold, 11.0, 1).across
    };
    assert_eq!([30.0, 60.0, 91.0, 200.0].map(across), [8, 16, 32, 64]);
}
