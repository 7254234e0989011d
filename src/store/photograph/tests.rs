//! What a photograph may claim before anything is reserved for it.

use super::*;
use image::{ImageFormat, RgbImage};
use std::io::Cursor;

fn encoded(picture: &RgbImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

/// A lossless WebP whose header claims a size (RFC 9649, section 3.4: 14 bits each for width and height less one).
fn claiming_webp(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = encoded(&RgbImage::new(16, 16), ImageFormat::WebP);
    let at = bytes.windows(4).position(|name| name == b"VP8L").unwrap() + 9;
    let claim = (width - 1) | ((height - 1) << 14);
    let own = u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
    bytes[at..at + 4].copy_from_slice(&(claim | (own & 0xf000_0000)).to_le_bytes());
    bytes
}

/// A TIFF whose entries for width and height (tags 256 and 257 of TIFF 6.0) claim a size.
fn claiming_tiff(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = encoded(&RgbImage::new(16, 16), ImageFormat::Tiff);
    for (tag, value) in [(256_u16, width), (257, height)] {
        let at = bytes.windows(4).position(|entry| entry[..2] == tag.to_le_bytes() && entry[3] == 0).unwrap();
        // As a long.
        bytes[at + 2..at + 4].copy_from_slice(&4_u16.to_le_bytes());
        bytes[at + 8..at + 12].copy_from_slice(&value.to_le_bytes());
    }
    bytes
}

#[test]
fn a_claim_is_held_to_the_limits() {
    for bytes in [claiming_webp(16_000, 16_000), claiming_tiff(60_000, 60_000), claiming_tiff(16_000, 12_000)] {
        let started = std::time::Instant::now();
        let refused = photograph_of(&bytes).unwrap_err().to_string();
        assert!(refused.contains("choose"), "{refused}");
        assert!(started.elapsed().as_secs() < 5, "{refused}");
    }
}

/// What is kept has 2000 to 4000 pixels along its longer side, or all there are.
#[test]
fn large_pictures_are_made_smaller_by_whole_numbers() {
    for longer in (1..70_000).step_by(7) {
        let step = boxes::step_for(longer, 10);
        let kept = longer.div_ceil(step);
        assert!(kept <= 4000 || step == 8, "{longer}");
        assert!(kept >= 2000 || step == 1, "{longer}");
    }
}
