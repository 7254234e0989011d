//! The flat bundle's own frame: along it across the binds, across it from side to side, and the outline that its creases give it.

use super::fold_line::FoldLine;
use kurbo::{Affine, Point, Rect, Vec2};
use std::ops::Range;

/// Where a flat bundle lies in the plane of its first piece, and how far its creases let it reach.
#[derive(Debug, Clone)]
pub(crate) struct Frame {
    /// From the plane to the frame: `x` along, `y` across, both from 0, mm.
    into: Affine,
    out: Affine,
    size: kurbo::Size,
    /// The creases that bound it, in the frame; cloth lies on their near sides.
    edges: Vec<FoldLine>,
    /// The corners of what they and the box leave.
    outline: Vec<Point>,
}

/// Farther than any cloth, mm: corners out there are none of two creases.
const FAR_MM: f64 = 3e4;

impl Frame {
    /// Turns the plane so that binds run across a direction, and puts the frame round the cloth, whose box is asked for in a given frame,
    /// and round the corners where bounding creases meet, cloth or not.
    pub(crate) fn new(along: Vec2, cell: &[FoldLine], cloth_box: impl Fn(Affine) -> Rect) -> Self {
        let turned = Affine::new([along.x, -along.y, along.y, along.x, 0.0, 0.0]);
        let cell: Vec<FoldLine> = cell.iter().map(|edge| edge.carried(turned)).collect();
        let cloth = cloth_box(turned);
        let plane = Rect::new(-FAR_MM, -FAR_MM, FAR_MM, FAR_MM);
        let is_met = |corner: &Point| corner.x.abs().max(corner.y.abs()) < FAR_MM - 1.0;
        let size = convex(plane, &cell).into_iter().filter(is_met).fold(cloth, |all, corner| all.union_pt(corner));
        let shift = Affine::translate(-size.origin().to_vec2());
        let into = shift * turned;
        let edges: Vec<FoldLine> = cell.iter().map(|edge| edge.carried(shift)).collect();
        let outline = convex(Rect::from_origin_size(Point::ORIGIN, size.size()), &edges);
        // A turn and a shift undone exactly.
        let out = Affine::new([along.x, along.y, -along.y, along.x, 0.0, 0.0]) * Affine::translate(size.origin().to_vec2());
        Self { into, out, size: size.size(), edges, outline }
    }

    /// From the plane of the first piece to the frame.
    pub(crate) fn plane_to_frame(&self) -> Affine {
        self.into
    }

    /// From the frame to the plane of the first piece.
    pub(crate) fn frame_to_plane(&self) -> Affine {
        self.out
    }

    /// How far it goes along and across, mm.
    pub(crate) fn size(&self) -> kurbo::Size {
        self.size
    }

    /// The creases that bound it, in the frame.
    pub(crate) fn edges(&self) -> &[FoldLine] {
        &self.edges
    }

    /// The corners of its outline, in the frame.
    pub(crate) fn outline(&self) -> &[Point] {
        &self.outline
    }

    /// Whether a line of the frame is the side where across is 0, or that where it is 1.
    pub(crate) fn end(&self, line: &FoldLine) -> Option<usize> {
        let side = |at_mm: f64| FoldLine::new(Point::new(0.0, at_mm), Vec2::new(0.0, 1.0));
        [0.0, self.size.height].into_iter().position(|at_mm| side(at_mm).is_along(line))
    }

    /// The share of a stretch of it that lies within its outline.
    pub(crate) fn footprint(&self, along_mm: Range<f64>, across_mm: Range<f64>) -> f64 {
        let stretch = Rect::new(along_mm.start, across_mm.start, along_mm.end, across_mm.end);
        let held = stretch.intersect(Rect::from_origin_size(Point::ORIGIN, self.size));
        if held.width() <= 0.0 || held.height() <= 0.0 {
            return 0.0;
        }
        let corners = [(held.x0, held.y0), (held.x1, held.y0), (held.x1, held.y1), (held.x0, held.y1)];
        let is_within = |corner: (f64, f64)| self.edges.iter().all(|edge| edge.beyond_mm(corner.into()) <= ROUNDING_MM);
        if held == stretch && corners.into_iter().all(is_within) {
            return 1.0;
        }
        (polygon_area(&convex(held, &self.edges)) / stretch.area()).clamp(0.0, 1.0)
    }

