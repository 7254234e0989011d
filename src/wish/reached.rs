//! What a reveal reaches of a wish: row by row, and part by part.

use super::costs::squared;
use super::target::Target;
use super::wish::{Tint, Wish, WishColour};
use crate::layout::Srgb;
use crate::reveal::colour::{Lab, ciede2000};

/// How a part comes out: an estimate, as the reveal is.
#[derive(Debug, Clone, PartialEq)]
pub struct PartReached {
    /// Where it was wished to begin and to end, mm from the centre or the line.
    pub wished_mm: [f64; 2],
    /// What was wished, in the mean.
    pub wished: Srgb,
    /// What comes out within its edges, in the mean.
    pub reached: Srgb,
    /// The mean CIEDE2000 of all its rows, those under thread among them.
    pub difference: f64,
    /// The CIEDE2000 of its mean colour within its edges: what is off apart from lines.
    pub colour_difference: f64,
    /// Where its edges come out, mm from the centre or the line: half-way from its colour to what lies beyond. None at the tip and where
    /// nothing tells them.
    pub edges_mm: [Option<f64>; 2],
}

/// A millimetre of the opened cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProfileRow {
    /// Its middle, mm from the centre or the line.
    pub at_mm: f64,
    /// What is wished there, if anything is.
    pub wished: Option<Srgb>,
    /// How much it matters; 0 where nothing is wished.
    pub weight: f64,
    /// Whether it is of a part, and not beyond one's edge.
    pub is_asked: bool,
    /// What comes out there; none without cloth.
    pub reached: Option<Srgb>,
    /// CIEDE2000 between the two.
    pub difference: Option<f64>,
}

/// Rows at either edge of a part that are left out of its own colour, at most.
const EDGE_ROWS: usize = 4;
/// How far an edge is looked for, in rows, and where what lies beyond it is taken when no bind is near.
const SPAN_ROWS: usize = 14;
const BEYOND_ROWS: usize = 9;
/// A bind this near to an edge makes it, mm.
const NEAR_MM: f64 = 12.0;

/// The sum of all rows' costs, each in the section of a dye.
pub(super) fn cost(target: &Target, colours: &[Option<Lab>], dye_of: impl Fn(usize) -> usize) -> f64 {
    let rows = target.rows.iter().zip(colours).enumerate();
    rows.filter_map(|(row, (wanted, colour))| Some(squared((*colour)?, &wanted.filter(|wanted| wanted.counts(dye_of(row)))?)))
        .sum()
}

/// The mean CIEDE2000 of all parts' rows by their weights.
pub(super) fn mean_difference(target: &Target, colours: &[Option<Lab>]) -> f64 {
    let rows = target.rows.iter().zip(colours).filter_map(|(wanted, colour)| {
        let wanted = wanted.filter(|wanted| wanted.part.is_some())?;
        Some((wanted.weight, ciede2000((*colour)?, wanted.colour)))
    });
    let (weight, sum) = rows.fold((0.0, 0.0), |(all, sum), (weight, off)| (all + weight, sum + weight * off));
    if weight > 0.0 { sum / weight } else { 0.0 }
}

/// Row by row.
pub(super) fn profile(target: &Target, colours: &[Option<Lab>], zero_mm: f64) -> Vec<ProfileRow> {
    let row = |(row, (wanted, colour)): (usize, (&Option<super::target::Wanted>, &Option<Lab>))| ProfileRow {
        at_mm: row as f64 + 0.5 - zero_mm,
        wished: wanted.map(|wanted| wanted.colour.to_srgb()),
        weight: wanted.map_or(0.0, |wanted| wanted.weight),
        is_asked: wanted.is_some_and(|wanted| wanted.part.is_some()),
        reached: colour.map(Lab::to_srgb),
        difference: wanted.zip(*colour).map(|(wanted, colour)| ciede2000(wanted.colour, colour)),
    };
    target.rows.iter().zip(colours).enumerate().map(row).collect()
}

/// The mean of colours; none of none.
pub(super) fn mean(colours: impl IntoIterator<Item = Lab>) -> Option<Lab> {
    let (mut count, mut sum) = (0.0, Lab { l: 0.0, a: 0.0, b: 0.0 });
    for Lab { l, a, b } in colours {
        count += 1.0;
        sum = Lab { l: sum.l + l, a: sum.a + a, b: sum.b + b };
    }
    (count > 0.0).then(|| Lab { l: sum.l / count, a: sum.a / count, b: sum.b / count })
}

