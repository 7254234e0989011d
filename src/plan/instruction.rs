//! What to do at a step: the process' own words, and what follows from the vessel, what heats it and the recipe.

use super::vessel::{Heating, Ring, VesselMaterial};
use super::{DischargeRule, Need, Order, Place, Step, Until};
use crate::layout::{FoldKind, Layout, Rest};
use crate::telling::listed;

/// The words of a step of a process, by its index, for an order.
pub(super) fn instruction(order: &Order, process: usize, step: &Step) -> String {
    let discharge = order.recipes()[process].discharge.as_ref();
    let scrap = discharge.filter(|_| step.needs.contains(&Need::ScrapBath)).map(scrap_bath);
    let more = step.until.iter().filter_map(|until| match until {
        Until::Heated => Some(heating(order)),
        Until::Discharged => discharge.map(|rule| format!("{} {TURN} {}", counting(order), used_up(rule))),
        Until::Dry | Until::Fixed => None,
    });
    let laid = step.needs.iter().filter_map(|need| match need {
        // Where it is weighed no rod lies yet.
        Need::Stock if step.place == Some(Place::Rack) => loose_cloth(order, process),
        Need::Dye if step.place == Some(Place::Rack) => {
            let laid = [lying(order, process), loose_cloth(order, process)];
            Some(laid.into_iter().flatten().collect::<Vec<_>>().join(" ")).filter(|words| !words.is_empty())
        }
        Need::Ice(1) => turning(order, process),
        Need::Ice(layer) => counted_on(order, process, *layer),
        _ => None,
    });
    std::iter::once(step.what.clone()).chain(scrap).chain(laid).chain(more).collect::<Vec<_>>().join(" ")
}

/// The layouts of a process that lie under ice as rods, each once. (A puck lies on its face, and is not turned.)
fn under_ice(order: &Order, process: usize) -> Vec<&Layout> {
    let lines = order.lines().iter().filter(|line| line.process == process).map(|line| &line.layout);
    let mut layouts: Vec<&Layout> = Vec::new();
    for layout in lines.filter(|layout| !layout.process().dye.is_dissolved()) {
        let is_known = layouts.iter().any(|known| known.name() == layout.name() && known.process() == layout.process());
        if !is_known && layout.raw().fold.kind() != FoldKind::Spiral {
            layouts.push(layout);
        }
    }
    layouts
}

/// Those of a process' layouts for which something is so: all of them, or by name; none of none.
fn which(layouts: &[&Layout], is_so: impl Fn(&Layout) -> bool) -> Option<String> {
    let those: Vec<&&Layout> = layouts.iter().filter(|layout| is_so(layout)).collect();
    let named = || listed(those.iter().map(|layout| format!("\"{}\"", layout.name())), "and");
    (!those.is_empty()).then(|| if those.len() == layouts.len() { "every rod".to_owned() } else { named() })
}

/// How the rods lie under their ice, as their layouts say.
fn lying(order: &Order, process: usize) -> Option<String> {
    let layouts = under_ice(order, process);
    let lies = |words: &'static str| {
        let those = which(&layouts, |layout| layout.process().rest.lies() == words)?;
        Some(format!("Lay {those} {words}."))
    };
    let words: Vec<String> = [Rest::EdgesUp.lies(), Rest::OnItsFlat.lies()].into_iter().filter_map(lies).collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// What becomes of the cloth about several ties, which no rod strip shows.
fn loose_cloth(order: &Order, process: usize) -> Option<String> {
    let lines = order.lines().iter().filter(|line| line.process == process).map(|line| &line.layout);
    let layouts: Vec<&Layout> = lines.filter(|layout| layout.is_of_several()).collect();
    let those = |is_dyed: bool| {
        let is_so = |layout: &&&Layout| layout.loose().is_some_and(|loose| loose.swatch.is_some() == is_dyed);
        let named: Vec<String> = layouts.iter().filter(is_so).map(|layout| format!("\"{}\"", layout.name())).collect();
        (!named.is_empty()).then(|| listed(named, "and"))
    };
    let dyed = those(true).map(|of| {
        format!("Push the loose cloth of {of} together round its rods, and give it its own dye, as much as the job card says, on both of its sides.")
    });
    let bare = those(false).map(|of| format!("Cover the loose cloth of {of} with plastic sheet: it gets no dye."));
    let words: Vec<String> = dyed.into_iter().chain(bare).collect();
    (!words.is_empty()).then(|| words.join(" "))
}

