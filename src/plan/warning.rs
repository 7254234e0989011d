//! What may spoil a plan's pieces, or fail: each with its value, its limit and a cure.

use super::order::Ground;
use super::timeline::Entry;
use super::{
    AgentGoes, Chemistry, DischargeRule, DyeClass, Load, Need, Order, OutOfOrder, Process, Recipe, Step, Temperature, Unit, Until,
};
use super::{out_of_order, short};
use crate::layout::{Fibre, Serves, serves};
use crate::telling::{Told, Voice, Warned, listed};
use jiff::civil::Date;
use serde::Serialize;
use std::collections::BTreeSet;

/// A warning of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum PlanWarning {
    /// The discharge is too cool for its agent.
    BathTooCool {
        /// The load's number; that in the order until the plan numbers them by time.
        load: u32,
        /// With the rods in it, C.
        with_goods_c: f64,
        /// At the end, C.
        at_end_c: f64,
        /// Where the agent works, C.
        works: Temperature,
        /// Whether something heats it meanwhile.
        heated: bool,
    },
    /// The hob never brings its water to the temperature wished for.
    NeverHot {
        /// The load's number.
        load: u32,
        /// The power, W.
        power_w: f64,
    },
    /// A discharge whose process has no step in which its water is heated.
    NoHeating {
        /// The process.
        process: String,
        /// Minutes that heating takes for its largest load.
        minutes: f64,
    },
    /// A discharge recipe without alkali.
    NoAlkali {
        /// The recipe.
        recipe: String,
    },
    /// A step that strews the agent on wet goods, or does not say how it meets the water.
    AgentStrewn {
        /// The process.
        process: String,
        /// The step.
        step: String,
        /// Whether the process says so itself; else it says nothing.
        said: bool,
    },
    /// A bath that goes on longer than its agent lasts.
    BathSpent {
        /// The process.
        process: String,
        /// The step.
        step: String,
        /// Minutes that it may last by the process.
        minutes: u32,
        /// Minutes after which it is spent.
        spent_after_min: u32,
    },
    /// Part of the cloth stays undyed.
    Paler {
        /// The layout.
        layout: String,
        /// The fibre.
        fibre: Fibre,
        /// How much stays undyed, percent.
        percent: f64,
    },
    /// The room, or what the rods are kept at, is out of the dye's class.
    DoesNotFix {
        /// The dye's class.
        class: DyeClass,
        /// Temperature that the rods are kept at, C.
        kept_at_c: f64,
        /// Where the class fixes, C.
        fixes_at: Temperature,
    },
    /// A process that lays powder under ice, for a layout that is dyed by hand, or the other way round.
    OtherMethod {
        /// The layout.
        layout: String,
        /// Whether the layout is dyed by hand.
        by_hand: bool,
    },
    /// A layout that counts on more layers of ice than are laid.
    MoreIce {
        /// The layout.
        layout: String,
        /// Layers that it counts on.
        wants: u32,
        /// Layers that its process and recipe have.
        laid: u32,
    },
    /// Steps in an order, or with one missing, that spoils the piece.
    Sequence {
        /// The process.
        process: String,
        /// What is wrong.
        wrong: OutOfOrder,
    },
    /// A discharge of undyed cloth.
    NothingToDischarge {
        /// The layout.
        layout: String,
        /// Its process.
        process: String,
    },
    /// A rod that does not lie in the vessel.
    RodTooLong {
        /// The load's number.
        load: u32,
        /// Its longest rod, mm.
        rod_mm: f64,
        /// The longest that the vessel holds, once round its wall, mm.
        holds_mm: f64,
    },
    /// More loads with a bath than vessels: they wait for one another, for a spent bath stays where it is to the next day.
    VesselInTurn {
        /// The loads' numbers, by day.
        loads: Vec<u32>,
        /// The day of each one's bath.
        days: Vec<Date>,
        /// How many vessels there are.
        vessels: u32,
    },
    /// No step tests a scrap, and nobody says that it was done.
    NoScrap {
        /// The process.
        process: String,
    },
}

/// Why strewing is warned of.
const STREWING: &str = "sodium hydrosulphite added too quickly has thrown the bath out of the vessel, and may react violently \
    with a little water (HSE, \
                        Textiles); thiourea dioxide heats itself with moisture (UK P&I Club bulletin 437)";

