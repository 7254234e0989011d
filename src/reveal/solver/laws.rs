//! Laws that the parts of the solver keep, on a system with all that is hard in it: strong and weak couplings side by side, slabs
//! parted from each other, missing cells, an odd number of slabs; and on one whose places have widths of their own and run out to nothing.

#![allow(clippy::unwrap_used, reason = "a test that fails should stop")]
#![allow(clippy::cast_possible_truncation, reason = "values are kept in f32")]

use super::block::{Grid, SlabsMut};
use super::level::Level;
use super::multigrid::Multigrid;
use super::*;

/// Slabs, places and cells across of a hard system.
const HARD: [usize; 3] = [37, 9, 8];

fn shape([slabs, places, across]: [usize; 3]) -> GridShape {
    GridShape::new(slabs, places, across).unwrap()
}

/// Numbers between 0 and 1, the same each time (Lehmer's generator).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }
}

/// A system of random couplings over six orders of magnitude: tight slabs conduct little, and some cells are missing.
fn hard(shape: GridShape, seed: u64) -> (Operator, Fields) {
    let mut numbers = Numbers(seed);
    let mut operator = Operator::unit(shape);
    let tight: Vec<f64> = (0..shape.slabs()).map(|slab| if slab % 7 < 2 { 1e-3 } else { 1.0 }).collect();
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            for across in 0..shape.across() {
                let at = shape.index(slab, place, across);
                let cloth = if numbers.next() < 0.1 { 0.0 } else { 1.0 };
                let coupling = |numbers: &mut Numbers, scale: f64| (scale * (0.5 + numbers.next())) as f32;
                if slab > 0 {
                    operator.along[at] = coupling(&mut numbers, 50.0 * cloth * tight[slab].min(tight[slab - 1]));
                }
                if place + 1 < shape.places() {
                    operator.stack[at] = coupling(&mut numbers, 300.0 * tight[slab]);
                }
                if across + 1 < shape.across() {
                    operator.across[at] = coupling(&mut numbers, 10.0 * cloth * tight[slab]);
                }
                operator.loss[at] = (0.01 + numbers.next()) as f32;
            }
        }
    }
    (operator, random(shape, 3, seed + 1))
}

/// A system of the shape that folds along lines have: layers half a millimetre thick, of which every third, or half of it, grows narrower
/// along the rod until it ends, each at a slab of its own; where it has ended its neighbours lie on each other.
fn unequal(shape: GridShape, seed: u64) -> (Operator, Fields) {
    const LENGTH_MM: f64 = 2.0;
    const LAYER_MM: f64 = 0.5;
    const ALONG_MM2: f64 = 30.0;
    const THROUGH_MM2: f64 = 4.0;
    let mut operator = Operator::unit(shape);
    let cell_mm = 72.0 / shape.across() as f64;
    let end = |place: usize| shape.slabs() / 2 + place;
    let runs_out = |place: usize, across: usize| place % 3 == 1 && (place % 2 == 1 || 2 * across >= shape.across());
    let is_there = |slab: usize, place: usize, across: usize| !runs_out(place, across) || slab < end(place);
    // A gap is as wide as the layers that lie on each other through it.
    let width_mm = |slab: usize, place: usize, across: usize| {
        let is_narrow = runs_out(place, across) && slab < end(place);
        if is_narrow { cell_mm * (end(place) as f64 - slab as f64 - 0.9) / end(place) as f64 } else { cell_mm }
    };
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            for across in 0..shape.across() {
                let (at, width) = (shape.index(slab, place, across), width_mm(slab, place, across));
                let is_cloth = is_there(slab, place, across);
                if slab > 0 && is_cloth {
                    operator.along[at] = (ALONG_MM2 * LAYER_MM * width / LENGTH_MM) as f32;
                }
                if place + 1 < shape.places() {
                    let shared = width.min(width_mm(slab, place + 1, across));
                    operator.stack[at] = (THROUGH_MM2 * LENGTH_MM * shared / LAYER_MM) as f32;
                }
                if across + 1 < shape.across() && is_cloth && is_there(slab, place, across + 1) {
                    let apart = 0.5 * (width + width_mm(slab, place, across + 1));
                    operator.across[at] = (ALONG_MM2 * LAYER_MM * LENGTH_MM / apart) as f32;
                }
                operator.loss[at] = if is_cloth { (LENGTH_MM * LAYER_MM * width) as f32 } else { 0.0 };
            }
        }
    }
    // What is fed to a cell goes by its size.
    let mut b = random(shape, 3, seed);
    b.scale_cells(&operator.loss);
    (operator, b)
}

