//! Rings wished for in the window.

use crate::harness::{TEE, Window, click, drag, layout, name_file, press, wait, window, write};
use crate::photographs::photograph;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::layout::Layout;
use pleatwright::reveal::Cancel;
use pleatwright::store::read_wish;
use pleatwright::wish::{Tint, Wish, WishColour, WishOptions, WishPart, fulfil};

/// Opens the wish of the small bandana, whose picture has come.
fn wished(window: &mut Window) {
    click(window, "Harbour Row bandana");
    click(window, "View Reveal");
    click(window, "Wish…");
    wait(window, "the picture of the wish", |window| window.query_by_label("the wish").is_some());
}

fn wish(layout: &Layout, rings: &[[f64; 2]]) -> Wish {
    let rotation = &layout.raw().colours.rotation;
    let part = |(index, [from_mm, to_mm]): (usize, &[f64; 2])| {
        let tint = Tint::Dye(rotation[index % rotation.len()].name.clone());
        WishPart { from_mm: *from_mm, to_mm: *to_mm, colour: WishColour::Even(tint), weight: 1.0 }
    };
    let parts = rings.iter().enumerate().map(part).collect();
    Wish { name: layout.name().to_owned(), layout: "-".to_owned(), dyes: Vec::new(), most_binds: None, parts }
}

/// What is found is the library's, and is taken in one step.
#[test]
fn a_wish_is_found_taken_and_undone() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    wished(&mut window);
    click(&mut window, "Add a ring");
    write(&mut window, "Ring 1 from", "40");
    write(&mut window, "Ring 1 to", "70");
    let before = layout(&window);
    click(&mut window, "Find binds");
    wait(&mut window, "what comes of it", |window| window.query_by_label("What comes of it").is_some());
    let found = fulfil(&wish(&before, &[[40.0, 70.0]]), &before, &WishOptions::default(), &Cancel::new()).unwrap();
    let told = format!("{:.1} off in the mean, where 5 is what a hand-dyed section varies within itself", found.difference);
    assert!(window.query_by_label(&told).is_some(), "{told}");
    assert!(window.query_by_label("result, an estimate").is_some());
    click(&mut window, "Take");
    let (taken, expected) = (layout(&window), found.layout.raw());
    assert_eq!(
        (&taken.raw().binds, &taken.raw().colours, &taken.raw().fold),
        (&expected.binds, &expected.colours, &expected.fold)
    );
    assert!(window.query_by_label("the wish").is_none(), "the reveal of what was taken shows");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), before.raw(), "one step back");
}

/// Rings are drawn on the picture, and their edges dragged.
#[test]
fn a_ring_is_drawn_on_the_picture() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    wished(&mut window);
    let picture = window.get_by_label("the wish").rect();
    // The bandana's right burst, 135 of 550 mm beside its middle: outward from beyond its centre.
    let from = picture.center() + vec2(0.3 * picture.width(), 0.0);
    drag(&mut window, from, vec2(0.12 * picture.width(), 0.0));
    let value = |window: &Window, label: &str| window.get_by_label(label).value().unwrap_or_default();
    let mm = |text: String| text.trim_end_matches(" mm").parse::<f64>().unwrap();
    let (begin_mm, end_mm) = (mm(value(&window, "Ring 1 from")), mm(value(&window, "Ring 1 to")));
    assert!((begin_mm - 30.0).abs() < 4.0 && (end_mm - 96.0).abs() < 4.0, "{begin_mm} to {end_mm}");
    drag(&mut window, from, vec2(0.03 * picture.width(), 0.0));
    let moved_mm = mm(value(&window, "Ring 1 from"));
    assert!(
        (moved_mm - 46.5).abs() < 4.0 && (mm(value(&window, "Ring 1 to")) - end_mm).abs() < 1e-9,
        "{begin_mm}, then {moved_mm}"
    );
    click(&mut window, "Remove ring 1");
    assert!(window.query_by_label("Ring 1 from").is_none());
}

