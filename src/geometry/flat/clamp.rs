//! Blocks that a flat bundle is clamped between: two equal ones, one on each flat.

use super::clip::{Loops, loops, near_side, path_of};
use super::facet::carried;
use super::fold_line::FoldLine;
use crate::geometry::{Outline, OutlineError};
use kurbo::{Affine, BezPath, Circle, Line, ParamCurveArea as _, PathEl, Point, Rect, Shape as _, Vec2};
use std::f64::consts::TAU;
use std::ops::Range;

/// The shape of a block.
#[derive(Debug, Clone, PartialEq)]
pub enum BlockShape {
    /// Round.
    Disc {
        /// mm.
        diameter_mm: f64,
    },
    /// A square.
    Square {
        /// mm.
        side_mm: f64,
    },
    /// An equilateral triangle, its tip along the bundle.
    Triangle {
        /// mm.
        side_mm: f64,
    },
    /// A bar, its length along the bundle.
    Bar {
        /// mm.
        length_mm: f64,
        /// mm.
        width_mm: f64,
    },
    /// Any closed line, about its own origin, mm.
    Drawn(BezPath),
}

/// Two equal blocks, one on each flat of a bundle.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    loops: Loops,
    bounds: Rect,
}

/// How far a disc of cubics may stray from the circle, mm.
const ROUND_MM: f64 = 1e-4;

impl BlockShape {
    /// The shapes to begin with, a hand's breadth across.
    pub const BEGUN: [Self; 4] = [
        Self::Square { side_mm: 60.0 },
        Self::Disc { diameter_mm: 60.0 },
        Self::Triangle { side_mm: 70.0 },
        Self::Bar { length_mm: 120.0, width_mm: 30.0 },
    ];

    /// What it is called.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Disc { .. } => "disc",
            Self::Square { .. } => "square",
            Self::Triangle { .. } => "triangle",
            Self::Bar { .. } => "bar",
            Self::Drawn(_) => "drawn",
        }
    }

    /// Its one or two dimensions by their keys, mm, and how many there are; a drawn one has none.
    #[must_use]
    pub const fn dimensions(&self) -> ([(&'static str, f64); 2], usize) {
        const NONE: (&str, f64) = ("", 0.0);
        match *self {
            Self::Disc { diameter_mm } => ([("diameter_mm", diameter_mm), NONE], 1),
            Self::Square { side_mm } | Self::Triangle { side_mm } => ([("side_mm", side_mm), NONE], 1),
            Self::Bar { length_mm, width_mm } => ([("length_mm", length_mm), ("width_mm", width_mm)], 2),
            Self::Drawn(_) => ([NONE; 2], 0),
        }
    }

    /// The sizes that it is cut by, mm: its two dimensions, or its one twice; of a drawn one the box round it as it was drawn.
    #[must_use]
    pub fn sizes_mm(&self) -> [f64; 2] {
        match (self, self.dimensions()) {
            (Self::Drawn(path), _) => {
                let bounds = path.bounding_box();
                [bounds.width(), bounds.height()]
            }
            (_, ([(_, one_mm), _], 1)) => [one_mm; 2],
            (_, ([(_, first_mm), (_, second_mm)], _)) => [first_mm, second_mm],
        }
    }

    /// The same with other dimensions, in the order of [`BlockShape::dimensions`].
    #[must_use]
    pub fn sized(&self, [first_mm, second_mm]: [f64; 2]) -> Self {
        match self {
            Self::Disc { .. } => Self::Disc { diameter_mm: first_mm },
            Self::Square { .. } => Self::Square { side_mm: first_mm },
            Self::Triangle { .. } => Self::Triangle { side_mm: first_mm },
            Self::Bar { .. } => Self::Bar { length_mm: first_mm, width_mm: second_mm },
            Self::Drawn(path) => Self::Drawn(path.clone()),
        }
    }

    /// The same so many times as large.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        let ([(_, first_mm), (_, second_mm)], _) = self.dimensions();
        match self {
            Self::Drawn(path) => Self::Drawn(Affine::scale(by) * path.clone()),
            _ => self.sized([by * first_mm, by * second_mm]),
        }
    }

    fn path(&self) -> BezPath {
        let rect = |length_mm: f64, width_mm: f64| Rect::from_center_size(Point::ORIGIN, (length_mm, width_mm)).to_path(ROUND_MM);
        match self {
            Self::Disc { diameter_mm } => Circle::new(Point::ORIGIN, 0.5 * diameter_mm).to_path(ROUND_MM),
            Self::Square { side_mm } => rect(*side_mm, *side_mm),
            Self::Bar { length_mm, width_mm } => rect(*length_mm, *width_mm),
            Self::Triangle { side_mm } => {
                let corner = |k: f64| (side_mm / 3.0_f64.sqrt() * Vec2::from_angle(k * TAU / 3.0)).to_point();
                let mut path = BezPath::new();
                path.move_to(corner(0.0));
                path.line_to(corner(1.0));
                path.line_to(corner(2.0));
                path.close_path();
                path
            }
            Self::Drawn(path) => path.clone(),
        }
    }
}

