//! Photographs: known by their content, kept under its name.

use super::photo_file::{KINDS, ending, read_bytes};
use super::picture::check_size;
use super::{JournalError, PhotoProblem};
use crate::store::save;
use sha2::{Digest as _, Sha256};
use std::path::{Path, PathBuf};

/// A photograph in a file, looked at.
#[derive(Debug)]
pub(super) struct Photo {
    /// The name it is kept under: SHA-256 of its content in hexadecimal (FIPS 180-4), and the ending of its kind.
    pub(super) name: String,
    /// The name of the file.
    pub(super) from: String,
    path: PathBuf,
}

impl Photo {
    /// Looks at a file, which must be a photograph by its content, of a size that can be read. The content is not held: an entry may
    /// have many.
    pub(super) fn read(path: &Path) -> Result<Self, JournalError> {
        let wrong = |problem| JournalError::Photo { path: path.to_owned(), problem };
        let bytes = read_bytes(path).map_err(wrong)?;
        let name = name_of(&bytes).ok_or_else(|| wrong(PhotoProblem::Kind))?;
        check_size(&bytes).map_err(wrong)?;
        let from = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        Ok(Self { name, from, path: path.to_owned() })
    }

    /// Writes it into a folder under its name, unless the same content is there.
    pub(super) fn keep_in(&self, folder: &Path) -> Result<(), JournalError> {
        let wrong = |problem| JournalError::Photo { path: self.path.clone(), problem };
        let bytes = read_bytes(&self.path).map_err(wrong)?;
        if name_of(&bytes).as_ref() != Some(&self.name) {
            return Err(wrong(PhotoProblem::Changed));
        }
        Ok(save(&folder.join(&self.name), &bytes)?)
    }
}

/// The name that a content is kept under; none if it is no photograph.
fn name_of(bytes: &[u8]) -> Option<String> {
    Some(format!("{}.{}", hex(&Sha256::digest(bytes)), ending(bytes)?))
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
}
