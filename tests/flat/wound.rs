//! A thread wound round a flat bundle: what it does to the doses, by symmetry, by balance, and where it comes out on the opened cloth.

use crate::bodies::{fold, spec, square, stripes};
use pleatwright::geometry::*;
use pleatwright::layout::{BindEffect, Calibration, DyeBy, Hand, Process, Reach};
use pleatwright::reveal::solver::{Fields, SolveOptions};
use pleatwright::reveal::*;

const SIDE_MM: f64 = 200.0;
const WIDTH_MM: f64 = 40.0;
const ACROSS: usize = 16;
const CELL_MM: f64 = 2.0;
const GAP_MM: f64 = 40.0;

/// A square of cloth in five stripes.
fn strip() -> FlatFold {
    fold(&spec(Centring::Open, stripes(WIDTH_MM, 0.0), Pack::Zigzag), square(SIDE_MM))
}

fn effect() -> BindEffect {
    Process::default().calibration.waxed
}

/// A dye that goes two layers deep, so that the faces differ and both are felt in the middle.
fn by_hand() -> Process {
    let calibration = Calibration { dye_reach: Reach { along_mm: 3.0, through_mm: 1.2 }, ..Calibration::default() };
    Process { dye: DyeBy::ByHand, hand: Hand::EXACT, calibration, ..Process::default() }
}

fn wound_round(fold: &FlatFold, spec: &WrapSpec) -> RodGrid {
    let grid = RodGrid::new(fold, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: CELL_MM, across: ACROSS }).unwrap();
    grid.wound(&Wound { wrap: fold.wrap(spec).unwrap(), breadth_mm: 2.0, effect: effect() })
}

fn spec_of(crossed: bool) -> WrapSpec {
    WrapSpec { from_mm: 0.0, to_mm: SIDE_MM, gap_mm: GAP_MM, crossed }
}

fn dosed(grid: &RodGrid) -> (System, Fields) {
    let solve = SolveOptions { residual: 1e-6, most_steps: 200 };
    let system = || dye_system(grid, &by_hand(), &[Some(0)], 1).unwrap();
    let field = DoseField::solve(system(), None, &solve, &Cancel::new()).unwrap();
    (system(), field.fields().clone())
}

/// The cell that so many cells from the first one end in.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred cells")]
fn cell(at: f64) -> usize {
    at as usize
}

/// Where along a row of cells the dose is least, in slabs, about a slab: between cells by the parabola through three.
fn least_near(dose: impl Fn(usize) -> f64, about: f64) -> f64 {
    let slabs = cell((about - 6.0).round())..=cell((about + 6.0).round());
    let least = slabs.min_by(|&a, &b| dose(a).total_cmp(&dose(b))).unwrap();
    let [before, at, after] = [dose(least - 1), dose(least), dose(least + 1)];
    least as f64 + 0.5 * (before - after) / (before - 2.0 * at + after)
}

/// Turned over about the axis along it, a wound strip is the same, half a turn on: the upper face has become the lower one, and what ran from the
/// one side to the other runs so still.
#[test]
fn turned_over_a_wound_strip_is_the_same_half_a_turn_on() {
    let fold = strip();
    let (_, doses) = dosed(&wound_round(&fold, &spec_of(false)));
    let shape = doses.shape();
    let (places, half_turn) = (shape.places(), cell(0.5 * GAP_MM / CELL_MM));
    let (mut off, mut apart) = (0.0_f64, 0.0_f64);
    for slab in 25..60 {
        for place in 0..places {
            for across in 0..ACROSS {
                let here = f64::from(doses.value(0, slab, place, across));
                let turned = f64::from(doses.value(0, slab + half_turn, places - 1 - place, ACROSS - 1 - across));
                off = off.max((here - turned).abs());
                apart = apart.max((here - f64::from(doses.value(0, slab + half_turn, place, across))).abs());
            }
        }
    }
    assert!(off < 2e-4 && apart > 0.3, "{off} off; half a turn on alone {apart}");
}

