//! From a wish to the layout that comes nearest to it.

use super::causes::{Cause, NotReached, Palette, Seen, nearest};
use super::costs::{BIND_COST, Corrections, Costs, Marks};
use super::error::FulfilError;
use super::line::Comb;
use super::reached::{self, PartReached, ProfileRow, mean};
use super::rows::Rows;
use super::search::{Way, cheapest};
use super::shelf::Shelf;
use super::surrogate::{Ends, Surrogate, levels};
use super::target::Target;
use super::tied::{plain, tied};
use super::wish::{Tint, Wish, WishColour};
use crate::layout::{DyeBy, IceLayers, Layout, Rest};
use crate::reveal::colour::{DyeSet, Lab};
use crate::reveal::solver::SolveOptions;
use crate::reveal::{
    Cancel, Cells, GridSpec, MOST_CELLS, RevealOptions, RodDoses, Standing, fine_grid, rod_binds, rod_doses_bound, roundness,
};

/// How a wish is searched for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WishOptions {
    /// How the rod is cut and its equations solved, as for any reveal, but to a residual of 1e-3: three times as much leaves doses within 0.005 of
    /// exact ones (measured), about what eight bits of colour can show. Of it pixels and margin do not matter.
    pub reveal: RevealOptions,
    /// Length of the cells of rods with binds, mm: 1. With 2 a line's edges lie up to half a millimetre otherwise by where its bind falls on the
    /// cells (measured). Where there would be too many, cells are as long as those of the reveal.
    pub cell_mm: f64,
    /// Places of the opened cloth looked at in each millimetre: 96, with which a ring's colour is known to about 0.3 CIEDE2000 (measured).
    pub samples: u32,
    /// How often a layout is revealed and the search corrected by it: 3.
    pub rounds: u32,
}

impl Default for WishOptions {
    fn default() -> Self {
        let solve = SolveOptions { residual: 1e-3, ..SolveOptions::default() };
        let reveal = RevealOptions { cells: Cells::Fine, solve, ..RevealOptions::default() };
        Self { reveal, cell_mm: 1.0, samples: 96, rounds: 3 }
    }
}

/// The layout that comes nearest to a wish, and what it reaches: an estimate.
#[derive(Debug, Clone)]
pub struct Fulfilled {
    /// An ordinary layout, with the maker's own hand.
    pub layout: Layout,
    /// Part by part, in the wish's order; none of a part without cloth.
    pub parts: Vec<Option<PartReached>>,
    /// The mean CIEDE2000 of all parts by breadth and weight, as revealed.
    pub difference: f64,
    /// Parts that can't be reached, and why.
    pub not_reached: Vec<NotReached>,
    /// How broad the line of a bind shows, mm: what each edge costs.
    pub line_mm: f64,
    /// Millimetre by millimetre.
    pub profile: Vec<ProfileRow>,
    /// The mean CIEDE2000 after each round.
    pub rounds: Vec<f64>,
}

/// Finds binds and dyes for a wish, beginning with a layout's garment, fold, thread, marks and process.
///
/// The same wish of the same layout gives the same result.
///
/// # Errors
/// [`FulfilError`].
pub fn fulfil(wish: &Wish, layout: &Layout, options: &WishOptions, cancel: &Cancel) -> Result<Fulfilled, FulfilError> {
    wish.check_on(layout)?;
    let shelf = Shelf::of(&wish.dyes, layout)?;
    let search = Work::begin(wish, layout, &shelf, options, cancel)?;
    search.rounds()
}

/// How much of the work is done after its steps; the rounds take what is left (measured on a tee).
const ENDS_DONE: f64 = 0.25;
const COMB_DONE: f64 = 0.40;
const BEGUN: f64 = 0.50;
const ROUNDS_DONE: f64 = 0.95;

/// Share of a part's breadth that a line at one of its edges may take without counting against it (own judgement).
const LINE_SHARE: f64 = 0.25;
/// Beyond the last part binds are sought so far, mm: an edge and its line.
const AFTER_MM: f64 = 12.0;
/// Rows beside a bind that tell nothing of a section's colour.
const BESIDE_ROWS: f64 = 4.0;

