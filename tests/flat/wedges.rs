//! Wedges laid to and fro are a burst's pleats: only where they are bound differs.

use crate::bodies::{LAYER_MM, at, fold, spec, tee};
use crate::common::seeded::seeded;
use kurbo::Point;
use pleatwright::geometry::*;
use proptest::prelude::*;

proptest! {
    #![proptest_config(seeded(93, 400))]

    /// The same place, as far from the tip, and at the same share of the angle between two creases.
    #[test]
    fn wedges_on_the_fold_are_a_burst(
        half in 2..18_u32, nested: bool, at_x in -400.0..400.0, at_y in 0.0..720.0, back: bool,
    ) {
        let centring = if nested { Centring::Nested } else { Centring::PlainHalf };
        let centre = at(0.0, 300.0);
        let pattern = FlatPattern::Wedges { wedges: 2 * half, centre, first: WedgesFirst::OnTheFold };
        let flat = fold(&spec(centring, pattern, Pack::Zigzag), tee());
        let pleats = Pleats::Count { count: half };
        let burst = BurstSpec { centring, centre, guide_radius_mm: 235.0, further_arcs_mm: vec![], pleats };
        let burst = BurstFold::new(Burst::new(&burst, &tee()).unwrap(), tee());
        prop_assert_eq!(burst.burst().pleats(), half);

        let point = ClothPoint { panel: if back { Panel::Back } else { Panel::Front }, x_mm: at_x, y_mm: at_y };
        let (theirs, own) = (burst.to_bundle(point).unwrap(), flat.to_bundle(point).unwrap());
        prop_assert_eq!(own.place, theirs.place);
        // The bundle's tip is the outline's corner nearest to where it begins.
        let tip = *flat.outline().iter().min_by(|a, b| a.x.total_cmp(&b.x)).unwrap();
        let there = Point::new(own.along_mm, own.across * flat.size().height) - tip;
        // Off the cloth what is beyond the bundle's sides is put onto them.
        if flat.has_cloth(point) {
            prop_assert!((there.hypot() - theirs.along_mm).abs() < 1e-9, "{own:?} {theirs:?}");
            let wedge_rad = std::f64::consts::PI / f64::from(half);
            let share = there.y.atan2(there.x) / wedge_rad + 0.5;
            prop_assert!((share - theirs.across).abs() < 1e-9 / theirs.along_mm.max(1e-3), "{share} {theirs:?}");
        }
    }
}

/// A section between two straight binds across a wedge is as much cloth as trigonometry says, where nothing is missing.
#[test]
fn a_bind_across_a_wedge_cuts_off_a_triangle() {
    let pattern = FlatPattern::Wedges { wedges: 8, centre: at(0.0, 320.0), first: WedgesFirst::HalfFold { angle_deg: 0.0 } };
    let fold = FlatFold::new(&spec(Centring::Open, pattern, Pack::Zigzag), crate::bodies::square(640.0), LAYER_MM).unwrap();
    let half_width = 2.0 * (std::f64::consts::PI / 8.0).tan();
    for along_mm in [30.0, 100.0, 200.0] {
        let Cut { cloth_mm, area_mm2 } = fold.cut(along_mm).front;
        assert!((cloth_mm - 8.0 * along_mm * half_width).abs() < 1e-8, "{cloth_mm}");
        assert!((area_mm2 - 4.0 * along_mm * along_mm * half_width).abs() < 1e-7, "{area_mm2}");
        assert!((fold.width_mm(along_mm) - along_mm * half_width).abs() < 1e-7);
        let size = rod_size(&fold, &Cloth::default(), along_mm);
        assert!((size.layers - 8.0).abs() < 1e-7, "{size:?}");
        assert!((fold.held_girth_mm(along_mm, 0.6) - 2.0 * (along_mm * half_width + 8.0 * 0.6)).abs() < 1e-6);
    }
}
