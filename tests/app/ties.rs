//! Several ties in the window: put on, chosen, changed one by one, and seen together.

use crate::harness::{TEE, Window, click, drag, layout, press, wait, window, write};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;

fn names(window: &Window) -> Vec<String> {
    layout(window).raw().tie_names().map(str::to_owned).collect()
}

/// A second tie and its mirror image; each is changed by itself, what is about the garment holds for all, and each step goes back.
#[test]
fn sleeves_are_tied_besides_and_changed_one_by_one() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    let before = layout(&window);
    click(&mut window, "Add a tie");
    assert_eq!(names(&window), ["Burst", "Burst 2"]);
    write(&mut window, "Name", "Left sleeve");
    // Out of the way of the other first: what it took is not there for this one.
    write(&mut window, "From the centre line", "240");
    write(&mut window, "Below the shoulder", "170");
    write(&mut window, "From the centre line", "330");
    click(&mut window, "Same again, mirrored");
    assert_eq!(names(&window), ["Burst", "Left sleeve", "Right sleeve"]);
    let middles =
        |window: &Window| -> Vec<f64> { layout(window).ties().iter().filter_map(|tie| Some(tie.middle()?.x)).collect() };
    assert_eq!(middles(&window), [0.0, 330.0, -330.0]);
    // The panel is about the tie that was put on last; a click on another is about that.
    write(&mut window, "Guide arc", "40 mm");
    click(&mut window, "2  Left sleeve");
    write(&mut window, "Guide arc", "50 mm");
    let guides = |window: &Window| -> Vec<f64> { layout(window).ties().iter().map(|tie| tie.guide_mm()).collect() };
    assert_eq!(guides(&window)[1..], [50.0, 40.0]);
    assert_eq!(guides(&window)[0], before.guide_mm());
    click(&mut window, "Earlier");
    assert_eq!(names(&window), ["Left sleeve", "Burst", "Right sleeve"]);
    click(&mut window, "Loose cloth");
    click(&mut window, "plum");
    assert_eq!(layout(&window).loose().unwrap().swatch.unwrap().name, "plum");
    click(&mut window, "Take off");
    click(&mut window, "Take off");
    assert_eq!(names(&window).len(), 0);
    assert!(!layout(&window).is_of_several() && window.query_by_label("Ties").is_none());
}

/// Rows of the list are dragged to another place in the order: one step, undone as one; beside its own place nothing is done.
#[test]
fn ties_are_dragged_to_another_place_in_the_order() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row heart and bursts tee, M");
    click(&mut window, "View Fold");
    let order = |window: &Window| names(window).join(" ");
    let row = |window: &Window, label: &str| window.get_by_label(label).rect();
    assert_eq!(order(&window), "Heart Left sleeve Right sleeve Hem");
    let (from, to) = (row(&window, "4  Hem"), row(&window, "2  Left sleeve"));
    drag(&mut window, from.center(), vec2(0.0, to.top() + 2.0 - from.center().y));
    assert_eq!(order(&window), "Heart Hem Left sleeve Right sleeve");
    // The tie that was worked on stays so.
    assert!(window.query_by_label("At a glance: Heart").is_some());
    let (from, to) = (row(&window, "1  Heart"), row(&window, "4  Right sleeve"));
    drag(&mut window, from.center(), vec2(0.0, to.bottom() - 2.0 - from.center().y));
    assert_eq!(order(&window), "Hem Left sleeve Right sleeve Heart");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(order(&window), "Heart Hem Left sleeve Right sleeve");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(order(&window), "Heart Left sleeve Right sleeve Hem");
    // Onto the lower half of the row above it stays where it is, and so it does when it is let go beside the list.
    let (from, to) = (row(&window, "3  Right sleeve"), row(&window, "2  Left sleeve"));
    drag(&mut window, from.center(), vec2(0.0, to.bottom() - 2.0 - from.center().y));
    drag(&mut window, from.center(), vec2(-400.0, 300.0));
    assert_eq!(order(&window), "Heart Left sleeve Right sleeve Hem");
}

/// The loose cloth in a dye that no tie has: it is named, looks so, is weighed and bought.
#[test]
fn loose_cloth_gets_a_dye_of_its_own() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row heart and bursts tee, M");
    click(&mut window, "View Colours");
    click(&mut window, "Loose cloth");
    click(&mut window, "another dye");
    write(&mut window, "Loose cloth's dye", "mustard");
    let loose = layout(&window).loose().unwrap().swatch.unwrap();
    assert_eq!(loose.name, "mustard");
    assert!(layout(&window).raw().ties.as_ref().unwrap().loose.is_none());
    assert!(layout(&window).swatches().iter().any(|swatch| **swatch == loose));
    click(&mut window, "View Day");
    wait(&mut window, "the plan", |window| window.query_all_by_label_contains("mustard").next().is_some());
}

/// The other steps show which tie they are about, and let another be chosen; reveal and sheets are of all.
#[test]
fn each_step_is_about_one_tie_or_all() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, "Harbour Row heart and bursts tee, M");
    for step in ["View Binds", "View Colours", "View Rod"] {
        click(&mut window, step);
        click(&mut window, "Hem");
        assert!(window.query_by_label("At a glance: Hem").is_some(), "{step}");
        click(&mut window, "Heart");
        assert!(window.query_by_label("At a glance: Heart").is_some(), "{step}");
    }
    click(&mut window, "View Reveal");
    wait(&mut window, "the table of sections", |window| window.query_by_label("Reached").is_some());
    assert!(window.query_by_label("1: 1").is_some() && window.query_by_label("4: 7").is_some());
    click(&mut window, "View Sheets");
    wait(&mut window, "the sheets", |window| window.query_by_label_contains("sheets on A4").is_some());
    for sheet in ["Heart A1", "Left sleeve A1", "Hem A1"] {
        assert!(window.query_all_by_label_contains(sheet).count() > 0, "{sheet}");
    }
}
