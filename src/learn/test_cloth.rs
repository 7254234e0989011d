//! The test cloth: three squares to be tied, dyed and photographed in one day, which together show most values.
//!
//! Where a thread lets dye through, neighbouring sections get different dyes: what came over shows by its hue. An open square with its rod on
//! its creases shows both rows of creases, the fed and the other.
//!
//! Two dyes in turn rather than every other section bare: on seven drawn squares each, with values planted by 0.7 of what is believed of them, what was
//! learned of thread was off by these logarithms (root of the mean square), and its error bar as wide:
//!
//! | value | two dyes in turn | every other section bare |
//! |---|---|---|
//! | string lets through | 0.25, 0.40 | 0.33, 0.45 |
//! | string presses | 0.54, 0.80 | 0.56, 0.81 |
//! | band lets through | 0.12, 0.39 | 0.24, 0.41 |
//! | band presses | 0.15, 0.31 | 0.28, 0.44 |
//!
//! Reaches, wetness and ice came out alike within 0.04. Every third section bare between two dyes was no better than none.

use crate::geometry::{
    BurstSpec, Centre, Centring, GarmentKind, Measure, Pleats, Progression, RawMeasures, SpacingSpec, Thread, ThreadKind,
};
use crate::layout::{Colours, Discharge, Dryness, FoldSpec, GarmentSpec, IceLayers, LayoutSpec, Limits, Process, Srgb, Swatch};
use crate::measure::RuleMarks;

/// Side of a square, mm: of a small bandana.
const SIDE_MM: f64 = 440.0;
/// Radius of the arc that it is pleated along, mm.
const GUIDE_MM: f64 = 120.0;
const PLEATS: u32 = 16;
/// From bind to bind within the arc and beyond it, mm.
const INWARD_MM: [f64; 4] = [24.0; 4];
const OUTWARD_MM: [f64; 5] = [30.0; 5];

/// One of the squares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TestSquare {
    /// Its letter.
    pub letter: char,
    /// What is done to it, in a sentence.
    pub about: &'static str,
    thread: ThreadKind,
    inside: Dryness,
    ice_layers: u32,
    is_discharged: bool,
}

/// The squares, in their order.
pub const TEST_CLOTH: [TestSquare; 3] = [
    TestSquare {
        letter: 'A',
        about: "coloured cloth, waxed thread, discharged, dyed dry, one dye everywhere",
        thread: ThreadKind::Waxed,
        inside: Dryness::Dry,
        ice_layers: 1,
        is_discharged: true,
    },
    TestSquare {
        letter: 'B',
        about: "white cloth, plain string, dyed damp, two dyes in turn",
        thread: ThreadKind::PlainString,
        inside: Dryness::Damp,
        ice_layers: 1,
        is_discharged: false,
    },
    TestSquare {
        letter: 'C',
        about: "white cloth, rubber bands, dyed wet under two layers of ice, two dyes in turn",
        thread: ThreadKind::RubberBand,
        inside: Dryness::Wet,
        ice_layers: 2,
        is_discharged: false,
    },
];

fn swatch(name: &str, [red, green, blue]: [u8; 3]) -> Swatch {
    Swatch::plain(name, Srgb { red, green, blue })
}

impl TestSquare {
    /// Its layout. The maker writes in the colours of the cloth and of the dye.
    #[must_use]
    pub fn layout(&self) -> LayoutSpec {
        let mut measures = RawMeasures::default();
        for measure in [Measure::ClothWidth, Measure::ClothHeight] {
            measures.set(measure, Some(SIDE_MM));
        }
        let garment = GarmentSpec { measures, ..GarmentSpec::of(GarmentKind::FlatCloth) };
        let garment = if self.is_discharged {
            let (colour, discharged) = (swatch("plum", [0x5a, 0x10, 0x30]), swatch("sand", [0xe2, 0xc4, 0xa0]));
            GarmentSpec { colour: Some(colour), discharged: Some(discharged), ..garment }
        } else {
            GarmentSpec { colour: Some(swatch("white", [0xf5, 0xf3, 0xea])), ..garment }
        };
        let teal = swatch("teal", [0x0f, 0x7c, 0x8a]);
        let rotation = if self.is_discharged { vec![teal] } else { vec![teal, swatch("amber", [0xd9, 0x9a, 0x1e])] };
        LayoutSpec {
            name: format!("Test cloth {}", self.letter),
            note: format!("For learning calibration: {}. Rod on its creases.", self.about),
            garment,
            fold: FoldSpec::Burst(BurstSpec {
                centring: Centring::Open,
                centre: Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 0.5 * SIDE_MM },
                guide_radius_mm: GUIDE_MM,
                further_arcs_mm: Vec::new(),
                pleats: Pleats::Count { count: PLEATS },
            }),
            binds: SpacingSpec {
                inward: Progression::List { gaps_mm: INWARD_MM.to_vec() },
                outward: Progression::List { gaps_mm: OUTWARD_MM.to_vec() },
                marks: RuleMarks::Millimetres1,
                smallest_gap_mm: None,
                edits: Vec::new(),
            },
            blocks: None,
            wrap: None,
            ties: None,
            dips: Vec::new(),
            thread: Thread { kind: self.thread, ..Thread::default() },
            colours: Colours { rotation, ..Colours::default() },
            process: Process {
                discharge: self.is_discharged.then(Discharge::default),
                inside: self.inside,
                ice_layers: IceLayers(self.ice_layers),
                ..Process::default()
            },
            limits: Limits::default(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Layout;
    use crate::learn::{LearnedValue, shown_by};

    /// None is warned of, so that a maker who checks them finds nothing to mend.
    #[test]
    fn no_square_is_warned_of() {
        for square in TEST_CLOTH {
            let layout = Layout::try_from(square.layout()).unwrap();
            let warnings = crate::layout::Figures::of(&layout).warnings;
            assert!(warnings.is_empty(), "{}: {warnings:?}", square.letter);
        }
    }

    /// Together they show everything that can be learned.
    #[test]
    fn the_squares_show_every_value() {
        let layouts = TEST_CLOTH.map(|square| Layout::try_from(square.layout()).unwrap());
        for value in LearnedValue::ALL {
            assert!(layouts.iter().any(|layout| shown_by(layout).contains(&value)), "{value:?}");
        }
    }
}
