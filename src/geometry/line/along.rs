//! Lines beside the garment's own edge: parallels to its hem or its neck.

use super::drawn::side;
use super::error::LineError;
use super::free::{LaidLine, one_part, parted, rounded};
use super::spec::{LINE_TOLERANCE_MM, LineKind};
use crate::geometry::{Centring, Panel, PanelSet};
use kurbo::offset::offset_cubic;
use kurbo::{Arc, BezPath, CubicBez, ParamCurve as _, PathSeg, Point, Vec2};

/// An edge of a garment that runs from one side of it to the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum GarmentEdge {
    /// The lower edge.
    Hem,
    /// The neck; of what has none the upper edge.
    Neck,
}

/// Turn from which a garment's outline has a corner, rad: where its edges end (own choice; the drafts' seams meet at right angles or nearly).
const CORNER_RAD: f64 = 0.5;
/// Ends of parallels that lie no farther apart meet, mm.
const MEET_MM: f64 = 1e-6;
/// A curve whose handles lie this near to its chord is straight, mm.
const STRAIGHT_MM: f64 = 1e-6;

impl GarmentEdge {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Hem, Self::Neck];
    /// How far within the edge a parallel runs where nothing is said, mm (own choice).
    pub const USUAL_INSET_MM: f64 = 60.0;

    /// Its name, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Hem => "hem",
            Self::Neck => "neck",
        }
    }

    /// The edge of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|edge| edge.name() == name)
    }

    /// The parallel to the edge, this far within the cloth, from edge to edge of a garment folded in half. Front and back lie on each other;
    /// it goes by the front's edge.
    ///
    /// # Errors
    /// [`LineError::Length`] when the distance is no usable length, [`LineError::NoLine`] when the garment has no such edge.
    pub fn parallel(self, inset_mm: f64, panels: &PanelSet) -> Result<LaidLine, LineError> {
        let inset_mm = side("line.inset_mm", inset_mm)?;
        let panel = Panel::BOTH.into_iter().find_map(|panel| panels.panel(panel)).ok_or(LineError::NoLine)?;
        let profile: Vec<PathSeg> = panel.profile().segments().collect();
        let turns = |pair: &[PathSeg]| turn_rad(&pair[0], &pair[1]) > CORNER_RAD;
        let path = match self {
            Self::Neck => {
                let end = profile.windows(2).position(turns).map_or(profile.len(), |corner| corner + 1);
                beside(&profile[..end], inset_mm)
            }
            Self::Hem => {
                let start = profile.windows(2).rposition(turns).map_or(0, |corner| corner + 1);
                beside(&profile[start..], inset_mm).reverse_subpaths()
            }
        };
        let path = rounded(&from_the_fold(path));
        if path.segments().next().is_none() {
            return Err(LineError::NoLine);
        }
        Ok(LaidLine { centring: Centring::Nested, kind: LineKind::Across, path })
    }
}

/// The directions in which a side leaves and arrives.
fn ways(side: &PathSeg) -> [Vec2; 2] {
    let CubicBez { p0, p1, p2, p3 } = side.to_cubic();
    let first = |ways: [Vec2; 3]| ways.into_iter().find(|way| way.hypot() > 0.0).map_or(Vec2::ZERO, |way| way / way.hypot());
    [first([p1 - p0, p2 - p0, p3 - p0]), first([p3 - p2, p3 - p1, p3 - p0])]
}

fn turn_rad(side: &PathSeg, next: &PathSeg) -> f64 {
    let ([_, before], [after, _]) = (ways(side), ways(next));
    before.cross(after).atan2(before.dot(after)).abs()
}

/// The parallel to the right of some sides, where the cloth of an outline lies; round a corner an arc.
fn beside(sides: &[PathSeg], inset_mm: f64) -> BezPath {
    let mut path = BezPath::new();
    for side in sides {
        let cubic = side.to_cubic();
        let shift = |way: Vec2| inset_mm * Vec2::new(-way.y, way.x);
        let mut parallel = BezPath::new();
        if is_straight(side) {
            let by = shift(ways(side)[0]);
            parallel.move_to(cubic.p0 + by);
            parallel.line_to(cubic.p3 + by);
        } else {
            offset_cubic(cubic, inset_mm, LINE_TOLERANCE_MM / 10.0, &mut parallel);
        }
        let Some(start) = parallel.elements().first().and_then(kurbo::PathEl::end_point) else { continue };
        match path.segments().last() {
            None => path.move_to(start),
            Some(last) => round(&mut path, cubic.p0, last.to_cubic().p3, start),
        }
        path.extend(parallel.elements().iter().skip(1).copied());
    }
    path
}

fn is_straight(side: &PathSeg) -> bool {
    let CubicBez { p0, p1, p2, p3 } = side.to_cubic();
    let chord = p3 - p0;
    let off_mm = |p: Point| chord.cross(p - p0).abs() / chord.hypot();
    matches!(side, PathSeg::Line(_)) || (off_mm(p1) < STRAIGHT_MM && off_mm(p2) < STRAIGHT_MM)
}

/// From one point round a corner to another, both as far from it.
fn round(path: &mut BezPath, corner: Point, from: Point, to: Point) {
    if from.distance(to) <= MEET_MM {
        return;
    }
    let (a, b) = (from - corner, to - corner);
    let arc = Arc::new(corner, (a.hypot(), a.hypot()), a.atan2(), a.cross(b).atan2(a.dot(b)), 0.0);
    path.extend(arc.append_iter(LINE_TOLERANCE_MM / 10.0));
}

/// A parallel that begins on the fold line: what begins beside it goes round the point of the edge that lies on it, what begins beyond it
/// comes over with its mirror image.
fn from_the_fold(path: BezPath) -> BezPath {
    let here: Vec<PathSeg> = path.segments().flat_map(parted).skip_while(|side| side.eval(0.5).x <= 0.0).collect();
    let path = one_part(&here);
    let Some(first) = path.segments().next() else { return path };
    let (start, way) = (first.start(), ways(&first)[0]);
    if start.x <= MEET_MM || way.y == 0.0 {
        return path;
    }
    // The point of the edge lies square to the way, on the fold line.
    let corner = Point::new(0.0, start.y + start.x * way.x / way.y);
    let below = corner + Vec2::new(0.0, (start - corner).hypot().copysign(start.y - corner.y));
    let mut whole = BezPath::new();
    whole.move_to(below);
    round(&mut whole, corner, below, start);
    whole.extend(path.elements().iter().skip(1).copied());
    whole
}
