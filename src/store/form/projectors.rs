//! The projectors that are kept, in a file.

use crate::form::{FileForm, FileFormat, FormatNumber, WrittenForm as _, stands_for};
use crate::projection::{Projector, ProjectorError, Projectors, Rectangle};
use kurbo::Point;
use serde::{Deserialize, Serialize};

/// A file of projectors of format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProjectorsV1 {
    /// 1.
    pub format: FormatNumber<1>,
    /// The projectors, in the order in which they were first kept.
    pub projectors: Vec<ProjectorV1>,
}

impl FileFormat for ProjectorsV1 {
    const NUMBER: u32 = 1;
}

impl FileForm for ProjectorsV1 {
    type Live = Result<Projectors, ProjectorError>;

    fn live(self) -> Self::Live {
        let Self { format: FormatNumber, projectors } = self;
        Projectors::new(projectors.live())
    }
}

impl ProjectorsV1 {
    /// Projectors in this format.
    #[must_use]
    pub fn of(projectors: &Projectors) -> Self {
        Self { format: FormatNumber, projectors: projectors.all().iter().map(ProjectorV1::of).collect() }
    }
}

/// The sides of a rectangle to align by.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RectangleForm {
    /// From corner 1 to corner 2, mm.
    pub width_mm: f64,
    /// From corner 2 to corner 3, mm.
    pub height_mm: f64,
}

stands_for!(struct RectangleForm for Rectangle { width_mm, height_mm });

/// The size of a picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PictureForm {
    /// Its width, px.
    pub width_px: u32,
    /// Its height, px.
    pub height_px: u32,
}

/// A projector, or a screen under the cloth, in format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProjectorV1 {
    /// What the maker calls it.
    pub name: String,
    /// The picture that it was aligned for.
    pub picture: PictureForm,
    /// What it was aligned by.
    pub rectangle: RectangleForm,
    /// Where the rectangle's marks lie in the picture, px from its upper left corner: the corners clockwise from the upper left; then, if they
    /// are marked too, the middles of the sides from the upper one, and the middle.
    pub marks: Vec<[f64; 2]>,
    /// What the sides are multiplied by to be true, as the bar measured: 1.
    #[serde(default = "whole")]
    pub scale: f64,
    /// Brightness of the lines, as a share of white: 1.
    #[serde(default = "whole")]
    pub brightness: f64,
    /// Breadth of a line, mm on the table: 2.
    #[serde(default = "line_mm")]
    pub line_mm: f64,
}

fn whole() -> f64 {
    1.0
}

fn line_mm() -> f64 {
    2.0
}

impl FileForm for ProjectorV1 {
    type Live = Projector;

    fn live(self) -> Projector {
        let Self { name, picture: PictureForm { width_px, height_px }, rectangle, marks, scale, brightness, line_mm } = self;
        let marks = marks.into_iter().map(|[x, y]| Point::new(x, y)).collect();
        Projector { name, picture: [width_px, height_px], rectangle: rectangle.live(), marks, scale, brightness, line_mm }
    }
}

impl ProjectorV1 {
    fn of(projector: &Projector) -> Self {
        let Projector { name, picture: [width_px, height_px], rectangle, marks, scale, brightness, line_mm } = projector.clone();
        Self {
            name,
            picture: PictureForm { width_px, height_px },
            rectangle: RectangleForm::of(rectangle),
            marks: marks.into_iter().map(|at| [at.x, at.y]).collect(),
            scale,
            brightness,
            line_mm,
        }
    }
}
