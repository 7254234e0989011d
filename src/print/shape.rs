//! The shapes that a drawing is made of: lines, circles, words, pictures, in mm.

use kurbo::{Affine, BezPath, Circle, Line, PathEl, Point, Rect, Shape as _, Vec2};

use super::flatten::FLATTEN_MM;
use super::font::{self, Face};
use super::image::Image;
use super::pattern::Pattern;

/// The geometry of an item, in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A straight line.
    Line(Line),
    /// Lines and curves.
    Path(BezPath),
    /// A full circle.
    Circle(Circle),
    /// Part of a circle.
    Arc(Arc),
    /// Filled dots.
    Dots(Dots),
    /// A closed area filled with a pattern made of real lines and dots. Its edge is not drawn.
    Area {
        /// The closed edge.
        outline: BezPath,
        /// What fills it.
        pattern: Pattern,
    },
    /// A small closed area filled with ink (an arrow head, a half mark). DXF draws its edge only.
    Solid(BezPath),
    /// Words.
    Text(Text),
    /// A picture. DXF draws its edge only.
    Image(Image),
}

/// Part of a circle, kept as such in SVG and DXF.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre in mm.
    pub center: Point,
    /// Radius in mm.
    pub radius_mm: f64,
    /// Where it starts, from +x toward +y.
    pub start_rad: f64,
    /// How far it runs, signed, up to a full turn either way.
    pub sweep_rad: f64,
}

impl Arc {
    /// The point at the angle `start_rad + t * sweep_rad`.
    #[must_use]
    pub fn point_at(&self, t: f64) -> Point {
        self.center + self.radius_mm * Vec2::from_angle(self.start_rad + t * self.sweep_rad)
    }

    /// As cubic curves, within a tenth of [`FLATTEN_MM`].
    #[must_use]
    pub fn to_path(&self) -> BezPath {
        let arc = kurbo::Arc::new(self.center, (self.radius_mm, self.radius_mm), self.start_rad, self.sweep_rad, 0.0);
        arc.to_path(FLATTEN_MM / 10.0)
    }
}

/// Filled dots of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Dots {
    /// Centres in mm.
    pub centers: Vec<Point>,
    /// Radius of each dot in mm.
    pub radius_mm: f64,
}

/// Which point of the words stands at the given position. Always on the baseline.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Anchor {
    /// The first letter's edge.
    #[default]
    Start,
    /// The middle.
    Middle,
    /// The last letter's edge.
    End,
}

/// A line of words.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// The words.
    pub text: String,
    /// Where the anchor stands, on the baseline, in mm.
    pub position: Point,
    /// Height of a capital letter in mm.
    pub cap_height_mm: f64,
    /// Which point of the words stands there.
    pub anchor: Anchor,
    /// Turn about the position, from +x toward +y.
    pub rotation_rad: f64,
    /// Regular or bold.
    pub face: Face,
}

impl Text {
    /// Level, regular words that start at `position`.
    #[must_use]
    pub fn new(text: impl Into<String>, position: impl Into<Point>, cap_height_mm: f64) -> Self {
        Self {
            text: text.into(),
            position: position.into(),
            cap_height_mm,
            anchor: Anchor::Start,
            rotation_rad: 0.0,
            face: Face::Regular,
        }
    }

    /// The same words with another anchor.
    #[must_use]
    pub fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same words turned about their position.
    #[must_use]
    pub fn rotated(mut self, rotation_rad: f64) -> Self {
        self.rotation_rad = rotation_rad;
        self
    }

    /// The same words in bold.
    #[must_use]
    pub fn bold(mut self) -> Self {
        self.face = Face::Bold;
        self
    }

    /// Length of the line of words in mm.
    #[must_use]
    pub fn width_mm(&self) -> f64 {
        font::width_mm(&self.text, self.face, self.cap_height_mm)
    }

    /// Takes text space (baseline start at the origin, x along the words, y down) to the drawing.
    #[must_use]
    pub fn drawing_from_text(&self) -> Affine {
        let shift = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -self.width_mm() / 2.0,
            Anchor::End => -self.width_mm(),
        };
        Affine::translate(self.position.to_vec2()) * Affine::rotate(self.rotation_rad) * Affine::translate((shift, 0.0))
    }

    /// The box round the words in text space: accents above, descenders below.
    #[must_use]
    pub fn text_box(&self) -> Rect {
        Rect::new(0.0, -1.25 * self.cap_height_mm, self.width_mm(), 0.32 * self.cap_height_mm)
    }
}

impl Shape {
    /// The shape moved, turned and scaled by a similarity (no shear, no mirror image).
    #[must_use]
    pub fn transformed(&self, by: Affine) -> Self {
        let scale = by.determinant().abs().sqrt();
        let turn_rad = by.as_coeffs()[1].atan2(by.as_coeffs()[0]);
        match self {
            Self::Line(line) => Self::Line(by * *line),
            Self::Path(path) => Self::Path(by * path),
            Self::Circle(c) => Self::Circle(Circle::new(by * c.center, c.radius * scale)),
            Self::Arc(a) => Self::Arc(Arc {
                center: by * a.center,
                radius_mm: a.radius_mm * scale,
                start_rad: a.start_rad + turn_rad,
                sweep_rad: a.sweep_rad,
            }),
            Self::Dots(d) => {
                Self::Dots(Dots { centers: d.centers.iter().map(|c| by * *c).collect(), radius_mm: d.radius_mm * scale })
            }
            Self::Area { outline, pattern } => Self::Area { outline: by * outline, pattern: *pattern },
            Self::Solid(path) => Self::Solid(by * path),
            Self::Text(t) => Self::Text(Text {
                position: by * t.position,
                cap_height_mm: t.cap_height_mm * scale,
                rotation_rad: t.rotation_rad + turn_rad,
                ..t.clone()
            }),
            Self::Image(i) => Self::Image(Image { drawing_from_unit: by * i.drawing_from_unit, pixels: i.pixels.clone() }),
        }
    }

