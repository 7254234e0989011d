//! What has no room for a step, told.

use crate::plan::Place;
use jiff::civil::DateTime;
use serde::Serialize;
use std::fmt;

/// What has no room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Full {
    /// A place.
    Place(Place),
    /// Every vessel of the discharge.
    Vessel {
        /// Until when, if that is known: not while a bath is still at work in each.
        until: Option<DateTime>,
    },
}

impl fmt::Display for Full {
    /// `the tub is full`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Place(place) => write!(f, "the {place} is full"),
            Self::Vessel { until: Some(until) } => {
                write!(f, "a spent bath stays in the discharge vessel until {}", until.strftime("%A %-d %B"))
            }
            Self::Vessel { until: None } => f.write_str("the discharge vessel holds another load's bath"),
        }
    }
}
