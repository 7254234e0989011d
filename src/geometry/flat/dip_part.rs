//! The parts of a flat bundle that can be dipped.

use std::fmt;

/// What of a flat bundle goes into dye first. Edges and corners of its outline are counted from 1, the way round in which they are drawn;
/// an edge runs from the corner of its number to the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum DipPart {
    /// A straight side of the outline.
    Edge(u32),
    /// A corner of the outline.
    Corner(u32),
    /// The flat of its last place, which lies up.
    Top,
    /// The flat of its first place, which lies down.
    Underside,
}

impl DipPart {
    /// The part of a name, as [`DipPart`] writes it.
    ///
    /// ```
    /// use pleatwright::geometry::DipPart;
    /// assert_eq!(DipPart::named("corner 2"), Some(DipPart::Corner(2)));
    /// assert_eq!(DipPart::named("corner two"), None);
    /// ```
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let (what, number) = name.split_once(' ').unwrap_or((name, ""));
        match what {
            "edge" => number.trim().parse().ok().map(Self::Edge),
            "corner" => number.trim().parse().ok().map(Self::Corner),
            "top" if number.is_empty() => Some(Self::Top),
            "underside" if number.is_empty() => Some(Self::Underside),
            _ => None,
        }
    }
}

impl fmt::Display for DipPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Edge(number) => write!(f, "edge {number}"),
            Self::Corner(number) => write!(f, "corner {number}"),
            Self::Top => f.write_str("top"),
            Self::Underside => f.write_str("underside"),
        }
    }
}
