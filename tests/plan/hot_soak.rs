//! Soaking loose dye out in hot water: how much of it, and in how many rounds.

use crate::{assert_close, regatta, tested_tee};
use pleatwright::plan::*;

fn plan(order: &Order) -> Plan {
    Plan::new(order, When::Start("2027-05-03T08:00".parse().unwrap())).unwrap()
}

/// Loads are packed for the soda soak's 10 L/kg; 20 L/kg of hot water for twelve tees were 35.1 L in a tub of 25. By hand: four fifths of the
/// tub are 20 L, and the rods of a round take their share of it.
#[test]
fn a_load_too_large_for_the_tub_is_soaked_in_rounds() {
    let order = regatta();
    let tub_l = order.raw().workshop.tub_l;
    let mut in_rounds = 0;
    for load in order.loads() {
        let soak = HotSoak::of(&order, load);
        assert_close!(soak.water.value, load.dry_g / 1000.0 * 20.0, 1e-9);
        let heaviest_kg = load.items.iter().map(|item| order.lines()[item.line].masses.dry_g).fold(0.0, f64::max) / 1000.0;
        let of_round = |garments: u32| f64::from(garments) * heaviest_kg * (20.0 + 1.0 + 1.0 / 1.54);
        assert!(of_round(soak.garments) <= 0.8 * tub_l, "load {}", load.number);
        assert!(soak.garments * soak.rounds >= load.garments);
        let one_less = soak.rounds - 1;
        assert!(one_less == 0 || of_round(load.garments.div_ceil(one_less)) > 0.8 * tub_l, "load {}", load.number);
        in_rounds += usize::from(soak.rounds > 1);
    }
    assert!(in_rounds >= 2);
}

/// Each round takes its hands and its time; the water is listed, and the labour of the rounds is paid for.
#[test]
fn rounds_stand_in_the_timetable() {
    let plan = plan(&regatta());
    let soaks =
        |load: u32| plan.timeline.entries.iter().find(|entry| entry.load == Some(load) && entry.step == "hot soak").unwrap();
    let twelve = plan.loads.iter().find(|load| load.garments == 12).unwrap();
    let entry = soaks(twelve.number);
    assert_eq!(entry.needs[0].0, "hot water, in 2 rounds of at most 6 garments");
    assert_eq!((entry.hands_min, entry.wait), (40, Some(Wait { least_min: 60, most_min: Some(240) })));
    assert!(entry.wait_words().unwrap().ends_with("the tub takes the load in 2 rounds."));
    assert!(plan.timeline.conflicts.is_empty());
    // The tub's water is no 95 °C.
    assert!(
        plan.timeline
            .entries
            .iter()
            .filter(|entry| entry.step == "hot soak")
            .all(|entry| entry.temperature.unwrap().to_c == 60.0)
    );
}

#[test]
fn one_garment_is_soaked_at_once() {
    let order = tested_tee();
    let soak = HotSoak::of(&order, &order.loads()[0]);
    assert_eq!((soak.rounds, soak.garments, soak.in_rounds()), (1, 1, None));
    let plan = plan(&order);
    let entry = plan.timeline.entries.iter().find(|entry| entry.step == "hot soak").unwrap();
    assert_eq!((entry.needs[0].0.as_str(), entry.wait), ("hot water", Some(Wait { least_min: 30, most_min: Some(120) })));
}
