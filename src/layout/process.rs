//! How a rod is dyed: what the maker chooses, and the calibration values that no source gives.
//!
//! A *calibration* value is our own, found by looking at computed pictures beside what such rods are commonly known to give; no
//! source states it. Every one can be changed in the layout file, and a picture made with it is an estimate.

use super::LearnedFrom;
use crate::geometry::ThreadKind;
use serde::Serialize;

/// The dyeing of one rod.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Process {
    /// The bath that takes the garment's own colour before the dyes go on; none unless given.
    pub discharge: Option<Discharge>,
    /// How the rod lies while it is dyed.
    pub rest: Rest,
    /// How the dye is put on.
    pub dye: DyeBy,
    /// How dry the inside of the rod is when the dye goes on.
    pub inside: Dryness,
    /// Layers of ice, one after the other: 1 unless given. Each brings more water through the powder.
    pub ice_layers: IceLayers,
    /// The hand that folds, binds and strews.
    pub hand: Hand,
    /// Calibration values.
    pub calibration: Calibration,
}

/// A discharge bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Discharge {
    /// Strength against an ordinary bath: 1.
    pub strength: f64,
}

impl Default for Discharge {
    fn default() -> Self {
        Self { strength: 1.0 }
    }
}

/// How the rod rests.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub enum Rest {
    /// On one row of creases, the other up (common practice).
    #[default]
    EdgesUp,
    /// On the flat of its first pleat, the last up.
    OnItsFlat,
    /// On one row of creases, turned over when half is done: both get the same.
    TurnedHalfWay,
}

impl Rest {
    /// What it lies on, in plain words.
    #[must_use]
    pub const fn lies(self) -> &'static str {
        match self {
            Self::EdgesUp | Self::TurnedHalfWay => "on its creases",
            Self::OnItsFlat => "on its flat",
        }
    }
}

/// How dye is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum DyeBy {
    /// As powder on the upper faces, ice over it; run-off wets the underside (common practice).
    #[default]
    PowderUnderIce,
    /// Dissolved and by hand, on all faces.
    ByHand,
    /// Dissolved, on nothing but what of a flat bundle is dipped.
    Dipped,
}

impl DyeBy {
    /// Whether the dye is dissolved before it goes on.
    #[must_use]
    pub const fn is_dissolved(self) -> bool {
        match self {
            Self::PowderUnderIce => false,
            Self::ByHand | Self::Dipped => true,
        }
    }
}

/// How dry the inside is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Dryness {
    /// Dry: the cloth draws the dye in (common practice: a thick fold is dried before powder goes on).
    #[default]
    Dry,
    /// Damp, as spun.
    Damp,
    /// Soaking wet.
    Wet,
}

/// A number of layers of ice, at least one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct IceLayers(pub u32);

impl Default for IceLayers {
    fn default() -> Self {
        Self(1)
    }
}

/// How evenly the hand works. The unevenness is drawn from the seed: the same layout gives the same picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hand {
    /// RMS distance of the cloth from its intended place, mm. Default 1.5 (calibration).
    pub wander_mm: f64,
    /// Over what length it strays one way, mm: 40 (calibration).
    pub wander_length_mm: f64,
    /// How unequally creases stick out of the rod, as a share of what they take up: 0.35 (calibration).
    pub uneven_creases: f64,
    /// Seed of all that is drawn.
    pub seed: u64,
}

impl Default for Hand {
    fn default() -> Self {
        Self { wander_mm: 1.5, wander_length_mm: 40.0, uneven_creases: 0.35, seed: 1 }
    }
}

impl Hand {
    /// A hand that does everything exactly.
    pub const EXACT: Self = Self { wander_mm: 0.0, wander_length_mm: 40.0, uneven_creases: 0.0, seed: 1 };
}

/// How far something reaches into the rod: the distance over which its dose falls to 1/e, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Along the cloth.
    pub along_mm: f64,
    /// From layer to layer.
    pub through_mm: f64,
}

impl Reach {
    /// The same so many times as far.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        Self { along_mm: factor * self.along_mm, through_mm: factor * self.through_mm }
    }
}

/// What a bind does to the rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BindEffect {
    /// What is left of the cloth's conductance where it presses, 0 to 1.
    pub conductance: f64,
    /// The share of the surface under it that it keeps dry, 0 to 1.
    pub cover: f64,
    /// How far beyond the thread it presses, on either side, mm.
    pub beyond_mm: f64,
}

/// What blocks do to a bundle that they are clamped on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlockEffect {
    /// What is left of the cloth's conductance where they press, 0 to 1.
    pub conductance: f64,
    /// The share of the faces under them that they keep dry, 0 to 1.
    pub cover: f64,
}

