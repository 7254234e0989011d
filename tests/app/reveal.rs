//! The reveal in the window.

use crate::harness::{TEE, Window, click, layout, name_file, press, wait, window, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::layout::{Layout, Rest};
use pleatwright::measure::LengthStyle;
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::{Cancel, PictureMap, RevealOptions, SectionReveal, Texture, picture_of, reveal_doses};
use pleatwright::store::picture_png;
use pleatwright::variation::{WallOptions, wall};

/// The saved picture is byte for byte the library's, and the process is changed beside it.
#[test]
fn a_changed_process_is_revealed_and_its_map_saved() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row tote");
    click(&mut window, "View Reveal");
    wait(&mut window, "the table of sections", |window| window.query_by_label("Reached").is_some());
    write(&mut window, "Layers of ice", "2");
    click(&mut window, "Rod lies");
    click(&mut window, "turned halfway");
    assert_eq!((layout(&window).process().ice_layers.0, layout(&window).process().rest), (2, Rest::TurnedHalfWay));
    click(&mut window, "garment colour left");
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
    click(&mut window, "View Reveal");
    assert_eq!(window.get_all_by_label("Reveal of Harbour Row tee, M").count(), 1);
    click(&mut window, "Hold for comparison");
    for role in ["held to compare", "as it is now"] {
        let label = format!("Reveal of Harbour Row tee, M, {role}");
        assert_eq!(window.get_all_by_label(&label).count(), 1, "each says which it is: {label}");
    }
    click(&mut window, "View Garment");
    write(&mut window, "Name", "Another tee");
    click(&mut window, "View Reveal");
    assert_eq!(window.get_all_by_label("Reveal of Harbour Row tee, M, held to compare").count(), 1);
    assert_eq!(window.get_all_by_label("Reveal of Another tee, as it is now").count(), 1);
    click(&mut window, "Stop comparing");
    assert!(window.query_by_label_contains("Reveal of Harbour Row tee, M").is_none());
    assert!(window.query_by_label("Reveal of Another tee").is_some());
}

/// The slider takes the rod apart: bound at its left end, opened at its right, a layer at each step between, told in words and shown
/// both in the rod and on the cloth; arrow keys go layer by layer. So too beside the fold, and where there is one panel.
#[test]
fn the_rod_is_peeled_layer_by_layer() {
    for name in [TEE, "Harbour Row tote", "Harbour Row bandana"] {
        let home = tempfile::tempdir().unwrap();
        let mut window = window(home.path());
        click(&mut window, name);
        click(&mut window, "View Reveal");
        wait(&mut window, "the slider", |window| window.query_by_role_and_label(Role::Slider, "Peel").is_some());
        let layers = layout(&window).fold().places();
        let opened = format!("Opened. The rod had {layers} layers; drag left to see where each one lay.");
        assert!(window.query_by_label(&opened).is_some(), "{name}");
        window.get_by_role_and_label(Role::Slider, "Peel").focus();
        window.run_ok();
        press(&mut window, Modifiers::NONE, Key::ArrowLeft);
        let told = |window: &Window, start: &str| window.query_all_by_label_contains(start).count();
        assert_eq!(told(&window, &format!("Layer {layers} of {layers} from the top: ")), 1, "{name}");
        assert!(window.query_by_label("Place 1 in the rod").is_some(), "{name}");
        press(&mut window, Modifiers::NONE, Key::ArrowLeft);
        assert_eq!(told(&window, &format!("Layer {} of {layers} from the top: ", layers - 1)), 1, "{name}");
        window.get_by_role_and_label(Role::Slider, "Peel").set_value_accesskit(0.0);
        window.run_ok();
        assert_eq!(told(&window, "The bound rod from above. On top: "), 1, "{name}");
        assert!(window.query_by_label("The bound rod, from above").is_some(), "{name}");
        press(&mut window, Modifiers::NONE, Key::ArrowRight);
        assert_eq!(told(&window, &format!("Layer 1 of {layers} from the top: ")), 1, "{name}");
        // What is told of a layer stays when the rod is folded anew.
        click(&mut window, "View Fold");
        write(&mut window, "Pleat depth", "45");
        let layers = layout(&window).fold().places();
        click(&mut window, "View Reveal");
        wait(&mut window, "the new layers", |window| told(window, &format!("Layer 1 of {layers} from the top: ")) == 1);
    }
}

