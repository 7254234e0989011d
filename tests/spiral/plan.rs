//! The plan: cloth may be drawn together and never stretched, and a disc of cloth winds along logarithmic spirals.

use crate::bodies::{FOLDS, disc, fold, folds, in_puck, numbers, random_cloth, spec, tee, tightest};
use kurbo::Vec2;
use pleatwright::geometry::*;
use std::f64::consts::{PI, TAU};

/// The singular values of the plan map at a point, by differences: the roots of `l^4 - |F|^2 l^2 + (det F)^2` (linear algebra, any
/// textbook).
fn drawn(fold: &SpiralFold, point: ClothPoint) -> [f64; 2] {
    let step_mm = 1e-3;
    let at = |dx: f64, dy: f64| {
        in_puck(fold, ClothPoint { x_mm: point.x_mm + dx * step_mm, y_mm: point.y_mm + dy * step_mm, ..point })
    };
    let along = |dx: f64, dy: f64| (at(dx, dy) - at(-dx, -dy)) / (2.0 * step_mm);
    let (x, y): (Vec2, Vec2) = (along(1.0, 0.0), along(0.0, 1.0));
    let (squares, det) = (x.hypot2() + y.hypot2(), x.cross(y));
    let root = (squares * squares - 4.0 * det * det).max(0.0).sqrt();
    [(0.5 * (squares + root)).sqrt(), (0.5 * (squares - root)).max(0.0).sqrt()]
}

fn from_pinch_mm(fold: &SpiralFold, point: ClothPoint) -> f64 {
    fold.lay().as_laid(point).distance(fold.spiral().centre_as_laid())
}

/// Cloth is drawn together and never stretched: where it is wound tightest its length is kept in one direction, with fewer turns in none.
#[test]
fn cloth_is_never_stretched() {
    let all = folds();
    assert_eq!(all.len(), FOLDS);
    for (seed, (name, fold)) in (1_u64..).zip(&all) {
        let (mut next, mut stretch) = (numbers(seed), Vec::new());
        while stretch.len() < 4000 {
            let point = random_cloth(fold, &mut next);
            if from_pinch_mm(fold, point) > fold.spiral().spec().pinch_radius_mm + 1.0 {
                stretch.push(drawn(fold, point)[0]);
            }
        }
        stretch.sort_by(f64::total_cmp);
        let [median, most] = [0.5, 0.99].map(|share| stretch[(share * 4000.0) as usize]);
        assert!(most < 1.03, "{name}: {most} at 99 %, {median} in the median");
        if fold.spiral().spec().turns == fold.spiral().most_turns() {
            assert!((median - 1.0).abs() < 2e-3, "{name}: {median}");
            assert!((fold.spiral().largest_stretch() - 1.0).abs() < 1e-9, "{name}");
        } else {
            assert!(median <= 1.0 && fold.spiral().largest_stretch() < 1.0, "{name}: {median}");
        }
    }
}

/// Too many turns stretch the cloth, the more the more of them; they are no error.
#[test]
fn too_many_turns_stretch_the_cloth() {
    let most = fold(&spec(), tee()).spiral().most_turns();
    let stretch =
        [1.0, 1.1, 1.5].map(|share| fold(&SpiralSpec { turns: share * most, ..spec() }, tee()).spiral().largest_stretch());
    assert!(stretch[0] < 1.0 + 1e-9 && stretch[1] > 1.05 && stretch[2] > stretch[1] + 0.2, "{stretch:?}");
}

/// A disc of cloth pinched in its middle is drawn in by the same share `c` everywhere, so that no stretch is left of the tightest twist by
/// the condition `det(F^T F - 1) = 0`: `r psi' = 1/c - c`, a logarithmic spiral, and `(1/c - c) ln(R / r1) / 2 pi` turns.
#[test]
fn a_disc_winds_along_logarithmic_spirals() {
    for (puck_diameter_mm, pinch_radius_mm) in [(160.0, 12.0), (100.0, 20.0), (210.0, 8.0)] {
        let spec = SpiralSpec {
            centre: crate::bodies::at(0.0, 300.0),
            puck_diameter_mm,
            puck_height_mm: None,
            pinch_radius_mm,
            ..spec()
        };
        let fold = tightest(&spec, disc(300.0));
        let c = puck_diameter_mm / 600.0;
        let rate = 1.0 / c - c;
        let turns = rate * (300.0 / pinch_radius_mm).ln() / TAU;
        let most = fold.spiral().most_turns();
        assert!((most - turns).abs() < 2e-3, "{most} turns of {turns} at {c}");
        for r_mm in [30.0, 90.0, 200.0, 290.0] {
            let there = fold.to_bundle(ClothPoint { panel: Panel::Front, x_mm: 0.0, y_mm: 300.0 - r_mm }).unwrap();
            let rho_mm = (there.place + 0.5) * fold.spiral().radius_mm() / f64::from(fold.places());
            assert!((rho_mm - c * r_mm).abs() < 0.01, "{rho_mm} of {}", c * r_mm);
            // Turned clockwise, what is farther out lags.
            let lag_rad = (-there.along_mm / fold.spiral().radius_mm()).rem_euclid(TAU);
            let off_rad = (lag_rad - rate * (r_mm / pinch_radius_mm).ln() + PI).rem_euclid(TAU) - PI;
            assert!(off_rad.abs() < 0.01, "{off_rad} rad off at {r_mm} mm of {c}");
        }
    }
}

/// The other way round it is the mirror image: so for a garment that is its own.
#[test]
fn a_twist_the_other_way_is_the_mirror_image() {
    let [clockwise, against] = [Twist::Clockwise, Twist::Anticlockwise].map(|twist| fold(&SpiralSpec { twist, ..spec() }, tee()));
    let mut next = numbers(3);
    for _ in 0..500 {
        let point = random_cloth(&clockwise, &mut next);
        let own = in_puck(&clockwise, point);
        let other = in_puck(&against, ClothPoint { x_mm: -point.x_mm, ..point });
        assert!((own.x + other.x).hypot(own.y - other.y) < 1e-9, "{own:?} {other:?}");
    }
}
