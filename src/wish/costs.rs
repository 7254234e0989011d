//! What binds and sections cost, by how far their colours are from the wish.

use super::edges::Edges;
use super::line::{LINE_ROWS, as_usual, extra_mm};
use super::search::Rod;
use super::surrogate::{LEVELS, Surrogate, between_levels};
use super::target::{Target, Wanted};
use crate::geometry::{least_gap_mm, rod_size, wraps};
use crate::layout::Layout;
use crate::reveal::colour::{Lab, ciede2000};
use crate::reveal::{RodBind, roundness};
use rayon::prelude::*;

/// What a bind costs by itself, in squares of CIEDE2000 times mm: as much as a difference of 6 over a mm or of 3 over 4 mm. Without it binds
/// would be tied for differences that nobody sees (own judgement, tried on rings with known binds).
pub(super) const BIND_COST: f64 = 40.0;
/// CIEDE2000 beyond which a colour is as wrong as it can be (own judgement): one row of another hue is not to outweigh many.
const MOST_WRONG: f64 = 60.0;
/// Parts of a section that are taken to be equally round throughout.
const PIECES: usize = 4;

/// Rows on either side of a bind that it changes where it has more wraps than usual, at most.
const REACH_ROWS: usize = LINE_ROWS + 4;

/// A mark where a bind may lie.
#[derive(Debug, Clone, Copy)]
struct Mark {
    at_mm: f64,
    bind: RodBind,
    wraps: u32,
    /// By how much it reaches farther than a usual bind, mm.
    extra_mm: f64,
}

/// Where binds may lie on a rod, and how round it is between any two of them.
#[derive(Debug)]
pub(super) struct Marks {
    marks: Vec<Mark>,
    /// How round the pieces of a section are, by its ends: that of `from`, none counted first, and of `to`, none last.
    round: Vec<[f32; PIECES]>,
    length_mm: f64,
    least_gap_threads: f64,
    smallest_gap_mm: Option<f64>,
    thread: crate::geometry::Thread,
    forced: Option<usize>,
}

impl Marks {
    /// The marks of a layout's rule up to a distance from the tip; a line's own bind is always tied.
    pub(super) fn of(layout: &Layout, until_mm: f64) -> Self {
        let fold = layout.fold();
        let (zero_mm, length_mm, thread) = (layout.zero_mm(), fold.length_mm(), *layout.thread());
        let step_mm = layout.marks().step_mm().unwrap_or(FREE_STEP_MM);
        let guide_girth_mm = rod_size(fold, layout.cloth(), layout.guide_mm()).bound_girth_mm;
        let effect = layout.process().calibration.bind(thread.kind);
        let mark = |at_mm: f64| {
            let size = rod_size(fold, layout.cloth(), at_mm);
            let wraps = wraps(&thread, size.bound_girth_mm, guide_girth_mm);
            let breadth_mm = f64::from(wraps) * thread.diameter_mm;
            let has_room = at_mm >= 0.5 * breadth_mm + LEAST_TIP_MM && at_mm + 0.5 * breadth_mm <= length_mm;
            let bind = RodBind { along_mm: at_mm, breadth_mm, diameter_mm: size.bound_diameter_mm, effect };
            (has_room && size.cloth_mm > 0.0).then_some(Mark { at_mm, bind, wraps, extra_mm: extra_mm(&thread, wraps) })
        };
        #[expect(clippy::cast_possible_truncation, reason = "some thousands")]
        let (first, last) = ((-zero_mm / step_mm).ceil() as i32, ((until_mm.min(length_mm) - zero_mm) / step_mm).floor() as i32);
        let own_mm = layout.line().map(|_| layout.guide_mm());
        let on_rule = (first..=last).map(|count| zero_mm + f64::from(count) * step_mm);
        let mut at_mm: Vec<f64> =
            on_rule.filter(|at_mm| own_mm.is_none_or(|own_mm| (at_mm - own_mm).abs() > TWO_MARKS_MM)).collect();
        at_mm.extend(own_mm);
        at_mm.sort_by(f64::total_cmp);
        let marks: Vec<Mark> = at_mm.into_iter().filter_map(mark).collect();
        let forced = own_mm.and_then(|own_mm| marks.iter().position(|mark| (mark.at_mm - own_mm).abs() < TWO_MARKS_MM));
        let mut all = Self {
            marks,
            round: Vec::new(),
            length_mm,
            least_gap_threads: layout.raw().limits.smallest_gap_threads,
            smallest_gap_mm: layout.raw().binds.smallest_gap_mm,
            thread,
            forced,
        };
        all.round = all.roundness(layout.process().calibration.flat_after_diameters, fold_yields(layout));
        all
    }