/// Which rods are turned under their ice.
fn turning(order: &Order, process: usize) -> Option<String> {
    let turned = which(&under_ice(order, process), |layout| layout.process().rest == Rest::TurnedHalfWay)?;
    Some(format!(
        "When about half the ice has melted, turn {turned} over, gloves on, and heap what is left of the ice over it again."
    ))
}

/// Which layouts count on a further layer of ice.
fn counted_on(order: &Order, process: usize, layer: u32) -> Option<String> {
    let layouts = under_ice(order, process);
    let those = which(&layouts, |layout| layout.process().ice_layers.0 >= layer)?;
    Some(format!("The reveal counts on this layer for {those}: lay it there in any case."))
}

/// How hot a scrap's bath is: as the piece's.
fn scrap_bath(rule: &DischargeRule) -> String {
    format!("Bath temperature: {}, never boiling.", rule.kept_between())
}

/// From when the agent's minutes count: from when the bath is hot, or where nothing heats it from when the rods are in.
fn counting(order: &Order) -> &'static str {
    match order.raw().workshop.vessel.heating {
        Heating::Hob { .. } => {
            "Bring the bath to the temperature given for the load, by a thermometer, then turn the heat to its lowest: never \
            boiling. Count \
             the minutes from then."
        }
        Heating::Kettle { .. } => {
            "Nothing heats this tub; never set it on a hob. Count the minutes from when the last rod is under."
        }
    }
}

const TURN: &str = "Halfway through them turn the rods once, with tongs, lifting the lid away from you.";

fn used_up(rule: &DischargeRule) -> String {
    format!(
        "After about {} minutes the agent is used up, but the bath still scalds and gives off gas. Never add agent to a used \
        bath; for a second \
         round rinse the rods, let this bath cool, and make a fresh one.",
        rule.renew_after_min
    )
}

/// How the water gets hot.
fn heating(order: &Order) -> String {
    let vessel = &order.raw().workshop.vessel;
    let described = vessel.words(order.lengths());
    let material = match vessel.material {
        VesselMaterial::Polypropylene => " No other plastic: it may sag in such hot water.",
        VesselMaterial::Steel => "",
    };
    let words = match vessel.heating {
        Heating::Hob { ring, .. } => format!(
            "The vessel: {described}. Set it where it will stay.{material} {} Dissolve the soda ash in the cold water, then heat \
            it covered. Stay with it; \
             turn it off if you leave.",
            supply(ring)
        ),
        Heating::Kettle { .. } => format!(
            "The vessel: {described}. Set it where it will stay, never on a hob.{material} {} Dissolve the soda ash in warm water, \
            a litre for each 100 g, \
             in a jug kept for dye, and pour that in; it counts toward the water. Boil the rest in the kettle, and pour each filling in slowly, \
             away from you; keep the lid on between them.",
            mains("kettle")
        ),
    };
    let discharges = order.loads().iter().filter(|load| load.discharge.is_some()).count();
    if discharges < 2 {
        return words;
    }
    format!("{words} Each load takes a fresh bath, in this vessel once it is cold, emptied and rinsed, or in another like it.")
}

/// What to mind of a hob's flame or cable.
fn supply(ring: Ring) -> String {
    match ring {
        Ring::Gas => "Keep the agent's jar away from the flame until it is out.".to_owned(),
        Ring::Electric | Ring::Induction => mains("hob"),
    }
}

/// Mains electricity beside water (common practice, no source).
fn mains(what: &str) -> String {
    format!(
        "Plug the {what} into a circuit that has a residual current device (RCD, GFCI) and is rated for its power, never \
        through a coiled cable. Keep \
         plug and cable dry and out of your path. Not in rain."
    )
}
