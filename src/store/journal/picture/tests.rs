//! What a photograph may claim, and how it is made small.

use super::*;
use image::{ImageFormat, Rgb, RgbImage};
use std::io::Write as _;

/// A file's bytes as a small picture.
fn small(bytes: &[u8], most: u32) -> Result<SmallPicture, PhotoProblem> {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(bytes).unwrap();
    SmallPicture::read(file.path(), most)
}

fn crc(bytes: &[u8]) -> u32 {
    // ISO/IEC 15948, annex D.
    !bytes.iter().fold(u32::MAX, |crc, &byte| {
        (0..8).fold(crc ^ u32::from(byte), |crc, _| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 })
    })
}

fn chunk(name: &[u8; 4], content: &[u8]) -> Vec<u8> {
    let named = [name, content].concat();
    [&u32::try_from(content.len()).unwrap().to_be_bytes()[..], &named, &crc(&named).to_be_bytes()].concat()
}

/// A PNG of 8-bit red, green and blue that claims a size and holds next to nothing.
fn claiming_png(width: u32, height: u32) -> Vec<u8> {
    let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    // An empty deflate stream (RFC 1950, RFC 1951).
    let nothing = [0x78, 0x9c, 3, 0, 0, 0, 0, 1];
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &header), chunk(b"IDAT", &nothing), chunk(b"IEND", b"")].concat()
}

/// A JPEG whose frame claims a size (ITU-T T.81, B.2.2); `process` is its marker, 0xc0 for one pass, 0xc2 for several.
fn claiming_jpeg(process: u8, width: u16, height: u16) -> Vec<u8> {
    let mut bytes = encoded(&RgbImage::new(16, 16), ImageFormat::Jpeg);
    let at = bytes.windows(2).position(|pair| pair == [0xff, 0xc0]).unwrap();
    bytes[at + 1] = process;
    bytes[at + 5..at + 7].copy_from_slice(&height.to_be_bytes());
    bytes[at + 7..at + 9].copy_from_slice(&width.to_be_bytes());
    bytes
}

fn encoded(picture: &RgbImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// Each used to be accepted; showing one asked for 80 GB and ended the program.
#[test]
fn a_claim_is_held_to_the_limits_before_anything_is_reserved() {
    let said = |bytes: &[u8]| {
        let refused = check_size(bytes).unwrap_err().to_string();
        assert_eq!(small(bytes, 192).unwrap_err().to_string(), refused);
        refused
    };
    let bomb = claiming_png(100_000, 100_000);
    assert!(bomb.len() < 80, "{} bytes", bomb.len());
    assert_eq!(said(&bomb), "100000 x 100000 pixels are too many; choose a photograph of at most 250 million pixels");
    assert!(said(&claiming_png(30_000, 30_000)).starts_with("30000 x 30000 pixels are too many; "));
    assert!(said(&claiming_png(40_000_000, 1)).starts_with("40000000 x 1 pixels take 762 MB of memory to read"));
    assert!(said(&claiming_jpeg(0xc0, 65_500, 65_500)).starts_with("65500 x 65500 pixels are too many; "));
    assert!(said(&claiming_jpeg(0xc2, 15_000, 10_000)).starts_with("15000 x 10000 pixels take 858 MB of memory"));
    // Within the limits, and without a picture.
    assert!(check_size(&claiming_png(16_000, 15_000)).is_ok() && check_size(&claiming_jpeg(0xc0, 16_320, 12_240)).is_ok());
    assert_eq!(
        small(&claiming_png(16_000, 15_000), 192).unwrap_err().to_string(),
        "its content is damaged; choose another copy of it"
    );
}

/// A picture whose left half is one colour and whose right half is another, taller than wide.
fn halves(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, _| if 2 * x < width { Rgb([200, 40, 40]) } else { Rgb([40, 40, 200]) })
}

