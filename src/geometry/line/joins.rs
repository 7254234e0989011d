//! The cloth over the ridge of a line, and over the garment's own fold where that is no crease.

use super::chain::{Chain, Foot};
use crate::geometry::{Beyond, ClothPoint, Joins, Lay};
use kurbo::{Point, Vec2};

/// Normals that differ by less than this meet in no ridge that can be felt: a bend (own choice: 17 degrees).
const LEAST_BEND: f64 = 0.3;
/// How near to a line's end on the fold a foot counts as there, mm on the cloth.
const AT_END_MM: f64 = 1e-6;

/// The cloth over the garment's fold and over the ridge, where either is nearer than `within_mm`.
pub(super) fn joins(chain: &Chain, lay: &Lay, point: ClothPoint, within_mm: f64) -> Joins {
    let laid = lay.as_laid(point);
    let over_fold = (lay.is_folded() && laid.x < within_mm && !is_crease(chain, Point::new(0.0, laid.y)))
        .then(|| Beyond { point: ClothPoint { x_mm: -point.x_mm, ..point }, away_mm: laid.x });
    let over_ridge = over_ridge(chain, laid, within_mm).map(|(beyond, away_mm)| {
        let half = if lay.is_folded() { 1.0_f64.copysign(point.x_mm) } else { 1.0 };
        // What lies over a ridge near the fold line may lie over that too; the half that the point is on holds it.
        let x_mm = if lay.is_folded() { half * beyond.x.max(0.0) } else { beyond.x };
        Beyond { point: ClothPoint { x_mm, y_mm: beyond.y, ..point }, away_mm }
    });
    [over_fold, over_ridge, None, None]
}

/// Whether a point of the fold line lies on the first or the last crease: its foot is the line's own end there.
fn is_crease(chain: &Chain, on_fold: Point) -> bool {
    let foot = chain.foot(on_fold);
    let ends = chain.ends_on_fold();
    let pieces = chain.pieces();
    let width_mm = pieces[foot.piece].width_mm(foot.distance_mm).abs();
    (ends[0] && foot.piece == 0 && foot.share * width_mm < AT_END_MM)
        || (ends[1] && foot.piece + 1 == pieces.len() && (1.0 - foot.share) * width_mm < AT_END_MM)
}

/// The point over the nearest ridge, and how far both are from it, mm. Where two feet are equally near runs the ridge, across the
/// difference of their normals: exact where both feet are on straight pieces, elsewhere to the ridge's own bend.
fn over_ridge(chain: &Chain, laid: Point, within_mm: f64) -> Option<(Point, f64)> {
    let own = chain.foot(laid);
    let own_mm = own.distance_mm.abs();
    let sign = if own.distance_mm < 0.0 { -1.0 } else { 1.0 };
    let towards = |foot: &Foot| sign * chain.pieces()[foot.piece].normal(foot.share);
    let own_normal = towards(&own);
    let mut nearest: Option<(Vec2, f64)> = None;
    chain.tree().within(laid, own_mm + 2.0 * within_mm, |piece| {
        let Some(distance_mm) = chain.distance_to_mm(piece, laid) else { return };
        if piece == own.piece || distance_mm * sign < 0.0 || !chain.is_there(piece, distance_mm) {
            return;
        }
        let foot = Foot { piece, share: chain.pieces()[piece].share(laid), distance_mm };
        let difference = own_normal - towards(&foot);
        let bend = difference.hypot();
        // Over the distance d2 - d1 the ridge is (d2 - d1) / |n1 - n2| away.
        let away_mm = ((distance_mm.abs() - own_mm) / bend).max(0.0);
        if bend > LEAST_BEND && away_mm < nearest.map_or(within_mm, |(_, away_mm)| away_mm) {
            nearest = Some((difference / bend, away_mm));
        }
    });
    nearest.map(|(across, away_mm)| (laid + 2.0 * away_mm * across, away_mm))
}
