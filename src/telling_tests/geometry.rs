//! Refusals of garments, bursts and spacings, and of lengths as they are typed.

use super::{every, refusals};
use crate::geometry::{
    BindId, BlockError, Bound, BurstError, Clash, DipError, DipPart, FlatError, GarmentError, GarmentKind, Given, HalfError,
    LineError, Measure, Misfit, Need, OutlineError, Panel, ProgressionError, Quantity, Side, SizeName, SpacingError, SpiralError,
    Top, WashDirection, WashError, WrapError,
};
use crate::measure::ParseLengthError;
use kurbo::Point;

#[test]
fn outlines() {
    refusals(&every!(OutlineError:
        OutlineError::Empty => OutlineError::Empty,
        OutlineError::Infinite => OutlineError::Infinite,
        OutlineError::Area { .. } => OutlineError::Area { area_mm2: -25_400.0 },
        OutlineError::AcrossCentreLine { .. } => OutlineError::AcrossCentreLine { x_mm: -40.0 },
    ));
}

#[test]
fn garments() {
    let kind = GarmentKind::CrewTee;
    refusals(&every!(HalfError:
        HalfError::Open { .. } => HalfError::Open { apart_mm: 120.0 },
        HalfError::Unlike { .. } => HalfError::Unlike { by_mm: 31.0 },
        HalfError::Middle { .. } => HalfError::Middle { times: 4 },
        HalfError::Nothing => HalfError::Nothing,
    ));
    refusals(&every!(GarmentError:
        GarmentError::UnknownSize { .. } => GarmentError::UnknownSize { given: "huge".to_owned() },
        GarmentError::NoSizeOfKind { .. } => GarmentError::NoSizeOfKind { kind, given: "bandana".to_owned() },
        GarmentError::NoOutline => GarmentError::NoOutline,
        GarmentError::OutlineOfKind { .. } => GarmentError::OutlineOfKind { kind },
        GarmentError::NotASizeOfKind { .. } => GarmentError::NotASizeOfKind { kind, size: SizeName::Small },
        GarmentError::NotAMeasureOfKind { .. } => GarmentError::NotAMeasureOfKind { kind, measure: Measure::BagWidth },
        GarmentError::Missing { .. } => GarmentError::Missing { kind, measure: Measure::Length },
        GarmentError::NotFinite { .. } => GarmentError::NotFinite { measure: Measure::Length, value_mm: f64::NAN },
        GarmentError::OutOfRange { .. } =>
            GarmentError::OutOfRange { measure: Measure::HalfChest, value_mm: 9999.0, least_mm: 120.0, most_mm: 1100.0 },
        GarmentError::Mismatch { .. } => mismatch(Misfit::NeckPastShoulders),
        GarmentError::OutlineCrosses { .. } =>
            GarmentError::OutlineCrosses { kind, panel: Panel::Front, at: Point::new(40.0, 300.0) },
        GarmentError::Outline { .. } =>
            GarmentError::Outline { kind, panel: Panel::Back, reason: OutlineError::Area { area_mm2: -5.0 } },
    ));
    refusals(&Misfit::ALL.map(mismatch));
    refusals(&[WashDirection::Length, WashDirection::Width].map(|direction| WashError { direction, percent: -90.0 }));
}

fn mismatch(why: Misfit) -> GarmentError {
    GarmentError::Mismatch {
        measure: Measure::NeckWidth,
        value_mm: 415.0,
        against: Measure::ShoulderToShoulder,
        against_mm: 447.8,
        bound: Bound::AtMost,
        limit_mm: 357.2,
        why,
    }
}

#[test]
fn bursts() {
    let outside = |reach_mm| BurstError::CentreOutsideCloth {
        x_mm: -40.0,
        top: Top::ShoulderPoint,
        y_mm: 900.0,
        top_mm: 90.0,
        foot_mm: 735.0,
        reach_mm,
    };
    refusals(&every!(BurstError:
        BurstError::CentreOutsideCloth { .. } => outside(None),
        BurstError::Length { .. } =>
            BurstError::Length { field: "guide_radius_mm".into(), value_mm: -25.4, above_mm: 0.0, most_mm: 5000.0 },
        BurstError::PleatCount { .. } => BurstError::PleatCount { pleats: 0.0 },
    ));
    refusals(&[outside(Some(0.0..254.0)), outside(Some(87.2..105.4)), BurstError::PleatCount { pleats: 1234.5 }]);
    let nan = BurstError::Length { field: "pleats.depth_mm".into(), value_mm: f64::NAN, above_mm: -100.0, most_mm: 5000.0 };
    refusals(&[nan]);
}

