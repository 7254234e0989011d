//! Plans that would hurt someone are refused, and every dangerous step warns.

use crate::{layout, process, recipe, regatta};
use pleatwright::plan::*;

fn planned(process: Process, place: WorkPlace) -> Result<Order, PlanFileError> {
    let workshop = Workshop { place, ..Workshop::default() };
    Order::of_layout(layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"), process, workshop)
}

fn refusal(result: Result<Order, PlanFileError>) -> Refusal {
    match result {
        Err(PlanFileError { problem: PlanProblem::Refused(refusal), .. }) => *refusal,
        Err(other) => panic!("refused for another reason: {other}"),
        Ok(_) => panic!("not refused"),
    }
}

/// NIOSH: sulfur dioxide; the bound for this quantity in this room is in the refusal.
#[test]
fn a_discharge_indoors_without_extraction_is_refused() {
    let discharge = || process("discharge-and-dye");
    let refusal = refusal(planned(discharge(), WorkPlace::Indoors { room_m3: 30.0 }));
    let Refusal::NoExtraction { grams, ppm, .. } = &refusal else { panic!("{refusal}") };
    assert!(
        (ppm - DischargeAgent::ThioureaDioxide.so2_ppm(*grams, 30.0)).abs() < 1e-9
            && *ppm > air_limits(Gas::SulfurDioxide, Region::Europe).short_ppm
    );
    assert!(refusal.to_string().contains("outdoors or under extraction"));
    assert!(planned(discharge(), WorkPlace::Outdoors).is_ok() && planned(discharge(), WorkPlace::Extraction).is_ok());
    assert!(planned(process("plain-dye"), WorkPlace::Indoors { room_m3: 30.0 }).is_ok());
}

/// A bleach or acid step put in at `at`, in a bath of its own or in the discharge's.
fn with_step(at: usize, chemistry: Chemistry, bath: &str) -> Process {
    let mut process = process("discharge-and-dye");
    let step = Step { name: "extra".to_owned(), chemistry, bath: Some(bath.to_owned()), ..process.steps[at].clone() };
    // The agent is the discharge's own: in this step there is none.
    let step = Step { agent_goes: None, until: Vec::new(), needs: Vec::new(), ..step };
    process.steps.insert(at, Step { once: false, rinses: false, after: Vec::new(), ..step });
    process
}

/// ICSC 1717: keep dithionite from acids and oxidants.
#[test]
fn bleach_or_acid_near_a_discharge_is_refused() {
    let discharge = process("discharge-and-dye").steps.iter().position(|step| step.name == "discharge").unwrap();
    for chemistry in [Chemistry::Bleach, Chemistry::Acid] {
        // Right after it, right before it, and after the rinse.
        let after = refusal(planned(with_step(discharge + 1, chemistry, "own"), WorkPlace::Outdoors));
        assert!(matches!(after, Refusal::NoRinse { .. }), "{after}");
        let before = refusal(planned(with_step(discharge, chemistry, "own"), WorkPlace::Outdoors));
        assert!(matches!(before, Refusal::NoRinse { .. }), "{before}");
        let rinsed = planned(with_step(discharge + 2, chemistry, "own"), WorkPlace::Outdoors);
        assert!(rinsed.is_ok(), "{:?}", rinsed.err());
        // Even rinsed, never in the discharge's own bath.
        let shared = refusal(planned(with_step(discharge + 2, chemistry, "discharge"), WorkPlace::Outdoors));
        assert!(matches!(shared, Refusal::OneBath { .. }), "{shared}");
    }
    // Tubs without names are the same tub.
    let mut process = with_step(discharge + 2, Chemistry::Bleach, "own");
    for step in &mut process.steps {
        step.bath = None;
    }
    process.steps[discharge + 2].place = Some(Place::Tub);
    assert!(matches!(refusal(planned(process, WorkPlace::Outdoors)), Refusal::OneBath { .. }));
}

#[test]
fn every_dangerous_step_warns_with_a_source_and_defers() {
    let plan = Plan::new(&regatta(), When::Start("2027-05-03T08:00".parse().unwrap())).unwrap();
    let hazards = |step: &str| -> Vec<Hazard> {
        let entry = plan.timeline.entries.iter().find(|entry| entry.step == step).unwrap();
        entry.cautions.iter().map(|caution| caution.hazard).collect()
    };
    use Hazard::*;
    let discharge = hazards("discharge");
    for hazard in [SulfurDioxide, Respirator, SelfHeatingPowder, Eruption, NeverMix, Scald, Defer] {
        assert!(discharge.contains(&hazard), "{hazard:?}");
    }
    assert!(discharge.contains(&Alkali) && discharge.contains(&SpentBath));
    // Rods out of the bath still drip it and give off its gas.
    assert_eq!(hazards("rinse cold"), [StillGassing, Respirator, SpentBath, Scald, Defer]);
    assert_eq!(hazards("wash bound"), [NeverMix, Defer], "some of the agent may be left after one rinse");
    assert!(hazards("discharge a scrap").starts_with(&[SulfurDioxide, Respirator]), "a scrap gives off the same gas");
    assert_eq!(hazards("weigh the agent"), [Respirator, Eruption, SelfHeatingPowder, Defer]);
    assert_eq!(hazards("soda ash soak"), [Alkali, Defer]);
    assert_eq!(hazards("weigh out"), [Alkali, DyePowder, Defer]);
    assert_eq!(hazards("hot soak"), [Scald, Defer]);
    assert_eq!(hazards("heat the bath"), [Alkali, Scald, Defer]);
    assert_eq!(hazards("dry"), [Alkali, Defer], "it was soaked, and not rinsed since");
    assert_eq!(hazards("rinse and untie"), [Alkali, Defer]);
    assert_eq!(hazards("hang and look"), []);
    for entry in plan.timeline.entries.iter().filter(|entry| !entry.cautions.is_empty()) {
        assert_eq!(entry.cautions.last().unwrap().text, DEFER);
        assert!(entry.cautions.iter().all(|caution| !caution.source.is_empty()));
    }
}
