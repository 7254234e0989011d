//! Rings under a hand: which edge it takes hold of, and where that goes.

use crate::wish::{MOST_PARTS, Tint, WishColour, WishPart};

/// Narrowest ring that a hand draws, mm.
const NARROWEST_MM: f64 = 1.0;
/// Edges nearer to each other than this are moved together, mm.
const TOGETHER_MM: f64 = 0.5;

/// Edges that a hand holds: of which ring, and whether it is the outer one.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Grip {
    /// Edges that are there; two where rings meet.
    Edges(Vec<(usize, bool)>),
    /// A ring that is drawn, from here.
    Drawn { ring: usize, from_mm: f64 },
}

/// Takes hold of the nearest edge within reach, mm; none where there is none so near.
pub(super) fn grip(rings: &[WishPart], at_mm: f64, reach_mm: f64) -> Option<Grip> {
    let edges = || rings.iter().enumerate().flat_map(|(ring, part)| [(ring, false, part.from_mm), (ring, true, part.to_mm)]);
    let nearest = edges().min_by(|a, b| (a.2 - at_mm).abs().total_cmp(&(b.2 - at_mm).abs()))?;
    if (nearest.2 - at_mm).abs() > reach_mm {
        return None;
    }
    let held = edges().filter(|edge| (edge.2 - nearest.2).abs() < TOGETHER_MM).map(|(ring, is_outer, _)| (ring, is_outer));
    Some(Grip::Edges(held.collect()))
}

/// Begins a ring here; none within another, or when there are as many as can be.
pub(super) fn begin(rings: &mut Vec<WishPart>, at_mm: f64, tint: Tint) -> Option<Grip> {
    let is_within = rings.iter().any(|part| part.from_mm <= at_mm && at_mm < part.to_mm);
    if is_within || rings.len() >= MOST_PARTS {
        return None;
    }
    let ring = rings.partition_point(|part| part.to_mm <= at_mm);
    let [_, most_mm] = room(rings, at_mm);
    if most_mm - at_mm < NARROWEST_MM {
        return None;
    }
    let part = WishPart { from_mm: at_mm, to_mm: at_mm + NARROWEST_MM, colour: WishColour::Even(tint), weight: 1.0 };
    rings.insert(ring, part);
    Some(Grip::Drawn { ring, from_mm: at_mm })
}

/// Moves what is held to here; nothing passes another ring.
pub(super) fn drag(rings: &mut [WishPart], grip: &Grip, to_mm: f64) {
    match grip {
        Grip::Drawn { ring, from_mm } => {
            let others: Vec<WishPart> =
                rings.iter().enumerate().filter(|(other, _)| other != ring).map(|(_, part)| part.clone()).collect();
            let [least_mm, most_mm] = room(&others, *from_mm);
            let to_mm = to_mm.clamp(least_mm, most_mm);
            let [mut from, mut to] = [from_mm.min(to_mm), from_mm.max(to_mm)];
            if to - from < NARROWEST_MM {
                to = (from + NARROWEST_MM).min(most_mm);
                from = to - NARROWEST_MM;
            }
            if let Some(part) = rings.get_mut(*ring) {
                (part.from_mm, part.to_mm) = (from, to);
            }
        }
        Grip::Edges(edges) => {
            let [mut least_mm, mut most_mm] = [f64::NEG_INFINITY, f64::INFINITY];
            for &(ring, is_outer) in edges {
                let Some(part) = rings.get(ring) else { return };
                let is_held = |other: usize, outer: bool| edges.contains(&(other, outer));
                if is_outer {
                    least_mm = least_mm.max(part.from_mm + NARROWEST_MM);
                    if let Some(next) = rings.get(ring + 1).filter(|_| !is_held(ring + 1, false)) {
                        most_mm = most_mm.min(next.from_mm);
                    }
                } else {
                    most_mm = most_mm.min(part.to_mm - NARROWEST_MM);
                    if let Some(before) =
                        ring.checked_sub(1).filter(|before| !is_held(*before, true)).and_then(|before| rings.get(before))
                    {
                        least_mm = least_mm.max(before.to_mm);
                    }
                }
            }
            if least_mm > most_mm {
                return;
            }
            let to_mm = to_mm.clamp(least_mm, most_mm);
            for &(ring, is_outer) in edges {
                let part = &mut rings[ring];
                *(if is_outer { &mut part.to_mm } else { &mut part.from_mm }) = to_mm;
            }
        }
    }
}

/// From where to where nothing is wished about here, mm.
fn room(rings: &[WishPart], at_mm: f64) -> [f64; 2] {
    let least_mm = rings.iter().map(|part| part.to_mm).filter(|to_mm| *to_mm <= at_mm).fold(f64::NEG_INFINITY, f64::max);
    let most_mm = rings.iter().map(|part| part.from_mm).filter(|from_mm| *from_mm >= at_mm).fold(f64::INFINITY, f64::min);
    [least_mm, most_mm]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(from_mm: f64, to_mm: f64) -> WishPart {
        WishPart { from_mm, to_mm, colour: WishColour::Even(Tint::Garment), weight: 1.0 }
    }

    fn ends(rings: &[WishPart]) -> Vec<[f64; 2]> {
        rings.iter().map(|part| [part.from_mm, part.to_mm]).collect()
    }

    #[test]
    fn rings_that_meet_are_moved_by_their_edge_and_pass_nothing() {
        let mut rings = vec![ring(10.0, 30.0), ring(30.0, 50.0), ring(60.0, 80.0)];
        let held = grip(&rings, 31.5, 3.0).unwrap();
        assert_eq!(held, Grip::Edges(vec![(0, true), (1, false)]));
        drag(&mut rings, &held, 42.0);
        assert_eq!(ends(&rings), [[10.0, 42.0], [42.0, 50.0], [60.0, 80.0]]);
        drag(&mut rings, &held, 90.0);
        assert_eq!(ends(&rings), [[10.0, 49.0], [49.0, 50.0], [60.0, 80.0]]);
        let outer = grip(&rings, 51.0, 3.0).unwrap();
        drag(&mut rings, &outer, 75.0);
        assert_eq!(ends(&rings), [[10.0, 49.0], [49.0, 60.0], [60.0, 80.0]]);
        assert_eq!(grip(&rings, 70.0, 3.0), None);
    }

    #[test]
    fn a_ring_is_drawn_either_way_between_the_others() {
        let mut rings = vec![ring(10.0, 30.0), ring(60.0, 80.0)];
        let held = begin(&mut rings, 45.0, Tint::Ground).unwrap();
        drag(&mut rings, &held, 52.0);
        assert_eq!(ends(&rings)[1], [45.0, 52.0]);
        drag(&mut rings, &held, 12.0);
        assert_eq!(ends(&rings), [[10.0, 30.0], [30.0, 45.0], [60.0, 80.0]]);
        drag(&mut rings, &held, 45.0);
        assert_eq!(ends(&rings)[1], [45.0, 46.0]);
        assert_eq!(begin(&mut rings, 20.0, Tint::Ground), None);
        assert_eq!(rings.len(), 3);
        let inward = begin(&mut rings, -20.0, Tint::Ground).unwrap();
        assert_eq!(inward, Grip::Drawn { ring: 0, from_mm: -20.0 });
    }
}
