//! The command: numbers with names that stay, the straightened picture, refusals with their file.

use crate::drawn::scene::jpeg;
use crate::shirt::{LAYOUT, TAKEN};
use pleatwright::store::{layout_text, marks_text};
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn photo(folder: &Path, more: &[&str]) -> Output {
    let arguments = ["photo", "front.jpg", "--layout", "shirt.ron", "--marks", "marks.ron"];
    Command::new(env!("CARGO_BIN_EXE_pleatwright")).args(arguments).args(more).current_dir(folder).output().unwrap()
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("front.jpg"), jpeg(&TAKEN[0].picture, None, None)).unwrap();
    fs::write(folder.path().join("shirt.ron"), layout_text(LAYOUT.raw())).unwrap();
    fs::write(folder.path().join("marks.ron"), marks_text(&TAKEN[0].marks)).unwrap();
    folder
}

#[test]
fn json_has_every_number_with_its_error_bar() {
    let folder = folder();
    let output = photo(folder.path(), &["--json", "-o", "straight.png"]);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let number = |pointer: &str| {
        json.pointer(pointer).and_then(serde_json::Value::as_f64).unwrap_or_else(|| panic!("{pointer} in {json}"))
    };
    assert_eq!((number("/rings/4/bind"), number("/rings/4/planned_mm")), (5.0, 62.0));
    for name in ["radius_mm", "shift_mm", "sd_mm"] {
        number(&format!("/rings/4/{name}"));
    }
    for name in ["/centre/dx_mm", "/centre/dy_mm", "/centre/sd_mm", "/evenness", "/evenness_sd", "/scale", "/scale_sd"] {
        number(name);
    }
    assert!(number("/sections/0/delta_e") > 0.0 && number("/sections/0/delta_e_sd") > 0.0);
    assert!(json.pointer("/sections/0/srgb").unwrap().as_str().unwrap().starts_with('#'));
    let straight = image::open(folder.path().join("straight.png")).unwrap().into_rgba8();
    assert!(straight.pixels().filter(|pixel| pixel[3] == 255).count() > 300_000, "the cloth is drawn");
}

/// Without marks the points are found, and kept where that is asked for; by them the rings of the drawn scene lie where its lay of 3 mm allows.
/// A picture of table alone is refused.
#[test]
fn without_marks_the_points_are_found() {
    let folder = folder();
    let run = |more: &[&str]| {
        let arguments = ["photo", "front.jpg", "--layout", "shirt.ron"];
        Command::new(env!("CARGO_BIN_EXE_pleatwright")).args(arguments).args(more).current_dir(folder.path()).output().unwrap()
    };
    let said = String::from_utf8(run(&["--keep-marks"]).stdout).unwrap();
    assert!(said.starts_with("no marks are given: ") && said.contains("A4; kept in front.jpg.marks.ron\n"), "{said}");
    let json: serde_json::Value = serde_json::from_slice(&run(&["--json"]).stdout).unwrap();
    let rings = json["rings"].as_array().unwrap();
    assert!(rings.len() > 8, "{json}");
    for ring in rings {
        let [planned_mm, radius_mm] = ["planned_mm", "radius_mm"].map(|name| ring[name].as_f64().unwrap());
        assert!((planned_mm - radius_mm).abs() < 4.0, "{ring}");
    }
    fs::remove_file(folder.path().join("front.jpg.marks.ron")).unwrap();
    image::RgbImage::from_pixel(800, 800, image::Rgb([120, 90, 60])).save(folder.path().join("front.jpg")).unwrap();
    let bare = run(&[]);
    assert_eq!(bare.status.code(), Some(2));
    let said = String::from_utf8(bare.stderr).unwrap();
    assert!(said.starts_with("pleatwright: front.jpg: 0 of the garment's ") && said.contains("--marks"), "{said}");
}

#[test]
fn a_refusal_names_the_file_that_it_is_about() {
    let folder = folder();
    let marks = marks_text(&TAKEN[0].marks).replace("hem left", "cuff");
    fs::write(folder.path().join("marks.ron"), marks).unwrap();
    let output = photo(folder.path(), &[]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said.starts_with("pleatwright: marks.ron: points.3.name: \"cuff\" is not a point of this garment; its points are"),
        "{said}"
    );
    fs::write(folder.path().join("front.jpg"), b"\0\0\0\x18ftypheic").unwrap();
    let said = String::from_utf8(photo(folder.path(), &[]).stderr).unwrap();
    assert!(said.starts_with("pleatwright: front.jpg: HEIC pictures can't be measured; export it as JPEG"), "{said}");
}
