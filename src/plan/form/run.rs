//! A run in a file.

use super::parts::{
    AcknowledgedForm, GarmentWorkForm, HoursForm, PlaceForm, RunCautionForm, RunKindForm, RunStepForm, TickForm, UsedForm,
    WeekdayForm,
};
use crate::form::{FileFormat, FormatNumber, stands_for};
use crate::plan::RunRecord;
use jiff::civil::DateTime;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A run file of format 1. Steps, kinds and cautions are named by their numbers, from 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// The order's name.
    pub name: String,
    /// What has been ticked, in the order of the ticking.
    #[serde(default)]
    pub ticks: Vec<TickForm>,
    /// What the maker noted, by step.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub notes: BTreeMap<u32, String>,
    /// The steps, by the time they were planned for.
    pub steps: Vec<RunStepForm>,
    /// What the steps are; one kind serves every load.
    pub kinds: Vec<RunKindForm>,
    /// The cautions that the steps name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<RunCautionForm>,
    /// Room in the places that can be full.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub rooms: BTreeMap<PlaceForm, u32>,
    /// Vessels that a discharge's bath stays in to the next day: 1.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub vessels: u32,
    /// Working hours; none for all hours.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hours: Vec<HoursForm>,
    /// Days without work.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub days_off: Vec<WeekdayForm>,
    /// The time zone whose clock shows the times, by its name in the IANA tz database; none for a clock that is never changed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// By when everything is to be over; none where the plan had no deadline.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deadline: Option<DateTime>,
    /// The layouts that the garments are made from, and how each is folded and tied.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub layouts: Vec<GarmentWorkForm>,
    /// The alarms that were acknowledged.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub acknowledged: Vec<AcknowledgedForm>,
    /// What the plan uses up.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<UsedForm>,
}

const fn one() -> u32 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde passes a reference")]
const fn is_one(count: &u32) -> bool {
    *count == 1
}

impl FileFormat for RunV1 {
    const NUMBER: u32 = 1;
}

stands_for!(file RunV1 for RunRecord { name, ticks, notes, steps, kinds, cautions, rooms, vessels, hours, days_off, zone, deadline, layouts, acknowledged, used });
