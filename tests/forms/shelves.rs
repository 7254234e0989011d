//! Spacing presets and swatches.

use crate::{has_keys, is_file, renamed, text};
use pleatwright::store::form::{PresetV1, SwatchesV1, SwatchesV2};
use pleatwright::store::{parse_preset, parse_swatches, preset_text, swatches_text};

#[test]
fn the_keys_of_presets_and_swatches_are_those_of_their_formats() {
    has_keys::<PresetV1>("preset-1.txt", 1);
    has_keys::<SwatchesV1>("swatches-1.txt", 1);
    has_keys::<SwatchesV2>("swatches-2.txt", 2);
}

/// A preset's only format is still written.
#[test]
fn a_preset_is_read_and_written_as_it_stands() {
    let own = text("preset-1.ron");
    assert_eq!(preset_text(&parse_preset(&own).unwrap()), own);
}

#[test]
fn a_preset_that_says_little_is_filled_in_as_ever() {
    is_file("preset-1-least-in-full.ron", &preset_text(&parse_preset(&text("preset-1-least.ron")).unwrap()));
}

#[test]
fn swatches_are_rewritten_in_the_newest_format() {
    for name in ["", "-least"] {
        let old = parse_swatches(&text(&format!("swatches-1{name}.ron"))).unwrap();
        let made = swatches_text(&old);
        is_file(&format!("swatches-2{name}.ron"), &made);
        let new = parse_swatches(&made).unwrap();
        assert_eq!((&old, made), (&new, swatches_text(&new)));
    }
    let words = [("format: 1", "format: 2"), ("depth_percent", "shade_percent")];
    assert_eq!(text("swatches-2.ron"), renamed(&text("swatches-1.ron"), &words));
}
