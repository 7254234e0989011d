//! Garments of the maker's own outline: halves from drawings, areas against textbook figures, and a drawn tee against the drafted one.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use kurbo::{Affine, BezPath, Ellipse, Rect, Shape as _};
use pleatwright::geometry::{
    FlatKind, Garment, GarmentError, GarmentKind, HalfError, Measure, OwnOutline, Panel, PanelOutline, Panels, RawMeasures,
    SizeName, TakenAs, half_outline,
};
use pleatwright::layout::{Figures, FlatStart, FoldStart, GarmentSpec, Layout, SpiralStart, starter, starter_on};
use pleatwright::measure::RuleMarks;
use pleatwright::plan::{GradeRule, grade};
use pleatwright::store::{layout_text, parse_layout};
use std::f64::consts::PI;

fn tee() -> Garment {
    Garment::new(GarmentKind::CrewTee, Some(SizeName::M), &RawMeasures::default()).unwrap()
}

fn of_tee() -> OwnOutline {
    let draft = tee();
    let half = |panel| half_outline(draft.draft().panel(panel).whole().path()).unwrap().0;
    OwnOutline { front: half(Panel::Front), back: Some(half(Panel::Back)), panels: Panels::Two }
}

fn own(outline: OwnOutline) -> GarmentSpec {
    GarmentSpec { outline: Some(outline), ..GarmentSpec::of(GarmentKind::Own) }
}

fn area_mm2(half: &BezPath) -> f64 {
    PanelOutline::from_half_profile(half).unwrap().whole().area_mm2()
}

/// An ellipse, drawn anywhere: area pi a b (any handbook); its middle is found.
#[test]
fn an_ellipse_is_taken_as_the_whole() {
    let drawn = Ellipse::new((340.0, 210.0), (180.0, 250.0), 0.0).to_path(1e-4);
    let (half, taken) = half_outline(&drawn).unwrap();
    assert_eq!(taken, TakenAs::Whole);
    let true_mm2 = PI * 180.0 * 250.0;
    assert!((area_mm2(&half) - true_mm2).abs() < 1e-6 * true_mm2, "{} for {true_mm2}", area_mm2(&half));
    let garment = Garment::own(&OwnOutline { front: half, back: None, panels: Panels::One }, &RawMeasures::default()).unwrap();
    assert!((garment.value_mm(Measure::ClothWidth).unwrap() - 360.0).abs() < 1e-3);
    assert!((garment.value_mm(Measure::ClothHeight).unwrap() - 500.0).abs() < 1e-3);
    // Heights count from the uppermost cloth, wherever it was drawn.
    assert!(garment.draft().front.centre_line_mm().start.abs() < 1e-9);
}

/// A drawing that begins on its middle, in the single precision of files: both crossings used to be lost between its segments.
#[test]
fn an_outline_that_begins_on_its_middle_is_taken_whole() {
    for (off, lower_off) in [(0.0, 0.0), (3e-5, -3e-5), (-3e-5, 3e-5), (3e-5, 3e-5), (-3e-5, -3e-5)] {
        let mut drawn = BezPath::new();
        drawn.move_to((400.0 + off, 112.0));
        drawn.quad_to((340.0, 120.0), (310.0, 70.0));
        drawn.line_to((190.0, 680.0));
        drawn.quad_to((280.0, 740.0), (400.0 + lower_off, 740.0));
        drawn.quad_to((520.0, 740.0), (610.0, 680.0));
        drawn.line_to((490.0, 70.0));
        drawn.quad_to((460.0, 120.0), (400.0 + off, 112.0));
        drawn.close_path();
        let (half, taken) = half_outline(&drawn).unwrap();
        assert_eq!(taken, TakenAs::Whole);
        let true_mm2 = drawn.area().abs();
        assert!((area_mm2(&half) - true_mm2).abs() < 1e-6 * true_mm2, "{} for {true_mm2}", area_mm2(&half));
    }
}

/// A width that was measured stretches the outline: its area with it, exactly.
#[test]
fn a_measured_width_stretches_the_outline() {
    let outline = of_tee();
    let drawn = Garment::own(&outline, &RawMeasures::default()).unwrap();
    let wider = RawMeasures { cloth_width_mm: Some(1.1 * outline.size().width), ..RawMeasures::default() };
    let wider = Garment::own(&outline, &wider).unwrap();
    for panel in Panel::BOTH {
        let [before, after] = [&drawn, &wider].map(|garment| garment.draft().panel(panel).whole().area_mm2());
        assert!((after - 1.1 * before).abs() < 1e-9 * before, "{after} for {before}");
    }
}

