//! Random numbers and smooth random fields, the same on every machine.

use kurbo::Point;

/// `SplitMix64` (Steele, Lea, Flood, *Fast splittable pseudorandom number generators*, OOPSLA 2014).
#[derive(Debug, Clone)]
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x5851_f42d_4c95_7f2d)
    }

    pub(crate) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Even, from 0 to 1.
    #[expect(clippy::cast_precision_loss, reason = "53 bits")]
    pub(crate) fn even(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.even()
    }

    /// Normal, mean 0 and standard deviation 1 (Box and Muller).
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.even()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.even()).cos()
    }
}

/// A smooth field over the table: random values on a lattice, smoothed, cubic between.
#[derive(Debug, Clone)]
pub(crate) struct Field {
    first: Point,
    step: f64,
    across: usize,
    down: usize,
    values: Vec<f64>,
}

impl Field {
    /// Of this standard deviation, straying one way over about `length` mm.
    pub(crate) fn new(random: &mut Random, length: f64, sd: f64) -> Self {
        let step = 0.5 * length;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a table in steps")]
        let count = |size: f64| (size / step) as usize + 3;
        let (across, down) = (count(1800.0), count(1800.0));
        let noise: Vec<f64> = (0..across * down).map(|_| random.normal()).collect();
        let kernel: Vec<f64> = (-3..=3).map(|at| (-0.5 * f64::from(at) * f64::from(at)).exp()).collect();
        let smooth = |values: &[f64], along: bool| -> Vec<f64> {
            let at = |index: usize, by: usize| {
                let (x, y) = (index % across, index / across);
                let (x, y) = if along { ((x + across + by - 3) % across, y) } else { (x, (y + down + by - 3) % down) };
                values[y * across + x]
            };
            (0..values.len()).map(|index| (0..7).map(|by| kernel[by] * at(index, by)).sum()).collect()
        };
        let mut values = smooth(&smooth(&noise, true), false);
        #[expect(clippy::cast_precision_loss, reason = "some hundred values")]
        let rms = (values.iter().map(|value| value * value).sum::<f64>() / values.len() as f64).sqrt();
        values.iter_mut().for_each(|value| *value *= sd / rms);
        Self { first: Point::new(-900.0, -500.0), step, across, down, values }
    }

    /// Cubic by Catmull and Rom.
    pub(crate) fn at(&self, x: f64, y: f64) -> f64 {
        let place = |value: f64, first: f64, count: usize| {
            #[expect(clippy::cast_precision_loss, reason = "some steps")]
            let at = ((value - first) / self.step).clamp(1.0, count as f64 - 2.001);
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the lattice")]
            let whole = at as usize;
            #[expect(clippy::cast_precision_loss, reason = "some steps")]
            let part = at - whole as f64;
            (whole, part)
        };
        let ((column, right), (row, below)) = (place(x, self.first.x, self.across), place(y, self.first.y, self.down));
        let [a, b] = [right, below].map(|t| {
            let (t2, t3) = (t * t, t * t * t);
            [-0.5 * t3 + t2 - 0.5 * t, 1.5 * t3 - 2.5 * t2 + 1.0, -1.5 * t3 + 2.0 * t2 + 0.5 * t, 0.5 * t3 - 0.5 * t2]
        });
        let line = |by: usize| {
            let values = &self.values[(row + by - 1).min(self.down - 1) * self.across + column - 1..];
            (0..4).map(|at| a[at] * values[at.min(values.len() - 1)]).sum::<f64>()
        };
        (0..4).map(|by| b[by] * line(by)).sum()
    }
}
