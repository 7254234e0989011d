//! A fold along a line as a layout has it: a shape with its place and size, or a path of the maker's own.

use super::error::LineError;
use super::shapes::LineShape;
use super::spec::{LineKind, LineSpec};
use crate::geometry::burst::centre_at;
use crate::geometry::{Centre, Centring, Gather, LARGEST_RADIUS_MM, ON_THE_FOLD_MM, PanelSet, Pleats};
use kurbo::{BezPath, Point, Size};

/// A fold along a line, as a maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineFoldSpec {
    /// How the garment is laid.
    pub centring: Centring,
    /// The line.
    pub line: DrawnLine,
    /// The parallel along which the cloth is fan folded, mm: its signed distance from the line, outward above 0.
    pub guide_mm: f64,
    /// Further parallels to mark, for orientation, mm; signed.
    pub further_mm: Vec<f64>,
    /// Depth of the pleats at the guide, or their number.
    pub pleats: Pleats,
    /// How they are laid.
    pub gather: Gather,
}

/// A line on a garment.
#[derive(Debug, Clone, PartialEq)]
pub enum DrawnLine {
    /// One of the shapes to begin with.
    Shape {
        /// Which.
        shape: LineShape,
        /// Where the middle of its box sits.
        middle: Centre,
        /// Size of its box, mm: of the whole shape, also where a folded garment mirrors half of it.
        size: Size,
    },
    /// A path in the laid garment's plane, mm.
    Path {
        /// What it is to the cloth.
        kind: LineKind,
        /// Lines and curves; see [`LineSpec::path`].
        path: BezPath,
    },
}

/// Smallest side of a shape's box, mm: what two chalk lines can still be told apart in (own choice).
const LEAST_SIZE_MM: f64 = 5.0;

impl LineFoldSpec {
    /// The line laid on a garment's panels.
    ///
    /// # Errors
    /// [`LineError::Length`] when the place or the size of a shape is no usable length.
    pub fn on(&self, panels: &PanelSet) -> Result<LineSpec, LineError> {
        let (kind, path) = self.line.on(panels, self.centring)?;
        Ok(LineSpec {
            centring: self.centring,
            kind,
            path,
            guide_mm: self.guide_mm,
            further_mm: self.further_mm.clone(),
            pleats: self.pleats,
        })
    }
}

impl DrawnLine {
    /// What it is to the cloth.
    #[must_use]
    pub const fn kind(&self) -> LineKind {
        match self {
            Self::Shape { shape, .. } => shape.kind(),
            Self::Path { kind, .. } => *kind,
        }
    }

    /// The shape, if it is one.
    #[must_use]
    pub const fn shape(&self) -> Option<LineShape> {
        match self {
            Self::Shape { shape, .. } => Some(*shape),
            Self::Path { .. } => None,
        }
    }

    /// The path on a garment laid some way, with what it is to the cloth.
    ///
    /// A shape that is alike on both sides is halved where its middle lies on the fold of a folded garment; any other lies on one side
    /// of it and comes out twice.
    ///
    /// # Errors
    /// [`LineError::Length`] when the place or the size of a shape is no usable length.
    pub fn on(&self, panels: &PanelSet, centring: Centring) -> Result<(LineKind, BezPath), LineError> {
        match self {
            Self::Path { kind, path } => Ok((*kind, path.clone())),
            &Self::Shape { shape, middle, size } => {
                let middle = middle_point(middle, panels)?;
                let size = Size::new(side("line.width_mm", size.width)?, side("line.height_mm", size.height)?);
                let laid = Point::new(centring.x_as_laid_mm(middle.x), middle.y);
                let is_halved = centring.is_folded() && laid.x <= ON_THE_FOLD_MM && shape.is_mirrored();
                let path = if is_halved { shape.half_path(Point::new(0.0, laid.y), size) } else { shape.path(laid, size) };
                Ok((shape.kind(), path))
            }
        }
    }
}

pub(super) fn middle_point(middle: Centre, panels: &PanelSet) -> Result<Point, LineError> {
    let at = centre_at(middle, panels);
    let most_mm = LARGEST_RADIUS_MM;
    let keys = match middle {
        Centre::BelowShoulder { .. } => ["line.middle.from_centre_line_mm", "line.middle.below_shoulder_mm"],
        Centre::AboveMiddle { .. } => ["line.middle.from_centre_line_mm", "line.middle.above_middle_mm"],
    };
    for (key, value_mm) in keys.into_iter().zip([at.x, at.y]) {
        if !(-most_mm..=most_mm).contains(&value_mm) {
            return Err(LineError::Length { field: key.into(), value_mm, least_mm: -most_mm, most_mm });
        }
    }
    Ok(at)
}

pub(super) fn side(field: &'static str, value_mm: f64) -> Result<f64, LineError> {
    let (least_mm, most_mm) = (LEAST_SIZE_MM, LARGEST_RADIUS_MM);
    if (least_mm..=most_mm).contains(&value_mm) {
        Ok(value_mm)
    } else {
        Err(LineError::Length { field: field.into(), value_mm, least_mm, most_mm })
    }
}
