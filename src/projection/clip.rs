//! What of a line on the table lies in the picture.

use super::Homography;
use kurbo::{Point, Rect};

/// Share of the middle's weight below which a line is cut off: nearer to the horizon nothing can be drawn.
const NEAREST: f64 = 1e-6;

/// The piece of a straight line of the first plane that comes to lie within a rectangle of the second, there; none where no piece does. What
/// lies beyond the horizon is cut off before it is mapped. Liang and Barsky's way of clipping (ACM Transactions on Graphics 3(1), 1984), in
/// homogeneous coordinates.
#[must_use]
pub fn clipped(map: &Homography, [from, to]: [Point; 2], within: Rect) -> Option<[Point; 2]> {
    let ends = [from, to].map(|point| map.homogeneous(point));
    let [start, end] = ends;
    // How far inside each border a homogeneous point lies; 0 on it, and linear along the line.
    let depths = |[x, y, weight]: [f64; 3]| {
        [weight - NEAREST, x - within.x0 * weight, within.x1 * weight - x, y - within.y0 * weight, within.y1 * weight - y]
    };
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    for (at_start, at_end) in depths(start).into_iter().zip(depths(end)) {
        let grows = at_end - at_start;
        if grows == 0.0 {
            if at_start < 0.0 {
                return None;
            }
        } else if grows > 0.0 {
            first = first.max(-at_start / grows);
        } else {
            last = last.min(-at_start / grows);
        }
    }
    let at = |share: f64| {
        let [x, y, weight] = [0, 1, 2].map(|entry| start[entry] + share * (end[entry] - start[entry]));
        Point::new(x / weight, y / weight)
    };
    (first <= last).then(|| [at(first), at(last)])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn map(rows: [[f64; 3]; 3]) -> Homography {
        Homography::from_rows(rows, Point::ZERO).unwrap()
    }

    const PICTURE: Rect = Rect::new(0.0, 0.0, 100.0, 100.0);

    #[test]
    fn lines_are_cut_at_the_borders() {
        let plain = map([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]);
        let cut = clipped(&plain, [Point::new(-50.0, 50.0), Point::new(150.0, 50.0)], PICTURE).unwrap();
        assert!(cut[0].distance(Point::new(0.0, 50.0)) < 1e-12 && cut[1].distance(Point::new(100.0, 50.0)) < 1e-12);
        let inner = [Point::new(10.0, 20.0), Point::new(30.0, 90.0)];
        let whole = clipped(&plain, inner, PICTURE).unwrap();
        assert!(whole[0].distance(inner[0]) < 1e-12 && whole[1].distance(inner[1]) < 1e-12);
        assert_eq!(clipped(&plain, [Point::new(-1.0, 5.0), Point::new(-9.0, 7.0)], PICTURE), None);
        assert_eq!(clipped(&plain, [Point::new(-80.0, 50.0), Point::new(50.0, 190.0)], PICTURE), None);
    }

    /// The far end lies behind the projector: without care it would be drawn on the wrong side.
    #[test]
    fn a_line_over_the_horizon_is_cut_before_it() {
        let steep = map([[1.0, 0.0, 50.0], [0.0, 1.0, 50.0], [0.0, 0.01, 1.0]]);
        let cut = clipped(&steep, [Point::new(0.0, 0.0), Point::new(0.0, -500.0)], PICTURE).unwrap();
        assert!(cut[0].distance(Point::new(50.0, 50.0)) < 1e-9);
        assert!(cut[1].distance(Point::new(100.0, 0.0)) < 1e-9, "{cut:?}");
        assert_eq!(steep.apply(Point::new(0.0, -500.0)), None);
    }
}