impl Warned for PlanWarning {
    fn name(&self) -> &'static str {
        match self {
            Self::BathTooCool { .. } => "bath-too-cool",
            Self::NeverHot { .. } => "never-hot",
            Self::NoHeating { .. } => "no-heating",
            Self::NoAlkali { .. } => "no-alkali",
            Self::AgentStrewn { .. } => "agent-strewn",
            Self::BathSpent { .. } => "bath-spent",
            Self::Paler { .. } => "paler",
            Self::DoesNotFix { .. } => "does-not-fix",
            Self::OtherMethod { .. } => "other-method",
            Self::MoreIce { .. } => "more-ice",
            Self::Sequence { wrong, .. } => wrong.name(),
            Self::NothingToDischarge { .. } => "nothing-to-discharge",
            Self::RodTooLong { .. } => "rod-too-long",
            Self::VesselInTurn { .. } => "vessel-in-turn",
            Self::NoScrap { .. } => "no-scrap",
        }
    }

    #[expect(clippy::too_many_lines, reason = "what each warning says, in one place")]
    fn told(&self, voice: Voice) -> Told {
        let celsius = |value: f64| Unit::Celsius.say(value);
        match self {
            Self::BathTooCool { load, with_goods_c, at_end_c, works, heated } => {
                let (goods, end, from) = (celsius(*with_goods_c), celsius(*at_end_c), celsius(works.from_c));
                let cure = if *heated {
                    "cover it, or use a stronger hob or a smaller load"
                } else {
                    "use a pot on a hob, more water, a smaller load, or an agent that works cooler"
                };
                Told::new(
                    format!(
                        "load {load}: the discharge is at {goods} with the rods in it and at {end} at the end; its agent works \
                        from {from} on"
                    ),
                    cure,
                )
            }
            Self::NeverHot { load, power_w } => Told::new(
                format!("load {load}: {} W never heats the discharge's water enough", short(*power_w)),
                "cover it, or use a stronger hob or less water",
            ),
            Self::NoHeating { process, minutes } => Told::new(
                format!(
                    "\"{process}\" has no step that heats the discharge's water, which takes about {}; the timetable leaves \
                        it out",
                    Unit::Minute.say(*minutes)
                ),
                voice.either(
                    "add a step with needs: [BathWater] and until: [Heated]",
                    "add a step that uses \"discharge water\" and waits until \"the water is hot\"",
                ),
            ),
            Self::NoAlkali { recipe } => Told::new(
                format!("the recipe \"{recipe}\" discharges without soda ash, and these agents hardly work without alkali"),
                voice.either("add soda_ash_g_per_l, such as 2.5", "add \"Soda ash in the bath\", such as 2.5 g/L"),
            ),
            Self::AgentStrewn { process, step, said } => strewn(process, step, *said, voice),
            Self::BathSpent { process, step, minutes, spent_after_min } => Told::new(
                format!(
                    "\"{process}\", {step}: the bath may go on for {minutes} min and is spent after about {spent_after_min} min"
                ),
                "end it sooner, or make a fresh bath",
            ),
            Self::Paler { layout, fibre, percent } => Told::new(
                format!(
                    "\"{layout}\": {} % of the cloth, most of it {fibre}, takes no dye or only a tint, so colours come out paler",
                    short(*percent)
                ),
                "test a scrap",
            ),
            Self::DoesNotFix { class, kept_at_c, fixes_at } => does_not_fix(*class, *kept_at_c, *fixes_at, voice),
            Self::OtherMethod { layout, by_hand: true } => Told::new(
                format!("\"{layout}\" is dyed by hand, and its process lays powder under ice"),
                voice.either("use discharge-and-paint or plain-paint", "use \"Discharge and paint\" or \"Paint on white\""),
            ),
            Self::OtherMethod { layout, by_hand: false } => Told::new(
                format!("\"{layout}\" is dyed as powder under ice, and its process puts dye on by hand"),
                voice.either("use discharge-and-dye or plain-dye", "use \"Discharge and dye\" or \"Plain dye on white\""),
            ),
            Self::MoreIce { layout, wants, laid } => Told::new(
                format!("the reveal of \"{layout}\" counts on {wants} layers of ice, and its process lays {laid}"),
                format!("add steps with ice to the process and layers to its recipe, or count on {laid} in the layout"),
            ),
            Self::Sequence { process, wrong } => {
                let told = wrong.told(voice);
                Told::new(format!("\"{process}\", {}", told.what), told.cure)
            }
            Self::NothingToDischarge { layout, process } => Told::new(
                format!("\"{layout}\" is undyed, or its colour is not given, and \"{process}\" discharges it"),
                voice.either(
                    "give its colour, or use plain-dye or plain-paint",
                    "give its colour, or use \"Plain dye on white\" or \"Paint on white\"",
                ),
            ),
            Self::RodTooLong { load, rod_mm, holds_mm } => {
                let [rod, holds] = voice.apart(rod_mm.round(), holds_mm.round());
                Told::new(
                    format!("load {load}: a rod {rod} long is too long for the vessel, which holds {holds} once round"),
                    "use a wider vessel",
                )
            }
            Self::VesselInTurn { loads, days, vessels } => {
                let day = |(load, day): (&u32, &Date)| format!("load {load} on {}", day.strftime("%a %-d %b"));
                let told = if loads.len() > MOST_LOADS { FIRST_LOADS } else { loads.len() };
                let more = || Some(format!("{} more, the last on {}", loads.len() - told, days.last()?.strftime("%a %-d %b")));
                let rest = (told < loads.len()).then(more).flatten();
                let each = listed(loads.iter().zip(days).take(told).map(day).chain(rest), "and");
                let hold = match vessels {
                    1 => "the discharge vessel holds a spent bath".to_owned(),
                    vessels => format!("{vessels} discharge vessels each hold a spent bath"),
                };
                Told::new(
                    format!("{hold} until the next day, so loads wait for their turn: {each}"),
                    "use more vessels like it to discharge more on one day",
                )
            }
            Self::NoScrap { process } => Told::new(
                format!("\"{process}\" tests no scrap first"),
                "discharge and dye a scrap, or a piece from inside a hem, before the garment",
            ),
        }
    }
}

