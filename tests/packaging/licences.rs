//! `packaging/THIRD-PARTY.txt`: the licences of everything that is built into the program, complete and not stale.

use super::policy::met;
use super::tree::{Package, packages};
use super::{place, remakes, text};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const LIST: &str = "packaging/THIRD-PARTY.txt";
/// What the packages are made for.
const PLATFORM: &str = "x86_64-unknown-linux-gnu";

/// The files of a folder that say a licence, by their names in capitals.
fn files(folder: &Path, says: impl Fn(&str) -> bool) -> Vec<(String, String)> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten().filter(|entry| entry.path().is_file());
    let named = entries.map(|entry| (entry.file_name().to_string_lossy().to_uppercase(), entry.path()));
    let said = named.filter(|(name, _)| says(name)).filter_map(|(name, path)| Some((name, fs::read_to_string(path).ok()?)));
    let mut files: Vec<(String, String)> = said.collect();
    files.sort();
    files
}

/// Those of a package, and those of the fonts that it brings: every text beside a font is of its licence.
fn all_files(package: &Package) -> Vec<(String, String)> {
    const NAMES: [&str; 7] = ["LICENSE", "LICENCE", "COPYING", "UNLICENSE", "NOTICE", "OFL", "UFL"];
    let own = files(&package.folder, |name| NAMES.iter().any(|one| name.contains(one)));
    let fonts = files(&package.folder.join("fonts"), |name| name.ends_with(".TXT"));
    [own, fonts].concat()
}

/// The words of a package's licence: where it may be chosen, those of MIT; where it brings no file, those that its name stands for.
fn words(package: &Package) -> Vec<String> {
    let mut files = all_files(package);
    let chosen = met(&package.licence, &|_| true).unwrap();
    if chosen == ["MIT"] && files.iter().any(|(name, _)| name.contains("MIT")) {
        files.retain(|(name, _)| ["MIT", "NOTICE", "COPYRIGHT"].iter().any(|one| name.contains(one)));
    }
    let texts: Vec<String> = files.into_iter().map(|(_, text)| tidy(&text)).collect();
    if texts.is_empty() { vec![standard(package, &chosen)] } else { texts }
}

/// The text that everybody who names this licence means.
fn standard(package: &Package, chosen: &[String]) -> String {
    let by = if package.authors.is_empty() { format!("the authors of {}", package.name) } else { package.authors.join(", ") };
    match chosen {
        [only] if only == "MIT" => tidy(&text("LICENSE-MIT").replace("2026 the Pleatwright contributors", &by)),
        [only] if only == "Apache-2.0" => tidy(&text("LICENSE-APACHE")),
        [only] => {
            let kept = place(&format!("packaging/licences/{only}.txt"));
            let kept = fs::read_to_string(&kept).unwrap_or_else(|_| panic!("{} needs {}", package.name, kept.display()));
            tidy(&kept.replace("<authors>", &by))
        }
        _ => panic!("{} brings no file for {chosen:?}", package.name),
    }
}

fn tidy(text: &str) -> String {
    let lines: Vec<&str> = text.trim_start_matches('\u{feff}').lines().map(str::trim_end).collect();
    lines.join("\n").trim_matches('\n').to_owned()
}

/// Every text once, below the packages that it covers.
fn list() -> String {
    let mut covered: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for package in packages(PLATFORM, true).iter().filter(|package| package.source.is_some()) {
        for words in words(package) {
            covered.entry(words).or_default().push(format!("{} {} ({})", package.name, package.version, package.licence));
        }
    }
    let mut parts: Vec<(Vec<String>, String)> = covered.into_iter().map(|(words, packages)| (packages, words)).collect();
    parts.sort();
    let mut list =
        "What is built into Pleatwright besides, with the licence of each. The sheets' font, Roboto, is under Apache-2.0.\n"
            .to_owned();
    for (packages, words) in parts {
        list += &format!("\n{}\n{}\n\n{words}\n", "=".repeat(80), packages.join("\n"));
    }
    list
}

/// A dependency that is added, left out or changed changes the list.
#[test]
fn reference_licences_are_those_of_all_that_is_built_in() {
    let made = list();
    if remakes() || !place(LIST).is_file() {
        fs::write(place(LIST), &made).unwrap();
        assert!(remakes(), "{LIST}: there was none; what was made now is written there");
    }
    let kept = text(LIST);
    let differs = kept.lines().zip(made.lines()).find(|(kept, made)| kept != made);
    assert!(kept == made, "{LIST} is stale at {differs:?}; make it anew by PLEATWRIGHT_REMAKE=1 cargo test reference_");
}