    /// The shape as a path of lines and curves, for those who paint it; empty for dots and words.
    #[must_use]
    pub fn outline(&self) -> BezPath {
        match self {
            Self::Line(line) => line.to_path(FLATTEN_MM),
            Self::Path(path) | Self::Solid(path) | Self::Area { outline: path, .. } => path.clone(),
            Self::Circle(circle) => circle.to_path(FLATTEN_MM),
            Self::Arc(arc) => arc.to_path(),
            Self::Image(image) => image.edge(),
            Self::Dots(_) | Self::Text(_) => BezPath::new(),
        }
    }

    /// The box that holds the shape, without its stroke. Exact for lines, circles and curves.
    #[must_use]
    pub fn bounding_box(&self) -> Rect {
        match self {
            Self::Line(line) => line.bounding_box(),
            Self::Path(path) | Self::Solid(path) | Self::Area { outline: path, .. } => path.bounding_box(),
            Self::Circle(circle) => circle.bounding_box(),
            Self::Arc(arc) => arc.to_path().bounding_box(),
            Self::Dots(dots) => box_of_points(&dots.centers).inflate(dots.radius_mm, dots.radius_mm),
            Self::Text(text) => (text.drawing_from_text() * text.text_box().to_path(FLATTEN_MM)).bounding_box(),
            Self::Image(image) => image.edge().bounding_box(),
        }
    }

    /// Its radius or letter height in mm; 0 for a shape that has neither.
    pub(super) const fn size_mm(&self) -> f64 {
        match self {
            Self::Circle(circle) => circle.radius,
            Self::Arc(arc) => arc.radius_mm,
            Self::Dots(dots) => dots.radius_mm,
            Self::Text(text) => text.cap_height_mm,
            Self::Line(_) | Self::Path(_) | Self::Area { .. } | Self::Solid(_) | Self::Image(_) => 0.0,
        }
    }

    /// The largest of its numbers, in mm, by absolute value; NaN when one of them is.
    pub(super) fn reach_mm(&self) -> f64 {
        let points = |points: &mut dyn Iterator<Item = Point>| points.flat_map(|p| [p.x, p.y]).fold(0.0, largest);
        match self {
            Self::Line(line) => points(&mut [line.p0, line.p1].into_iter()),
            Self::Path(path) | Self::Solid(path) | Self::Area { outline: path, .. } => {
                points(&mut path.iter().flat_map(points_of))
            }
            Self::Image(image) => points(&mut image.edge().iter().flat_map(points_of)),
            Self::Circle(circle) => largest(points(&mut [circle.center].into_iter()), circle.radius),
            Self::Arc(arc) => {
                [arc.radius_mm, arc.start_rad, arc.sweep_rad].into_iter().fold(points(&mut [arc.center].into_iter()), largest)
            }
            Self::Dots(dots) => largest(points(&mut dots.centers.iter().copied()), dots.radius_mm),
            Self::Text(text) => {
                [text.cap_height_mm, text.rotation_rad].into_iter().fold(points(&mut [text.position].into_iter()), largest)
            }
        }
    }
}

/// The larger by absolute value; NaN when either is.
fn largest(a: f64, b: f64) -> f64 {
    if a.is_nan() || b.is_nan() { f64::NAN } else { a.abs().max(b.abs()) }
}

fn points_of(el: PathEl) -> impl Iterator<Item = Point> {
    let points = match el {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => [Some(p), None, None],
        PathEl::QuadTo(a, p) => [Some(a), Some(p), None],
        PathEl::CurveTo(a, b, p) => [Some(a), Some(b), Some(p)],
        PathEl::ClosePath => [None; 3],
    };
    points.into_iter().flatten()
}

fn box_of_points(points: &[Point]) -> Rect {
    let mut points = points.iter();
    match points.next() {
        Some(first) => points.fold(Rect::from_points(*first, *first), |r, p| r.union_pt(*p)),
        None => Rect::ZERO,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    #[test]
    fn an_arc_turns_with_the_drawing() {
        let arc = Arc { center: Point::new(10.0, 0.0), radius_mm: 5.0, start_rad: 0.0, sweep_rad: PI };
        let by = Affine::translate((3.0, 4.0)) * Affine::rotate(FRAC_PI_2) * Affine::scale(2.0);
        let Shape::Arc(turned) = Shape::Arc(arc).transformed(by) else { panic!("an arc stays an arc") };
        for t in [0.0, 0.3, 1.0] {
            assert!((turned.point_at(t) - by * arc.point_at(t)).hypot() < 1e-9);
        }
    }

    #[test]
    fn an_arc_as_curves_keeps_its_radius() {
        let arc = Arc { center: Point::new(0.0, 300.0), radius_mm: 400.0, start_rad: -1.0, sweep_rad: 2.5 };
        kurbo::flatten(arc.to_path(), 1e-4, |el| {
            let p = el.end_point().expect("an open path has points only");
            assert!((p.distance(arc.center) - 400.0).abs() < 2e-3);
        });
    }

    #[test]
    fn words_turned_about_their_middle_keep_it() {
        let text = Text::new("line 210", (50.0, 60.0), 3.0).anchored(Anchor::Middle).rotated(0.7);
        let middle = text.drawing_from_text() * Point::new(text.width_mm() / 2.0, 0.0);
        assert!((middle - text.position).hypot() < 1e-9);
    }
}
