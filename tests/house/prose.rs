//! Refusals and warnings are data: no source takes a sentence apart, and none keeps one where an error has its numbers.

use std::fs;
use std::path::{Path, PathBuf};

/// What takes a sentence apart that was made for a reader, or makes one before anybody says for whom.
const FORBIDDEN: [(&str, &str); 3] = [
    (".restate(", "a sentence is read back for its numbers"),
    ("#[error(", "a sentence is made where only numbers and a place belong; say it in `told`"),
    ("without_keys(", "a sentence is read back for its fields"),
];
/// Makes a sentence.
const SAYS: [&str; 2] = [".say(", ".told("];
/// Takes a text apart.
const TAKES_APART: [&str; 10] = [
    ".split(",
    ".rsplit(",
    ".split_once(",
    ".rsplit_once(",
    ".find(",
    ".strip_prefix(",
    ".strip_suffix(",
    ".replace(",
    ".replacen(",
    ".contains(",
];

/// The faults of a source text, without its tests.
fn faults(text: &str) -> Vec<String> {
    let own = text.split("#[cfg(test)]\nmod tests").next().unwrap_or_default();
    let mut found = Vec::new();
    for (index, line) in own.lines().enumerate().filter(|(_, line)| !line.trim_start().starts_with("//")) {
        let why = FORBIDDEN.into_iter().find(|(what, _)| line.contains(what)).map(|(_, why)| why);
        let taken = SAYS.into_iter().any(|says| {
            let after = line.split_once(says).map_or("", |(_, after)| after);
            TAKES_APART.into_iter().any(|takes| after.contains(takes))
        });
        found.extend(why.or(taken.then_some("a sentence is taken apart")).map(|why| format!("{}: {why}", index + 1)));
    }
    found
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for path in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()) {
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

#[test]
fn no_source_takes_a_sentence_apart() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    sources(&root, &mut paths);
    paths.retain(|path| !path.starts_with(root.join("telling_tests")));
    assert!(paths.len() > 300, "{} sources are fewer than there are", paths.len());
    let of = |path: &PathBuf| {
        let text = fs::read_to_string(path).unwrap();
        faults(&text).into_iter().map(|fault| format!("{}:{fault}", path.display())).collect::<Vec<_>>()
    };
    let found: Vec<String> = paths.iter().flat_map(of).collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn what_takes_a_sentence_apart_is_found() {
    let count = |text: &str| faults(text).len();
    assert_eq!(count("let words = lengths.restate(&error.to_string());"), 1);
    assert_eq!(count("#[error(\"{value} mm\")]"), 1);
    assert_eq!(count("let field = error.say(voice).split(':').next();"), 1);
    assert_eq!(count("let told = error.told(voice);\nui.label(error.say(ctx.voice()));"), 0);
    assert_eq!(count("// .restate(\n#[cfg(test)]\nmod tests { fn f() { error.say(v).contains(\"x\"); } }"), 0);
}
