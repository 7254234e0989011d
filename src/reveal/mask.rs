//! How much of each pixel a panel covers: exact areas of the flattened outline.
//!
//! Every edge adds, for each pixel row that it passes, the signed area between itself and the row's right end; summed along the row
//! that is the covered share (the accumulation of signed areas that font rasterizers use).

use crate::geometry::Outline;
use kurbo::{PathEl, Point};
use std::ops::Range;

/// How finely curves are flattened, mm.
const FLATNESS_MM: f64 = 0.01;

/// Where the pixels of a picture lie on the cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PixelFrame {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// Edge of a pixel, mm.
    pub pixel_mm: f64,
    /// Distance of the left edge of the picture from the centre line, mm, as it is drawn.
    pub left_mm: f64,
    /// Distance of its upper edge below the shoulder point, mm.
    pub top_mm: f64,
}

impl PixelFrame {
    /// Its pixels.
    #[must_use]
    pub fn pixels(&self) -> usize {
        self.width.saturating_mul(self.height)
    }

    /// The rows in bands of about as many pixels, from the top.
    pub(super) fn bands(&self, pixels: usize) -> impl Iterator<Item = Range<usize>> + use<> {
        let (height, rows) = (self.height, (pixels / self.width.max(1)).max(1));
        (0..height).step_by(rows).map(move |first| first..(first + rows).min(height))
    }

    /// The middle of a pixel, mm, as it is drawn.
    #[must_use]
    pub fn middle(&self, column: usize, row: usize) -> Point {
        Point::new(self.left_mm + (column as f64 + 0.5) * self.pixel_mm, self.top_mm + (row as f64 + 0.5) * self.pixel_mm)
    }
}

/// The share of each pixel of some rows that lies within the outline, row by row, 0 to 1. With `mirrored` the outline is seen from behind.
#[must_use]
pub fn coverage(outline: &Outline, frame: &PixelFrame, rows: &Range<usize>, mirrored: bool) -> Vec<f32> {
    // One more than a row holds: what passes its right end.
    let stride = frame.width + 1;
    let mut sums = vec![0.0_f64; stride * rows.len()];
    let side = if mirrored { -1.0 } else { 1.0 };
    let pixel = |p: Point| Point::new((side * p.x - frame.left_mm) / frame.pixel_mm, (p.y - frame.top_mm) / frame.pixel_mm);
    let (mut first, mut last) = (Point::ORIGIN, Point::ORIGIN);
    kurbo::flatten(outline.path(), FLATNESS_MM, |element| match element {
        PathEl::MoveTo(p) => (first, last) = (p, p),
        PathEl::LineTo(p) => {
            add_edge(&mut sums, frame.width, rows, pixel(last), pixel(p));
            last = p;
        }
        _ => {
            add_edge(&mut sums, frame.width, rows, pixel(last), pixel(first));
            last = first;
        }
    });
    sums.chunks_exact(stride).flat_map(|row| covered(&row[..frame.width])).collect()
}

fn covered(row: &[f64]) -> impl Iterator<Item = f32> + '_ {
    row.iter().scan(0.0_f64, |sum, value| {
        *sum += value;
        #[expect(clippy::cast_possible_truncation, reason = "a share")]
        Some(sum.abs().min(1.0) as f32)
    })
}

/// Adds an edge, in pixels, to the sums of the rows that it passes.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the picture")]
fn add_edge(sums: &mut [f64], width: usize, rows: &Range<usize>, a: Point, b: Point) {
    let (direction, top, foot) = if a.y < b.y { (1.0, a, b) } else { (-1.0, b, a) };
    let slope = (foot.x - top.x) / (foot.y - top.y);
    let [from, to] = [top.y, foot.y].map(|y| y.clamp(rows.start as f64, rows.end as f64));
    if from >= to {
        return;
    }
    for row in from as usize..(to.ceil() as usize).min(rows.end) {
        let (y0, y1) = (from.max(row as f64), to.min((row + 1) as f64));
        let x = |y: f64| (top.x + (y - top.y) * slope).clamp(0.0, width as f64);
        let (x0, x1) = (x(y0).min(x(y1)), x(y0).max(x(y1)));
        add_in_row(&mut sums[(row - rows.start) * (width + 1)..][..=width], direction * (y1 - y0), x0, x1);
    }
}

/// Spreads an edge's height over the pixels of a row that it crosses from `x0` to `x1`: each gets the area to the edge's right.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the picture")]
fn add_in_row(row: &mut [f64], height: f64, x0: f64, x1: f64) {
    let last = row.len() - 1;
    let area_right_of_edge = |column: usize| {
        // Mean over the edge of how much of 0..column+1 lies to its right.
        let end = (column + 1) as f64;
        if x1 <= x0 {
            return (end - x0).max(0.0);
        }
        let reach = |x: f64| {
            let d = (end - x).max(0.0);
            0.5 * d * d
        };
        (reach(x0) - reach(x1)) / (x1 - x0)
    };
    let (first, stop) = (x0 as usize, (x1.ceil() as usize).min(last));
    // The second difference of the area gives each pixel's own share.
    let (mut area_before, mut share_before) = (0.0, 0.0);
    for (column, sum) in row.iter_mut().enumerate().take(stop + 1).skip(first) {
        let area = area_right_of_edge(column);
        let share = area - area_before;
        *sum += height * (share - share_before);
        (area_before, share_before) = (area, share);
    }
    if stop < last {
        row[stop + 1] += height * (1.0 - share_before);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{BezPath, Circle, Shape};

    #[test]
    fn covered_area_is_the_outlines_area() {
        let frame = PixelFrame { width: 60, height: 50, pixel_mm: 0.5, left_mm: -15.0, top_mm: -12.0 };
        let circle: BezPath = Circle::new((1.3, 0.7), 9.1).to_path(1e-6);
        let outline = Outline::from_path(&circle).unwrap();
        for mirrored in [false, true] {
            let covered = coverage(&outline, &frame, &(0..50), mirrored);
            let bands: Vec<f32> = frame.bands(7 * 60).flat_map(|rows| coverage(&outline, &frame, &rows, mirrored)).collect();
            assert!(bands == covered, "the same to the last bit");
            let area: f32 = covered.iter().sum::<f32>() * 0.25;
            assert!((f64::from(area) - outline.area_mm2()).abs() < 0.5, "{area}");
            assert!(covered.iter().all(|c| (0.0..=1.0).contains(c)));
        }
    }
}
