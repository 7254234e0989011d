//! Dye and cloth: fixing by temperature, fibres, the scrap, dye by hand, the dry rod, limits by region.

use crate::{assert_close, layout, process, recipe};
use pleatwright::layout::{DyeBy, Fibre, FibreShare, IceLayers, Layout, Rest};
use pleatwright::plan::*;

fn start() -> When {
    When::Start("2027-05-03T08:00".parse().unwrap())
}

fn planned(recipe: Recipe, workshop: Workshop) -> Plan {
    let order = Order::of_layout(layout("harbour-row-tee-m.ron"), recipe, process("discharge-and-dye"), workshop).unwrap();
    Plan::new(&order, start()).unwrap()
}

fn entry<'a>(plan: &'a Plan, step: &str) -> &'a Entry {
    plan.timeline.entries.iter().find(|entry| entry.step == step).unwrap()
}

/// Powers of three from a day at 20 C (the factor published second-hand, the day common practice): 100 h at 7 C, 8 h at 30 C. A rest of 24 h
/// was once planned in every room.
#[test]
fn the_cure_follows_the_room_and_what_the_rods_are_kept_at() {
    for (room_c, cure_c, hours) in [(20.0, None, 24.0), (7.0, None, 100.1), (30.0, None, 8.0), (7.0, Some(30.0), 8.0)] {
        let plan = planned(recipe("powder-under-ice"), Workshop { room_c, cure_c, ..Workshop::default() });
        let wait = entry(&plan, "cure").wait.unwrap();
        assert!((f64::from(wait.least_min) / 60.0 - hours).abs() < 0.1, "{room_c} {cure_c:?}: {} min", wait.least_min);
        let reason = entry(&plan, "cure").wait_reason.clone().unwrap();
        assert!(reason.contains("cold class") && reason.contains(&format!("at {} °C", cure_c.unwrap_or(room_c))), "{reason}");
        let cold = plan.warnings.iter().any(|warning| matches!(warning, PlanWarning::DoesNotFix { .. }));
        assert_eq!(cold, cure_c.unwrap_or(room_c) < 18.0);
        // The ice melts in the room, whatever the rods are kept at afterwards.
        let melts = plan.lines[0].each.ice[0].melts_in.value;
        assert_close!(melts, 60.0 / 1000.0 * 0.6 * 917.0 * 333_430.0 / (20.0 * room_c) / 3600.0, 1e-9);
    }
}

/// Warm and hot classes hardly fix in a room, and the plan says what to do.
#[test]
fn a_warm_class_in_a_room_is_warned_of() {
    for (class, said) in [(DyeClass::Warm, "from 40 °C on"), (DyeClass::Hot, "from 80 °C on")] {
        let mut warm = recipe("powder-under-ice");
        (warm.dye.class, warm.cure) = (class, None);
        let plan = planned(warm, Workshop::default());
        let warning =
            crate::warned(plan.warnings.iter().find(|warning| matches!(warning, PlanWarning::DoesNotFix { .. })).unwrap());
        let cure = pleatwright::telling::capitalised(class.how_to_warm());
        assert!(warning.contains(said) && warning.contains(&cure), "{warning}");
    }
}

fn of_fibres(fibres: &[(Fibre, f64)]) -> Layout {
    let mut raw = layout("harbour-row-tee-m.ron").raw().clone();
    raw.garment.fibres = fibres.iter().map(|&(fibre, percent)| FibreShare { fibre, percent }).collect();
    Layout::try_from(raw).unwrap()
}

