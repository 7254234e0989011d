//! Calibration learned from a drawn photograph of a test square, with known truth.

use crate::drawn::random::{Field, Random};
use crate::drawn::scene::{Scene, SceneOptions, jpeg};
use image::RgbImage;
use pleatwright::geometry::{ClothPoint, GarmentKind, Panel, RawMeasures, ThreadKind};
use pleatwright::layout::{Calibration, Hand, Layout, LayoutSpec, Swatch, Tuning, layout_text, starter};
use pleatwright::learn::{LearnError, Learned, LearnedValue, Piece, PiecePhoto, TEST_CLOTH, shown_by, teach};
use pleatwright::photo::{Marks, PhotoError, Plan, named_points};
use pleatwright::reveal::colour::{DyeSet, LinearRgb, ciede2000};
use pleatwright::reveal::{
    Cancel, Cells, GridSpec, PictureMap, Reading, RevealOptions, Texture, fine_grid, opened, picture_of, reveal_doses, rod_binds,
    rod_doses_bound,
};
use pleatwright::store::{marks_text, parse_layout, photograph_of, read_learned};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

/// The first test square's thread and dryness on the second's white cloth: one dye, dry, waxed.
pub(crate) fn white_square(pleats: u32) -> LayoutSpec {
    let mut spec = TEST_CLOTH[1].layout();
    spec.name = format!("White square of {pleats}");
    spec.thread.kind = ThreadKind::Waxed;
    spec.process.inside = TEST_CLOTH[0].layout().process.inside;
    spec.colours.rotation.truncate(1);
    if let Some(burst) = spec.fold.burst_mut() {
        burst.pleats = pleatwright::geometry::Pleats::Count { count: pleats };
    }
    spec
}

/// Values that lie off their defaults by 0.7 of what is believed of them.
fn planted(seed: u64) -> Calibration {
    planted_by(seed, 0.7)
}

/// Values that lie off their defaults by a share of what is believed of them.
pub(crate) fn planted_by(seed: u64, share: f64) -> Calibration {
    let mut random = Random::new(seed);
    let mut calibration = Calibration::default();
    for value in shown_by(&Layout::try_from(white_square(16)).unwrap()) {
        value.put(value.prior_mean() + share * value.facts().prior_sd * random.normal(), &mut calibration);
    }
    calibration
}

/// A square as it was made, and its photograph: other cells than the fit's, a hand that strays, binds off their marks by 1 mm, a dye of another
/// strength than its swatch, powder that lies unevenly.
pub(crate) fn photographed(spec: &LayoutSpec, truth: &Tuning, seed: u64) -> (RgbImage, Marks) {
    photographed_at(SceneOptions::default().size, spec, truth, seed)
}

/// The same with so many pixels across and down.
pub(crate) fn photographed_at(size: [u32; 2], spec: &LayoutSpec, truth: &Tuning, seed: u64) -> (RgbImage, Marks) {
    let mut random = Random::new(seed ^ 0xabc);
    let mut made = spec.clone();
    made.tune(truth);
    made.process.hand = Hand { seed, ..Hand::default() };
    let made = Layout::try_from(made).unwrap();
    let mut binds = rod_binds(&made);
    binds.iter_mut().for_each(|bind| bind.along_mm += random.normal());
    let cells = Cells::Of(GridSpec { cell_mm: 0.67, ..fine_grid(&made) });
    let rod = rod_doses_bound(&made, &binds, &RevealOptions { cells, ..RevealOptions::default() }, None, &Cancel::new()).unwrap();
    let preview = reveal_doses(&made, &RevealOptions::preview(), &Cancel::new()).unwrap().at_pixels(1.0).unwrap();
    let frame = preview.panels()[0].1;
    let mut map = opened(made.fold(), &rod, made.process(), &made.dye_fields(), Panel::Front, frame).unwrap();
    let (powder, strength) = (Field::new(&mut random, 24.0, 0.10), 0.1 * random.normal());
    for (at, dose) in map.doses.iter_mut().enumerate() {
        let place = frame.middle(at % frame.width, at / frame.width);
        #[expect(clippy::cast_possible_truncation, reason = "doses are kept in single precision")]
        let factor = (powder.at(place.x, place.y) + strength).exp() as f32;
        *dose *= factor;
    }
    let mut light = vec![[0.0; 3]; map.coverage.len()];
    DyeSet::of_layout(&made, None).fill_linear(&map.doses, &map.discharged, &mut light);
    let light = light.iter().zip(&map.coverage).map(|(light, &share)| {
        let [red, green, blue] = light.map(|channel: f32| channel.clamp(0.0, 1.0) * share);
        [red, green, blue, share]
    });
    let plain = Layout::try_from(spec.clone()).unwrap();
    let points = named_points(&plain, Panel::Front);
    let plan = Plan::from_light(plain, Panel::Front, frame, light.collect()).unwrap();
    let scene = Scene::new(7000 + seed, &plan, SceneOptions { sleeve_deg: 0.0, size, ..SceneOptions::default() });
    (scene.render(), scene.marks(&points))
}

