//! Sulfur dioxide from a reductive discharge: the most that a quantity can give off, in a room of a given volume.

use crate::measure::neat;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A reductive discharge agent, by its chemical name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum DischargeAgent {
    /// Sodium dithionite, `Na2S2O4`.
    SodiumDithionite,
    /// Thiourea dioxide, `CH4N2O2S`.
    ThioureaDioxide,
}

/// Volume of a mole of gas at 25 C and 101.325 kPa, mL: `R T / p` with R = 8.314463 J/(mol K), the constants published (CODATA).
const GAS_ML_PER_MOL: f64 = 8.314_463 * 298.15 / 101.325 * 1000.0;

/// NIOSH recommended limit over a working day, ppm (NIOSH Pocket Guide, published).
pub const SO2_DAY_LIMIT_PPM: f64 = 2.0;
/// NIOSH limit over 15 minutes, ppm (NIOSH Pocket Guide, published).
pub const SO2_SHORT_LIMIT_PPM: f64 = 5.0;
/// Immediately dangerous to life or health, ppm (NIOSH Pocket Guide, published).
pub const SO2_DANGER_PPM: f64 = 100.0;
/// Most that a cartridge respirator rated for sulfur dioxide serves to, ppm (NIOSH Pocket Guide, published).
pub const SO2_CARTRIDGE_PPM: f64 = 20.0;

impl DischargeAgent {
    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::SodiumDithionite => "sodium dithionite",
            Self::ThioureaDioxide => "thiourea dioxide",
        }
    }

    /// Molar mass, g/mol: from atomic weights, published.
    const fn grams_per_mol(self) -> f64 {
        match self {
            Self::SodiumDithionite => 174.107,
            Self::ThioureaDioxide => 108.12,
        }
    }

    /// Sulfur atoms in a molecule, each of which can leave as one of sulfur dioxide.
    const fn sulfur_atoms(self) -> f64 {
        match self {
            Self::SodiumDithionite => 2.0,
            Self::ThioureaDioxide => 1.0,
        }
    }

    /// The most sulfur dioxide that a gram can give off, mL at 25 C: all its sulfur as gas. An upper bound: about 281 for
    /// dithionite, 226 for thiourea dioxide (computed).
    #[must_use]
    pub fn so2_ml_per_g(self) -> f64 {
        self.sulfur_atoms() * GAS_ML_PER_MOL / self.grams_per_mol()
    }

    /// The most sulfur dioxide in the air of a closed room, ppm by volume: `grams x mL/g / m3`, for 1 mL in 1 m3 is 1 ppm.
    #[must_use]
    pub fn so2_ppm(self, grams: f64, room_m3: f64) -> f64 {
        grams * self.so2_ml_per_g() / room_m3
    }
}

impl fmt::Display for DischargeAgent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

/// Where the discharge is done.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
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
