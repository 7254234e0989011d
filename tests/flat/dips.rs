//! Dips: how far dye goes beyond the waterline, by a textbook's fin; and that a layout's dips come out where they were made.

use crate::bodies::{LAYER_MM, spec, square};
use pleatwright::geometry::*;
use pleatwright::layout::{Component, Dip, DipSpec, DyeBy, Figures, Hand, Layout, Process};
use pleatwright::reveal::solver::SolveOptions;
use pleatwright::reveal::*;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};

const SIDE_MM: f64 = 100.0;
/// A whole number of cells either way.
const DEPTH_MM: f64 = 25.0;

/// A square of cloth of one piece.
fn one_square() -> FlatFold {
    let pattern = FlatPattern::Squares { width_mm: SIDE_MM, height_mm: SIDE_MM, angle_deg: 0.0, start: None };
    FlatFold::new(&spec(Centring::Open, pattern, Pack::Zigzag), square(SIDE_MM), LAYER_MM).unwrap()
}

/// How far inside an edge of the outline the middle of a cell lies, mm.
fn inside_mm(fold: &FlatFold, edge: usize, at: kurbo::Point) -> f64 {
    let corners = fold.outline();
    let (from, to) = (corners[edge], corners[(edge + 1) % corners.len()]);
    ((to - from).cross(at - from) / (to - from).hypot()).abs()
}

/// The cell that a number of cells ends in.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place within the bundle")]
fn cell(cells: f64, count: usize) -> usize {
    (cells as usize).min(count - 1)
}

/// The direction across an edge of the outline.
fn towards(fold: &FlatFold, edge: usize) -> kurbo::Vec2 {
    let corners = fold.outline();
    let along = corners[(edge + 1) % corners.len()] - corners[edge];
    kurbo::Vec2::new(along.y, -along.x).normalize()
}

/// A single layer, dipped with one edge: what lies in dye is full, and beyond the waterline the dose falls as the temperature of a straight
/// fin with an insulated tip, `cosh((h - x) / L) / cosh(h / L)` (any textbook of heat transfer, its chapter of extended
/// surfaces; from memory), `L` being the reach. A dip of a quarter of the whole time reaches half as far (Washburn's root of the time).
#[test]
fn beyond_the_waterline_the_dose_falls_as_along_a_fin() {
    let (fold, process) = (one_square(), Process { dye: DyeBy::Dipped, hand: Hand::EXACT, ..Process::default() });
    let cloth = Cloth { free_thickness_mm: 0.1, ..Cloth::default() };
    let grid = RodGrid::new(&fold, &cloth, &[], 1.0, &GridSpec { cell_mm: 1.0, across: 64 }).unwrap();
    let whole_mm = process.calibration.dye_reach.along_mm;
    for (minutes, reach_mm) in [(5.0, whole_mm), (1.25, 0.5 * whole_mm), (60.0, whole_mm)] {
        for edge in 0..4_u32 {
            let zone = fold.dip(DipPart::Edge(edge + 1), DEPTH_MM, 0.1).unwrap();
            let system = dip_system(&grid, &process, &Dip { zone, minutes, colour: 0 }).unwrap();
            let solve = SolveOptions { residual: 1e-6, most_steps: 300 };
            let doses = DoseField::solve(system, None, &solve, &Cancel::new()).unwrap();
            let (shape, size) = (grid.shape(), fold.size());
            let (mut worst, mut beyond) = (0.0_f64, 0);
            for slab in 0..shape.slabs() {
                for across in 0..shape.across() {
                    let across_mm = (across as f64 + 0.5) / shape.across() as f64 * size.height;
                    let at = kurbo::Point::new((slab as f64 + 0.5) * grid.cell_mm(), across_mm);
                    let from_line_mm = inside_mm(&fold, edge as usize, at) - DEPTH_MM;
                    let fin = |x: f64| ((SIDE_MM - DEPTH_MM - x) / reach_mm).cosh() / ((SIDE_MM - DEPTH_MM) / reach_mm).cosh();
                    let dose = f64::from(doses.fields().value(0, slab, 0, across));
                    // What is wet is so from the middle of its cell on: half a cell this way or that.
                    let half_mm =
                        0.5 * if towards(&fold, edge as usize).x.abs() > 0.5 { grid.cell_mm() } else { size.height / 64.0 };
                    let [most, least] =
                        [-half_mm, half_mm].map(|by| if from_line_mm + by <= 0.0 { 1.0 } else { fin(from_line_mm + by) });
                    worst = worst.max(dose - most).max(least - dose);
                    beyond += usize::from(from_line_mm > 0.0);
                }
            }
            assert!(worst < 0.003 && beyond > 1000, "edge {edge}, {minutes} min: {worst} off over {beyond} cells");
        }
    }
}

