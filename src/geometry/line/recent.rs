//! The parallels that were asked for last: a bind's length, its area, its pleats and its drawing all begin with the same one.

use super::chain::Chain;
use super::parallel::{Part, whole};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};

/// Parallels that are kept: more than anyone binds on one garment.
const KEPT: usize = 64;

/// A parallel between its ridges, by the bits of its distance.
type Kept = (u64, Arc<Vec<Part>>);

/// The parallels that were asked for last, shared by clones of a fold.
#[derive(Debug, Clone, Default)]
pub(super) struct Recent(Arc<Mutex<VecDeque<Kept>>>);

impl Recent {
    /// The parallel of the fold's line at a distance between its ridges.
    pub(super) fn whole(&self, chain: &Chain, distance_mm: f64) -> Arc<Vec<Part>> {
        let key = distance_mm.to_bits();
        let kept = || self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, parts)) = kept().iter().find(|(of, _)| *of == key) {
            return Arc::clone(parts);
        }
        let parts = Arc::new(whole(chain, distance_mm));
        let mut kept = kept();
        if kept.len() == KEPT {
            kept.pop_front();
        }
        kept.push_back((key, Arc::clone(&parts)));
        parts
    }
}
