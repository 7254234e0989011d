//! A fold along a line, as files of format 2 have it.

use super::parts::CentreForm;
use crate::form::{FileForm, WrittenForm, stands_for};
use crate::geometry::{DrawnLine, LineKind, LineShape};
use kurbo::{BezPath, Size};
use serde::{Deserialize, Serialize};

/// A line on a garment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum DrawnLineForm {
    /// One of the shapes to begin with.
    Shape {
        /// Which.
        shape: LineShapeForm,
        /// Where the middle of its box sits.
        middle: CentreForm,
        /// Breadth of its box, mm: of the whole shape, also where half of it is drawn.
        width_mm: f64,
        /// Height of its box, mm.
        height_mm: f64,
    },
    /// A line of the maker's own.
    Path {
        /// What it is to the cloth.
        kind: LineKindForm,
        /// Lines and curves in the garment's frame, mm: from the centre line and below the shoulder.
        path: PathForm,
    },
}

impl FileForm for DrawnLineForm {
    type Live = DrawnLine;

    fn live(self) -> DrawnLine {
        match self {
            Self::Shape { shape, middle, width_mm, height_mm } => {
                DrawnLine::Shape { shape: shape.live(), middle: middle.live(), size: Size::new(width_mm, height_mm) }
            }
            Self::Path { kind, path } => DrawnLine::Path { kind: kind.live(), path: path.live() },
        }
    }
}

impl WrittenForm for DrawnLineForm {
    fn of(live: DrawnLine) -> Self {
        match live {
            DrawnLine::Shape { shape, middle, size: Size { width, height } } => {
                Self::Shape { shape: WrittenForm::of(shape), middle: WrittenForm::of(middle), width_mm: width, height_mm: height }
            }
            DrawnLine::Path { kind, path } => Self::Path { kind: WrittenForm::of(kind), path: WrittenForm::of(path) },
        }
    }
}

/// What a line is to the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub enum LineKindForm {
    /// Round some cloth.
    Ring,
    /// From edge to edge.
    Across,
    /// Strokes of a pen.
    Stroke,
    /// A single point.
    Point,
}

stands_for!(enum LineKindForm for LineKind { Ring {}, Across {}, Stroke {}, Point {} });

/// A shape to begin with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum LineShapeForm {
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
        letter: LetterForm,
    },
}

stands_for!(enum LineShapeForm for LineShape {
    Heart {},
    Star { points, depth },
    Ring {},
    Leaf {},
    Drop {},
    Wave { crests },
    Zigzag { teeth },
    Diamond {},
    Cross { bar },
    Polygon { sides },
    Letter { letter }
});

/// A letter as a text of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LetterForm(char);

impl FileForm for LetterForm {
    type Live = char;

    fn live(self) -> char {
        self.0
    }
}

impl WrittenForm for LetterForm {
    fn of(live: char) -> Self {
        Self(live)
    }
}

impl Serialize for LetterForm {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.encode_utf8(&mut [0; 4]))
    }
}

impl<'de> Deserialize<'de> for LetterForm {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let mut letters = text.chars();
        match (letters.next(), letters.next()) {
            (Some(letter), None) if letter.is_ascii_alphabetic() => Ok(Self(letter.to_ascii_uppercase())),
            _ => Err(serde::de::Error::custom(format!("\"{text}\" is no letter; give one from A to Z"))),
        }
    }
}

/// A path as the data of a path in SVG (W3C, SVG 2, section 9.3): absolute lines and curves, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct PathForm(BezPath);

impl FileForm for PathForm {
    type Live = BezPath;

    fn live(self) -> BezPath {
        self.0
    }
}

impl WrittenForm for PathForm {
    fn of(live: BezPath) -> Self {
        Self(live)
    }
}

impl Serialize for PathForm {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0.to_svg())
    }
}

impl<'de> Deserialize<'de> for PathForm {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        let path = BezPath::from_svg(&text);
        path.map(Self).map_err(|error| serde::de::Error::custom(format!("\"{text}\" is no path of lines and curves: {error}")))
    }
}
