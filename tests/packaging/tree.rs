//! The dependencies, as cargo tells them.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
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

/// Everything the program needs on one platform, or on any; without what only builds it where `built_in` asks for what is in it.
pub(crate) fn packages(platform: Option<&str>, built_in: bool) -> Vec<Package> {
    let mut command = Command::new(env!("CARGO"));
    command.args(["metadata", "--format-version", "1", "--locked"]).current_dir(env!("CARGO_MANIFEST_DIR"));
    if let Some(platform) = platform {
        command.args(["--filter-platform", platform]);
    }
    let output = command.output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let told: Value = serde_json::from_slice(&output.stdout).unwrap();
    let reached = reached(&told["resolve"], built_in);
    let mut packages: Vec<Package> =
        list(&told["packages"]).filter(|one| reached.contains(&word(&one["id"]))).map(package).collect();
    packages.sort();
    packages
}

/// The ids that can be reached from the program without passing by what only tests need.
fn reached(resolve: &Value, built_in: bool) -> BTreeSet<String> {
    let nodes: BTreeMap<String, &Value> = list(&resolve["nodes"]).map(|node| (word(&node["id"]), node)).collect();
    let (mut open, mut reached) = (vec![word(&resolve["root"])], BTreeSet::new());
    while let Some(id) = open.pop() {
        let needed = list(&nodes[&id]["deps"])
            .filter(|dep| list(&dep["dep_kinds"]).any(|kind| kind["kind"].is_null() || (!built_in && kind["kind"] == "build")));
        open.extend(needed.map(|dep| word(&dep["pkg"])).filter(|id| !reached.contains(id)));
        reached.insert(id);
    }
    reached
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
