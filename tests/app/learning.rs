//! Calibration learned in the window, from drawn photographs with known truth.

use crate::drawn::scene::{Scene, SceneOptions, jpeg};
use crate::harness::{SIZE, TEE, Window, click, layout, name_file, press, wait, window, window_with, write};
use crate::journal::{journal, name_folder, photograph};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{BurstSpec, Centre, Measure, Panel, Pleats, Progression, ThreadKind};
use pleatwright::layout::{Calibration, Dryness, FoldSpec, Hand, Layout, LayoutSpec, layout_text};
use pleatwright::learn::{Learned, LearnedValue, TEST_CLOTH, TaughtBy};
use pleatwright::photo::{Plan, named_points};
use pleatwright::reveal::Cancel;
use pleatwright::store::journal::Draft;
use pleatwright::store::{backup_path, learned_text, marks_path, read_learned, save_marks};
use std::path::{Path, PathBuf};

/// A white square of 220 mm, small so that it is learned from in a moment: waxed thread, dry, one dye.
fn square(pleats: u32) -> LayoutSpec {
    let mut spec = TEST_CLOTH[1].layout();
    spec.name = format!("Square of {pleats}");
    spec.thread.kind = ThreadKind::Waxed;
    spec.process.inside = Dryness::Dry;
    spec.process.hand = Hand::EXACT;
    spec.colours.rotation.truncate(1);
    for measure in [Measure::ClothWidth, Measure::ClothHeight] {
        spec.garment.measures.set(measure, Some(220.0));
    }
    let FoldSpec::Burst(burst) = spec.fold else { panic!("a burst") };
    let centre = Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 110.0 };
    spec.fold = FoldSpec::Burst(BurstSpec { centre, guide_radius_mm: 60.0, pleats: Pleats::Count { count: pleats }, ..burst });
    spec.binds.inward = Progression::List { gaps_mm: vec![24.0] };
    spec.binds.outward = Progression::List { gaps_mm: vec![26.0] };
    spec
}

/// How dye reached into what is photographed: farther than the defaults have it.
fn truth() -> Calibration {
    let mut truth = Calibration::default();
    truth.dye_reach.along_mm *= 1.5;
    truth.dye_reach.through_mm *= 1.4;
    truth
}

/// Writes a photograph of a square beside a folder's other files, with marks on it if asked for.
fn put(folder: &Path, pleats: u32, is_marked: bool) -> PathBuf {
    let plain = Layout::try_from(square(pleats)).unwrap();
    let plan = Plan::of(&plain.with_calibration(truth()), Panel::Front, &Cancel::new()).unwrap();
    let options = SceneOptions { sleeve_deg: 0.0, tilt_deg: 3.0, size: [1100, 825], ..SceneOptions::default() };
    let scene = Scene::new(60 + u64::from(pleats), &plan, options);
    let path = folder.join(format!("square-{pleats}.jpg"));
    std::fs::write(&path, jpeg(&scene.render(), None, None)).unwrap();
    if is_marked {
        save_marks(&marks_path(&path), &scene.marks(&named_points(&plain, Panel::Front))).unwrap();
    }
    path
}

/// An entry of a square, its photograph marked in the journal.
fn enter(home: &Path, pleats: u32) {
    let path = put(home, pleats, true);
    let draft = Draft { photos: vec![path.clone()], ..Draft::new("2027-05-03".parse().unwrap(), layout_text(&square(pleats))) };
    let entry = journal(home).add(&draft).unwrap();
    std::fs::copy(marks_path(&path), marks_path(&journal(home).photo_path(&entry.raw().photos[0]))).unwrap();
}

fn says(window: &Window, words: &str) -> bool {
    window.query_all_by_label_contains(words).next().is_some()
}

/// The window at learning, nothing open.
fn at_learning(home: &Path) -> Window {
    let mut window = window(home);
    click(&mut window, "Open the journal");
    click(&mut window, "Learn from photographs…");
    wait(&mut window, "the pieces", |window| !says(window, "Looking at your photographs"));
    window
}

