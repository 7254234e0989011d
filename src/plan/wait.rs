//! How long a load waits after a step, and why: the least that the process says, or whatever takes longer.

use super::dry::dries_slower;
use super::hot_soak::hot_soak_rounds;
use super::melting::melting_words;
use super::process::LONGEST_MIN;
use super::{Load, Need, Order, Recipe, Step, Unit, Until, Wait, short};

/// Longest that a heated vessel stands ready before the next step, min: 10 (our own judgement; nobody leaves it alone meanwhile).
const ON_THE_HEAT_MIN: u32 = 10;

/// Something beside the process' own least wait that a load has to wait for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Cause {
    /// How long it takes, min, begun ones counted.
    pub(super) least_min: u32,
    /// What it is, in words that end a sentence: `the ice takes about 19.1 h to melt at 8 °C`.
    pub(super) words: String,
}

/// The wait after a step of a load, and what sets it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct StepWait {
    /// Its limits. The most is never below the least.
    pub(super) wait: Wait,
    /// Minutes of it that somebody stays beside, before the rest: all of the least wait of a pot on the heat, none of another.
    pub(super) attended_min: u32,
    /// Why its least is longer than the process'; none where the process' own holds.
    pub(super) reason: Option<String>,
    /// The process' most, where the least is longer even than that.
    pub(super) passed_most_min: Option<u32>,
}

impl StepWait {
    /// The longest of a process' own least wait and of causes; none where there is nothing to wait for.
    pub(super) fn longest(own: Option<Wait>, causes: impl IntoIterator<Item = Cause>) -> Option<Self> {
        let own_least_min = own.map_or(0, |wait| wait.least_min);
        let longer = causes.into_iter().filter(|cause| cause.least_min > own_least_min);
        let Some(Cause { least_min, words }) = longer.max_by_key(|cause| cause.least_min) else {
            return own.map(|wait| Self { wait, attended_min: 0, reason: None, passed_most_min: None });
        };
        let own_most_min = own.and_then(|wait| wait.most_min);
        Some(Self {
            // What takes longer than the process' most is given as much time afterwards as the process gives.
            wait: Wait {
                least_min,
                most_min: own_most_min
                    .map(|most_min| if most_min < least_min { least_min + (most_min - own_least_min) } else { most_min }),
            },
            attended_min: 0,
            reason: Some(words),
            passed_most_min: own_most_min.filter(|&most_min| most_min < least_min),
        })
    }

    /// The wait after a step that is done to these loads.
    pub(super) fn of(order: &Order, step: &Step, loads: &[&Load]) -> Option<Self> {
        let own_least_min = step.wait.map_or(0, |wait| wait.least_min);
        let melting = step.needs.iter().filter_map(|&need| melting(order, need, loads));
        let until = step.until.iter().filter_map(|&until| lasting(order, until, loads, own_least_min));
        let rounds = hot_soak_rounds(order, step, loads);
        let in_rounds = (rounds > 1)
            .then(|| Cause { least_min: own_least_min * rounds, words: format!("the tub takes the load in {rounds} rounds") });
        let wait = Self::longest(most_by_bath(step, loads, rounds), melting.chain(until).chain(in_rounds))?;
        Some(if step.until.iter().any(|until| until.is_attended()) { wait.attended() } else { wait })
    }

    /// The same for what nobody leaves alone: its least is spent beside it, and the next step follows soon.
    fn attended(self) -> Self {
        let Wait { least_min, most_min } = self.wait;
        let soon_min = most_min.map_or(ON_THE_HEAT_MIN, |most_min| most_min - least_min);
        Self { wait: Wait { least_min: 0, most_min: Some(soon_min) }, attended_min: least_min, ..self }
    }
}

/// A step's own wait; its most counts for each round, and in a discharge from when the bath is hot again.
fn most_by_bath(step: &Step, loads: &[&Load], rounds: u32) -> Option<Wait> {
    let later_min = if step.until.contains(&Until::Discharged) { counts_after_min(loads) } else { 0 };
    step.wait.map(|wait| Wait { most_min: wait.most_min.map(|most_min| most_min * rounds + later_min), ..wait })
}

/// Minutes that a discharge takes to be hot again once the rods are in, begun ones counted.
fn counts_after_min(loads: &[&Load]) -> u32 {
    let baths = loads.iter().filter_map(|load| load.discharge.as_ref());
    minutes_up(baths.map(|bath| bath.heat.counts_after_min).fold(0.0, f64::max) / 60.0)
}

/// Whether the step after one in a process has to wait for it: a step done once that waits holds up only the steps that name it.
pub(super) const fn leads_on(is_once: bool, waits: bool) -> bool {
    !(is_once && waits)
}

