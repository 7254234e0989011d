//! The shelf: read by every plan, taken from by runs, kept as safely as the journal.

use crate::{layout, process, recipe, tested_tee};
use pleatwright::plan::*;
use pleatwright::store::journal::*;
use pleatwright::store::*;

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

fn shelf() -> Shelf {
    let supply = |material, on_hand, packs| Supply { material, on_hand, packs };
    let mut shelf = Shelf { currency: "EUR".to_owned(), ..Shelf::default() };
    shelf.set(supply(Material::Dye("teal".to_owned()), 0.5, vec![Pack { holds: 50.0, price: 4.9 }]));
    shelf.set(supply(Material::SodaAsh, 5000.0, Vec::new()));
    shelf.set(supply(Material::Thread, 3.0, vec![Pack { holds: 100.0, price: 7.0 }]));
    shelf.set_blank(Blank { name: blank_name(&layout("harbour-row-tee-m.ron")), on_hand: 1, price: Some(3.5) });
    shelf
}

fn three_tees() -> Order {
    let of = OfGarments { count: 3, scrap_tested: true, ..OfGarments::default() };
    Order::of_garments(layout("harbour-row-tee-m.ron"), of, recipe("powder-under-ice"), process("discharge-and-dye")).unwrap()
}

/// What is there, what is missing and what it costs; by hand: a pack of 50 g for whatever teal is missing, two shirts at 3.50.
#[test]
fn every_plan_reads_the_shelf() {
    let plan = Plan::new(&three_tees().with_shelf(shelf()), start()).unwrap();
    let line = |of: Material| plan.shopping.iter().find(|line| line.material == of).unwrap();
    let teal = line(Material::Dye("teal".to_owned()));
    assert!(teal.needed.value > 0.5 && teal.needed.value < 50.0, "{}", teal.needed);
    assert_eq!((teal.on_hand, teal.packs.len(), teal.price), (0.5, 1, Some(4.9)));
    let soda = line(Material::SodaAsh);
    assert_eq!((soda.missing, soda.price), (0.0, Some(0.0)));
    // Thread is counted in metres once the shelf knows it so.
    assert_eq!((line(Material::Thread).needed.unit, line(Material::Thread).on_hand), (Unit::Metre, 3.0));
    let blank = &plan.blanks[0];
    assert_eq!((blank.needed, blank.on_hand, blank.missing, blank.price), (3, 1, 2, Some(7.0)));
    let text = plan_text(&plan, false);
    for words in ["1 x 50 g   4.90 EUR", "2, 7.00 EUR"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    // Without one the plan is as it ever was.
    let bare = Plan::new(&three_tees(), start()).unwrap();
    assert!(bare.blanks.is_empty() && bare.shopping.iter().all(|line| line.on_hand == 0.0));
}

/// By hand: the shirt at 3.50 as the shelf says; teal at 4.90 for 50 g is 0.098 a gram, thread at 7.00 for 100 m is 0.07 a metre, and
/// nothing else has a price; a fifth more is asked. The shirt once counted as nothing.
#[test]
fn an_undyed_garment_costs_what_the_shelf_says() {
    let name = blank_name(&layout("harbour-row-tee-m.ron"));
    let planned = |blank_price, shelf: Shelf| {
        let mut raw = three_tees().raw().clone();
        raw.lines[0].blank_price = blank_price;
        raw.money = Some(Money { currency: "EUR".to_owned(), hourly_rate: 0.0, margin_percent: 20.0 });
        let processes = vec![(raw.process.clone().unwrap(), process("discharge-and-dye"))];
        let (recipes, layouts) = (vec![recipe("powder-under-ice")], vec![layout("harbour-row-tee-m.ron")]);
        let order = Order::new(raw, OrderParts { recipes, processes, layouts }).unwrap().with_shelf(shelf);
        Plan::new(&order, start()).unwrap()
    };
    let plan = planned(None, shelf());
    let costs = plan.costs.as_ref().unwrap();
    let each = &plan.lines[0].each;
    let teal_g = each.dyes.iter().find(|dye| dye.colour == "teal").unwrap().dye.value;
    let materials = teal_g * 0.098 + each.thread.value_in(Unit::Metre) * 0.07;
    let line = &costs.lines[0];
    assert_eq!(line.blank, Some(3.5));
    assert!((line.materials - materials).abs() < 1e-9, "{} for {materials}", line.materials);
    assert!((line.price - (3.5 + materials) * 1.2).abs() <= 0.005, "{}", line.price);
    assert_eq!(costs.unpriced_garments, [""; 0]);
    let unpriced = costs.not_counted().unwrap();
    assert!(unpriced.contains("soda ash") && !unpriced.contains("teal") && !unpriced.contains(&name), "{unpriced}");
    // To buy: two shirts, a pack of teal, a reel of thread.
    assert_eq!(plan.shopping_total(), Some("18.90 EUR".to_owned()));
    // What the order says counts before the shelf; what nobody says is told.
    assert_eq!(planned(Some(9.0), shelf()).costs.unwrap().lines[0].blank, Some(9.0));
    let bare = planned(None, Shelf::default());
    let costs = bare.costs.as_ref().unwrap();
    let words = costs.lines[0].words();
    assert_eq!((words.blank.as_str(), words.materials.as_str()), ("no price", "no price"));
    assert!(costs.not_counted().unwrap().starts_with(&format!("Not counted, price unknown: {name}; ")));
    assert!(costs.total_words().ends_with("asking price 0.00 EUR, without what has no price."));
    let text = plan_text(&bare, false);
    assert!(text.contains("no price") && text.contains("without what has no price"), "{text}");
}

/// What the order itself says of a material counts before the shelf.
#[test]
fn an_order_speaks_before_the_shelf() {
    let order = crate::regatta();
    let own = order.raw().supplies[0].clone();
    let mut shelf = shelf();
    shelf.set(Supply { on_hand: own.on_hand + 1000.0, ..own.clone() });
    let order = order.with_shelf(shelf);
    assert_eq!(order.supply(&own.material), Some(&own));
}

/// A run takes what its plan uses, no more than there is; a shelf that does not know a material stays as it is.
#[test]
fn a_run_takes_what_its_plan_used() {
    let plan = Plan::new(&tested_tee(), start()).unwrap();
    let run = parse_run(&run_text(&Run::of(&plan).unwrap())).unwrap();
    let used = |of: Material| run.raw().used.iter().find(|used| used.material == of).unwrap().amount;
    let thread = plan.totals.materials.iter().find(|total| total.material == Material::Thread).unwrap();
    assert!((used(Material::Thread) - thread.amount.value_in(Unit::Metre)).abs() < 1e-9);
    let before = shelf();
    let (after, taken) = before.after(&run.raw().used, &run.raw().layouts);
    let soda = after.supply(&Material::SodaAsh).unwrap().on_hand;
    assert!((5000.0 - soda - used(Material::SodaAsh)).abs() < 1e-9);
    assert_eq!(after.supply(&Material::Dye("teal".to_owned())).unwrap().on_hand, 0.0, "there was less than it took");
    assert_eq!((after.blanks[0].on_hand, after.supplies.len()), (0, before.supplies.len()));
    assert!(taken.iter().any(|words| words.starts_with("soda ash: ")) && taken.len() == 4, "{taken:?}");
}

/// Beside the entries, and none of them; every change kept, one step taken back.
#[test]
fn it_lies_in_the_journals_store_and_one_step_takes_a_change_back() {
    let folder = tempfile::tempdir().unwrap();
    let journal = Journal::at(folder.path().join("journal"));
    assert_eq!(journal.shelf().unwrap(), Shelf::default());
    assert!(journal.undo_shelf().unwrap().is_none());
    journal.keep_shelf(&shelf()).unwrap();
    let entry = journal.add(&Draft::new("2027-05-03".parse().unwrap(), EXAMPLE_LAYOUTS[0].text.to_owned())).unwrap();
    assert_eq!(journal.entries().unwrap(), [entry]);
    journal.change_shelf(|shelf| shelf.blanks.clear()).unwrap();
    assert!(journal.shelf().unwrap().blanks.is_empty());
    assert_eq!(journal.undo_shelf().unwrap(), Some(shelf()));
    assert_eq!(journal.shelf().unwrap(), shelf());
    assert!(journal.undo_shelf().unwrap().unwrap().blanks.is_empty(), "a second time takes that back");
    let said = journal.entry("shelf").unwrap_err().to_string();
    assert!(!said.contains("=shelf"), "{said}");
    let mut wrong = shelf();
    wrong.supplies[0].on_hand = f64::NAN;
    let said = journal.keep_shelf(&wrong).unwrap_err().to_string();
    assert!(said.starts_with("the shelf: supplies.1.on_hand: "), "{said}");
}

/// A damaged store gives back the shelf too, as it gives back the entries.
#[test]
fn a_damaged_store_gives_the_shelf_back() {
    let folder = tempfile::tempdir().unwrap();
    let journal = Journal::at(folder.path().to_owned());
    journal.add(&Draft::new("2027-05-03".parse().unwrap(), EXAMPLE_LAYOUTS[0].text.to_owned())).unwrap();
    journal.keep_shelf(&shelf()).unwrap();
    std::fs::write(folder.path().join("journal.redb"), "coffee ".repeat(2000)).unwrap();
    assert!(journal.shelf().unwrap_err().is_damage());
    let salvaged = journal.salvage().unwrap();
    assert!(salvaged.shelf && salvaged.entries.len() == 1 && salvaged.lost.is_empty(), "{salvaged:?}");
    assert!(salvaged.sentences().iter().any(|line| line == "recovered the shelf"), "{:?}", salvaged.sentences());
    assert_eq!(journal.shelf().unwrap(), shelf());
}

#[test]
fn its_file_reads_back_and_says_what_is_wrong() {
    let text = shelf_text(&shelf());
    assert_eq!(parse_shelf(&text).unwrap(), shelf());
    let twice = text.replace("SodaAsh", "Thread");
    let (place, problem) = parse_shelf(&twice).unwrap_err();
    assert!(place.is_some() && problem.to_string().contains("\"thread\" appears twice"), "{place:?} {problem}");
    let (_, problem) = parse_shelf(&text.replace("format: 1", "format: 9")).unwrap_err();
    assert!(problem.to_string().contains('9'), "{problem}");
}
