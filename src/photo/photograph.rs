//! A photograph as light: upright, linear, and small enough to be worked on.

use kurbo::Point;

/// The pixels of a photograph in proportion to light, upright.
///
/// Places are pixels of the file's whole picture, from the upper left corner of its upper left pixel, as marks give them, however much smaller
/// the picture is kept here.
#[derive(Debug, Clone)]
pub struct Photograph {
    whole: [u32; 2],
    step: f64,
    /// Where the upper left corner of the first kept pixel lies, px of the whole.
    first: Point,
    width: usize,
    light: Vec<[f32; 3]>,
}

/// Pixels kept of a photograph.
#[derive(Debug, Clone)]
pub struct KeptPixels {
    /// Pixels across.
    pub width: usize,
    /// Linear light of red, green and blue of sRGB, row by row.
    pub light: Vec<[f32; 3]>,
    /// How many pixels of the whole picture one of these is wide.
    pub step: u32,
    /// Where the upper left corner of the first lies, px of the whole picture: off it by less than a step where it was turned.
    pub first: Point,
}

impl Photograph {
    /// Keeps pixels of a picture of this width and height; none where they fill no rectangle.
    #[must_use]
    pub fn new(whole: [u32; 2], kept: KeptPixels) -> Option<Self> {
        let KeptPixels { width, light, step, first } = kept;
        let is_whole = width > 1 && light.len() / width > 1 && light.len().is_multiple_of(width) && step > 0;
        is_whole.then_some(Self { whole, step: f64::from(step), first, width, light })
    }

    /// Width and height of the whole picture, px.
    #[must_use]
    pub const fn whole(&self) -> [u32; 2] {
        self.whole
    }

    /// How many pixels of the whole picture one that is kept is wide.
    #[must_use]
    pub const fn step(&self) -> f64 {
        self.step
    }

    /// Width and height of what is kept.
    #[must_use]
    pub fn kept(&self) -> [usize; 2] {
        [self.width, self.light.len() / self.width.max(1)]
    }

    /// Light of the kept pixels, row by row.
    #[must_use]
    pub fn light(&self) -> &[[f32; 3]] {
        &self.light
    }

    /// Where a place among the kept pixels lies in the whole picture, px.
    #[must_use]
    pub fn whole_from_kept(&self, kept: Point) -> Point {
        self.first + self.step * kept.to_vec2()
    }

    /// Where a place of the whole picture lies among the kept pixels, px of theirs.
    #[must_use]
    pub fn kept_from_whole(&self, whole: Point) -> Point {
        ((whole - self.first) / self.step).to_point()
    }

    /// The light at a place, between the four nearest kept pixels; none outside the picture.
    #[must_use]
    #[inline]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held within the picture")]
    pub fn at(&self, place: Point) -> Option<[f32; 3]> {
        let [width, height] = self.kept();
        let Point { x, y } = self.kept_from_whole(place);
        if !(x >= 0.0 && y >= 0.0 && x <= width as f64 && y <= height as f64) {
            return None;
        }
        let (x, y) = ((x - 0.5).clamp(0.0, width as f64 - 1.001), (y - 0.5).clamp(0.0, height as f64 - 1.001));
        let (column, row) = (x as usize, y as usize);
        let (right, down) = ((x - column as f64) as f32, (y - row as f64) as f32);
        let above = &self.light[row * width + column..][..2];
        let below = &self.light[(row + 1) * width + column..][..2];
        Some([0, 1, 2].map(|channel| {
            let upper = above[0][channel] + right * (above[1][channel] - above[0][channel]);
            let lower = below[0][channel] + right * (below[1][channel] - below[0][channel]);
            upper + down * (lower - upper)
        }))
    }
}

/// The square root of light, about as even to the eye as lightness: what edges and lines are looked for in.
pub(super) fn root(light: [f32; 3]) -> [f32; 3] {
    light.map(|channel| channel.max(0.0).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A picture whose light rises evenly is read exactly anywhere, whatever it was made smaller by.
    #[test]
    #[expect(clippy::cast_possible_truncation, reason = "small numbers")]
    fn light_between_pixels_is_read_by_places_of_the_whole() {
        for (step, first) in [(1_u32, Point::ORIGIN), (3, Point::new(-1.0, 2.0))] {
            let middle = |column: usize, row: usize| {
                first + f64::from(step) * (Point::new(column as f64 + 0.5, row as f64 + 0.5).to_vec2())
            };
            let light = (0..20).flat_map(|row| {
                (0..30).map(move |column| {
                    let at = middle(column, row);
                    [at.x as f32, at.y as f32, 1.0]
                })
            });
            let kept = KeptPixels { width: 30, light: light.collect(), step, first };
            let photograph = Photograph::new([30 * step, 20 * step], kept).unwrap();
            let at = first + f64::from(step) * Point::new(7.3, 11.9).to_vec2();
            let [x, y, one] = photograph.at(at).unwrap();
            assert!((f64::from(x) - at.x).abs() < 1e-4 && (f64::from(y) - at.y).abs() < 1e-4 && (one - 1.0).abs() < 1e-6);
            assert_eq!(photograph.at(first - Point::new(0.1, 0.0).to_vec2()), None);
        }
    }

    #[test]
    fn pixels_that_fill_no_rectangle_are_none() {
        let kept = |width: usize, count: usize| KeptPixels { width, light: vec![[0.0; 3]; count], step: 1, first: Point::ORIGIN };
        assert!(Photograph::new([4, 4], kept(4, 15)).is_none() && Photograph::new([0, 0], kept(0, 0)).is_none());
    }
}
