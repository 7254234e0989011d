//! How long the numbers of a layout and its sheets take. Run with `cargo bench --bench layout`.
//!
//! The areas of sections are timed beside the same clip by the general geometry library `geo`, at equal accuracy: its discs and
//! curves are flattened until the areas agree to a millionth.

#[path = "parts/sixty_points.rs"]
mod sixty_points;

use divan::{Bencher, black_box};
use geo::{Area as _, BooleanOps as _};
use kurbo::{Circle, PathEl, Point, Shape as _};
use pleatwright::geometry::{DiscCutter, Outline, Panel};
use pleatwright::layout::LayoutSpec;
use pleatwright::layout::{Figures, Layout};
use pleatwright::print::parts::{PartKind, PrintOptions, TemplateOptions, print_parts};
use pleatwright::print::{TilingOptions, write_pdf};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use sixty_points::sixty_points;

fn main() {
    divan::main();
}

fn example(n: usize) -> Layout {
    parse_layout(EXAMPLE_LAYOUTS[n % EXAMPLE_LAYOUTS.len()].text).expect("a test reads every example")
}

/// From the raw layout to every figure: what a drag costs.
#[divan::bench]
fn figures_of_a_tee(bencher: Bencher) {
    let raw = example(0).raw().clone();
    bencher.bench(|| figures(black_box(&raw)));
}

fn figures(raw: &LayoutSpec) -> Figures {
    Figures::of(&Layout::try_from(raw.clone()).expect("the layout is right"))
}

/// A thousand bursts on every kind of garment among the examples, each with a guide arc of its own.
#[divan::bench(sample_count = 10)]
fn figures_of_1000_layouts(bencher: Bencher) {
    let bursts: Vec<LayoutSpec> =
        (0..EXAMPLE_LAYOUTS.len()).map(|n| example(n).raw().clone()).filter(|raw| raw.fold.burst().is_some()).collect();
    let layouts: Vec<LayoutSpec> = (0..1000).map(|n| varied(&bursts, n)).collect();
    bencher.bench(|| layouts.iter().map(|raw| figures(black_box(raw)).thread_mm).sum::<f64>());
}

fn varied(bursts: &[LayoutSpec], n: u16) -> LayoutSpec {
    let mut raw = bursts[usize::from(n) % bursts.len()].clone();
    raw.fold.burst_mut().expect("the bench has a burst").guide_radius_mm *= 1.0 - 0.00002 * f64::from(n);
    raw
}

/// Template, strips and job card of a tee on A4, from figures to the bytes of the PDF.
#[divan::bench]
fn tiled_a4_pdf_of_a_tee(bencher: Bencher) {
    tiled_a4_pdf(bencher, &example(0));
}

/// From the raw layout of a line of sixty points with thirty binds to every figure.
#[divan::bench]
fn figures_of_60_points(bencher: Bencher) {
    let raw = sixty_points().raw().clone();
    bencher.bench(|| figures(black_box(&raw)));
}

#[divan::bench]
fn tiled_a4_pdf_of_60_points(bencher: Bencher) {
    tiled_a4_pdf(bencher, &sixty_points());
}

fn tiled_a4_pdf(bencher: Bencher, layout: &Layout) {
    let figures = Figures::of(layout);
    let paper = "A4".parse().expect("a standard paper");
    let options = PrintOptions { paper, tiling: TilingOptions::default(), template: TemplateOptions::default() };
    bencher.bench(|| write_pdf(&print_parts(layout, &figures, &PartKind::ALL, &options).expect("it fits")).expect("a PDF"));
}

/// The first example's binds.
const RADII_MM: [f64; 17] =
    [16.0, 26.0, 36.0, 49.0, 62.0, 78.0, 96.0, 117.0, 140.0, 166.0, 196.0, 230.0, 264.0, 301.0, 340.0, 383.0, 429.0];

fn half_tee() -> (Outline, Point) {
    let layout = example(0);
    let panel = layout.panels().panel(Panel::Front).expect("a tee has a front").half().clone();
    (panel, layout.burst().expect("a tee has a burst").centre())
}

#[divan::bench]
fn areas_within_17_binds(bencher: Bencher) {
    let (outline, centre) = half_tee();
    bencher.bench(|| {
        let cutter = DiscCutter::new(black_box(&outline), centre);
        RADII_MM.map(|radius| cutter.measure(radius).area_mm2)
    });
}

#[divan::bench]
fn areas_within_17_binds_by_general_clipping(bencher: Bencher) {
    let (outline, centre) = half_tee();
    bencher.bench(|| {
        let cloth = polygon(black_box(&outline).path().elements());
        RADII_MM.map(|radius| {
            let disc = polygon(Circle::new(centre, radius).to_path(1e-7 * radius).elements());
            cloth.intersection(&disc).unsigned_area()
        })
    });
}

/// Flattened so that areas come out to about a millionth.
fn polygon(elements: &[PathEl]) -> geo::Polygon<f64> {
    let mut ring = Vec::new();
    kurbo::flatten(elements.iter().copied(), 1e-4, |el| ring.extend(el.end_point().map(|p| (p.x, p.y))));
    geo::Polygon::new(ring.into(), vec![])
}
