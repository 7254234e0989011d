//! The vessel that the discharge is done in, and what heats its water.

use super::{PlanFileError, PlanProblem};
use crate::measure::{LengthStyle, LengthUnit};
use crate::telling::Field;
use serde::Serialize;

/// What a hob heats with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub enum Ring {
    /// A gas flame.
    Gas,
    /// An electric ring or a glass top.
    #[default]
    Electric,
    /// Induction.
    Induction,
}

impl Ring {
    /// Every kind.
    pub const ALL: [Self; 3] = [Self::Gas, Self::Electric, Self::Induction];

    /// Share of its rated power that reaches the pot (from memory, unverified: tests of cooktops find about 0.4, 0.7 and 0.85).
    #[must_use]
    pub const fn reaches(self) -> f64 {
        match self {
            Self::Gas => 0.4,
            Self::Electric => 0.7,
            Self::Induction => 0.85,
        }
    }

    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Gas => "gas hob",
            Self::Electric => "electric hob",
            Self::Induction => "induction hob",
        }
    }
}

/// Where the hot water of a discharge comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum Heating {
    /// The vessel stands on the heat, which goes on under the bath.
    Hob {
        /// Its rated power, W: 2000, a large ring (practice; read the plate of yours).
        power_w: f64,
        /// What it heats with: an electric ring unless said.
        ring: Ring,
    },
    /// Boiled elsewhere, filling by filling, and poured in; nothing heats the bath.
    Kettle {
        /// What it boils at a time, L.
        litres: f64,
        /// Its power, W.
        power_w: f64,
    },
}

impl Heating {
    /// Its rated power, W.
    #[must_use]
    pub const fn power_w(self) -> f64 {
        match self {
            Self::Hob { power_w, .. } | Self::Kettle { power_w, .. } => power_w,
        }
    }

    /// What of it reaches the water, W: all of a kettle's, whose element lies in it.
    #[must_use]
    pub fn reaching_w(self) -> f64 {
        match self {
            Self::Hob { power_w, ring } => power_w * ring.reaches(),
            Self::Kettle { power_w, .. } => power_w,
        }
    }
}

/// What the vessel is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum VesselMaterial {
    /// Stainless steel, or enamel on steel.
    Steel,
    /// Polypropylene, marked PP or 5; other plastics sag in such hot water.
    Polypropylene,
}

impl VesselMaterial {
    /// Specific heat, kJ/(kg K): steel 0.48 (second-hand from tables of heat transfer textbooks for stainless steels 316 and 347, 0.468
    /// and 0.480), polypropylene 2.0 as a mean from 20 to 90 C (Springer Handbook of Condensed Matter and Materials Data, Table 3.3-6:
    /// 1.68 at 20 C, 1.92 at 50 C, 2.35 at 100 C).
    #[must_use]
    pub const fn specific_kj_per_kg_k(self) -> f64 {
        match self {
            Self::Steel => 0.48,
            Self::Polypropylene => 2.0,
        }
    }

    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Steel => "stainless steel or enamel",
            Self::Polypropylene => "polypropylene (PP)",
        }
    }
}

/// The vessel of the discharge, as an order gives it. Never aluminium, iron or copper: metal salts hasten the agent's decay.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Vessel {
    /// What it holds to the brim, L: 20 (practice).
    pub litres: f64,
    /// Area of its floor, cm2: 700, a pot 30 cm across (practice).
    pub floor_cm2: f64,
    /// Its mass, g: 2500 (practice; weigh yours).
    pub mass_g: f64,
    /// What it is made of: steel.
    pub material: VesselMaterial,
    /// Where its hot water comes from: it stands on an electric ring of 2000 W.
    pub heating: Heating,
    /// Whether it is covered while the rods are in it: yes. An open bath loses several times as much heat, and gives off its fumes.
    pub covered: bool,
    /// Water from the tap, C: 15 (practice).
    pub tap_c: f64,
}

