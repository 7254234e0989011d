//! Whether measurements can be true, one by one and together.

use std::f64::consts::FRAC_1_SQRT_2;

use super::draft::{TopPoints, top_points};
use super::kind::strap_to_strap_mm;
use super::measure::Measure::{
    AcrossBack, AcrossFront, ArmholeDepth, BackNeckDrop, BagHeight, BagWidth, CrotchWidth, FrontNeckDrop, HalfChest, HandleDrop,
    HandleSpacing, HandleWidth, HemRise, HemWidth, HipWidth, HoodDepth, HoodHeight, LegOpening, Length, NeckWidth, ShoulderDrop,
    ShoulderToShoulder, SleeveFall, SleeveLength, SleeveOpening, StrapWidth, WaistDepth, WaistWidth,
};
use super::{Bound, GarmentError, GarmentKind, Measure, Measurements, Misfit};

/// The shortest seam a garment is sewn with, in mm: what is left of a shoulder, a side or a sleeve's underarm (practice).
const SHORTEST_SEAM_MM: f64 = 10.0;
/// Least cloth between the underarm and whatever comes below it, in mm (practice).
const SHORTEST_SIDE_MM: f64 = 40.0;
/// Room for the narrowest cuff between side and sleeve end, in mm: its least opening and a seam.
const NARROWEST_CUFF_MM: f64 = 40.0;
/// How steep a sleeve can lie, in radians below the level (70 degrees; memory).
const STEEPEST_SLEEVE_RAD: f64 = 1.22;
/// Least angle at the shoulder point between the sleeve's upper edge and the underarm, in radians (20 degrees; memory).
const LEAST_ARMHOLE_ANGLE_RAD: f64 = 0.35;
/// How far below the underarm a pointed or scooped neck can reach, as a part of the length (memory).
const LOWEST_NECK: f64 = 0.6;
/// How far a dropped shoulder can reach beyond the half chest, as a ratio (memory).
const WIDEST_SHOULDERS: f64 = 1.35;
/// The widest and the narrowest lower edge, over the half chest (memory).
const HEM_RATIOS: [f64; 2] = [2.0, 0.6];

/// Refuses measurements that the kind does not have.
pub(super) fn is_of_kind(kind: GarmentKind, given: &Measurements) -> Result<(), GarmentError> {
    match given.iter().find(|&(measure, _)| kind.measures().all(|own| own != measure)) {
        Some((measure, _)) => Err(GarmentError::NotAMeasureOfKind { kind, measure }),
        None => Ok(()),
    }
}

/// Refuses a value that is no length, or far from anything worn.
pub(super) fn is_plausible(measure: Measure, value_mm: f64) -> Result<(), GarmentError> {
    if !value_mm.is_finite() {
        return Err(GarmentError::NotFinite { measure, value_mm });
    }
    let range = measure.range_mm();
    if range.contains(&value_mm) {
        return Ok(());
    }
    Err(GarmentError::OutOfRange { measure, value_mm, least_mm: *range.start(), most_mm: *range.end() })
}

/// Refuses measurements that can't belong to one garment, naming the first pair that does not fit.
/// `given` are those among them that the maker measured.
pub(super) fn fit_together(kind: GarmentKind, values: &Measurements, given: &Measurements) -> Result<(), GarmentError> {
    let fit = Fit { m: values, given };
    match kind {
        GarmentKind::CrewTee | GarmentKind::LongSleeveTee => fit.sleeved(false).and_then(|()| fit.hem()),
        GarmentKind::VNeckTee => fit.sleeved(true).and_then(|()| fit.hem()),
        GarmentKind::Tank => fit.tank(),
        GarmentKind::InfantBodysuit => fit.sleeved(false).and_then(|()| fit.legs()),
        GarmentKind::HoodedTop => fit.sleeved(false).and_then(|()| fit.hem()).and_then(|()| fit.hood()),
        GarmentKind::ShirtDress => fit.sleeved(false).and_then(|()| fit.hem()).and_then(|()| fit.waist()),
        GarmentKind::ToteBag => fit.bag(),
        GarmentKind::FlatCloth | GarmentKind::Own => Ok(()),
    }
}

/// The measurements under examination.
struct Fit<'a> {
    m: &'a Measurements,
    given: &'a Measurements,
}

