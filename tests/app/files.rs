//! Files in the window: saving, foreign changes, unsaved work, settings.

use crate::harness::{TEE, click, layout, name_file, press, wait, window, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::store::{EXAMPLE_LAYOUTS, layout_text, parse_layout};

fn example_text() -> String {
    layout_text(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw())
}

#[test]
fn a_file_changed_by_another_program_is_asked_about_before_it_is_saved_over() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, example_text()).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), crate::harness::SIZE);
    write(&mut window, "Guide arc", "210");
    let foreign = example_text().replace(TEE, "Written by hand");
    std::thread::sleep(std::time::Duration::from_millis(20));
    std::fs::write(&path, &foreign).unwrap();
    press(&mut window, Modifiers::COMMAND, Key::S);
    assert!(window.query_by_label("The file was changed by another program").is_some());
    assert_eq!(std::fs::read_to_string(&path).unwrap(), foreign);
    click(&mut window, "Cancel");
    press(&mut window, Modifiers::COMMAND, Key::S);
    click(&mut window, "Overwrite");
    assert_eq!(Some(std::fs::read_to_string(&path).unwrap()), window.state().layout_text());
    assert_eq!(std::fs::read_to_string(home.path().join("shirt.ron.bak")).unwrap(), foreign);
}

/// A press beside the dialog put it away, and what was written in it.
#[test]
fn a_press_beside_a_dialog_does_not_cancel_it() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, "File").type_text("mine");
    window.run_ok();
    for pressed in [true, false] {
        let pos = egui::pos2(20.0, 800.0);
        window.event(egui::Event::PointerMoved(pos));
        let button = egui::PointerButton::Primary;
        window.event(egui::Event::PointerButton { pos, button, pressed, modifiers: Modifiers::NONE });
    }
    window.run_ok();
    let written = window.query_by_role_and_label(Role::TextInput, "File").and_then(|field| field.accesskit_node().value());
    assert_eq!(written.as_deref(), Some("mine"));
    click(&mut window, "Cancel");
    assert!(window.query_by_role_and_label(Role::TextInput, "File").is_none());
    press(&mut window, Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    press(&mut window, Modifiers::NONE, Key::Escape);
    assert!(window.query_by_role_and_label(Role::TextInput, "File").is_none());
}

/// What would be printed, and on what, stood only in another view.
#[test]
fn the_print_dialog_says_what_is_printed() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::P);
    wait(&mut window, "the sheets", |window| window.query_by_label_contains(" sheets on A4").is_some());
    let about = window.get_by_label_contains(" sheets on A4").accesskit_node();
    let about = about.label().or_else(|| about.value()).unwrap();
    // As many as are printed, by what is told then.
    let path = home.path().join("tee.pdf");
    name_file(&mut window, &path);
    wait(&mut window, "the file", |_| path.exists());
    wait(&mut window, "what was printed", |window| window.query_by_label_contains("tee.pdf: ").is_some());
    let printed = window.get_by_label_contains("tee.pdf: ").accesskit_node();
    let printed = printed.label().or_else(|| printed.value()).unwrap();
    let words: Vec<&str> = printed.split([' ', ',']).collect();
    let pages: u32 =
        words.windows(2).filter(|pair| pair[1].starts_with("page")).map(|pair| pair[0].parse::<u32>().unwrap()).sum();
    assert!(about.starts_with(&format!("{pages} sheets on A4")), "{about}; {printed}");
    for part in ["template", "job card"] {
        assert!(about.contains(part), "{about}");
    }
}

#[test]
fn opening_again_takes_what_the_other_program_wrote() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, example_text()).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), crate::harness::SIZE);
    std::thread::sleep(std::time::Duration::from_millis(20));
    std::fs::write(&path, example_text().replace(TEE, "Written by hand")).unwrap();
    window.event(egui::Event::WindowFocused(true));
    window.run_ok();
    click(&mut window, "Reopen");
    assert_eq!(layout(&window).name(), "Written by hand");
}

#[test]
fn changes_are_not_left_without_a_question() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    write(&mut window, "Guide arc", "210");
    let changed = window.state().layout_text();
    press(&mut window, Modifiers::COMMAND, Key::N);
    click(&mut window, "Cancel");
    assert_eq!(window.state().layout_text(), changed);
    press(&mut window, Modifiers::COMMAND, Key::N);
    click(&mut window, "Don't save");
    assert_eq!(window.state().layout_text(), None);
}

