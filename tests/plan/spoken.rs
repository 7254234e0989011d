//! What a maker is told, step by step: sentences that could be followed to harm, and that none of them comes back. What is right to do is
//! common practice, no source, where a check names none.

use crate::{layout, process, recipe, regatta};
use pleatwright::layout::{DyeBy, Figures, Layout};
use pleatwright::measure::LengthStyle;
use pleatwright::plan::*;
use pleatwright::print::parts::{CardOptions, PlanOptions, job_card_with, plan_sheets};
use pleatwright::print::{Drawing, Shape};
use pleatwright::store::EXAMPLE_PROCESSES;
use pleatwright::telling::{Voice, Warned as _};

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

fn hob(ring: Ring) -> Vessel {
    Vessel { heating: Heating::Hob { power_w: 2000.0, ring }, ..Vessel::default() }
}

fn kettle() -> Vessel {
    let heating = Heating::Kettle { litres: 1.7, power_w: 2200.0 };
    Vessel { heating, litres: 30.0, mass_g: 900.0, material: VesselMaterial::Polypropylene, ..Vessel::default() }
}

fn vessels() -> impl Iterator<Item = Vessel> {
    Ring::ALL.into_iter().map(hob).chain([kettle()])
}

fn plan_with(process_name: &str, agent: DischargeAgent, workshop: Workshop) -> Plan {
    let own = process(process_name);
    let mut recipe = recipe(usual_recipe([&own]));
    if let Some(rule) = &mut recipe.discharge {
        rule.agent = agent;
    }
    let mut raw = layout("harbour-row-tee-m.ron").raw().clone();
    raw.process.dye = if own.uses(Need::Stock) { DyeBy::ByHand } else { raw.process.dye };
    let order = Order::of_layout(Layout::try_from(raw).unwrap(), recipe, own, workshop).unwrap();
    Plan::new(&order, start()).unwrap()
}

fn discharge_in(vessel: Vessel) -> Plan {
    plan_with("discharge-and-dye", DischargeAgent::ThioureaDioxide, Workshop { vessel, ..Workshop::default() })
}

/// Plans of every process, agent, source of heat, place and region, and of an order with several loads.
fn all_plans() -> Vec<Plan> {
    let mut plans = vec![Plan::new(&regatta(), start()).unwrap()];
    for example in EXAMPLE_PROCESSES {
        for agent in [DischargeAgent::ThioureaDioxide, DischargeAgent::SodiumDithionite] {
            for (vessel, place) in vessels().zip([WorkPlace::Outdoors, WorkPlace::Extraction].into_iter().cycle()) {
                let workshop = Workshop { vessel, place, room_c: 14.0, region: Region::UnitedStates, ..Workshop::default() };
                plans.push(plan_with(example.short_name(), agent, workshop));
            }
        }
    }
    plans
}

fn entry<'a>(plan: &'a Plan, step: &str) -> &'a Entry {
    plan.timeline.entries.iter().find(|entry| entry.step == step).unwrap_or_else(|| panic!("no {step}"))
}

fn words(pages: &[Drawing]) -> String {
    let shapes = pages.iter().flat_map(|page| &page.items).map(|item| &item.shape);
    let texts = shapes.filter_map(|shape| if let Shape::Text(text) = shape { Some(text.text.as_str()) } else { None });
    texts.collect::<Vec<_>>().join(" ")
}

/// "Rinse until nothing smells" took the respirator off over the gas; a cup is drunk from; soda ash dissolves aluminium; a hem is part of a
/// garment that then hangs over a flame; "warm" was an oven to one reader; film holds no steam.
#[test]
fn nothing_that_harmed_is_said_again() {
    const NEVER: [&str; 11] = [
        "nothing smells",
        " cup ",
        "strew",
        "hidden hem",
        "to the mark",
        "leave them warm",
        "warm while",
        "steam the wrapped",
        "hotter water",
        "out of the house",
        "got rid of",
    ];
    for plan in all_plans() {
        let told = plan.timeline.entries.iter().flat_map(|entry| {
            let cautions = entry.cautions.iter().map(|caution| &caution.text);
            cautions.chain([&entry.what]).cloned().chain(entry.needs_words()).chain(entry.marks())
        });
        for words in told.chain(plan.warnings.iter().map(crate::warned)) {
            let small = words.to_lowercase();
            let said = NEVER.iter().find(|never| small.contains(**never));
            assert!(said.is_none(), "\"{}\" in: {words}", said.unwrap());
            assert!(small.replace("not aluminium foil", "").find("foil").is_none(), "{words}");
        }
    }
}

