//! Places of the opened cloth, found in the bundle once and read from one solution after another.

use super::RodDoses;
use super::table::{DoseTable, for_lanes};
use crate::geometry::{BundlePoint, ClothPoint};
use crate::layout::{DyeFields, Layout};
use rayon::prelude::*;

/// Places of a layout's cloth, laid by an exact hand, and where each came to lie in the bundle.
#[derive(Debug, Clone)]
pub struct Reading {
    places: Vec<(ClothPoint, Option<BundlePoint>)>,
}

/// Doses at such places, in their order.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ReadDoses {
    /// For each place one dose of each field of the dyes ([`DyeFields`]).
    pub dyes: Vec<f32>,
    /// For each place the dose of the bath; 0 without one.
    pub bath: Vec<f32>,
}

/// Places read by one thread before the next.
const BLOCK: usize = 4096;

impl Reading {
    /// Finds them; how a layout is dyed does not matter.
    #[must_use]
    pub fn of(layout: &Layout, places: &[ClothPoint]) -> Self {
        let fold = layout.fold();
        Self { places: places.par_iter().map(|&place| (place, fold.to_bundle(place))).collect() }
    }

    /// Where each place came to lie; none that are not part of the bundle.
    pub fn in_bundle(&self) -> impl Iterator<Item = Option<BundlePoint>> + '_ {
        self.places.iter().map(|(_, there)| *there)
    }

    /// Reads a solution for a layout that is folded as the one that the places were found for. Where nothing lies, doses are 0.
    #[must_use]
    pub fn doses(&self, layout: &Layout, rod: &RodDoses) -> ReadDoses {
        self.doses_of(&DyeFields::of(&layout.raw().colours.rotation), layout, rod)
    }

    /// The same of a solution whose doses are kept as these fields.
    #[must_use]
    pub fn doses_of(&self, fields: &DyeFields, layout: &Layout, rod: &RodDoses) -> ReadDoses {
        let (dyes, reach_mm) = (fields.len(), layout.process().dye_reach().along_mm);
        let table = DoseTable::new(layout.fold(), rod, fields, reach_mm);
        let mut read = ReadDoses { dyes: vec![0.0; self.places.len() * dyes], bath: vec![0.0; self.places.len()] };
        // Without dyes a place has no doses, and chunks can't be empty.
        let mut rest = read.dyes.chunks_mut((BLOCK * dyes).max(1));
        let of_dyes: Vec<&mut [f32]> = self.places.chunks(BLOCK).map(|_| rest.next().unwrap_or_default()).collect();
        let blocks = self.places.par_chunks(BLOCK).zip(of_dyes).zip(read.bath.par_chunks_mut(BLOCK));
        blocks.for_each(|((places, of_dyes), of_bath)| {
            for_lanes!(table.lanes(), L => {
                for (at, (cloth, there)) in places.iter().enumerate() {
                    let Some(there) = there else { continue };
                    let doses: [f32; L] = table.at_cloth(layout.fold(), *cloth, there);
                    of_dyes[at * dyes..][..dyes].copy_from_slice(&doses[..dyes]);
                    of_bath[at] = doses[table.bath()];
                }
            });
        });
        read
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Panel;
    use crate::layout::Hand;
    use crate::reveal::{Cancel, RevealOptions, reveal_doses};
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// What is read at the middles of pixels is what the reveal shows there.
    #[test]
    fn places_read_what_the_reveal_shows() {
        let mut spec = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
        spec.process.hand = Hand::EXACT;
        let layout = Layout::try_from(spec).unwrap();
        let reveal = reveal_doses(&layout, &RevealOptions::preview(), &Cancel::new()).unwrap();
        let map = reveal.map(Panel::Front).unwrap();
        let pixels: Vec<usize> = (0..map.coverage.len()).filter(|at| map.coverage[*at] > 0.0).step_by(97).collect();
        let place = |at: &usize| {
            let drawn = map.frame.middle(at % map.frame.width, at / map.frame.width);
            ClothPoint { panel: Panel::Front, x_mm: drawn.x, y_mm: drawn.y }
        };
        let reading = Reading::of(&layout, &pixels.iter().map(place).collect::<Vec<_>>());
        let read = reading.doses(&layout, &reveal.rod);
        assert!(pixels.len() > 100);
        for (number, at) in pixels.iter().enumerate() {
            assert_eq!(read.dyes[3 * number..][..3], map.doses[3 * at..][..3]);
        }
        let gone = |dose: &f32| layout.process().discharged_share(f64::from(*dose));
        let off = read.bath.iter().zip(&pixels).map(|(dose, at)| (gone(dose) - f64::from(map.discharged[*at])).abs());
        assert!(off.fold(0.0, f64::max) < 1e-3);
    }
}
