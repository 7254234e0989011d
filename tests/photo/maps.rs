//! Planted homographies, lenses and lay fields come back.

use crate::assert_close;
use crate::common::seeded::seeded;
use crate::drawn::random::Random;
use kurbo::{Point, Vec2};
use nalgebra::{DMatrix, DVector};
use pleatwright::photo::{Covariance, LayField, Lens, LensPrior, PhotoError, Seen};
use pleatwright::projection::Pair;
use proptest::prelude::*;

const PICTURE: [u32; 2] = [4000, 3000];

/// A camera over the table: tilted, turned, its picture bent, as the formula of Brown's first radial term has it.
fn seen(at: Point, [turn, tilt_x, tilt_y, scale]: [f64; 4], radial: f64) -> Point {
    let half = Vec2::new(2000.0, 1500.0);
    let v = at - Point::new(0.0, 370.0);
    let (sin, cos) = turn.sin_cos();
    let weight = 1.0 + (tilt_x * v.x + tilt_y * v.y) / 1000.0;
    let c = scale * Vec2::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y) / weight / half.hypot();
    (half + half.hypot() * (1.0 + radial * c.hypot2()) * c).to_point()
}

fn points() -> Vec<Point> {
    let half = [(90.0, 0.0), (256.0, 735.0), (414.0, 141.0), (256.0, 265.0), (337.0, 294.0), (224.0, 45.0)];
    half.iter().flat_map(|&(x, y)| [Point::new(x, y), Point::new(-x, y)]).chain([Point::new(0.0, 98.0)]).collect()
}

proptest! {
    #![proptest_config(seeded(16_001, 64))]
    /// With marks believed, the lens comes back whatever its bend; with nothing known of it, half a pixel everywhere.
    #[test]
    fn a_planted_camera_comes_back(
        turn in -3.0..3.0_f64, tilt_x in -0.3..0.3_f64, tilt_y in -0.3..0.3_f64, scale in 2.0..3.5_f64, radial in -0.1..0.1_f64,
    ) {
        let camera = [turn, tilt_x, tilt_y, scale];
        let pairs: Vec<Pair> = points().iter().map(|&from| Pair { from, to: seen(from, camera, radial) }).collect();
        let believed = LensPrior { mark_sd_mm: 1e-4, radial_sd: 1.0 };
        let lens = Lens::fit(&pairs, PICTURE, believed).unwrap();
        assert_close!(lens.radial(), radial, 1e-4);
        for at in [Point::new(10.0, 300.0), Point::new(-300.0, 500.0), Point::new(350.0, 700.0)] {
            prop_assert!(lens.apply(at).unwrap().distance(seen(at, camera, radial)) < 0.05);
            let back = lens.back(seen(at, camera, radial), Point::new(0.0, 370.0)).unwrap();
            prop_assert!(back.distance(at) < 0.05);
        }
    }
}

/// Four marks are met exactly, and a lens taken as straight.
#[test]
fn four_marks_are_met_exactly() {
    let camera = [0.1, 0.1, -0.2, 2.5];
    let pairs: Vec<Pair> = points()[..4].iter().map(|&from| Pair { from, to: seen(from, camera, 0.03) }).collect();
    let lens = Lens::fit(&pairs, PICTURE, LensPrior::default()).unwrap();
    assert_eq!(lens.radial(), 0.0);
    assert!(pairs.iter().all(|pair| lens.apply(pair.from).unwrap().distance(pair.to) < 1e-6));
}

#[test]
fn a_mirrored_shirt_is_refused() {
    let mirrored = |at: Point| seen(Point::new(-at.x, at.y), [0.0, 0.0, 0.0, 2.5], 0.0);
    let pairs: Vec<Pair> = points().iter().map(|&from| Pair { from, to: mirrored(from) }).collect();
    assert_eq!(Lens::fit(&pairs, PICTURE, LensPrior::default()), Err(PhotoError::Mirrored { points: 13 }));
    let in_line: Vec<Pair> =
        (0..6).map(|at| Pair { from: Point::new(f64::from(at), 1.0), to: Point::new(f64::from(at), 2.0) }).collect();
    assert_eq!(Lens::fit(&in_line, PICTURE, LensPrior::default()), Err(PhotoError::Unsettled { points: 6 }));
}

