//! What a reveal is unsure of, against brute force: whole reveals one by one, and values drawn at random.

use kurbo::Point;
use pleatwright::geometry::{Centre, Centring, GarmentKind, Panel, Pleats, Progression, RawMeasures, SpacingSpec, ThreadKind};
use pleatwright::layout::{Calibration, Component, ComponentReach, Hand, Layout, Swatch, Tuning, starter};
use pleatwright::learn::{Beliefs, COMPONENT_FACTS, ComponentPart, Learned, LearnedValue, TaughtBy, Unsure, shown_by};
use pleatwright::reveal::colour::{DyeSet, Lab, ciede2000};
use pleatwright::reveal::*;
use pleatwright::telling::Voice;

const SIDE_MM: f64 = 160.0;

/// A small white square, open, of two dyes tied with string.
fn square() -> Layout {
    let measures = RawMeasures { cloth_width_mm: Some(SIDE_MM), cloth_height_mm: Some(SIDE_MM), ..RawMeasures::default() };
    let mut raw = starter(GarmentKind::FlatCloth, None, &measures).unwrap();
    let burst = raw.fold.burst_mut().unwrap();
    burst.centring = Centring::Open;
    burst.centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 0.5 * SIDE_MM };
    burst.guide_radius_mm = 50.0;
    burst.further_arcs_mm.clear();
    burst.pleats = Pleats::Count { count: 8 };
    let list = |gaps_mm: &[f64]| Progression::List { gaps_mm: gaps_mm.to_vec() };
    raw.binds = SpacingSpec { inward: list(&[22.0]), outward: list(&[20.0]), ..raw.binds };
    raw.thread.kind = ThreadKind::PlainString;
    raw.process.hand = Hand::EXACT;
    raw.process.discharge = None;
    raw.garment.colour = None;
    let dye = |name: &str, colour: &str| Swatch::plain(name, colour.parse().unwrap());
    raw.colours.rotation = vec![dye("teal", "#0f7c8a"), dye("amber", "#d99a1e")];
    Layout::try_from(raw).unwrap()
}

fn options() -> RevealOptions {
    RevealOptions { pixel_mm: 5.0, ..RevealOptions::default() }
}

/// What a maker knows of every value that the square shows: a few percent, the two reaches together.
fn well_known(layout: &Layout) -> (Learned, Layout) {
    let values = shown_by(layout);
    let at = |value: LearnedValue| values.iter().position(|other| *other == value).unwrap();
    let mut parts: Vec<(LearnedValue, f64, Vec<f64>)> = values
        .iter()
        .enumerate()
        .map(|(number, value)| {
            let mut covariances = vec![0.0; number + 1];
            covariances[number] = 0.002;
            (*value, value.of(&Calibration::default()), covariances)
        })
        .collect();
    parts[at(LearnedValue::DyeThrough)].2[at(LearnedValue::DyeAlong)] = 0.0015;
    let piece = TaughtBy { name: "square".to_owned(), photographs: Vec::new(), values };
    let learned = Learned::from_parts(&parts, &[], vec![piece], Vec::new()).unwrap();
    let layout = layout.with_calibration(learned.calibration(layout.process().calibration));
    (learned, layout)
}

/// Colours of a reveal computed from nothing, pixel by pixel.
fn colours(layout: &Layout) -> Vec<Option<Lab>> {
    // As it is computed there: half as many cells across as a picture has, but 8.
    let fine = fine_grid(&square());
    let cells = Cells::Of(GridSpec { across: (fine.across / 2).max(8), ..fine });
    let options = RevealOptions { cells, ..options() };
    let reveal = reveal_doses(layout, &options, &Cancel::new()).unwrap();
    let (map, dyes) = (reveal.map(Panel::Front).unwrap(), DyeSet::of_layout(layout, None));
    let lab = |pixel: usize| {
        let doses: Vec<f64> = map.doses[map.dyes * pixel..][..map.dyes].iter().map(|dose| f64::from(*dose)).collect();
        (map.coverage[pixel] >= 0.5).then(|| dyes.lab(&doses, 0.0))
    };
    (0..map.coverage.len()).map(lab).collect()
}

