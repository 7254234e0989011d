//! From a drawn path to the chain of pieces along which cloth is folded.

use super::chain::{Chain, Course, End};
use super::crossing;
use super::error::LineError;
use super::pen::all_round;
use super::piece::{Fan, Piece, Strip};
use super::spec::LineKind;
use super::walk::{Around, reversed, smooth_pieces, with_corners};
use crate::geometry::{Lay, ON_THE_FOLD_MM, Outline, Panel};
use kurbo::{BezPath, PathEl, PathSeg, Point, Shape as _, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// How near a ring's ends must be to be one point, mm.
const CLOSED_MM: f64 = 1e-6;
/// How far a line from edge to edge is continued beyond its ends, mm: twice as far as any normal is followed, so that no point that one
/// reaches has a nearer foot beyond.
const FAR_MM: f64 = 10_000.0;
/// Up to where the continued ends may not meet, mm: farther than any cloth.
const CLEAR_MM: f64 = 1500.0;
/// By how much more than the cloth needs such a line goes on, mm.
const MARGIN_MM: f64 = 1.0;
/// Between points of an outline whose feet are looked for, mm: less than the margin.
const STEP_MM: f64 = 1.0;
/// How far beside the line cloth is looked for, mm: a chalk line (practice).
const BESIDE_MM: f64 = 1.0;
/// Directions of the cloth beyond a line's first and last point on the fold: its mirror image comes from the right, and goes on to it.
const OVER_THE_FOLD: [Option<Vec2>; 2] = [Some(Vec2::new(1.0, 0.0)), Some(Vec2::new(-1.0, 0.0))];

/// The chain of a line on a garment as it lies.
pub(crate) fn chain(kind: LineKind, path: &BezPath, lay: &Lay) -> Result<Chain, LineError> {
    let top = lay.panels().top;
    let path = finite(path, kind)?;
    let path = if lay.is_folded() { on_one_side(&path, lay)? } else { path };
    let chain = match kind {
        LineKind::Point => point(&path, lay)?,
        LineKind::Ring => ring(&path, lay)?,
        LineKind::Across => across(&path, lay)?,
        LineKind::Stroke => stroke(&path, lay)?,
    };
    if chain.has_inside() && kind != LineKind::Across {
        clear_of_itself(chain.pieces(), lay)?;
    }
    // A line along the garment's own edge has cloth to one side.
    let beside = |piece: &Piece| {
        [0.0, BESIDE_MM, -BESIDE_MM].map(|distance_mm| [0.0, 0.25, 0.5, 0.75, 1.0].map(|share| piece.point(share, distance_mm)))
    };
    let middles = || chain.pieces().iter().flat_map(beside).flatten();
    if !middles().any(|at| lay.is_cloth(at)) {
        let at = middles().next().unwrap_or_default();
        return Err(LineError::OffCloth { at, top });
    }
    let cloth = lay.outlines(&Panel::BOTH).map(Outline::bounds).reduce(|a, b| a.union(b));
    Ok(chain.within(cloth.unwrap_or_default()))
}

/// Refuses a line that meets itself.
fn clear_of_itself(pieces: &[Piece], lay: &Lay) -> Result<(), LineError> {
    crossing::find(pieces).map_or(Ok(()), |at| Err(LineError::Crosses { at, top: lay.panels().top }))
}

/// A path that is finite, with something in it, and one part unless it is a pen's.
fn finite(path: &BezPath, kind: LineKind) -> Result<BezPath, LineError> {
    let parts = path.elements().iter().filter(|element| matches!(element, PathEl::MoveTo(_))).count();
    let is_right = parts == 1 || (parts > 1 && kind == LineKind::Stroke);
    if is_right && path.is_finite() { Ok(path.clone()) } else { Err(LineError::NoLine) }
}

/// On a folded garment: what lies a little beyond the fold line is put onto it.
fn on_one_side(path: &BezPath, lay: &Lay) -> Result<BezPath, LineError> {
    let farthest = flat_points(path).into_iter().min_by(|a, b| a.x.total_cmp(&b.x)).unwrap_or_default();
    if farthest.x < -ON_THE_FOLD_MM {
        return Err(LineError::OverFold { at: farthest, top: lay.panels().top });
    }
    let inside = |p: Point| Point::new(p.x.max(0.0), p.y);
    let mut elements: Vec<PathEl> = path
        .elements()
        .iter()
        .map(|element| match *element {
            PathEl::MoveTo(p) => PathEl::MoveTo(inside(p)),
            PathEl::LineTo(p) => PathEl::LineTo(inside(p)),
            PathEl::QuadTo(a, p) => PathEl::QuadTo(inside(a), inside(p)),
            PathEl::CurveTo(a, b, p) => PathEl::CurveTo(inside(a), inside(b), inside(p)),
            PathEl::ClosePath => PathEl::ClosePath,
        })
        .collect();
    let ends = end_points(path);
    // Its ends, where they are near the fold line, are on it; a line that closes along the fold line ends there instead.
    let near = ends.map(|end| end.x <= ON_THE_FOLD_MM);
    if near == [true; 2] && ends[0].distance(ends[1]) > CLOSED_MM {
        elements.retain(|element| *element != PathEl::ClosePath);
    }
    let is_closed = elements.last() == Some(&PathEl::ClosePath);
    if near[0]
        && !is_closed
        && let Some(PathEl::MoveTo(p)) = elements.first_mut()
    {
        p.x = 0.0;
    }
    if near[1]
        && !is_closed
        && let Some(PathEl::LineTo(p) | PathEl::QuadTo(_, p) | PathEl::CurveTo(_, _, p)) = elements.last_mut()
    {
        p.x = 0.0;
    }
    Ok(BezPath::from_vec(elements))
}

/// Where a path begins and ends, closing lines left out.
fn end_points(path: &BezPath) -> [Point; 2] {
    let points = || path.elements().iter().filter_map(PathEl::end_point);
    [points().next().unwrap_or_default(), points().next_back().unwrap_or_default()]
}

/// Points of a path a step apart.
fn flat_points(path: &BezPath) -> Vec<Point> {
    path.segments().flat_map(|segment| flat_segment(segment).collect::<Vec<_>>()).chain(end_points(path)).collect()
}

/// Points of a segment a step apart, its start among them.
fn flat_segment(segment: PathSeg) -> impl Iterator<Item = Point> {
    use kurbo::{ParamCurve as _, ParamCurveArclen as _};
    let steps = (segment.arclen(0.1) / STEP_MM).ceil().clamp(1.0, 20_000.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number up to 20 000")]
    let count = steps as u32;
    (0..count).map(move |step| segment.eval(f64::from(step) / steps))
}

fn point(path: &BezPath, lay: &Lay) -> Result<Chain, LineError> {
    let [at, _] = end_points(path);
    if lay.is_folded() && at.x == 0.0 {
        let fan = Piece::Fan(Fan::new(at, 0.0, -FRAC_PI_2, PI));
        return Ok(Chain::new(vec![fan], Course::Open([End::OnFold; 2]), false));
    }
    let fan = Piece::Fan(Fan::new(at, 0.0, -FRAC_PI_2, TAU));
    if lay.is_cloth(at) { Ok(Chain::new(vec![fan], Course::Closed, false)) } else { Err(off_cloth(at, lay)) }
}

fn off_cloth(at: Point, lay: &Lay) -> LineError {
    LineError::OffCloth { at, top: lay.panels().top }
}

fn ring(path: &BezPath, lay: &Lay) -> Result<Chain, LineError> {
    let [start, end] = end_points(path);
    let is_closed = path.elements().last() == Some(&PathEl::ClosePath) || start.distance(end) <= CLOSED_MM;
    let is_on_fold = lay.is_folded() && !is_closed && start.x == 0.0 && end.x == 0.0;
    if !is_closed && !is_on_fold {
        return Err(LineError::Open { gap_mm: start.distance(end), is_folded: lay.is_folded() });
    }
    let mut closed = path.clone();
    if closed.elements().last() != Some(&PathEl::ClosePath) {
        closed.close_path();
    }
    let area_mm2 = closed.area();
    if area_mm2.abs() < CLOSED_MM {
        return Err(LineError::NoInside);
    }
    let pieces = smooth_pieces(if is_on_fold { path } else { &closed });
    let pieces = if area_mm2 < 0.0 { reversed(&pieces) } else { pieces };
    let (around, course) =
        if is_on_fold { (Around::Open(OVER_THE_FOLD), Course::Open([End::OnFold; 2])) } else { (Around::Closed, Course::Closed) };
    Ok(Chain::new(some(with_corners(pieces, around))?, course, true))
}

fn some(pieces: Vec<Piece>) -> Result<Vec<Piece>, LineError> {
    if pieces.is_empty() { Err(LineError::NoLine) } else { Ok(pieces) }
}

fn stroke(path: &BezPath, lay: &Lay) -> Result<Chain, LineError> {
    let strokes: Vec<Vec<Piece>> = path.subpaths().map(|stroke| smooth_pieces(&BezPath::from_vec(stroke.to_vec()))).collect();
    let strokes: Vec<Vec<Piece>> = strokes.into_iter().filter(|pieces| !pieces.is_empty()).collect();
    clear_of_itself(&some(strokes.concat())?, lay)?;
    let [start, end] = end_points(path);
    let is_on_fold = [start, end].map(|end| lay.is_folded() && end.x == 0.0 && strokes.len() == 1);
    let (pieces, around, course) = if is_on_fold[0] || is_on_fold[1] {
        // It is walked from the fold line out and back; nothing says which end comes first.
        let out = if is_on_fold[0] { strokes.concat() } else { reversed(&strokes.concat()) };
        let back = reversed(&out);
        (out.into_iter().chain(back).collect(), Around::Open(OVER_THE_FOLD), Course::Open([End::OnFold; 2]))
    } else {
        (all_round(strokes).ok_or(LineError::NotStrokes)?, Around::Closed, Course::Closed)
    };
    // Nothing lies within an inner corner; the fans of smooth bends stay, and answer for what lies outside them.
    let is_inner_corner = |piece: &Piece| matches!(piece, Piece::Fan(fan) if fan.radius_mm == 0.0 && fan.turn_rad < 0.0);
    let walk = with_corners(pieces, around).into_iter().filter(|piece| !is_inner_corner(piece)).collect();
    Ok(Chain::new(walk, course, false))
}

fn across(path: &BezPath, lay: &Lay) -> Result<Chain, LineError> {
    let [start, end] = end_points(path);
    if path.elements().last() == Some(&PathEl::ClosePath) {
        return Err(LineError::NoLine);
    }
    let pieces = some(smooth_pieces(path))?;
    let is_leftward = end.x < start.x || (end.x == start.x && end.y < start.y);
    let pieces = if is_leftward { reversed(&pieces) } else { pieces };
    let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else { return Err(LineError::NoLine) };
    let on_fold = [first.point(0.0, 0.0), last.point(1.0, 0.0)].map(|end| lay.is_folded() && end.x == 0.0);
    let course = Course::Open(on_fold.map(|is_on| if is_on { End::OnFold } else { End::Beyond }));
    let around = Around::Open([OVER_THE_FOLD[0].filter(|_| on_fold[0]), OVER_THE_FOLD[1].filter(|_| on_fold[1])]);
    let beyond = |piece: &Piece, share: f64, way: f64, length_mm: f64| {
        let (at, along) = (piece.point(share, 0.0), piece.along(share));
        let far = at + way * length_mm * along;
        let (from, to) = if way < 0.0 { (far, at) } else { (at, far) };
        Strip::between(from, to).map(Piece::Strip)
    };
    let continued = |far_mm: f64| {
        let before = beyond(first, 0.0, -1.0, far_mm).filter(|_| !on_fold[0]);
        let after = beyond(last, 1.0, 1.0, far_mm).filter(|_| !on_fold[1]);
        let all = before.into_iter().chain(pieces.iter().copied()).chain(after).collect();
        Chain::new(with_corners(all, around), course, true)
    };
    clear_of_itself(continued(CLEAR_MM).pieces(), lay)?;
    let chain = continued(FAR_MM);
    let needed_mm = needed_mm(&chain, lay);
    let spare = |end: usize| if on_fold[end] { 0.0 } else { FAR_MM - needed_mm[end] };
    Ok(chain.sparing([spare(0), spare(1)]))
}

/// How much of a far continued line's first and last piece the cloth needs, mm, with a margin.
fn needed_mm(chain: &Chain, lay: &Lay) -> [f64; 2] {
    let last = chain.pieces().len() - 1;
    let mut needed_mm = [MARGIN_MM; 2];
    for at in lay.outlines(&Panel::BOTH).flat_map(|outline| outline.segments().flat_map(flat_segment).collect::<Vec<_>>()) {
        let foot = chain.foot(at);
        let length_mm = chain.pieces()[foot.piece].length_mm();
        if foot.piece == 0 {
            needed_mm[0] = needed_mm[0].max((1.0 - foot.share) * length_mm + MARGIN_MM);
        }
        if foot.piece == last {
            needed_mm[1] = needed_mm[1].max(foot.share * length_mm + MARGIN_MM);
        }
    }
    needed_mm
}
