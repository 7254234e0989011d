//! Plans that are refused because they would hurt someone.

use super::{Chemistry, Place, Process, Step};
use crate::plan::{DischargeBath, Refusal, Region, Shared, WorkPlace};

/// Refuses a discharge indoors without extraction, and bleach, acid or a reductive discharge in one bath or without a full rinse
/// between. `largest` is the largest discharge bath of the plan.
///
/// # Errors
/// [`Refusal`] naming the steps and the reason.
pub fn check_safety(
    process: &Process,
    (place, region): (WorkPlace, Region),
    largest: Option<&DischargeBath>,
) -> Result<(), Refusal> {
    for (index, step) in process.steps.iter().enumerate() {
        check_air(step, (place, region), largest)?;
        if step.has_agent_at_work() && meet_badly(step.chemistry, Chemistry::Reductive) {
            let mixed = [step.chemistry.name(), Chemistry::Reductive.name()];
            let shared = Shared::Bath(step.bath.clone().unwrap_or_else(|| step.name.clone()));
            return Err(Refusal::OneBath { first: step.name.clone(), second: step.name.clone(), shared, mixed });
        }
        for (between, later) in process.steps[index + 1..].iter().enumerate() {
            if meet_badly(step.chemistry, later.chemistry) {
                check_pair(step, later, &process.steps[index + 1..index + 1 + between])?;
            }
        }
    }
    Ok(())
}

fn check_air(step: &Step, (place, region): (WorkPlace, Region), largest: Option<&DischargeBath>) -> Result<(), Refusal> {
    let (Chemistry::Reductive, WorkPlace::Indoors { room_m3 }) = (step.chemistry, place) else { return Ok(()) };
    let (agent, grams, ppm) = match largest {
        Some(bath) => (Some(bath.agent.name()), bath.mass.value, bath.agent.so2_ppm(bath.mass.value, room_m3)),
        None => (None, 0.0, 0.0),
    };
    Err(Refusal::NoExtraction { step: step.name.clone(), agent, grams, ppm, place, region })
}

/// Whether two chemistries give off dangerous gas or heat together.
fn meet_badly(a: Chemistry, b: Chemistry) -> bool {
    use Chemistry::{Acid, Bleach, Reductive};
    a != b && [a, b].iter().all(|chemistry| matches!(chemistry, Reductive | Bleach | Acid))
}

fn check_pair(first: &Step, second: &Step, between: &[Step]) -> Result<(), Refusal> {
    let mixed = [first.chemistry.name(), second.chemistry.name()];
    let names = || (first.name.clone(), second.name.clone());
    if let Some(shared) = shared(first, second) {
        let (first, second) = names();
        return Err(Refusal::OneBath { first, second, shared, mixed });
    }
    // What is done once is done to a scrap, in a bath of its own.
    if first.rinses || first.once != second.once || between.iter().any(|step| step.rinses && !step.once) {
        return Ok(());
    }
    let (first, second) = names();
    Err(Refusal::NoRinse { first, second, mixed })
}

/// The vessel that two steps share: a bath of one name, or a tub that neither gives a name of its own.
fn shared(first: &Step, second: &Step) -> Option<Shared> {
    match (&first.bath, &second.bath) {
        (Some(a), Some(b)) if a == b => Some(Shared::Bath(a.clone())),
        (None, None) if first.place == second.place => {
            first.place.filter(|place| *place != Place::Line).map(|place| Shared::Place(place.name()))
        }
        _ => None,
    }
}