/// Most loads that are named with their days, and how many of more are: their last day tells the rest.
const MOST_LOADS: usize = 6;
const FIRST_LOADS: usize = 3;

/// What is wrong with how an agent meets the water; `said` by the process itself, or not said at all.
fn strewn(process: &str, step: &str, said: bool, voice: Voice) -> Told {
    let into_water = voice.either("say agent_goes: IntoWater", "choose \"into the hot water\" for how it goes in");
    let (fault, cure) = if said {
        ("the agent is sprinkled over wet rods", format!("put it into the hot water instead, and {into_water}"))
    } else {
        (
            "it does not say that the agent goes into the water",
            format!("if it does, {into_water}; if it is sprinkled, change that"),
        )
    };
    Told::new(format!("\"{process}\", {step}: {fault}; {STREWING}"), cure)
}

/// Rods that are kept too hot or too cool for their dye's class.
fn does_not_fix(class: DyeClass, kept_at_c: f64, fixes_at: Temperature, voice: Voice) -> Told {
    let [kept, from, to] = [kept_at_c, fixes_at.from_c, fixes_at.to_c].map(|value| Unit::Celsius.say(value));
    if kept_at_c > fixes_at.to_c {
        return Told::new(
            format!("the rods are kept at {kept}, above the {to} at which a dye of the {class} class fixes best, and may spoil"),
            "keep them cooler",
        );
    }
    // What only steam fixes, no warmer room does.
    let place = voice.either("--keep-at, or Workshop in the Day view", "under Workshop");
    let say_so = if class == DyeClass::Hot { String::new() } else { format!(", and say so ({place})") };
    Told::new(
        format!("the rods are kept at {kept}, and a dye of the {class} class fixes from {from} on"),
        format!("{}{say_so}", class.how_to_warm()),
    )
}

