//! The house: which file knows which, held to the table in DEVELOPERS.md.
//!
//! A file knows another when a path in its code, in a `use` line or anywhere else, leads to something that the other defines, however
//! many re-exports lie between. A file that heads a folder may be known by all that the folder holds.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod arrows;
mod prose;
mod rooms;
mod seeds;
mod tree;

use arrows::Arrows;
use rooms::Rooms;
use std::path::Path;
use std::sync::LazyLock;
use tree::Tree;

const DEVELOPERS: &str = include_str!("../../DEVELOPERS.md");

/// The arrows among the sources, read once.
static HOUSE: LazyLock<Arrows> = LazyLock::new(|| {
    let read = |file: &str| std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(file)).ok();
    Arrows::of(&Tree::read("pleatwright", &["src/lib.rs", "src/main.rs"], &read))
});

/// Arrows among files that are made up; the first is the root.
fn planted(files: &[(&str, &str)]) -> Arrows {
    let read = |file: &str| files.iter().find(|(name, _)| *name == file).map(|(_, text)| (*text).to_owned());
    Arrows::of(&Tree::read("planted", &[files[0].0], &read))
}

fn told(arrows: &Arrows) -> Vec<String> {
    arrows.names.keys().map(|arrow| arrows.tell(arrow)).collect()
}

#[test]
fn who_knows_whom_is_as_the_table_says() {
    let rooms = Rooms::read(DEVELOPERS);
    let faults = rooms.faults();
    assert!(faults.is_empty(), "the table of the house in DEVELOPERS.md runs down only:\n{}", faults.join("\n"));
    let breaches = rooms.breaches(&HOUSE);
    assert!(breaches.is_empty(), "the table of the house in DEVELOPERS.md has no such arrow:\n{}", breaches.join("\n"));
    let unused = rooms.unused(&HOUSE);
    assert!(unused.is_empty(), "the table of the house in DEVELOPERS.md allows what no file does:\n{}", unused.join("\n"));
}

#[test]
fn no_files_know_each_other_in_a_circle() {
    assert!(HOUSE.names.len() > 1000, "{} arrows are fewer than the house can have", HOUSE.names.len());
    let circles = HOUSE.circles();
    assert!(circles.is_empty(), "{}", circles.join("\n\n"));
}

#[test]
fn an_arrow_leads_to_the_file_that_defines() {
    let arrows = planted(&[
        ("src/lib.rs", "mod low; mod high;"),
        ("src/low/mod.rs", "mod leaf; mod twig; pub use leaf::*; pub use twig::{self as branch, Twig as Branch};"),
        ("src/low/leaf.rs", "pub struct Leaf; impl Leaf { pub const GREEN: u8 = 1; } pub enum Shape { Round }"),
        ("src/low/twig.rs", "pub struct Twig; pub fn grow() {}"),
        (
            "src/high.rs",
            "use crate::{\n low::{\n Branch,\n Shape::Round as R },\n};\n fn f() -> u8 { println!(\"{}\", super::low::Leaf::GREEN) }",
        ),
    ]);
    let wanted = [
        "src/high.rs -> src/low/leaf.rs: GREEN, Round",
        "src/high.rs -> src/low/twig.rs: Branch",
        "src/low/mod.rs -> src/low/twig.rs: Twig",
    ];
    assert_eq!(told(&arrows), wanted);
}

/// A module and what it holds often share a name.
#[test]
fn a_function_of_its_modules_name_is_found() {
    let arrows = planted(&[
        ("src/lib.rs", "mod low; mod high;"),
        ("src/low/mod.rs", "mod grow; pub use grow::grow;"),
        ("src/low/grow.rs", "pub fn grow() {}"),
        ("src/high.rs", "use crate::low::grow;"),
    ]);
    assert_eq!(told(&arrows), ["src/high.rs -> src/low/grow.rs: grow", "src/low/mod.rs -> src/low/grow.rs: grow"]);
}