fn is_near(pixel: &[u8], expected: [u8; 3]) -> bool {
    pixel[3] == 255 && pixel.iter().zip(expected).all(|(&is, wanted)| is.abs_diff(wanted) <= 6)
}

#[test]
fn a_picture_keeps_its_shape_and_colours() {
    for format in [ImageFormat::Png, ImageFormat::Jpeg] {
        for (width, height, most, expected) in
            [(640, 960, 96, (64, 96)), (640, 960, 2000, (640, 960)), (2000, 30, 100, (100, 1)), (1, 1, 192, (1, 1))]
        {
            let small = small(&encoded(&halves(width, height), format), most).unwrap();
            assert_eq!((small.width, small.height, small.rgba.len()), (expected.0, expected.1, 4 * expected.0 * expected.1));
            if width > 1 {
                let row = &small.rgba[..4 * small.width];
                assert!(is_near(&row[..4], [200, 40, 40]), "{format:?} {width}: {:?}", &row[..4]);
                assert!(is_near(&row[row.len() - 4..], [40, 40, 200]), "{format:?} {width}");
            }
        }
    }
}

/// An interlaced picture gives the same as one that is not: the rows fall where ISO/IEC 15948 puts them. Written here, unfiltered.
#[test]
fn the_passes_of_an_interlaced_picture_come_together() {
    let (width, height) = (13_u32, 11_u32);
    let grey = |x: u32, y: u32| u8::try_from((x * 17 + y * 5) % 256).unwrap();
    let written = |interlaced: bool| {
        let mut rows = Vec::new();
        for place in png_rows(width, height, interlaced) {
            rows.push(0);
            rows.extend((place.left..width).step_by(place.step).map(|x| grey(x, place.y)));
        }
        // One stored block (RFC 1951, 3.2.4) in a zlib stream (RFC 1950).
        let length = u16::try_from(rows.len()).unwrap();
        let (a, b) = rows.iter().fold((1_u32, 0_u32), |(a, b), &byte| {
            let a = (a + u32::from(byte)) % 65_521;
            (a, (b + a) % 65_521)
        });
        let sum = (b << 16 | a).to_be_bytes();
        let stream = [&[0x78, 1, 1][..], &length.to_le_bytes(), &(!length).to_le_bytes(), &rows, &sum].concat();
        let header = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 0, 0, 0, u8::from(interlaced)]].concat();
        [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &header), chunk(b"IDAT", &stream), chunk(b"IEND", b"")].concat()
    };
    for interlaced in [false, true] {
        let picture = small(&written(interlaced), 100).unwrap();
        let told: Vec<u8> = picture.rgba.chunks_exact(4).map(|pixel| pixel[0]).collect();
        let expected: Vec<u8> = (0..height).flat_map(|y| (0..width).map(move |x| grey(x, y))).collect();
        assert_eq!(told, expected, "interlaced: {interlaced}");
        // The image library reads the same from it.
        let theirs = image::load_from_memory(&written(interlaced)).unwrap().into_luma8();
        assert_eq!(theirs.into_raw(), expected);
    }
}

/// Exif 2.32, tag 0x0112: 6 says that the camera was held on its side.
#[test]
fn a_picture_is_turned_as_the_camera_was_held() {
    let jpeg = encoded(&halves(64, 32), ImageFormat::Jpeg);
    let tiff = b"MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0";
    let content = [b"Exif\0\0", &tiff[..]].concat();
    let length = u16::try_from(content.len() + 2).unwrap().to_be_bytes();
    let held = [&jpeg[..2], &[0xff, 0xe1], &length, &content, &jpeg[2..]].concat();
    let turned = small(&held, 192).unwrap();
    assert_eq!((turned.width, turned.height), (32, 64));
    assert!(is_near(&turned.rgba[..4], [200, 40, 40]) && is_near(&turned.rgba[turned.rgba.len() - 4..], [40, 40, 200]));
}

