//! Ice that a step waits for: in words, and whether a plan can wait for it.

use super::{Need, OrderLine, PlanFileError, PlanProblem, Process, Recipe, short};
use crate::plan::process::LONGEST_MIN;

pub(super) fn melting_words(recipe: &Recipe, need: Need, hours: f64) -> String {
    let layer = if let Need::Ice(layer) = need { layer } else { 1 };
    let room = recipe.ice.as_ref().map_or_else(String::new, |ice| format!(" at {} °C", short(ice.room_c())));
    format!("ice, layer {layer}, takes about {hours:.1} h to melt{room}")
}

/// Refuses ice that a process waits for and that takes longer to melt than can be planned.
pub(super) fn check_melting(lines: &[OrderLine], processes: &[Process], recipes: &[Recipe]) -> Result<(), PlanFileError> {
    for line in lines {
        for need in processes[line.process].steps.iter().flat_map(|step| &step.needs) {
            let Some(hours) = line.masses.ice_layer(*need).map(|ice| ice.melts_in.value) else { continue };
            if !(0.0..=f64::from(LONGEST_MIN)).contains(&(hours * 60.0)) {
                let melting = melting_words(&recipes[line.process], *need, hours);
                return Err(PlanFileError::new("recipe", PlanProblem::NeverMelts { melting }));
            }
        }
    }
    Ok(())
}
