//! The program as a user runs it: what it writes, what it says, and its exit status.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use kurbo::Shape as _;
use pleatwright::geometry::{DipPart, DrawnLine, LineKind, LineShape};
use pleatwright::layout::{DyeBy, FoldKind};
use pleatwright::store::parse_layout;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts").join(name)
}

fn run_in(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_pleatwright"))
        .args(arguments)
        .current_dir(folder)
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        // 2027-01-15: before every day that is planned here.
        .env("SOURCE_DATE_EPOCH", "1800000000")
        // Nobody's own shelf.
        .env("XDG_DATA_HOME", env!("CARGO_TARGET_TMPDIR"))
        .output()
        .unwrap()
}

pub(crate) struct Said {
    pub(crate) out: String,
    pub(crate) err: String,
    pub(crate) status: i32,
}

/// Runs in a folder of its own.
pub(crate) fn said(folder: &TempDir, arguments: &[&str]) -> Said {
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

/// Without a display the window can't open: one sentence says so and gives the commands that begin a layout and print it.
/// It once named a file that only a checkout has.
#[test]
fn without_a_display_the_way_to_print_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let said = said(&folder, &[]);
    assert_eq!((said.status, said.out.as_str()), (1, ""));
    let command = "print shirt.ron -o shirt.pdf\" prints it without one";
    assert!(said.err.contains("new -o shirt.ron\" begins a layout"), "{}", said.err);
    assert!(said.err.contains("no display was found") && said.err.contains(command), "{}", said.err);
    assert!(!said.err.contains(".cargo") && said.err.lines().count() == 1, "{}", said.err);
    assert_eq!(files(&folder), [""; 0]);
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
fn a_test_cloth_overwrites_nothing() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("test-cloth-b.ron"), "mine").unwrap();
    let said = said(&folder, &["testcloth", "-o", ".", "--start", "2027-06-12T09:00"]);
    assert_eq!(said.status, 2);
    assert!(said.err.ends_with("test-cloth-b.ron: it is there already; choose a folder without it\n"), "{}", said.err);
    assert_eq!(
        (files(&folder), fs::read(folder.path().join("test-cloth-b.ron")).unwrap()),
        (vec!["test-cloth-b.ron".to_owned()], b"mine".to_vec())
    );
}

/// What was learned is told again from its file.
#[test]
fn what_was_learned_is_shown() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("mine.ron"), include_str!("../forms/files/learned-1-mixtures.ron")).unwrap();
    let shown = said(&folder, &["learn", "--show", "mine.ron"]);
    assert!(shown.out.starts_with("mine.ron: learned from "), "{}", shown.out);
    for words in ["dye, along cloth, mm", "blue in slate grey reaches 32 % farther (your guess: 25 %)"] {
        assert!(shown.out.contains(words), "{words} in {}", shown.out);
    }
    let neither = said(&folder, &["learn"]);
    assert!(neither.status == 2 && neither.err.contains("--output"), "{}", neither.err);
}

#[test]
fn a_piece_is_a_layout_and_its_photographs() {
    let folder = TempDir::new().unwrap();
    let wrong = said(&folder, &["learn", "tee.ron", "-o", "mine.ron"]);
    assert!(wrong.status == 2 && wrong.err.contains("write LAYOUT=PHOTOGRAPH, such as shirt.ron=front.jpg"), "{}", wrong.err);
    fs::copy(tee(), folder.path().join("tee.ron")).unwrap();
    let missing = said(&folder, &["learn", "tee.ron=front.jpg", "-o", "mine.ron"]);
    assert!(
        missing.status == 2 && missing.err.contains("front.jpg: could not be read: there is no such file"),
        "{}",
        missing.err
    );
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
    let cm = said(&folder, &["figures", &tee(), "--units", "cm"]).out;
    assert!(cm.contains("23 cm") && !cm.contains(" mm"), "{cm}");
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
    assert_eq!(said(&folder, &["print", "tank.ron", "-o", "tank.pdf"]).status, 0);
    assert!(files(&folder).iter().any(|name| name.ends_with(".pdf")), "{:?}", files(&folder));
}

#[test]
fn a_preset_goes_from_one_layout_to_another() {
    let folder = tempfile::tempdir().unwrap();
    let tee_2xl = example("harbour-row-tee-2xl.ron");
    assert_eq!(said(&folder, &["spacing", "save", &tee(), "--name", "Regatta", "-o", "regatta.ron"]).status, 0);
    assert!(said(&folder, &["spacing", "list", "."]).out.contains("Regatta (./regatta.ron)"));
    assert!(said(&folder, &["check", "regatta.ron"]).out.contains("spacing preset \"Regatta\""));
    for preset in ["regatta.ron", "Tight heart"] {
        let apply = said(&folder, &["spacing", "apply", preset, tee_2xl.to_str().unwrap(), "-o", "2xl.ron"]);
        assert_eq!(apply.status, 0, "{}", apply.err);
        // They used to go without a word.
        assert!(apply.out.contains("2 edits by hand left out (--keep-edits keeps them)"), "{}", apply.out);
        assert_eq!(said(&folder, &["check", "2xl.ron"]).status, 0);
    }
    let text = fs::read_to_string(folder.path().join("2xl.ron")).unwrap();
    // 38 mm at a guide arc of 230 mm, carried over to 279.4 mm.
    assert!(text.contains(&format!("first_gap_mm: {}", 38.0 * (279.4 / 230.0))), "{text}");
}

#[test]
fn edits_are_kept_where_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let tee_2xl = example("harbour-row-tee-2xl.ron");
    let apply = ["spacing", "apply", "Even rings", tee_2xl.to_str().unwrap(), "-o", "2xl.ron", "--keep-edits"];
    let said = said(&folder, &apply);
    assert_eq!((said.status, said.err.as_str()), (0, ""));
    assert!(said.out.contains("2 edits by hand kept"), "{}", said.out);
    assert!(fs::read_to_string(folder.path().join("2xl.ron")).unwrap().contains("Add("));
}

/// A length typed in inches is stored as the decimal it is, and brings the marks of an inch rule with it.
#[test]
fn inches_stay_inches_and_exact() {
    let folder = tempfile::tempdir().unwrap();
    let new = ["new", "-o", "a.ron", "--size", "L", "--measure", "neck_width=7 1/4 in", "--measure", "length=20.5in + 8in"];
    assert_eq!(said(&folder, &new).status, 0);
    let text = fs::read_to_string(folder.path().join("a.ron")).unwrap();
    assert!(text.contains("neck_width_mm: 184.15,") && text.contains("length_mm: 723.9,"), "{text}");
    assert!(text.contains("marks: InchSixteenth"), "{text}");
    assert!(!text.contains("99999") && !text.contains("00000"), "{text}");
    let figures = said(&folder, &["figures", "a.ron", "--units", "in"]).out;
    assert!(figures.contains("front in²") && figures.contains(" yd ") && !figures.contains("cm²"), "{figures}");
    // Unit and marks can be said for all, and a kind by a part of its name.
    let new = ["new", "-o", "b.ron", "--garment", "tote", "--units", "in", "--measure", "bag_width=15", "--marks", "1/8in"];
    assert_eq!(said(&folder, &new).status, 0);
    let text = fs::read_to_string(folder.path().join("b.ron")).unwrap();
    assert!(text.contains("bag_width_mm: 381.0") && text.contains("size: \"medium\"") && text.contains("InchEighth"), "{text}");
}

