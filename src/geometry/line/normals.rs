//! The normals of a line at its creases and within its pleats, and how far each of them reaches.

use super::chain::{Chain, Foot};
use super::pleating::Pleating;
use super::ridge::{Way, reach_beside_mm};
use crate::geometry::Lay;
use kurbo::Point;

/// Farther than any cloth, mm: where a normal that meets no ridge ends.
pub(crate) const FAR_MM: f64 = 5000.0;
/// Normals within each pleat, beside those at its creases.
pub(crate) const COLUMNS: u32 = 4;
/// Steps by which the farthest reach between three normals is narrowed: to a ten thousandth of their distance.
const NARROWINGS: u32 = 24;
/// Share of a piece within which a place counts as its end: rounding.
const AT_END: f64 = 1e-9;

/// What ends a normal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ending {
    /// Nothing on any cloth.
    None,
    /// The ridge.
    Ridge,
    /// The garment's own fold.
    OnFold,
}

/// How far a normal reaches to one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Reach {
    /// Above 0 on either side, mm.
    pub(crate) away_mm: f64,
    pub(crate) ending: Ending,
    /// The piece that reaches so far, and the share of it.
    pub(crate) foot: (usize, f64),
}

impl Reach {
    /// Where it ends, as it reaches to this side.
    pub(crate) fn end(&self, chain: &Chain, way: Way) -> Point {
        let (piece, share) = self.foot;
        chain.point(Foot { piece, share, distance_mm: way.sign() * self.away_mm })
    }
}

/// A normal of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Normal {
    /// Its place along the line, mm as measured on the guide.
    pub(crate) at_mm: f64,
    /// Outward and inward.
    pub(crate) reach: [Reach; 2],
}

/// The pieces that meet at a place along the line, each with its share: two at a joint.
pub(crate) fn feet_at(chain: &Chain, pleating: &Pleating, at_mm: f64) -> impl Iterator<Item = (usize, f64)> {
    let (piece, share) = pleating.piece_at(at_mm);
    let last = chain.pieces().len() - 1;
    let beside = if share < AT_END && piece > 0 {
        Some((piece - 1, 1.0))
    } else if share > 1.0 - AT_END && piece < last {
        Some((piece + 1, 0.0))
    } else {
        None
    };
    [Some((piece, share)), beside].into_iter().flatten()
}

/// How far the normal at a place along the line reaches to a side: that of the piece which reaches farther. It is found sooner from how far
/// one beside it reaches, mm; [`FAR_MM`] where none is known.
pub(crate) fn reach_at(chain: &Chain, pleating: &Pleating, lay: &Lay, at_mm: f64, way: Way, beside_mm: f64) -> Reach {
    let reaches = feet_at(chain, pleating, at_mm).map(|foot| one_reach(chain, lay, foot, way, beside_mm));
    let farthest = reaches.max_by(|a, b| a.away_mm.total_cmp(&b.away_mm));
    farthest.unwrap_or(Reach { away_mm: 0.0, ending: Ending::Ridge, foot: (0, 0.0) })
}

fn one_reach(chain: &Chain, lay: &Lay, (piece, share): (usize, f64), way: Way, beside_mm: f64) -> Reach {
    let foot = (piece, share);
    let fold_mm = if lay.is_folded() { to_fold_mm(chain, foot, way) } else { FAR_MM };
    // No farther: beyond the fold lie the feet of the mirror image.
    let away_mm = reach_beside_mm(chain, (piece, share), way, fold_mm, beside_mm);
    let ending = match away_mm {
        _ if away_mm < fold_mm => Ending::Ridge,
        _ if fold_mm < FAR_MM => Ending::OnFold,
        _ => Ending::None,
    };
    Reach { away_mm, ending, foot }
}

/// How far along a normal the fold line is, mm; what is farther than any cloth where it does not lead there.
fn to_fold_mm(chain: &Chain, (piece, share): (usize, f64), way: Way) -> f64 {
    let root = chain.point(Foot { piece, share, distance_mm: 0.0 });
    let across = way.sign() * chain.pieces()[piece].normal(share).x;
    if across < -AT_END { (root.x / -across).clamp(0.0, FAR_MM) } else { FAR_MM }
}

impl Normal {
    fn new(chain: &Chain, pleating: &Pleating, lay: &Lay, at_mm: f64, beside: Option<&Self>) -> Self {
        let beside_mm = |way: Way| beside.map_or(FAR_MM, |beside| beside.reach[way as usize].away_mm);
        Self { at_mm, reach: Way::BOTH.map(|way| reach_at(chain, pleating, lay, at_mm, way, beside_mm(way))) }
    }

    /// Where it ends to a side.
    pub(crate) fn end(&self, chain: &Chain, way: Way) -> Point {
        self.reach[way as usize].end(chain, way)
    }
}

/// The normals of all pleats in order: the first crease, those within the first pleat, the next crease, and so on.
pub(crate) fn normals(chain: &Chain, pleating: &Pleating, lay: &Lay) -> Vec<Normal> {
    let creases = pleating.creases_mm();
    let within = creases.windows(2).flat_map(|ends| {
        let step_mm = (ends[1] - ends[0]) / f64::from(COLUMNS);
        let columns = (0..COLUMNS).map(move |column| ends[0] + (f64::from(column) + 0.5) * step_mm);
        std::iter::once(ends[0]).chain(columns)
    });
    let mut normals: Vec<Normal> = Vec::with_capacity(creases.len() * (COLUMNS as usize + 1));
    for at_mm in within.chain(creases.last().copied()) {
        normals.push(Normal::new(chain, pleating, lay, at_mm, normals.last()));
    }
    normals
}

/// The normals at creases.
pub(crate) fn at_creases(normals: &[Normal]) -> impl Iterator<Item = &Normal> {
    normals.iter().step_by(COLUMNS as usize + 1)
}

/// The farthest that cloth lies from the line to a side short of the ridge, mm: 0 where the ridge lies on no cloth.
pub(crate) fn peak_mm(chain: &Chain, pleating: &Pleating, lay: &Lay, normals: &[Normal], way: Way) -> f64 {
    let on_cloth_mm = |normal: &Normal| {
        let reach = normal.reach[way as usize];
        if reach.ending != Ending::None && lay.is_cloth(normal.end(chain, way)) { reach.away_mm } else { 0.0 }
    };
    let far = normals.iter().map(on_cloth_mm).enumerate().max_by(|a, b| a.1.total_cmp(&b.1));
    let Some((at, peak_mm)) = far.filter(|&(_, peak_mm)| peak_mm > 0.0) else { return 0.0 };
    let (mut low, mut high) = (normals[at.saturating_sub(1)].at_mm, normals[(at + 1).min(normals.len() - 1)].at_mm);
    let mut most_mm = peak_mm;
    for _ in 0..NARROWINGS {
        let thirds = [(2.0 * low + high) / 3.0, (low + 2.0 * high) / 3.0];
        let far = thirds.map(|at_mm| on_cloth_mm(&Normal::new(chain, pleating, lay, at_mm, normals.get(at))));
        most_mm = most_mm.max(far[0]).max(far[1]);
        if far[0] < far[1] { low = thirds[0] } else { high = thirds[1] }
    }
    most_mm
}
