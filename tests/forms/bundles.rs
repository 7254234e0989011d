//! Bundles.

use crate::{folder, has_keys};
use pleatwright::store::form::BundleV1;
use pleatwright::store::{Bundle, parse_preset, parse_swatches, read_bundle, read_layout};

#[test]
fn the_keys_of_a_bundle_are_those_of_its_format() {
    has_keys::<BundleV1>("bundle-1.txt", 1);
}

/// One that was handed on is read as it was meant, and its only format is still written.
#[test]
fn a_bundle_is_read_and_written_as_it_stands() {
    let path = folder().join("files/bundle-1.pleatbundle");
    let bundle = Bundle {
        layout: read_layout(&folder().join("files/layout-2-steps.ron")).unwrap(),
        presets: vec![parse_preset(&crate::text("preset-1.ron")).unwrap()],
        swatches: Some(parse_swatches(&crate::text("swatches-2.ron")).unwrap()),
        picture: None,
    };
    if !path.is_file() {
        std::fs::write(&path, bundle.bytes().unwrap()).unwrap();
        panic!("{}: there was none; what was made now is written there", path.display());
    }
    let kept = read_bundle(&path).unwrap();
    assert_eq!(kept.layout.raw(), bundle.layout.raw());
    assert_eq!((&kept.presets, &kept.swatches), (&bundle.presets, &bundle.swatches));
}
