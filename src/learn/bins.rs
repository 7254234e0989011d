//! The opened cloth cut into bins by where it lay in the bundle: so long along it, an eighth of a layer across.

use crate::geometry::{BundlePoint, ClothPoint, Panel};
use crate::layout::Layout;
use crate::reveal::{PixelFrame, Reading, coverage};
use kurbo::{Point, Vec2};
use std::collections::BTreeMap;

/// Length of a bin along the bundle, mm.
const ALONG_MM: f64 = 4.0;
/// Bins across a layer.
const ACROSS: f64 = 8.0;
/// Fewest pixels looked at of a bin. Own choice.
const FEWEST_PIXELS: usize = 2;
/// Of so many columns and rows of pixels one is looked at: photograph and reveal are read at the same places, so that the mean over a bin loses
/// nothing but time.
const EVERY: usize = 2;
/// How far a bin's cloth lies from its edge, mm: more than a photograph is laid off there.
const FROM_EDGE_MM: f64 = 3.0;
/// Length along the bundle over which what is left of hand, powder and light goes one way, mm: bins within it, in one layer, err together.
const BLOCK_MM: f64 = 30.0;
/// Length by which places are divided, mm.
const UNIT_MM: f64 = 300.0;

/// Terms of a polynomial of second order.
pub(super) const TERMS: usize = 6;

/// The bins of a side.
#[derive(Debug)]
pub(super) struct Bins {
    /// Pixels of the frame that are cloth.
    pub(super) cloth: Vec<u32>,
    /// How much of each of those is cloth.
    pub(super) covered: Vec<f32>,
    /// Where those lay.
    pub(super) reading: Reading,
    /// Where the cloth of all bins lay, bin by bin.
    pub(super) of_bins: Reading,
    /// Of each bin its pixels.
    pub(super) pixels: Vec<Vec<u32>>,
    /// Of each bin what its place is in a polynomial of second order.
    pub(super) terms: Vec<[f64; TERMS]>,
    /// Of each bin the block of bins that err together.
    pub(super) blocks: Vec<usize>,
}

/// What the pixels of a bin have in common: layer, place along and place across, in steps.
type Key = (u32, i64, i64);

impl Bins {
    /// Cuts a side of a layout's cloth.
    pub(super) fn of(layout: &Layout, panel: Panel, frame: PixelFrame) -> Self {
        let side = if panel == Panel::Back { -1.0 } else { 1.0 };
        let outline = layout.panels().panel(panel).map(|panel| coverage(panel.whole(), &frame, &(0..frame.height), side < 0.0));
        let outline = outline.unwrap_or_else(|| vec![0.0; frame.pixels()]);
        // A picture has fewer pixels than that.
        let pixels = 0..u32::try_from(frame.pixels()).unwrap_or(u32::MAX);
        let cloth: Vec<u32> = pixels.filter(|&pixel| outline[pixel as usize] > 0.0).collect();
        let drawn = |pixel: u32| frame.middle(pixel as usize % frame.width, pixel as usize / frame.width);
        let at = |&pixel: &u32| ClothPoint { panel, x_mm: side * drawn(pixel).x, y_mm: drawn(pixel).y };
        let reading = Reading::of(layout, &cloth.iter().map(at).collect::<Vec<_>>());
        let is_looked_at = |pixel: u32| {
            let [column, row] = [pixel as usize % frame.width, pixel as usize / frame.width];
            column.is_multiple_of(EVERY) && row.is_multiple_of(EVERY) && outline[pixel as usize] >= 1.0
        };
        let within = |pixel: u32| {
            let ways = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)].map(|way| FROM_EDGE_MM * Vec2::from(way));
            ways.into_iter().all(|way| {
                let at = drawn(pixel) + way;
                let at = Point::new(side * at.x, at.y);
                layout.fold().has_cloth(ClothPoint { panel, x_mm: at.x, y_mm: at.y })
            })
        };
        let mut found: BTreeMap<Key, Vec<u32>> = BTreeMap::new();
        for (&pixel, there) in cloth.iter().zip(reading.in_bundle()) {
            if let Some(there) = there.filter(|_| is_looked_at(pixel) && within(pixel)) {
                found.entry(key(&there)).or_default().push(pixel);
            }
        }
        found.retain(|_, pixels| pixels.len() >= FEWEST_PIXELS);
        let middle = Point::new(0.0, frame.top_mm + 0.5 * frame.height as f64 * frame.pixel_mm);
        let terms = |pixels: &Vec<u32>| {
            let sum = pixels.iter().fold(Vec2::ZERO, |sum, &pixel| sum + (drawn(pixel) - middle));
            let Vec2 { x, y } = sum / (pixels.len() as f64 * UNIT_MM);
            [1.0, x, y, x * x, y * y, x * y]
        };
        let mut blocks: BTreeMap<(u32, i64), usize> = BTreeMap::new();
        let mut block = |&(layer, along, _): &Key| {
            let next = blocks.len();
            *blocks.entry((layer, floor(along as f64 * ALONG_MM / BLOCK_MM))).or_insert(next)
        };
        Self {
            blocks: found.keys().map(&mut block).collect(),
            terms: found.values().map(terms).collect(),
            of_bins: Reading::of(layout, &found.values().flatten().map(at).collect::<Vec<_>>()),
            pixels: found.into_values().collect(),
            covered: cloth.iter().map(|&pixel| outline[pixel as usize]).collect(),
            reading,
            cloth,
        }
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.pixels.len()
    }

    /// The mean of each bin, of light at all bins' pixels, bin by bin.
    pub(super) fn means(&self, light: &[[f32; 3]]) -> Vec<[f64; 3]> {
        let mut rest = light;
        let mean = |pixels: &Vec<u32>| {
            let own;
            (own, rest) = rest.split_at(pixels.len());
            let mut sum = [0.0; 3];
            for light in own {
                sum.iter_mut().zip(light).for_each(|(sum, channel)| *sum += f64::from(*channel));
            }
            sum.map(|sum| sum / pixels.len() as f64)
        };
        self.pixels.iter().map(mean).collect()
    }
}

fn key(there: &BundlePoint) -> Key {
    (there.layer(), floor(there.along_mm / ALONG_MM), floor(ACROSS * there.across.clamp(0.0, 1.0 - f64::EPSILON)))
}

#[expect(clippy::cast_possible_truncation, reason = "a length in steps; casts saturate")]
fn floor(value: f64) -> i64 {
    value.floor() as i64
}
