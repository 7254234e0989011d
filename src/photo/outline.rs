//! A side's outline as it is seen, cut into places where the edge of the cloth can be looked for.

use crate::geometry::{Panel, PanelOutline};
use kurbo::{ParamCurve as _, ParamCurveArclen as _, ParamCurveDeriv as _, Point, Vec2};

/// From place to place along the outline, mm.
const STEP_MM: f64 = 6.0;
/// Most places; a longer outline has them farther apart. Own choice: the equations of the lay have one unknown each.
const MOST_PLACES: f64 = 500.0;
/// Turn of the outline to both neighbours together, as a sine, from which a place is at a corner, where its normal means nothing.
const CORNER: f64 = 0.35;
const ACCURACY_MM: f64 = 1e-3;

/// A place of the outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct EdgePlace {
    /// Where, mm, as the side is seen.
    pub(super) at: Point,
    /// Away from the cloth.
    pub(super) outward: Vec2,
}

/// The outline of a side.
#[derive(Debug, Clone)]
pub(super) struct SeenOutline {
    /// Evenly along it, corners left out.
    pub(super) places: Vec<EdgePlace>,
    /// The same with corners.
    all: Vec<Point>,
    panel: PanelOutline,
    mirror: f64,
    /// The middle of the box round it, mm.
    pub(super) middle: Point,
}

/// The sign of x as a side is seen: the back from behind.
pub(super) const fn mirror(side: Panel) -> f64 {
    match side {
        Panel::Front => 1.0,
        Panel::Back => -1.0,
    }
}

impl SeenOutline {
    pub(super) fn of(panel: &PanelOutline, side: Panel) -> Self {
        let mirror = mirror(side);
        let lengths: f64 = panel.whole().segments().map(|segment| segment.arclen(ACCURACY_MM)).sum();
        let step_mm = STEP_MM.max(lengths / MOST_PLACES);
        let (mut places, mut all) = (Vec::new(), Vec::new());
        for curve in panel.whole().path().subpaths() {
            let round = walk(curve, step_mm, mirror);
            all.extend(round.iter().map(|place| place.at));
            places.extend(smooth(&round));
        }
        let middle = panel.whole().bounds().center();
        Self { places, all, panel: panel.clone(), mirror, middle: Point::new(mirror * middle.x, middle.y) }
    }

    /// Points evenly round it, corners among them.
    pub(super) fn round(&self) -> &[Point] {
        &self.all
    }

    /// Whether cloth lies at a point as it is seen.
    pub(super) fn contains(&self, seen: Point) -> bool {
        self.panel.contains(Point::new(self.mirror * seen.x, seen.y))
    }

    /// How far a point lies from the outline, to within the step between its places, mm.
    pub(super) fn away_mm(&self, seen: Point) -> f64 {
        self.all.iter().map(|at| at.distance_squared(seen)).fold(f64::INFINITY, f64::min).sqrt()
    }

    /// The box round it as it is seen.
    pub(super) fn bounds(&self) -> kurbo::Rect {
        let bounds = self.panel.whole().bounds();
        kurbo::Rect::from_points((self.mirror * bounds.x0, bounds.y0), (self.mirror * bounds.x1, bounds.y1))
    }
}

/// Places at even steps along a closed curve.
fn walk(curve: &[kurbo::PathEl], step_mm: f64, mirror: f64) -> Vec<EdgePlace> {
    let mut places = Vec::new();
    let mut next_mm = 0.5 * step_mm;
    for segment in kurbo::segments(curve.iter().copied()) {
        let length_mm = segment.arclen(ACCURACY_MM);
        let cubic = segment.to_cubic();
        while next_mm < length_mm {
            let share = segment.inv_arclen(next_mm, ACCURACY_MM);
            let along = cubic.deriv().eval(share).to_vec2();
            if along.hypot2() > 0.0 {
                let (at, along) = (segment.eval(share), along.normalize());
                // Clockwise as drawn: cloth lies to the right of the way.
                let outward = Vec2::new(mirror * along.y, -along.x);
                places.push(EdgePlace { at: Point::new(mirror * at.x, at.y), outward });
            }
            next_mm += step_mm;
        }
        next_mm -= length_mm;
    }
    places
}

/// Those that are not at corners.
fn smooth(round: &[EdgePlace]) -> impl Iterator<Item = EdgePlace> + '_ {
    let count = round.len();
    let turn = move |from: usize, to: usize| round[from].outward.cross(round[to].outward).abs();
    (0..count).filter(move |&at| turn(at, (at + 1) % count) + turn(at, (at + count - 1) % count) < CORNER).map(|at| round[at])
}
