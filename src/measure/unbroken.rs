//! Where a line of words may end: never between a number and its unit, nor inside a number with a fraction.

/// Signs that belong to the number before them.
const SIGNS: [&str; 24] = [
    "mm", "cm", "m", "in", "ft", "yd", "mm²", "cm²", "m²", "in²", "m³", "g", "kg", "mL", "L", "g/L", "g/m²", "L/kg", "min", "h",
    "s", "°C", "%", "W",
];

/// The words of a text as lines may be broken between them: `9 1/4 in` is one.
///
/// ```
/// use pleatwright::measure::unbroken;
/// assert_eq!(unbroken("guide arc at 9 1/4 in, then each").collect::<Vec<_>>(), ["guide", "arc", "at", "9 1/4 in,", "then", "each"]);
/// ```
pub fn unbroken(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text.trim_start();
    std::iter::from_fn(move || {
        if rest.is_empty() {
            return None;
        }
        let mut end = word_end(rest);
        while let Some(next) = next_word(&rest[end..])
            && belongs(last_word(&rest[..end]), next)
        {
            end = end_of(rest, next);
        }
        let word = &rest[..end];
        rest = rest[end..].trim_start();
        Some(word)
    })
}

/// The text with spaces that no line is broken at inside numbers, and between numbers and their units.
#[must_use]
pub fn held_together(text: &str) -> String {
    let lines = text.split('\n').map(|line| unbroken(line).map(|word| word.replace(' ', "\u{a0}")).collect::<Vec<_>>().join(" "));
    lines.collect::<Vec<_>>().join("\n")
}

fn word_end(text: &str) -> usize {
    text.find(char::is_whitespace).unwrap_or(text.len())
}

fn next_word(text: &str) -> Option<&str> {
    text.split_whitespace().next()
}

fn last_word(text: &str) -> &str {
    text.rsplit(char::is_whitespace).next().unwrap_or(text)
}

/// Where a word that is a part of a text ends in it.
fn end_of(text: &str, word: &str) -> usize {
    word.as_ptr().addr() - text.as_ptr().addr() + word.len()
}

/// Whether a word belongs to the one before it.
fn belongs(before: &str, word: &str) -> bool {
    let bare = word.trim_end_matches([',', ';', ':', '.', ')', ']']);
    let is_number = before.ends_with(|c: char| c.is_ascii_digit()) && !before.ends_with(',');
    let is_whole = before.trim_start_matches(['(', '-']).bytes().all(|digit| digit.is_ascii_digit());
    let is_fraction = || bare.split_once('/').is_some_and(|(above, below)| [above, below].iter().all(|part| is_digits(part)));
    is_number && (SIGNS.contains(&bare) || (is_whole && is_fraction()))
}

fn is_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|digit| digit.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{InchFraction, LengthStyle};
    use crate::seeded::seeded;
    use proptest::prelude::*;

    #[test]
    fn numbers_keep_their_units_and_words_do_not() {
        let split = |text: &'static str| unbroken(text).collect::<Vec<_>>();
        assert_eq!(split("19 pleats of 1 1/2 in (29.1 degrees)"), ["19", "pleats", "of", "1 1/2 in", "(29.1", "degrees)"]);
        assert_eq!(split("  62.9 g/L,  12.345 m; 40 °C "), ["62.9 g/L,", "12.345 m;", "40 °C"]);
        assert_eq!(split("binds 3, 4 and 5"), ["binds", "3,", "4", "and", "5"]);
        assert_eq!(split(""), [""; 0]);
        assert_eq!(held_together("at 9 1/4 in now\n13 yd"), "at 9\u{a0}1/4\u{a0}in now\n13\u{a0}yd");
    }

    proptest! {
        #![proptest_config(seeded(91, 128))]

        /// Whatever is written of a length stays on one line.
        #[test]
        fn a_written_length_is_one_word(mm in 0.0..5000.0, sixteenths in any::<bool>()) {
            let nearest = if sixteenths { InchFraction::Sixteenth } else { InchFraction::Half };
            for lengths in [LengthStyle::MILLIMETRES, LengthStyle::CENTIMETRES, LengthStyle::Inches { nearest }] {
                let text = format!("pin it {} below", lengths.format(mm));
                prop_assert_eq!(unbroken(&text).count(), 4, "{}", text);
                prop_assert_eq!(unbroken(&text).collect::<Vec<_>>().join(" "), text);
            }
        }
    }
}