#[test]
fn a_printer_is_put_right_with_a_decimal_comma_and_pounce_leaves_the_layout_alone() {
    let folder = tempfile::tempdir().unwrap();
    let printed = said(&folder, &["print", "--pounce", &tee(), "-o", "a.pdf", "--printer-prints", "99,2", "--part", "rod-strip"]);
    assert_eq!((printed.status, printed.err.as_str()), (0, ""));
}

/// A part that a layout has nothing for said that the document had no pages.
#[test]
fn a_part_that_is_not_there_says_what_is_lacking() {
    let folder = tempfile::tempdir().unwrap();
    let refused = said(&folder, &["print", &tee(), "-o", "a.pdf", "--part", "block"]);
    assert_ne!(refused.status, 0);
    assert!(refused.err.contains("--part block: this layout has no blocks; put blocks on"), "{}", refused.err);
    assert!(!folder.path().join("a.pdf").exists());
    let card = said(&folder, &["print", &tee(), "-o", "a.pdf", "--part", "folding-card"]);
    assert!(card.err.contains("only a flat bundle or a spiral has one"), "{}", card.err);
}

/// A bundle begins dipped as its arguments say, in millimetres or inches; what they can't mean is refused with what they could.
#[test]
fn a_bundle_begins_with_its_dips() {
    let folder = tempfile::tempdir().unwrap();
    let new = ["new", "-o", "a.ron", "--garment", "flat-cloth", "--fold", "triangles"];
    let with = |dips: &[&str]| said(&folder, &[&new[..], dips].concat());
    let made = with(&["--dip", "corner 1:30mm", "--dip", "edge 2: 1/2 in : 5 : teal", "--dip", "top:1"]);
    assert_eq!((made.status, made.err.as_str()), (0, ""));
    let layout = parse_layout(&fs::read_to_string(folder.path().join("a.ron")).unwrap()).unwrap();
    let dips = layout.raw().dips.iter().map(|dip| (dip.part, dip.depth_mm, dip.minutes, dip.colour.as_str()));
    let wanted =
        [(DipPart::Corner(1), 30.0, 2.0, "teal"), (DipPart::Edge(2), 12.7, 5.0, "teal"), (DipPart::Top, 1.0, 2.0, "teal")];
    assert_eq!(dips.collect::<Vec<_>>(), wanted);
    assert_eq!(layout.process().dye, DyeBy::Dipped);
    for (dip, why) in [
        ("corner 1", "--dip corner 1: it says no depth; write the part and how deep, such as \"corner 1:30mm\""),
        ("tip:30", "--dip tip:30: \"tip\" is no part of a bundle; use edge or corner with a number, top, or underside"),
        ("corner 9:30", "corner 9"),
        ("corner 1:30:5:puce", "puce"),
        ("corner 1:30:soon", "\"soon\" is no number of minutes"),
        ("corner 1:deep", "deep"),
    ] {
        let refused = with(&["--dip", dip]);
        assert_eq!(refused.status, 2, "{dip}");
        assert!(refused.err.contains(why), "{dip}: {}", refused.err);
    }
    let burst = said(&folder, &["new", "-o", "b.ron", "--dip", "corner 1:30"]);
    assert!(burst.err.contains("--dip: a burst is no flat bundle"), "{}", burst.err);
}

/// A wrong measurement offered those of every kind of garment.
#[test]
fn a_wrong_measurement_offers_those_of_the_kind() {
    let folder = tempfile::tempdir().unwrap();
    let refused = said(&folder, &["new", "-o", "a.ron", "--garment", "tote-bag", "--measure", "neck=17cm"]);
    assert!(refused.err.contains("choose bag_width, bag_height, handle_drop"), "{}", refused.err);
    assert!(!refused.err.contains("neck_width"), "{}", refused.err);
}

/// A stitched line has no pleats to count: its figures say what the needle does, as the job card does.
#[test]
fn figures_of_a_stitched_line_tell_its_stitches() {
    let folder = tempfile::tempdir().unwrap();
    let made = said(&folder, &["new", "-o", "heart.ron", "--fold", "line", "--line", "heart", "--stitched"]);
    assert_eq!(made.status, 0, "{}", made.err);
    let told = said(&folder, &["figures", "heart.ron"]).out;
    assert!(told.contains("\nstitched  ") && told.contains(" dots, about ") && !told.contains("\npleats "), "{told}");
}

/// The first files of a print used to be there when a later one was refused.
#[test]
fn several_files_are_printed_all_or_none() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("c-rod-strip.svg")).unwrap();
    let printed = said(&folder, &["print", &tee(), "-o", "c.svg"]);
    assert_eq!(printed.status, 1);
    assert!(printed.err.contains("c-rod-strip.svg: could not be written: it is a folder; name a file"), "{}", printed.err);
    assert_eq!(files(&folder), ["c-rod-strip.svg"]);
}

/// Every fold of the one table can be begun with, and the help lists each on a line of its own with what it is.
#[test]
fn new_begins_with_any_fold_and_lists_them() {
    let folder = tempfile::tempdir().unwrap();
    let help = said(&folder, &["new", "--help"]).out;
    for fold in FoldKind::ALL {
        let line = format!("- {}: {}", fold.name(), fold.about());
        assert!(help.split_whitespace().collect::<Vec<_>>().join(" ").contains(&line), "{help}");
        assert!(help.lines().any(|told| told.trim_start().starts_with(&format!("- {}:", fold.name()))), "{help}");
        let file = format!("{}.ron", fold.name());
        let new = said(&folder, &["new", "-o", &file, "--fold", fold.name()]);
        assert_eq!(new.status, 0, "{}", new.err);
        let text = fs::read_to_string(folder.path().join(&file)).unwrap();
        assert_eq!(parse_layout(&text).unwrap().raw().fold.kind(), fold);
    }
    said(&folder, &["new", "-o", "usual.ron"]);
    let [usual, burst] = ["usual.ron", "burst.ron"].map(|file| fs::read_to_string(folder.path().join(file)).unwrap());
    assert_eq!(usual, burst);
}

