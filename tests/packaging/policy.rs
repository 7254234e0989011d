//! Dependencies against `deny.toml`, without the tool that reads it: licences, versions, sources.

use super::text;
use super::tree::{Package, packages};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use toml::Table;

fn rules() -> Table {
    text("deny.toml").parse().unwrap()
}

fn words(rules: &Table, section: &str, key: &str) -> BTreeSet<String> {
    let list = rules[section][key].as_array().unwrap();
    list.iter().map(|value| value.as_str().or_else(|| value["crate"].as_str()).unwrap().to_owned()).collect()
}

/// Whether an SPDX expression can be met by what is allowed, and by which: `AND` needs both, `OR` one, `WITH` is part of a name. Old ones
/// write `/` for `OR`.
pub(crate) fn met(expression: &str, allowed: &dyn Fn(&str) -> bool) -> Option<Vec<String>> {
    let spaced = expression.replace('/', " OR ").replace('(', " ( ").replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let (met, rest) = any_of(&words, allowed);
    assert!(rest.is_empty(), "{expression}");
    met
}

type Met<'a> = (Option<Vec<String>>, &'a [&'a str]);

fn any_of<'a>(words: &'a [&'a str], allowed: &dyn Fn(&str) -> bool) -> Met<'a> {
    let (mut met, mut rest) = all_of(words, allowed);
    while rest.first() == Some(&"OR") {
        let (other, left) = all_of(&rest[1..], allowed);
        // MIT is the shortest to meet.
        let better = other.as_ref().is_some_and(|other| met.is_none() || *other == ["MIT"]);
        met = if better { other } else { met };
        rest = left;
    }
    (met, rest)
}

fn all_of<'a>(words: &'a [&'a str], allowed: &dyn Fn(&str) -> bool) -> Met<'a> {
    let (mut met, mut rest) = one(words, allowed);
    while rest.first() == Some(&"AND") {
        let (other, left) = one(&rest[1..], allowed);
        met = met.zip(other).map(|(met, other)| [met, other].concat());
        rest = left;
    }
    (met, rest)
}

fn one<'a>(words: &'a [&'a str], allowed: &dyn Fn(&str) -> bool) -> Met<'a> {
    if words[0] == "(" {
        let (met, rest) = any_of(&words[1..], allowed);
        assert_eq!(rest[0], ")");
        return (met, &rest[1..]);
    }
    let length = if words.get(1) == Some(&"WITH") { 3 } else { 1 };
    let name = words[..length].join(" ");
    (allowed(&name).then(|| vec![name]), &words[length..])
}

/// The grammar as SPDX 2.3 has it in its annex D: `AND` binds closer than `OR`.
#[test]
fn an_expression_is_met_by_what_is_allowed() {
    let allowed = |name: &str| ["MIT", "Zlib", "Apache-2.0 WITH LLVM-exception"].contains(&name);
    for (expression, expected) in [
        ("MIT", Some(vec!["MIT"])),
        ("GPL-2.0-only OR MIT", Some(vec!["MIT"])),
        ("MIT/Apache-2.0", Some(vec!["MIT"])),
        ("Zlib OR MIT", Some(vec!["MIT"])),
        ("MIT AND Zlib", Some(vec!["MIT", "Zlib"])),
        ("MIT AND (GPL-3.0-only OR Zlib)", Some(vec!["MIT", "Zlib"])),
        ("Apache-2.0 WITH LLVM-exception", Some(vec!["Apache-2.0 WITH LLVM-exception"])),
        ("Apache-2.0", None),
        ("MIT AND GPL-3.0-only", None),
        ("GPL-3.0-only OR Zlib AND ISC", None),
    ] {
        let expected: Option<Vec<String>> = expected.map(|names| names.into_iter().map(str::to_owned).collect());
        assert_eq!(met(expression, &allowed), expected, "{expression}");
    }
}

#[test]
fn every_licence_is_allowed_and_every_allowed_one_is_needed() {
    let allowed = words(&rules(), "licenses", "allow");
    let needed = RefCell::new(BTreeSet::new());
    for package in packages("all", false) {
        let Package { name, version, licence, .. } = &package;
        assert!(
            met(licence, &|name| allowed.contains(name)).is_some(),
            "{name} {version} has {licence:?}: choose another, or weigh it"
        );
        met(licence, &|name| {
            needed.borrow_mut().insert(name.to_owned());
            true
        });
    }
    let needed = needed.into_inner();
    assert_eq!(allowed.difference(&needed).collect::<Vec<_>>(), Vec::<&String>::new(), "no dependency has these any more");
}

#[test]
fn nothing_is_there_twice_but_what_is_known_and_all_comes_from_one_registry() {
    let rules = rules();
    let registry = words(&rules, "sources", "allow-registry");
    let mut versions: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for package in packages("all", false) {
        let from = package.source.as_deref().map(|source| source.trim_start_matches("registry+"));
        assert!(from.is_none_or(|from| registry.contains(from)), "{} comes from {from:?}", package.name);
        versions.entry(package.name).or_default().push(package.version);
    }
    let older = versions.iter().flat_map(|(name, versions)| {
        let newest = versions.iter().max_by_key(|version| number(version)).unwrap();
        versions.iter().filter(move |version| *version != newest).map(move |version| format!("{name}@{version}"))
    });
    let (older, known): (BTreeSet<String>, _) = (older.collect(), words(&rules, "bans", "skip"));
    let new: Vec<_> = older.difference(&known).collect();
    assert!(new.is_empty(), "there twice: {new:#?}; use the newer alone, or weigh it and add the older to deny.toml");
    let gone: Vec<_> = known.difference(&older).collect();
    assert!(gone.is_empty(), "no longer there twice: {gone:#?}; take them out of deny.toml");
}

fn number(version: &str) -> Vec<u64> {
    version.split(['+', '-']).next().unwrap().split('.').map(|part| part.parse().unwrap()).collect()
}
