//! Where the corners of a strip's pattern lie on the laid cloth: all of them alike, so that a pattern can be laid from any.

use super::pattern::{cloth_box, directions};
use super::spec::{FlatPattern, Triangle};
use crate::geometry::Lay;
use crate::geometry::burst::centre_at;
use kurbo::{Affine, Point, Vec2};

/// The corners of a pattern of stripes, squares or triangles.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lattice {
    pub(super) width_mm: f64,
    /// Of squares, which have two sizes.
    pub(super) height_mm: Option<f64>,
    /// What all creases keep their direction from when sizes change: the given corner, or that of the cloth's box.
    pub(super) anchor: Point,
    /// A corner of the pattern.
    pub(super) corner: Point,
    /// From a corner to two others.
    steps: [Vec2; 2],
}

impl Lattice {
    /// The corners of a pattern; none of half folds and wedges.
    pub(super) fn of(pattern: &FlatPattern, lay: &Lay) -> Option<Self> {
        let (width_mm, angle_deg, start) = match *pattern {
            FlatPattern::Stripes { width_mm, angle_deg, start }
            | FlatPattern::Squares { width_mm, angle_deg, start, .. }
            | FlatPattern::Triangles { width_mm, angle_deg, start, .. } => (width_mm, angle_deg, start),
            FlatPattern::Halves { .. } | FlatPattern::Wedges { .. } => return None,
        };
        let [along, right] = directions(angle_deg.to_radians());
        let start = start.map(|at| lay.plane_as_laid(centre_at(at, lay.panels())));
        let anchor = start.unwrap_or_else(|| {
            let cloth = cloth_box(lay, Affine::new([right.x, along.x, right.y, along.y, 0.0, 0.0]));
            (cloth.x0 * right + cloth.y0 * along).to_point()
        });
        let (mut corner, mut height_mm) = (anchor, None);
        let steps = match *pattern {
            FlatPattern::Squares { height_mm: given_mm, .. } => {
                height_mm = Some(given_mm);
                [width_mm * right, given_mm * along]
            }
            FlatPattern::Triangles { triangle: Triangle::Equilateral, .. } => {
                if start.is_none() {
                    // Laid from the cloth's edge, the first corner there lies on the far side of the first strip.
                    corner += width_mm * right;
                }
                let side = 2.0 * width_mm / 3.0_f64.sqrt() * along;
                [width_mm * right + 0.5 * side, side]
            }
            FlatPattern::Triangles { .. } => [width_mm * (right + along), width_mm * (right - along)],
            // Any point of a crease.
            _ => [width_mm * right, along],
        };
        Some(Self { width_mm, height_mm, anchor, corner, steps })
    }

    /// The corner that is alike to `corner` and nearest to a point, with `x` not below 0 if the cloth ends there.
    pub(super) fn equal_of(&self, corner: Point, near: Point, ends_at_fold: bool) -> Point {
        let [a, b] = self.steps;
        let (to, whole) = (near - corner, a.cross(b));
        let base = corner + (to.cross(b) / whole).round() * a + (a.cross(to) / whole).round() * b;
        let beside = [-1.0, 0.0, 1.0].into_iter().flat_map(|i| [-1.0, 0.0, 1.0].map(|j| base + i * a + j * b));
        let there = beside.filter(|at| !ends_at_fold || at.x >= 0.0);
        there.min_by(|p, q| p.distance(near).total_cmp(&q.distance(near))).unwrap_or(base)
    }
}
