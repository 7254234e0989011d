//! What the desktop is told: entry, description, kinds of files; each says the same as the program.

use super::{place, text};
use roxmltree::Document;
use toml::{Table, Value};

fn manifest() -> Table {
    text("Cargo.toml").parse().unwrap()
}

fn entry(key: &str) -> String {
    let text = text("packaging/pleatwright.desktop");
    let line = text.lines().find_map(|line| line.strip_prefix(key)?.strip_prefix('=')).map(str::to_owned);
    line.unwrap_or_else(|| panic!("no {key}"))
}

/// The tagline and the kinds of files are said in several places.
#[test]
fn entry_description_and_manifest_say_the_same() {
    let manifest = manifest();
    let about = manifest["package"]["description"].as_str().unwrap();
    assert_eq!(entry("Comment"), about);
    let metainfo = text("packaging/pleatwright.metainfo.xml");
    let metainfo = Document::parse(&metainfo).unwrap();
    let said = |name: &str| -> Vec<String> {
        metainfo.descendants().filter(|node| node.has_tag_name(name)).filter_map(|node| node.text().map(str::to_owned)).collect()
    };
    assert_eq!(said("summary"), [about]);
    assert_eq!(said("project_license"), [manifest["package"]["license"].as_str().unwrap()]);
    let mime = text("packaging/pleatwright.mime.xml");
    let mime = Document::parse(&mime).unwrap();
    let kinds: Vec<&str> =
        mime.descendants().filter_map(|node| node.attribute("type")).filter(|kind| kind.contains("pleatwright")).collect();
    assert_eq!(entry("MimeType").split_terminator(';').collect::<Vec<_>>(), kinds);
    assert_eq!(said("mediatype"), kinds);
    let patterns: Vec<&str> = mime.descendants().filter_map(|node| node.attribute("pattern")).collect();
    assert_eq!(patterns, ["*.pleat", "*.pleatbundle"]);
}

/// The first bytes of a bundle are those that the kind is told by.
#[test]
fn a_bundle_begins_as_its_kind_says() {
    let mime = text("packaging/pleatwright.mime.xml");
    let mime = Document::parse(&mime).unwrap();
    let matched: Vec<(usize, String)> = mime
        .descendants()
        .filter(|node| node.has_tag_name("match"))
        .map(|node| {
            let value = node.attribute("value").unwrap().replace("\\003", "\u{3}").replace("\\004", "\u{4}");
            (node.attribute("offset").unwrap().parse().unwrap(), value)
        })
        .collect();
    assert_eq!(matched.len(), 2);
    let layout = pleatwright::store::read_layout(&place("layouts/harbour-row-tee-m.ron")).unwrap();
    let bundle = pleatwright::store::Bundle { layout, presets: Vec::new(), swatches: None, picture: None };
    let bytes = bundle.bytes().unwrap();
    for (offset, value) in matched {
        assert!(bytes[offset..].starts_with(value.as_bytes()), "{value:?} at {offset}");
    }
}

/// Every file that a package holds is there, or is made by `packaging/make`.
#[test]
fn every_asset_is_there() {
    let manifest = manifest();
    let assets = manifest["package"]["metadata"]["deb"]["assets"].as_array().unwrap();
    let sources = assets.iter().filter_map(|asset| asset.get(0).and_then(Value::as_str));
    for source in sources.filter(|source| !source.starts_with("target/")) {
        let there = match source.split_once('*') {
            Some((folder, _)) => place(folder).is_dir(),
            None => place(source).is_file(),
        };
        assert!(there, "{source}");
    }
}
