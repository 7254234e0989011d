//! Copies of one photograph: turned, in a wide gamut, larger, in other kinds of files. They measure the same.

use crate::drawn::scene::{encoded, jpeg};
use crate::rings::rms;
use crate::shirt::{MEASURED, PLAN, TAKEN, held};
use image::{ImageFormat, RgbImage, imageops};
use kurbo::Point;
use pleatwright::photo::{Marks, PhotoMeasure, RegistrationOptions};
use pleatwright::reveal::colour::ciede2000;
use pleatwright::store::photograph_of;
use std::io::Cursor;

/// How far two measurements differ: rings, mm, and colours, CIEDE2000; each as root mean square.
fn apart(one: &PhotoMeasure, other: &PhotoMeasure) -> [f64; 2] {
    assert_eq!(one.tie().rings.rings.len(), other.tie().rings.rings.len());
    let rings: Vec<f64> =
        one.tie().rings.rings.iter().zip(&other.tie().rings.rings).map(|(a, b)| a.shift_mm - b.shift_mm).collect();
    let [own, others] = [one, other].map(|measured| &measured.tie().colours.as_ref().unwrap().sections);
    assert_eq!(own.len(), others.len());
    let colours: Vec<f64> = own.iter().zip(others).map(|(a, b)| ciede2000(a.lab, b.lab)).collect();
    [rms(&rings), rms(&colours)]
}

fn measured(bytes: &[u8], marks: &Marks) -> PhotoMeasure {
    held(&photograph_of(bytes).unwrap(), &PLAN, marks, &RegistrationOptions::default()).unwrap()
}

fn moved(marks: &Marks, map: impl Fn(Point) -> Point) -> Marks {
    let mut marks = marks.clone();
    marks.points.iter_mut().for_each(|point| point.at = map(point.at));
    marks.sheet.as_mut().unwrap().corners.iter_mut().for_each(|corner| *corner = map(*corner));
    marks
}

/// EXIF with an orientation and nothing else: one entry of tag 0x0112 (CIPA DC-008, 4.6.4).
fn exif(orientation: u8) -> Vec<u8> {
    let mut bytes = b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0".to_vec();
    bytes.extend([orientation, 0, 0, 0, 0, 0, 0, 0]);
    bytes
}

/// A picture stored as the camera was held, its orientation beside it. Marks are those of the upright one.
#[test]
fn a_turned_picture_measures_the_same() {
    let taken = &TAKEN[0];
    // 6: the stored picture is to be turned clockwise by a quarter.
    let stored = imageops::rotate270(&taken.picture);
    let [rings, colours] = apart(&measured(&jpeg(&stored, Some(exif(6)), None), &taken.marks), &MEASURED[0]);
    assert!(rings < 0.1 && colours < 0.3, "{rings} mm, {colours}");
}

/// Linear sRGB to linear Display P3, four digits. Source: W3C, CSS Color Module Level 4, section 18 (the product of its two matrices).
const P3_FROM_SRGB: [[f64; 3]; 3] = [[0.8225, 0.1775, 0.0], [0.0332, 0.9668, 0.0], [0.0171, 0.0724, 0.9105]];

/// The same colours written in a wider gamut, its profile embedded. Read as sRGB it would be off by 2 and more.
#[test]
fn a_wide_gamut_copy_measures_the_same() {
    let taken = &TAKEN[0];
    let light = |byte: u8| {
        let channel = f64::from(byte) / 255.0;
        if channel <= 0.04045 { channel / 12.92 } else { ((channel + 0.055) / 1.055).powf(2.4) }
    };
    let mut wide = taken.picture.clone();
    for pixel in wide.pixels_mut() {
        let own = pixel.0.map(light);
        pixel.0 = P3_FROM_SRGB.map(|row| encoded(row[0] * own[0] + row[1] * own[1] + row[2] * own[2]));
    }
    let profile = moxcms::ColorProfile::new_display_p3().encode().unwrap();
    let copy = measured(&jpeg(&wide, None, Some(profile)), &taken.marks);
    let [rings, colours] = apart(&copy, &MEASURED[0]);
    let ignored = apart(&measured(&jpeg(&wide, None, None), &taken.marks), &MEASURED[0])[1];
    assert!(rings < 0.1 && colours < 0.3 && ignored > 1.0, "{rings} mm, {colours}, {ignored}");
}

