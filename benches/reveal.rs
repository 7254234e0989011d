//! How long the reveal takes: the solver alone at three sizes, a whole reveal, a preview while dragging.
//!
//! Beside them the machine's own speed: a pass over 64 MB that reads two arrays and writes a third. A step of the solver moves, per
//! cell of the finest grid, an estimated `26 + 25 F` values of 4 bytes for `F` fields: `11 + 7 F` on the way down and up (coefficients,
//! shares; what is read and what is written, which is fetched first), nearly as much again on the coarser grids together, and
//! `4 + 11 F` for the directions, their product and the residual.

#![allow(clippy::unwrap_used, reason = "a bench that fails should stop")]

use divan::Bencher;
use pleatwright::layout::{Layout, LayoutSpec};
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::solver::{ConjugateGradients, SolveOptions};
use pleatwright::reveal::*;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};

fn main() {
    divan::main();
}

/// Five dyes on the tee, so that five fields are solved.
fn five_dyes() -> Layout {
    let mut raw: LayoutSpec = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
    for name in ["fourth", "fifth"] {
        let mut swatch = raw.colours.rotation[0].clone();
        swatch.name = name.to_owned();
        raw.colours.rotation.push(swatch);
    }
    Layout::try_from(raw).unwrap()
}

fn system(cell_mm: f64, across: usize) -> System {
    let layout = five_dyes();
    let flat_after = layout.process().calibration.flat_after_diameters;
    let spec = GridSpec { cell_mm, across };
    let grid = RodGrid::new(layout.fold(), layout.cloth(), &rod_binds(&layout), flat_after, &spec).unwrap();
    dye_system(&grid, layout.process(), &layout.section_colours(), 5).unwrap()
}

/// Setup and solve of five fields to 1e-4, from zero: 9 120, 103 968 and 884 032 cells.
#[divan::bench(args = [(17.0, 4), (2.9, 8), (0.68, 16)], sample_count = 9, sample_size = 1)]
fn solve_five_fields(bencher: Bencher<'_, '_>, (cell_mm, across): (f64, usize)) {
    let system = system(cell_mm, across);
    let inputs = || (system.operator.clone(), system.source.zero_on(system.source.shape()));
    bencher.counter(divan::counter::ItemsCount::new(system.operator.shape.cells())).with_inputs(inputs).bench_values(
        |(operator, mut x)| {
            let mut solver = ConjugateGradients::new(operator, 5).unwrap();
            let solved = solver.solve(&system.source, &mut x, &SolveOptions::default(), &|| false);
            (x, solved.unwrap())
        },
    );
}

/// The same of an example of every other fold.
#[divan::bench(args = ["heart-tee-m", "chevron-long-sleeve-l", "wheel-bandana", "triangle-pillowcase", "spiral-tee-m"], sample_count = 5, sample_size = 1)]
fn whole_reveal_of(name: &str) -> Picture {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().ends_with(name)).unwrap();
    let layout = parse_layout(example.text).unwrap();
    let reveal = reveal_doses(&layout, &megapixel(), &Cancel::new()).unwrap();
    picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::Cloth, Texture::Faint)
}

/// Everything, at a million pixels for both panels together: fold map, solve, unfold, colour.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn whole_reveal() -> Picture {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let reveal = reveal_doses(&layout, &megapixel(), &Cancel::new()).unwrap();
    picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::Cloth, Texture::Faint)
}

fn megapixel() -> RevealOptions {
    RevealOptions { pixel_mm: 1.12, ..RevealOptions::default() }
}

/// The rod's doses of that alone.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn doses_in_the_rod() -> RodDoses {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    rod_doses(&layout, &megapixel(), None, &Cancel::new()).unwrap()
}

/// The colours of that alone.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn colours_of_a_megapixel(bencher: Bencher<'_, '_>) {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let reveal = reveal_doses(&layout, &megapixel(), &Cancel::new()).unwrap();
    let dyes = DyeSet::of_layout(&layout, None);
    bencher.bench(|| picture(&reveal, &dyes));
}

/// The same with the cloth's texture.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn textured_colours_of_a_megapixel(bencher: Bencher<'_, '_>) {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let reveal = reveal_doses(&layout, &megapixel(), &Cancel::new()).unwrap();
    let dyes = DyeSet::of_layout(&layout, None);
    bencher.bench(|| picture_of(&reveal, &dyes, PictureMap::Cloth, Texture::Faint));
}

/// A layer of the rod as it is shown while a hand peels: 1200 pixels along the rod.
#[divan::bench(sample_count = 15, sample_size = 1)]
fn a_layer_of_the_rod(bencher: Bencher<'_, '_>) {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let reveal = reveal_doses(&layout, &megapixel(), &Cancel::new()).unwrap();
    let (dyes, frame) = (DyeSet::of_layout(&layout, None), reveal.layer_frame(0.5));
    bencher.bench(|| (reveal.layer(reveal.places() / 2, &frame, &dyes, PictureMap::Cloth), reveal.strip(reveal.places() / 2)));
}

/// A coarse picture after another, the guide arc moved by 2 mm.
#[divan::bench(sample_count = 15, sample_size = 1)]
fn drag_preview(bencher: Bencher<'_, '_>) {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut raw = layout.raw().clone();
    raw.fold.burst_mut().unwrap().guide_radius_mm += 2.0;
    let moved = Layout::try_from(raw).unwrap();
    let last = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
    let dyes = DyeSet::of_layout(&moved, None);
    bencher.bench(|| {
        let reveal = reveal_doses_after(&moved, &RevealOptions::preview(), Some(&last), &Cancel::new()).unwrap();
        picture_of(&reveal, &dyes, PictureMap::Cloth, Texture::Faint)
    });
}

/// The machine's memory: `c = a + b` over 3 x 64 MB on all cores.
#[divan::bench(sample_count = 9, sample_size = 1)]
fn memory_bandwidth(bencher: Bencher<'_, '_>) {
    use rayon::prelude::*;
    let (a, b, mut c) = (vec![1.0_f32; 16 << 20], vec![2.0_f32; 16 << 20], vec![0.0_f32; 16 << 20]);
    bencher.counter(divan::counter::BytesCount::new(3_usize * (64 << 20))).bench_local(|| {
        let chunks = c.par_chunks_mut(1 << 16).zip(a.par_chunks(1 << 16)).zip(b.par_chunks(1 << 16));
        chunks.for_each(|((c, a), b)| c.iter_mut().zip(a.iter().zip(b)).for_each(|(c, (a, b))| *c = a + b));
    });
}