/// Textbooks of dyeing: reactive dyes bind to cellulose; hot alkali harms wool and silk (a wool sample's loss in hot alkali is a standard test of
/// damage).
#[test]
fn cloth_that_the_dye_harms_or_leaves_is_refused() {
    let order = |fibres: &[(Fibre, f64)]| {
        Order::of_layout(of_fibres(fibres), recipe("powder-under-ice"), process("discharge-and-dye"), Workshop::default())
    };
    let refused = |fibres: &[(Fibre, f64)]| order(fibres).unwrap_err().to_string();
    assert!(refused(&[(Fibre::Wool, 100.0)]).contains("harm it"));
    assert!(refused(&[(Fibre::Polyester, 100.0)]).contains("washes out"));
    assert!(refused(&[(Fibre::Polyester, 65.0), (Fibre::Cotton, 35.0)]).contains("65 % of the cloth"));
    let warnings = |fibres: &[(Fibre, f64)]| Plan::new(&order(fibres).unwrap(), start()).unwrap().warnings;
    assert!(matches!(warnings(&[(Fibre::Cotton, 60.0), (Fibre::Polyester, 40.0)])[..], [PlanWarning::Paler { .. }]));
    assert_eq!(warnings(&[(Fibre::Cotton, 95.0), (Fibre::Elastane, 5.0)]), []);
    assert_eq!(warnings(&[]), []);
}

/// Shares that are not the whole cloth are refused when the layout is read.
#[test]
fn fibres_make_the_whole_cloth() {
    let mut raw = layout("harbour-row-tee-m.ron").raw().clone();
    for shares in [&[(Fibre::Cotton, 60.0)][..], &[(Fibre::Cotton, 50.0), (Fibre::Cotton, 50.0)], &[(Fibre::Cotton, f64::NAN)]] {
        raw.garment.fibres = shares.iter().map(|&(fibre, percent)| FibreShare { fibre, percent }).collect();
        let error = Layout::try_from(raw.clone()).unwrap_err();
        assert!(error.field.to_string().starts_with("garment.fibres"), "{error}");
    }
}

