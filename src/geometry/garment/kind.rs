//! The kinds of garment: which measurements each has, which are required, and the rules for the rest.

use std::fmt;

use super::grading::{self, Grade};
use super::measure::Measure::{
    AcrossBack, AcrossFront, ArmholeDepth, BackNeckDrop, BagHeight, BagWidth, ClothHeight, ClothWidth, CrotchWidth,
    FrontNeckDrop, HalfChest, HandleDrop, HandleSpacing, HandleWidth, HemRise, HemWidth, HipWidth, HoodDepth, HoodHeight,
    LegOpening, Length, NeckWidth, ShoulderDrop, ShoulderToShoulder, SleeveFall, SleeveLength, SleeveOpening, StrapWidth,
    WaistDepth, WaistWidth,
};
use super::{Measure, Measurements, SourceStatus, Top};

/// What kind of garment is folded.
///
/// Files call it by its [key](Self::key).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GarmentKind {
    /// A short-sleeved T-shirt with a round neck.
    CrewTee,
    /// A short-sleeved T-shirt with a pointed neck.
    VNeckTee,
    /// A long-sleeved T-shirt with a round neck.
    LongSleeveTee,
    /// A top without sleeves, on shoulder straps.
    Tank,
    /// An infant's one-piece with short sleeves, closed at the crotch.
    InfantBodysuit,
    /// A long-sleeved top with a hood.
    HoodedTop,
    /// A dress cut like a T-shirt, shaped at the waist.
    ShirtDress,
    /// A flat bag with two handles.
    ToteBag,
    /// A rectangle of cloth.
    FlatCloth,
    /// A garment of the maker's own outline: see [`super::OwnOutline`].
    Own,
}

/// How many layers of cloth lie on the table before anything is folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Panels {
    /// A single cloth; front and back outline are the two faces of the same layer.
    One,
    /// A front and a back.
    Two,
}

impl Panels {
    /// Both.
    pub const ALL: [Self; 2] = [Self::One, Self::Two];

    /// The name in print.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::One => "one",
            Self::Two => "two",
        }
    }
}

/// How a measurement is found when it is not given.
#[derive(Clone, Copy, Debug)]
pub(super) enum Rule {
    /// It has to be given, or come from a size.
    Required,
    /// Graded on the half chest, see [`grading`].
    Graded(&'static Grade),
    /// Calculated from measurements found before it; the words say how.
    From(fn(&Measurements) -> f64, &'static str, SourceStatus),
    /// The same for all sizes, in mm.
    Fixed(f64, SourceStatus),
}

/// One measurement of a kind with its rule.
pub(super) type Spec = (Measure, Rule);

impl GarmentKind {
    /// Every kind that is drafted from measurements: all but [`Self::Own`].
    pub const ALL: [Self; 9] = [
        Self::CrewTee,
        Self::VNeckTee,
        Self::LongSleeveTee,
        Self::Tank,
        Self::InfantBodysuit,
        Self::HoodedTop,
        Self::ShirtDress,
        Self::ToteBag,
        Self::FlatCloth,
    ];

    /// Every kind there is.
    pub fn every() -> impl Iterator<Item = Self> {
        Self::ALL.into_iter().chain([Self::Own])
    }

    /// The name in print.
    pub const fn name(self) -> &'static str {
        match self {
            Self::CrewTee => "crew-neck tee",
            Self::VNeckTee => "V-neck tee",
            Self::LongSleeveTee => "long-sleeve tee",
            Self::Tank => "tank",
            Self::InfantBodysuit => "infant bodysuit",
            Self::HoodedTop => "hooded top",
            Self::ShirtDress => "T-shirt dress",
            Self::ToteBag => "tote bag",
            Self::FlatCloth => "flat cloth",
            Self::Own => "own outline",
        }
    }

    /// The name in files: its variant's.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::CrewTee => "CrewTee",
            Self::VNeckTee => "VNeckTee",
            Self::LongSleeveTee => "LongSleeveTee",
            Self::Tank => "Tank",
            Self::InfantBodysuit => "InfantBodysuit",
            Self::HoodedTop => "HoodedTop",
            Self::ShirtDress => "ShirtDress",
            Self::ToteBag => "ToteBag",
            Self::FlatCloth => "FlatCloth",
            Self::Own => "Own",
        }
    }

    /// The measurements the kind has, those first that others are derived from.
    pub fn measures(self) -> impl Iterator<Item = Measure> {
        self.specs().iter().map(|&(measure, _)| measure)
    }

    /// What heights on the kind are counted from.
    ///
    /// ```
    /// use pleatwright::geometry::{GarmentKind, Top};
    /// assert_eq!(GarmentKind::CrewTee.top(), Top::ShoulderPoint);
    /// assert_eq!(GarmentKind::ToteBag.top(), Top::UpperEdge);
    /// ```
    #[must_use]
    pub fn top(self) -> Top {
        if self.measures().any(|measure| measure == ShoulderDrop) { Top::ShoulderPoint } else { Top::UpperEdge }
    }

    /// The measurements that have to be given or come from a size.
    pub fn required_measures(self) -> impl Iterator<Item = Measure> {
        self.specs().iter().filter(|(_, rule)| matches!(rule, Rule::Required)).map(|&(measure, _)| measure)
    }

    /// How a measurement is derived when it is not given, in words; `None` if it is required or not the kind's.
    pub fn derivation(self, measure: Measure) -> Option<(&'static str, SourceStatus)> {
        match self.specs().iter().find(|(m, _)| *m == measure)?.1 {
            Rule::Required => None,
            Rule::Graded(_) => Some(("graded on the half chest between anchor sizes", SourceStatus::Memory)),
            Rule::From(_, words, status) => Some((words, status)),
            Rule::Fixed(_, status) => Some(("the same for all sizes", status)),
        }
    }

    pub(super) const fn specs(self) -> &'static [Spec] {
        match self {
            Self::CrewTee => CREW_TEE,
            Self::VNeckTee => V_NECK_TEE,
            Self::LongSleeveTee => LONG_SLEEVE_TEE,
            Self::Tank => TANK,
            Self::InfantBodysuit => INFANT_BODYSUIT,
            Self::HoodedTop => HOODED_TOP,
            Self::ShirtDress => SHIRT_DRESS,
            Self::ToteBag => TOTE_BAG,
            Self::FlatCloth | Self::Own => FLAT_CLOTH,
        }
    }
}

