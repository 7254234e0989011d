//! Colours as they are written in a layout.

use super::colour_words::of_words;
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
    fn told(&self, voice: Voice) -> Told {
        let in_file = "write # and six hexadecimal digits, such as \"#0f7c8a\"";
        let in_window = "write a common name such as navy, mustard or dark red, or # and six digits such as #0f7c8a";
        Told::new(format!("not a colour: \"{}\"", self.text), voice.either(in_file, in_window))
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

impl Srgb {
    /// A colour as a maker types it: a name of CSS Color Module Level 4 in any case and with spaces, such as "Dark red", a plain word for a
    /// dye, such as "mustard" or "rust red", or the digits of `#rrggbb` or `#rgb` with their sign or without.
    ///
    /// # Errors
    /// [`ParseColourError`] for what is no such colour, or lets something shine through.
    ///
    /// ```
    /// use pleatwright::layout::Srgb;
    /// assert_eq!(Srgb::from_typed("Dark red").map(|colour| colour.to_string()), Ok("#8b0000".to_owned()));
    /// ```
    pub fn from_typed(text: &str) -> Result<Self, ParseColourError> {
        let letters: String = text.split_whitespace().collect();
        let words = text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ");
        let colour = csscolorparser::parse(&letters).ok().filter(|colour| colour.a >= 1.0);
        if let (None, Some([red, green, blue])) = (&colour, of_words(&words)) {
            return Ok(Self { red, green, blue });
        }
        let [red, green, blue, _] = colour.ok_or_else(|| ParseColourError { text: text.to_owned() })?.to_rgba8();
        Ok(Self { red, green, blue })
    }

    /// Hue in degrees, 0 up to 360, then saturation and value, each 0 to 1: the hexcone of A. R. Smith, "Color gamut transform pairs",
    /// SIGGRAPH 1978, over the sRGB channels as they are written. Greys have the hue 0.
    #[must_use]
    pub fn to_hsv(self) -> [f32; 3] {
        let [hue, saturation, value, _] = csscolorparser::Color::from_rgba8(self.red, self.green, self.blue, 255).to_hsva();
        [hue, saturation, value]
    }

    /// The nearest colour of 8 bits a channel to hue in degrees, saturation and value; what lies outside 0 to 1 counts as its end.
    #[must_use]
    pub fn from_hsv([hue, saturation, value]: [f32; 3]) -> Self {
        let within = |share: f32| share.clamp(0.0, 1.0);
        let colour = csscolorparser::Color::from_hsva(hue.rem_euclid(360.0), within(saturation), within(value), 1.0);
        let [red, green, blue, _] = colour.to_rgba8();
        Self { red, green, blue }
    }
}

impl fmt::Display for Srgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.red, self.green, self.blue)
    }
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

    /// CSS Color Module Level 4, 6.1 "Named Colors"; the digits from memory of its table.
    #[test]
    fn colours_are_typed_by_name_or_digits() {
        let named = [
            ("navy", "#000080"),
            ("Dark red", "#8b0000"),
            (" rebecca purple", "#663399"),
            ("TEAL", "#008080"),
            ("Rust  red", "#a94a25"),
        ];
        for (text, digits) in named.into_iter().chain([("#0F7c8a", "#0f7c8a"), ("0f7c8a", "#0f7c8a"), ("#abc", "#aabbcc")]) {
            assert_eq!(Srgb::from_typed(text).map(|colour| colour.to_string()), Ok(digits.to_owned()), "{text}");
        }
        for text in ["", "madder", "transparent", "#0f7c8a80", "12"] {
            assert!(Srgb::from_typed(text).is_err(), "{text}");
        }
    }

    #[test]
    fn hue_saturation_and_value_lead_back_to_the_colour() {
        for red in (0..=255).step_by(15) {
            for (green, blue) in (0..=255).step_by(17).zip((0..=255).rev().step_by(13)) {
                let colour = Srgb { red, green, blue };
                assert_eq!(Srgb::from_hsv(colour.to_hsv()), colour);
            }
        }
        assert_eq!(Srgb { red: 0, green: 128, blue: 128 }.to_hsv().map(f32::round), [180.0, 1.0, 1.0]);
    }
}
