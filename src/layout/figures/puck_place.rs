//! How a garment is twisted into a puck, in words.

use super::{Figures, SpiralFigures};
use crate::geometry::Top;
use crate::measure::LengthStyle;

/// How a garment is twisted into a puck, and how its bands part it.
#[derive(Debug, Clone, PartialEq)]
pub struct PuckPlace {
    /// What the height is counted from.
    pub top: Top,
    /// The pinch below that and from the centre line, mm.
    pub pinch_mm: [f64; 2],
    /// Radius of what the fingers hold, mm.
    pub pinch_radius_mm: f64,
    /// How often the pinch is turned.
    pub turns: f64,
    /// Which way, seen from above, in plain words.
    pub twist: String,
    /// Diameter and height of the puck, mm.
    pub size_mm: [f64; 2],
    /// Bands over it.
    pub bands: u32,
    /// The wedge that ends where the first band crosses the rim.
    pub first_after: u32,
}

impl PuckPlace {
    pub(super) fn of(spiral: &SpiralFigures, figures: &Figures) -> Self {
        let first_after = figures.binds.iter().find(|bind| bind.on_guide_arc).map_or(spiral.wedges, |bind| bind.number);
        Self {
            top: spiral.top,
            pinch_mm: [spiral.pinch_below_shoulder_mm, spiral.pinch_from_centre_line_mm],
            pinch_radius_mm: spiral.pinch_radius_mm,
            turns: spiral.turns,
            twist: spiral.twist.to_owned(),
            size_mm: [spiral.puck_diameter_mm, spiral.puck_height_mm],
            bands: spiral.bands,
            first_after,
        }
    }

    /// Where it is pinched: `Pinch: 310 mm below the shoulder point, on the centre line.`
    #[must_use]
    pub fn pinch_words(&self, lengths: LengthStyle) -> String {
        format!("Pinch: {}.", self.top.place(self.pinch_mm, lengths))
    }

    /// What is marked: the pinch and its tick.
    #[must_use]
    pub fn mark_words(&self, lengths: LengthStyle) -> String {
        let radius = lengths.format(self.pinch_radius_mm);
        format!(
            "{} Draw a circle of radius {radius} about it, and a tick from there straight up: wedges are counted from the tick.",
            self.pinch_words(lengths)
        )
    }

    /// How it is twisted and drawn together.
    #[must_use]
    pub fn twist_words(&self, layers: u32, lengths: LengthStyle) -> String {
        let [diameter, height] = self.size_mm.map(|mm| lengths.format(mm));
        let through = if layers == 1 { "the cloth".to_owned() } else { format!("all {layers} layers") };
        format!(
            "Pinch {through} in the circle. Turn the pinch {} as seen from above, {} in all, while the other hand keeps the cloth flat: let it \
             rise in pleats, draw them round the pinch, and tuck the corners in. Press it into a puck {diameter} across and {height} high.",
            self.twist,
            turn_words(self.turns)
        )
    }

    /// Where a band goes: `Over the middle, between wedges 6 and 1 and between wedges 3 and 4`.
    #[must_use]
    pub fn band_words(&self, band: u32) -> String {
        let wedges = 2 * self.bands;
        let between = |after: u32| {
            let wedge = (after - 1) % wedges + 1;
            format!("between wedges {wedge} and {}", wedge % wedges + 1)
        };
        let after = self.first_after + band - 1;
        format!("Over the middle, {} and {}", between(after), between(after + self.bands))
    }
}

/// A number of turns in words: `2 turns`, `1.75 turns`, `1 turn`.
fn turn_words(turns: f64) -> String {
    let turns = (100.0 * turns).round() / 100.0;
    if turns == 1.0 { "1 turn".to_owned() } else { format!("{turns} turns") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn puck(bands: u32, first_after: u32) -> PuckPlace {
        PuckPlace {
            top: Top::ShoulderPoint,
            pinch_mm: [310.0, 0.0],
            pinch_radius_mm: 12.0,
            turns: 1.75,
            twist: "clockwise".to_owned(),
            size_mm: [190.0, 32.0],
            bands,
            first_after,
        }
    }

    /// Every two neighbouring wedges have one band between them.
    #[test]
    fn bands_part_all_wedges() {
        assert_eq!(puck(3, 6).band_words(1), "Over the middle, between wedges 6 and 1 and between wedges 3 and 4");
        assert_eq!(puck(3, 6).band_words(3), "Over the middle, between wedges 2 and 3 and between wedges 5 and 6");
        for bands in 1..=12 {
            for first_after in 1..=2 * bands {
                let all: String = (1..=bands).map(|band| format!("{};", puck(bands, first_after).band_words(band))).collect();
                for wedge in 1..=2 * bands {
                    let words = format!("between wedges {wedge} and {}", wedge % (2 * bands) + 1);
                    let found = all
                        .match_indices(&words)
                        .filter(|(at, _)| !all[at + words.len()..].starts_with(|next: char| next.is_ascii_digit()));
                    assert_eq!(found.count(), 1, "{words}: {all}");
                }
            }
        }
    }

    #[test]
    fn the_twist_is_told_in_the_makers_unit() {
        let mm = LengthStyle::default();
        assert_eq!(puck(3, 6).pinch_words(mm), "Pinch: 310 mm below the shoulder point, on the centre line.");
        let words = puck(3, 6).twist_words(4, mm);
        assert!(
            words
                .starts_with("Pinch all 4 layers in the circle. Turn the pinch clockwise as seen from above, 1.75 turns in all,")
        );
        assert!(words.ends_with("Press it into a puck 190 mm across and 32 mm high."), "{words}");
        assert_eq!(turn_words(1.0), "1 turn");
    }
}
