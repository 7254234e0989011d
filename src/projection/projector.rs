//! A projector, or a screen under the cloth, and what it is aligned by.

use super::{ProjectorError, ProjectorProblem};
use crate::telling::Field;
use kurbo::{Point, Vec2};
use std::ops::RangeInclusive;

/// Longest name, characters.
const LONGEST_NAME: usize = 80;
/// Most projectors kept. Own choice: far beyond any workshop.
const MOST: usize = 100;
/// Sides of a rectangle to align by, mm. Own choice: a postcard to a large table.
const SIDES_MM: RangeInclusive<f64> = 80.0..=5000.0;
/// Sides of a picture, px. Own choice.
const SIDES_PX: RangeInclusive<u32> = 100..=30_000;
/// What the bar may correct the typed sides by. Own choice: who measured a side wrongly by more measured something else.
const SCALES: RangeInclusive<f64> = 0.8..=1.25;
/// Brightness of the lines, as a share of white.
const BRIGHTNESS: RangeInclusive<f64> = 0.05..=1.0;
/// Breadths of lines, mm on the table. Own choice: from a pixel to a broad chalk.
const LINES_MM: RangeInclusive<f64> = 0.2..=20.0;

/// A rectangle of known sides that the picture is laid onto.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// Its side from corner 1 to corner 2, mm.
    pub width_mm: f64,
    /// Its side from corner 2 to corner 3, mm.
    pub height_mm: f64,
}

/// Which places of the rectangle are marked in the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkSet {
    /// The four corners, which always fit exactly.
    Corners,
    /// The corners, the middles of the sides and the middle: a sheet folded in half both ways has them. What is left over tells how well they
    /// fit.
    WithMiddles,
}

impl MarkSet {
    /// Every set.
    pub const ALL: [Self; 2] = [Self::Corners, Self::WithMiddles];

    /// How many marks it has.
    #[must_use]
    pub const fn count(self) -> usize {
        match self {
            Self::Corners => 4,
            Self::WithMiddles => 9,
        }
    }

    /// The set with so many marks.
    #[must_use]
    pub fn of_count(count: usize) -> Option<Self> {
        Self::ALL.into_iter().find(|set| set.count() == count)
    }

    /// Where its marks lie, from the middle of the rectangle, in half sides: the corners clockwise from the upper left, the middles of the
    /// sides from the upper one, the middle.
    #[must_use]
    pub fn places(self) -> &'static [[f64; 2]] {
        const PLACES: [[f64; 2]; 9] =
            [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0], [0.0, -1.0], [1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, 0.0]];
        &PLACES[..self.count()]
    }

    /// What the mark of a number, from 1, is: `upper left corner`.
    #[must_use]
    pub const fn place_name(number: usize) -> &'static str {
        match number {
            1 => "upper left corner",
            2 => "upper right corner",
            3 => "lower right corner",
            4 => "lower left corner",
            5 => "middle of the upper side",
            6 => "middle of the right side",
            7 => "middle of the lower side",
            8 => "middle of the left side",
            _ => "middle",
        }
    }
}

/// A projector, or a screen under the cloth: what is known of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Projector {
    /// What the maker calls it.
    pub name: String,
    /// Width and height of its picture, px.
    pub picture: [u32; 2],
    /// What it was aligned by.
    pub rectangle: Rectangle,
    /// Where the rectangle's marks lie in the picture, px, in the order of [`MarkSet::places`].
    pub marks: Vec<Point>,
    /// What the typed sides are multiplied by to be true, as the bar measured.
    pub scale: f64,
    /// Brightness of the lines, as a share of white.
    pub brightness: f64,
    /// Breadth of a line, mm on the table.
    pub line_mm: f64,
}

/// Share of the picture's sides that a rectangle takes before it is dragged.
const SHARE_TO_BEGIN_WITH: f64 = 0.4;
/// A3, lying (ISO 216:2007, published).
const RECTANGLE_TO_BEGIN_WITH: Rectangle = Rectangle { width_mm: 420.0, height_mm: 297.0 };
/// Breadth of a line to begin with, mm: chalk.
const LINE_MM: f64 = 2.0;

