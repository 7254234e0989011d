//! Regions of a small picture: grown, shrunk, filled, told apart, and their edges.

use kurbo::{Point, Rect};

/// Which pixels belong to something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::photo) struct Mask {
    width: usize,
    height: usize,
    is_in: Vec<bool>,
}

impl Mask {
    pub(in crate::photo) fn new(width: usize, height: usize, is_in: impl Fn(usize) -> bool) -> Self {
        Self { width, height, is_in: (0..width * height).map(is_in).collect() }
    }

    /// Width and height, px.
    pub(in crate::photo) fn size(&self) -> [usize; 2] {
        [self.width, self.height]
    }

    /// Whether a pixel belongs to it.
    pub(in crate::photo) fn holds(&self, index: usize) -> bool {
        self.is_in[index]
    }

    /// Without these places.
    pub(in crate::photo) fn without(mut self, is_out: impl Fn(Point) -> bool) -> Self {
        for (index, is_in) in self.is_in.iter_mut().enumerate() {
            *is_in &= !is_out(Point::new((index % self.width) as f64 + 0.5, (index / self.width) as f64 + 0.5));
        }
        self
    }

    /// Gaps up to twice as many pixels across are closed.
    pub(in crate::photo) fn closed(&self, pixels: usize) -> Self {
        self.grown(pixels, true).grown(pixels, false)
    }

    /// Bridges up to twice as many pixels across are cut.
    pub(in crate::photo) fn opened(&self, pixels: usize) -> Self {
        self.grown(pixels, false).grown(pixels, true)
    }

    /// Grown, or shrunk, by a square of so many pixels to each side; beyond the picture lies what is at its edge.
    fn grown(&self, pixels: usize, grows: bool) -> Self {
        let along = |line: &mut dyn FnMut(usize) -> bool, length: usize| -> Vec<bool> {
            let line: Vec<bool> = (0..length).map(line).collect();
            let near = |at: usize| &line[at.saturating_sub(pixels)..(at + pixels + 1).min(length)];
            (0..length).map(|at| near(at).contains(&grows) == grows).collect()
        };
        let rows = (0..self.height).flat_map(|y| along(&mut |x| self.is_in[y * self.width + x], self.width)).collect::<Vec<_>>();
        let mut is_in = vec![false; rows.len()];
        for x in 0..self.width {
            for (y, pixel) in along(&mut |y| rows[y * self.width + x], self.height).into_iter().enumerate() {
                is_in[y * self.width + x] = pixel;
            }
        }
        Self { is_in, ..*self }
    }

    /// With all that it shuts off from the border of the picture.
    pub(in crate::photo) fn filled(&self) -> Self {
        let outside = Self { is_in: self.is_in.iter().map(|is_in| !is_in).collect(), ..*self };
        let mut filled = vec![true; self.is_in.len()];
        for region in outside.regions().into_iter().filter(Region::reaches_border) {
            region.pixels.iter().for_each(|pixel| filled[*pixel] = false);
        }
        Self { is_in: filled, ..*self }
    }

    /// Its parts that hang together by sides, the largest first.
    pub(in crate::photo) fn regions(&self) -> Vec<Region> {
        let mut left = self.is_in.clone();
        let mut regions = Vec::new();
        for first in 0..left.len() {
            if !std::mem::take(&mut left[first]) {
                continue;
            }
            let mut pixels = vec![first];
            let mut next = 0;
            while let Some(&at) = pixels.get(next) {
                next += 1;
                for beside in self.beside(at).into_iter().flatten() {
                    if std::mem::take(&mut left[beside]) {
                        pixels.push(beside);
                    }
                }
            }
            regions.push(Region { width: self.width, height: self.height, pixels });
        }
        regions.sort_by_key(|region| std::cmp::Reverse(region.pixels.len()));
        regions
    }

