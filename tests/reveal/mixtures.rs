//! Mixed dyes: how their components part, against closed forms, and that nothing else changes by them.

use crate::doses::{Strip, WORKING, coarse, exact, example, tee};
use pleatwright::geometry::{Cloth, Panel};
use pleatwright::layout::{Component, DyeBy, DyeFields, Hand, Layout, Process, Srgb, Swatch, Tuning};
use pleatwright::reveal::colour::{
    ColourWarning, Dye, DyeSet, Ground, Spectrum, TOLD_APART, Together, ciede2000, colour_warnings,
};
use pleatwright::reveal::*;

const BLUE: &str = "#2a4f8f";
const RUST: &str = "#a6512b";
const SLATE: &str = "#5b5450";

fn hex(text: &str) -> Srgb {
    text.parse().unwrap()
}

/// A grey of blue and rust, each with its share and its reach.
fn slate(blue: (f64, f64), rust: (f64, f64)) -> Swatch {
    let one = |name: &str, colour: &str, (percent, reach_factor): (f64, f64)| Component {
        name: name.to_owned(),
        srgb: hex(colour),
        percent,
        reach_factor,
    };
    Swatch { components: vec![one("blue", BLUE, blue), one("rust", RUST, rust)], ..Swatch::plain("slate", hex(SLATE)) }
}

/// The tee with such a grey in place of its second dye.
fn mixed(swatch: Swatch) -> Layout {
    tee(|raw| {
        raw.process.discharge = None;
        raw.garment.colour = None;
        raw.colours.rotation[1] = swatch;
    })
}

/// A stack of pleats in which nothing comes through, fed at its creases: by the steady balance of diffusion and a loss of first order
/// (Thiele, Ind. Eng. Chem. 31, 916 (1939), for a plane sheet; Danckwerts, Trans. Faraday Soc. 46, 300 (1950), far from the other face;
/// both from memory) the dose falls from the crease as `cosh((w/2 - x) / lambda) / cosh(w / (2 lambda))`, with each component's own `lambda`.
/// Near the crease of a broad pleat one of factor `f` parts from one of 1 as `exp(x / lambda (1 / f - 1))`.
#[test]
fn each_component_falls_with_its_own_reach() {
    let mut process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
    process.calibration.dye_reach.through_mm = 0.4;
    let reach_mm = process.dye_reach().along_mm;
    let strip = Strip { pleats: 40, width_mm: 6.0 * reach_mm, length_mm: 240.0 };
    let grid = RodGrid::new(&strip, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: 20.0, across: 64 }).unwrap();
    let doses = |factor: f64| -> Vec<f64> {
        let system = dye_system_reaching(&grid, &process, factor, &[Some(0)], 1).unwrap();
        let solved = DoseField::solve(system, None, &exact(), &Cancel::new()).unwrap();
        let crease = f64::from(solved.creases().value(0, 2, 20, 0));
        (0..64).map(|cell| f64::from(solved.fields().value(0, 2, 20, cell)) / crease).collect()
    };
    let at_mm = |cell: usize| (cell as f64 + 0.5) * strip.width_mm / 64.0;
    let of_factor = [0.6, 1.0, 1.8].map(|factor| {
        let found = doses(factor);
        for (cell, found) in found.iter().enumerate() {
            let lambda_mm = factor * reach_mm;
            let half_mm = 0.5 * strip.width_mm;
            let wanted = ((half_mm - at_mm(cell)) / lambda_mm).cosh() / (half_mm / lambda_mm).cosh();
            assert_close!(*found, wanted, 0.006, "{factor} at {} mm", at_mm(cell));
        }
        found
    });
    let [nearer, own, _] = of_factor;
    for cell in 2..10 {
        let parted = own[cell] / nearer[cell];
        let wanted = (at_mm(cell) / reach_mm * (1.0 / 0.6 - 1.0)).exp();
        assert_close!(parted / wanted, 1.0, 0.04, "at {} mm", at_mm(cell));
    }
}

