//! Where the parts of a wish end, and which of them meet.

use super::wish::{Tint, Wish, WishColour};

/// Parts that end and begin this near to each other meet, mm: half a mark of a rule.
const MEET_MM: f64 = 0.5;
/// How far from a shared edge a bind counts as meant for it, mm: more than half of the coarsest marks of a rule (own choice).
const MEANT_MM: f64 = 7.0;
/// What a bind beside the shared edge that it is meant for costs, by the square of how far, in mm: as much as a difference of 16 over a
/// millimetre for each (own judgement, tried on rings with known edges).
const BESIDE_COST: f64 = 250.0;

/// The edges of a wish's parts, mm from the tip.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Edges {
    /// Where two parts meet of which neither keeps the garment's colour: a bind is wished there.
    pub(super) shared_mm: Vec<f64>,
}

impl Edges {
    pub(super) fn of(wish: &Wish, zero_mm: f64, length_mm: f64) -> Self {
        let dyed = || wish.parts.iter().filter(|part| part.colour != WishColour::Even(Tint::Garment));
        let meets = |to_mm: f64| dyed().any(|other| (other.from_mm - to_mm).abs() < MEET_MM);
        let mut shared_mm: Vec<f64> = dyed().filter(|part| meets(part.to_mm)).map(|part| zero_mm + part.to_mm).collect();
        shared_mm.retain(|edge_mm| *edge_mm > 0.0 && *edge_mm < length_mm);
        shared_mm.sort_by(f64::total_cmp);
        Self { shared_mm }
    }

    /// What a bind costs for not lying on the shared edge that it is meant for.
    pub(super) fn cost(&self, at_mm: f64) -> f64 {
        let away_mm = self.shared_mm.iter().map(|edge_mm| (edge_mm - at_mm).abs()).fold(f64::INFINITY, f64::min);
        if away_mm < MEANT_MM { BESIDE_COST * away_mm * away_mm } else { 0.0 }
    }

    /// Whether a part's edge is shared.
    pub(super) fn is_shared(&self, edge_mm: f64) -> bool {
        self.shared_mm.iter().any(|shared_mm| (shared_mm - edge_mm).abs() < MEET_MM)
    }
}
