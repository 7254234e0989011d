//! What is usual where the maker lives: the unit on the rule and the paper in the printer.

use super::RuleMarks;

/// A region of the world, by its two letters in ISO 3166-1.
///
/// ```
/// use pleatwright::measure::{Region, RuleMarks};
/// let there = Region::of_locale("en_US.UTF-8");
/// assert!(there.is_some_and(|region| region.prints_on_letter() && region.marks() == RuleMarks::InchSixteenth));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Region([u8; 2]);

/// Where letters are written on US Letter; elsewhere on A4 (published: Unicode CLDR, measurement data, `paperSize`, as in UTS #35 part 2).
const ON_LETTER: [&[u8; 2]; 14] =
    [b"BZ", b"CA", b"CL", b"CO", b"CR", b"GT", b"MX", b"NI", b"PA", b"PH", b"PR", b"SV", b"US", b"VE"];
/// Where rules are in inches; elsewhere, in the United Kingdom too, cloth is measured in metric units (published: the same,
/// `measurementSystem`; that a maker's rule in the United Kingdom is metric is common practice, no source).
const IN_INCHES: [&[u8; 2]; 3] = [b"LR", b"MM", b"US"];

impl Region {
    /// The region that a locale names, in the spelling of POSIX (`en_US.UTF-8`, `de_AT@euro`) or of BCP 47 (`zh-Hant-TW`); none where it
    /// names none, as `C`, `eo` and `es-419` don't.
    #[must_use]
    pub fn of_locale(locale: &str) -> Option<Self> {
        let bare = locale.split(['.', '@']).next().unwrap_or_default();
        // The language comes first; before the region only a script, of four letters, and variants of three.
        let mut parts = bare.split(['_', '-']).skip(1);
        let letters = parts.find(|part| part.len() == 2 && part.bytes().all(|letter| letter.is_ascii_alphabetic()))?;
        let letters: [u8; 2] = letters.to_ascii_uppercase().into_bytes().try_into().ok()?;
        Some(Self(letters))
    }

    /// Whether the usual paper is US Letter; else it is A4.
    #[must_use]
    pub fn prints_on_letter(self) -> bool {
        ON_LETTER.contains(&&self.0)
    }

    /// The marks of the usual rule.
    #[must_use]
    pub fn marks(self) -> RuleMarks {
        if IN_INCHES.contains(&&self.0) { RuleMarks::InchSixteenth } else { RuleMarks::default() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The rows of Unicode CLDR's measurement data, as UTS #35 part 2 prints them, copied into `tests/reference/measurement_data.csv`.
    fn territories(what: &str, kind: &str) -> Vec<&'static str> {
        let table = include_str!("../../tests/reference/measurement_data.csv");
        let rows = table.lines().map(|line| line.split(',').collect::<Vec<_>>());
        rows.filter(|row| row[..2] == [what, kind]).flat_map(|row| row[2].split(' ')).collect()
    }

    #[test]
    fn papers_and_rules_are_those_of_the_common_locale_data() {
        let letter = territories("paperSize", "US-Letter");
        let inches = territories("measurementSystem", "US");
        assert!(letter.len() > 10 && inches.contains(&"US"));
        let letters = || 'A'..='Z';
        for code in letters().flat_map(|first| letters().map(move |second| format!("{first}{second}"))) {
            let region = Region::of_locale(&format!("xx-{code}")).unwrap();
            assert_eq!(region.prints_on_letter(), letter.contains(&code.as_str()), "{code}");
            assert_eq!(region.marks() == RuleMarks::InchSixteenth, inches.contains(&code.as_str()), "{code}");
        }
    }

    #[test]
    fn a_locale_names_its_region_however_it_is_spelt() {
        let names = ["en_US.UTF-8", "en-US", "en_us", "es-US", "en-Latn-US", "sr_US@latin", "en_US_POSIX"];
        let us = Region::of_locale("en-US");
        assert!(us.is_some() && names.map(Region::of_locale).into_iter().all(|region| region == us));
        assert_ne!(Region::of_locale("en-GB"), us);
        assert_eq!(["", "C", "POSIX", "C.UTF-8", "eo", "es-419", "en_", "--"].map(Region::of_locale), [None; 8]);
    }
}