/// Written by another library (libjpeg-turbo, through Pillow): in passes, and in four inks. Left half (200, 40, 40), right (40, 40, 200).
const IN_PASSES: &[u8] = include_bytes!("../../../../tests/reference/halves-progressive.jpg");
const IN_INKS: &[u8] = include_bytes!("../../../../tests/reference/halves-inks.jpg");

#[test]
fn pictures_in_passes_and_in_inks_are_read() {
    for bytes in [IN_PASSES, IN_INKS] {
        let picture = small(bytes, 192).unwrap();
        assert_eq!((picture.width, picture.height), (40, 24));
        let (first, last) = (&picture.rgba[..4], &picture.rgba[4 * (40 * 24 - 1)..]);
        assert!(is_near(first, [200, 40, 40]) && is_near(last, [40, 40, 200]), "{first:?} {last:?}");
        assert_eq!((small(bytes, 10).unwrap().width, small(bytes, 10).unwrap().height), (10, 6));
        assert_eq!(small(&bytes[..bytes.len() - 2], 192).unwrap(), picture);
    }
    // A file that was cut off is shown as far as it goes.
    let whole = encoded(&halves(640, 960), ImageFormat::Jpeg);
    let cut = small(&whole[..whole.len() / 2], 192).unwrap();
    assert!((cut.width, cut.height) == (128, 192) && is_near(&cut.rgba[..4], [200, 40, 40]));
}

/// Four inks, none and all of black.
#[test]
fn inks_become_light() {
    assert_eq!(from_jpeg(&[0, 0, 0, 0]), [255; 4]);
    assert_eq!(from_jpeg(&[0, 0, 0, 255]), [0, 0, 0, 255]);
    assert_eq!(from_jpeg(&[255, 0, 0, 0]), [0, 255, 255, 255]);
}

/// Mangled pictures: some bytes changed, cut out or doubled. Each is read or refused; none ends the program, and what is claimed is
/// never reserved. `MANGLED_PICTURES` of them, or as many as take some seconds.
#[test]
fn mangled_pictures_are_read_or_refused() {
    use proptest::prelude::*;
    use proptest::test_runner::{RngSeed, TestRunner};
    let cases = std::env::var("MANGLED_PICTURES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(200);
    let speckled =
        RgbImage::from_fn(70, 50, |x, y| Rgb([x * 37 + y, y * 91, x ^ y].map(|value| u8::try_from(value % 256).unwrap())));
    let [png, jpeg] = [ImageFormat::Png, ImageFormat::Jpeg].map(|format| encoded(&speckled, format));
    let pictures = [png, jpeg, IN_PASSES.to_vec(), IN_INKS.to_vec(), claiming_jpeg(0xc2, 9000, 9000)];
    let change = (any::<prop::sample::Index>(), 0..4_u8, prop::collection::vec(any::<u8>(), 1..6));
    let changes = (0..pictures.len(), prop::collection::vec(change, 1..6));
    let (read, refused) = (std::cell::Cell::new(0), std::cell::Cell::new(0));
    let config = ProptestConfig { cases, rng_seed: RngSeed::Fixed(10), failure_persistence: None, ..ProptestConfig::default() };
    let outcome = TestRunner::new(config).run(&changes, |(which, changes)| {
        let mut bytes = pictures[which].clone();
        for (at, how, with) in changes {
            let at = at.index(bytes.len());
            let end = (at + with.len()).min(bytes.len());
            match how {
                0 => drop(bytes.splice(at..end, with)),
                1 => drop(bytes.drain(at..end)),
                2 => bytes[at] ^= with[0],
                _ => bytes.truncate(at.max(bytes.len() / 2)),
            }
        }
        let count = if small(&bytes, 192).is_ok() { &read } else { &refused };
        count.set(count.get() + 1);
        Ok(())
    });
    outcome.unwrap();
    assert!(read.get() > 0 && refused.get() > 0, "{} read, {} refused", read.get(), refused.get());
}
