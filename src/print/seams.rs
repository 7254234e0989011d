//! Where sheets had better not meet: at a pin, which lines are measured from, and along a straight line of the drawing,
//! where a seam hides it.

use kurbo::{Line, PathSeg, Point};

use super::drawing::Drawing;
use super::shape::Shape;
use super::style::Layer;

/// Least distance of a trim line from a pin, in mm. Own choice: pin, cross and words stay on one sheet.
const CENTRE_CLEAR_MM: f64 = 25.0;
/// Nearer than this to a pin, in mm, a trim line would cut its pin hole or put a join mark over it.
const CENTRE_CUT_MM: f64 = 6.0;
/// Least distance of a trim line from a straight line along it, in mm. Own choice: more than half the usual overlap.
const LINE_CLEAR_MM: f64 = 8.0;
/// A straight line shorter than this, in mm, may lie under a seam.
const SHORT_MM: f64 = 40.0;
/// Two ends of a line level with each other to this, in mm, make it level or upright.
const LEVEL_MM: f64 = 0.01;

/// The places of a drawing that trim lines should keep away from.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Seams {
    centres: Vec<Point>,
    /// x of upright lines.
    upright: Vec<f64>,
    /// y of level lines.
    level: Vec<f64>,
}

impl Seams {
    /// The centres of items on [`Layer::Pin`], and the level and upright lines of edge and centre line.
    pub(super) fn of(drawing: &Drawing) -> Self {
        let mut seams = Self::default();
        for item in &drawing.items {
            match (item.layer, &item.shape) {
                (Layer::Pin, shape) => {
                    let centre = shape.bounding_box().center();
                    if !seams.centres.contains(&centre) {
                        seams.centres.push(centre);
                    }
                }
                (Layer::Outline | Layer::Axis, Shape::Line(line)) => seams.add(*line),
                (Layer::Outline, Shape::Path(path)) => path.segments().for_each(|segment| {
                    if let PathSeg::Line(line) = segment {
                        seams.add(line);
                    }
                }),
                _ => {}
            }
        }
        seams
    }

    fn add(&mut self, line: Line) {
        let reach = line.p1 - line.p0;
        if reach.hypot() < SHORT_MM {
            return;
        }
        if reach.x.abs() < LEVEL_MM {
            self.upright.push(line.p0.x);
        } else if reach.y.abs() < LEVEL_MM {
            self.level.push(line.p0.y);
        }
    }

    /// Whether a trim line at these x and y cuts a pin.
    pub(super) fn cuts_centre(&self, mut xs: impl Iterator<Item = f64>, mut ys: impl Iterator<Item = f64>) -> bool {
        let near = |place: f64, trim: f64| (place - trim).abs() < CENTRE_CUT_MM;
        xs.any(|x| self.centres.iter().any(|c| near(c.x, x))) || ys.any(|y| self.centres.iter().any(|c| near(c.y, y)))
    }

    /// How far trim lines at these x and y fall short of the distances they should keep, in mm, all together; 0 is best.
    pub(super) fn fault_mm(&self, xs: impl Iterator<Item = f64> + Clone, ys: impl Iterator<Item = f64> + Clone) -> f64 {
        let short = |places: &mut dyn Iterator<Item = f64>, trim: f64, clear_mm: f64| -> f64 {
            places.map(|place| (clear_mm - (place - trim).abs()).max(0.0)).sum()
        };
        let at_xs = xs.map(|x| {
            short(&mut self.centres.iter().map(|c| c.x), x, CENTRE_CLEAR_MM)
                + short(&mut self.upright.iter().copied(), x, LINE_CLEAR_MM)
        });
        let at_ys = ys.map(|y| {
            short(&mut self.centres.iter().map(|c| c.y), y, CENTRE_CLEAR_MM)
                + short(&mut self.level.iter().copied(), y, LINE_CLEAR_MM)
        });
        at_xs.sum::<f64>() + at_ys.sum::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn faults_are_what_is_missing_to_the_clear_distance() {
        let mut drawing = Drawing::new("t");
        drawing.circle(Layer::Pin, (100.0, 50.0), 1.5);
        drawing.line(Layer::Axis, (0.0, 0.0), (0.0, 300.0));
        drawing.line(Layer::Outline, (0.0, 300.0), (30.0, 300.0));
        let seams = Seams::of(&drawing);
        let fault = |x: f64, y: f64| seams.fault_mm(std::iter::once(x), std::iter::once(y));
        assert!(fault(100.0, 50.0) == 50.0 && fault(80.0, 300.0) == 5.0 && fault(3.0, 100.0) == 5.0);
        assert!(fault(40.0, 120.0) == 0.0);
        let cuts = |x: f64, y: f64| seams.cuts_centre(std::iter::once(x), std::iter::once(y));
        assert!(cuts(102.0, 0.0) && cuts(0.0, 47.0) && !cuts(107.0, 57.0));
    }
}
