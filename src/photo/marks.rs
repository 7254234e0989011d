//! What a maker marks on a photograph: points of the garment, and the corners of a white sheet.

use super::{MarksError, MarksProblem};
use crate::geometry::Panel;
use crate::telling::Field;
use kurbo::Point;

/// Fewest points that settle a map.
pub(super) const FEWEST_POINTS: usize = 4;
/// Most points; a garment has fewer names. Own choice.
const MOST_POINTS: usize = 100;

/// The marks on a photograph of one side of a garment.
#[derive(Debug, Clone, PartialEq)]
pub struct Marks {
    /// The side that it shows.
    pub side: Panel,
    /// Named points of the garment.
    pub points: Vec<MarkedPoint>,
    /// The white sheet, where one lies beside the garment.
    pub sheet: Option<Sheet>,
}

/// A point of the garment in the picture.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedPoint {
    /// Its name: see [`named_points`](super::named_points).
    pub name: String,
    /// Its place, px from the upper left corner of the upright picture.
    pub at: Point,
}

/// A sheet of white paper on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its paper.
    pub paper: SheetPaper,
    /// Its corners, px, one after the other round it, from any of them, either way.
    pub corners: [Point; 4],
}

/// A paper whose sides are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetPaper {
    /// 210 x 297 mm.
    A4,
    /// 297 x 420 mm.
    A3,
    /// 8.5 x 11 in.
    Letter,
}

impl SheetPaper {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::A4, Self::A3, Self::Letter];

    /// Its name in files.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::Letter => "Letter",
        }
    }

    /// The paper of a name, in capitals or not.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|paper| paper.name().eq_ignore_ascii_case(name))
    }

    /// Its shorter and its longer side, mm. Sources: ISO 216; ANSI/ASME Y14.1 (from memory).
    #[must_use]
    pub const fn sides_mm(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::A3 => [297.0, 420.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}

impl Marks {
    /// Refuses marks that no picture of any garment can have.
    ///
    /// # Errors
    /// [`MarksError`] for the first: too many points, a name twice, a place that is not a number, a sheet whose corners don't go round it.
    pub fn check(&self) -> Result<(), MarksError> {
        if self.points.len() > MOST_POINTS {
            let problem = MarksProblem::TooMany { count: self.points.len(), most: MOST_POINTS };
            return Err(MarksError { field: "points".into(), problem });
        }
        for (index, point) in self.points.iter().enumerate() {
            if self.points[..index].iter().any(|earlier| earlier.name == point.name) {
                let problem = MarksProblem::NameTwice { name: point.name.clone() };
                return Err(MarksError { field: Field::from("points").item(index + 1).then("name"), problem });
            }
        }
        match &self.sheet {
            Some(sheet) => sheet.check(),
            None => Ok(()),
        }
    }

    /// Refuses places outside a picture of this width and height, px.
    ///
    /// # Errors
    /// [`MarksError`] for the first.
    pub fn check_within(&self, picture: [u32; 2]) -> Result<(), MarksError> {
        let points = (1..).zip(&self.points).map(|(number, point)| (Field::from("points").item(number).then("x"), point.at));
        let corners = self.sheet.iter().flat_map(|sheet| (1..).zip(sheet.corners));
        let corners = corners.map(|(number, at)| (Field::from("sheet.corners").item(number), at));
        let [width, height] = picture.map(f64::from);
        let is_within = |at: Point| (0.0..=width).contains(&at.x) && (0.0..=height).contains(&at.y);
        let outside = points.chain(corners).find(|(_, at)| !is_within(*at));
        outside
            .map_or(Ok(()), |(field, at)| Err(MarksError { field, problem: MarksProblem::Outside { at: [at.x, at.y], picture } }))
    }
}

impl Sheet {
    pub(super) fn check(&self) -> Result<(), MarksError> {
        let turn = |at: usize| {
            let [before, here, after] = [at + 3, at, at + 1].map(|corner| self.corners[corner % 4]);
            (here - before).cross(after - here)
        };
        let way: f64 = (0..4).map(turn).sum();
        // A NaN turns no way.
        let turns_on = |at: &usize| turn(*at) * way > 0.0;
        let back = (0..4).find(|at| !turns_on(at));
        back.map_or(Ok(()), |at| {
            let problem = MarksProblem::Crossed { corner: at + 1 };
            Err(MarksError { field: Field::from("sheet.corners").item(at + 1), problem })
        })
    }

    /// How far a place lies outside the sheet, px; below 0 within it.
    pub(super) fn outside_px(&self, at: Point) -> f64 {
        let sides = (0..4).map(|corner| (self.corners[corner], self.corners[(corner + 1) % 4]));
        let way = sides.clone().map(|(from, to)| from.to_vec2().cross(to.to_vec2())).sum::<f64>().signum();
        // Beyond a corner this is less than the distance, which keeps a little more of the table out.
        sides.map(|(from, to)| -way * (to - from).normalize().cross(at - from)).fold(f64::NEG_INFINITY, f64::max)
    }

    /// Places spread evenly over it, `inset` of its size away from its sides.
    pub(super) fn places(&self, across: u32, inset: f64) -> impl Iterator<Item = Point> + '_ {
        let share = move |step: u32| inset + (1.0 - 2.0 * inset) * f64::from(step) / f64::from(across - 1);
        let [a, b, c, d] = self.corners;
        (0..across).flat_map(move |row| {
            (0..across).map(move |column| a.lerp(b, share(column)).lerp(d.lerp(c, share(column)), share(row)))
        })
    }

    /// Its middle, px.
    pub(super) fn middle(&self) -> Point {
        self.corners[0].midpoint(self.corners[2]).midpoint(self.corners[1].midpoint(self.corners[3]))
    }
}