/// Entries teach; what they taught is told as the library tells it, kept, begins layouts from then on, and is given to an open one in one step.
#[test]
fn entries_teach_and_layouts_begin_with_what_they_taught() {
    let home = tempfile::tempdir().unwrap();
    enter(home.path(), 8);
    enter(home.path(), 6);
    let photos = vec![photograph(home.path())];
    journal(home.path()).add(&Draft { photos, ..Draft::new("2027-05-04".parse().unwrap(), layout_text(&square(10))) }).unwrap();
    let mut window = at_learning(home.path());
    assert!(
        says(&window, "2 pieces teach, none kept back.") && says(&window, "no marks yet") && says(&window, "dye, waxed thread")
    );
    click(&mut window, "Square of 6, 3 May 2027: kept back");
    assert!(says(&window, "1 piece teaches, one kept back."));
    click(&mut window, "Learn");
    assert!(says(&window, "Learning…"), "no frame waits for it");
    wait(&mut window, "what they taught", |window| says(window, "What your photographs taught"));
    assert!(says(&window, "Yours come nearer."), "the piece kept back judges");
    click(&mut window, "Keep…");
    let own = home.path().join("mine.ron");
    name_file(&mut window, &own);
    let learned = read_learned(&own).unwrap();
    let off = |value: LearnedValue| {
        let [truth, default] =
            [truth(), Calibration::default()].map(|calibration| value.facts().scale.from_value(value.of(&calibration)));
        ((learned.place(value) - truth).abs(), (default - truth).abs())
    };
    for value in [LearnedValue::DyeAlong, LearnedValue::DyeThrough] {
        let (after, before) = off(value);
        assert!(learned.is_learned(value) && after < 0.5 * before, "{value:?} was {before} off and is {after}");
    }
    for row in learned.rows() {
        for words in [&row.name, &row.is, &row.probably] {
            assert!(window.query_all_by_label(words).next().is_some(), "{words}");
        }
    }
    wait(&mut window, "that it taught", |window| says(window, "taught already, as \"Square of 8, 3 May 2027\""));
    begins_and_is_used(&mut window, &own);
}

/// What was kept begins new layouts, and is given to an open one.
fn begins_and_is_used(window: &mut Window, own: &Path) {
    let learned = read_learned(own).unwrap();
    click(window, "Begin new layouts with mine.ron");
    press(window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_role_and_label(Role::CheckBox, "Begin new layouts with mine.ron").is_some());
    click(window, "Start with a crew-neck tee");
    let is_learned = |own: Calibration, of: &Layout| {
        let calibration = of.process().calibration;
        calibration.has_values_of(&learned.calibration(own)) && calibration.learned.is_some_and(|from| from.on.is_some())
    };
    assert!(is_learned(Calibration::default(), &layout(window)));
    press(window, Modifiers::COMMAND, Key::N);
    click(window, TEE);
    let before = layout(window);
    click(window, "View Journal");
    click(window, "Use for the open layout");
    assert!(is_learned(before.process().calibration, &layout(window)));
    // Where a layout's values come from is said where they are used; what is changed by hand is no longer what was learned.
    click(window, "View Reveal");
    assert!(window.query_by_label_contains("reach was learned from 1 piece, ").is_some());
    click(window, "Calibration");
    assert!(window.query_by_label_contains("Learned from 1 piece, ").is_some());
    write(window, "Dye, along cloth", "12.3 mm");
    assert!(layout(window).process().calibration.learned.is_none());
    assert!(window.query_by_label_contains("reach is our own guess").is_some());
    press(window, Modifiers::COMMAND, Key::Z);
    assert!(is_learned(before.process().calibration, &layout(window)));
    press(window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(window).raw(), before.raw(), "one step back");
}