/// Part by part, in the wish's order; none of a part without cloth.
pub(super) fn parts(
    wish: &Wish,
    target: &Target,
    colours: &[Option<Lab>],
    binds_mm: &[f64],
    zero_mm: f64,
) -> Vec<Option<PartReached>> {
    (0..wish.parts.len()).map(|part| Part { wish, target, colours, binds_mm, zero_mm, part }.reached()).collect()
}

struct Part<'a> {
    wish: &'a Wish,
    target: &'a Target,
    colours: &'a [Option<Lab>],
    binds_mm: &'a [f64],
    zero_mm: f64,
    part: usize,
}

impl Part<'_> {
    fn reached(&self) -> Option<PartReached> {
        let rows: Vec<usize> = (0..self.target.rows.len())
            .filter(|row| {
                self.colours[*row].is_some() && self.target.rows[*row].is_some_and(|wanted| wanted.part == Some(self.part))
            })
            .collect();
        let pairs = || rows.iter().filter_map(|row| Some((self.target.rows[*row]?.colour, self.colours[*row]?)));
        let difference = pairs().map(|(wanted, colour)| ciede2000(wanted, colour)).sum::<f64>() / rows.len().max(1) as f64;
        let inner = core(&rows);
        let of = |rows: &[usize], wanted: bool| {
            mean(rows.iter().filter_map(|row| if wanted { Some(self.target.rows[*row]?.colour) } else { self.colours[*row] }))
        };
        let (wished, reached) = (of(inner, true)?, of(inner, false)?);
        let part = &self.wish.parts[self.part];
        let edges_mm = [(part.from_mm, false), (part.to_mm, true)].map(|(edge_mm, outward)| self.edge(edge_mm, outward, reached));
        Some(PartReached {
            wished_mm: [part.from_mm, part.to_mm],
            wished: of(&rows, true)?.to_srgb(),
            reached: reached.to_srgb(),
            difference,
            colour_difference: ciede2000(wished, reached),
            edges_mm,
        })
    }

    /// Where the colours cross from the part's to what lies beyond, nearest to the edge that was wished.
    fn edge(&self, edge_mm: f64, outward: bool, inside: Lab) -> Option<f64> {
        let edge_mm = edge_mm + self.zero_mm;
        if edge_mm <= 0.0 || edge_mm >= self.colours.len() as f64 {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the rows")]
        let row_of = |mm: f64| (mm.max(0.0) as usize).min(self.colours.len() - 1);
        // The garment's own colour is that under thread, too: of it the edge is where dye begins.
        let is_kept = self.wish.parts[self.part].colour == WishColour::Even(Tint::Garment);
        let nearest = self.binds_mm.iter().copied().min_by(|a, b| (a - edge_mm).abs().total_cmp(&(b - edge_mm).abs()));
        let beyond = match nearest.filter(|bind_mm| !is_kept && (bind_mm - edge_mm).abs() < NEAR_MM) {
            // The two rows that the thread's middle parts.
            Some(bind_mm) => {
                mean([row_of(bind_mm - 0.5), row_of(bind_mm + 0.5)].into_iter().filter_map(|row| self.colours[row]))?
            }
            None => {
                let way = if outward { BEYOND_ROWS as f64 } else { -(BEYOND_ROWS as f64) };
                self.colours[row_of(edge_mm + way)]?
            }
        };
        let axis = [inside.l - beyond.l, inside.a - beyond.a, inside.b - beyond.b];
        let length2 = axis.iter().map(|part| part * part).sum::<f64>();
        let share = |row: usize| {
            let at = self.colours[row]?;
            Some((axis[0] * (at.l - beyond.l) + axis[1] * (at.a - beyond.a) + axis[2] * (at.b - beyond.b)) / length2)
        };
        let (from, to) = (row_of(edge_mm).saturating_sub(SPAN_ROWS), (row_of(edge_mm) + SPAN_ROWS).min(self.colours.len() - 1));
        let crossings = (from..to).filter_map(|row| {
            let (here, next) = (share(row)? - 0.5, share(row + 1)? - 0.5);
            // Into the part from its tip's side, out of it on the other.
            let crosses = if outward { here > 0.0 && next <= 0.0 } else { here <= 0.0 && next > 0.0 };
            crosses.then(|| row as f64 + 0.5 + here / (here - next))
        });
        let crossing = crossings.min_by(|a, b| (a - edge_mm).abs().total_cmp(&(b - edge_mm).abs()));
        crossing.map(|mm| mm - self.zero_mm)
    }
}

/// The rows of a part without its edges.
fn core(rows: &[usize]) -> &[usize] {
    let edge = EDGE_ROWS.min(rows.len().saturating_sub(1) / 2);
    &rows[edge..rows.len() - edge]
}
