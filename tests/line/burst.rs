//! The burst is the line that is a point.

use crate::bodies::{spec, tee};
use crate::common::seeded::seeded;
use kurbo::BezPath;
use pleatwright::geometry::*;
use proptest::prelude::*;

fn both(centring: Centring, x_mm: f64, count: u32) -> (BurstFold, LineFold) {
    let centre = Centre::BelowShoulder { from_centre_line_mm: x_mm, below_shoulder_mm: 300.0 };
    let pleats = Pleats::Count { count };
    let burst = BurstSpec { centring, centre, guide_radius_mm: 235.0, further_arcs_mm: vec![], pleats };
    let mut path = BezPath::new();
    path.move_to((x_mm, 300.0));
    let line = LineSpec { guide_mm: 235.0, pleats, ..spec(centring, LineKind::Point, path) };
    (BurstFold::new(Burst::new(&burst, &tee()).unwrap(), tee()), LineFold::new(&line, tee()).unwrap())
}

proptest! {
    #![proptest_config(seeded(63, 300))]

    #[test]
    fn a_point_is_a_burst(
        (centring, x, count) in prop_oneof![
            Just((Centring::Nested, 0.0, 19)), Just((Centring::PlainHalf, 88.0, 18)), Just((Centring::Open, -60.0, 24))
        ],
        at_x in -400.0..400.0, at_y in 0.0..720.0, back: bool,
    ) {
        let (burst, line) = both(centring, x, count);
        let point = ClothPoint { panel: if back { Panel::Back } else { Panel::Front }, x_mm: at_x, y_mm: at_y };
        let (theirs, own) = (burst.to_bundle(point).unwrap(), line.to_bundle(point).unwrap());
        prop_assert_eq!(own.place, theirs.place);
        prop_assert!((own.along_mm - theirs.along_mm).abs() <= 1e-12 * theirs.along_mm.max(1.0), "{:?} {:?}", own, theirs);
        prop_assert!((own.across - theirs.across).abs() <= 1e-12, "{:?} {:?}", own, theirs);
    }
}

#[test]
fn its_cuts_pleats_and_joins_are_the_bursts() {
    for (centring, x, count) in [(Centring::Nested, 0.0, 19), (Centring::PlainHalf, 88.0, 18), (Centring::Open, -60.0, 24)] {
        let (burst, line) = both(centring, x, count);
        assert_eq!((line.pleats(), line.extent().layers), (burst.burst().pleats(), burst.extent().layers));
        assert!((line.length_mm() - burst.length_mm()).abs() < 1e-9, "{} {}", line.length_mm(), burst.length_mm());
        for place in 0..burst.places() {
            assert_eq!(line.mates(place), burst.mates(place), "{centring:?} {place}");
        }
        for along_mm in [3.0, 60.0, 200.0, 333.0] {
            assert!((line.width_mm(along_mm) - burst.width_mm(along_mm)).abs() < 40.0);
            for panel in Panel::BOTH {
                let (own, theirs) = (*line.cut(along_mm).of(panel), *burst.cut(along_mm).of(panel));
                assert!((own.cloth_mm - theirs.cloth_mm).abs() < 1e-6, "{own:?} {theirs:?}");
                assert!((own.area_mm2 - theirs.area_mm2).abs() < 1e-6, "{own:?} {theirs:?}");
            }
        }
        assert_eq!(line.unflat(), Unflat { bunched_mm2: 0.0, lone_ends_mm: vec![], bow_mm: 0.0 });
        assert_eq!(line.pins(), burst.pins());
        assert_eq!(line.creases(40.0).len(), burst.creases(40.0).len());
    }
}
