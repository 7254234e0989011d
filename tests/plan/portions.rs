//! Whose amounts stand beside a step: one garment's, a load's or the whole order's.

use crate::{layout, process, recipe, regatta};
use pleatwright::layout::Figures;
use pleatwright::measure::LengthStyle;
use pleatwright::plan::*;
use pleatwright::print::parts::{CardOptions, job_card_with};
use pleatwright::print::{Drawing, Shape};

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

fn words(pages: &[Drawing]) -> String {
    let text = |item: &pleatwright::print::Item| if let Shape::Text(text) = &item.shape { Some(text.text.clone()) } else { None };
    pages.iter().flat_map(|page| page.items.iter().filter_map(text)).collect::<Vec<_>>().join(" ")
}

fn five_tees() -> Order {
    let (layout, process) = (layout("harbour-row-tee-m.ron"), process("discharge-and-dye"));
    Order::of_garments(layout, OfGarments { count: 5, ..OfGarments::default() }, recipe("powder-under-ice"), process).unwrap()
}

fn dye(masses: &GarmentMasses, colour: &str) -> f64 {
    masses.dyes.iter().find(|dye| dye.colour == colour).unwrap().dye.value
}

/// A card for one of five once said "Have ready: dye, teal" with what all five take, beside one garment's own amounts.
#[test]
fn a_cards_day_tells_one_garments_share_from_the_loads() {
    let order = five_tees();
    let plan = Plan::new(&order, start()).unwrap();
    let line = &order.lines()[0];
    let card = CardOptions { plan: Some(&plan), ..CardOptions::default() };
    let said = words(&job_card_with(&line.layout, &Figures::of(&line.layout), LengthStyle::default(), &card));
    let teal = dye(&line.masses, "teal");
    let (one, five) = (Unit::Gram.say(teal), Unit::Gram.say(5.0 * teal));
    assert_ne!(one, five);
    assert!(said.contains(&format!("Have ready for one garment: dye, teal: {one};")), "{said}");
    assert!(!said.contains(&format!("dye, teal: {five};")), "{said}");
    assert!(said.contains("Have ready for the load of 5: soda ash"), "{said}");
    // Only a scrap's water and soda ash are for no garment.
    assert_eq!(said.matches("Have ready: ").count(), said.matches("Have ready: water: 0.").count(), "{said}");
}

/// "Into lidded pots, one for each garment": each pot, then the sum as a sum; in the text, the calendar and the run.
#[test]
fn weighing_out_tells_every_pot_and_the_sum_as_a_sum() {
    let order = regatta();
    let plan = Plan::new(&order, start()).unwrap();
    let text = plan_text(&plan, false).split_whitespace().collect::<Vec<_>>().join(" ");
    let calendar = calendar_text(&plan, None).replace("\r\n ", "").replace("\\,", ",").replace("\\;", ";");
    let run = Run::of(&plan).unwrap();
    let weighing: Vec<_> = run.steps().filter(|step| step.name == "weigh out").collect();
    assert_eq!(weighing.len(), 2);
    let run_words = weighing.iter().flat_map(RunStep::needs_words).collect::<Vec<_>>().join(" ");
    for (line, at) in order.lines().iter().zip(1..) {
        let teal = Unit::Gram.say(dye(&line.masses, "teal"));
        let pot = format!("For each of {} x {}: dye, teal: {teal};", line.count, line.layout.name());
        for (said, what) in [(&text, "text"), (&calendar, "calendar"), (&run_words, "run")] {
            assert!(said.contains(&pot), "line {at}, {what}: {pot} in {said}");
        }
    }
    let teal = |process: usize| -> f64 {
        let lines = order.lines().iter().filter(|line| line.process == process);
        lines.map(|line| f64::from(line.count) * dye(&line.masses, "teal")).sum()
    };
    for (process, garments) in [(0, 30), (1, 3)] {
        let sum = format!("Together for all {garments} garments: dye, teal: {};", Unit::Gram.say(teal(process)));
        assert!(text.contains(&sum) && calendar.contains(&sum) && run_words.contains(&sum), "{sum}");
    }
    // The shares of every step add up to what it has ready.
    for entry in plan.timeline.entries.iter().filter(|entry| !entry.shares.is_empty()) {
        assert_eq!(entry.shares.iter().map(|share| share.count).sum::<u32>(), entry.garments);
        for (name, amount) in &entry.needs {
            let of = |share: &Share| {
                let own = share.needs.iter().find(|(needed, _)| needed == name).map_or(0.0, |(_, own)| own.value_in(amount.unit));
                f64::from(share.count) * own
            };
            let sum: f64 = entry.shares.iter().map(of).sum();
            assert!((sum - amount.value).abs() <= 1e-9 * amount.value, "{} {name}: {sum} and {}", entry.step, amount.value);
        }
    }
}

/// For one garment there is nothing to tell apart.
#[test]
fn one_garments_amounts_are_simply_had_ready() {
    let order = Order::of_layout(
        layout("harbour-row-tee-m.ron"),
        recipe("powder-under-ice"),
        process("discharge-and-dye"),
        Workshop::default(),
    );
    let plan = Plan::new(&order.unwrap(), start()).unwrap();
    assert!(plan.timeline.entries.iter().all(|entry| entry.shares.is_empty()));
    let weighing = plan.timeline.entries.iter().find(|entry| entry.step == "weigh out").unwrap();
    assert!(weighing.needs_words().len() == 1 && weighing.needs_words()[0].starts_with("Have ready: dye, teal: "));
    assert_eq!(weighing.needs_words(), weighing.needs_words_of(0));
    let run = Run::of(&plan).unwrap();
    let bath = run.steps().find(|step| step.name == "heat the bath").unwrap().needs_words();
    assert!(bath[0].starts_with("water: ") && bath[1].starts_with("soda ash: "), "{bath:?}");
}

/// Half a litre for a scrap was once had ready "for all 30 garments".
#[test]
fn a_scraps_amounts_are_not_all_garments() {
    let plan = Plan::new(&regatta(), start()).unwrap();
    let scraps: Vec<_> =
        plan.timeline.entries.iter().filter(|entry| entry.step.ends_with(" scrap") && !entry.needs.is_empty()).collect();
    assert_eq!(scraps.len(), 3, "discharged once, soaked for each process");
    for entry in scraps {
        assert!(entry.needs_words()[0].starts_with("Have ready: water: 0."), "{:?}", entry.needs_words());
    }
}
