//! Dye in pucks: against textbook solutions of a slab and of a cylinder, and without a seam where the ring closes.

use crate::bodies::{fold, spec, tee};
use pleatwright::geometry::*;
use pleatwright::layout::{BindEffect, DyeBy, Hand, Process, Reach, Rest};
use pleatwright::reveal::solver::{Fields, SolveOptions, Solved};
use pleatwright::reveal::*;

/// Faces fed alike, hands exact.
fn by_hand() -> Process {
    Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() }
}

const BAND: BindEffect = BindEffect { conductance: 0.05, cover: 0.9, beyond_mm: 1.0 };

fn grid(fold: &SpiralFold, bands: &[RodBind], cell_mm: f64, across: usize) -> RodGrid {
    RodGrid::new(fold, &Cloth::default(), bands, 1.0, &GridSpec { cell_mm, across }).unwrap()
}

fn solved(grid: &RodGrid, process: &Process, section_dyes: &[Option<usize>], dyes: usize) -> (Fields, Solved) {
    let system = dye_system(grid, process, section_dyes, dyes).unwrap();
    let field = DoseField::solve(system, None, &SolveOptions { residual: 3e-6, most_steps: 100 }, &Cancel::new()).unwrap();
    (field.fields().clone(), field.solved())
}

/// Deep within, a puck that is fed over both faces is a slab between two films: the dose in its middle is `1 / (cosh phi + b sinh phi)`
/// (Thiele 1939, as in `tests/reference/thiele.csv`; the film as in Crank, *The Mathematics of Diffusion*, 1975, on surface evaporation, from
/// memory).
#[test]
fn faces_let_in_what_thiele_says() {
    let (process, reach) = (by_hand(), by_hand().dye_reach());
    for height_mm in [24.0, 40.0, 66.0] {
        let fold = fold(&SpiralSpec { puck_height_mm: Some(height_mm), ..spec() }, tee());
        let grid = grid(&fold, &[], 18.0, 16);
        let (doses, _) = solved(&grid, &process, &[Some(0)], 1);
        let (phi, sheet_mm) =
            (0.5 * height_mm / reach.along_mm, fold.spiral().radius_mm() / f64::from(fold.places()) / grid.place_layers());
        let film = 0.5 * sheet_mm * reach.along_mm / (reach.through_mm * reach.through_mm);
        for place in [0, 5, 12] {
            let found = 0.5 * f64::from(doses.value(0, 7, place, 7) + doses.value(0, 7, place, 8));
            // The cells' middles lie half a cell from the puck's.
            let expected = (phi / 16.0).cosh() / (phi.cosh() + film * phi.sinh());
            assert!((found / expected - 1.0).abs() < 0.01, "{found} of {expected} at place {place}, {height_mm} mm high");
        }
    }
}

/// The modified Bessel function of order 0, by its series (Abramowitz and Stegun, *Handbook of Mathematical Functions*, 9.6.12).
fn bessel_i0(x: f64) -> f64 {
    let (mut term, mut sum) = (1.0, 1.0);
    for k in 1..80_u32 {
        term *= 0.25 * x * x / f64::from(k * k);
        sum += term;
    }
    sum
}

/// Between two faces that are far away a puck fed over its rim is a cylinder: doses fall inward as `I0(rho / reach)` does.
#[test]
fn a_rim_lets_in_what_bessel_says() {
    let process = by_hand();
    let fold = fold(&SpiralSpec { puck_height_mm: Some(290.0), puck_diameter_mm: 60.0, ..spec() }, tee());
    let grid = grid(&fold, &[], 6.0, 8);
    let (doses, _) = solved(&grid, &process, &[Some(0)], 1);
    let (places, reach_mm) = (fold.places() as usize, process.dye_reach().through_mm);
    let rho_mm = |place: usize| (place as f64 + 0.5) * fold.spiral().radius_mm() / places as f64;
    let dose = |place: usize| f64::from(doses.value(0, 3, place, 4));
    let outer = places - 1;
    for place in [0, 2, places / 2, places - 3] {
        let expected = bessel_i0(rho_mm(place) / reach_mm) / bessel_i0(rho_mm(outer) / reach_mm);
        let found = dose(place) / dose(outer);
        assert!((found / expected - 1.0).abs() < 0.05, "{found} of {expected} at {} mm", rho_mm(place));
    }
}

