//! Several ties in the window: put on, chosen, changed one by one, and seen together.

use crate::drawn::scene::{Scene, SceneOptions, jpeg};
use crate::drawn::ties::{Made, PLANNED, layout as three_ties};
use crate::harness::{TEE, Window, click, drag, layout, press, wait, window, window_with, write};
use crate::photographs::{holding, measured, read};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::geometry::Panel;
use pleatwright::photo::{Plan, named_points};
use pleatwright::reveal::Cancel;
use pleatwright::store::{layout_text, marks_path, save_marks};

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
    assert!(window.query_by_label("At a glance: Heart").is_some(), "after a step back too");
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
    write(&mut window, "Own dye", "mustard");
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

/// A photograph of several ties in the window: each is told under its name, with its rings and sections, and the loose cloth by itself.
#[test]
fn a_photograph_of_several_ties_is_told_tie_by_tie() {
    let home = tempfile::tempdir().unwrap();
    let planned = three_ties(PLANNED);
    let file = home.path().join("three.ron");
    std::fs::write(&file, layout_text(planned.raw())).unwrap();
    let made = Plan::of(&three_ties(Made { gaps_mm: [26.5, 20.0], ..PLANNED }), Panel::Front, &Cancel::new()).unwrap();
    let options = SceneOptions { size: [1200, 900], tilt_deg: 4.0, sleeve_deg: 0.0, ..SceneOptions::default() };
    let scene = Scene::new(43, &made, options);
    let photograph = home.path().join("front.jpg");
    std::fs::write(&photograph, jpeg(&scene.render(), None, None)).unwrap();
    save_marks(&marks_path(&photograph), &scene.marks(&named_points(&planned, Panel::Front))).unwrap();
    let mut window = window_with(home.path(), Some(file), crate::harness::SIZE);
    click(&mut window, "View Reveal");
    holding(&mut window, &photograph);
    read(&mut window);
    measured(&mut window);
    for words in ["Big", "Side", "Heart", "Big: rings", "Side: sections", "Loose cloth"] {
        assert!(window.query_all_by_label(words).next().is_some(), "{words}");
    }
    for words in ["Big, ring 1: planned 32 mm", "Side, ring 4: planned 94 mm", "Heart, section 2: #"] {
        assert!(window.query_all_by_label_contains(words).next().is_some(), "{words}");
    }
    assert!(window.query_all_by_label_contains("Ring 1 came 5 mm farther in than planned").next().is_some());
    // Rings are wished for on one tie, which is said before anything else is asked.
    let mut other = window_with(home.path(), Some(home.path().join("three.ron")), crate::harness::SIZE);
    click(&mut other, "View Reveal");
    click(&mut other, "Wish…");
    assert!(other.query_by_label_contains("This layout has 3 ties").is_some() && other.query_by_label("Find binds").is_none());
}
