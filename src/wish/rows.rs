//! The opened cloth row by row: places at every millimetre along the rod, whose mean is the colour of a ring.

use crate::geometry::{BundlePoint, ClothPoint, Fold};
use crate::layout::Layout;
use crate::reveal::colour::{DyeSet, Lab, LinearRgb};
use crate::reveal::{ReadDoses, Reading, RodDoses};
use rayon::prelude::*;
use std::ops::Range;

/// Steps of the two sequences by which places are spread over a row: the golden ratio's and the plastic number's (Kronecker sequences).
const ACROSS_STEP: f64 = 0.618_033_988_749_894_9;
const ALONG_STEP: f64 = 0.754_877_666_246_692_7;
/// Pixels coloured by one thread before the next.
const BLOCK: usize = 4096;

/// Places of the cloth by the millimetre of the rod that they lay in.
#[derive(Debug)]
pub(super) struct Rows {
    reading: Reading,
    /// Where each row's places begin among all, and after the last where they end.
    starts: Vec<usize>,
    /// How much cloth each place stands for, beside the others of its row.
    weights: Vec<f64>,
}

/// What every place has.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Doses {
    pub(super) read: ReadDoses,
    /// The share of the garment's colour that is gone.
    pub(super) gone: Vec<f32>,
}

impl Rows {
    /// Up to so many places in each of the wanted rows; row `i` reaches from `i` to `i + 1` mm from the tip. None where there is no cloth.
    pub(super) fn of(layout: &Layout, wanted: &[bool], samples: u32) -> Self {
        let fold = layout.fold();
        let of_row = |row: usize| if wanted[row] { places(fold, row, samples) } else { Vec::new() };
        let rows: Vec<Vec<(ClothPoint, f64)>> = (0..wanted.len()).into_par_iter().map(of_row).collect();
        let mut starts = vec![0];
        rows.iter().for_each(|row| starts.push(starts[starts.len() - 1] + row.len()));
        let (cloth, weights): (Vec<ClothPoint>, Vec<f64>) = rows.into_iter().flatten().unzip();
        Self { reading: Reading::of(layout, &cloth), starts, weights }
    }

    /// How many rows there are, those without places among them.
    pub(super) fn len(&self) -> usize {
        self.starts.len() - 1
    }

    /// The places of a row.
    pub(super) fn places(&self, row: usize) -> Range<usize> {
        self.starts[row]..self.starts[row + 1]
    }

    /// Reads a solution for a layout that is folded alike.
    pub(super) fn doses(&self, layout: &Layout, rod: &RodDoses) -> Doses {
        let read = self.reading.doses(layout, rod);
        #[expect(clippy::cast_possible_truncation, reason = "a share")]
        let gone = read.bath.iter().map(|&dose| layout.process().discharged_share(f64::from(dose)) as f32).collect();
        Doses { read, gone }
    }

    /// The mean of a value over a row's cloth; none without cloth.
    pub(super) fn mean(&self, row: usize, of: impl Fn(usize) -> f64) -> Option<f64> {
        let places = self.places(row);
        let all: f64 = self.weights[places.clone()].iter().sum();
        (all > 0.0).then(|| places.map(|place| self.weights[place] * of(place)).sum::<f64>() / all)
    }

    /// The mean light of each row, linear sRGB, of places side by side with their doses of these dyes.
    pub(super) fn lights(&self, dyes: &DyeSet, doses: &[f32], gone: &[f32]) -> Vec<Option<[f64; 3]>> {
        let light = light(dyes, doses, gone);
        let row = |row: usize| {
            let channel = |channel: usize| self.mean(row, |place| f64::from(light[place][channel]));
            Some([channel(0)?, channel(1)?, channel(2)?])
        };
        (0..self.len()).map(row).collect()
    }

    /// The same as colours.
    pub(super) fn colours(&self, dyes: &DyeSet, doses: &[f32], gone: &[f32]) -> Vec<Option<Lab>> {
        let lab = |light: [f64; 3]| LinearRgb(light).to_xyz().to_lab();
        self.lights(dyes, doses, gone).into_iter().map(|light| light.map(lab)).collect()
    }
}

/// The light of places with these doses, one of each dye.
fn light(dyes: &DyeSet, doses: &[f32], gone: &[f32]) -> Vec<[f32; 3]> {
    let mut light = vec![[0.0; 3]; gone.len()];
    light.par_chunks_mut(BLOCK).enumerate().for_each(|(block, light)| {
        let places = block * BLOCK..block * BLOCK + light.len();
        dyes.fill_linear(&doses[places.start * dyes.len()..places.end * dyes.len()], &gone[places], light);
    });
    light
}

/// Places spread over all of a row's layers, with the width of the layer that each lies in.
fn places(fold: &dyn Fold, row: usize, samples: u32) -> Vec<(ClothPoint, f64)> {
    let (stack, is_even) = (fold.places(), fold.is_even());
    let begin_mm = row as f64;
    let at = |sample: u32| {
        let turn = f64::from(sample) + row as f64 * f64::from(samples);
        let along_mm = begin_mm + (turn * ALONG_STEP).fract();
        let place = (f64::from(stack) * (f64::from(sample) + 0.5) / f64::from(samples)).floor();
        let cloth = fold.to_cloth(BundlePoint { along_mm, across: (turn * ACROSS_STEP).fract(), place })?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place of the stack")]
        let width_mm = || fold.cell(begin_mm..begin_mm + 1.0, place as u32, 0.0..1.0).width_mm;
        let weight = if is_even { 1.0 } else { width_mm() };
        (weight > 0.0 && fold.has_cloth(cloth)).then_some((cloth, weight))
    };
    (0..samples).filter_map(at).collect()
}
