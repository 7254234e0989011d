//! Recipes and processes chosen by name and changed in the window, saved as files of the maker's own.

use crate::harness::{SIZE, Window, click, fill, name_file, planned_day, press, wait, window_with, write};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use pleatwright::geometry::SourceStatus;
use pleatwright::plan::Chemistry;
use pleatwright::store::{EXAMPLE_LAYOUTS, read_process, read_recipe};

/// By the names of what comes with the program.
#[test]
fn recipe_and_process_are_chosen_from_a_list() {
    let home = tempfile::tempdir().unwrap();
    let mut window = planned_day(home.path());
    click(&mut window, "Process");
    click(&mut window, "Plain dye on white");
    wait(&mut window, "a plan without a discharge", |window| {
        window.query_by_label_contains("thiourea").is_none() && window.query_by_label("Shopping list").is_some()
    });
    click(&mut window, "Recipe");
    click(&mut window, "Powder on white");
    wait(&mut window, "its plan", |window| window.query_by_label("Shopping list").is_some());
    click(&mut window, "Process");
    click(&mut window, "automatic");
}

/// A figure out of range is refused beside its field and stays; a good one is saved with where it comes from, planned by, and read back.
#[test]
fn a_recipe_is_changed_saved_and_planned_by() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("blue.ron");
    {
        let mut window = planned_day(home.path());
        click(&mut window, "Edit the recipe");
        fill(&mut window, "Dye, medium shade", "400");
        press(&mut window, Modifiers::NONE, Key::Enter);
        assert!(window.query_by_label_contains("400 is out of range; give 0 to 100").is_some());
        let typed = window.get_by_role_and_label(Role::TextInput, "Dye, medium shade").accesskit_node().value();
        assert_eq!(typed.as_deref(), Some("400"));
        write(&mut window, "Dye, medium shade", "3");
        assert!(window.query_by_label_contains("is out of range").is_none());
        write(&mut window, "Recipe name", "Blue");
        press(&mut window, Modifiers::COMMAND, Key::Q);
        assert!(window.query_by_label("\"Blue\" has unsaved changes.").is_some());
        click(&mut window, "Cancel");
        click(&mut window, "Save the recipe");
        name_file(&mut window, &path);
        wait(&mut window, "the file", |_| path.exists());
        click(&mut window, "To weigh");
        // Dye on the section's cloth, as the library weighs it with this recipe, stands in the formula.
        click(&mut window, "Formulas");
        wait(&mut window, "the plan by it", |window| window.query_all_by_label_contains("3 %").next().is_some());
        // By its own name, which its file's once stood for.
        let chosen = window.get_by_role_and_label(Role::ComboBox, "Recipe").accesskit_node().value();
        assert_eq!(chosen.as_deref(), Some("Blue"));
    }
    let mut wanted = read_recipe(std::path::Path::new("powder-under-ice")).unwrap();
    wanted.name = "Blue".to_owned();
    wanted.dye.percent.medium.value = 3.0;
    wanted.dye.percent.medium.status = SourceStatus::Memory;
    wanted.dye.percent.medium.source = "your own figure, was 2".to_owned();
    assert_eq!(read_recipe(&path).unwrap(), wanted);
    // Opened again.
    let tee = home.path().join("tee.ron");
    std::fs::write(&tee, EXAMPLE_LAYOUTS[0].text).unwrap();
    let mut window = window_with(home.path(), Some(tee), SIZE);
    click(&mut window, "View Day");
    click(&mut window, "Recipe");
    click(&mut window, "From a file…");
    name_file(&mut window, &path);
    click(&mut window, "Edit the recipe");
    let shown = window.get_by_role_and_label(Role::TextInput, "Dye, medium shade").accesskit_node().value();
    assert_eq!(shown.as_deref(), Some("3"));
}

/// What lies beside the table once jumped when a recipe was saved: while the plan was made anew, there was none.
#[test]
fn saving_a_recipe_leaves_the_pane_where_it_is() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("blue.ron");
    let mut window = planned_day(home.path());
    click(&mut window, "Edit the recipe");
    write(&mut window, "Dye, medium shade", "3");
    click(&mut window, "Save the recipe");
    name_file(&mut window, &path);
    wait(&mut window, "the file", |_| path.exists());
    (0..20).for_each(|_| window.step());
    write(&mut window, "Dye, medium shade", "3.5");
    let button = |window: &Window, label: &str| window.get_by_label(label).rect();
    window.get_by_label("Rods on the rack").scroll_to_me();
    window.run_ok();
    let before = button(&window, "Rods on the rack");
    // Without looking for it first, which scrolls too.
    window.get_by_label("Save the recipe").click();
    for turn in 0..40 {
        window.step();
        let now = button(&window, "Rods on the rack");
        assert!((now.top() - before.top()).abs() < 1.0, "{turn}: {before:?} {now:?}");
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
}

/// A process is changed step by step; what it is said to hold does not silence what the agent gives off.
#[test]
fn a_process_is_changed_and_keeps_its_cautions() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("slow.ron");
    let mut window = planned_day(home.path());
    click(&mut window, "Edit the process");
    let at = read_process(std::path::Path::new("discharge-and-dye")).unwrap();
    let number = at.steps.iter().position(|step| step.name == "discharge").unwrap() + 1;
    click(&mut window, &format!("{number}. discharge"));
    write(&mut window, "Hands-on per load, min", "17");
    fill(&mut window, "Hands-on per garment, min", "90000");
    press(&mut window, Modifiers::NONE, Key::Enter);
    assert!(window.query_by_label_contains("90000 min is out of range; give 0 to 86400 min").is_some());
    write(&mut window, "Hands-on per garment, min", "1");
    click(&mut window, "The bath holds");
    click(&mut window, "water");
    click(&mut window, "Save the process");
    name_file(&mut window, &path);
    wait(&mut window, "the file", |_| path.exists());
    let mut wanted = at.clone();
    wanted.steps[number - 1].hands.load_min = 17;
    wanted.steps[number - 1].hands.garment_min = 1;
    wanted.steps[number - 1].chemistry = Chemistry::Plain;
    assert_eq!(read_process(&path).unwrap(), wanted);
    click(&mut window, "Cautions");
    wait(&mut window, "its cautions", |window| {
        window.query_all_by_label_contains("A hot discharge gives off sulfur dioxide").next().is_some()
    });
    // Undone by the keys.
    click(&mut window, "Process being edited");
    press(&mut window, Modifiers::COMMAND, Key::Z);
    assert!(window.query_by_label_contains("slow.ron, not saved").is_some());
}