    /// The pixels beside one: right, left, below, above.
    fn beside(&self, at: usize) -> [Option<usize>; 4] {
        let (x, y) = (at % self.width, at / self.width);
        [
            (x + 1 < self.width).then_some(at + 1),
            x.checked_sub(1).map(|_| at - 1),
            (y + 1 < self.height).then_some(at + self.width),
            y.checked_sub(1).map(|_| at - self.width),
        ]
    }
}

/// A part of a mask that hangs together.
#[derive(Debug, Clone)]
pub(in crate::photo) struct Region {
    width: usize,
    height: usize,
    pub(in crate::photo) pixels: Vec<usize>,
}

impl Region {
    /// Whether it touches the border of the picture.
    pub(in crate::photo) fn reaches_border(&self) -> bool {
        self.pixels.iter().any(|at| {
            let (x, y) = (at % self.width, at / self.width);
            x == 0 || y == 0 || x + 1 == self.width || y + 1 == self.height
        })
    }

    /// The upright box round it, px; none of a part without pixels.
    pub(in crate::photo) fn bounds(&self) -> Option<Rect> {
        let pixel = |at: &usize| {
            let (x, y) = ((at % self.width) as f64, (at / self.width) as f64);
            Rect::new(x, y, x + 1.0, y + 1.0)
        };
        self.pixels.iter().map(pixel).reduce(|a, b| a.union(b))
    }

    /// It alone.
    pub(in crate::photo) fn mask(&self) -> Mask {
        let mut is_in = vec![false; self.width * self.height];
        self.pixels.iter().for_each(|at| is_in[*at] = true);
        Mask { width: self.width, height: self.height, is_in }
    }

    /// The middles of all pixel sides between it and what it is not; the border of the picture is no edge.
    pub(in crate::photo) fn edge(&self) -> Vec<Point> {
        let mask = self.mask();
        let mut edge = Vec::new();
        for &at in &self.pixels {
            let middle = Point::new((at % self.width) as f64 + 0.5, (at / self.width) as f64 + 0.5);
            for (beside, (x, y)) in mask.beside(at).into_iter().zip([(0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)]) {
                if beside.is_some_and(|beside| !mask.is_in[beside]) {
                    edge.push(middle + kurbo::Vec2::new(x, y));
                }
            }
        }
        edge
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mask(rows: &[&str]) -> Mask {
        let pixels: Vec<bool> = rows.iter().flat_map(|row| row.bytes().map(|byte| byte == b'#')).collect();
        Mask::new(rows[0].len(), rows.len(), |index| pixels[index])
    }

    fn area(mask: &Mask) -> usize {
        mask.is_in.iter().filter(|is_in| **is_in).count()
    }

    #[test]
    fn a_line_through_cloth_is_closed_and_a_bridge_cut() {
        let empty = "..........";
        let cloth = "..##.###..";
        let cut = mask(&[empty, empty, cloth, cloth, cloth, empty, empty]);
        assert_eq!(cut.regions().len(), 2);
        let closed = cut.closed(1);
        assert_eq!((closed.regions().len(), area(&closed)), (1, 18));
        let bridged = mask(&["###...###", "#########", "###...###", "###...###"]);
        assert_eq!(bridged.opened(1).regions().len(), 2);
    }

    #[test]
    fn what_is_shut_off_is_filled() {
        let ring = mask(&["......", ".####.", ".#..#.", ".####.", "...#.."]);
        assert_eq!(area(&ring.filled()), area(&ring) + 2);
    }

    /// A rectangle's edge has as many sides of pixels as its circumference.
    #[test]
    fn the_edge_lies_between_pixels() {
        let edge = mask(&["....", ".##.", "...."]).regions()[0].edge();
        assert_eq!(edge.len(), 6);
        assert!(edge.contains(&Point::new(1.0, 1.5)) && edge.contains(&Point::new(1.5, 2.0)));
        // At the border of the picture there is no telling where it ends.
        assert_eq!(mask(&["##.", "##."]).regions()[0].edge().len(), 2);
    }
}
