//! Why a part can't be reached, and the nearest that can.

use super::costs::Marks;
use super::reached::{PartReached, mean};
use super::shelf::{NOTHING, Shelf};
use super::surrogate::{LEVELS, RowColours, Surrogate};
use super::target::Target;
use super::wish::{Tint, Wish, WishColour};
use crate::layout::Srgb;
use crate::reveal::colour::{Lab, ciede2000};
use crate::telling::{Refused, Told, Voice};
use std::cell::OnceCell;

/// The CIEDE2000 up to which a part counts as reached: 5, as much as a hand-dyed section varies within itself (our own judgement, no source).
pub const REACHED_WITHIN: f64 = 5.0;

/// Rows of a part that stand for those between them where its colours are held against all that dyes give.
const ROWS_APART: usize = 4;

/// Why a part can't be reached.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Cause {
    /// The ground is in the way: lighter than it no dye makes it.
    Ground {
        /// The ground.
        ground: Srgb,
        /// Whether that is what a discharge leaves.
        is_discharged: bool,
        /// Whether the wish is lighter, or of a hue that the ground changes.
        is_lighter: bool,
    },
    /// No dye on the shelf has this colour, however much of it.
    OutsideDyes,
    /// A dye has it, but not enough of it comes to where it is wished.
    Deeper {
        /// The least CIEDE2000 with the rod turned half-way and a layer of ice more, where that helps.
        turned: Option<f64>,
    },
    /// A dye has it, but more of it comes to where it is wished.
    Paler,
    /// Thread takes too much of so narrow a part.
    Narrow {
        /// How broad it is, mm.
        breadth_mm: f64,
        /// The least breadth of which half shows, mm.
        least_mm: f64,
        /// How broad the line of a bind is, mm.
        line_mm: f64,
    },
    /// The garment's own colour stays under thread alone.
    Kept {
        /// How broad the line of a bind is, mm.
        line_mm: f64,
    },
    /// It takes more binds than the wish allows.
    FewBinds {
        /// Those that it allows.
        most: u32,
    },
    /// A section could have it, but lines and neighbouring parts are in the way.
    Crowded {
        /// How broad the line of a bind is, mm.
        line_mm: f64,
    },
}

impl Cause {
    /// A name that stays.
    #[must_use]
    pub const fn key(&self) -> &'static str {
        match self {
            Self::Ground { is_lighter: true, .. } => "lighter-than-ground",
            Self::Ground { .. } => "ground-shows",
            Self::OutsideDyes => "outside-dyes",
            Self::Deeper { .. } => "deeper-than-reach",
            Self::Paler => "paler-than-dye",
            Self::Narrow { .. } => "narrow",
            Self::Kept { .. } => "kept-under-thread",
            Self::FewBinds { .. } => "few-binds",
            Self::Crowded { .. } => "crowded",
        }
    }
}

/// What gives the nearest colour.
#[derive(Debug, Clone, PartialEq)]
pub enum NearestWith {
    /// A dye, all over the part.
    Dye(String),
    /// No dye.
    Bare,
    /// What was found for the wish.
    AsItIs,
}

impl NearestWith {
    fn of(dye: usize, shelf: &Shelf) -> Self {
        if dye == NOTHING { Self::Bare } else { Self::Dye(shelf.swatches[dye].name.clone()) }
    }

    /// The dye, where it is one.
    #[must_use]
    pub fn dye(&self) -> Option<&str> {
        if let Self::Dye(name) = self { Some(name) } else { None }
    }
}

/// A part that can't be reached.
#[derive(Debug, Clone, PartialEq)]
pub struct NotReached {
    /// Its number, from 1.
    pub part: usize,
    /// Where it begins and ends, mm from the centre or the line.
    pub wished_mm: [f64; 2],
    /// What was wished where it begins and where it ends: the same twice but of a gradient.
    pub wished: [Srgb; 2],
    /// The nearest that could be there.
    pub nearest: Srgb,
    /// What gives it.
    pub with: NearestWith,
    /// CIEDE2000 from the wish to it.
    pub difference: f64,
    /// Why.
    pub cause: Cause,
}

