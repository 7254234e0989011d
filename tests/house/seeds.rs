//! Every property test draws from a seed that stands beside it: what fails once fails again.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::fs;
use std::path::Path;

/// Property tests of a text that draw from no seed of their own, by the name of the first test of each.
fn unseeded(text: &str) -> Vec<String> {
    let blocks = text.split("proptest! {\n").skip(1);
    let heads = blocks.map(|block| block.split_once("fn ").unwrap_or((block, "")));
    let without = heads.filter(|(head, _)| !head.contains("seeded(") && !head.contains("rng_seed: "));
    let mut found: Vec<String> = without.map(|(_, test)| test.split('(').next().unwrap_or_default().to_owned()).collect();
    let runners = text.split("TestRunner::new(").skip(1).filter(|rest| !rest.starts_with("seeded("));
    if (runners.count() > 0 && !text.contains("rng_seed: ")) || text.contains("TestRunner::default()") {
        found.push("TestRunner".to_owned());
    }
    found
}

/// Eleven once had none.
#[test]
fn every_property_test_has_its_seed() {
    fn walk(folder: &Path, found: &mut Vec<String>) {
        for path in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
            if path.is_dir() {
                walk(&path, found);
            } else if path.extension().is_some_and(|ending| ending == "rs") && !path.ends_with(file!()) {
                let text = fs::read_to_string(&path).unwrap();
                found.extend(unseeded(&text).iter().map(|test| format!("{}: {test}", path.display())));
            }
        }
    }
    let mut found = Vec::new();
    for folder in ["src", "tests"] {
        walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut found);
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn a_property_test_without_a_seed_is_found() {
    let bare = "proptest! {\n    #[test]\n    fn holds(x: u8) {}\n}";
    assert_eq!(unseeded(bare), ["holds"]);
    assert_eq!(unseeded(&bare.replace("#[test]", "#![proptest_config(seeded(1, 256))]\n#[test]")), [""; 0]);
    assert_eq!(unseeded("TestRunner::new(Config::default())"), ["TestRunner"]);
}
