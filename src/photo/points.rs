//! Points of a garment that can be found in a photograph, by name.

use super::marks::FEWEST_POINTS;
use super::{Marks, MarksError, MarksProblem};
use crate::geometry::{Garment, GarmentKind, Measure, Panel};
use crate::layout::Layout;
use crate::projection::Pair;
use crate::telling::Field;
use kurbo::{Point, Shape as _, Vec2};

/// A point of the garment with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPoint {
    /// Its name, left and right as they are seen: `neck left`.
    pub name: String,
    /// Where it is, mm, as the side is seen: x to the right of the centre line, y below the shoulder point.
    pub at: Point,
}

/// Where a measurement's ends lie, and what they are called.
const ENDS: [(Measure, [&str; 2]); 8] = [
    (Measure::NeckWidth, ["neck", "neck"]),
    (Measure::HemWidth, ["hem", "hem"]),
    (Measure::CrotchWidth, ["crotch", "crotch"]),
    (Measure::HipWidth, ["hip", "hip"]),
    (Measure::HalfChest, ["armpit", "armpit"]),
    (Measure::ShoulderToShoulder, ["shoulder", "shoulder"]),
    (Measure::StrapWidth, ["", "shoulder"]),
    (Measure::SleeveOpening, ["cuff top", "cuff foot"]),
];

/// The points of a side that can be marked, those that serve best first.
#[must_use]
pub fn named_points(layout: &Layout, side: Panel) -> Vec<NamedPoint> {
    let garment = layout.garment();
    let mut points: Vec<(String, Point)> = Vec::new();
    let mut add = |name: &str, at: Point| {
        for (side, x) in [("left", -at.x.abs()), ("right", at.x.abs())] {
            let name = format!("{name} {side}");
            if points.iter().all(|(known, _)| *known != name) {
                points.push((name, Point::new(x, at.y)));
            }
        }
    };
    for (measure, names) in ENDS {
        let ends = garment.figure_line(measure).into_iter().flatten().zip(names);
        ends.filter(|(_, name)| !name.is_empty()).for_each(|(at, name)| add(name, at));
    }
    corners(layout, garment, side).into_iter().for_each(|(name, at)| add(name, at));
    // Seen from behind, the wearer's left lies left; a garment's halves are alike.
    points.into_iter().map(|(name, at)| NamedPoint { name, at }).collect()
}

/// The corners of what has neither neck nor hem.
fn corners(layout: &Layout, garment: &Garment, side: Panel) -> Vec<(&'static str, Point)> {
    let Some(panel) = layout.panels().panel(side) else { return Vec::new() };
    match garment.kind() {
        GarmentKind::ToteBag | GarmentKind::FlatCloth => {
            let measured = |measure| garment.value_mm(measure).unwrap_or_default();
            let (width, height) = match garment.kind() {
                GarmentKind::ToteBag => (measured(Measure::BagWidth), measured(Measure::BagHeight)),
                _ => (measured(Measure::ClothWidth), measured(Measure::ClothHeight)),
            };
            vec![("top", Point::new(0.5 * width, 0.0)), ("bottom", Point::new(0.5 * width, height))]
        }
        GarmentKind::Own => {
            // Where the outline lies farthest out to the side and up, and to the side and down.
            let corner = |way: Vec2| {
                let ends = panel.profile().path_segments(0.1).map(|segment| segment.to_cubic().p3);
                ends.max_by(|a, b| a.to_vec2().dot(way).total_cmp(&b.to_vec2().dot(way)))
            };
            let named = [("top", Vec2::new(1.0, -1.0)), ("bottom", Vec2::new(1.0, 1.0))];
            named.into_iter().filter_map(|(name, way)| Some((name, corner(way)?))).collect()
        }
        _ => Vec::new(),
    }
}

/// Whether marks are of this garment: its side, its points' names.
///
/// # Errors
/// [`MarksError`] for a side that the garment lacks or a name it does not have.
pub fn check_names(layout: &Layout, marks: &Marks) -> Result<(), MarksError> {
    if layout.panels().panel(marks.side).is_none() {
        return Err(MarksError { field: "side".into(), problem: MarksProblem::Side { side: marks.side } });
    }
    let known = named_points(layout, marks.side);
    let mut numbered = (1..).zip(&marks.points);
    match numbered.find(|(_, marked)| known.iter().all(|point| point.name != marked.name)) {
        None => Ok(()),
        Some((number, marked)) => Err(MarksError {
            field: Field::from("points").item(number).then("name"),
            problem: MarksProblem::Name { name: marked.name.clone(), known: known.into_iter().map(|point| point.name).collect() },
        }),
    }
}

/// The marked points with their places on the plan.
///
/// # Errors
/// [`MarksError`] for a side that the garment lacks, a name it does not have, or too few points.
pub(super) fn pairs(layout: &Layout, marks: &Marks) -> Result<Vec<Pair>, MarksError> {
    marks.check()?;
    check_names(layout, marks)?;
    let known = named_points(layout, marks.side);
    if marks.points.len() < FEWEST_POINTS {
        let best = known.iter().take(FEWEST_POINTS).map(|point| point.name.clone()).collect();
        let problem = MarksProblem::TooFew { count: marks.points.len(), least: FEWEST_POINTS, best };
        return Err(MarksError { field: "points".into(), problem });
    }
    let pair = |marked: &super::MarkedPoint| {
        let point = known.iter().find(|point| point.name == marked.name);
        point.map(|point| Pair { from: point.at, to: marked.at })
    };
    Ok(marks.points.iter().filter_map(pair).collect())
}
