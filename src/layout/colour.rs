//! Colours as they are named and written in a layout.

use crate::telling::{Refused, Told, Voice, displayed_as_in_files};
use std::fmt;
use std::str::FromStr;

/// A colour as a screen shows it: sRGB (IEC 61966-2-1), 8 bits a channel, written `#rrggbb`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Srgb {
    /// Red.
    pub red: u8,
    /// Green.
    pub green: u8,
    /// Blue.
    pub blue: u8,
}

/// A text that is no colour.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct ParseColourError {
    /// What was given.
    pub text: String,
}

displayed_as_in_files!(ParseColourError);

impl Refused for ParseColourError {
    fn told(&self, _voice: Voice) -> Told {
        Told::new(format!("not a colour: \"{}\"", self.text), "write # and six hexadecimal digits, such as \"#0f7c8a\"")
    }
}

impl FromStr for Srgb {
    type Err = ParseColourError;

    fn from_str(text: &str) -> Result<Self, ParseColourError> {
        let refusal = || ParseColourError { text: text.to_owned() };
        let digits = text.strip_prefix('#').filter(|d| d.len() == 6 && d.bytes().all(|b| b.is_ascii_hexdigit()));
        let number = digits.and_then(|d| u32::from_str_radix(d, 16).ok()).ok_or_else(refusal)?;
        let [_, red, green, blue] = number.to_be_bytes();
        Ok(Self { red, green, blue })
    }
}

impl fmt::Display for Srgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }
}

/// A named colour: of the garment, or of a dye at full strength on white cloth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Swatch {
    /// Plain words for it.
    pub name: String,
    /// How it looks.
    pub srgb: Srgb,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_are_read_and_written() {
        assert_eq!("#0f7C8a".parse::<Srgb>(), Ok(Srgb { red: 15, green: 124, blue: 138 }));
        assert_eq!(Srgb { red: 15, green: 124, blue: 138 }.to_string(), "#0f7c8a");
        for text in ["", "#", "0f7c8a", "#0f7c8", "#0f7c8g", "#+f7c8a", "#0f7c8a0", "#é7c8a"] {
            assert!(text.parse::<Srgb>().is_err(), "{text}");
        }
    }
}
