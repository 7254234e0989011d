//! Figures.

use crate::form::stands_for;
use crate::geometry::SourceStatus;
use crate::plan::{Sourced, Temperature};
use serde::{Deserialize, Serialize};

/// How far a figure can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum SourceStatusForm {
    /// Read in a published source.
    Published,
    /// Calculated from other figures.
    Computed,
    /// Common practice, no source.
    Practice,
    /// Recalled and not confirmed.
    Memory,
}

stands_for!(enum SourceStatusForm for SourceStatus { Published {}, Computed {}, Practice {}, Memory {} });

/// A figure, with where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SourcedForm {
    /// The value, in the unit that the key says.
    pub value: f64,
    /// How far it can be trusted.
    pub status: SourceStatusForm,
    /// Where it was read, or how it was found out.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}

stands_for!(struct SourcedForm for Sourced { value, status, source });

/// A range of temperature, C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TemperatureForm {
    /// From, C.
    pub from_c: f64,
    /// To, C.
    pub to_c: f64,
}

stands_for!(struct TemperatureForm for Temperature { from_c, to_c });
