//! What the binds do along the rod: where they press, what they cover, which section lies between them.

use crate::layout::BindEffect;

/// A bind's effect on the rod: position, thread breadth and diameter in mm, and what it blocks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodBind {
    /// Its distance along the rod, mm.
    pub along_mm: f64,
    /// Breadth of its thread on the rod, mm.
    pub breadth_mm: f64,
    /// Diameter of the rod under it, mm.
    pub diameter_mm: f64,
    /// What it does there.
    pub effect: BindEffect,
}

/// Share of a ring's radius at which a band over it lies on as much cloth within as beyond (the mean of the distance from the middle over a
/// disc): its breadth is taken there.
const BAND_AT: f64 = 2.0 / 3.0;

impl RodBind {
    /// A band over a ring, through its middle, where it crosses the rim; `breadth_mm` is its own. It keeps the faces under it dry, but
    /// presses a whole puck hardly more than it is pressed already: half of the conductance is left (our own judgement).
    ///
    /// # Limits
    /// It counts as narrowing towards the middle as wedges do, from half as broad again at the rim.
    #[must_use]
    pub fn band(along_mm: f64, breadth_mm: f64, effect: BindEffect) -> Self {
        let effect = BindEffect { conductance: effect.conductance.max(BAND_LEAVES), beyond_mm: 0.0, ..effect };
        Self { along_mm, breadth_mm: breadth_mm / BAND_AT, diameter_mm: 0.0, effect }
    }
}

/// What a band over a ring leaves of its conductance at the least.
const BAND_LEAVES: f64 = 0.5;

/// A stretch of the rod over which nothing changes: what presses it and covers it, and whose section it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Piece {
    /// Its part of the whole stretch.
    pub(super) share: f64,
    /// Conductance as a share of the unbound rod's.
    pub(super) conductance: f64,
    /// Share of the surface that no thread keeps dry.
    pub(super) free: f64,
    /// Index of the section; under a thread it ends at the thread's middle.
    pub(super) section: usize,
}

/// Cuts a stretch of the rod where a thread or its pressure begins or ends, and at the middle of each thread.
pub(super) fn pieces(binds: &[RodBind], from_mm: f64, to_mm: f64) -> Vec<Piece> {
    let edges = |bind: &RodBind| {
        let half = 0.5 * bind.breadth_mm;
        let pressed = half + bind.effect.beyond_mm;
        [-pressed, -half, 0.0, half, pressed].map(|away| bind.along_mm + away)
    };
    let mut cuts: Vec<f64> = binds.iter().flat_map(edges).filter(|&cut| from_mm < cut && cut < to_mm).collect();
    cuts.extend([from_mm, to_mm]);
    cuts.sort_by(f64::total_cmp);
    let long_enough = cuts.windows(2).filter(|cut| cut[1] > cut[0]);
    long_enough.map(|cut| piece(binds, 0.5 * (cut[0] + cut[1]), (cut[1] - cut[0]) / (to_mm - from_mm))).collect()
}

/// The same of a ring that is so long: what lies near its zero is pressed from both sides of it, and the section before the first bind is
/// the one after the last.
pub(super) fn pieces_of_ring(binds: &[RodBind], length_mm: f64, from_mm: f64, to_mm: f64) -> Vec<Piece> {
    let (Some(first), Some(last)) = (binds.first(), binds.last()) else { return pieces(binds, from_mm, to_mm) };
    let turned = |bind: &RodBind, by_mm: f64| RodBind { along_mm: bind.along_mm + by_mm, ..*bind };
    let mut round = vec![turned(last, -length_mm)];
    round.extend_from_slice(binds);
    round.push(turned(first, length_mm));
    let own = |piece: Piece| Piece { section: piece.section.saturating_sub(1) % binds.len(), ..piece };
    pieces(&round, from_mm, to_mm).into_iter().map(own).collect()
}

fn piece(binds: &[RodBind], middle_mm: f64, share: f64) -> Piece {
    let mut piece = Piece { share, conductance: 1.0, free: 1.0, section: section(binds, middle_mm) };
    for bind in binds {
        let beyond_mm = (middle_mm - bind.along_mm).abs() - 0.5 * bind.breadth_mm;
        if beyond_mm < bind.effect.beyond_mm {
            piece.conductance = piece.conductance.min(bind.effect.conductance);
        }
        if beyond_mm < 0.0 {
            piece.free = piece.free.min(1.0 - bind.effect.cover);
        }
    }
    piece
}

