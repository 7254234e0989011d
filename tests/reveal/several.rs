//! Several ties on one garment: whose cloth each pixel is, and what the loose cloth gets.

use pleatwright::geometry::{Centre, ClothPoint, Panel, ThreadKind};
use pleatwright::layout::{Component, Discharge, Figures, FoldSpec, Hand, Layout, LayoutSpec, Srgb, Swatch};
use pleatwright::reveal::{Cancel, Cells, DoseMap, GridSpec, Reveal, RevealOptions, reveal_doses, reveal_doses_after};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};

/// The example of four ties, laid by an exact hand, changed.
fn four(change: impl FnOnce(&mut LayoutSpec)) -> Layout {
    let example = EXAMPLE_LAYOUTS.iter().find(|example| example.name == "harbour-row-four-ties-tee-m.ron").unwrap();
    let mut raw = parse_layout(example.text).unwrap().raw().clone();
    raw.process.hand = Hand::EXACT;
    change(&mut raw);
    Layout::try_from(raw).unwrap()
}

fn options() -> RevealOptions {
    RevealOptions { pixel_mm: 2.0, cells: Cells::Of(GridSpec { cell_mm: 4.0, across: 8 }), ..RevealOptions::default() }
}

fn opened(layout: &Layout) -> Reveal {
    reveal_doses(layout, &options(), &Cancel::new()).unwrap()
}

/// Cloth of each section number in a panel's picture, mm2.
fn seen_mm2(map: &DoseMap, sections: usize) -> Vec<f64> {
    let mut seen = vec![0.0; sections + 1];
    for (&section, &share) in map.section.iter().zip(&map.coverage) {
        seen[usize::from(section)] += f64::from(share) * map.frame.pixel_mm.powi(2);
    }
    seen
}

/// What pixels show of each section is what the figures measure of it: two ways to the same areas, by counting and in closed form.
#[test]
fn every_pixel_belongs_to_one_tie_or_is_loose() {
    let layout = four(|_| ());
    let (reveal, figures) = (opened(&layout), Figures::of(&layout));
    let several = figures.several.as_ref().unwrap();
    let sections: Vec<_> = figures.all_sections().collect();
    for panel in Panel::BOTH {
        let seen = seen_mm2(&reveal.map(panel).unwrap(), sections.len() + 1);
        assert!(seen[0] < 1e-6, "{} mm2 of no section", seen[0]);
        for (section, &seen_mm2) in sections.iter().zip(&seen[1..]) {
            let area_mm2 = *section.area_mm2.of(panel);
            // A pixel at the edge counts by its middle.
            let slack_mm2 = 0.03 * area_mm2 + 40.0;
            assert!((seen_mm2 - area_mm2).abs() < slack_mm2, "{section:?}: {seen_mm2} mm2 of the {panel}");
        }
        let (seen_mm2, loose_mm2) = (seen[sections.len() + 1], *several.loose.area_mm2.of(panel));
        assert!((seen_mm2 / loose_mm2 - 1.0).abs() < 0.005, "{seen_mm2} of {loose_mm2} mm2 loose on the {panel}");
    }
}