/// Puts drawings into a folder: a heart, one beside a bar, one without a unit, a text.
fn put_drawings(folder: &TempDir) {
    let put = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    let svg = |size: &str, inside: &str| {
        format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 300 300"><g fill="none" stroke="red">{inside}</g></svg>"#
        )
    };
    let heart = r#"<path id="heart" d="M150 90C170 30 280 20 280 110C280 190 200 230 150 290C100 230 20 190 20 110C20 20 130 30 150 90Z"/>"#;
    put("heart.svg", &svg(r#"width="300mm""#, heart));
    put("two.svg", &svg(r#"width="300mm""#, &format!(r#"{heart}<path id="bar" d="M20 20L280 30"/>"#)));
    put("bare.svg", &svg("", heart));
    put("text.svg", &svg(r#"width="300mm""#, "<text>A</text>"));
    put("heart.pdf", "none");
}

/// A line comes from a drawing, or runs along the garment's own edge; what does not go together is refused, and nothing written.
#[test]
fn new_takes_a_line_from_a_drawing() {
    let folder = tempfile::tempdir().unwrap();
    put_drawings(&folder);
    let new = |arguments: &[&str]| said(&folder, &[&["new", "-o", "line.ron", "--fold", "line"], arguments].concat());
    let line = || {
        let text = fs::read_to_string(folder.path().join("line.ron")).unwrap();
        match parse_layout(&text).unwrap().raw().fold.line().unwrap().line.clone() {
            DrawnLine::Path { kind, path } => (kind, path),
            other => panic!("{other:?}"),
        }
    };
    let width_mm = || 2.0 * line().1.bounding_box().x1;
    for (arguments, kind, width) in [
        (&["--line-from", "heart.svg"] as &[&str], LineKind::Ring, 260.0),
        (&["--line-from", "heart.svg", "--line-width", "200mm"], LineKind::Ring, 200.0),
        (&["--line-from", "heart.svg", "--line-width", "8", "--units", "in"], LineKind::Ring, 203.2),
        (&["--line-from", "two.svg", "--line-which", "heart"], LineKind::Ring, 260.0),
        (&["--line-from", "two.svg", "--line-which", "1"], LineKind::Ring, 260.0),
        (&["--line-from", "bare.svg", "--line-unit", "mm"], LineKind::Ring, 260.0),
        (&["--line-along", "hem", "--line-inset", "100mm"], LineKind::Across, 508.0),
        (&["--line-along", "neck"], LineKind::Across, 293.45),
    ] {
        let begun = new(arguments);
        assert_eq!((begun.status, begun.err.as_str()), (0, ""), "{arguments:?}");
        assert_eq!(line().0, kind, "{arguments:?}");
        assert!((width_mm() - width).abs() < 0.5, "{arguments:?}: {} mm wide", width_mm());
        for command in [&["check", "line.ron"] as &[&str], &["print", "line.ron", "-o", "line.pdf"]] {
            assert_eq!(said(&folder, command).status, 0, "{command:?}");
        }
    }
    fs::remove_file(folder.path().join("line.ron")).unwrap();
    for (arguments, refused) in [
        (&["--line-from", "two.svg"] as &[&str], "--line-from two.svg: it has 2 lines: 1 \"heart\" (closed, 260 mm x "),
        (&["--line-from", "two.svg", "--line-which", "rim"], "\"rim\" is not among its lines; choose one of these: 1 \"heart\""),
        (&["--line-from", "bare.svg"], "measure; add --line-unit: mm, cm, m, in, ft, pt or px"),
        (&["--line-from", "text.svg"], "--line-from text.svg: it holds text, and not a single line; convert the text to paths"),
        (&["--line-from", "heart.pdf"], "\"pdf\" is not a drawing's ending; choose a .svg or .dxf file"),
        (&["--line-from", "none.svg"], "--line-from none.svg: there is no such file"),
        (&["--line-from", "heart.svg", "--line-width", "2mm"], "2 mm is out of range; give 5 to 5000 mm"),
        (&["--line-from", "heart.svg", "--line", "star"], "--line: the line comes from a drawing; leave it out"),
        (&["--line-from", "heart.svg", "--line-inset", "5"], "--line-inset: the line comes from a drawing; leave it out"),
        (&["--line-along", "neck", "--line-unit", "mm"], "--line-unit: the line runs along the garment's edge; leave it out"),
        (&["--line", "heart", "--line-width", "200"], "--line-width: it belongs to --line-from; leave it out"),
        (&["--line", "heart", "--line-inset", "200"], "--line-inset: it belongs to --line-along; leave it out"),
        (&["--line-along", "hem", "--line-inset", "9m"], "inset_mm: 9000 mm is out of range; give 5 to 5000 mm"),
    ] {
        let said = new(arguments);
        assert_eq!(said.status, 2, "{arguments:?}");
        assert!(said.err.contains(refused) && said.err.lines().count() == 1, "{arguments:?}: {}", said.err);
        assert!(!folder.path().join("line.ron").exists());
    }
    let burst = said(&folder, &["new", "-o", "burst.ron", "--line-from", "heart.svg"]);
    assert!(burst.err.contains("--line-from: a burst has no line; add --fold line, or leave it out"), "{}", burst.err);
}

/// A garment's outline comes from a drawing, and every job works on it; what does not go together is refused, and nothing written.
#[test]
#[expect(clippy::too_many_lines, reason = "a list of cases")]
fn new_takes_an_outline_from_a_drawing() {
    let folder = tempfile::tempdir().unwrap();
    let put = |name: &str, size: &str, lines: &str| {
        let text = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 600 800"><g fill="none" stroke="red">{lines}</g></svg>"#
        );
        fs::write(folder.path().join(name), text).unwrap();
    };
    let size = r#"width="600mm" height="800mm""#;
    let (bib, half) =
        (r#"<path id="bib" d="M150 50H450L560 300V750H40V300Z"/>"#, r#"<path id="half" d="M300 50H450L560 300V750H300Z"/>"#);
    put("bib.svg", size, bib);
    put("two.svg", size, &[bib, half].concat());
    put("bare.svg", "", bib);
    put("bar.svg", size, r#"<path d="M20 20L280 30"/>"#);
    let new = |arguments: &[&str]| said(&folder, &[&["new", "-o", "own.ron"], arguments].concat());
    for (arguments, told) in [
        (
            &["--garment", "own", "--outline", "bib.svg"] as &[&str],
            "outline taken as the whole garment: 520 mm wide, 700 mm high",
        ),
        (&["--outline", "bare.svg", "--outline-unit", "mm"], "outline taken as the whole garment: 520 mm wide, 700 mm high"),
        (
            &["--outline", "two.svg", "--outline-which", "half"],
            "outline taken as a half, its fold on the left: 520 mm wide, 700 mm high",
        ),
        (
            &["--outline", "two.svg", "--outline-which", "1", "--outline-back-which", "half"],
            "front taken as the whole garment, back taken as a half, its fold on the left: 520 mm wide, 700 mm high",
        ),
        (
            &["--outline", "two.svg", "--outline-which", "half", "--outline-back", "bib.svg", "--units", "in"],
            "front taken as a half, its fold on the left, back taken as the whole garment: 20 1/2 in wide, 27 9/16 in high",
        ),
        (
            &["--outline", "bib.svg", "--measure", "cloth_width_mm=650"],
            "outline taken as the whole garment: 650 mm wide, 700 mm high",
        ),
        (&["--outline", "bib.svg", "--layers", "one", "--fold", "line"], "outline taken as the whole garment: 520 mm wide"),
    ] {
        let begun = new(arguments);
        assert_eq!((begun.status, begun.err.as_str()), (0, ""), "{arguments:?}");
        assert!(begun.out.contains(told), "{arguments:?}: {}", begun.out);
    }
    assert!(fs::read_to_string(folder.path().join("own.ron")).unwrap().contains("layers: One"));
    for command in [
        &["check", "own.ron"] as &[&str],
        &["figures", "own.ron"],
        &["figures", "own.ron", "--json"],
        &["print", "own.ron", "-o", "own.pdf"],
        &["plan", "own.ron", "--start", "2027-05-03"],
        &["journal", "add", "own.ron", "--journal", "journal", "--made", "2027-05-03"],
        &["journal", "search", "--garment", "own", "--journal", "journal"],
    ] {
        let said = said(&folder, command);
        assert_eq!(said.status, 0, "{command:?}: {}", said.err);
        assert!(command[0] != "journal" || said.out.contains("own-outline"), "{}", said.out);
    }
    fs::write(folder.path().join("order.ron"), r#"(format: 2, name: "Two", lines: [(layout: "own.ron", size: "L", count: 2)])"#)
        .unwrap();
    let order = said(&folder, &["plan", "order.ron", "--start", "2027-05-03"]);
    assert!(order.err.contains("a garment of your own outline has no sizes, so no \"L\"; leave the size out"), "{}", order.err);
    fs::remove_file(folder.path().join("own.ron")).unwrap();
    for (arguments, refused) in [
        (&["--garment", "own"] as &[&str], "--garment own: it needs an outline; add --outline with a .svg or .dxf file"),
        (&["--garment", "tank", "--outline", "bib.svg"], "--outline: a tank is drafted from its measurements; leave it out"),
        (&["--layers", "one"], "--layers: a crew-neck tee is drafted from its measurements; leave it out"),
        (
            &["--outline", "bib.svg", "--size", "L"],
            "--size L: a garment of your own outline has no sizes, so no \"L\"; leave the size out",
        ),
        (
            &["--outline", "bib.svg", "--measure", "length=700"],
            "garment.measures.length_mm: not a measurement of a garment of your own",
        ),
        (&["--outline", "two.svg"], "--outline two.svg: it has 2 lines: 1 \"bib\" (closed, 520 mm x 700 mm)"),
        (&["--outline", "bare.svg"], "--outline bare.svg: it doesn't say what its 520 by 700 measure; add --outline-unit: mm"),
        (
            &["--outline", "bar.svg"],
            "--outline bar.svg: the outline is open, and its ends lie 260 mm apart from side to side; close it",
        ),
        (&["--outline", "bib.svg", "--outline-back", "none.svg"], "--outline-back none.svg: there is no such file"),
        (
            &["--outline", "bib.svg", "--layers", "one", "--outline-back", "two.svg"],
            "--outline-back: a single layer has no back of its own",
        ),
    ] {
        let said = new(arguments);
        assert_eq!(said.status, 2, "{arguments:?}");
        assert!(said.err.contains(refused) && said.err.lines().count() == 1, "{arguments:?}: {}", said.err);
        assert!(!folder.path().join("own.ron").exists());
    }
}

/// A line is begun with by its shape; what does not go together is refused, and nothing written.
#[test]
fn new_begins_with_any_shape_of_a_line() {
    let folder = tempfile::tempdir().unwrap();
    let new = |arguments: &[&str]| said(&folder, &[&["new", "-o", "line.ron", "--fold", "line"], arguments].concat());
    for shape in LineShape::ALL {
        assert_eq!(new(&["--line", shape.name()]).status, 0, "{}", shape.name());
        let text = fs::read_to_string(folder.path().join("line.ron")).unwrap();
        let drawn = parse_layout(&text).unwrap().raw().fold.line().unwrap().line.shape().unwrap();
        assert_eq!(drawn.name(), shape.name());
        for command in [&["check", "line.ron"] as &[&str], &["figures", "line.ron"], &["print", "line.ron", "-o", "line.pdf"]] {
            let said = said(&folder, command);
            assert_eq!(said.status, 0, "{}: {}", shape.name(), said.err);
            assert!(!said.out.contains("guide arc") && !said.out.contains("burst"), "{}", said.out);
        }
    }
    assert_eq!(new(&["--line", "star", "--points", "7"]).status, 0);
    assert!(fs::read_to_string(folder.path().join("line.ron")).unwrap().contains("Star(points: 7, depth: 0.5)"));
    assert_eq!(new(&["--letter", "v"]).status, 0);
    assert!(fs::read_to_string(folder.path().join("line.ron")).unwrap().contains("Letter(letter: \"V\")"));
    for (arguments, refusal) in [
        (&["--line", "star", "--points", "25"] as &[&str], "--points 25: out of range; give 3 to 24"),
        (&["--line", "heart", "--points", "3"], "--points 3: a heart has no number of points; leave it out"),
        (&["--line", "heart", "--letter", "a"], "--letter a: a heart has no letter; add --line letter, or leave it out"),
        (&["--letter", "7"], "--letter 7: no strokes for it; choose A to Z"),
    ] {
        let refused = new(arguments);
        assert_eq!(refused.status, 2);
        assert!(refused.err.contains(refusal), "{}", refused.err);
    }
    let burst = said(&folder, &["new", "-o", "burst.ron", "--line", "heart"]);
    assert!(burst.err.contains("--line: a burst has no line; add --fold line, or leave it out"), "{}", burst.err);
    assert!(!files(&folder).iter().any(|file| file.starts_with("burst")), "{:?}", files(&folder));
}

#[test]
fn figures_name_further_arcs_and_the_numbers_of_edits() {
    let folder = tempfile::tempdir().unwrap();
    let said = said(&folder, &["figures", &tee()]).out;
    assert!(said.contains("extra arc 1             100 mm from the centre"), "{said}");
    assert!(said.lines().any(|line| line.starts_with("  12     0     1") && line.ends_with("guide arc")), "{said}");
    assert!(said.lines().any(|line| line.starts_with("thread, total: ") && line.ends_with(" m")), "{said}");
}

/// Bad input: one sentence on stderr that says what would be right, status 2, nothing written.
#[test]
#[expect(clippy::too_many_lines, reason = "a list of cases")]
fn bad_input_is_refused_in_one_sentence() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(tee()).unwrap();
    fs::write(folder.path().join("neck.ron"), text.replace("length_mm: 735.0", "neck_width_mm: 415.0")).unwrap();
    fs::write(folder.path().join("form.ron"), "(format: 9)").unwrap();
    fs::write(folder.path().join("binary.ron"), [0xff, 0xfe, 0x00]).unwrap();
    fs::write(folder.path().join("nameless.ron"), "(name: \"x\")").unwrap();
    let before = files(&folder);
    let tee = tee();
    let cases: [(&[&str], &str); 30] = [
        (&["print", &tee, "-o", "x.doc"], "x.doc: unknown file extension; end its name in .pdf, .svg or .dxf"),
        (&["print", &tee, "-o", "x.pdf", "--paper", "A9"], "--paper A9: unknown paper \"A9\"; give A4, A3"),
        (
            &["print", &tee, "-o", "x.pdf", "--paper", "20x20"],
            "--paper 20x20: a side of 20 mm is out of range; give 50 to 5080 mm for each",
        ),
        (
            &["print", &tee, "-o", "x.pdf", "--printer-prints", "50"],
            "the printed length of the bar of 50 mm is out of range; give 90 to 110 mm",
        ),
        (&["print", &tee, "-o", "x.pdf", "--overlap", "5 miles"], "not a unit of length: \"miles\" at column 3; use mm, cm"),
        (&["print", &tee, "-o", "x.pdf", "--overlap", "300"], "the overlap of 300 mm is out of range; give 0 to 60 mm"),
        (&["print", &tee, "-o", "x.pdf", "--pounce=0"], "--pounce 0 mm: out of range; give 1 to 50 mm"),
        (&["print", "none.ron", "-o", "x.pdf"], "none.ron: could not be read: there is no such file; check its name and folder"),
        (&["print", ".", "-o", "x.pdf"], ".: could not be read: it is a folder; name a file"),
        (&["figures", "neck.ron"], "neck.ron:9:42: garment.measures.neck_width_mm: 415 mm with "),
        (&["figures", "form.ron"], "form.ron:1:2: format: unknown file format 9; this program reads up to 2"),
        (&["figures", "binary.ron"], "binary.ron: could not be read: it is not text"),
        (&["new", "-o", "x.ron", "--garment", "cape"], "--garment cape: not a kind of garment; choose crew-tee, v-neck-tee"),
        (&["new", "-o", "x.ron", "--fold", "accordion"], "--fold accordion"),
        (
            &["new", "-o", "x.ron", "--size", "Q"],
            "--size Q: \"Q\" is not a size of a crew-neck tee; choose 0-3 months, 3-6 months",
        ),
        (
            &["new", "-o", "x.ron", "--measure", "neck_width=wide"],
            "--measure neck_width=wide: not a number: \"wide\" at column 1",
        ),
        (
            &["spacing", "apply", "none.ron", &tee, "-o", "x.ron"],
            "none.ron: could not be read: there is no such file; check its name and folder",
        ),
        (&["spacing", "apply", "Nope", &tee, "-o", "x.ron"], "\"Nope\": neither a preset nor a file; choose Tight heart"),
        (
            &["spacing", "save", &tee, "--name", " ", "-o", "x.ron"],
            "--name or --note: name: not a usable name (1 character); give 1 to 80 characters",
        ),
        (
            &["print", &tee, "-o", "x.pdf", "--paper", "300"],
            "a sheet needs two sides; write both, such as 300x400, or a roll, such as roll:300",
        ),
        (&["print", &tee, "-o", "x.pdf", "--paper", "roll:abc"], "write for example roll:610 or roll:24in"),
        (&["print", &tee, "-o", "x.pdf", "--margin", "-5"], "can't be negative"),
        (
            &["print", &tee, "-o", "x.svg", "--paper", "A3"],
            "--paper: it applies to PDF only, and x.svg is one whole drawing; leave it out or print to .pdf",
        ),
        (&["print", &tee, "-o", "x.dxf", "--overlap", "10"], "--overlap: it applies to PDF only"),
        (
            &["print", "--pounce", "none.ron", "-o", "x.pdf"],
            "none.ron: could not be read: there is no such file; check its name and folder",
        ),
        (&["figures", &tee, "--json", "--units", "in"], "--json gives every length in mm"),
        (
            &["new", "-o", "x.ron", "--garment", "tee"],
            "--garment tee: this could be several; choose crew-tee, v-neck-tee, long-sleeve-tee",
        ),
        (&["new", "-o", "x.ron", "--measure", "length=700", "--measure", "length=710"], "length is given twice"),
        (&["new", "-o", "x.ron", "--name", ""], "name: not a usable name (0 characters)"),
        (&["check", "nameless.ron"], "nameless.ron:1:11: the field \"format\" is missing; give it"),
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
    assert!(said.err.contains("none/x.pdf: could not be written"), "{}", said.err);
    assert_eq!(files(&folder), [""; 0]);
}

#[test]
fn check_names_every_wrong_file_and_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("wrong.ron"), "(").unwrap();
    let said = said(&folder, &["check", "wrong.ron", &tee()]);
    assert_eq!(said.status, 2);
    assert!(
        said.out.contains("wrong.ron:1:") && said.out.contains("layout \"Harbour Row tee, M\": no problems, 17 binds"),
        "{}",
        said.out
    );
    assert!(said.err.contains("1 of 2 files can't be used"), "{}", said.err);
}

/// A small square of cloth, whose reveal is soon computed.
const SQUARE: &str = r##"(
    format: 2,
    name: "Square",
    garment: (kind: FlatCloth, measures: (cloth_width_mm: 160.0, cloth_height_mm: 160.0)),
    fold: Burst(
        half_fold: Open, centre: BelowShoulder(from_centre_line_mm: 0.0, below_shoulder_mm: 80.0),
        guide_radius_mm: 50.0, pleats: Count(count: 8),
    ),
    binds: (inward: List(gaps_mm: [22.0]), outward: List(gaps_mm: [20.0]), marks: Millimetres1),
    colours: (rotation: [(name: "teal", srgb: "#0f7c8a"), (name: "amber", srgb: "#d99a1e")]),
    process: (calibration: (learned: (pieces: 3, on: "2026-11-28"))),
)"##;

/// What a reveal is unsure of is hatched, its extremes drawn below, and told; what can't go with that is refused.
#[test]
fn reveal_says_how_sure_it_is() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("square.ron"), SQUARE).unwrap();
    let plain = ["reveal", "square.ron", "-o", "square.png", "--pixel", "2mm"];
    let alone = said(&folder, &plain);
    assert!(alone.out.contains("An estimate, with calibration learned from 3 pieces, 2026-11-28; the rest"), "{}", alone.out);
    let unsure = said(&folder, &[&plain[..], &["--unsure"]].concat());
    assert_eq!((unsure.status, unsure.err.as_str()), (0, ""));
    for told in [
        "84 x 268 pixels",
        "hatched where it is unsure",
        "may be off by ",
        " (CIEDE2000), and ",
        "Between the two extremes: Mean",
    ] {
        assert!(unsure.out.contains(told), "{told}: {}", unsure.out);
    }
    let both = said(&folder, &[&plain[..], &["--unsure", "--map", "dose"]].concat());
    assert!(both.status == 2 && both.err.contains("--map"), "{}", both.err);
}

/// A reveal is a picture, an estimate, what to try, and beside another layout how far the two lie apart.
#[test]
fn reveal_draws_and_tells() {
    let folder = tempfile::tempdir().unwrap();
    let coarse = ["reveal", &tee(), "-o", "tee.png", "--pixel", "6mm"];
    let alone = said(&folder, &coarse);
    assert_eq!((alone.status, alone.err.as_str()), (0, ""));
    assert!(alone.out.contains("estimate") && alone.out.contains("sand, as the layout says"), "{}", alone.out);
    assert!(alone.out.contains(" % of "), "{}", alone.out);
    let other = example("harbour-row-tee-s.ron").to_str().unwrap().to_owned();
    let both = said(&folder, &[&coarse[..], &["--beside", &other, "--map", "dose"]].concat());
    assert_eq!((both.status, both.err.as_str()), (0, ""));
    assert!(both.out.contains("Harbour Row tee, S:") && both.out.contains("hatched"), "{}", both.out);
    assert!(both.out.contains("differ in cut"), "{}", both.out);
    let same = said(&folder, &[&coarse[..], &["--beside", &tee(), "--discharged", "#ddccbb"]].concat());
    assert!(same.out.contains("Mean difference 0.0;") && same.out.contains("#ddccbb (as given)"), "{}", same.out);
    assert!(files(&folder).contains(&"tee.png".to_owned()));
    let slate = example("harbour-row-slate-tee-m.ron").to_str().unwrap().to_owned();
    let mixed = said(&folder, &["reveal", &slate, "-o", "slate.png", "--pixel", "8mm"]);
    let told = "slate is mixed of rust, 45 %, reaches 20 % less far; blue, 55 %, reaches 80 % farther, as the layout says; together they look";
    assert!(mixed.out.contains(told) && !mixed.out.contains("look unlike it"), "{}", mixed.out);
    let flat = said(&folder, &["reveal", &tee(), "-o", "flat.png", "--pixel", "3mm", "--flat"]);
    let textured = said(&folder, &["reveal", &tee(), "-o", "textured.png", "--pixel", "3mm"]);
    assert_eq!((flat.status, textured.status, flat.err.as_str()), (0, 0, ""));
    let bytes = |name: &str| fs::read(folder.path().join(name)).unwrap();
    assert!(bytes("flat.png") != bytes("textured.png"), "the cloth's texture can be left out");
}

/// What a dye is mixed of stands among the figures of its colour, and of an unmixed one nothing does.
#[test]
fn figures_tell_what_a_dye_is_mixed_of() {
    let folder = tempfile::tempdir().unwrap();
    let slate = example("harbour-row-slate-tee-m.ron").to_str().unwrap().to_owned();
    let figures: serde_json::Value = serde_json::from_str(&said(&folder, &["figures", &slate, "--json"]).out).unwrap();
    let components = figures["colours"][0]["components"].as_array().unwrap();
    let of = |component: &serde_json::Value| (component["percent"].as_f64(), component["farther_percent"].as_f64());
    assert_eq!(components.iter().map(of).collect::<Vec<_>>(), [(Some(45.0), Some(-20.0)), (Some(55.0), Some(80.0))]);
    assert!(figures["colours"][1].get("components").is_none(), "{figures}");
}

/// A pipe as layout, photograph or output used to hang, an endless device to take all memory.
#[cfg(unix)]
#[test]
fn pipes_and_devices_are_refused_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe.ron");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let tee = tee();
    let cases: [(&[&str], &str); 6] = [
        (&["check", "pipe.ron"], "pipe.ron: could not be read: it is a pipe, not a file"),
        (&["figures", "/dev/zero"], "/dev/zero: could not be read: it is a device, not a file"),
        (&["check", "/dev/zero"], "/dev/zero: could not be read: it is a device, not a file"),
        (&["new", "-o", "pipe.ron"], "pipe.ron: could not be written: it is a pipe, not a file"),
        (&["new", "-o", "/dev/null"], "/dev/null: could not be written: it is a device, not a file"),
        (&["spacing", "apply", "pipe.ron", &tee, "-o", "x.ron"], "pipe.ron: could not be read: it is a pipe, not a file"),
    ];
    for (arguments, expected) in cases {
        let said = said(&folder, arguments);
        assert!(said.status != 0 && said.err.contains(expected), "{arguments:?} said {}", said.err);
    }
    assert_eq!(files(&folder), ["pipe.ron"]);
}

/// `-` used to make a file of that name.
#[test]
fn a_file_named_by_a_hyphen_goes_to_standard_output() {
    let folder = tempfile::tempdir().unwrap();
    let new = said(&folder, &["new", "-o", "-", "--garment", "tank"]);
    assert_eq!(new.status, 0, "{}", new.err);
    assert!(new.out.starts_with("(\n") && new.out.ends_with(")\n") && new.err.starts_with("standard output: "), "{}", new.err);
    fs::write(folder.path().join("tank.ron"), &new.out).unwrap();
    assert_eq!(said(&folder, &["check", "tank.ron"]).status, 0);
    assert_eq!(said(&folder, &["spacing", "apply", "Tight heart", "tank.ron", "-o", "/dev/stdout"]).status, 0);
    let pdf = run_in(folder.path(), &["print", "tank.ron", "-o", "-", "--part", "job-card"]);
    assert!(pdf.status.success() && pdf.stdout.starts_with(b"%PDF") && pdf.stdout.trim_ascii_end().ends_with(b"%%EOF"));
    assert!(String::from_utf8(pdf.stderr).unwrap().starts_with("standard output.pdf: job card"));
    let png = run_in(folder.path(), &["reveal", "tank.ron", "-o", "-", "--pixel", "8mm"]);
    assert!(png.status.success() && png.stdout.starts_with(b"\x89PNG"));
    let plan = said(&folder, &["plan", "tank.ron", "--start", "2027-05-03 08:00", "-o", "-"]);
    assert_eq!(plan.out, said(&folder, &["plan", "tank.ron", "--start", "2027-05-03 08:00"]).out);
    assert_eq!(files(&folder), ["tank.ron"]);
}

/// It used to be overwritten.
#[cfg(unix)]
#[test]
fn a_write_protected_file_is_refused_with_the_cure() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tee.ron");
    let mine = fs::read(tee()).unwrap();
    fs::write(&path, &mine).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
    let said = said(&folder, &["new", "-o", "tee.ron"]);
    assert_eq!(said.status, 1);
    assert!(said.err.contains("it is write-protected; allow writing to it, or give another name"), "{}", said.err);
    assert_eq!((fs::read(&path).unwrap(), files(&folder)), (mine, vec!["tee.ron".to_owned()]));
}

