//! How long a fold along a line takes. Run with `cargo bench --bench line`.
//!
//! The line is a ring of 60 nodes on a tee, wavier than anyone would draw: 60 cubics become some 250 pieces.

use divan::{Bencher, black_box};
use kurbo::{BezPath, Point, Vec2};
use pleatwright::geometry::{
    Bundle as _, Centring, Garment, GarmentKind, LineFold, LineKind, LineSpec, PanelSet, Pleats, RawMeasures, sections,
};
use rayon::prelude::*;
use std::f64::consts::{FRAC_PI_2, TAU};

fn main() {
    divan::main();
}

const NODES: u32 = 60;

fn tee() -> PanelSet {
    let size = GarmentKind::CrewTee.size_named("M").expect("a tee has that size");
    let garment = Garment::new(GarmentKind::CrewTee, Some(size), &RawMeasures::default()).expect("a size is complete");
    let draft = garment.draft();
    PanelSet { front: draft.front.clone(), back: Some(draft.back.clone()), top: garment.kind().top() }
}

fn ring() -> LineSpec {
    let node = |k: u32| {
        let around = f64::from(k % NODES) * TAU / f64::from(NODES);
        let radius_mm = 130.0 + 22.0 * (5.0 * around).cos() + 7.0 * (11.0 * around).sin();
        Point::new(0.0, 330.0) + radius_mm * Vec2::from_angle(around - FRAC_PI_2)
    };
    let mut path = BezPath::new();
    path.move_to(node(0));
    for k in 0..NODES {
        let handle = |k: u32| (node(k + 1) - node(k + NODES - 1)) / 6.0;
        path.curve_to(node(k) + handle(k), node(k + 1) - handle(k + 1), node(k + 1));
    }
    path.close_path();
    LineSpec {
        centring: Centring::Open,
        kind: LineKind::Ring,
        path,
        guide_mm: 60.0,
        further_mm: vec![],
        pleats: Pleats::Depth { depth_mm: 36.0 },
    }
}

fn folded() -> LineFold {
    LineFold::new(&ring(), tee()).expect("the ring can be folded")
}

/// From the drawn curves to the fold: what every move of a node costs at least.
#[divan::bench]
fn fold_along_60_nodes(bencher: Bencher) {
    let (spec, panels) = (ring(), tee());
    bencher.bench(|| LineFold::new(black_box(&spec), panels.clone()).expect("the ring can be folded"));
}

/// The same with areas between 30 binds and the pleats' widths under them: what a frame of a drag costs.
#[divan::bench]
fn fold_and_30_binds(bencher: Bencher) {
    let (spec, panels) = (ring(), tee());
    bencher.bench(|| {
        let fold = LineFold::new(black_box(&spec), panels.clone()).expect("the ring can be folded");
        let binds: Vec<f64> = (1..=30).map(|bind| fold.length_mm() * f64::from(bind) / 31.0).collect();
        let area_mm2: f64 = sections(&fold, &binds).iter().map(|section| section.area_mm2.sum()).sum();
        area_mm2 + binds.iter().map(|&along_mm| fold.width_mm(along_mm)).sum::<f64>()
    });
}

#[divan::bench]
fn cloth_that_cannot_lie_flat(bencher: Bencher) {
    let fold = folded();
    bencher.bench(|| black_box(&fold).unflat());
}

/// A million points of a picture, in its order, on all cores.
#[divan::bench(sample_count = 10)]
fn a_million_feet(bencher: Bencher) {
    use pleatwright::geometry::Fold as _;
    let fold = folded();
    bencher.bench(|| {
        let row = |y: u32| {
            (0..1000_u32).map(|x| fold.along_as_laid_mm(Point::new(f64::from(x) * 0.6 - 300.0, f64::from(y) * 0.7))).sum::<f64>()
        };
        (0..1000_u32).into_par_iter().map(row).sum::<f64>()
    });
}

/// The same carried to their places in the bundle.
#[divan::bench(sample_count = 10)]
fn a_million_places(bencher: Bencher) {
    use pleatwright::geometry::{ClothPoint, Panel};
    let fold = folded();
    bencher.bench(|| {
        let row = |y: u32| {
            let at = |x: u32| ClothPoint { panel: Panel::Front, x_mm: f64::from(x) * 0.6 - 300.0, y_mm: f64::from(y) * 0.7 };
            (0..1000_u32).filter_map(|x| fold.to_bundle(at(x))).map(|there| there.across).sum::<f64>()
        };
        (0..1000_u32).into_par_iter().map(row).sum::<f64>()
    });
}