/// Writes the name with its article, as it stands in a sentence.
impl fmt::Display for GarmentKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let article = match self {
            Self::Own => return f.write_str("a garment of your own outline"),
            Self::InfantBodysuit => "an",
            _ => "a",
        };
        write!(f, "{article} {}", self.name())
    }
}

const CHEST: Spec = (HalfChest, Rule::Required);
const LENGTH: Spec = (Length, Rule::Required);
const NECK: Spec = (NeckWidth, Rule::Graded(&grading::NECK_WIDTH));
const CREW_FRONT: Spec = (FrontNeckDrop, Rule::Graded(&grading::CREW_NECK_DROP));
const BACK: Spec = (BackNeckDrop, Rule::Graded(&grading::BACK_NECK_DROP));
const SHOULDERS: Spec = (ShoulderToShoulder, Rule::Graded(&grading::SHOULDER_TO_SHOULDER));
const DROP: Spec = (ShoulderDrop, Rule::Graded(&grading::SHOULDER_DROP));
const ARMHOLE: Spec = (ArmholeDepth, Rule::Graded(&grading::ARMHOLE_DEPTH));
const SHORT_LENGTH: Spec = (SleeveLength, Rule::Graded(&grading::SHORT_SLEEVE_LENGTH));
const SHORT_OPENING: Spec = (SleeveOpening, Rule::Graded(&grading::SHORT_SLEEVE_OPENING));
const SHORT_FALL: Spec = (SleeveFall, Rule::From(short_fall_mm, "the sleeve lies 8 degrees steeper than the shoulder", MEMORY));
const LONG_LENGTH: Spec = (SleeveLength, Rule::Graded(&grading::LONG_SLEEVE_LENGTH));
const LONG_OPENING: Spec = (SleeveOpening, Rule::Graded(&grading::LONG_SLEEVE_OPENING));
const LONG_FALL: Spec = (SleeveFall, Rule::From(long_fall_mm, "the sleeve lies 32 degrees steeper than the shoulder", MEMORY));
const STRAIGHT_HEM: Spec = (HemWidth, Rule::From(|m| m.of(HalfChest), "as wide as the half chest", SourceStatus::Practice));
const MEMORY: SourceStatus = SourceStatus::Memory;

const CREW_TEE: &[Spec] =
    &[CHEST, LENGTH, NECK, CREW_FRONT, BACK, SHOULDERS, DROP, ARMHOLE, SHORT_LENGTH, SHORT_OPENING, SHORT_FALL, STRAIGHT_HEM];

const V_FRONT: Spec = (FrontNeckDrop, Rule::Graded(&grading::V_NECK_DROP));

const V_NECK_TEE: &[Spec] =
    &[CHEST, LENGTH, NECK, V_FRONT, BACK, SHOULDERS, DROP, ARMHOLE, SHORT_LENGTH, SHORT_OPENING, SHORT_FALL, STRAIGHT_HEM];

const LONG_SLEEVE_TEE: &[Spec] =
    &[CHEST, LENGTH, NECK, CREW_FRONT, BACK, SHOULDERS, DROP, ARMHOLE, LONG_LENGTH, LONG_OPENING, LONG_FALL, STRAIGHT_HEM];

