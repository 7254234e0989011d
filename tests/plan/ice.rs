//! Ice: how much lies on a rod.

use crate::{assert_close, layout, process, recipe};
use pleatwright::geometry::{Centring, Pleats};
use pleatwright::layout::{Figures, Layout, Rest, SectionFigures};
use pleatwright::measure::LengthStyle;
use pleatwright::plan::*;
use pleatwright::reveal::rod_area_from_above_mm2;

/// A single cloth laid open, the whole circle of 12 pleats on it; binds so far from flattening that the rod is free.
fn open_cloth(rest: Rest) -> Layout {
    let mut raw = layout("harbour-row-bandana.ron").raw().clone();
    raw.fold.burst_mut().unwrap().centring = Centring::Open;
    raw.fold.burst_mut().unwrap().centre =
        pleatwright::geometry::Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: 275.0 };
    raw.fold.burst_mut().unwrap().pleats = Pleats::Count { count: 12 };
    raw.process.rest = rest;
    raw.process.calibration.flat_after_diameters = 0.05;
    Layout::try_from(raw).unwrap()
}

/// By hand: on its flat a free rod is a wedge, as broad as its pleats, pi/12 (b2 - a2); on its creases a beam as broad as the stack of
/// twelve layers of 0.3 mm is high. The layers of ice were once weighed for the wedge, however the rod lay.
#[test]
fn ice_lies_over_the_rod_as_it_rests() {
    let area = |rest: Rest| {
        let layout = open_cloth(rest);
        let binds: Vec<f64> = layout.binds().binds.iter().map(|bind| bind.radius_mm).collect();
        // Half-way between two binds far apart, whose circles lie whole on the cloth of 550 mm.
        let pair = binds.windows(2).find(|pair| pair[0] >= 100.0 && pair[1] - pair[0] > 25.0 && pair[1] < 270.0).unwrap();
        let middle = 0.5 * (pair[0] + pair[1]);
        (middle, rod_area_from_above_mm2(&layout, middle - 5.0, middle + 5.0))
    };
    let (middle, flat) = area(Rest::OnItsFlat);
    let wedge = std::f64::consts::PI / 12.0 * ((middle + 5.0).powi(2) - (middle - 5.0).powi(2));
    assert_close!(flat, wedge, 1e-6 * wedge);
    for rest in [Rest::EdgesUp, Rest::TurnedHalfWay] {
        assert_close!(area(rest).1, 12.0 * 0.3 * 10.0, 1e-6);
    }
}

/// The weight follows the area, which is said: the rod's, seen from above as the test before works it by hand, with a margin of 30 mm on
/// either side. What was once weighed on every rod, for a wedge as broad as its pleats, is too much for one on its creases, whose stack is
/// less high than they are broad.
#[test]
fn ice_is_weighed_and_told_for_how_the_rod_rests() {
    let masses = |name: &str, rest: Rest| {
        let mut raw = layout(name).raw().clone();
        raw.process.rest = rest;
        let layout = Layout::try_from(raw).unwrap();
        let figures = Figures::of(&layout);
        let length_mm: f64 = figures.sections.iter().map(|section| section.length_mm).sum();
        // The margin of 30 mm goes all round: a rectangle as long as the rod and as broad as it is in the mean.
        let with_margin = |area_mm2: f64| (length_mm + 2.0 * 30.0) * (area_mm2 / length_mm + 2.0 * 30.0);
        let wedge = |section: &SectionFigures| {
            let middle = 0.5 * (section.inner_mm + section.outer_mm);
            section.length_mm * layout.fold().width_mm(middle)
        };
        let above = |section: &SectionFigures| rod_area_from_above_mm2(&layout, section.inner_mm, section.outer_mm);
        let wedge_mm2 = with_margin(figures.sections.iter().map(wedge).sum());
        let above_mm2 = with_margin(figures.sections.iter().map(above).sum());
        (GarmentMasses::of(&layout, &figures, &recipe("powder-under-ice"), LengthStyle::default()), wedge_mm2, above_mm2)
    };
    for name in ["tee-m", "tee-2xl", "hooded-top-l", "tote"] {
        let (masses, wedge_mm2, above_mm2) = masses(&format!("harbour-row-{name}.ron"), Rest::EdgesUp);
        assert_close!(masses.ice[0].area_mm2, above_mm2, 1e-9 * above_mm2, "{name}");
        assert!(wedge_mm2 > above_mm2, "{name}: {wedge_mm2} and {above_mm2}");
    }
    let (creases, ..) = masses("harbour-row-hooded-top-l.ron", Rest::EdgesUp);
    let (flat, ..) = masses("harbour-row-hooded-top-l.ron", Rest::OnItsFlat);
    let (on_creases, on_flat) = (&creases.ice[0], &flat.ice[0]);
    assert!(on_flat.ice.value > 1.05 * on_creases.ice.value);
    for ice in [on_creases, on_flat] {
        assert_close!(ice.ice.value, layer_g(ice.area_mm2, 60.0, 0.6), 1e-9 * ice.ice.value);
    }
    assert!(on_creases.over().contains("cm² of rod on its creases") && on_flat.over().contains("cm² of rod on its flat"));
    assert!(on_creases.ice.formula.contains("cm² of rod on its creases and margin"), "{}", on_creases.ice.formula);
    let (turned, ..) = masses("harbour-row-hooded-top-l.ron", Rest::TurnedHalfWay);
    assert_eq!(turned.ice[0].ice.value, on_creases.ice.value);
    let order = Order::of_layout(
        layout("harbour-row-tee-m.ron"),
        recipe("powder-under-ice"),
        process("discharge-and-dye"),
        Workshop::default(),
    );
    let plan = Plan::new(&order.unwrap(), When::Start("2027-05-03T08:00".parse().unwrap())).unwrap();
    let text = plan_text(&plan, false);
    assert!(text.contains("cm² of rod on its creases and margin"), "{text}");
}