#[test]
fn look_units_and_view_are_remembered() {
    let home = tempfile::tempdir().unwrap();
    {
        let mut window = window(home.path());
        click(&mut window, TEE);
        for (menu, entry) in [("View", "Inches"), ("View", "Front, opened")] {
            click(&mut window, menu);
            let entries: Vec<_> = window.get_all_by_label_contains(entry).collect();
            entries[0].click();
            window.run_ok();
        }
    }
    let mut next = window(home.path());
    click(&mut next, TEE);
    assert!(next.query_by_label("Garment, Front, opened").is_some());
    assert!(next.query_by_label_contains("19 of 1 1/2 in").is_some());
}

/// What is printed from the window is byte for byte what the library makes, and is offered to be opened.
#[test]
fn the_printed_file_is_the_librarys() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::P);
    let path = home.path().join("shirt.pdf");
    name_file(&mut window, &path);
    wait(&mut window, "the offer to open it", |window| window.query_by_label("Open").is_some());
    assert_eq!(std::fs::read(&path).unwrap(), crate::real_window::printed(&layout(&window), &path));
}

/// A file that is no layout is told about, with its place; what is open stays.
#[test]
fn a_broken_file_is_refused_with_its_place() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("broken.ron");
    std::fs::write(&path, "(format: 1,\n name: 3,\n)").unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::O);
    name_file(&mut window, &path);
    assert!(window.query_by_label_contains("\"broken.ron\", line 2: ").is_some());
    assert_eq!(layout(&window).name(), TEE);
}

/// Not every system has a picker: a file is found by looking through folders, and a name without a folder stands in the one shown.
#[test]
fn a_file_is_chosen_from_its_folder() {
    let home = tempfile::tempdir().unwrap();
    let orders = home.path().join("orders");
    std::fs::create_dir(&orders).unwrap();
    std::fs::write(orders.join("shirt.ron"), example_text()).unwrap();
    std::fs::write(orders.join("list.txt"), "no layout").unwrap();
    std::fs::write(home.path().join("settings.ron"), format!("(folder: Some({:?}))", home.path())).unwrap();
    let mut window = window(home.path());
    press(&mut window, Modifiers::COMMAND, Key::O);
    click(&mut window, "folder orders");
    assert!(window.query_by_label("file list.txt").is_none(), "only what can be opened is listed");
    click(&mut window, "file shirt.ron");
    window.get_by_role_and_label(Role::Button, "Open").click();
    window.run_ok();
    assert_eq!(layout(&window).name(), TEE);
    // Saved beside it under a name alone; its ending is added.
    press(&mut window, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
    press(&mut window, Modifiers::COMMAND, Key::A);
    window.get_by_role_and_label(Role::TextInput, "File").type_text("second");
    window.run_ok();
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert_eq!(std::fs::read_to_string(orders.join("second.pleat")).unwrap(), example_text());
}

/// Where nothing was opened before, the folder is told all the same: a bare name would land wherever the program was started.
#[test]
fn a_file_to_be_saved_has_its_folder_from_the_start() {
    let home = tempfile::tempdir().unwrap();
    let mut window = window(home.path());
    click(&mut window, TEE);
    press(&mut window, Modifiers::COMMAND, Key::S);
    let field = window.get_by_role_and_label(Role::TextInput, "File").accesskit_node().value().unwrap();
    assert!(std::path::Path::new(&field).is_absolute(), "{field}");
}

/// It used to be saved over without a question.
#[cfg(unix)]
#[test]
fn a_write_protected_file_is_asked_about() {
    use std::os::unix::fs::PermissionsExt as _;
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, example_text()).unwrap();
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o444)).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), crate::harness::SIZE);
    write(&mut window, "Guide arc", "210");
    press(&mut window, Modifiers::COMMAND, Key::S);
    assert!(window.query_by_label("The file is write-protected").is_some());
    click(&mut window, "Cancel");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), example_text());
    press(&mut window, Modifiers::COMMAND, Key::S);
    click(&mut window, "Remove protection and save");
    assert_eq!(Some(std::fs::read_to_string(&path).unwrap()), window.state().layout_text());
    // Printed over, another such file is asked about too.
    let sheets = home.path().join("shirt.pdf");
    std::fs::write(&sheets, "mine").unwrap();
    std::fs::set_permissions(&sheets, std::fs::Permissions::from_mode(0o444)).unwrap();
    press(&mut window, Modifiers::COMMAND, Key::P);
    name_file(&mut window, &sheets);
    assert!(window.query_by_label("The file is write-protected").is_some());
    click(&mut window, "Cancel");
    assert_eq!(std::fs::read(&sheets).unwrap(), b"mine");
}

