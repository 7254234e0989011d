//! Cautions: what hurts in a step, and who says so. They follow from what a step holds and uses, so that a maker's own sequence
//! gets them too.

use super::{Chemistry, Need, Step, Until};
use crate::plan::air::{AirLimits, Gas, SO2_ASTHMA_PPM, SO2_DANGER_PPM, air_limits, dust_mask, gas_respirator, so2_mask_ppm};
use crate::plan::{DischargeAgent, DischargeBath, Region, WorkPlace, short};
use serde::Serialize;

/// What may hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Hazard {
    /// Sulfur dioxide and ammonia from a hot reductive bath.
    SulfurDioxide,
    /// What rods out of such a bath still give off.
    StillGassing,
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
            Self::StillGassing => Some("rods still give off gas: respirator on"),
            Self::Respirator => Some("goggles, gloves, gas-cartridge respirator; a dust mask won't do"),
            Self::SelfHeatingPowder => Some("powder heats itself: dry, closed, no flame"),
            Self::Eruption => Some("agent into the water, in small lots, never water onto it"),
            Self::NeverMix => Some("never with bleach or acid"),
            Self::SpentBath => Some("spent bath: let it go cold, then local rules"),
            Self::Acid => Some("acid: goggles, gloves; never near the discharge"),
            Self::Alkali => Some("soda ash: goggles, gloves"),
            Self::DyePowder => Some("dye powder: FFP2 or N95 mask, goggles, gloves"),
            Self::Scald => Some("hot water: tongs, long gloves"),
            Self::Bleach => Some("bleach: never with acid or discharge"),
            Self::Defer => None,
        }
    }

    /// The marks of several, as one line; none where there is nothing to say in a few words.
    pub(in crate::plan) fn marks(hazards: impl IntoIterator<Item = Self>) -> Option<String> {
        let marks: Vec<&str> = hazards.into_iter().filter_map(Self::mark).collect();
        (!marks.is_empty()).then(|| marks.join("; "))
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

/// First aid for what got into an eye: a quarter of an hour is common practice.
const EYE: &str = "In the eye: rinse 15 minutes under running water, take out contact lenses if easy, see a doctor.";

const CARD_SODA_ASH: &str = "ICSC 1135, sodium carbonate";

/// Where and how a step is done, as far as its cautions depend on it.
#[derive(Debug, Clone, Copy)]
pub struct CautionContext<'a> {
    /// The recipe's discharge agent, if it has one.
    pub agent: Option<DischargeAgent>,
    /// The discharge that the step does, if any.
    pub bath: Option<&'a DischargeBath>,
    /// Whether the step before it was a reductive discharge, whose gas and liquor this one still meets.
    pub after_discharge: bool,
    /// Whether the cloth was rinsed just once since then, so that some of it may be left.
    pub rinsed_once: bool,
    /// Whether the cloth comes with soda ash in it.
    pub in_alkali: bool,
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
    let is_reductive = step.chemistry == Chemistry::Reductive;
    if is_reductive {
        list.extend(reductive(context));
    } else if context.after_discharge {
        list.extend([still_gassing(context), respirator(context), spent_bath(context.place)]);
    } else if context.rinsed_once {
        list.push(never_mix());
    } else if uses(step, &[Need::Discharge]) {
        list.extend([respirator(context), eruption(context.agent), powder(context.agent)]);
    }
    list.extend(bath_chemistry(step.chemistry));
    let in_alkali = step.chemistry == Chemistry::Alkali || context.in_alkali;
    let with_soda = [Need::BathWater, Need::SodaSoak, Need::SodaStrewn, Need::ScrapSoak, Need::ScrapDye];
    if in_alkali || is_reductive || uses(step, &with_soda) {
        let text = format!(
            "Goggles and gloves: soda ash seriously irritates the eyes, and what is wet with it is slippery and harsh on skin. \
            Raise no dust; \
             sprinkle it into the water, stirring, never water onto it. {EYE} With acid it heats up and foams."
        );
        list.push(caution(Hazard::Alkali, text, CARD_SODA_ASH));
    }
    // Ice stirs up the powder that it is laid on.
    if uses(step, &[Need::Dye, Need::Stock, Need::ScrapDye]) || step.needs.iter().any(|need| matches!(need, Need::Ice(_))) {
        list.push(dye_powder(context.region));
    }
    let is_hot = step.temperature.is_some_and(|range| range.to_c >= SCALD_C) || step.until.contains(&Until::Heated);
    if is_hot || is_reductive || context.after_discharge {
        let text = "Long waterproof gloves that withstand heat, tongs, closed shoes. Hot water: 60 °C burns skin in 3 to 5 seconds, \
            near-boiling water at \
                    once, and a rod holds it. Lift lids away from you. Never move a hot pot or tub; pour away from you. A burn: off with wet clothing \
                    unless it sticks, 20 minutes under cool running water; larger than a hand, or on face or eyes: call an ambulance.";
        list.push(caution(Hazard::Scald, text, "after Moritz & Henriques, Am. J. Pathol. 23 (1947); first aid: common practice"));
    }
    if !list.is_empty() {
        list.push(caution(Hazard::Defer, DEFER, "this program's own rule"));
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
            "Bleach: goggles, gloves, fresh air. Never with acid or a reductive discharge, nor one after the other in one bath: \
            rinse fully \
             between.",
            "HSE, Textiles: Chemicals, safe use and handling (acids apart from alkalis, oxidising from reducing agents)",
        )),
        Chemistry::Acid => Some(caution(
            Hazard::Acid,
            "Acid: goggles and gloves; acid into water, never water into acid. It foams and heats up with soda ash, and releases \
            sulfur dioxide from a reductive discharge: only after full rinsing, in a vessel of its own.",
            "ICSC 1135; UK P&I Club bulletin 437 (2005)",
        )),
        Chemistry::Plain | Chemistry::Alkali | Chemistry::Reductive => None,
    }
}

