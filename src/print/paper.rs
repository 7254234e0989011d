//! Papers: the standard sheets, sheets of any size, and rolls.

use std::fmt;
use std::str::FromStr;

use super::PrintError;
use crate::measure::{LengthStyle, LengthUnit, Region, neat, parse_length};

/// Border that a printer can't print, in mm. Common practice for desk printers is 3 to 6 mm; the larger is the safe default.
pub const DEFAULT_MARGIN_MM: f64 = 6.0;

/// Longest page side in mm: 14 400 units of 1/72 in, the limit of a PDF page without a unit of its own
/// (published: ISO 32000-1:2008, annex C).
pub const MAX_SIDE_MM: f64 = 14_400.0 * MM_PER_PT;

/// Shortest page side in mm. Own choice: less can't carry a measuring bar.
pub const MIN_SIDE_MM: f64 = 50.0;

/// One PDF unit in mm: 1/72 in of 25.4 mm (published: ISO 32000-1:2008, 8.3.2.3).
pub const MM_PER_PT: f64 = 25.4 / 72.0;

/// PDF units, of 1/72 in, from mm.
#[must_use]
pub fn pt_from_mm(mm: f64) -> f64 {
    mm / MM_PER_PT
}

/// A standard sheet, upright.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandardPaper {
    /// Name, as the user gives it; case does not matter.
    pub name: &'static str,
    /// Shorter side in mm.
    pub width_mm: f64,
    /// Longer side in mm.
    pub height_mm: f64,
}

const fn sheet(name: &'static str, width_mm: f64, height_mm: f64) -> StandardPaper {
    StandardPaper { name, width_mm, height_mm }
}

const A4: StandardPaper = sheet("A4", 210.0, 297.0);
const LETTER: StandardPaper = sheet("Letter", 8.5 * 25.4, 11.0 * 25.4);

/// The standard sheets. A and B series: ISO 216:2007 (published). Letter, Tabloid, ANSI C to E: ANSI/ASME Y14.1 (published).
/// Legal and Arch: common practice, no source; exact inches.
pub const STANDARD_PAPERS: [StandardPaper; 22] = [
    A4,
    sheet("A3", 297.0, 420.0),
    sheet("A2", 420.0, 594.0),
    sheet("A1", 594.0, 841.0),
    sheet("A0", 841.0, 1189.0),
    LETTER,
    sheet("Legal", 8.5 * 25.4, 14.0 * 25.4),
    sheet("Tabloid", 11.0 * 25.4, 17.0 * 25.4),
    sheet("Arch-A", 9.0 * 25.4, 12.0 * 25.4),
    sheet("Arch-B", 12.0 * 25.4, 18.0 * 25.4),
    sheet("Arch-C", 18.0 * 25.4, 24.0 * 25.4),
    sheet("Arch-D", 24.0 * 25.4, 36.0 * 25.4),
    sheet("Arch-E1", 30.0 * 25.4, 42.0 * 25.4),
    sheet("Arch-E", 36.0 * 25.4, 48.0 * 25.4),
    sheet("ANSI-C", 17.0 * 25.4, 22.0 * 25.4),
    sheet("ANSI-D", 22.0 * 25.4, 34.0 * 25.4),
    sheet("ANSI-E", 34.0 * 25.4, 44.0 * 25.4),
    sheet("B4", 250.0, 353.0),
    sheet("B3", 353.0, 500.0),
    sheet("B2", 500.0, 707.0),
    sheet("B1", 707.0, 1000.0),
    sheet("B0", 1000.0, 1414.0),
];

/// Form of a paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PaperForm {
    /// A sheet, upright: the width is the shorter side.
    Sheet {
        /// Shorter side in mm.
        width_mm: f64,
        /// Longer side in mm.
        height_mm: f64,
    },
    /// A roll: pages as long as needed, up to [`MAX_SIDE_MM`].
    Roll {
        /// Width of the roll in mm.
        width_mm: f64,
    },
}

/// A paper to print on. Sides lie between [`MIN_SIDE_MM`] and [`MAX_SIDE_MM`].
#[derive(Debug, Clone, PartialEq)]
pub struct Paper {
    name: String,
    form: PaperForm,
}