/// What can't be wished is said, and a search that is stopped leaves the layout as it was.
#[test]
fn a_wish_is_refused_in_words_and_a_search_stopped() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    wished(&mut window);
    let before = layout(&window);
    click(&mut window, "Add a ring");
    write(&mut window, "Ring 1 from", "2000");
    write(&mut window, "Ring 1 to", "2100");
    click(&mut window, "Find binds");
    wait(&mut window, "the refusal", |window| {
        window.query_by_label_contains("there is no cloth from 2000 mm to 2100 mm").is_some()
    });
    write(&mut window, "Ring 1 from", "30");
    write(&mut window, "Ring 1 to", "80");
    click(&mut window, "Find binds");
    click(&mut window, "Stop");
    assert!(window.query_by_label("Find binds").is_some() && window.query_by_label("What comes of it").is_none());
    assert_eq!(layout(&window).raw(), before.raw());
}

/// A photograph's rings are taken up, and the wish before had back.
#[test]
fn a_wish_is_taken_from_a_photograph() {
    let home = tempfile::tempdir().unwrap();
    let path = photograph(home.path());
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Reveal");
    click(&mut window, "Wish…");
    click(&mut window, "Add a ring");
    click(&mut window, "Like a photograph…");
    name_file(&mut window, &path);
    wait(&mut window, "its rings", |window| window.query_by_label("From front.jpg.").is_some());
    let value = |window: &Window, label: &str| window.query_by_label(label).and_then(|field| field.value()).unwrap_or_default();
    let mm = |text: String| text.trim_end_matches(" mm").parse::<f64>().unwrap();
    // Made exactly as the open layout: on every bind lies an edge, but where rings are narrower than what the camera runs together.
    let edges: Vec<f64> =
        (1..30).map(|ring| value(&window, &format!("Ring {ring} to"))).filter(|to| !to.is_empty()).map(mm).collect();
    for bind in &layout(&window).binds().binds {
        let off = edges.iter().map(|edge| (edge - bind.radius_mm).abs()).fold(f64::INFINITY, f64::min);
        assert!(off < 3.0 || bind.radius_mm < 40.0, "{} mm: {edges:?}", bind.radius_mm);
    }
    click(&mut window, "Back to the wish before");
    assert!(window.query_by_label("Ring 2 to").is_none() && value(&window, "Ring 1 to") == "25 mm");
}

/// A wish is saved with its dyes and gradients, and comes back from its file; before the layout has a file it is refused.
#[test]
fn a_wish_is_saved_and_opened() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    wished(&mut window);
    click(&mut window, "Add a ring");
    click(&mut window, "Ring 1 gradient");
    let dyes = layout(&window).raw().colours.rotation.clone();
    let out = format!("Leave out {}", dyes[0].name);
    let path = home.path().join("wish.ron");
    click(&mut window, "Save wish…");
    name_file(&mut window, &path);
    assert!(window.query_by_label_contains("a wish names the file of its layout").is_some());
    press(&mut window, Modifiers::COMMAND, Key::S);
    name_file(&mut window, &home.path().join("bandana.ron"));
    click(&mut window, "Save wish…");
    name_file(&mut window, &path);
    let (saved, read) = read_wish(&path).unwrap();
    assert_eq!((saved.layout.as_str(), read.raw()), ("bandana.ron", layout(&window).raw()));
    let [from, to] = [&dyes[0], &dyes[1]].map(|dye| Tint::Dye(dye.name.clone()));
    assert_eq!(saved.parts[0].colour, WishColour::Ramp(from, to));
    // A dye that a ring is to have can't be left out unnoticed.
    click(&mut window, &out);
    click(&mut window, "Find binds");
    assert!(window.query_by_label_contains(&format!("\"{}\"", dyes[0].name)).is_some());
    click(&mut window, "Remove ring 1");
    click(&mut window, "Open wish…");
    name_file(&mut window, &path);
    assert!(window.query_by_label("Ring 1 colour outward").is_some(), "the gradient is back");
    assert!(window.query_by_label(&out).is_some(), "and the dye");
}