/// What a photograph teaches of a component's factor is how doses change with it. In a half space that is fed at its face the dose falls as `exp(-x /
/// (f L))` (Danckwerts, Trans. Faraday Soc. 46, 300 (1950), from memory), so its logarithm grows by `x / (f L)` for each of the factor's: near the
/// crease of a broad pleat the step by which learning sees colours change gives just that.
#[test]
fn doses_change_with_a_components_factor_as_in_a_half_space() {
    let mut process = Process { dye: DyeBy::ByHand, hand: Hand::EXACT, ..Process::default() };
    process.calibration.dye_reach.through_mm = 0.4;
    let (reach_mm, factor, step) = (process.dye_reach().along_mm, 0.7, 0.05_f64);
    let strip = Strip { pleats: 40, width_mm: 8.0 * reach_mm, length_mm: 240.0 };
    let grid = RodGrid::new(&strip, &Cloth::default(), &[], 1.0, &GridSpec { cell_mm: 20.0, across: 64 }).unwrap();
    let logs = |factor: f64| -> Vec<f64> {
        let system = dye_system_reaching(&grid, &process, factor, &[Some(0)], 1).unwrap();
        let solved = DoseField::solve(system, None, &exact(), &Cancel::new()).unwrap();
        let crease = f64::from(solved.creases().value(0, 2, 20, 0));
        (0..64).map(|cell| (f64::from(solved.fields().value(0, 2, 20, cell)) / crease).ln()).collect()
    };
    let [less, more] = [-step, step].map(|by| logs(factor * by.exp()));
    for cell in 3..16 {
        let x_mm = (cell as f64 + 0.5) * strip.width_mm / 64.0;
        let slope = (more[cell] - less[cell]) / (2.0 * step);
        assert_close!(slope / (x_mm / (factor * reach_mm)), 1.0, 0.03, "at {x_mm} mm");
    }
}

/// In a tied rod under ice, with water seeping and run-off, a component that reaches 1.4 times as far has the doses that a dye has whose
/// calibration reaches 1.4 times as far, and the other those of an unmixed dye.
#[test]
fn a_component_is_dosed_as_a_dye_of_its_reach_would_be() {
    let layout = mixed(slate((60.0, 1.0), (40.0, 1.4)));
    let fields = DyeFields::of(&layout.raw().colours.rotation);
    assert_eq!((fields.len(), fields.all()[3].dye, fields.by_reach().len()), (4, 1, 2));
    let options = RevealOptions { solve: exact(), ..coarse() };
    let solved = |layout: &Layout| rod_doses(layout, &options, None, &Cancel::new()).unwrap();
    let [parted, plain] = [layout.clone(), mixed(Swatch::plain("slate", hex(SLATE)))].map(|layout| solved(&layout));
    let mut calibration = layout.process().calibration;
    calibration.dye_reach = calibration.dye_reach.times(1.4);
    let farther = solved(&mixed(Swatch::plain("slate", hex(SLATE))).with_calibration(calibration));
    let shape = parted.grid.shape();
    let dose = |rod: &RodDoses, field: usize, at: [usize; 3]| {
        f64::from(rod.dyes.as_ref().unwrap().fields().value(field, at[0], at[1], at[2]))
    };
    let (mut most, mut parts) = (0.0_f64, 0.0_f64);
    for slab in 0..shape.slabs() {
        for place in 0..shape.places() {
            for across in 0..shape.across() {
                let at = [slab, place, across];
                for dye in 0..3 {
                    most = most.max((dose(&parted, dye, at) - dose(&plain, dye, at)).abs());
                }
                most = most.max((dose(&parted, 3, at) - dose(&farther, 1, at)).abs());
                parts = parts.max(dose(&parted, 3, at) - dose(&parted, 1, at));
            }
        }
    }
    assert!(most < 1e-4 && parts > 0.1, "{most} off, {parts} apart");
}

/// A mixture whose components all go as far as dyes do, or none, leaves every dose, every pixel and every number as it was, and nothing more is
/// solved.
#[test]
fn what_does_not_part_costs_and_changes_nothing() {
    let plain = mixed(Swatch::plain("slate", hex(SLATE)));
    let alike = mixed(slate((60.0, 1.0), (40.0, 1.0)));
    for layout in [&plain, &alike] {
        let fields = DyeFields::of(&layout.raw().colours.rotation);
        assert_eq!((fields.len(), fields.by_reach().len(), fields.is_plain()), (3, 1, true));
        assert_eq!((fine_grid(layout), DyeSet::of_layout(layout, None).len()), (fine_grid(&plain), 3));
    }
    let [one, other] = [&plain, &alike].map(|layout| reveal_doses(layout, &coarse(), &Cancel::new()).unwrap());
    let doses = |reveal: &Reveal| reveal.rod.dyes.as_ref().unwrap().fields().clone();
    assert_eq!(doses(&one), doses(&other));
    assert_eq!(one.summary, other.summary);
    assert_eq!(one.rod.dyes.as_ref().unwrap().solved(), other.rod.dyes.as_ref().unwrap().solved());
    // What the equations of unmixed dyes give by themselves is what the rod holds.
    let system = dye_system(&one.rod.grid, plain.process(), &plain.section_colours(), 3).unwrap();
    assert_eq!(system.source.count(), 3);
    let alone = DoseField::solve(system, None, &coarse().solve, &Cancel::new()).unwrap();
    assert_eq!(alone.fields(), &doses(&one));
    let drawn = [(&one, &plain), (&other, &alike)].map(|(reveal, layout)| picture(reveal, &DyeSet::of_layout(layout, None)));
    assert!(drawn[0] == drawn[1]);
}