/// Before any photograph every value is off by itself: half of what its two ends differ by, added in square, is what a place may be off by.
#[test]
fn a_place_may_be_off_by_each_value_in_square() {
    let layout = square();
    let beliefs = Beliefs::prior(&layout);
    let unsure = Unsure::of(&layout, &beliefs, &options(), &Cancel::new()).unwrap();
    let own = layout.process().calibration;
    let mut squares = vec![0.0; colours(&layout).len()];
    let mut each = Vec::new();
    for &value in beliefs.values() {
        let sd = beliefs.sd(value).unwrap();
        let end = |by: f64| {
            let mut calibration = own;
            value.put(value.facts().scale.from_value(value.of(&own)) + by, &mut calibration);
            colours(&layout.with_calibration(calibration))
        };
        let (up, down) = (end(sd), end(-sd));
        let mut sum = 0.0;
        for (square, ends) in squares.iter_mut().zip(up.iter().zip(&down)) {
            let (Some(up), Some(down)) = ends else { continue };
            let off = (0.5 * ciede2000(*up, *down)).powi(2);
            (*square, sum) = (*square + off, sum + off);
        }
        each.push((sum, value));
    }
    let frame = panel_frames(&layout, &options()).unwrap()[0].1;
    let (mut mean, mut above, mut cloth) = (0.0, 0.0, 0.0);
    for (pixel, colour) in colours(&layout).iter().enumerate() {
        let Point { x, y } = frame.middle(pixel % frame.width, pixel / frame.width);
        let wanted: f64 = if colour.is_some() { squares[pixel].sqrt() } else { 0.0 };
        let found = f64::from(unsure.at(Panel::Front, x, y));
        assert!((found - wanted).abs() < 0.05 + 0.01 * wanted, "{found}, by brute force {wanted} at {x} {y}");
        mean += wanted;
        above += if wanted > DIFFERS_ABOVE { 1.0 } else { 0.0 };
        cloth += f64::from(u8::from(colour.is_some()));
    }
    assert_close!(unsure.mean(), mean / cloth, 0.02);
    assert_close!(unsure.differing(), above / cloth, 0.01);
    let most = each.iter().max_by(|a, b| a.0.total_cmp(&b.0)).unwrap().1;
    assert_eq!(unsure.mostly(), Some(most.facts().words));
    let said = unsure.sentence(Voice::FILE);
    assert!(said.starts_with("By what we guess of its calibration, the picture may be off by "), "{said}");
    assert!(said.contains(&format!("most of all by \"{}\"", most.facts().words)), "{said}");
}

/// The lower triangle whose product with itself turned over is a covariance (Cholesky), row by row.
fn cholesky(count: usize, covariance: impl Fn(usize, usize) -> f64) -> Vec<Vec<f64>> {
    let mut factor = vec![vec![0.0; count]; count];
    for row in 0..count {
        for column in 0..=row {
            let before: f64 = (0..column).map(|k| factor[row][k] * factor[column][k]).sum();
            factor[row][column] = if row == column {
                (covariance(row, row) - before).sqrt()
            } else {
                (covariance(row, column) - before) / factor[column][column]
            };
        }
    }
    factor
}