/// The nearest colour that a section could have where a part is wished.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nearest {
    pub(super) dye: usize,
    pub(super) colour: Lab,
    /// The mean CIEDE2000 over its rows.
    pub(super) difference: f64,
}

/// The nearest over all dyes and over all ways to be round; none where a part has no cloth.
pub(super) fn nearest(target: &Target, levels: &[Vec<RowColours>], part: usize) -> Option<Nearest> {
    let rows: Vec<(usize, Lab)> = target
        .rows
        .iter()
        .enumerate()
        .filter_map(|(row, wanted)| wanted.filter(|wanted| wanted.part == Some(part)).map(|wanted| (row, wanted.colour)))
        .collect();
    let dyes = levels.first().map_or(0, Vec::len);
    let tried = (0..LEVELS).flat_map(|level| (0..dyes).map(move |dye| (level, dye)));
    let found = tried.filter_map(|(level, dye)| {
        let colours = &levels[level][dye];
        let pairs = || rows.iter().filter_map(|(row, wanted)| Some((colours[*row]?, *wanted)));
        let (count, sum) =
            pairs().fold((0.0, 0.0), |(count, sum), (colour, wanted)| (count + 1.0, sum + ciede2000(colour, wanted)));
        Some(Nearest { dye, colour: mean(pairs().map(|(colour, _)| colour))?, difference: sum / count })
    });
    found.min_by(|a, b| a.difference.total_cmp(&b.difference))
}

/// What causes are found from.
pub(super) struct Seen<'a> {
    pub(super) wish: &'a Wish,
    pub(super) shelf: &'a Shelf,
    pub(super) palette: &'a Palette<'a>,
    pub(super) target: &'a Target,
    pub(super) surrogate: &'a Surrogate,
    pub(super) marks: &'a Marks,
    /// How broad a bind's line shows in each part.
    pub(super) lines_mm: &'a [f64],
    pub(super) binds: usize,
    pub(super) zero_mm: f64,
}

