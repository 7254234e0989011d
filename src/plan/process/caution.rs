//! Cautions: what hurts in a step, and who says so. They follow from what a step holds and uses, so that a maker's own sequence
//! gets them too.

use super::{Chemistry, Need, Step};
use crate::plan::{DischargeBath, WorkPlace, short};
use serde::{Deserialize, Serialize};

/// What may hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Hazard {
    /// Sulfur dioxide from a hot reductive bath.
    SulfurDioxide,
    /// Which respirator serves.
    Respirator,
    /// A powder that heats itself.
    SelfHeatingPowder,
    /// Adding too fast.
    Eruption,
    /// Bleach or acid with a reductive agent.
    NeverMix,
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

impl Hazard {
    /// The caution in a few words, for a timetable; none for the one that defers.
    #[must_use]
    pub const fn mark(self) -> Option<&'static str> {
        match self {
            Self::SulfurDioxide => Some("sulfur dioxide: outdoors or extraction"),
            Self::Respirator => Some("gas cartridge, no dust mask"),
            Self::SelfHeatingPowder => Some("powder heats itself: dry, closed"),
            Self::Eruption => Some("add little by little"),
            Self::NeverMix => Some("never with bleach or acid"),
            Self::Alkali => Some("soda ash: goggles, gloves"),
            Self::DyePowder => Some("dye powder: dust mask"),
            Self::Scald => Some("hot water: long gloves"),
            Self::Bleach => Some("bleach: never with acid or discharge"),
            Self::Defer => None,
        }
    }
}

/// A caution beside a step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// What may hurt.
    pub hazard: Hazard,
    /// What to know and do.
    pub text: String,
    /// Who says so.
    pub source: &'static str,
}

/// How every list of cautions ends.
pub const DEFER: &str = "The product's own label and safety data sheet and your local rules come before anything said here.";

/// Water from which on it scalds, C: 60 C burns in 3 to 5 s.
const SCALD_C: f64 = 60.0;

const NIOSH: &str = "NIOSH Pocket Guide to Chemical Hazards, sulfur dioxide";
const ICSC_DITHIONITE: &str = "International Chemical Safety Card 1717, sodium dithionite";

fn caution(hazard: Hazard, text: impl Into<String>, source: &'static str) -> Caution {
    Caution { hazard, text: text.into(), source }
}

/// The cautions of a step, the last always deferring to the product's sheet; none for a harmless step. `bath` is the discharge
/// that the step does, if any, and `place` where it is done.
#[must_use]
pub fn cautions(step: &Step, bath: Option<&DischargeBath>, place: WorkPlace) -> Vec<Caution> {
    let mut list = Vec::new();
    if step.chemistry == Chemistry::Reductive {
        list.extend(reductive(bath, place));
    }
    if step.chemistry == Chemistry::Bleach {
        let text = "Bleach: gloves, goggles, fresh air. Never with acid or a reductive discharge, nor one after the other in one bath: \
                    rinse fully between.";
        list.push(caution(Hazard::Bleach, text, "common practice, no source"));
    }
    if step.chemistry == Chemistry::Alkali || uses(step, &[Need::SodaSoak, Need::SodaStrewn]) {
        let text = "Soda ash irritates the eyes seriously. Goggles and gloves; rinse eyes with much water at once.";
        list.push(caution(Hazard::Alkali, text, "International Chemical Safety Card 1135, sodium carbonate"));
    }
    if uses(step, &[Need::Dye]) {
        let text = "Dye powder: some reactive dyes sensitise the lungs. Wear a particulate mask, work in still air or mix wet, wipe up \
                    damp, and never use the tools for food again.";
        list.push(caution(Hazard::DyePowder, text, "HSE Textiles Information Sheet TIS5"));
    }
    if step.temperature.is_some_and(|range| range.to_c >= SCALD_C) {
        let text = "Hot water: 60 °C burns skin in 3 to 5 seconds, near-boiling water at once. Pour away from you, in a vessel that \
                    stands the heat; long gloves, closed shoes.";
        list.push(caution(Hazard::Scald, text, "after Moritz & Henriques, Am. J. Pathol. 23 (1947)"));
    }
    if !list.is_empty() {
        list.push(caution(Hazard::Defer, DEFER, "the rule of this program"));
    }
    list
}

fn uses(step: &Step, needs: &[Need]) -> bool {
    step.needs.iter().any(|need| needs.contains(need))
}

fn reductive(bath: Option<&DischargeBath>, place: WorkPlace) -> Vec<Caution> {
    let general = "A hot reductive discharge gives off sulfur dioxide, heavier than air: limits 2 ppm over a day, 5 ppm for 15 minutes, \
                   100 ppm at once dangerous. Its smell begins near those limits, so not smelling it proves nothing.";
    let mut list = vec![
        caution(Hazard::SulfurDioxide, format!("{general} {}", bound(bath, place)), NIOSH),
        caution(
            Hazard::Respirator,
            "A particulate mask does not stop gas. A respirator with cartridges rated for sulfur dioxide serves to 20 ppm at most, \
             and in addition to fresh air, not in its place.",
            NIOSH,
        ),
        caution(
            Hazard::NeverMix,
            "Never with bleach or acid, nor one after the other in one bath: rinse cloth and tub fully between.",
            ICSC_DITHIONITE,
        ),
        caution(
            Hazard::Eruption,
            "Add the powder little by little: too fast, and the vessel can erupt.",
            "HSE, on dithionite in dyeing",
        ),
    ];
    let (text, source) = match bath.map(|bath| bath.agent) {
        Some(crate::plan::DischargeAgent::ThioureaDioxide) => {
            ("Thiourea dioxide can heat itself and decompose: keep it cool, dry and closed.", "from memory; read its data sheet")
        }
        _ => (
            "Sodium dithionite heats itself and may catch fire when damp: keep it dry and closed, away from acids and oxidants; a damp \
             spill is no waste for the bin.",
            ICSC_DITHIONITE,
        ),
    };
    list.push(caution(Hazard::SelfHeatingPowder, text, source));
    list
}

/// Room that the bound is given for when the work is done outdoors, m3: an ordinary room, so that nobody moves it indoors.
const ORDINARY_ROOM_M3: f64 = 30.0;

fn bound(bath: Option<&DischargeBath>, place: WorkPlace) -> String {
    let Some(bath) = bath else { return String::new() };
    let room_m3 = match place {
        WorkPlace::Indoors { room_m3 } => room_m3,
        WorkPlace::Outdoors | WorkPlace::Extraction => ORDINARY_ROOM_M3,
    };
    let ppm = bath.agent.so2_ppm(bath.mass.value, room_m3);
    format!(
        "This bath's {} of {} can give at most {} ppm in a closed room of {} m³ ({} mL of gas to the gram). So {place}, as planned, \
         and upwind of the tub.",
        bath.mass,
        bath.agent,
        short(ppm),
        short(room_m3),
        short(bath.agent.so2_ml_per_g())
    )
}