    fn roundness(&self, flat_after_diameters: f64, yields: f64) -> Vec<[f32; PIECES]> {
        let count = self.marks.len();
        let ends = (0..=count).into_par_iter().flat_map_iter(|from| (0..=count).map(move |to| (from.checked_sub(1), to)));
        let of = |(from, to): (Option<usize>, usize)| {
            let to = Some(to).filter(|to| *to < count);
            let is_section = from.is_none_or(|from| to.is_none_or(|to| from < to));
            let binds: Vec<RodBind> = [from, to].into_iter().flatten().map(|mark| self.marks[mark].bind).collect();
            let [from_mm, to_mm] = self.ends_mm(from, to);
            std::array::from_fn(|piece| {
                let at_mm = from_mm + (piece as f64 + 0.5) / PIECES as f64 * (to_mm - from_mm);
                #[expect(clippy::cast_possible_truncation, reason = "a share")]
                let round = if is_section { (yields * roundness(&binds, at_mm, flat_after_diameters)) as f32 } else { 0.0 };
                round
            })
        };
        ends.map(of).collect()
    }

    fn round(&self, from: Option<usize>, to: Option<usize>) -> &[f32; PIECES] {
        &self.round[from.map_or(0, |from| from + 1) * (self.marks.len() + 1) + to.unwrap_or(self.marks.len())]
    }

    fn ends_mm(&self, from: Option<usize>, to: Option<usize>) -> [f64; 2] {
        [from.map_or(0.0, |from| self.marks[from].at_mm), to.map_or(self.length_mm, |to| self.marks[to].at_mm)]
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.marks.len()
    }

    /// Where one lies, mm from the tip.
    pub(super) fn at_mm(&self, mark: usize) -> f64 {
        self.marks[mark].at_mm
    }

    /// The binds on these marks.
    pub(super) fn binds(&self, marks: &[usize]) -> Vec<RodBind> {
        marks.iter().map(|mark| self.marks[*mark].bind).collect()
    }

    /// The mark nearest to a place.
    fn nearest(&self, at_mm: f64) -> Option<&Mark> {
        self.marks.iter().min_by(|a, b| (a.at_mm - at_mm).abs().total_cmp(&(b.at_mm - at_mm).abs()))
    }

    /// Where the mark nearest to a place lies, mm from the tip.
    pub(super) fn nearest_mm(&self, at_mm: f64) -> Option<f64> {
        self.nearest(at_mm).map(|mark| mark.at_mm)
    }

    /// By how much a bind about here reaches farther than a usual one, mm.
    pub(super) fn extra_mm(&self, at_mm: f64) -> f64 {
        self.nearest(at_mm).map_or(0.0, |mark| mark.extra_mm)
    }

    /// The narrowest gap between two binds about here, mm.
    pub(super) fn least_gap_mm(&self, at_mm: f64) -> f64 {
        self.nearest(at_mm).map_or(0.0, |mark| self.gap_mm(mark, mark))
    }

    fn gap_mm(&self, from: &Mark, to: &Mark) -> f64 {
        self.smallest_gap_mm.unwrap_or_else(|| least_gap_mm(&self.thread, [from.wraps, to.wraps], self.least_gap_threads))
    }

