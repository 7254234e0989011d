//! The program as a user runs it: what it writes, what it says, and its exit status.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts").join(name)
}

fn run_in(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pleatwright")).args(arguments).current_dir(folder).output().unwrap()
}

struct Said {
    out: String,
    err: String,
    status: i32,
}

/// Runs in a folder of its own.
fn said(folder: &TempDir, arguments: &[&str]) -> Said {
    let output = run_in(folder.path(), arguments);
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Said { out: text(output.stdout), err: text(output.stderr), status: output.status.code().unwrap() }
}

fn tee() -> String {
    example("harbour-row-tee-m.ron").to_str().unwrap().to_owned()
}

fn files(folder: &TempDir) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn with_nothing_asked_for_the_example_is_printed_and_said_so() {
    let folder = tempfile::tempdir().unwrap();
    let said = said(&folder, &[]);
    assert_eq!((said.status, said.err.as_str()), (0, ""));
    assert!(said.out.contains("the example is printed") && said.out.contains("harbour-row-tee-m.pdf"), "{}", said.out);
    assert_eq!(files(&folder), ["harbour-row-tee-m.pdf"]);
}

#[test]
fn prints_in_every_form() {
    let folder = tempfile::tempdir().unwrap();
    let pdf = said(&folder, &["print", &tee(), "-o", "a.pdf", "--paper", "letter", "--units", "in", "--pounce"]);
    assert_eq!((pdf.status, pdf.err.as_str()), (0, ""));
    assert!(fs::read(folder.path().join("a.pdf")).unwrap().starts_with(b"%PDF"));
    let svg = said(&folder, &["print", &tee(), "-o", "b.svg", "--part", "template"]);
    assert_eq!(svg.status, 0, "{}", svg.err);
    let dxf = said(&folder, &["print", &tee(), "-o", "c.dxf"]);
    assert_eq!(dxf.status, 0, "{}", dxf.err);
    assert_eq!(files(&folder), ["a.pdf", "b.svg", "c-job-card.dxf", "c-rod-strip.dxf", "c-swing-strip.dxf", "c-template.dxf"]);
}

#[test]
fn an_earlier_file_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("a.pdf"), "mine").unwrap();
    assert_eq!(said(&folder, &["print", &tee(), "-o", "a.pdf"]).status, 0);
    assert_eq!(fs::read(folder.path().join("a.pdf.bak")).unwrap(), b"mine");
}

/// Keys that scripts rely on, with their units.
#[test]
fn figures_are_json_with_stable_keys() {
    let folder = tempfile::tempdir().unwrap();
    let json: serde_json::Value = serde_json::from_str(&said(&folder, &["figures", &tee(), "--json"]).out).unwrap();
    for pointer in [
        "/garment/cloth/mass_g",
        "/garment/measures/0/now_mm",
        "/burst/guide_radius_mm",
        "/burst/creases_deg/19",
        "/burst/inward/factor",
        "/binds/0/radius_mm",
        "/binds/0/rod/bound_girth_mm",
        "/binds/0/ring_mm/front",
        "/binds/0/thread_mm",
        "/sections/17/area_mm2/back",
        "/sections/17/mass_g",
        "/colours/2/mass_g",
        "/strings/0/length_mm",
        "/thread_mm",
    ] {
        assert!(json.pointer(pointer).is_some_and(serde_json::Value::is_number), "{pointer}");
    }
    assert_eq!(json["tying_order"][0], 12);
    assert_eq!(json["warnings"], serde_json::json!([]));
}

#[test]
fn figures_are_readable_in_either_unit() {
    let folder = tempfile::tempdir().unwrap();
    assert!(said(&folder, &["figures", &tee()]).out.contains("230 mm"));
    let inches = said(&folder, &["figures", &tee(), "--units", "in", "--nearest", "8"]).out;
    // 230 mm is 9.055 in: nearest eighth 9.
    assert!(inches.contains("9 in") && !inches.contains("/16 in") && !inches.contains(" mm"), "{inches}");
}

#[test]
fn a_new_layout_is_right_and_printable() {
    let folder = tempfile::tempdir().unwrap();
    let new = said(&folder, &["new", "-o", "tank.ron", "--garment", "tank", "--size", "S", "--measure", "neck_width=7 1/2 in"]);
    assert_eq!((new.status, new.err.as_str()), (0, ""));
    let check = said(&folder, &["check", "tank.ron"]);
    assert_eq!(check.status, 0, "{}", check.err);
    assert!(fs::read_to_string(folder.path().join("tank.ron")).unwrap().contains("neck_width_mm: 190.5"));
    assert_eq!(said(&folder, &["tank.ron"]).status, 0);
    assert!(files(&folder).iter().any(|name| name.ends_with(".pdf")), "{:?}", files(&folder));
}

