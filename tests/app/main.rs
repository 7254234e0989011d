//! The window, driven by the names of its controls, without a display; and once for real.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

mod alarm;
mod bars;
mod beside;
mod bundles;
mod bundles_handed_on;
mod cloth;
mod day;
mod day_run;
mod day_when;
#[path = "../common/drawn/mod.rs"]
mod drawn;
mod edges;
mod files;
mod fold_and_tie;
mod handbook;
mod hands;
mod harness;
mod held;
mod journal;
mod journal_texts;
mod learning;
mod lines;
mod mixtures;
mod notices;
mod orders;
mod outline;
mod painter;
mod photographs;
mod pictures;
mod presets;
mod projection;
mod random;
mod real_window;
mod recent;
mod recipes;
#[allow(dead_code, reason = "each test binary uses a part of it")]
#[path = "../common/reference.rs"]
mod reference;
mod region;
mod reveal;
mod run_ends;
mod sheets;
mod shelf;
mod small;
mod spirals;
mod squares;
mod sure;
mod swatches;
mod ties;
mod tour;
mod traced;
mod units;
mod wishes;

use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use harness::{TEE, click, drag, fine, layout, press, wait, window, write};
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};
use std::path::Path;

#[test]
fn a_garment_is_begun_from_its_picture() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    assert_eq!(window.state().layout_text(), None);
    click(&mut window, "Start with a tank");
    assert_eq!(layout(&window).garment().kind().name(), "tank");
}

#[test]
fn every_example_opens_and_every_step_shows() {
    for example in EXAMPLE_LAYOUTS {
        let home = tempfile::tempdir().unwrap();
        let mut window = window(home.path());
        let layout_of = parse_layout(example.text).unwrap();
        click(&mut window, layout_of.name());
        assert_eq!(layout(&window).raw(), layout_of.raw());
        for step in ["Garment", "Fold", "Binds", "Colours", "Rod", "Reveal", "Sheets", "Day", "Journal"] {
            click(&mut window, &format!("View {step}"));
        }
    }
}

#[test]
fn typed_lengths_with_units_and_sums_change_the_layout_and_undo_takes_them_back() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let before = window.state().layout_text();
    write(&mut window, "Guide arc", "8in + 5mm");
    // 208.2 mm, and chalked on the nearest mark of the layout's rule.
    assert!((layout(&window).raw().fold.burst().unwrap().guide_radius_mm - 208.2).abs() < 1e-9);
    assert!((layout(&window).guide_mm() - 208.0).abs() < 1e-9);
    assert!(window.query_by_label_contains("moved in by 0.2 mm to the nearest mark").is_some());
    write(&mut window, "Above the middle", "40");
    assert!((layout(&window).burst().unwrap().centre().y - (735.0 / 2.0 - 40.0)).abs() < 1e-9);
    let after = window.state().layout_text();
    for _ in 0..2 {
        window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        window.run_ok();
    }
    assert_eq!(window.state().layout_text(), before);
    for _ in 0..2 {
        window.key_press_modifiers(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
        window.run_ok();
    }
    assert_eq!(window.state().layout_text(), after);
}

#[test]
fn a_wrong_value_is_refused_and_changes_nothing() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let before = window.state().layout_text();
    write(&mut window, "Below the shoulder", "5000");
    assert_eq!(window.state().layout_text(), before);
    assert!(window.query_by_label_contains("is off the cloth; place it ").is_some());
    let field = window.get_by_role_and_label(Role::TextInput, "Below the shoulder");
    assert_eq!(field.accesskit_node().value().as_deref(), Some("5000"), "what was typed stays");
    write(&mut window, "Below the shoulder", "340");
    assert!(window.query_by_label_contains("is off the cloth; place it ").is_none());
    assert_ne!(window.state().layout_text(), before);
}

/// The burst centre is dragged down by its handle: one step, and the layout is still right.
#[test]
fn the_burst_centre_is_dragged_in_one_step() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let before = window.state().layout_text();
    let start = window.get_by_label("Burst centre handle").rect().center();
    drag(&mut window, start, vec2(0.0, 40.0));
    let dragged = layout(&window).burst().unwrap().centre();
    assert!(dragged.x == 0.0 && dragged.y > 330.0, "{dragged:?}");
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run_ok();
    assert_eq!(window.state().layout_text(), before);
}

