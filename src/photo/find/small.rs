//! A photograph small enough to be looked over as a whole, and how far each of its pixels is from the colour of the table.

use super::super::Photograph;
use super::super::light::robust;
use super::super::photograph::root;
use super::super::snap::middle_of;
use kurbo::Point;
use nalgebra::SVector;

/// About how many pixels the longer side has: a shirt's pixel is then some 2 mm. Own choice.
const LONGER_SIDE: usize = 560;
/// How broad the border is that shows the table, as a share of the picture (our own judgement).
const BORDER: f64 = 0.05;
/// Least distance from the table, in square roots of light, that is something else: the least contrast of an edge.
const LEAST_AWAY: f32 = 0.06;
/// And at least as many times what the table scatters.
const NOISES: f32 = 4.0;
/// The table is fitted to every so many pixels.
const EVERY: usize = 3;
/// Rounds of fitting the table to what looks like it.
const ROUNDS: usize = 3;

/// The darkest channel: of white it is as bright as the others.
pub(in crate::photo) fn least_channel(light: &[f32; 3]) -> f32 {
    light.iter().copied().fold(f32::INFINITY, f32::min)
}

/// A small picture.
#[derive(Debug, Clone)]
pub(in crate::photo) struct Small {
    pub(in crate::photo) width: usize,
    pub(in crate::photo) height: usize,
    /// How many kept pixels one of these is wide.
    each: usize,
    /// Mean light of each pixel.
    pub(in crate::photo) light: Vec<[f32; 3]>,
}

impl Small {
    pub(in crate::photo) fn of(photograph: &Photograph) -> Self {
        let [across, down] = photograph.kept();
        let each = across.max(down).div_ceil(LONGER_SIDE).max(1);
        // What is left over at the right and at the foot is no whole pixel.
        let (width, height) = ((across / each).max(1), (down / each).max(1));
        let mut light = vec![[0.0_f32; 3]; width * height];
        let share = 1.0 / (each * each) as f32;
        for (row, line) in photograph.light().chunks_exact(across).take(height * each).enumerate() {
            let sums = &mut light[row / each * width..][..width];
            for (column, pixel) in line.iter().take(width * each).enumerate() {
                let sum = &mut sums[column / each];
                sum.iter_mut().zip(pixel).for_each(|(sum, channel)| *sum += share * channel);
            }
        }
        Self { width, height, each, light }
    }

    /// Where a place of this picture lies in the whole photograph, px.
    pub(in crate::photo) fn whole(&self, photograph: &Photograph, at: Point) -> Point {
        photograph.whole_from_kept((self.each as f64 * at.to_vec2()).to_point())
    }

    fn terms(&self, index: usize) -> SVector<f64, 6> {
        let share = |at: usize, of: usize| 2.0 * (at as f64 + 0.5) / of as f64 - 1.0;
        let (x, y) = (share(index % self.width, self.width), share(index / self.width, self.height));
        SVector::from([1.0, x, y, x * x, y * y, x * y])
    }

    /// The middle of a pixel, px of this picture.
    pub(in crate::photo) fn middle(&self, index: usize) -> Point {
        Point::new((index % self.width) as f64 + 0.5, (index / self.width) as f64 + 0.5)
    }

    fn border(&self) -> impl Iterator<Item = usize> + '_ {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some pixels")]
        let broad = ((BORDER * self.width.min(self.height) as f64) as usize).max(1);
        (0..self.light.len()).filter(move |index| {
            let (x, y) = (index % self.width, index / self.width);
            x < broad || y < broad || x + broad >= self.width || y + broad >= self.height
        })
    }

    /// How far each pixel is from the table as it is lit there, in square roots of light, and from what distance on it is something else; none
    /// where no colour of the table can be made out.
    ///
    /// The table's light is a polynomial of second order, fitted to the border of the picture and then to all that looks like it.
    pub(in crate::photo) fn away(&self) -> Option<(Vec<f32>, f32)> {
        self.away_from(self.border().collect(), |_| true)
    }

    /// How far each pixel is from what is of one colour where `first` lies, as it is lit there; only pixels that are `within` are taken for that.
    pub(in crate::photo) fn away_from(&self, first: Vec<usize>, within: impl Fn(usize) -> bool) -> Option<(Vec<f32>, f32)> {
        let least = first.len() / EVERY;
        let mut like_table = first;
        let mut found = None;
        for _ in 0..ROUNDS {
            let fit = |channel: usize| {
                let seen =
                    like_table.iter().map(|&index| (self.terms(index), f64::from(self.light[index][channel].max(1e-4)).ln()));
                robust(&seen.collect::<Vec<_>>())
            };
            let table = [fit(0)?, fit(1)?, fit(2)?];
            let away: Vec<f32> = (0..self.light.len())
                .map(|index| {
                    let terms = self.terms(index);
                    let seen = root(self.light[index]);
                    #[expect(clippy::cast_possible_truncation, reason = "light is kept in single precision")]
                    let off = |channel: usize| seen[channel] - (0.5 * table[channel].dot(&terms)).exp() as f32;
                    (off(0).powi(2) + off(1).powi(2) + off(2).powi(2)).sqrt()
                })
                .collect();
            #[expect(clippy::cast_possible_truncation, reason = "light is kept in single precision")]
            let noise = middle_of(like_table.iter().map(|&index| f64::from(away[index])).collect()) as f32;
            let limit = LEAST_AWAY.max(NOISES * noise);
            like_table = (0..away.len()).step_by(EVERY).filter(|&index| away[index] < limit && within(index)).collect();
            if like_table.len() < least.max(1) {
                return None;
            }
            found = Some((away, limit));
        }
        found
    }
}
