//! What is marked on a photograph while a hand corrects it: points and sheet.

use crate::geometry::Panel;
use crate::layout::Layout;
use crate::photo::{FoundPoints, MarkedPoint, Marks, NamedPoint, Sheet, SheetPaper, named_points};
use kurbo::{Point, Vec2};

/// Where a point's place comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Origin {
    /// The program found the cloth's edge there.
    Found,
    /// The program placed it where it may be.
    Guessed,
    /// A hand put it there, or a file of marks did.
    Set,
}

impl Origin {
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Found => "found",
            Self::Guessed => "a guess",
            Self::Set => "set",
        }
    }
}

/// A point that can be marked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Handle {
    pub(super) name: String,
    /// Where it is, px of the whole picture.
    pub(super) at: Point,
    pub(super) origin: Origin,
    /// Whether it is left out.
    pub(super) is_out: bool,
}

/// Something that can be moved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Mark {
    /// A point, by its place among all.
    Point(usize),
    /// A corner of the sheet, from 0.
    Corner(usize),
}

/// All that is marked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Marking {
    pub(super) side: Panel,
    pub(super) points: Vec<Handle>,
    pub(super) sheet: Option<Sheet>,
}

impl Marking {
    /// As the program found it.
    pub(super) fn of_found(found: &FoundPoints, side: Panel) -> Self {
        let points = found.points.iter().map(|point| Handle {
            name: point.mark.name.clone(),
            at: point.mark.at,
            origin: if point.is_sure { Origin::Found } else { Origin::Guessed },
            is_out: !found.counts(point),
        });
        Self { side, points: points.collect(), sheet: found.sheet.clone() }
    }

    /// As a file of marks has it; named points that the file lacks are left out, at their places in `found`.
    pub(super) fn of_marks(marks: &Marks, found: &FoundPoints) -> Self {
        let mut marking = Self::of_found(found, marks.side);
        for handle in &mut marking.points {
            let kept = marks.points.iter().find(|point| point.name == handle.name);
            handle.is_out = kept.is_none();
            if let Some(MarkedPoint { at, .. }) = kept {
                (handle.at, handle.origin) = (*at, Origin::Set);
            }
        }
        Self { sheet: marks.sheet.clone(), ..marking }
    }

    /// What a file of marks holds of it.
    pub(super) fn marks(&self) -> Marks {
        let points = self.points.iter().filter(|handle| !handle.is_out);
        let points = points.map(|handle| MarkedPoint { name: handle.name.clone(), at: handle.at });
        Marks { side: self.side, points: points.collect(), sheet: self.sheet.clone() }
    }

    /// The same for another side or layout: points of its names stay, others come as guesses.
    pub(super) fn turned(&self, layout: &Layout, side: Panel) -> Self {
        let of = |NamedPoint { name, .. }: NamedPoint| {
            let known = self.points.iter().find(|handle| handle.name == name).cloned();
            let middle = self.points.iter().fold(Vec2::ZERO, |sum, handle| sum + handle.at.to_vec2());
            let at = (middle / self.points.len().max(1) as f64).to_point();
            known.unwrap_or(Handle { name, at, origin: Origin::Guessed, is_out: true })
        };
        Self { side, points: named_points(layout, side).into_iter().map(of).collect(), sheet: self.sheet.clone() }
    }

    /// Everything that can be moved, in the order in which keys come to it.
    pub(super) fn all(&self) -> impl Iterator<Item = Mark> + use<> {
        let corners = if self.sheet.is_some() { 4 } else { 0 };
        (0..self.points.len()).map(Mark::Point).chain((0..corners).map(Mark::Corner))
    }

    /// Where it is; none of a corner of no sheet.
    pub(super) fn place(&self, mark: Mark) -> Option<Point> {
        match mark {
            Mark::Point(at) => self.points.get(at).map(|handle| handle.at),
            Mark::Corner(at) => self.sheet.as_ref().and_then(|sheet| sheet.corners.get(at)).copied(),
        }
    }