/// A corner dipped into a mixture: what reaches 1.5 times as far has the doses of a dye whose calibration does, and the dip brings two fields.
#[test]
fn a_dip_into_a_mixture_parts() {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().contains("triangle-pillowcase")).unwrap();
    let mut raw = parse_layout(example.text).unwrap().raw().clone();
    raw.blocks = None;
    raw.binds.edits.clear();
    raw.process = Process { dye: DyeBy::Dipped, hand: Hand::EXACT, ..Process::default() };
    let colour = raw.colours.rotation[1].name.clone();
    raw.dips = vec![DipSpec { part: DipPart::Corner(1), depth_mm: 15.0, minutes: 5.0, colour }];
    let options = RevealOptions { cells: Cells::Of(GridSpec { cell_mm: 6.0, across: 16 }), ..RevealOptions::default() };
    let solved = |layout: &Layout| rod_doses(layout, &options, None, &Cancel::new()).unwrap();
    let plain = Layout::try_from(raw.clone()).unwrap();
    let mut calibration = plain.process().calibration;
    calibration.dye_reach = calibration.dye_reach.times(1.5);
    let [near, far] = [&plain, &plain.with_calibration(calibration)].map(solved);
    let half = |name: &str, reach_factor| Component {
        name: name.to_owned(),
        srgb: raw.colours.rotation[1].srgb,
        percent: 50.0,
        reach_factor,
    };
    raw.colours.rotation[1].components = vec![half("near", 1.0), half("far", 1.5)];
    let parted = solved(&Layout::try_from(raw).unwrap());
    assert_eq!((parted.dips.len(), parted.dyes.as_ref().unwrap().fields().count()), (2, 3));
    let (shape, dose) = (parted.grid.shape(), |rod: &RodDoses, field, at: [usize; 3]| {
        f64::from(rod.dyes.as_ref().unwrap().fields().value(field, at[0], at[1], at[2]))
    });
    let (mut off, mut apart) = (0.0_f64, 0.0_f64);
    for (slab, across) in (0..shape.slabs()).flat_map(|slab| (0..shape.across()).map(move |across| (slab, across))) {
        let at = [slab, shape.places() / 2, across];
        off = off.max((dose(&parted, 1, at) - dose(&near, 1, at)).abs()).max((dose(&parted, 2, at) - dose(&far, 1, at)).abs());
        apart = apart.max(dose(&parted, 2, at) - dose(&parted, 1, at));
    }
    assert!(off < 1e-5 && apart > 0.05, "{off} off, {apart} apart");
}

/// The example's triangles, dipped with two corners in two colours and nothing else: each colour lies where its corner came from, the
/// middle of the bundle stays bare, and what is weighed is the cloth that lies in dye.
#[test]
fn a_layouts_dips_come_out_where_they_were_made() {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().contains("triangle-pillowcase")).unwrap();
    let mut raw = parse_layout(example.text).unwrap().raw().clone();
    raw.blocks = None;
    raw.binds.edits.clear();
    raw.process = Process { dye: DyeBy::Dipped, hand: Hand::EXACT, ..Process::default() };
    let colours: Vec<String> = raw.colours.rotation.iter().map(|swatch| swatch.name.clone()).collect();
    let dip = |(corner, colour): (u32, &String)| DipSpec {
        part: DipPart::Corner(corner),
        depth_mm: 15.0,
        minutes: 5.0,
        colour: colour.clone(),
    };
    raw.dips = (1..).zip(&colours).map(dip).collect();
    let layout = Layout::try_from(raw).unwrap();
    let rod = rod_doses(&layout, &RevealOptions::default(), None, &Cancel::new()).unwrap();
    let (fold, grid) = (layout.flat().unwrap(), &rod.grid);
    let (doses, shape) = (rod.dyes.as_ref().unwrap().fields(), grid.shape());
    assert_eq!((doses.count(), rod.dips.len()), (2, 2));
    let at = |place: kurbo::Point, dye: usize, layer: usize| {
        let slab = cell(place.x / grid.cell_mm(), shape.slabs());
        let across = cell(place.y / fold.size().height * shape.across() as f64, shape.across());
        f64::from(doses.value(dye, slab, layer, across))
    };
    let is_cloth = |place: kurbo::Point, layer: usize| {
        let (along_mm, across) = (place.x, place.y / fold.size().height);
        fold.to_cloth(BundlePoint { along_mm, across, place: f64::from(u32::try_from(layer).unwrap()) })
            .is_some_and(|at| fold.has_cloth(at))
    };
    let (mut own, mut tips, mut seen) = (0.0, 0.0, 0);
    for layer in 0..shape.places() {
        for corner in 0..3 {
            let place = fold.outline()[corner].lerp(fold.middle(), 0.12);
            if !is_cloth(place, layer) {
                continue;
            }
            seen += 1;
            for dye in 0..2 {
                let dose = at(place, dye, layer);
                if corner == dye {
                    own += dose;
                    tips += 1.0;
                } else {
                    assert!(dose < 0.02, "corner {corner}, dye {dye}, layer {layer}: {dose}");
                }
            }
        }
        assert!(at(fold.middle(), 0, layer) < 0.15);
    }
    // The inmost layers take less: what is wrapped round them takes its part.
    assert!(seen > 100 && own > 0.25 * tips, "{seen} tips, {own} in {tips}");
    let figures = Figures::of(&layout);
    // In each layer the tip of a triangle of 60 degrees, 15 mm deep: 15^2 / sqrt 3.
    let tip_mm2 = 225.0 / 3.0_f64.sqrt();
    for (dip, colour) in figures.dips.iter().zip(&figures.colours) {
        let most_mm2 = f64::from(u32::try_from(grid.shape().places()).unwrap()) * tip_mm2;
        assert!(dip.area_mm2.sum() > 0.5 * most_mm2 && dip.area_mm2.sum() < most_mm2, "{dip:?}");
        assert_eq!((colour.dips.as_slice(), colour.sections.len()), (&[dip.number][..], 0));
        assert!((colour.mass_g - dip.area_mm2.sum() * layout.cloth().grams_per_m2 * 1e-6).abs() < 1e-9);
    }
}
