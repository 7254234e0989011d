//! Reading lengths as a maker types them.
//!
//! ```text
//! length = [sign] term { ("+" | "-") term }
//! term   = number [unit] { ["-"] number unit }        3 ft 2 in, 3'2", 3'-2"
//! number = decimal | fraction | whole (" " | "-") fraction    9-1/4: a hyphen without spaces joins a fraction to its whole
//! ```

use thiserror::Error;

use super::LengthUnit;

/// The longest length that is read, in mm (practice: a kilometre is longer than any cloth on a table).
pub const LARGEST_LENGTH_MM: f64 = 1e6;

/// Why a text is no length. Columns count characters from 1.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ParseLengthError {
    /// Nothing but space.
    Empty,
    /// The text ends where a number has to follow.
    Unfinished {
        /// Where the number should begin.
        column: usize,
    },
    /// Something else than a number.
    NotANumber {
        /// The offending text.
        found: String,
        /// Where it begins.
        column: usize,
    },
    /// A word or sign after a number that is no unit.
    UnknownUnit {
        /// The offending text.
        found: String,
        /// Where it begins.
        column: usize,
    },
    /// One number of a sum has a unit and this one has none.
    MissingUnit {
        /// Where the number begins.
        column: usize,
    },
    /// A comma that could be a decimal comma or part a thousand.
    AmbiguousComma {
        /// The number as typed.
        found: String,
        /// Where it begins.
        column: usize,
    },
    /// A fraction over nothing.
    ZeroDenominator {
        /// The fraction as typed.
        found: String,
        /// Where it begins.
        column: usize,
    },
    /// A fraction of or after a number that is not whole.
    BadFraction {
        /// The number as typed.
        found: String,
        /// Where it begins.
        column: usize,
    },
    /// Beyond [`LARGEST_LENGTH_MM`].
    TooLarge {
        /// Where the number begins.
        column: usize,
    },
}

/// Reads a length in mm; numbers without a unit are in `default_unit`.
///
/// Accepts decimals (with a comma where it can only be a decimal comma), fractions, feet and inches, sums and differences. In a sum
/// either all numbers carry a unit or none does. The result may be negative.
///
/// # Errors
/// [`ParseLengthError`] says what was found, at which character, and what would be right.
///
/// ```
/// use pleatwright::measure::{LengthUnit, parse_length};
/// assert_eq!(parse_length("23.5 cm", LengthUnit::Inch), Ok(235.0));
/// assert_eq!(parse_length("9-1/4\"", LengthUnit::Millimetre), Ok(234.95));
/// ```
pub fn parse_length(text: &str, default_unit: LengthUnit) -> Result<f64, ParseLengthError> {
    let mut reader = Reader { chars: text.chars().collect(), at: 0 };
    let parts = reader.parts()?;
    let any_unit = parts.iter().any(|part| part.unit.is_some());
    let mut sum_mm = 0.0;
    for part in &parts {
        let column = part.column;
        let unit = match part.unit {
            None if any_unit => return Err(ParseLengthError::MissingUnit { column }),
            unit => unit.unwrap_or(default_unit),
        };
        sum_mm += part.value * unit.in_mm();
        if !sum_mm.is_finite() || sum_mm.abs() > LARGEST_LENGTH_MM {
            return Err(ParseLengthError::TooLarge { column });
        }
    }
    // 7.25 times 25.4 is not quite 184.15 in binary: what is stored and shown is the decimal that was meant.
    Ok((sum_mm * PER_MM).round() / PER_MM)
}

/// Lengths are read to a millionth of a millimetre (practice: far below anything on a rule, far above rounding errors).
const PER_MM: f64 = 1e6;

/// Whether a text is a length with inches, feet or yards in it.
///
/// ```
/// use pleatwright::measure::is_in_inches;
/// assert!(is_in_inches("7 1/4 in") && is_in_inches("2'") && !is_in_inches("184 mm") && !is_in_inches("184"));
/// ```
#[must_use]
pub fn is_in_inches(text: &str) -> bool {
    let mut reader = Reader { chars: text.chars().collect(), at: 0 };
    let by_the_inch = |part: &Part| matches!(part.unit, Some(LengthUnit::Inch | LengthUnit::Foot | LengthUnit::Yard));
    reader.parts().is_ok_and(|parts| parts.iter().any(by_the_inch))
}

