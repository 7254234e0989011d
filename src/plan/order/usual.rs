//! The process and the recipe that are taken where none is named.

use crate::layout::Layout;
use crate::plan::{Need, Process};

/// The process that suits a layout when none is named: one with a discharge if the layout has one, or if the garment's colour is
/// given and dark, so that there is something to discharge (the limit, half the brightness of white, is our own judgement); one that puts the dye
/// on by hand if the layout does.
#[must_use]
pub fn usual_process(layout: &Layout) -> &'static str {
    let dark = layout.raw().garment.colour.as_ref().is_some_and(|colour| {
        let srgb = colour.srgb;
        u32::from(srgb.red) + u32::from(srgb.green) + u32::from(srgb.blue) < 3 * 128
    });
    let by_hand = layout.process().dye.is_dissolved();
    match (dark || layout.process().discharge.is_some(), by_hand) {
        (true, false) => "discharge-and-dye",
        (true, true) => "discharge-and-paint",
        (false, false) => "plain-dye",
        (false, true) => "plain-paint",
    }
}

/// The recipe that suits processes when none is named, by the name it comes under with the program: one with a discharge if any of
/// them needs it, one of dissolved dye if all of them put it on by hand.
#[must_use]
pub fn usual_recipe<'a>(processes: impl IntoIterator<Item = &'a Process>) -> &'static str {
    let processes: Vec<&Process> = processes.into_iter().collect();
    if !processes.is_empty() && processes.iter().all(|process| process.uses(Need::Stock)) {
        "solution-by-hand"
    } else if processes.iter().any(|process| process.uses(Need::Discharge)) {
        "powder-under-ice"
    } else {
        "powder-on-white"
    }
}
