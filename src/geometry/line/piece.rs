//! The pieces that a line is made of: straight strips, and fans.
//!
//! A piece carries the cloth beside it as well. Every point of a strip or fan is the foot of a normal, and the point at a signed distance
//! `d` on the normal at a share `s` of the piece is
//!
//! ```text
//! strip   start + s length u + d n                  n = (u.y, -u.x), u its direction
//! fan     centre + (R + d) (cos a, sin a)           a = first normal's angle + s turn
//! ```
//!
//! so that parallels of strips are straight, those of fans arcs, and both are `length + d turn` long (Steiner's formula for a piece:
//! J. Steiner, Ueber parallele Flaechen, 1840; from memory). A corner is a fan of radius 0. Normals look to the left of who walks along
//! the line with `y` up; in the garment's frame, `y` down, that is outward for a ring that runs clockwise as drawn. A fan that bulges
//! outward turns by a positive angle and has a positive radius, one that bulges inward has both negative.

use crate::geometry::{Arc, Stretch};
use kurbo::{Line, Point, Rect, Vec2};
use std::f64::consts::{FRAC_PI_2, TAU};
use std::ops::Range;

/// How far beyond its ends a piece still answers for a point, mm on strips and rad on fans: rounding must leave no gap between pieces.
const SLACK: f64 = 1e-9;

/// A piece of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Piece {
    /// A straight piece.
    Strip(Strip),
    /// Part of a circle, or a corner.
    Fan(Fan),
}

/// A straight piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strip {
    pub(crate) start: Point,
    /// Unit vector along it.
    pub(crate) along: Vec2,
    pub(crate) length_mm: f64,
}

/// Part of a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fan {
    pub(crate) centre: Point,
    /// Negative where it bulges inward, 0 at a corner.
    pub(crate) radius_mm: f64,
    /// Direction of its first normal, rad from the x axis towards y.
    pub(crate) from_rad: f64,
    /// By how much its normal turns; never 0.
    pub(crate) turn_rad: f64,
    /// Where it begins on the line, and its normal there.
    start: Point,
    first: Vec2,
    /// Its middle normal, turned round where it bulges inward: where its points look from the centre.
    middle: Vec2,
    /// Cosine and sine of half its turn, a little widened.
    cos_half: f64,
    sin_half: f64,
}

impl Strip {
    /// The straight piece between two points; none where they are one.
    pub(crate) fn between(start: Point, end: Point) -> Option<Self> {
        let length_mm = (end - start).hypot();
        (length_mm > 0.0).then(|| Self { start, along: (end - start) / length_mm, length_mm })
    }

    fn normal(&self) -> Vec2 {
        normal_of(self.along)
    }
}

impl Fan {
    /// A fan about `centre`; `radius_mm` and `turn_rad` have the same sign, and the turn is not 0.
    pub(crate) fn new(centre: Point, radius_mm: f64, from_rad: f64, turn_rad: f64) -> Self {
        let half = 0.5 * turn_rad.abs() + SLACK;
        let first = Vec2::from_angle(from_rad);
        let middle = turn_rad.signum() * Vec2::from_angle(from_rad + 0.5 * turn_rad);
        let (sin_half, cos_half) = if half < 0.5 * TAU { half.sin_cos() } else { (0.0, -2.0) };
        let start = centre + radius_mm * first;
        Self { centre, radius_mm, from_rad, turn_rad, start, first, middle, cos_half, sin_half }
    }

    /// The fan that begins at a point with this normal there.
    pub(crate) fn from_start(start: Point, normal: Vec2, radius_mm: f64, turn_rad: f64) -> Self {
        Self { start, first: normal, ..Self::new(start - radius_mm * normal, radius_mm, normal.atan2(), turn_rad) }
    }

    /// The corner at which the walk's direction turns from one unit vector into another, by this angle.
    pub(crate) fn corner(at: Point, before: Vec2, turn_rad: f64) -> Self {
        Self::new(at, 0.0, normal_of(before).atan2(), turn_rad)
    }