fn put(folder: &Path, name: &str, spec: &LayoutSpec, seed: u64) {
    let (picture, marks) = photographed(spec, &Tuning::plain(planted(SEED)), seed);
    fs::write(folder.join(format!("{name}.ron")), layout_text(spec)).unwrap();
    fs::write(folder.join(format!("{name}.jpg")), jpeg(&picture, None, None)).unwrap();
    fs::write(folder.join(format!("{name}.jpg.marks.ron")), marks_text(&marks)).unwrap();
}

pub(crate) fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pleatwright")).args(arguments).current_dir(folder).output().unwrap()
}

/// Mean CIEDE2000 between a white tee with these values and with others.
fn tee_differs(a: Calibration, b: Calibration) -> f64 {
    let mut spec = starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()).unwrap();
    spec.garment.colour = Some(Swatch::plain("white", "#f5f3ea".parse().unwrap()));
    spec.process.hand = Hand::EXACT;
    let layout = Layout::try_from(spec).unwrap();
    let [a, b] = [a, b].map(|calibration| {
        let reveal = reveal_doses(&layout.with_calibration(calibration), &RevealOptions::default(), &Cancel::new()).unwrap();
        picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::Cloth, Texture::Off)
    });
    let lab = |pixel: &[u8]| {
        let srgb = pleatwright::layout::Srgb { red: pixel[0], green: pixel[1], blue: pixel[2] };
        LinearRgb::from(srgb).to_xyz().to_lab()
    };
    let pixels = a.rgba.chunks(4).zip(b.rgba.chunks(4)).step_by(7).filter(|(a, _)| a[3] == 255);
    let (sum, count) = pixels.fold((0.0, 0.0), |(sum, count), (a, b)| (sum + ciede2000(lab(a), lab(b)), count + 1.0));
    sum / count
}

/// Of drawn squares with planted values.
const SEED: u64 = 102;

