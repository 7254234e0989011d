//! Recipes, processes, orders and runs.

use crate::{has_keys, is_file, renamed, text};
use pleatwright::plan::form::{OrderV1, OrderV2, ProcessV1, ProcessV2, RecipeV1, RecipeV2, RunV1, ShelfV1};
use pleatwright::store::{
    Place, TextError, order_text, parse_order, parse_process, parse_recipe, parse_run, process_text, read_order, recipe_text,
    run_text,
};
use std::fmt::Debug;

#[test]
fn the_keys_of_plans_are_those_of_their_formats() {
    has_keys::<RecipeV1>("recipe-1.txt", 1);
    has_keys::<RecipeV2>("recipe-2.txt", 2);
    has_keys::<ProcessV1>("process-1.txt", 1);
    has_keys::<ProcessV2>("process-2.txt", 2);
    has_keys::<OrderV1>("order-1.txt", 1);
    has_keys::<OrderV2>("order-2.txt", 2);
    has_keys::<RunV1>("run-1.txt", 1);
    has_keys::<ShelfV1>("shelf-1.txt", 1);
}

/// What reads and writes one kind of file.
type Ways<T> = (fn(&str) -> Result<T, (Option<Place>, TextError)>, fn(&T) -> String);

/// Rewrites files of format 1 and holds them against those of format 2; what the program wrote has only words changed.
fn rewritten<T: PartialEq + Debug>(kind: &str, (parse, write): Ways<T>, words: &[(&str, &str)]) {
    for name in ["", "-by-hand", "-least"] {
        let old = parse(&text(&format!("{kind}-1{name}.ron"))).unwrap_or_else(|(place, problem)| panic!("{place:?}: {problem}"));
        let made = write(&old);
        is_file(&format!("{kind}-2{name}.ron"), &made);
        let new = parse(&made).unwrap_or_else(|(place, problem)| panic!("{place:?}: {problem}"));
        assert_eq!(old, new, "{kind}{name}");
        assert_eq!(made, write(&new), "{kind}{name}");
    }
    assert_eq!(text(&format!("{kind}-2.ron")), renamed(&text(&format!("{kind}-1.ron")), words));
}

#[test]
fn recipes_are_rewritten_in_the_newest_format() {
    let words = [
        ("format: 1", "format: 2"),
        ("usual_depth", "usual_shade"),
        (" depths: {", " shades: {"),
        ("strewn_per_gram_of_dye", "sprinkled_per_gram_of_dye"),
    ];
    rewritten("recipe", (parse_recipe, recipe_text), &words);
}

#[test]
fn processes_are_rewritten_in_the_newest_format() {
    let words = [("format: 1", "format: 2"), ("SodaStrewn", "SodaAshSprinkled"), ("SodaSoak", "SodaAshSoak")];
    rewritten("process", (parse_process, process_text), &words);
}

#[test]
fn orders_are_rewritten_in_the_newest_format() {
    let words = [("format: 1", "format: 2"), (" depths: {", " shades: {"), ("mix_grounds", "mix_garment_colours")];
    rewritten("order", (parse_order, order_text), &words);
}

/// A run's only format is still written.
#[test]
fn a_run_half_done_is_read_and_written_as_it_stands() {
    let own = text("run-1.ron");
    let run = parse_run(&own).unwrap();
    assert_eq!(run_text(&run), own);
    let ticked = run.steps().filter(|step| step.begun.is_some() || step.finished.is_some()).count();
    assert!(ticked > 5 && run.steps().count() > ticked && run.steps().any(|step| step.left_out), "{ticked}");
    assert!(run.steps().any(|step| !step.note.is_empty()));
}

/// What is wrong with an order is known only when its layouts are read.
#[test]
fn an_order_names_its_own_keys() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("tee.ron"), text("layout-1-by-hand.ron")).unwrap();
    let path = folder.path().join("order.ron");
    for (format, key) in [(1, "depths"), (2, "shades")] {
        let line = "lines: [(layout: \"tee.ron\", count: 2)]";
        let order = format!("(\n    format: {format},\n    name: \"Two\",\n    {line},\n    {key}: {{\"tael\": Full}},\n)\n");
        std::fs::write(&path, order).unwrap();
        let said = read_order(&path).unwrap_err().to_string();
        assert!(
            said.contains(&format!("order.ron:5:{}: {key}.tael: \"tael\" is not a colour of the layouts", 8 + key.len())),
            "{said}"
        );
    }
}