#[test]
fn paths_within_code_count_and_those_within_tests_do_not() {
    let arrows = planted(&[
        ("src/lib.rs", "mod a; mod b; mod c;"),
        ("src/a.rs", "fn f() { vec![1 + crate::b::number()]; } #[cfg(test)] mod tests { use crate::c::Other; }"),
        ("src/b.rs", "pub fn number() -> u8 { 1 } #[cfg(all(test, unix))] mod tests { use crate::a::f; }"),
        (
            "src/c.rs",
            "pub struct Other; impl Other { #[cfg(test)] fn of(b: crate::b::B) {} } mod inner { use super::super::b::number; }",
        ),
    ]);
    assert_eq!(told(&arrows), ["src/a.rs -> src/b.rs: number", "src/c.rs -> src/b.rs: number"]);
}

#[test]
fn a_planted_circle_is_found_and_told() {
    let arrows = planted(&[
        ("src/lib.rs", "mod a; mod b; mod c;"),
        ("src/a.rs", "use super::b::B; pub struct A;"),
        ("src/b.rs", "pub struct B(crate::c::C);"),
        ("src/c.rs", "pub struct C; fn f(_: crate::a::A) {}"),
    ]);
    let [circle] = &arrows.circles()[..] else { panic!("one circle") };
    let lines = ["3 files", "src/a.rs -> src/b.rs: B", "src/b.rs -> src/c.rs: C", "src/c.rs -> src/a.rs: A"];
    assert!(lines.iter().all(|line| circle.contains(line)), "{circle}");
}

/// What heads a folder may be known by what the folder holds, and by nothing that it knows itself.
#[test]
fn a_folders_head_closes_no_circle_with_its_own_files() {
    let head = ("src/a/mod.rs", "mod own; use own::Own; pub struct Head(Own);");
    let own = ("src/a/own.rs", "pub struct Own; fn f(_: super::Head) {}");
    let other = ("src/b.rs", "fn f(_: crate::a::Head) {} pub struct B;");
    assert!(planted(&[("src/lib.rs", "mod a; mod b;"), head, own, other]).circles().is_empty());
    let own = ("src/a/own.rs", "pub struct Own(crate::b::B);");
    let circles = planted(&[("src/lib.rs", "mod a; mod b;"), head, own, other]).circles();
    assert_eq!(circles.len(), 1);
}

#[test]
fn the_table_is_held_to_and_holds() {
    let table = |may_know: &str| {
        format!(
            "| module | may know |\n|---|---|\n| `src/high/`, `src/x.rs` | {may_know} |\n| `src/low/` | |\n| `src/low/deep.rs` | |\n\nEnd."
        )
    };
    let arrows = planted(&[
        ("src/lib.rs", "mod high; mod low; mod stray;"),
        ("src/high/mod.rs", "use crate::low::deep::Deep;"),
        ("src/low/mod.rs", "pub mod deep; pub struct Low;"),
        ("src/low/deep.rs", "pub struct Deep;"),
        ("src/stray.rs", "use crate::low::Low;"),
    ]);
    let stray = "src/stray.rs -> src/low/mod.rs: Low\n  one of them is in no room";
    let rooms = Rooms::read(&table("`low/deep`"));
    assert_eq!((rooms.faults().len(), rooms.breaches(&arrows), rooms.unused(&arrows).len()), (0, vec![stray.to_owned()], 0));
    let rooms = Rooms::read(&table("`low`"));
    let breach = "src/high/mod.rs -> src/low/deep.rs: Deep\n  src/high/ may not know src/low/deep.rs";
    assert_eq!(rooms.breaches(&arrows), [breach, stray]);
    assert_eq!(rooms.unused(&arrows), ["src/high/ -> low"]);
    let faults = Rooms::read(&table("`high`, `x`, `none`")).faults();
    assert_eq!(faults.len(), 3, "{faults:?}");
}

/// What is printed is known by its looks alone where sheets and files are made: the trade's words are in `parts`.
#[test]
fn print_names_nothing_of_the_trade_but_in_its_parts() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/print");
    let mut folders = vec![root.clone()];
    let mut read = 0;
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() && path != root.join("parts") {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                read += 1;
                let text = std::fs::read_to_string(&path).unwrap();
                for (number, line) in (1..).zip(text.lines()) {
                    // The head of the module says what it must not know.
                    let told = line.starts_with("//! Knows nothing of");
                    let found =
                        ["burst", "garment", "guide_arc", "guide arc", "Centring"].iter().find(|word| line.contains(*word));
                    assert!(told || found.is_none(), "{}:{number}: {line}", path.display());
                }
            }
        }
    }
    assert!(read > 20, "{read} files read");
}
