//! What a number in a drawing may measure.

/// A unit of length that drawings are made in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FileUnit {
    /// Millimetres.
    Millimetre,
    /// Centimetres.
    Centimetre,
    /// Metres.
    Metre,
    /// Inches of 25.4 mm.
    Inch,
    /// Feet of 12 inches.
    Foot,
    /// Points, 72 to the inch.
    Point,
    /// Pixels, 96 to the inch (CSS Values and Units 3, section 6.2).
    Pixel,
}

/// An inch, mm: exact by definition.
const INCH_MM: f64 = 25.4;

impl FileUnit {
    /// Every one.
    pub const ALL: [Self; 7] =
        [Self::Millimetre, Self::Centimetre, Self::Metre, Self::Inch, Self::Foot, Self::Point, Self::Pixel];

    /// Its sign, as it is asked for.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Foot => "ft",
            Self::Point => "pt",
            Self::Pixel => "px",
        }
    }

    /// The unit of that sign.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|unit| unit.name() == name)
    }

    /// Its length, mm.
    #[must_use]
    pub const fn in_mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => INCH_MM,
            Self::Foot => 12.0 * INCH_MM,
            Self::Point => INCH_MM / 72.0,
            Self::Pixel => INCH_MM / 96.0,
        }
    }
}
