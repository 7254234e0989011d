//! Recipe, process and order files: examples, round trips, errors that say where, texts however mangled.

use crate::{process, recipe, regatta, regatta_path};
use pleatwright::plan::*;
use pleatwright::store::*;
use proptest::prelude::*;
use std::path::Path;

fn said<T>(result: Result<T, (Option<pleatwright::store::Place>, TextError)>) -> String {
    match result {
        Ok(_) => "right".to_owned(),
        Err((Some(place), problem)) => format!("{}:{}: {problem}", place.line, place.column),
        Err((None, problem)) => problem.to_string(),
    }
}

#[test]
fn the_folders_and_the_program_hold_the_same_examples() {
    for (folder, examples) in [("recipes", &EXAMPLE_RECIPES[..]), ("processes", &EXAMPLE_PROCESSES), ("orders", &EXAMPLE_ORDERS)]
    {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts").join(folder);
        let mut found: Vec<String> =
            std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
        let mut shipped: Vec<String> = examples.iter().map(|example| example.name.to_owned()).collect();
        found.sort();
        shipped.sort();
        assert_eq!(found, shipped);
    }
}

#[test]
fn every_example_reads_and_comes_back_exactly() {
    for example in EXAMPLE_RECIPES {
        let recipe = parse_recipe(example.text).unwrap();
        assert_eq!(parse_recipe(&recipe_text(&recipe)).unwrap(), recipe, "{}", example.name);
    }
    for example in EXAMPLE_PROCESSES {
        let process = parse_process(example.text).unwrap();
        assert_eq!(parse_process(&process_text(&process)).unwrap(), process, "{}", example.name);
    }
    for example in EXAMPLE_ORDERS {
        let order = parse_order(example.text).unwrap();
        assert_eq!(parse_order(&order_text(&order)).unwrap(), order, "{}", example.name);
    }
    assert_eq!(file_kind(&regatta_path()).unwrap(), FileKind::Order);
}

#[test]
fn a_wrong_value_is_placed_and_named() {
    let text = EXAMPLE_RECIPES[0].text;
    let recipe = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        said(parse_recipe(&text.replacen(from, to, 1)))
    };
    let cases = [
        ("value: 40.0", "value: 400.0", "soda_ash.grams_per_litre: 400 is out of range"),
        ("value: 1.5", "value: NaN", "dye.method_factor: NaN is out of range"),
        ("format: 2", "format: 9", "2:5: format: unknown file format 9"),
        ("usual_shade", "usual_shad", "usual_shad"),
        ("status: Practice", "status: Certain", "Certain"),
    ];
    for (from, to, expected) in cases {
        let said = recipe(from, to);
        assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
    }
    let text = EXAMPLE_PROCESSES[0].text;
    let process = |from: &str, to: &str| said(parse_process(&text.replacen(from, to, 1)));
    assert!(
        process("least_min: 20, most_min: 60", "least_min: 90, most_min: 60").contains("steps.14.wait: the least wait, 90 min")
    );
    assert!(
        process("after: [\"weigh out\"]", "after: [\"weigh in\"]")
            .contains("choose read the label, discharge a scrap, soak a scrap, dye a scrap, judge the scrap")
    );
    assert!(process("name: \"spin\"", "name: \"wash\"").contains("\"wash\" appears twice; keep one or rename it"));
}

fn order_with(change: impl FnOnce(&mut OrderSpec)) -> Result<Order, PlanFileError> {
    let order = regatta();
    let mut raw = order.raw().clone();
    change(&mut raw);
    let layouts = raw.lines.iter().map(|line| read_layout(&regatta_path().with_file_name(&line.layout)).unwrap()).collect();
    let processes = ["discharge-and-dye", "plain-dye"].map(|name| (name.to_owned(), process(name)));
    Order::new(raw, OrderParts { recipes: vec![recipe("powder-under-ice")], processes: processes.into(), layouts })
}

