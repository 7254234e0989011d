//! Half an outline from what a maker draws: the whole of a garment alike on both sides, or a half as pattern pieces have it, its fold a
//! straight upright edge.

use kurbo::{Affine, BezPath, Line, ParamCurve as _, ParamCurveNearest as _, PathEl, PathSeg, Point, Rect, Shape as _};
use thiserror::Error;

use crate::telling::{Refused, Told, Voice, displayed_as_in_files};

/// How far the halves of a whole outline may differ, mm: what two sides of a sewn garment do (practice).
pub const ALIKE_MM: f64 = 3.0;
/// How far a straight upright edge may stray, mm: a line's breadth (practice).
const STRAIGHT_MM: f64 = 0.5;
/// Least part of an outline's height that the fold of a half takes: the centre of a tee takes nine tenths, a deep hood's opening leaves a
/// third (memory).
const LEAST_FOLD: f64 = 0.3;
/// Between points at which the halves are compared, mm (own choice).
const STEP_MM: f64 = 5.0;
/// Most of them on a segment: on two metres of cloth.
const MOST_STEPS: u32 = 400;
/// Steps in a millimetre that an outline's points are rounded to: finer than any drawing, and files stay readable.
const PER_MM: f64 = 1e4;
/// How near two crossings are one, mm: where two segments meet on the middle. No cloth is that narrow there.
const SAME_MM: f64 = 2.0;
/// How near the middle the end of a segment is on it, mm: lines from drawings stray by as much, and a crossing at a segment's very end
/// would be lost to rounding.
const ON_MIDDLE_MM: f64 = 0.05;
/// A piece of a segment that is none, mm.
const NO_PIECE_MM: f64 = 1e-6;

/// As what a drawn outline was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TakenAs {
    /// The whole garment; its right half counts.
    Whole,
    /// A half whose fold is its left edge.
    LeftFold,
    /// A half whose fold is its right edge, turned over.
    RightFold,
}

impl TakenAs {
    /// The words that say so.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Whole => "taken as the whole garment",
            Self::LeftFold => "taken as a half, its fold on the left",
            Self::RightFold => "taken as a half, its fold on the right",
        }
    }
}

/// Why a drawn line is no outline of a garment. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum HalfError {
    /// It is open, and its ends do not lie above each other.
    Open {
        /// How far apart they lie, across.
        apart_mm: f64,
    },
    /// It is alike on both sides no more than it has a straight fold.
    Unlike {
        /// How far its sides differ.
        by_mm: f64,
    },
    /// Its middle meets it other than at a top and a foot.
    Middle {
        /// How often.
        times: usize,
    },
    /// There is nothing of it, or it goes on for ever.
    Nothing,
}

displayed_as_in_files!(HalfError);

impl Refused for HalfError {
    fn told(&self, voice: Voice) -> Told {
        match self {
            Self::Open { apart_mm } => Told::new(
                format!("the outline is open, and its ends lie {} apart from side to side", voice.length(*apart_mm)),
                "close it, or draw a half whose ends both lie on the fold",
            ),
            Self::Unlike { by_mm } => Told::new(
                format!("its sides differ by {}, and it has no straight upright edge to be folded at", voice.length(*by_mm)),
                format!("draw it alike on both sides to {}, or a half of it with its fold upright", voice.length(ALIKE_MM)),
            ),
            Self::Middle { times } => Told::new(
                format!("its upright middle meets the outline {times} times"),
                "draw it so that the middle meets it once above and once below",
            ),
            Self::Nothing => Told::new("the line encloses nothing", "draw a closed line"),
        }
    }
}