/// One white square by the command: reaches within 0.15, fewer than 120 solves, an unseen tee foretold within 1.5 and in less than half of what the
/// defaults are off by, a square kept back too; what it does not show stays as it was; and what was learned begins a layout.
#[test]
fn a_white_square_teaches_how_far_dye_reaches() {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    put(folder, "square", &white_square(16), 2);
    put(folder, "other", &white_square(12), 3);
    let learn = ["learn", "square.ron=square.jpg", "--kept-back", "other.ron=other.jpg", "-o", "mine.ron", "--json"];
    let output = run(folder, &learn);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let number = |pointer: &str| {
        json.pointer(pointer).and_then(serde_json::Value::as_f64).unwrap_or_else(|| panic!("{pointer} in {json}"))
    };
    assert!(number("/solves") < 120.0, "{}", number("/solves"));
    let [before, after] = ["before", "after"].map(|when| number(&format!("/kept_back/{when}_delta_e")));
    assert!(after < 0.8 * before, "{after} beside {before}");

    // Where nothing is mixed there is nothing to learn of components.
    assert_eq!(json.pointer("/components").and_then(serde_json::Value::as_array).map(Vec::len), Some(0), "{json}");

    let (learned, truth) = (read_learned(&folder.join("mine.ron")).unwrap(), planted(SEED));
    let shown = shown_by(&Layout::try_from(white_square(16)).unwrap());
    for value in LearnedValue::ALL {
        let off = learned.place(value) - value.facts().scale.from_value(value.of(&truth));
        if shown.contains(&value) {
            assert!(off.abs() < 2.0 * learned.sd(value), "{value:?} is {off} off, give or take {}", learned.sd(value));
        } else {
            assert!((learned.place(value) - value.prior_mean()).abs() < 1e-9 && !learned.is_learned(value), "{value:?}");
            let sd = value.facts().prior_sd.hypot(value.facts().floor);
            assert!((learned.sd(value) - sd).abs() < 1e-6, "{value:?}");
        }
        if [LearnedValue::DyeAlong, LearnedValue::DyeThrough].contains(&value) {
            assert!(off.abs() < 0.15 && learned.is_learned(value), "{value:?} is {off} off");
        }
    }
    let with_learned = tee_differs(truth, learned.calibration(Calibration::default()));
    let with_defaults = tee_differs(truth, Calibration::default());
    assert!(with_learned < 1.5 && with_learned < 0.5 * with_defaults, "{with_learned} beside {with_defaults}");
    begins_layouts(folder, &learned);

    let again = ["learn", "square.ron=square.jpg", "--earlier", "mine.ron", "-o", "mine.ron"];
    let said = String::from_utf8(run(folder, &again).stderr).unwrap();
    assert!(said.contains("square.jpg: it counts already, as a photograph of \"White square of 16\"; leave it out"), "{said}");
}

