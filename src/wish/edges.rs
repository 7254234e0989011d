//! Where the parts of a wish end, and which of them meet.

use super::wish::{Tint, Wish, WishColour};
use std::ops::Range;

/// Parts that end and begin this near to each other meet, mm: half a mark of a rule.
const MEET_MM: f64 = 0.5;
/// How far from where a bind is meant to be it counts as the one meant, mm: more than half of the coarsest marks of a rule (own choice).
const MEANT_MM: f64 = 7.0;
/// What a bind beside the place that it is meant for costs, by the square of how far, in mm: more than a line gains by lying over the part that
/// it differs less from (own judgement, tried on rings with known edges).
const BESIDE_COST: f64 = 2000.0;

/// The edges of a wish's parts, mm from the tip.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Edges {
    /// Where two parts meet of which neither keeps the garment's colour: a bind is wished there.
    shared_mm: Vec<f64>,
    /// Where binds are meant to be: on shared edges, and half a line beyond free ones. Beside each how near to it a bind can be, mm.
    meant_mm: Vec<[f64; 2]>,
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
        let meant_mm = shared_mm.iter().map(|edge_mm| [*edge_mm, 0.0]).collect();
        Self { shared_mm, meant_mm, kept_mm }
    }

    /// Notes where a bind is meant to be for an edge that no other dyed part shares, the line there being so broad to either side.
    pub(super) fn add_free(&mut self, edge_mm: f64, is_outer: bool, half_line_mm: f64) {
        self.meant_mm.push([if is_outer { edge_mm + half_line_mm } else { edge_mm - half_line_mm }, 0.0]);
    }

    /// Notes how near to where they are meant binds can be that lie on marks.
    pub(super) fn settle(&mut self, nearest_mm: impl Fn(f64) -> Option<f64>) {
        for [meant_mm, least_mm] in &mut self.meant_mm {
            *least_mm = nearest_mm(*meant_mm).map_or(0.0, |mark_mm| (mark_mm - *meant_mm).abs());
        }
    }

    /// What a bind costs for not lying on the edge that it is meant for, or beyond it where that is free.
    pub(super) fn cost(&self, at_mm: f64) -> f64 {
        if self.kept_mm.iter().any(|kept_mm| kept_mm.contains(&at_mm)) {
            return 0.0;
        }
        let away = self.meant_mm.iter().map(|[meant_mm, least_mm]| [(meant_mm - at_mm).abs(), *least_mm]);
        let nearest = away.filter(|[away_mm, _]| *away_mm < MEANT_MM).min_by(|a, b| a[0].total_cmp(&b[0]));
        nearest.map_or(0.0, |[away_mm, least_mm]| BESIDE_COST * (away_mm * away_mm - least_mm * least_mm).max(0.0))
    }

    /// Whether a part's edge is shared.
    pub(super) fn is_shared(&self, edge_mm: f64) -> bool {
        self.shared_mm.iter().any(|shared_mm| (shared_mm - edge_mm).abs() < MEET_MM)
    }
}