/// The whole, the left half and the right half of a tee, turned this way and that, are one tee.
#[test]
fn halves_and_whole_are_one_garment() {
    let garment = tee();
    let front = &garment.draft().front;
    let moved = Affine::translate((812.0, -45.0));
    let drawings = [
        (front.whole().path().clone(), TakenAs::Whole),
        (front.whole().path().reverse_subpaths(), TakenAs::Whole),
        (front.half().path().clone(), TakenAs::LeftFold),
        (Affine::FLIP_X * front.half().path().clone(), TakenAs::RightFold),
        (front.profile().clone(), TakenAs::LeftFold),
        (Affine::FLIP_X * front.profile().reverse_subpaths(), TakenAs::RightFold),
    ];
    for (drawn, as_what) in drawings {
        let (half, taken) = half_outline(&(moved * drawn)).unwrap();
        assert_eq!(taken, as_what);
        let ends = [half.segments().next().unwrap().to_cubic().p0, half.segments().last().unwrap().to_cubic().p3];
        assert!(ends.iter().all(|end| end.x == 0.0) && ends[0].y < ends[1].y, "{ends:?}");
        let true_mm2 = front.whole().area_mm2();
        assert!((area_mm2(&half) - true_mm2).abs() < 1e-6 * true_mm2, "{} for {true_mm2}, {as_what:?}", area_mm2(&half));
    }
}

/// A burst on the drawn tee is the burst on the drafted one: every section as large, every bind as long.
#[test]
fn a_burst_on_a_drawn_tee_is_that_on_the_drafted_one() {
    let drafted = starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()).and_then(Layout::try_from).unwrap();
    let mut raw = drafted.raw().clone();
    raw.garment = own(of_tee());
    let drawn = Layout::try_from(raw).unwrap();
    let [one, other] = [&drafted, &drawn].map(Figures::of);
    assert_eq!(one.sections.len(), other.sections.len());
    for (one, other) in one.sections.iter().zip(&other.sections) {
        assert!((one.mass_g - other.mass_g).abs() < 1e-4 * one.mass_g.max(0.1), "{} for {}", other.mass_g, one.mass_g);
    }
    assert!((one.garment.cloth.mass_g - other.garment.cloth.mass_g).abs() < 1e-4 * one.garment.cloth.mass_g);
}

/// Every fold begins on it, and its file gives it back.
#[test]
fn it_is_folded_and_kept_as_any_garment() {
    for start in [FoldStart::Burst, FoldStart::Line(pleatwright::geometry::LineShape::Heart)] {
        let spec = starter_on(start, &own(of_tee()), RuleMarks::default()).unwrap();
        let layout = Layout::try_from(spec).unwrap();
        let text = layout_text(layout.raw());
        assert!(text.contains("kind: Own") && text.contains("format: 2"), "{text}");
        assert_eq!(parse_layout(&text).unwrap().raw(), layout.raw());
    }
}

#[test]
fn what_is_no_outline_is_refused_with_what_would_be_right() {
    let mut elbow = BezPath::new();
    elbow.move_to((0.0, 0.0));
    for p in [(300.0, 60.0), (300.0, 100.0), (120.0, 90.0), (110.0, 400.0), (20.0, 420.0)] {
        elbow.line_to(p);
    }
    elbow.close_path();
    assert!(matches!(half_outline(&elbow), Err(HalfError::Unlike { by_mm }) if by_mm > 50.0));
    let mut open = BezPath::new();
    open.move_to((0.0, 0.0));
    open.line_to((200.0, 100.0));
    assert_eq!(half_outline(&open), Err(HalfError::Open { apart_mm: 200.0 }));
    assert_eq!(half_outline(&BezPath::new()), Err(HalfError::Nothing));
    let mut far = BezPath::new();
    far.move_to((0.0, 0.0));
    far.line_to((f64::INFINITY, 1.0));
    assert_eq!(half_outline(&far), Err(HalfError::Nothing));
    // Where cloth parts on the middle, as between two straps joined by nothing, there is no one top.
    let mut eight = BezPath::new();
    eight.move_to((0.0, 0.0));
    eight.curve_to((400.0, 300.0), (-100.0, 300.0), (0.0, 600.0));
    let outline = OwnOutline { front: eight, back: None, panels: Panels::Two };
    assert!(matches!(Garment::own(&outline, &RawMeasures::default()), Err(GarmentError::OutlineCrosses { .. })));
    let small = Rect::new(0.0, 0.0, 20.0, 30.0).to_path(0.1);
    let small = OwnOutline { front: half_outline(&small).unwrap().0, back: None, panels: Panels::One };
    let refused = Garment::own(&small, &RawMeasures::default()).unwrap_err();
    assert_eq!(refused.field().to_string(), "measures.cloth_width_mm");
}

