//! Reading a bundle that somebody else made, who may mean no good: every name, number and size is looked at before it is used.

use super::{
    Bundle, BundleError, BundleProblem, CONTENTS_NAME, Contents, KIND, KIND_NAME, LAYOUT_NAME, MOST_BUNDLE_BYTES,
    MOST_PICTURE_PIXELS, MOST_PRESETS, MOST_UNPACKED_BYTES, PICTURE_NAME, SWATCHES_NAME, preset_name,
};
use crate::layout::LayoutError;
use crate::layout::LayoutProblem;
use crate::store::form::BundleV1;
use crate::store::formats::Known;
use crate::store::layout_file::in_format;
use crate::store::{MOST_TEXT_BYTES, Place, ReadError, TextError, parse_layout, parse_preset, parse_swatches, read_regular};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{Cursor, Read as _};
use std::path::Path;
use zip::result::ZipError;
use zip::{CompressionMethod, ZipArchive};

/// Entries of the largest bundle.
const MOST_ENTRIES: usize = MOST_PRESETS + 5;

/// Every format that a bundle has ever had.
const FORMATS: [Known<Contents>; 1] = [Known::by::<BundleV1>()];

/// Reads and checks a bundle.
///
/// # Errors
/// [`ReadError`]: of the system, of the archive, or of a file in it, whose name then follows the bundle's.
pub fn read_bundle(path: &Path) -> Result<Bundle, ReadError> {
    let bytes = read_regular(path, MOST_BUNDLE_BYTES).map_err(|refused| ReadError::new(path, refused))?;
    parse_bundle(&bytes, path)
}

/// Reads and checks a bundle's bytes; `path` is what it is called.
///
/// # Errors
/// As [`read_bundle`].
pub fn parse_bundle(bytes: &[u8], path: &Path) -> Result<Bundle, ReadError> {
    let mut entries = unpacked(bytes).map_err(|problem| problem.of(path))?;
    let missing = |name: &str| BundleError { path: path.to_owned(), problem: BundleProblem::Missing { name: name.to_owned() } };
    let mut text = |name: &str| -> Result<String, ReadError> {
        let bytes = entries.remove(name).ok_or_else(|| missing(name))?;
        if bytes.len() as u64 > MOST_TEXT_BYTES {
            return Err(ReadError::TooLarge { path: path.join(name), bytes: bytes.len() as u64, most: MOST_TEXT_BYTES });
        }
        let no_text = |_error| ReadError::File { path: path.join(name), source: crate::store::system::OwnFault::NotText.into() };
        String::from_utf8(bytes).map_err(no_text)
    };
    let said = |name: &str| {
        let path = path.join(name);
        move |(place, problem): (Option<Place>, TextError)| ReadError::Text { path, place, problem }
    };
    if text(KIND_NAME).ok().is_none_or(|kind| kind.trim_end() != KIND) {
        return Err(BundleProblem::OtherArchive.of(path).into());
    }
    let contents = in_format(&text(CONTENTS_NAME)?, &FORMATS, other_format).map_err(said(CONTENTS_NAME))?.0;
    let layout = parse_layout(&text(LAYOUT_NAME)?).map_err(said(LAYOUT_NAME))?;
    let mut presets = Vec::new();
    // No more than there can be entries, whatever is said.
    for name in (1..=contents.presets.min(MOST_ENTRIES)).map(preset_name) {
        presets.push(parse_preset(&text(&name)?).map_err(said(&name))?);
    }
    let swatches = contents.swatches.then(|| parse_swatches(&text(SWATCHES_NAME)?).map_err(said(SWATCHES_NAME))).transpose()?;
    let picture = if contents.picture { Some(entries.remove(PICTURE_NAME).ok_or_else(|| missing(PICTURE_NAME))?) } else { None };
    let bundle = Bundle { layout, presets, swatches, picture };
    check(&bundle, entries).map_err(|problem| problem.of(path))?;
    Ok(bundle)
}

