//! Where the creases of a fan fold along a line run, and how wide its pleats are.
//!
//! Places along a line are counted by what a piece measures on the guide, the parallel along which the cloth is taken up: its length there,
//! and never less than on the line itself. About a point this is the guide arc's length. Creases keep corners: whole pleats between them,
//! and an even number over a corner's own fan, so that a crease runs along its bisector. At a corner on the garment's fold half of the fan
//! is there, and any number will do.
//!
//! A crease runs through every bend as well that ends a ridge: on either side of it the ridge's two sides are alike, so that
//! creases meet there in pairs.

use super::chain::{Chain, Course};
use super::error::LineError;
use super::piece::Piece;
use super::ridge::{Way, reach_mm};
use crate::geometry::{LARGEST_RADIUS_MM, MOST_PLEATS, Pleats};
use std::ops::Range;

/// Turn from which a corner is kept by creases of its own, rad: about 11 degrees (own choice). What turns less is a bend.
pub(crate) const CORNER_RAD: f64 = 0.2;
/// Least that a fan counts for along the line, as if it were measured so far out, mm: a corner has no length on the line itself.
const LEAST_RADIUS_MM: f64 = 10.0;
/// Shallowest pleat that is asked for, mm: less is no fold in any cloth (own choice).
const SHALLOWEST_MM: f64 = 1.0;
/// How much of a bend's radius the way to its centre must be free for, as a share, for a ridge to end there.
const FREE_SHARE: f64 = 0.98;
/// Radii that differ by less than this are one bend's, as a share.
const SAME_BEND: f64 = 1e-3;
/// Halvings by which a depth is found for a number of pleats.
const HALVINGS: u32 = 60;

/// The creases of a line.
#[derive(Debug, Clone)]
pub(crate) struct Pleating {
    /// Where each piece begins along the line, and where the last ends, mm as measured on the guide.
    starts_mm: Vec<f64>,
    /// Where each pleat begins, and where the last ends.
    creases_mm: Vec<f64>,
}

/// A stretch of the line that holds whole pleats.
#[derive(Debug, Clone, Copy)]
struct Run {
    length_mm: f64,
    /// Pleats come in so many: two over a corner.
    step: u32,
}

impl Run {
    /// Whether it is as long as another, but for rounding and for arcs that were fitted a little differently.
    fn is_as_long(&self, other: &Self) -> bool {
        (self.length_mm - other.length_mm).abs() < 1e-3 * self.length_mm
    }
}

impl Pleating {
    /// Pleats a line along its parallel at `guide_mm`.
    pub(crate) fn new(chain: &Chain, guide_mm: f64, pleats: Pleats) -> Result<Self, LineError> {
        let mut starts_mm = vec![0.0];
        let mut at_mm = 0.0;
        for piece in chain.pieces() {
            at_mm += measured_mm(piece, guide_mm);
            starts_mm.push(at_mm);
        }
        let spare_mm = chain.spare_mm();
        let (first_mm, last_mm) = (spare_mm[0], at_mm - spare_mm[1]);
        let runs = runs(chain, &starts_mm, first_mm..last_mm);
        let is_closed = chain.course() == Course::Closed;
        let fewest = counts(&runs, f64::INFINITY, is_closed).iter().sum();
        let refused = |pleats| LineError::PleatCount { pleats, fewest, most: MOST_PLEATS };
        let counts = match pleats {
            Pleats::Depth { depth_mm } => {
                if !(SHALLOWEST_MM..=LARGEST_RADIUS_MM).contains(&depth_mm) {
                    let field = "pleats.depth_mm".into();
                    let (least_mm, most_mm) = (SHALLOWEST_MM, LARGEST_RADIUS_MM);
                    return Err(LineError::Length { field, value_mm: depth_mm, least_mm, most_mm });
                }
                counts(&runs, depth_mm, is_closed)
            }
            Pleats::Count { count } if count < fewest || count > MOST_PLEATS => return Err(refused(f64::from(count))),
            Pleats::Count { count } => counts(&runs, depth_for(&runs, count, is_closed), is_closed),
        };
        let all: u32 = counts.iter().sum();
        if all > MOST_PLEATS {
            return Err(refused(f64::from(all)));
        }
        let mut creases_mm = vec![first_mm];
        let mut from_mm = first_mm;
        for (run, &count) in runs.iter().zip(&counts) {
            creases_mm.extend((1..=count).map(|crease| from_mm + run.length_mm * f64::from(crease) / f64::from(count)));
            from_mm += run.length_mm;
        }
        // Sums by runs and by pieces differ by rounding.
        if let Some(last) = creases_mm.last_mut() {
            *last = last_mm;
        }
        Ok(Self { starts_mm, creases_mm })
    }

