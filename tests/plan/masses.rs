//! What to weigh.

use crate::assert_close;
use crate::common::rows;
use crate::{layout, process, recipe};
use pleatwright::layout::{Figures, Layout, Srgb, Swatch};
use pleatwright::measure::LengthStyle;
use pleatwright::plan::*;
use pleatwright::store::EXAMPLE_LAYOUTS;

/// Published worked example of a dyehouse: 4 kg of dye on 100 kg of cloth is 4 %, and a liquor ratio of 1:10 is 1000 L on 100 kg.
#[test]
fn percent_and_liquor_are_the_trades() {
    assert_close!(dye_g(100_000.0, 4.0, 1.0), 4000.0, 1e-9);
    assert_close!(liquor_l(100_000.0, 10.0), 1000.0, 1e-9);
}

/// NIST Handbook 44, Appendix C: teaspoon and cup, as copied into the table.
#[test]
fn kitchen_measures_are_the_handbooks() {
    let table = rows("units.csv");
    let published = |unit: &str| table.iter().find(|row| row[0] == unit).unwrap()[2].parse::<f64>().unwrap();
    assert_close!(TEASPOON_ML, published("US teaspoon"), 1e-12);
    assert_close!(CUP_ML, published("US cup"), 1e-12);
}

/// PHREEQC with `pitzer.dat` at 25 C (computed): within 0.15 over the strengths of a soak; the ideal formula would be 0.4 too high.
#[test]
fn the_soaks_ph_is_phreeqcs() {
    let mut compared = 0;
    for row in rows("soda_ph.csv") {
        let (grams, pitzer): (f64, f64) = (row[0].parse().unwrap(), row[10].parse().unwrap());
        assert_close!(soda_ash_ph(grams).unwrap(), pitzer, 0.15, "{grams} g/kg");
        compared += u32::from((10.0..=60.0).contains(&grams));
    }
    assert_eq!(compared, 8);
    assert_eq!([0.0, -1.0, f64::NAN, 300.0].map(soda_ash_ph), [None; 4]);
}

/// IAPWS-95 and IAPWS-06 (computed): 333.43 kJ melt a kilogram, within 0.2 % of the handbooks' 334.
#[test]
fn ice_takes_its_enthalpy_of_fusion() {
    assert_close!(melting_heat_kj(1000.0), 333.43, 1e-9);
    assert_close!(melting_heat_kj(1000.0), 334.0, 0.002 * 334.0);
}

/// Computed upper bounds: 281 and 226 mL of sulfur dioxide to the gram, 9.4 and 7.5 ppm in 30 m3.
#[test]
fn sulfur_dioxide_is_bounded() {
    let cases = [(DischargeAgent::SodiumDithionite, 281.0, 9.4), (DischargeAgent::ThioureaDioxide, 226.0, 7.5)];
    for (agent, ml, ppm) in cases {
        assert_close!(agent.so2_ml_per_g(), ml, 0.5);
        assert_close!(agent.so2_ppm(1.0, 30.0), ppm, 0.05);
        assert_close!(agent.so2_ppm(50.0, 60.0), 25.0 * agent.so2_ppm(1.0, 30.0), 1e-9);
    }
    // NIOSH Pocket Guide: one gram in a closed room is above the limit for a quarter of an hour.
    assert!(DischargeAgent::ThioureaDioxide.so2_ppm(1.0, 30.0) > air_limits(Gas::SulfurDioxide, Region::UnitedStates).short_ppm);
}

/// A mixture is weighed as one powder, as much as an unmixed dye; for who mixes it its components are told by their shares.
#[test]
fn a_mixture_is_weighed_as_one_powder() {
    let mixed = layout("harbour-row-slate-tee-m.ron");
    let mut raw = mixed.raw().clone();
    raw.colours.rotation[0].components.clear();
    let plain = Layout::try_from(raw).unwrap();
    let masses = |layout: &Layout| {
        let figures = Figures::of(layout);
        GarmentMasses::of(layout, &figures, &recipe("powder-on-white"), LengthStyle::default())
    };
    let [mixed_masses, plain_masses] = [&mixed, &plain].map(masses);
    let [mixed_dye, plain_dye] = [&mixed_masses, &plain_masses].map(|masses| &masses.dyes[0]);
    assert_eq!(mixed_dye.dye, plain_dye.dye);
    assert_eq!((plain_dye.components.len(), plain_dye.mixing()), (0, None));
    let [(rust, rust_g), (blue, blue_g)] = &mixed_dye.components[..] else { panic!("two components") };
    assert_eq!((rust.as_str(), blue.as_str()), ("rust", "blue"));
    assert_close!(*rust_g, 0.45 * plain_dye.dye.value, 1e-9);
    assert_close!(rust_g + blue_g, plain_dye.dye.value, 1e-9);
    let order = Order::of_garments(mixed, OfGarments::default(), recipe("powder-on-white"), process("plain-dye")).unwrap();
    let plan = Plan::new(&order, When::Start("2027-05-03T08:00".parse().unwrap())).unwrap();
    let text = plan_text(&plan, false);
    assert!(text.contains(&format!("        {}\n", mixed_dye.mixing().unwrap())), "{text}");
}

