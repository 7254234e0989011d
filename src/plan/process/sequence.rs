//! Steps in an order, or with one missing, that spoils the piece: read from what each step uses and holds, not from its name.

use super::{Chemistry, Need, Process, Step, Until};
use crate::telling::{Told, Voice, Warned};
use serde::Serialize;

/// What is wrong with the order of a process' steps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum OutOfOrder {
    /// A discharge after the dye is on.
    DischargedAfterDyeing {
        /// The discharge.
        step: String,
    },
    /// The water is heated only after the agent is in it.
    HeatedAfterAgent {
        /// The step that heats.
        step: String,
    },
    /// Dye on cloth that a discharge was not rinsed out of.
    AgentLeft {
        /// The step that puts the dye on.
        step: String,
    },
    /// Dye that meets no soda ash.
    NoSoda {
        /// The step that puts the dye on.
        step: String,
    },
    /// Soda ash that is rinsed out, discharged or soured away before the dye.
    SodaLost {
        /// The step that takes it out.
        step: String,
    },
    /// Ice before the powder.
    IceBeforeDye {
        /// The step with the ice.
        step: String,
    },
    /// A rinse before the dye has fixed.
    RinsedTooSoon {
        /// The rinse.
        step: String,
    },
    /// No step in which the dye fixes.
    NeverFixed,
}

impl Warned for OutOfOrder {
    fn name(&self) -> &'static str {
        match self {
            Self::DischargedAfterDyeing { .. } => "discharged-after-dyeing",
            Self::HeatedAfterAgent { .. } => "heated-after-agent",
            Self::AgentLeft { .. } => "agent-left",
            Self::NoSoda { .. } => "no-soda",
            Self::SodaLost { .. } => "soda-lost",
            Self::IceBeforeDye { .. } => "ice-before-dye",
            Self::RinsedTooSoon { .. } => "rinsed-too-soon",
            Self::NeverFixed => "never-fixed",
        }
    }

    fn told(&self, voice: Voice) -> Told {
        let until_fixed = voice.either("with until: [Fixed]", "that waits until \"the dye has fixed\"");
        match self {
            Self::DischargedAfterDyeing { step } => {
                Told::new(format!("{step}: the discharge comes after the dye and takes it out again"), "put it before")
            }
            Self::HeatedAfterAgent { step } => Told::new(
                format!("{step}: the agent is in the water before it is hot, and is spent by then"),
                "heat the water first",
            ),
            Self::AgentLeft { step } => Told::new(
                format!("{step}: the discharge is not rinsed out first, and takes the dye's colour"),
                "put a rinse between",
            ),
            Self::NoSoda { step } => Told::new(
                format!("{step}: the cloth has had no soda ash, and reactive dye does not fix without it"),
                "put a soda ash soak before it",
            ),
            Self::SodaLost { step } => {
                Told::new(format!("{step}: it takes out the soda ash that fixes the dye"), "soak after it")
            }
            Self::IceBeforeDye { step } => Told::new(format!("{step}: the ice goes on before the dye"), "put the dye on first"),
            Self::RinsedTooSoon { step } => Told::new(
                format!("{step}: the dye is rinsed out before it has fixed"),
                format!("put a step {until_fixed} between"),
            ),
            Self::NeverFixed => Told::new("no step waits until the dye has fixed", format!("add one {until_fixed}")),
        }
    }
}

/// Everything of the kind in a process, in the order of its steps. Steps done once for the whole order stand beside the chain.
#[must_use]
pub fn out_of_order(process: &Process) -> Vec<OutOfOrder> {
    let mut cloth = Cloth::default();
    let mut found: Vec<OutOfOrder> =
        process.steps.iter().filter(|step| !step.once).flat_map(|step| cloth.goes_through(step)).collect();
    if cloth.dyed && !cloth.fixed {
        found.push(OutOfOrder::NeverFixed);
    }
    found
}

/// What has become of the cloth so far.
#[derive(Debug, Default)]
struct Cloth {
    agent: bool,
    has_agent_gone_in: bool,
    soda: bool,
    dyed: bool,
    fixed: bool,
}