#[test]
fn lines() {
    let (at, top) = (Point::new(-40.0, 330.0), Top::ShoulderPoint);
    refusals(&every!(LineError:
        LineError::NoLine => LineError::NoLine,
        LineError::Open { .. } => LineError::Open { gap_mm: 25.4, is_folded: true },
        LineError::NoInside => LineError::NoInside,
        LineError::NotStrokes => LineError::NotStrokes,
        LineError::Crosses { .. } => LineError::Crosses { at, top },
        LineError::OffCloth { .. } => LineError::OffCloth { at, top },
        LineError::OverFold { .. } => LineError::OverFold { at, top },
        LineError::TooTight { .. } => LineError::TooTight { at, top, radius_mm: 6.0, pleat_mm: 36.0 },
        LineError::Length { .. } =>
            LineError::Length { field: "guide_mm".into(), value_mm: 9000.0, least_mm: -5000.0, most_mm: 5000.0 },
        LineError::PleatCount { .. } => LineError::PleatCount { pleats: 0.0, fewest: 4, most: 400 },
    ));
    refusals(&[LineError::Open { gap_mm: 3.0, is_folded: false }]);
    let field = "pleats.depth_mm".into();
    refusals(&[LineError::Length { field, value_mm: f64::NAN, least_mm: 1.0, most_mm: 5000.0 }]);
}

fn contradictory(why: Clash) -> ProgressionError {
    let (what, other) = (Quantity::FirstGap, Quantity::Span);
    ProgressionError::Contradictory { what, value: 80.0, other, other_value: 60.0, why }
}

fn too_few(need: Need) -> ProgressionError {
    ProgressionError::TooFewKnowns { given: Given(vec![Quantity::Count, Quantity::FirstGap]), need }
}

fn progressions() -> Vec<ProgressionError> {
    use Need::{CountOrSpan, LengthOfOne, ThreeWithoutCount, TwoBesideCount, TwoForCloth, TwoForEven};
    let (ratio, exponent) = (Quantity::Ratio, Quantity::Exponent);
    let mut all = every!(ProgressionError:
        ProgressionError::NotFinite { .. } => ProgressionError::NotFinite { what: Quantity::LastGap, value: f64::NAN },
        ProgressionError::NotPositive { .. } => ProgressionError::NotPositive { what: Quantity::Gap, value: 0.0 },
        ProgressionError::TooFewKnowns { .. } => too_few(TwoForEven),
        ProgressionError::TooManyKnowns { .. } =>
            ProgressionError::TooManyKnowns { what: Quantity::LastGap, asked: 9.5, follows: 9.863 },
        ProgressionError::Contradictory { .. } => contradictory(Clash::FirstGapTooLong),
        ProgressionError::NeverReaches { .. } =>
            ProgressionError::NeverReaches { what: ratio, factor: 0.5, first_mm: 34.0, most_mm: 68.0, span_mm: 216.0 },
        ProgressionError::NegativeGap { .. } => ProgressionError::NegativeGap { number: 4, gap_mm: -3.2 },
        ProgressionError::FactorNotPositive { .. } => ProgressionError::FactorNotPositive { what: ratio, value: -0.85 },
        ProgressionError::FactorAbsurd { .. } =>
            ProgressionError::FactorAbsurd { what: ratio, value: 9.0, low: 0.2, high: 5.0 },
        ProgressionError::FactorOutOfRange { .. } =>
            ProgressionError::FactorOutOfRange { what: exponent, value: f64::INFINITY, low: 0.2, high: 5.0 },
        ProgressionError::CountOutOfRange { .. } => ProgressionError::CountOutOfRange { count: 1e12 },
        ProgressionError::PastCentre { .. } => ProgressionError::PastCentre { span_mm: 260.0, guide_mm: 230.0 },
        ProgressionError::NoRoom { .. } => ProgressionError::NoRoom { leave_mm: 400.0, room_mm: 230.0 },
        ProgressionError::NoCloth { .. } => ProgressionError::NoCloth { cloth_mm2: 40_000.0, wanted_mm2: 90_000.0 },
        ProgressionError::SeveralSolutions { .. } =>
            ProgressionError::SeveralSolutions { what: Quantity::Span, one: 120.0, other: 180.0 },
    );
    all.extend(Clash::ALL.map(contradictory));
    all.extend([CountOrSpan, TwoForEven, TwoForCloth, TwoBesideCount, ThreeWithoutCount, LengthOfOne].map(too_few));
    all.extend([
        ProgressionError::TooFewKnowns { given: Given(Vec::new()), need: TwoForEven },
        ProgressionError::NotFinite { what: exponent, value: f64::INFINITY },
        ProgressionError::FactorOutOfRange { what: ratio, value: 7.25, low: 0.2, high: 5.0 },
        ProgressionError::CountOutOfRange { count: f64::NAN },
        ProgressionError::NeverReaches { what: Quantity::Step, factor: -3.0, first_mm: 34.0, most_mm: 68.0, span_mm: 216.0 },
        ProgressionError::SeveralSolutions { what: Quantity::Count, one: 3.0, other: 4.0 },
    ]);
    all
}

