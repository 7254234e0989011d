use super::*;
use crate::reveal::Picture;
use crate::store::{
    EXAMPLE_LAYOUTS, EXAMPLE_ORDERS, EXAMPLE_PRESETS, EXAMPLE_SWATCHES, ReadError, layout_text, parse_layout, parse_preset,
    parse_swatches, picture_png, preset_text,
};
use std::cell::Cell;
use std::io::{Cursor, Write as _};
use std::path::Path;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

fn example() -> Layout {
    parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap()
}

fn whole() -> Bundle {
    let presets: Vec<SpacingPreset> = EXAMPLE_PRESETS.iter().map(|preset| parse_preset(preset.text).unwrap()).collect();
    let swatches = Some(parse_swatches(EXAMPLE_SWATCHES[0].text).unwrap());
    let picture = Picture { width: 3, height: 2, rgba: vec![200; 24] };
    Bundle { layout: example(), presets, swatches, picture: Some(picture_png(&picture, 1.0).unwrap()) }
}

fn read(bytes: &[u8]) -> Result<Bundle, ReadError> {
    parse_bundle(bytes, Path::new("gift.pleatbundle"))
}

/// Entries as somebody who means no good writes them.
fn archive(entries: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in entries {
        archive.start_file(*name, SimpleFileOptions::default().compression_method(CompressionMethod::Deflated)).unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

/// A bundle's entries, one of them with another content, or another entry beside them.
fn with(name: &str, bytes: &[u8]) -> Vec<u8> {
    let layout = layout_text(example().raw());
    let mut entries = vec![(KIND_NAME, KIND.as_bytes()), (CONTENTS_NAME, &b"(format: 1)"[..]), (LAYOUT_NAME, layout.as_bytes())];
    match entries.iter_mut().find(|(own, _)| *own == name) {
        Some(own) => own.1 = bytes,
        None => entries.push((name, bytes)),
    }
    archive(&entries)
}

fn is_same(one: &Bundle, other: &Bundle) -> bool {
    one.layout.raw() == other.layout.raw()
        && (&one.presets, &one.swatches, &one.picture) == (&other.presets, &other.swatches, &other.picture)
}

fn refusal(bytes: &[u8]) -> String {
    read(bytes).unwrap_err().to_string()
}

#[test]
fn every_bundle_reads_back_and_is_the_same_bytes_each_time() {
    let bundle = whole();
    for example in EXAMPLE_LAYOUTS {
        let bundle = Bundle { layout: parse_layout(example.text).unwrap(), ..bundle.clone() };
        let bytes = bundle.bytes().unwrap();
        assert!(is_same(&read(&bytes).unwrap(), &bundle), "{}", example.name);
        assert_eq!(bundle.bytes().unwrap(), bytes);
    }
    let bare = Bundle { layout: example(), presets: Vec::new(), swatches: None, picture: None };
    assert!(is_same(&read(&bare.bytes().unwrap()).unwrap(), &bare));
}

/// APPNOTE 4.3.7: a local header of 30 bytes, its first four the signature, compression at 8, the lengths of name and extra field at 26 and
/// 28; Open Container Format 3.3, 4.3: the kind is the first entry, stored, without an extra field.
#[test]
fn it_begins_with_its_kind_at_fixed_places() {
    let bytes = whole().bytes().unwrap();
    assert_eq!(&bytes[..4], b"PK\x03\x04");
    assert_eq!(bytes[8..10], [0, 0]);
    assert_eq!(bytes[26..30], [8, 0, 0, 0]);
    assert!(bytes[30..].starts_with(b"mimetypeapplication/x-pleatwright-bundle+zipPK\x03\x04"));
}

/// Of what the maker wrote, the layout's own note alone is handed on; of the shelves, what belongs to the layout.
#[test]
fn what_is_private_stays_at_home() {
    let mut raw = example().raw().clone();
    raw.note = "meet at the boathouse".to_owned();
    let layout = Layout::try_from(raw).unwrap();
    let own = SpacingPreset::of("Mine".to_owned(), "the secret of it".to_owned(), layout.guide_mm(), &layout.raw().binds);
    let other = SpacingPreset { name: "Other".to_owned(), ..parse_preset(EXAMPLE_PRESETS[0].text).unwrap() };
    let dye = layout.raw().colours.rotation[0].clone();
    let kept = |colour: crate::layout::Swatch| crate::reveal::colour::DyeSwatch {
        colour,
        depth_percent: 2.5,
        over: None,
        origin: crate::reveal::colour::Origin::Measured,
        note: "4.90 a tub at the corner".to_owned(),
    };
    let unused = crate::layout::Swatch { name: "unused".to_owned(), ..dye.clone() };
    let book = SwatchBook::new("My own".to_owned(), "nobody's".to_owned(), vec![kept(dye.clone()), kept(unused)]).unwrap();
    let bundle = Bundle::of(layout.clone(), &[other, own.clone()], &book).unwrap();
    assert_eq!(bundle.presets, [SpacingPreset { note: String::new(), ..own }]);
    let swatches = bundle.swatches.as_ref().unwrap();
    assert_eq!(swatches.swatches().len(), layout.raw().colours.rotation.len());
    assert!(swatches.swatch(&dye.name).is_some_and(|swatch| swatch.depth_percent == 2.5 && swatch.note.is_empty()));
    let texts: Vec<String> = [layout_text(bundle.layout.raw()), crate::store::swatches_text(swatches)]
        .into_iter()
        .chain(bundle.presets.iter().map(preset_text))
        .collect();
    let all = texts.concat();
    assert!(all.contains("meet at the boathouse"));
    for private in ["the secret", "4.90", "nobody's", "My own", "unused", "Other"] {
        assert!(!all.contains(private), "{private}");
    }
    let alone = Bundle::of(layout.clone(), &[], &SwatchBook::new("None".to_owned(), String::new(), Vec::new()).unwrap()).unwrap();
    assert_eq!(alone.presets[0].name, layout.name());
    assert!(alone.swatches.unwrap().swatch(&dye.name).is_some());
}

/// A name that leads out of a folder, other archives, doubled, locked and strange entries.
#[test]
fn hostile_names_counts_and_kinds_are_refused_in_a_sentence() {
    let nested = whole().bytes().unwrap();
    let png = whole().picture.unwrap();
    let sentences: [(Vec<u8>, &str); 16] = [
        (b"PK\x03\x04 nothing more".to_vec(), "it is not a bundle, or a damaged one; ask for it again"),
        (Vec::new(), "it is not a bundle"),
        (archive(&[("../../.profile", b"x")]), "it holds \"../../.profile\", which no bundle does"),
        (archive(&[("/etc/passwd", b"x")]), "it holds \"/etc/passwd\", which"),
        (archive(&[("C:\\layout.ron", b"x")]), "it holds \"C:\\layout.ron\", which"),
        (archive(&[("presets/layout.ron", b"x")]), "it holds \"presets/layout.ron\", which"),
        (archive(&[("a\"\u{1b}[2Jb", b"x")]), "it holds \"a??[2Jb\", which"),
        (archive(&[("word/document.xml", b"x")]), "it holds \"word/document.xml\", which"),
        (archive(&[("layout.ron", b"(format: 1)")]), "it is an archive, but not a bundle of this program"),
        (with("inner.pleatbundle", &nested), "it holds \"inner.pleatbundle\", which"),
        (with(LAYOUT_NAME, &nested), "layout.ron: could not be read: it is not text"),
        (with(LAYOUT_NAME, EXAMPLE_ORDERS[0].text.as_bytes()), "gift.pleatbundle/layout.ron:"),
        (with(CONTENTS_NAME, b"(format: 2)"), "gift.pleatbundle/bundle.ron:1:2: format: unknown file format 2; "),
        (with(CONTENTS_NAME, b"(format: 1, presets: 4000000000)"), "\"preset-1.ron\" is missing in it"),
        (with("preset-1.ron", EXAMPLE_PRESETS[0].text.as_bytes()), "it holds \"preset-1.ron\", which it does not tell of"),
        (with("reveal.png", &png), "it holds \"reveal.png\", which it does not tell of"),
    ];
    for (bytes, expected) in sentences {
        let said = refusal(&bytes);
        assert!(said.starts_with("gift.pleatbundle") && said.contains(expected), "{said}\nand not {expected}");
    }
    let many: Vec<String> = (1..=MOST_PRESETS + 6).map(|number| format!("preset-{number}.ron")).collect();
    let many: Vec<(&str, &[u8])> = many.iter().map(|name| (name.as_str(), &b"x"[..])).collect();
    assert!(refusal(&archive(&many)).contains("38 entries are too many; a bundle has at most 37"));
    let contents = format!("(format: 1, presets: {}, picture: true)", 0);
    let layout = layout_text(example().raw());
    let entries = [
        (KIND_NAME, KIND.as_bytes()),
        (CONTENTS_NAME, contents.as_bytes()),
        (LAYOUT_NAME, layout.as_bytes()),
        (PICTURE_NAME, b"GIF89a"),
    ];
    assert!(refusal(&archive(&entries)).contains("\"reveal.png\" in it is not a picture of a reveal"));
}

/// The second of two entries of one name would be read, the first be shown by other programs.
#[test]
fn two_entries_of_one_name_are_refused() {
    let mut bytes = with("preset-1.ron", b"x");
    // Both the local name and that of the directory become another that is there.
    for at in 0..bytes.len() - 12 {
        if bytes[at..].starts_with(b"preset-1.ron") {
            bytes[at..at + 12].copy_from_slice(b"preset-2.ron");
        }
    }
    assert!(refusal(&bytes).contains("\"preset-2.ron\""));
    let mut twice = archive(&[("preset-1.ron", b"x"), ("preset-2.ron", b"y")]);
    for at in 0..twice.len() - 12 {
        if twice[at..].starts_with(b"preset-2.ron") {
            twice[at + 7] = b'1';
        }
    }
    let said = refusal(&twice);
    assert!(said.contains("two of its entries have one name") || said.contains("no bundle"), "{said}");
}

/// A thousandfold of zeros in one entry, and spread over all that there can be.
#[test]
fn a_compressed_bomb_is_not_unpacked() {
    let zeros = vec![0; usize::try_from(MOST_UNPACKED_BYTES).unwrap() + 1];
    let bomb = archive(&[(LAYOUT_NAME, &zeros)]);
    assert!(bomb.len() < 100_000, "{}", bomb.len());
    assert!(refusal(&bomb).contains("it unpacks to more than 50331648 bytes"));
    let part = &zeros[..zeros.len() / 8];
    let names: Vec<String> = (1..=9).map(preset_name).collect();
    let spread: Vec<(&str, &[u8])> = names.iter().map(|name| (name.as_str(), part)).collect();
    assert!(refusal(&archive(&spread)).contains("it unpacks to more than"));
    // A text that fits, but is longer than any that is read alone.
    let long = vec![b' '; usize::try_from(crate::store::MOST_TEXT_BYTES).unwrap() + 1];
    assert!(refusal(&with(LAYOUT_NAME, &long)).contains("layout.ron: 4194305 bytes are too many"));
}

#[test]
fn what_could_not_be_read_back_is_not_written() {
    let preset = parse_preset(EXAMPLE_PRESETS[0].text).unwrap();
    let named = |number: usize| SpacingPreset { name: format!("{number}"), ..preset.clone() };
    let many = Bundle { presets: (0..=MOST_PRESETS).map(named).collect(), ..whole() };
    assert_eq!(many.bytes().unwrap_err(), BundleProblem::TooManyPresets { count: MOST_PRESETS + 1 });
    let twice = Bundle { presets: vec![preset.clone(), preset.clone()], ..whole() };
    assert_eq!(twice.bytes().unwrap_err(), BundleProblem::PresetTwice { name: preset.name });
    let large = Bundle { picture: Some(vec![1; usize::try_from(MOST_BUNDLE_BYTES).unwrap()]), ..whole() };
    assert!(matches!(large.bytes().unwrap_err(), BundleProblem::TooLarge { .. }));
}

/// Mangled bundles: some bytes changed, cut out or doubled. Each is read or refused in a sentence; none ends the program.
/// `MANGLED_BUNDLES` of them, or as many as take some seconds.
#[test]
fn mangled_bundles_are_read_or_refused() {
    use proptest::prelude::*;
    use proptest::test_runner::{RngSeed, TestRunner};
    let cases = std::env::var("MANGLED_BUNDLES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(300);
    let bundle = whole().bytes().unwrap();
    let change = (any::<prop::sample::Index>(), 0..5_u8, prop::collection::vec(any::<u8>(), 1..9));
    let changes = prop::collection::vec(change, 1..6);
    let (sound, refused) = (Cell::new(0), Cell::new(0));
    let config = ProptestConfig { cases, rng_seed: RngSeed::Fixed(17), failure_persistence: None, ..ProptestConfig::default() };
    let outcome = TestRunner::new(config).run(&changes, |changes| {
        let mut bytes = bundle.clone();
        for (at, how, with) in changes {
            // Half of the changes hit the directory at the end, which says names and sizes.
            let at = if with[0] < 128 { at.index(bytes.len()) } else { bytes.len() - 1 - at.index(bytes.len().min(700)) };
            let end = (at + with.len()).min(bytes.len());
            match how {
                0 => drop(bytes.splice(at..end, with)),
                1 => drop(bytes.drain(at..end)),
                2 => bytes[at] ^= with[0],
                3 => bytes[at..end].fill(0xff),
                _ => bytes.truncate(at.max(bytes.len() / 2)),
            }
        }
        match read(&bytes) {
            Ok(_) => sound.set(sound.get() + 1),
            Err(error) => {
                refused.set(refused.get() + 1);
                let said = error.to_string();
                prop_assert!(said.starts_with("gift.pleatbundle") && said.contains("; "), "{}", said);
            }
        }
        Ok(())
    });
    outcome.unwrap();
    assert!(refused.get() > 0, "{} read, {} refused", sound.get(), refused.get());
}
