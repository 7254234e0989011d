//! The discharge bath: water that covers, soda ash, order of mixing, heat; and who shares one.

use crate::{assert_close, layout, process, recipe, regatta, tested_tee};
use pleatwright::layout::{Layout, Srgb, Swatch};
use pleatwright::plan::*;
use pleatwright::store::OrderDraft;
use pleatwright::telling::{Voice, Warned as _};

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

fn order_in(vessel: Vessel) -> Order {
    let workshop = Workshop { vessel, ..Workshop::default() };
    Order::of_layout(layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"), process("discharge-and-dye"), workshop).unwrap()
}

fn bath_in(vessel: Vessel) -> DischargeBath {
    order_in(vessel).loads()[0].discharge.clone().unwrap()
}

fn kettle(floor_cm2: f64) -> Vessel {
    let heating = Heating::Kettle { litres: 1.7, power_w: 2200.0 };
    Vessel { heating, floor_cm2, litres: 30.0, mass_g: 900.0, material: VesselMaterial::Polypropylene, ..Vessel::default() }
}

/// By geometry alone: the bath stands 20 mm over the thickest rod, its volume being the water's and the damp rods' (146 g of cotton of
/// 1.54 g/cm3 and as much water).
#[test]
fn the_water_covers_the_rods() {
    let order = order_in(Vessel::default());
    let (load, rod) = (&order.loads()[0], order.lines()[0].masses.rod);
    let bath = load.discharge.as_ref().unwrap();
    let of_rods_l = (load.dry_g / 1.54 + load.dry_g) / 1000.0;
    assert_close!(bath.depth.value, rod.thickest_mm + 20.0, 1e-9);
    assert_close!(bath.water.value, 700.0 * bath.depth.value / 1e4 - of_rods_l, 1e-9);
    // Cloth in proportion is the trade's 1:16 as soon as that is more: 16 L on a kilogram.
    let full = Order::of_garments(
        layout("harbour-row-tee-m.ron"),
        OfGarments { count: 5, ..OfGarments::default() },
        recipe("powder-under-ice"),
        process("discharge-and-dye"),
    )
    .unwrap();
    let load = &full.loads()[0];
    assert_close!(load.discharge.as_ref().unwrap().water.value, 16.0 * load.dry_g / 1000.0, 1e-9);
    assert!(load.discharge.as_ref().unwrap().depth.value > rod.thickest_mm);
}

/// A wide tub once took 1.46 L and stood 12 mm deep round a rod 43 mm thick.
#[test]
fn a_wide_tub_takes_more_water_and_no_bath_leaves_a_rod_dry() {
    for floor_cm2 in [300.0, 700.0, 1200.0, 2500.0] {
        let order = order_in(Vessel { floor_cm2, ..Vessel::default() });
        let bath = order.loads()[0].discharge.as_ref().unwrap();
        assert!(bath.depth.value >= order.lines()[0].masses.rod.thickest_mm + 19.99, "{floor_cm2} cm2: {}", bath.depth);
    }
}

/// The heat of what goes in is the heat of what comes out: water from the kettle at 100 C, a plastic tub and damp cloth at the room's 20 C,
/// each counted by hand, with fillings that do not cool when a kettle boils at once.
#[test]
fn the_balance_of_heat_holds() {
    let at_once = Vessel { heating: Heating::Kettle { litres: 50.0, power_w: 5e4 }, ..kettle(700.0) };
    let order = order_in(at_once);
    let (load, bath) = (&order.loads()[0], order.loads()[0].discharge.as_ref().unwrap());
    let (water, tub) = (bath.water.value * 4.19, 0.9 * 2.0);
    let goods = load.dry_g / 1000.0 * (1.3 + 4.19);
    let floor_m2 = 0.07;
    let wall_m2 = 2.0 * (std::f64::consts::PI * floor_m2).sqrt() * bath.depth.value / 1000.0;
    // The tub gives nothing to the room in the seconds that the kettle takes; then it stands open for 5 min while the agent goes in: second by
    // second, the handbook's loss of open water, and 12 W/(m2 K) through floor and wall.
    let mut stirred = (water * 100.0 + tub * 20.0) / (water + tub);
    for _ in 0..300 {
        let lost_w = open_w_per_m2(stirred) * floor_m2 + 12.0 * (floor_m2 + wall_m2) * (stirred - 20.0);
        stirred -= lost_w / ((water + tub) * 1000.0);
    }
    let mixed = ((water + tub) * stirred + goods * 20.0) / (water + tub + goods);
    assert_close!(bath.heat.with_goods.value, mixed, 0.3);
    assert_eq!(bath.heat.fillings, Some(1));
    // Newton's law over 20 min, covered: 12 W/(m2 K) on floor, lid and the wall of a cylinder.
    let rate = 12.0 * (2.0 * floor_m2 + wall_m2) / ((water + tub + goods) * 1000.0) * 60.0;
    let end = 20.0 + (bath.heat.with_goods.value - 20.0) * (-rate * 20.0).exp();
    assert_close!(bath.heat.at_end.value, end, 1e-6);
}

/// A pot on a hob heats while the water is brought up and is back in the agent's range; a kettle's bath in a wide open tub is not.
#[test]
fn a_cool_bath_is_warned_of_with_a_cure() {
    let pot = Plan::new(&order_in(Vessel::default()), start()).unwrap();
    assert!(pot.warnings.is_empty(), "{:?}", pot.warnings);
    let open = Vessel { covered: false, ..kettle(2500.0) };
    let tub = Plan::new(&order_in(open), start()).unwrap();
    let [PlanWarning::BathTooCool { at_end_c, works, .. }] = &tub.warnings[..] else { panic!("{:?}", tub.warnings) };
    assert!(at_end_c < &works.from_c);
    let said = crate::warned(&tub.warnings[0]);
    assert!(said.contains("works from 85 °C on") && said.contains("a pot on a hob"), "{said}");
    assert!(bath_in(open).heat.at_end.value < bath_in(kettle(2500.0)).heat.at_end.value - 10.0);
    // A hob that only keeps a cup warm never gets there.
    let weak = Vessel { heating: Heating::Hob { power_w: 100.0, ring: Ring::Electric }, ..Vessel::default() };
    let weak = Plan::new(&order_in(weak), start()).unwrap();
    assert!(matches!(weak.warnings[..], [PlanWarning::NeverHot { .. }]), "{:?}", weak.warnings);
}

/// Heating has its step, as long as power and losses say; 4.2 L of water and the pot from 15 to 98 C take at least the heat over what of
/// 2000 W an electric ring brings into a pot. Somebody stays beside it, and the agent follows at once: a bath once stood hot overnight.
#[test]
fn the_timetable_heats_the_water_first() {
    let plan = Plan::new(&order_in(Vessel::default()), start()).unwrap();
    let step = |name: &str| plan.timeline.entries.iter().find(|entry| entry.step == name).unwrap();
    let (heat, discharge) = (step("heat the bath"), step("discharge"));
    let bath = plan.loads[0].discharge.as_ref().unwrap();
    let least = (bath.water.value * 4.19 + 2.5 * 0.48) * 83.0 / (2.0 * 0.7) / 60.0;
    let heated_min = f64::from(heat.attended_min);
    assert!(heated_min > least && heated_min < 1.15 * least, "{heated_min} {least}");
    assert_eq!(heat.wait, Some(Wait { least_min: 0, most_min: Some(10) }));
    assert_eq!(heat.hands_min, 10 + i64::from(heat.attended_min));
    assert!(heat.wait_words().unwrap().contains("to reach 98 °C"));
    assert!((0..=10).contains(&heat.stretches[0].to.duration_until(discharge.begins()).as_mins()));
    let named = |entry: &Entry| entry.needs.iter().map(|(name, _)| name.clone()).collect::<Vec<_>>();
    assert_eq!(named(heat), ["water", "soda ash"], "soda ash is dissolved before the water is hot");
    assert_eq!(named(step("weigh the agent")), ["thiourea dioxide"], "weighed before anything steams");
}

/// HSE, Textiles: hydrosulphite added too quickly, or a little water on it; a maker's own process is warned, not changed.
#[test]
fn strewing_the_agent_is_warned_of_with_its_source() {
    let own = |agent_goes| {
        let mut own = process("discharge-and-dye");
        let step = own.steps.iter_mut().find(|step| step.chemistry == Chemistry::Reductive).unwrap();
        step.agent_goes = agent_goes;
        own.steps.retain(|step| !step.until.contains(&Until::Heated));
        let order = Order::of_layout(layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"), own, Workshop::default());
        Plan::new(&order.unwrap(), start()).unwrap()
    };
    for (agent_goes, said) in [(Some(AgentGoes::OntoRods), true), (None, false)] {
        let plan = own(agent_goes);
        let strewn = plan.warnings.iter().find(|warning| matches!(warning, PlanWarning::AgentStrewn { .. })).unwrap();
        assert!(matches!(strewn, PlanWarning::AgentStrewn { said: is, .. } if *is == said));
        let words = crate::warned(strewn);
        assert!(words.contains("HSE, Textiles") && words.contains("agent_goes: IntoWater"), "{words}");
        // Without a step for it the timetable has no time to heat, and the water is had ready with the rest.
        assert!(plan.warnings.iter().any(|warning| matches!(warning, PlanWarning::NoHeating { .. })), "{:?}", plan.warnings);
        let entry = plan.timeline.entries.iter().find(|entry| entry.step == "discharge").unwrap();
        assert_eq!(entry.needs[0].0, "hot water");
    }
}

/// A recipe from before soda ash could be said is read, used as it stands, and warned of.
#[test]
fn a_discharge_without_alkali_is_warned_of() {
    let mut old = recipe("powder-under-ice");
    old.discharge.as_mut().unwrap().soda_ash_g_per_l = None;
    let order =
        Order::of_layout(layout("harbour-row-tee-m.ron"), old, process("discharge-and-dye"), Workshop::default()).unwrap();
    assert_eq!(order.loads()[0].discharge.as_ref().unwrap().soda_ash, None);
    let plan = Plan::new(&order, start()).unwrap();
    assert!(matches!(plan.warnings[..], [PlanWarning::NoAlkali { .. }]), "{:?}", plan.warnings);
}

fn coloured(name: &str, srgb: Option<Srgb>) -> Layout {
    let mut raw = layout("harbour-row-tee-m.ron").raw().clone();
    raw.name = name.to_owned();
    raw.garment.colour = srgb.map(|srgb| Swatch::plain(name, srgb));
    Layout::try_from(raw).unwrap()
}

fn mixed_order(mix_grounds: bool) -> Vec<Vec<usize>> {
    let colour = |red, green, blue| Some(Srgb { red, green, blue });
    let layouts = vec![
        coloured("plum", colour(80, 30, 70)),
        coloured("navy", colour(20, 30, 80)),
        coloured("unbleached", colour(236, 228, 208)),
        coloured("plum again", colour(80, 30, 70)),
        coloured("white", None),
    ];
    let lines = layouts.iter().map(|layout| {
        let layout = layout.name().to_owned();
        OrderLineSpec { layout, size: None, rings: GradeRule::default(), count: 1, process: None, blank_price: None }
    });
    let raw = OrderSpec {
        name: "mixed".to_owned(),
        note: String::new(),
        recipe: None,
        process: Some("own".to_owned()),
        deadline: None,
        lines: lines.collect(),
        depths: std::collections::BTreeMap::new(),
        workshop: Workshop::default(),
        mix_grounds,
        scrap_tested: false,
        supplies: Vec::new(),
        money: None,
    };
    let processes = vec![("own".to_owned(), process("discharge-and-dye"))];
    let order = Order::new(raw, OrderParts { recipes: vec![recipe("powder-under-ice")], processes, layouts }).unwrap();
    order.loads().iter().map(|load| load.items.iter().map(|item| item.line).collect()).collect()
}

/// Plum, navy and an unbleached bag once shared a discharge: what loosens from one ground settles on another (common practice, no source).
#[test]
fn grounds_have_a_discharge_of_their_own_and_undyed_cloth_never_shares() {
    assert_eq!(mixed_order(false), [vec![0, 3], vec![1], vec![2, 4]]);
    assert_eq!(mixed_order(true), [vec![0, 1, 3], vec![2, 4]]);
}

/// Rods that no vessel of that size takes are refused, with what would do.
#[test]
fn a_vessel_too_small_is_refused_with_the_size_that_would_do() {
    let tee = || layout("harbour-row-tee-m.ron");
    let in_pot = |litres: f64| {
        let workshop = Workshop { vessel: Vessel { litres, ..Vessel::default() }, ..Workshop::default() };
        Order::of_layout(tee(), recipe("powder-under-ice"), process("discharge-and-dye"), workshop)
    };
    let error = in_pot(2.0).unwrap_err();
    let PlanProblem::VesselTooSmall { needed_l, .. } = error.problem else { panic!("{error}") };
    assert_eq!(error.field, "workshop.vessel.litres");
    let needed_l = if in_pot(needed_l * 1.001).is_ok() {
        needed_l
    } else {
        // What covers a single rod is more than what its mass asks for: the second refusal names that.
        let PlanProblem::VesselTooSmall { needed_l, .. } = in_pot(needed_l * 1.001).unwrap_err().problem else { panic!() };
        needed_l
    };
    assert!(in_pot(needed_l * 1.001).is_ok() && in_pot(needed_l * 0.99).is_err());
}

/// Two loads once had their baths on one day in the one vessel, with no more than a warning; a spent bath stays where it is to the next
/// day, before anyone pours a hot one away.
#[test]
fn loads_take_turns_in_a_vessel() {
    let order = |vessels: u32| {
        let mut raw = regatta().raw().clone();
        raw.workshop.vessels = vessels;
        let draft = OrderDraft {
            folder: crate::regatta_path().parent().unwrap().to_owned(),
            given: vec![None; raw.lines.len()],
            spec: raw,
        };
        draft.order().unwrap()
    };
    let days = |plan: &Plan, step: &str| {
        let mut days = std::collections::BTreeMap::<_, Vec<u32>>::new();
        for entry in plan.timeline.entries.iter().filter(|entry| entry.step == step) {
            days.entry(entry.begins().date()).or_default().push(entry.load.unwrap());
        }
        days
    };
    let is_told = |plan: &Plan| plan.warnings.iter().any(|warning| matches!(warning, PlanWarning::VesselInTurn { .. }));
    assert!(!is_told(&Plan::new(&tested_tee(), start()).unwrap()), "one load has the vessel to itself");
    let mut ends = Vec::new();
    for vessels in 1..=3 {
        let plan = Plan::new(&order(vessels), start()).unwrap();
        let baths = days(&plan, "discharge");
        assert_eq!(baths, days(&plan, "heat the bath"), "the water is heated in the vessel, on that day");
        assert!(baths.values().all(|loads| loads.len() <= vessels as usize), "{vessels}: {baths:?}");
        assert_eq!(plan.timeline.conflicts, Vec::<String>::new());
        let count: usize = baths.values().map(Vec::len).sum();
        let told: Vec<_> = plan.warnings.iter().filter(|warning| matches!(warning, PlanWarning::VesselInTurn { .. })).collect();
        assert_eq!(told.len(), usize::from(count > vessels as usize));
        for warning in told {
            let words = warning.say(Voice::window(plan.lengths));
            let each = baths.iter().flat_map(|(day, loads)| loads.iter().map(move |load| (day, load)));
            for (day, load) in each.take(if count > 6 { 3 } else { count }) {
                assert!(words.contains(&format!("load {load} on {}", day.strftime("%a %-d %b"))), "{words}");
            }
        }
        ends.push(plan.timeline.ends);
    }
    assert!(ends.is_sorted_by(|one, other| one >= other), "more vessels are never slower: {ends:?}");
}

/// Three loads of one tee each, round the clock: by hand, one vessel takes three days for their baths, three take one.
#[test]
fn a_vessel_that_is_waited_for_costs_days() {
    let hours = vec![Hours { from: "00:00".to_owned(), to: "24:00".to_owned() }];
    let (recipe, process) = (recipe("powder-under-ice"), process("discharge-and-dye"));
    let order = |vessels: u32| {
        let vessel = Vessel { litres: 6.0, ..Vessel::default() };
        let workshop = Workshop { tubs: 9, tub_l: 9.0, vessel, vessels, hours: hours.clone(), ..Workshop::default() };
        let of = OfGarments { count: 3, workshop, scrap_tested: true };
        Order::of_garments(layout("harbour-row-tee-m.ron"), of, recipe.clone(), process.clone()).unwrap()
    };
    let plan = |vessels: u32| Plan::new(&order(vessels), start()).unwrap();
    let days = |plan: &Plan| {
        let baths = plan.timeline.entries.iter().filter(|entry| entry.step == "discharge");
        baths.map(|entry| entry.begins().date()).collect::<std::collections::BTreeSet<_>>().len()
    };
    let [one, two, three] = [1, 2, 3].map(plan);
    assert_eq!([&one, &two, &three].map(days), [3, 2, 1]);
    assert!(one.timeline.ends > two.timeline.ends && two.timeline.ends > three.timeline.ends);
    // A deadline that one vessel misses says that more would meet it.
    let between = When::Between { start: "2027-05-03T08:00".parse().unwrap(), deadline: two.timeline.ends };
    let late = Plan::new(&order(1), between).unwrap().untimely.unwrap().sentences().join(" ");
    assert!(late.contains("set up 2 vessels alike for the discharge"), "{late}");
}
