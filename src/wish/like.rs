//! A wish for what a picture of one's own shows: its rings as parts, which the maker may change.

use super::error::WishError;
use super::wish::{MOST_PARTS, Tint, Wish, WishColour, WishPart};
use crate::layout::{Layout, Srgb};
use crate::photo::{SeenProfile, SeenRow};
use crate::reveal::colour::{Ground, Lab, ciede2000};

/// What one more part costs, in squares of L\*a\*b\* times mm: as much as a difference of 10 over 6 mm (own judgement, tried on drawn photographs).
const PART_COST: f64 = 600.0;
/// Narrowest part that is told apart, mm.
const NARROWEST_ROWS: usize = 2;
/// What is narrower, and lies on the way from both its neighbours' colours to the garment's, is the line of a bind, mm (own judgement: a line of waxed thread
/// shows 5 mm, one of a broad band 10).
const LINE_MM: f64 = 12.0;
/// By how much longer the way from one colour to another may be by a narrow stretch's own, in CIE L\*a\*b\*, for that to be where they run over into
/// each other; and how broad such a stretch is at most, mm: a hand's strays round a ring (own judgement, tried on drawn photographs).
const RUNS_OVER: f64 = 1.25;
const RUN_MM: f64 = 8.0;
/// Nearer to the tip than this there is too little cloth to see; the first part begins at the tip, mm.
const TIP_MM: f64 = 5.0;
/// Rows beside an edge that tell nothing of a part's own colour.
const BESIDE_ROWS: usize = 2;
/// CIEDE2000 within which a colour is the garment's own: what a hand-dyed section varies within itself.
const AS_GARMENT: f64 = 5.0;

impl Wish {
    /// A wish for what a photograph shows, to begin with a layout whose file is called so; its dyes are to choose among.
    ///
    /// # Errors
    /// [`WishError`] where nothing like it can be wished of the layout.
    pub fn like(seen: &SeenProfile, name: String, layout_file: String, layout: &Layout) -> Result<Self, WishError> {
        let mut parts = parts_like(&seen.rows, Ground::of_layout(layout).garment);
        let tip_mm = 0.0 - layout.zero_mm();
        if let Some(first) = parts.first_mut().filter(|first| first.from_mm - tip_mm < TIP_MM) {
            first.from_mm = tip_mm;
        }
        let wish = Self { name, layout: layout_file, dyes: Vec::new(), most_binds: None, parts };
        wish.check_on(layout)?;
        Ok(wish)
    }
}

/// The parts that rows of a picture fall into, for a garment of this colour; none of no rows.
///
/// Of all ways to cut the rows into stretches of one colour it takes that whose squares of differences in CIE L\*a\*b\* and cost of a part are the
/// least, found exactly by dynamic programming (optimal partitioning: Jackson et al., "An algorithm for optimal partitioning of data on an
/// interval", IEEE Signal Processing Letters 12 (2005)). Lines of binds are taken out: the parts on either side of one meet in its middle.
#[must_use]
pub fn parts_like(rows: &[SeenRow], garment: Srgb) -> Vec<WishPart> {
    let garment = Lab::from(garment);
    let runs = rows.chunk_by(|row, next| (next.at_mm - row.at_mm - 1.0).abs() < 0.5);
    let mut parts: Vec<WishPart> = runs.flat_map(|run| without_lines(&stretches(run), garment, run)).collect();
    parts.truncate(MOST_PARTS);
    parts
}

/// Neighbouring rows of about one colour.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stretch {
    /// The first row, and the one after the last.
    rows: [usize; 2],
    from_mm: f64,
    to_mm: f64,
    colour: Lab,
}

/// Sums over the rows before each.
struct Sums(Vec<[f64; 4]>);

impl Sums {
    fn of(rows: &[SeenRow]) -> Self {
        let mut sums = vec![[0.0; 4]];
        for row in rows {
            let Lab { l, a, b } = row.colour;
            let [before_l, before_a, before_b, squares] = sums[sums.len() - 1];
            sums.push([before_l + l, before_a + a, before_b + b, squares + l * l + a * a + b * b]);
        }
        Self(sums)
    }

    fn over(&self, [from, to]: [usize; 2]) -> [f64; 4] {
        std::array::from_fn(|part| self.0[to][part] - self.0[from][part])
    }

    fn mean(&self, rows: [usize; 2]) -> Lab {
        let count = rows[1].saturating_sub(rows[0]).max(1) as f64;
        let [l, a, b, _] = self.over(rows);
        Lab { l: l / count, a: a / count, b: b / count }
    }