fn dye_powder(region: Region) -> Caution {
    let text = format!(
        "Some reactive dyes sensitise the lungs; after that a trace of the same dye brings on wheezing: then stop. Goggles, \
        gloves and a mask, {}; still \
         air, wipe up damp. No children or animals near; nothing that serves food again, and spoons only if they are kept for dye.",
        dust_mask(region)
    );
    caution(Hazard::DyePowder, text, "HSE, Textiles: Dyes and dyeing; HSE TIS5; food, children, animals: common practice")
}

fn reductive(context: &CautionContext<'_>) -> Vec<Caution> {
    vec![
        gas(context),
        respirator(context),
        never_mix(),
        eruption(context.agent),
        powder(context.agent),
        spent_bath(context.place),
    ]
}

fn never_mix() -> Caution {
    caution(
        Hazard::NeverMix,
        "Never with bleach or acid, nor one after the other in one bath: acid releases sulfur dioxide, bleach reacts \
        violently. Rinse cloth and \
         vessel fully between; use no vessel that held an oxidiser.",
        "HSE, Textiles: Dyes and dyeing; UK P&I Club bulletin 437 (2005)",
    )
}

fn gas(context: &CautionContext<'_>) -> Caution {
    let CautionContext { region, bath, place, .. } = *context;
    let limit = |gas: Gas, name: &str| {
        let AirLimits { day_ppm, day_h, short_ppm, source } = air_limits(gas, region);
        format!("{name} {day_ppm} ppm over {day_h} h, {short_ppm} ppm for 15 minutes ({source})")
    };
    let ammonia = gives_ammonia(context);
    let text = format!(
        "{} Do it {place}{}. Have someone within call. With asthma, don't do this: some people with asthma feel \
        {SO2_ASTHMA_PPM} ppm within minutes. \
         Not smelling it proves nothing; smelling or tasting it inside the respirator means {} at once. Trouble breathing: into fresh \
         air, sit upright, call an ambulance; see a doctor even if it passes. Limits: {}; {SO2_DANGER_PPM} ppm is dangerous at once{}.{}",
        if ammonia {
            "A hot discharge gives off sulfur dioxide, heavier than air, and, spent, ammonia."
        } else {
            "A hot discharge gives off sulfur dioxide, heavier than air."
        },
        what_serves(place),
        if place == WorkPlace::Extraction { "walk out into fresh air" } else { "walk away upwind" },
        limit(Gas::SulfurDioxide, "sulfur dioxide"),
        if ammonia { format!("; {}", limit(Gas::Ammonia, "ammonia")) } else { String::new() },
        bound(bath, place)
    );
    caution(Hazard::SulfurDioxide, text, "ICSC 0074, sulfur dioxide; EPA, assessment of sulfur oxides (2008); NIOSH")
}

/// What is no such place, in words that go on.
const fn what_serves(place: WorkPlace) -> &'static str {
    match place {
        WorkPlace::Outdoors => ", upwind of the bath; a garage, shed or roofed balcony is not outdoors",
        WorkPlace::Extraction => ", drawn off to the outside; a hood that returns the air is not extraction",
        WorkPlace::Indoors { .. } => "",
    }
}

