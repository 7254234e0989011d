//! Recipes and processes as a maker edits them: what may hurt stays said, what can't be meant is refused.

use crate::{layout, process, recipe};
use pleatwright::plan::*;

fn planned(process: Process) -> Result<Plan, PlanFileError> {
    let order = Order::of_layout(layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"), process, Workshop::default())?;
    Ok(Plan::new(&order, When::Start("2027-05-03T08:00".parse().unwrap())).unwrap())
}

fn cautions(plan: &Plan) -> Vec<(String, Vec<Caution>)> {
    plan.timeline.entries.iter().map(|entry| (entry.step.clone(), entry.cautions.clone())).collect()
}

/// A discharge that a process calls water used to lose the warnings of its gas, and could be done in a closed room.
#[test]
fn a_bath_that_is_called_water_keeps_the_cautions_of_its_agent() {
    let honest = process("discharge-and-dye");
    for said in [Chemistry::Plain, Chemistry::Alkali] {
        let mut edited = honest.clone();
        let baths = edited.steps.iter_mut().filter(|step| step.chemistry == Chemistry::Reductive);
        assert_eq!(baths.map(|step| step.chemistry = said).count(), 2, "the scrap's and the load's");
        assert_eq!(cautions(&planned(edited.clone()).unwrap()), cautions(&planned(honest.clone()).unwrap()), "{said:?}");
        let indoors = Workshop { place: WorkPlace::Indoors { room_m3: 30.0 }, ..Workshop::default() };
        let refused = Order::of_layout(layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"), edited, indoors).unwrap_err();
        assert!(matches!(&refused.problem, PlanProblem::Refused(refusal) if matches!(**refusal, Refusal::NoExtraction { .. })));
    }
}

/// Acid sets sulfur dioxide free from dithionite, bleach reacts violently with it (the sources stand beside the caution itself).
#[test]
fn acid_or_bleach_in_the_discharge_itself_is_refused() {
    for said in [Chemistry::Acid, Chemistry::Bleach] {
        let mut edited = process("discharge-and-dye");
        let bath = edited.steps.iter_mut().find(|step| step.name == "discharge").unwrap();
        bath.chemistry = said;
        let words = planned(edited).unwrap_err().to_string();
        assert!(words.contains("never let") && words.contains(said.name()), "{words}");
    }
}

/// Every figure of every recipe that comes with the program can be changed, and is refused by its own field beyond its range.
#[test]
fn every_figure_is_changed_and_held_to_its_range() {
    for name in ["powder-under-ice", "powder-on-white", "solution-by-hand"] {
        let recipe = recipe(name);
        let count = recipe.figures().len();
        assert!(count >= 10, "{name}: {count}");
        for index in 0..count {
            for beyond in [-1.0, 1.0] {
                let mut changed = recipe.clone();
                let Figure { field, figure, least, most } = changed.figures_mut().into_iter().nth(index).unwrap();
                figure.value = if beyond < 0.0 { least } else { most };
                changed.check().unwrap();
                let figure = changed.figures_mut().into_iter().nth(index).unwrap().figure;
                figure.value += beyond * 1e-3;
                let refused = changed.check().unwrap_err();
                assert_eq!(refused.field, field);
                assert_eq!(refused.problem, PlanProblem::Number { value: changed.figures()[index].figure.value, least, most });
            }
        }
    }
}
