//! What a process is made of.

use super::{SourceStatusForm, TemperatureForm};
use crate::form::stands_for;
use crate::plan::{AgentGoes, Chemistry, Hands, Need, Place, Step, Until, Wait};
use serde::{Deserialize, Serialize};

/// Where a step is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum PlaceForm {
    /// A tub.
    Tub,
    /// A sink.
    Sink,
    /// A washing machine.
    Washer,
    /// A table.
    Table,
    /// The rack over the drip tub.
    Rack,
    /// A line or airer.
    Line,
}

stands_for!(enum PlaceForm for Place { Tub {}, Sink {}, Washer {}, Table {}, Rack {}, Line {} });

/// Hands-on time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct HandsForm {
    /// For the load, min: 0.
    pub load_min: u32,
    /// For each garment, min: 0.
    pub garment_min: u32,
}

stands_for!(struct HandsForm for Hands { load_min, garment_min });

/// Waiting after the hands are done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WaitForm {
    /// At least, min.
    pub least_min: u32,
    /// At most, min; none where longer does no harm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_min: Option<u32>,
}

stands_for!(struct WaitForm for Wait { least_min, most_min });

/// What a bath holds, as far as it can hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum ChemistryForm {
    /// Water, detergent or nothing.
    #[default]
    Plain,
    /// Soda ash.
    Alkali,
    /// A reductive discharge.
    Reductive,
    /// Chlorine bleach or another oxidant.
    Bleach,
    /// An acid.
    Acid,
}

stands_for!(enum ChemistryForm for Chemistry { Plain {}, Alkali {}, Reductive {}, Bleach {}, Acid {} });

/// What a wait goes on for beside its least.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum UntilForm {
    /// The discharge's water is hot.
    Heated,
    /// The discharge agent has had its time.
    Discharged,
    /// The thickest rod is dry inside.
    Dry,
    /// The dye has fixed.
    Fixed,
}

stands_for!(enum UntilForm for Until { Heated {}, Discharged {}, Dry {}, Fixed {} });

/// How the discharge agent meets the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum AgentGoesForm {
    /// Into the hot water, before the rods.
    IntoWater,
    /// Over the wet rods.
    OntoRods,
}

stands_for!(enum AgentGoesForm for AgentGoes { IntoWater {}, OntoRods {} });

/// One step, whose needs have words of their own in each format.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StepForm<N> {
    /// Its name.
    pub name: String,
    /// What to do.
    pub what: String,
    /// Done once for the whole order: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub once: bool,
    /// Done garment by garment: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub one_by_one: bool,
    /// Hands-on time.
    #[serde(default)]
    pub hands: HandsForm,
    /// Waiting after it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<WaitForm>,
    /// What the wait goes on for beside its least.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub until: Vec<UntilForm>,
    /// How the discharge agent meets the water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub agent_goes: Option<AgentGoesForm>,
    /// Whether it tests a scrap: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub scrap: bool,
    /// Where it is done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<PlaceForm>,
    /// A name for the bath.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bath: Option<String>,
    /// Temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<TemperatureForm>,
    /// What it uses.
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<N>,
    /// What the bath holds: water.
    #[serde(default)]
    pub chemistry: ChemistryForm,
    /// Whether it rinses the cloth fully: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub rinses: bool,
    /// Earlier steps done once that this one needs, by name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
    /// How far its times can be trusted: practice.
    #[serde(default = "practice")]
    pub status: SourceStatusForm,
}

const fn practice() -> SourceStatusForm {
    SourceStatusForm::Practice
}

stands_for!(struct StepForm<N = Need> for Step {
    name, what, once, one_by_one, hands, wait, until, agent_goes, scrap, place, bath, temperature, needs, chemistry, rinses, after,
    status
});