/// The piece is discharged only after the scrap was dyed and has fixed; folding need not wait.
#[test]
fn a_scrap_comes_first_unless_it_was_tested() {
    let plan = planned(recipe("powder-under-ice"), Workshop::default());
    let scrap = entry(&plan, "dye a scrap");
    let judged = entry(&plan, "judge the scrap");
    assert!(judged.begins() >= scrap.ready.unwrap());
    assert!(entry(&plan, "weigh the agent").begins() >= judged.stretches[0].to, "nothing is got ready before the scrap pleases");
    assert_eq!(scrap.wait.unwrap().least_min, 24 * 60);
    let of = OfGarments { scrap_tested: true, ..OfGarments::default() };
    let tested =
        Order::of_garments(layout("harbour-row-tee-m.ron"), of, recipe("powder-under-ice"), process("discharge-and-dye"))
            .unwrap();
    let tested = Plan::new(&tested, start()).unwrap();
    assert!(tested.timeline.entries.iter().all(|entry| !entry.step.contains("a scrap")));
    assert!(tested.timeline.ends < plan.timeline.ends && tested.warnings.is_empty());
    let mut own = process("discharge-and-dye");
    own.steps.retain(|step| !step.scrap);
    own.steps.iter_mut().for_each(|step| step.after.retain(|name| !name.ends_with(" scrap")));
    let own = Order::of_layout(layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"), own, Workshop::default()).unwrap();
    assert!(matches!(Plan::new(&own, start()).unwrap().warnings[..], [PlanWarning::NoScrap { .. }]));
}

fn by_hand() -> Layout {
    let mut raw = layout("harbour-row-tee-m.ron").raw().clone();
    raw.process.dye = DyeBy::ByHand;
    Layout::try_from(raw).unwrap()
}

/// Dye by hand: a section takes its cloth's pick-up, the solution holds the dye on weight of fibre, urea by the litre; no ice, nothing strewn.
#[test]
fn dye_by_hand_has_its_own_recipe_steps_and_solutions() {
    let layout = by_hand();
    assert_eq!(usual_process(&layout), "discharge-and-paint");
    let own = process(usual_process(&layout));
    assert_eq!(usual_recipe([&own]), "solution-by-hand");
    let order = Order::of_layout(layout, recipe("solution-by-hand"), own, Workshop::default()).unwrap();
    let masses = &order.lines()[0].masses;
    assert!(masses.ice.is_empty() && masses.soda_strewn.value == 0.0 && !masses.solutions.is_empty());
    for (solution, dye) in masses.solutions.iter().zip(&masses.dyes) {
        assert_close!(solution.volume.value, 1.2 * dye.cloth_g, 1e-9);
        assert_close!(dye.dye.value, 0.02 * dye.cloth_g, 1e-9);
        assert_close!(solution.grams_per_l, 0.02 / 1.2 * 1000.0, 1e-9);
        assert_close!(solution.urea.value, solution.volume.value / 10.0, 1e-9);
    }
    let plan = Plan::new(&order, start()).unwrap();
    assert_eq!(plan.warnings, []);
    let names: Vec<&str> = plan.timeline.entries.iter().map(|entry| entry.step.as_str()).collect();
    assert!(names.contains(&"paint") && names.iter().all(|name| !name.contains("ice")), "{names:?}");
    let mix = entry(&plan, "mix the dyes");
    assert!(mix.needs.iter().any(|(name, _)| name == "solution, teal") && mix.needs.iter().any(|(name, _)| name == "urea, teal"));
    assert!(mix.cautions.iter().any(|caution| caution.hazard == Hazard::DyePowder));
    assert!(plan.shopping.iter().any(|line| line.material == Material::Urea));
    // The other way round is told.
    let powder =
        Order::of_layout(by_hand(), recipe("powder-under-ice"), process("discharge-and-dye"), Workshop::default()).unwrap();
    let warnings = Plan::new(&powder, start()).unwrap().warnings;
    assert!(matches!(warnings[..], [PlanWarning::OtherMethod { by_hand: true, .. }]), "{warnings:?}");
}

/// How the rods lie, that they are turned, and layers that the reveal counts on are told at their steps; more than are laid are warned of.
#[test]
fn the_plan_lies_and_ices_the_rods_as_the_layout_says() {
    let planned = |rest: Rest, layers: u32| {
        let mut raw = layout("harbour-row-tee-m.ron").raw().clone();
        (raw.process.rest, raw.process.ice_layers) = (rest, IceLayers(layers));
        let layout = Layout::try_from(raw).unwrap();
        let order =
            Order::of_layout(layout, recipe("powder-under-ice"), process("discharge-and-dye"), Workshop::default()).unwrap();
        Plan::new(&order, start()).unwrap()
    };
    let words = |plan: &Plan, step: &str| entry(plan, step).what.clone();
    let usual = planned(Rest::EdgesUp, 1);
    assert!(
        words(&usual, "lay and sprinkle").ends_with("Lay every rod on its creases."),
        "{}",
        words(&usual, "lay and sprinkle")
    );
    assert!(!words(&usual, "ice").contains("turn every rod") && !words(&usual, "second ice").contains("in any case"));
    let turned = planned(Rest::TurnedHalfWay, 2);
    assert!(words(&turned, "ice").contains("half the ice has melted, turn every rod over"), "{}", words(&turned, "ice"));
    assert!(words(&turned, "second ice").contains("counts on this layer for every rod"));
    assert_eq!((usual.warnings.len(), turned.warnings.len()), (0, 0));
    assert!(words(&planned(Rest::OnItsFlat, 1), "lay and sprinkle").ends_with("Lay every rod on its flat."));
    let more = planned(Rest::EdgesUp, 4).warnings;
    assert!(matches!(&more[..], [PlanWarning::MoreIce { wants: 4, laid: 2, .. }]), "{more:?}");
}

/// The rod is dry when it weighs its cloth and its thread again, 146 g and 9.55 m of 0.71 g/m, and the soda ash of the 0.7 mL to the gram that
/// spinning leaves. Thick rods take longer.
#[test]
fn the_card_says_what_the_dry_rod_weighs() {
    let order = Order::of_layout(
        layout("harbour-row-tee-m.ron"),
        recipe("powder-under-ice"),
        process("discharge-and-dye"),
        Workshop::default(),
    );
    let order = order.unwrap();
    let masses = &order.lines()[0].masses;
    let thread_g = masses.thread.value * std::f64::consts::PI / 4.0 * 0.9;
    assert_close!(masses.dry_rod.value, masses.dry_g * (1.0 + 0.7 * 0.04) + thread_g, 1e-9);
    assert!((156.0..158.0).contains(&masses.dry_rod.value), "{}", masses.dry_rod.value);
    let plan = Plan::new(&order, start()).unwrap();
    let wait = entry(&plan, "dry").wait.unwrap();
    assert!(wait.least_min > 24 * 60 && wait.least_min < 48 * 60);
    assert!(plan_text(&plan, false).contains("bound rod:        157 g   about, when dry inside"));
}

/// Directive (EU) 2017/164 and NIOSH's recommended limits, each in its own region's cautions, and masks by the region's standards.
#[test]
fn limits_and_masks_follow_the_region() {
    for (region, limits, gas, dust) in [
        (Region::Europe, "0.5 ppm over 8 h, 1 ppm for 15 minutes", "EN 14387", "FFP2"),
        (Region::UnitedStates, "2 ppm over 10 h, 5 ppm for 15 minutes", "NIOSH-approved half mask", "N95"),
    ] {
        let plan = planned(recipe("powder-under-ice"), Workshop { region, ..Workshop::default() });
        let said = |step: &str, hazard: Hazard| {
            let of = entry(&plan, step).cautions.iter().find(|caution| caution.hazard == hazard).unwrap();
            format!("{} {}", of.text, of.source)
        };
        let discharge = said("discharge", Hazard::SulfurDioxide);
        assert!(discharge.contains(limits) && discharge.contains("ammonia") && discharge.contains("0.2 ppm"), "{discharge}");
        let mask = said("discharge", Hazard::Respirator);
        assert!(mask.contains(gas) && mask.contains("Goggles, long gloves") && mask.contains("ammonia"), "{mask}");
        assert!(said("weigh out", Hazard::DyePowder).contains(dust));
    }
}

/// Acid steps are cautioned, and refused beside a reductive discharge (`refusals.rs`).
#[test]
fn acid_has_its_cautions() {
    let mut step = process("plain-dye").steps[0].clone();
    step.chemistry = Chemistry::Acid;
    let context = CautionContext {
        agent: None,
        bath: None,
        after_discharge: false,
        rinsed_once: false,
        in_alkali: false,
        place: WorkPlace::Outdoors,
        region: Region::Europe,
    };
    let list = cautions(&step, &context);
    assert_eq!(list[0].hazard, Hazard::Acid);
    assert!(list[0].text.contains("foams") && list[0].text.contains("sulfur dioxide"));
}

/// Every shipped process can be read by somebody alone, step by step: it says how the agent meets the water, tests a scrap, and names no step twice.
#[test]
fn every_shipped_process_tests_a_scrap_and_puts_the_agent_into_water() {
    for example in pleatwright::store::EXAMPLE_PROCESSES {
        let process = process(example.short_name());
        assert!(process.steps.iter().any(|step| step.scrap), "{}", example.name);
        for step in process.steps.iter().filter(|step| step.chemistry == Chemistry::Reductive) {
            assert_eq!(step.agent_goes, Some(AgentGoes::IntoWater), "{}", example.name);
            assert!(step.what.contains("never water onto the powder"), "{}", step.what);
        }
        assert!(process.steps.iter().filter(|step| step.name == "hot soak").all(|step| step.wait.unwrap().most_min == Some(120)));
    }
}
