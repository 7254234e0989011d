//! The units of length a maker's rule carries.

use std::fmt;

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum LengthUnit {
    /// 1 mm, the unit inside the program.
    #[default]
    Millimetre,
    /// 10 mm.
    Centimetre,
    /// 1000 mm.
    Metre,
    /// 25.4 mm exactly.
    Inch,
    /// 12 in, 304.8 mm exactly.
    Foot,
    /// 36 in, 914.4 mm exactly: cloth is sold by it.
    Yard,
}

impl LengthUnit {
    /// Every unit, metric ones first.
    pub const ALL: [Self; 6] = [Self::Millimetre, Self::Centimetre, Self::Metre, Self::Inch, Self::Foot, Self::Yard];

    /// One of this unit in mm: exact, NIST Handbook 44 App. C.
    #[must_use]
    pub const fn in_mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => 25.4,
            Self::Foot => 304.8,
            Self::Yard => 914.4,
        }
    }

    /// The unit that a word or sign stands for, in either case: `mm`, `inches`, `"`, `ft`; none if it is no unit of length.
    #[must_use]
    pub fn from_name(name: &str) -> Option<Self> {
        match name.to_lowercase().as_str() {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Some(Self::Millimetre),
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Some(Self::Centimetre),
            "m" | "metre" | "metres" | "meter" | "meters" => Some(Self::Metre),
            "in" | "inch" | "inches" | "\"" | "\u{2033}" | "\u{201d}" | "''" => Some(Self::Inch),
            "ft" | "foot" | "feet" | "'" | "\u{2032}" | "\u{2019}" => Some(Self::Foot),
            "yd" | "yds" | "yard" | "yards" => Some(Self::Yard),
            _ => None,
        }
    }
}

impl fmt::Display for LengthUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Millimetre => "mm",
            Self::Centimetre => "cm",
            Self::Metre => "m",
            Self::Inch => "in",
            Self::Foot => "ft",
            Self::Yard => "yd",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::grams_per_m2_from_oz_per_yd2;

    /// NIST Handbook 44, Appendix C: exact factors, as copied into the table.
    fn published(unit: &str) -> f64 {
        let table = include_str!("../../tests/reference/units.csv");
        let row = table.lines().find(|line| line.split(',').next() == Some(unit)).expect("the table has the unit");
        row.split(',').nth(2).unwrap().parse().unwrap()
    }

    #[test]
    fn units_are_the_handbooks() {
        assert_eq!(LengthUnit::Inch.in_mm(), published("inch"));
        assert_eq!(LengthUnit::Yard.in_mm(), published("yard"));
        assert!((LengthUnit::Foot.in_mm() * 3.0 - published("yard")).abs() < 1e-12);
        // ISO 32000: 72 points to the inch.
        assert!((LengthUnit::Inch.in_mm() / 72.0 - published("PDF point")).abs() < 1e-15);
    }

    #[test]
    fn cloth_mass_is_the_handbooks() {
        assert!((grams_per_m2_from_oz_per_yd2(1.0) - published("oz/yd2")).abs() < 1e-12);
    }

    #[test]
    fn every_unit_reads_its_own_name() {
        for unit in LengthUnit::ALL {
            assert_eq!(LengthUnit::from_name(&unit.to_string()), Some(unit));
        }
    }
}
