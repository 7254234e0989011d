//! Garments and lines that the tests fold.

use crate::common::{curved_panel, polygon};
use kurbo::{BezPath, Point};
use pleatwright::geometry::*;

/// A tee of two panels with every kind of segment.
pub(crate) fn tee() -> PanelSet {
    PanelSet { front: curved_panel(85.0), back: Some(curved_panel(25.0)), top: Top::ShoulderPoint }
}

/// One square of cloth, centred on the centre line, its upper edge at 0.
pub(crate) fn square(side_mm: f64) -> PanelSet {
    let mut profile = BezPath::new();
    profile.move_to((0.0, 0.0));
    for corner in [(0.5 * side_mm, 0.0), (0.5 * side_mm, side_mm), (0.0, side_mm)] {
        profile.line_to(corner);
    }
    PanelSet { front: PanelOutline::from_half_profile(&profile).unwrap(), back: None, top: Top::UpperEdge }
}

/// Half a heart, from the fold to the fold, of the trial's own drawing.
pub(crate) fn half_heart() -> BezPath {
    let mut path = BezPath::new();
    path.move_to((0.0, 255.0));
    path.curve_to((20.0, 175.0), (155.0, 165.0), (160.0, 270.0));
    path.curve_to((163.0, 350.0), (60.0, 410.0), (0.0, 505.0));
    path
}

/// A star about a centre: radii of its points and of the corners between them.
pub(crate) fn star(centre: Point, points: u32, outer_mm: f64, inner_mm: f64) -> BezPath {
    let corner = |k: u32| {
        let radius_mm = if k.is_multiple_of(2) { outer_mm } else { inner_mm };
        let at = centre
            + radius_mm
                * kurbo::Vec2::from_angle(f64::from(k) * std::f64::consts::PI / f64::from(points) - std::f64::consts::FRAC_PI_2);
        (at.x, at.y)
    };
    polygon(&(0..2 * points).map(corner).collect::<Vec<_>>())
}

pub(crate) fn path(from: (f64, f64), curves: &[[(f64, f64); 3]]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    for &[a, b, to] in curves {
        path.curve_to(a, b, to);
    }
    path
}

/// An ellipse as cubics, within a millionth of a millimetre.
pub(crate) fn ellipse(centre: Point, a: f64, b: f64) -> BezPath {
    kurbo::Shape::to_path(&kurbo::Ellipse::new(centre, (a, b), 0.0), 1e-6)
}

pub(crate) fn spec(centring: Centring, kind: LineKind, path: BezPath) -> LineSpec {
    LineSpec { centring, kind, path, guide_mm: 60.0, further_mm: vec![], pleats: Pleats::Depth { depth_mm: 36.0 } }
}

/// Every kind of line, folded and laid open.
pub(crate) fn folds() -> Vec<(&'static str, LineFold)> {
    let fold = |spec: LineSpec, panels| LineFold::new(&spec, panels).unwrap();
    let wave = path(
        (-250.0, 420.0),
        &[[(-170.0, 260.0), (-70.0, 260.0), (10.0, 400.0)], [(70.0, 505.0), (190.0, 505.0), (240.0, 380.0)]],
    );
    let half_wave = path((0.0, 420.0), &[[(70.0, 420.0), (100.0, 300.0), (240.0, 380.0)]]);
    let initial = path(
        (70.0, 215.0),
        &[
            [(40.0, 165.0), (-75.0, 170.0), (-75.0, 240.0)],
            [(-75.0, 320.0), (85.0, 290.0), (85.0, 380.0)],
            [(85.0, 455.0), (-45.0, 460.0), (-80.0, 405.0)],
        ],
    );
    let mut vee = BezPath::new();
    vee.move_to((0.0, 400.0));
    vee.line_to((120.0, 250.0));
    let mut ell = BezPath::new();
    ell.move_to((-80.0, 200.0));
    ell.line_to((-80.0, 440.0));
    ell.line_to((60.0, 440.0));
    let mut point = BezPath::new();
    point.move_to((0.0, 300.0));
    vec![
        ("heart on the fold", fold(spec(Centring::Nested, LineKind::Ring, half_heart()), tee())),
        (
            "ellipse beside the fold",
            fold(spec(Centring::PlainHalf, LineKind::Ring, ellipse(Point::new(125.0, 420.0), 70.0, 95.0)), tee()),
        ),
        (
            "star laid open",
            fold(spec(Centring::Open, LineKind::Ring, star(Point::new(0.0, 320.0), 5, 190.0, 95.0)), square(640.0)),
        ),
        ("wave laid open", fold(spec(Centring::Open, LineKind::Across, wave), tee())),
        ("wave from the fold", fold(spec(Centring::Nested, LineKind::Across, half_wave), tee())),
        ("initial laid open", fold(spec(Centring::Open, LineKind::Stroke, initial), tee())),
        ("vee from the fold", fold(spec(Centring::Nested, LineKind::Stroke, vee), tee())),
        ("ell laid open", fold(spec(Centring::Open, LineKind::Stroke, ell), tee())),
        ("point on the fold", fold(LineSpec { guide_mm: 235.0, ..spec(Centring::Nested, LineKind::Point, point) }, tee())),
    ]
}