/// Everything that does not change from round to round.
struct Work<'a> {
    wish: &'a Wish,
    given: &'a Layout,
    shelf: &'a Shelf,
    options: &'a WishOptions,
    /// For rods with binds.
    bound: RevealOptions,
    cancel: &'a Cancel,
    /// With an exact hand.
    exact: Layout,
    one_dye: Layout,
    target: Target,
    rows: Rows,
    ends: Ends,
    surrogate: Surrogate,
    /// How broad a bind's line shows in each part.
    lines_mm: Vec<f64>,
    marks: Marks,
}

/// How broad a bind's line shows in each part beside the dye that is nearest to it, mm; and for edges that no other dyed part shares, where a
/// bind is meant to be.
fn lines_mm(wish: &Wish, target: &mut Target, surrogate: &Surrogate, marks: &Marks, zero_mm: f64) -> Vec<f64> {
    let mut lines_mm = Vec::with_capacity(wish.parts.len());
    for (number, part) in wish.parts.iter().enumerate() {
        let is_kept = part.colour == WishColour::Even(Tint::Garment);
        let dye = nearest(target, &surrogate.levels, number).map(|nearest| nearest.dye).filter(|_| !is_kept);
        let mut halves_mm = Vec::new();
        for (edge_mm, is_outer) in [(zero_mm + part.from_mm, false), (zero_mm + part.to_mm, true)] {
            // Where the part itself is.
            let row_mm = if is_outer { edge_mm - 0.5 } else { edge_mm + 0.5 };
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "casts saturate")]
            let half_mm = dye.and_then(|dye| surrogate.half_line_mm(dye, row_mm.max(0.0) as usize));
            let half_mm = half_mm.map(|half_mm| half_mm + marks.extra_mm(edge_mm));
            halves_mm.extend(half_mm);
            match half_mm.filter(|_| edge_mm > 0.0) {
                Some(half_mm) if target.edges.is_shared(edge_mm) => {
                    // Of a narrow part enough is kept to be asked for.
                    target.note_line(number, edge_mm, half_mm.min(LINE_SHARE * (part.to_mm - part.from_mm)));
                }
                Some(half_mm) => target.edges.add_free(edge_mm, is_outer, half_mm),
                None => {}
            }
        }
        lines_mm.push(if halves_mm.is_empty() { 0.0 } else { 2.0 * halves_mm.iter().sum::<f64>() / halves_mm.len() as f64 });
    }
    target.edges.settle(|meant_mm| marks.nearest_mm(meant_mm));
    // A part without a line of its own has that of the others.
    let shown: Vec<f64> = lines_mm.iter().copied().filter(|line_mm| *line_mm > 0.0).collect();
    let mean_mm = shown.iter().sum::<f64>() / shown.len().max(1) as f64;
    lines_mm.into_iter().map(|line_mm| if line_mm > 0.0 { line_mm } else { mean_mm }).collect()
}

/// A layout that was revealed.
struct Revealed {
    way: Way,
    colours: Vec<Option<Lab>>,
    /// What the rows and the binds cost.
    cost: f64,
}

impl<'a> Work<'a> {
    fn begin(
        wish: &'a Wish,
        given: &'a Layout,
        shelf: &'a Shelf,
        options: &'a WishOptions,
        cancel: &'a Cancel,
    ) -> Result<Self, FulfilError> {
        let exact = plain(given, &given.raw().colours.rotation)?;
        let mut target = Target::of(wish, shelf, given.zero_mm(), given.fold().length_mm());
        let wanted: Vec<bool> = target.rows.iter().map(Option::is_some).collect();
        let rows = Rows::of(&exact, &wanted, options.samples);
        cancel.check()?;
        // Any dye goes the same way, or some of the few that components of mixtures go.
        let two = [0, 1].map(|dye| shelf.any(&shelf.swatches[dye].name));
        let one_dye = plain(given, &two[..1])?;
        let bound = RevealOptions { cells: bound_cells(&exact, options), ..options.reveal };
        // Each solve keeps one processor busy.
        let (ends, comb) = rayon::join(
            || {
                Ends::solve(&one_dye, &rows, &options.reveal, cancel).inspect(|_| {
                    cancel.note(ENDS_DONE);
                })
            },
            || Comb::solve(&exact, &two, &bound, cancel),
        );
        let (ends, comb) = (ends?, comb?);
        cancel.note(COMB_DONE);
        let surrogate = Surrogate::of(&ends, &comb, shelf, &rows);
        let marks = Marks::of(given, target.end() as f64 + AFTER_MM);
        let lines_mm = lines_mm(wish, &mut target, &surrogate, &marks, given.zero_mm());
        cancel.note(BEGUN);
        cancel.check()?;
        Ok(Self { wish, given, shelf, options, bound, cancel, exact, one_dye, target, rows, ends, surrogate, lines_mm, marks })
    }