/// Half a garment's outline from a drawn line (mm, `y` down), as [`super::OwnOutline`] has it, and as what the line was taken.
///
/// A closed line is the whole where its sides are alike to [`ALIKE_MM`], else a half where it has a straight upright edge on one side. An
/// open line is a half where its ends lie above each other.
///
/// # Errors
/// [`HalfError`] where it is neither.
pub fn half_outline(drawn: &BezPath) -> Result<(BezPath, TakenAs), HalfError> {
    let segments: Vec<PathSeg> = drawn.segments().filter(|segment| segment.start() != segment.end()).collect();
    let (Some(first), Some(last)) = (segments.first(), segments.last()) else { return Err(HalfError::Nothing) };
    if !drawn.is_finite() {
        return Err(HalfError::Nothing);
    }
    let (start, end) = (first.start(), last.end());
    let bounds = drawn.bounding_box();
    if start.distance(end) > STRAIGHT_MM {
        let apart_mm = (start.x - end.x).abs();
        if apart_mm > STRAIGHT_MM {
            return Err(HalfError::Open { apart_mm });
        }
        let taken = if bounds.x1 - start.x >= start.x - bounds.x0 { TakenAs::LeftFold } else { TakenAs::RightFold };
        return Ok((laid(&segments, 0.5 * (start.x + end.x), taken), taken));
    }
    let by_mm = unlike_mm(&segments, bounds.center().x);
    if by_mm <= ALIKE_MM {
        return right_half(&segments, bounds.center().x).map(|half| (half, TakenAs::Whole));
    }
    off_fold(&segments, bounds).ok_or(HalfError::Unlike { by_mm })
}

/// How far the outline lies from its own mirror image at an upright middle, mm, at the most.
fn unlike_mm(segments: &[PathSeg], middle_mm: f64) -> f64 {
    let mirror = |p: Point| Point::new(2.0 * middle_mm - p.x, p.y);
    let near_mm2 = |p: Point| segments.iter().map(|segment| segment.nearest(p, 0.01).distance_sq).fold(f64::INFINITY, f64::min);
    let points = segments.iter().flat_map(|segment| {
        // The control polygon is no shorter than the curve.
        let cubic = segment.to_cubic();
        let long_mm = cubic.p0.distance(cubic.p1) + cubic.p1.distance(cubic.p2) + cubic.p2.distance(cubic.p3);
        let steps = (1..MOST_STEPS).find(|&steps| f64::from(steps) * STEP_MM >= long_mm).unwrap_or(MOST_STEPS);
        (0..steps).map(move |step| segment.eval(f64::from(step) / f64::from(steps)))
    });
    points.map(|p| near_mm2(mirror(p))).fold(0.0, f64::max).sqrt()
}

/// The part right of the middle, from its top to its foot.
fn right_half(segments: &[PathSeg], middle_mm: f64) -> Result<BezPath, HalfError> {
    let is_joint = |segment: &PathSeg| (segment.start().x - middle_mm).abs() <= ON_MIDDLE_MM;
    let joints = segments.iter().enumerate().filter(|(_, segment)| is_joint(segment)).map(|(index, _)| (index, 0.0));
    let within = segments.iter().enumerate().flat_map(|(index, segment)| {
        let bounds = segment.bounding_box();
        let middle = Line::new((middle_mm, bounds.y0 - 1.0), (middle_mm, bounds.y1 + 1.0));
        segment.intersect_line(middle).into_iter().map(move |met| (index, met.segment_t))
    });
    let mut crossings: Vec<(usize, f64, Point)> = Vec::new();
    for (index, t) in joints.chain(within) {
        let at = segments[index].eval(t);
        if crossings.iter().all(|(_, _, other)| other.distance(at) > SAME_MM) {
            crossings.push((index, t, at));
        }
    }
    let [one, other] = crossings[..] else { return Err(HalfError::Middle { times: crossings.len() }) };
    let sides = [between(segments, one, other), between(segments, other, one)];
    let across = |side: &[PathSeg]| side.iter().map(|segment| segment.eval(0.5).x).fold(f64::NEG_INFINITY, f64::max);
    let [first, second] = sides;
    let right = if across(&first) > across(&second) { first } else { second };
    Ok(laid(&right, middle_mm, TakenAs::Whole))
}

