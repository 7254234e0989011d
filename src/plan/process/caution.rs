//! Cautions: what hurts in a step, and who says so. They follow from what a step holds and uses, so that a maker's own sequence
//! gets them too.

use super::{Chemistry, Need, Step};
use crate::plan::air::{Gas, SO2_ASTHMA_PPM, SO2_CARTRIDGE_PPM, SO2_DANGER_PPM, air_limits, dust_mask, gas_respirator};
use crate::plan::{DischargeAgent, DischargeBath, Region, WorkPlace, short};
use serde::{Deserialize, Serialize};

/// What may hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Hazard {
    /// Sulfur dioxide and ammonia from a hot reductive bath.
    SulfurDioxide,
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
    /// Acid, by itself and with soda ash.
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

impl Hazard {
    /// The caution in a few words, for a timetable; none for the one that defers.
    #[must_use]
    pub const fn mark(self) -> Option<&'static str> {
        match self {
            Self::SulfurDioxide => Some("toxic gas: outdoors or extraction"),
            Self::Respirator => Some("goggles, gloves, gas-cartridge respirator; a dust mask won't do"),
            Self::SelfHeatingPowder => Some("powder heats itself: keep dry, closed"),
            Self::Eruption => Some("agent into the water, in small lots, never water onto it"),
            Self::NeverMix => Some("never with bleach or acid"),
            Self::SpentBath => Some("spent bath: cool, air, local rules"),
            Self::Acid => Some("acid: goggles, gloves; never near the discharge"),
            Self::Alkali => Some("soda ash: goggles, gloves"),
            Self::DyePowder => Some("dye powder: dust mask, gloves"),
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

const CARD_SODA_ASH: &str = "ICSC 1135, sodium carbonate";

/// Where and how a step is done, as far as its cautions depend on it.
#[derive(Debug, Clone, Copy)]
pub struct CautionContext<'a> {
    /// The discharge that the step does, if any.
    pub bath: Option<&'a DischargeBath>,
    /// Whether the step before it was a reductive discharge, whose gas and liquor this one still meets.
    pub after_discharge: bool,
    /// Where the discharge is done.
    pub place: WorkPlace,
    /// Whose limits and terms are told.
    pub region: Region,
}

fn caution(hazard: Hazard, text: impl Into<String>, source: &'static str) -> Caution {
    Caution { hazard, text: text.into(), source }
}

/// The cautions of a step, the last always deferring to the product's sheet; none for a harmless step.
#[must_use]
pub fn cautions(step: &Step, context: &CautionContext<'_>) -> Vec<Caution> {
    let mut list = Vec::new();
    if step.chemistry == Chemistry::Reductive {
        list.extend(reductive(context));
    }
    if context.after_discharge && step.chemistry != Chemistry::Reductive {
        list.push(still_gassing(context));
        list.push(spent_bath());
    }
    list.extend(bath_chemistry(step.chemistry));
    if step.chemistry == Chemistry::Alkali
        || step.chemistry == Chemistry::Reductive
        || uses(step, &[Need::SodaSoak, Need::SodaStrewn])
    {
        let text = "Soda ash irritates the eyes seriously. Goggles and gloves; raise no dust; rinse eyes with much water at once. With acid it \
                    heats up and foams.";
        list.push(caution(Hazard::Alkali, text, CARD_SODA_ASH));
    }
    if uses(step, &[Need::Dye, Need::Stock]) {
        list.push(dye_powder(context.region));
    }
    if step.temperature.is_some_and(|range| range.to_c >= SCALD_C) || step.chemistry == Chemistry::Reductive {
        let text = "Hot water: 60 °C burns skin in 3 to 5 seconds, near-boiling water at once. Pour away from you, into a vessel that \
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

fn bath_chemistry(chemistry: Chemistry) -> Option<Caution> {
    match chemistry {
        Chemistry::Bleach => Some(caution(
            Hazard::Bleach,
            "Bleach: goggles, gloves, fresh air. Never with acid or a reductive discharge, nor one after the other in one bath: rinse fully \
             between.",
            "HSE, Textiles: Chemicals, safe use and handling (acids apart from alkalis, oxidising from reducing agents)",
        )),
        Chemistry::Acid => Some(caution(
            Hazard::Acid,
            "Acid: goggles and gloves; acid into water, never water into acid. It foams and heats up with soda ash, and sets sulfur dioxide \
             free from a reductive discharge: only after full rinsing, in a vessel of its own.",
            "ICSC 1135; UK P&I Club bulletin 437 (2005)",
        )),
        Chemistry::Plain | Chemistry::Alkali | Chemistry::Reductive => None,
    }
}

fn dye_powder(region: Region) -> Caution {
    let text = format!(
        "Some reactive dyes sensitise the lungs; after that a trace of the same dye brings on wheezing: then stop. Gloves and a mask, {}; still air, \
         wipe up damp. No children or animals near; nothing that serves food again, and spoons only if they are kept for dye.",
        dust_mask(region)
    );
    caution(Hazard::DyePowder, text, "HSE, Textiles: Dyes and dyeing; HSE TIS5; food, children, animals: common practice")
}

fn reductive(context: &CautionContext<'_>) -> Vec<Caution> {
    let region = context.region;
    let (sulfur, ammonia) = (air_limits(Gas::SulfurDioxide, region), air_limits(Gas::Ammonia, region));
    let gas = format!(
        "A hot discharge gives off sulfur dioxide, heavier than air, and, spent, ammonia. Limits: sulfur dioxide {} ppm over a day, {} ppm for 15 \
         minutes ({}), {SO2_DANGER_PPM} ppm at once dangerous; ammonia {} and {} ppm ({}). Some people with asthma feel {SO2_ASTHMA_PPM} ppm within \
         minutes: with asthma, don't do this. Not smelling it proves nothing. {}",
        sulfur.day_ppm,
        sulfur.short_ppm,
        sulfur.source,
        ammonia.day_ppm,
        ammonia.short_ppm,
        ammonia.source,
        bound(context.bath, context.place)
    );
    let respirator = format!(
        "Goggles, long gloves, and {}. A dust mask does not stop gas. The mask serves to {SO2_CARTRIDGE_PPM} ppm of sulfur dioxide at most, beside \
         fresh air, not in its place.",
        gas_respirator(region)
    );
    vec![
        caution(Hazard::SulfurDioxide, gas, "ICSC 0074, sulfur dioxide; EPA, assessment of sulfur oxides (2008); NIOSH"),
        caution(Hazard::Respirator, respirator, "NIOSH Pocket Guide, sulfur dioxide; EN 14387; ICSC 1717"),
        caution(
            Hazard::NeverMix,
            "Never with bleach or acid, nor one after the other in one bath: with acid it sets sulfur dioxide free at once. Rinse cloth and vessel \
             fully between.",
            "ICSC 1717; UK P&I Club bulletin 437 (2005)",
        ),
        eruption(context.bath),
        powder(context.bath),
        spent_bath(),
    ]
}

fn spent_bath() -> Caution {
    caution(
        Hazard::SpentBath,
        "Spent bath: let it cool and stand open outdoors until nothing smells, then dispose of it by your local rules; no acid or bleach into it, \
         nor down the same drain.",
        "common practice, no source",
    )
}

/// What rods out of a discharge still give off.
fn still_gassing(context: &CautionContext<'_>) -> Caution {
    let text = format!(
        "Rods out of the bath still drip it and give off its gases: go on {}, with goggles and gloves, the respirator on, until nothing smells; not \
         smelling it proves nothing.",
        context.place
    );
    caution(Hazard::SulfurDioxide, text, "ICSC 0074, sulfur dioxide; common practice")
}

fn eruption(bath: Option<&DischargeBath>) -> Caution {
    let dithionite = "Added too quickly, sodium hydrosulphite (dithionite) has set into a plug and thrown the bath out of the vessel; a little water may \
                      make its powder react violently.";
    let rule = "So: powder into the hot water, never water onto powder; small lots, clean dry scoop, each stirred in.";
    let hse = "HSE, Textiles: Dyes and dyeing; Chemicals, safe use and handling";
    match bath.map(|bath| bath.agent) {
        Some(DischargeAgent::ThioureaDioxide) => {
            caution(Hazard::Eruption, format!("{dithionite} Thiourea dioxide heats itself with moisture too. {rule}"), hse)
        }
        _ => caution(Hazard::Eruption, format!("{dithionite} {rule}"), hse),
    }
}

fn powder(bath: Option<&DischargeBath>) -> Caution {
    let keep = "Keep it dry, cool and closed, away from acids, oxidants and food. Powder that got damp is not for the bin: follow its sheet.";
    match bath.map(|bath| bath.agent) {
        Some(DischargeAgent::ThioureaDioxide) => caution(
            Hazard::SelfHeatingPowder,
            format!(
                "Thiourea dioxide (UN 3341, class 4.2) heats itself with moisture and may catch fire; hot it gives off toxic gases, faster with metal \
                 salts: no aluminium, iron or copper vessel. {keep}"
            ),
            "TT Club (2005); UK P&I Club bulletins 337 (2003) and 437 (2005), on thiourea dioxide",
        ),
        _ => caution(
            Hazard::SelfHeatingPowder,
            format!("Sodium dithionite (UN 1384, class 4.2) heats itself and may catch fire when damp. {keep}"),
            "ICSC 1717, sodium dithionite",
        ),
    }
}

/// Room that the bound is given for when the work is done outdoors, m3: an ordinary room, so that nobody moves it indoors.
const ORDINARY_ROOM_M3: f64 = 30.0;

fn bound(bath: Option<&DischargeBath>, place: WorkPlace) -> String {
    let Some(bath) = bath else { return format!("So {place}, as planned, upwind of the bath.") };
    let room_m3 = match place {
        WorkPlace::Indoors { room_m3 } => room_m3,
        WorkPlace::Outdoors | WorkPlace::Extraction => ORDINARY_ROOM_M3,
    };
    let ppm = bath.agent.so2_ppm(bath.mass.value, room_m3);
    format!(
        "This bath's {} of {} can give at most {} ppm in a closed room of {} m³. So {place}, as planned, upwind of the bath.",
        bath.mass,
        bath.agent,
        short(ppm),
        short(room_m3)
    )
}