/// From a new garment to a saved layout and a PDF, without the pointer.
#[test]
fn keys_alone_save_and_print() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    window.get_by_label("Start with a crew-neck tee").focus();
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
    assert!(window.state().layout_text().is_some());
    for (keys, name) in [(Key::S, "mine.ron"), (Key::P, "mine.pdf")] {
        press(&mut window, Modifiers::COMMAND, keys);
        let path = home.path().join(name);
        assert!(window.get_by_role_and_label(Role::TextInput, "File").is_focused(), "the name is asked for");
        press(&mut window, Modifiers::COMMAND, Key::A);
        window.get_by_role_and_label(Role::TextInput, "File").type_text(path.to_str().unwrap());
        window.run_ok();
        window.key_press(Key::Enter);
        wait(&mut window, name, |_| path.exists());
    }
    let saved = std::fs::read_to_string(home.path().join("mine.ron")).unwrap();
    assert_eq!(Some(saved), window.state().layout_text());
}

#[test]
fn the_finder_does_what_it_finds() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    assert!(window.query_by_label_contains("230 mm").is_some());
    window.key_press_modifiers(Modifiers::COMMAND, Key::K);
    window.run_ok();
    window.get_by_role_and_label(Role::TextInput, "Find a command").type_text("inch");
    window.run_ok();
    window.key_press(Key::Enter);
    window.run_ok();
    assert!(window.query_by_label_contains("19 of 1 1/2 in").is_some());
}

/// A run that ends without saving leaves its work for the next one.
#[test]
fn unsaved_work_is_offered_after_a_crash() {
    let home = tempfile::tempdir().unwrap();
    let text = {
        let mut window = window(home.path());
        click(&mut window, TEE);
        write(&mut window, "Guide arc", "200");
        for _ in 0..20 {
            window.step();
        }
        window.state().layout_text()
    };
    let mut next = window(home.path());
    click(&mut next, "Recover");
    assert_eq!(next.state().layout_text(), text);
}

/// Only the window's module knows the toolkit that it is drawn with.
#[test]
fn only_the_window_names_its_toolkit() {
    fn walk(folder: &Path, found: &mut Vec<String>) {
        for entry in std::fs::read_dir(folder).unwrap().map(Result::unwrap) {
            let path = entry.path();
            if path.is_dir() {
                if path.file_name().unwrap() != "app" {
                    walk(&path, found);
                }
            } else if path.extension().is_some_and(|ending| ending == "rs")
                && std::fs::read_to_string(&path).unwrap().contains("egui")
            {
                found.push(path.display().to_string());
            }
        }
    }
    let mut found = Vec::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut found);
    assert_eq!(found, [""; 0]);
}

/// Every command stands in the finder under its own words, and does what they say: here those that change nothing but the view.
#[test]
fn steps_and_views_are_reached_by_the_finder() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    for (words, shows) in [
        ("Go to the binds", "Gaps between binds, from the centre to the edge"),
        ("Go to the rod", "The bound rod, side on, its strip beneath"),
        ("Go to the garment", "Measurements"),
        ("Front, opened", "Garment, Front, opened"),
        ("Back, opened", "Garment, Back, opened"),
        ("As laid", "Garment, As laid"),
        ("Keys and pointer", "Keys and pointer"),
    ] {
        press(&mut window, Modifiers::COMMAND, Key::K);
        window.get_by_role_and_label(Role::TextInput, "Find a command").type_text(words);
        window.run_ok();
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert!(window.query_by_label(shows).is_some(), "{words}");
    }
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.query_by_label("Keys and pointer").is_none(), "closed");
    press(&mut window, Modifiers::COMMAND, Key::J);
    assert!(window.query_by_label("Bind numbers").is_none());
    press(&mut window, Modifiers::COMMAND, Key::J);
    assert!(window.query_by_label("Bind numbers").is_some());
}

/// A bar of the plot pulled up widens its gap by moving the bind away from the guide arc; one step.
#[test]
fn a_gap_is_dragged_wider_in_the_plot() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Binds");
    let before = layout(&window);
    let plot = window.get_by_label("Gaps between binds, from the centre to the edge").rect();
    let binds = &before.binds().binds;
    let guide = binds.iter().position(pleatwright::geometry::Bind::is_guide).unwrap();
    // The bar of the gap inside the guide arc, from the plot's own scale: 8 points of margin, the cloth's reach across.
    let reach_mm = pleatwright::layout::Figures::of(&before).fold.length_mm;
    let middle_mm = 0.5 * (binds[guide - 1].radius_mm + binds[guide].radius_mm);
    #[expect(clippy::cast_possible_truncation, reason = "a place on the screen")]
    let x = plot.left() + 8.0 + (plot.width() - 16.0) * (middle_mm / reach_mm) as f32;
    drag(&mut window, egui::pos2(x, plot.bottom() - 30.0), vec2(0.0, -70.0));
    let after = layout(&window);
    let gap_mm = |layout: &pleatwright::layout::Layout| {
        let binds = &layout.binds().binds;
        binds[guide].radius_mm - binds[guide - 1].radius_mm
    };
    assert!(gap_mm(&after) > gap_mm(&before) + 3.0, "{} mm after {} mm", gap_mm(&after), gap_mm(&before));
    assert_eq!(after.binds().binds[guide], before.binds().binds[guide]);
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert_eq!(layout(&window).raw(), before.raw());
}

