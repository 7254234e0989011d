//! The parallel of a line on cloth: where it runs, how long it is, and how much cloth lies on its inner side; all exact.
//!
//! Each piece's parallel is cut where it meets those of other pieces and the cloth's outline; what is kept has its own foot for the
//! nearest, and lies on cloth. The area follows by Green's theorem round what is kept and the outline within it, and its slope is the
//! length: `dA/dd = c`.

use super::chain::{Chain, Foot};
use super::crossing::{carriers_meet, meets_fold};
use super::edge::{Edge, edges};
use crate::geometry::{Cut, Outline};

/// Part of the parallel of one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Part {
    pub(crate) piece: usize,
    pub(crate) from: f64,
    pub(crate) to: f64,
}

/// An outline prepared for the parallels of a line.
#[derive(Debug, Clone)]
pub(crate) struct Cutter {
    edges: Vec<Edge>,
    outline: Outline,
}

/// By how much another piece may be nearer than a parallel's own, mm: rounding. Neighbours that go on into each other but for a few
/// millionths of a radian differ by more.
const NEARER_MM: f64 = 1e-10;

/// Shortest part, as a share of its piece: rounding.
const SHORTEST: f64 = 1e-9;

impl Cutter {
    pub(crate) fn new(chain: &Chain, outline: &Outline) -> Self {
        Self { edges: edges(chain, outline), outline: outline.clone() }
    }

    /// The least and the greatest distance from the line on the outline, mm.
    pub(crate) fn reach_mm(&self) -> (f64, f64) {
        let ends = self.edges.iter().flat_map(|edge| [edge.start_mm, edge.end_mm]);
        ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), end| (least.min(end), most.max(end)))
    }

    /// What the parallel at a distance meets, and the cloth on its inner side. The parallel is given as [`whole`] makes it.
    pub(crate) fn measure(&self, chain: &Chain, whole: &[Part], distance_mm: f64) -> Cut {
        if !chain.has_inside() && distance_mm <= 0.0 {
            return Cut::default();
        }
        let mut area_mm2: f64 = self.edges.iter().map(|edge| edge.cut(chain, distance_mm).area_mm2).sum();
        let mut cloth_mm = 0.0;
        for part in on_cloth(chain, &[self], whole, distance_mm) {
            let piece = &chain.pieces()[part.piece];
            cloth_mm += (part.to - part.from) * piece.width_mm(distance_mm);
            area_mm2 += piece.green_mm2(distance_mm, part.from..part.to);
        }
        // Clamped: rounding may leave a nothing of the wrong sign.
        Cut { cloth_mm, area_mm2: area_mm2.max(0.0) }
    }
}

/// The parallel at a distance between its ridges, on cloth or not, in the order of the line.
///
/// Each piece's parallel is cut where it meets that of another piece that has a foot there; between, its own foot is the nearest or is not.
/// What is found of a stretch holds on over joints, for parallels of neighbours go on into each other.
pub(crate) fn whole(chain: &Chain, distance_mm: f64) -> Vec<Part> {
    let ridge = |piece: usize| {
        let mut stops = Vec::new();
        if chain.is_there(piece, distance_mm) && may_be_nearest(chain, piece, distance_mm) {
            push_ridge(&mut stops, chain, piece, distance_mm);
        }
        stops
    };
    let stops: Vec<Vec<f64>> = (0..chain.pieces().len()).map(ridge).collect();
    let mut parts = Vec::new();
    let mut known = None;
    for (piece, mut stops) in stops.into_iter().enumerate() {
        if !chain.is_there(piece, distance_mm) {
            known = None;
            continue;
        }
        push_between(&mut parts, piece, (0.0, 1.0), &mut stops, &mut known, |share| is_nearest(chain, piece, share, distance_mm));
    }
    parts
}