    fn sign(&self) -> f64 {
        self.turn_rad.signum()
    }

    /// The way from its centre to a point, turned round where it bulges inward: along its first normal and across it. Found from its start
    /// rather than from the centre, which may be so far away that digits are lost.
    fn seen_from_centre(&self, point: Point) -> (f64, f64) {
        let from_start = point - self.start;
        (self.radius_mm.abs() + self.sign() * self.first.dot(from_start), self.sign() * self.first.cross(from_start))
    }

    /// The signed distance of a point from the whole circle, mm.
    fn distance_mm(&self, point: Point) -> f64 {
        let (along, across) = self.seen_from_centre(point);
        let radius_mm = self.radius_mm.abs();
        // |X - C| - |R| without the difference of two large numbers.
        let beyond = along - radius_mm;
        let away_mm = along.hypot(across);
        self.sign() * (beyond * (along + radius_mm) + across * across) / (away_mm + radius_mm).max(f64::MIN_POSITIVE)
    }
}

/// A vector turned by the angle of which these are sine and cosine.
fn turned(by: Vec2, sine: f64, cosine: f64) -> Vec2 {
    Vec2::new(cosine * by.x - sine * by.y, sine * by.x + cosine * by.y)
}

/// The normal of a direction of walking.
pub(crate) fn normal_of(along: Vec2) -> Vec2 {
    Vec2::new(along.y, -along.x)
}

impl Piece {
    /// Length on the line itself, mm.
    pub(crate) fn length_mm(&self) -> f64 {
        match self {
            Self::Strip(strip) => strip.length_mm,
            Self::Fan(fan) => fan.radius_mm * fan.turn_rad,
        }
    }

    /// By how much it turns, rad.
    pub(crate) fn turn_rad(&self) -> f64 {
        match self {
            Self::Strip(_) => 0.0,
            Self::Fan(fan) => fan.turn_rad,
        }
    }

    /// Length of its parallel at a distance, mm; not positive where it has none.
    pub(crate) fn width_mm(&self, distance_mm: f64) -> f64 {
        self.length_mm() + distance_mm * self.turn_rad()
    }

    /// The point at a distance on the normal at a share of it.
    pub(crate) fn point(&self, share: f64, distance_mm: f64) -> Point {
        match self {
            Self::Strip(strip) => strip.start + share * strip.length_mm * strip.along + distance_mm * strip.normal(),
            Self::Fan(fan) => {
                // From its start along the chord, which looks along the normal half-way, turned by a quarter.
                let (sine, cosine) = (0.5 * share * fan.turn_rad).sin_cos();
                let half_way = turned(fan.first, sine, cosine);
                let normal = turned(half_way, sine, cosine);
                fan.start + 2.0 * fan.radius_mm * sine * half_way.turn_90() + distance_mm * normal
            }
        }
    }

    /// The normal at a share of it.
    pub(crate) fn normal(&self, share: f64) -> Vec2 {
        match self {
            Self::Strip(strip) => strip.normal(),
            Self::Fan(fan) => Vec2::from_angle(fan.from_rad + share * fan.turn_rad),
        }
    }

    /// The direction of walking at a share of it.
    pub(crate) fn along(&self, share: f64) -> Vec2 {
        let normal = self.normal(share);
        Vec2::new(-normal.y, normal.x)
    }

    /// The signed distance of a point whose foot is on this piece, mm; none where no normal leads to it.
    #[inline]
    pub(crate) fn distance_mm(&self, point: Point) -> Option<f64> {
        match self {
            Self::Strip(strip) => {
                let from_start = point - strip.start;
                let at_mm = from_start.dot(strip.along);
                (at_mm >= -SLACK && at_mm <= strip.length_mm + SLACK).then(|| from_start.dot(strip.normal()))
            }
            Self::Fan(fan) => {
                let from_centre = point - fan.centre;
                let away_mm = from_centre.hypot2().sqrt();
                if fan.radius_mm == 0.0 {
                    return (from_centre.dot(fan.middle) >= away_mm * fan.cos_half).then(|| fan.sign() * away_mm);
                }
                (from_centre.dot(fan.middle) >= away_mm * fan.cos_half).then(|| fan.distance_mm(point))
            }
        }
    }

