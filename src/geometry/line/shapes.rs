//! Lines to begin with, of our own drawing.
//!
//! Each is drawn in a box: the half to the right of its axis where it has one, so that a folded garment needs no more, or as strokes.

use super::letters::letter;
use super::spec::LineKind;
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape as _, Size, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A line to begin with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LineShape {
    /// A heart.
    Heart,
    /// A star, one point up.
    Star {
        /// Its points, 3 to 24.
        points: u32,
        /// How deep the corners between lie, from 0, none, to 1, the middle.
        depth: f64,
    },
    /// A circle, or an ellipse.
    Ring,
    /// A leaf, pointed above and below.
    Leaf,
    /// A drop, pointed above.
    Drop,
    /// A wave from edge to edge.
    Wave {
        /// Its crests, 1 to 24.
        crests: u32,
    },
    /// A zigzag from edge to edge.
    Zigzag {
        /// Its teeth, 1 to 24.
        teeth: u32,
    },
    /// A square on its corner.
    Diamond,
    /// A cross of two bars.
    Cross {
        /// How broad they are, as a share of its size.
        bar: f64,
    },
    /// A polygon of equal sides, one corner up.
    Polygon {
        /// Its sides, 3 to 24.
        sides: u32,
    },
    /// A capital letter as strokes of a pen.
    Letter {
        /// From A to Z.
        letter: char,
    },
}

/// Most points, crests, teeth or sides: more can't be told apart on cloth (own choice).
const MOST: u32 = 24;
/// How far a curve's handles reach for a quarter of a circle, as a share of its radius (textbook: 4/3 (sqrt 2 - 1)).
const QUARTER: f64 = 0.552_284_749_8;
/// How far a wave's handles reach, as a share of half a wave: those of a sine (textbook: (pi/2 - 1) 2/pi).
const SINE: f64 = 0.363_380_227_6;

impl LineShape {
    /// One of each, as it is begun with.
    pub const ALL: [Self; 11] = [
        Self::Heart,
        Self::Star { points: 5, depth: 0.5 },
        Self::Ring,
        Self::Leaf,
        Self::Drop,
        Self::Wave { crests: 2 },
        Self::Zigzag { teeth: 3 },
        Self::Diamond,
        Self::Cross { bar: 0.34 },
        Self::Polygon { sides: 6 },
        Self::Letter { letter: 'S' },
    ];

    /// Its name, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Heart => "heart",
            Self::Star { .. } => "star",
            Self::Ring => "ring",
            Self::Leaf => "leaf",
            Self::Drop => "drop",
            Self::Wave { .. } => "wave",
            Self::Zigzag { .. } => "zigzag",
            Self::Diamond => "diamond",
            Self::Cross { .. } => "cross",
            Self::Polygon { .. } => "polygon",
            Self::Letter { .. } => "letter",
        }
    }

    /// The shape of that name, as it is begun with.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shape| shape.name() == name)
    }

    /// What the line is to the cloth.
    #[must_use]
    pub const fn kind(self) -> LineKind {
        match self {
            Self::Wave { .. } | Self::Zigzag { .. } => LineKind::Across,
            Self::Letter { .. } => LineKind::Stroke,
            _ => LineKind::Ring,
        }
    }

    /// Whether its left half mirrors its right, so that half of it can be drawn on a folded garment.
    #[must_use]
    pub const fn is_mirrored(self) -> bool {
        !matches!(self, Self::Letter { .. })
    }

    /// The least and the most of its points, sides, crests or teeth; none of what has no such number.
    #[must_use]
    pub const fn counts(self) -> Option<[u32; 2]> {
        match self {
            Self::Star { .. } | Self::Polygon { .. } => Some([3, MOST]),
            Self::Wave { .. } | Self::Zigzag { .. } => Some([1, MOST]),
            _ => None,
        }
    }

    /// How many points, sides, crests or teeth it has.
    #[must_use]
    pub const fn count(self) -> Option<u32> {
        match self {
            Self::Star { points: count, .. }
            | Self::Polygon { sides: count }
            | Self::Wave { crests: count }
            | Self::Zigzag { teeth: count } => Some(count),
            _ => None,
        }
    }

    /// The same with so many of them.
    #[must_use]
    pub const fn with_count(self, count: u32) -> Self {
        match self {
            Self::Star { depth, .. } => Self::Star { points: count, depth },
            Self::Polygon { .. } => Self::Polygon { sides: count },
            Self::Wave { .. } => Self::Wave { crests: count },
            Self::Zigzag { .. } => Self::Zigzag { teeth: count },
            other => other,
        }
    }

    /// How many waves it has from edge to edge; 1 of what has none.
    #[must_use]
    pub fn waves(self) -> f64 {
        match self {
            Self::Wave { crests: count } | Self::Zigzag { teeth: count } => f64::from(count.clamp(1, MOST)),
            _ => 1.0,
        }
    }

    /// Its size as it is drawn, for a width, mm.
    #[must_use]
    pub fn natural_size(self, width_mm: f64) -> Size {
        let drawn = match self {
            Self::Letter { letter: of } => letter(of),
            _ => whole(&self.half(), self.kind()),
        };
        let bounds = drawn.bounding_box();
        // An I has no breadth: it is as high as the others are for that width.
        let share = if bounds.width() > 1e-9 { bounds.height() / bounds.width() } else { 1.5 };
        Size::new(width_mm, width_mm * share)
    }

    /// The whole line in a box of this size round a middle, mm. Parameters out of range are taken as the nearest that is in it.
    #[must_use]
    pub fn path(self, middle: Point, size: Size) -> BezPath {
        let drawn = match self {
            Self::Letter { letter: of } => letter(of),
            _ => whole(&self.half(), self.kind()),
        };
        fitted(&drawn, middle, size)
    }

    /// Its right half, from the fold line at the middle's `x` on, mm; the whole line of what has no halves.
    #[must_use]
    pub fn half_path(self, middle: Point, size: Size) -> BezPath {
        if !self.is_mirrored() {
            return self.path(middle, size);
        }
        let half = self.half();
        let bounds = whole(&half, self.kind()).bounding_box();
        place(bounds, middle, size) * half
    }

    /// The half to the right of its axis, in a box of its own: from the axis to the axis, or to the edge.
    fn half(self) -> BezPath {
        let at_most = |count: u32, least: u32| count.clamp(least, MOST);
        match self {
            Self::Heart => {
                curves((0.0, -0.27), &[[(0.07, -0.53), (0.5, -0.58), (0.5, -0.18)], [(0.5, 0.08), (0.2, 0.26), (0.0, 0.5)]])
            }
            Self::Star { points, depth } => star(at_most(points, 3), depth.clamp(0.0, 0.95)),
            Self::Ring => curves(
                (0.0, -0.5),
                &[
                    [(0.5 * QUARTER, -0.5), (0.5, -0.5 * QUARTER), (0.5, 0.0)],
                    [(0.5, 0.5 * QUARTER), (0.5 * QUARTER, 0.5), (0.0, 0.5)],
                ],
            ),
            Self::Leaf => curves((0.0, -0.5), &[[(0.5, -0.25), (0.5, 0.25), (0.0, 0.5)]]),
            Self::Drop => {
                curves((0.0, -0.5), &[[(0.04, -0.2), (0.34, -0.1), (0.34, 0.16)], [(0.34, 0.35), (0.19, 0.5), (0.0, 0.5)]])
            }
            Self::Wave { crests } => wave(at_most(crests, 1), true),
            Self::Zigzag { teeth } => wave(at_most(teeth, 1), false),
            Self::Diamond => corners(&[(0.0, -0.5), (0.5, 0.0), (0.0, 0.5)]),
            Self::Cross { bar } => {
                let h = 0.5 * bar.clamp(0.05, 0.9);
                corners(&[(0.0, -0.5), (h, -0.5), (h, -h), (0.5, -h), (0.5, h), (h, h), (h, 0.5), (0.0, 0.5)])
            }
            Self::Polygon { sides } => polygon(at_most(sides, 3)),
            Self::Letter { .. } => BezPath::new(),
        }
    }
}

