//! What can't be twisted is refused, by its field and with what would be right.

use crate::bodies::{LAYER_MM, at, spec, tee};
use pleatwright::geometry::*;

fn refusal(change: impl FnOnce(&mut SpiralSpec)) -> SpiralError {
    let mut spec = spec();
    change(&mut spec);
    Spiral::new(&spec, &tee(), LAYER_MM).unwrap_err()
}

/// What sets a field of a spiral to a length.
type Set = fn(&mut SpiralSpec, f64);

#[test]
fn lengths() {
    let fields: [(&str, Set); 4] = [
        ("puck_diameter_mm", |spec, value_mm| spec.puck_diameter_mm = value_mm),
        ("puck_height_mm", |spec, value_mm| spec.puck_height_mm = Some(value_mm)),
        ("pinch_radius_mm", |spec, value_mm| spec.pinch_radius_mm = value_mm),
        ("centre.from_centre_line_mm", |spec, value_mm| spec.centre = at(value_mm, 300.0)),
    ];
    for (field, set) in fields {
        for value_mm in [-1e9, f64::NAN, f64::INFINITY, 1e9] {
            let error = refusal(|spec| set(spec, value_mm));
            assert!(matches!(error, SpiralError::Length { .. }) && error.to_string().starts_with(field), "{error}");
        }
    }
    for (_, set) in &fields[..3] {
        assert!(matches!(refusal(|spec| set(spec, 0.0)), SpiralError::Length { .. }));
    }
    // A disc of as much cloth as a layer has is 0.9 of it wide.
    let area_mm2: f64 = tee().iter().map(|(_, panel)| panel.whole().area_mm2()).sum();
    let most_mm = 0.9 * 2.0 * (0.5 * area_mm2 / std::f64::consts::PI).sqrt();
    let SpiralError::Length { most_mm: told_mm, .. } = refusal(|spec| spec.puck_diameter_mm = most_mm + 1.0) else { panic!() };
    assert!((told_mm - most_mm).abs() < 1e-6, "{told_mm} of {most_mm}");
}

#[test]
fn turns_and_pleats() {
    for turns in [0.0, -2.0, 13.0, f64::NAN] {
        let error = refusal(|spec| spec.turns = turns);
        assert!(matches!(error, SpiralError::Turns { .. }) && error.to_string().starts_with("turns: "), "{error}");
    }
    for pleats in [0, 5, 11] {
        assert_eq!(refusal(|spec| spec.pleats = pleats), SpiralError::Pleats { pleats });
    }
    assert_eq!(refusal(|spec| spec.pleats = 3).to_string(), "pleats: 3 pleats can't be pinched; give 6 to 10");
}

#[test]
fn a_pinch_off_the_cloth() {
    assert!(matches!(refusal(|spec| spec.centre = at(0.0, 900.0)), SpiralError::OffCloth { .. }));
    assert!(matches!(refusal(|spec| spec.centre = at(380.0, 600.0)), SpiralError::OffCloth { .. }));
}

/// A tee can't be pressed into a puck of 120 mm that is 20 mm high; in the least height that is told it just can.
#[test]
fn a_puck_without_room() {
    let change = |spec: &mut SpiralSpec| (spec.puck_diameter_mm, spec.puck_height_mm) = (120.0, Some(20.0));
    let error = refusal(change);
    let SpiralError::TooTight { least_mm, packing, .. } = error else { panic!("{error}") };
    assert!(packing > 1.33 && (packing * 20.0 / 1.33 - least_mm).abs() < 1e-9, "{error}");
    let mut spec = spec();
    change(&mut spec);
    spec.puck_height_mm = Some(least_mm + 1e-6);
    assert!(Spiral::new(&spec, &tee(), LAYER_MM).is_ok());
    // Worked out, it would be too high for any.
    let error = refusal(|spec| (spec.puck_diameter_mm, spec.puck_height_mm) = (30.0, None));
    let SpiralError::Length { least_mm, .. } = error else { panic!("{error}") };
    spec.puck_diameter_mm = least_mm + 0.1;
    spec.puck_height_mm = None;
    spec.turns = 2.0;
    assert!(Spiral::new(&spec, &tee(), LAYER_MM).is_ok());
}