/// K/S of a colour on white by single-constant Kubelka-Munk, computed anew.
fn own_k_over_s(colour: &str) -> Vec<f64> {
    let k = |srgb: Srgb| Spectrum::of(srgb).bands().map(|r| (1.0 - r).powi(2) / (2.0 * r));
    k(hex(colour)).iter().zip(k(Ground::WHITE)).map(|(dye, white)| (dye - white).max(0.0)).collect()
}

/// Reflectance of a layer of this K/S: the root of `R^2 - 2 (1 + K/S) R + 1` below 1 (Kubelka & Munk 1931).
fn reflectance(k_over_s: f64) -> f64 {
    let a = 1.0 + k_over_s;
    a - (a * a - 1.0).sqrt()
}

/// Components add K/S by their shares (Duncan 1940, from memory); where both lie fully the mixture has its swatch's own spectrum, and where one lies
/// alone the part of it that the components' K/S share out.
#[test]
fn components_share_out_the_mixtures_colour_by_kubelka_munk() {
    let swatch = slate((60.0, 1.0), (40.0, 1.4));
    let (blue, rust, own) = (own_k_over_s(BLUE), own_k_over_s(RUST), own_k_over_s(SLATE));
    let white = Spectrum::of(Ground::WHITE).bands().map(|r| (1.0 - r).powi(2) / (2.0 * r));
    let set = DyeSet::of_swatches(Ground::plain(Ground::WHITE), std::slice::from_ref(&swatch));
    let plain = DyeSet::new(Ground::plain(Ground::WHITE), &[Dye::over_white(swatch.srgb)]);
    assert_eq!((set.len(), set.owners()), (2, &[0, 0][..]));
    for (doses, of) in [([1.0, 1.0], [1.0, 1.0]), ([0.0, 1.0], [0.0, 1.0]), ([0.25, 0.7], [0.25, 0.7])] {
        let found = set.spectrum(&doses, 0.0);
        for band in 0..found.bands().len() {
            let parts = [0.6 * blue[band], 0.4 * rust[band]];
            let all = parts[0] + parts[1];
            let k = white[band] + own[band] * (of[0] * parts[0] + of[1] * parts[1]) / all;
            assert_close!(found.bands()[band], reflectance(k), 1e-9, "{doses:?}, band {band}");
        }
    }
    for dose in [0.2, 0.5, 1.0, 1.7] {
        assert_eq!(set.srgb(&[dose, dose], 0.0), plain.srgb(&[dose], 0.0), "in proportion a mixture is one dye");
    }
    assert_eq!(set.srgb(&set.doses(&[(Some(0), 1.0)]), 0.0), swatch.srgb);
    let together = Together::of(&swatch).unwrap();
    let side_by_side = DyeSet::new(Ground::plain(Ground::WHITE), &[BLUE, RUST].map(|text| Dye::over_white(hex(text))));
    let found = side_by_side.spectrum(&[0.6, 0.4], 0.0);
    for band in 0..blue.len() {
        assert_close!(found.bands()[band], reflectance(white[band] + 0.6 * blue[band] + 0.4 * rust[band]), 1e-9, "band {band}");
    }
    assert_eq!(together.srgb, found.to_linear_rgb().to_srgb());
    // What reaches farther is rust: by itself it is warmer than the mixture.
    let alone = set.srgb(&[0.0, 1.0], 0.0);
    assert!(alone.red > swatch.srgb.red && alone.blue < alone.red, "{alone}");
}

