//! The cloth over the ridge of a line, and over the garment's own fold where that is no crease.

use super::chain::{Chain, Foot};
use super::tiles::Tiles;
use crate::geometry::{Beyond, ClothPoint, Joins, Lay};
use kurbo::{Point, Vec2};
use std::f64::consts::{PI, TAU};
use std::sync::OnceLock;

/// Normals that differ by less than this meet in no ridge that can be felt: a bend (own choice: 17 degrees).
const LEAST_BEND: f64 = 0.3;
/// How near to a line's end on the fold a foot counts as there, mm on the cloth.
const AT_END_MM: f64 = 1e-6;

/// Which pieces may lie over the ridge, tile by tile: over most of the cloth none does, and a picture asks for each of its points.
#[derive(Debug, Clone, Default)]
pub(super) struct OverRidge(OnceLock<(f64, Tiles)>);

impl OverRidge {
    /// Those from a point on whose ridge is within a distance, mm; unknown beyond the tiles, and for more than was asked for first.
    fn list(&self, chain: &Chain, point: Point, within_mm: f64) -> Option<&[u32]> {
        let (most_mm, tiles) = self.0.get_or_init(|| (within_mm, chain.tiles().anew()));
        let known = (within_mm <= *most_mm).then_some(tiles)?;
        known.list(point, |middle, radius_mm| may_lie_over(chain, middle, radius_mm, *most_mm))
    }
}

/// The pieces that may lie over the ridge from any point within a radius of another.
fn may_lie_over(chain: &Chain, middle: Point, radius_mm: f64, within_mm: f64) -> Vec<u32> {
    let (own, own_mm) = (chain.feet_about(middle, radius_mm), chain.nearest(middle).1.abs());
    // Where normals to the middle look, and how far those to points about it may look elsewhere.
    let looks = |piece: usize| {
        let piece = &chain.pieces()[piece];
        (piece.normal(piece.share(middle)).atan2(), piece.normals_differ_rad(middle, radius_mm))
    };
    let own: Vec<(usize, (f64, f64))> = own.into_iter().map(|piece| (piece as usize, looks(piece as usize))).collect();
    let mut pieces = Vec::new();
    chain.tree().within(middle, own_mm + 2.0 * (within_mm + radius_mm), |piece| {
        let carrier = &chain.pieces()[piece];
        if !carrier.may_answer(middle, radius_mm) {
            return;
        }
        let (at_rad, by_rad) = looks(piece);
        let bend = |&(other, (other_rad, other_by_rad)): &(usize, (f64, f64))| {
            let between_rad = (at_rad - other_rad + PI).rem_euclid(TAU) - PI;
            let most_rad = (between_rad.abs() + by_rad + other_by_rad).min(PI);
            if other == piece { 0.0 } else { 2.0 * (0.5 * most_rad).sin() }
        };
        // A point beyond all normals has its foot at an end of the line, which any normal may differ from.
        let bend = own.iter().map(bend).reduce(f64::max).unwrap_or(2.0);
        let is_near = || carrier.carrier_distance_mm(middle).abs() < own_mm + 2.0 * radius_mm + bend * within_mm;
        if bend > LEAST_BEND && is_near() {
            pieces.push(u32::try_from(piece).unwrap_or(u32::MAX));
        }
    });
    pieces
}

/// The cloth over the garment's fold and over the ridge, where either is nearer than `within_mm`.
pub(super) fn joins(chain: &Chain, over: &OverRidge, lay: &Lay, point: ClothPoint, within_mm: f64) -> Joins {
    let laid = lay.as_laid(point);
    let over_fold = (lay.is_folded() && laid.x < within_mm && !is_crease(chain, Point::new(0.0, laid.y)))
        .then(|| Beyond { point: ClothPoint { x_mm: -point.x_mm, ..point }, away_mm: laid.x });
    let over_ridge = over_ridge(chain, over, laid, within_mm).map(|(beyond, away_mm)| {
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
fn over_ridge(chain: &Chain, over: &OverRidge, laid: Point, within_mm: f64) -> Option<(Point, f64)> {
    let listed = over.list(chain, laid, within_mm);
    if listed.is_some_and(<[u32]>::is_empty) {
        return None;
    }
    let own = chain.foot(laid);
    let own_mm = own.distance_mm.abs();
    let sign = if own.distance_mm < 0.0 { -1.0 } else { 1.0 };
    let towards = |foot: &Foot| sign * chain.pieces()[foot.piece].normal(foot.share);
    let own_normal = towards(&own);
    let mut nearest: Option<(Vec2, f64)> = None;
    let mut hold = |piece: usize| {
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
    };
    match listed {
        Some(pieces) => pieces.iter().for_each(|&piece| hold(piece as usize)),
        None => chain.tree().within(laid, own_mm + 2.0 * within_mm, hold),
    }
    nearest.map(|(across, away_mm)| (laid + 2.0 * away_mm * across, away_mm))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// By its tile, and by looking at every piece: at each of some thousand points of every line of the examples, near and far, the same
    /// cloth lies over the ridge.
    #[test]
    fn tiles_leave_nothing_out() {
        let (mut asked, mut found) = (0, 0);
        let layouts = EXAMPLE_LAYOUTS.iter().map(|example| parse_layout(example.text).unwrap());
        for line in layouts.filter_map(|layout| layout.line().cloned()) {
            let (chain, unknown) = (line.chain(), OverRidge(OnceLock::from((0.0, Tiles::default()))));
            for within_mm in [60.0, 25.0] {
                let tiles = OverRidge::default();
                for step in 0..1500_u32 {
                    let share = |by: f64| (f64::from(step) * by).fract();
                    let at = Point::new(700.0 * share(0.754_877_7) - 350.0, 900.0 * share(0.569_840_3) - 50.0);
                    let by_tiles = over_ridge(chain, &tiles, at, within_mm);
                    assert_eq!(by_tiles, over_ridge(chain, &unknown, at, within_mm), "{at} within {within_mm} mm");
                    (asked, found) = (asked + 1, found + u32::from(by_tiles.is_some()));
                }
            }
        }
        assert!(asked > 9000 && (asked / 20..asked / 2).contains(&found), "{found} of {asked}");
    }
}
