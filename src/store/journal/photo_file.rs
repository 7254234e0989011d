//! Photographs' files: how large, and of which kind by their content.

use super::PhotoProblem;
use crate::store::read_regular;
use std::path::Path;

/// Largest photograph, bytes: what [`MOST_PHOTO_PIXELS`](super::MOST_PHOTO_PIXELS) take as a JPEG of four bits a pixel, which is a fine
/// one. Own choice.
pub const MOST_PHOTO_BYTES: u64 = 128 << 20;

/// The whole content of a photograph's file.
pub(in crate::store) fn read_bytes(path: &Path) -> Result<Vec<u8>, PhotoProblem> {
    read_regular(path, MOST_PHOTO_BYTES).map_err(PhotoProblem::from)
}

/// Whether a file begins as a photograph does, of any kind that the journal keeps.
#[must_use]
pub fn is_photograph(path: &Path) -> bool {
    use std::io::Read as _;
    let begins = || -> std::io::Result<Vec<u8>> {
        let mut begin = Vec::new();
        // Not of a pipe, which would be waited for.
        if std::fs::metadata(path)?.is_file() {
            std::fs::File::open(path)?.take(LONGEST_BEGINNING).read_to_end(&mut begin)?;
        }
        Ok(begin)
    };
    begins().is_ok_and(|begin| ending(&begin).is_some())
}

/// As much of a file as says what it is, bytes.
const LONGEST_BEGINNING: u64 = 64;

/// Endings and how their files begin: at an offset, these bytes. Published: ITU-T T.81 and JFIF (JPEG), ISO/IEC 15948 (PNG), the GIF
/// and TIFF specifications, RFC 9649 (WebP).
pub(super) const KINDS: [(&str, usize, &[u8]); 7] = [
    ("jpg", 0, b"\xff\xd8\xff"),
    ("png", 0, b"\x89PNG\r\n\x1a\n"),
    ("gif", 0, b"GIF87a"),
    ("gif", 0, b"GIF89a"),
    ("tif", 0, b"II*\0"),
    ("tif", 0, b"MM\0*"),
    ("webp", 8, b"WEBP"),
];

/// The ending for a content; none if it is no photograph.
pub(in crate::store) fn ending(bytes: &[u8]) -> Option<&'static str> {
    let has = |at: usize, mark: &[u8]| bytes.get(at..at + mark.len()) == Some(mark);
    if has(4, b"ftyp") {
        // ISO/IEC 23008-12: the brand after the file type box says which.
        return match bytes.get(8..12)? {
            b"heic" | b"heix" | b"heim" | b"heis" | b"mif1" | b"msf1" => Some("heic"),
            b"avif" | b"avis" => Some("avif"),
            _ => None,
        };
    }
    KINDS.iter().find(|(_, at, mark)| has(*at, mark)).map(|(ending, ..)| *ending)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_told_by_content() {
        let cases: [(&[u8], Option<&str>); 6] = [
            (b"\xff\xd8\xff\xe0..", Some("jpg")),
            (b"RIFF\x10\0\0\0WEBPVP8 ", Some("webp")),
            (b"\0\0\0\x18ftypheic", Some("heic")),
            (b"\0\0\0\x18ftypisom", None),
            (b"%PDF-1.7", None),
            (b"", None),
        ];
        for (bytes, kind) in cases {
            assert_eq!(ending(bytes), kind);
        }
    }
}
