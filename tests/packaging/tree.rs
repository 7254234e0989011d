//! The dependencies, as cargo tells them.

use serde_json::Value;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::Command;

/// A package that the program is built of or with, not one of its tests.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Package {
    pub(crate) name: String,
    pub(crate) version: String,
    /// What it says of its licence, as SPDX.
    pub(crate) licence: String,
    /// Where it comes from; none for our own.
    pub(crate) source: Option<String>,
    pub(crate) folder: PathBuf,
    pub(crate) authors: Vec<String>,
}

/// Everything the program needs on one platform, or on any (`all`), as it is built without its tests; without what only builds it where what
/// is built in is asked for.
pub(crate) fn packages(platform: &str, built_in: bool) -> Vec<Package> {
    let edges = if built_in { "normal" } else { "normal,build" };
    let listed = cargo(&["tree", "--locked", "--edges", edges, "--target", platform, "--prefix", "none", "--format", "{p}"]);
    let needed: BTreeSet<(String, String)> = String::from_utf8(listed)
        .unwrap()
        .lines()
        .filter_map(|line| line.split_once(" v"))
        .map(|(name, rest)| (name.to_owned(), rest.split(' ').next().unwrap().to_owned()))
        .collect();
    let told: Value = serde_json::from_slice(&cargo(&["metadata", "--locked", "--format-version", "1"])).unwrap();
    let mut packages: Vec<Package> = list(&told["packages"]).map(package).collect();
    packages.retain(|one| needed.contains(&(one.name.clone(), one.version.clone())));
    packages.sort();
    assert!(packages.len() > 100 && packages.len() == needed.len(), "{} of {}", packages.len(), needed.len());
    packages
}

fn cargo(arguments: &[&str]) -> Vec<u8> {
    let output = Command::new(env!("CARGO")).args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    output.stdout
}

fn package(told: &Value) -> Package {
    let folder = PathBuf::from(word(&told["manifest_path"])).parent().unwrap().to_owned();
    Package {
        name: word(&told["name"]),
        version: word(&told["version"]),
        licence: told["license"].as_str().unwrap_or_default().to_owned(),
        source: told["source"].as_str().map(str::to_owned),
        folder,
        authors: list(&told["authors"]).map(word).collect(),
    }
}

fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

fn word(value: &Value) -> String {
    value.as_str().unwrap().to_owned()
}