    /// Squares about the mean.
    fn strayed(&self, rows: [usize; 2]) -> f64 {
        let count = (rows[1] - rows[0]) as f64;
        let [l, a, b, squares] = self.over(rows);
        squares - (l * l + a * a + b * b) / count
    }
}

/// The best way to cut rows.
fn stretches(rows: &[SeenRow]) -> Vec<Stretch> {
    let sums = Sums::of(rows);
    // The least cost of the rows before each, and where its last stretch begins.
    let mut best = vec![(0.0, 0); rows.len() + 1];
    for to in 1..=rows.len() {
        let begins = (0..=to.saturating_sub(NARROWEST_ROWS)).filter(|from| *from == 0 || *from >= NARROWEST_ROWS);
        let ways = begins.map(|from| (best[from].0 + PART_COST + sums.strayed([from, to]), from));
        best[to] = ways.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((f64::INFINITY, 0));
    }
    let (mut found, mut to) = (Vec::new(), rows.len());
    while to > 0 {
        let from = best[to].1;
        let colour = sums.mean([from, to]);
        found.push(Stretch { rows: [from, to], from_mm: rows[from].at_mm - 0.5, to_mm: rows[to - 1].at_mm + 0.5, colour });
        to = from;
    }
    found.reverse();
    found
}

/// Which stretches are no parts, but what lies between two: lines of binds, and colours that run over into each other where a line strays
/// round the middle.
fn between(stretches: &[Stretch], garment: Lab) -> Vec<bool> {
    let mut left_out = vec![false; stretches.len()];
    // One that is left out makes its neighbours neighbours of each other.
    loop {
        let kept: Vec<usize> = (0..stretches.len()).filter(|index| !left_out[*index]).collect();
        let is_between = |own: &[usize]| {
            let [before, own, after] = [stretches[own[0]], stretches[own[1]], stretches[own[2]]];
            let is_line = [before, after].iter().all(|beside| runs_over([beside.colour, own.colour, garment]));
            let is_narrow = |most_mm: f64| own.to_mm - own.from_mm <= most_mm;
            (is_line && is_narrow(LINE_MM)) || (is_narrow(RUN_MM) && runs_over([before.colour, own.colour, after.colour]))
        };
        let found = kept.windows(3).filter(|own| is_between(own)).min_by(|a, b| {
            let breadth = |own: &[usize]| stretches[own[1]].to_mm - stretches[own[1]].from_mm;
            breadth(a).total_cmp(&breadth(b))
        });
        match found {
            Some(own) => left_out[own[1]] = true,
            None => return left_out,
        }
    }
}

/// Whether a colour is what two others make where they run over into each other: it lies about on the way from one to the other.
fn runs_over([from, own, to]: [Lab; 3]) -> bool {
    let apart = |a: Lab, b: Lab| ((a.l - b.l).powi(2) + (a.a - b.a).powi(2) + (a.b - b.b).powi(2)).sqrt();
    apart(from, own) + apart(own, to) <= RUNS_OVER * apart(from, to)
}

/// The parts that are left, each with its own colour; what was between two is halved.
fn without_lines(stretches: &[Stretch], garment: Lab, rows: &[SeenRow]) -> Vec<WishPart> {
    let left_out = between(stretches, garment);
    let sums = Sums::of(rows);
    let kept: Vec<&Stretch> = stretches.iter().zip(&left_out).filter(|(_, left_out)| !**left_out).map(|(kept, _)| kept).collect();
    let part = |(index, stretch): (usize, &&Stretch)| {
        let before = index.checked_sub(1).map(|before| kept[before]);
        let after = kept.get(index + 1);
        let [from, to] = stretch.rows;
        let inner = [from + BESIDE_ROWS, to.saturating_sub(BESIDE_ROWS)];
        let colour = if inner[0] < inner[1] { sums.mean(inner) } else { stretch.colour };
        let tint = if ciede2000(colour, garment) < AS_GARMENT { Tint::Garment } else { Tint::Lab(rounded(colour)) };
        WishPart {
            from_mm: before.map_or(stretch.from_mm, |before| f64::midpoint(before.to_mm, stretch.from_mm)),
            to_mm: after.map_or(stretch.to_mm, |after| f64::midpoint(stretch.to_mm, after.from_mm)),
            colour: WishColour::Even(tint),
            weight: 1.0,
        }
    };
    kept.iter().enumerate().map(part).collect()
}

