//! The marks on a photograph, in a file.

use crate::form::{FileForm, FileFormat, FormatNumber};
use crate::geometry::Panel;
use crate::photo::{MarkedPoint, Marks, MarksError, MarksProblem, Sheet, SheetPaper};
use crate::telling::Field;
use kurbo::Point;
use serde::{Deserialize, Serialize};

/// A file of marks of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarksV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// The side that the photograph shows: the front.
    #[serde(default = "front")]
    pub side: SideForm,
    /// Points of the garment.
    pub points: Vec<MarkedPointV1>,
    /// A white sheet beside it.
    #[serde(default)]
    pub sheet: Option<SheetV1>,
}

/// A side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum SideForm {
    /// The front, or a garment's only side.
    Front,
    /// The back.
    Back,
}

fn front() -> SideForm {
    SideForm::Front
}

/// A marked point in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkedPointV1 {
    /// Its name.
    pub name: String,
    /// From the left edge of the upright picture, px.
    pub x: f64,
    /// From its upper edge, px.
    pub y: f64,
}

/// A sheet in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetV1 {
    /// The name of its paper: A4.
    #[serde(default = "a4")]
    pub paper: String,
    /// Its four corners round it, px.
    pub corners: Vec<(f64, f64)>,
}

fn a4() -> String {
    "A4".to_owned()
}

impl FileFormat for MarksV1 {
    const NUMBER: u32 = 1;
}

impl FileForm for MarksV1 {
    type Live = Result<Marks, MarksError>;

    fn live(self) -> Self::Live {
        let Self { format: FormatNumber, side, points, sheet } = self;
        let side = match side {
            SideForm::Front => Panel::Front,
            SideForm::Back => Panel::Back,
        };
        let points = points.into_iter().map(|MarkedPointV1 { name, x, y }| MarkedPoint { name, at: Point::new(x, y) });
        let marks = Marks { side, points: points.collect(), sheet: sheet.map(sheet_of).transpose()? };
        marks.check().map(|()| marks)
    }
}

fn sheet_of(SheetV1 { paper, corners }: SheetV1) -> Result<Sheet, MarksError> {
    let Some(known) = SheetPaper::named(&paper) else {
        let known = SheetPaper::ALL.iter().map(|paper| paper.name()).collect();
        return Err(MarksError { field: Field::from("sheet.paper"), problem: MarksProblem::Paper { name: paper, known } });
    };
    let points: Vec<Point> = corners.into_iter().map(Point::from).collect();
    let corners = <[Point; 4]>::try_from(points).map_err(|points| MarksError {
        field: Field::from("sheet.corners"),
        problem: MarksProblem::Corners { count: points.len() },
    })?;
    Ok(Sheet { paper: known, corners })
}

/// A hundredth of a pixel is finer than any mark is known.
fn rounded(px: f64) -> f64 {
    (100.0 * px).round() / 100.0
}

impl MarksV1 {
    /// Marks in this format, to a hundredth of a pixel.
    #[must_use]
    pub fn of(marks: &Marks) -> Self {
        let side = match marks.side {
            Panel::Front => SideForm::Front,
            Panel::Back => SideForm::Back,
        };
        let point =
            |MarkedPoint { name, at }: &MarkedPoint| MarkedPointV1 { name: name.clone(), x: rounded(at.x), y: rounded(at.y) };
        let sheet = marks.sheet.as_ref().map(|Sheet { paper, corners }| SheetV1 {
            paper: paper.name().to_owned(),
            corners: corners.iter().map(|corner| (rounded(corner.x), rounded(corner.y))).collect(),
        });
        Self { format: FormatNumber, side, points: marks.points.iter().map(point).collect(), sheet }
    }
}