/// How long something beside the process' own wait goes on for these loads; none where there is nothing of the kind.
fn lasting(order: &Order, until: Until, loads: &[&Load], own_least_min: u32) -> Option<Cause> {
    let baths = || loads.iter().filter_map(|load| load.discharge.as_ref());
    match until {
        Until::Heated => {
            let slowest = baths().map(|bath| &bath.heat).max_by(|a, b| a.heating.value.total_cmp(&b.heating.value))?;
            let words = format!(
                "the water takes about {} to reach {}{}",
                slowest.heating,
                slowest.water,
                slowest.fillings.map_or_else(String::new, |fillings| format!(", in {fillings} fillings of the kettle"))
            );
            Some(Cause { least_min: minutes_up(slowest.heating.value / 60.0), words })
        }
        Until::Discharged => {
            let rule = recipe_of(order, loads)?.discharge.as_ref().filter(|_| baths().next().is_some())?;
            let (after_min, least_min) = (counts_after_min(loads), rule.used().least_min.max(own_least_min));
            let from = match after_min {
                0 => String::new(),
                _ => format!(" from when the bath is hot again, about {after_min} min after the rods are in"),
            };
            Some(Cause { least_min: after_min + least_min, words: format!("{} takes {least_min} min{from}", rule.agent) })
        }
        Until::Dry => {
            let lines = loads.iter().flat_map(|load| &load.items).map(|item| &order.lines()[item.line]);
            let slowest = lines.max_by(|a, b| a.masses.dries_in.value.total_cmp(&b.masses.dries_in.value))?;
            let room_c = order.raw().workshop.room_c;
            let hours = slowest.masses.dries_in.value * dries_slower(room_c);
            let words = format!(
                "a rod {} thick takes about {} to dry inside at {} °C",
                order.lengths().format(slowest.masses.rod.thickest_mm.round()),
                Unit::Hour.say(hours),
                short(room_c)
            );
            Some(Cause { least_min: minutes_up(hours), words })
        }
        Until::Fixed => {
            let at_c = order.raw().workshop.curing_c();
            let recipe = recipe_of(order, loads)?;
            let (hours, class) = (recipe.fixes_in_h(at_c), recipe.dye.class);
            let words = format!("a dye of the {class} class takes about {} h to fix at {} °C", short(hours), short(at_c));
            Some(Cause { least_min: minutes_up(hours), words })
        }
    }
}

/// The recipe of these loads' process; none without a load.
fn recipe_of<'a>(order: &'a Order, loads: &[&Load]) -> Option<&'a Recipe> {
    loads.first().and_then(|load| order.recipes().get(load.process))
}

/// The melting of a layer of ice, of the garment on which it takes longest; none for another need.
fn melting(order: &Order, need: Need, loads: &[&Load]) -> Option<Cause> {
    let lines = loads.iter().flat_map(|load| &load.items).map(|item| &order.lines()[item.line]);
    let slowest_h = lines.filter_map(|line| line.masses.ice_layer(need)).map(|ice| ice.melts_in.value).reduce(f64::max)?;
    Some(Cause { least_min: minutes_up(slowest_h), words: melting_words(recipe_of(order, loads)?, need, slowest_h) })
}

/// Hours in minutes, begun ones counted, as far as a wait can be planned.
fn minutes_up(hours: f64) -> u32 {
    // What is a whole minute but for rounding is one.
    let minutes = (hours * 60.0 - 1e-6).ceil().clamp(0.0, f64::from(LONGEST_MIN));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number within the limits")]
    let minutes = minutes as u32;
    minutes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cause(least_min: u32, words: &str) -> Cause {
        Cause { least_min, words: words.to_owned() }
    }

    #[test]
    fn the_longest_cause_sets_the_least_wait_and_is_named() {
        let own = Wait { least_min: 480, most_min: Some(1440) };
        let longest = |causes: &[Cause]| StepWait::longest(Some(own), causes.to_vec());
        let kept = Some(StepWait { wait: own, attended_min: 0, reason: None, passed_most_min: None });
        assert_eq!(longest(&[]), kept);
        assert_eq!(longest(&[cause(480, "as long")]), kept);
        let longer = longest(&[cause(500, "ice"), cause(1146, "more ice"), cause(60, "nothing")]).unwrap();
        assert_eq!(longer.wait, Wait { least_min: 1146, most_min: Some(1440) });
        assert_eq!((longer.reason.as_deref(), longer.passed_most_min), (Some("more ice"), None));
        // Longer than the process lets it wait: that most is not kept, and said so.
        let passed = longest(&[cause(1600, "much ice")]).unwrap();
        assert_eq!((passed.wait, passed.passed_most_min), (Wait { least_min: 1600, most_min: Some(2560) }, Some(1440)));
        // Where the process says nothing, the cause alone does.
        assert_eq!(StepWait::longest(None, []), None);
        let alone = StepWait::longest(None, [cause(30, "ice")]).unwrap();
        assert_eq!(alone.wait, Wait { least_min: 30, most_min: None });
    }

    #[test]
    fn hours_become_minutes_with_begun_ones_counted() {
        assert_eq!([0.0, 7.65, 7.651, 1e9].map(minutes_up), [0, 459, 460, LONGEST_MIN]);
    }
}