#[test]
fn an_order_that_cannot_be_is_refused_by_name() {
    type Change = fn(&mut OrderSpec);
    let cases: [(Change, &str); 8] = [
        (|raw| raw.lines[1].count = 0, "lines.2.count: 0 is out of range"),
        (|raw| raw.lines.clear(), "lines: 0 entries; give 1 to 200"),
        (|raw| raw.workshop.tub_l = 1.0, "workshop.tub_l: one garment of"),
        (|raw| raw.workshop.hours.clear(), "workshop.hours: 0 entries; give 1 to 12"),
        (
            |raw| raw.depths.extend([("tael".to_owned(), ShadeDepth::Full)]),
            "depths.tael: \"tael\" is not a colour of the layouts; choose amber",
        ),
        (|raw| raw.supplies[0].packs[0].holds = 0.0, "supplies.1.packs.holds: 0 is out of range"),
        (|raw| raw.process = Some("mine".to_owned()), "process: \"mine\" is not a process; choose "),
        (
            |raw| raw.lines[4].size = Some("L".to_owned()),
            "lines.5.size: \"L\" is not a size of a tote bag; choose small, medium or large",
        ),
    ];
    for (change, expected) in cases {
        let said = order_with(change).map(|_| ()).unwrap_err().to_string();
        assert!(said.contains(expected), "said {said}\n not {expected}");
    }
    let mut recipe = recipe("powder-on-white");
    recipe.name = "bare".to_owned();
    let bare =
        Order::of_layout(crate::layout("harbour-row-tee-m.ron"), recipe, process("discharge-and-dye"), Workshop::default());
    assert!(bare.unwrap_err().to_string().contains("recipe \"bare\" has none"));
}

/// Files beside an order: the one that is wrong is named, with its own line.
#[test]
fn an_orders_error_names_the_file_and_the_line() {
    let folder = tempfile::tempdir().unwrap();
    let orders = folder.path().join("orders");
    std::fs::create_dir(&orders).unwrap();
    for example in EXAMPLE_LAYOUTS {
        std::fs::write(folder.path().join(example.name), example.text).unwrap();
    }
    let path = orders.join("order.ron");
    let with = |from: &str, to: &str| {
        std::fs::write(&path, EXAMPLE_ORDERS[0].text.replacen(from, to, 1)).unwrap();
        read_order(&path).map(|order| order.garments()).map_err(|error| error.to_string())
    };
    assert_eq!(with("count: 12", "count: 12"), Ok(33));
    let count = with("count: 12", "count: 0").unwrap_err();
    assert!(count.contains("order.ron:9:") && count.contains("lines.2.count"), "{count}");
    let missing = with("../harbour-row-tote.ron", "../harbour-row-boat.ron").unwrap_err();
    assert!(missing.contains("harbour-row-boat.ron: could not be read"), "{missing}");
    let kind = with("process: \"plain-dye\"", "process: \"my-own.ron\"").unwrap_err();
    assert!(kind.contains("my-own.ron: there is no such file; the built-in processes are"), "{kind}");
    let indoors = with("place: Outdoors", "place: Indoors(room_m3: 40.0)").unwrap_err();
    assert!(indoors.contains("order.ron:6:") && indoors.contains("ppm"), "{indoors}");
    // A maker's own sequence, beside the order.
    std::fs::write(orders.join("my-own.ron"), EXAMPLE_PROCESSES[1].text).unwrap();
    assert_eq!(with("process: \"plain-dye\"", "process: \"my-own.ron\""), Ok(33));
}

/// An order beside the example layouts, its text changed.
struct Desk {
    folder: tempfile::TempDir,
}

impl Desk {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        std::fs::create_dir(folder.path().join("orders")).unwrap();
        for example in EXAMPLE_LAYOUTS {
            std::fs::write(folder.path().join(example.name), example.text).unwrap();
        }
        Self { folder }
    }

    fn order(&self, changes: &[(&str, &str)]) -> Result<Order, String> {
        let mut text = EXAMPLE_ORDERS[0].text.to_owned();
        for (from, to) in changes {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        let path = self.folder.path().join("orders/order.ron");
        std::fs::write(&path, text).unwrap();
        read_order(&path).map_err(|error| error.to_string())
    }
}

/// An order that names neither recipe nor process: each layout's own process, and the recipe that suits them, as for a layout alone.
#[test]
fn recipe_and_process_are_chosen_where_an_order_names_none() {
    const RECIPE: (&str, &str) = ("    recipe: \"powder-under-ice\",\n", "");
    const PROCESS: (&str, &str) = ("    process: \"discharge-and-dye\",\n", "");
    let desk = Desk::new();
    let named = desk.order(&[]).unwrap();
    let own = desk.order(&[RECIPE, PROCESS, (", process: \"plain-dye\"", "")]).unwrap();
    assert_eq!((own.raw().recipe.as_deref(), own.raw().process.as_deref()), (None, None));
    let processes = |order: &Order| -> Vec<String> {
        order.lines().iter().map(|line| order.processes()[line.process].name.clone()).collect()
    };
    // Plum tees are discharged and unbleached bags are not, as the example says by name.
    assert_eq!(processes(&own), processes(&named));
    let of = |order: &Order, process: &str| -> String {
        let at = order.processes().iter().position(|own| own.name == crate::process(process).name).unwrap();
        order.recipes()[at].name.clone()
    };
    assert_eq!([of(&named, "discharge-and-dye"), of(&named, "plain-dye")], ["Powder under ice"; 2]);
    // Each process has its own: bags in a mixed order take what bags alone take.
    assert_eq!([of(&own, "discharge-and-dye"), of(&own, "plain-dye")], ["Powder under ice", "Powder on white"]);
    // Nothing to discharge: another recipe.
    let bags = desk.order(&[RECIPE, ("process: \"discharge-and-dye\"", "process: \"plain-dye\"")]).unwrap();
    assert_eq!(bags.recipes()[0].name, recipe("powder-on-white").name);
    let text = order_text(own.raw());
    assert!(!text.contains("recipe:") && parse_order(&text).unwrap() == *own.raw(), "{text}");
}