#[test]
fn spacings() {
    let (inner, outer) = (BindId::Numbered(-3), BindId::Added(1));
    let of_side = |side| move |reason| SpacingError::Progression { side, reason };
    refusals(&every!(SpacingError:
        SpacingError::Progression { .. } => of_side(Side::Inward)(too_few(Need::CountOrSpan)),
        SpacingError::GuideRadius { .. } => SpacingError::GuideRadius { radius_mm: -30.0 },
        SpacingError::Farthest { .. } => SpacingError::Farthest { farthest_mm: 0.0 },
        SpacingError::EvenBands { .. } => SpacingError::EvenBands { field: "outward" },
        SpacingError::SmallestGap { .. } => SpacingError::SmallestGap { value_mm: 1e12 },
        SpacingError::TooSmallForMarks { .. } => SpacingError::TooSmallForMarks { inner, outer, gap_mm: 2.0, step_mm: 5.0 },
        SpacingError::NoRounding { .. } => SpacingError::NoRounding { bind: outer, step_mm: 5.0 },
        SpacingError::NoSuchBind { .. } => SpacingError::NoSuchBind { bind: BindId::Numbered(30), first: -8, last: 9 },
        SpacingError::GuideEdited => SpacingError::GuideEdited,
        SpacingError::EditedTwice { .. } => SpacingError::EditedTwice { bind: inner },
        SpacingError::EditValue { .. } => SpacingError::EditValue { bind: inner, value_mm: -20.0 },
        SpacingError::TooFar { .. } => SpacingError::TooFar { bind: outer, radius_mm: 1e9, by_hand: true },
        SpacingError::PassesNeighbour { .. } =>
            SpacingError::PassesNeighbour { inner, inner_mm: 140.0, outer: BindId::GUIDE, outer_mm: 139.9 },
        SpacingError::NotOutsideCentre { .. } => SpacingError::NotOutsideCentre { bind: inner, radius_mm: -4.0 },
    ));
    for side in [Side::Inward, Side::Outward] {
        refusals(&progressions().into_iter().map(of_side(side)).collect::<Vec<_>>());
    }
}

#[test]
fn typed_lengths() {
    let found = || "lb".to_owned();
    refusals(&every!(ParseLengthError:
        ParseLengthError::Empty => ParseLengthError::Empty,
        ParseLengthError::Unfinished { .. } => ParseLengthError::Unfinished { column: 6 },
        ParseLengthError::NotANumber { .. } => ParseLengthError::NotANumber { found: found(), column: 6 },
        ParseLengthError::UnknownUnit { .. } => ParseLengthError::UnknownUnit { found: found(), column: 6 },
        ParseLengthError::MissingUnit { .. } => ParseLengthError::MissingUnit { column: 6 },
        ParseLengthError::AmbiguousComma { .. } => ParseLengthError::AmbiguousComma { found: "1,234".to_owned(), column: 1 },
        ParseLengthError::ZeroDenominator { .. } => ParseLengthError::ZeroDenominator { found: "1/0".to_owned(), column: 1 },
        ParseLengthError::BadFraction { .. } => ParseLengthError::BadFraction { found: "1.5/2".to_owned(), column: 1 },
        ParseLengthError::TooLarge { .. } => ParseLengthError::TooLarge { column: 1 },
    ));
}

