//! Ice that a step waits for: in words, and whether a plan can wait for it.

use super::{IceRule, Need, OrderLine, PlanFileError, PlanProblem, Process, Recipe, error};
use crate::plan::process::LONGEST_MIN;

/// The number of a layer of ice, and the room that it melts in, C.
const fn layer_of(need: Need) -> u32 {
    if let Need::Ice(layer) = need { layer } else { 1 }
}

fn room_c(recipe: &Recipe) -> Option<f64> {
    recipe.ice.as_ref().map(IceRule::room_c)
}

pub(super) fn melting_words(recipe: &Recipe, need: Need, hours: f64) -> String {
    error::melting_words(layer_of(need), hours, room_c(recipe))
}

/// Refuses ice that a process waits for and that takes longer to melt than can be planned.
pub(super) fn check_melting(lines: &[OrderLine], processes: &[Process], recipes: &[Recipe]) -> Result<(), PlanFileError> {
    for line in lines {
        for need in processes[line.process].steps.iter().flat_map(|step| &step.needs) {
            let Some(hours) = line.masses.ice_layer(*need).map(|ice| ice.melts_in.value) else { continue };
            if !(0.0..=f64::from(LONGEST_MIN)).contains(&(hours * 60.0)) {
                let room_c = room_c(&recipes[line.process]);
                return Err(PlanFileError::new("recipe", PlanProblem::NeverMelts { layer: layer_of(*need), hours, room_c }));
            }
        }
    }
    Ok(())
}
