//! Every step of the window, painted and held against its picture in `tests/pictures/`.
//!
//! The pictures are of a small window, at half its size, in 32 levels a channel, so that they take little room. Painting is exact, so
//! they differ only where the window does; the tolerance is for the last bit of a sine on another machine, which may move a channel by
//! one level of 8.

use crate::harness::{TEE, Window, click, fine, wait, write};
use crate::painter::Painter;
use crate::photographs;
use crate::reference;
use egui::{Shape, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{Rgb, RgbImage};
use pleatwright::app::App;
use std::path::Path;
use std::time::{Duration, Instant};

/// Size of the window, points: all panels have room.
const SMALL: Vec2 = vec2(1000.0, 680.0);
/// A level of a channel, of 255.
const LEVEL: u16 = 8;
/// Most that a channel of a pixel may differ, of 255.
const CHANNEL_TOLERANCE: u8 = 12;
/// Most pixels that may differ by more: 0.006 % of a picture, far less than one letter has.
const PIXELS_TOLERANCE: usize = 10;

fn painted_window(home: &Path) -> (Window, Painter) {
    let (painter, home) = (Painter::default(), home.to_owned());
    let mut window: Window = Harness::builder()
        .with_size(SMALL)
        .with_max_steps(60)
        .renderer(painter.clone())
        .build_eframe(move |creation| App::new(&creation.egui_ctx, Some(home), None));
    window.run_ok();
    (window, painter)
}

/// The picture at half its size, each pixel the mean of four, in levels.
fn halved(picture: &RgbImage) -> RgbImage {
    RgbImage::from_fn(picture.width() / 2, picture.height() / 2, |x, y| {
        let four = [(0, 0), (1, 0), (0, 1), (1, 1)].map(|(right, down)| picture.get_pixel(2 * x + right, 2 * y + down).0);
        Rgb(std::array::from_fn(|channel| {
            let sum: u16 = four.iter().map(|pixel| u16::from(pixel[channel])).sum();
            u8::try_from(((sum + 2) / 4 + LEVEL / 2) / LEVEL * LEVEL).unwrap_or(u8::MAX)
        }))
    })
}

/// Whether these words stand anywhere in the window, controls or not.
fn shows(window: &Window, words: &str) -> bool {
    fn holds(shape: &Shape, words: &str) -> bool {
        match shape {
            Shape::Text(text) => text.galley.text() == words,
            Shape::Vec(shapes) => shapes.iter().any(|shape| holds(shape, words)),
            _ => false,
        }
    }
    window.output().shapes.iter().any(|clipped| holds(&clipped.shape, words))
}

/// Lets frames pass until these words stand in the window: without optimisation a reveal takes seconds, and more on a busy machine.
fn wait_for(window: &mut Window, words: &str) {
    let patience = Instant::now() + Duration::from_secs(180);
    while !shows(window, words) {
        assert!(Instant::now() < patience, "\"{words}\" does not come");
        std::thread::sleep(Duration::from_millis(30));
        window.run_ok();
    }
}

/// The window when nothing moves in it any more.
fn settled(window: &mut Window, painter: &Painter) -> RgbImage {
    let mut last = painter.scene(window);
    let mut still = 0;
    for _ in 0..600 {
        std::thread::sleep(Duration::from_millis(30));
        window.run_ok();
        let now = painter.scene(window);
        still = if now == last { still + 1 } else { 0 };
        if still == 10 {
            return halved(&painter.picture(&now.0, SMALL));
        }
        last = now;
    }
    panic!("the window does not come to rest");
}

fn png(picture: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    let encoder = PngEncoder::new_with_quality(&mut bytes, CompressionType::Best, FilterType::Adaptive);
    picture.write_with_encoder(encoder).unwrap();
    bytes
}

/// How a picture differs from what is kept, if by more than the tolerance.
fn difference(kept: &[u8], made: &RgbImage) -> Option<String> {
    let kept = match image::load_from_memory(kept) {
        Ok(kept) => kept.to_rgb8(),
        Err(error) => return Some(format!("it can't be read: {error}")),
    };
    if kept.dimensions() != made.dimensions() {
        return Some(format!("it has {:?} pixels, and what was made has {:?}", kept.dimensions(), made.dimensions()));
    }
    let far = |a: &Rgb<u8>, b: &Rgb<u8>| a.0.iter().zip(b.0).any(|(a, b)| a.abs_diff(b) > CHANNEL_TOLERANCE);
    let places: Vec<(u32, u32)> =
        made.enumerate_pixels().filter(|(x, y, pixel)| far(pixel, kept.get_pixel(*x, *y))).map(|(x, y, _)| (x, y)).collect();
    (places.len() > PIXELS_TOLERANCE).then(|| {
        let of = |pick: fn(&(u32, u32)) -> u32| (places.iter().map(pick).min().unwrap(), places.iter().map(pick).max().unwrap());
        let ((left, right), (top, bottom)) = (of(|place| place.0), of(|place| place.1));
        format!("{} pixels differ, between ({left}, {top}) and ({right}, {bottom})", places.len())
    })
}

/// Compares a picture with its reference, and leaves what was made now where it can be looked at; what is wrong with it.
fn compare(name: &str, made: &RgbImage) -> Option<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures").join(name).with_extension("png");
    let beside = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name).with_extension("png");
    let bytes = png(made);
    std::fs::write(&beside, &bytes).unwrap();
    let wrong = reference::compare(&path, &bytes, |kept| difference(kept, made))?;
    Some(format!("{wrong}\nwhat was made now: {}", beside.display()))
}