    /// How many pleats there are.
    pub(crate) fn pleats(&self) -> u32 {
        u32::try_from(self.creases_mm.len() - 1).unwrap_or(u32::MAX)
    }

    /// Where the creases are, mm as measured on the guide: one more than pleats.
    pub(crate) fn creases_mm(&self) -> &[f64] {
        &self.creases_mm
    }

    /// Where a pleat begins and ends.
    pub(crate) fn pleat_mm(&self, pleat: u32) -> Range<f64> {
        let at = (pleat as usize).min(self.creases_mm.len() - 2);
        self.creases_mm[at]..self.creases_mm[at + 1]
    }

    /// Where a share of a piece lies along the line, mm as measured on the guide.
    pub(crate) fn at_mm(&self, piece: usize, share: f64) -> f64 {
        let (from_mm, to_mm) = (self.starts_mm[piece], self.starts_mm[piece + 1]);
        from_mm + share * (to_mm - from_mm)
    }

    /// The piece at a place along the line, and the share of it: at a joint the piece that begins there.
    pub(crate) fn piece_at(&self, at_mm: f64) -> (usize, f64) {
        let last = self.starts_mm.len() - 2;
        let piece = self.starts_mm.partition_point(|&start_mm| start_mm <= at_mm).saturating_sub(1).min(last);
        let (from_mm, to_mm) = (self.starts_mm[piece], self.starts_mm[piece + 1]);
        (piece, ((at_mm - from_mm) / (to_mm - from_mm)).clamp(0.0, 1.0))
    }

    /// The pleat that a place along the line is in, and the share of it.
    pub(crate) fn pleat_at(&self, at_mm: f64) -> (u32, f64) {
        let last = self.creases_mm.len() - 2;
        let pleat = self.creases_mm.partition_point(|&crease_mm| crease_mm <= at_mm).saturating_sub(1).min(last);
        let (from_mm, to_mm) = (self.creases_mm[pleat], self.creases_mm[pleat + 1]);
        (u32::try_from(pleat).unwrap_or(u32::MAX), ((at_mm - from_mm) / (to_mm - from_mm)).clamp(0.0, 1.0))
    }