    fn rounds(&self) -> Result<Fulfilled, FulfilError> {
        let none = Lab { l: 0.0, a: 0.0, b: 0.0 };
        let mut shifts: Corrections = vec![vec![none; self.target.rows.len()]; self.shelf.swatches.len()];
        let most_binds = self.wish.most_binds.map(|most| most as usize);
        let (mut best, mut told): (Option<Revealed>, Vec<f64>) = (None, Vec::new());
        let mut earlier: Option<RodDoses> = None;
        for round in 0..self.options.rounds.max(1) {
            let costs = Costs::of(&self.marks, &self.target, &self.surrogate, &shifts);
            let way = cheapest(&costs, most_binds).ok_or(FulfilError::NoWay { marks: self.marks.len() })?;
            self.cancel.check()?;
            let (revealed, rod) = self.reveal(way, earlier.as_ref())?;
            earlier = Some(rod);
            told.push(reached::mean_difference(&self.target, &revealed.colours));
            self.correct(&revealed, &mut shifts);
            let is_same = best
                .as_ref()
                .is_some_and(|best| best.way.binds == revealed.way.binds && best.way.choices == revealed.way.choices);
            if best.as_ref().is_none_or(|best| revealed.cost < best.cost) {
                best = Some(revealed);
            }
            let share = f64::from(round + 1) / f64::from(self.options.rounds.max(1));
            self.cancel.note(BEGUN + share * (ROUNDS_DONE - BEGUN));
            if is_same {
                break;
            }
        }
        let best = best.ok_or(FulfilError::NoWay { marks: self.marks.len() })?;
        self.told(&best, told)
    }

    /// Binds along the rod.
    fn at_mm(&self, way: &Way) -> Vec<f64> {
        way.binds.iter().map(|mark| self.marks.at_mm(*mark)).collect()
    }

    /// Reveals a way to tie the rod as any layout is revealed.
    fn reveal(&self, way: Way, earlier: Option<&RodDoses>) -> Result<(Revealed, RodDoses), FulfilError> {
        let at_mm = self.at_mm(&way);
        let layout = tied(&self.exact, &at_mm, &way.choices, &self.shelf.swatches, self.given.marks())?;
        let earlier = earlier.map(|rod| (rod, Standing::CLOTH));
        let rod = rod_doses_bound(&layout, &rod_binds(&layout), &self.bound, earlier, &self.cancel.beneath())?;
        let doses = self.rows.doses(&layout, &rod);
        let colours = self.rows.colours(&DyeSet::of_layout(&layout, None), &doses.read.dyes, &doses.gone);
        let dye_of = |row: usize| way.choices[at_mm.partition_point(|at_mm| *at_mm <= row as f64 + 0.5)];
        let cost = reached::cost(&self.target, &colours, dye_of) + BIND_COST * way.binds.len() as f64;
        Ok((Revealed { way, colours, cost }, rod))
    }

    /// Takes over what a reveal adds to what was foretold, section by section.
    fn correct(&self, revealed: &Revealed, shifts: &mut Corrections) {
        let binds = self.marks.binds(&revealed.way.binds);
        let flat_after = self.given.process().calibration.flat_after_diameters;
        let yields = self.given.fold().yields();
        let mut ends = vec![0.0];
        ends.extend(binds.iter().map(|bind| bind.along_mm));
        ends.push(self.target.rows.len() as f64);
        for (section, &dye) in revealed.way.choices.iter().enumerate() {
            let within = |beside: f64| {
                let (from_mm, to_mm) = (ends[section] + beside, ends[section + 1] - beside);
                (0..self.target.rows.len()).filter(move |row| (from_mm..to_mm).contains(&(*row as f64 + 0.5)))
            };
            let shift = within(BESIDE_ROWS).filter_map(|row| {
                let round = yields * roundness(&binds, row as f64 + 0.5, flat_after);
                let (seen, foretold) = (revealed.colours[row]?, self.surrogate.at(dye, row, round)?);
                Some(Lab { l: seen.l - foretold.l, a: seen.a - foretold.a, b: seen.b - foretold.b })
            });
            if let Some(shift) = mean(shift) {
                within(0.0).for_each(|row| shifts[dye][row] = shift);
            }
        }
    }