    /// Whether a normal may lead to any point within a radius of another; a no is certain.
    pub(crate) fn may_answer(&self, middle: Point, radius_mm: f64) -> bool {
        match self {
            Self::Strip(strip) => {
                let at_mm = (middle - strip.start).dot(strip.along);
                at_mm >= -radius_mm - SLACK && at_mm <= strip.length_mm + radius_mm + SLACK
            }
            Self::Fan(fan) => {
                let from_centre = middle - fan.centre;
                let away_mm = from_centre.hypot();
                if away_mm <= radius_mm || fan.cos_half < -1.0 {
                    return true;
                }
                // The disc's half angle as seen from the centre is added to the fan's.
                let (sine, cosine) = (radius_mm / away_mm, (1.0 - (radius_mm / away_mm).powi(2)).sqrt());
                let is_all_round = fan.sin_half * cosine + fan.cos_half * sine <= 0.0;
                let least = fan.cos_half * cosine - fan.sin_half * sine;
                is_all_round || from_centre.dot(fan.middle) >= away_mm * (least - SLACK)
            }
        }
    }

    /// By how much the normals that lead to points within a radius of another may differ from that which leads to it, rad; at most.
    pub(crate) fn normals_differ_rad(&self, middle: Point, radius_mm: f64) -> f64 {
        match self {
            Self::Strip(_) => 0.0,
            Self::Fan(fan) => {
                let away_mm = (middle - fan.centre).hypot();
                if away_mm > radius_mm { (radius_mm / away_mm).asin().min(fan.turn_rad.abs()) } else { fan.turn_rad.abs() }
            }
        }
    }

    /// The signed distance of any point from the whole straight line or circle that the piece is part of, mm.
    pub(crate) fn carrier_distance_mm(&self, point: Point) -> f64 {
        match self {
            Self::Strip(strip) => (point - strip.start).dot(strip.normal()),
            Self::Fan(fan) => fan.distance_mm(point),
        }
    }

    /// The direction in which the distance from that whole straight line or circle grows.
    pub(crate) fn outward(&self, at: Point) -> Vec2 {
        match self {
            Self::Strip(strip) => strip.normal(),
            Self::Fan(fan) => {
                let from_centre = at - fan.centre;
                from_centre * (fan.sign() / from_centre.hypot().max(f64::MIN_POSITIVE))
            }
        }
    }

    /// The share at which the normal leads to a point, the nearest end's where none does.
    pub(crate) fn share(&self, point: Point) -> f64 {
        match self {
            Self::Strip(strip) => ((point - strip.start).dot(strip.along) / strip.length_mm).clamp(0.0, 1.0),
            Self::Fan(fan) => {
                let sweep_rad = fan.turn_rad.abs();
                let off_rad = if fan.radius_mm == 0.0 {
                    (((fan.sign() * (point - fan.centre)).atan2() - fan.from_rad) * fan.sign()).rem_euclid(TAU)
                } else {
                    let (along, across) = fan.seen_from_centre(point);
                    (across * fan.sign()).atan2(along).rem_euclid(TAU)
                };
                // Beyond the end and nearer to the beginning counts as the beginning.
                if off_rad > sweep_rad && TAU - off_rad < off_rad - sweep_rad { 0.0 } else { (off_rad / sweep_rad).min(1.0) }
            }
        }
    }

