//! `reveal --unsure`: where a reveal may be off, hatched, and its two extremes.

use super::CliError;
use pleatwright::layout::Layout;
use pleatwright::learn::{Beliefs, Learned, Unsure};
use pleatwright::reveal::colour::DyeSet;
use pleatwright::reveal::{Cancel, Picture, Reveal, RevealError, RevealOptions, Texture, comparison, picture_of, reveal_doses};
use pleatwright::telling::Voice;
use std::io::{self, Write};

/// Least pixel on which it is computed, mm: finer than that nothing is told apart by its hatching.
const LEAST_PIXEL_MM: f64 = 2.0;

/// How sure a reveal is, and the pictures that show it.
pub(super) struct Sureness {
    unsure: Unsure,
    extremes: [Reveal; 2],
    dyes: DyeSet,
}

impl Sureness {
    /// Of a layout and its reveal on pixels of these options, by what was learned where that is given.
    pub(super) fn of(layout: &Layout, learned: Option<&Learned>, options: &RevealOptions, file: &str) -> Result<Self, CliError> {
        let refused = |error: RevealError| CliError::because(file, &error);
        let coarse = RevealOptions { pixel_mm: options.pixel_mm.max(LEAST_PIXEL_MM), ..*options };
        let unsure = Unsure::of(layout, &Beliefs::of(layout, learned), &coarse, &Cancel::new()).map_err(refused)?;
        let reveal = |tuning| reveal_doses(&layout.tuned(tuning), options, &Cancel::new()).map_err(refused);
        let [least, most] = unsure.extremes().each_ref().map(reveal);
        Ok(Self { unsure, extremes: [least?, most?], dyes: DyeSet::of_layout(layout, None) })
    }

    /// The picture hatched, and below it the one with least dye and the one with most.
    pub(super) fn picture(&self, expected: &Picture, reveal: &Reveal, texture: Texture, gap: usize) -> Picture {
        let hatched = self.unsure.hatched(expected, reveal.panels());
        self.extremes.iter().fold(hatched, |above, extreme| {
            above.above(&picture_of(extreme, &self.dyes, pleatwright::reveal::PictureMap::Cloth, texture), gap)
        })
    }

    /// How sure it is, and how far the extremes lie apart.
    pub(super) fn tell(&self, output: &mut dyn Write) -> io::Result<()> {
        writeln!(output, "Above: hatched where it is unsure; then with the least dye reaching the cloth, and with the most.")?;
        writeln!(output, "{}", self.unsure.sentence(Voice::FILE))?;
        let [least, most] = &self.extremes;
        if let Some(apart) = comparison(least, &self.dyes, most, &self.dyes) {
            writeln!(output, "Between the two extremes: {}", apart.sentence(Voice::FILE))?;
        }
        Ok(())
    }
}