/// To a tenth, finer than any photograph tells.
fn rounded(Lab { l, a, b }: Lab) -> Lab {
    let tenths = |value: f64| (10.0 * value).round() / 10.0;
    Lab { l: tenths(l), a: tenths(a), b: tenths(b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GARMENT: Srgb = Srgb { red: 90, green: 16, blue: 48 };

    fn lab(hex: &str) -> Lab {
        Lab::from(hex.parse::<Srgb>().unwrap())
    }

    /// Rows of these colours, each over so many mm, with a wobble that comes to nothing.
    fn rows(stretches: &[(usize, Lab)]) -> Vec<SeenRow> {
        let colours = stretches.iter().flat_map(|(count, colour)| std::iter::repeat_n(*colour, *count));
        let wobble = |row: usize| if row.is_multiple_of(2) { 0.4 } else { -0.4 };
        let row = |(row, Lab { l, a, b }): (usize, Lab)| SeenRow {
            at_mm: row as f64 + 0.5,
            colour: Lab { l: l + wobble(row), a, b: b - wobble(row) },
        };
        colours.enumerate().map(row).collect()
    }

    /// Lines are edges, a broad band of the garment is one to be kept, and what is seen stands as it was measured.
    #[test]
    fn rings_are_parts_and_lines_their_edges() {
        let (teal, amber, plum) = (lab("#0f7c8a"), lab("#d99a1e"), Lab::from(GARMENT));
        let seen = rows(&[(30, amber), (6, plum), (24, teal), (4, plum), (26, teal), (20, plum), (30, amber)]);
        let parts = parts_like(&seen, GARMENT);
        let edges: Vec<[f64; 2]> = parts.iter().map(|part| [part.from_mm, part.to_mm]).collect();
        assert_eq!(edges, [[0.0, 33.0], [33.0, 62.0], [62.0, 90.0], [90.0, 110.0], [110.0, 140.0]]);
        assert_eq!(parts[3].colour, WishColour::Even(Tint::Garment));
        for (part, wanted) in parts.iter().zip([amber, teal, teal]) {
            let WishColour::Even(Tint::Lab(found)) = &part.colour else { panic!("{part:?}") };
            assert!(ciede2000(*found, wanted) < 0.1, "{found:?} {wanted:?}");
        }
        assert!(parts_like(&[], GARMENT).is_empty());
    }

    /// The best cut is what trying every cut finds.
    #[test]
    fn the_cut_is_the_cheapest_of_all() {
        let mut seed = 7_u64;
        let mut next = || {
            // Lehmer's generator with the multiplier of Park and Miller, CACM 31 (1988).
            seed = seed * 16_807 % 2_147_483_647;
            seed as f64 / 2_147_483_647.0
        };
        for _ in 0..40 {
            let level: Vec<f64> = (0..4).map(|_| 30.0 + 40.0 * next()).collect();
            let seen: Vec<SeenRow> = (0..12)
                .map(|row| SeenRow {
                    at_mm: f64::from(row) + 0.5,
                    colour: Lab { l: level[(row / 3) as usize] + 4.0 * next(), a: 10.0 * next(), b: 0.0 },
                })
                .collect();
            let cost = |cuts: &[usize]| -> f64 {
                let stretch = |pair: &[usize]| {
                    let part = &seen[pair[0]..pair[1]];
                    let mean = |of: fn(&Lab) -> f64| part.iter().map(|row| of(&row.colour)).sum::<f64>() / part.len() as f64;
                    let (l, a) = (mean(|lab| lab.l), mean(|lab| lab.a));
                    PART_COST + part.iter().map(|row| (row.colour.l - l).powi(2) + (row.colour.a - a).powi(2)).sum::<f64>()
                };
                cuts.windows(2).map(stretch).sum()
            };
            let every = (0..1_u32 << 11).filter_map(|set| {
                let cuts: Vec<usize> =
                    std::iter::once(0).chain((1..12).filter(|at| set >> (at - 1) & 1 == 1)).chain([12]).collect();
                cuts.windows(2).all(|pair| pair[1] - pair[0] >= NARROWEST_ROWS).then(|| cost(&cuts))
            });
            let least = every.fold(f64::INFINITY, f64::min);
            let found = stretches(&seen);
            let cuts: Vec<usize> = std::iter::once(0).chain(found.iter().map(|stretch| stretch.rows[1])).collect();
            assert!((cost(&cuts) - least).abs() < 1e-6, "{cuts:?}: {} {least}", cost(&cuts));
        }
    }
}
