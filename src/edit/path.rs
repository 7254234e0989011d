//! A drawn line by its points: what a hand can do with each of them.
//!
//! A layout's own line is read and changed by [`super::with_points`].
//!
//! A point has a handle toward the one before and one toward the next where the line curves there; without one that side begins straight.
//! A point whose handles lie in one line is smooth, any other is a corner.

use crate::geometry::DrawnLine;
use crate::layout::Layout;
use kurbo::{BezPath, ParamCurve as _, ParamCurveNearest as _, PathEl, PathSeg, Point, Vec2};

impl Layout {
    /// The points of a line of the maker's own; none of a shape, or of another fold.
    #[must_use]
    pub fn line_points(&self) -> Option<LinePoints> {
        match &self.raw().fold.line()?.line {
            DrawnLine::Path { path, .. } => Some(LinePoints::of(path)),
            DrawnLine::Shape { .. } => None,
        }
    }
}

/// Which of a point's two handles: toward the point before, or toward the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HandleSide {
    /// Toward the point before.
    Before,
    /// Toward the next point.
    After,
}

/// A point of a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    /// Where it lies, mm.
    pub at: Point,
    /// From it to its handle toward the point before, mm.
    pub before: Option<Vec2>,
    /// From it to its handle toward the next point, mm.
    pub after: Option<Vec2>,
}

/// A part of a line that hangs together: its points, in order.
#[derive(Debug, Clone, PartialEq)]
struct Part {
    points: Vec<LinePoint>,
    is_closed: bool,
}

/// A line by its points.
#[derive(Debug, Clone, PartialEq)]
pub struct LinePoints {
    parts: Vec<Part>,
}

/// Handles within this of one line make a smooth point, rad.
const SMOOTH_RAD: f64 = 1e-3;
/// Length of the handles of a point that is made smooth, as a share of the distance to its neighbour: what makes a circle's quarter look
/// round (own choice, a third as in Catmull and Rom's splines; from memory).
const HANDLE_SHARE: f64 = 1.0 / 3.0;
/// Points that close a part may lie so far apart, mm.
const SAME_MM: f64 = 1e-9;

impl LinePoint {
    const fn corner(at: Point) -> Self {
        Self { at, before: None, after: None }
    }

    /// Whether the line runs through it without a corner.
    #[must_use]
    pub fn is_smooth(&self) -> bool {
        match (self.before, self.after) {
            (Some(before), Some(after)) => before.cross(after).atan2(-before.dot(after)).abs() < SMOOTH_RAD,
            _ => false,
        }
    }

    /// A handle, if it has one.
    #[must_use]
    pub const fn handle(&self, side: HandleSide) -> Option<Vec2> {
        match side {
            HandleSide::Before => self.before,
            HandleSide::After => self.after,
        }
    }
}

impl LinePoints {
    /// The points of a path.
    #[must_use]
    pub fn of(path: &BezPath) -> Self {
        let parts = path.subpaths().map(part).filter(|part: &Part| !part.points.is_empty());
        Self { parts: parts.collect() }
    }

