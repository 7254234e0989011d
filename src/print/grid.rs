//! The grids of sheets that could cover a drawing, and the one that does it with the fewest.

use std::cmp::Ordering;

use kurbo::Rect;

use super::frame::Frame;
use super::ink::{Answer, Ink};

/// One axis of a grid of sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axis {
    start: f64,
    window: f64,
    overlap: f64,
    pub(super) count: usize,
    off_centre: f64,
}

impl Axis {
    const fn pitch(&self) -> f64 {
        self.window - self.overlap
    }

    fn window_of(&self, index: usize) -> (f64, f64) {
        let low = self.start + index as f64 * self.pitch();
        (low, low + self.window)
    }

    /// Where neighbouring sheets meet.
    pub(super) fn trims(&self) -> impl Iterator<Item = f64> + Clone + use<> {
        let (start, pitch, half) = (self.start, self.pitch(), self.overlap / 2.0);
        (1..self.count).map(move |line| start + line as f64 * pitch + half)
    }

    fn core_of(&self, index: usize) -> (f64, f64) {
        let trim = |line: usize| self.start + line as f64 * self.pitch() + self.overlap / 2.0;
        let low = if index == 0 { self.start } else { trim(index) };
        let high = if index + 1 == self.count { self.window_of(index).1 } else { trim(index + 1) };
        (low, high)
    }
}

/// Offsets tried per axis on either side of the centred one.
const STEPS_ASIDE: u32 = 16;
/// Least distance between offsets in mm.
const LEAST_STEP_MM: f64 = 2.0;

/// Grids along one axis that cover `low..high`: the fewest windows, and one more (which may leave more of them blank).
fn axes(low: f64, high: f64, window: f64, overlap: f64) -> Vec<Axis> {
    let (length, pitch) = (high - low, window - overlap);
    let fewest = ((length - overlap) / pitch - 1e-9).ceil().max(1.0);
    let mut axes = Vec::new();
    for count in [fewest, fewest + 1.0] {
        let slack = count * pitch + overlap - length;
        let centred = low - slack / 2.0;
        // With one window more than needed, both outer windows must still hold ink, or it is the smaller grid again.
        let reach = if count > fewest { (slack / 2.0).min(pitch - slack / 2.0 + overlap) } else { slack / 2.0 };
        if reach < 0.0 || (fewest <= 1.0 && count > fewest) {
            continue;
        }
        let step = (reach / f64::from(STEPS_ASIDE)).max(LEAST_STEP_MM);
        let aside = if fewest <= 1.0 { 0.0 } else { (reach / step).floor() };
        let mut k = -aside;
        while k <= aside {
            let axis = Axis { start: centred + k * step, window, overlap, count: as_count(count), off_centre: (k * step).abs() };
            axes.push(axis);
            k += 1.0;
        }
    }
    axes
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at least 1; float casts saturate at the top")]
const fn as_count(number: f64) -> usize {
    number as usize
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Candidate {
    /// Which of the frames it is cut in.
    pub(super) frame: usize,
    page_area: f64,
    pub(super) x: Axis,
    pub(super) y: Axis,
    /// How badly its trim lines lie, see [`Seams`]: 0 is best.
    pub(super) seam_fault_mm: f64,
}

impl Candidate {
    pub(super) fn core(&self, column: usize, row: usize) -> Rect {
        let ((x0, x1), (y0, y1)) = (self.x.core_of(column), self.y.core_of(row));
        Rect::new(x0, y0, x1, y1)
    }

    pub(super) fn window(&self, column: usize, row: usize) -> Rect {
        let ((x0, x1), (y0, y1)) = (self.x.window_of(column), self.y.window_of(row));
        Rect::new(x0, y0, x1, y1)
    }

    pub(super) fn places(&self) -> impl Iterator<Item = (usize, usize)> + use<> {
        let columns = self.x.count;
        (0..self.y.count).flat_map(move |row| (0..columns).map(move |column| (column, row)))
    }

    /// Fewest sheets that the cells vouch for.
    fn at_least(&self, ink: &Ink) -> usize {
        self.places().filter(|&(c, r)| ink.ask(self.core(c, r)) == Answer::Ink).count()
    }

    /// Which is better at the same number of sheets.
    fn cmp_at_equal_count(&self, other: &Self) -> Ordering {
        let key = |c: &Self| (c.x.count + c.y.count, c.frame);
        self.page_area
            .total_cmp(&other.page_area)
            .then(self.seam_fault_mm.total_cmp(&other.seam_fault_mm))
            .then(key(self).cmp(&key(other)))
            .then((self.x.off_centre + self.y.off_centre).total_cmp(&(other.x.off_centre + other.y.off_centre)))
            .then(self.x.start.total_cmp(&other.x.start))
            .then(self.y.start.total_cmp(&other.y.start))
    }
}

pub(super) fn candidates(frames: &[Frame], ink: Rect, overlap_mm: f64) -> Vec<Candidate> {
    let mut all = Vec::new();
    for (index, frame) in frames.iter().enumerate() {
        let xs = axes(ink.x0, ink.x1, frame.window.width(), overlap_mm);
        let ys = axes(ink.y0, ink.y1, frame.window.height(), overlap_mm);
        let fewest = |axes: &[Axis]| axes.first().map_or(0, |a| a.count);
        let (fewest_x, fewest_y) = (fewest(&xs), fewest(&ys));
        for x in &xs {
            for y in ys.iter().filter(|y| x.count == fewest_x || y.count == fewest_y) {
                all.push(Candidate { frame: index, page_area: frame.page.area(), x: *x, y: *y, seam_fault_mm: 0.0 });
            }
        }
    }
    all
}

pub(super) struct Best {
    pub(super) candidate: Candidate,
    pub(super) kept: Vec<(usize, usize)>,
}

/// The candidate with the fewest sheets. Exact: a candidate is skipped only when its lower bound can't win.
pub(super) fn fewest(ink: &Ink, candidates: Vec<Candidate>) -> Best {
    let mut ranked: Vec<(usize, Candidate)> = candidates.into_iter().map(|c| (c.at_least(ink).max(1), c)).collect();
    ranked.sort_by(|a, b| a.0.cmp(&b.0).then_with(|| a.1.cmp_at_equal_count(&b.1)));
    let mut best: Option<Best> = None;
    for (at_least, candidate) in ranked {
        if let Some(best) = &best {
            let by_bound = best.kept.len().cmp(&at_least).then_with(|| best.candidate.cmp_at_equal_count(&candidate));
            if best.kept.len() < at_least {
                break;
            }
            if by_bound != Ordering::Greater {
                continue;
            }
        }
        let kept: Vec<_> = candidate.places().filter(|&(c, r)| ink.touches(candidate.core(c, r))).collect();
        let wins = best.as_ref().is_none_or(|best| {
            let order = kept.len().cmp(&best.kept.len()).then_with(|| candidate.cmp_at_equal_count(&best.candidate));
            order == Ordering::Less
        });
        if wins {
            best = Some(Best { candidate, kept });
        }
    }
    best.expect("the caller made sure that there is a candidate")
}
