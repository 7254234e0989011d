//! The lines on which the binds of a plan lie, cut into sectors that are looked at one by one. Of one of several ties they run where no other
//! tie's cloth lies beside them.

use super::Plan;
use kurbo::{Point, Vec2};

/// From point to point along a line, mm.
const STEP_MM: f64 = 3.5;
/// Least length of a sector, mm: two or three pleats near the tip.
const SECTOR_MM: f64 = 14.0;
/// Least angle of a sector seen from a burst's centre, rad: 6 degrees.
const SECTOR_RAD: f64 = 0.105;
/// Over what distance the direction away from the tip is taken, mm.
const SLOPE_MM: f64 = 0.25;

/// A part of a bind's line on the plan.
#[derive(Debug, Clone)]
pub(super) struct Sector {
    /// Points along it as they are seen, each with the direction in which the distance along the bundle grows.
    pub(super) points: Vec<(Point, Vec2)>,
}

impl Sector {
    /// Its point half-way.
    pub(super) fn middle(&self) -> (Point, Vec2) {
        self.points[self.points.len() / 2]
    }
}

/// A bind's line with what there is of it on the cloth.
#[derive(Debug, Clone)]
pub(super) struct Track {
    /// Where the bind lies along the bundle, mm.
    pub(super) along_mm: f64,
    /// How far away its nearer neighbour is, mm.
    pub(super) gap_mm: f64,
    pub(super) sectors: Vec<Sector>,
}

/// Every bind's line, from the tip outward.
pub(super) fn tracks(plan: &Plan) -> Vec<Track> {
    let along: Vec<f64> = plan.layout().binds().binds.iter().map(|bind| bind.radius_mm).collect();
    let last_mm = plan.layout().fold().length_mm();
    let gap = |at: usize| {
        let before = if at == 0 { 0.0 } else { along[at - 1] };
        let after = along.get(at + 1).copied().unwrap_or_else(|| last_mm.max(along[at] + OUTERMOST_MM));
        (along[at] - before).min(after - along[at])
    };
    let track = |at: usize| Track { along_mm: along[at], gap_mm: gap(at), sectors: sectors(plan, along[at], gap(at)) };
    (0..along.len()).map(track).collect()
}

/// How far on both sides of a line no other tie's cloth may lie, mm, at most 0.45 of the gap: what of it is compared.
const BESIDE_MM: f64 = 7.0;

/// How far beyond the outermost bind there is something to see at least, mm.
const OUTERMOST_MM: f64 = 30.0;

fn sectors(plan: &Plan, along_mm: f64, gap_mm: f64) -> Vec<Sector> {
    let fold = plan.layout().fold();
    let long_mm = if plan.centre().is_some() { SECTOR_MM.max(SECTOR_RAD * along_mm) } else { SECTOR_MM };
    let beside_mm = BESIDE_MM.min(0.45 * gap_mm);
    let mut sectors = Vec::new();
    for stretch in fold.parallel(&[plan.side()], along_mm) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a line of a garment in steps")]
        let count = ((stretch.length_mm() / STEP_MM) as usize).max(1);
        let points: Vec<Point> = (0..count).map(|step| stretch.point((step as f64 + 0.5) / count as f64)).collect();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few steps")]
        let each = ((long_mm / STEP_MM).round() as usize).max(1);
        for half in opened(plan, &points) {
            let places: Vec<(Point, Vec2)> = half.iter().map(|&at| (at, outward(plan, at))).collect();
            let own =
                places.split(|(at, outward)| [-beside_mm, 0.0, beside_mm].iter().any(|mm| plan.is_others(*at + *mm * *outward)));
            let chunks = own.flat_map(|run| run.chunks(each)).filter(|chunk| 2 * chunk.len() > each);
            sectors.extend(chunks.map(|chunk| Sector { points: chunk.to_vec() }));
        }
    }
    sectors
}

/// The points of a laid line on the opened garment as it is seen: twice where it was folded.
fn opened(plan: &Plan, laid: &[Point]) -> Vec<Vec<Point>> {
    let turned = |mirror: f64| laid.iter().map(|at| plan.turned(Point::new(mirror * at.x, at.y))).collect();
    if plan.layout().lay().is_folded() { vec![turned(1.0), turned(-1.0)] } else { vec![turned(1.0)] }
}

fn outward(plan: &Plan, at: Point) -> Vec2 {
    if let Some(centre) = plan.centre() {
        return (at - centre).normalize();
    }
    let slope = |axis: Vec2| plan.along_mm(at + axis) - plan.along_mm(at - axis);
    Vec2::new(slope(Vec2::new(SLOPE_MM, 0.0)), slope(Vec2::new(0.0, SLOPE_MM))).normalize()
}
