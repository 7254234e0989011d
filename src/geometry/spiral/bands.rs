//! Bands over a puck: where they cross its rim.

use super::Spiral;
use crate::geometry::{Bind, BindId, BindOrigin, Placed, Solved};

impl Spiral {
    /// The band that a crossing belongs to, from 1; none of a bind added by hand.
    #[must_use]
    pub fn band_of(&self, crossing: BindId) -> Option<u32> {
        Some(u32::try_from(crossing.edit_number()?).ok()? % self.spec().bands + 1)
    }

    /// Its bands as binds along the rim. Each goes through the middle, so that it crosses the rim twice; crossings are even all round,
    /// and numbered clockwise from that of the first band.
    ///
    /// Places lie in `(0, rim]`: what crosses at the zero counts as at the end, so that the first wedge begins at the zero.
    #[must_use]
    pub fn placed_bands(&self) -> Placed {
        let (crossings, rim_mm) = (2 * self.spec().bands, self.rim_mm());
        let at_mm = |crossing: u32| {
            let turn = self.spec().first_band_deg / 360.0 + f64::from(crossing) / f64::from(crossings);
            rim_mm * (1.0 - (-turn).rem_euclid(1.0))
        };
        let bind = |(id, crossing)| Bind {
            id: BindId::Numbered(id),
            radius_mm: at_mm(crossing),
            origin: BindOrigin::Progression,
            rounded_from_mm: None,
        };
        let mut binds: Vec<Bind> = (0_i32..).zip(0..crossings).map(bind).collect();
        binds.sort_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
        Placed { binds, inward: Solved::default(), outward: Solved::default() }
    }
}