/// Nobody reads on before handling soda ash, dye powder, the agent or its gases: goggles and gloves stand in the first sentence.
#[test]
fn every_step_that_can_hurt_begins_with_its_protection() {
    use Hazard::{Alkali, DyePowder, Respirator, SelfHeatingPowder, SulfurDioxide};
    let mut checked = 0;
    for plan in all_plans() {
        for entry in plan.timeline.entries.iter() {
            let hurts = [Alkali, DyePowder, Respirator, SelfHeatingPowder, SulfurDioxide];
            if entry.cautions.iter().any(|caution| hurts.contains(&caution.hazard)) {
                let first = entry.what.split(". ").next().unwrap().to_lowercase();
                assert!(first.contains("goggles") && first.contains("gloves"), "{}: {}", entry.step, entry.what);
                checked += 1;
            }
        }
    }
    assert!(checked > 300, "{checked}");
}

/// A plastic tub filled from a kettle was told to be brought "back to its heat" and turned "to the lowest setting". On a hob the minutes count
/// from when it is hot again; reckoned apart: from the plan's 83 °C to 90 °C at seven tenths of 2000 W.
#[test]
fn only_a_vessel_on_a_hob_is_heated() {
    let plan = discharge_in(kettle());
    for step in ["heat the bath", "discharge"] {
        let what = entry(&plan, step).what.replace("never on a hob", "").replace("never set it on a hob", "").to_lowercase();
        for heats in ["hob", "bring the bath", "lowest", "turn the heat", "turn it off", "ring"] {
            assert!(!what.replace("stirring", "").contains(heats), "{step} says {heats}: {what}");
        }
    }
    assert!(entry(&plan, "discharge").what.contains("Nothing heats this tub"));
    assert_eq!(entry(&plan, "discharge").attended_min, 15, "its minutes count from the rods");
    for ring in Ring::ALL {
        let plan = discharge_in(hob(ring));
        let discharge = entry(&plan, "discharge");
        assert!(discharge.what.contains("Bring the bath to the temperature given for the load"), "{}", discharge.what);
    }
    let plan = discharge_in(hob(Ring::Electric));
    let (load, bath) = (&plan.loads[0], plan.loads[0].discharge.as_ref().unwrap());
    let kj_per_k = bath.water.value * 4.19 + 2.5 * 0.48 + load.dry_g / 1000.0 * (1.3 + 4.19);
    let least_min = kj_per_k * (bath.heat.at_end.value - bath.heat.with_goods.value) / 1.4 / 60.0;
    let after_min = f64::from(entry(&plan, "discharge").attended_min - 15);
    assert!(after_min >= least_min && after_min < 1.2 * least_min + 1.0, "{after_min} {least_min}");
    assert_eq!(entry(&plan, "discharge").wait.unwrap().most_min, Some(5), "no longer in the bath than before");
}

/// Mains electricity stands outdoors beside water; a flame beside a powder that burns (ICSC 1717: no open flames).
#[test]
fn cables_and_flames_are_minded() {
    for (vessel, is_gas) in vessels().map(|vessel| (vessel, matches!(vessel.heating, Heating::Hob { ring: Ring::Gas, .. }))) {
        let what = &entry(&discharge_in(vessel), "heat the bath").what.clone();
        assert_eq!(what.contains("residual current device"), !is_gas, "{what}");
        assert_eq!(what.contains("away from the flame"), is_gas, "{what}");
    }
}

