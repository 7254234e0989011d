//! Garments and flat bundles that the tests fold.

use crate::common::curved_panel;
use kurbo::BezPath;
use pleatwright::geometry::*;

/// Thickness of a layer, mm.
pub(crate) const LAYER_MM: f64 = 0.6;

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

pub(crate) fn at(x_mm: f64, y_mm: f64) -> Centre {
    Centre::BelowShoulder { from_centre_line_mm: x_mm, below_shoulder_mm: y_mm }
}

pub(crate) fn spec(centring: Centring, pattern: FlatPattern, pack: Pack) -> FlatFoldSpec {
    FlatFoldSpec { centring, pattern, pack, along_turn_deg: 0.0, first_bind_mm: None }
}

pub(crate) fn fold(spec: &FlatFoldSpec, panels: PanelSet) -> FlatFold {
    FlatFold::new(spec, panels, LAYER_MM).unwrap()
}

pub(crate) fn stripes(width_mm: f64, angle_rad: f64) -> FlatPattern {
    FlatPattern::Stripes { width_mm, angle_deg: angle_rad.to_degrees(), start: None }
}

pub(crate) fn squares(width_mm: f64) -> FlatPattern {
    FlatPattern::Squares { width_mm, height_mm: width_mm, angle_deg: 0.0, start: None }
}

pub(crate) fn triangles(triangle: Triangle, width_mm: f64) -> FlatPattern {
    FlatPattern::Triangles { triangle, width_mm, angle_deg: 0.0, start: None }
}

/// Half, quarter and eighth of a square of cloth.
pub(crate) fn halves(side_mm: f64) -> FlatPattern {
    let middle = at(0.0, 0.5 * side_mm);
    let half_fold = |angle_deg: f64| HalfFold { through: middle, angle_deg };
    // Left over right, lower over upper, then the corner over along the diagonal: up and to the right.
    FlatPattern::Halves { half_folds: vec![half_fold(180.0), half_fold(90.0), half_fold(45.0)] }
}

/// Every pattern, folded and laid open, to and fro and rolled, along itself and at a slant.
pub(crate) fn folds() -> Vec<(&'static str, FlatFold)> {
    let (open, nested, zigzag, rolled) = (Centring::Open, Centring::Nested, Pack::Zigzag, Pack::Rolled);
    let slanted = |spec: FlatFoldSpec, turn_rad: f64| FlatFoldSpec { along_turn_deg: turn_rad.to_degrees(), ..spec };
    let wedges = |wedges: u32, centre: Centre, first: WedgesFirst| FlatPattern::Wedges { wedges, centre, first };
    let halved = |angle_rad: f64| WedgesFirst::HalfFold { angle_deg: angle_rad.to_degrees() };
    let started = FlatPattern::Triangles {
        triangle: Triangle::Equilateral,
        width_mm: 120.0,
        angle_deg: 17.0,
        start: Some(at(30.0, 260.0)),
    };
    vec![
        ("stripes laid open", fold(&spec(open, stripes(56.0, 0.61), zigzag), tee())),
        ("chevrons over the fold", fold(&spec(nested, stripes(48.0, 0.7), zigzag), tee())),
        ("stripes rolled, at a slant", fold(&slanted(spec(open, stripes(90.0, 0.0), rolled), 0.4), square(640.0))),
        ("squares", fold(&spec(open, squares(640.0 / 7.0), zigzag), square(640.0))),
        ("squares rolled, on the tee", fold(&spec(nested, squares(95.0), rolled), tee())),
        ("triangles", fold(&spec(open, triangles(Triangle::Equilateral, 106.67), zigzag), square(640.0))),
        (
            "triangles rolled, at a slant",
            fold(&slanted(spec(open, triangles(Triangle::Equilateral, 106.67), rolled), 0.2), square(640.0)),
        ),
        ("triangles from a corner", fold(&spec(open, started, zigzag), tee())),
        ("right triangles", fold(&spec(open, triangles(Triangle::Right, 80.0), zigzag), square(640.0))),
        ("eighths by halving", fold(&spec(open, halves(620.0), zigzag), square(620.0))),
        ("sixteen wedges", fold(&spec(open, wedges(16, at(0.0, 310.0), halved(0.0)), zigzag), square(620.0))),
        ("wedges on the fold", fold(&spec(nested, wedges(12, at(0.0, 300.0), WedgesFirst::OnTheFold), zigzag), tee())),
        ("wedges beside the fold, rolled", fold(&spec(nested, wedges(10, at(110.0, 350.0), halved(0.5)), rolled), tee())),
        (
            "one half fold",
            fold(
                &spec(
                    open,
                    FlatPattern::Halves { half_folds: vec![HalfFold { through: at(40.0, 300.0), angle_deg: 11.0 }] },
                    zigzag,
                ),
                tee(),
            ),
        ),
    ]
}

/// How many there are.
pub(crate) const FOLDS: usize = 14;
