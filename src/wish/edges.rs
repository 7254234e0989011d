//! Where the parts of a wish end, and which of them meet.

use super::wish::{Tint, Wish, WishColour};
use std::ops::Range;

/// Parts that end and begin this near to each other meet, mm: half a mark of a rule.
const MEET_MM: f64 = 0.5;
/// How far from where a bind is meant to be it counts as the one meant, mm: more than half of the coarsest marks of a rule (own choice).
const MEANT_MM: f64 = 7.0;
/// What a bind beside the place that it is meant for costs, by the square of how far, in mm: more than rows of pale tint beyond
/// an edge, which would else draw it inward (own judgement, tried on rings with known edges).
const BESIDE_COST: f64 = 600.0;

/// The edges of a wish's parts, mm from the tip.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Edges {
    /// Where two parts meet of which neither keeps the garment's colour: a bind is wished there.
    shared_mm: Vec<f64>,
    /// Where binds are meant to be for free edges: half a line beyond each.
    beyond_mm: Vec<f64>,
    /// Where the garment's colour is to be kept: binds may lie anywhere in it.
    kept_mm: Vec<Range<f64>>,
}

impl Edges {
    pub(super) fn of(wish: &Wish, zero_mm: f64, length_mm: f64) -> Self {
        let dyed = || wish.parts.iter().filter(|part| part.colour != WishColour::Even(Tint::Garment));
        let meets = |to_mm: f64| dyed().any(|other| (other.from_mm - to_mm).abs() < MEET_MM);
        let mut shared_mm: Vec<f64> = dyed().filter(|part| meets(part.to_mm)).map(|part| zero_mm + part.to_mm).collect();
        shared_mm.retain(|edge_mm| *edge_mm > 0.0 && *edge_mm < length_mm);
        shared_mm.sort_by(f64::total_cmp);
        let kept = wish.parts.iter().filter(|part| part.colour == WishColour::Even(Tint::Garment));
        let kept_mm = kept.map(|part| zero_mm + part.from_mm..zero_mm + part.to_mm).collect();
        Self { shared_mm, beyond_mm: Vec::new(), kept_mm }
    }

    /// Notes where a bind is meant to be for an edge that no other dyed part shares, the line there being so broad to either side.
    pub(super) fn add_free(&mut self, edge_mm: f64, is_outer: bool, half_line_mm: f64) {
        self.beyond_mm.push(if is_outer { edge_mm + half_line_mm } else { edge_mm - half_line_mm });
    }

    /// What a bind costs for not lying on the edge that it is meant for, or beyond it where that is free.
    pub(super) fn cost(&self, at_mm: f64) -> f64 {
        let away_mm =
            self.shared_mm.iter().chain(&self.beyond_mm).map(|meant_mm| (meant_mm - at_mm).abs()).fold(f64::INFINITY, f64::min);
        let is_kept = self.kept_mm.iter().any(|kept_mm| kept_mm.contains(&at_mm));
        if away_mm < MEANT_MM && !is_kept { BESIDE_COST * away_mm * away_mm } else { 0.0 }
    }

    /// Whether a part's edge is shared.
    pub(super) fn is_shared(&self, edge_mm: f64) -> bool {
        self.shared_mm.iter().any(|shared_mm| (shared_mm - edge_mm).abs() < MEET_MM)
    }
}
