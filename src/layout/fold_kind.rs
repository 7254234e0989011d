//! The folds that a layout can have, by name.

use crate::geometry::FlatKind;

/// A fold that a layout can have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum FoldKind {
    /// Pleats round a centre.
    #[default]
    Burst,
    /// Pleats along a line.
    Line,
    /// A flat bundle.
    Flat(FlatKind),
    /// A twisted puck.
    Spiral,
}

impl FoldKind {
    /// Every fold.
    pub const ALL: [Self; 9] = [
        Self::Burst,
        Self::Line,
        Self::Flat(FlatKind::Stripes),
        Self::Flat(FlatKind::Wedges),
        Self::Flat(FlatKind::Squares),
        Self::Flat(FlatKind::Triangles),
        Self::Flat(FlatKind::RightTriangles),
        Self::Flat(FlatKind::Halves),
        Self::Spiral,
    ];

    /// Its name, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Burst => "burst",
            Self::Line => "line",
            Self::Flat(FlatKind::Stripes) => "stripes",
            Self::Flat(FlatKind::Wedges) => "wedges",
            Self::Flat(FlatKind::Squares) => "squares",
            Self::Flat(FlatKind::Triangles) => "triangles",
            Self::Flat(FlatKind::RightTriangles) => "right-triangles",
            Self::Flat(FlatKind::Halves) => "halves",
            Self::Spiral => "spiral",
        }
    }

    /// The fold of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.name() == name)
    }

    /// What it is, in one line.
    #[must_use]
    pub const fn about(self) -> &'static str {
        match self {
            Self::Burst => "pleats round a centre, tied in rings that tighten toward it",
            Self::Line => "pleats along a drawn line, such as a heart or a wave, tied in parallels to it",
            Self::Flat(FlatKind::Stripes) => "parallel creases, straight or at an angle, tied across",
            Self::Flat(FlatKind::Wedges) => "creases through a centre, tied across toward it",
            Self::Flat(FlatKind::Squares) => "a strip folded into squares, held between blocks",
            Self::Flat(FlatKind::Triangles) => "a strip folded into triangles of equal sides, held between blocks",
            Self::Flat(FlatKind::RightTriangles) => "a strip folded into triangles with a right angle, held between blocks",
            Self::Flat(FlatKind::Halves) => "one half fold after the other, tied across",
            Self::Spiral => "pinched and twisted into a round puck, parted into wedges by bands",
        }
    }
}