/// The sections' cloth, coloured and not, is the garment's.
#[test]
fn cloth_of_all_colours_adds_up_to_the_garment() {
    let recipe = recipe("powder-under-ice");
    for example in EXAMPLE_LAYOUTS {
        let layout = layout(example.name);
        let masses = GarmentMasses::of(&layout, &Figures::of(&layout), &recipe, layout.marks().lengths());
        let cloth_g: f64 = masses.dyes.iter().map(|dye| dye.cloth_g).sum::<f64>() + masses.undyed_g;
        assert_close!(cloth_g, masses.dry_g, 1e-9 * masses.dry_g, "{}", example.name);
        for dye in &masses.dyes {
            // 2 % for medium, half as much again for powder.
            assert_close!(dye.dye.value, 0.03 * dye.cloth_g, 1e-12, "{}", example.name);
        }
        assert!(masses.ice.iter().all(|layer| layer.ice.value > 0.0 && layer.melts_in.value.is_finite()));
    }
}

/// A section that is left bare takes no dye: its cloth goes over from its colour's to what is undyed, to the gram.
#[test]
fn a_bare_section_is_weighed_for_nothing() {
    let (layout, recipe) = (layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"));
    let mut raw = layout.raw().clone();
    raw.colours.bare.insert(3);
    let bare = Layout::try_from(raw).unwrap();
    let [before, after] =
        [&layout, &bare].map(|layout| GarmentMasses::of(layout, &Figures::of(layout), &recipe, layout.marks().lengths()));
    let section = &Figures::of(&layout).sections[2];
    let of = |masses: &GarmentMasses| {
        masses
            .dyes
            .iter()
            .find(|dye| Some(&dye.colour) == section.colour.as_ref())
            .map(|dye| (dye.cloth_g, dye.dye.value))
            .unwrap()
    };
    assert_close!(of(&before).0 - of(&after).0, section.mass_g, 1e-9);
    assert_close!(of(&before).1 - of(&after).1, 0.03 * section.mass_g, 1e-9);
    assert_close!(after.undyed_g - before.undyed_g, section.mass_g, 1e-9);
    let told = &Figures::of(&bare).sections[2];
    assert_eq!((told.colour_words(), after.of_section(told)), ("no dye", None));
}

fn one_bath(recipe: &Recipe, dry_g: f64) -> DischargeBath {
    let rods = RodBulk { dry_g, thickest_mm: 40.0, longest_mm: 500.0, volume_mm3: 3e6 };
    discharge_bath(recipe.discharge.as_ref().unwrap(), &rods, &Vessel::default(), 20.0, LengthStyle::default())
}

/// Every amount shows a formula that ends in its value.
#[test]
fn formulas_end_in_their_value() {
    let (layout, recipe) = (layout("harbour-row-tee-m.ron"), recipe("powder-under-ice"));
    let masses = GarmentMasses::of(&layout, &Figures::of(&layout), &recipe, layout.marks().lengths());
    let (soak, bath) = (soak_bath(&recipe, 1000.0), one_bath(&recipe, 1000.0));
    let ice = masses.ice.iter().flat_map(|layer| [&layer.ice, &layer.heat, &layer.melts_in]);
    let all = masses.dyes.iter().map(|dye| &dye.dye).chain(ice).chain([&masses.soda_strewn]);
    for amount in all.chain([&soak.water, &soak.soda_ash, &bath.mass, &bath.water, &bath.depth]) {
        let end = format!("= {} {}", short(amount.value), amount.unit.sign());
        assert!(amount.formula.ends_with(&end), "{} does not end in {end}", amount.formula);
    }
    // Thread is said whole, so that its pieces add up.
    let thread = &masses.thread;
    assert!(thread.formula.ends_with(&format!("= {thread}")), "{} does not end in {thread}", thread.formula);
    // 1 kg at 1:10 is 10 L; 40 g/L of it 400 g: by hand.
    assert_close!(soak.soda_ash.value, 400.0, 1e-9);
    // 2 % of 1 kg, in 1:16, with 2.5 g of soda ash to the litre.
    assert_close!(bath.mass.value, 20.0, 1e-9);
    assert_close!(bath.water.value, 16.0, 1e-9);
    assert_close!(bath.soda_ash.as_ref().unwrap().value, 40.0, 1e-9);
    assert!(soak.soda_ash.to_string() == "400 g" && soak.soda_ash.kitchen.is_some());
}

/// The weakest figure decides how far an amount can be trusted.
#[test]
fn an_amount_is_no_better_than_its_poorest_figure() {
    let mut recipe = recipe("powder-under-ice");
    let status = |recipe: &Recipe| soak_bath(recipe, 500.0).soda_ash.status;
    assert_eq!(status(&recipe), pleatwright::geometry::SourceStatus::Practice);
    recipe.soda_ash.grams_per_litre.status = pleatwright::geometry::SourceStatus::Memory;
    assert_eq!(status(&recipe), pleatwright::geometry::SourceStatus::Memory);
}

/// What the sections get sums to what each colour takes, powder or solution.
#[test]
fn sections_share_their_colours_dye() {
    for (name, by_hand) in [("harbour-row-tee-m.ron", false), ("harbour-row-bodysuit.ron", true)] {
        let mut raw = layout(name).raw().clone();
        if by_hand {
            raw.process.dye = pleatwright::layout::DyeBy::ByHand;
        }
        let layout = Layout::try_from(raw).unwrap();
        let figures = Figures::of(&layout);
        let masses = GarmentMasses::of(&layout, &figures, &recipe("powder-under-ice"), LengthStyle::default());
        for (at, dye) in masses.dyes.iter().enumerate() {
            let own = figures.sections.iter().filter(|section| section.colour.as_deref() == Some(&dye.colour));
            let sum: f64 = own.map(|section| masses.of_section(section).unwrap().value).sum();
            let whole = if by_hand { &masses.solutions[at].volume } else { &dye.dye };
            assert_close!(sum, whole.value, 1e-9 * whole.value, "{name}, {}", dye.colour);
        }
    }
}

/// Several ties: dye, thread and dry cloth add up over them and the loose cloth, each found anew from the ties alone.
#[test]
fn amounts_of_several_ties_add_up() {
    let (layout, recipe) = (layout("harbour-row-four-ties-tee-m.ron"), recipe("powder-under-ice"));
    let figures = Figures::of(&layout);
    let masses = GarmentMasses::of(&layout, &figures, &recipe, layout.marks().lengths());
    let several = figures.several.as_ref().unwrap();
    let tied_g: f64 = several.ties.iter().map(|tie| tie.mass_g).sum();
    assert_close!(tied_g + several.loose.mass_g, masses.dry_g, 1e-9 * masses.dry_g);
    for dye in &masses.dyes {
        let sections = figures.all_sections().filter(|section| section.colour.as_ref() == Some(&dye.colour));
        let loose_g = if several.loose.colour.as_ref() == Some(&dye.colour) { several.loose.mass_g } else { 0.0 };
        let cloth_g = sections.map(|section| section.mass_g).sum::<f64>() + loose_g;
        assert_close!(dye.cloth_g, cloth_g, 1e-9 * cloth_g, "{}", dye.colour);
    }
    let pieces_mm: f64 = figures.ties().iter().flat_map(|tie| &tie.binds).map(|bind| bind.thread_mm).sum();
    assert_close!(masses.thread.value, pieces_mm / 1000.0, 1e-9);
    let thickest_mm =
        (0..4).map(|tie| layout.ties()[tie].bound_rods().iter().map(|rod| rod.0.bound_diameter_mm).fold(0.0, f64::max));
    assert_close!(masses.rod.thickest_mm, thickest_mm.fold(0.0, f64::max), 1e-9);
    assert!(masses.undyed_g.abs() < 1e-9);
    // Undyed, the loose cloth is weighed for nothing.
    let mut raw = layout.raw().clone();
    raw.ties.as_mut().unwrap().loose = None;
    let bare = Layout::try_from(raw).unwrap();
    let without = GarmentMasses::of(&bare, &Figures::of(&bare), &recipe, bare.marks().lengths());
    assert_close!(without.undyed_g, several.loose.mass_g, 1e-9 * masses.dry_g);
    // It is covered then: ice lies over the rods alone.
    assert!(without.ice[0].area_mm2 < masses.ice[0].area_mm2 && !without.ice[0].lying.contains("loose"));
    // In a dye that no tie has it is that dye's only cloth.
    let sky = Swatch::plain("sky", Srgb { red: 140, green: 180, blue: 220 });
    let mut raw = layout.raw().clone();
    raw.ties.as_mut().unwrap().loose_dye.replace(sky);
    assert!(Layout::try_from(raw.clone()).is_err(), "a name and a dye of its own");
    raw.ties.as_mut().unwrap().loose = None;
    let own = Layout::try_from(raw).unwrap();
    let figures = Figures::of(&own);
    let of_own = GarmentMasses::of(&own, &figures, &recipe, own.marks().lengths());
    let dye = of_own.dyes.iter().find(|dye| dye.colour == "sky").unwrap();
    assert_close!(dye.cloth_g, several.loose.mass_g, 1e-9 * masses.dry_g);
    assert_close!(of_own.dyes.iter().map(|dye| dye.cloth_g).sum::<f64>(), masses.dry_g, 1e-9 * masses.dry_g);
    assert_close!(of_own.of_loose(&figures.several.as_ref().unwrap().loose).unwrap().value, dye.dye.value, 1e-9);
    assert!(figures.colours.last().unwrap().goes_on("section") == "the loose cloth");
    let loose = masses.of_loose(&several.loose).unwrap();
    let navy = masses.dyes.iter().find(|dye| dye.colour == "navy").unwrap();
    assert_close!(loose.value, navy.dye.value * several.loose.mass_g / navy.cloth_g, 1e-9);
}