    /// The path through them.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let mut path = BezPath::new();
        for part in &self.parts {
            path.move_to(part.points[0].at);
            for pair in part.points.windows(2) {
                path.push(between(&pair[0], &pair[1]));
            }
            if part.is_closed {
                let (last, first) = (part.points[part.points.len() - 1], part.points[0]);
                if last.after.is_some() || first.before.is_some() {
                    path.push(between(&last, &first));
                }
                path.close_path();
            }
        }
        path
    }

    /// All points, part by part.
    pub fn iter(&self) -> impl Iterator<Item = &LinePoint> {
        self.parts.iter().flat_map(|part| &part.points)
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.parts.iter().map(|part| part.points.len()).sum()
    }

    /// A point by its place among all.
    #[must_use]
    pub fn get(&self, index: usize) -> Option<&LinePoint> {
        self.iter().nth(index)
    }

    /// Whether a point is the first or the last of a part that does not close.
    #[must_use]
    pub fn is_end(&self, index: usize) -> bool {
        self.place(index).is_some_and(|(number, place)| {
            let part = &self.parts[number];
            !part.is_closed && (place == 0 || place + 1 == part.points.len())
        })
    }

    fn place(&self, index: usize) -> Option<(usize, usize)> {
        let mut left = index;
        for (number, part) in self.parts.iter().enumerate() {
            if left < part.points.len() {
                return Some((number, left));
            }
            left -= part.points.len();
        }
        None
    }

    fn point_mut(&mut self, index: usize) -> Option<&mut LinePoint> {
        let (part, place) = self.place(index)?;
        self.parts[part].points.get_mut(place)
    }

    /// Puts a point somewhere, its handles with it.
    pub fn put(&mut self, index: usize, at: Point) {
        if let Some(point) = self.point_mut(index) {
            point.at = at;
        }
    }

    /// Puts a handle somewhere. Of a smooth point the other one turns with it.
    pub fn put_handle(&mut self, index: usize, side: HandleSide, at: Point) {
        let Some(point) = self.point_mut(index) else { return };
        let (was_smooth, handle) = (point.is_smooth(), at - point.at);
        let (own, other) = match side {
            HandleSide::Before => (&mut point.before, &mut point.after),
            HandleSide::After => (&mut point.after, &mut point.before),
        };
        *own = Some(handle);
        if was_smooth && handle.hypot() > SAME_MM {
            *other = other.map(|other| -other.hypot() / handle.hypot() * handle);
        }
    }

    /// Makes a point a corner between straight sides.
    pub fn make_corner(&mut self, index: usize) {
        if let Some(point) = self.point_mut(index) {
            *point = LinePoint::corner(point.at);
        }
    }

    /// Makes a point smooth, along the line from its one neighbour to its other. On the fold line, where the line goes on mirrored, it
    /// runs straight across.
    pub fn make_smooth(&mut self, index: usize, is_on_fold: bool) {
        let Some((number, place)) = self.place(index) else { return };
        let part = &mut self.parts[number];
        let (count, closed, at) = (part.points.len(), part.is_closed, part.points[place].at);
        let neighbour = |step: isize| {
            let next = place.checked_add_signed(step).filter(|next| *next < count);
            let wrapped = if step < 0 { count - 1 } else { 0 };
            next.or_else(|| closed.then_some(wrapped)).filter(|next| *next != place).map(|next| part.points[next].at)
        };
        let (before, after) = (neighbour(-1), neighbour(1));
        let direction = match (before, after) {
            (Some(before), Some(after)) => after - before,
            (Some(before), None) => {
                if is_on_fold {
                    Vec2::new(-1.0, 0.0)
                } else {
                    at - before
                }
            }
            (None, Some(after)) => {
                if is_on_fold {
                    Vec2::new(1.0, 0.0)
                } else {
                    after - at
                }
            }
            (None, None) => return,
        };
        if direction.hypot() < SAME_MM {
            return;
        }
        let direction = direction.normalize();
        let handle = |to: Option<Point>| to.map(|to| HANDLE_SHARE * (to - at).hypot());
        part.points[place].before = handle(before).map(|length| -length * direction);
        part.points[place].after = handle(after).map(|length| length * direction);
    }

    /// Adds a point on the line where it is nearest to a place; its place among all points.
    pub fn add_near(&mut self, to: Point) -> Option<usize> {
        let mut best: Option<(f64, usize, usize, f64)> = None;
        for (number, part) in self.parts.iter().enumerate() {
            for (from, segment) in part.segments().enumerate() {
                let nearest = segment.nearest(to, 1e-3);
                if best.is_none_or(|(least, ..)| nearest.distance_sq < least) {
                    best = Some((nearest.distance_sq, number, from, nearest.t));
                }
            }
        }
        let (_, number, from, t) = best?;
        let part = &mut self.parts[number];
        let next = (from + 1) % part.points.len();
        let segment = part.segments().nth(from)?;
        let mut added = LinePoint::corner(segment.eval(t));
        if let PathSeg::Cubic(_) = segment {
            let (PathSeg::Cubic(first), PathSeg::Cubic(second)) = (segment.subsegment(0.0..t), segment.subsegment(t..1.0)) else {
                return None;
            };
            part.points[from].after = Some(first.p1 - first.p0);
            added.before = Some(first.p2 - first.p3);
            added.after = Some(second.p1 - second.p0);
            part.points[next].before = Some(second.p2 - second.p3);
        }
        part.points.insert(from + 1, added);
        let earlier: usize = self.parts[..number].iter().map(|part| part.points.len()).sum();
        Some(earlier + from + 1)
    }

    /// Takes a point away, if two are left in its part.
    pub fn remove(&mut self, index: usize) {
        let Some((number, place)) = self.place(index) else { return };
        if self.parts[number].points.len() > 2 {
            self.parts[number].points.remove(place);
        }
    }
}

impl Part {
    fn segments(&self) -> impl Iterator<Item = PathSeg> {
        let count = self.points.len();
        let last = if self.is_closed { count } else { count.saturating_sub(1) };
        (0..last).map(move |from| {
            let (a, b) = (&self.points[from], &self.points[(from + 1) % count]);
            match between(a, b) {
                PathEl::CurveTo(p1, p2, p3) => PathSeg::Cubic(kurbo::CubicBez::new(a.at, p1, p2, p3)),
                _ => PathSeg::Line(kurbo::Line::new(a.at, b.at)),
            }
        })
    }
}