/// What is not known may hold nitrogen.
fn gives_ammonia(context: &CautionContext<'_>) -> bool {
    context.agent.is_none_or(DischargeAgent::gives_ammonia)
}

fn respirator(context: &CautionContext<'_>) -> Caution {
    let text = format!(
        "Goggles, long gloves, and {}. A dust mask does not stop gas. The mask protects only up to {} ppm of sulfur dioxide: \
        it adds to fresh air, never replaces it. Be clean-shaven; check its fit, and that its filters are in date.",
        gas_respirator(context.region, gives_ammonia(context)),
        so2_mask_ppm(context.region)
    );
    let source = match context.region {
        Region::Europe => "EN 14387; ten times the daily limit, as in the NIOSH Pocket Guide",
        Region::UnitedStates => "NIOSH Pocket Guide, sulfur dioxide",
    };
    caution(Hazard::Respirator, text, source)
}

fn spent_bath(place: WorkPlace) -> Caution {
    let open = match place {
        WorkPlace::Extraction => "uncover it, the extraction running, and leave it open until the next day",
        WorkPlace::Outdoors | WorkPlace::Indoors { .. } => "uncover it from upwind and leave it open outdoors until the next day",
    };
    let text = format!(
        "Spent bath, and the first rinse water: let it go cold where it stands, out of reach of children and animals; then \
        {open}. Never sniff to \
         judge. Dispose of it by your local rules: not onto the ground or into a storm drain. No acid or bleach into it, nor down the same drain."
    );
    caution(Hazard::SpentBath, text, "common practice, no source")
}

/// What rods out of a discharge still give off.
fn still_gassing(context: &CautionContext<'_>) -> Caution {
    let text = format!(
        "Rods out of the bath still drip it and give off its gases: stay {}, goggles, gloves and respirator on, until they are \
        rinsed and you are \
         away from the bath. Never take the respirator off to smell.",
        context.place
    );
    caution(Hazard::StillGassing, text, "ICSC 0074, sulfur dioxide; common practice")
}

fn eruption(agent: Option<DischargeAgent>) -> Caution {
    let dithionite = "Added too quickly, sodium hydrosulphite (dithionite) has set into a plug and thrown the bath out of the \
        vessel; a little water may \
                      make its powder react violently.";
    let rule = "So: powder into the hot water, never water onto powder; small lots, clean dry scoop, each stirred in.";
    let hse = "HSE, Textiles: Dyes and dyeing; Chemicals, safe use and handling";
    match agent {
        Some(DischargeAgent::ThioureaDioxide) => {
            caution(Hazard::Eruption, format!("{dithionite} Thiourea dioxide heats itself with moisture too. {rule}"), hse)
        }
        _ => caution(Hazard::Eruption, format!("{dithionite} {rule}"), hse),
    }
}

fn powder(agent: Option<DischargeAgent>) -> Caution {
    let keep = format!(
        "Weigh it away from steam and flame. Keep it dry, cool and closed, away from acids, oxidisers and food. Damp powder, cold and \
         not smoking: carry it outdoors, away from anything that burns; never put it in the bin; its sheet says how to dispose \
         of it. Warm, smoking or smelling: leave it, get out, stay upwind, call the fire service; no respirator is enough; never use a little water. {EYE}"
    );
    match agent {
        Some(DischargeAgent::ThioureaDioxide) => caution(
            Hazard::SelfHeatingPowder,
            format!(
                "Thiourea dioxide (UN 3341, class 4.2) heats itself with moisture and may catch fire; hot it gives off toxic \
                gases, faster with metal \
                 salts: no aluminium, iron or copper vessel. {keep}"
            ),
            "TT Club (2005); UK P&I Club bulletins 337 (2003) and 437 (2005), on thiourea dioxide; vessels: our own judgement",
        ),
        Some(DischargeAgent::ReadyMixture) => caution(
            Hazard::SelfHeatingPowder,
            format!(
                "A ready mixture's sheet says what is in it; until you have read it, treat it as sodium dithionite (UN \
                1384, class 4.2), which heats \
                 itself and may catch fire when damp: no open flames. {keep}"
            ),
            "ICSC 1717, sodium dithionite",
        ),
        Some(DischargeAgent::SodiumDithionite) | None => caution(
            Hazard::SelfHeatingPowder,
            format!("Sodium dithionite (UN 1384, class 4.2) heats itself and may catch fire when damp: no open flames. {keep}"),
            "ICSC 1717, sodium dithionite",
        ),
    }
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
        " This bath's {} of {} can give at most {} ppm in a closed room of {} m³; never work in one.",
        bath.mass,
        bath.agent,
        short(ppm),
        short(room_m3)
    )
}
