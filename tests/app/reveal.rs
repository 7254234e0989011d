//! The reveal in the window.

use crate::harness::{TEE, Window, click, layout, name_file, wait, window, write};
use egui_kittest::kittest::Queryable as _;
use pleatwright::layout::Rest;
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::{Cancel, PictureMap, RevealOptions, Texture, picture_of, reveal_doses};
use pleatwright::store::picture_png;

/// The saved picture is byte for byte the library's, and the process is changed beside it.
#[test]
fn a_changed_process_is_revealed_and_its_map_saved() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row tote");
    click(&mut window, "Step Reveal");
    wait(&mut window, "the table of sections", |window| window.query_by_label("Reached").is_some());
    write(&mut window, "Layers of ice", "2");
    click(&mut window, "The rod rests");
    click(&mut window, "turned half-way");
    assert_eq!((layout(&window).process().ice_layers.0, layout(&window).process().rest), (2, Rest::TurnedHalfWay));
    click(&mut window, "ground left");
    click(&mut window, "Save picture…");
    let path = home.path().join("ground.png");
    name_file(&mut window, &path);
    wait(&mut window, "the picture", |_| path.exists());
    let (layout, options) = (layout(&window), RevealOptions::default());
    let reveal = reveal_doses(&layout, &options, &Cancel::new()).unwrap();
    let picture = picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::GroundLeft, Texture::Faint);
    assert_eq!(std::fs::read(&path).unwrap(), picture_png(&picture, options.pixel_mm).unwrap());
}

/// What is kept to compare stays beside what is changed, until it is put away.
#[test]
fn a_kept_reveal_stands_beside_the_changed_one() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "Step Reveal");
    assert_eq!(window.get_all_by_label("Reveal of Harbour Row tee, M").count(), 1);
    click(&mut window, "Keep to compare");
    assert_eq!(window.get_all_by_label("Reveal of Harbour Row tee, M").count(), 2);
    click(&mut window, "Step Garment");
    write(&mut window, "Name", "Another tee");
    click(&mut window, "Step Reveal");
    assert_eq!(window.get_all_by_label("Reveal of Harbour Row tee, M").count(), 1);
    assert_eq!(window.get_all_by_label("Reveal of Another tee").count(), 1);
    click(&mut window, "Alone again");
    assert!(window.query_by_label("Reveal of Harbour Row tee, M").is_none());
}

/// Without its texture the cloth is painted in flat colours, and is saved so.
#[test]
fn the_texture_can_be_left_out() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row tote");
    click(&mut window, "Step Reveal");
    let saved = |window: &mut Window, name: &str, texture: Texture| {
        click(window, "Save picture…");
        let path = home.path().join(name);
        name_file(window, &path);
        wait(window, "the picture", |_| path.exists());
        let (layout, options) = (layout(window), RevealOptions::default());
        let reveal = reveal_doses(&layout, &options, &Cancel::new()).unwrap();
        let picture = picture_of(&reveal, &DyeSet::of_layout(&layout, None), PictureMap::Cloth, texture);
        assert_eq!(std::fs::read(&path).unwrap(), picture_png(&picture, options.pixel_mm).unwrap(), "{name}");
    };
    saved(&mut window, "textured.png", Texture::Faint);
    click(&mut window, "faint texture of the cloth");
    saved(&mut window, "flat.png", Texture::Off);
}