/// What a file or a file's name holds used to reach the terminal as it was: a layout could clear the screen.
#[test]
fn nothing_that_is_said_steers_the_terminal() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(tee()).unwrap();
    let evil =
        text.replacen("note: \"", "note: \"\u{1b}[2J\u{9b}31m\u{202e}", 1).replacen("name: \"", "nome: \"\u{1b}]0;owned\u{7}", 1);
    assert_ne!(evil, text);
    fs::write(folder.path().join("evil\u{1b}[2J.ron"), &evil).unwrap();
    fs::write(folder.path().join("noted.ron"), text.replacen("note: \"", "note: \"\u{1b}[2J", 1)).unwrap();
    let added =
        said(&folder, &["journal", "--journal", "j", "add", "noted.ron", "--made", "2027-05-06", "--note", "\u{1b}[31mred"]);
    assert_eq!(added.status, 0, "{}", added.err);
    let id = added.out.split(':').next().unwrap().to_owned();
    let runs: [&[&str]; 6] = [
        &["check", "evil\u{1b}[2J.ron"],
        &["figures", "evil\u{1b}[2J.ron"],
        &["check", "none\u{1b}[2J.ron", "noted.ron"],
        &["--\u{1b}[2J"],
        &["journal", "--journal", "j", "show", &id, "--layout"],
        &["figures", "noted.ron", "--json"],
    ];
    for arguments in runs {
        let said = said(&folder, arguments);
        let all = said.out + &said.err;
        assert!(
            !all.is_empty() && !all.contains(|c: char| (c.is_control() && c != '\n') || c == '\u{202e}'),
            "{arguments:?} {all:?}"
        );
    }
    assert!(said(&folder, &["journal", "--journal", "j", "show", &id]).out.contains("note: \\u001b[31mred"));
}

