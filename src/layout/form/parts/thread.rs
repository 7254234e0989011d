//! What the rod is bound with.

use crate::form::stands_for;
use crate::geometry::{Thread, ThreadKind};
use serde::{Deserialize, Serialize};

/// A kind of thread.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum ThreadKindForm {
    /// Waxed thread.
    Waxed,
    /// Plain string.
    PlainString,
    /// A rubber band.
    RubberBand,
}

stands_for!(enum ThreadKindForm for ThreadKind { Waxed {}, PlainString {}, RubberBand {} });

/// Thread and the habits of tying it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ThreadForm {
    /// What it is: waxed.
    pub kind: ThreadKindForm,
    /// Diameter, mm: 1.
    pub diameter_mm: f64,
    /// Wraps of an ordinary bind: 3.
    pub wraps: u32,
    /// Extra wraps where the rod is thin: 2.
    pub thin_extra_wraps: u32,
    /// A bind counts as thin when its girth is below this share of the guide arc's: 0.5.
    pub thin_below: f64,
    /// Length of each of the two tails, mm: 120.
    pub tail_mm: f64,
}

impl Default for ThreadForm {
    fn default() -> Self {
        Self { kind: ThreadKindForm::Waxed, diameter_mm: 1.0, wraps: 3, thin_extra_wraps: 2, thin_below: 0.5, tail_mm: 120.0 }
    }
}

stands_for!(struct ThreadForm for Thread { kind, diameter_mm, wraps, thin_extra_wraps, thin_below, tail_mm });