impl Block {
    /// Puts blocks of a shape onto a bundle: their middle `middle_mm` along and across it, turned by `turn_rad` from along towards across.
    ///
    /// # Errors
    /// [`OutlineError`] when the shape is empty, has no finite size or encloses nothing; drawn lines may run either way round.
    pub fn new(shape: &BlockShape, middle_mm: Point, turn_rad: f64) -> Result<Self, OutlineError> {
        let path = shape.path();
        if !(path.is_finite() && middle_mm.is_finite() && turn_rad.is_finite()) {
            return Err(OutlineError::Infinite);
        }
        let outline = if path.area() < 0.0 { path.reverse_subpaths() } else { path };
        let outline = Outline::from_path(&outline)?;
        let loops = carried(&loops(outline.path()), Affine::translate(middle_mm.to_vec2()) * Affine::rotate(turn_rad));
        let boxes = loops.iter().flatten().map(|segment| segment.bounding_box());
        let bounds = boxes.reduce(|a, b| a.union(b)).unwrap_or_default();
        Ok(Self { loops, bounds })
    }

    /// Its area on either flat, mm2.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        area(&self.loops)
    }

    /// The box round it: `x` along the bundle, `y` across it, mm.
    #[must_use]
    pub fn bounds(&self) -> Rect {
        self.bounds
    }

    /// Its outline: `x` along the bundle, `y` across it, mm.
    #[must_use]
    pub fn path(&self) -> BezPath {
        path_of(&self.loops)
    }

    /// Its outline as straight edges that stray from it by this much at the most, mm.
    pub(super) fn edges(&self, flat_mm: f64) -> Vec<Line> {
        let mut edges = Vec::new();
        let (mut begun, mut at) = (Point::ORIGIN, Point::ORIGIN);
        kurbo::flatten(self.path(), flat_mm, |element| match element {
            PathEl::MoveTo(to) => (begun, at) = (to, to),
            PathEl::LineTo(to) => edges.push(Line::new(std::mem::replace(&mut at, to), to)),
            PathEl::ClosePath => edges.push(Line::new(std::mem::replace(&mut at, begun), begun)),
            PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
        });
        edges
    }

    /// The share of a stretch of the bundle that lies under it.
    #[must_use]
    pub fn share(&self, along_mm: Range<f64>, across_mm: Range<f64>) -> f64 {
        let stretch = Rect::new(along_mm.start, across_mm.start, along_mm.end, across_mm.end);
        if stretch.intersect(self.bounds).area() <= 0.0 {
            return 0.0;
        }
        let sides = [
            FoldLine::new(Point::new(stretch.x0, 0.0), Vec2::new(-1.0, 0.0)),
            FoldLine::new(Point::new(stretch.x1, 0.0), Vec2::new(1.0, 0.0)),
            FoldLine::new(Point::new(0.0, stretch.y0), Vec2::new(0.0, -1.0)),
            FoldLine::new(Point::new(0.0, stretch.y1), Vec2::new(0.0, 1.0)),
        ];
        let within = sides.iter().fold(self.loops.clone(), |loops, side| near_side(&loops, side));
        (area(&within) / stretch.area()).clamp(0.0, 1.0)
    }
}

fn area(loops: &Loops) -> f64 {
    loops.iter().flatten().map(kurbo::PathSeg::signed_area).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The shares of all cells of a net together are the block, by its formula.
    #[test]
    fn a_block_covers_what_its_formula_says() {
        let shapes = [
            (BlockShape::Disc { diameter_mm: 62.0 }, std::f64::consts::PI * 31.0 * 31.0),
            (BlockShape::Square { side_mm: 50.0 }, 2500.0),
            (BlockShape::Triangle { side_mm: 60.0 }, 900.0 * 3.0_f64.sqrt()),
            (BlockShape::Bar { length_mm: 70.0, width_mm: 20.0 }, 1400.0),
        ];
        for (shape, expected_mm2) in shapes {
            let block = Block::new(&shape, Point::new(47.0, 52.0), 0.4).unwrap();
            let cells = |count: u32, mm: f64| (0..count).map(move |k| f64::from(k) * mm..f64::from(k + 1) * mm);
            let covered: f64 = cells(34, 3.0)
                .flat_map(|along| cells(26, 4.0).map(move |across| (along.clone(), across)))
                .map(|(along, across)| block.share(along, across))
                .sum();
            // A disc is one of cubics.
            assert!((12.0 * covered / expected_mm2 - 1.0).abs() < 1e-5, "{shape:?}: {covered} of {expected_mm2}");
            assert!((block.area_mm2() / (12.0 * covered) - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_drawn_block_may_run_either_way_round() {
        let path = Rect::new(0.0, 0.0, 10.0, 20.0).to_path(0.1);
        for path in [path.reverse_subpaths(), path] {
            let block = Block::new(&BlockShape::Drawn(path), Point::new(5.0, 5.0), 0.0).unwrap();
            assert!((block.area_mm2() - 200.0).abs() < 1e-9 && block.share(6.0..7.0, 6.0..7.0) == 1.0);
        }
        assert_eq!(Block::new(&BlockShape::Drawn(BezPath::new()), Point::ORIGIN, 0.0), Err(OutlineError::Empty));
    }
}