/// Seen on the cloth, the farther-reaching component is left where the other ends: the share of rust in what lies there grows the paler it is.
#[test]
fn deeper_in_the_farther_component_is_left() {
    let layout = mixed(slate((60.0, 1.0), (40.0, 1.6)));
    let reveal = reveal_doses(&layout, &coarse(), &Cancel::new()).unwrap();
    let map = reveal.map(Panel::Front).unwrap();
    assert_eq!(map.dyes, 4);
    let colours = layout.section_colours();
    let dye = colours.iter().rposition(|colour| *colour == Some(1)).unwrap();
    let is_own = |pixel: &usize| map.coverage[*pixel] >= 1.0 && colours[usize::from(map.section[*pixel]) - 1] == Some(1);
    let (mut deep, mut shallow) = (Vec::new(), Vec::new());
    for pixel in (0..map.section.len()).filter(is_own) {
        let (blue, rust) = (f64::from(map.doses[4 * pixel + 1]), f64::from(map.doses[4 * pixel + 3]));
        if blue > 0.6 {
            shallow.push(rust / blue);
        } else if (0.02..0.15).contains(&blue) {
            deep.push(rust / blue);
        }
    }
    let mean = |of: &[f64]| of.iter().sum::<f64>() / of.len() as f64;
    assert!(deep.len() > 20 && shallow.len() > 20, "{} and {}", deep.len(), shallow.len());
    assert!(mean(&shallow) < 1.25 && mean(&deep) > 1.5, "{} and {}", mean(&shallow), mean(&deep));
    // What is told of a place and of a section counts components by their share of the powder.
    let (_, frame) = reveal.panels()[0];
    let at = (0..map.section.len()).find(is_own).unwrap();
    let probe = reveal.probe(Panel::Front, frame.middle(at % frame.width, at / frame.width)).unwrap();
    let [blue, rust] = probe.dyes[1].components[..] else { panic!("two components") };
    assert_eq!((probe.doses.len(), probe.dyes.len(), probe.dyes[0].components.len()), (4, 3, 0));
    assert_eq!((blue, rust), (probe.doses[1], probe.doses[3]));
    assert_close!(probe.dyes[1].dose, 0.6 * blue + 0.4 * rust, 1e-12);
    let unmixed = reveal_doses(&mixed(Swatch::plain("slate", hex(SLATE))), &coarse(), &Cancel::new()).unwrap();
    let told = [&reveal, &unmixed].map(|reveal| reveal.summary[dye].clone());
    assert!(told[0].mean_dose > told[1].mean_dose && told[0].reached >= told[1].reached, "{told:?}");
}

/// A hand that drags starts from the last solution, and ends where it ends from nothing.
#[test]
fn a_mixture_is_solved_from_an_earlier_solution() {
    let layout = mixed(slate((60.0, 1.0), (40.0, 1.4)));
    let options = RevealOptions { cells: Cells::Of(WORKING), ..RevealOptions::preview() };
    let first = reveal_doses(&layout, &options, &Cancel::new()).unwrap();
    let again = reveal_doses_after(&layout, &options, Some(&first), &Cancel::new()).unwrap();
    assert_eq!(again.rod.dyes.as_ref().unwrap().solved().steps, 0);
    // After one without the mixture it begins anew.
    let plain = reveal_doses(&mixed(Swatch::plain("slate", hex(SLATE))), &options, &Cancel::new()).unwrap();
    let anew = reveal_doses_after(&layout, &options, Some(&plain), &Cancel::new()).unwrap();
    assert_eq!(anew.rod.dyes.as_ref().unwrap().fields(), first.rod.dyes.as_ref().unwrap().fields());
}

#[test]
fn too_many_components_and_unlike_ones_are_told() {
    let many = tee(|raw| {
        let grey = |number: usize| Swatch { name: format!("grey {number}"), ..slate((50.0, 0.9), (50.0, 1.2)) };
        raw.colours.rotation = (0..9).map(grey).collect();
        raw.colours.single.clear();
    });
    let refused = reveal_doses(&many, &coarse(), &Cancel::new()).unwrap_err();
    assert_eq!(refused, RevealError::TooManyComponents { dyes: 9, fields: 18, most: 16 });
    let unlike = Swatch { srgb: hex("#3f8f4a"), ..slate((60.0, 1.0), (40.0, 1.4)) };
    let told = |layout: &Layout| -> Vec<ColourWarning> {
        let all = colour_warnings(layout, &DyeSet::of_layout(layout, None), 0.0, TOLD_APART);
        all.into_iter().filter(|one| matches!(one, ColourWarning::MixtureUnlike { .. })).collect()
    };
    let like = slate((60.0, 1.0), (40.0, 1.4));
    let like = Swatch { srgb: Together::of(&like).unwrap().srgb, ..like };
    assert_eq!((told(&mixed(unlike)).len(), told(&mixed(like)).len()), (1, 0));
}