/// What no entry alone tells; `left` are the entries that nothing was said of.
fn check(bundle: &Bundle, left: BTreeMap<String, Vec<u8>>) -> Result<(), BundleProblem> {
    if let Some(name) = left.into_keys().next() {
        return Err(BundleProblem::Contents { name });
    }
    let mut names = BTreeSet::new();
    if let Some(twice) = bundle.presets.iter().find(|preset| !names.insert(&preset.name)) {
        return Err(BundleProblem::PresetTwice { name: twice.name.clone() });
    }
    match &bundle.picture {
        Some(png) if !is_picture(png) => Err(BundleProblem::Picture),
        _ => Ok(()),
    }
}

fn other_format(found: u32, known: u32) -> TextError {
    TextError::Value(Box::new(LayoutError { field: "format".into(), problem: LayoutProblem::Format { found, known } }))
}

/// The entries of an archive by their names, all of them names that a bundle has.
fn unpacked(bytes: &[u8]) -> Result<BTreeMap<String, Vec<u8>>, BundleProblem> {
    let mut archive = ZipArchive::new(Cursor::new(bytes)).map_err(|_unsaid| BundleProblem::NoArchive)?;
    if archive.len() > MOST_ENTRIES {
        return Err(BundleProblem::TooMany { entries: archive.len(), most: MOST_ENTRIES });
    }
    if archive.has_duplicate_names() {
        return Err(BundleProblem::Twice);
    }
    let mut left = MOST_UNPACKED_BYTES;
    let mut entries = BTreeMap::new();
    for index in 0..archive.len() {
        let raw = archive.by_index_raw(index).map_err(|_unsaid| BundleProblem::NoArchive)?;
        let (name, shown) = known_name(raw.name_raw())?;
        let is_packed_otherwise = !matches!(raw.compression(), CompressionMethod::Stored | CompressionMethod::Deflated);
        if raw.encrypted() || is_packed_otherwise {
            return Err(BundleProblem::Locked { name: shown });
        }
        drop(raw);
        let damaged = |_unsaid: ZipError| BundleProblem::Damaged { name: shown };
        let entry = archive.by_index(index).map_err(damaged)?;
        let mut bytes = Vec::new();
        // Whatever size it says it has, no more is unpacked than may be held.
        entry.take(left + 1).read_to_end(&mut bytes).map_err(|_unsaid| BundleProblem::Damaged { name: shown })?;
        left = left.checked_sub(bytes.len() as u64).ok_or(BundleProblem::Bomb { most: MOST_UNPACKED_BYTES })?;
        entries.insert(name, bytes);
    }
    Ok(entries)
}

/// The name of an entry that a bundle may have, whole and to be shown: all presets are shown as one.
fn known_name(raw: &[u8]) -> Result<(String, &'static str), BundleProblem> {
    let name = String::from_utf8_lossy(raw);
    let fixed = [KIND_NAME, CONTENTS_NAME, LAYOUT_NAME, SWATCHES_NAME, PICTURE_NAME];
    if let Some(known) = fixed.into_iter().find(|known| *known == name) {
        return Ok((known.to_owned(), known));
    }
    if (1..=MOST_PRESETS).any(|number| preset_name(number) == name) {
        return Ok((name.into_owned(), "preset"));
    }
    /// Letters of a strange name that are shown.
    const SHOWN: usize = 60;
    let harmless = name.chars().take(SHOWN).map(|letter| if letter.is_control() || letter == '"' { '?' } else { letter });
    Err(BundleProblem::Name { name: harmless.collect() })
}

/// Whether these are the bytes of a PNG of no more pixels than a reveal has.
fn is_picture(png: &[u8]) -> bool {
    let read = png::Decoder::new(Cursor::new(png)).read_info();
    read.is_ok_and(|reader| u64::from(reader.info().width) * u64::from(reader.info().height) <= MOST_PICTURE_PIXELS)
}
