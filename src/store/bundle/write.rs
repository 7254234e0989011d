//! A bundle's bytes: the same for the same bundle, whenever and wherever they are made.

use super::{
    Bundle, BundleProblem, CONTENTS_NAME, KIND, KIND_NAME, LAYOUT_NAME, MOST_BUNDLE_BYTES, MOST_PRESETS, MOST_UNPACKED_BYTES,
    PICTURE_NAME, SWATCHES_NAME, preset_name,
};
use crate::form::WrittenForm as _;
use crate::layout::{layout_text, to_ron};
use crate::store::form::BundleV1;
use crate::store::{preset_text, swatches_text};
use std::collections::BTreeSet;
use std::io::{Cursor, Write as _};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

impl Bundle {
    /// Its file's bytes.
    ///
    /// # Errors
    /// [`BundleProblem`] where it could not be read back: too many presets, two of one name, a picture that is too large.
    pub fn bytes(&self) -> Result<Vec<u8>, BundleProblem> {
        self.check()?;
        let entries = self.entries();
        let unpacked: u64 = entries.iter().map(|(_, bytes)| bytes.len() as u64).sum();
        let bytes = packed(&entries).map_err(|_unsaid| BundleProblem::NotPacked)?;
        let size = bytes.len() as u64;
        if size > MOST_BUNDLE_BYTES || unpacked > MOST_UNPACKED_BYTES {
            return Err(BundleProblem::TooLarge { bytes: size.max(unpacked) });
        }
        Ok(bytes)
    }

    fn check(&self) -> Result<(), BundleProblem> {
        let count = self.presets.len();
        if count > MOST_PRESETS {
            return Err(BundleProblem::TooManyPresets { count });
        }
        let mut names = BTreeSet::new();
        let twice = self.presets.iter().find(|preset| !names.insert(&preset.name));
        twice.map_or(Ok(()), |preset| Err(BundleProblem::PresetTwice { name: preset.name.clone() }))
    }

    /// The entries in their order, that of the kind first.
    fn entries(&self) -> Vec<(String, Vec<u8>)> {
        let mut entries = vec![
            (KIND_NAME.to_owned(), KIND.as_bytes().to_vec()),
            (CONTENTS_NAME.to_owned(), to_ron(&BundleV1::of(self.contents())).into_bytes()),
            (LAYOUT_NAME.to_owned(), layout_text(self.layout.raw()).into_bytes()),
        ];
        let presets = self.presets.iter().zip(1..);
        entries.extend(presets.map(|(preset, number)| (preset_name(number), preset_text(preset).into_bytes())));
        entries.extend(self.swatches.iter().map(|book| (SWATCHES_NAME.to_owned(), swatches_text(book).into_bytes())));
        entries.extend(self.picture.iter().map(|png| (PICTURE_NAME.to_owned(), png.clone())));
        entries
    }
}

/// The archive of these entries, without times.
fn packed(entries: &[(String, Vec<u8>)]) -> zip::result::ZipResult<Vec<u8>> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in entries {
        // A picture is packed already; the kind is told by bytes at fixed places.
        let is_text = name.ends_with(".ron");
        let method = if is_text { CompressionMethod::Deflated } else { CompressionMethod::Stored };
        let options = SimpleFileOptions::default()
            .compression_method(method)
            .last_modified_time(DateTime::default())
            .unix_permissions(0o644);
        archive.start_file(name.as_str(), options)?;
        archive.write_all(bytes)?;
    }
    Ok(archive.finish()?.into_inner())
}