/// It is remembered from one start to the next; a file that is gone is told, and layouts begin with the defaults; stopped, they do without a word.
#[test]
fn layouts_begin_with_a_file_that_is_remembered_until_it_is_stopped() {
    let home = tempfile::tempdir().unwrap();
    let own = home.path().join("mine.ron");
    let values = vec![LearnedValue::DyeAlong];
    let piece = TaughtBy { name: "tee".to_owned(), photographs: Vec::new(), values };
    let learned = Learned::from_parts(&[(LearnedValue::DyeAlong, 20.0, vec![0.001])], &[], vec![piece], Vec::new()).unwrap();
    std::fs::write(&own, learned_text(&learned)).unwrap();
    let settings = format!("(inset_hidden: true, learned: Some({own:?}), begins_learned: true)");
    std::fs::write(home.path().join("settings.ron"), settings).unwrap();
    let begun = |window: &mut Window| {
        press(window, Modifiers::COMMAND, Key::N);
        click(window, "Start with a crew-neck tee");
        layout(window).process().calibration
    };
    let mut window = window_with(home.path(), None, SIZE);
    assert!((begun(&mut window).dye_reach.along_mm - 20.0).abs() < 1e-6);
    std::fs::remove_file(&own).unwrap();
    assert_eq!(begun(&mut window), Calibration::default());
    assert!(says(&window, "mine.ron"), "the file is named");
    // In the Reveal's Calibration it is said, and stopped there.
    click(&mut window, "View Reveal");
    click(&mut window, "Calibration");
    click(&mut window, "Begin new layouts with mine.ron");
    drop(window);
    let mut window = window_with(home.path(), None, SIZE);
    assert_eq!(begun(&mut window), Calibration::default());
    assert!(!says(&window, "mine.ron:"), "nothing is read that is not used");
}

/// A piece from files is marked from the list; learning from it is stopped.
#[test]
fn a_piece_from_files_is_marked_and_learning_stopped() {
    let home = tempfile::tempdir().unwrap();
    let photo = put(home.path(), 8, false);
    let file = home.path().join("square.ron");
    std::fs::write(&file, layout_text(&square(8))).unwrap();
    let mut window = at_learning(home.path());
    click(&mut window, "Add a piece…");
    name_file(&mut window, &file);
    wait(&mut window, "the piece", |window| says(window, "no photograph yet"));
    click(&mut window, "Add a photograph of Square of 8…");
    name_file(&mut window, &photo);
    wait(&mut window, "the photograph", |window| says(window, "no marks yet"));
    assert!(says(&window, "0 pieces teach, none kept back."));
    click(&mut window, "Mark it: square-8.jpg of Square of 8");
    wait(&mut window, "the points", |window| says(window, "Find points again"));
    click(&mut window, "Save marks");
    click(&mut window, "Back to learning");
    wait(&mut window, "the marks", |window| says(window, "1 piece teaches, none kept back."));
    click(&mut window, "Learn");
    click(&mut window, "Stop");
    wait(&mut window, "the end", |window| !says(window, "Learning…"));
    assert!(!says(&window, "What your photographs taught") && window.query_by_label("Learn").is_some());
    click(&mut window, "Remove Square of 8");
    assert!(says(&window, "Nothing to learn from yet"));
}

/// Without photographs, it says what to do, and makes the test cloth.
#[test]
fn without_photographs_it_makes_the_test_cloth() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_learning(home.path());
    assert!(says(&window, "Nothing to learn from yet: make the test cloth"));
    click(&mut window, "Make the test cloth…");
    let folder = home.path().join("cloth");
    name_folder(&mut window, &folder);
    wait(&mut window, "the files", |window| says(window, "Made the test cloth: "));
    for name in ["test-cloth.ron", "test-cloth-a.ron", "what-to-do.pdf"] {
        assert!(folder.join(name).is_file(), "{name}");
    }
    // What is there is not written over.
    click(&mut window, "Make the test cloth…");
    name_folder(&mut window, &folder);
    wait(&mut window, "the refusal", |window| says(window, "it is there already; choose a folder without it"));
    assert!(!backup_path(&folder.join("test-cloth.ron")).exists());
}
