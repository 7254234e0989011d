//! Two reveals of one cloth: how far apart they come out.

use super::colour::{DyeSet, Lab, LinearRgb, ciede2000};
use super::reveal::BAND_PIXELS;
use super::{DoseMap, Reveal};
use crate::telling::Voice;
use rayon::prelude::*;

/// The CIEDE2000 above which two places are told to differ: 5, about what a hand-dyed section varies within itself (our own
/// judgement, no source).
pub const DIFFERS_ABOVE: f64 = 5.0;

/// How far two reveals lie apart over the cloth that both have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Comparison {
    /// Mean CIEDE2000.
    pub mean: f64,
    /// CIEDE2000 that 95 % of the cloth stay within.
    pub percentile_95: f64,
    /// Share of the cloth whose CIEDE2000 is above [`DIFFERS_ABOVE`], 0 to 1.
    pub differing: f64,
}

impl Comparison {
    /// In a sentence: for who reads files by the standard's name, else by what is seen.
    #[must_use]
    pub fn sentence(&self, voice: Voice) -> String {
        let Self { mean, percentile_95, differing } = self;
        let by = voice.either(" (CIEDE2000)", ", where 1 is hardly seen");
        format!(
            "Mean difference {mean:.1}; at most {percentile_95:.1} over 95 % of the cloth{by}. {:.0} % of it differs by more than \
            {DIFFERS_ABOVE:.0}.",
            100.0 * differing
        )
    }
}

/// Compares two reveals pixel by pixel, each with its own dyes; `None` when they are not drawn on the same pixels, as garments of
/// different sizes are not, or share no cloth.
#[must_use]
pub fn comparison(first: &Reveal, first_dyes: &DyeSet, second: &Reveal, second_dyes: &DyeSet) -> Option<Comparison> {
    if first.panels() != second.panels() {
        return None;
    }
    let mut apart: Vec<f32> = Vec::new();
    for &(panel, frame) in first.panels() {
        for rows in frame.bands(BAND_PIXELS) {
            let (a, b) = (first.rows(panel, frame, rows.clone())?, second.rows(panel, frame, rows.clone())?);
            let rows = rows.into_par_iter().map(|row| row_apart(&a, first_dyes, &b, second_dyes, row));
            apart.extend(rows.collect::<Vec<_>>().concat());
        }
    }
    apart.sort_by(f32::total_cmp);
    let nearly_worst = *apart.get((apart.len() * 95 / 100).min(apart.len().checked_sub(1)?))?;
    let count = apart.len() as f64;
    let differing = apart.len() - apart.partition_point(|&difference| f64::from(difference) <= DIFFERS_ABOVE);
    let mean = apart.iter().map(|&difference| f64::from(difference)).sum::<f64>() / count;
    Some(Comparison { mean, percentile_95: nearly_worst.into(), differing: differing as f64 / count })
}

/// The differences of a row's pixels that are cloth in both, at least by half.
fn row_apart(a: &DoseMap, a_dyes: &DyeSet, b: &DoseMap, b_dyes: &DyeSet, row: usize) -> Vec<f32> {
    let pixels = a.row(row);
    let labs = |map: &DoseMap, dyes: &DyeSet| -> Vec<Lab> {
        let mut linear = vec![[0.0; 3]; pixels.len()];
        let doses = &map.doses[map.dyes * pixels.start..map.dyes * pixels.end];
        dyes.fill_linear(doses, &map.discharged[pixels.clone()], &mut linear);
        linear.into_iter().map(|rgb| LinearRgb(rgb.map(f64::from)).to_xyz().to_lab()).collect()
    };
    if !pixels.clone().any(|pixel| a.coverage[pixel] >= 0.5 && b.coverage[pixel] >= 0.5) {
        return Vec::new();
    }
    let (first, second) = (labs(a, a_dyes), labs(b, b_dyes));
    let cloth = pixels.zip(first).zip(second).filter(|((pixel, _), _)| a.coverage[*pixel] >= 0.5 && b.coverage[*pixel] >= 0.5);
    #[expect(clippy::cast_possible_truncation, reason = "a difference, kept in f32")]
    cloth.map(|((_, first), second)| ciede2000(first, second) as f32).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::LengthStyle;

    /// The window named the standard to makers who have never heard of it.
    #[test]
    fn the_standard_is_named_to_readers_of_files_alone() {
        let found = Comparison { mean: 1.23, percentile_95: 4.56, differing: 0.02 };
        let [file, window] = [Voice::FILE, Voice::window(LengthStyle::default())].map(|voice| found.sentence(voice));
        assert_eq!(
            file,
            "Mean difference 1.2; at most 4.6 over 95 % of the cloth (CIEDE2000). 2 % of it differs by more than 5."
        );
        assert_eq!(window, file.replace(" (CIEDE2000)", ", where 1 is hardly seen"));
    }
}
