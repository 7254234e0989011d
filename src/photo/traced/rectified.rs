//! The plane of the table by a sheet that lies on it: from pixels to millimetres.

use super::TraceError;
use crate::photo::{Sheet, SheetPaper};
use crate::projection::{Homography, Pair};
use kurbo::{Point, Vec2};

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

/// The paper that a sheet's shape is nearest to, of A4 and Letter; A3 has the shape of A4.
pub(super) fn paper_of_shape(corners: [Point; 4]) -> SheetPaper {
    let [across, down] = sides_px(corners);
    let off = |paper: SheetPaper| {
        let [short_mm, long_mm] = paper.sides_mm();
        (across.max(down) / across.min(down) * short_mm / long_mm).ln().abs()
    };
    let [one, other] = SHAPES;
    if off(other) < off(one) { other } else { one }
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
