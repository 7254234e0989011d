//! One step of a run with everything that belongs to it.

use super::{RunCaution, RunNeed};
use crate::plan::{Place, Temperature, Wait};
use jiff::civil::DateTime;

/// A step, as a maker needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct RunStep<'a> {
    /// Its number, from 1.
    pub number: u32,
    /// The load's number; none for a step done once.
    pub load: Option<u32>,
    /// Its name.
    pub name: &'a str,
    /// What to do.
    pub what: &'a str,
    /// Garments that it is done to.
    pub garments: u32,
    /// Where.
    pub place: Option<Place>,
    /// Temperature.
    pub temperature: Option<Temperature>,
    /// How long it has to and may wait when hands are done.
    pub wait: Option<Wait>,
    /// What to have weighed out.
    pub needs: &'a [RunNeed],
    /// What may hurt, the last deferring to the product's own sheet.
    pub cautions: Vec<&'a RunCaution>,
    /// Planned: hands begin.
    pub from: DateTime,
    /// Planned: hands are done.
    pub to: DateTime,
    /// Hands-on time, min.
    pub hands_min: u32,
    /// When hands began, if that was ticked.
    pub begun: Option<DateTime>,
    /// When hands were done, if they are; for a step left out, when it was.
    pub finished: Option<DateTime>,
    /// Whether it was left out.
    pub left_out: bool,
    /// What the maker noted.
    pub note: &'a str,
}

impl RunStep<'_> {
    /// Its name with its load: `soda soak, load 2`.
    #[must_use]
    pub fn title(&self) -> String {
        title(self.name, self.load)
    }
}

pub(super) fn title(name: &str, load: Option<u32>) -> String {
    load.map_or_else(|| name.to_owned(), |load| format!("{name}, load {load}"))
}
