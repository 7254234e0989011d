//! Ice: how long it takes to melt, and that nothing goes on before it has.

use crate::{assert_close, layout, process, recipe};
use jiff::ToSpan as _;
use jiff::civil::DateTime;
use pleatwright::geometry::SourceStatus;
use pleatwright::plan::*;
use pleatwright::print::parts::{PlanOptions, plan_sheets};
use pleatwright::print::{Item, Shape};

/// The shipped recipe, for a room of this temperature.
fn in_room(room_c: f64) -> Recipe {
    let mut recipe = recipe("powder-under-ice");
    recipe.ice.as_mut().unwrap().room_c = Some(Sourced::new(room_c, SourceStatus::Practice));
    recipe
}

fn three_tees(recipe: Recipe) -> Order {
    let (layout, process) = (layout("harbour-row-tee-m.ron"), process("discharge-and-dye"));
    Order::of_garments(layout, OfGarments { count: 3, ..OfGarments::default() }, recipe, process).unwrap()
}

fn planned(recipe: Recipe) -> Plan {
    Plan::new(&three_tees(recipe), When::Start("2027-05-03T08:00".parse().unwrap())).unwrap()
}

fn entry<'a>(plan: &'a Plan, step: &str) -> &'a Entry {
    plan.timeline.entries.iter().find(|entry| entry.step == step).unwrap()
}

fn waited_min(entry: &Entry) -> i64 {
    entry.stretches.last().unwrap().to.duration_until(entry.next.unwrap()).as_mins()
}

/// Hours that the shipped layers take, by hand: 60 and 30 mm, of which 0.6 are ice of 917 kg/m3 that takes 333.43 kJ/kg, under
/// 20 W/(m2 K).
fn by_hand_h(depth_mm: f64, room_c: f64) -> f64 {
    depth_mm / 1000.0 * 0.6 * 917.0 * 333_430.0 / (20.0 * room_c) / 3600.0
}

/// In a cold room the ice outlasts what the process waits at least: 8 and 4 hours (common practice, no source). The 24 hours' rest
/// once began on ice.
#[test]
fn nothing_goes_on_before_the_ice_has_melted() {
    for room_c in [5.0, 7.0, 8.0, 12.0, 16.0, 19.0, 19.2, 20.0, 27.0, 35.0] {
        let plan = planned(in_room(room_c));
        for (step, depth_mm, process_min, most_min) in [("ice", 60.0, 480_u32, 1440), ("second ice", 30.0, 240, 1200)] {
            let process_h = f64::from(process_min) / 60.0;
            let (entry, hours) = (entry(&plan, step), by_hand_h(depth_mm, room_c));
            let least_min = f64::max(hours, process_h) * 60.0;
            assert!(waited_min(entry) as f64 >= least_min, "{step} at {room_c} °C waits {} min", waited_min(entry));
            let wait = entry.wait.unwrap();
            assert!((f64::from(wait.least_min) - least_min).abs() < 1.0 && f64::from(wait.least_min) >= least_min - 1e-6);
            // What the process allows at most stays, unless melting alone takes longer: then as long afterwards.
            let most_min = if wait.least_min > most_min { wait.least_min + most_min - process_min } else { most_min };
            assert_eq!(wait.most_min, Some(most_min));
            let reason = entry.wait_reason.as_deref();
            assert_eq!(reason.is_some(), hours > process_h, "{step} at {room_c} °C: {reason:?}");
            if let Some(reason) = reason {
                assert!(reason.ends_with(&format!("takes about {hours:.1} h to melt at {} °C", short(room_c))), "{reason}");
            }
        }
        let too_long = plan.timeline.conflicts.iter().filter(|said| said.contains("ice may wait 1 d at most, but ice, layer 1"));
        assert_eq!(too_long.count(), usize::from(by_hand_h(60.0, room_c) > 24.0), "{:?}", plan.timeline.conflicts);
    }
}

#[test]
fn the_reason_for_a_longer_wait_is_said_wherever_the_wait_is() {
    let plan = planned(in_room(8.0));
    let reason = "ice, layer 1, takes about 19.1 h to melt at 8 °C";
    let text = plan_text(&plan, false).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("Then wait at least 19 h 07 min (until") && text.contains(reason), "{text}");
    let calendar = calendar_text(&plan, None).replace("\r\n ", "").replace("\\,", ",");
    assert!(calendar.contains(reason));
    let on_paper = plan_sheets(&plan, PlanOptions::default());
    let text = |item: &Item| if let Shape::Text(text) = &item.shape { Some(text.text.clone()) } else { None };
    let on_paper = on_paper.iter().flat_map(|page| page.items.iter().filter_map(text)).collect::<Vec<_>>().join(" ");
    assert!(on_paper.contains(&format!("This long because {reason}.")), "{on_paper}");
    let json = serde_json::to_value(&plan).unwrap();
    let entries = json["timeline"]["entries"].as_array().unwrap();
    let told = entries.iter().filter_map(|entry| entry["wait_reason"].as_str());
    let told: Vec<_> = told.filter(|reason| reason.starts_with("ice")).collect();
    assert_eq!(told, [reason, "ice, layer 2, takes about 9.6 h to melt at 8 °C"]);
}

