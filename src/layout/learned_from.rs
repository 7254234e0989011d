//! Where calibration values come from that are not the program's own.

use crate::measure::counted;
use jiff::civil::Date;

/// What calibration values were learned from: photographs of pieces that the maker made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LearnedFrom {
    /// How many pieces taught.
    pub pieces: u32,
    /// The day on which the layout took them, where it is known.
    pub on: Option<Date>,
}

impl LearnedFrom {
    /// Where values come from, in words: `learned from 3 pieces, 2026-11-28`.
    #[must_use]
    pub fn words(&self) -> String {
        let pieces = counted(self.pieces, "piece");
        let on = self.on.map_or_else(String::new, |on| format!(", {on}"));
        format!("learned from {pieces}{on}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn where_values_come_from_is_said_with_the_day() {
        let on = Some(jiff::civil::date(2026, 11, 28));
        assert_eq!(LearnedFrom { pieces: 3, on }.words(), "learned from 3 pieces, 2026-11-28");
        assert_eq!(LearnedFrom { pieces: 1, on: None }.words(), "learned from 1 piece");
    }
}