    /// How wide it is at a distance along it, mm.
    pub(crate) fn chord_mm(&self, along_mm: f64) -> f64 {
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for (from, to) in sides(&self.outline) {
            let (low, high) = (from.x.min(to.x), from.x.max(to.x));
            if (low - ROUNDING_MM..=high + ROUNDING_MM).contains(&along_mm) {
                let ends = if high - low <= ROUNDING_MM {
                    [from.y, to.y]
                } else {
                    [from.y + ((along_mm - from.x) / (to.x - from.x)).clamp(0.0, 1.0) * (to.y - from.y); 2]
                };
                (least, most) = (least.min(ends[0]).min(ends[1]), most.max(ends[0]).max(ends[1]));
            }
        }
        (most - least).max(0.0)
    }
}

/// What is lost in adding lengths of a few metres, mm.
const ROUNDING_MM: f64 = 1e-7;

/// The corners of what of a rectangle lies on the near sides of some lines, in order.
pub(crate) fn convex(rect: Rect, lines: &[FoldLine]) -> Vec<Point> {
    let mut corners = vec![
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
    ];
    for line in lines {
        let mut kept = Vec::with_capacity(corners.len() + 1);
        for (from, to) in sides(&corners) {
            let [before, after] = [from, to].map(|corner| line.beyond_mm(corner));
            if before <= 0.0 {
                kept.push(from);
            }
            if (before < 0.0 && after > 0.0) || (before > 0.0 && after < 0.0) {
                kept.push(from.lerp(to, before / (before - after)));
            }
        }
        corners = kept;
    }
    // A line that only touches a corner would leave it twice.
    corners.dedup_by(|a, b| a.distance(*b) < ROUNDING_MM);
    if corners.len() > 1 && corners[0].distance(corners[corners.len() - 1]) < ROUNDING_MM {
        corners.pop();
    }
    corners
}

/// The area within a ring of corners.
pub(crate) fn polygon_area(corners: &[Point]) -> f64 {
    0.5 * sides(corners).map(|(from, to)| from.to_vec2().cross(to.to_vec2())).sum::<f64>()
}

fn sides(corners: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An equilateral triangle of height 90, its foot on the side where across is 0, lying along one side.
    fn triangle() -> Frame {
        let tip = Point::new(10.0, 20.0);
        let outward = |angle: f64| Vec2::from_angle(angle.to_radians());
        let lines = [
            FoldLine::new(tip, outward(30.0 + 90.0)),
            FoldLine::new(tip, outward(-30.0 - 90.0)),
            FoldLine::new(tip + Vec2::new(90.0, 0.0), outward(0.0)),
        ];
        Frame::new(Vec2::new(1.0, 0.0), &lines, |_| Rect::new(30.0, 20.0, 40.0, 25.0))
    }

    #[test]
    fn a_triangle_is_as_wide_as_trigonometry_says() {
        let frame = triangle();
        let side_mm = 2.0 * 90.0 / 3.0_f64.sqrt();
        assert!((frame.size().width - 90.0).abs() < 1e-6 && (frame.size().height - side_mm).abs() < 1e-6);
        for along_mm in [0.0, 10.0, 45.0, 90.0] {
            assert!((frame.chord_mm(along_mm) - along_mm * side_mm / 90.0).abs() < 1e-5, "{along_mm}");
        }
        let cells = |count: u32| (0..count).map(move |cell| f64::from(cell)..f64::from(cell + 1));
        let held: f64 = cells(90).map(|along_mm| frame.footprint(along_mm, 0.0..side_mm)).sum();
        assert!((held - 45.0).abs() < 1e-6, "{held}");
        assert_eq!(frame.footprint(80.0..81.0, 50.0..52.0), 1.0);
        assert_eq!(frame.footprint(5.0..6.0, 0.0..2.0), 0.0);
    }

    #[test]
    fn the_frame_is_left_as_it_was_entered() {
        let frame = Frame::new(Vec2::from_angle(0.7), &[], |turned| turned.transform_rect_bbox(Rect::new(0.0, 0.0, 30.0, 50.0)));
        let at = Point::new(12.0, 34.0);
        assert!((frame.frame_to_plane() * (frame.plane_to_frame() * at)).distance(at) < 1e-12);
    }
}