fn random(shape: GridShape, count: usize, seed: u64) -> Fields {
    let (mut numbers, mut fields) = (Numbers(seed), Fields::zero(shape, count).unwrap());
    fields.values.fill_with(|| (numbers.next() - 0.3) as f32);
    fields
}

fn solve(operator: Operator, b: &Fields) -> (Fields, Solved) {
    let mut x = b.zero_on(b.shape());
    let solved =
        ConjugateGradients::new(operator, b.count()).unwrap().solve(b, &mut x, &SolveOptions::default(), &|| false).unwrap();
    (x, solved)
}

fn dot(a: &Fields, b: &Fields) -> f64 {
    a.values.iter().zip(&b.values).map(|(&a, &b)| f64::from(a) * f64::from(b)).sum()
}

/// The fields turned over: the cells across in reverse, or the places.
fn mirrored(fields: &Fields, through: bool) -> Fields {
    let (shape, mut turned) = (fields.shape(), fields.clone());
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            for field in 0..fields.count() {
                for across in 0..shape.across() {
                    let (from_place, from_across) =
                        if through { (shape.places() - 1 - place, across) } else { (place, shape.across() - 1 - across) };
                    let to = turned.row(place, field) + across;
                    turned.slab_mut(slab)[to] = fields.value(field, slab, from_place, from_across);
                }
            }
        }
    }
    turned
}

fn mirrored_operator(operator: &Operator, through: bool) -> Operator {
    let (shape, mut turned) = (operator.shape, Operator::unit(operator.shape));
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            for across in 0..shape.across() {
                let at = shape.index(slab, place, across);
                let (from_place, from_across) =
                    if through { (shape.places() - 1 - place, across) } else { (place, shape.across() - 1 - across) };
                let from = shape.index(slab, from_place, from_across);
                (turned.along[at], turned.loss[at]) = (operator.along[from], operator.loss[from]);
                // A coupling is kept at the lower of its two cells.
                let lower = |turned: bool, from: usize, by: usize| if turned { from.checked_sub(by) } else { Some(from) };
                if place + 1 < shape.places() {
                    turned.stack[at] = lower(through, from, shape.across()).map_or(0.0, |from| operator.stack[from]);
                }
                if across + 1 < shape.across() {
                    turned.across[at] = lower(!through, from, 1).map_or(0.0, |from| operator.across[from]);
                }
            }
        }
    }
    turned
}

#[test]
fn a_mirrored_system_has_the_mirrored_solution_to_the_last_bit() {
    for [places, across] in [[8, 8], [9, 8], [8, 16], [9, 32], [9, 64]] {
        for system in [hard, unequal] {
            let (operator, b) = system(shape([37, places, across]), 7);
            let (x, _) = solve(operator.clone(), &b);
            for through in [false, true] {
                let (turned, _) = solve(mirrored_operator(&operator, through), &mirrored(&b, through));
                assert_eq!(turned, mirrored(&x, through), "{places} places, {across} across, through the stack: {through}");
            }
        }
    }
}

#[test]
fn any_number_of_processors_gives_the_same_bytes() {
    for system in [hard, unequal] {
        let (operator, b) = system(shape([211, 9, 8]), 11);
        let with = |threads: usize| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| solve(operator.clone(), &b).0)
        };
        assert_eq!(with(1), with(3));
    }
}

/// Thread that parts slabs from each other costs a few steps, not many; the solution is checked by its residual in f64.
#[test]
fn hard_systems_are_solved_in_few_steps() {
    for (extent, most) in [
        (HARD, 12),
        ([37, 9, 16], 12),
        ([37, 9, 32], 12),
        ([37, 9, 64], 12),
        ([37, 9, 1], 12),
        ([37, 1, 8], 12),
        ([1, 9, 8], 8),
        ([2, 2, 2], 8),
        ([1, 1, 1], 2),
    ] {
        let (operator, b) = hard(shape(extent), 5);
        solves_within(most, &operator, &b);
    }
}

/// Places that run out to nothing cost few steps: cells so narrow that the lines through them hold each other fast took 13 to 47.
#[test]
fn places_that_run_out_are_solved_in_few_steps() {
    for (extent, most) in [([37, 9, 4], 8), ([37, 9, 8], 8), ([37, 9, 16], 8), ([75, 18, 32], 8), ([75, 9, 64], 8)] {
        let (operator, b) = unequal(shape(extent), 5);
        solves_within(most, &operator, &b);
    }
}

