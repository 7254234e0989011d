//! Dyes taken from swatches, and kept among them.

use crate::harness::{TEE, click, layout, name_file, press, window};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use pleatwright::store::read_swatches;

#[test]
fn a_dye_is_added_from_the_swatches_kept_and_carried_to_another_home() {
    let (home, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let out = other.path().join("given-away.ron");
    {
        let mut window = window(home.path());
        click(&mut window, TEE);
        click(&mut window, "View Colours");
        click(&mut window, "Add from swatches");
        click(&mut window, "moss");
        assert_eq!(layout(&window).raw().colours.rotation.last().unwrap().name, "moss");
        let keep = window.get_all_by_label("Keep").last().unwrap();
        keep.click();
        window.run_ok();
        assert!(window.query_by_label("Added moss").is_some());
        press(&mut window, Modifiers::COMMAND, Key::K);
        window.get_by_role_and_label(egui::accesskit::Role::TextInput, "Find a command").type_text("export swatches");
        window.run_ok();
        press(&mut window, Modifiers::NONE, Key::Enter);
        name_file(&mut window, &out);
    }
    assert_eq!(read_swatches(&out).unwrap().swatches()[0].colour.name, "moss");
    let mut next = window(other.path());
    click(&mut next, TEE);
    press(&mut next, Modifiers::COMMAND, Key::K);
    next.get_by_role_and_label(egui::accesskit::Role::TextInput, "Find a command").type_text("import swatches");
    next.run_ok();
    press(&mut next, Modifiers::NONE, Key::Enter);
    name_file(&mut next, &out);
    assert_eq!(read_swatches(&other.path().join("swatches.ron")).unwrap().swatches().len(), 1);
}