/// Values that no source gives. See the module's notes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Calibration {
    /// Reach of a dye in a dry rod under one layer of ice, mm: 11 along, 5.5 through. Diffusion alone reaches 0.4 to 1.5 mm
    /// (computed from published diffusivities and rates); water drawn into dry cloth carries the dye the rest of the way, so the
    /// reach is an effective one.
    pub dye_reach: Reach,
    /// Reach of a discharge bath, mm: 20 along, 11 through. It is hot, thin and plentiful, and all faces lie in it.
    pub discharge_reach: Reach,
    /// Reach of a dye into a damp inside, as a share of that into a dry one: 0.8.
    pub damp_share: f64,
    /// The same for a wet inside: 0.6.
    pub wet_share: f64,
    /// What each further layer of ice adds to the reach, as a share: 0.2.
    pub further_ice_share: f64,
    /// Downward seeping of water with its dye, as the steepness that it would hold against diffusion, 1/mm: 0.03.
    pub seeping_per_mm: f64,
    /// How well run-off feeds the underside: what it takes up, as a share of what an upper face under powder does: 0.25.
    pub underside: f64,
    /// How far round the sides powder and melt water still feed, as the sine of the overhang reached: 0.2.
    pub side_catch: f64,
    /// How far from a bind the rod has sprung back flat, in diameters of the bound rod: 0.8.
    pub flat_after_diameters: f64,
    /// Waxed thread: conductance 0.003, cover 0.98, presses 1.5 mm beyond.
    pub waxed: BindEffect,
    /// Plain string: conductance 0.5, cover 0.25, presses 0.5 mm beyond.
    pub plain_string: BindEffect,
    /// A rubber band: conductance 0.05, cover 0.9, presses 1 mm beyond.
    pub rubber_band: BindEffect,
    /// Blocks screwed tight: conductance 0.02, cover 0.97.
    pub blocks: BlockEffect,
    /// Minutes after which a dip has drawn dye as far as it reaches: 5.
    pub dip_minutes: f64,
    /// Dose of the bath at which half the garment's colour is gone, against the dose at the surface of 1: 0.5.
    pub discharge_half_dose: f64,
    /// How suddenly the colour goes about that dose (the exponent of Weibull's curve): 4.
    pub discharge_steepness: f64,
    /// Dose from which cloth counts as reached, against a dose at the fed surface of 1: 0.1.
    pub reached_dose: f64,
    /// What these values were learned from; none where they are the program's own or were given by hand.
    pub learned: Option<LearnedFrom>,
}

impl Default for Calibration {
    fn default() -> Self {
        Self {
            dye_reach: Reach { along_mm: 11.0, through_mm: 5.5 },
            discharge_reach: Reach { along_mm: 20.0, through_mm: 11.0 },
            damp_share: 0.8,
            wet_share: 0.6,
            further_ice_share: 0.2,
            seeping_per_mm: 0.03,
            underside: 0.25,
            side_catch: 0.2,
            flat_after_diameters: 0.8,
            waxed: BindEffect { conductance: 0.003, cover: 0.98, beyond_mm: 1.5 },
            plain_string: BindEffect { conductance: 0.5, cover: 0.25, beyond_mm: 0.5 },
            rubber_band: BindEffect { conductance: 0.05, cover: 0.9, beyond_mm: 1.0 },
            blocks: BlockEffect { conductance: 0.02, cover: 0.97 },
            dip_minutes: 5.0,
            discharge_half_dose: 0.5,
            discharge_steepness: 4.0,
            reached_dose: 0.1,
            learned: None,
        }
    }
}

impl Calibration {
    /// Whether all values are those of another, wherever they come from.
    #[must_use]
    pub fn has_values_of(&self, other: &Self) -> bool {
        *self == Self { learned: self.learned, ..*other }
    }

    /// What binds of this thread do.
    #[must_use]
    pub fn bind(&self, kind: ThreadKind) -> BindEffect {
        match kind {
            ThreadKind::Waxed => self.waxed,
            ThreadKind::PlainString => self.plain_string,
            ThreadKind::RubberBand => self.rubber_band,
        }
    }
}

impl Process {
    /// Reach of the dyes under these circumstances, mm.
    #[must_use]
    pub fn dye_reach(&self) -> Reach {
        let calibration = &self.calibration;
        let dryness = match self.inside {
            Dryness::Dry => 1.0,
            Dryness::Damp => calibration.damp_share,
            Dryness::Wet => calibration.wet_share,
        };
        let ice = match self.dye {
            DyeBy::PowderUnderIce => 1.0 + calibration.further_ice_share * f64::from(self.ice_layers.0.saturating_sub(1)),
            DyeBy::ByHand | DyeBy::Dipped => 1.0,
        };
        let Reach { along_mm, through_mm } = calibration.dye_reach;
        Reach { along_mm: along_mm * dryness * ice, through_mm: through_mm * dryness * ice }
    }

