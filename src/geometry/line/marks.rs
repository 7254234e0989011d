//! What is marked on the laid cloth beside a line's parallels.

use super::chain::{Chain, Foot};
use super::normals::{Ending, Normal, Reach, at_creases, reach_at};
use super::piece::Piece;
use super::pleating::{CORNER_RAD, Pleating};
use super::ridge::Way;
use super::unflat::LoneEnds;
use crate::geometry::{Crease, Lay, Outline, Panel, Pin};
use kurbo::{Line, Point, Rect};

/// Pins nearer to each other than this are one, mm: the breadth of a chalk line (practice).
const CHALK_MM: f64 = 1.0;
/// Turn from which a bend is swung by a string rather than gauged with a card, rad: a quarter (own choice).
const LEAST_SWING_RAD: f64 = std::f64::consts::FRAC_PI_2;
/// How far from the middle between two normals' ends the ridge may be, mm: half a chalk line (practice).
const STRAYS_MM: f64 = 0.5;
/// What of the ridge is as short strays by less, unless it bends to a radius of less than itself, mm.
const SHORT_MM: f64 = 4.0;
/// Halvings of a stretch of the ridge: of a pleat's columns to a few hundredths.
const MOST_HALVINGS: u32 = 6;
/// What of a crease is shorter than this is left out, mm.
const SHORTEST_MM: f64 = 1e-6;
/// A crease nearer to the fold line than this all along is the fold, mm.
const ON_THE_FOLD_MM: f64 = 1e-6;

/// The creases on cloth from a signed distance on, as far as each of them reaches. The garment's own fold is left out.
pub(super) fn creases(chain: &Chain, lay: &Lay, normals: &[Normal], lone: &LoneEnds, from_mm: f64) -> Vec<Crease> {
    let count = at_creases(normals).count();
    // The last crease of a line that closes is its first.
    let distinct = if chain.course() == super::chain::Course::Closed { count - 1 } else { count };
    let mut creases = Vec::new();
    for (number, normal) in at_creases(normals).take(distinct).enumerate() {
        for way in Way::BOTH {
            let reach = normal.reach[way as usize];
            let (near_mm, far_mm) = match way {
                Way::Out => (from_mm.max(0.0), reach.away_mm),
                Way::In => (-reach.away_mm.min(-from_mm), 0.0),
            };
            let (near_mm, far_mm) = if way == Way::In { (near_mm.max(from_mm), far_mm) } else { (near_mm, far_mm) };
            if far_mm - near_mm < SHORTEST_MM || (way == Way::In && from_mm >= 0.0) {
                continue;
            }
            let ends_alone = lone[way as usize][number].is_some();
            let (piece, share) = reach.foot;
            let at = |distance_mm| chain.point(Foot { piece, share, distance_mm });
            let line = Line::new(at(near_mm), at(far_mm));
            if lay.is_folded() && line.p0.x.abs().max(line.p1.x.abs()) < ON_THE_FOLD_MM {
                continue;
            }
            creases.extend(lay.pieces_on_cloth(line).into_iter().map(|line| Crease {
                line,
                is_over: number % 2 == 0,
                ends_alone,
                number: u32::try_from(number + 1).unwrap_or(u32::MAX),
                toward: None,
            }));
        }
    }
    creases
}

/// The ridge on cloth: pieces between the ends of normals, so many that straight lines between them stray little.
pub(super) fn ridge(chain: &Chain, pleating: &Pleating, lay: &Lay, normals: &[Normal]) -> Vec<Line> {
    let mut ridge = Vec::new();
    let cloth: Vec<Rect> = lay.outlines(&Panel::BOTH).map(Outline::bounds).collect();
    for way in Way::BOTH {
        let end = |at_mm: f64, beside_mm: f64| {
            let reach = reach_at(chain, pleating, lay, at_mm, way, beside_mm);
            (reach.ending == Ending::Ridge).then(|| RidgeEnd::of(chain, way, at_mm, &reach))
        };
        for two in normals.windows(2).filter(|two| two.iter().all(|normal| normal.reach[way as usize].ending == Ending::Ridge)) {
            let ends = [&two[0], &two[1]].map(|normal| RidgeEnd::of(chain, way, normal.at_mm, &normal.reach[way as usize]));
            if cloth.iter().any(|cloth| cloth.overlaps(about(&ends))) {
                push_ridge(&mut ridge, &end, ends, MOST_HALVINGS);
            }
        }
    }
    ridge
        .into_iter()
        .filter(|piece| piece.p0.distance(piece.p1) > SHORTEST_MM)
        .flat_map(|piece| lay.pieces_on_cloth(piece))
        .collect()
}

/// The box that a stretch of the ridge between two points lies in; it strays from the straight line by less than its length.
fn about([from, to]: &[RidgeEnd; 2]) -> Rect {
    let strays_mm = from.point.distance(to.point);
    Rect::from_points(from.point, to.point).inflate(strays_mm, strays_mm)
}

/// Where a normal ends on the ridge.
#[derive(Debug, Clone, Copy)]
struct RidgeEnd {
    /// Its place along the line, mm as measured on the guide.
    at_mm: f64,
    point: Point,
    /// How far it reaches, mm.
    away_mm: f64,
}

impl RidgeEnd {
    fn of(chain: &Chain, way: Way, at_mm: f64, reach: &Reach) -> Self {
        Self { at_mm, point: reach.end(chain, way), away_mm: reach.away_mm }
    }
}

fn push_ridge(ridge: &mut Vec<Line>, end: &dyn Fn(f64, f64) -> Option<RidgeEnd>, ends: [RidgeEnd; 2], halvings: u32) {
    let [from, to] = ends;
    let strays = |middle: &RidgeEnd| middle.point.distance(from.point.midpoint(to.point)) > STRAYS_MM;
    let is_short = halvings == 0 || from.point.distance(to.point) <= SHORT_MM;
    let middle = if is_short { None } else { end(0.5 * (from.at_mm + to.at_mm), from.away_mm.max(to.away_mm)) };
    match middle.filter(strays) {
        Some(middle) => {
            push_ridge(ridge, end, [from, middle], halvings - 1);
            push_ridge(ridge, end, [middle, to], halvings - 1);
        }
        None => ridge.push(Line::new(from.point, to.point)),
    }
}

/// The centres of corners, and of circles as far as they make up a good part of the line; `tip_mm` is the signed distance of the bundle's
/// tip.
pub(super) fn pins(chain: &Chain, tip_mm: f64) -> Vec<Pin> {
    let mut swung: Vec<(Pin, f64)> = Vec::new();
    for piece in chain.pieces() {
        let Piece::Fan(fan) = piece else { continue };
        let pin = Pin { at: fan.centre, origin_mm: -fan.radius_mm - tip_mm, is_shortening: fan.turn_rad < 0.0 };
        let is_one = |known: &Pin| {
            known.at.distance(pin.at) <= CHALK_MM
                && (known.origin_mm - pin.origin_mm).abs() <= CHALK_MM
                && known.is_shortening == pin.is_shortening
        };
        let least_rad = if fan.radius_mm == 0.0 { CORNER_RAD } else { LEAST_SWING_RAD };
        let share = fan.turn_rad.abs() / least_rad;
        match swung.iter_mut().find(|(known, _)| is_one(known)) {
            Some(known) => known.1 += share,
            None => swung.push((pin, share)),
        }
    }
    swung.into_iter().filter(|(_, share)| *share >= 1.0).map(|(pin, _)| pin).collect()
}