/// A copy of 4000 px, its marks twice as far out.
#[test]
fn a_copy_of_4000_pixels_measures_the_same() {
    let taken = &TAKEN[0];
    let large = imageops::resize(&taken.picture, 4000, 3000, imageops::FilterType::CatmullRom);
    let options = RegistrationOptions { click_px: 3.0, ..RegistrationOptions::default() };
    let marks = moved(&taken.marks, |at| (2.0 * at.to_vec2()).to_point());
    let photograph = photograph_of(&jpeg(&large, None, None)).unwrap();
    assert_eq!((photograph.whole(), photograph.kept()), ([4000, 3000], [2000, 1500]));
    let copy = held(&photograph, &PLAN, &marks, &options).unwrap();
    let [rings, colours] = apart(&copy, &MEASURED[0]);
    assert!(rings < 0.1 && colours < 0.3, "{rings} mm, {colours}");
}

/// PNG, WebP and TIFF say the same as each other, to the last bit.
#[test]
fn kinds_of_files_say_the_same() {
    let small = RgbImage::from_fn(123, 77, |x, y| image::Rgb([x, y, x * y % 256].map(|channel| u8::try_from(channel).unwrap())));
    let written = |format: ImageFormat| {
        let mut bytes = Cursor::new(Vec::new());
        small.write_to(&mut bytes, format).unwrap();
        photograph_of(&bytes.into_inner()).unwrap()
    };
    let png = written(ImageFormat::Png);
    for format in [ImageFormat::WebP, ImageFormat::Tiff] {
        assert!(written(format).light() == png.light(), "{format:?}");
    }
    let lossy = photograph_of(&jpeg(&small, None, None)).unwrap();
    assert_eq!(lossy.kept(), png.kept());
}

/// Every way of holding a camera, with sides that are no whole number of steps: a place of the upright picture shows what it should.
#[test]
fn every_orientation_is_turned_upright() {
    let [width, height] = [4003_u32, 61];
    let upright = RgbImage::from_fn(width, height, |x, y| {
        image::Rgb([u8::try_from(x * 255 / width).unwrap(), u8::try_from(y * 255 / height).unwrap(), 90])
    });
    // What has to be done to the upright picture so that its orientation undoes it (CIPA DC-008, orientation 1 to 8).
    let stored: [fn(&RgbImage) -> RgbImage; 8] = [
        Clone::clone,
        imageops::flip_horizontal,
        imageops::rotate180,
        imageops::flip_vertical,
        |picture| imageops::flip_horizontal(&imageops::rotate90(picture)),
        imageops::rotate270,
        |picture| imageops::flip_horizontal(&imageops::rotate270(picture)),
        imageops::rotate90,
    ];
    for (orientation, store) in (1_u8..).zip(stored) {
        let photograph = photograph_of(&jpeg(&store(&upright), Some(exif(orientation)), None)).unwrap();
        assert_eq!(photograph.whole(), [width, height], "orientation {orientation}");
        for at in [Point::new(1000.0, 20.0), Point::new(3500.0, 45.0), Point::new(77.5, 9.0)] {
            let [red, green, _] = photograph.at(at).unwrap();
            let channel = |light: f32| f64::from(encoded(f64::from(light)));
            let wanted = [255.0 * at.x / f64::from(width), 255.0 * at.y / f64::from(height)];
            let off = [channel(red) - wanted[0], channel(green) - wanted[1]];
            assert!(off.iter().all(|off| off.abs() < 4.5), "orientation {orientation} at {at}: {off:?}");
        }
    }
}