/// Where only how far one component goes has changed, its own doses and dips are solved anew, to what they are from nothing, and all else stands to the
/// last bit: on a rod under ice, and on a bundle that is dipped, with powder and without.
#[test]
fn one_component_is_solved_by_itself_and_the_rest_stands() {
    let pillowcase = |dye: DyeBy| {
        let mut raw = example("harbour-row-triangle-pillowcase.ron");
        (raw.process.hand, raw.process.dye) = (Hand::EXACT, dye);
        raw.colours.rotation[0] = Swatch { name: raw.colours.rotation[0].name.clone(), ..slate((60.0, 1.0), (40.0, 1.0)) };
        Layout::try_from(raw).unwrap()
    };
    let layouts = [mixed(slate((60.0, 1.0), (40.0, 1.0))), pillowcase(DyeBy::PowderUnderIce), pillowcase(DyeBy::Dipped)];
    let options = RevealOptions { solve: exact(), ..coarse() };
    for layout in layouts {
        let binds = rod_binds(&layout);
        let solved = |layout: &Layout, earlier: Option<(&RodDoses, Standing)>| {
            let fields = DyeFields::of_components(&layout.raw().colours.rotation);
            rod_doses_kept_as(&fields, layout, &binds, &options, earlier, &Cancel::new()).unwrap()
        };
        let before = solved(&layout, None);
        let mut tuning = Tuning::of(layout.raw());
        let number = tuning.reaches.iter().position(|reach| reach.component == "rust").unwrap();
        tuning.reaches[number].reach_factor = 1.4;
        let other = layout.tuned(&tuning);
        let fields = DyeFields::of_components(&other.raw().colours.rotation);
        let rust = fields.all().iter().position(|field| field.components == [1]).unwrap();
        let standing = Standing { dyes: true, but: Some(rust), bath: true, cloth: true };
        let (stands, anew) = (solved(&other, Some((&before, standing))), solved(&other, None));
        let [before, stands, anew] = [&before, &stands, &anew].map(|rod| rod.dyes.as_ref().unwrap().fields());
        let shape = stands.shape();
        let (mut off, mut moved) = (0.0_f64, 0.0_f64);
        for slab in 0..shape.slabs() {
            for place in 0..shape.places() {
                for across in 0..shape.across() {
                    for field in 0..fields.len() {
                        let [before, stands, anew] = [before, stands, anew].map(|of| of.value(field, slab, place, across));
                        assert!(field == rust || stands.total_cmp(&before).is_eq(), "field {field} has changed");
                        off = off.max(f64::from((stands - anew).abs()));
                        moved = moved.max(f64::from((stands - before).abs()));
                    }
                }
            }
        }
        assert!(off < 1e-4 && moved > 0.05, "{}: {off} off, moved by {moved}", layout.name());
    }
}

/// Components that go equally far are dosed alike, whether they are kept as one field or each as its own, and look alike.
#[test]
fn components_kept_apart_are_dosed_as_together() {
    let layout = mixed(slate((60.0, 1.0), (40.0, 1.0)));
    let (options, binds, rotation) =
        (RevealOptions { solve: exact(), ..coarse() }, rod_binds(&layout), &layout.raw().colours.rotation);
    let [together, apart] = [DyeFields::of(rotation), DyeFields::of_components(rotation)];
    let [one, other] =
        [&together, &apart].map(|fields| rod_doses_kept_as(fields, &layout, &binds, &options, None, &Cancel::new()).unwrap());
    let ground = Ground::of_layout(&layout);
    let sets = [&together, &apart].map(|fields| DyeSet::of_swatches_by(ground, rotation, fields));
    let (shape, mut dosed) = (one.grid.shape(), 0);
    for slab in 0..shape.slabs() {
        let doses = |rod: &RodDoses, count: usize| -> Vec<f64> {
            let fields = rod.dyes.as_ref().unwrap().fields();
            (0..count).map(|field| f64::from(fields.value(field, slab, shape.places() - 1, 2))).collect()
        };
        let (one, other) = (doses(&one, 3), doses(&other, 4));
        assert!((one[1] - other[1]).abs() < 1e-4 && (one[1] - other[3]).abs() < 1e-4, "{one:?} and {other:?}");
        let [a, b] = [sets[0].lab(&one, 0.0), sets[1].lab(&other, 0.0)];
        assert!(ciede2000(a, b) < 0.05, "{a:?} and {b:?}");
        dosed += usize::from(one[1] > 0.3);
    }
    assert!(dosed > 3, "{dosed}");
}