/// Fields of every step, one after the other; then back to the start and forth to the end, byte by byte.
#[test]
fn changes_in_every_panel_are_undone_to_the_start_and_redone_to_the_end() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let start = window.state().layout_text();
    let fields = [
        ("View Garment", "Name", "Cox's shirt"),
        ("View Garment", "Half chest", "530"),
        ("View Garment", "Wash, length %", "-5"),
        ("View Fold", "Guide arc", "225"),
        ("View Fold", "From the centre line", "12"),
        ("View Fold", "Number of pleats", "17"),
        ("View Binds", "Guide arc", ""),
        ("View Rod", "Wraps", "4"),
        ("View Rod", "Tail length", "5 in"),
        ("View Colours", "Dye 1", "sea green"),
    ];
    let mut states = vec![start.clone()];
    for (step, field, text) in fields {
        click(&mut window, step);
        if text.is_empty() {
            click(&mut window, "Apply Tight heart");
        } else {
            write(&mut window, field, text);
        }
        let state = window.state().layout_text();
        assert_ne!(Some(&state), states.last(), "{field} changed nothing");
        states.push(state);
    }
    for state in states.iter().rev().skip(1) {
        press(&mut window, Modifiers::COMMAND, Key::Z);
        assert_eq!(window.state().layout_text(), *state);
    }
    for state in states.iter().skip(1) {
        press(&mut window, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
        assert_eq!(window.state().layout_text(), *state);
    }
}

/// Without a hand on it the window draws no frame of its own accord.
#[test]
fn an_idle_window_rests() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    for step in ["View Binds", "View Rod", "View Colours"] {
        click(&mut window, step);
        fine(&mut window);
        for _ in 0..40 {
            window.step();
        }
        let delay = window.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
        assert!(delay >= std::time::Duration::from_secs(1), "{step}: again after {delay:?}");
    }
}

/// The digits of "Alt+2" and "Alt+4" went into the name: the system sends them as text besides the key.
#[test]
fn keys_of_the_window_write_nothing_into_a_field() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    for (key, text) in [(Key::Num2, "2"), (Key::Num4, "4")] {
        click(&mut window, "View Garment");
        window.get_by_role_and_label(Role::TextInput, "Name").focus();
        window.run_ok();
        let modifiers = Modifiers::ALT;
        let key = Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers };
        window.input_mut().events.extend([key, Event::Text(text.to_owned())]);
        window.step();
        window.run_ok();
        assert!(window.query_by_role_and_label(Role::TextInput, "Name").is_none(), "the view is another");
        assert_eq!(layout(&window).name(), TEE);
    }
    // What is typed without such keys is.
    click(&mut window, "View Garment");
    write(&mut window, "Name", "Cox 24");
    assert_eq!(layout(&window).name(), "Cox 24");
}

/// Fields below the panel's edge took the keyboard out of sight, and so did what was wrong in them.
#[test]
fn a_field_that_the_keyboard_comes_to_is_seen() {
    let home = tempfile::tempdir().unwrap();
    let mut window = harness::window_with(home.path(), None, vec2(1024.0, 700.0));
    window.get_by_label(TEE).scroll_to_me();
    window.run_ok();
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    window.get_by_role_and_label(Role::TextInput, "Name").focus();
    window.run_ok();
    let seen = |rect: egui::Rect, what: &str| assert!(rect.top() >= 0.0 && rect.bottom() <= 700.0, "{what}: {rect:?}");
    let last = |window: &harness::Window| window.get_by_role_and_label(Role::TextInput, "Wash, width %").is_focused();
    for _ in 0..60 {
        if last(&window) {
            break;
        }
        press(&mut window, Modifiers::NONE, Key::Tab);
        let fields = window.query_all_by_role(Role::TextInput).filter(|node| node.is_focused());
        fields.for_each(|node| seen(node.rect(), &node.accesskit_node().label().unwrap_or_default()));
    }
    assert!(last(&window));
    window.get_by_role_and_label(Role::TextInput, "Wash, width %").type_text("shrinks");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    seen(window.get_by_label_contains("ot a number: ").rect(), "what is wrong");
}

