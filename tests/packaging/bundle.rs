//! Bundles on the command line.

use super::place;
use std::fs;
use std::path::Path;
use std::process::Command;

/// What it says on either output, and its exit status.
fn said(folder: &Path, arguments: &[&str]) -> (String, i32) {
    let output = Command::new(env!("CARGO_BIN_EXE_pleatwright"))
        .args(arguments)
        .current_dir(folder)
        .env("XDG_DATA_HOME", folder.join("data"))
        .output()
        .unwrap();
    (String::from_utf8([output.stdout, output.stderr].concat()).unwrap(), output.status.code().unwrap())
}

#[test]
fn a_bundle_is_written_checked_and_read_like_a_layout() {
    let folder = tempfile::tempdir().unwrap();
    let tee = place("layouts/harbour-row-tee-m.ron").display().to_string();
    let bundle = |name: &str, more: &[&str]| said(folder.path(), &[&["bundle", &tee, "-o", name], more].concat());
    let (words, status) = bundle("tee.pleatbundle", &["--without-picture"]);
    assert_eq!(status, 0, "{words}");
    assert!(words.starts_with("tee.pleatbundle: \"Harbour Row tee, M\" with 1 spacing preset, swatches of "), "{words}");
    let (words, status) = said(folder.path(), &["check", "tee.pleatbundle"]);
    assert_eq!(
        (words.trim_end(), status),
        ("tee.pleatbundle: bundle of \"Harbour Row tee, M\": no problems, 1 preset, swatches", 0)
    );
    for job in [&["figures", "--json"][..], &["plan", "--start", "2055-05-03 08:00"]] {
        let of = |file: &str| said(folder.path(), &[&[job[0], file], &job[1..]].concat());
        assert_eq!(of("tee.pleatbundle"), of(&tee), "{job:?}");
    }
    // The same bytes again, also where they go to standard output.
    let first = fs::read(folder.path().join("tee.pleatbundle")).unwrap();
    assert_eq!(bundle("again.pleatbundle", &["--without-picture"]).1, 0);
    assert_eq!(fs::read(folder.path().join("again.pleatbundle")).unwrap(), first);
}

#[test]
fn a_bundle_is_written_over_no_layout_and_a_layout_over_no_bundle() {
    let folder = tempfile::tempdir().unwrap();
    let tee = place("layouts/harbour-row-tee-m.ron").display().to_string();
    fs::copy(&tee, folder.path().join("tee.pleatbundle")).unwrap();
    let (words, status) = said(folder.path(), &["bundle", &tee, "-o", "tee.pleatbundle"]);
    assert!(words.contains("it holds a layout, not a bundle; give another name") && status == 2, "{words}");
    let (words, status) = said(folder.path(), &["bundle", &tee, "-o", "tee.zip"]);
    assert!(words.contains("end it in .pleatbundle") && status == 2, "{words}");
    assert_eq!(said(folder.path(), &["bundle", &tee, "--without-picture", "-o", "mine.pleatbundle"]).1, 0);
    let (words, status) = said(folder.path(), &["spacing", "apply", "Even rings", &tee, "-o", "mine.pleatbundle"]);
    assert!(words.contains("it holds a bundle, not a layout") && status != 0, "{words}");
    fs::write(folder.path().join("bad.pleatbundle"), b"PK\x03\x04 and no more").unwrap();
    let (words, status) = said(folder.path(), &["check", "bad.pleatbundle"]);
    assert!(words.contains("bad.pleatbundle: it is not a bundle, or a damaged one; ") && status == 2, "{words}");
}

/// They were refused as layouts with a bracket missing.
#[test]
fn a_bundle_whose_bytes_are_lost_is_refused_as_one() {
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in [("empty.pleatbundle", &b""[..]), ("words.pleatbundle", b"See you on Sunday")] {
        fs::write(folder.path().join(name), bytes).unwrap();
        for job in ["check", "figures"] {
            let (words, status) = said(folder.path(), &[job, name]);
            assert!(words.contains(&format!("{name}: it is not a bundle, or a damaged one")) && status == 2, "{words}");
        }
    }
}

/// It said "no problems" whatever its layout warns of.
#[test]
fn a_bundles_layout_is_checked_like_one_by_itself() {
    let folder = tempfile::tempdir().unwrap();
    let tee = fs::read_to_string(place("layouts/harbour-row-tee-m.ron")).unwrap();
    let thick = tee.replacen("    garment: (", "    limits: (thickest_rod_mm: 10.0),\n    garment: (", 1);
    fs::write(folder.path().join("thick.ron"), thick).unwrap();
    let (words, status) = said(folder.path(), &["bundle", "thick.ron", "-o", "thick.pleatbundle", "--without-picture"]);
    assert_eq!(status, 0, "{words}");
    let warned = |name: &str| {
        let (words, _) = said(folder.path(), &["check", name]);
        words.lines().filter(|line| line.starts_with("    ")).map(str::to_owned).collect::<Vec<_>>()
    };
    assert!(!warned("thick.ron").is_empty());
    assert_eq!(warned("thick.pleatbundle"), warned("thick.ron"));
}