    /// What is told of the best.
    fn told(&self, best: &Revealed, rounds: Vec<f64>) -> Result<Fulfilled, FulfilError> {
        let at_mm = self.at_mm(&best.way);
        let zero_mm = self.given.zero_mm();
        let layout = tied(self.given, &at_mm, &best.way.choices, &self.shelf.swatches, self.given.marks())?;
        let mut spec = layout.raw().clone();
        spec.name.clone_from(&self.wish.name);
        let layout = Layout::try_from(spec)?;
        let parts = reached::parts(self.wish, &self.target, &best.colours, &at_mm, zero_mm);
        let line_mm = self.lines_mm.iter().sum::<f64>() / self.lines_mm.len().max(1) as f64;
        let palette = Palette::of(self.shelf);
        let seen = Seen {
            wish: self.wish,
            shelf: self.shelf,
            palette: &palette,
            target: &self.target,
            surrogate: &self.surrogate,
            marks: &self.marks,
            lines_mm: &self.lines_mm,
            binds: at_mm.len(),
            zero_mm,
        };
        let of_part = |(part, reached): (usize, &Option<PartReached>)| seen.not_reached(part, reached.as_ref()?);
        let mut not_reached: Vec<NotReached> = parts.iter().enumerate().filter_map(of_part).collect();
        self.try_deeper(&mut not_reached)?;
        let difference = reached::mean_difference(&self.target, &best.colours);
        let profile = reached::profile(&self.target, &best.colours, zero_mm);
        self.cancel.note(1.0);
        Ok(Fulfilled { layout, parts, difference, not_reached, line_mm, profile, rounds })
    }

    /// Whether turning the rod and more ice would help where dye does not reach deep enough.
    fn try_deeper(&self, not_reached: &mut [NotReached]) -> Result<(), FulfilError> {
        let process = self.given.process();
        let is_deeper = |found: &&mut NotReached| matches!(found.cause, Cause::Deeper { .. });
        let can_turn =
            process.dye == DyeBy::PowderUnderIce && (process.rest, process.ice_layers.0) != (Rest::TurnedHalfWay, MOST_ICE);
        if !can_turn || !not_reached.iter_mut().any(|found| is_deeper(&found)) {
            return Ok(());
        }
        let mut spec = self.one_dye.raw().clone();
        spec.process.rest = Rest::TurnedHalfWay;
        spec.process.ice_layers = IceLayers(process.ice_layers.0.saturating_add(1).min(MOST_ICE));
        let otherwise = Layout::try_from(spec)?;
        let ends = self.ends.dyed_otherwise(&otherwise, &self.rows, &self.options.reveal, self.cancel)?;
        let levels = levels(&ends, self.shelf, &self.rows);
        for found in not_reached.iter_mut().filter(is_deeper) {
            let turned = nearest(&self.target, &levels, found.part - 1).map(|nearest| nearest.difference);
            found.cause = Cause::Deeper { turned: turned.filter(|off| *off < found.difference - VISIBLY) };
        }
        Ok(())
    }
}

/// The cells of rods with binds.
fn bound_cells(layout: &Layout, options: &WishOptions) -> Cells {
    let spec = match options.reveal.cells {
        Cells::Fine => fine_grid(layout),
        Cells::Preview => GridSpec::preview(layout.fold()),
        Cells::Of(spec) => spec,
    };
    let columns = layout.fold().places() as usize * spec.across;
    let most_mm = layout.fold().length_mm() * columns as f64 / MOST_CELLS as f64;
    // The last cell may reach beyond the rod.
    let is_room = options.cell_mm > ROOM * most_mm;
    Cells::Of(if is_room { GridSpec { cell_mm: options.cell_mm.min(spec.cell_mm), ..spec } } else { spec })
}

/// What is kept of the most cells that a rod may have.
const ROOM: f64 = 1.1;
/// Most layers of ice that a process takes.
const MOST_ICE: u32 = 10;
/// A CIEDE2000 that is just seen side by side (common practice, no source).
const VISIBLY: f64 = 1.0;