fn curves(from: (f64, f64), curves: &[[(f64, f64); 3]]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    for &[a, b, to] in curves {
        path.curve_to(a, b, to);
    }
    path
}

fn corners(points: &[(f64, f64)]) -> BezPath {
    let to = points.iter().enumerate().map(|(at, &p)| if at == 0 { PathEl::MoveTo(p.into()) } else { PathEl::LineTo(p.into()) });
    to.collect()
}

/// From straight up by a share of the turn, at a radius.
fn around(turn: f64, radius: f64) -> (f64, f64) {
    let at = radius * Vec2::from_angle(turn * TAU - FRAC_PI_2);
    // On the axis exactly.
    (if at.x.abs() < 1e-12 { 0.0 } else { at.x }, at.y)
}

fn star(points: u32, depth: f64) -> BezPath {
    // Without corners between, these lie on the sides of the polygon.
    let inner = (1.0 - depth) * (PI / f64::from(points)).cos();
    let corner = |k: u32| around(f64::from(k) / f64::from(2 * points), if k.is_multiple_of(2) { 1.0 } else { inner });
    corners(&(0..=points).map(corner).collect::<Vec<_>>())
}

fn polygon(sides: u32) -> BezPath {
    let mut half: Vec<(f64, f64)> = (0..=sides / 2).map(|k| around(f64::from(k) / f64::from(sides), 1.0)).collect();
    if sides % 2 == 1 {
        half.push((0.0, half[half.len() - 1].1));
    }
    corners(&half)
}

/// Half waves from a crest at the axis to the edge; curved or straight.
fn wave(crests: u32, is_curved: bool) -> BezPath {
    let step = 0.5 / f64::from(crests);
    let at = |k: u32| (f64::from(k) * step, if k.is_multiple_of(2) { -0.5 } else { 0.5 });
    let mut path = BezPath::new();
    path.move_to(at(0));
    for k in 0..crests {
        let (from, to) = (at(k), at(k + 1));
        if is_curved {
            path.curve_to((from.0 + SINE * step, from.1), (to.0 - SINE * step, to.1), to);
        } else {
            path.line_to(to);
        }
    }
    path
}

/// A half and its mirror image as one line.
fn whole(half: &BezPath, kind: LineKind) -> BezPath {
    let mirrored = Affine::FLIP_X * half.clone();
    if kind == LineKind::Across {
        let mut line = mirrored.reverse_subpaths();
        line.extend(half.elements().iter().skip(1).copied());
        return line;
    }
    let mut ring = half.clone();
    ring.extend(mirrored.reverse_subpaths().elements().iter().skip(1).copied());
    ring.close_path();
    ring
}

fn fitted(path: &BezPath, middle: Point, size: Size) -> BezPath {
    place(path.bounding_box(), middle, size) * path.clone()
}

/// Carries one box into another; a side of no length stays so.
fn place(bounds: Rect, middle: Point, size: Size) -> Affine {
    let share = |to: f64, from: f64| if from > 1e-9 { to / from } else { 1.0 };
    let scale = Affine::scale_non_uniform(share(size.width, bounds.width()), share(size.height, bounds.height()));
    Affine::translate(middle.to_vec2()) * scale * Affine::translate(-bounds.center().to_vec2())
}