impl Default for Vessel {
    fn default() -> Self {
        Self {
            litres: 20.0,
            floor_cm2: 700.0,
            mass_g: 2500.0,
            material: VesselMaterial::Steel,
            heating: Heating::Hob { power_w: 2000.0, ring: Ring::Electric },
            covered: true,
            tap_c: 15.0,
        }
    }
}

/// Largest share of a vessel that bath and rods may fill: the rest keeps it from boiling over and slopping (practice).
pub const LARGEST_FILLING: f64 = 0.8;

impl Vessel {
    /// Checks every number.
    ///
    /// # Errors
    /// [`PlanFileError`] naming the field below `workshop.vessel`.
    pub(super) fn check(&self) -> Result<(), PlanFileError> {
        let field = |key: &'static str| Field::from("workshop.vessel").then(key);
        PlanFileError::check(field("litres"), self.litres, 0.5, 10_000.0)?;
        PlanFileError::check(field("floor_cm2"), self.floor_cm2, 20.0, 100_000.0)?;
        PlanFileError::check(field("mass_g"), self.mass_g, 0.0, 1e6)?;
        PlanFileError::check(field("tap_c"), self.tap_c, 0.0, 60.0)?;
        PlanFileError::check(field("heating.power_w"), self.heating.power_w(), 100.0, 50_000.0)?;
        match self.heating {
            Heating::Kettle { litres, .. } => PlanFileError::check(field("heating.litres"), litres, 0.2, 100.0),
            Heating::Hob { .. } if self.material == VesselMaterial::Polypropylene => {
                Err(PlanFileError::new(field("heating"), PlanProblem::PlasticOnHob))
            }
            Heating::Hob { .. } => Ok(()),
        }
    }

    /// Heat capacity of the vessel itself, kJ/K.
    #[must_use]
    pub fn capacity_kj_per_k(&self) -> f64 {
        self.mass_g / 1000.0 * self.material.specific_kj_per_kg_k()
    }

    /// Area of its wall up to a height, mm2: that of an upright cylinder on its floor, the least wall that a floor can have.
    #[must_use]
    pub fn wall_mm2(&self, height_mm: f64) -> f64 {
        let floor_mm2 = self.floor_mm2();
        2.0 * (std::f64::consts::PI * floor_mm2).sqrt() * height_mm
    }

    /// How wide it is, mm: as if its floor were round.
    #[must_use]
    pub fn across_mm(&self) -> f64 {
        2.0 * (self.floor_mm2() / std::f64::consts::PI).sqrt()
    }

    /// Longest rod of a thickness that lies in it along its wall, once round, mm.
    #[must_use]
    pub fn holds_rod_mm(&self, thick_mm: f64) -> f64 {
        std::f64::consts::PI * (self.across_mm() - thick_mm).max(0.0)
    }

    /// Area of its floor, and of its opening, mm2.
    #[must_use]
    pub const fn floor_mm2(&self) -> f64 {
        self.floor_cm2 * 100.0
    }
}

impl Vessel {
    /// What it is: `a polypropylene (PP) tub of 20 L, 30 cm across, filled from a kettle of 1.7 L and 2200 W`.
    #[must_use]
    pub fn words(&self, lengths: LengthStyle) -> String {
        let (litres, material) = (super::short(self.litres), self.material.name());
        let across = match lengths {
            LengthStyle::Metric { .. } => format!("{:.0} cm", self.across_mm() / 10.0),
            LengthStyle::Inches { .. } => format!("{:.0} in", self.across_mm() / LengthUnit::Inch.in_mm()),
        };
        match self.heating {
            Heating::Hob { power_w, ring } => {
                let (power, ring) = (super::short(power_w), ring.name());
                let article = if ring == Ring::Gas.name() { "a" } else { "an" };
                format!("a {material} pot of {litres} L, {across} across, on {article} {ring} of {power} W")
            }
            Heating::Kettle { litres: each, power_w } => {
                let (each, power) = (super::short(each), super::short(power_w));
                format!("a {material} tub of {litres} L, {across} across, filled from a kettle of {each} L and {power} W")
            }
        }
    }
}