/// A number alone, between 10 and XS, was a child's size and did not say so.
#[test]
fn sizes_of_children_say_so() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Garment");
    let size = |window: &harness::Window| layout(window).raw().garment.size.clone();
    window.get_by_role_and_label(Role::ComboBox, "Size").click();
    window.run_ok();
    assert!(window.query_by_label("12").is_none());
    click(&mut window, "child 12");
    assert_eq!(size(&window).as_deref(), Some("12"));
    click(&mut window, "View Day");
    wait(&mut window, "the plan", |window| window.query_by_label("Shopping list").is_some());
    click(&mut window, "Several sizes or designs");
    click(&mut window, "Size, row 1");
    assert!(window.query_by_label("child 14").is_some());
}

/// "mustard" changed the name alone, without a word.
#[test]
fn a_colours_name_that_is_not_known_says_so() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    click(&mut window, "View Colours");
    let first = |window: &harness::Window| layout(window).raw().colours.rotation[0].clone();
    for (name, digits) in [("mustard", "#cf9d27"), ("rust red", "#a94a25"), ("navy", "#000080")] {
        write(&mut window, "Dye 1", name);
        assert_eq!((first(&window).name.as_str(), first(&window).srgb.to_string().as_str()), (name, digits));
        assert!(window.query_by_label_contains("No colour is known by the name").is_none());
    }
    write(&mut window, "Dye 1", "harbour dusk");
    assert_eq!((first(&window).name.as_str(), first(&window).srgb.to_string().as_str()), ("harbour dusk", "#000080"));
    assert!(window.query_by_label_contains("No colour is known by the name \"harbour dusk\", so it stays as it is").is_some());
}

/// What is being written in a field counts when a key leads to another step.
#[test]
fn a_value_being_typed_is_not_lost_with_its_step() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    window.get_by_role_and_label(Role::TextInput, "Guide arc").focus();
    window.run_ok();
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, "Guide arc").type_text("215");
    window.run_ok();
    press(&mut window, Modifiers::ALT, Key::Num3);
    assert!(window.query_by_label("Gaps between binds, from the centre to the edge").is_some());
    assert!((layout(&window).guide_mm() - 215.0).abs() < 1e-9);
}

/// Every entry of every menu can be chosen, and leaves a right layout behind.
#[test]
fn every_entry_of_every_menu_does_no_harm() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    let mut chosen = 0;
    for menu in ["File", "Edit", "View", "Help"] {
        click(&mut window, menu);
        let entries: Vec<String> = buttons(&window);
        press(&mut window, Modifiers::NONE, Key::Escape);
        // What stands in the menu is what opening it has added.
        let closed = buttons(&window);
        for entry in
            entries.iter().filter(|entry| !closed.contains(entry) && *entry != "Quit" && !entry.starts_with("New layout"))
        {
            click(&mut window, menu);
            window.query_all_by_role_and_label(Role::Button, entry).last().unwrap_or_else(|| panic!("{menu}: {entry}")).click();
            window.run_ok();
            press(&mut window, Modifiers::NONE, Key::Escape);
            press(&mut window, Modifiers::NONE, Key::Escape);
            // A projection goes on until it is ended.
            if window.query_by_label("End").is_some() {
                click(&mut window, "End");
            }
            parse_layout(&window.state().layout_text().expect("the layout stays open")).unwrap();
            chosen += 1;
        }
    }
    assert!(chosen > 25, "{chosen} entries");
}

/// The View menu began to scroll after its first third, and a press on what seemed to lie below went to the panel behind.
#[test]
fn a_menu_shows_all_its_entries() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    for (entry, theme) in [("Paper and pencil", egui::Theme::Light), ("Slate and chalk", egui::Theme::Dark)] {
        window.get_by_label("View").click();
        window.run_ok();
        let at = window.get_all_by_label(entry).last().unwrap().rect().center();
        window.hover_at(at);
        window.run_ok();
        window.drag_at(at);
        window.drop_at(at);
        window.run_ok();
        assert_eq!(window.ctx.theme(), theme, "{entry}");
    }
}

fn buttons(window: &harness::Window) -> Vec<String> {
    let nodes = window.query_all_by_role(Role::Button);
    nodes.filter_map(|node| node.accesskit_node().label()).collect()
}

/// A file as the system hands it over.
#[derive(Debug)]
pub(crate) struct Dropped(pub(crate) std::path::PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// A layout file that is dropped on the window opens.
#[test]
fn a_dropped_file_opens() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("dropped.ron");
    std::fs::write(&path, EXAMPLE_LAYOUTS[6].text).unwrap();
    let mut window = window(home.path());
    window.input_mut().dropped_files.push(std::sync::Arc::new(Dropped(path)));
    window.run_ok();
    assert_eq!(layout(&window).raw(), parse_layout(EXAMPLE_LAYOUTS[6].text).unwrap().raw());
}
