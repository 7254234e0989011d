//! Cloth that can't lie flat when it is folded along a line, and how its pleats lie on each other.
//!
//! A crease ends where it meets the ridge. Four creases meet there when another crease ends at the same point, one of either side of the
//! ridge, and the ridge itself goes on: then it lies flat, for alternate angles add up to a half turn (the condition of T. Kawasaki and J.
//! Justin, 1989; from memory). It lies flat as well where a crease runs onto the garment's own fold. A crease that ends alone leaves the
//! cloth beyond it, of the two pleats that it parts, to be bunched.

use super::chain::{Chain, Foot};
use super::normals::{COLUMNS, Ending, Normal, at_creases};
use super::pleating::Pleating;
use super::ridge::Way;
use crate::geometry::Lay;
use kurbo::{Line, ParamCurve as _, Point};
use serde::Serialize;
use std::ops::Range;

/// Creases that end within this of each other end in one point, mm: what cloth gives (own choice).
const ONE_POINT_MM: f64 = 3.0;

/// Cloth that can't lie flat.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Unflat {
    /// Cloth farther from the line than the first crease of its pleat that ends alone, all layers, mm2; measured along a few normals of
    /// each pleat.
    pub bunched_mm2: f64,
    /// Where on the laid cloth creases end alone: `[x, y]` in mm.
    pub lone_ends_mm: Vec<[f64; 2]>,
    /// How far the line bows within a pleat where it bends most, mm: its width times its turn, by eight.
    pub bow_mm: f64,
}

impl Unflat {
    /// Of the cloth that lies no farther outside the line than `out_to_mm`.
    pub(super) fn of(chain: &Chain, pleating: &Pleating, lay: &Lay, normals: &[Normal], lone: &LoneEnds, out_to_mm: f64) -> Self {
        let mut unflat = Self { bunched_mm2: 0.0, lone_ends_mm: Vec::new(), bow_mm: bow_mm(chain, pleating) };
        for way in Way::BOTH {
            let to_mm = if way == Way::Out { out_to_mm } else { f64::INFINITY };
            let lone: Vec<_> = lone[way as usize].iter().map(|end| end.filter(|(away_mm, _)| *away_mm <= to_mm)).collect();
            unflat.lone_ends_mm.extend(lone.iter().flatten().map(|(_, at)| [at.x, at.y]));
            let firsts = lone.windows(2).map(|two| two.iter().flatten().map(|end| end.0).fold(f64::INFINITY, f64::min));
            for (pleat, first_mm) in firsts.enumerate().filter(|(_, first_mm)| first_mm.is_finite()) {
                let columns = &normals[pleat * (COLUMNS as usize + 1) + 1..][..COLUMNS as usize];
                let pleat_mm = pleating.creases_mm()[pleat + 1] - pleating.creases_mm()[pleat];
                let column_mm = pleat_mm / f64::from(COLUMNS);
                unflat.bunched_mm2 += columns
                    .iter()
                    .map(|column| bunched_mm2(chain, pleating, lay, column, column_mm, way, first_mm..to_mm))
                    .sum::<f64>();
            }
        }
        unflat
    }
}

/// Where creases end alone, outward and inward: for each crease the distance and the point, or none.
pub(super) type LoneEnds = [Vec<Option<(f64, Point)>>; 2];

/// The lone ends of all creases.
pub(super) fn all_lone_ends(chain: &Chain, lay: &Lay, normals: &[Normal]) -> LoneEnds {
    // Nothing lies within a stroke or a point.
    Way::BOTH.map(|way| {
        let has_cloth = way == Way::Out || chain.has_inside();
        if has_cloth { lone_ends(chain, lay, normals, way) } else { vec![None; at_creases(normals).count()] }
    })
}