fn solves_within(most: usize, operator: &Operator, b: &Fields) {
    let (shape, (x, solved)) = (operator.shape, solve(operator.clone(), b));
    assert!(solved.steps <= most, "{shape:?}: {solved:?}");
    let (mut left, mut all) = (0.0, 0.0);
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            for across in 0..shape.across() {
                let residual = f64::from(b.value(0, slab, place, across)) - product(operator, &x, slab, place, across);
                left += residual * residual;
                all += f64::from(b.value(0, slab, place, across)).powi(2);
            }
        }
    }
    assert!((left / all).sqrt() < 1.5e-4, "{shape:?}: {}", (left / all).sqrt());
}

/// A row of `A x` of the first field, in f64.
fn product(operator: &Operator, x: &Fields, slab: usize, place: usize, across: usize) -> f64 {
    let shape = operator.shape;
    let at = shape.index(slab, place, across);
    let value = |slab: usize, place: usize, across: usize| f64::from(x.value(0, slab, place, across));
    let mut sum = operator.diagonal(at) * value(slab, place, across);
    let mut less = |coupling: f32, slab: usize, place: usize, across: usize| {
        if coupling != 0.0 {
            sum -= f64::from(coupling) * value(slab, place, across);
        }
    };
    // On a rod nothing couples the first slab to the last.
    less(operator.along[at], (slab + shape.slabs() - 1) % shape.slabs(), place, across);
    less(operator.along[at + shape.plane()], (slab + 1) % shape.slabs(), place, across);
    less(operator.stack[at], slab, place + 1, across);
    less(operator.across[at], slab, place, across + 1);
    if place > 0 {
        less(operator.stack[at - shape.across()], slab, place - 1, across);
    }
    if across > 0 {
        less(operator.across[at - 1], slab, place, across - 1);
    }
    sum
}

/// Restriction is the transpose of prolongation, and what one cycle does to residuals is symmetric: conjugate gradients ask for it.
#[test]
fn a_cycle_is_symmetric() {
    for system in [hard, unequal] {
        let shape = shape([97, 9, 8]);
        let (operator, _) = system(shape, 3);
        let (a, b) = (random(shape, 3, 17), random(shape, 3, 19));
        let mut multigrid = Multigrid::new(operator, &a);
        let mut cycled = |r: &Fields| {
            let (mut relaxed, mut z) = (r.zero_on(shape), r.zero_on(shape));
            multigrid.turn(r, &mut relaxed, &mut z);
            z
        };
        let (cycled_a, cycled_b) = (cycled(&a), cycled(&b));
        let (one, other) = (dot(&cycled_a, &b), dot(&a, &cycled_b));
        let scale = (dot(&cycled_a, &a) * dot(&cycled_b, &b)).sqrt();
        assert!((one - other).abs() < 1e-5 * scale, "{one} and {other}, of {scale}");
    }
}

/// A line on its own is solved by one relaxation, however many places it has.
#[test]
fn relaxation_solves_lines_exactly() {
    for places in 1..8 {
        let shape = shape([1, places, 1]);
        let (operator, b) = hard(shape, 23);
        let mut x = Fields::zero(shape, 3).unwrap();
        let mut line = SlabsMut::all(Grid::Fine, &mut x);
        Level::new(operator.clone(), 3).relax(0, kernels::Start::Zero, &b, &mut line);
        for place in 0..places {
            let (got, wanted) = (product(&operator, &x, 0, place, 0), f64::from(b.value(0, 0, place, 0)));
            assert!((got - wanted).abs() < 1e-4, "{places} places, at {place}: {got} for {wanted}");
        }
    }
}

/// A list of an operator's numbers.
type List = fn(&mut Operator) -> &mut Vec<f32>;

