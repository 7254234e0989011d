//! A line that was drawn elsewhere and lies on no garment yet.

use super::drawn::{middle_point, side};
use super::error::LineError;
use super::spec::LineKind;
use crate::geometry::{Centre, Centring, Lay, ON_THE_FOLD_MM, Panel, PanelSet};
use kurbo::{Affine, BezPath, Line, ParamCurve as _, ParamCurveNearest as _, PathEl, PathSeg, Point, Shape as _};

/// A line that was drawn elsewhere and lies on no garment yet.
#[derive(Debug, Clone, PartialEq)]
pub struct FreeLine {
    /// What it is called.
    pub name: String,
    /// One part of lines and curves, mm, anywhere.
    pub path: BezPath,
    /// The width that it is scaled to, mm; its own where there is none.
    pub width_mm: Option<f64>,
    /// What it is to be to the cloth; without one, what it looks like.
    pub kind: Option<LineKind>,
}

/// A line on a garment laid some way.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidLine {
    /// How the garment is laid.
    pub centring: Centring,
    /// What the line is to the cloth.
    pub kind: LineKind,
    /// The line on the laid garment, mm.
    pub path: BezPath,
}

/// How far a line's two halves may differ for the fold to mirror one into the other, mm: half a chalk line (own choice).
const ALIKE_MM: f64 = 0.5;
/// Points this near to the axis are on it, mm.
const ON_AXIS_MM: f64 = 0.05;
/// Crossings of the axis this near to the end of a side are that end, as a share of the side.
const SAME_SHARE: f64 = 1e-6;
/// Points of a side that are held against the other half.
const SAMPLES: u32 = 16;
/// An end no farther than this from the garment's edge is meant to reach it, mm (own choice).
const AT_EDGE_MM: f64 = 5.0;
/// Steps in a millimetre that a line's points are rounded to.
const STEPS_PER_MM: f64 = 1000.0;
/// Beyond any line, mm.
const FAR_MM: f64 = 1e6;

impl FreeLine {
    /// The line with its middle put on a garment.
    ///
    /// On the centre line a line that is alike on both sides is halved, for a garment folded in half; any other is for one that is laid open.
    /// A closed line runs round some cloth, one whose ends reach the edges from edge to edge, any other is a stroke.
    ///
    /// # Errors
    /// [`LineError::NoLine`] when there is nothing of it, [`LineError::Length`] when its size or place is no usable length.
    pub fn on(&self, panels: &PanelSet, middle: Centre) -> Result<LaidLine, LineError> {
        let middle = middle_point(middle, panels)?;
        let bounds = self.path.bounding_box();
        if self.path.segments().next().is_none() || !self.path.is_finite() {
            return Err(LineError::NoLine);
        }
        // What has no width is as high as it is to be wide.
        let own_mm = if bounds.width() > ON_AXIS_MM { bounds.width() } else { bounds.height() };
        let width_mm = side("line.width_mm", self.width_mm.unwrap_or(own_mm))?;
        let centred = Affine::scale(width_mm / own_mm) * Affine::translate(-bounds.center().to_vec2()) * self.path.clone();
        side("line.height_mm", centred.bounding_box().height().max(width_mm))?;
        let is_closed = centred.elements().last() == Some(&PathEl::ClosePath);
        let half = (middle.x.abs() <= ON_THE_FOLD_MM).then(|| half_at_fold(&centred)).flatten();
        let (centring, path, at) = match half {
            Some(half) => (Centring::Nested, half, Point::new(0.0, middle.y)),
            None => (Centring::Open, centred, middle),
        };
        let path = rounded(&(Affine::translate(at.to_vec2()) * path));
        let lay = Lay::new(centring, panels.clone());
        let kind = self.kind.unwrap_or_else(|| if is_closed { LineKind::Ring } else { kind_of_open(&path, &lay) });
        Ok(LaidLine { centring, kind, path })
    }
}

/// The whole of a line of which a folded garment has half: with its mirror image, where it ends on the centre line.
#[must_use]
pub fn whole_at_fold(path: &BezPath) -> Option<BezPath> {
    let (first, last) = (path.segments().next()?.start(), path.segments().last()?.end());
    let mirrored = Affine::FLIP_X * path.reverse_subpaths();
    let joined = |from: &BezPath, to: &BezPath| {
        BezPath::from_vec(from.elements().iter().chain(to.elements().iter().skip(1)).copied().collect())
    };
    match [first, last].map(|end| end.x.abs() <= ON_AXIS_MM) {
        [true, true] => {
            let mut whole = joined(path, &mirrored);
            whole.close_path();
            Some(whole)
        }
        [true, false] => Some(joined(&mirrored, path)),
        [false, true] => Some(joined(path, &mirrored)),
        [false, false] => None,
    }
}

/// What an open line looks like.
fn kind_of_open(path: &BezPath, lay: &Lay) -> LineKind {
    let mut ends = path.elements().iter().filter_map(PathEl::end_point);
    let ends = [ends.next().unwrap_or_default(), ends.next_back().unwrap_or_default()];
    let is_on_fold = |end: &Point| lay.is_folded() && end.x == 0.0;
    if ends.iter().all(is_on_fold) {
        return LineKind::Ring;
    }
    let edge = || lay.outlines(&Panel::BOTH).flat_map(|outline| outline.segments().collect::<Vec<_>>());
    let reaches = |end: &Point| !lay.is_cloth(*end) || edge().any(|side| distance_mm(&side, *end) <= AT_EDGE_MM);
    if ends.iter().filter(|end| !is_on_fold(end)).all(reaches) { LineKind::Across } else { LineKind::Stroke }
}

