//! How long colours take: the spectrum of a swatch, a set of dyes, a picture of one megapixel.

use divan::{Bencher, black_box};
use pleatwright::layout::{Colours, Srgb, Swatch};
use pleatwright::reveal::colour::{Dye, DyeSet, Ground, LinearRgb, Spectrum, best_order, ciede2000};

fn main() {
    divan::main();
}

const PIXELS: usize = 1_000_000;
const COLOURS: [&str; 8] = ["#0f7c8a", "#d99a1e", "#7b2f63", "#1f1d22", "#a8442f", "#5f7336", "#4a4f86", "#b8642a"];

fn hex(text: &str) -> Srgb {
    text.parse().expect("a colour")
}

fn dye_set(dyes: usize) -> DyeSet {
    let dyes: Vec<Dye> = COLOURS[..dyes].iter().map(|text| Dye::over_white(hex(text))).collect();
    DyeSet::new(Ground { garment: hex("#5a1030"), discharged: hex("#d8c3ae") }, &dyes)
}

/// Doses and discharged shares that differ from pixel to pixel.
fn fields(dyes: usize) -> (Vec<f32>, Vec<f32>) {
    let wave = |count: usize| (0..count).map(|at| (at % 9_973) as f32 / 9_973.0).collect();
    (wave(PIXELS * dyes), wave(PIXELS))
}

#[divan::bench(args = COLOURS)]
fn spectrum_of_a_swatch(bencher: Bencher<'_, '_>, colour: &str) {
    let colour = hex(colour);
    bencher.bench(|| Spectrum::of(black_box(colour)));
}

#[divan::bench]
fn set_of_three_dyes() -> DyeSet {
    dye_set(3)
}

#[divan::bench(args = [1, 3, 5, 8], sample_count = 10)]
fn megapixel_on_one_core(bencher: Bencher<'_, '_>, dyes: usize) {
    let set = dye_set(dyes);
    let (doses, discharged) = fields(dyes);
    let mut out = vec![[0; 3]; PIXELS];
    bencher.bench_local(|| set.fill_srgb(&doses, &discharged, black_box(&mut out)));
}

#[divan::bench(args = [3, 5], sample_count = 10)]
fn megapixel_on_two_cores(bencher: Bencher<'_, '_>, dyes: usize) {
    let set = dye_set(dyes);
    let (doses, discharged) = fields(dyes);
    let mut out = vec![[0; 3]; PIXELS];
    let half = PIXELS / 2;
    bencher.bench_local(|| {
        let (first, second) = out.split_at_mut(half);
        std::thread::scope(|scope| {
            scope.spawn(|| set.fill_srgb(&doses[..half * dyes], &discharged[..half], first));
            set.fill_srgb(&doses[half * dyes..], &discharged[half..], second);
        });
    });
}

#[divan::bench]
fn difference_of_two_colours() -> f64 {
    let [one, other] = ["#0f7c8a", "#d99a1e"].map(|text| LinearRgb::from(hex(text)).to_xyz().to_lab());
    ciede2000(black_box(one), black_box(other))
}

#[divan::bench]
fn best_order_of_eight(bencher: Bencher<'_, '_>) {
    let set = dye_set(8);
    let swatch = |text: &&str| Swatch::plain(*text, hex(text));
    let colours = Colours { rotation: COLOURS.iter().map(swatch).collect(), ..Colours::default() };
    bencher.bench(|| best_order(&set, black_box(&colours), 20, 1.0));
}
