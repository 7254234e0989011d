//! Where a discharge is done.

use crate::measure::neat;
use serde::Serialize;
use std::fmt;

/// Where the discharge is done.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub enum WorkPlace {
    /// Outdoors.
    #[default]
    Outdoors,
    /// Under extraction that carries the fumes out.
    Extraction,
    /// In a room without extraction.
    Indoors {
        /// The room's volume, m3.
        room_m3: f64,
    },
}

impl fmt::Display for WorkPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Outdoors => f.write_str("outdoors"),
            Self::Extraction => f.write_str("under extraction"),
            Self::Indoors { room_m3 } => write!(f, "in a room of {} m³ without extraction", neat(*room_m3)),
        }
    }
}