    /// The pieces between two places along the line, each with its share there.
    pub(crate) fn shares(&self, between_mm: Range<f64>) -> impl Iterator<Item = (usize, f64)> + '_ {
        let (first, _) = self.piece_at(between_mm.start);
        let pieces = self.starts_mm[first..].windows(2).enumerate();
        pieces.take_while(move |(_, ends_mm)| ends_mm[0] < between_mm.end).filter_map(move |(offset, ends_mm)| {
            let held_mm = ends_mm[1].min(between_mm.end) - ends_mm[0].max(between_mm.start);
            (held_mm > 0.0).then(|| (first + offset, held_mm / (ends_mm[1] - ends_mm[0])))
        })
    }

    /// How wide the cloth between two normals is on the parallel at a distance, mm: each piece's share of it, where it has one.
    pub(crate) fn width_mm(&self, chain: &Chain, between_mm: Range<f64>, distance_mm: f64) -> f64 {
        let mut width_mm = [0.0];
        self.widths_mm(chain, between_mm, distance_mm, &mut width_mm);
        width_mm[0]
    }

    /// The same of equal parts of it, one after the other.
    pub(crate) fn widths_mm(&self, chain: &Chain, between_mm: Range<f64>, distance_mm: f64, widths_mm: &mut [f64]) {
        let last = self.starts_mm.len() - 2;
        let (mut piece, _) = self.piece_at(between_mm.start);
        // Of each piece how wide it is there for a millimetre along the line.
        let width_of = |piece: usize| {
            chain.pieces()[piece].width_mm(distance_mm).max(0.0) / (self.starts_mm[piece + 1] - self.starts_mm[piece])
        };
        let (parts, mut at_mm, mut wide) = (widths_mm.len() as f64, between_mm.start, width_of(piece));
        for (part, width_mm) in widths_mm.iter_mut().enumerate() {
            let to_mm = between_mm.start + (part + 1) as f64 / parts * (between_mm.end - between_mm.start);
            *width_mm = 0.0;
            while self.starts_mm[piece + 1] < to_mm && piece < last {
                *width_mm += wide * (self.starts_mm[piece + 1] - at_mm).max(0.0);
                at_mm = at_mm.max(self.starts_mm[piece + 1]);
                piece += 1;
                wide = width_of(piece);
            }
            *width_mm += wide * (to_mm - at_mm);
            at_mm = to_mm;
        }
    }

    /// How much the line turns between two normals, rad, and how long it is, mm.
    pub(crate) fn turn_and_length(&self, chain: &Chain, between_mm: Range<f64>) -> (f64, f64) {
        let parts = self.shares(between_mm).map(|(piece, share)| (chain.pieces()[piece], share));
        parts.fold((0.0, 0.0), |(turn, length), (piece, share)| {
            (turn + share * piece.turn_rad(), length + share * piece.length_mm())
        })
    }
}

/// What a piece counts for along the line, mm.
fn measured_mm(piece: &Piece, guide_mm: f64) -> f64 {
    piece.length_mm().max(piece.width_mm(guide_mm).abs()).max(LEAST_RADIUS_MM * piece.turn_rad().abs())
}

/// Whether creases of its own keep a piece: a corner, or a bend of a pen's end.
pub(crate) fn is_corner(piece: &Piece) -> bool {
    matches!(piece, Piece::Fan(fan) if fan.radius_mm == 0.0 && fan.turn_rad.abs() >= CORNER_RAD)
}

fn runs(chain: &Chain, starts_mm: &[f64], between_mm: Range<f64>) -> Vec<Run> {
    let on_fold = chain.ends_on_fold();
    let last = chain.pieces().len() - 1;
    let mut bends = bends(chain, starts_mm).into_iter().peekable();
    let (mut runs, mut since_mm) = (Vec::new(), between_mm.start);
    let mut push_up_to = |runs: &mut Vec<Run>, since_mm: f64, to_mm: f64| {
        let mut from_mm = since_mm;
        while let Some(bend_mm) = bends.next_if(|&bend_mm| bend_mm < to_mm) {
            runs.extend(between(from_mm, bend_mm));
            from_mm = from_mm.max(bend_mm);
        }
        runs.extend(between(from_mm, to_mm));
    };
    for (at, _) in chain.pieces().iter().enumerate().filter(|(_, piece)| is_corner(piece)) {
        push_up_to(&mut runs, since_mm, starts_mm[at]);
        let is_half = (on_fold[0] && at == 0) || (on_fold[1] && at == last);
        runs.push(Run { length_mm: starts_mm[at + 1] - starts_mm[at], step: if is_half { 1 } else { 2 } });
        since_mm = starts_mm[at + 1];
    }
    push_up_to(&mut runs, since_mm, between_mm.end);
    runs
}

fn between(from_mm: f64, to_mm: f64) -> Option<Run> {
    (to_mm > from_mm).then_some(Run { length_mm: to_mm - from_mm, step: 1 })
}