const TANK: &[Spec] = &[
    CHEST,
    LENGTH,
    (NeckWidth, Rule::Graded(&grading::TANK_NECK_WIDTH)),
    (FrontNeckDrop, Rule::Graded(&grading::TANK_NECK_DROP)),
    (BackNeckDrop, Rule::Graded(&grading::TANK_BACK_NECK_DROP)),
    (StrapWidth, Rule::Graded(&grading::STRAP_WIDTH)),
    (ShoulderDrop, Rule::From(|m| m.of(StrapWidth) * 0.3, "0.3 times the strap width: a slope of 17 degrees", MEMORY)),
    ARMHOLE,
    (AcrossFront, Rule::From(|m| strap_to_strap_mm(m) * 0.9, "0.9 times the width over both straps", MEMORY)),
    (AcrossBack, Rule::From(|m| strap_to_strap_mm(m) * 0.94, "0.94 times the width over both straps", MEMORY)),
    STRAIGHT_HEM,
];

const INFANT_BODYSUIT: &[Spec] = &[
    CHEST,
    LENGTH,
    NECK,
    CREW_FRONT,
    BACK,
    SHOULDERS,
    DROP,
    ARMHOLE,
    SHORT_LENGTH,
    SHORT_OPENING,
    SHORT_FALL,
    (HipWidth, Rule::From(|m| m.of(HalfChest), "as wide as the half chest", MEMORY)),
    (CrotchWidth, Rule::From(|m| m.of(HipWidth) * 0.42, "0.42 times the hip width", MEMORY)),
    (LegOpening, Rule::From(|m| m.of(HipWidth) * 0.53, "0.53 times the hip width", MEMORY)),
];

const HOODED_TOP: &[Spec] = &[
    CHEST,
    LENGTH,
    NECK,
    CREW_FRONT,
    BACK,
    SHOULDERS,
    DROP,
    ARMHOLE,
    LONG_LENGTH,
    LONG_OPENING,
    LONG_FALL,
    (HemWidth, Rule::From(|m| m.of(HalfChest) * 0.84, "0.84 times the half chest: drawn in by a knitted band", MEMORY)),
    (HoodHeight, Rule::Graded(&grading::HOOD_HEIGHT)),
    (HoodDepth, Rule::Graded(&grading::HOOD_DEPTH)),
];

const SHIRT_DRESS: &[Spec] = &[
    CHEST,
    LENGTH,
    NECK,
    CREW_FRONT,
    BACK,
    SHOULDERS,
    DROP,
    ARMHOLE,
    SHORT_LENGTH,
    SHORT_OPENING,
    SHORT_FALL,
    (WaistWidth, Rule::From(|m| m.of(HalfChest) * 0.94, "0.94 times the half chest", MEMORY)),
    (WaistDepth, Rule::Graded(&grading::WAIST_DEPTH)),
    (HemWidth, Rule::From(|m| m.of(HalfChest) * 1.16, "1.16 times the half chest", MEMORY)),
    (HemRise, Rule::Fixed(0.0, SourceStatus::Practice)),
];

const TOTE_BAG: &[Spec] = &[
    (BagWidth, Rule::Required),
    (BagHeight, Rule::Required),
    (HandleDrop, Rule::From(|m| m.of(BagHeight) * 0.58, "0.58 times the bag height", MEMORY)),
    (HandleWidth, Rule::From(|m| m.of(BagWidth) * 0.07, "0.07 times the bag width", MEMORY)),
    (HandleSpacing, Rule::From(|m| m.of(BagWidth) * 0.32, "0.32 times the bag width", MEMORY)),
];

const FLAT_CLOTH: &[Spec] = &[(ClothWidth, Rule::Required), (ClothHeight, Rule::Required)];

/// How much steeper than its shoulder a short sleeve lies (memory).
const SHORT_SLEEVE_TURN_RAD: f64 = 8.0 * std::f64::consts::PI / 180.0;
/// How much steeper than its shoulder a long sleeve lies (memory).
const LONG_SLEEVE_TURN_RAD: f64 = 32.0 * std::f64::consts::PI / 180.0;
/// The steepest a sleeve is laid when nobody says how it lies (memory).
const STEEPEST_SLEEVE_RAD: f64 = 60.0 * std::f64::consts::PI / 180.0;

fn short_fall_mm(m: &Measurements) -> f64 {
    fall_mm(m, SHORT_SLEEVE_TURN_RAD)
}

fn long_fall_mm(m: &Measurements) -> f64 {
    fall_mm(m, LONG_SLEEVE_TURN_RAD)
}

fn fall_mm(m: &Measurements, turn_rad: f64) -> f64 {
    let across_mm = (m.of(ShoulderToShoulder) - m.of(NeckWidth)) / 2.0;
    let slope_rad = m.of(ShoulderDrop).atan2(across_mm);
    m.of(SleeveLength) * (slope_rad + turn_rad).min(STEEPEST_SLEEVE_RAD).sin()
}

/// The width over both straps at their outer ends, in mm; a strap that falls more than it is wide is refused by the checks.
pub(super) fn strap_to_strap_mm(m: &Measurements) -> f64 {
    let across_mm = (m.of(StrapWidth).powi(2) - m.of(ShoulderDrop).powi(2)).max(0.0).sqrt();
    m.of(NeckWidth) + 2.0 * across_mm
}
