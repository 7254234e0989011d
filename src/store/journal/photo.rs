//! Photographs: known by their content, kept under its name.

use super::{JournalError, PhotoProblem};
use crate::store::save;
use sha2::{Digest as _, Sha256};
use std::fs;
use std::path::{Path, PathBuf};

/// Largest photograph, bytes: three times what a good camera makes. Own choice.
pub const MOST_PHOTO_BYTES: u64 = 64 << 20;

/// A photograph read from a file.
#[derive(Debug)]
pub(super) struct Photo {
    /// The name it is kept under: SHA-256 of its content in hexadecimal (FIPS 180-4), and the ending of its kind.
    pub(super) name: String,
    /// The name of the file it was read from.
    pub(super) from: String,
    bytes: Vec<u8>,
}

impl Photo {
    /// Reads a file, which must be a photograph by its content.
    pub(super) fn read(path: &Path) -> Result<Self, JournalError> {
        let wrong = |problem| JournalError::Photo { path: path.to_owned(), problem };
        let length = fs::metadata(path).map_err(|error| wrong(error.into()))?.len();
        if length > MOST_PHOTO_BYTES {
            return Err(wrong(PhotoProblem::TooLarge { bytes: length, most: MOST_PHOTO_BYTES }));
        }
        let bytes = fs::read(path).map_err(|error| wrong(error.into()))?;
        let ending = ending(&bytes).ok_or_else(|| wrong(PhotoProblem::Kind))?;
        let from = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        Ok(Self { name: format!("{}.{ending}", hex(&Sha256::digest(&bytes))), from, bytes })
    }

    /// Writes it into a folder under its name, unless the same content is there.
    pub(super) fn keep_in(&self, folder: &Path) -> Result<(), JournalError> {
        Ok(save(&folder.join(&self.name), &self.bytes)?)
    }
}

/// Reads photographs in the order given, each once.
pub(super) fn read_all(paths: &[PathBuf]) -> Result<Vec<Photo>, JournalError> {
    let mut photos: Vec<Photo> = Vec::new();
    for path in paths {
        let photo = Photo::read(path)?;
        if photos.iter().all(|known| known.name != photo.name) {
            photos.push(photo);
        }
    }
    Ok(photos)
}

/// Whether a name is one that photographs are kept under.
pub(super) fn is_name(name: &str) -> bool {
    let endings = KINDS.iter().map(|(ending, ..)| *ending).chain(["heic", "avif"]);
    let is_hash = |hash: &str| hash.len() == 64 && hash.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    name.split_once('.').is_some_and(|(hash, ending)| is_hash(hash) && endings.into_iter().any(|known| known == ending))
}

pub(super) fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write as _;
    bytes.iter().fold(String::new(), |mut text, byte| {
        // Writing to a string does not fail.
        let _written = write!(text, "{byte:02x}");
        text
    })
}

/// Endings and how their files begin: at an offset, these bytes. Published: ITU-T T.81 and JFIF (JPEG), ISO/IEC 15948 (PNG), the GIF
/// and TIFF specifications, RFC 9649 (WebP).
const KINDS: [(&str, usize, &[u8]); 7] = [
    ("jpg", 0, b"\xff\xd8\xff"),
    ("png", 0, b"\x89PNG\r\n\x1a\n"),
    ("gif", 0, b"GIF87a"),
    ("gif", 0, b"GIF89a"),
    ("tif", 0, b"II*\0"),
    ("tif", 0, b"MM\0*"),
    ("webp", 8, b"WEBP"),
];

/// The ending for a content; none if it is no photograph.
fn ending(bytes: &[u8]) -> Option<&'static str> {
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

    /// FIPS 180-4's own example: the digest of "abc".
    #[test]
    fn names_are_the_published_digest() {
        let digest = hex(&Sha256::digest(b"abc"));
        assert_eq!(digest, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert!(is_name(&format!("{digest}.jpg")) && !is_name(&format!("{digest}.exe")) && !is_name("../secret.jpg"));
    }

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