impl Projector {
    /// A projector that nothing is known of but its picture: a sheet of A3 in the middle, to be dragged.
    #[must_use]
    pub fn new(name: String, picture: [u32; 2]) -> Self {
        let mut new = Self {
            name,
            picture,
            rectangle: RECTANGLE_TO_BEGIN_WITH,
            marks: Vec::new(),
            scale: 1.0,
            brightness: 1.0,
            line_mm: LINE_MM,
        };
        new.begin_anew(picture);
        new
    }

    /// Puts the corners back, in the middle of a picture of this width and height, px.
    pub fn begin_anew(&mut self, picture: [u32; 2]) {
        self.picture = picture;
        self.scale = 1.0;
        let [width, height] = picture.map(f64::from);
        let Rectangle { width_mm, height_mm } = self.rectangle;
        let px_per_mm = SHARE_TO_BEGIN_WITH * (width / width_mm).min(height / height_mm);
        let half = 0.5 * px_per_mm * Vec2::new(width_mm, height_mm);
        let place = |[x, y]: &[f64; 2]| Point::new(0.5 * width + x * half.x, 0.5 * height + y * half.y);
        self.marks = MarkSet::Corners.places().iter().map(place).collect();
    }

    /// The set of its marks.
    #[must_use]
    pub fn mark_set(&self) -> MarkSet {
        MarkSet::of_count(self.marks.len()).unwrap_or(MarkSet::Corners)
    }

    /// Goes on with another set of marks: middles begin where the corners say that they are.
    pub fn mark(&mut self, set: MarkSet) {
        self.marks.truncate(MarkSet::Corners.count());
        let Ok(alignment) = self.alignment() else { return };
        let places = set.places().iter().skip(self.marks.len());
        let added: Vec<Point> = places.filter_map(|place| alignment.picture_from_table().apply(self.on_table(*place))).collect();
        self.marks.extend(added);
    }

    /// The place of a mark on the table, mm.
    pub(super) fn on_table(&self, [x, y]: [f64; 2]) -> Point {
        let half = 0.5 * self.scale * Vec2::new(self.rectangle.width_mm, self.rectangle.height_mm);
        Point::new(x * half.x, y * half.y)
    }

    /// Corrects the scale by a bar that should measure `drawn_mm` and measures `measured_mm`.
    ///
    /// # Errors
    /// [`ProjectorProblem::Bar`]; nothing is corrected then.
    pub fn correct(&mut self, drawn_mm: f64, measured_mm: f64) -> Result<(), ProjectorProblem> {
        let scale = self.scale * measured_mm / drawn_mm;
        if !SCALES.contains(&scale) {
            return Err(ProjectorProblem::Bar { measured_mm, drawn_mm });
        }
        self.scale = scale;
        Ok(())
    }

    /// Checks that the picture is the one aligned.
    ///
    /// # Errors
    /// [`ProjectorProblem::OtherPicture`].
    pub fn check_picture(&self, now: [u32; 2]) -> Result<(), ProjectorProblem> {
        let aligned = self.picture;
        if aligned == now { Ok(()) } else { Err(ProjectorProblem::OtherPicture { aligned, now }) }
    }