impl Paper {
    /// A sheet of any size; the shorter side becomes the width.
    ///
    /// # Errors
    /// [`PrintError::PaperSize`] when a side is out of range or not a number.
    pub fn custom(side_mm: f64, other_mm: f64) -> Result<Self, PrintError> {
        check_sides(side_mm, other_mm)?;
        let (width_mm, height_mm) = (side_mm.min(other_mm), side_mm.max(other_mm));
        Ok(Self { name: format!("{} x {} mm", neat(width_mm), neat(height_mm)), form: PaperForm::Sheet { width_mm, height_mm } })
    }

    /// A roll of the given width.
    ///
    /// # Errors
    /// [`PrintError::PaperSize`] when the width is out of range or not a number.
    pub fn roll(width_mm: f64) -> Result<Self, PrintError> {
        check_sides(width_mm, MAX_SIDE_MM)?;
        Ok(Self { name: format!("roll {} mm", neat(width_mm)), form: PaperForm::Roll { width_mm } })
    }

    /// A standard sheet.
    #[must_use]
    pub fn standard(paper: StandardPaper) -> Self {
        let form = PaperForm::Sheet { width_mm: paper.width_mm, height_mm: paper.height_mm };
        Self { name: paper.name.to_owned(), form }
    }

    /// The usual paper of a region; A4 where it is not known.
    ///
    /// ```
    /// use pleatwright::measure::Region;
    /// assert_eq!(pleatwright::print::Paper::usual_in(Region::of_locale("en_CA")).name(), "Letter");
    /// ```
    #[must_use]
    pub fn usual_in(region: Option<Region>) -> Self {
        Self::standard(if region.is_some_and(Region::prints_on_letter) { LETTER } else { A4 })
    }

    /// Reads what [`FromStr`] does; sides without a unit are in `unit`, or where only one has one in that.
    ///
    /// # Errors
    /// As for [`FromStr`].
    pub fn read(text: &str, unit: LengthUnit) -> Result<Self, PrintError> {
        let plain = |s: &str| s.to_lowercase().replace([' ', '-', '_'], "");
        let asked = plain(text);
        if let Some(paper) = STANDARD_PAPERS.into_iter().find(|p| plain(p.name) == asked) {
            return Ok(Self::standard(paper));
        }
        let unknown =
            || PrintError::UnknownPaper { text: text.to_owned(), known: STANDARD_PAPERS.map(|paper| paper.name).to_vec() };
        let length_mm = |text: &str, unit| parse_length(text, unit).map_err(|_no_length| unknown());
        let lower = text.trim().to_lowercase();
        if let Some(width) = lower.strip_prefix("roll") {
            return Self::roll(length_mm(width.trim_start_matches([':', ' ']), unit)?);
        }
        let (side, other) = lower.split_once(['x', '×']).ok_or_else(unknown)?;
        // "24 x 36 in": the unit behind both is that of both.
        Self::custom(length_mm(side, unit_behind(other).unwrap_or(unit))?, length_mm(other, unit)?)
    }

    /// Its name for whoever measures so: a size that is no standard one in their unit.
    ///
    /// ```
    /// use pleatwright::{measure::LengthStyle, print::Paper};
    /// let roll: Paper = "roll:24in".parse().unwrap();
    /// assert_eq!(roll.said(LengthStyle::CENTIMETRES), "roll 60.96 cm");
    /// ```
    #[must_use]
    pub fn said(&self, lengths: LengthStyle) -> String {
        match self.form {
            _ if STANDARD_PAPERS.iter().any(|paper| paper.name == self.name) => self.name.clone(),
            PaperForm::Sheet { width_mm, height_mm } => format!("{} x {}", lengths.number(width_mm), lengths.format(height_mm)),
            PaperForm::Roll { width_mm } => format!("roll {}", lengths.format(width_mm)),
        }
    }

    /// Its name, as files and the command line have it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its form and size.
    #[must_use]
    pub const fn form(&self) -> PaperForm {
        self.form
    }

    /// Names of the standard sheets, separated by commas.
    #[must_use]
    pub fn known_names() -> String {
        STANDARD_PAPERS.map(|p| p.name).join(", ")
    }
}

