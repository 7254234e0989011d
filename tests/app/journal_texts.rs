//! What is written for the journal and not in it yet outlives the layout, the window and the program; and the journal is there without
//! a layout.

use crate::harness::{TEE, Window, click, fill, layout, press, wait, window, window_and_textures, write};
use crate::journal::{TEE_CARD, at_journal, is_there, journal, only_entry, two};
use egui::accesskit::Role;
use egui::{Key, Modifiers, ViewportCommand, ViewportEvent, ViewportId};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::store::journal::Draft;
use pleatwright::store::{EXAMPLE_LAYOUTS, layout_text, parse_layout};

fn field_says(window: &Window, label: &str) -> String {
    window.get_by_role_and_label(Role::MultilineTextInput, label).accesskit_node().value().unwrap_or_default()
}

fn example(index: usize) -> String {
    layout_text(parse_layout(EXAMPLE_LAYOUTS[index].text).unwrap().raw())
}

/// A run that ends without a word leaves its texts for the next one, which adds them with the layout that they are about.
#[test]
fn texts_survive_a_crash_and_are_added_with_their_layout() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = at_journal(home.path());
        fill(&mut window, "How it came out", "rings crisp, centre pale");
        for _ in 0..20 {
            window.step();
        }
    }
    let mut next = window(home.path());
    assert!(next.query_by_label_contains("rings crisp, centre pale").is_some(), "it is named on the welcome");
    click(&mut next, "Continue writing");
    click(&mut next, "Continue writing about Harbour Row tee, M");
    assert_eq!(field_says(&next, "How it came out"), "rings crisp, centre pale");
    fill(&mut next, "What to change", "one wrap more");
    click(&mut next, "Add to the journal");
    wait(&mut next, "the confirmation", is_there("Added Harbour Row tee, M"));
    let entry = only_entry(home.path());
    let raw = entry.raw();
    assert_eq!((raw.note.as_str(), raw.change.as_str()), ("rings crisp, centre pale", "one wrap more"));
    assert_eq!(raw.layout, example(0));
    drop(next);
    let after = window(home.path());
    assert!(after.query_by_label_contains("rings crisp").is_none(), "what is in the journal is not offered again");
}

/// What was written about one layout does not go to another that is opened.
#[test]
fn texts_stay_with_their_layout_when_another_is_opened() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_journal(home.path());
    fill(&mut window, "How it came out", "of the tee");
    press(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_label_contains("waiting in the journal").is_some());
    click(&mut window, "Harbour Row tote");
    click(&mut window, "View Journal");
    assert_eq!(field_says(&window, "How it came out"), "");
    fill(&mut window, "How it came out", "of the tote");
    click(&mut window, "Add to the journal");
    wait(&mut window, "the first", is_there("Added Harbour Row tote"));
    click(&mut window, "Continue writing about Harbour Row tee, M");
    click(&mut window, "Add to the journal");
    wait(&mut window, "the second", is_there("Added Harbour Row tee, M"));
    let entries = journal(home.path()).entries().unwrap();
    let said = |name: &str| entries.iter().find(|entry| entry.layout().name == name).map(|entry| entry.raw().note.clone());
    assert_eq!((said("Harbour Row tee, M"), said("Harbour Row tote")), (Some("of the tee".into()), Some("of the tote".into())));
    assert!(window.query_by_label("Not in the journal yet").is_none());
}

#[test]
fn what_is_thrown_away_can_be_taken_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = at_journal(home.path());
    fill(&mut window, "What to change", "tie it tighter");
    press(&mut window, Modifiers::COMMAND, Key::N);
    click(&mut window, "View Journal");
    click(&mut window, "Continue writing about Harbour Row tee, M");
    click(&mut window, "Discard");
    assert!(window.query_by_label("Continue writing about Harbour Row tee, M").is_none());
    click(&mut window, "Restore the discarded text about Harbour Row tee, M");
    assert_eq!(field_says(&window, "What to change"), "tie it tighter");
}

/// Closing names what is written; kept, it is there at the next start, and an amendment is in its entry's fields again.
#[test]
fn closing_names_the_texts_and_keeps_them() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    {
        let mut window = at_journal(home.path());
        wait(&mut window, "both", is_there("2 entries"));
        click(&mut window, TEE_CARD);
        fill(&mut window, "What to change", "two wraps more");
        close(&mut window);
        assert!(commands(&window).contains(&ViewportCommand::CancelClose));
        window.run_ok();
        assert!(window.query_by_label_contains("changes to Harbour Row tee, M, 3 May 2027").is_some());
        click(&mut window, "Cancel");
        assert!(window.query_by_label("Not in the journal yet").is_none());
        press(&mut window, Modifiers::COMMAND, Key::Q);
        click_without_rest(&mut window, "Keep for next time");
        assert!(commands(&window).contains(&ViewportCommand::Close));
        close(&mut window);
        assert!(!commands(&window).contains(&ViewportCommand::CancelClose), "it is asked once");
    }
    let mut next = window(home.path());
    click(&mut next, "View Journal");
    wait(&mut next, "both", is_there("2 entries"));
    click(&mut next, "Continue editing Harbour Row tee, M, 3 May 2027");
    assert_eq!(field_says(&next, "What to change"), "two wraps more");
    click(&mut next, "Save changes");
    wait(&mut next, "the confirmation", is_there("Saved Harbour Row tee, M, 3 May 2027"));
    assert_eq!(journal(home.path()).entry("2027-05-03-harbour-row-tee-m").unwrap().raw().change, "two wraps more");
}