/// Everything to be warned of in an order. Numbers of loads are the order's.
pub(super) fn warnings(order: &Order) -> Vec<PlanWarning> {
    let mut list: Vec<PlanWarning> = order.loads().iter().filter_map(bath).collect();
    list.extend(order.loads().iter().filter_map(|load| rod_too_long(order, load)));
    for (index, process) in order.processes().iter().enumerate() {
        list.extend(of_process(order, index, process));
    }
    for (index, recipe) in order.recipes().iter().enumerate() {
        for warning in of_recipe(order, index, recipe) {
            if !list.contains(&warning) {
                list.push(warning);
            }
        }
    }
    for line in order.lines() {
        let layout = line.layout.name().to_owned();
        if let Serves::Paler { fibre, percent } = serves(&line.layout.raw().garment.fibres) {
            list.push(PlanWarning::Paler { layout: layout.clone(), fibre, percent });
        }
        let (by_hand, process) = (line.layout.process().dye.is_dissolved(), &order.processes()[line.process]);
        let paints = process.uses(Need::Stock);
        let dyes = paints || process.uses(Need::Dye);
        if dyes && by_hand != paints {
            list.push(PlanWarning::OtherMethod { layout: layout.clone(), by_hand });
        }
        let (wants, laid) = (line.layout.process().ice_layers.0, layers_laid(process, &order.recipes()[line.process]));
        if dyes && !by_hand && !paints && wants > laid {
            list.push(PlanWarning::MoreIce { layout: layout.clone(), wants, laid });
        }
        if process.uses(Need::Discharge) && Ground::of(&line.layout) == Ground::Undyed {
            list.push(PlanWarning::NothingToDischarge { layout, process: process.name.clone() });
        }
    }
    list.dedup();
    list
}

/// Layers of ice for which a process has a step and its recipe a mass.
fn layers_laid(process: &Process, recipe: &Recipe) -> u32 {
    let known = recipe.ice.as_ref().map_or(0, |ice| ice.layers.len());
    let layer = |need: &Need| if let Need::Ice(layer) = need { Some(*layer) } else { None };
    let laid: BTreeSet<u32> = process.steps.iter().flat_map(|step| step.needs.iter().filter_map(layer)).collect();
    u32::try_from(laid.iter().filter(|layer| **layer as usize <= known).count()).unwrap_or(u32::MAX)
}

/// That loads wait for a vessel, if they are more than there are vessels.
pub(super) fn vessels_in_turn(order: &Order, entries: &[Entry]) -> Option<PlanWarning> {
    let vessels = order.raw().workshop.vessels;
    let mut baths: Vec<(Date, u32)> =
        entries.iter().filter(|entry| entry.vessel).filter_map(|entry| Some((entry.begins().date(), entry.load?))).collect();
    baths.sort_unstable();
    let mut known = BTreeSet::new();
    baths.retain(|(_, load)| known.insert(*load));
    let is_more = u32::try_from(baths.len()).is_ok_and(|baths| baths > vessels);
    let (days, loads) = baths.into_iter().unzip();
    is_more.then_some(PlanWarning::VesselInTurn { loads, days, vessels })
}

fn bath(load: &Load) -> Option<PlanWarning> {
    let bath = load.discharge.as_ref()?;
    let heat = &bath.heat;
    let heated = heat.fillings.is_none();
    if heated && !heat.heating.value.is_finite() {
        return Some(PlanWarning::NeverHot { load: load.number, power_w: heat.power_w });
    }
    (!heat.is_hot_enough()).then_some(PlanWarning::BathTooCool {
        load: load.number,
        with_goods_c: heat.with_goods.value,
        at_end_c: heat.at_end.value,
        works: heat.works,
        heated,
    })
}

/// Of the recipe of a process, by its index.
fn of_recipe(order: &Order, process: usize, recipe: &Recipe) -> Vec<PlanWarning> {
    let mut list = Vec::new();
    let discharges = order.loads().iter().any(|load| load.process == process && load.discharge.is_some());
    let has_alkali = |rule: &DischargeRule| rule.soda_ash_g_per_l.as_ref().is_some_and(|soda| soda.value > 0.0);
    if discharges && recipe.discharge.as_ref().is_some_and(|rule| !has_alkali(rule)) {
        list.push(PlanWarning::NoAlkali { recipe: recipe.name.clone() });
    }
    let (class, kept_at_c) = (recipe.dye.class, order.raw().workshop.curing_c());
    let fixes_at = class.fixes_at();
    if kept_at_c < fixes_at.from_c || kept_at_c > fixes_at.to_c {
        list.push(PlanWarning::DoesNotFix { class, kept_at_c, fixes_at });
    }
    list
}