#[test]
fn reference_pictures_of_every_step() {
    let home = tempfile::tempdir().unwrap();
    let (mut window, painter) = painted_window(home.path());
    let mut wrong = Vec::new();
    let mut look = |window: &mut Window, name: &str| wrong.extend(compare(name, &settled(window, &painter)));
    look(&mut window, "welcome");
    click(&mut window, TEE);
    for step in ["Garment", "Fold", "Binds", "Colours", "Rod"] {
        click(&mut window, &format!("View {step}"));
        fine(&mut window);
        look(&mut window, &step.to_lowercase());
    }
    click(&mut window, "View Reveal");
    // Fine, not coarse.
    wait_for(&mut window, "an estimate");
    look(&mut window, "reveal");
    click(&mut window, "View Sheets");
    wait_for(&mut window, "Card 1");
    look(&mut window, "sheets");
    click(&mut window, "View Day");
    write(&mut window, "Date and time", "2055-05-03 08:00");
    wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
    look(&mut window, "day");
    click(&mut window, "View Journal");
    write(&mut window, "Made on", "2027-05-06");
    look(&mut window, "journal");
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// A photograph with its points, one of them held by keys; measured, beside the plan and behind the curtain.
#[test]
fn reference_pictures_of_a_photograph() {
    let home = tempfile::tempdir().unwrap();
    let path = photographs::photograph(home.path());
    let (mut window, painter) = painted_window(home.path());
    let mut wrong = Vec::new();
    let mut look = |window: &mut Window, name: &str| wrong.extend(compare(name, &settled(window, &painter)));
    click(&mut window, TEE);
    photographs::holding(&mut window, &path);
    photographs::read(&mut window);
    click(&mut window, "Go to hem left");
    look(&mut window, "photograph-points");
    photographs::measured(&mut window);
    look(&mut window, "photograph-beside");
    click(&mut window, "Curtain");
    look(&mut window, "photograph-curtain");
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// A letter more or less, or a line a little darker, is seen; the last bit of a colour is not.
#[test]
fn a_small_change_of_a_picture_is_found() {
    let plain = RgbImage::from_pixel(64, 43, Rgb([40, 44, 52]));
    let changed = |count: u32, by: u8| {
        let mut changed = plain.clone();
        (0..count).for_each(|at| changed.get_pixel_mut(at % 8, at / 8).0[1] += by);
        changed
    };
    assert_eq!(difference(&png(&plain), &changed(64, 3)), None);
    assert_eq!(difference(&png(&plain), &changed(8, 60)), None);
    let told = difference(&png(&plain), &changed(16, 20)).unwrap();
    assert_eq!(told, "16 pixels differ, between (0, 0) and (7, 1)");
    assert!(difference(&png(&RgbImage::new(4, 4)), &plain).unwrap().contains("(4, 4) pixels"));
    assert!(difference(b"none", &plain).unwrap().contains("can't be read"));
}