#[test]
fn texts_are_thrown_away_only_when_that_is_said() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = at_journal(home.path());
        fill(&mut window, "How it came out", "muddy");
        press(&mut window, Modifiers::COMMAND, Key::Q);
        click_without_rest(&mut window, "Discard");
        assert!(commands(&window).contains(&ViewportCommand::Close));
    }
    assert!(window(home.path()).query_by_label_contains("muddy").is_none());
}

/// First the layout is asked about, then the texts; saving the layout goes on with what was asked for.
#[test]
fn layout_and_texts_are_asked_about_one_after_the_other() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, example(0)).unwrap();
    let mut window = crate::harness::window_with(home.path(), Some(path.clone()), crate::harness::SIZE);
    write(&mut window, "Guide arc", "215");
    let changed = window.state().layout_text();
    click(&mut window, "View Journal");
    fill(&mut window, "How it came out", "wider");
    press(&mut window, Modifiers::COMMAND, Key::Q);
    assert!(window.query_by_label("Save changes?").is_some());
    click(&mut window, "Save");
    assert_eq!(std::fs::read_to_string(&path).ok(), changed);
    assert!(window.query_by_label("Not in the journal yet").is_some());
    click_without_rest(&mut window, "Keep for next time");
    assert!(commands(&window).contains(&ViewportCommand::Close));
}

/// A second window does not take over what the first still works at.
#[test]
fn a_run_beside_another_leaves_it_its_work() {
    let home = tempfile::tempdir().unwrap();
    let mut first = window(home.path());
    click(&mut first, TEE);
    write(&mut first, "Guide arc", "200");
    click(&mut first, "View Journal");
    fill(&mut first, "How it came out", "written in the first window");
    for _ in 0..20 {
        first.step();
    }
    assert!(window(home.path()).query_by_label("Unsaved work").is_none());
    drop(first);
    let after = window(home.path());
    assert!(after.query_by_label("Recover").is_some());
    assert!(after.query_by_label_contains("written in the first window").is_some());
}

/// A file that can't be read is told about and left alone.
#[test]
fn texts_that_cannot_be_read_are_left_alone() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("unsaved-journal/1.ron");
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(&path, "(format: 1, new: coffee").unwrap();
    let window = window(home.path());
    assert!(window.query_by_label_contains("\"1.ron\": unsaved journal text can't be read; the file is left as it is").is_some());
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "(format: 1, new: coffee");
}

/// From the welcome: look, find, compare, and make something again, without a layout open before.
#[test]
fn the_journal_is_there_without_a_layout() {
    let home = tempfile::tempdir().unwrap();
    two(home.path());
    let mut window = window(home.path());
    click(&mut window, "Open the journal");
    wait(&mut window, "both", is_there("2 entries"));
    fill(&mut window, "Search", "crisp");
    assert!(window.query_by_label("1 of 2 entries").is_some());
    click(&mut window, TEE_CARD);
    click(&mut window, "Compare with…");
    window.get_by_label_contains("Harbour Row tote, 10 May 2027").click();
    window.run_ok();
    assert!(window.query_all_by_label("guide arc").next().is_some());
    click(&mut window, "View Start");
    assert!(window.query_by_label("Start with a garment").is_some());
    press(&mut window, Modifiers::ALT, Key::Num9);
    click(&mut window, "Open Harbour Row tee, M, 3 May 2027");
    click(&mut window, "Make again");
    assert_eq!(layout(&window).raw(), parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw());
    // A new layout is begun at the welcome, not in the journal.
    click(&mut window, "View Journal");
    press(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_label("Start with a garment").is_some());
}

/// The system asks the window to close.
fn close(window: &mut Window) {
    window.input_mut().viewports.get_mut(&ViewportId::ROOT).unwrap().events.push(ViewportEvent::Close);
    window.step();
    window.input_mut().viewports.get_mut(&ViewportId::ROOT).unwrap().events.clear();
}

/// Clicks and lets only the frame pass in which it is done, so that its commands can be seen.
fn click_without_rest(window: &mut Window, label: &str) {
    window.get_by_label(label).click();
    for _ in 0..6 {
        window.step();
        if !commands(window).is_empty() {
            return;
        }
    }
}

fn commands(window: &Window) -> &[ViewportCommand] {
    &window.output().viewport_output[&ViewportId::ROOT].commands
}

/// An entry without a photograph shows its design: as much of its picture is cloth as of the front's outline.
#[test]
fn an_entry_without_a_photograph_shows_its_design() {
    let home = tempfile::tempdir().unwrap();
    journal(home.path()).add(&Draft::new("2027-05-03".parse().unwrap(), example(0))).unwrap();
    let (mut window, textures) = window_and_textures(home.path());
    let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let panels = layout.panels();
    let bounds = panels.iter().map(|(_, panel)| panel.whole().bounds()).reduce(|a, b| a.union(b)).unwrap();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 192 pixels")]
    let width = (192.0 * bounds.width() / bounds.width().max(bounds.height())).ceil() as usize;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most 192 pixels")]
    let height = (192.0 * bounds.height() / bounds.width().max(bounds.height())).ceil() as usize;
    window.get_by_label("View Journal").click();
    let bytes = textures.next(&mut window, [width, height]);
    let cloth = bytes.chunks(4).map(|pixel| f64::from(pixel[3]) / 255.0).sum::<f64>() / (width * height) as f64;
    let share = panels.front.whole().area_mm2() / bounds.area();
    assert!((cloth - share).abs() < 0.01, "{cloth} of the picture, {share} of the outline");
}