impl Seen<'_> {
    /// Why a part that came out so is not reached; none where it is.
    pub(super) fn not_reached(&self, part: usize, reached: &PartReached) -> Option<NotReached> {
        let found = nearest(self.target, &self.surrogate.levels, part)?;
        let wished = self.mean_wish(part)?;
        let cause = self.cause(part, wished, &found, reached)?;
        // Several sections, or what lies beside it, may come nearer than any one section could.
        let is_better = reached.colour_difference < found.difference;
        let with = if is_better { NearestWith::AsItIs } else { NearestWith::of(found.dye, self.shelf) };
        Some(NotReached {
            part: part + 1,
            wished_mm: reached.wished_mm,
            wished: self.target.ends(part).unwrap_or([reached.wished; 2]),
            nearest: if is_better { reached.reached } else { found.colour.to_srgb() },
            with,
            difference: reached.colour_difference.min(found.difference),
            cause,
        })
    }

    fn mean_wish(&self, part: usize) -> Option<Lab> {
        mean(self.target.rows.iter().flatten().filter(|wanted| wanted.part == Some(part)).map(|wanted| wanted.colour))
    }

    /// The mean of something over the rows of a part: a gradient is not its mean colour.
    fn over_rows(&self, part: usize, of: impl Fn(Lab) -> f64) -> Option<f64> {
        let rows = self.target.rows.iter().flatten().filter(|wanted| wanted.part == Some(part)).step_by(ROWS_APART);
        let (count, sum) = rows.fold((0.0, 0.0), |(count, sum), wanted| (count + 1.0, sum + of(wanted.colour)));
        (count > 0.0).then(|| sum / count)
    }

    fn cause(&self, part: usize, wished: Lab, found: &Nearest, reached: &PartReached) -> Option<Cause> {
        if reached.difference > REACHED_WITHIN
            && let Some(narrow) = self.narrow(part)
        {
            return Some(narrow);
        }
        if reached.colour_difference <= REACHED_WITHIN {
            return None;
        }
        let line_mm = self.lines_mm[part];
        if self.wish.parts[part].colour == WishColour::Even(Tint::Garment) {
            return Some(Cause::Kept { line_mm });
        }
        // Where a section could have come much nearer, the binds were not there to part it from its neighbours.
        let few = self.wish.most_binds.filter(|most| self.binds >= *most as usize);
        let is_far = found.difference <= REACHED_WITHIN || reached.colour_difference > found.difference + REACHED_WITHIN;
        match few.filter(|_| is_far) {
            Some(most) => return Some(Cause::FewBinds { most }),
            None if found.difference <= REACHED_WITHIN => return Some(Cause::Crowded { line_mm }),
            None => {}
        }
        if self.over_rows(part, |wished| self.palette.on_ground(wished))? <= REACHED_WITHIN {
            return Some(match found.dye {
                // Bare cloth is what the ground leaves, all by itself.
                NOTHING => Cause::Crowded { line_mm },
                _ if found.colour.l > wished.l => Cause::Deeper { turned: None },
                _ => Cause::Paler,
            });
        }
        let bare = self.shelf.bare();
        if self.over_rows(part, |wished| self.palette.on_white(wished))? <= REACHED_WITHIN {
            return Some(Cause::Ground {
                ground: bare.to_srgb(),
                is_discharged: self.shelf.is_discharged,
                is_lighter: wished.l > bare.l,
            });
        }
        Some(Cause::OutsideDyes)
    }

    /// Whether thread takes more than half of a part: half a line at each edge that another part shares.
    fn narrow(&self, part: usize) -> Option<Cause> {
        let line_mm = self.lines_mm[part];
        let part = &self.wish.parts[part];
        let edges_mm = [part.from_mm, part.to_mm].map(|edge_mm| edge_mm + self.zero_mm);
        let shared = edges_mm.into_iter().filter(|edge_mm| self.target.edges.is_shared(*edge_mm)).count() as f64;
        let breadth_mm = part.to_mm - part.from_mm;
        let lost_mm = 0.5 * shared * line_mm;
        // Beyond a free edge the line lies outside the part.
        let room_mm = self.marks.least_gap_mm(0.5 * (edges_mm[0] + edges_mm[1])) - 0.5 * (2.0 - shared) * line_mm;
        let least_mm = (2.0 * lost_mm).max(room_mm);
        (breadth_mm < least_mm).then_some(Cause::Narrow { breadth_mm, least_mm, line_mm })
    }
}

/// Doses that are tried, of a dye's swatch: none to twice its strength.
fn doses() -> impl Iterator<Item = f64> {
    (0..=60).map(|step| 2.0 * (f64::from(step) / 60.0).powi(2))
}

/// Shares of the garment's colour that are tried.
const SHARES: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// All colours that dyes give, however much of them there is; computed when they are first asked for.
pub(super) struct Palette<'a> {
    shelf: &'a Shelf,
    on_ground: OnceCell<Vec<Lab>>,
    on_white: OnceCell<Vec<Lab>>,
}

impl<'a> Palette<'a> {
    pub(super) const fn of(shelf: &'a Shelf) -> Self {
        Self { shelf, on_ground: OnceCell::new(), on_white: OnceCell::new() }
    }

    /// The least CIEDE2000 from a colour to any on the ground.
    fn on_ground(&self, wished: Lab) -> f64 {
        least(self.on_ground.get_or_init(|| all(self.shelf)), wished)
    }

    /// The same on white cloth.
    fn on_white(&self, wished: Lab) -> f64 {
        least(self.on_white.get_or_init(|| all(&self.shelf.on_white())), wished)
    }
}

