//! Whether a point lies within closed curves, fast enough to ask for every pixel.
//!
//! The curves are cut once into pieces that only rise or only fall. From a point a ray to the left is followed, and the pieces that it
//! crosses are counted with their sense (the winding number). A piece is decided by its box for nearly every point.

use kurbo::common::solve_itp;
use kurbo::{CubicBez, ParamCurve as _, ParamCurveExtrema as _, PathSeg, Point};

/// Closed curves made ready to be asked.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Within {
    pieces: Vec<Monotone>,
}

/// A piece along which y only grows or only shrinks.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Monotone {
    curve: CubicBez,
    is_straight: bool,
    /// From its upper end, which it holds, to its lower, which it doesn't, mm.
    y_mm: (f64, f64),
    /// Its control points lie between, mm.
    x_mm: (f64, f64),
    /// What it counts for: 1 where it rises, -1 where it falls.
    sense: i32,
}

/// Nearer to a curve than this is on it, mm: rounding of a few metres, many times over.
const NEAR_MM: f64 = 1e-6;
/// How exactly the place where a ray crosses a curve is found, as a share of its piece.
const EXACTLY: f64 = 1e-12;

impl Within {
    /// Takes the segments of closed curves.
    pub(crate) fn of(segments: impl Iterator<Item = PathSeg>) -> Self {
        let pieces = segments.flat_map(|segment| {
            let is_straight = matches!(segment, PathSeg::Line(_));
            let monotone = move |range| Monotone::of(segment.subsegment(range).to_cubic(), is_straight);
            segment.extrema_ranges().into_iter().filter_map(monotone)
        });
        Self { pieces: pieces.collect() }
    }

    /// Whether a point lies inside; none so near to a curve that rounding decides.
    pub(crate) fn holds(&self, point: Point) -> Option<bool> {
        let winding = self.pieces.iter().try_fold(0, |sum, piece| Some(sum + piece.winding(point)?))?;
        Some(winding != 0)
    }
}

impl Monotone {
    /// A curve that only rises or only falls; none where it does neither.
    fn of(curve: CubicBez, is_straight: bool) -> Option<Self> {
        let xs = [curve.p0.x, curve.p1.x, curve.p2.x, curve.p3.x];
        let x_mm = (xs.into_iter().fold(f64::INFINITY, f64::min), xs.into_iter().fold(f64::NEG_INFINITY, f64::max));
        let (from_mm, to_mm) = (curve.p0.y, curve.p3.y);
        let (y_mm, sense) = if to_mm > from_mm { ((from_mm, to_mm), -1) } else { ((to_mm, from_mm), 1) };
        (y_mm.0 < y_mm.1).then_some(Self { curve, is_straight, y_mm, x_mm, sense })
    }

    /// What it counts for as seen from a point; none where that is too near to tell.
    #[inline]
    fn winding(&self, point: Point) -> Option<i32> {
        let ((top_mm, foot_mm), (left_mm, right_mm)) = (self.y_mm, self.x_mm);
        if point.y < top_mm - NEAR_MM || point.y > foot_mm + NEAR_MM || point.x < left_mm - NEAR_MM {
            return Some(0);
        }
        let is_beside = point.y >= top_mm && point.y < foot_mm;
        if point.x > right_mm + NEAR_MM {
            return Some(if is_beside { self.sense } else { 0 });
        }
        if (point.y - top_mm).abs() <= NEAR_MM || (point.y - foot_mm).abs() <= NEAR_MM {
            return None;
        }
        let off_mm = point.x - self.x_at_mm(point.y);
        (off_mm.abs() > NEAR_MM).then_some(if off_mm > 0.0 { self.sense } else { 0 })
    }

    /// Where it crosses a height within its own, mm.
    fn x_at_mm(&self, y_mm: f64) -> f64 {
        let (from, to) = (self.curve.p0, self.curve.p3);
        if self.is_straight {
            return from.x + (y_mm - from.y) / (to.y - from.y) * (to.x - from.x);
        }
        let sense = f64::from(-self.sense);
        let off_mm = |at: f64| sense * (self.curve.eval(at).y - y_mm);
        let (start_mm, end_mm) = (sense * (from.y - y_mm), sense * (to.y - y_mm));
        if start_mm >= 0.0 {
            return from.x;
        }
        if end_mm <= 0.0 {
            return to.x;
        }
        self.curve.eval(solve_itp(off_mm, 0.0, 1.0, EXACTLY, 1, 0.2, start_mm, end_mm)).x
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Panel, PanelOutline};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};
    use kurbo::{BezPath, Shape as _, Vec2};

    /// Against kurbo's winding number of the outline flattened to 0.0001 mm: at points spread over every garment of the examples and about
    /// it, and a hundredth of a millimetre beside its edge. (Of the curves themselves kurbo's is off by as much where the cubic term all
    /// but vanishes: it solves in closed form.)
    #[test]
    fn it_says_what_kurbo_says() {
        let mut asked = 0;
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            for panel in Panel::BOTH.into_iter().filter_map(|panel| layout.panels().panel(panel)) {
                for outline in [PanelOutline::whole(panel), panel.half()] {
                    let (within, mut flat) = (Within::of(outline.segments()), BezPath::new());
                    kurbo::flatten(outline.path(), 1e-4, |element| flat.push(element));
                    let mut agrees = |at: Point| {
                        assert_eq!(within.holds(at), Some(flat.contains(at)), "{at} in {}", example.name);
                        asked += 1;
                    };
                    let bounds = outline.bounds().inflate(20.0, 20.0);
                    for step in 0..300_u32 {
                        let share = |by: f64| (f64::from(step) * by).fract();
                        let size = Vec2::new(share(0.754_877_7) * bounds.width(), share(0.569_840_3) * bounds.height());
                        agrees(bounds.origin() + size);
                    }
                    for (number, segment) in outline.segments().enumerate() {
                        for step in 0..12_u32 {
                            let beside = Vec2::from_angle(f64::from(step) + number as f64);
                            agrees(segment.eval(f64::from(step) / 12.0 + 0.013) + 0.01 * beside);
                        }
                    }
                }
            }
        }
        assert!(asked > 20_000, "{asked}");
    }
}