impl Cloth {
    fn goes_through(&mut self, step: &Step) -> Vec<OutOfOrder> {
        let mut found = Vec::new();
        let name = || step.name.clone();
        let uses = |needs: &[Need]| step.needs.iter().any(|need| needs.contains(need));
        if self.has_agent_gone_in && step.until.contains(&Until::Heated) {
            found.push(OutOfOrder::HeatedAfterAgent { step: name() });
        }
        if !self.dyed && step.needs.iter().any(|need| matches!(need, Need::Ice(_))) {
            found.push(OutOfOrder::IceBeforeDye { step: name() });
        }
        let washes_out = step.rinses || matches!(step.chemistry, Chemistry::Reductive | Chemistry::Acid);
        if washes_out && self.soda && !self.dyed {
            found.push(OutOfOrder::SodaLost { step: name() });
        }
        if step.chemistry == Chemistry::Reductive {
            if self.dyed {
                found.push(OutOfOrder::DischargedAfterDyeing { step: name() });
            }
            (self.agent, self.has_agent_gone_in) = (true, true);
        }
        if step.rinses && self.dyed && !self.fixed {
            found.push(OutOfOrder::RinsedTooSoon { step: name() });
        }
        if washes_out {
            self.soda = false;
        }
        self.agent &= !step.rinses;
        self.soda |= uses(&[Need::SodaSoak]);
        if uses(&[Need::Dye, Need::Stock]) && !self.dyed {
            if self.agent {
                found.push(OutOfOrder::AgentLeft { step: name() });
            }
            if !self.soda && !uses(&[Need::SodaStrewn]) {
                found.push(OutOfOrder::NoSoda { step: name() });
            }
            self.dyed = true;
        }
        self.fixed |= self.dyed && step.until.contains(&Until::Fixed);
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(letters: &str) -> Vec<OutOfOrder> {
        let steps = letters.chars().map(|letter| {
            let mut own = Step::new(letter.to_string());
            match letter {
                'h' => own.until = vec![Until::Heated],
                'd' => own.chemistry = Chemistry::Reductive,
                'a' => own.chemistry = Chemistry::Acid,
                'r' => own.rinses = true,
                's' => own.needs = vec![Need::SodaSoak],
                'p' => own.needs = vec![Need::Dye],
                'i' => own.needs = vec![Need::Ice(1)],
                _ => own.until = vec![Until::Fixed],
            }
            own
        });
        out_of_order(&Process { name: "process".to_owned(), note: String::new(), steps: steps.collect() })
    }

    /// The order of a day's work is common practice, no source: heat, discharge, rinse, soda, powder, ice, fix, rinse.
    #[test]
    fn the_usual_order_is_right_and_each_step_out_of_it_is_told() {
        let name = |letter: &str| letter.to_owned();
        assert_eq!(of("hdrspifr"), []);
        assert_eq!(of("dhrspifr"), [OutOfOrder::HeatedAfterAgent { step: name("h") }]);
        assert_eq!(of("hdspifr"), [OutOfOrder::AgentLeft { step: name("p") }]);
        assert_eq!(of("hdrpifr"), [OutOfOrder::NoSoda { step: name("p") }]);
        assert_eq!(of("spifrhdr"), [OutOfOrder::DischargedAfterDyeing { step: name("d") }]);
        assert_eq!(of("hdrsrpifr"), [OutOfOrder::SodaLost { step: name("r") }, OutOfOrder::NoSoda { step: name("p") }]);
        assert_eq!(of("hdrsapifr"), [OutOfOrder::SodaLost { step: name("a") }, OutOfOrder::NoSoda { step: name("p") }]);
        assert_eq!(of("hdrsipfr"), [OutOfOrder::IceBeforeDye { step: name("i") }]);
        assert_eq!(of("hdrspirf"), [OutOfOrder::RinsedTooSoon { step: name("r") }]);
        assert_eq!(of("hdrspi"), [OutOfOrder::NeverFixed]);
    }
}