#[test]
fn a_preset_goes_from_one_layout_to_another() {
    let folder = tempfile::tempdir().unwrap();
    let long_sleeve = example("harbour-row-tee-2xl.ron");
    assert_eq!(said(&folder, &["spacing", "save", &tee(), "--name", "Regatta", "-o", "regatta.ron"]).status, 0);
    assert!(said(&folder, &["spacing", "list", "."]).out.contains("Regatta (./regatta.ron)"));
    assert!(said(&folder, &["check", "regatta.ron"]).out.contains("spacing preset \"Regatta\""));
    for preset in ["regatta.ron", "Tight heart"] {
        let apply = said(&folder, &["spacing", "apply", preset, long_sleeve.to_str().unwrap(), "-o", "2xl.ron"]);
        assert_eq!(apply.status, 0, "{}", apply.err);
        assert_eq!(said(&folder, &["check", "2xl.ron"]).status, 0);
    }
    let text = fs::read_to_string(folder.path().join("2xl.ron")).unwrap();
    // 38 mm at a guide arc of 230 mm, carried over to 279.4 mm.
    assert!(text.contains(&format!("first_gap_mm: {}", 38.0 * (279.4 / 230.0))), "{text}");
}

/// Bad input: one sentence on stderr that says what would be right, status 2, nothing written.
#[test]
fn bad_input_is_refused_in_one_sentence() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(tee()).unwrap();
    fs::write(folder.path().join("neck.ron"), text.replace("length_mm: 735.0", "neck_width_mm: 415.0")).unwrap();
    fs::write(folder.path().join("form.ron"), "(format: 9)").unwrap();
    fs::write(folder.path().join("binary.ron"), [0xff, 0xfe, 0x00]).unwrap();
    let before = files(&folder);
    let tee = tee();
    let cases: [(&[&str], &str); 16] = [
        (&["print", &tee, "-o", "x.doc"], "x.doc: the name must end in .pdf, .svg or .dxf"),
        (&["print", &tee, "-o", "x.pdf", "--paper", "A9"], "A9"),
        (&["print", &tee, "-o", "x.pdf", "--paper", "20x20"], "20"),
        (&["print", &tee, "-o", "x.pdf", "--printer-prints", "50"], "50"),
        (&["print", &tee, "-o", "x.pdf", "--overlap", "5 miles"], "5 miles"),
        (&["print", &tee, "-o", "x.pdf", "--overlap", "300"], "the overlap"),
        (&["print", &tee, "-o", "x.pdf", "--pounce", "0"], "--pounce 0 mm: give a distance from 1 to 50 mm"),
        (&["print", "none.ron", "-o", "x.pdf"], "none.ron could not be read"),
        (&["print", ".", "-o", "x.pdf"], ". could not be read"),
        (&["figures", "neck.ron"], "neck.ron:9:42: garment.measures.neck_width_mm: neck_width_mm is 415"),
        (&["figures", "form.ron"], "form.ron:1:2: format: this file has form 9"),
        (&["figures", "binary.ron"], "binary.ron could not be read"),
        (&["new", "-o", "x.ron", "--garment", "cape"], "there is no such kind; there are CrewTee"),
        (&["new", "-o", "x.ron", "--size", "Q"], "there is no size named \"Q\""),
        (&["new", "-o", "x.ron", "--measure", "neck_width=wide"], "neck_width=wide"),
        (&["spacing", "apply", "none.ron", &tee, "-o", "x.ron"], "none.ron could not be read"),
    ];
    for (arguments, expected) in cases {
        let said = said(&folder, arguments);
        assert_eq!(said.status, 2, "{arguments:?}: {}", said.err);
        assert!(said.err.contains(expected), "{arguments:?}\n  said {}\n  not  {expected}", said.err);
        assert!(!said.err.contains("panicked"), "{}", said.err);
        assert_eq!(files(&folder), before, "{arguments:?} wrote something");
    }
}

#[test]
fn a_write_that_fails_has_status_1_and_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let said = said(&folder, &["print", &tee(), "-o", "none/x.pdf"]);
    assert_eq!(said.status, 1, "{}", said.err);
    assert!(said.err.contains("none/x.pdf could not be written"), "{}", said.err);
    assert_eq!(files(&folder), [""; 0]);
}

#[test]
fn check_names_every_wrong_file_and_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("wrong.ron"), "(").unwrap();
    let said = said(&folder, &["check", "wrong.ron", &tee()]);
    assert_eq!(said.status, 2);
    assert!(
        said.out.contains("wrong.ron:1:") && said.out.contains("layout \"Harbour Row tee, M\", right; 17 binds"),
        "{}",
        said.out
    );
    assert!(said.err.contains("1 of 2 files can't be used"), "{}", said.err);
}