    /// Whether two binds may follow each other.
    fn may_follow(&self, from: Option<usize>, to: Option<usize>) -> bool {
        let leaves_out = self.forced.is_some_and(|own| from.is_none_or(|from| from < own) && to.is_none_or(|to| own < to));
        let is_wide = || match (from, to) {
            (Some(from), Some(to)) => {
                let (from, to) = (&self.marks[from], &self.marks[to]);
                to.at_mm - from.at_mm >= self.gap_mm(from, to) - ROUNDING_MM
            }
            _ => true,
        };
        !leaves_out && is_wide()
    }
}

/// Without marks on the rule, binds are sought on these, mm: half of what a hand can place (own choice).
const FREE_STEP_MM: f64 = 0.5;
/// From the tip to the thread nearest to it, mm: there is little cloth to tie (own judgement).
const LEAST_TIP_MM: f64 = 3.0;
/// Marks nearer to a line's own bind than this are the same, mm.
const TWO_MARKS_MM: f64 = 0.25;
/// Rounding of a few metres, mm.
const ROUNDING_MM: f64 = 1e-6;

fn fold_yields(layout: &Layout) -> f64 {
    layout.fold().yields()
}

/// What whole reveals add to the surrogate: shifts of Lab by dye and row.
pub(super) type Corrections = Vec<Vec<Lab>>;

/// The costs of tying a rod for a wish.
pub(super) struct Costs<'a> {
    marks: &'a Marks,
    edges: &'a Edges,
    /// Sums of costs over the rows before each, by level of roundness and dye.
    sums: Vec<Vec<Vec<f64>>>,
    /// Sums of costs away from the middle of a bind on each mark, by dye: on the tip's side, and on the other.
    beside: Vec<[Vec<[f64; REACH_ROWS + 1]>; 2]>,
}

impl<'a> Costs<'a> {
    pub(super) fn of(marks: &'a Marks, target: &'a Target, surrogate: &Surrogate, shifts: &Corrections) -> Self {
        let dyes = shifts.len();
        let sums = (0..LEVELS * dyes).into_par_iter().map(|at| {
            let (level, dye) = (at / dyes, at % dyes);
            let colours = &surrogate.levels[level][dye];
            let mut sums = vec![0.0];
            for (row, wanted) in target.rows.iter().enumerate() {
                sums.push(sums[row] + row_cost(*wanted, colours[row], shifts[dye][row], 1.0, dye));
            }
            sums
        });
        let sums: Vec<Vec<f64>> = sums.collect();
        let sums = sums.chunks(dyes.max(1)).map(<[Vec<f64>]>::to_vec).collect();
        let cost = |dye: usize, mark: &Mark, away: usize, outward: bool| {
            let (at_mm, away, usual) = (mark.at_mm, away, as_usual(away, mark.extra_mm));
            let middle_mm = away as f64 + 0.5;
            let row_mm = if outward { at_mm + middle_mm } else { at_mm - middle_mm };
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to the rows")]
            let row = Some(row_mm).filter(|mm| *mm >= 0.0).map(|mm| mm as usize).filter(|row| *row < target.rows.len());
            row.map_or(0.0, |row| {
                row_cost(
                    target.rows[row],
                    surrogate.line[dye][usual][row],
                    shifts[dye][row],
                    surrogate.come[dye][usual][row],
                    dye,
                )
            })
        };
        let beside = |dye: usize| {
            [false, true].map(|outward| {
                let of_mark = |mark: &Mark| {
                    let mut sums = [0.0; REACH_ROWS + 1];
                    for away in 0..REACH_ROWS {
                        sums[away + 1] = sums[away] + cost(dye, mark, away, outward);
                    }
                    sums
                };
                marks.marks.iter().map(of_mark).collect()
            })
        };
        let beside = (0..dyes).into_par_iter().map(beside).collect();
        Self { marks, edges: &target.edges, sums, beside }
    }