/// Exponent by which the roundness that several binds give adds up: so high that the nearest rules, and where two are equally near
/// the sum has no kink that would show as a line across the cloth (our own judgement).
const NEAREST_RULES: i32 = 4;

/// How round the rod is there: 1 under a bind, falling to 0 where it has sprung back flat.
#[must_use]
pub fn roundness(binds: &[RodBind], along_mm: f64, flat_after_diameters: f64) -> f64 {
    let near = |bind: &RodBind| {
        let away = (along_mm - bind.along_mm) / (flat_after_diameters * bind.diameter_mm).max(f64::MIN_POSITIVE);
        (-away * away).exp()
    };
    let sum: f64 = binds.iter().map(|bind| near(bind).powi(NEAREST_RULES)).sum();
    sum.powf(1.0 / f64::from(NEAREST_RULES)).min(1.0)
}

/// Index of the section that a place along a ring lies in: that before the first bind is the one after the last.
pub(super) fn section_of_ring(binds: &[RodBind], along_mm: f64) -> usize {
    section(binds, along_mm) % binds.len().max(1)
}

/// Index of the section that a place along the rod lies in, from the tip outward.
pub(super) fn section(binds: &[RodBind], along_mm: f64) -> usize {
    binds.partition_point(|bind| bind.along_mm <= along_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stretch_is_cut_at_every_edge_and_loses_nothing() {
        let effect = BindEffect { conductance: 0.1, cover: 0.9, beyond_mm: 1.0 };
        let bind = |along_mm: f64| RodBind { along_mm, breadth_mm: 4.0, diameter_mm: 30.0, effect };
        let binds = [bind(10.0), bind(15.5)];
        let found = pieces(&binds, 6.0, 14.0);
        let expected = [(1.0, 1.0, 1.0, 0), (1.0, 0.1, 1.0, 0), (2.0, 0.1, 0.1, 0), (2.0, 0.1, 0.1, 1), (0.5, 0.1, 1.0, 1)];
        let expected = expected.into_iter().chain([(0.5, 0.1, 1.0, 1), (0.5, 0.1, 1.0, 1), (0.5, 0.1, 0.1, 1)]);
        let sums = |pieces: &mut dyn Iterator<Item = (f64, f64, f64, usize)>| {
            pieces.fold([0.0; 3], |[a, b, c], (mm, conductance, free, section)| {
                [a + mm, b + mm * conductance * free, c + mm * (section as f64)]
            })
        };
        let found = sums(&mut found.iter().map(|piece| (8.0 * piece.share, piece.conductance, piece.free, piece.section)));
        let expected = sums(&mut expected.into_iter());
        assert!(found.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-12), "{found:?} {expected:?}");
    }

    /// A band a little beyond a ring's zero presses the end of the ring too, and parts the same two sections there.
    #[test]
    fn a_band_presses_over_a_rings_zero() {
        let effect = BindEffect { conductance: 0.05, cover: 0.9, beyond_mm: 1.0 };
        let binds = [1.0, 40.0, 70.0].map(|along_mm| RodBind::band(along_mm, 4.0, effect));
        let before = pieces_of_ring(&binds, 100.0, 96.0, 100.0);
        assert_eq!(before.iter().map(|piece| piece.section).collect::<Vec<_>>(), [0, 0]);
        // Six millimetres broad at the rim: from 98 on.
        let dry: f64 = before.iter().filter(|piece| piece.free < 0.5).map(|piece| piece.share).sum();
        assert!((dry - 0.5).abs() < 1e-12 && before.iter().all(|piece| piece.conductance >= 0.5), "{before:?}");
        let after = pieces_of_ring(&binds, 100.0, 0.0, 4.0);
        assert_eq!(after.iter().map(|piece| piece.section).collect::<Vec<_>>(), [0, 1]);
        assert_eq!([0.5, 20.0, 50.0, 90.0].map(|along_mm| section_of_ring(&binds, along_mm)), [0, 1, 2, 0]);
    }
}