/// Near the boil dithionite decomposes (ICSC 1717): a scrap's bath is as hot as its agent's, and no flame is under it when the agent goes in.
#[test]
fn a_scrap_is_discharged_at_its_agents_heat() {
    for (agent, range) in [(DischargeAgent::ThioureaDioxide, "85 to 95 °C"), (DischargeAgent::SodiumDithionite, "60 to 80 °C")]
    {
        let plan = plan_with("discharge-and-dye", agent, Workshop::default());
        let what = &entry(&plan, "discharge a scrap").what;
        assert!(what.ends_with(&format!("Bath temperature: {range}, never boiling.")), "{what}");
        assert!(what.find("Heat off.").unwrap() < what.find("Stir the agent in").unwrap());
        assert!(what.find("Weigh the agent first").unwrap() < what.find("heat it").unwrap());
    }
}

/// A weighed agent once stood in its jar overnight, and a bath was heated before the scrap had been seen.
#[test]
fn the_agent_is_weighed_when_the_scrap_was_judged_and_used_the_same_day() {
    for plan in [discharge_in(Vessel::default()), Plan::new(&regatta(), start()).unwrap()] {
        let judged = entry(&plan, "judge the scrap");
        let own = |load: u32, step: &str| {
            plan.timeline.entries.iter().find(|entry| entry.load == Some(load) && entry.step == step).unwrap()
        };
        for load in plan.loads.iter().filter(|load| load.discharge.is_some()) {
            let (weighed, heated) = (own(load.number, "weigh the agent"), own(load.number, "heat the bath"));
            assert!(weighed.begins() >= judged.stretches[0].to, "load {}", load.number);
            let stands = weighed.stretches[0].to.duration_until(heated.begins()).as_mins();
            assert!((0..=180).contains(&stands), "load {}: {stands} min", load.number);
            assert_eq!(weighed.begins().date(), own(load.number, "discharge").begins().date());
        }
        assert!(plan.timeline.conflicts.is_empty(), "{:?}", plan.timeline.conflicts);
    }
}

/// Powder goes onto a dry piece, so onto a dry scrap; solutions are mixed before a scrap is painted with them.
#[test]
fn a_scrap_is_dyed_as_the_piece_is() {
    for example in EXAMPLE_PROCESSES {
        let plan = plan_with(example.short_name(), DischargeAgent::ThioureaDioxide, Workshop::default());
        let dyed = entry(&plan, "dye a scrap");
        if process(example.short_name()).uses(Need::Stock) {
            assert!(entry(&plan, "mix the dyes").stretches[0].to <= dyed.begins(), "{}", example.name);
        } else {
            let soaked = entry(&plan, "soak a scrap");
            let dry_min = soaked.stretches[0].to.duration_until(dyed.begins()).as_mins();
            assert!(dry_min >= 180 && soaked.needs[1].0 == "soda ash" && dyed.needs.is_empty(), "{}", example.name);
        }
        assert!(entry(&plan, "judge the scrap").begins() >= dyed.ready.unwrap());
    }
}

/// Wet, gassing rods are not carried indoors to a sink, and what they give off is told beside the bath's gas, not in its place.
#[test]
fn rods_are_rinsed_where_the_bath_is() {
    let plan = Plan::new(&regatta(), start()).unwrap();
    assert_eq!(entry(&plan, "rinse cold").place, Some(Place::Tub));
    let order = regatta();
    let line = &order.lines()[0];
    let card = CardOptions { plan: Some(&plan), ..CardOptions::default() };
    let card = words(&job_card_with(&line.layout, &Figures::of(&line.layout), LengthStyle::default(), &card));
    let sheets = words(&plan_sheets(&plan, PlanOptions::default()));
    let text = plan_text(&plan, false).split_whitespace().collect::<Vec<_>>().join(" ");
    for said in [&text, &card, &sheets] {
        assert!(said.contains("Rods out of the bath still drip it and give off its gases"), "{said}");
        assert!(said.contains("A hot discharge gives off sulfur dioxide"), "{said}");
    }
    assert!(text.contains("rods still give off gas: respirator on"));
}

