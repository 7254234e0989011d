//! A picture made smaller by a whole number while its pixels come, in whatever order.

/// From this many pixels along the longer side on a picture is made smaller by 2, 3, 4 and 8, so that it keeps 2000 to 4000: at least two pixels
/// a mm of a shirt that fills it, more than its lines need.
const STEPS: [(u32, u32); 4] = [(16_000, 8), (8000, 4), (6000, 3), (4000, 2)];

/// By how much a picture of this width and height is made smaller.
pub(super) fn step_for(width: u32, height: u32) -> u32 {
    let longer = width.max(height);
    STEPS.iter().find(|(from, _)| longer >= *from).map_or(1, |(_, step)| *step)
}

/// A picture made smaller.
#[derive(Debug)]
pub(super) struct Boxed {
    /// Width and height in the file, px.
    pub(super) whole: [u32; 2],
    /// How many pixels of the file one of these is wide.
    pub(super) step: u32,
    /// Pixels across and down: the last may stand for less than a step.
    pub(super) kept: [u32; 2],
    /// Red, green and blue as the file says them, in 16 bits, row by row.
    pub(super) rgb: Vec<u16>,
}

/// The mean of all pixels that fall on each one of a smaller picture.
#[derive(Debug)]
pub(super) struct Boxes {
    whole: [u32; 2],
    step: u32,
    kept: [u32; 2],
    sums: Vec<[u32; 3]>,
}

impl Boxes {
    pub(super) fn new(width: u32, height: u32, step: u32) -> Self {
        let kept = [width, height].map(|side| side.div_ceil(step));
        Self { whole: [width, height], step, kept, sums: vec![[0; 3]; kept[0] as usize * kept[1] as usize] }
    }

    /// Adds the pixel at a place of the larger picture; one beyond it is left out.
    #[inline]
    pub(super) fn add(&mut self, x: u32, y: u32, rgb: [u16; 3]) {
        if x >= self.whole[0] || y >= self.whole[1] {
            return;
        }
        let at = (y / self.step) as usize * self.kept[0] as usize + (x / self.step) as usize;
        // 64 pixels of 16 bits at most.
        self.sums[at].iter_mut().zip(rgb).for_each(|(sum, channel)| *sum += u32::from(channel));
    }

    pub(super) fn finish(self) -> Boxed {
        let Self { whole, step, kept, sums } = self;
        let size = |at: u32, axis: usize| step.min(whole[axis] - at * step);
        let cells = (0..kept[1]).flat_map(|y| (0..kept[0]).map(move |x| (x, y)));
        let rgb = cells.zip(sums).flat_map(|((x, y), sum)| {
            let count = size(x, 0) * size(y, 1);
            sum.map(|sum| u16::try_from((sum + count / 2) / count).unwrap_or(u16::MAX))
        });
        let rgb = rgb.collect();
        Boxed { whole, step, kept, rgb }
    }
}
