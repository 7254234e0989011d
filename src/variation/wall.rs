//! A wall of variations: those of a layout that differ visibly, pictured small.

use super::candidate::{Variation, candidates};
use super::change::Change;
use super::choose::farthest_first;
use super::thumb::Thumb;
use crate::layout::Layout;
use crate::reveal::colour::DyeSet;
use crate::reveal::solver::SolveOptions;
use crate::reveal::{
    Cancel, Cells, Picture, PictureMap, Reveal, RevealError, RevealOptions, Texture, picture_until, reveal_doses_after,
};
use rayon::prelude::*;
use std::sync::atomic::{AtomicU32, Ordering};

/// How a wall is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WallOptions {
    /// Most variations on it: 12 unless said otherwise.
    pub most: usize,
    /// How far each lies at least from the layout and from every other, as the mean CIEDE2000 over the cloth: 2 unless said otherwise, what
    /// is seen when two pictures lie beside each other (own judgement).
    pub least_apart: f64,
    /// Edge of a pixel of the pictures, mm: 3 unless said otherwise.
    pub pixel_mm: f64,
    /// Which of several ties is varied, from 0: the first unless said otherwise.
    pub tie: usize,
}

impl Default for WallOptions {
    fn default() -> Self {
        Self { most: 12, least_apart: 2.0, pixel_mm: 3.0, tie: 0 }
    }
}

/// A variation on the wall.
#[derive(Debug, Clone)]
pub struct Tile {
    /// What it is.
    pub variation: Variation,
    /// The opened garment: front, and to its right the back as seen from behind. A coarse estimate.
    pub picture: Picture,
    /// How far it lies from the layout: the mean CIEDE2000 over the cloth.
    pub apart: f64,
}

/// A layout and its variations.
#[derive(Debug, Clone)]
pub struct Wall {
    /// The layout itself, pictured as the tiles are.
    pub now: Picture,
    /// Its variations, those first that differ most from all before them.
    pub tiles: Vec<Tile>,
}

/// Edge of a pixel where pictures are only told apart, mm: a third of the narrowest ring that a maker binds, about.
const TOLD_APART_MM: f64 = 6.0;
/// Residual of the doses: what they are off by is less than colours that count as different are apart.
const RESIDUAL: f64 = 1e-2;
/// How many of the wall may be of a single change before changes are made together.
const SINGLE: usize = 7;

/// A layout computed to be told apart.
struct Seen {
    reveal: Reveal,
    dyes: DyeSet,
    thumb: Thumb,
}

/// Pictures the variations of a layout that differ visibly, from it and from each other: changes of one thing first, then of two at once.
///
/// # Errors
/// [`RevealError`] of the layout itself; a variation that can't be pictured is left out.
pub fn wall(layout: &Layout, options: &WallOptions, cancel: &Cancel) -> Result<Wall, RevealError> {
    let now = seen(layout, None, cancel)?;
    let progress = Progress { cancel, done: AtomicU32::new(0) };
    let mut found = pictured(candidates(layout, options.tie), &now.reveal, &progress)?;
    let singles = chosen(&now, &found, SINGLE.min(options.most), options.least_apart);
    let singles: Vec<&Variation> = singles.iter().map(|&at| &found[at].0).collect();
    let pairs = paired(layout, &singles);
    found.extend(pictured(pairs, &now.reveal, &progress)?);
    let chosen = chosen(&now, &found, options.most, options.least_apart);
    let paint = |of: &Seen| {
        let finer = of.reveal.at_pixels(options.pixel_mm)?;
        picture_until(&finer, &of.dyes, PictureMap::Cloth, Texture::Off, cancel)
    };
    let tile = |&at: &usize| {
        let (variation, of) = &found[at];
        let tile = Tile { variation: variation.clone(), picture: paint(of)?, apart: now.thumb.apart(&of.thumb) };
        progress.step();
        Ok(tile)
    };
    let tiles = chosen.par_iter().map(tile).collect::<Result<_, RevealError>>()?;
    Ok(Wall { now: paint(&now)?, tiles })
}

/// Changes made together, those first that differ most alone; each of them in no more than [`TOGETHER`].
fn paired(layout: &Layout, singles: &[&Variation]) -> Vec<Variation> {
    let count = singles.len();
    let mut by_rank: Vec<(usize, usize)> = (0..count).flat_map(|one| (one + 1..count).map(move |other| (one, other))).collect();
    by_rank.sort_by_key(|(one, other)| one + other);
    let mut used = vec![0; count];
    let mut pairs = Vec::new();
    for (one, other) in by_rank {
        let is_free = pairs.len() < MOST_PAIRS && used[one] < TOGETHER && used[other] < TOGETHER;
        if !is_free || !singles[one].goes_with(singles[other]) {
            continue;
        }
        if let Some(pair) = singles[one].with(singles[other], layout) {
            used[one] += 1;
            used[other] += 1;
            pairs.push(pair);
        }
    }
    pairs
}

