//! Rings as they are drawn over plan and photograph: where each was planned, where it was found, how far off that may be.

use super::outline::mirror;
use super::track::tracks;
use super::{PhotoMeasure, Plan, Rings};
use crate::geometry::Panel;
use crate::layout::Layout;
use kurbo::{BezPath, Point, Vec2};

/// A bind's line on the plan as it is seen, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct RingLine {
    /// The bind, counted from the tip, from 1.
    pub bind: usize,
    /// Its stretches as they were planned.
    pub planned: Vec<Vec<Point>>,
    /// The same where they were found, as the ring's mean has them; none where it was not found.
    pub found: Option<Vec<Vec<Point>>>,
    /// A bar across the found line at one place: as far to both sides as the line may be off.
    pub bar: Option<[Point; 2]>,
}

/// The line of every bind of every tie.
#[must_use]
pub fn ring_lines(plan: &Plan, measured: &PhotoMeasure) -> Vec<RingLine> {
    let ties = plan.ties();
    ties.iter().zip(measured.ties()).flat_map(|(plan, tie)| lines_of_tie(plan, &tie.rings)).collect()
}

fn lines_of_tie(plan: &Plan, rings: &Rings) -> Vec<RingLine> {
    let line = |(index, track): (usize, super::track::Track)| {
        let ring = rings.rings.iter().find(|ring| ring.bind == index + 1);
        let moved = |(at, outward): (Point, Vec2), mm: f64| at + mm * outward + rings.displacement;
        let stretches = |along: &dyn Fn((Point, Vec2)) -> Point| -> Vec<Vec<Point>> {
            track.sectors.iter().map(|sector| sector.points.iter().map(|place| along(*place)).collect()).collect()
        };
        let middle = track.sectors.get(track.sectors.len() / 2).map(super::track::Sector::middle);
        RingLine {
            bind: index + 1,
            planned: stretches(&|(at, _)| at),
            found: ring.map(|ring| stretches(&|place| moved(place, ring.shift_mm))),
            bar: ring.zip(middle).map(|(ring, place)| [-1.0, 1.0].map(|way| moved(place, ring.shift_mm + way * ring.sd_mm))),
        }
    };
    tracks(plan).into_iter().enumerate().map(line).collect()
}

/// A side's outline as it is seen, mm; none of a side that the garment lacks.
#[must_use]
pub fn seen_outline(layout: &Layout, side: Panel) -> Option<BezPath> {
    let panel = layout.panels().panel(side)?;
    Some(kurbo::Affine::scale_non_uniform(mirror(side), 1.0) * panel.whole().path().clone())
}
