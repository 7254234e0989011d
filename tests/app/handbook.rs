//! The handbook in the window: the page about the step at hand beside the work, its links, its search.

use crate::harness::{SIZE, TEE, Window, click, press, wait, window, window_with};
use egui::accesskit::Role;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable as _;
use pleatwright::handbook::{Block, pages};

/// Opens the handbook by its key and waits for its pages.
fn open(window: &mut Window, title: &str) {
    press(window, Modifiers::NONE, Key::F1);
    wait(window, "the page", |window| is_shown(window, title));
}

/// Whether a page with this title is open.
fn is_shown(window: &Window, title: &str) -> bool {
    let is_open = window.query_by_role_and_label(Role::TextInput, "Search the handbook").is_some();
    is_open && window.query_all_by_role_and_label(Role::Label, title).next().is_some()
}

/// Presses the link of these words, wherever on the page it is.
fn follow(window: &mut Window, words: &str) {
    for press in [false, true] {
        let link = window.get_by_role_and_label(Role::Link, words);
        if press {
            link.click();
        } else {
            link.scroll_to_me();
        }
        window.run_ok();
    }
}

fn title(name: &str) -> String {
    pages().iter().find(|page| page.name() == name).unwrap().title().to_owned()
}

/// Every step has a page, which its key opens beside the step and closes again.
#[test]
fn the_key_opens_the_page_about_the_step() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    open(&mut window, &title("garment"));
    press(&mut window, Modifiers::NONE, Key::F1);
    assert!(!is_shown(&window, &title("garment")), "the key closes it");
    click(&mut window, TEE);
    for step in ["Garment", "Fold", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
        click(&mut window, &format!("View {step}"));
        open(&mut window, &title(&step.to_lowercase()));
        assert!(window.query_by_role_and_label(Role::Tab, &format!("View {step}")).is_some());
        press(&mut window, Modifiers::NONE, Key::F1);
        assert!(!is_shown(&window, &title(&step.to_lowercase())), "the key closes it");
    }
    // The work goes on beside it, and an open page goes with the work.
    open(&mut window, &title("journal"));
    click(&mut window, "View Fold");
    wait(&mut window, "the page about folding", |window| is_shown(window, &title("fold")));
    assert!(window.query_by_label("Garment, As laid").is_some());
    crate::harness::write(&mut window, "Guide arc", "201");
    click(&mut window, "Close");
    assert!(window.query_by_label("Search the handbook").is_none());
}

/// On a bundle or a spiral the key opened what is told of every fold, not of that one.
#[test]
fn the_key_opens_the_page_of_the_fold_that_there_is() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Fold");
    open(&mut window, &title("fold"));
    for (fold, page) in [("Fold: into stripes", "flat"), ("Fold: into a spiral", "spiral")] {
        click(&mut window, fold);
        wait(&mut window, "the page of the fold", |window| is_shown(window, &title(page)));
        press(&mut window, Modifiers::NONE, Key::F1);
        assert!(!is_shown(&window, &title(page)), "the key closes it");
        open(&mut window, &title(page));
    }
}

/// A page that the maker has turned to stays when the step changes.
#[test]
fn a_page_that_was_turned_to_stays() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    open(&mut window, &title("fold"));
    click(&mut window, "Contents");
    follow(&mut window, &title("cautions"));
    click(&mut window, "View Day");
    window.run_ok();
    assert!(is_shown(&window, &title("cautions")));
}

#[test]
fn links_lead_on_and_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    open(&mut window, &title("fold"));
    click(&mut window, "Contents");
    assert!(window.query_by_role_and_label(Role::Link, &title("glossary")).is_some());
    follow(&mut window, &title("model"));
    assert!(is_shown(&window, &title("model")));
    click(&mut window, "Back");
    click(&mut window, "Back");
    assert!(is_shown(&window, &title("fold")));
}

#[test]
fn what_is_looked_for_is_found() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    open(&mut window, &title("fold"));
    let field = |window: &Window, then: &dyn Fn(egui_kittest::Node<'_>)| {
        then(window.get_by_role_and_label(Role::TextInput, "Search the handbook"));
    };
    field(&window, &|field| field.focus());
    window.run_ok();
    field(&window, &|field| field.type_text("respirator"));
    window.run_ok();
    let found = window.query_all_by_role(Role::Link).count();
    assert!(found > 0, "no page tells of a respirator");
    field(&window, &|field| field.type_text(" zzz"));
    window.run_ok();
    assert!(window.query_by_label("No page has \"respirator zzz\".").is_some());
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(is_shown(&window, &title("fold")), "Escape gives the page back");
}

/// Where there is no room beside the work it takes the work's place, and nothing of it is wider than the window.
#[test]
fn a_small_window_shows_it_in_place_of_the_step() {
    let home = tempfile::tempdir().unwrap();
    for (size, is_beside) in [(vec2(760.0, 520.0), false), (SIZE, true)] {
        let mut window = window_with(home.path(), None, size);
        click(&mut window, TEE);
        open(&mut window, &title("fold"));
        assert_eq!(window.query_by_label("Garment, As laid").is_some(), is_beside);
        for page in pages() {
            click(&mut window, "Contents");
            follow(&mut window, page.title());
            assert!(is_shown(&window, page.title()), "{}", page.name());
            let right = window.query_all_by_role(Role::Label).map(|label| label.rect().right()).fold(0.0, f32::max);
            assert!(right <= size.x + 0.5, "{} at {size:?}: {right}", page.name());
        }
        click(&mut window, "Close");
        assert!(window.query_by_label("Garment, As laid").is_some());
    }
}

/// A picture is drawn on another thread and stands in its place then.
#[test]
fn pictures_come() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Binds");
    open(&mut window, &title("binds"));
    click(&mut window, "Contents");
    let with_picture =
        pages().iter().find(|page| page.blocks().iter().any(|block| matches!(block, Block::Figure { .. }))).unwrap();
    follow(&mut window, with_picture.title());
    let caption = with_picture.blocks().iter().find_map(|block| match block {
        Block::Figure { caption, .. } => Some(caption.iter().map(|run| run.text.as_str()).collect::<String>()),
        _ => None,
    });
    let caption = caption.unwrap();
    wait(&mut window, "the picture", |window| window.query_by_role_and_label(Role::Image, &caption).is_some());
}

/// A warning leads to what the handbook says of it.
#[test]
fn a_warning_leads_to_its_entry() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    crate::harness::write(&mut window, "Pleat depth", "8");
    click(&mut window, "What this means");
    wait(&mut window, "the entry", |window| is_shown(window, &title("warnings-pleats")));
}
