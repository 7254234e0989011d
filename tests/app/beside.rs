//! Pictures beside each other say what they are; what is dropped on the window is understood, or refused at once.

use crate::Dropped;
use crate::harness::{SIZE, TEE, Window, click, wait, window, window_with};
use crate::journal::{TEE_CARD, at_journal, is_there, journal, only_entry, photograph, two};
use egui_kittest::kittest::Queryable as _;
use pleatwright::store::EXAMPLE_LAYOUTS;
use pleatwright::store::journal::Draft;
use std::path::Path;
use std::sync::Arc;

pub(crate) fn drop_file(window: &mut Window, path: &Path) {
    window.input_mut().dropped_files.push(Arc::new(Dropped(path.to_owned())));
    window.run_ok();
}

/// What was foreseen once stood in another view, at another size, and could not be held against the photograph.
#[test]
fn the_reveal_stands_beside_the_photograph() {
    let home = tempfile::tempdir().unwrap();
    let draft = Draft {
        photos: vec![photograph(home.path())],
        ..Draft::new("2027-05-03".parse().unwrap(), EXAMPLE_LAYOUTS[0].text.to_owned())
    };
    journal(home.path()).add(&draft).unwrap();
    let mut window = at_journal(home.path());
    wait(&mut window, "the entry", is_there("Harbour Row tee, M, 3 May 2027"));
    window.get_by_label_contains("Harbour Row tee, M, 3 May 2027").click();
    window.run_ok();
    let label = "Reveal of Harbour Row tee, M, 3 May 2027";
    let rect = |window: &Window| window.get_by_label(label).rect();
    let coming = rect(&window).size();
    wait(&mut window, "the reveal", |window| rect(window).size() != coming);
    let (reveal, photo) = (rect(&window), window.get_by_label("Photograph drying.jpg").rect());
    // Beside it, within the same room, upright: a tee is higher than it is wide, or nearly so.
    assert!(reveal.left() >= photo.right() && reveal.top() < photo.bottom(), "{reveal:?} {photo:?}");
    let room = |rect: egui::Rect| (rect.width() / 300.0).max(rect.height() / 225.0);
    assert!((room(reveal) - 1.0).abs() < 0.01 && (room(photo) - 1.0).abs() < 0.12, "{reveal:?} {photo:?}");
    for what in ["As photographed", "As computed, an estimate"] {
        assert!(window.query_by_label(what).is_some(), "{what}");
    }
    // Turned, it lies as a photograph may.
    click(&mut window, "Turn the reveal");
    let turned = rect(&window);
    let proportion = |rect: egui::Rect| rect.width() / rect.height();
    assert!((proportion(turned) * proportion(reveal) - 1.0).abs() < 0.02, "{turned:?} {reveal:?}");
}

/// Two entries beside each other once had no picture at all.
#[test]
fn compared_entries_say_which_picture_is_which() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let mut window = at_journal(home.path());
    wait(&mut window, "both", is_there("2 entries"));
    click(&mut window, TEE_CARD);
    click(&mut window, "Compare with…");
    window.get_by_label_contains("Harbour Row tote, 10 May 2027").click();
    window.run_ok();
    let picture = |of: &str| window.get_by_label(&format!("As designed: {of}")).rect();
    let (first, second) = (picture("Harbour Row tee, M, 3 May 2027"), picture("Harbour Row tote, 10 May 2027"));
    assert!(first.right() <= second.left(), "{first:?} {second:?}");
}

/// Outside the journal a dropped photograph was once opened as a layout, and refused as one.
#[test]
fn a_photograph_dropped_on_any_view_is_offered_to_the_journal() {
    let home = tempfile::tempdir().unwrap();
    let photo = photograph(home.path());
    let mut window = window(home.path());
    drop_file(&mut window, &photo);
    let refused = "\"drying.jpg\": no layout is open for this photograph; open its layout or its journal entry, then drop it";
    assert!(window.query_by_label_contains(refused).is_some());
    for view in ["View Rod", "View Day", "View Fold"] {
        let home = tempfile::tempdir().unwrap();
        let mut window = self::window(home.path());
        click(&mut window, TEE);
        click(&mut window, view);
        drop_file(&mut window, &photo);
        let words = "Attached the photograph to the new journal entry of Harbour Row tee, M; the entry is not added yet";
        assert!(window.query_by_label(words).is_some(), "{view}");
        assert!(window.query_by_label("Remove drying.jpg").is_some(), "{view}");
        click(&mut window, "Add to the journal");
        wait(&mut window, "the confirmation", is_there("Added Harbour Row tee, M"));
        assert_eq!(only_entry(home.path()).raw().photos[0].from, "drying.jpg");
    }
}

/// A dropped PDF was once read as a layout, and the sentence spoke of its first line.
#[test]
fn what_nothing_here_reads_is_refused_at_once() {
    let home = tempfile::tempdir().unwrap();
    let (pdf, folder) = (home.path().join("card.PDF"), home.path().join("sheets"));
    std::fs::write(&pdf, b"%PDF-1.7\n").unwrap();
    std::fs::create_dir(&folder).unwrap();
    let file = home.path().join("tee.ron");
    std::fs::write(&file, EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window = window_with(home.path(), Some(file), SIZE);
    let before = window.state().layout_text();
    let cure = "drop a layout (.ron), a drawing (.svg, .dxf) or photographs (JPEG, PNG, WebP, GIF, TIFF, HEIC, AVIF)";
    for view in ["View Fold", "View Journal"] {
        click(&mut window, view);
        drop_file(&mut window, &pdf);
        let words = format!("\"card.PDF\": PDF files can't be opened here; {cure}");
        assert!(window.query_by_label_contains(&words).is_some(), "{view}");
        click(&mut window, "OK");
    }
    drop_file(&mut window, &folder);
    assert!(window.query_by_label_contains(&format!("\"sheets\": a folder can't be dropped here; {cure}")).is_some());
    assert_eq!(window.state().layout_text(), before);
    // A photograph is known by its content, whatever its name.
    let odd = home.path().join("front.ron.bak");
    std::fs::copy(photograph(home.path()), &odd).unwrap();
    drop_file(&mut window, &odd);
    assert!(window.query_by_label("Remove front.ron.bak").is_some());
}
