//! A picture made smaller while its pixels come, in whatever order.

/// The mean of all pixels that fall on each one of a smaller picture. A pixel counts by its opacity.
#[derive(Debug)]
pub(super) struct Shrink {
    from: [u32; 2],
    to: [u32; 2],
    cells: Vec<Cell>,
}

#[derive(Debug, Clone, Default)]
struct Cell {
    /// Sums of red, green and blue, each times opacity.
    rgb: [u64; 3],
    opacity: u64,
    pixels: u64,
}

impl Shrink {
    /// From a size, to at most so many pixels along a side; a smaller picture keeps its own.
    pub(super) fn new(width: u32, height: u32, most: u32) -> Self {
        let longest = width.max(height).max(1);
        let side = |side: u32| {
            if longest <= most {
                side
            } else {
                u32::try_from(u64::from(side) * u64::from(most) / u64::from(longest)).unwrap_or(most)
            }
        };
        let to = [width, height].map(|pixels| side(pixels).max(1));
        let cells = vec![Cell::default(); to[0] as usize * to[1] as usize];
        Self { from: [width.max(1), height.max(1)], to, cells }
    }

    /// Adds the pixel at a place of the larger picture; one beyond it is left out.
    #[inline]
    pub(super) fn add(&mut self, x: u32, y: u32, [red, green, blue, opacity]: [u8; 4]) {
        let [across, down] =
            [(x, 0), (y, 1)].map(|(at, axis)| u64::from(at) * u64::from(self.to[axis]) / u64::from(self.from[axis]));
        let at = usize::try_from(down * u64::from(self.to[0]) + across).ok();
        let Some(cell) = at.and_then(|at| self.cells.get_mut(at)) else { return };
        let opacity = u64::from(opacity);
        for (sum, part) in cell.rgb.iter_mut().zip([red, green, blue]) {
            *sum += u64::from(part) * opacity;
        }
        cell.opacity += opacity;
        cell.pixels += 1;
    }

    /// Pixels across and down, and red, green, blue and opacity of each.
    pub(super) fn finish(self) -> (u32, u32, Vec<u8>) {
        let rgba = self.cells.iter().flat_map(|cell| {
            let [red, green, blue] = cell.rgb.map(|sum| mean(sum, cell.opacity));
            [red, green, blue, mean(cell.opacity, cell.pixels)]
        });
        (self.to[0], self.to[1], rgba.collect())
    }
}

/// Rounded; 0 of nothing.
fn mean(sum: u64, count: u64) -> u8 {
    (sum + count / 2).checked_div(count).map_or(0, |mean| u8::try_from(mean).unwrap_or(u8::MAX))
}
