//! A layout that is heavier than any hand draws: what is timed of lines is timed on it.

#![allow(clippy::unwrap_used, reason = "a bench that fails should stop")]

use kurbo::{BezPath, Point, Vec2};
use pleatwright::geometry::{Centring, DrawnLine, LineKind, Progression, Span};
use pleatwright::layout::Layout;
use pleatwright::store::{EXAMPLE_LAYOUTS, parse_layout};

/// So many binds to a side, evenly.
pub(crate) fn even(count: u32, leave_mm: f64) -> Progression {
    Progression::Even { count: Some(count), gap_mm: None, span: Some(Span::ToEnd { leave_mm }) }
}

/// Points of the line.
const POINTS: u32 = 60;

/// The heart tee laid open, its line a ring of sixty points, wavier than anyone would draw, with thirty binds.
pub(crate) fn sixty_points() -> Layout {
    let heart = EXAMPLE_LAYOUTS.iter().find(|example| example.short_name().ends_with("heart-tee-m")).unwrap();
    let mut raw = parse_layout(heart.text).unwrap().raw().clone();
    let point = |k: u32| {
        let around = f64::from(k % POINTS) * std::f64::consts::TAU / f64::from(POINTS);
        let radius_mm = 130.0 + 22.0 * (5.0 * around).cos() + 7.0 * (11.0 * around).sin();
        Point::new(0.0, 330.0) + radius_mm * Vec2::from_angle(around - std::f64::consts::FRAC_PI_2)
    };
    let mut path = BezPath::new();
    path.move_to(point(0));
    for k in 0..POINTS {
        let handle = |k: u32| (point(k + 1) - point(k + POINTS - 1)) / 6.0;
        path.curve_to(point(k) + handle(k), point(k + 1) - handle(k + 1), point(k + 1));
    }
    path.close_path();
    let line = raw.fold.line_mut().unwrap();
    (line.centring, line.line, line.guide_mm) = (Centring::Open, DrawnLine::Path { kind: LineKind::Ring, path }, 60.0);
    (raw.binds.inward, raw.binds.outward) = (even(12, 20.0), even(17, 20.0));
    let layout = Layout::try_from(raw).unwrap();
    assert_eq!(layout.binds().binds.len(), 30);
    layout
}
