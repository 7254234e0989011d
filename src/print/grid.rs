//! The grids of sheets that could cover a drawing, and the one that does it with the fewest.
//!
//! A grid is known by its frame, its numbers of columns and rows, and where it starts. The start is free within a range, and the search
//! halves that range again and again (branch and bound): a place whose core holds ink wherever in a range the grid starts takes a sheet
//! in all of it, so that a range that needs more sheets than were found already is left out whole.

use std::cmp::Ordering;
use std::collections::VecDeque;

use kurbo::{Point, Rect};

use super::frame::Frame;
use super::ink::Ink;
use super::seams::Seams;

/// One axis of a grid of sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axis {
    start: f64,
    window: f64,
    overlap: f64,
    pub(super) count: usize,
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

/// Starts of one axis: all that cover the ink with one number of windows.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Starts {
    low: f64,
    high: f64,
    window: f64,
    overlap: f64,
    count: usize,
}

impl Starts {
    /// Those that cover `low..high` with the fewest windows, and with one more, which may leave more of them blank. Together they are
    /// every place that the lines of an endless grid can have.
    fn covering(low: f64, high: f64, window: f64, overlap: f64) -> Vec<Self> {
        let (length, pitch) = (high - low, window - overlap);
        let fewest = ((length - overlap) / pitch - 1e-9).ceil().max(1.0);
        let starts = |count: f64| {
            let slack = count * pitch + overlap - length;
            let centred = low - slack / 2.0;
            // With one window more than needed, both outer windows must still hold ink, or it is the smaller grid again.
            let reach = if count > fewest { (slack / 2.0).min(pitch - slack / 2.0 + overlap) } else { slack / 2.0 };
            // A single window has nowhere to go: in the middle is best.
            let reach = if count <= 1.0 { 0.0 } else { reach };
            (reach >= 0.0).then_some(Self {
                low: centred - reach,
                high: centred + reach,
                window,
                overlap,
                count: as_count(count),
            })
        };
        let counts = if fewest <= 1.0 { vec![fewest] } else { vec![fewest, fewest + 1.0] };
        counts.into_iter().filter_map(starts).collect()
    }

    const fn length(&self) -> f64 {
        self.high - self.low
    }

    const fn axis(&self, start: f64) -> Axis {
        Axis { start, window: self.window, overlap: self.overlap, count: self.count }
    }

    const fn middle(&self) -> f64 {
        f64::midpoint(self.low, self.high)
    }

    fn halves(&self) -> [Self; 2] {
        [Self { high: self.middle(), ..*self }, Self { low: self.middle(), ..*self }]
    }

    /// What a core holds wherever the grid starts; none where nothing is left.
    fn core_of_all(&self, index: usize) -> Option<(f64, f64)> {
        let (low, high) = (self.axis(self.high).core_of(index).0, self.axis(self.low).core_of(index).1);
        (low <= high).then_some((low, high))
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at least 1; float casts saturate at the top")]
const fn as_count(number: f64) -> usize {
    number as usize
}

/// A grid at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Candidate {
    /// Which of the frames it is cut in.
    pub(super) frame: usize,
    pub(super) x: Axis,
    pub(super) y: Axis,
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

    fn kept(&self, ink: &Ink) -> Vec<(usize, usize)> {
        places(self.x.count, self.y.count).filter(|&(column, row)| ink.touches(self.core(column, row))).collect()
    }
}

fn places(columns: usize, rows: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..rows).flat_map(move |row| (0..columns).map(move |column| (column, row)))
}

/// A range of grids.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Range {
    frame: usize,
    x: Starts,
    y: Starts,
}

impl Range {
    /// Sheets that every grid in the range takes.
    fn at_least(&self, ink: &Ink) -> usize {
        let needed = |&(column, row): &(usize, usize)| {
            let core = self.x.core_of_all(column).zip(self.y.core_of_all(row));
            core.is_some_and(|((x0, x1), (y0, y1))| ink.touches(Rect::new(x0, y0, x1, y1)))
        };
        places(self.x.count, self.y.count).filter(needed).count()
    }

    const fn middle(&self) -> Candidate {
        Candidate { frame: self.frame, x: self.x.axis(self.x.middle()), y: self.y.axis(self.y.middle()) }
    }

    const fn length(&self) -> f64 {
        self.x.length().max(self.y.length())
    }

    fn halves(&self) -> [Self; 2] {
        if self.x.length() >= self.y.length() {
            self.x.halves().map(|x| Self { x, ..*self })
        } else {
            self.y.halves().map(|y| Self { y, ..*self })
        }
    }
}

/// Ranges no longer than this, in mm, are only halved to save a sheet, not to find a better place for as many.
const FINE_MM: f64 = 8.0;
/// Ranges no longer than this, in mm, are not halved: nobody lays sheets more exactly.
const FINEST_MM: f64 = 0.5;