    /// The sum over a stretch without binds, mm.
    fn over(&self, level: usize, dye: usize, from_mm: f64, to_mm: f64) -> f64 {
        let sums = &self.sums[level][dye];
        let at = |mm: f64| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate")]
            let row = (mm.max(0.0) as usize).min(sums.len() - 1);
            let next = (row + 1).min(sums.len() - 1);
            sums[row] + (mm.max(0.0) - row as f64).min(1.0) * (sums[next] - sums[row])
        };
        at(to_mm) - at(from_mm)
    }

    /// What a section costs with one dye.
    fn dyed(&self, from: Option<usize>, to: Option<usize>, dye: usize) -> f64 {
        let [from_mm, to_mm] = self.marks.ends_mm(from, to);
        // Where binds stand near each other, each has the half that is nearer to it.
        let binds = [from, to].into_iter().flatten().count().max(1) as f64;
        let extra_mm = [from, to].into_iter().flatten().map(|mark| self.marks.marks[mark].extra_mm).fold(0.0, f64::max);
        let reach_mm = (LINE_ROWS as f64 + extra_mm).min(REACH_ROWS as f64).min((to_mm - from_mm) / binds);
        let beside = |mark: Option<usize>, outward: bool| {
            let Some(mark) = mark else { return 0.0 };
            let sums = &self.beside[dye][usize::from(outward)][mark];
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most the rows of a line")]
            let whole = (reach_mm.max(0.0) as usize).min(REACH_ROWS);
            let next = (whole + 1).min(REACH_ROWS);
            sums[whole] + (reach_mm - whole as f64) * (sums[next] - sums[whole])
        };
        let inner_mm = [from_mm + from.map_or(0.0, |_| reach_mm), to_mm - to.map_or(0.0, |_| reach_mm)];
        let mut cost = beside(from, true) + beside(to, false);
        let length_mm = to_mm - from_mm;
        for (piece, &round) in self.marks.round(from, to).iter().enumerate() {
            let bound = |piece: usize| {
                (from_mm + piece as f64 / PIECES as f64 * length_mm).clamp(inner_mm[0], inner_mm[1].max(inner_mm[0]))
            };
            let (begin_mm, end_mm) = (bound(piece), bound(piece + 1));
            if end_mm > begin_mm {
                let (level, share) = between_levels(f64::from(round));
                let [low, high] = [level, level + 1].map(|level| self.over(level, dye, begin_mm, end_mm));
                cost += low + share * (high - low);
            }
        }
        cost
    }
}

impl Rod for Costs<'_> {
    fn marks(&self) -> usize {
        self.marks.len()
    }

    fn bind(&self, mark: usize) -> f64 {
        BIND_COST + self.edges.cost(self.marks.at_mm(mark))
    }

    fn section(&self, from: Option<usize>, to: Option<usize>) -> Option<(f64, usize)> {
        if !self.marks.may_follow(from, to) {
            return None;
        }
        let dyes = (0..self.beside.len()).map(|dye| (self.dyed(from, to, dye), dye));
        // The first of equals: no dye where it does not matter.
        dyes.reduce(|best, other| if other.0 < best.0 - ROUNDING_COST { other } else { best })
    }
}

/// Costs that differ by less are alike.
const ROUNDING_COST: f64 = 1e-9;

/// What a row of this colour costs; a shift counts by as much of the dye as there is.
fn row_cost(wanted: Option<Wanted>, colour: Option<Lab>, shift: Lab, share: f64, dye: usize) -> f64 {
    let wanted = wanted.filter(|wanted| wanted.counts(dye));
    let (Some(wanted), Some(colour)) = (wanted, colour) else { return 0.0 };
    let shifted = Lab { l: colour.l + share * shift.l, a: colour.a + share * shift.a, b: colour.b + share * shift.b };
    squared(shifted, &wanted)
}

/// The square of how far a colour is from what is wanted, by its weight.
pub(super) fn squared(colour: Lab, wanted: &Wanted) -> f64 {
    wanted.weight * ciede2000(colour, wanted.colour).min(MOST_WRONG).powi(2)
}
