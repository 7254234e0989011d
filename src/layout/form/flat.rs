//! A flat bundle and the blocks that hold it, as files of format 2 have them.

use super::line::PathForm;
use super::parts::CentreForm;
use crate::form::{FileForm, WrittenForm, stands_for};
use crate::geometry::{BlockShape, BlocksSpec, FlatPattern, HalfFold, Pack, Triangle, WedgesFirst, WrapSpec};
use serde::{Deserialize, Serialize};

/// Where the creases of a flat bundle run. Angles are degrees clockwise from straight up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum FlatPatternForm {
    /// One fold after the other, each through all that lies there.
    Halves {
        /// In the order in which they are folded.
        half_folds: Vec<CreaseForm>,
    },
    /// Parallel creases.
    Stripes {
        /// From crease to crease, mm.
        width_mm: f64,
        /// The direction that they run in.
        #[serde(default, skip_serializing_if = "is_zero")]
        angle_deg: f64,
        /// A point that a crease runs through; the first stripe begins at the edge of the cloth unless given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        start: Option<CentreForm>,
    },
    /// A strip, folded up along itself into rectangles.
    Squares {
        /// Width of the strip, mm.
        width_mm: f64,
        /// From crease to crease along the strip, mm.
        height_mm: f64,
        /// The direction that the strip runs in.
        #[serde(default, skip_serializing_if = "is_zero")]
        angle_deg: f64,
        /// A corner; the first square lies in the corner of the cloth unless given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        start: Option<CentreForm>,
    },
    /// A strip, folded up along itself into triangles.
    Triangles {
        /// Their shape.
        triangle: TriangleForm,
        /// Width of the strip, mm.
        width_mm: f64,
        /// The direction that the strip runs in.
        #[serde(default, skip_serializing_if = "is_zero")]
        angle_deg: f64,
        /// A corner; the triangles begin at the edge of the cloth unless given.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        start: Option<CentreForm>,
    },
    /// Creases through a centre.
    Wedges {
        /// How many there are in the whole turn: an even number.
        wedges: u32,
        /// Where they meet.
        centre: CentreForm,
        /// What the cloth is folded on before.
        first: WedgesFirstForm,
    },
}

stands_for!(enum FlatPatternForm for FlatPattern {
    Halves { half_folds },
    Stripes { width_mm, angle_deg, start },
    Squares { width_mm, height_mm, angle_deg, start },
    Triangles { triangle, width_mm, angle_deg, start },
    Wedges { wedges, centre, first }
});

#[expect(clippy::trivially_copy_pass_by_ref, reason = "as serde asks")]
pub(super) fn is_zero(value: &f64) -> bool {
    *value == 0.0
}

/// A crease that all of the cloth is folded on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CreaseForm {
    /// A point that it runs through.
    pub through: CentreForm,
    /// The direction that it runs in: what lies to its right is folded over.
    pub angle_deg: f64,
}

stands_for!(struct CreaseForm for HalfFold { through, angle_deg });

/// The triangles that a strip is folded into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TriangleForm {
    /// Of three angles of 60 degrees.
    Equilateral,
    /// Of one right angle and two of 45 degrees.
    Right,
}

stands_for!(enum TriangleForm for Triangle { Equilateral {}, Right {} });

/// What the cloth is folded on before wedges are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum WedgesFirstForm {
    /// The garment's own fold.
    OnTheFold,
    /// A half fold through the centre.
    HalfFold {
        /// The direction of the crease, to the right of which the cloth lies still.
        angle_deg: f64,
    },
}

stands_for!(enum WedgesFirstForm for WedgesFirst { OnTheFold {}, HalfFold { angle_deg } });

/// How the pieces of a series come to lie on each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum PackForm {
    /// To and fro.
    #[default]
    Zigzag,
    /// Rolled up.
    Rolled,
}

impl PackForm {
    pub(super) fn is_default(&self) -> bool {
        *self == Self::default()
    }
}

stands_for!(enum PackForm for Pack { Zigzag {}, Rolled {} });

/// Two equal blocks, one on each flat of a bundle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlocksForm {
    /// Their shape.
    pub shape: BlockShapeForm,
    /// How far their middle lies from the bundle's along it, mm: 0.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub along_mm: f64,
    /// The same across it, mm: 0.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub across_mm: f64,
    /// By how much they are turned from along towards across: 0.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub turn_deg: f64,
}

stands_for!(struct BlocksForm for BlocksSpec { shape, along_mm, across_mm, turn_deg });

/// The shape of a block.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum BlockShapeForm {
    /// Round.
    Disc {
        /// mm.
        diameter_mm: f64,
    },
    /// A square.
    Square {
        /// mm.
        side_mm: f64,
    },
    /// A triangle of equal sides, its tip along the bundle.
    Triangle {
        /// mm.
        side_mm: f64,
    },
    /// A bar, its length along the bundle.
    Bar {
        /// mm.
        length_mm: f64,
        /// mm.
        width_mm: f64,
    },
    /// Any closed line, about its own origin, mm.
    Drawn {
        /// Lines and curves.
        path: PathForm,
    },
}

impl FileForm for BlockShapeForm {
    type Live = BlockShape;

    fn live(self) -> BlockShape {
        match self {
            Self::Disc { diameter_mm } => BlockShape::Disc { diameter_mm },
            Self::Square { side_mm } => BlockShape::Square { side_mm },
            Self::Triangle { side_mm } => BlockShape::Triangle { side_mm },
            Self::Bar { length_mm, width_mm } => BlockShape::Bar { length_mm, width_mm },
            Self::Drawn { path } => BlockShape::Drawn(path.live()),
        }
    }
}

impl WrittenForm for BlockShapeForm {
    fn of(live: BlockShape) -> Self {
        match live {
            BlockShape::Disc { diameter_mm } => Self::Disc { diameter_mm },
            BlockShape::Square { side_mm } => Self::Square { side_mm },
            BlockShape::Triangle { side_mm } => Self::Triangle { side_mm },
            BlockShape::Bar { length_mm, width_mm } => Self::Bar { length_mm, width_mm },
            BlockShape::Drawn(path) => Self::Drawn { path: WrittenForm::of(path) },
        }
    }
}

/// A thread wound round a bundle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrapForm {
    /// Where it begins, from the bundle's first end, mm.
    pub from_mm: f64,
    /// Where it ends, mm.
    pub to_mm: f64,
    /// From turn to turn along the bundle, mm.
    pub gap_mm: f64,
    /// Whether it is wound back again with the opposite slant: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub crossed: bool,
}

stands_for!(struct WrapForm for WrapSpec { from_mm, to_mm, gap_mm, crossed });
