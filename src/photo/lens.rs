//! How the camera saw the table: a plane seen by a lens that bends straight lines a little.
//!
//! A point of the plan, mm, goes to `c` by a homography, in half diagonals from the picture's middle, and from there to
//! `(1 + radial |c|^2) c`. The homography is [`Homography`], fitted to the marks with the lens's bend taken out; the one radial term is sought
//! so that the sum of squares is least, with what is known of cameras as one more observation. (Brown, D. C., *Close-range camera calibration*,
//! Photogrammetric Engineering 37 (1971), 855-866, with its first radial term alone.)

use super::PhotoError;
use crate::projection::{Homography, Pair};
use kurbo::{Point, Size, Vec2};

/// Strongest bend that is looked for; a camera's picture of a whole shirt bends by a few hundredths (common practice, no source).
const MOST_RADIAL: f64 = 0.25;
/// The radial term is found within this.
const RADIAL_TOLERANCE: f64 = 1e-7;
/// Fewest points with which there is something left to see a bend by.
const FEWEST_FOR_RADIAL: usize = 5;
/// Steps that take the bend out of a place; each makes the error a tenth or less.
const STEPS: usize = 12;
/// Half of the distance over which slopes are taken, mm.
const SLOPE_MM: f64 = 0.5;

/// What is known before the marks are looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LensPrior {
    /// How far a mark's point on the laid garment lies from where the plan has it, mm: 4 (measured on drawn photographs).
    pub mark_sd_mm: f64,
    /// Spread of the radial term round 0: 0.02 (own choice, from what cameras of telephones are commonly known to have).
    pub radial_sd: f64,
}

impl Default for LensPrior {
    fn default() -> Self {
        Self { mark_sd_mm: 4.0, radial_sd: 0.02 }
    }
}

/// The map from the plan as it is seen, mm, to places of the picture, px.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lens {
    plane: Homography,
    radial: f64,
    picture: Size,
}

impl Lens {
    /// The map that fits marks best: from the plan, mm, to the picture, px. With four it is exact, and the lens taken as straight.
    ///
    /// # Errors
    /// [`PhotoError::Unsettled`] where the marks settle no map; [`PhotoError::Mirrored`] where they see the plan from behind.
    pub fn fit(pairs: &[Pair], picture: [u32; 2], prior: LensPrior) -> Result<Self, PhotoError> {
        let picture = Size::new(f64::from(picture[0]), f64::from(picture[1]));
        let with = |radial: f64| Self::with_radial(pairs, picture, radial);
        let straight = with(0.0).ok_or(PhotoError::Unsettled { points: pairs.len() })?;
        if straight.plane.is_mirrored() {
            return Err(PhotoError::Mirrored { points: pairs.len() });
        }
        if pairs.len() < FEWEST_FOR_RADIAL {
            return Ok(straight);
        }
        let cost = |radial: f64| with(radial).map_or(f64::INFINITY, |lens| lens.cost(pairs, prior));
        Ok(with(least(cost, MOST_RADIAL)).unwrap_or(straight))
    }

    /// The best homography where the radial term is known.
    fn with_radial(pairs: &[Pair], picture: Size, radial: f64) -> Option<Self> {
        let straightened = |pair: &Pair| Pair { from: pair.from, to: straight(normal(pair.to, picture), radial) };
        let pairs: Vec<Pair> = pairs.iter().map(straightened).collect();
        Some(Self { plane: Homography::fit(&pairs).ok()?, radial, picture })
    }

    fn cost(&self, pairs: &[Pair], prior: LensPrior) -> f64 {
        let off_mm = |pair: &Pair| {
            let seen = self.apply(pair.from)?;
            Some(seen.distance(pair.to) / self.px_per_mm(pair.from)?)
        };
        let squares = pairs.iter().map(|pair| off_mm(pair).map_or(f64::INFINITY, |mm| (mm / prior.mark_sd_mm).powi(2)));
        squares.sum::<f64>() + (self.radial / prior.radial_sd).powi(2)
    }

    /// The radial term: how much longer the half diagonal is drawn than a straight lens would, as a share.
    #[must_use]
    pub const fn radial(&self) -> f64 {
        self.radial
    }

    /// Where a point of the plan is seen, px; none beyond the horizon.
    #[must_use]
    #[inline]
    pub fn apply(&self, plan: Point) -> Option<Point> {
        let c = self.plane.apply(plan)?.to_vec2();
        let half_px = 0.5 * self.picture.to_vec2().hypot();
        Some((0.5 * self.picture.to_vec2() + half_px * (1.0 + self.radial * c.hypot2()) * c).to_point())
    }

    /// How far a mm of the plan along x and one along y reach in the picture, px.
    #[must_use]
    pub fn slopes(&self, plan: Point) -> Option<[Vec2; 2]> {
        let along = |axis: Vec2| Some((self.apply(plan + axis)? - self.apply(plan - axis)?) / (2.0 * SLOPE_MM));
        Some([along(Vec2::new(SLOPE_MM, 0.0))?, along(Vec2::new(0.0, SLOPE_MM))?])
    }

    /// How many pixels a mm has at a point of the plan, the root of what its area has.
    #[must_use]
    pub fn px_per_mm(&self, plan: Point) -> Option<f64> {
        let [x, y] = self.slopes(plan)?;
        Some(x.cross(y).abs().sqrt())
    }

    /// What a distance in the picture, px, is on the plan, mm.
    pub(super) fn on_plan(&self, plan: Point, seen: Vec2) -> Option<Vec2> {
        let [x, y] = self.slopes(plan)?;
        let area = x.cross(y);
        (area.abs() > f64::EPSILON).then(|| Vec2::new(seen.cross(y) / area, x.cross(seen) / area))
    }

    /// The point of the plan that is seen at a place of the picture.
    #[must_use]
    pub fn back(&self, seen: Point, middle: Point) -> Option<Point> {
        self.plane.inverse(middle)?.apply(straight(normal(seen, self.picture), self.radial))
    }
}

/// A place in half diagonals from the picture's middle.
fn normal(px: Point, picture: Size) -> Point {
    ((px.to_vec2() - 0.5 * picture.to_vec2()) / (0.5 * picture.to_vec2().hypot())).to_point()
}

/// Takes the bend out of a place.
fn straight(bent: Point, radial: f64) -> Point {
    let mut c = bent.to_vec2();
    for _ in 0..STEPS {
        // Newton's method for the length; the direction stays.
        let square = c.hypot2();
        let excess = (1.0 + radial * square) * c - bent.to_vec2();
        c -= excess / (1.0 + 3.0 * radial * square);
    }
    c.to_point()
}

/// Where a smooth function with one valley between `-most` and `most` is least: golden sections (Kiefer, J., *Sequential minimax search for a
/// maximum*, Proc. Amer. Math. Soc. 4 (1953), 502-506).
fn least(cost: impl Fn(f64) -> f64, most: f64) -> f64 {
    let share = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut low, mut high) = (-most, most);
    let (mut left, mut right) = (high - share * (high - low), low + share * (high - low));
    let (mut at_left, mut at_right) = (cost(left), cost(right));
    while high - low > RADIAL_TOLERANCE {
        if at_left < at_right {
            (high, right, at_right) = (right, left, at_left);
            left = high - share * (high - low);
            at_left = cost(left);
        } else {
            (low, left, at_left) = (left, right, at_right);
            right = low + share * (high - low);
            at_right = cost(right);
        }
    }
    0.5 * (low + high)
}
