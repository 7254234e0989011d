//! A flat bundle as a maker gives it.

use super::pack::Pack;
use crate::geometry::{Centre, Centring};

/// A flat bundle as a maker gives it.
///
/// Angles are in degrees, clockwise as drawn from straight up, like a burst's. A crease that runs in a direction folds what lies to the
/// right of it, as one looks along it, over onto what lies to the left, or a series of them one after the other.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatFoldSpec {
    /// How the garment is laid.
    pub centring: Centring,
    /// Where the creases run.
    pub pattern: FlatPattern,
    /// How the pieces of a series come to lie on each other. The strip that squares and triangles are folded of is always folded to and
    /// fro first, and half folds have no choice.
    pub pack: Pack,
    /// By how much the direction that binds run across is turned from the pattern's own, degrees. That is the way the stripes or the strip
    /// run; of wedges from the centre along the middle of one; of half folds along the first crease.
    pub along_turn_deg: f64,
    /// Where along the bundle the bind is that is tied first, mm from its tip or first end; across the middle unless given.
    pub first_bind_mm: Option<f64>,
}

/// Where the creases of a flat bundle run.
#[derive(Debug, Clone, PartialEq)]
pub enum FlatPattern {
    /// One fold after the other, each through all that lies there.
    Halves {
        /// In the order in which they are folded.
        half_folds: Vec<HalfFold>,
    },
    /// Parallel creases. On a garment folded in half stripes at an angle open to chevrons over the fold.
    Stripes {
        /// From crease to crease, mm.
        width_mm: f64,
        /// The direction that they run in, degrees.
        angle_deg: f64,
        /// A point that a crease runs through; if none is given the first stripe begins at the edge of the cloth.
        start: Option<Centre>,
    },
    /// A strip, folded up along itself into rectangles.
    Squares {
        /// Width of the strip, mm.
        width_mm: f64,
        /// From crease to crease along the strip, mm.
        height_mm: f64,
        /// The direction that the strip runs in, degrees.
        angle_deg: f64,
        /// A corner; if none is given the first square lies in the corner of the cloth.
        start: Option<Centre>,
    },
    /// A strip, folded up along itself into triangles.
    Triangles {
        /// Their shape.
        triangle: Triangle,
        /// Width of the strip, mm: the height of equilateral triangles, the legs of right ones.
        width_mm: f64,
        /// The direction that the strip runs in, degrees.
        angle_deg: f64,
        /// A corner; if none is given the triangles begin at the edge of the cloth.
        start: Option<Centre>,
    },
    /// Creases through a centre.
    Wedges {
        /// How many there are in the whole turn: an even number.
        wedges: u32,
        /// Where they meet.
        centre: Centre,
        /// What the cloth is folded on before.
        first: WedgesFirst,
    },
}

impl FlatPattern {
    /// The point that it is laid from, if one is given; half folds and wedges have none.
    #[must_use]
    pub const fn start(&self) -> Option<Centre> {
        match self {
            Self::Stripes { start, .. } | Self::Squares { start, .. } | Self::Triangles { start, .. } => *start,
            Self::Halves { .. } | Self::Wedges { .. } => None,
        }
    }

    /// Whether it can be laid from a given point.
    #[must_use]
    pub const fn has_start(&self) -> bool {
        matches!(self, Self::Stripes { .. } | Self::Squares { .. } | Self::Triangles { .. })
    }
}

impl FlatFoldSpec {
    /// The same laid from another point, or from the edge of the cloth; half folds and wedges stay as they are.
    #[must_use]
    pub fn starting(&self, at: Option<Centre>) -> Self {
        let mut spec = self.clone();
        match &mut spec.pattern {
            FlatPattern::Stripes { start, .. } | FlatPattern::Squares { start, .. } | FlatPattern::Triangles { start, .. } => {
                *start = at;
            }
            FlatPattern::Halves { .. } | FlatPattern::Wedges { .. } => {}
        }
        spec
    }
}

/// A crease that all of the cloth is folded on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfFold {
    /// A point that it runs through, as the cloth lies then.
    pub through: Centre,
    /// The direction that it runs in, degrees: what lies to its right is folded over.
    pub angle_deg: f64,
}

/// The triangles that a strip is folded into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Triangle {
    /// Of three angles of 60 degrees.
    Equilateral,
    /// Of one right angle and two of 45 degrees.
    Right,
}

/// What the cloth is folded on before wedges are: they go round half a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WedgesFirst {
    /// The garment's own fold, on which their centre lies.
    OnTheFold,
    /// A half fold through the centre.
    HalfFold {
        /// The direction of the crease, degrees, to the right of which the cloth lies still. The wedges are counted from it clockwise.
        angle_deg: f64,
    },
}

/// Most wedges in a whole turn (own choice: a wedge of 5 degrees).
pub(super) const MOST_WEDGES: u32 = 72;
/// Most half folds (own choice: with each the bundle is half as large and twice as thick).
pub(super) const MOST_HALF_FOLDS: usize = 7;
/// Narrowest piece that is asked for, mm: less is no fold in any cloth (own choice).
pub(super) const NARROWEST_MM: f64 = 5.0;
/// Most places of a bundle (own choice: half a metre of jersey).
pub(super) const MOST_PLACES: u32 = 1000;