/// Pucks of every size are solved in fewer steps than a picture allows, however far dye reaches.
#[test]
fn pucks_of_every_size_are_solved() {
    for (puck_diameter_mm, puck_height_mm, along_mm) in [(120.0, 70.0, 11.0), (190.0, 32.0, 25.0), (300.0, 16.0, 7.0)] {
        let fold = fold(&SpiralSpec { puck_diameter_mm, puck_height_mm: Some(puck_height_mm), ..spec() }, tee());
        let mut process = by_hand();
        process.calibration.dye_reach = Reach { along_mm, through_mm: 0.5 * along_mm };
        let system = dye_system(&grid(&fold, &[], 6.0, 8), &process, &[Some(0)], 1).unwrap();
        let solve = SolveOptions { residual: 3e-4, most_steps: 60 };
        let steps = DoseField::solve(system, None, &solve, &Cancel::new()).unwrap().solved().steps;
        assert!(steps < 45, "{steps} steps for {puck_diameter_mm} mm");
    }
}

/// A ring is alike all round: with its bands and dyes turned by some cells the doses are turned by as many, over its zero too. Cut open
/// there, wedges beside the cut would differ.
#[test]
fn a_ring_has_no_seam() {
    let fold = fold(&spec(), tee());
    let bare = grid(&fold, &[], 6.0, 8);
    let (slabs, cell_mm) = (bare.shape().slabs(), bare.cell_mm());
    let bands = |turned: usize| -> Vec<RodBind> {
        let mut along: Vec<f64> =
            (0..6).map(|band| ((band * slabs / 6 + turned) % slabs) as f64 * cell_mm + 0.3 * cell_mm).collect();
        along.sort_by(f64::total_cmp);
        along.into_iter().map(|along_mm| RodBind::band(along_mm, 4.0, BAND)).collect()
    };
    let process = by_hand();
    let dyes = |first: usize| -> Vec<Option<usize>> { (0..6).map(|section| Some((section + first) % 3)).collect() };
    let (own, counted) = solved(&grid(&fold, &bands(0), 6.0, 8), &process, &dyes(0), 3);
    assert!(counted.steps < 60, "{counted:?}");
    // Turned so far that the last band has gone over the zero, the first section is another one.
    for (turned, first) in [(3, 0), (slabs / 6 + 2, 5)] {
        let (turned_doses, _) = solved(&grid(&fold, &bands(turned), 6.0, 8), &process, &dyes(first), 3);
        for slab in 0..slabs {
            for place in (0..fold.places() as usize).step_by(5) {
                for dye in 0..3 {
                    let (a, b) = (own.value(dye, slab, place, 6), turned_doses.value(dye, (slab + turned) % slabs, place, 6));
                    assert!((a - b).abs() < 2e-4, "{a} and {b} at slab {slab}, place {place}, dye {dye}, turned by {turned}");
                }
            }
        }
    }
}

/// Powder on the upper face feeds it most; the puck lies on the other, whatever a rod would lie on. Nowhere is more dye than lies on it.
#[test]
fn powder_feeds_the_upper_face() {
    let fold = fold(&spec(), tee());
    let grid = grid(&fold, &[], 6.0, 8);
    let process = Process { hand: Hand::EXACT, ..Process::default() };
    let (up, _) = solved(&grid, &process, &[Some(0)], 1);
    let (flat, _) = solved(&grid, &Process { rest: Rest::OnItsFlat, ..process }, &[Some(0)], 1);
    let (turned, _) = solved(&grid, &Process { rest: Rest::TurnedHalfWay, ..process }, &[Some(0)], 1);
    assert_eq!(up, flat);
    for place in [2, 20, 37] {
        let at = |doses: &Fields, across: usize| doses.value(0, 4, place, across);
        assert!(at(&up, 7) > 1.5 * at(&up, 0) && at(&up, 7) < 1.0, "{} over {}", at(&up, 7), at(&up, 0));
        assert!((at(&turned, 7) - at(&turned, 0)).abs() < 1e-3);
    }
}

/// The cells of a grid hold as much cloth as the garment has.
#[test]
fn the_grid_holds_the_cloth() {
    let fold = fold(&spec(), tee());
    let bands: Vec<RodBind> =
        (0..6).map(|band| RodBind::band(20.0 + f64::from(band) * fold.length_mm() / 6.0, 4.0, BAND)).collect();
    let grid = grid(&fold, &bands, 6.0, 8);
    let shape = grid.shape();
    let slab_mm2 = |slab: usize| -> f64 {
        (0..shape.plane()).map(|cell| grid.cloth_mm2(slab, cell / shape.across(), cell % shape.across())).sum()
    };
    let all: f64 = (0..shape.slabs()).map(slab_mm2).sum();
    let cloth_mm2: f64 = fold.lay().panels().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
    assert!((all / cloth_mm2 - 1.0).abs() < 1e-9, "{all} of {cloth_mm2}");
}
