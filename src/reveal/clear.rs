//! Where there is cloth and where there is none for whole stretches: far from an outline a point needn't be asked for by itself.

use crate::geometry::Outline;
use kurbo::{PathEl, Point, Vec2};

/// What is known of a point and of all that lies about it, as far as the map was asked to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Clear {
    /// Cloth.
    Cloth,
    /// No cloth.
    Bare,
    /// The outline is near: either.
    Near,
}

/// A map of the plane about an outline, in square cells.
#[derive(Debug, Clone)]
pub(super) struct ClearMap {
    origin: Point,
    cell_mm: f64,
    columns: usize,
    cells: Vec<Clear>,
}

/// How far the flattened outline may stray from the outline itself, mm.
const FLATNESS_MM: f64 = 0.1;
/// From point to point along it, as a share of a cell.
const STEP: f64 = 0.5;

impl ClearMap {
    /// Looks so far round every point, in cells of this edge.
    pub(super) fn of(outline: &Outline, margin_mm: f64, cell_mm: f64) -> Self {
        let around_mm = margin_mm + FLATNESS_MM + 0.5 * STEP * cell_mm;
        // A cell of its own all round: what lies beyond the map is bare.
        let bounds = outline.bounds().inflate(around_mm + cell_mm, around_mm + cell_mm);
        let count = |length_mm: f64| whole(length_mm / cell_mm) + 1;
        let (columns, rows) = (count(bounds.width()), count(bounds.height()));
        let mut map = Self { origin: bounds.origin(), cell_mm, columns, cells: vec![Clear::Bare; columns * rows] };
        let mut last = Point::ORIGIN;
        let mut first = Point::ORIGIN;
        kurbo::flatten(outline.path(), FLATNESS_MM, |element| match element {
            PathEl::MoveTo(to) => (first, last) = (to, to),
            PathEl::LineTo(to) => map.mark(std::mem::replace(&mut last, to), to, around_mm),
            _ => map.mark(std::mem::replace(&mut last, first), first, around_mm),
        });
        map.fill(outline);
        map
    }

    /// Marks the cells that come so near to a straight edge.
    fn mark(&mut self, from: Point, to: Point, around_mm: f64) {
        let steps = ((to - from).hypot() / (STEP * self.cell_mm)).ceil().max(1.0);
        let mut step = 0.0;
        while step <= steps {
            let at = from.lerp(to, step / steps) - self.origin;
            let [low, high] = [-around_mm, around_mm].map(|by| at + Vec2::new(by, by));
            for row in self.cell_of(low.y)..=self.cell_of(high.y) {
                let cells = row * self.columns + self.cell_of(low.x)..=row * self.columns + self.cell_of(high.x);
                self.cells[cells].fill(Clear::Near);
            }
            step += 1.0;
        }
    }

    /// Decides the cells that no edge comes near: as the one to their left, or by their middle.
    fn fill(&mut self, outline: &Outline) {
        let is_cloth = |row: usize, column: usize| {
            let middle = Vec2::new(column as f64 + 0.5, row as f64 + 0.5);
            if outline.contains(self.origin + self.cell_mm * middle) { Clear::Cloth } else { Clear::Bare }
        };
        for (row, cells) in self.cells.chunks_mut(self.columns).enumerate() {
            let mut last = Clear::Bare;
            for (column, cell) in cells.iter_mut().enumerate() {
                if *cell != Clear::Near {
                    *cell = if last == Clear::Near { is_cloth(row, column) } else { last };
                }
                last = *cell;
            }
        }
    }

    /// What is known of a point.
    pub(super) fn at(&self, point: Point) -> Clear {
        let at = point - self.origin;
        if !(at.x >= 0.0 && at.y >= 0.0) {
            return Clear::Bare;
        }
        let (row, column) = (self.cell_of(at.y), self.cell_of(at.x));
        if column >= self.columns {
            return Clear::Bare;
        }
        self.cells.get(row * self.columns + column).copied().unwrap_or(Clear::Bare)
    }

    /// The cell that a distance from the map's upper or left edge lies in.
    fn cell_of(&self, away_mm: f64) -> usize {
        whole(away_mm / self.cell_mm)
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "casts saturate, and a map is a few thousand cells wide"
)]
fn whole(cells: f64) -> usize {
    cells as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Panel, PanelOutline};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Wherever the map is sure, the outline says the same of the point and of all points about it as far as the map looked; and over
    /// most of the cloth it is sure.
    #[test]
    fn what_it_is_sure_of_is_so() {
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            for panel in Panel::BOTH {
                let Some(outline) = layout.panels().panel(panel).map(PanelOutline::whole) else { continue };
                for (margin_mm, cell_mm) in [(0.0, 2.0), (0.0, 6.0), (8.0, 6.0)] {
                    let (map, bounds) = (ClearMap::of(outline, margin_mm, cell_mm), outline.bounds().inflate(40.0, 40.0));
                    let (mut sure, mut cloth) = (0, 0);
                    for k in 0..4000_u32 {
                        let share = |by: f64| (f64::from(k) * by).fract();
                        let at = bounds.origin()
                            + Vec2::new(share(0.754_877_7) * bounds.width(), share(0.569_840_3) * bounds.height());
                        cloth += u32::from(outline.contains(at));
                        let expected = match map.at(at) {
                            Clear::Near => continue,
                            known => known == Clear::Cloth,
                        };
                        sure += u32::from(expected);
                        let about =
                            (0..8).map(|turn| at + margin_mm * Vec2::from_angle(f64::from(turn) * std::f64::consts::FRAC_PI_4));
                        assert!(about.chain([at]).all(|at| outline.contains(at) == expected), "{} at {at}", example.name);
                    }
                    assert!(4 * sure > 2 * cloth, "{}: {sure} of {cloth}", example.name);
                }
            }
        }
    }
}
