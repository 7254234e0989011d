//! What can't be folded flat is refused, by its field and with what would be right.

use crate::bodies::{LAYER_MM, at, spec, square, squares, stripes, tee, triangles};
use pleatwright::geometry::*;

fn refusal(centring: Centring, pattern: FlatPattern, panels: PanelSet) -> FlatError {
    FlatFold::new(&spec(centring, pattern, Pack::Zigzag), panels, LAYER_MM).unwrap_err()
}

#[test]
fn what_is_no_length_or_angle() {
    for width_mm in [0.0, -40.0, f64::NAN, f64::INFINITY, 1e9] {
        let error = refusal(Centring::Open, stripes(width_mm, 0.0), tee());
        assert!(matches!(error, FlatError::Length { .. }), "{error:?}");
        assert!(error.to_string().starts_with("width_mm: "), "{error}");
    }
    assert!(matches!(refusal(Centring::Open, stripes(40.0, f64::NAN), tee()), FlatError::Angle { .. }));
    let slanted = FlatFoldSpec { along_turn_deg: f64::INFINITY, ..spec(Centring::Open, stripes(40.0, 0.0), Pack::Zigzag) };
    assert!(FlatFold::new(&slanted, tee(), LAYER_MM).unwrap_err().to_string().starts_with("along_turn_deg: "));
}

/// A strip of a tee in four layers, folded into squares of 12 mm: the strip is thicker than that.
#[test]
fn what_is_narrower_than_its_cloth_is_thick() {
    let pattern = FlatPattern::Squares { width_mm: 40.0, height_mm: 12.0, angle_deg: 0.0, start: None };
    let error = refusal(Centring::Nested, pattern, tee());
    let FlatError::TooNarrow { width_mm, thick_mm, .. } = error else { panic!("{error:?}") };
    assert_eq!(width_mm, 12.0);
    // Half a tee of 400 mm in stripes of 40: ten of four layers.
    assert!((thick_mm - 10.0 * 4.0 * LAYER_MM).abs() < 1e-9, "{thick_mm}");
    assert_eq!(
        error.to_string(),
        "height_mm: 12 mm is narrower than the cloth that is folded so, which is 24 mm thick; make it wider, or fold fewer layers before"
    );
}

#[test]
fn more_layers_than_can_be_held() {
    for pattern in [squares(20.0), triangles(Triangle::Equilateral, 20.0), triangles(Triangle::Right, 20.0)] {
        let error = refusal(Centring::Open, pattern, square(640.0));
        assert!(matches!(error, FlatError::TooManyLayers { .. }), "{error:?}");
    }
    let half_folds = (0..9).map(|_| HalfFold { through: at(0.0, 300.0), angle_deg: 0.0 }).collect();
    assert!(matches!(refusal(Centring::Open, FlatPattern::Halves { half_folds }, tee()), FlatError::HalfFolds { folds: 9, .. }));
}

#[test]
fn centres_and_creases_off_the_cloth() {
    let wedges = |centre: Centre, first: WedgesFirst| FlatPattern::Wedges { wedges: 8, centre, first };
    let halved = WedgesFirst::HalfFold { angle_deg: 0.0 };
    assert!(matches!(refusal(Centring::Open, wedges(at(0.0, 900.0), halved), tee()), FlatError::OffCloth { .. }));
    // A corner of the cloth is on it.
    assert!(FlatFold::new(&spec(Centring::Open, wedges(at(-320.0, 0.0), halved), Pack::Zigzag), square(640.0), LAYER_MM).is_ok());
    let half_folds =
        vec![HalfFold { through: at(0.0, 300.0), angle_deg: 0.0 }, HalfFold { through: at(300.0, 0.0), angle_deg: 0.0 }];
    let error = refusal(Centring::Open, FlatPattern::Halves { half_folds }, square(640.0));
    assert!(matches!(error, FlatError::OffCloth { .. }), "{error:?}");
}

/// Wedges go round half a turn: beside the garment's fold, or laid open, they need a half fold first.
#[test]
fn wedges_whose_creases_would_cross() {
    let wedges = |centre: Centre| FlatPattern::Wedges { wedges: 8, centre, first: WedgesFirst::OnTheFold };
    let told = |centring: Centring, x_mm: f64| refusal(centring, wedges(at(x_mm, 300.0)), tee()).to_string();
    assert!(told(Centring::Nested, 60.0).contains("put the centre onto the fold"), "{}", told(Centring::Nested, 60.0));
    assert!(told(Centring::Open, 0.0).contains("fold the cloth in half through the centre first"));
    for wedges in [0, 1, 7, 300] {
        let pattern = FlatPattern::Wedges { wedges, centre: at(0.0, 300.0), first: WedgesFirst::OnTheFold };
        assert!(matches!(refusal(Centring::Nested, pattern, tee()), FlatError::Wedges { .. }));
    }
}