/// One signed number with its unit.
struct Part {
    value: f64,
    unit: Option<LengthUnit>,
    column: usize,
}

/// A position in the text.
struct Reader {
    chars: Vec<char>,
    at: usize,
}

impl Reader {
    fn peek(&self) -> Option<char> {
        self.ahead(0)
    }

    fn ahead(&self, by: usize) -> Option<char> {
        self.chars.get(self.at + by).copied()
    }

    const fn column(&self) -> usize {
        self.at + 1
    }

    fn since(&self, start: usize) -> String {
        self.chars[start..self.at].iter().collect()
    }

    fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> String {
        let start = self.at;
        while self.peek().is_some_and(&wanted) {
            self.at += 1;
        }
        self.since(start)
    }

    fn skip_space(&mut self) {
        self.take_while(char::is_whitespace);
    }

    fn parts(&mut self) -> Result<Vec<Part>, ParseLengthError> {
        self.skip_space();
        if self.peek().is_none() {
            return Err(ParseLengthError::Empty);
        }
        let mut parts = Vec::new();
        let mut sign = self.sign().unwrap_or(1.0);
        loop {
            self.skip_space();
            let column = self.column();
            let value = sign * self.number()?;
            self.skip_space();
            let unit = self.unit()?;
            parts.push(Part { value, unit, column });
            // The architect's 3'-2": a hyphen tight between a foot mark and a number joins them.
            if unit == Some(LengthUnit::Foot) && self.peek() == Some('-') && self.tight_hyphen() {
                self.at += 1;
                continue;
            }
            self.skip_space();
            match self.peek() {
                None => return Ok(parts),
                // A further number directly after a unit belongs to the same term and has its sign: 3 ft 2 in.
                Some(c) if unit.is_some() && starts_number(c) => {}
                Some(_) => sign = self.sign().ok_or_else(|| self.junk())?,
            }
        }
    }

    /// Whether the hyphen here has a number on its right and a foot *mark* on its left.
    fn tight_hyphen(&self) -> bool {
        let before = self.at.checked_sub(1).and_then(|i| self.chars.get(i));
        before.is_some_and(|c| matches!(c, '\'' | '\u{2032}' | '\u{2019}')) && self.ahead(1).is_some_and(starts_number)
    }

    fn sign(&mut self) -> Option<f64> {
        let sign = match self.peek()? {
            '+' => 1.0,
            '-' | '\u{2212}' => -1.0,
            _ => return None,
        };
        self.at += 1;
        Some(sign)
    }

    fn number(&mut self) -> Result<f64, ParseLengthError> {
        let start = self.at;
        if let Some(value) = self.drawn_fraction() {
            return Ok(value);
        }
        let first = self.decimal()?;
        let is_whole = self.chars[start..self.at].iter().all(char::is_ascii_digit);
        if self.peek().is_some_and(is_slash) {
            return self.fraction_over(start, first, is_whole);
        }
        let after_first = self.at;
        let joined = self.fraction_after()?;
        match joined {
            Some(fraction) if is_whole => Ok(first + fraction),
            Some(_) => {
                Err(ParseLengthError::BadFraction { found: self.chars[start..after_first].iter().collect(), column: start + 1 })
            }
            None => Ok(first),
        }
    }

    /// The `/ 4` of `1/4`, its numerator being read.
    fn fraction_over(&mut self, start: usize, numerator: f64, is_whole: bool) -> Result<f64, ParseLengthError> {
        self.at += 1;
        let digits = self.take_while(|c| c.is_ascii_digit());
        let (found, column) = (self.since(start), start + 1);
        let more = self.peek().is_some_and(|c| matches!(c, '.' | ',') || is_slash(c));
        match digits.parse::<f64>() {
            Ok(denominator) if is_whole && !more && denominator > 0.0 => finite(numerator / denominator, column),
            Ok(denominator) if is_whole && !more && denominator == 0.0 => {
                Err(ParseLengthError::ZeroDenominator { found, column })
            }
            _ => Err(ParseLengthError::BadFraction { found, column }),
        }
    }