/// It has no sizes: an order's row that asks for one is told so.
#[test]
fn no_other_size_is_made_of_it() {
    let spec = starter_on(FoldStart::Burst, &own(of_tee()), RuleMarks::default()).unwrap();
    let layout = Layout::try_from(spec).unwrap();
    let refused = grade(&layout, SizeName::L, GradeRule::Scaled).unwrap_err().to_string();
    let words =
        "a garment of your own outline has no sizes, so no \"L\"; leave the size out; for another size give its layout another";
    assert!(refused.contains(words), "{refused}");
}

/// The back's top lies at the front's, wherever it was drawn; a single layer has no other back.
#[test]
fn a_back_of_its_own_is_laid_at_the_fronts_top() {
    let OwnOutline { front, back, .. } = of_tee();
    let lowered = Affine::translate((0.0, 310.0)) * back.clone().unwrap();
    let outline = OwnOutline::alike(front, Panels::Two).with_back(lowered);
    let [high, low] = [&outline.front, outline.panel(Panel::Back)].map(|half| half.bounding_box().y0);
    assert!((high - low).abs() < 1e-9, "{high} {low}");
    assert!((area_mm2(outline.panel(Panel::Back)) - area_mm2(&back.unwrap())).abs() < 1e-6);
    assert_eq!(outline.in_layers(Panels::One).back, None);
}

/// Each refusal of a file names its field.
#[test]
fn files_say_which_field_is_wrong() {
    let spec = starter_on(FoldStart::Burst, &own(of_tee()), RuleMarks::default()).unwrap();
    let refused = |change: &dyn Fn(&mut GarmentSpec)| {
        let mut spec = spec.clone();
        change(&mut spec.garment);
        Layout::try_from(spec).unwrap_err().to_string()
    };
    let without = refused(&|garment| garment.outline = None);
    assert!(without.starts_with("garment.outline: missing"), "{without}");
    let other = refused(&|garment| garment.kind = GarmentKind::FlatCloth);
    assert!(other.starts_with("garment.outline: a flat cloth is drafted"), "{other}");
    let sized = refused(&|garment| garment.size = Some("M".to_owned()));
    assert!(sized.contains("leave the size out"), "{sized}");
    let chest = refused(&|garment| garment.measures.half_chest_mm = Some(500.0));
    assert!(chest.starts_with("garment.measures.half_chest_mm: not a measurement of a garment of your own outline"), "{chest}");
    let outline = |front: BezPath| OwnOutline { front, back: None, panels: Panels::Two };
    let crossing = refused(&|garment| {
        let mut front = BezPath::new();
        front.move_to((0.0, 0.0));
        for p in [(300.0, 500.0), (300.0, 0.0), (0.0, 500.0)] {
            front.line_to(p);
        }
        garment.outline = Some(outline(front));
    });
    assert!(crossing.starts_with("garment.outline: the front outline crosses itself"), "{crossing}");
}

/// Between two legs there is no cloth in the middle: every fold begins on what lies above.
#[test]
fn trousers_are_begun_above_the_fork() {
    let mut half = BezPath::new();
    half.move_to((0.0, 0.0));
    for corner in [(220.0, 0.0), (250.0, 990.0), (60.0, 990.0), (20.0, 330.0), (0.0, 330.0)] {
        half.line_to(corner);
    }
    let trousers = OwnOutline { front: half, back: None, panels: Panels::Two };
    let flat = FlatKind::ALL.map(|kind| FoldStart::Flat(FlatStart::of(kind)));
    let others = [FoldStart::Burst, FoldStart::Spiral(SpiralStart::default())];
    for start in others.into_iter().chain(flat) {
        let words = format!("{start:?}");
        let spec =
            starter_on(start, &own(trousers.clone()), RuleMarks::Millimetres1).unwrap_or_else(|error| panic!("{words}: {error}"));
        let layout = Layout::try_from(spec).unwrap_or_else(|error| panic!("{words}: {error}"));
        if let Some(centre) = layout.middle() {
            assert!((80.0..=250.0).contains(&centre.y), "{words}: {centre}");
        }
    }
}