/// Words that must leave their place are as bad as a trim line so much too near to a line, in mm. Own choice.
const WORDS_FAULT_MM: f64 = 4.0;

/// The best grid and the places of it that take a sheet.
pub(super) struct Best {
    pub(super) candidate: Candidate,
    pub(super) kept: Vec<(usize, usize)>,
    rank: Rank,
}

/// How good a grid is at any number of sheets; the least is the best.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rank {
    cuts_centre: bool,
    sheets: usize,
    page_area: f64,
    fault_mm: f64,
    grid: usize,
    frame: usize,
    off_centre: f64,
}

impl Rank {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.cuts_centre, self.sheets)
            .cmp(&(other.cuts_centre, other.sheets))
            .then(self.page_area.total_cmp(&other.page_area))
            .then(self.fault_mm.total_cmp(&other.fault_mm))
            .then((self.grid, self.frame).cmp(&(other.grid, other.frame)))
            .then(self.off_centre.total_cmp(&other.off_centre))
    }
}

/// What a drawing is cut by.
pub(super) struct Search<'a> {
    pub(super) ink: &'a Ink,
    pub(super) seams: &'a Seams,
    /// Where words would best stand whole. They take no sheet: they can be set elsewhere.
    pub(super) words: &'a [Rect],
    pub(super) frames: &'a [Frame],
    pub(super) overlap_mm: f64,
}

impl Search<'_> {
    fn ranges(&self) -> Vec<Range> {
        let ink = self.ink.bounds();
        let of_frame = |(frame, of): (usize, &Frame)| {
            let xs = Starts::covering(ink.x0, ink.x1, of.window.width(), self.overlap_mm);
            let ys = Starts::covering(ink.y0, ink.y1, of.window.height(), self.overlap_mm);
            let with_all = move |x: Starts| ys.clone().into_iter().map(move |y| Range { frame, x, y });
            xs.into_iter().flat_map(with_all).collect::<Vec<_>>()
        };
        self.frames.iter().enumerate().flat_map(of_frame).collect()
    }

    /// Places of the smallest grid: a bound for what the search may take.
    pub(super) fn smallest(&self) -> Option<usize> {
        self.ranges().iter().map(|range| range.x.count.saturating_mul(range.y.count)).min()
    }

    /// How many of the words that could stand where they are wanted no sheet would show whole.
    fn words_cut(&self, candidate: &Candidate, kept: &[(usize, usize)]) -> usize {
        let is_whole = |words: &&Rect| kept.iter().any(|&(column, row)| candidate.core(column, row).contains_rect(**words));
        self.words.len() - self.words.iter().filter(is_whole).count()
    }

    /// The grid with the fewest sheets, to the finest step; none without a frame.
    pub(super) fn fewest(&self) -> Option<Best> {
        let with_middle = |range: Range| (range, Point::new(range.x.middle(), range.y.middle()));
        let mut waiting: VecDeque<(Range, Point)> = self.ranges().into_iter().map(with_middle).collect();
        let mut best: Option<Best> = None;
        while let Some((range, middle)) = waiting.pop_front() {
            let least = range.at_least(self.ink);
            let found = best.as_ref().filter(|best| !best.rank.cuts_centre).map(|best| best.rank.sheets);
            if found.is_some_and(|found| least > found) {
                continue;
            }
            self.weigh(range.middle(), middle, &mut best);
            let found = best.as_ref().filter(|best| !best.rank.cuts_centre).map(|best| best.rank.sheets);
            let may_save = found.is_some_and(|found| least < found);
            if range.length() > if may_save { FINEST_MM } else { FINE_MM } {
                waiting.extend(range.halves().map(|half| (half, middle)));
            }
        }
        best
    }

    /// Takes a grid if it is the best so far.
    fn weigh(&self, candidate: Candidate, middle: Point, best: &mut Option<Best>) {
        let cuts_centre = self.seams.cuts_centre(candidate.x.trims(), candidate.y.trims());
        if best.as_ref().is_some_and(|best| cuts_centre && !best.rank.cuts_centre) {
            return;
        }
        let kept = candidate.kept(self.ink);
        let rank = Rank {
            cuts_centre,
            sheets: kept.len().max(1),
            page_area: self.frames[candidate.frame].page.area(),
            fault_mm: self.seams.fault_mm(candidate.x.trims(), candidate.y.trims())
                + WORDS_FAULT_MM * self.words_cut(&candidate, &kept) as f64,
            grid: candidate.x.count + candidate.y.count,
            frame: candidate.frame,
            off_centre: (candidate.x.start - middle.x).abs() + (candidate.y.start - middle.y).abs(),
        };
        if best.as_ref().is_none_or(|best| rank.cmp(&best.rank) == Ordering::Less) {
            *best = Some(Best { candidate, kept, rank });
        }
    }
}