    /// Checks every value, and that the marks lie as a rectangle's can.
    ///
    /// # Errors
    /// [`ProjectorError`] naming the field.
    pub fn check(&self) -> Result<(), ProjectorError> {
        let wrong = |field: Field, problem| ProjectorError { field, problem };
        let length = self.name.trim().chars().count();
        if length == 0 || length > LONGEST_NAME || self.name.contains(char::is_control) {
            return Err(wrong("name".into(), ProjectorProblem::Name { length, most: LONGEST_NAME }));
        }
        for (field, side) in [("width_px", self.picture[0]), ("height_px", self.picture[1])] {
            check_number(f64::from(side), f64::from(*SIDES_PX.start())..=f64::from(*SIDES_PX.end()))
                .map_err(|problem| wrong(Field::from("picture").then(field), problem))?;
        }
        for (field, side_mm) in [("width_mm", self.rectangle.width_mm), ("height_mm", self.rectangle.height_mm)] {
            check_side(side_mm).map_err(|problem| wrong(Field::from("rectangle").then(field), problem))?;
        }
        check_number(self.scale, SCALES).map_err(|problem| wrong("scale".into(), problem))?;
        check_number(self.brightness, BRIGHTNESS).map_err(|problem| wrong("brightness".into(), problem))?;
        check_line(self.line_mm).map_err(|problem| wrong("line_mm".into(), problem))?;
        self.alignment().map_err(|problem| wrong("marks".into(), problem))?;
        Ok(())
    }
}

/// Checks a side of a rectangle to align by, mm.
///
/// # Errors
/// [`ProjectorProblem::Length`].
pub fn check_side(side_mm: f64) -> Result<(), ProjectorProblem> {
    check_length(side_mm, SIDES_MM)
}

/// Checks the breadth of a line, mm.
///
/// # Errors
/// [`ProjectorProblem::Length`].
pub fn check_line(line_mm: f64) -> Result<(), ProjectorProblem> {
    check_length(line_mm, LINES_MM)
}

fn check_length(value_mm: f64, right: RangeInclusive<f64>) -> Result<(), ProjectorProblem> {
    let (least_mm, most_mm) = (*right.start(), *right.end());
    if right.contains(&value_mm) { Ok(()) } else { Err(ProjectorProblem::Length { value_mm, least_mm, most_mm }) }
}

fn check_number(value: f64, right: RangeInclusive<f64>) -> Result<(), ProjectorProblem> {
    let (least, most) = (*right.start(), *right.end());
    if right.contains(&value) { Ok(()) } else { Err(ProjectorProblem::Number { value, least, most }) }
}

/// The projectors that are kept, each with a name of its own.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Projectors(Vec<Projector>);

impl Projectors {
    /// These, checked.
    ///
    /// # Errors
    /// [`ProjectorError`] naming the field, such as `projectors.2.scale`.
    pub fn new(projectors: Vec<Projector>) -> Result<Self, ProjectorError> {
        if projectors.len() > MOST {
            let problem = ProjectorProblem::TooMany { count: projectors.len(), most: MOST };
            return Err(ProjectorError { field: "projectors".into(), problem });
        }
        for (index, projector) in projectors.iter().enumerate() {
            let within = |field: Field| Field::from("projectors").item(index + 1).then(field);
            projector.check().map_err(|error| ProjectorError { field: within(error.field), ..error })?;
            if let Some(first) = projectors[..index].iter().position(|other| other.name == projector.name) {
                let problem = ProjectorProblem::NameTwice { name: projector.name.clone(), first: first + 1 };
                return Err(ProjectorError { field: within("name".into()), problem });
            }
        }
        Ok(Self(projectors))
    }

    /// All of them, in the order in which they were first kept.
    #[must_use]
    pub fn all(&self) -> &[Projector] {
        &self.0
    }

    /// The one of a name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Projector> {
        self.0.iter().find(|projector| projector.name == name)
    }

    /// With this one in the place of the one of its name.
    ///
    /// # Errors
    /// [`ProjectorError`] naming the field.
    pub fn with(&self, projector: Projector) -> Result<Self, ProjectorError> {
        let mut all = self.0.clone();
        match all.iter_mut().find(|known| known.name == projector.name) {
            Some(known) => *known = projector,
            None => all.push(projector),
        }
        Self::new(all)
    }

    /// Without the one of this name.
    #[must_use]
    pub fn without(&self, name: &str) -> Self {
        Self(self.0.iter().filter(|projector| projector.name != name).cloned().collect())
    }
}