impl Fit<'_> {
    fn of(&self, measure: Measure) -> f64 {
        self.m.of(measure)
    }

    /// Demands that `measure` is at most `limit_mm`, a limit that comes from `against`.
    fn most(&self, measure: Measure, against: Measure, limit_mm: f64, why: Misfit) -> Result<(), GarmentError> {
        if self.of(measure) <= limit_mm { Ok(()) } else { self.mismatch(measure, against, Bound::AtMost, limit_mm, why) }
    }

    /// Demands that `measure` is at least `limit_mm`, a limit that comes from `against`.
    fn least(&self, measure: Measure, against: Measure, limit_mm: f64, why: Misfit) -> Result<(), GarmentError> {
        if self.of(measure) >= limit_mm { Ok(()) } else { self.mismatch(measure, against, Bound::AtLeast, limit_mm, why) }
    }

    fn mismatch(&self, measure: Measure, against: Measure, bound: Bound, limit_mm: f64, why: Misfit) -> Result<(), GarmentError> {
        let (value_mm, against_mm) = (self.of(measure), self.of(against));
        Err(GarmentError::Mismatch { measure, value_mm, against, against_mm, bound, limit_mm, why })
    }

    /// Neck, shoulders and armhole of a top with sleeves, then the sleeves.
    fn sleeved(&self, neck_may_pass_underarm: bool) -> Result<(), GarmentError> {
        let shoulders_mm = self.of(ShoulderToShoulder);
        let neck_most_mm = shoulders_mm - 2.0 * SHORTEST_SEAM_MM;
        self.most(NeckWidth, ShoulderToShoulder, neck_most_mm, Misfit::NeckPastShoulders)?;
        let shoulders_most_mm = self.of(HalfChest) * WIDEST_SHOULDERS;
        self.most(ShoulderToShoulder, HalfChest, shoulders_most_mm, Misfit::ShouldersPastChest)?;
        self.shoulder_slope()?;
        self.armhole()?;
        self.neck_drops(neck_may_pass_underarm)?;
        self.sleeve()
    }

    /// Neck, shoulders and drop give the slope; the maker is told of the one that was measured.
    fn shoulder_slope(&self) -> Result<(), GarmentError> {
        let (shoulders_mm, drop_mm) = (self.of(ShoulderToShoulder), self.of(ShoulderDrop));
        let why = Misfit::ShoulderTooSteep;
        if self.given.value(ShoulderDrop).is_some() {
            return self.most(ShoulderDrop, ShoulderToShoulder, (shoulders_mm - self.of(NeckWidth)) / 2.0, why);
        }
        self.most(NeckWidth, ShoulderToShoulder, shoulders_mm - 2.0 * drop_mm, why)
    }

    fn armhole(&self) -> Result<(), GarmentError> {
        let armhole_mm = self.of(ArmholeDepth);
        self.most(ShoulderDrop, ArmholeDepth, armhole_mm - 3.0 * SHORTEST_SEAM_MM, Misfit::ArmholeTooLow)?;
        self.least(Length, ArmholeDepth, armhole_mm + SHORTEST_SIDE_MM, Misfit::ArmholeBelowHem)
    }

    fn neck_drops(&self, may_pass_underarm: bool) -> Result<(), GarmentError> {
        self.neck_front_and_back()?;
        for drop in [FrontNeckDrop, BackNeckDrop] {
            if may_pass_underarm {
                self.most(drop, Length, self.of(Length) * LOWEST_NECK, Misfit::NeckTooDeep)?;
            } else {
                self.most(drop, ArmholeDepth, self.of(ArmholeDepth), Misfit::RoundNeckBelowUnderarm)?;
            }
        }
        Ok(())
    }

    /// The maker is told of the drop that was measured.
    fn neck_front_and_back(&self) -> Result<(), GarmentError> {
        let (front_mm, back_mm) = (self.of(FrontNeckDrop), self.of(BackNeckDrop));
        let why = Misfit::NeckDeeperAtBack;
        if self.given.value(BackNeckDrop).is_some() {
            return self.most(BackNeckDrop, FrontNeckDrop, front_mm, why);
        }
        self.least(FrontNeckDrop, BackNeckDrop, back_mm, why)
    }

    fn sleeve(&self) -> Result<(), GarmentError> {
        let length_mm = self.of(SleeveLength);
        let TopPoints { shoulder, cuff_top, underarm, .. } = top_points(self.m);
        let steepest_rad = ((underarm - shoulder).atan2() - LEAST_ARMHOLE_ANGLE_RAD).clamp(0.0, STEEPEST_SLEEVE_RAD);
        self.most(SleeveFall, SleeveLength, length_mm * steepest_rad.sin(), Misfit::SleeveIntoSide)?;
        let along = (cuff_top - shoulder) / length_mm;
        // How far out along the sleeve the underarm lies, and the shoulder's upright over the side: the sleeve reaches past both.
        let underarm_mm = (underarm - shoulder).dot(along) + SHORTEST_SEAM_MM;
        let side_mm = (underarm.x - shoulder.x + NARROWEST_CUFF_MM) / along.x;
        let least_mm = underarm_mm.max(side_mm);
        self.least(SleeveLength, ArmholeDepth, least_mm, Misfit::SleeveEndsBeforeUnderarm)?;
        let set_in_mm = shoulder.distance(underarm);
        self.most(SleeveOpening, ArmholeDepth, set_in_mm, Misfit::CuffWiderThanArmhole)?;
        let beside_mm = (cuff_top.x - underarm.x - SHORTEST_SEAM_MM) / along.y;
        self.most(SleeveOpening, SleeveFall, beside_mm, Misfit::CuffWithinSide)
    }

    fn hem(&self) -> Result<(), GarmentError> {
        let chest_mm = self.of(HalfChest);
        let [most, least] = HEM_RATIOS;
        self.most(HemWidth, HalfChest, chest_mm * most, Misfit::HemTooWide)?;
        self.least(HemWidth, HalfChest, chest_mm * least, Misfit::HemTooNarrow)?;
        let under_neck_mm = self.of(NeckWidth) + 2.0 * SHORTEST_SEAM_MM;
        self.least(HemWidth, NeckWidth, under_neck_mm, Misfit::HemNotUnderNeck)
    }

    fn tank(&self) -> Result<(), GarmentError> {
        let steepest_mm = self.of(StrapWidth) * FRAC_1_SQRT_2;
        self.most(ShoulderDrop, StrapWidth, steepest_mm, Misfit::StrapTooSteep)?;
        self.armhole()?;
        self.neck_drops(true)?;
        let over_straps_mm = strap_to_strap_mm(self.m);
        let chest_most_mm = self.of(HalfChest) - 2.0 * SHORTEST_SEAM_MM;
        for across in [AcrossFront, AcrossBack] {
            self.most(across, HalfChest, chest_most_mm, Misfit::ArmholePastUnderarm)?;
            self.most(across, StrapWidth, over_straps_mm, Misfit::ArmholePastStraps)?;
            let least_mm = self.of(NeckWidth) * 0.5 + 2.0 * SHORTEST_SEAM_MM;
            self.least(across, NeckWidth, least_mm, Misfit::ArmholeIntoNeck)?;
        }
        self.hem()
    }

    fn legs(&self) -> Result<(), GarmentError> {
        let hip_mm = self.of(HipWidth);
        let [most, least] = HEM_RATIOS;
        self.most(HipWidth, HalfChest, self.of(HalfChest) * most, Misfit::HipTooWide)?;
        self.least(HipWidth, HalfChest, self.of(HalfChest) * least, Misfit::HipTooNarrow)?;
        self.most(CrotchWidth, HipWidth, hip_mm - 4.0 * SHORTEST_SEAM_MM, Misfit::CrotchTooWide)?;
        let across_mm = (hip_mm - self.of(CrotchWidth)) / 2.0;
        self.least(LegOpening, CrotchWidth, across_mm * 1.1, Misfit::LegTooShort)?;
        let below_mm = self.of(Length) - self.of(ArmholeDepth) - SHORTEST_SIDE_MM;
        self.most(LegOpening, Length, below_mm.hypot(across_mm), Misfit::LegTooLong)
    }

    fn hood(&self) -> Result<(), GarmentError> {
        let least_mm = self.of(NeckWidth) / 2.0 + 3.0 * SHORTEST_SEAM_MM;
        self.least(HoodDepth, NeckWidth, least_mm, Misfit::HoodTooNarrow)?;
        self.least(HoodHeight, HoodDepth, self.of(HoodDepth) * 0.75, Misfit::HoodTooLow)
    }

    fn waist(&self) -> Result<(), GarmentError> {
        let chest_mm = self.of(HalfChest);
        let [most, least] = HEM_RATIOS;
        self.most(WaistWidth, HalfChest, chest_mm * most, Misfit::WaistTooWide)?;
        self.least(WaistWidth, HalfChest, chest_mm * least, Misfit::WaistTooNarrow)?;
        let above_mm = self.of(ArmholeDepth) + SHORTEST_SIDE_MM;
        self.least(WaistDepth, ArmholeDepth, above_mm, Misfit::WaistAtArmhole)?;
        let below_mm = self.of(Length) - SHORTEST_SIDE_MM - self.of(HemRise);
        self.most(WaistDepth, Length, below_mm, Misfit::WaistAtHem)
    }

    fn bag(&self) -> Result<(), GarmentError> {
        let feet_mm = self.of(HandleSpacing) + 2.0 * self.of(HandleWidth);
        let spacing_most_mm = self.of(BagWidth) - 2.0 * self.of(HandleWidth);
        if feet_mm > self.of(BagWidth) {
            return self.mismatch(HandleSpacing, BagWidth, Bound::AtMost, spacing_most_mm, Misfit::HandleWiderThanBag);
        }
        let highest_mm = self.of(BagHeight) * 2.0;
        self.most(HandleDrop, BagHeight, highest_mm, Misfit::HandleTooLong)
    }
}
