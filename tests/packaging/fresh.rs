//! The program on a bare account: no home, no fonts, no display, a place that can only be read. Each is answered in a sentence, none by a
//! panic, and what needs none of them works.
//!
//! The places that nobody can write to, root neither, are below `/proc`.

use super::place;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const NOWHERE: &str = "/proc/nowhere";

struct Said {
    out: String,
    err: String,
    status: i32,
}

/// The program without anything that an account usually has.
fn bare(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_pleatwright"));
    command.current_dir(folder).env_clear().env("SOURCE_DATE_EPOCH", "1800000000").env("HOME", NOWHERE);
    command
}

fn said(command: &mut Command) -> Said {
    let Output { status, stdout, stderr } = command.output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Said { out: text(stdout), err: text(stderr), status: status.code().unwrap() }
}

/// One sentence, of the program's own, with what would be right; not a panic's.
fn is_a_sentence(said: &Said, words: &[&str]) {
    assert_eq!(said.out, "");
    assert_eq!(said.err.trim_end().lines().count(), 1, "{}", said.err);
    assert!(said.err.starts_with("pleatwright: ") && said.err.contains("; "), "{}", said.err);
    assert!(!said.err.contains("panicked") && !said.err.contains("os error"), "{}", said.err);
    for word in words {
        assert!(said.err.contains(word), "{} lacks {word}", said.err);
    }
    assert!([1, 2].contains(&said.status), "{}", said.status);
}

fn tee() -> String {
    place("layouts/harbour-row-tee-m.ron").display().to_string()
}

/// No HOME, no PATH, no language, no fonts: every job that writes where it is told does.
#[test]
fn jobs_need_no_home_and_no_fonts() {
    let folder = tempfile::tempdir().unwrap();
    let tee = tee();
    let jobs: [&[&str]; 8] = [
        &["--version"],
        &["new", "-o", "shirt.ron"],
        &["check", &tee],
        &["figures", &tee],
        &["print", &tee, "-o", "tee.pdf"],
        &["plan", &tee, "--start", "2027-05-03 08:00", "-o", "day.pdf"],
        &["bundle", &tee, "-o", "tee.pleatbundle", "--without-picture"],
        &["handbook", "-o", "handbook.pdf"],
    ];
    for home in [Some(NOWHERE), None] {
        for job in jobs {
            let mut command = bare(folder.path());
            command.args(job).env("FONTCONFIG_FILE", "/dev/null");
            match home {
                Some(_) => command.env("XDG_DATA_HOME", format!("{NOWHERE}/data")),
                None => command.env_remove("HOME"),
            };
            let said = said(&mut command);
            assert_eq!((said.status, said.err.as_str()), (0, ""), "{job:?}");
            assert!(!said.out.is_empty(), "{job:?}");
        }
    }
    for made in ["shirt.ron", "tee.pdf", "day.pdf", "tee.pleatbundle", "handbook.pdf"] {
        assert!(fs::metadata(folder.path().join(made)).unwrap().len() > 100, "{made}");
    }
}

/// What is kept at home has no place to be kept in: said with the folder and how to name another.
#[test]
fn without_a_home_what_is_kept_there_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let tee = tee();
    let jobs: [&[&str]; 2] =
        [&["journal", "add", &tee, "--made", "2027-01-01"], &["shelf", "set", "dye, teal", "--on-hand", "120g"]];
    for job in jobs {
        is_a_sentence(&said(bare(folder.path()).args(job)), &[NOWHERE]);
    }
    // Where nothing is kept yet, there is nothing to list, which is no fault.
    let listed = said(bare(folder.path()).args(["journal", "list"]));
    assert!(!listed.err.contains("panicked"), "{}", listed.err);
    let elsewhere = said(bare(folder.path()).args(["journal", "add", &tee, "--made", "2027-01-01", "--journal", "mine"]));
    assert_eq!((elsewhere.status, elsewhere.err.as_str()), (0, ""));
}

/// No display, and one that is named but not there.
#[test]
fn without_a_display_a_sentence_says_how_to_print() {
    let folder = tempfile::tempdir().unwrap();
    let displays: [&[(&str, &str)]; 3] =
        [&[], &[("DISPLAY", ":4711")], &[("WAYLAND_DISPLAY", "wayland-none"), ("XDG_RUNTIME_DIR", NOWHERE)]];
    for display in displays {
        let mut command = bare(folder.path());
        command.envs(display.iter().copied()).arg(tee());
        is_a_sentence(&said(&mut command), &["no display was found", "prints it without one"]);
    }
}

/// A place that can only be read: nothing is written, and another place is asked for.
#[test]
fn a_place_that_can_only_be_read_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let tee = tee();
    let out = |name: &str| format!("{NOWHERE}/{name}");
    let (ron, pdf, png, bundle, book) = (out("a.ron"), out("a.pdf"), out("a.png"), out("a.pleatbundle"), out("b.pdf"));
    let jobs: [&[&str]; 5] = [
        &["new", "-o", &ron],
        &["print", &tee, "-o", &pdf],
        &["reveal", &tee, "--pixel", "20mm", "-o", &png],
        &["bundle", &tee, "--without-picture", "-o", &bundle],
        &["handbook", "-o", &book],
    ];
    for job in jobs {
        is_a_sentence(&said(bare(folder.path()).args(job)), &["could not be written"]);
    }
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
}