/// On the upper face the least doses lie along the thread as it runs, on the lower one along the thread that runs the other way; crossed, both ways
/// lie on both.
#[test]
fn the_faces_slant_opposite_ways() {
    let fold = strip();
    let wrap = fold.wrap(&spec_of(false)).unwrap();
    let (_, doses) = dosed(&wound_round(&fold, &spec_of(false)));
    for (face, place) in [(BundleFace::Upper, 4), (BundleFace::Lower, 0)] {
        let line = wrap.lines(face).nth(2).unwrap();
        let towards = if face == BundleFace::Upper { 1.0 } else { -1.0 };
        for across in [3, 6, 9, 12] {
            let share = (across as f64 + 0.5) / ACROSS as f64;
            let y = share * WIDTH_MM;
            let expected_mm = line.p0.x + (line.p1.x - line.p0.x) * (y - line.p0.y) / (line.p1.y - line.p0.y);
            let found = least_near(|slab| f64::from(doses.value(0, slab, place, across)), expected_mm / CELL_MM - 0.5);
            let found_mm = (found + 0.5) * CELL_MM;
            // Within half a cell, whichever way it slants.
            assert!((found_mm - expected_mm).abs() < 1.0, "{face:?} {across}: {found_mm} against {expected_mm}");
            assert!((line.p1.x - line.p0.x) * towards * (line.p1.y - line.p0.y) > 0.0);
        }
    }
    let (_, crossed) = dosed(&wound_round(&fold, &spec_of(true)));
    // Mirrored across: what is wound there lies where what is wound back did.
    let (mut off, mut once, mut twice) = (0.0_f64, 0.0, 0.0);
    for (slab, across) in (25..60).flat_map(|slab| (0..ACROSS).map(move |across| (slab, across))) {
        let [here, there] = [across, ACROSS - 1 - across].map(|across| f64::from(crossed.value(0, slab, 2, across)));
        off = off.max((here - there).abs());
        once += f64::from(doses.value(0, slab, 4, across));
        twice += f64::from(crossed.value(0, slab, 4, across));
    }
    assert!(twice < 0.98 * once, "twice the thread bars more: {twice} of {once}");
    assert!(off < 1e-3, "the middle layer of a crossed strip is {off} from its mirror image");
}

/// In the middle of the stack both faces' threads press half each: the least doses there are on either line, and less than under none.
#[test]
fn in_the_middle_both_faces_are_felt() {
    let (_, doses) = dosed(&wound_round(&strip(), &spec_of(false)));
    let column =
        |slab: usize, across: usize| (0..5).map(|place| f64::from(doses.value(0, slab, place, across))).collect::<Vec<_>>();
    // At three quarters across the upper thread lies 15 mm on, the lower 25 mm: 80 to 120 is the third turn.
    let (upper, lower, between) = (column(47, 11), column(52, 11), column(57, 11));
    assert!(upper[4] < 0.6 * between[4] && upper[0] > upper[4], "{upper:?} {between:?}");
    assert!(lower[0] < 0.6 * between[0] && lower[4] > lower[0], "{lower:?} {between:?}");
}

/// What comes in over the faces is fixed or given back: nothing is lost under thread (the balance of any finite-volume scheme).
#[test]
fn what_is_given_is_taken() {
    for crossed in [false, true] {
        let (System { source, fixed, leaving, .. }, doses) = dosed(&wound_round(&strip(), &spec_of(crossed)));
        let (mut given, mut taken) = (0.0, 0.0);
        let shape = doses.shape();
        for slab in 0..shape.slabs() {
            for (place, across) in (0..shape.places()).flat_map(|place| (0..shape.across()).map(move |across| (place, across))) {
                let cell = shape.index(slab, place, across);
                given += f64::from(source.value(0, slab, place, across));
                taken += (f64::from(fixed[cell]) + f64::from(leaving[cell])) * f64::from(doses.value(0, slab, place, across));
            }
        }
        assert!((given / taken - 1.0).abs() < 1e-4, "{given} given, {taken} taken");
    }
}

/// On the opened cloth the outermost stripes slant opposite ways, each along its thread carried back through the folds: a stripe that was turned over
/// has it mirrored.
#[test]
fn the_opened_stripes_slant_as_they_were_wound() {
    let fold = strip();
    let wrap = fold.wrap(&spec_of(false)).unwrap();
    let (_, doses) = dosed(&wound_round(&fold, &spec_of(false)));
    for (face, place) in [(BundleFace::Upper, 4_u32), (BundleFace::Lower, 0)] {
        let line = wrap.lines(face).nth(2).unwrap();
        for share in [0.3, 0.5, 0.7] {
            let at = line.p0.lerp(line.p1, share);
            let there = |by_mm: f64| BundlePoint { along_mm: at.x + by_mm, across: at.y / WIDTH_MM, place: f64::from(place) };
            // The cloth under the thread, found through the fold, comes back to where it lay.
            let cloth = fold.to_cloth(there(0.0)).unwrap();
            let back = fold.to_bundle(cloth).unwrap();
            assert!((back.along_mm - at.x).abs() < 1e-9 && back.layer() == place);
            let beside = fold.to_cloth(there(0.25 * GAP_MM)).unwrap();
            let dose = |cloth: ClothPoint| {
                let at = fold.to_bundle(cloth).unwrap();
                let (slab, across) = (cell(at.along_mm / CELL_MM), cell(at.across * ACROSS as f64));
                f64::from(doses.value(0, slab, at.layer() as usize, across))
            };
            assert!(dose(cloth) < 0.5 * dose(beside), "{face:?} {share}: {} beside {}", dose(cloth), dose(beside));
        }
    }
}