/// A bound rod is a rope: it lies along the wall.
fn rod_too_long(order: &Order, load: &Load) -> Option<PlanWarning> {
    load.discharge.as_ref()?;
    let rods = load.items.iter().map(|item| order.lines()[item.line].masses.rod);
    let rod_mm = rods.clone().map(|rod| rod.longest_mm).fold(0.0, f64::max);
    let holds_mm = order.raw().workshop.vessel.holds_rod_mm(rods.map(|rod| rod.thickest_mm).fold(0.0, f64::max));
    (rod_mm > holds_mm).then_some(PlanWarning::RodTooLong { load: load.number, rod_mm, holds_mm })
}

fn of_process(order: &Order, index: usize, process: &Process) -> Vec<PlanWarning> {
    let name = || process.name.clone();
    let mut list = Vec::new();
    let baths: Vec<_> =
        order.loads().iter().filter(|load| load.process == index).filter_map(|load| load.discharge.as_ref()).collect();
    if !baths.is_empty() && !process.steps.iter().any(|step| step.until.contains(&Until::Heated)) {
        let minutes = baths.iter().map(|bath| bath.heat.heating.value).fold(0.0, f64::max);
        list.push(PlanWarning::NoHeating { process: name(), minutes });
    }
    for step in process.steps.iter().filter(|step| step.chemistry == Chemistry::Reductive) {
        if step.agent_goes != Some(AgentGoes::IntoWater) {
            let said = step.agent_goes == Some(AgentGoes::OntoRods);
            list.push(PlanWarning::AgentStrewn { process: name(), step: step.name.clone(), said });
        }
        list.extend(spent(order, (index, process), step));
    }
    list.extend(out_of_order(process).into_iter().map(|wrong| PlanWarning::Sequence { process: name(), wrong }));
    let dyes = process.uses(Need::Dye) || process.uses(Need::Stock);
    if dyes && !order.raw().scrap_tested && !process.steps.iter().any(|step| step.scrap) {
        list.push(PlanWarning::NoScrap { process: name() });
    }
    list
}

fn spent(order: &Order, (index, process): (usize, &Process), step: &Step) -> Option<PlanWarning> {
    let spent_after_min = order.recipes()[index].discharge.as_ref()?.renew_after_min;
    let minutes = step.wait.map(|wait| wait.most_min.unwrap_or(wait.least_min))?;
    (minutes > spent_after_min).then(|| PlanWarning::BathSpent {
        process: process.name.clone(),
        step: step.name.clone(),
        minutes,
        spent_after_min,
    })
}

impl PlanWarning {
    /// The numbers of the loads that it is about; none where it is about the whole plan, a layout or a process.
    #[must_use]
    pub fn loads(&self) -> &[u32] {
        match self {
            Self::BathTooCool { load, .. } | Self::NeverHot { load, .. } | Self::RodTooLong { load, .. } => {
                std::slice::from_ref(load)
            }
            Self::VesselInTurn { loads, .. } => loads,
            _ => &[],
        }
    }

    /// The same with the loads' numbers as a plan has them.
    pub(super) fn numbered(mut self, number: impl Fn(u32) -> u32) -> Self {
        if let Self::BathTooCool { load, .. } | Self::NeverHot { load, .. } | Self::RodTooLong { load, .. } = &mut self {
            *load = number(*load);
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::LengthStyle;

    /// A hundred and thirty-nine loads were named one by one.
    #[test]
    fn many_loads_are_told_by_the_first_and_the_last() {
        let first = Date::constant(2027, 5, 3);
        let said = |count: i64| {
            let days = (0..count).map(|day| first.checked_add(jiff::Span::new().days(day)).unwrap()).collect();
            let loads = (1..=u32::try_from(count).unwrap()).collect();
            PlanWarning::VesselInTurn { loads, days, vessels: 1 }.say(Voice::window(LengthStyle::default()))
        };
        let wait = "The discharge vessel holds a spent bath until the next day, so loads wait for their turn:";
        let cure = "Use more vessels like it to discharge more on one day.";
        assert_eq!(said(2), format!("{wait} load 1 on Mon 3 May and load 2 on Tue 4 May. {cure}"));
        assert_eq!(
            said(40),
            format!(
                "{wait} load 1 on Mon 3 May, load 2 on Tue 4 May, load 3 on Wed 5 May and 37 more, the last on Fri 11 Jun. {cure}"
            )
        );
        assert_eq!(said(6).matches("load ").count(), 6, "six are still named each");
    }
}