    /// The fraction of a mixed number, after space or a tight hyphen; the reader stays put if there is none.
    fn fraction_after(&mut self) -> Result<Option<f64>, ParseLengthError> {
        let start = self.at;
        if self.peek() == Some('-') {
            self.at += 1;
        } else {
            self.skip_space();
        }
        let numerator_at = self.at;
        if let Some(value) = self.drawn_fraction() {
            return Ok(Some(value));
        }
        let digits = self.take_while(|c| c.is_ascii_digit());
        let is_fraction = numerator_at > start && !digits.is_empty() && self.peek().is_some_and(is_slash);
        match digits.parse::<f64>() {
            Ok(numerator) if is_fraction => self.fraction_over(numerator_at, numerator, true).map(Some),
            _ => {
                self.at = start;
                Ok(None)
            }
        }
    }

    /// A fraction that is a single character.
    fn drawn_fraction(&mut self) -> Option<f64> {
        let value = value_of_drawn(self.peek()?)?;
        self.at += 1;
        Some(value)
    }

    fn decimal(&mut self) -> Result<f64, ParseLengthError> {
        let start = self.at;
        let column = self.column();
        let whole = self.take_while(|c| c.is_ascii_digit());
        let separator = self.peek().filter(|&c| matches!(c, '.' | ','));
        let mut decimals = String::new();
        if separator.is_some() {
            self.at += 1;
            decimals = self.take_while(|c| c.is_ascii_digit());
        }
        let found = self.since(start);
        if whole.is_empty() && decimals.is_empty() {
            self.at = start;
            return Err(self.junk());
        }
        let another = self.peek().is_some_and(|c| matches!(c, '.' | ','));
        let like_thousands = decimals.len() == 3 && !whole.is_empty() && whole != "0";
        if separator == Some(',') && (another || decimals.is_empty() || like_thousands) {
            return Err(ParseLengthError::AmbiguousComma { found, column });
        }
        if another {
            return Err(self.junk());
        }
        match format!("{whole}.{decimals}0").parse::<f64>() {
            Ok(value) => finite(value, column),
            Err(_) => Err(ParseLengthError::NotANumber { found, column }),
        }
    }

    fn unit(&mut self) -> Result<Option<LengthUnit>, ParseLengthError> {
        let start = self.at;
        let mut name = self.take_while(char::is_alphabetic);
        if name.is_empty() {
            name = self.take_while(|c| c == '\'');
        }
        if name.is_empty() && self.peek().is_some_and(|c| matches!(c, '"' | '\u{2032}' | '\u{2033}' | '\u{2019}' | '\u{201d}')) {
            self.at += 1;
            name = self.since(start);
        }
        match LengthUnit::from_name(&name) {
            _ if name.is_empty() => Ok(None),
            Some(unit) => Ok(Some(unit)),
            None => Err(ParseLengthError::UnknownUnit { found: name, column: start + 1 }),
        }
    }

    /// The error for whatever stands here.
    fn junk(&self) -> ParseLengthError {
        let column = self.column();
        let mut word: String = self.chars[self.at..].iter().take_while(|c| c.is_alphanumeric()).collect();
        match self.peek() {
            None => return ParseLengthError::Unfinished { column },
            Some(c) if word.is_empty() => word.push(c),
            Some(_) => {}
        }
        ParseLengthError::NotANumber { found: word, column }
    }
}

fn finite(value: f64, column: usize) -> Result<f64, ParseLengthError> {
    if value.is_finite() { Ok(value) } else { Err(ParseLengthError::TooLarge { column }) }
}

const fn is_slash(c: char) -> bool {
    matches!(c, '/' | '\u{2044}')
}

const fn starts_number(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',') || value_of_drawn(c).is_some()
}

const fn value_of_drawn(c: char) -> Option<f64> {
    Some(match c {
        '\u{00bd}' => 1.0 / 2.0,
        '\u{2153}' => 1.0 / 3.0,
        '\u{2154}' => 2.0 / 3.0,
        '\u{00bc}' => 1.0 / 4.0,
        '\u{00be}' => 3.0 / 4.0,
        '\u{215b}' => 1.0 / 8.0,
        '\u{215c}' => 3.0 / 8.0,
        '\u{215d}' => 5.0 / 8.0,
        '\u{215e}' => 7.0 / 8.0,
        _ => return None,
    })
}
