//! The start screen: the layouts that were opened lately, and what a garment is begun with.

use crate::harness::{SIZE, Window, click, layout, press, window, window_with};
use egui::{Key, Modifiers, Shape};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::{FlatKind, GarmentKind};
use pleatwright::store::EXAMPLE_LAYOUTS;

/// How many pictures are painted now, and whether these words are.
fn painted(window: &Window, words: &str) -> (usize, bool) {
    fn count(shape: &Shape, words: &str, found: &mut (usize, bool)) {
        match shape {
            Shape::Text(text) => found.1 |= text.galley.text() == words,
            Shape::Rect(rect) => found.0 += usize::from(rect.brush.is_some()),
            Shape::Mesh(mesh) => found.0 += usize::from(mesh.texture_id != egui::TextureId::default()),
            Shape::Vec(shapes) => shapes.iter().for_each(|shape| count(shape, words, found)),
            _ => {}
        }
    }
    let mut found = (0, false);
    window.output().shapes.iter().for_each(|clipped| count(&clipped.shape, words, &mut found));
    found
}

/// They were names of files alone.
#[test]
fn recent_layouts_show_their_picture_and_their_name() {
    let home = tempfile::tempdir().unwrap();
    let (path, gone) = (home.path().join("yesterday.ron"), home.path().join("gone.ron"));
    let text = EXAMPLE_LAYOUTS[0].text.replacen("Harbour Row tee, M", "Shirt of yesterday", 1);
    std::fs::write(&gone, &text).unwrap();
    drop(window_with(home.path(), Some(gone.clone()), SIZE));
    std::fs::remove_file(&gone).unwrap();
    let without = painted(&window(home.path()), "Shirt of yesterday");
    assert!(!without.1, "its file is gone");
    std::fs::write(&path, text).unwrap();
    drop(window_with(home.path(), Some(path), SIZE));
    let mut next = window(home.path());
    assert_eq!(painted(&next, "Shirt of yesterday"), (without.0 + 1, true), "one picture more");
    assert!(next.query_by_label("gone.ron").is_some(), "what can't be read is still named");
    click(&mut next, "yesterday.ron");
    assert!(next.state().layout_text().unwrap().contains("Shirt of yesterday"));
}

/// The fold is chosen by its picture before the garment, and stays chosen for the next.
#[test]
fn a_garment_is_begun_with_the_fold_whose_picture_was_clicked() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Fold: into triangles");
    assert!(window.query_by_label("Folded into triangles; choose another fold, then a garment.").is_some());
    click(&mut window, "Start with a flat cloth");
    assert_eq!(layout(&window).garment().kind(), GarmentKind::FlatCloth);
    assert_eq!(layout(&window).raw().fold.flat().unwrap().pattern.kind(), FlatKind::Triangles);
    press(&mut window, Modifiers::COMMAND, Key::N);
    click(&mut window, "Fold: burst");
    click(&mut window, "Start with a crew-neck tee");
    assert!(layout(&window).burst().is_some());
}
