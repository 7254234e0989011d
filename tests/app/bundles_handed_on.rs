//! Bundles in the window: one to hand on, and one that was handed on.

use crate::harness::{SIZE, TEE, Window, click, layout, name_file, press, wait, window, window_with};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::SpacingPreset;
use pleatwright::layout::Swatch;
use pleatwright::reveal::colour::{DyeSwatch, Origin, SwatchBook};
use pleatwright::store::{
    Bundle, EXAMPLE_LAYOUTS, FileKind, PresetShelf, SwatchShelf, file_kind, parse_layout, preset_text, read_bundle,
};
use std::path::{Path, PathBuf};

fn gift(folder: &Path) -> (PathBuf, Bundle) {
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let book = SwatchBook::new("None".to_owned(), String::new(), Vec::new()).unwrap();
    let bundle = Bundle::of(layout, &[], &book).unwrap();
    let path = folder.join("gift.pleatbundle");
    std::fs::write(&path, bundle.bytes().unwrap()).unwrap();
    (path, bundle)
}

fn offers(window: &Window) -> bool {
    window.query_by_label("Keep what came with it?").is_some()
}

/// A double click gives the file as the argument.
#[test]
fn what_a_bundle_brings_is_kept_beside_what_is_there() {
    let home = tempfile::tempdir().unwrap();
    let (path, bundle) = gift(home.path());
    let (preset, book) = (&bundle.presets[0], bundle.swatches.as_ref().unwrap());
    // Another preset and another colour have the names already.
    let shelf = PresetShelf::new(home.path().join("presets"));
    let own = SpacingPreset { guide_radius_mm: 100.0, ..preset.clone() };
    std::fs::create_dir(shelf.folder()).unwrap();
    std::fs::write(shelf.folder().join("own.ron"), preset_text(&own)).unwrap();
    let swatches = SwatchShelf::new(home.path().join("swatches.ron"));
    let first = &book.swatches()[0].colour;
    let mut other = first.srgb;
    other.red ^= 0x40;
    swatches.keep(&Swatch::plain(first.name.clone(), other)).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), SIZE);
    assert!(offers(&window));
    assert!(window.query_by_label(&format!("Spacing preset: {}", preset.name)).is_some());
    click(&mut window, "Keep them");
    assert_eq!(layout(&window).raw(), bundle.layout.raw());
    let told = format!("\"{}\" as \"{} 2\", as the name was taken", preset.name, preset.name);
    assert!(window.query_by_label_contains(&told).is_some());
    let kept: Vec<SpacingPreset> = shelf.presets().0.into_iter().map(|shelved| shelved.preset).collect();
    assert!(kept.contains(&own) && kept.contains(&SpacingPreset { name: format!("{} 2", preset.name), ..preset.clone() }));
    let kept = swatches.book().unwrap();
    assert_eq!(kept.swatch(&first.name).unwrap().colour.srgb, other);
    assert_eq!(kept.swatch(&format!("{} 2", first.name)).unwrap().colour.srgb, first.srgb);
    // The bundle is not the layout's file: it is saved elsewhere.
    let before = std::fs::read(&path).unwrap();
    press(&mut window, Modifiers::COMMAND, Key::S);
    name_file(&mut window, &home.path().join("mine.pleat"));
    assert_eq!(std::fs::read(&path).unwrap(), before);
    assert_eq!(file_kind(&home.path().join("mine.pleat")).unwrap(), FileKind::Layout);
}

#[test]
fn only_the_layout_is_taken_where_that_is_wished_or_all_else_is_known() {
    let home = tempfile::tempdir().unwrap();
    let (path, bundle) = gift(home.path());
    let mut first = window_with(home.path(), Some(path.clone()), SIZE);
    click(&mut first, "Only the layout");
    assert!(!home.path().join("presets").exists() && !home.path().join("swatches.ron").exists());
    drop(first);
    let mut second = window_with(home.path(), Some(path.clone()), SIZE);
    click(&mut second, "Keep them");
    drop(second);
    let third = window_with(home.path(), Some(path), SIZE);
    assert!(!offers(&third) && third.query_by_label_contains("gift.pleatbundle as a new layout").is_some());
    assert_eq!(layout(&third).raw(), bundle.layout.raw());
}

/// The maker's measured swatch and own preset go with it; what is written about them does not.
#[test]
fn a_bundle_is_saved_from_the_menu() {
    let home = tempfile::tempdir().unwrap();
    let tee = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let dye = DyeSwatch {
        colour: tee.raw().colours.rotation[0].clone(),
        depth_percent: 2.0,
        over: None,
        origin: Origin::Measured,
        note: "bought in May".to_owned(),
    };
    let book = SwatchBook::new("Own".to_owned(), String::new(), vec![dye.clone()]).unwrap();
    SwatchShelf::new(home.path().join("swatches.ron")).take_in(&book).unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::K);
    window.get_by_role_and_label(egui::accesskit::Role::TextInput, "Find a command").type_text("bundle to hand on");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    let path = home.path().join("gift.pleatbundle");
    name_file(&mut window, &path);
    wait(&mut window, "the bundle", |window| window.query_by_label_contains("to hand on").is_some() && path.is_file());
    let bundle = read_bundle(&path).unwrap();
    assert_eq!(bundle.layout.raw(), tee.raw());
    let swatches = bundle.swatches.unwrap();
    assert_eq!(swatches.swatch(&dye.colour.name), Some(&DyeSwatch { note: String::new(), ..dye }));
    assert!(bundle.picture.is_some_and(|png| png.len() > 10_000) && bundle.presets.len() == 1);
}