    /// Reach of a dye during a dip of so many minutes, mm. Cloth draws a liquid in as the root of the time (Washburn, Phys. Rev. 17, 273
    /// (1921), from memory), until it has gone as far as dye reaches.
    #[must_use]
    pub fn dip_reach(&self, minutes: f64) -> Reach {
        let share = (minutes / self.calibration.dip_minutes).sqrt().min(1.0);
        let Reach { along_mm, through_mm } = Self { dye: DyeBy::Dipped, ..*self }.dye_reach();
        Reach { along_mm: along_mm * share, through_mm: through_mm * share }
    }

    /// Share of the garment's colour that a dose of the bath takes, 0 to 1: `1 - 2^-(dose / half)^steepness`, the curve of a loss at
    /// first order that sets in late, for the bath is used up by the first colour that it meets. At the surface of an ordinary bath
    /// all is gone.
    #[must_use]
    pub fn discharged_share(&self, dose: f64) -> f64 {
        let Some(discharge) = self.discharge else { return 0.0 };
        let Calibration { discharge_half_dose: half, discharge_steepness: steepness, .. } = self.calibration;
        let ratio = (dose.max(0.0) * discharge.strength / half).powf(steepness);
        1.0 - (-ratio).exp2()
    }

    /// Every number with its dotted path and the range in which it can be computed with.
    #[must_use]
    pub fn numbers(&self) -> Vec<(&'static str, f64, f64, f64)> {
        let c = &self.calibration;
        let mut numbers = vec![
            ("process.discharge.strength", self.discharge.unwrap_or_default().strength, 0.01, 100.0),
            ("process.ice_layers", f64::from(self.ice_layers.0), 1.0, 10.0),
            ("process.hand.wander_mm", self.hand.wander_mm, 0.0, 50.0),
            ("process.hand.wander_length_mm", self.hand.wander_length_mm, 5.0, 1000.0),
            ("process.hand.uneven_creases", self.hand.uneven_creases, 0.0, 1.0),
            ("process.calibration.dye_reach.along_mm", c.dye_reach.along_mm, 0.5, 500.0),
            ("process.calibration.dye_reach.through_mm", c.dye_reach.through_mm, 0.2, 500.0),
            ("process.calibration.discharge_reach.along_mm", c.discharge_reach.along_mm, 0.5, 500.0),
            ("process.calibration.discharge_reach.through_mm", c.discharge_reach.through_mm, 0.2, 500.0),
            ("process.calibration.damp_share", c.damp_share, 0.05, 5.0),
            ("process.calibration.wet_share", c.wet_share, 0.05, 5.0),
            ("process.calibration.further_ice_share", c.further_ice_share, 0.0, 2.0),
            ("process.calibration.seeping_per_mm", c.seeping_per_mm, 0.0, 0.3),
            ("process.calibration.underside", c.underside, 0.0, 1.0),
            ("process.calibration.side_catch", c.side_catch, 0.0, 1.0),
            ("process.calibration.flat_after_diameters", c.flat_after_diameters, 0.05, 100.0),
            ("process.calibration.dip_minutes", c.dip_minutes, 0.1, 720.0),
            ("process.calibration.discharge_half_dose", c.discharge_half_dose, 0.001, 10.0),
            ("process.calibration.discharge_steepness", c.discharge_steepness, 0.5, 20.0),
            ("process.calibration.reached_dose", c.reached_dose, 0.001, 1.0),
        ];
        numbers.push(("process.calibration.blocks.conductance", c.blocks.conductance, 1e-4, 1.0));
        numbers.push(("process.calibration.blocks.cover", c.blocks.cover, 0.0, 1.0));
        numbers.extend(bind_numbers("waxed", &c.waxed));
        numbers.extend(bind_numbers("plain_string", &c.plain_string));
        numbers.extend(bind_numbers("rubber_band", &c.rubber_band));
        numbers
    }
}

fn bind_numbers(kind: &str, effect: &BindEffect) -> [(&'static str, f64, f64, f64); 3] {
    let paths = match kind {
        "waxed" => {
            ["process.calibration.waxed.conductance", "process.calibration.waxed.cover", "process.calibration.waxed.beyond_mm"]
        }
        "plain_string" => [
            "process.calibration.plain_string.conductance",
            "process.calibration.plain_string.cover",
            "process.calibration.plain_string.beyond_mm",
        ],
        _ => [
            "process.calibration.rubber_band.conductance",
            "process.calibration.rubber_band.cover",
            "process.calibration.rubber_band.beyond_mm",
        ],
    };
    [(paths[0], effect.conductance, 1e-4, 1.0), (paths[1], effect.cover, 0.0, 1.0), (paths[2], effect.beyond_mm, 0.0, 50.0)]
}