fn least(colours: &[Lab], wished: Lab) -> f64 {
    colours.iter().map(|colour| ciede2000(*colour, wished)).fold(f64::INFINITY, f64::min)
}

fn all(shelf: &Shelf) -> Vec<Lab> {
    let shares = if shelf.is_discharged { &SHARES[..] } else { &SHARES[4..] };
    let of_dye = |dye: usize| {
        let (set, parted) = (shelf.alone(dye), shelf.parted(dye));
        let tried = doses().flat_map(|dose| shares.iter().map(move |share| (dose, *share)));
        let lab = |(dose, share): (f64, f64)| {
            let doses = parted.iter().map(|shares| shares.iter().map(|share| share * dose).collect::<Vec<_>>());
            doses.map(|doses| set.lab(&doses, share)).collect::<Vec<_>>()
        };
        tried.flat_map(lab).collect::<Vec<_>>()
    };
    (0..shelf.swatches.len()).flat_map(of_dye).collect()
}

impl Refused for NotReached {
    fn told(&self, voice: Voice) -> Told {
        let Self { part, wished_mm: [from_mm, to_mm], wished: [from, to], nearest, with, difference, cause } = self;
        let place = format!("part {part}, {} to {}", voice.length(*from_mm), voice.length(*to_mm));
        let with = match with {
            NearestWith::Dye(dye) => format!("{nearest} with {dye}"),
            NearestWith::Bare => format!("{nearest} without dye"),
            NearestWith::AsItIs => format!("what comes out there, {nearest} in the mean"),
        };
        let nearest = format!("the nearest is {with}, {difference:.1} off");
        let wished = if from == to { from.to_string() } else { format!("the gradient from {from} to {to}") };
        let wished = format!("{wished} can't be reached");
        let (why, cure) = match cause {
            Cause::Ground { ground, is_discharged, is_lighter } => {
                let of = if *is_discharged { "the ground that the discharge leaves" } else { "the garment" };
                let why = if *is_lighter {
                    format!("it is lighter than {of}, {ground}")
                } else {
                    format!("{of}, {ground}, shows through")
                };
                (why, "begin with a paler garment, or wish for the nearest".to_owned())
            }
            Cause::OutsideDyes => (
                "no dye on the shelf has this colour, however much of it".to_owned(),
                "add such a dye, or wish for the nearest".to_owned(),
            ),
            Cause::Deeper { turned } => {
                let cure = turned.map_or_else(
                    || "use a deeper shade of the dye, or wish for the nearest".to_owned(),
                    |off| format!("turn the rod half-way and put on a layer of ice more, which would bring it to {off:.1} off"),
                );
                ("it is deeper than the dye reaches there".to_owned(), cure)
            }
            Cause::Paler => {
                ("more dye comes there than that".to_owned(), "use a paler shade of the dye, or wish for the nearest".to_owned())
            }
            Cause::Narrow { breadth_mm, least_mm, line_mm } => {
                let [breadth, least] = voice.apart(*breadth_mm, *least_mm);
                let why = format!("{breadth} are too narrow: a bind's line is {} broad", voice.about(*line_mm));
                (why, format!("make it at least {least}, or leave the parts beside it some room"))
            }
            Cause::Kept { line_mm } => (
                format!("the garment's colour stays under thread alone, {} a bind", voice.about(*line_mm)),
                "make it as narrow as a line, or use a dye of this colour".to_owned(),
            ),
            Cause::FewBinds { most } => {
                (format!("it takes more binds than the {most} allowed"), "allow more binds, or wish for fewer parts".to_owned())
            }
            Cause::Crowded { line_mm } => (
                format!("the lines of binds, {} each, and the parts beside it are in the way", voice.about(*line_mm)),
                "make it broader, or leave room between the parts".to_owned(),
            ),
        };
        Told::new(format!("{wished}: {why}; {nearest}"), cure).at(place)
    }
}