    /// The upright box round the piece itself.
    pub(crate) fn bounds(&self) -> Rect {
        let ends = Rect::from_points(self.point(0.0, 0.0), self.point(1.0, 0.0));
        let Self::Fan(fan) = self else { return ends };
        let (low_rad, high_rad) = ordered(fan.from_rad, fan.from_rad + fan.turn_rad);
        let mut quarter = (low_rad / FRAC_PI_2).ceil();
        let mut bounds = ends;
        while quarter * FRAC_PI_2 < high_rad {
            bounds = bounds.union_pt(fan.centre + fan.radius_mm * Vec2::from_angle(quarter * FRAC_PI_2));
            quarter += 1.0;
        }
        bounds
    }

    /// Its parallel at a distance, between two shares of it.
    pub(crate) fn stretch(&self, distance_mm: f64, shares: Range<f64>) -> Stretch {
        match self {
            Self::Strip(_) => {
                Stretch::Straight(Line::new(self.point(shares.start, distance_mm), self.point(shares.end, distance_mm)))
            }
            Self::Fan(fan) => {
                let away_mm = fan.radius_mm + distance_mm;
                let turned_rad = if away_mm < 0.0 { 0.5 * TAU } else { 0.0 };
                let at = |share: f64| fan.from_rad + share * fan.turn_rad + turned_rad;
                let (from_rad, to_rad) = ordered(at(shares.start), at(shares.end));
                Stretch::Arc(Arc { centre: fan.centre, radius_mm: away_mm.abs(), from_rad, to_rad })
            }
        }
    }

    /// What its parallel between two shares adds to the area within, by Green's theorem: `1/2 (x dy - y dx)`, mm2.
    pub(crate) fn green_mm2(&self, distance_mm: f64, shares: Range<f64>) -> f64 {
        let (from, to) = (self.point(shares.start, distance_mm).to_vec2(), self.point(shares.end, distance_mm).to_vec2());
        match self {
            Self::Strip(_) => 0.5 * from.cross(to),
            Self::Fan(fan) => {
                let away_mm = fan.radius_mm + distance_mm;
                let swept_rad = (shares.end - shares.start) * fan.turn_rad;
                // The chord's, and the segment between chord and arc.
                0.5 * (from.cross(to) + away_mm * away_mm * less_sine(swept_rad))
            }
        }
    }
}

/// An angle less its sine.
fn less_sine(angle_rad: f64) -> f64 {
    let square = angle_rad * angle_rad;
    if square > 0.01 {
        return angle_rad - angle_rad.sin();
    }
    // Its series: the difference of the two would lose digits.
    angle_rad * square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0 * (1.0 - square / 72.0)))
}

fn ordered(a: f64, b: f64) -> (f64, f64) {
    if a <= b { (a, b) } else { (b, a) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn feet_of_a_strip_and_of_both_kinds_of_fan() {
        let strip = Piece::Strip(Strip::between(Point::new(10.0, 0.0), Point::new(30.0, 0.0)).unwrap());
        // To the right with y down: outward is up.
        assert_eq!(strip.distance_mm(Point::new(12.0, -5.0)), Some(5.0));
        assert_eq!((strip.distance_mm(Point::new(9.0, -5.0)), strip.share(Point::new(15.0, 7.0))), (None, 0.25));
        let bulging = Piece::Fan(Fan::new(Point::ORIGIN, 50.0, -0.5 * PI, PI));
        let hollow = Piece::Fan(Fan::new(Point::ORIGIN, -50.0, 0.5 * PI, -PI));
        for (fan, sign) in [(bulging, 1.0), (hollow, -1.0)] {
            assert!((fan.length_mm() - 50.0 * PI).abs() < 1e-12);
            for share in [0.0, 0.3, 1.0] {
                for distance_mm in [-20.0, 0.0, 20.0] {
                    let at = fan.point(share, distance_mm);
                    assert!((fan.distance_mm(at).unwrap() - distance_mm).abs() < 1e-12 && (fan.share(at) - share).abs() < 1e-12);
                    assert!((at.to_vec2().hypot() - 50.0 - sign * distance_mm).abs() < 1e-12);
                }
            }
            assert!(fan.bounds().contains(fan.point(0.5, -1e-9 * sign)));
        }
    }
}