/// A removed file used to be called changed by another program, and closing the window lost what it had held.
#[test]
fn a_removed_file_is_called_gone_and_saved_anew() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("shirt.ron");
    std::fs::write(&path, example_text()).unwrap();
    let mut window = window_with(home.path(), Some(path.clone()), crate::harness::SIZE);
    std::fs::remove_file(&path).unwrap();
    window.event(egui::Event::WindowFocused(true));
    window.run_ok();
    assert!(window.query_by_label_contains("has changed on disk").is_none());
    assert!(window.query_by_label_contains("shirt.ron no longer exists; save to write it again").is_some());
    press(&mut window, Modifiers::COMMAND, Key::N);
    assert!(window.query_by_label("Save changes?").is_some());
    click(&mut window, "Cancel");
    press(&mut window, Modifiers::COMMAND, Key::S);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), example_text());
}

/// A file that was opened by its name used to hide that an earlier run left changes to it, or to another layout.
#[test]
fn a_file_opened_by_name_tells_of_unsaved_work() {
    let home = tempfile::tempdir().unwrap();
    let paths = ["first.ron", "second.ron"].map(|name| home.path().join(name));
    paths.iter().for_each(|path| std::fs::write(path, example_text()).unwrap());
    {
        let mut window = window_with(home.path(), Some(paths[0].clone()), crate::harness::SIZE);
        assert!(window.query_by_label_contains("earlier run").is_none());
        write(&mut window, "Guide arc", "210");
        for _ in 0..20 {
            window.step();
        }
    }
    // Another file: where the work is to be found.
    let mut other = window_with(home.path(), Some(paths[1].clone()), crate::harness::SIZE);
    assert!(other.query_by_label_contains("Unsaved work is kept from an earlier run: ").is_some());
    click(&mut other, "Show it");
    assert!(other.query_by_label("Unsaved work").is_some());
    drop(other);
    // The same file, by another way to it: the work is taken up, with its file.
    let by_way = home.path().join(".").join("first.ron");
    let mut same = window_with(home.path(), Some(by_way), crate::harness::SIZE);
    assert!(same.query_by_label_contains("Unsaved changes to ").is_some());
    click(&mut same, "Recover");
    assert!(same.state().layout_text().unwrap().contains("guide_radius_mm: 210"));
    press(&mut same, Modifiers::COMMAND, Key::S);
    assert!(std::fs::read_to_string(&paths[0]).unwrap().contains("guide_radius_mm: 210"));
}

/// Two rows of one name used to look alike.
#[test]
fn unsaved_work_is_told_apart_by_file_and_time() {
    let home = tempfile::tempdir().unwrap();
    let paths = ["first.ron", "second.ron"].map(|name| home.path().join(name));
    for path in &paths {
        std::fs::write(path, example_text()).unwrap();
        let mut window = window_with(home.path(), Some(path.clone()), crate::harness::SIZE);
        write(&mut window, "Guide arc", "210");
        for _ in 0..20 {
            window.step();
        }
    }
    let mut next = window(home.path());
    for path in &paths {
        let words = format!("in {}, kept 20", path.display());
        assert!(next.query_by_label_contains(&words).is_some(), "{words}");
    }
    // Taken up, it is saved where it belongs.
    let again: Vec<_> = next.get_all_by_label("Recover").collect();
    again[0].click();
    next.run_ok();
    press(&mut next, Modifiers::COMMAND, Key::S);
    assert_eq!(Some(std::fs::read_to_string(&paths[0]).unwrap()), next.state().layout_text());
    assert!(std::fs::read_to_string(&paths[0]).unwrap().contains("guide_radius_mm: 210"));
}
