//! The reveal: the solver against textbook solutions, laws of the equations in a rod, and what the opened cloth has to show.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod common;

use kurbo::Point;
use pleatwright::edit::{Document, EditCommand};
use pleatwright::geometry::{Fold as _, Panel, ThreadKind};
use pleatwright::layout::{Discharge, DyeBy, Hand, Layout, Process, Rest, Swatch, raw::LayoutV1};
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::solver::{Fields, GridShape, Multigrid, Operator, SolveOptions};
use pleatwright::reveal::*;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use proptest::prelude::*;

fn example(name: &str) -> LayoutV1 {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap();
    parse_layout(example.text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}")).raw().clone()
}

/// The tee in size M, changed.
fn tee(change: impl FnOnce(&mut LayoutV1)) -> Layout {
    let mut raw = example("harbour-row-tee-m.ron");
    raw.process.hand = Hand::EXACT;
    change(&mut raw);
    Layout::try_from(raw).unwrap()
}

fn coarse() -> RevealOptions {
    RevealOptions { pixel_mm: 4.0, grid: GridSpec { cell_mm: 4.0, across: 8 }, ..RevealOptions::default() }
}

fn exact() -> SolveOptions {
    SolveOptions { residual: 1e-6, most_steps: 200 }
}

fn solve(operator: Operator, source: &Fields) -> Fields {
    let mut x = Fields::zero(source.shape(), source.count());
    Multigrid::new(operator, source.count()).solve(source, &mut x, &exact(), &Cancel::new()).unwrap();
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
        let mut source = Fields::zero(shape, 1);
        operator.diagonal.fill(0.0);
        let join = |operator: &mut Operator, from: usize, to: usize, coupling: f64| {
            operator.diagonal[from] += stored(coupling);
            operator.diagonal[to] += stored(coupling);
            stored(coupling)
        };
        for slab in 0..shape.slabs {
            for place in 0..shape.places {
                for across in 0..shape.across {
                    let (at, cell) = (shape.index(slab, place, across), cell(slab, place, across));
                    operator.diagonal[at] += stored(cell.loss + cell.face);
                    let row = source.row(place, 0);
                    source.slab_mut(slab)[row + across] = stored(cell.face);
                    if slab > 0 {
                        operator.along[at] = join(&mut operator, at, at - shape.plane(), cell.along_below);
                    }
                    if place + 1 < shape.places {
                        operator.stack[at] = join(&mut operator, at, at + shape.across, cell.stack);
                    }
                    if across + 1 < shape.across {
                        operator.across[at] = join(&mut operator, at, at + 1, cell.across);
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
        for slab in 0..shape.slabs {
            for place in 0..shape.places {
                for across in 0..shape.across {
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
        'r' => GridShape { slabs: cells, places: 3, across: 8 },
        _ => GridShape { slabs: 4, places: cells, across: 8 },
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
    let shape = GridShape { slabs: cells, places: 2, across: 2 };
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
    let spec = coarse().grid;
    let flat_after = process.calibration.flat_after_diameters;
    let grid = RodGrid::new(layout.fold(), layout.cloth(), &rod_binds(layout), flat_after, &spec).unwrap();
    let system = dye_system(&grid, process, &layout.section_colours(), 3).unwrap();
    (grid, system)
}

/// What is fixed, seeps off and goes back over the faces is what came in: columns of the operator sum to what a dose loses. In the
/// discharge bath nothing seeps, and fixed dose and exchange over the faces balance exactly.
#[test]
fn what_enters_is_fixed() {
    let layout = tee(|_| {});
    let (grid, _) = system(&layout);
    let system = discharge_system(&grid, layout.process());
    let (source, fixed, shape) = (system.source.clone(), system.fixed.clone(), grid.shape());
    let x = solve(system.operator, &source);
    let (mut taken, mut entered) = (0.0, 0.0);
    for slab in 0..shape.slabs {
        for place in 0..shape.places {
            for across in 0..shape.across {
                let dose = f64::from(x.value(0, slab, place, across));
                taken += f64::from(fixed[shape.index(slab, place, across)]) * dose;
                // At full strength the face lets in as much as it conducts, less what the cell already holds.
                entered += f64::from(source.value(0, slab, place, across)) * (1.0 - dose);
            }
        }
    }
    assert!(taken > 0.0);
    assert_close!(entered / taken, 1.0, 1e-3);
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
        for slab in 0..grid.used_slabs() {
            for place in 0..shape.places {
                for across in 0..shape.across {
                    let doses = [0, 1, 2].map(|dye| f64::from(x.value(dye, slab, place, across)));
                    prop_assert!(doses.iter().all(|&dose| dose > -1e-3), "{doses:?}");
                    prop_assert!(doses.iter().sum::<f64>() < 1.0 + 1e-3, "{doses:?}");
                }
            }
        }
    }
}

/// Halving the cells along the rod changes what is fixed of each dye by little, and by less each time.
#[test]
fn finer_grids_converge() {
    let layout = tee(|_| {});
    let fixed = |cell_mm: f64| {
        let options = RevealOptions { grid: GridSpec { cell_mm, across: 8 }, ..coarse() };
        let rod = rod_doses(&layout, &options, None, &Cancel::new()).unwrap();
        let fixed = dye_system(&rod.grid, layout.process(), &layout.section_colours(), 3).unwrap().fixed;
        let (fields, shape) = (rod.dyes.as_ref().unwrap().fields(), rod.grid.shape());
        let total = |dye: usize| -> f64 {
            let cell = |index: usize| {
                let (slab, rest) = (index / shape.plane(), index % shape.plane());
                f64::from(fixed[index]) * f64::from(fields.value(dye, slab, rest / shape.across, rest % shape.across))
            };
            (0..shape.cells()).map(cell).sum()
        };
        [0, 1, 2].map(total)
    };
    let apart = |a: [f64; 3], b: [f64; 3]| a.iter().zip(b).map(|(a, b)| (a / b - 1.0).abs()).fold(0.0, f64::max);
    let (coarse, middle, fine) = (fixed(2.0), fixed(1.0), fixed(0.5));
    let (first, second) = (apart(coarse, middle), apart(middle, fine));
    assert!(second < 0.7 * first && second < 0.015, "{first} {second}");
}

/// A nested burst with its centre on the fold, evenly rested and exactly folded, opens to the same picture left and right.
#[test]
fn a_nested_burst_opens_to_its_own_mirror_image() {
    let layout = tee(|raw| raw.process.rest = Rest::TurnedHalfWay);
    let reveal = reveal_doses(&layout, &coarse(), &Cancel::new()).unwrap();
    for map in [Some(&reveal.front), reveal.back.as_ref()].into_iter().flatten() {
        let (width, dyes) = (map.frame.width, map.dyes);
        let mut apart = Vec::new();
        for pixel in (0..map.coverage.len()).filter(|&pixel| map.coverage[pixel] > 0.5) {
            let (row, column) = (pixel / width, pixel % width);
            let mirrored = row * width + width - 1 - column;
            for dye in 0..dyes {
                apart.push((map.doses[pixel * dyes + dye] - map.doses[mirrored * dyes + dye]).abs());
            }
        }
        // The two halves are neighbours in the stack, not one layer: they differ by what a layer of cloth holds back.
        apart.sort_by(f32::total_cmp);
        let (mean, nearly_worst) = (apart.iter().sum::<f32>() / apart.len() as f32, apart[apart.len() * 99 / 100]);
        assert!(mean < 0.015 && nearly_worst < 0.15, "{mean} {nearly_worst}");
    }
}

/// Input that is its own mirror image across the pleat gives a solution that is, but for rounding (1e-6): the neighbours across are
/// added in a fixed order, so not to the last bit.
#[test]
fn mirrored_input_gives_mirrored_doses() {
    let shape = GridShape { slabs: 16, places: 9, across: 8 };
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
                let (a, b) = (x.value(0, slab, place, across), x.value(0, slab, place, 7 - across));
                assert!((a - b).abs() <= 1e-6 * a.abs().max(1e-3), "{a} {b}");
            }
        }
    }
}

/// Waxed thread bars the bath from the ring under it, plain string does not (common practice, no source).
#[test]
fn waxed_thread_keeps_the_first_colour_and_plain_string_does_not() {
    let under_the_thread = |kind: ThreadKind| {
        let layout = tee(|raw| {
            raw.thread.kind = kind;
            raw.process.discharge = Some(Discharge::default());
        });
        let options = RevealOptions { grid: GridSpec { cell_mm: 1.0, across: 8 }, ..coarse() };
        let rod = rod_doses(&layout, &options, None, &Cancel::new()).unwrap();
        let bath = rod.bath.unwrap();
        let guide = layout.burst().guide_radius_mm();
        let slab = (0..rod.grid.used_slabs())
            .min_by(|&a, &b| (rod.grid.along_mm(a) - guide).abs().total_cmp(&(rod.grid.along_mm(b) - guide).abs()));
        // All cloth under the middle of the thread, inside and out.
        let (slab, shape) = (slab.unwrap(), rod.grid.shape());
        let cells = (0..shape.plane()).map(|cell| (cell / shape.across, cell % shape.across));
        let cloth: Vec<f64> = cells
            .filter(|&(place, across)| rod.grid.is_cloth(slab, place, across))
            .map(|(place, across)| layout.process().discharged_share(f64::from(bath.fields().value(0, slab, place, across))))
            .collect();
        // Plain string has to let the bath through at the surface only.
        if kind == ThreadKind::Waxed {
            cloth.iter().sum::<f64>() / cloth.len() as f64
        } else {
            cloth.into_iter().fold(0.0, f64::max)
        }
    };
    let (waxed, plain) = (under_the_thread(ThreadKind::Waxed), under_the_thread(ThreadKind::PlainString));
    assert!(waxed < 0.1, "{waxed} of the colour is gone under waxed thread");
    assert!(plain > 0.8, "{plain} of the colour is gone under plain string");
}

/// Between two neighbouring colours the change lies under their bind, within 1 mm.
#[test]
fn colours_change_at_their_binds() {
    let layout = tee(|_| {});
    let options = RevealOptions { grid: GridSpec { cell_mm: 1.0, across: 8 }, ..coarse() };
    let rod = rod_doses(&layout, &options, None, &Cancel::new()).unwrap();
    let (grid, fields) = (&rod.grid, rod.dyes.as_ref().unwrap().fields());
    let colours = layout.section_colours();
    let binds = &layout.binds().binds;
    // At the upper creases of the middle of the stack.
    let (place, across) = (grid.shape().places / 2, 7);
    for (index, bind) in binds.iter().enumerate().skip(4).take(binds.len() - 6) {
        let [Some(inner), Some(outer)] = [colours[index], colours[index + 1]] else { panic!("every section has a colour") };
        let excess = |slab: usize| {
            f64::from(fields.value(inner, slab, place, across)) - f64::from(fields.value(outer, slab, place, across))
        };
        let near = (0..grid.used_slabs() - 1).filter(|&slab| (grid.along_mm(slab) - bind.radius_mm).abs() < 8.0);
        let change = near.clone().find(|&slab| excess(slab) > 0.0 && excess(slab + 1) <= 0.0);
        let slab = change.unwrap_or_else(|| panic!("no change at bind {index}: {:?}", near.map(excess).collect::<Vec<_>>()));
        let share = excess(slab) / (excess(slab) - excess(slab + 1));
        let at_mm = grid.along_mm(slab) + share * grid.cell_mm();
        assert_close!(at_mm, bind.radius_mm, 1.0, "bind {index}");
    }
}

/// The same layout gives the same bytes, on one thread and on several.
#[test]
fn the_same_layout_gives_the_same_bytes() {
    let layout = Layout::try_from(example("harbour-row-tee-m.ron")).unwrap();
    let run = || {
        let reveal = reveal_doses(&layout, &coarse(), &Cancel::new()).unwrap();
        (reveal.front.doses, reveal.front.discharged, reveal.back.unwrap().doses)
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
        let sections = layout.binds().binds.len() + 1;
        assert_eq!(reveal.summary.len(), sections, "{name}");
        for map in std::iter::once(&reveal.front).chain(&reveal.back) {
            let pixels = map.coverage.iter().zip(&map.section);
            assert!(pixels.clone().all(|(&covered, &section)| (covered > 0.0) == (section > 0)), "{name}");
            assert!(map.doses.iter().chain(&map.discharged).all(|dose| (0.0..=1.01).contains(dose)), "{name}");
        }
        assert_eq!(reveal.back.is_some(), layout.fold().layers() != 1 && name != "harbour-row-bandana.ron", "{name}");
    }
}

#[test]
fn work_stops_when_asked_and_says_what_is_wrong() {
    let (layout, cancel) = (tee(|_| {}), Cancel::new());
    cancel.cancel();
    assert_eq!(reveal_doses(&layout, &coarse(), &cancel).unwrap_err(), RevealError::Cancelled);
    let tiny = RevealOptions { pixel_mm: 0.06, ..coarse() };
    assert!(matches!(reveal_doses(&layout, &tiny, &Cancel::new()), Err(RevealError::TooManyPixels { .. })));
    let fine = RevealOptions { grid: GridSpec { cell_mm: 0.2, across: 16 }, ..coarse() };
    assert!(matches!(reveal_doses(&layout, &fine, &Cancel::new()), Err(RevealError::TooManyCells { .. })));
}

/// Writes the dye system of the tee and our solution for `tests/reference/solve_with_scipy.py` to solve again.
#[test]
#[ignore = "writes 100 MB for a script that is run by hand"]
fn write_the_system_for_other_solvers() {
    use pleatwright::reveal::solver::{write_matrix, write_vector};
    use std::{fs::File, io::BufWriter, path::Path};
    let layout = tee(|_| {});
    let flat_after = layout.process().calibration.flat_after_diameters;
    let spec = GridSpec { cell_mm: 2.9, across: 8 };
    let grid = RodGrid::new(layout.fold(), layout.cloth(), &rod_binds(&layout), flat_after, &spec).unwrap();
    let system = dye_system(&grid, layout.process(), &layout.section_colours(), 5).unwrap();
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let file = |name: &str| BufWriter::new(File::create(folder.join(name)).unwrap());
    write_matrix(&system.operator, &mut file("operator.mtx")).unwrap();
    write_vector(&system.source, &mut file("source.mtx")).unwrap();
    let start = std::time::Instant::now();
    let mut x = Fields::zero(system.source.shape(), 5);
    let mut multigrid = Multigrid::new(system.operator.clone(), 5);
    multigrid.solve(&system.source, &mut x, &SolveOptions::default(), &Cancel::new()).unwrap();
    let seconds = start.elapsed().as_secs_f64();
    write_vector(&solve(system.operator, &system.source), &mut file("solution.mtx")).unwrap();
    std::fs::write(folder.join("seconds.txt"), format!("{seconds}")).unwrap();
}

/// The probe reads what the picture shows: doses, ground and section of the pixel that it points at, on both panels.
#[test]
fn the_probe_reads_what_the_picture_shows() {
    let layout = Layout::try_from(example("harbour-row-tee-m.ron")).unwrap();
    let reveal = reveal_doses(&layout, &RevealOptions { pixel_mm: 2.0, ..coarse() }, &Cancel::new()).unwrap();
    for map in reveal.panels() {
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
            assert!((probe.along_mm - at.distance(layout.burst().centre())).abs() < 12.0, "{probe:?}");
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
    assert_eq!(advice.iter().map(|advice| advice.sections.len()).sum::<usize>(), asked);
    assert!(!advice.is_empty() && advice.len() <= Fix::ALL.len());
    for advice in &advice {
        assert!(advice.sections.iter().all(|&number| reveal.summary[number - 1].fixes.contains(&advice.fix)));
    }
}

/// Process and discharged colour are changed by commands, which say what they do and can be undone.
#[test]
fn process_and_discharged_colour_are_edited() {
    let mut document = Document::new(tee(|_| {}));
    let process = Process { rest: Rest::OnItsFlat, ..*document.layout().process() };
    let rose = Swatch { name: "rose".to_owned(), srgb: "#d8a8a0".parse().unwrap() };
    document.perform(&EditCommand::SetProcess(process)).unwrap();
    document.perform(&EditCommand::SetDischargedColour(Some(rose.clone()))).unwrap();
    assert_eq!((document.layout().process(), &document.layout().raw().garment.discharged), (&process, &Some(rose)));
    assert_eq!(document.history().undo_label(), Some("colour discharged cloth"));
    let wrong = Process { discharge: Some(Discharge { strength: f64::NAN }), ..process };
    assert_eq!(document.perform(&EditCommand::SetProcess(wrong)).unwrap_err().field, "process.discharge.strength");
}