/// Two observations by hand: Rasmussen, Williams, *Gaussian Processes for Machine Learning* (2006), equations 2.25 and 2.26, with the inverse of
/// a 2 x 2 matrix written out.
#[test]
fn two_observations_are_kriged_as_by_hand() {
    let covariance = Covariance::about(Point::new(0.0, 370.0));
    let along = Vec2::new(1.0, 0.0);
    let places = [Point::new(-40.0, 300.0), Point::new(90.0, 420.0)];
    let seen = [(places[0], 3.0, 0.5), (places[1], -1.0, 1.0)].map(|(at, shift_mm, sd_mm)| Seen { at, along, shift_mm, sd_mm });
    let field = LayField::fit(covariance, &seen).unwrap();
    let k = |a: Point, b: Point| {
        let near = 25.0 * (-a.distance_squared(b) / (2.0 * 150.0 * 150.0)).exp();
        near + 9.0 * (1.0 + (a.x * b.x + (a.y - 370.0) * (b.y - 370.0)) / 90_000.0)
    };
    let (a, b, d) = (k(places[0], places[0]) + 0.25, k(places[0], places[1]), k(places[1], places[1]) + 1.0);
    let determinant = a * d - b * b;
    for at in [Point::new(0.0, 0.0), Point::new(35.0, 365.0), Point::new(300.0, 700.0)] {
        let [p, q] = places.map(|place| k(at, place));
        let mean = (p * (3.0 * d + b) + q * (-3.0 * b - a)) / determinant;
        let left = k(at, at) - (p * (d * p - b * q) + q * (a * q - b * p)) / determinant;
        assert_close!(field.shift(at).x, mean, 1e-9);
        assert_eq!(field.shift(at).y, 0.0, "nothing is seen along y");
        assert_close!(field.sd_mm(&[(at, along)]), left.sqrt(), 1e-9);
    }
}

/// Many observations along many directions, against a dense solution by singular values (`nalgebra`), and the error bar of a mean of two places.
#[test]
fn many_observations_are_kriged_as_by_a_dense_solver() {
    let covariance = Covariance::about(Point::new(0.0, 370.0));
    let mut random = Random::new(5);
    let seen: Vec<Seen> = (0..60)
        .map(|_| Seen {
            at: Point::new(random.between(-400.0, 400.0), random.between(0.0, 740.0)),
            along: Vec2::from_angle(random.between(0.0, 6.3)),
            shift_mm: 3.0 * random.normal(),
            sd_mm: random.between(0.7, 2.0),
        })
        .collect();
    let field = LayField::fit(covariance, &seen).unwrap();
    let k = |a: (Point, Vec2), b: (Point, Vec2)| covariance.between(a.0, b.0) * a.1.dot(b.1);
    let own: Vec<(Point, Vec2)> = seen.iter().map(|seen| (seen.at, seen.along)).collect();
    let matrix = DMatrix::from_fn(60, 60, |i, j| k(own[i], own[j]) + if i == j { seen[i].sd_mm.powi(2) } else { 0.0 });
    let inverse = matrix.pseudo_inverse(1e-12).unwrap();
    let shifts = DVector::from_iterator(60, seen.iter().map(|seen| seen.shift_mm));
    let two = [(Point::new(30.0, 200.0), Vec2::new(0.0, 1.0)), (Point::new(-90.0, 600.0), Vec2::from_angle(0.7))];
    let known = two.map(|place| DVector::from_iterator(60, own.iter().map(|own| k(place, *own))));
    for (place, known) in two.iter().zip(&known) {
        assert_close!(field.shift(place.0).dot(place.1), (known.transpose() * &inverse * &shifts)[0], 1e-8);
    }
    let half = 0.5 * (&known[0] + &known[1]);
    let before = 0.25 * (k(two[0], two[0]) + 2.0 * k(two[0], two[1]) + k(two[1], two[1]));
    let left = before - (half.transpose() * &inverse * &half)[0];
    assert_close!(field.sd_mm(&two), left.sqrt(), 1e-8);
}

/// What no number stands behind is refused, not solved.
#[test]
fn a_field_of_numbers_that_are_none_is_none() {
    let covariance = Covariance::about(Point::ORIGIN);
    let seen = Seen { at: Point::ORIGIN, along: Vec2::new(1.0, 0.0), shift_mm: f64::NAN, sd_mm: 1.0 };
    assert!(LayField::fit(covariance, &[seen]).is_none());
}