/// The middles of bends that end a ridge, mm along the line as measured on the guide: those that bend more tightly than the line
/// before and behind them, with no other stretch of it nearer to their centres.
fn bends(chain: &Chain, starts_mm: &[f64]) -> Vec<f64> {
    let radius_mm = |piece: &Piece| match piece {
        Piece::Fan(fan) if fan.radius_mm != 0.0 => Some(fan.radius_mm),
        _ => None,
    };
    // Bends in the order of the line: pieces of one radius are one; strips and corners part them.
    let mut bends: Vec<(f64, Range<usize>)> = Vec::new();
    for (at, piece) in chain.pieces().iter().enumerate() {
        let radius_mm = radius_mm(piece).unwrap_or(f64::INFINITY);
        let is_slight = matches!(piece, Piece::Fan(fan) if fan.radius_mm == 0.0) && !is_corner(piece);
        match bends.last_mut() {
            Some(last) if is_slight || (last.0 - radius_mm).abs() <= SAME_BEND * radius_mm.abs() => last.1.end = at + 1,
            _ => bends.push((radius_mm, at..at + 1)),
        }
    }
    let is_tighter = |at: usize, than: Option<&(f64, Range<usize>)>| {
        let own_mm = bends[at].0;
        than.is_some_and(|(radius_mm, _)| radius_mm * own_mm < 0.0 || radius_mm.abs() > own_mm.abs())
    };
    let tight = (0..bends.len()).filter(|&at| {
        bends[at].0.is_finite()
            && is_tighter(at, at.checked_sub(1).and_then(|before| bends.get(before)))
            && is_tighter(at, bends.get(at + 1))
    });
    let middles = tight.filter_map(|at| {
        let (radius_mm, pieces) = &bends[at];
        let middle_mm = 0.5 * (starts_mm[pieces.start] + starts_mm[pieces.end]);
        let piece = pieces.clone().find(|&piece| starts_mm[piece + 1] >= middle_mm)?;
        let way = if *radius_mm > 0.0 { Way::In } else { Way::Out };
        let share = ((middle_mm - starts_mm[piece]) / (starts_mm[piece + 1] - starts_mm[piece])).clamp(0.0, 1.0);
        let is_free = || reach_mm(chain, piece, share, way, radius_mm.abs()) >= FREE_SHARE * radius_mm.abs();
        is_free().then_some(middle_mm)
    });
    middles.collect()
}

/// How many pleats each run holds at a depth; an even number of all of them where the line closes.
fn counts(runs: &[Run], depth_mm: f64, is_closed: bool) -> Vec<u32> {
    let wanted = |run: &Run| run.length_mm / depth_mm / f64::from(run.step);
    let mut counts: Vec<u32> = runs.iter().map(|run| whole(wanted(run)).saturating_mul(run.step)).collect();
    if is_closed && counts.iter().fold(0, |all: u32, &count| all.wrapping_add(count)) % 2 == 1 {
        // A corner keeps its pairs. Of the others one that has no twin, so that both sides of an axis stay alike; then that which comes
        // nearest to one more or one less.
        let single = || runs.iter().enumerate().filter(|(_, run)| run.step == 1);
        let has_twin = |at: usize, run: &Run| single().any(|(other, with)| other != at && run.is_as_long(with));
        let off = single().map(|(at, run)| (at, !has_twin(at, run), wanted(run) - f64::from(counts[at])));
        if let Some((at, _, off)) = off.max_by(|a, b| a.1.cmp(&b.1).then(a.2.abs().total_cmp(&b.2.abs()))) {
            counts[at] = if off < 0.0 && counts[at] > 1 { counts[at] - 1 } else { counts[at] + 1 };
        }
    }
    counts
}

/// The nearest whole number, at least 1.
fn whole(wanted: f64) -> u32 {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "casts saturate, and what is too many is refused"
    )]
    let whole = wanted.round().clamp(1.0, 1e6) as u32;
    whole
}

/// A depth at which there are so many pleats, or where corners allow no such number, the next more.
fn depth_for(runs: &[Run], count: u32, is_closed: bool) -> f64 {
    let all_mm: f64 = runs.iter().map(|run| run.length_mm).sum();
    let holds = |depth_mm: f64| counts(runs, depth_mm, is_closed).iter().sum::<u32>() >= count;
    // Twice as many as asked for are enough, and a depth of all of the line too few or just right.
    let (mut enough_mm, mut few_mm) = (all_mm / (4.0 * f64::from(count)), 4.0 * all_mm);
    for _ in 0..HALVINGS {
        let middle_mm = 0.5 * (enough_mm + few_mm);
        if holds(middle_mm) {
            enough_mm = middle_mm;
        } else {
            few_mm = middle_mm;
        }
    }
    enough_mm
}