    /// Its name.
    pub(super) fn name(&self, mark: Mark) -> String {
        match mark {
            Mark::Point(at) => self.points.get(at).map_or_else(String::new, |handle| handle.name.clone()),
            Mark::Corner(at) => format!("sheet corner {}", at + 1),
        }
    }

    /// Puts it elsewhere within a picture of this size.
    pub(super) fn put(&mut self, mark: Mark, to: Point, [width, height]: [u32; 2]) {
        let to = Point::new(to.x.clamp(0.0, f64::from(width)), to.y.clamp(0.0, f64::from(height)));
        match mark {
            Mark::Point(at) => {
                if let Some(handle) = self.points.get_mut(at).filter(|_| to.is_finite()) {
                    (handle.at, handle.origin, handle.is_out) = (to, Origin::Set, false);
                }
            }
            Mark::Corner(at) => {
                if let Some(corner) = self.sheet.as_mut().and_then(|sheet| sheet.corners.get_mut(at)).filter(|_| to.is_finite()) {
                    *corner = to;
                }
            }
        }
    }

    /// The paper that lies there.
    pub(super) fn paper(&self) -> Option<SheetPaper> {
        self.sheet.as_ref().map(|sheet| sheet.paper)
    }
}

#[cfg(test)]
mod tests {
    use super::super::history::History;
    use super::*;

    fn marking() -> Marking {
        let handle =
            |name: &str, x: f64| Handle { name: name.to_owned(), at: Point::new(x, 5.0), origin: Origin::Found, is_out: false };
        let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0)].map(Point::from);
        let sheet = Some(Sheet { paper: SheetPaper::A4, corners });
        Marking { side: Panel::Front, points: vec![handle("neck left", 1.0), handle("neck right", 9.0)], sheet }
    }

    #[test]
    fn what_is_put_stays_within_the_picture_and_counts_again() {
        let mut marking = marking();
        marking.points[1].is_out = true;
        assert_eq!(marking.marks().points.len(), 1);
        marking.put(Mark::Point(1), Point::new(-3.0, 700.0), [20, 10]);
        assert_eq!((marking.points[1].at, marking.points[1].origin), (Point::new(0.0, 10.0), Origin::Set));
        assert_eq!(marking.marks().points.len(), 2);
        marking.put(Mark::Corner(2), Point::new(f64::NAN, 1.0), [20, 10]);
        assert_eq!(marking.place(Mark::Corner(2)), Some(Point::new(4.0, 6.0)));
    }

    #[test]
    fn a_gesture_is_one_step_and_one_that_changes_nothing_is_none() {
        let mut history = History::new(marking());
        history.take_hold("Move neck left".to_owned());
        for x in [2.0, 3.0, 4.0] {
            history.now.put(Mark::Point(0), Point::new(x, 5.0), [20, 10]);
            history.take_hold("Move neck left".to_owned());
        }
        // Another thing is another step, even where the end of the one before was not seen; it changes nothing here.
        history.take_hold("Move neck right".to_owned());
        history.let_go();
        assert_eq!(history.labels(), [Some("Move neck left"), None]);
        history.step(false);
        assert_eq!((&history.now, history.labels()), (&marking(), [None, Some("Move neck left")]));
        history.step(true);
        assert_eq!(history.now.points[0].at.x, 4.0);
        history.step(true);
        assert_eq!(history.now.points[0].at.x, 4.0);
    }

    /// A file of marks with fewer points than the garment has: the others are there, left out.
    #[test]
    fn marks_of_a_file_leave_the_others_out() {
        let found = FoundPoints {
            points: marking()
                .points
                .iter()
                .map(|handle| crate::photo::FoundPoint {
                    mark: MarkedPoint { name: handle.name.clone(), at: handle.at },
                    is_sure: false,
                })
                .collect(),
            sheet: None,
        };
        let mut kept = marking().marks();
        kept.points.remove(1);
        let marking = Marking::of_marks(&kept, &found);
        assert_eq!(marking.marks(), kept);
        let origins: Vec<_> = marking.points.iter().map(|handle| (handle.origin, handle.is_out)).collect();
        assert_eq!(origins, [(Origin::Set, false), (Origin::Guessed, true)]);
    }
}