/// Texts and lists without end used to be taken, and made sheets and pictures without end.
#[test]
fn what_is_too_long_is_refused_in_clear_words() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(tee()).unwrap();
    let arcs = format!("extra_arcs_mm: [{}]", "100.0, ".repeat(201));
    let colours: String = (0..101).map(|number| format!("(name: \"c{number}\", srgb: \"#101010\"), ")).collect();
    let process = fs::read_to_string(example("processes/discharge-and-dye.ron")).unwrap();
    let name = "x".repeat(81);
    let cases = [
        (text.replace("extra_arcs_mm: [100.0]", &arcs), "fold.extra_arcs_mm: 201 entries are too many; give at most 200"),
        (text.replacen("note: \"", &format!("note: \"{}", "x".repeat(50_000)), 1), "note: 50"),
        (
            text.replacen("rotation: [", &format!("rotation: [{colours}"), 1),
            "colours.rotation: 104 entries are too many; give at most 100",
        ),
        (process.replacen("name: \"weigh out", &format!("name: \"{name}"), 1), ".name: not a usable name (81 characters)"),
        (
            process.replacen("what: \"", &format!("what: \"{}", "x".repeat(1000)), 1),
            "characters are too many; keep at most 1000 here",
        ),
    ];
    for (index, (wrong, expected)) in cases.iter().enumerate() {
        assert!(*wrong != text && *wrong != process, "{index}");
        fs::write(folder.path().join("wrong.ron"), wrong).unwrap();
        let said = said(&folder, &["check", "wrong.ron"]);
        assert!(said.status == 2 && said.err.contains(expected), "{index} said {}", said.err);
    }
}