/// A run of the plan judges by the same wait, and says why.
#[test]
fn a_run_waits_for_the_ice() {
    let mut run = Run::of(&planned(in_room(8.0))).unwrap();
    let number = |run: &Run, name: &str| run.steps().find(|step| step.name == name).unwrap().number;
    let (ice, second) = (number(&run, "ice"), number(&run, "second ice"));
    let before: Vec<(u32, DateTime, DateTime)> =
        run.steps().take_while(|step| step.number != ice).map(|step| (step.number, step.from, step.to)).collect();
    for (step, from, to) in before {
        assert_eq!(run.begin(step, from), Ok(vec![]));
        assert_eq!(run.finish(step, to), Ok(vec![]));
    }
    let laid = run.step(ice).unwrap().to;
    run.finish(ice, laid).unwrap();
    let at = laid.saturating_add(9.hours());
    let waiting = run.now(at).waiting[0].clone();
    assert_eq!((waiting.state, waiting.earliest), (WaitState::Closed, laid.saturating_add((19 * 60 + 7).minutes())));
    let reason = "ice, layer 1, takes about 19.1 h to melt at 8 °C";
    assert_eq!(waiting.reason.as_deref(), Some(reason));
    let warned = crate::warned(&run.begin(second, at).unwrap()[0]);
    assert!(
        warned.starts_with("10 h 07 min too early: ice, load 1 waits at least 19 h 07 min") && warned.contains(reason),
        "{warned}"
    );
    let judged = run.verdict(ice).unwrap();
    assert_eq!(judged.verdict, Verdict::Early { by_min: 607 });
    assert!(judged.sentence().contains(reason), "{}", judged.sentence());
    // It is in the file, so that the run knows it when it is opened again.
    let again = Run::try_from(pleatwright::store::parse_run(&pleatwright::store::run_text(&run)).unwrap().raw().clone()).unwrap();
    assert_eq!(again.step(ice).unwrap().wait_reason, Some(reason));
}

#[test]
fn ice_that_never_melts_is_refused() {
    let mut recipe = in_room(1.0);
    let ice = recipe.ice.as_mut().unwrap();
    ice.transfer_w_per_m2_k.value = 1.0;
    ice.layers[0] = IceLayer::Depth { depth_mm: Sourced::new(500.0, SourceStatus::Practice) };
    let (layout, process) = (layout("harbour-row-tee-m.ron"), process("discharge-and-dye"));
    let said = Order::of_layout(layout, recipe, process, Workshop::default()).unwrap_err().to_string();
    assert!(said.starts_with("recipe: ice, layer 1, takes about ") && said.contains("keep the room warmer"), "{said}");
}

/// Heat that a cold surface takes from a room, W/m2, by textbook correlations (a plate's in still air and in laminar flow,
/// radiation of 0.97, the Chilton-Colburn analogy for dew, Magnus' vapour pressure; all from memory, unverified).
struct Room {
    air_c: f64,
    /// Relative humidity, 0 to 1.
    humidity: f64,
    /// Draught, m/s; still air without.
    draught: Option<f64>,
}

impl Room {
    fn convection_w_per_m2_k(&self) -> f64 {
        // Air near 10 C: conductivity W/(m K), viscosity and diffusivity m2/s; length of a rod's breadth, m.
        let (conductivity, viscosity, diffusivity, length) = (0.0247, 1.42e-5, 2.0e-5, 0.1_f64);
        let nusselt = match self.draught {
            None => {
                let buoyancy = 9.81 * self.air_c / (273.15 + 0.5 * self.air_c);
                // A cold plate facing up: the air on it is stable.
                0.27 * (buoyancy * length.powi(3) / (viscosity * diffusivity)).powf(0.25)
            }
            Some(speed) => 0.664 * (speed * length / viscosity).sqrt() * 0.71_f64.cbrt(),
        };
        nusselt * conductivity / length
    }

    fn radiation_w_per_m2(&self) -> f64 {
        0.97 * 5.670e-8 * ((273.15 + self.air_c).powi(4) - 273.15_f64.powi(4))
    }

    fn dew_w_per_m2(&self) -> f64 {
        let vapour_kg_per_m3 =
            |at_c: f64, share: f64| share * 610.9 * (17.625 * at_c / (243.04 + at_c)).exp() / (461.5 * (273.15 + at_c));
        let excess = (vapour_kg_per_m3(self.air_c, self.humidity) - vapour_kg_per_m3(0.0, 1.0)).max(0.0);
        // Density times heat of air, J/(m3 K), Lewis' number to 2/3; heat of condensation, J/kg.
        self.convection_w_per_m2_k() / (1240.0 * 0.87_f64.powf(2.0 / 3.0)) * excess * 2.5e6
    }

    fn heat_w_per_m2(&self) -> f64 {
        self.convection_w_per_m2_k() * self.air_c + self.radiation_w_per_m2() + self.dew_w_per_m2()
    }
}

/// Between the least that physics allows, still dry air over the top alone, and the most, a damp draught round top and sides of a heap
/// twice as broad as high; and in proportion to the room's warmth as the heat balance is, within a third, from 5 to 35 C.
#[test]
fn melting_is_within_what_physics_allows_from_5_to_35_c() {
    let area_mm2 = 30_000.0;
    let ice_g = layer_g(area_mm2, 60.0, 0.6);
    let heat_j_per_m2 = melting_heat_kj(ice_g) * 1000.0 / (area_mm2 * 1e-6);
    for room_c in (5..=35).map(f64::from) {
        let hours = melting_h(ice_g, area_mm2, room_c, 20.0);
        assert_close!(hours, by_hand_h(60.0, room_c), 1e-9 * hours);
        let still = Room { air_c: room_c, humidity: 0.3, draught: None }.heat_w_per_m2();
        let draught = Room { air_c: room_c, humidity: 0.7, draught: Some(0.5) }.heat_w_per_m2();
        let (slowest_h, fastest_h) = (heat_j_per_m2 / still / 3600.0, heat_j_per_m2 / (2.0 * draught) / 3600.0);
        assert!(fastest_h < hours && hours < slowest_h, "{room_c} °C: {fastest_h} < {hours} < {slowest_h}");
    }
}
