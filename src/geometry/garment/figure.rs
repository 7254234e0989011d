//! Where each measurement is taken on the draft, for a labelled figure.

use kurbo::Point;

use super::draft::{hood_points, leg_opening_ends, tank_points, top_points};
use super::measure::Measure as M;
use super::{GarmentKind, Measure, Measurements};

/// The two points between which a measurement is taken, in the garment's frame; `None` if the kind does not have it.
///
/// The points' distance is the measurement. Widths run from the wearer's right to their left, heights downward, all others from
/// the body outward. The front is meant, except for the back neck drop, across back and the hood.
///
/// `values` are those of a checked [`super::Garment`] of that kind.
pub fn figure_line(kind: GarmentKind, values: &Measurements, measure: Measure) -> Option<[Point; 2]> {
    let value_mm = values.value(measure)?;
    let hps = Point::new(values.of(M::NeckWidth) / 2.0, 0.0);
    let line = match measure {
        M::HalfChest => across(value_mm, values.of(M::ArmholeDepth)),
        M::Length => {
            [hps, Point::new(hps.x, value_mm)].map(|p| if kind == GarmentKind::InfantBodysuit { on_centre(p) } else { p })
        }
        M::ShoulderToShoulder => across(value_mm, values.of(M::ShoulderDrop)),
        M::NeckWidth => across(value_mm, 0.0),
        M::FrontNeckDrop | M::BackNeckDrop => down(0.0, value_mm),
        M::ShoulderDrop => down(shoulder(kind, values).x, value_mm),
        M::StrapWidth => [hps, shoulder(kind, values)],
        M::ArmholeDepth => down(values.of(M::HalfChest) / 2.0, value_mm),
        M::AcrossFront | M::AcrossBack => across(value_mm, tank_points(values).across_y_mm),
        M::SleeveLength => [top_points(values).shoulder, top_points(values).cuff_top],
        M::SleeveOpening => [top_points(values).cuff_top, top_points(values).cuff_foot],
        M::SleeveFall => {
            let cuff = top_points(values).cuff_top;
            [Point::new(cuff.x, cuff.y - value_mm), cuff]
        }
        M::WaistWidth => across(value_mm, values.of(M::WaistDepth)),
        M::WaistDepth => down(values.of(M::WaistWidth) / 2.0, value_mm),
        M::HemWidth => across(value_mm, values.of(M::Length) - values.value(M::HemRise).unwrap_or(0.0)),
        M::HemRise => {
            let x_mm = values.of(M::HemWidth) / 2.0;
            [Point::new(x_mm, values.of(M::Length) - value_mm), Point::new(x_mm, values.of(M::Length))]
        }
        M::HipWidth => across(value_mm, leg_opening_ends(values)[0].y),
        M::CrotchWidth => across(value_mm, values.of(M::Length)),
        M::LegOpening => leg_opening_ends(values),
        _ => return hood_bag_or_cloth(values, measure, value_mm),
    };
    Some(line)
}

fn hood_bag_or_cloth(values: &Measurements, measure: Measure, value_mm: f64) -> Option<[Point; 2]> {
    let line = match measure {
        M::HoodHeight => {
            let top = hood_points(values).crown;
            [top, Point::new(top.x, 0.0)]
        }
        M::HoodDepth => {
            let face = hood_points(values).face_foot;
            [Point::new(0.0, face.y), face]
        }
        M::BagWidth => across(value_mm, values.of(M::BagHeight)),
        M::ClothWidth => across(value_mm, 0.0),
        M::BagHeight => down(values.of(M::BagWidth) / 2.0, value_mm),
        M::ClothHeight => down(values.of(M::ClothWidth) / 2.0, value_mm),
        M::HandleDrop => [Point::new(0.0, -value_mm), Point::ORIGIN],
        M::HandleWidth => {
            let foot_mm = values.of(M::HandleSpacing) / 2.0;
            [Point::new(foot_mm, 0.0), Point::new(foot_mm + value_mm, 0.0)]
        }
        M::HandleSpacing => across(value_mm, 0.0),
        _ => return None,
    };
    Some(line)
}

fn shoulder(kind: GarmentKind, values: &Measurements) -> Point {
    if kind == GarmentKind::Tank { tank_points(values).shoulder } else { top_points(values).shoulder }
}

/// A line across the whole garment.
const fn across(width_mm: f64, y_mm: f64) -> [Point; 2] {
    [Point::new(-width_mm / 2.0, y_mm), Point::new(width_mm / 2.0, y_mm)]
}

/// A line down from the level of the high point of the shoulder.
const fn down(x_mm: f64, depth_mm: f64) -> [Point; 2] {
    [Point::new(x_mm, 0.0), Point::new(x_mm, depth_mm)]
}

const fn on_centre(p: Point) -> Point {
    Point::new(0.0, p.y)
}