/// The words of a step stand before the table that only names it, and the card says where they are.
#[test]
fn words_come_before_the_timetable() {
    let plan = discharge_in(Vessel::default());
    let sheets = words(&plan_sheets(&plan, PlanOptions::default()));
    assert!(sheets.find("The steps").unwrap() < sheets.find("Timetable, local clock").unwrap());
    let text = plan_text(&plan, false);
    assert!(text.find("\nThe steps\n").unwrap() < text.find("\nTimetable").unwrap());
    let layout = layout("harbour-row-tee-m.ron");
    let card = CardOptions { plan: Some(&plan), ..CardOptions::default() };
    let figures = Figures::of(&layout);
    let card = words(&job_card_with(&layout, &figures, LengthStyle::default(), &card));
    assert!(card.contains("Read each step on the plan's sheets first."), "{card}");
    // The strip numbers the outermost section as the card does.
    assert!(card.contains(&format!("edge {}", figures.sections.last().unwrap().number)), "{card}");
}

/// Outdoors is not a garage, extraction no hood that returns the air; a maker works within call of somebody.
#[test]
fn a_place_that_does_not_serve_is_named() {
    for (place, not) in [
        (WorkPlace::Outdoors, "a garage, shed or roofed balcony is not outdoors"),
        (WorkPlace::Extraction, "a hood that returns the air is not extraction"),
    ] {
        let plan = plan_with("discharge-and-dye", DischargeAgent::ThioureaDioxide, Workshop { place, ..Workshop::default() });
        let gas = &entry(&plan, "discharge").cautions[0];
        assert!(gas.hazard == Hazard::SulfurDioxide && gas.text.contains(not), "{}", gas.text);
        assert!(gas.text.contains("Have someone within call.") && gas.text.contains("never work in one"), "{}", gas.text);
        assert_eq!(gas.text.contains("upwind"), place == WorkPlace::Outdoors, "{}", gas.text);
    }
}

/// A hot-fixing class is not fixed by wrapping a rod warmer.
#[test]
fn what_only_steam_fixes_is_not_sent_to_a_warmer_room() {
    let warned = |class| {
        let mut own = recipe("powder-under-ice");
        own.dye.class = class;
        let order = Order::of_layout(
            layout("harbour-row-tee-m.ron"),
            own,
            process("discharge-and-dye"),
            Workshop { room_c: 14.0, ..Workshop::default() },
        );
        let plan = Plan::new(&order.unwrap(), start()).unwrap();
        crate::warned(plan.warnings.iter().find(|warning| matches!(warning, PlanWarning::DoesNotFix { .. })).unwrap())
    };
    let hot = warned(DyeClass::Hot);
    assert!(hot.contains("This process can't fix it") && !hot.contains("--keep-at"), "{hot}");
    assert!(warned(DyeClass::Cold).contains("--keep-at") && warned(DyeClass::Warm).contains("--keep-at"));
}

/// In the window a warning names processes as the list of processes does, in a file by their files.
#[test]
fn a_warning_names_processes_as_the_maker_finds_them() {
    let names = EXAMPLE_PROCESSES.map(|example| process(example.short_name()).name);
    let layout = || "tee".to_owned();
    for warning in [
        PlanWarning::OtherMethod { layout: layout(), by_hand: true },
        PlanWarning::OtherMethod { layout: layout(), by_hand: false },
        PlanWarning::NothingToDischarge { layout: layout(), process: names[0].clone() },
    ] {
        let listed = warning.told(Voice::window(LengthStyle::default())).cure;
        assert_eq!(names.iter().filter(|name| listed.contains(&format!("\"{name}\""))).count(), 2, "{listed}");
        let filed = warning.told(Voice::FILE).cure;
        assert_eq!(EXAMPLE_PROCESSES.iter().filter(|example| filed.contains(example.short_name())).count(), 2, "{filed}");
    }
}
