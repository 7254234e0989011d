//! Garments and pucks that the tests twist.

use crate::common::curved_panel;
use kurbo::{BezPath, Circle, PathEl, Point, Shape as _};
use pleatwright::geometry::*;

/// Thickness of a layer, mm.
pub(crate) const LAYER_MM: f64 = 0.6;

/// A tee of two panels with every kind of segment.
pub(crate) fn tee() -> PanelSet {
    PanelSet { front: curved_panel(85.0), back: Some(curved_panel(25.0)), top: Top::ShoulderPoint }
}

/// One square of cloth, its upper edge at 0.
pub(crate) fn square(side_mm: f64) -> PanelSet {
    let mut profile = BezPath::new();
    profile.move_to((0.0, 0.0));
    for corner in [(0.5 * side_mm, 0.0), (0.5 * side_mm, side_mm), (0.0, side_mm)] {
        profile.line_to(corner);
    }
    PanelSet { front: PanelOutline::from_half_profile(&profile).unwrap(), back: None, top: Top::UpperEdge }
}

/// One disc of cloth, its top at 0: a circle of cubics within a thousandth of a millimetre.
pub(crate) fn disc(radius_mm: f64) -> PanelSet {
    let circle = Circle::new((0.0, radius_mm), radius_mm).to_path(1e-3);
    // From the top clockwise to the foot: what lies at x >= 0.
    let mut profile = BezPath::new();
    profile.move_to((0.0, 0.0));
    let arc = kurbo::Arc::new((0.0, radius_mm), (radius_mm, radius_mm), -0.5 * std::f64::consts::PI, std::f64::consts::PI, 0.0);
    for element in arc.append_iter(1e-3) {
        profile.push(element);
    }
    // The foot lies on the centre line but for rounding.
    if let Some(PathEl::CurveTo(_, _, foot)) = profile.elements_mut().last_mut() {
        *foot = Point::new(0.0, 2.0 * radius_mm);
    }
    let front = PanelOutline::from_half_profile(&profile).unwrap();
    assert!((front.whole().area_mm2() / circle.area() - 1.0).abs() < 1e-4);
    PanelSet { front, back: None, top: Top::UpperEdge }
}

pub(crate) fn at(x_mm: f64, y_mm: f64) -> Centre {
    Centre::BelowShoulder { from_centre_line_mm: x_mm, below_shoulder_mm: y_mm }
}

/// A tee's puck: 190 mm across and 32 mm high, twisted as far as the cloth allows.
pub(crate) fn spec() -> SpiralSpec {
    SpiralSpec {
        centring: Centring::Open,
        centre: at(0.0, 330.0),
        pinch_radius_mm: 12.0,
        turns: 2.0,
        twist: Twist::Clockwise,
        puck_diameter_mm: 190.0,
        puck_height_mm: Some(32.0),
        pleats: 8,
        seed: 5,
        bands: 3,
        first_band_deg: 0.0,
    }
}

pub(crate) fn fold(spec: &SpiralSpec, panels: PanelSet) -> SpiralFold {
    SpiralFold::new(Spiral::new(spec, &panels, LAYER_MM).unwrap(), panels)
}

/// The same with the most turns that there can be.
pub(crate) fn tightest(spec: &SpiralSpec, panels: PanelSet) -> SpiralFold {
    let most = Spiral::new(spec, &panels, LAYER_MM).unwrap().most_turns();
    fold(&SpiralSpec { turns: most, ..*spec }, panels)
}

/// A puck of every kind of garment, pinched in the middle and beside it, twisted either way, wholly and in part.
pub(crate) fn folds() -> Vec<(&'static str, SpiralFold)> {
    let of_square = SpiralSpec { centre: at(0.0, 300.0), puck_diameter_mm: 124.0, puck_height_mm: Some(26.0), ..spec() };
    let of_disc = SpiralSpec { centre: at(0.0, 300.0), puck_diameter_mm: 160.0, puck_height_mm: Some(30.0), ..spec() };
    let beside = SpiralSpec { centre: at(-90.0, 260.0), twist: Twist::Anticlockwise, turns: 1.2, seed: 11, pleats: 6, ..spec() };
    let nested = SpiralSpec {
        centring: Centring::Nested,
        centre: at(110.0, 300.0),
        turns: 1.0,
        puck_diameter_mm: 150.0,
        puck_height_mm: None,
        ..spec()
    };
    let on_fold =
        SpiralSpec { centring: Centring::PlainHalf, puck_diameter_mm: 150.0, puck_height_mm: None, turns: 1.5, ..spec() };
    vec![
        ("tee", tightest(&spec(), tee())),
        ("square", tightest(&of_square, square(600.0))),
        ("disc", tightest(&of_disc, disc(300.0))),
        ("beside the centre line, the other way", fold(&beside, tee())),
        ("nested", fold(&nested, tee())),
        ("on the fold", fold(&on_fold, tee())),
    ]
}

/// How many there are.
pub(crate) const FOLDS: usize = 6;

/// Uniform numbers from a seed (Steele, Lea, Flood 2014, their `SplitMix64`).
pub(crate) fn numbers(seed: u64) -> impl FnMut() -> f64 {
    let mut state = seed;
    move || {
        state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        #[expect(clippy::cast_precision_loss, reason = "53 bits")]
        let unit = ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64;
        unit
    }
}

/// A point of the cloth, drawn evenly from all of it.
pub(crate) fn random_cloth(fold: &SpiralFold, next: &mut impl FnMut() -> f64) -> ClothPoint {
    let panels = fold.lay().panels();
    loop {
        let panel = if panels.back.is_some() && next() < 0.5 { Panel::Back } else { Panel::Front };
        let bounds = panels.panel(panel).unwrap().whole().bounds();
        let point = ClothPoint { panel, x_mm: bounds.x0 + next() * bounds.width(), y_mm: bounds.y0 + next() * bounds.height() };
        if fold.has_cloth(point) {
            return point;
        }
    }
}

/// Where the plan carries a point, from the puck's middle, mm.
pub(crate) fn in_puck(fold: &SpiralFold, point: ClothPoint) -> Point {
    let (there, radius_mm) = (fold.to_bundle(point).unwrap(), fold.spiral().radius_mm());
    let rho_mm = (there.place + 0.5) * radius_mm / f64::from(fold.places());
    let psi_rad = there.along_mm / radius_mm;
    Point::new(rho_mm * psi_rad.sin(), -rho_mm * psi_rad.cos())
}