/// Loose cloth is a plate fed over both faces: its mean dose is `tanh(x) / x` of what feeds it, `x` half its thickness in reaches (Thiele
/// 1939, from memory), worked out anew here. Half of it looks up and half down, where run-off alone wets it.
#[test]
fn loose_cloth_is_a_plate_fed_over_both_faces() {
    let layout = four(|raw| raw.process.discharge = Some(Discharge { strength: 1.0 }));
    let (reveal, process) = (opened(&layout), layout.process());
    let thickness_mm = 2.0 * layout.cloth().free_thickness_mm;
    let plate = |reach_mm: f64| {
        let x = thickness_mm / 2.0 / reach_mm;
        ((2.0 * x).exp() - 1.0) / ((2.0 * x).exp() + 1.0) / x
    };
    let dose = (1.0 + process.calibration.underside) / 2.0 * plate(process.dye_reach().through_mm);
    let loose = reveal.loose().unwrap();
    assert!((loose.dose - dose).abs() < 1e-9, "{} for {dose}", loose.dose);
    let left = 1.0 - process.discharged_share(plate(process.calibration.discharge_reach.through_mm));
    assert!((loose.ground_left - left).abs() < 1e-9);
    let map = reveal.map(Panel::Front).unwrap();
    let navy = layout.swatches().iter().position(|swatch| swatch.name == "navy").unwrap();
    let last = map.section.iter().copied().max().unwrap();
    let mut by_thread = 0;
    for (at, _) in map.section.iter().enumerate().filter(|&(at, &section)| section == last && map.coverage[at] > 0.0) {
        let doses = &map.doses[at * map.dyes..][..map.dyes];
        let others: f32 = doses.iter().enumerate().filter(|(dye, _)| *dye != navy).map(|(_, dose)| dose).sum();
        assert!(others == 0.0);
        by_thread += u32::from(f64::from(doses[navy]) < 0.5 * dose);
        assert!(f64::from(doses[navy]) <= dose + 1e-6);
    }
    // Half of the last bind's thread lies on it: 1.5 mm along the rings of four ties, 1.9 m in all.
    let thread_mm2 = f64::from(by_thread) * map.frame.pixel_mm.powi(2);
    assert!((1000.0..6000.0).contains(&thread_mm2), "{thread_mm2} mm2 under thread");
}

/// A mixture of its own on loose cloth: each component is a plate by its own reach, and the dose told is their mean by weight. Formula as above.
#[test]
fn components_on_loose_cloth_go_each_as_deep_as_they_reach() {
    let component = |name: &str, percent, reach_factor| Component {
        name: name.to_owned(),
        srgb: Srgb { red: 60, green: 90, blue: 140 },
        percent,
        reach_factor,
    };
    let components = vec![component("fast", 70.0, 1.0), component("slow", 30.0, 0.4)];
    let mixed = Swatch { components, ..Swatch::plain("dusk", Srgb { red: 60, green: 90, blue: 140 }) };
    let layout = four(|raw| {
        raw.garment.cloth.free_thickness_mm = 3.0;
        let ties = raw.ties.as_mut().unwrap();
        (ties.loose, ties.loose_dye) = (None, Some(mixed));
    });
    let (reveal, process) = (opened(&layout), layout.process());
    let plate = |reach_mm: f64| {
        let x = 2.0 * 3.0 / 2.0 / reach_mm;
        ((2.0 * x).exp() - 1.0) / ((2.0 * x).exp() + 1.0) / x
    };
    let feed = (1.0 + process.calibration.underside) / 2.0;
    let doses = [1.0, 0.4].map(|factor| feed * plate(factor * process.dye_reach().through_mm));
    assert!(doses[1] < 0.8 * doses[0], "{doses:?}");
    let loose = reveal.loose().unwrap();
    let dusk = layout.swatches().iter().position(|swatch| swatch.name == "dusk").unwrap();
    assert_eq!((loose.dye, dusk), (Some(dusk), layout.swatches().len() - 1));
    assert!((loose.dose - (0.7 * doses[0] + 0.3 * doses[1])).abs() < 1e-9, "{} of {doses:?}", loose.dose);
    let map = reveal.map(Panel::Back).unwrap();
    let fields: Vec<usize> = layout.dye_fields().of_dye(dusk).map(|(number, _)| number).collect();
    let last = map.section.iter().copied().max().unwrap();
    let whole = (0..map.section.len()).filter(|&at| map.section[at] == last && map.coverage[at] > 0.99);
    for (field, dose) in fields.iter().zip(doses) {
        let most = whole.clone().map(|at| f64::from(map.doses[at * map.dyes + field])).fold(0.0, f64::max);
        assert!((most - dose).abs() < 1e-6, "{most} for {dose}");
    }
}

