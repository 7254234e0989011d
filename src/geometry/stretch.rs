//! Pieces of the lines that are marked on laid cloth: straight, or round a centre. Every line that a fold marks is made of them.

use kurbo::{Line, ParamCurve as _, Point, Vec2};

/// A straight piece or a part of a circle on the laid cloth, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stretch {
    /// Part of a circle.
    Arc(Arc),
    /// A straight piece.
    Straight(Line),
}

/// Part of a circle: from one angle to a greater one, rad from the x axis towards y.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// The circle's centre, mm.
    pub centre: Point,
    /// Its radius, mm.
    pub radius_mm: f64,
    /// Where it begins, rad.
    pub from_rad: f64,
    /// Where it ends, rad; above `from_rad`, by a full turn at the most.
    pub to_rad: f64,
}

impl Arc {
    /// The point in a direction from the centre, rad, whether the arc reaches it or not.
    #[must_use]
    pub fn point_at_rad(&self, angle_rad: f64) -> Point {
        self.centre + self.radius_mm * Vec2::from_angle(angle_rad)
    }
}

impl Stretch {
    /// Its length, mm.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        match self {
            Self::Arc(arc) => arc.radius_mm * (arc.to_rad - arc.from_rad),
            Self::Straight(line) => (line.p1 - line.p0).hypot(),
        }
    }

    /// The point at a share of its length, from 0 to 1.
    #[must_use]
    pub fn point(&self, share: f64) -> Point {
        match self {
            Self::Arc(arc) => arc.point_at_rad(arc.from_rad + share * (arc.to_rad - arc.from_rad)),
            Self::Straight(line) => line.eval(share),
        }
    }

    /// Points along it, both ends among them, between which straight lines stray by at most `tolerance_mm`.
    #[must_use]
    pub fn flattened(&self, tolerance_mm: f64) -> Vec<Point> {
        let Self::Arc(arc) = self else { return vec![self.point(0.0), self.point(1.0)] };
        // The sagitta of a step is about r step^2 / 8.
        let step_rad = (8.0 * tolerance_mm / arc.radius_mm.max(tolerance_mm)).sqrt();
        let count = ((arc.to_rad - arc.from_rad) / step_rad).ceil().clamp(2.0, MOST_STEPS);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a whole number between 2 and MOST_STEPS")]
        let count = count as u32;
        (0..=count).map(|step| self.point(f64::from(step) / f64::from(count))).collect()
    }
}

/// Most steps of a flattened arc: enough for 10 m to a tenth of a millimetre.
const MOST_STEPS: f64 = 2000.0;

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn a_flattened_arc_strays_no_farther_than_asked() {
        let arc = Arc { centre: Point::new(3.0, -2.0), radius_mm: 250.0, from_rad: -0.5 * PI, to_rad: 1.2 * PI };
        let points = Stretch::Arc(arc).flattened(0.15);
        assert_eq!(points[0], arc.point_at_rad(arc.from_rad));
        for pair in points.windows(2) {
            let off_mm = arc.radius_mm - pair[0].midpoint(pair[1]).distance(arc.centre);
            assert!((0.0..=0.15).contains(&off_mm), "{off_mm}");
        }
        let chords: f64 = points.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
        assert!((chords / Stretch::Arc(arc).length_mm() - 1.0).abs() < 1e-3);
    }

    #[test]
    fn a_straight_stretch_has_its_ends() {
        let line = Line::new((0.0, 0.0), (3.0, 4.0));
        let stretch = Stretch::Straight(line);
        assert_eq!((stretch.length_mm(), stretch.flattened(0.1)), (5.0, vec![line.p0, line.p1]));
        assert_eq!(stretch.point(0.5), Point::new(1.5, 2.0));
    }
}