fn distance_mm(side: &PathSeg, p: Point) -> f64 {
    side.nearest(p, 1e-3).distance_sq.sqrt()
}

/// The half of a line that a garment folded at its centre line needs: that to the right of it, from it on, where the left half mirrors it
/// and it is one piece.
#[must_use]
pub fn half_at_fold(path: &BezPath) -> Option<BezPath> {
    let sides: Vec<PathSeg> = path.segments().flat_map(parted).collect();
    let is_right = |side: &PathSeg| side.eval(0.5).x > 0.0;
    let (right, left): (Vec<PathSeg>, Vec<PathSeg>) = sides.iter().copied().partition(is_right);
    if right.is_empty() || !mirrors(&left, &right) || !mirrors(&right, &left) {
        return None;
    }
    // A closed line is walked from where it comes over to the right.
    let count = sides.len();
    let is_closed = path.elements().last() == Some(&PathEl::ClosePath);
    let comes_over = |at: usize| (at == 0 && !is_closed) || !is_right(&sides[(at + count - 1) % count]);
    let first = (0..count).find(|&at| is_right(&sides[at]) && comes_over(at))?;
    let run: Vec<PathSeg> = (0..count).map(|step| sides[(first + step) % count]).take_while(is_right).collect();
    if run.len() != right.len() {
        return None;
    }
    let half = one_part(&run);
    match [run[0].start(), run[run.len() - 1].end()].map(|end| end.x == 0.0) {
        [true, _] => Some(half),
        [false, true] => Some(half.reverse_subpaths()),
        [false, false] => None,
    }
}

/// Sides that go on into each other as one part, whatever the last digits of their ends.
pub(super) fn one_part(sides: &[PathSeg]) -> BezPath {
    let start = sides.first().map(|side| PathEl::MoveTo(side.start()));
    start.into_iter().chain(sides.iter().map(PathSeg::as_path_el)).collect()
}

/// A path in steps of a thousandth of a millimetre, which can be read in a file.
pub(super) fn rounded(path: &BezPath) -> BezPath {
    let to_step = |mm: f64| (mm * STEPS_PER_MM).round() / STEPS_PER_MM;
    let p = |p: Point| Point::new(to_step(p.x), to_step(p.y));
    let element = |element: &PathEl| match *element {
        PathEl::MoveTo(to) => PathEl::MoveTo(p(to)),
        PathEl::LineTo(to) => PathEl::LineTo(p(to)),
        PathEl::QuadTo(a, to) => PathEl::QuadTo(p(a), p(to)),
        PathEl::CurveTo(a, b, to) => PathEl::CurveTo(p(a), p(b), p(to)),
        PathEl::ClosePath => PathEl::ClosePath,
    };
    path.elements().iter().map(element).collect()
}

/// A side cut where it crosses the axis; what is near the axis at a cut or an end is put on it.
pub(super) fn parted(side: PathSeg) -> Vec<PathSeg> {
    let axis = Line::new((0.0, -FAR_MM), (0.0, FAR_MM));
    let mut cuts: Vec<f64> = side.intersect_line(axis).iter().map(|cut| cut.segment_t).collect();
    cuts.retain(|cut| (SAME_SHARE..1.0 - SAME_SHARE).contains(cut));
    cuts.sort_by(f64::total_cmp);
    let bounds: Vec<f64> = std::iter::once(0.0).chain(cuts).chain([1.0]).collect();
    bounds.windows(2).map(|pair| on_axis(side.subsegment(pair[0]..pair[1]))).filter(|side| side.start() != side.end()).collect()
}

fn on_axis(side: PathSeg) -> PathSeg {
    let put = |p: Point| if p.x.abs() < ON_AXIS_MM { Point::new(0.0, p.y) } else { p };
    match side {
        PathSeg::Line(line) => PathSeg::Line(Line::new(put(line.p0), put(line.p1))),
        PathSeg::Quad(mut quad) => {
            (quad.p0, quad.p2) = (put(quad.p0), put(quad.p2));
            PathSeg::Quad(quad)
        }
        PathSeg::Cubic(mut cubic) => {
            (cubic.p0, cubic.p3) = (put(cubic.p0), put(cubic.p3));
            PathSeg::Cubic(cubic)
        }
    }
}

/// Whether some sides, mirrored, lie on others.
fn mirrors(sides: &[PathSeg], others: &[PathSeg]) -> bool {
    let samples = |side: &PathSeg| {
        let side = *side;
        (0..=SAMPLES).map(move |step| side.eval(f64::from(step) / f64::from(SAMPLES)))
    };
    let is_on = |p: Point| others.iter().any(|other| distance_mm(other, Point::new(-p.x, p.y)) <= ALIKE_MM);
    !sides.is_empty() && sides.iter().flat_map(samples).all(is_on)
}
