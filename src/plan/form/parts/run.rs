//! What a run is made of.

use super::{HandPartForm, PlaceForm, RunTiedForm, TemperatureForm, WaitForm};
use crate::form::stands_for;
use crate::plan::{Acknowledged, AlarmKind, Hazard, Mark, RunCaution, RunKind, RunNeed, RunShare, RunStepRecord, Stretch, Tick};
use jiff::civil::DateTime;
use serde::{Deserialize, Serialize};

/// What a tick says of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum MarkForm {
    /// Hands have begun.
    Begun,
    /// Hands are done.
    Finished,
    /// It is left out.
    LeftOut,
    /// A part of folding and tying one of its garments is done.
    Part {
        /// The garment's number in the step, from 1.
        garment: u32,
        /// The part.
        part: HandPartForm,
    },
}

stands_for!(enum MarkForm for Mark { Begun {}, Finished {}, LeftOut {}, Part { garment, part } });

/// A tick.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TickForm {
    /// The step's number.
    pub step: u32,
    /// What is said of it.
    pub mark: MarkForm,
    /// When, by the clock on the wall.
    pub at: DateTime,
}

stands_for!(struct TickForm for Tick { step, mark, at });

/// A stretch of hands-on work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StretchForm {
    /// From.
    pub from: DateTime,
    /// To.
    pub to: DateTime,
}

stands_for!(struct StretchForm for Stretch { from, to });

/// One step of one load, or a step done once.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunStepForm {
    /// The number of its kind.
    pub kind: u32,
    /// The load's number; none for a step done once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load: Option<u32>,
    /// Garments that it is done to.
    pub garments: u32,
    /// Planned: hands begin.
    pub from: DateTime,
    /// Planned: hands are done.
    pub to: DateTime,
    /// Planned: the stretches of work, where there are several.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stretches: Vec<StretchForm>,
    /// Hands-on time, min.
    pub hands_min: u32,
    /// What to have weighed out, for all its garments.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<RunNeedForm>,
    /// What of it each garment gets.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shares: Vec<RunShareForm>,
    /// The garments that are folded and tied in it, in this order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tied: Vec<RunTiedForm>,
    /// The numbers of its cautions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<u32>,
}

stands_for!(struct RunStepForm for RunStepRecord {
    kind, load, garments, from, to, stretches, hands_min, needs, shares, tied, cautions
});

/// What a step is, for every load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunKindForm {
    /// Number of the process, from 0.
    pub process: usize,
    /// Its place in the process, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// The same to be shown, where its name alone is another step's too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// What to do.
    pub what: String,
    /// Where.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<PlaceForm>,
    /// Temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<TemperatureForm>,
    /// Whether work may pause between two garments: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub one_by_one: bool,
    /// Whether it is done in a vessel that a spent bath stays in to the next day: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub vessel: bool,
    /// How long it has to and may wait when hands are done.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait: Option<WaitForm>,
    /// Why its least wait is longer than the process says, as the plan wrote it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wait_reason: Option<String>,
    /// Steps done once that have to be over before it, by name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
}

stands_for!(struct RunKindForm for RunKind {
    process, number, name, title, what, place, temperature, one_by_one, vessel, wait, wait_reason, after
});

/// Something to have weighed out, as the plan wrote it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunNeedForm {
    /// What.
    pub what: String,
    /// How much, with its unit.
    pub amount: String,
}

stands_for!(struct RunNeedForm for RunNeed { what, amount });

/// What each of so many equal garments gets, as the plan wrote it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunShareForm {
    /// The garments' layout, by its name.
    pub of: String,
    /// How many they are.
    pub count: u32,
    /// For one of them.
    pub needs: Vec<RunNeedForm>,
}

stands_for!(struct RunShareForm for RunShare { of, count, needs });

/// What may hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HazardForm {
    /// Sulfur dioxide and ammonia from a hot reductive bath.
    SulfurDioxide,
    /// What rods out of such a bath still give off.
    StillGassing,
    /// Which respirator serves.
    Respirator,
    /// A powder that heats itself.
    SelfHeatingPowder,
    /// Adding too fast, or water to the powder.
    Eruption,
    /// Bleach or acid with a reductive agent.
    NeverMix,
    /// What becomes of the spent bath.
    SpentBath,
    /// Acid.
    Acid,
    /// Soda ash in the eyes.
    Alkali,
    /// Dye powder in the lungs.
    DyePowder,
    /// Hot water.
    Scald,
    /// Bleach.
    Bleach,
    /// The product's own sheet.
    Defer,
}

stands_for!(enum HazardForm for Hazard {
    SulfurDioxide {}, StillGassing {}, Respirator {}, SelfHeatingPowder {}, Eruption {}, NeverMix {}, SpentBath {}, Acid {}, Alkali {}, DyePowder {},
    Scald {}, Bleach {}, Defer {}
});

/// A caution, as the plan wrote it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunCautionForm {
    /// What may hurt.
    pub hazard: HazardForm,
    /// What to know and do.
    pub text: String,
    /// Who says so.
    pub source: String,
}

stands_for!(struct RunCautionForm for RunCaution { hazard, text, source });

/// What an alarm called for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum AlarmKindForm {
    /// The wait is over.
    Ready,
    /// The wait may not last much longer.
    Closing,
    /// The wait has lasted too long.
    Overdue,
}

stands_for!(enum AlarmKindForm for AlarmKind { Ready {}, Closing {}, Overdue {} });

/// An alarm that was acknowledged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AcknowledgedForm {
    /// The step whose wait it is about.
    pub step: u32,
    /// What it called for.
    pub alarm: AlarmKindForm,
}

stands_for!(struct AcknowledgedForm for Acknowledged { step, alarm });
