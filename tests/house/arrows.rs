//! Which file knows which, and the circles among them.

use crate::tree::Tree;
use std::collections::{BTreeMap, BTreeSet};

/// A file, and one that it knows.
pub(crate) type Arrow = (String, String);

/// Which file knows which, and by what names.
#[derive(Debug, Default)]
pub(crate) struct Arrows {
    /// The names that the first file takes from the second.
    pub(crate) names: BTreeMap<Arrow, BTreeSet<String>>,
    /// Arrows from a file to the one that heads a folder it stands in.
    homeward: BTreeSet<Arrow>,
}

impl Arrows {
    pub(crate) fn of(tree: &Tree) -> Self {
        let mut arrows = Self::default();
        for (at, module) in tree.modules.iter().enumerate() {
            let heads: Vec<&str> = std::iter::successors(module.parent, |at| tree.modules[*at].parent)
                .map(|at| tree.modules[at].file.as_str())
                .collect();
            for path in &module.paths {
                for defining in tree.defining(at, path) {
                    let file = &tree.modules[defining].file;
                    if *file == module.file {
                        continue;
                    }
                    let arrow = (module.file.clone(), file.clone());
                    if heads.contains(&file.as_str()) {
                        arrows.homeward.insert(arrow.clone());
                    }
                    arrows.names.entry(arrow).or_default().insert(path.last().cloned().unwrap_or_default());
                }
            }
        }
        arrows
    }

    /// An arrow and what rides on it.
    pub(crate) fn tell(&self, arrow: &Arrow) -> String {
        let names: Vec<&str> = self.names[arrow].iter().map(String::as_str).collect();
        format!("{} -> {}: {}", arrow.0, arrow.1, names.join(", "))
    }

    /// Rings of files that know each other, each told with every arrow in it. What a file takes from the head of its own folder
    /// doesn't close one.
    pub(crate) fn circles(&self) -> Vec<String> {
        let mut known: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for (file, other) in self.names.keys().filter(|arrow| !self.homeward.contains(arrow)) {
            known.entry(file).or_default().insert(other);
        }
        let reach: BTreeMap<&str, BTreeSet<&str>> = known.keys().map(|file| (*file, reached(&known, file))).collect();
        let mut told = Vec::new();
        let mut done = BTreeSet::new();
        for (file, reached) in &reach {
            let ring: BTreeSet<&str> =
                reached.iter().filter(|other| reach.get(*other).is_some_and(|back| back.contains(file))).copied().collect();
            if !ring.is_empty() && done.insert(ring.clone()) {
                let inside = |arrow: &&Arrow| ring.contains(arrow.0.as_str()) && ring.contains(arrow.1.as_str());
                let inside = self.names.keys().filter(inside).filter(|arrow| !self.homeward.contains(arrow));
                let lines: Vec<String> = inside.map(|arrow| format!("  {}", self.tell(arrow))).collect();
                told.push(format!("{} files know each other in a circle:\n{}", ring.len(), lines.join("\n")));
            }
        }
        told
    }
}

/// The files that one knows, and those that they know, and so on.
fn reached<'a>(known: &BTreeMap<&'a str, BTreeSet<&'a str>>, from: &'a str) -> BTreeSet<&'a str> {
    let mut reached = BTreeSet::new();
    let mut next = vec![from];
    while let Some(file) = next.pop() {
        next.extend(known.get(file).into_iter().flatten().copied().filter(|other| reached.insert(*other)));
    }
    reached
}