fn check_sides(width_mm: f64, height_mm: f64) -> Result<(), PrintError> {
    let fits = |side: f64| (MIN_SIDE_MM..=MAX_SIDE_MM + 1e-6).contains(&side);
    if fits(width_mm) && fits(height_mm) {
        return Ok(());
    }
    Err(PrintError::PaperSize { width_mm, height_mm, min_mm: MIN_SIDE_MM, max_mm: MAX_SIDE_MM })
}

/// The unit that a length ends in.
fn unit_behind(text: &str) -> Option<LengthUnit> {
    let sign = text.trim().trim_start_matches(|c: char| !(c.is_alphabetic() || matches!(c, '"' | '\'')));
    LengthUnit::from_name(sign)
}

impl FromStr for Paper {
    type Err = PrintError;

    /// Reads a standard name (`A4`, `arch d`, `ANSI C`, `letter`), a size (`300x400`, `24in x 36in`; mm unless a unit is given) or
    /// a roll (`roll:610`, `roll 24in`). Case, spaces and hyphens in names don't matter.
    fn from_str(text: &str) -> Result<Self, PrintError> {
        Self::read(text, LengthUnit::Millimetre)
    }
}

impl fmt::Display for Paper {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_read_loosely() {
        for (text, name) in [("a4", "A4"), ("Arch D", "Arch-D"), ("ANSI c", "ANSI-C"), (" LETTER", "Letter")] {
            assert_eq!(text.parse::<Paper>().map(|p| p.name), Ok(name.to_owned()), "{text}");
        }
    }

    #[test]
    fn sizes_and_rolls_are_read_with_their_units() {
        let form = |text: &str| text.parse::<Paper>().map(|p| p.form);
        assert_eq!(form("400x300"), Ok(PaperForm::Sheet { width_mm: 300.0, height_mm: 400.0 }));
        assert_eq!(form("10in x 12 IN"), Ok(PaperForm::Sheet { width_mm: 254.0, height_mm: 304.8 }));
        assert_eq!(form("roll:610"), Ok(PaperForm::Roll { width_mm: 610.0 }));
        assert_eq!(form("Roll 24in"), Ok(PaperForm::Roll { width_mm: 609.6 }));
    }

    /// It used to be told as 609.5999999999999 x 914.4 mm.
    #[test]
    fn a_paper_in_inches_has_a_plain_name() {
        let name = |text: &str| text.parse::<Paper>().map(|paper| paper.to_string());
        assert_eq!(name("24in x 36in"), Ok("609.6 x 914.4 mm".to_owned()));
        assert_eq!(name("roll:24in"), Ok("roll 609.6 mm".to_owned()));
    }

    /// A maker with an inch rule was shown and asked for millimetres.
    #[test]
    fn a_paper_is_read_and_told_in_the_makers_unit() {
        let inches = LengthStyle::Inches { nearest: crate::measure::InchFraction::Sixteenth };
        for text in ["24x36", "24 x 36 in", "24in x 36in", "2ft x 1yd", "609.6 x 914.4 mm"] {
            let paper = Paper::read(text, inches.unit()).unwrap();
            assert_eq!(paper.said(inches), "24 x 36 in", "{text}");
            assert_eq!(paper.said(LengthStyle::default()), "609.6 x 914.4 mm", "{text}");
            assert_eq!(Paper::read(&paper.said(inches), inches.unit()), Ok(paper), "{text}");
        }
        let letter = Paper::read("letter", inches.unit()).unwrap();
        assert_eq!((letter.said(inches), letter.said(LengthStyle::CENTIMETRES)), ("Letter".to_owned(), "Letter".to_owned()));
        assert_eq!(Paper::read("roll 8 1/2", inches.unit()).unwrap().said(inches), "roll 8 1/2 in");
    }

    #[test]
    fn what_is_no_paper_is_refused_with_the_names() {
        for text in ["", "A9", "x", "300x", "roll", "roll:wide", "300xx400", "3e2x400", "NaNx5"] {
            let Err(PrintError::UnknownPaper { known, .. }) = text.parse::<Paper>() else { panic!("{text}") };
            assert!(known.contains(&"Letter"));
        }
        for text in ["10x400", "300x6000", "roll:9000"] {
            assert!(matches!(text.parse::<Paper>(), Err(PrintError::PaperSize { .. })), "{text}");
        }
        assert!(Paper::custom(f64::NAN, 300.0).is_err());
    }
}