/// The script as bash itself reads it: it completes commands, theirs, options, and what an option may say.
#[cfg(unix)]
#[test]
fn bash_completes_what_is_begun() {
    let folder = tempfile::tempdir().unwrap();
    let script = said(&folder, &["completions", "bash"]);
    assert_eq!((script.status, script.err.as_str()), (0, ""));
    fs::write(folder.path().join("pleatwright.bash"), &script.out).unwrap();
    let completed = |line: &[&str]| {
        let ask = "source pleatwright.bash && COMP_WORDS=(\"$@\") COMP_CWORD=$(($# - 1)) && \
            _pleatwright \"$1\" \"${@: -1}\" \"${@: -2:1}\" && printf '%s\\n' \"${COMPREPLY[@]}\"";
        let bash = Command::new("bash").args(["-c", ask, "bash"]).args(line).current_dir(folder.path()).output().unwrap();
        assert_eq!(String::from_utf8_lossy(&bash.stderr), "", "{line:?}");
        String::from_utf8(bash.stdout).unwrap().lines().map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(completed(&["pleatwright", "fi"]), ["figures"]);
    assert_eq!(completed(&["pleatwright", "journal", "ex"]), ["export"]);
    assert_eq!(completed(&["pleatwright", "print", "--pa"]), ["--part", "--paper"]);
    assert_eq!(completed(&["pleatwright", "print", "--part", "s"]), ["swing-strip"]);
    assert_eq!(completed(&["pleatwright", "completions", "f"]), ["fish"]);
    let other = said(&folder, &["completions", "tcsh"]);
    assert!(other.status == 2 && other.err.contains("give one of bash, elvish, fish, powershell, zsh"), "{}", other.err);
}

/// Pages are written all or none, like everything else.
#[test]
fn manual_pages_are_written_into_a_folder_all_or_none() {
    let folder = tempfile::tempdir().unwrap();
    let man = said(&folder, &["man", "-o", "share/man1"]);
    assert_eq!((man.status, man.err.as_str()), (0, ""));
    let page = fs::read_to_string(folder.path().join("share/man1/pleatwright-journal-add.1")).unwrap();
    assert!(page.contains(".TH pleatwright-journal-add 1") && page.contains(r"\-\-made"), "{page}");
    fs::create_dir_all(folder.path().join("other/pleatwright-plan.1")).unwrap();
    let refused = said(&folder, &["man", "-o", "other"]);
    assert!(
        refused.status == 1 && refused.err.contains("pleatwright-plan.1: could not be written: it is a folder"),
        "{}",
        refused.err
    );
    assert_eq!(fs::read_dir(folder.path().join("other")).unwrap().count(), 1);
}

/// A deadline that can't be met is said first: in the text, and beside a file. There was once a plan that began years ago, without a word.
#[test]
fn a_missed_deadline_is_said_first() {
    let folder = tempfile::tempdir().unwrap();
    let text = said(&folder, &["plan", &tee(), "--deadline", "2026-12-24 17:00"]);
    let line = text.out.lines().nth(2).unwrap();
    assert!(line.starts_with("! The deadline has passed: Thursday 24 December 2026, 17:00."), "{}", text.out);
    let beside = said(&folder, &["plan", &tee(), "--start", "2026-12-24 08:00", "-o", "day.pdf"]);
    assert!(beside.out.starts_with("The plan starts in the past: Thursday 24 December 2026, 08:00."), "{}", beside.out);
    let in_time = said(&folder, &["plan", &tee(), "--deadline", "2027-02-24 17:00"]);
    assert!(!in_time.out.contains("deadline") && !in_time.out.contains("in the past"), "{}", in_time.out);
}

/// An order's own deadline serves where none is given; it once could stand nowhere but on the command line.
#[test]
fn an_order_has_a_deadline_of_its_own() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("tee.ron"), fs::read_to_string(tee()).unwrap()).unwrap();
    let order = |deadline: &str| {
        let text = format!("(format: 2, name: \"crew\", {deadline} lines: [(layout: \"tee.ron\", count: 1)])");
        fs::write(folder.path().join("crew.ron"), text).unwrap();
    };
    order("");
    let refused = said(&folder, &["plan", "crew.ron"]);
    assert!(refused.status == 2 && refused.err.contains("an order with a deadline"), "{}", refused.err);
    order("deadline: \"2027-02-24T17:00:00\",");
    let json = |arguments: &[&str]| {
        let plan = said(&folder, &[&["plan", "crew.ron", "--json"], arguments].concat());
        serde_json::from_str::<serde_json::Value>(&plan.out).unwrap_or_else(|error| panic!("{error}: {}", plan.err))
    };
    let own = json(&[]);
    assert_eq!(own["deadline"], "2027-02-24T17:00:00");
    assert!(own["timeline"]["ends"].as_str().unwrap() <= "2027-02-24T17:00:00", "{}", own["timeline"]["ends"]);
    // The option is said for this once.
    assert_eq!(json(&["--deadline", "2027-03-01 12:00"])["deadline"], "2027-03-01T12:00:00");
    // With a start, what is late is said.
    let late = json(&["--start", "2027-02-24 09:00"]);
    assert!(late["untimely"]["missed"]["by_min"].as_i64().unwrap() > 0, "{}", late["untimely"]);
    let before = said(&folder, &["plan", "crew.ron", "--start", "2027-02-25"]);
    assert!(before.status == 2 && before.err.contains("the order's deadline 2027-02-24T17:00:00"), "{}", before.err);
    order("deadline: \"soon\",");
    assert!(said(&folder, &["plan", "crew.ron"]).err.contains("crew.ron"));
}

