//! Corrections by hand on top of the progressions.

use super::{BindId, SpacingError};

/// How a bind came to its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BindOrigin {
    /// By the progression, perhaps following a neighbour.
    Progression,
    /// Moved by hand relative to the progression.
    Moved,
    /// Held at a radius by hand.
    Locked,
    /// Added by hand.
    Added,
}

impl BindOrigin {
    /// Whether the radius was given by hand and is exempt from rounding.
    #[must_use]
    pub const fn is_fixed(self) -> bool {
        matches!(self, Self::Locked | Self::Added)
    }
}

/// What the binds beside an edited one do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Neighbours {
    /// They stay where they are.
    #[default]
    Stay,
    /// Those up to the next fixed bind on each side (the guide arc's, another edited one, the side's last) share the move: their
    /// distances are scaled alike.
    Follow,
}

/// One correction. Binds are numbered as in [`BindId::Numbered`], before any edit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BindEdit {
    /// Moves a bind relative to its progression, which it keeps following.
    Move {
        /// Which bind.
        bind: i32,
        /// Added to its radius, mm: positive is away from the burst centre.
        by_mm: f64,
        /// What the others do.
        neighbours: Neighbours,
    },
    /// Holds a bind at a radius whatever the progression does; exempt from rounding.
    Lock {
        /// Which bind.
        bind: i32,
        /// Its radius, mm.
        at_mm: f64,
        /// What the others do.
        neighbours: Neighbours,
    },
    /// Adds a bind; exempt from rounding.
    Add {
        /// Its radius, mm.
        at_mm: f64,
    },
    /// Takes a bind away; the others keep their numbers.
    Remove {
        /// Which bind.
        bind: i32,
    },
}

impl BindEdit {
    /// The same with places counted along the bundle from its tip, which are given from a zero.
    pub(super) fn counted_from(self, zero_mm: f64) -> Self {
        match self {
            Self::Lock { bind, at_mm, neighbours } => Self::Lock { bind, at_mm: at_mm + zero_mm, neighbours },
            Self::Add { at_mm } => Self::Add { at_mm: at_mm + zero_mm },
            Self::Move { .. } | Self::Remove { .. } => self,
        }
    }
}

/// A bind before rounding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wanted {
    pub id: BindId,
    pub radius_mm: f64,
    pub origin: BindOrigin,
}

/// A bind that does not follow others.
struct Anchor {
    index: usize,
    to_mm: f64,
    pulls: bool,
}

/// Applies edits to the progressions' binds, which are numbered upward from the centre and all there.
pub(super) fn apply_edits(mut binds: Vec<(i32, f64)>, edits: &[BindEdit]) -> Result<Vec<Wanted>, SpacingError> {
    check_edits(&binds, edits)?;
    let index_of = |number: i32, binds: &[(i32, f64)]| binds.binary_search_by_key(&number, |b| b.0).ok();
    let mut origins = vec![BindOrigin::Progression; binds.len()];
    let mut is_removed = vec![false; binds.len()];
    let mut anchors = Vec::new();
    let mut added = Vec::new();
    for edit in edits {
        let (number, to_mm, origin, neighbours) = match *edit {
            BindEdit::Add { at_mm } => {
                added.push(at_mm);
                continue;
            }
            BindEdit::Remove { bind } => {
                index_of(bind, &binds).into_iter().for_each(|i| is_removed[i] = true);
                continue;
            }
            BindEdit::Lock { bind, at_mm, neighbours } => (bind, at_mm, BindOrigin::Locked, neighbours),
            BindEdit::Move { bind, by_mm, neighbours } => {
                let from_mm = index_of(bind, &binds).map_or(0.0, |i| binds[i].1);
                (bind, from_mm + by_mm, BindOrigin::Moved, neighbours)
            }
        };
        if let Some(index) = index_of(number, &binds) {
            origins[index] = origin;
            anchors.push(Anchor { index, to_mm, pulls: neighbours == Neighbours::Follow });
        }
    }
    shift(&mut binds, anchors);
    let kept = binds.iter().zip(&origins).zip(&is_removed).filter(|(_, removed)| !**removed);
    let wanted = kept.map(|((&(number, radius_mm), &origin), _)| Wanted { id: BindId::Numbered(number), radius_mm, origin });
    with_added(wanted.collect(), &added)
}