/// Without its texture the cloth is painted in flat colours, and is saved so.
#[test]
fn the_texture_can_be_left_out() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row tote");
    click(&mut window, "View Reveal");
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
    click(&mut window, "cloth texture");
    saved(&mut window, "flat.png", Texture::Off);
}

/// The shares in the table of sections that a reveal of these options has, sorted.
fn shares(layout: &Layout, options: &RevealOptions) -> Vec<String> {
    let percent = |share: f64| format!("{:.0} %", 100.0 * share);
    let reveal = reveal_doses(layout, options, &Cancel::new()).unwrap();
    let of = |section: &SectionReveal| {
        [section.reached, section.middle_dose, section.even_front_back.min(section.even_left_right)].map(percent)
    };
    let mut shares: Vec<String> = reveal.summary.iter().flat_map(of).collect();
    shares.sort();
    shares
}

/// Those that stand in the window.
fn told(window: &Window) -> Vec<String> {
    let labels = window.query_all_by_role(Role::Label).filter_map(|node| node.accesskit_node().value());
    let mut shares: Vec<String> = labels.filter(|text| text.ends_with(" %") && !text.contains(char::is_alphabetic)).collect();
    shares.sort();
    shares
}

/// The table used to be filled from the coarse reveal while the fine one was under way, and to say something quite different.
#[test]
fn only_a_fine_reveal_is_told_of() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Reveal");
    let under_way = |window: &Window| window.query_by_label_contains("Working it out").is_some();
    assert!(under_way(&window) && window.query_by_label("Reached").is_none());
    wait(&mut window, "the table of sections", |window| {
        assert!(under_way(window) || window.query_by_label("Reached").is_some());
        window.query_by_label("Reached").is_some()
    });
    let first = shares(&layout(&window), &RevealOptions::default());
    assert_ne!(first, shares(&layout(&window), &RevealOptions::preview()));
    assert_eq!(told(&window), first);
    assert!(!under_way(&window) && !window.get_by_label("Reached").accesskit_node().is_disabled());
    // What was told last stays, grey, until the change is worked out.
    write(&mut window, "Layers of ice", "2");
    assert!(under_way(&window) && window.get_by_label("Reached").accesskit_node().is_disabled());
    assert_eq!(told(&window), first);
    wait(&mut window, "the changed table", |window| !under_way(window));
    let second = shares(&layout(&window), &RevealOptions::default());
    assert_ne!(second, first);
    assert_eq!(told(&window), second);
}

/// The wall shows what the library finds; what is taken is one step, and the next wall begins from it.
#[test]
fn a_variation_is_taken_from_the_wall_and_undone() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Reveal");
    let before = layout(&window);
    let found = wall(&before, &WallOptions::default(), &Cancel::new()).unwrap().tiles;
    click(&mut window, "Variations");
    wait(&mut window, "the wall", |window| window.query_by_label("as it is now").is_some());
    let words: Vec<String> = found.iter().map(|tile| tile.variation.words(LengthStyle::default())).collect();
    for words in &words {
        assert!(window.query_by_role_and_label(Role::Button, words).is_some(), "{words}");
    }
    click(&mut window, &words[0]);
    assert_eq!(layout(&window).raw(), found[0].variation.layout().raw(), "{}", words[0]);
    wait(&mut window, "the next wall", |window| window.query_by_label(&words[0]).is_none());
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), before.raw(), "one step back");
    click(&mut window, "Back to the reveal");
    assert!(window.query_by_label("as it is now").is_none());
    assert!(window.query_by_label("Reveal of Harbour Row tee, M").is_some());
}