/// For each crease the distance at which it ends alone on a ridge to a side, and where; none where it ends with another or not at all.
fn lone_ends(chain: &Chain, lay: &Lay, normals: &[Normal], way: Way) -> Vec<Option<(f64, Point)>> {
    let creases: Vec<&Normal> = at_creases(normals).collect();
    let ends: Vec<Option<Point>> = creases
        .iter()
        .map(|normal| (normal.reach[way as usize].ending == Ending::Ridge).then(|| normal.end(chain, way)))
        .collect();
    let is_lone = |at: usize, end: Point| {
        let is_paired = ends.iter().enumerate().any(|(other, with)| {
            other != at
                && !is_same_crease(chain, at, other, ends.len())
                && with.is_some_and(|with| with.distance(end) < ONE_POINT_MM)
        });
        // The first and the last crease of a line on the garment's fold are that fold.
        let is_fold = (at == 0 && chain.ends_on_fold()[0]) || (at + 1 == ends.len() && chain.ends_on_fold()[1]);
        let runs_onto_fold = lay.is_folded() && end.x < ONE_POINT_MM;
        // A ridge beyond the cloth ends no crease on it.
        lay.is_cloth(end) && !(is_paired || is_fold || runs_onto_fold)
    };
    let lone = ends.iter().enumerate().map(|(at, end)| end.filter(|&end| is_lone(at, end)));
    lone.zip(&creases).map(|(end, normal)| Some((normal.reach[way as usize].away_mm, end?))).collect()
}

/// The first and the last crease of a line that closes are one.
fn is_same_crease(chain: &Chain, a: usize, b: usize, count: usize) -> bool {
    chain.course() == super::chain::Course::Closed && a.min(b) == 0 && a.max(b) + 1 == count
}

/// Cloth of one column between two distances, all layers, mm2.
fn bunched_mm2(
    chain: &Chain,
    pleating: &Pleating,
    lay: &Lay,
    column: &Normal,
    column_mm: f64,
    way: Way,
    away_mm: Range<f64>,
) -> f64 {
    let reach = column.reach[way as usize];
    let (from_mm, to_mm) = (away_mm.start, away_mm.end.min(reach.away_mm));
    if to_mm <= from_mm {
        return 0.0;
    }
    let (piece, share) = reach.foot;
    let at = |away_mm: f64| chain.point(Foot { piece, share, distance_mm: way.sign() * away_mm });
    let line = Line::new(at(from_mm), at(to_mm));
    let between_mm = column.at_mm - 0.5 * column_mm..column.at_mm + 0.5 * column_mm;
    let width_mm = |away_mm: f64| pleating.width_mm(chain, between_mm.clone(), way.sign() * away_mm);
    let mut bunched_mm2 = 0.0;
    for (_, panel) in lay.panels().iter() {
        let outline = if lay.is_folded() { panel.half() } else { panel.whole() };
        let mut cuts: Vec<f64> =
            outline.segments().flat_map(|segment| segment.intersect_line(line)).map(|hit| hit.line_t).collect();
        cuts.extend([0.0, 1.0]);
        cuts.sort_by(f64::total_cmp);
        for cut in cuts.windows(2).filter(|cut| outline.contains(line.eval(0.5 * (cut[0] + cut[1])))) {
            let length_mm = (cut[1] - cut[0]) * (to_mm - from_mm);
            // Widths grow evenly along a normal.
            let middle_mm = from_mm + 0.5 * (cut[0] + cut[1]) * (to_mm - from_mm);
            bunched_mm2 += lay.centring().halves() * length_mm * width_mm(middle_mm);
        }
    }
    bunched_mm2
}

fn bow_mm(chain: &Chain, pleating: &Pleating) -> f64 {
    let bows = pleating.creases_mm().windows(2).map(|pleat_mm| {
        let (turn_rad, length_mm) = pleating.turn_and_length(chain, pleat_mm[0]..pleat_mm[1]);
        0.125 * length_mm * turn_rad.abs()
    });
    bows.fold(0.0, f64::max)
}