#[test]
fn blocks() {
    refusals(&every!(BlockError:
        BlockError::NoFlatBundle => BlockError::NoFlatBundle,
        BlockError::Length { .. } => BlockError::Length { key: "side_mm", value_mm: 2.0, least_mm: 5.0, most_mm: 2000.0 },
        BlockError::Angle { .. } => BlockError::Angle { value_deg: 400.0 },
        BlockError::Drawn(_) => BlockError::Drawn(OutlineError::Empty),
        BlockError::OffTheBundle => BlockError::OffTheBundle,
    ));
}

#[test]
fn wraps() {
    refusals(&every!(WrapError:
        WrapError::NoFlatBundle => WrapError::NoFlatBundle,
        WrapError::Length { .. } => WrapError::Length { key: "gap_mm", value_mm: 0.1, least_mm: 0.5, most_mm: 20_000.0 },
        WrapError::Backward { .. } => WrapError::Backward { from_mm: 480.0, to_mm: 40.0 },
        WrapError::OffTheBundle { .. } => WrapError::OffTheBundle { from_mm: 900.0, length_mm: 820.0 },
        WrapError::LessThanATurn { .. } => WrapError::LessThanATurn { gap_mm: 90.0, stretch_mm: 60.0 },
    ));
}

#[test]
fn dips() {
    refusals(&every!(DipError:
        DipError::NoFlatBundle => DipError::NoFlatBundle,
        DipError::NoSuchPart { .. } => DipError::NoSuchPart { part: DipPart::Corner(4), number: 4, most: 3 },
        DipError::Depth { .. } => DipError::Depth { value_mm: 200.0, least_mm: 1.0, most_mm: 95.0 },
    ));
}

#[test]
fn spirals() {
    let (at, top) = (Point::new(-40.0, 330.0), Top::ShoulderPoint);
    refusals(&every!(SpiralError:
        SpiralError::Length { .. } =>
            SpiralError::Length { field: "puck_diameter_mm".into(), value_mm: 900.0, least_mm: 20.0, most_mm: 512.0 },
        SpiralError::Turns { .. } => SpiralError::Turns { turns: 40.0, least: 0.25, most: 12.0 },
        SpiralError::Pleats { .. } => SpiralError::Pleats { pleats: 3 },
        SpiralError::Bands { .. } => SpiralError::Bands { bands: 30 },
        SpiralError::Direction { .. } => SpiralError::Direction { degrees: f64::NAN },
        SpiralError::OffCloth { .. } => SpiralError::OffCloth { at, top },
        SpiralError::TooTight { .. } => SpiralError::TooTight { height_mm: 9.0, packing: 1.78, least_mm: 12.1 },
    ));
}

#[test]
fn flat_bundles() {
    let (at, top) = (Point::new(-40.0, 330.0), Top::ShoulderPoint);
    refusals(&every!(FlatError:
        FlatError::Length { .. } =>
            FlatError::Length { field: "width_mm".into(), value_mm: -25.4, least_mm: 5.0, most_mm: 5000.0 },
        FlatError::Angle { .. } => FlatError::Angle { field: "angle_deg".into(), value_deg: f64::NAN },
        FlatError::HalfFolds { .. } => FlatError::HalfFolds { folds: 0, most: 7 },
        FlatError::Wedges { .. } => FlatError::Wedges { wedges: 7, most: 72 },
        FlatError::TooNarrow { .. } =>
            FlatError::TooNarrow { field: "height_mm".into(), width_mm: 12.0, thick_mm: 24.0 },
        FlatError::TooManyLayers { .. } => FlatError::TooManyLayers { layers: 4200, most: 1000 },
        FlatError::OffCloth { .. } => FlatError::OffCloth { field: "centre".into(), at, top },
        FlatError::Crosses { .. } => FlatError::Crosses { at, top, is_folded: true },
    ));
    refusals(&[FlatError::HalfFolds { folds: 9, most: 7 }, FlatError::Crosses { at, top, is_folded: false }]);
}