/// Where a tie meets the cloth of one before it, half of that one's last thread lies on it: dye comes through as little as through the
/// other half, on a strip half a thread's breadth wide.
#[test]
fn thread_lies_where_two_ties_meet() {
    // The hem's burst moved onto the heart's point, so that both meet.
    let meeting = |kind| {
        let layout = four(|raw| {
            let hem = &mut raw.ties.as_mut().unwrap().further[2];
            let FoldSpec::Burst(burst) = &mut hem.fold else { panic!("a burst") };
            burst.centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 500.0 };
            raw.thread.kind = kind;
        });
        assert!(layout.ties()[3].tied_fold().unwrap().shared_mm2().sum() > 1000.0);
        let map = opened(&layout).map(Panel::Front).unwrap();
        (layout, map)
    };
    let ((layout, waxed), (_, string)) = (meeting(ThreadKind::Waxed), meeting(ThreadKind::PlainString));
    let before: usize = layout.ties()[..3].iter().map(Layout::sections).sum();
    let heart = layout.ties()[0].tied_fold().unwrap().taken().clone();
    let half_mm = 0.5 * f64::from(layout.bound_rods().last().unwrap().1) * layout.thread().diameter_mm;
    let (mut near, mut far) = ([0.0_f64; 2], 0);
    for at in 0..waxed.section.len() {
        let section = usize::from(waxed.section[at]);
        if section <= before || section > before + layout.ties()[3].sections() {
            continue;
        }
        let (column, row) = (at % waxed.frame.width, at / waxed.frame.width);
        let drawn = waxed.frame.middle(column, row);
        let away_mm = heart.beyond_mm(ClothPoint { panel: Panel::Front, x_mm: drawn.x, y_mm: drawn.y });
        let doses =
            [&waxed, &string].map(|map| map.doses[at * map.dyes..][..map.dyes].iter().map(|dose| f64::from(*dose)).sum::<f64>());
        if away_mm < half_mm {
            near.iter_mut().zip(doses).for_each(|(near, dose)| *near += dose);
        } else if away_mm > half_mm + 0.01 {
            far += 1;
            assert!((doses[0] - doses[1]).abs() < 1e-6, "{away_mm} mm away: {doses:?}");
        }
    }
    let [waxed, string] = [process_cover(&layout, ThreadKind::Waxed), process_cover(&layout, ThreadKind::PlainString)];
    assert!(far > 500 && near[1] > 0.0, "{far} pixels beyond, {near:?} under thread");
    assert!((near[0] / near[1] - (1.0 - waxed) / (1.0 - string)).abs() < 1e-3, "{near:?}");
}

fn process_cover(layout: &Layout, kind: ThreadKind) -> f64 {
    layout.process().calibration.bind(kind).cover
}

/// A tie of several comes out as the same tie with nothing else on the garment, out to its last bind but for the thread that closes it.
#[test]
fn a_tie_comes_out_as_if_it_were_alone() {
    let layout = four(|_| ());
    let (all, alone) = (opened(&layout), Layout::try_from(layout.raw().tie(1)).unwrap());
    let (own, other) = (all.map(Panel::Front).unwrap(), opened(&alone).map(Panel::Front).unwrap());
    let first = layout.ties()[0].sections();
    let amber = layout.swatches().iter().position(|swatch| swatch.name == "amber").unwrap();
    let mut compared = 0;
    for at in 0..own.section.len() {
        let section = usize::from(own.section[at]).saturating_sub(first);
        // The last section of the tie is closed where the other goes on.
        if usize::from(own.section[at]) <= first || section >= layout.ties()[1].sections() {
            continue;
        }
        assert_eq!(section, usize::from(other.section[at]));
        let [one, two] = [own.doses[at * own.dyes + amber], other.doses[at * other.dyes]];
        assert!((one - two).abs() < 0.02, "section {section}: {one} and {two}");
        compared += 1;
    }
    assert!(compared > 2000, "{compared}");
}

/// Begun from an earlier reveal, the ties that stayed are taken over and the others computed anew.
#[test]
fn what_stayed_is_taken_over() {
    let (before, after) = (four(|_| ()), four(|raw| raw.ties.as_mut().unwrap().further[2].thread.wraps = 6));
    let earlier = opened(&before);
    let again = reveal_doses_after(&after, &options(), Some(&earlier), &Cancel::new()).unwrap();
    let anew = opened(&after);
    for panel in Panel::BOTH {
        let [one, two] = [&again, &anew].map(|reveal| reveal.map(panel).unwrap());
        let apart = one.doses.iter().zip(&two.doses).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max);
        assert!(apart < 0.01, "{apart}");
    }
    let taken_over = again.ties().iter().zip(earlier.ties()).map(|(a, b)| std::sync::Arc::ptr_eq(&a.rod, &b.rod));
    assert_eq!(taken_over.collect::<Vec<_>>(), [true, true, true, false]);
}
