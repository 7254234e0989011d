//! Whether four corners in the picture are placed as a rectangle's on the table can be.

use super::ProjectorProblem;
use kurbo::Point;

/// Least distance of two corners, as a share of the picture's shorter side. Own choice: a pixel is then off by at most a fiftieth of a side of
/// a picture 1000 px high.
const LEAST_SHARE: f64 = 0.05;
/// Least height of three corners over the longest side between them, as a share of that side. Own choice: an angle of 5 degrees. A sheet seen
/// by the steepest projector has many times as much.
const LEAST_HEIGHT: f64 = 0.087;

/// Checks corners that go round the rectangle, in pixels of a picture of this width and height.
pub(super) fn check_corners(corners: [Point; 4], picture: [u32; 2]) -> Result<(), ProjectorProblem> {
    let least_px = LEAST_SHARE * f64::from(picture[0].min(picture[1]));
    for (one, other) in [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)] {
        let apart_px = corners[one].distance(corners[other]);
        if apart_px < least_px {
            return Err(ProjectorProblem::Near { corners: [one + 1, other + 1], apart_px, least_px });
        }
    }
    for (one, other) in [([0, 1], [2, 3]), ([1, 2], [3, 0])] {
        if crosses(one.map(|corner| corners[corner]), other.map(|corner| corners[corner])) {
            return Err(ProjectorProblem::Crossed { one: one.map(|corner| corner + 1), other: other.map(|corner| corner + 1) });
        }
    }
    for left_out in [3, 0, 1, 2] {
        let three: Vec<usize> = (0..4).filter(|corner| *corner != left_out).collect();
        if let [a, b, c] = three[..]
            && flatness([corners[a], corners[b], corners[c]]) < LEAST_HEIGHT
        {
            return Err(ProjectorProblem::InLine { corners: [a + 1, b + 1, c + 1] });
        }
    }
    // Going round, a rectangle seen from anywhere turns one way at every corner.
    let turn = |at: usize| side(corners[(at + 3) % 4], corners[at], corners[(at + 1) % 4]);
    let way = (0..4).map(turn).sum::<f64>();
    match (0..4).find(|at| turn(*at) * way <= 0.0) {
        Some(at) => Err(ProjectorProblem::Inside { corner: at + 1 }),
        None => Ok(()),
    }
}

/// Twice the area of a triangle: above 0 where it goes clockwise, as seen with y down.
fn side(a: Point, b: Point, c: Point) -> f64 {
    (b - a).cross(c - b)
}

/// A triangle's height over its longest side, as a share of that side.
fn flatness([a, b, c]: [Point; 3]) -> f64 {
    let longest = [a.distance(b), b.distance(c), c.distance(a)].into_iter().fold(0.0, f64::max);
    side(a, b, c).abs() / (longest * longest)
}

fn crosses([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use ProjectorProblem::{Crossed, InLine, Inside, Near};

    const PICTURE: [u32; 2] = [1920, 1080];

    fn checked(corners: [(f64, f64); 4]) -> Result<(), ProjectorProblem> {
        check_corners(corners.map(Point::from), PICTURE)
    }

    #[test]
    fn corners_seen_from_anywhere_pass_turned_and_mirrored() {
        let seen = [(500.0, 300.0), (1400.0, 340.0), (1300.0, 800.0), (600.0, 760.0)];
        for turn in 0..4 {
            let mut corners = seen;
            corners.rotate_left(turn);
            assert_eq!(checked(corners), Ok(()));
            corners.reverse();
            assert_eq!(checked(corners), Ok(()), "a picture from below is mirrored");
        }
    }

    #[test]
    fn badly_placed_corners_are_told_apart() {
        let near = checked([(500.0, 300.0), (520.0, 310.0), (1300.0, 800.0), (600.0, 760.0)]);
        assert!(matches!(near, Err(Near { corners: [1, 2], least_px: 54.0, .. })), "{near:?}");
        let across = checked([(500.0, 300.0), (1300.0, 800.0), (1400.0, 340.0), (600.0, 760.0)]);
        assert_eq!(across, Err(Crossed { one: [2, 3], other: [4, 1] }).or(across.clone()));
        assert!(matches!(across, Err(Crossed { .. })), "{across:?}");
        let flat = checked([(300.0, 300.0), (800.0, 320.0), (1400.0, 340.0), (600.0, 900.0)]);
        assert_eq!(flat, Err(InLine { corners: [1, 2, 3] }));
        let inside = checked([(500.0, 300.0), (1400.0, 340.0), (800.0, 450.0), (600.0, 900.0)]);
        assert_eq!(inside, Err(Inside { corner: 3 }));
    }
}
