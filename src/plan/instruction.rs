//! What to do at a step: the process' own words, and what follows from the vessel and the recipe.

use super::vessel::Heating;
use super::{Order, Step, Until};

/// The words of a step of a process, by its index, for an order.
pub(super) fn instruction(order: &Order, process: usize, step: &Step) -> String {
    let discharges = order.recipes()[process].discharge.as_ref();
    let more = step.until.iter().filter_map(|until| match until {
        Until::Heated => Some(heating(order)),
        Until::Discharged => discharges.map(|rule| {
            let minutes = rule.renew_after_min;
            format!("After about {minutes} minutes the bath is spent: for a second round rinse the rods, and make a fresh one.")
        }),
        Until::Dry | Until::Fixed => None,
    });
    std::iter::once(step.what.clone()).chain(more).collect::<Vec<_>>().join(" ")
}

/// How the water gets hot.
fn heating(order: &Order) -> String {
    let vessel = &order.raw().workshop.vessel;
    match vessel.heating {
        Heating::Hob { .. } => format!(
            "The vessel: {vessel}, set where it will stay. Dissolve the soda ash in the cold water, then heat it covered. Stay with it; turn it \
             off if you leave."
        ),
        Heating::Kettle { .. } => format!(
            "The vessel: {vessel}, set where it will stay, never on a hob. Dissolve the soda ash in a cup of warm water and pour that in. Boil \
             the rest in the kettle, and pour each filling in slowly, away from you; keep the lid on between them."
        ),
    }
}