fn check_edits(binds: &[(i32, f64)], edits: &[BindEdit]) -> Result<(), SpacingError> {
    let (first, last) = (binds.first().map_or(0, |b| b.0), binds.last().map_or(0, |b| b.0));
    let mut seen = Vec::new();
    let mut adds = 0;
    for edit in edits {
        let (bind, value_mm, is_radius) = match *edit {
            BindEdit::Move { bind, by_mm, .. } => (bind, by_mm, false),
            BindEdit::Lock { bind, at_mm, .. } => (bind, at_mm, true),
            BindEdit::Remove { bind } => (bind, 0.0, false),
            BindEdit::Add { at_mm } => {
                adds += 1;
                check_value(BindId::Added(adds), at_mm, true)?;
                continue;
            }
        };
        let id = BindId::Numbered(bind);
        // Whether a bundle holds without it, the fold decides.
        if bind == 0 && !matches!(edit, BindEdit::Remove { .. }) {
            return Err(SpacingError::GuideEdited);
        }
        if !(first..=last).contains(&bind) {
            return Err(SpacingError::NoSuchBind { bind: id, first, last });
        }
        if seen.contains(&bind) {
            return Err(SpacingError::EditedTwice { bind: id });
        }
        check_value(id, value_mm, is_radius)?;
        seen.push(bind);
    }
    Ok(())
}

fn check_value(bind: BindId, value_mm: f64, is_radius: bool) -> Result<(), SpacingError> {
    let is_good = value_mm.is_finite() && (!is_radius || value_mm > 0.0);
    if is_good { Ok(()) } else { Err(SpacingError::EditValue { bind, value_mm }) }
}

/// Moves the anchors, and between two anchors of which one pulls everything else, by the straight map that takes both to their places.
fn shift(binds: &mut [(i32, f64)], mut anchors: Vec<Anchor>) {
    // Guide arc and ends stay, unless an edit moves an end itself; the sort is stable, so the edit comes first.
    let guide = binds.iter().position(|b| b.0 == 0);
    for index in [Some(0), guide, binds.len().checked_sub(1)].into_iter().flatten() {
        anchors.push(Anchor { index, to_mm: binds[index].1, pulls: false });
    }
    anchors.sort_by_key(|anchor| anchor.index);
    anchors.dedup_by_key(|anchor| anchor.index);
    let before: Vec<f64> = binds.iter().map(|b| b.1).collect();
    for anchor in &anchors {
        binds[anchor.index].1 = anchor.to_mm;
    }
    for pair in anchors.windows(2).filter(|pair| pair[0].pulls || pair[1].pulls) {
        let (low, high) = (&pair[0], &pair[1]);
        let scale = (high.to_mm - low.to_mm) / (before[high.index] - before[low.index]);
        for i in low.index + 1..high.index {
            binds[i].1 = low.to_mm + (before[i] - before[low.index]) * scale;
        }
    }
}

/// Checks the order of the numbered binds, then puts the added ones between them.
fn with_added(mut wanted: Vec<Wanted>, added: &[f64]) -> Result<Vec<Wanted>, SpacingError> {
    check_order(&wanted)?;
    for (number, &radius_mm) in (1..).zip(added) {
        wanted.push(Wanted { id: BindId::Added(number), radius_mm, origin: BindOrigin::Added });
    }
    wanted.sort_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
    check_order(&wanted)?;
    Ok(wanted)
}

fn check_order(wanted: &[Wanted]) -> Result<(), SpacingError> {
    if let Some(&Wanted { id: bind, radius_mm, .. }) = wanted.iter().find(|w| !(w.radius_mm > 0.0 && w.radius_mm.is_finite())) {
        return Err(SpacingError::NotOutsideCentre { bind, radius_mm });
    }
    for pair in wanted.windows(2) {
        let (inner, outer) = (pair[0], pair[1]);
        if outer.radius_mm <= inner.radius_mm {
            let (inner_mm, outer_mm) = (inner.radius_mm, outer.radius_mm);
            return Err(SpacingError::PassesNeighbour { inner: inner.id, inner_mm, outer: outer.id, outer_mm });
        }
    }
    Ok(())
}