/// What can't be solved is refused when it is made, and what is no number is never reported as solved: a NaN on the right-hand side
/// was, in 0 steps with a residual of 0.
#[test]
fn what_cannot_be_solved_is_refused() {
    for [slabs, places, across] in [[4, 3, 5], [4, 3, 0], [4, 3, 128], [0, 3, 8], [4, 0, 8], [usize::MAX / 64, 2, 64]] {
        assert_eq!(GridShape::new(slabs, places, across), Err(SolverError::Shape { slabs, places, across }));
    }
    let (operator, b) = hard(shape(HARD), 7);
    for fields in [0, MOST_FIELDS + 1] {
        assert_eq!(Fields::zero(b.shape(), fields).unwrap_err(), SolverError::Fields { fields });
        assert_eq!(ConjugateGradients::new(operator.clone(), fields).unwrap_err(), SolverError::Fields { fields });
    }
    let solve = |operator: &Operator, b: &Fields, mut x: Fields, options: &SolveOptions| {
        ConjugateGradients::new(operator.clone(), 3)?.solve(b, &mut x, options, &|| false)
    };
    let (none, usual) = (b.zero_on(b.shape()), SolveOptions::default());
    for bad in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
        let mut fields = b.clone();
        fields.values[5000] = bad;
        let refused =
            |result, wanted| assert!(matches!(result, Err(SolverError::Value { what, index: 5000, .. }) if what == wanted));
        refused(solve(&operator, &fields, none.clone(), &usual), Values::RightHandSide);
        refused(solve(&operator, &b, fields, &usual), Values::Start);
    }
    for bad in [f32::NAN, f32::INFINITY, -1.0] {
        let lists: [(Values, List); 4] = [
            (Values::Along, |operator| &mut operator.along),
            (Values::Stack, |operator| &mut operator.stack),
            (Values::Across, |operator| &mut operator.across),
            (Values::Loss, |operator| &mut operator.loss),
        ];
        for (wanted, list) in lists {
            let mut wrong = operator.clone();
            list(&mut wrong)[700] = bad;
            let refusal = solve(&wrong, &b, none.clone(), &usual).unwrap_err();
            assert!(matches!(refusal, SolverError::Value { what, index: 700, .. } if what == wanted), "{refusal}");
            list(&mut wrong).pop();
            assert!(matches!(solve(&wrong, &b, none.clone(), &usual), Err(SolverError::Length { what, .. }) if what == wanted));
        }
    }
    let other = Fields::zero(b.shape(), 2).unwrap();
    assert_eq!(solve(&operator, &other, none.clone(), &usual), Err(SolverError::Unlike { what: Values::RightHandSide }));
    assert_eq!(solve(&operator, &b, other, &usual), Err(SolverError::Unlike { what: Values::Start }));
    // Numbers whose squares can't be stored, and equations without a solution.
    let mut large = b.clone();
    large.values.iter_mut().for_each(|value| *value *= 1e30);
    assert!(matches!(solve(&operator, &large, none.clone(), &usual), Err(SolverError::Overflow { .. })));
    let mut empty = Operator::unit(b.shape());
    empty.loss.fill(0.0);
    assert!(matches!(solve(&empty, &b, none.clone(), &usual), Err(SolverError::Overflow { .. })));
    let nothing_is_enough = SolveOptions { residual: f64::NAN, ..usual };
    assert!(matches!(solve(&operator, &b, none, &nothing_is_enough), Err(SolverError::NotConverged { .. })));
}

/// A ring of places that lie round each other, the first so short that its cells hold each other all round.
fn ring(shape: GridShape, seed: u64) -> (Operator, Fields) {
    let (mut operator, plane) = (Operator::unit(shape), shape.plane());
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            let length = (place as f64 + 0.5) / shape.places() as f64;
            for across in 0..shape.across() {
                let at = shape.index(slab, place, across);
                operator.along[at] = (25.0 / length) as f32;
                operator.stack[at] = if place + 1 < shape.places() { (150.0 * length) as f32 } else { 0.0 };
                operator.across[at] = if across + 1 < shape.across() { (75.0 * length) as f32 } else { 0.0 };
                operator.loss[at] = (20.0 * length) as f32;
            }
        }
    }
    operator.along.copy_within(..plane, shape.cells());
    (operator, random(shape, 3, seed))
}

/// A ring is solved as it is, its last slab coupled to its first; turned by some slabs it has the turned solution.
#[test]
fn a_ring_is_solved_whichever_slab_is_the_first() {
    let shape = shape([120, 24, 8]);
    let (operator, b) = ring(shape, 31);
    solves_within(40, &operator, &b);
    let exactly = SolveOptions { residual: 2e-6, most_steps: 100 };
    let solve = |b: &Fields| {
        let mut x = b.zero_on(shape);
        ConjugateGradients::new(operator.clone(), 3).unwrap().solve(b, &mut x, &exactly, &|| false).unwrap();
        x
    };
    let (x, turned_by) = (solve(&b), 17);
    let mut turned_b = b.clone();
    for slab in 0..shape.slabs() {
        turned_b.slab_mut((slab + turned_by) % shape.slabs()).copy_from_slice(b.slab(slab));
    }
    // Its coefficients are the same all round.
    let turned = solve(&turned_b);
    let (mut off, mut most) = (0.0_f32, 0.0_f32);
    for slab in 0..shape.slabs() {
        for (a, b) in x.slab(slab).iter().zip(turned.slab((slab + turned_by) % shape.slabs())) {
            (off, most) = (off.max((a - b).abs()), most.max(a.abs()));
        }
    }
    assert!(off < 1e-3 * most, "{off} of {most}");
    let mut open = operator.clone();
    open.along[..shape.plane()].fill(1.0);
    let refused = ConjugateGradients::new(open, 3).unwrap_err();
    assert_eq!(refused, SolverError::Unclosed { index: 0 });
}
