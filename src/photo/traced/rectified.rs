//! The plane of the table by a sheet that lies on it: from pixels to millimetres.

use super::TraceError;
use crate::photo::{Sheet, SheetPaper};
use crate::projection::{Homography, Pair};
use kurbo::{Point, Vec2};
use nalgebra::Vector3;

/// How unlike two papers' shapes have to be to be told apart: half of what A4 and Letter differ by.
const SHAPES: [SheetPaper; 2] = [SheetPaper::A4, SheetPaper::Letter];

/// Where points of the picture lie on the table, mm, the picture's up about up.
pub(super) fn table_from_picture(sheet: &Sheet) -> Result<Homography, TraceError> {
    sheet.check().map_err(|_refusal| TraceError::Sheet)?;
    let corners = round_from_upper_left(sheet.corners);
    let [short_mm, long_mm] = sheet.paper.sides_mm();
    let [across, down] = sides_px(corners);
    let [width_mm, height_mm] = if across > down { [long_mm, short_mm] } else { [short_mm, long_mm] };
    let on_table = [(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)].map(Point::from);
    let pairs: Vec<Pair> = corners.into_iter().zip(on_table).map(|(from, to)| Pair { from, to }).collect();
    Homography::fit(&pairs).map_err(|_refusal| TraceError::Sheet)
}

/// The paper that a sheet's shape is nearest to, of A4 and Letter, in a picture of this size, px; A3 has the shape of A4.
pub(super) fn paper_of_shape(corners: [Point; 4], picture: [u32; 2]) -> SheetPaper {
    let shape = shape(round_from_upper_left(corners), picture.map(f64::from));
    let off = |paper: SheetPaper| {
        let [short_mm, long_mm] = paper.sides_mm();
        (shape.max(1.0 / shape) * short_mm / long_mm).ln().abs()
    };
    let [one, other] = SHAPES;
    if off(other) < off(one) { other } else { one }
}

/// Distance of the lens from its picture, as a share of the picture's longer side: a main camera of a telephone, 26 to 28 mm to a film of 36 (common
/// practice, no source). A third more or less changes the shape of a sheet seen 20 degrees aslant by 3 %.
const FOCAL_SHARE: f64 = 0.75;

/// How much wider than high a rectangle is that is seen so, its corners clockwise from the upper left: by a camera whose axis meets the picture's
/// middle (Z. Zhang and L.-W. He, *Whiteboard scanning and image enhancement*, Digital Signal Processing 17 (2007), 414-432, equations 11 and 20).
fn shape(corners: [Point; 4], picture: [f64; 2]) -> f64 {
    let focal = FOCAL_SHARE * picture[0].max(picture[1]);
    let middle = Vec2::new(0.5 * picture[0], 0.5 * picture[1]);
    // In the camera's own frame, where the focal length is 1.
    let [m1, m2, m4, m3] = corners.map(|at| {
        let at = (at.to_vec2() - middle) / focal;
        Vector3::new(at.x, at.y, 1.0)
    });
    let across = m1.cross(&m4).dot(&m3) / m2.cross(&m4).dot(&m3) * m2 - m1;
    let down = m1.cross(&m4).dot(&m2) / m3.cross(&m4).dot(&m2) * m3 - m1;
    across.norm() / down.norm()
}

/// Mean lengths of its sides, the first and the third, the second and the fourth, px.
fn sides_px([a, b, c, d]: [Point; 4]) -> [f64; 2] {
    [0.5 * (a.distance(b) + c.distance(d)), 0.5 * (b.distance(c) + d.distance(a))]
}

/// Clockwise as they are seen, from the upper left one.
fn round_from_upper_left(mut corners: [Point; 4]) -> [Point; 4] {
    if (corners[1] - corners[0]).cross(corners[2] - corners[1]) < 0.0 {
        corners.reverse();
    }
    let middle = corners.iter().fold(Vec2::ZERO, |sum, at| sum + 0.25 * at.to_vec2()).to_point();
    let up_left = |at: &Point| (*at - middle).dot(Vec2::new(-1.0, -1.0));
    let first = (0..4).max_by(|a, b| up_left(&corners[*a]).total_cmp(&up_left(&corners[*b])));
    corners.rotate_left(first.unwrap_or_default());
    corners
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Papers seen by a pinhole camera from any side, up to 35 degrees aslant, with lenses a fifth wider and narrower than is taken.
    #[test]
    fn papers_are_told_apart_however_they_are_seen() {
        for paper in SHAPES {
            let [short_mm, long_mm] = paper.sides_mm();
            for [width_mm, height_mm] in [[short_mm, long_mm], [long_mm, short_mm]] {
                for (tilt_deg, lens) in [(0.0, 0.75), (16.0, 0.9), (25.0, 0.75), (25.0, 0.65), (35.0, 0.75)] {
                    for turned in 0..12 {
                        let corners = seen([width_mm, height_mm], tilt_deg, f64::from(turned) * 30.0, lens);
                        assert_eq!(
                            paper_of_shape(corners, [4000, 3000]),
                            paper,
                            "{width_mm} by {height_mm}, {tilt_deg}, {turned}"
                        );
                    }
                }
            }
        }
    }

    /// The corners of a sheet on a table, by a camera that looks from a side, aslant.
    fn seen([width_mm, height_mm]: [f64; 2], tilt_deg: f64, from_deg: f64, lens: f64) -> [Point; 4] {
        let (tilt, from) = (tilt_deg.to_radians(), from_deg.to_radians());
        [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)].map(|(x, y)| {
            // On the table, the sheet beside what the camera looks at; then turned toward the camera's side, and tilted away from it.
            let (x, y) = (350.0 + x * width_mm, 200.0 + y * height_mm);
            let (x, y) = (x * from.cos() + y * from.sin(), y * from.cos() - x * from.sin());
            let (y, depth) = (y * tilt.cos(), 1500.0 + y * tilt.sin());
            // The picture is turned back, so that the sheet is seen about upright.
            let (x, y) = (x * from.cos() - y * from.sin(), x * from.sin() + y * from.cos());
            Point::new(2000.0 + lens * 4000.0 * x / depth, 1500.0 + lens * 4000.0 * y / depth)
        })
    }
}
