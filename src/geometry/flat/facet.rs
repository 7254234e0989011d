//! The cloth between creases: each combination of pieces of all series that has any, and what of each panel it holds.

use super::clip::{Loops, loops, near_side};
use super::fold_line::FoldLine;
use super::series::Series;
use crate::geometry::{Lay, PanelPair};
use kurbo::{Affine, Line, Point, Rect, Shape as _};

/// A combination of pieces that holds cloth.
#[derive(Debug, Clone)]
pub(crate) struct Facet {
    /// Which piece of each series.
    pub(crate) pieces: Vec<u32>,
    /// From the laid cloth to the plane of the first pieces.
    pub(crate) onto: Affine,
    pub(crate) back: Affine,
    /// The creases of each series before and after it on the laid cloth, its own cloth on their near sides.
    pub(crate) bounds: Vec<[Option<FoldLine>; 2]>,
    /// What of each panel lies on it, in the plane of the first pieces, as positive area.
    pub(crate) cloth: PanelPair<Loops>,
}

/// Area below which a facet holds no cloth, mm2: rounding.
const LEAST_MM2: f64 = 1e-6;

/// All facets of a laid garment.
pub(crate) fn facets(lay: &Lay, series: &[Series]) -> Vec<Facet> {
    let cloth = PanelPair::from_fn(|panel| lay.outline(panel).map(|outline| loops(outline.path())).unwrap_or_default());
    let whole = Facet { pieces: vec![], onto: Affine::IDENTITY, back: Affine::IDENTITY, bounds: vec![], cloth };
    series.iter().fold(vec![whole], |facets, series| facets.iter().flat_map(|facet| facet.split(series)).collect())
}

impl Facet {
    fn split(&self, series: &Series) -> Vec<Self> {
        (0..series.pieces()).filter_map(|piece| self.piece(series, piece)).collect()
    }

    /// What of it lies on a piece of a further series, carried onto that series' first.
    fn piece(&self, series: &Series, piece: u32) -> Option<Self> {
        let [before, after] = series.beside(piece);
        let sides = [before.map(FoldLine::reversed), after.copied()];
        let cut = |loops: &Loops| sides.iter().flatten().fold(loops.clone(), |loops, side| near_side(&loops, side));
        let cloth = self.cloth.map(cut);
        if [&cloth.front, &cloth.back].into_iter().all(|loops| area_mm2(loops) < LEAST_MM2) {
            return None;
        }
        let bounds = self.bounds.iter().copied().chain([sides.map(|side| Some(side?.carried(self.back)))]).collect();
        let pieces = self.pieces.iter().copied().chain([piece]).collect();
        let onto = series.onto(piece);
        let cloth = cloth.map(|loops| carried(loops, onto));
        Some(Self { pieces, onto: onto * self.onto, back: self.back * series.back(piece), bounds, cloth })
    }

    /// What of closed curves on the laid plane lies between its creases.
    pub(crate) fn within(&self, loops: &Loops) -> Loops {
        self.bounds.iter().flatten().flatten().fold(loops.clone(), |loops, side| near_side(&loops, side))
    }

    /// The box round its cloth as an isometry of the plane carries it.
    pub(crate) fn bounds_in(&self, isometry: Affine) -> Option<Rect> {
        let segments = [&self.cloth.front, &self.cloth.back].into_iter().flatten().flatten();
        segments.map(|&segment| (isometry * segment).bounding_box()).reduce(|a, b| a.union(b))
    }

    /// The part of a line of the laid plane that lies on it, but for the crease of one series after it if that is asked.
    pub(crate) fn part(&self, line: Line, but_after: Option<usize>) -> Option<Line> {
        let bounds =
            self.bounds.iter().enumerate().flat_map(|(series, [before, after])| {
                [*before, after.filter(|_| but_after != Some(series))].into_iter().flatten()
            });
        bounds.into_iter().try_fold(line, |line, bound| nearer(line, &bound))
    }
}

/// The part of a line on the near side of another.
pub(crate) fn nearer(line: Line, bound: &FoldLine) -> Option<Line> {
    let [from, to] = [line.p0, line.p1].map(|end| bound.beyond_mm(end));
    let crossing = || line.p0.lerp(line.p1, from / (from - to));
    match (from <= 0.0, to <= 0.0) {
        (true, true) => Some(line),
        (false, false) => None,
        (true, false) => Some(Line::new(line.p0, crossing())),
        (false, true) => Some(Line::new(crossing(), line.p1)),
    }
}

fn area_mm2(loops: &Loops) -> f64 {
    loops.iter().flatten().map(kurbo::ParamCurveArea::signed_area).sum()
}

/// Closed curves carried by an isometry, run through the way that makes their area positive.
pub(crate) fn carried(loops: &Loops, isometry: Affine) -> Loops {
    let is_turned = isometry.determinant() < 0.0;
    let curve = |segments: &Vec<kurbo::PathSeg>| {
        let moved = segments.iter().map(|&segment| isometry * segment);
        if is_turned { moved.rev().map(|segment| segment.reverse()).collect() } else { moved.collect() }
    };
    loops.iter().map(curve).collect()
}

/// A line through a point of the laid plane, longer than any cloth.
pub(crate) fn long_line(at: Point, direction: kurbo::Vec2) -> Line {
    Line::new(at - LONG_MM * direction, at + LONG_MM * direction)
}

/// Longer than any cloth, mm.
const LONG_MM: f64 = 2e4;
