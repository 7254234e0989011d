//! Layouts.

use crate::{has_keys, is_file, renamed, text};
use pleatwright::edit::Document;
use pleatwright::layout::form::{LayoutV1, LayoutV2};
use pleatwright::layout::{Layout, fingerprint, layout_text};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use std::process::Command;

/// Written by the program, with every progression, edit and field between them.
const WRITTEN: [&str; 3] = ["steps", "by-hand-gaps", "equal-cloth"];
/// Written by hand: what they leave out is filled in.
const BY_HAND: [&str; 2] = ["by-hand", "least"];

fn all() -> impl Iterator<Item = &'static str> {
    WRITTEN.into_iter().chain(BY_HAND)
}

fn layout(text: &str) -> Layout {
    parse_layout(text).unwrap_or_else(|(place, problem)| panic!("{place:?}: {problem}"))
}

#[test]
fn the_keys_of_layouts_are_those_of_their_formats() {
    has_keys::<LayoutV1>("layout-1.txt", 1);
    has_keys::<LayoutV2>("layout-2.txt", 2);
}

/// What a file left out means now what it meant then: the rewriting says it all.
#[test]
fn every_layout_is_rewritten_in_the_newest_format() {
    for name in all() {
        let old = layout(&text(&format!("layout-1-{name}.ron")));
        let made = layout_text(old.raw());
        is_file(&format!("layout-2-{name}.ron"), &made);
        let new = layout(&made);
        assert_eq!(old.raw(), new.raw(), "{name}");
        assert_eq!(made, layout_text(new.raw()), "{name}");
    }
}

/// The formats differ in these words and in nothing else.
#[test]
fn a_written_layout_changes_in_the_words_that_changed() {
    let words = [
        ("format: 1", "format: 2"),
        ("burst: (", "fold: Burst("),
        ("centring", "half_fold"),
        ("        packing", "        packing_when_tied"),
        ("rest: ", "lies: "),
    ];
    for name in WRITTEN {
        let old = text(&format!("layout-1-{name}.ron")).replace("further_arcs_mm", "extra_arcs_mm");
        assert_eq!(layout_text(layout(&old.replace("extra_arcs_mm", "further_arcs_mm")).raw()), renamed(&old, &words), "{name}");
    }
}

/// As the program said them when format 1 was the only one: they stand on sheets and in journals.
#[test]
fn fingerprints_are_what_they_were() {
    let known = [
        ("steps", "f4cf29b0"),
        ("by-hand-gaps", "d70e553b"),
        ("equal-cloth", "c0454e4a"),
        ("by-hand", "bab51f1f"),
        ("least", "5bb2689c"),
    ];
    for (name, mark) in known {
        for format in [1, 2] {
            assert_eq!(fingerprint(layout(&text(&format!("layout-{format}-{name}.ron"))).raw()), mark, "{name}, format {format}");
        }
    }
    let of_examples = ["bab51f1f", "d8fce175", "acf25f08", "748db7c0", "5f2ab1b9", "6b887b8d", "85ad81bc", "621cadac"];
    for (example, mark) in EXAMPLE_LAYOUTS.iter().zip(of_examples) {
        assert_eq!(fingerprint(layout(example.text).raw()), mark, "{}", example.name);
    }
}

#[test]
fn a_layout_of_an_old_format_is_opened_without_a_word_and_saved_in_the_newest() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tee.ron");
    let old = text("layout-1-by-hand.ron");
    std::fs::write(&path, &old).unwrap();
    let mut document = Document::open(&path).unwrap();
    assert!(!document.is_unsaved());
    document.save(&path).unwrap();
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text("layout-2-by-hand.ron"));
    assert_eq!(std::fs::read_to_string(folder.path().join("tee.ron.bak")).unwrap(), old);
}

#[test]
fn check_says_the_same_of_either_format() {
    let said = |format: u32| {
        let file = format!("layout-{format}-by-hand.ron");
        let mut check = Command::new(env!("CARGO_BIN_EXE_pleatwright"));
        let output = check.arg("check").arg(&file).current_dir(crate::folder().join("files")).output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap().replace(&file, "tee.ron")
    };
    assert_eq!(said(1), said(2));
    assert!(!said(1).contains("format"), "{}", said(1));
}