/// Supplies are kept once, beside the journal, and every plan reads them; out and in as a plain file.
#[test]
fn the_shelf_is_filled_read_and_carried_elsewhere() {
    let folder = tempfile::tempdir().unwrap();
    let in_folder = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_pleatwright"))
            .args(arguments)
            .env("SOURCE_DATE_EPOCH", "1800000000")
            .current_dir(folder.path())
            .output()
            .unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        (output.status.code(), text(output.stdout), text(output.stderr))
    };
    let kept = |arguments: &[&str]| in_folder(&[&["shelf", "--journal", "mine"], arguments].concat());
    let (status, said, _) = kept(&["set", "soda ash", "--on-hand", "1.5kg", "--pack", "500g=2.40", "--currency", "EUR"]);
    assert_eq!((status, said.as_str()), (Some(0), "soda ash: 1500 g; sold as 500 g at 2.40\n"));
    let (status, said, _) = kept(&["set", "crew-neck tee, M, plum", "--blank", "--on-hand", "4", "--price", "3.5"]);
    assert_eq!((status, said.as_str()), (Some(0), "crew-neck tee, M, plum: 4; 3.50 each\n"));
    for (arguments, words) in [
        (&["set", "soda", "--on-hand", "3"][..], "not a supply: \"soda\""),
        (&["set", "soda ash", "--on-hand", "much"], "--on-hand: not an amount: \"much\"; give one such as 120 g"),
        (&["set", "soda ash", "--pack", "500g"], "--pack: not a pack"),
        (&["remove", "urea"], "urea: it is not on the shelf"),
    ] {
        let (status, _, said) = kept(arguments);
        assert!(status == Some(2) && said.contains(words), "{arguments:?}: {said}");
    }
    let (_, said, _) = kept(&["list"]);
    assert!(said.contains("crew-neck tee, M, plum: 4") && said.contains("2 items in mine; prices in EUR"), "{said}");
    let tee = concat!(env!("CARGO_MANIFEST_DIR"), "/layouts/harbour-row-tee-m.ron");
    let plan = ["plan", tee, "--start", "2027-05-03 08:00", "--journal", "mine"];
    let (status, said, error) = in_folder(&plan);
    assert!(status == Some(0) && said.contains("1.5 kg"), "{said}{error}");
    let stocked = |said: &str| said.lines().any(|line| line.starts_with("crew-neck tee, M, plum") && line.ends_with("nothing"));
    assert!(stocked(&said), "{said}");
    assert_eq!(kept(&["export", "shelf.ron"]).1, "shelf.ron: 2 items\n");
    assert!(kept(&["remove", "soda ash"]).0 == Some(0) && !kept(&["list"]).1.contains("soda ash"));
    assert!(kept(&["undo"]).1.contains("soda ash: 1500 g"));
    let other = |arguments: &[&str]| in_folder(&[&["shelf", "--journal", "other"], arguments].concat());
    assert_eq!(other(&["import", "shelf.ron"]).1, "shelf.ron: 2 items on the shelf\n");
    assert_eq!(other(&["list"]).1.lines().next(), kept(&["list"]).1.lines().next());
    let (_, checked, _) = in_folder(&["check", "shelf.ron"]);
    assert!(checked.contains("shelf: no problems, 2 items"), "{checked}");
}