/// The piece from one point to the next.
fn between(a: &LinePoint, b: &LinePoint) -> PathEl {
    match (a.after, b.before) {
        (None, None) => PathEl::LineTo(b.at),
        (after, before) => PathEl::CurveTo(a.at + after.unwrap_or_default(), b.at + before.unwrap_or_default(), b.at),
    }
}

fn part(elements: &[PathEl]) -> Part {
    let mut points: Vec<LinePoint> = Vec::new();
    let mut is_closed = false;
    for element in elements {
        let last = points.last_mut();
        match *element {
            PathEl::MoveTo(at) | PathEl::LineTo(at) => points.push(LinePoint::corner(at)),
            PathEl::QuadTo(control, at) => {
                // The same curve as a cubic: its handles reach two thirds of the way to the control point.
                if let Some(last) = last {
                    last.after = Some((control - last.at) * (2.0 / 3.0));
                }
                points.push(LinePoint { at, before: Some((control - at) * (2.0 / 3.0)), after: None });
            }
            PathEl::CurveTo(first, second, at) => {
                if let Some(last) = last {
                    last.after = Some(first - last.at);
                }
                points.push(LinePoint { at, before: Some(second - at), after: None });
            }
            PathEl::ClosePath => is_closed = true,
        }
    }
    // A part that is closed by coming back ends in its first point.
    if is_closed && points.len() > 1 && points[0].at.distance(points[points.len() - 1].at) < SAME_MM {
        let last = points.pop();
        points[0].before = last.and_then(|last| last.before);
    }
    Part { points, is_closed }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::LineShape;
    use kurbo::{Shape as _, Size};

    fn paths() -> impl Iterator<Item = (&'static str, BezPath)> {
        let size = |shape: LineShape| shape.natural_size(200.0);
        let whole = LineShape::ALL.map(|shape| (shape.name(), shape.path(Point::new(120.0, 300.0), size(shape))));
        let halves = LineShape::ALL.map(|shape| (shape.name(), shape.half_path(Point::new(0.0, 300.0), size(shape))));
        whole.into_iter().chain(halves)
    }

    fn is_near(a: &BezPath, b: &BezPath) -> bool {
        let (a, b): (Vec<PathSeg>, Vec<PathSeg>) = (a.segments().collect(), b.segments().collect());
        let near =
            |a: &PathSeg, b: &PathSeg| (0..=8_u8).all(|t| a.eval(f64::from(t) / 8.0).distance(b.eval(f64::from(t) / 8.0)) < 1e-9);
        a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| near(a, b))
    }

    #[test]
    fn a_path_is_its_points_and_back() {
        for (name, path) in paths() {
            assert!(is_near(&LinePoints::of(&path).path(), &path), "{name}");
        }
    }

    /// A point added on a line changes nothing of it; taken away from between straight sides neither.
    #[test]
    fn an_added_point_leaves_the_line_as_it_is() {
        for (name, path) in paths() {
            let mut points = LinePoints::of(&path);
            let count = points.count();
            let near = path.segments().next().unwrap().eval(0.4) + Vec2::new(0.3, 0.2);
            let added = points.add_near(near).unwrap();
            assert_eq!(points.count(), count + 1, "{name}");
            assert!(points.get(added).unwrap().at.distance(near) < 0.5, "{name}");
            assert!((points.path().perimeter(1e-6) - path.perimeter(1e-6)).abs() < 1e-3, "{name}");
            assert!((points.path().area() - path.area()).abs() < 1e-3, "{name}");
        }
    }

    #[test]
    fn handles_of_a_smooth_point_turn_together() {
        let circle = LineShape::Ring.path(Point::ZERO, Size::new(100.0, 100.0));
        let mut points = LinePoints::of(&circle);
        assert!(points.iter().all(LinePoint::is_smooth));
        let right = points.iter().position(|point| point.at.x > 49.0).unwrap();
        let before = *points.get(right).unwrap();
        points.put_handle(right, HandleSide::After, before.at + Vec2::new(20.0, 20.0));
        let after = *points.get(right).unwrap();
        assert!(after.is_smooth());
        assert!((after.before.unwrap().hypot() - before.before.unwrap().hypot()).abs() < 1e-9, "its length stays");
        points.make_corner(right);
        assert!(!points.get(right).unwrap().is_smooth());
        points.make_smooth(right, false);
        let smooth = *points.get(right).unwrap();
        // Between top and foot of the circle it runs straight down.
        assert!(smooth.is_smooth() && smooth.after.unwrap().x.abs() < 1e-9);
        points.put(right, Point::new(80.0, 0.0));
        assert_eq!(points.get(right).unwrap().handle(HandleSide::After), smooth.after, "handles go with their point");
    }

    #[test]
    fn two_points_stay_at_least() {
        let mut points = LinePoints::of(&LineShape::Diamond.path(Point::ZERO, Size::new(100.0, 100.0)));
        for _ in 0..9 {
            points.remove(0);
        }
        assert_eq!(points.count(), 2);
    }
}
