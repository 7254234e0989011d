//! A line as a chain of pieces, and the foot of any point on it.

use super::piece::Piece;
use super::tiles::Tiles;
use super::tree::Tree;
use kurbo::{Point, Rect};

/// How an open line ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum End {
    /// On the garment's fold, where its mirror image goes on.
    OnFold,
    /// Beyond the cloth.
    Beyond,
}

/// Whether a line closes, and how it ends if not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Course {
    /// It comes back to where it begins.
    Closed,
    /// It begins and ends so.
    Open([End; 2]),
}

/// A line as pieces that go on into each other, normals and all: where its direction jumps stands a fan of radius 0.
#[derive(Debug, Clone)]
pub(crate) struct Chain {
    pieces: Vec<Piece>,
    course: Course,
    has_inside: bool,
    /// How much of its first and its last piece no cloth needs, mm: of a line that is continued far beyond.
    spare_mm: [f64; 2],
    tree: Tree,
    tiles: Tiles,
    /// Of each piece, whether the next one begins where it ends and with the same normal; of the last, whether the first does.
    goes_on: Vec<bool>,
}

/// The foot of a point on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Foot {
    /// The piece that it is on.
    pub(crate) piece: usize,
    /// Its share of that piece.
    pub(crate) share: f64,
    /// The point's signed distance from it, mm.
    pub(crate) distance_mm: f64,
}

/// How much nearer a piece must be than an earlier one to be taken instead, mm: less is rounding.
const NEARER_MM: f64 = 1e-12;
/// How far beyond the line's other side a point of its own side may lie by rounding, mm.
const OTHER_SIDE_MM: f64 = 1e-9;

/// How far a piece may begin from where another ends, mm, and by how much their normals may differ there: rounding. A metre out, parallels
/// that differ by more overlap by more cloth than a balance could tell in a billionth.
const JOINT_MM: f64 = 1e-6;
const JOINT_RAD: f64 = 1e-9;

/// Whether a piece begins where another ends, and with the same normal.
fn goes_on(piece: &Piece, next: &Piece) -> bool {
    let is_there = piece.point(1.0, 0.0).distance(next.point(0.0, 0.0)) < JOINT_MM;
    is_there && (piece.normal(1.0) - next.normal(0.0)).hypot() < JOINT_RAD
}

/// The nearest foot so far.
#[derive(Debug, Clone, Copy)]
struct Nearest {
    piece: usize,
    distance_mm: f64,
    away_mm: f64,
}

impl Nearest {
    const NONE: Self = Self { piece: usize::MAX, distance_mm: f64::INFINITY, away_mm: f64::INFINITY };

    /// Takes a piece that is nearer; of those that are as near the first in the line's order, whatever the order in which they come.
    #[inline]
    fn hold(&mut self, piece: usize, distance_mm: Option<f64>) {
        let Some(distance_mm) = distance_mm else { return };
        let nearer_mm = self.away_mm - distance_mm.abs();
        if nearer_mm > NEARER_MM || (nearer_mm >= -NEARER_MM && piece < self.piece) {
            *self = Self { piece, distance_mm, away_mm: distance_mm.abs() };
        }
    }
}

impl Chain {
    /// A chain of pieces. Nothing lies within a line that has no inside: each of its pieces answers for distances from 0 on.
    pub(crate) fn new(pieces: Vec<Piece>, course: Course, has_inside: bool) -> Self {
        let tree = Tree::new(&pieces);
        let nexts = pieces.iter().skip(1).chain(pieces.first());
        let goes_on = pieces.iter().zip(nexts).map(|(piece, next)| goes_on(piece, next)).collect();
        Self { pieces, course, has_inside, spare_mm: [0.0; 2], tree, tiles: Tiles::default(), goes_on }
    }

    /// The same, of whose first and last piece no cloth needs so much, mm.
    pub(crate) fn sparing(self, spare_mm: [f64; 2]) -> Self {
        Self { spare_mm, ..self }
    }

    /// The same, made fast for points within a box.
    pub(crate) fn within(self, bounds: Rect) -> Self {
        Self { tiles: Tiles::over(bounds), ..self }
    }

    /// How much of its first and its last piece no cloth needs, mm.
    pub(crate) fn spare_mm(&self) -> [f64; 2] {
        self.spare_mm
    }

    pub(crate) fn pieces(&self) -> &[Piece] {
        &self.pieces
    }

    pub(crate) fn tree(&self) -> &Tree {
        &self.tree
    }

    pub(crate) fn tiles(&self) -> &Tiles {
        &self.tiles
    }

    pub(crate) fn course(&self) -> Course {
        self.course
    }