/// A new layout begins with what was learned; an old one is pictured with it where that is asked for, and keeps its own.
fn begins_layouts(folder: &Path, learned: &Learned) {
    let output = run(folder, &["new", "-o", "tee.ron", "--calibration", "mine.ron"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let begun = parse_layout(&fs::read_to_string(folder.join("tee.ron")).unwrap()).unwrap();
    assert!(begun.process().calibration.has_values_of(&learned.calibration(Calibration::default())));
    let text = fs::read_to_string(folder.join("tee.ron")).unwrap();
    assert!(begun.process().calibration.learned.is_some() && text.contains("learned: (pieces: 1, on: \"2"), "{text}");
    let said = String::from_utf8(run(folder, &["reveal", "tee.ron", "-o", "tee.png", "--pixel", "8mm"]).stdout).unwrap();
    assert!(said.contains("An estimate, with calibration learned from 1 piece, 2"), "{said}");
    let before = fs::read(folder.join("square.ron")).unwrap();
    let reveal = ["reveal", "square.ron", "-o", "square.png", "--calibration", "mine.ron"];
    let said = String::from_utf8(run(folder, &reveal).stdout).unwrap();
    assert!(said.contains("An estimate, with what was learned in mine.ron"), "{said}");
    assert_eq!(fs::read(folder.join("square.ron")).unwrap(), before);
}

/// Twenty fresh squares with values planted as far off as is believed of them: what is learned from one alone foretells a tee that was not learned from
/// nearer than the defaults do. Scenes in which the camera cuts the cloth off are left out. Some five minutes optimised.
#[test]
#[ignore = "a measure of minutes: cargo test --test photo never_worse -- --ignored"]
fn never_worse_than_the_defaults_on_twenty_fresh_squares() {
    let spec = white_square(16);
    let layout = Layout::try_from(spec.clone()).unwrap();
    let (mut told, mut nearer, mut tried) = (Vec::new(), 0, 0);
    for seed in 5000_u64.. {
        let truth = planted_by(seed, 1.0);
        let (picture, marks) = photographed(&spec, &Tuning::plain(truth), seed);
        let photograph = photograph_of(&jpeg(&picture, None, None)).unwrap();
        let photo = PiecePhoto { name: "square".to_owned(), mark: seed.to_string(), photograph, marks };
        let piece = Piece { name: "square".to_owned(), layout: layout.clone(), photographs: vec![photo] };
        let outcome = match teach(&[piece], None, &Learned::default(), &Cancel::new()) {
            Ok(outcome) => outcome,
            Err(LearnError::Photo { error: PhotoError::Marks(_), .. }) => continue,
            Err(error) => panic!("{seed}: {error}"),
        };
        let [before, after] = [Calibration::default(), outcome.after.calibration(Calibration::default())]
            .map(|calibration| tee_differs(truth, calibration));
        told.push(format!("{seed}: {before:.2}, then {after:.2}"));
        nearer += i32::from(after < before);
        tried += 1;
        if tried == 20 {
            break;
        }
    }
    assert_eq!(nearer, tried, "{told:#?}");
}

/// How wide a line is where its bind lies `by_mm` beyond its mark: where the lightness, in the mean over a pleat, is nearer to its greatest than
/// to what it is 6 mm away.
fn line_mm(by_mm: f64, cell_mm: f64) -> f64 {
    let layout = Layout::try_from(white_square(16)).unwrap();
    let mut binds = rod_binds(&layout);
    binds.iter_mut().for_each(|bind| bind.along_mm += by_mm);
    let cells = Cells::Of(GridSpec { cell_mm, across: 8 });
    let rod =
        rod_doses_bound(&layout, &binds, &RevealOptions { cells, ..RevealOptions::default() }, None, &Cancel::new()).unwrap();
    let (bind_mm, step_mm, centre) = (binds[5].along_mm, 0.02, layout.burst().unwrap().centre());
    let dyes = DyeSet::of_layout(&layout, None);
    let mut lightness = vec![0.0; 601];
    for ray in 0..40 {
        // A pleat of sixteen, from crease to crease.
        let way = kurbo::Vec2::from_angle(std::f64::consts::TAU / 16.0 * (f64::from(ray) + 0.5) / 40.0);
        let place = |step: i32| {
            let at = centre + (bind_mm + f64::from(step) * step_mm) * way;
            ClothPoint { panel: Panel::Front, x_mm: at.x, y_mm: at.y }
        };
        let doses = Reading::of(&layout, &(-300..=300).map(place).collect::<Vec<_>>()).doses(&layout, &rod).dyes;
        doses.iter().zip(&mut lightness).for_each(|(dose, sum)| *sum += dyes.lab(&[f64::from(*dose)], 0.0).l);
    }
    let half = f64::midpoint(f64::midpoint(lightness[0], lightness[600]), lightness.iter().copied().fold(0.0, f64::max));
    #[expect(clippy::cast_precision_loss, reason = "some hundred steps")]
    let above = lightness.iter().filter(|sum| **sum > half).count() as f64;
    above * step_mm
}

/// With cells of 1 mm a line is as wide wherever its bind falls between cells, within 3 %; with cells of 2 mm it is a
/// tenth off and more.
#[test]
fn lines_keep_their_width_wherever_binds_fall() {
    let spread = |cell_mm: f64| {
        let widths = [0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.5].map(|by_mm| line_mm(by_mm, cell_mm));
        let mean = widths.iter().sum::<f64>() / 7.0;
        (widths.iter().fold(0.0_f64, |most, mm| most.max((mm / mean - 1.0).abs())), widths)
    };
    let (fine, widths) = spread(1.0);
    assert!(fine < 0.03, "{widths:.2?}");
    let (coarse, widths) = spread(2.0);
    assert!(coarse > 0.1, "{widths:.2?}");
}