/// Values drawn at random by their covariance (Box and Muller's normal numbers of a fixed sequence) spread the colours as far as is told: the root
/// mean square of what 60 of them are off by, over the cloth, within a seventh (their own chance is a tenth); and nearly none changes the picture more than the extremes do.
#[test]
fn values_drawn_at_random_spread_as_far() {
    let (learned, layout) = well_known(&square());
    let beliefs = Beliefs::of(&layout, Some(&learned));
    assert!(beliefs.is_learned());
    let unsure = Unsure::of(&layout, &beliefs, &options(), &Cancel::new()).unwrap();
    let base = colours(&layout);
    let apart = |other: &[Option<Lab>]| {
        let both = base.iter().zip(other).filter_map(|(a, b)| Some(ciede2000((*a)?, (*b)?).powi(2)));
        let (count, sum) = both.fold((0.0, 0.0), |(count, sum), square| (count + 1.0, sum + square));
        (sum / count).sqrt()
    };
    let values = beliefs.values();
    let count = values.len();
    let factor = cholesky(count, |row, column| learned.covariance_of(values[row], values[column]));
    let mut state = 17_u64;
    let mut even = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((state >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    };
    let own = layout.process().calibration;
    let drawn: Vec<f64> = (0..60)
        .map(|_| {
            let normal: Vec<f64> =
                (0..count).map(|_| (-2.0 * even().ln()).sqrt() * (std::f64::consts::TAU * even()).cos()).collect();
            let mut calibration = own;
            for (row, value) in values.iter().enumerate() {
                let by: f64 = (0..=row).map(|column| factor[row][column] * normal[column]).sum();
                value.put(value.facts().scale.from_value(value.of(&own)) + by, &mut calibration);
            }
            apart(&colours(&layout.with_calibration(calibration)))
        })
        .collect();
    let spread = (drawn.iter().map(|off| off * off).sum::<f64>() / drawn.len() as f64).sqrt();
    let frame = panel_frames(&layout, &options()).unwrap()[0].1;
    let told = (0..base.len()).filter(|pixel| base[*pixel].is_some()).map(|pixel| {
        let at = frame.middle(pixel % frame.width, pixel / frame.width);
        f64::from(unsure.at(Panel::Front, at.x, at.y)).powi(2)
    });
    let told = (told.clone().sum::<f64>() / told.count() as f64).sqrt();
    assert_close!(spread / told, 1.0, 0.15, "drawn {spread}, told {told}");
    let [least, most] = unsure.extremes().each_ref().map(|tuning| apart(&colours(&layout.tuned(tuning))));
    let single = values.iter().map(|value| {
        let mut calibration = own;
        value.put(value.facts().scale.from_value(value.of(&own)) + beliefs.sd(*value).unwrap(), &mut calibration);
        apart(&colours(&layout.with_calibration(calibration)))
    });
    let single = single.fold(0.0, f64::max);
    assert!(least.max(most) > 0.95 * single, "{least} and {most}, by one value {single}");
    // Less is known before any photograph.
    let guessed = Unsure::of(&layout, &Beliefs::prior(&layout), &options(), &Cancel::new()).unwrap();
    assert!(unsure.mean() < 0.4 * guessed.mean(), "{} and {}", unsure.mean(), guessed.mean());
    assert!(unsure.sentence(Voice::FILE).starts_with("By what your pieces taught, "));
}

/// The two extremes have less dye on the cloth and more; hatching lies where it may be off, and nowhere else.
#[test]
fn extremes_have_less_dye_and_more_and_hatching_lies_where_it_is_unsure() {
    let layout = square();
    let unsure = Unsure::of(&layout, &Beliefs::prior(&layout), &options(), &Cancel::new()).unwrap();
    let reveal = |tuning: &Tuning| reveal_doses(&layout.tuned(tuning), &options(), &Cancel::new()).unwrap();
    let dose = |reveal: &Reveal| reveal.map(Panel::Front).unwrap().doses.iter().sum::<f32>();
    let [least, most] = unsure.extremes();
    let expected = reveal(&Tuning::of(layout.raw()));
    let doses = [&reveal(least), &expected, &reveal(most)].map(dose);
    assert!(doses[0] < doses[1] && doses[1] < doses[2], "{doses:?}");
    let fine = expected.at_pixels(1.0).unwrap();
    let (drawn, frame) = (picture(&fine, &DyeSet::of_layout(&layout, None)), fine.panels()[0].1);
    let hatched = unsure.hatched(&drawn, fine.panels());
    let (mut changed, mut unsure_there) = (0, 0);
    for pixel in 0..frame.pixels() {
        let at = frame.middle(pixel % frame.width, pixel / frame.width);
        let is_unsure = f64::from(unsure.at(Panel::Front, at.x, at.y)) > DIFFERS_ABOVE;
        let differs = hatched.rgba[4 * pixel..][..4] != drawn.rgba[4 * pixel..][..4];
        assert!(!differs || is_unsure, "hatched where it is sure, at {at}");
        changed += u32::from(differs);
        unsure_there += u32::from(is_unsure);
    }
    // About two fifths of what is unsure are lines.
    let share = f64::from(changed) / f64::from(unsure_there);
    assert!(unsure_there > 1000 && (0.3..0.55).contains(&share), "{share} of {unsure_there}");
    // Stopped it is none.
    let cancel = Cancel::new();
    cancel.cancel();
    let stopped = Unsure::of(&layout, &Beliefs::prior(&layout), &options(), &cancel);
    assert_eq!(stopped.unwrap_err(), RevealError::Cancelled);
}

/// How far a mixture's component reaches is unsure like any value, by what is believed of a guess: what a place is off by beyond an unmixed
/// square's is, in square, half of what both ends of each component differ by. What was learned of one is surer.
#[test]
fn how_far_a_component_reaches_is_unsure_as_well() {
    let mut raw = square().raw().clone();
    let one = |name: &str, colour: &str| Component {
        name: name.to_owned(),
        srgb: colour.parse().unwrap(),
        percent: 50.0,
        reach_factor: 1.0,
    };
    raw.colours.rotation[0].components = vec![one("blue", "#2a4f8f"), one("green", "#1f8a5a")];
    let layout = Layout::try_from(raw.clone()).unwrap();
    let [mixed, plain] = [&layout, &square()].map(|layout| {
        let beliefs = Beliefs::prior(layout);
        (Unsure::of(layout, &beliefs, &options(), &Cancel::new()).unwrap(), beliefs)
    });
    assert_eq!((mixed.1.components().len(), plain.1.components().len()), (2, 0));
    let sd = COMPONENT_FACTS.prior_sd.hypot(COMPONENT_FACTS.floor);
    let end = |component: usize, by: f64| {
        let mut tuning = Tuning::of(layout.raw());
        tuning.reaches[component].reach_factor = by.exp();
        colours(&layout.tuned(&tuning))
    };
    let ends = [0, 1].map(|component| (end(component, sd), end(component, -sd)));
    let frame = panel_frames(&layout, &options()).unwrap()[0].1;
    let mut most = 0.0_f64;
    for (pixel, colour) in colours(&layout).iter().enumerate() {
        if colour.is_none() {
            continue;
        }
        let Point { x, y } = frame.middle(pixel % frame.width, pixel / frame.width);
        let [with, without] = [&mixed.0, &plain.0].map(|unsure| f64::from(unsure.at(Panel::Front, x, y)));
        let of_components: f64 =
            ends.iter().map(|(up, down)| (0.5 * ciede2000(up[pixel].unwrap(), down[pixel].unwrap())).powi(2)).sum();
        let wanted = without.hypot(of_components.sqrt());
        assert!((with - wanted).abs() < 0.05 + 0.01 * wanted, "{with}, by brute force {wanted} at {x} {y}");
        most = most.max(of_components.sqrt());
    }
    assert!(most > 3.0, "{most}");
    let reaches = ComponentReach { mixture: "teal".to_owned(), component: "blue".to_owned(), reach_factor: 1.0 };
    let part = ComponentPart { reach: reaches.clone(), guess: 1.25, covariance: vec![0.002], pieces: 1 };
    let learned = Learned::from_parts(&[], &[part], Vec::new(), Vec::new()).unwrap();
    let beliefs = Beliefs::of(&layout, Some(&learned));
    assert!(beliefs.is_learned());
    let surer = Unsure::of(&layout, &beliefs, &options(), &Cancel::new()).unwrap();
    assert!(surer.mean() < mixed.0.mean() && surer.mean() > plain.0.mean(), "{} of {}", surer.mean(), mixed.0.mean());
    // What the layout has otherwise than it was learned is a guess.
    let other = Tuning { reaches: vec![ComponentReach { reach_factor: 1.1, ..reaches }], ..Tuning::of(layout.raw()) };
    assert!(!Beliefs::of(&layout.tuned(&other), Some(&learned)).is_learned());
}