/// The outline from one crossing to another, on through its beginning where it must be.
fn between(segments: &[PathSeg], from: (usize, f64, Point), to: (usize, f64, Point)) -> Vec<PathSeg> {
    let ((first, from_t, _), (last, to_t, _)) = (from, to);
    if first == last && from_t < to_t {
        return vec![segments[first].subsegment(from_t..to_t)];
    }
    let count = segments.len();
    let whole = (1..count).map(|step| (first + step) % count).take_while(|&index| index != last).map(|index| segments[index]);
    let mut part = vec![segments[first].subsegment(from_t..1.0)];
    part.extend(whole);
    part.push(segments[last].subsegment(0.0..to_t));
    part.retain(|segment| segment.start().distance(segment.end()) > NO_PIECE_MM);
    part
}

/// What is left of a half without its fold, the longest straight run along either side of its box; none where that is short.
fn off_fold(segments: &[PathSeg], bounds: Rect) -> Option<(BezPath, TakenAs)> {
    let count = segments.len();
    let run = |edge_mm: f64| {
        let is_on = |segment: &PathSeg| {
            matches!(segment, PathSeg::Line(_))
                && [segment.start(), segment.end()].iter().all(|p| (p.x - edge_mm).abs() <= STRAIGHT_MM)
        };
        // From each beginning of a run to its end.
        (0..count)
            .filter(|&at| is_on(&segments[at]) && !is_on(&segments[(at + count - 1) % count]))
            .map(|at| (at, (0..count).take_while(|step| is_on(&segments[(at + step) % count])).count()))
            .map(|(at, held)| (at, held, segments[at].start().distance(segments[(at + held - 1) % count].end())))
            .max_by(|a, b| a.2.total_cmp(&b.2))
    };
    let sides = [(bounds.x0, TakenAs::LeftFold), (bounds.x1, TakenAs::RightFold)];
    let found = sides.into_iter().filter_map(|(edge_mm, taken)| run(edge_mm).map(|found| (found, edge_mm, taken)));
    let ((at, held, long_mm), edge_mm, taken) = found.max_by(|a, b| a.0.2.total_cmp(&b.0.2))?;
    if long_mm < LEAST_FOLD * bounds.height() {
        return None;
    }
    let rest: Vec<PathSeg> = (held..count).map(|step| segments[(at + step) % count]).collect();
    Some((laid(&rest, edge_mm, taken), taken))
}

/// A part of the outline with its fold on the centre line, cloth at `x >= 0`, from top to foot.
fn laid(part: &[PathSeg], fold_mm: f64, taken: TakenAs) -> BezPath {
    let turned = if taken == TakenAs::RightFold { Affine::FLIP_X } else { Affine::IDENTITY };
    let onto = turned * Affine::translate((-fold_mm, 0.0));
    let mut half = BezPath::new();
    for &segment in part {
        if half.elements().is_empty() {
            half.move_to(onto * segment.start());
        }
        half.push((onto * segment).as_path_el());
    }
    let rounded = |p: &mut Point| *p = Point::new((p.x * PER_MM).round() / PER_MM, (p.y * PER_MM).round() / PER_MM);
    for element in half.elements_mut() {
        match element {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => rounded(p),
            PathEl::QuadTo(p, q) => [p, q].into_iter().for_each(rounded),
            PathEl::CurveTo(p, q, r) => [p, q, r].into_iter().for_each(rounded),
            PathEl::ClosePath => {}
        }
    }
    if part.first().zip(part.last()).is_some_and(|(first, last)| first.start().y > last.end().y) {
        half = half.reverse_subpaths();
    }
    // Its ends lie on the fold only to a line's breadth.
    let last = half.elements().len().saturating_sub(1);
    for (index, element) in half.elements_mut().iter_mut().enumerate() {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p) = element {
            p.x = if index == 0 || index == last { 0.0 } else { p.x.max(0.0) };
        }
    }
    half
}
