//! The kinds of pattern that a flat bundle is folded by.

use super::spec::{FlatPattern, Triangle};

/// A kind of pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FlatKind {
    /// One half fold after the other.
    Halves,
    /// Parallel creases.
    Stripes,
    /// A strip folded into rectangles.
    Squares,
    /// A strip folded into equilateral triangles.
    Triangles,
    /// A strip folded into right triangles.
    RightTriangles,
    /// Creases through a centre.
    Wedges,
}

impl FlatKind {
    /// Every kind.
    pub const ALL: [Self; 6] = [Self::Stripes, Self::Wedges, Self::Squares, Self::Triangles, Self::RightTriangles, Self::Halves];

    /// What it is folded into, in plain words.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Halves => "half folds",
            Self::Stripes => "stripes",
            Self::Squares => "squares",
            Self::Triangles => "triangles",
            Self::RightTriangles => "right triangles",
            Self::Wedges => "wedges",
        }
    }
}

impl FlatPattern {
    /// Its kind.
    #[must_use]
    pub const fn kind(&self) -> FlatKind {
        match self {
            Self::Halves { .. } => FlatKind::Halves,
            Self::Stripes { .. } => FlatKind::Stripes,
            Self::Squares { .. } => FlatKind::Squares,
            Self::Triangles { triangle: Triangle::Equilateral, .. } => FlatKind::Triangles,
            Self::Triangles { triangle: Triangle::Right, .. } => FlatKind::RightTriangles,
            Self::Wedges { .. } => FlatKind::Wedges,
        }
    }
}