    /// Whether one of two pieces goes on into the other, normals and all: parallels of such two touch at their joint and meet nowhere else.
    pub(crate) fn go_on(&self, one: usize, other: usize) -> bool {
        let (first, second) = (one.min(other), one.max(other));
        let is_over_the_end = first == 0 && second + 1 == self.pieces.len();
        (first + 1 == second && self.goes_on[first]) || (is_over_the_end && self.goes_on[second])
    }

    /// Whether its first piece begins, or its last ends, on the garment's fold.
    pub(crate) fn ends_on_fold(&self) -> [bool; 2] {
        match self.course {
            Course::Closed => [false; 2],
            Course::Open(ends) => ends.map(|end| end == End::OnFold),
        }
    }

    pub(crate) fn has_inside(&self) -> bool {
        self.has_inside
    }

    /// The point at a distance on the normal at a share of a piece.
    pub(crate) fn point(&self, foot: Foot) -> Point {
        self.pieces[foot.piece].point(foot.share, foot.distance_mm)
    }

    /// Whether a piece has a parallel at a distance.
    pub(crate) fn is_there(&self, piece: usize, distance_mm: f64) -> bool {
        let is_side = self.has_inside || distance_mm >= 0.0;
        match self.pieces[piece] {
            Piece::Strip(_) => is_side,
            Piece::Fan(fan) => is_side && (fan.radius_mm + distance_mm) * fan.turn_rad > 0.0,
        }
    }

    /// The piece's signed distance from a point whose foot is on it; none where it has no foot there or does not answer for that side.
    #[inline]
    pub(crate) fn distance_to_mm(&self, piece: usize, point: Point) -> Option<f64> {
        let distance_mm = self.pieces[piece].distance_mm(point)?;
        (self.has_inside || distance_mm >= -OTHER_SIDE_MM).then_some(distance_mm)
    }

    /// The nearest foot's piece and signed distance.
    #[inline]
    pub(crate) fn nearest(&self, point: Point) -> (usize, f64) {
        let mut nearest = Nearest::NONE;
        if let Some(list) = self.tiles.list(point, |middle, radius_mm| self.feet_about(middle, radius_mm)) {
            for &piece in list {
                nearest.hold(piece as usize, self.distance_to_mm(piece as usize, point));
            }
        } else {
            nearest = self.nearest_by_tree(point);
        }
        if nearest.piece == usize::MAX { self.nearest_end(point) } else { (nearest.piece, nearest.distance_mm) }
    }

    /// The pieces that may hold the foot of any point within a radius of another, in the order of the line.
    pub(crate) fn feet_about(&self, middle: Point, radius_mm: f64) -> Vec<u32> {
        let mut pieces = Vec::new();
        // None of them is farther from the line than the middle is and all the way across.
        self.tree.within(middle, self.nearest_by_tree(middle).away_mm + 2.0 * radius_mm, |piece| {
            if self.pieces[piece].may_answer(middle, radius_mm) {
                // A line has far fewer pieces than numbers.
                pieces.push(u32::try_from(piece).unwrap_or(u32::MAX));
            }
        });
        pieces
    }

    fn nearest_by_tree(&self, point: Point) -> Nearest {
        let mut nearest = Nearest::NONE;
        self.tree.nearest(point, f64::INFINITY, |piece| {
            nearest.hold(piece, self.distance_to_mm(piece, point));
            nearest.away_mm * nearest.away_mm
        });
        nearest
    }

    /// The nearest end of a piece, for what lies beyond every normal: at the end of an open line.
    #[cold]
    fn nearest_end(&self, point: Point) -> (usize, f64) {
        let ends = self.pieces.iter().enumerate().flat_map(|(at, piece)| [0.0, 1.0].map(|share| (at, piece.point(share, 0.0))));
        let away = ends.map(|(at, end)| (at, (end - point).hypot()));
        let (piece, away_mm) = away.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((0, f64::INFINITY));
        let is_inside = self.has_inside && self.pieces[piece].carrier_distance_mm(point) < 0.0;
        (piece, if is_inside { -away_mm } else { away_mm })
    }

    /// The foot of a point.
    pub(crate) fn foot(&self, point: Point) -> Foot {
        let (piece, distance_mm) = self.nearest(point);
        Foot { piece, share: self.pieces[piece].share(point), distance_mm }
    }

    /// Whether no other foot is nearer to the point on a normal than its own.
    pub(crate) fn is_nearest(&self, foot: Foot, point: Point) -> bool {
        let own_mm = foot.distance_mm.abs();
        self.nearest(point).1.abs() >= own_mm - STILL_MM * (1.0 + own_mm)
    }
}

/// By how much another foot may be nearer and count as no nearer, as a share of the distance and 1 mm: rounding.
const STILL_MM: f64 = 1e-10;