#[test]
fn all_that_an_order_lacks_is_told_at_once_with_the_choices() {
    let desk = Desk::new();
    let said = desk.order(&[
        ("recipe: \"powder-under-ice\"", "recipe: \"powder\""),
        ("process: \"discharge-and-dye\"", "process: \"dye\""),
        ("../harbour-row-tote.ron", "../harbour-row-boat.ron"),
    ]);
    let said = said.unwrap_err();
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines.len(), 3, "{said}");
    let choices = [
        "the built-in recipes are powder-under-ice, powder-on-white",
        "harbour-row-boat.ron",
        "the built-in processes are discharge-and-dye, plain-dye",
    ];
    for (line, needle) in lines.iter().zip(choices) {
        assert!(line.contains("there is no such file") && line.contains(needle), "{line}");
    }
    let said =
        desk.order(&[("name: \"Harbour Row regatta\",", ""), ("count: 6, ", ""), ("layout: \"../harbour-row-tote.ron\", ", "")]);
    let said = said.unwrap_err();
    assert!(said.contains("the fields \"name\", \"lines.1.count\" and \"lines.5.layout\" are missing; give them"), "{said}");
    let one = desk.order(&[("count: 6, ", "")]).unwrap_err();
    assert!(one.contains("order.ron:8:") && one.contains("the field \"count\" is missing"), "{one}");
}

/// Once every size of every kind was listed: months, ages, bags and tea towels for a shirt.
#[test]
fn an_unknown_size_lists_those_of_its_kind() {
    let said = Desk::new().order(&[("size: \"L\"", "size: \"XQ\"")]).unwrap_err();
    let end = "lines.3.size: \"XQ\" is not a size of a crew-neck tee; choose 0-3 months,";
    assert!(said.contains("order.ron:11:") && said.contains(end), "{said}");
    assert!(said.contains("4XL") && !said.contains("bandana") && !said.contains("medium"), "{said}");
    let layout = EXAMPLE_LAYOUTS[0].text.replacen("size: \"M\"", "size: \"bandana\"", 1);
    let (_, said) = parse_layout(&layout).unwrap_err();
    assert!(said.to_string().contains("garment.size") && !said.to_string().contains("tea towel"), "{said}");
}

fn mangled() -> impl Strategy<Value = String> {
    let newest = [EXAMPLE_RECIPES[0].text, EXAMPLE_PROCESSES[0].text, EXAMPLE_ORDERS[0].text, EXAMPLE_RECIPES[1].text];
    let of_format_1 = [
        include_str!("../forms/files/recipe-1.ron"),
        include_str!("../forms/files/process-1.ron"),
        include_str!("../forms/files/order-1.ron"),
    ];
    crate::common::mangle::mangled(newest.into_iter().chain(of_format_1).collect())
}

/// The order of one tee by this recipe and process, planned and written, whatever its numbers.
fn plan_through(recipe: Recipe, process: Process, workshop: Workshop) -> usize {
    let order = Order::of_layout(crate::layout("harbour-row-tee-s.ron"), recipe, process, workshop);
    let plan = order.ok().and_then(|order| Plan::new(&order, When::Start("2027-05-03T08:00".parse().unwrap())).ok());
    plan.map_or(0, |plan| plan_text(&plan, true).len() + calendar_text(&plan, None).len())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, rng_seed: proptest::test_runner::RngSeed::Fixed(7), ..ProptestConfig::default() })]

    #[test]
    fn no_text_panics(text in mangled()) {
        if let Ok(recipe) = parse_recipe(&text) {
            plan_through(recipe, process("plain-dye"), Workshop::default());
        }
        if let Ok(process) = parse_process(&text) {
            plan_through(recipe("powder-under-ice"), process, Workshop::default());
        }
        if let Ok(order) = parse_order(&text) {
            plan_through(recipe("powder-under-ice"), process("discharge-and-dye"), order.workshop);
        }
    }
}