/// Most layouts with two changes that are computed, and in how many of them a change is tried.
const MOST_PAIRS: usize = 10;
const TOGETHER: u32 = 3;
/// On how many tiles a change may hang, alone or with another: a moved centre alone differs everywhere, but not as a maker sees it.
const MOST_TILES: usize = 2;

/// How many layouts are computed and painted for a wall, about.
const USUAL_STEPS: f64 = 45.0;

/// How far a wall is.
struct Progress<'a> {
    cancel: &'a Cancel,
    done: AtomicU32,
}

impl Progress<'_> {
    /// One more layout is done.
    fn step(&self) {
        let done = self.done.fetch_add(1, Ordering::Relaxed) + 1;
        self.cancel.note((f64::from(done) / USUAL_STEPS).min(1.0));
    }
}

fn seen(layout: &Layout, earlier: Option<&Reveal>, cancel: &Cancel) -> Result<Seen, RevealError> {
    let options = RevealOptions {
        pixel_mm: TOLD_APART_MM,
        cells: Cells::Preview,
        solve: SolveOptions { residual: RESIDUAL, ..SolveOptions::default() },
        ..RevealOptions::default()
    };
    let reveal = reveal_doses_after(layout, &options, earlier, &cancel.beneath())?;
    let dyes = DyeSet::of_layout(layout, None);
    let picture = picture_until(&reveal, &dyes, PictureMap::Cloth, Texture::Off, cancel)?;
    Ok(Seen { reveal, dyes, thumb: Thumb::of(&picture) })
}

/// Computes variations; those that are refused are left out.
fn pictured(
    variations: Vec<Variation>,
    earlier: &Reveal,
    progress: &Progress<'_>,
) -> Result<Vec<(Variation, Seen)>, RevealError> {
    let each = |variation: Variation| {
        let seen = seen(variation.layout(), Some(earlier), progress.cancel);
        progress.step();
        match seen {
            Ok(seen) => Some(Ok((variation, seen))),
            Err(RevealError::Cancelled) => Some(Err(RevealError::Cancelled)),
            Err(_refused) => None,
        }
    };
    variations.into_par_iter().filter_map(each).collect()
}

fn chosen(now: &Seen, found: &[(Variation, Seen)], most: usize, least: f64) -> Vec<usize> {
    let nearest = found.par_iter().map(|(_, seen)| now.thumb.apart(&seen.thumb)).collect();
    let fits = |picked: &[usize], next: usize| {
        let hangs = |change: &Change| picked.iter().filter(|&&at| found[at].0.changes().contains(change)).count();
        found[next].0.changes().iter().all(|change| hangs(change) < MOST_TILES)
    };
    farthest_first(nearest, |one, other| found[one].1.thumb.apart(&found[other].1.thumb), fits, most, least)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// Whatever hangs there differs from the layout and from all else that hangs there by as much as was asked for.
    #[test]
    fn no_two_on_a_wall_look_alike() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let options = WallOptions { pixel_mm: 6.0, ..WallOptions::default() };
        let wall = wall(&layout, &options, &Cancel::new()).unwrap();
        assert_eq!(wall.tiles.len(), 12);
        for change in wall.tiles.iter().flat_map(|tile| tile.variation.changes()) {
            let hangs = wall.tiles.iter().filter(|tile| tile.variation.changes().contains(change)).count();
            assert!(hangs <= MOST_TILES, "{change:?} hangs {hangs} times");
        }
        let pictures: Vec<&Picture> = std::iter::once(&wall.now).chain(wall.tiles.iter().map(|tile| &tile.picture)).collect();
        let thumbs: Vec<Thumb> = pictures.iter().map(|picture| Thumb::of(picture)).collect();
        for (at, one) in thumbs.iter().enumerate() {
            for other in &thumbs[at + 1..] {
                assert!(one.apart(other) >= options.least_apart, "{}", one.apart(other));
            }
        }
        let double = wall.tiles.iter().filter(|tile| tile.variation.changes().len() == 2).count();
        assert!((2..=8).contains(&double), "{double} of two changes");
    }

    #[test]
    fn a_wall_stops_when_asked() {
        let layout = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
        let cancel = Cancel::new();
        cancel.cancel();
        assert_eq!(wall(&layout, &WallOptions::default(), &cancel).map(|_| ()), Err(RevealError::Cancelled));
    }
}