/// What was noted beside the tub, how the waits came out and when it was all done stand in the entry.
#[test]
fn an_entry_takes_what_a_run_knows() {
    use pleatwright::plan::{Plan, Run, When};
    use pleatwright::store::{EXAMPLE_LAYOUTS, OfLayout, order_of_layout, parse_layout, save_run};
    let folder = tempfile::tempdir().unwrap();
    let of = OfLayout { count: 1, scrap_tested: true, ..OfLayout::default() };
    let order = order_of_layout(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap(), of).unwrap();
    let plan = Plan::new(&order, When::Start("2027-05-03T08:00".parse().unwrap())).unwrap();
    let mut run = Run::of(&plan).unwrap();
    let steps: Vec<_> = run.steps().map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in &steps {
        run.begin(*step, *from).unwrap();
        run.finish(*step, *to).unwrap();
    }
    run.note(steps[0].0, "97 % cotton").unwrap();
    save_run(&folder.path().join("run.ron"), &run).unwrap();
    assert!(said(&folder, &["check", "run.ron"]).out.contains("run of \"Harbour Row tee, M\": no problems"));
    let tee = example("harbour-row-tee-m.ron");
    let add = ["journal", "--journal", "mine", "add", tee.to_str().unwrap(), "--made", "2027-05-06", "--run", "run.ron"];
    assert_eq!(said(&folder, &add).status, 0);
    let shown = said(&folder, &["journal", "--journal", "mine", "show", "2027-05-06-harbour-row-tee-m"]).out;
    for words in ["note: read the label: 97 % cotton", "wait: soda ash soak, load 1: waited ", "time: soda ash soak, load 1: "] {
        assert!(shown.contains(words), "{words}: {shown}");
    }
}

/// Several ties: checked, told tie by tie, and as data whose cloth adds up to the garment's.
#[test]
fn several_ties_are_told_one_by_one() {
    let folder = TempDir::new().unwrap();
    let four = example("harbour-row-four-ties-tee-m.ron").to_str().unwrap().to_owned();
    let checked = said(&folder, &["check", &four]);
    assert_eq!((checked.status, checked.out.contains("no problems, 4 ties, 22 binds")), (0, true), "{}", checked.out);
    let told = said(&folder, &["figures", &four]).out;
    for words in ["Tie 1: Heart", "Tie 4: Hem", "loose cloth", "navy: "] {
        assert!(told.contains(words), "{words} in {told}");
    }
    let json: serde_json::Value = serde_json::from_str(&said(&folder, &["figures", &four, "--json"]).out).unwrap();
    let mm2 = |of: &serde_json::Value| of["area_mm2"]["front"].as_f64().unwrap() + of["area_mm2"]["back"].as_f64().unwrap();
    let ties = json["ties"].as_array().unwrap();
    let all_mm2 = ties.iter().map(mm2).sum::<f64>() + mm2(&json["loose"]);
    assert_eq!((ties.len(), ties[1]["name"].as_str()), (4, Some("Left sleeve")));
    assert!((all_mm2 / mm2(&json["garment"]["cloth"]) - 1.0).abs() < 1e-9);
    let circle_mm2 = std::f64::consts::PI * ties[3]["figures"]["binds"][6]["radius_mm"].as_f64().unwrap().powi(2);
    assert!((mm2(&ties[3]) / (2.0 * circle_mm2) - 1.0).abs() < 0.01, "the burst at the hem lies on cloth all round");
    // What can't be done with several is refused, and said why.
    // Before a photograph is looked for, which there is none of.
    let piece = format!("{four}=none.jpg");
    let refusals = [
        (&["like", "none.jpg", "--layout", &four, "-o", "wish.ron"][..], "this layout has 4 ties"),
        (&["learn", &piece, "-o", "learned.ron"], "what 4 ties on one garment teach"),
    ];
    for (arguments, words) in refusals {
        let refused = said(&folder, arguments);
        assert!(refused.status == 2 && refused.err.contains(words), "{arguments:?}: {}", refused.err);
    }
    assert!(files(&folder).is_empty());
}