/// The parts of a whole parallel that lie on any of the outlines.
pub(crate) fn on_cloth(chain: &Chain, on: &[&Cutter], whole: &[Part], distance_mm: f64) -> Vec<Part> {
    let edges = on.iter().flat_map(|cutter| &cutter.edges);
    let mut crossings: Vec<(usize, f64)> =
        edges.filter_map(|edge| Some((edge.piece, edge.cut(chain, distance_mm).at_share?))).collect();
    crossings.sort_by_key(|&(piece, _)| piece);
    let mut parts = Vec::new();
    let mut stops = Vec::new();
    let mut known = None;
    let mut before = None;
    for part in whole {
        let goes_on = before.is_some_and(|before: &Part| before.piece + 1 == part.piece && before.to == 1.0 && part.from == 0.0);
        if !goes_on {
            known = None;
        }
        before = Some(part);
        let from = crossings.partition_point(|&(piece, _)| piece < part.piece);
        stops.clear();
        stops.extend(crossings[from..].iter().take_while(|&&(piece, _)| piece == part.piece).map(|&(_, share)| share));
        let is_on_cloth = |share: f64| {
            let at = chain.point(Foot { piece: part.piece, share, distance_mm });
            on.iter().any(|cutter| cutter.outline.contains(at))
        };
        push_between(&mut parts, part.piece, (part.from, part.to), &mut stops, &mut known, is_on_cloth);
    }
    parts
}

/// The stretches of a piece between stops that are kept; joined where one goes on into the next. What is known of the last stretch is
/// carried on, and behind a stop it is looked up again.
fn push_between(
    parts: &mut Vec<Part>,
    piece: usize,
    (from, to): (f64, f64),
    stops: &mut Vec<f64>,
    known: &mut Option<bool>,
    is_kept: impl Fn(f64) -> bool,
) {
    stops.retain(|stop| (from..=to).contains(stop));
    stops.sort_by(f64::total_cmp);
    let mut start = from;
    for end in stops.iter().map(|&stop| Some(stop)).chain([None]) {
        let until = end.unwrap_or(to);
        if until - start >= SHORTEST {
            let keeps = known.unwrap_or_else(|| is_kept(0.5 * (start + until)));
            *known = Some(keeps);
            match parts.last_mut() {
                Some(last) if keeps && last.piece == piece && start - last.to < SHORTEST => last.to = until,
                _ if keeps => parts.push(Part { piece, from: start, to: until }),
                _ => {}
            }
        }
        if end.is_some() {
            *known = None;
            start = until;
        }
    }
}

/// Whether a point of a piece's parallel has its own foot for the nearest. Beyond the fold line lie the feet of the mirror image, if the
/// line ends on it.
fn is_nearest(chain: &Chain, piece: usize, share: f64, distance_mm: f64) -> bool {
    let at = chain.point(Foot { piece, share, distance_mm });
    if at.x < 0.0 && chain.ends_on_fold().contains(&true) {
        return false;
    }
    let own_mm = distance_mm.abs();
    chain.nearest(at).1.abs() >= own_mm - NEARER_MM
}

/// Whether any point of a piece's parallel may have its own foot for the nearest; a no is certain. Where another piece is so much nearer to
/// its middle that it is nearer to all of it, the many others about it needn't be asked.
fn may_be_nearest(chain: &Chain, piece: usize, distance_mm: f64) -> bool {
    let own = &chain.pieces()[piece];
    let nearest_mm = chain.nearest(own.point(0.5, distance_mm)).1.abs();
    // No point is farther from the middle than half its length, and none is farther from the line than it is from the middle and that.
    nearest_mm >= distance_mm.abs() - own.width_mm(distance_mm) - NEARER_MM
}

/// Where a piece's parallel meets those of other pieces that have a foot there, what may be the ridge; and the fold line that it ends on.
fn push_ridge(stops: &mut Vec<f64>, chain: &Chain, piece: usize, distance_mm: f64) {
    let own = &chain.pieces()[piece];
    let middle = own.point(0.5, distance_mm);
    let half_mm = 0.5 * own.width_mm(distance_mm);
    if chain.ends_on_fold().contains(&true) {
        let meets = meets_fold(own, distance_mm).into_iter().flatten();
        stops.extend(meets.filter(|&at| own.distance_mm(at).is_some()).map(|at| own.share(at)));
    }
    chain.tree().within(middle, distance_mm.abs() + half_mm, |other| {
        if other == piece || chain.go_on(piece, other) {
            return;
        }
        let with = &chain.pieces()[other];
        // A place where both meet is as far from the other, which is no farther from the middle than half the length from there.
        let is_near = || (with.carrier_distance_mm(middle) - distance_mm).abs() <= half_mm + NEARER_MM;
        if is_near() && chain.is_there(other, distance_mm) && with.may_answer(middle, half_mm) {
            let meets = carriers_meet(own, with, distance_mm).into_iter().flatten();
            let meets = meets.filter(|&at| own.distance_mm(at).is_some() && with.distance_mm(at).is_some());
            stops.extend(meets.map(|at| own.share(at)));
        }
    });
}
