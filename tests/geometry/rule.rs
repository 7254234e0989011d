//! The layout's rule: what is marked lies on it, what is written follows it, thread is cut by it, and all places say the same.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use crate::common;
use common::seeded::seeded;
use pleatwright::geometry::{GarmentKind, Measure, RawMeasures};
use pleatwright::layout::{Figures, Layout, LayoutSpec, Warning, starter_on_marks};
use pleatwright::measure::{LengthStyle, LengthUnit, RuleMarks, parse_length};
use pleatwright::plan::{Order, Plan, When, Workshop, plan_text, usual_process, usual_recipe};
use pleatwright::print::parts::{PartKind, TemplateOptions, drawings, job_card, template};
use pleatwright::print::{Drawing, Layer, Shape};
use pleatwright::store::{EXAMPLE_LAYOUTS, layout_text, parse_layout, read_process, read_recipe};
use pleatwright::telling::{Voice, Warned as _};
use proptest::prelude::*;
use std::fs;
use std::path::Path;
use std::process::Command;

fn begun(kind: GarmentKind, marks: RuleMarks) -> LayoutSpec {
    let sizes = kind.sizes();
    let size = sizes.get(sizes.len() / 2).map(|size| size.name.to_string());
    starter_on_marks(kind, size.as_deref(), &RawMeasures::default(), marks).unwrap()
}

/// A layout whose guide arc is asked for at a radius.
fn asked(kind: GarmentKind, marks: RuleMarks, guide_radius_mm: f64) -> Layout {
    let mut raw = begun(kind, marks);
    raw.fold.burst_mut().unwrap().guide_radius_mm = guide_radius_mm;
    Layout::try_from(raw).unwrap()
}

/// The hooded top of the complaint: an inch rule's sixteenths, and a guide arc that is on none of them.
fn inch_hood() -> Layout {
    asked(GarmentKind::HoodedTop, RuleMarks::InchSixteenth, 181.1)
}

fn words(drawing: &Drawing) -> Vec<&str> {
    drawing
        .items
        .iter()
        .filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text.text.as_str()) } else { None })
        .collect()
}

fn card_words(layout: &Layout, figures: &Figures) -> String {
    let pages = job_card(layout, figures, layout.marks().lengths());
    pages.iter().flat_map(words).collect::<Vec<_>>().join(" ")
}

fn plan_of(layout: Layout) -> Plan {
    let process = read_process(Path::new(usual_process(&layout))).unwrap();
    let recipe = read_recipe(Path::new(usual_recipe([&process]))).unwrap();
    let order = Order::of_layout(layout, recipe, process, Workshop::default()).unwrap();
    Plan::new(&order, When::Start("2027-05-03T08:00".parse().unwrap())).unwrap()
}

/// The guide arc of the card was the one asked for, and that of the template and of the binds the one on the marks: 181.1 mm here,
/// 180 mm there, with pleats reckoned at the first.
#[test]
fn there_is_one_guide_arc() {
    for marks in RuleMarks::ALL {
        let layout = asked(GarmentKind::HoodedTop, marks, 181.1);
        let figures = Figures::of(&layout);
        let guide_mm = marks.nearest_mm(181.1);
        let bind = figures.binds.iter().find(|bind| bind.on_guide_arc).unwrap();
        assert_eq!([bind.radius_mm, figures.fold.guide_mm, layout.guide_mm()], [guide_mm; 3], "{marks:?}");
        assert_close!(figures.fold.pleat_depth_mm, std::f64::consts::PI * guide_mm / f64::from(figures.fold.pleats), 1e-9);
        assert_close!(figures.fold.guide_rounded_by_mm, guide_mm - 181.1, 1e-12);
        let drawn = template(&layout, &figures, &TemplateOptions::default());
        let arcs = drawn.items.iter().filter(|item| item.layer == Layer::Guide);
        let radii: Vec<f64> =
            arcs.filter_map(|i| if let Shape::Arc(arc) = &i.shape { Some(arc.radius_mm) } else { None }).collect();
        assert!(!radii.is_empty() && radii.iter().all(|&radius_mm| (radius_mm - guide_mm).abs() < 1e-9), "{marks:?}: {radii:?}");
        let card = card_words(&layout, &figures);
        assert!(card.contains(&format!("Guide arc: {}", marks.lengths().format(guide_mm))), "{card}");
        assert_eq!(card.contains("to the nearest mark"), marks != RuleMarks::Exact, "{card}");
    }
}

/// They used to be counted on the arc that was asked for.
#[test]
fn pleats_are_counted_on_the_arc_that_is_folded() {
    let mut raw = begun(GarmentKind::CrewTee, RuleMarks::Millimetres5);
    let burst = raw.fold.burst_mut().unwrap();
    (burst.guide_radius_mm, burst.pleats) = (202.6, pleatwright::geometry::Pleats::Depth { depth_mm: 23.25 });
    raw.binds.inward = pleatwright::geometry::Progression::List { gaps_mm: vec![] };
    // pi x 202.6 / 23.25 = 27.38, pi x 205 / 23.25 = 27.70.
    assert_eq!(Layout::try_from(raw).unwrap().burst().unwrap().pleats(), 28);
}

#[test]
fn further_arcs_lie_on_the_marks_too() {
    let mut raw = begun(GarmentKind::CrewTee, RuleMarks::InchEighth);
    raw.fold.burst_mut().unwrap().further_arcs_mm = vec![100.0];
    let layout = Layout::try_from(raw).unwrap();
    // 3 7/8 in are 98.425 mm, 4 in are 101.6 mm.
    assert_close!(layout.references_mm()[0], 98.425, 1e-9);
}

proptest! {
    #![proptest_config(seeded(38, 256))]

    /// Binds were moved by more than a mark, and nobody was told.
    #[test]
    fn a_bind_is_on_its_nearest_mark_or_its_move_is_told(
        kind in proptest::sample::select(GarmentKind::ALL.to_vec()),
        marks in proptest::sample::select(RuleMarks::ALL[1..].to_vec()),
        share in 0.8..1.1,
    ) {
        let mut raw = begun(kind, marks);
        raw.fold.burst_mut().unwrap().guide_radius_mm *= share;
        let asked_mm = raw.fold.burst().unwrap().guide_radius_mm;
        let Ok(layout) = Layout::try_from(raw) else { return Ok(()) };
        let (figures, half_mm) = (Figures::of(&layout), 0.5 * marks.step_mm().unwrap());
        prop_assert!((layout.guide_mm() - asked_mm).abs() <= half_mm + 1e-9);
        let lengths = marks.lengths();
        for bind in &figures.binds {
            let far = bind.rounded_by_mm.abs() > half_mm + 1e-9;
            let told = bind.rounding(marks, lengths);
            prop_assert_eq!(told.is_some(), far, "{} moved by {}", bind.number, bind.rounded_by_mm);
            prop_assert!(told.is_none_or(|words| words.ends_with(&lengths.format_small(bind.rounded_by_mm.abs()))));
        }
        // What shows beside a chalk line's breadth is warned about.
        let farthest_mm = figures.binds.iter().map(|bind| bind.rounded_by_mm.abs()).fold(0.0, f64::max);
        let warned = figures.warnings.iter().find_map(|warning| match warning {
            Warning::RoundedFar { by_mm, .. } => Some((by_mm.abs(), warning.say(Voice::window(lengths)))),
            _ => None,
        });
        match warned {
            Some((told_mm, sentence)) => {
                prop_assert!((told_mm - farthest_mm).abs() < 1e-9);
                prop_assert!(sentence.contains(&lengths.format_small(told_mm)), "{}", sentence);
            }
            None => prop_assert!(farthest_mm <= half_mm.max(1.0) + 1e-5, "moved by {farthest_mm}"),
        }
    }
}

/// On marks every 5 mm, told in the figures, on the card and as a warning.
#[test]
fn a_bind_that_is_moved_far_is_told_wherever_it_stands() {
    let layout = Layout::try_from(begun(GarmentKind::Tank, RuleMarks::Millimetres5)).unwrap();
    let figures = Figures::of(&layout);
    let bind = figures.binds.iter().max_by(|a, b| a.rounded_by_mm.abs().total_cmp(&b.rounded_by_mm.abs())).unwrap();
    assert!(bind.rounded_by_mm.abs() > 2.5, "{}", bind.rounded_by_mm);
    let words = bind.rounding(layout.marks(), layout.marks().lengths()).unwrap();
    assert!(card_words(&layout, &figures).contains(&format!("bind {} {words}", bind.number)));
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("tank.ron"), layout_text(layout.raw())).unwrap();
    let told = run(folder.path(), &["figures", "tank.ron"]);
    assert!(
        told.contains(&format!("{words} to a mark")) && told.contains("To keep the gaps in order on marks every 5 mm"),
        "{told}"
    );
}

/// Everything that is printed of an inch layout is in inches, on the marks of its rule. It used to be in mm unless inches were asked for.
#[test]
fn an_inch_layout_is_printed_in_inches() {
    let layout = inch_hood();
    let figures = Figures::of(&layout);
    for kind in PartKind::ALL {
        for drawing in drawings(&layout, &figures, kind, &TemplateOptions::default()) {
            let metric = words(&drawing).into_iter().find(|text| text.split([' ', ',']).any(|word| word == "mm"));
            assert_eq!(metric, None, "{kind:?}");
        }
    }
    let eighths = asked(GarmentKind::HoodedTop, RuleMarks::InchEighth, 181.1);
    let figures = Figures::of(&eighths);
    for kind in PartKind::ALL {
        for drawing in drawings(&eighths, &figures, kind, &TemplateOptions::default()) {
            assert_eq!(words(&drawing).into_iter().find(|text| text.contains("/16")), None, "{kind:?}");
        }
    }
}

/// The plan of an inch layout used to tell the depth of the bath, the vessel's breadth and the rod's thickness in millimetres.
#[test]
fn an_inch_layouts_plan_is_told_in_inches() {
    let is_metric = |text: &&str| text.split([' ', ',', ';', '.', '\n']).any(|word| matches!(word, "mm" | "cm" | "m"));
    let discharged = EXAMPLE_LAYOUTS.iter().map(|example| parse_layout(example.text).unwrap());
    for layout in discharged.filter(|layout| matches!(layout.marks().lengths(), LengthStyle::Inches { .. })).chain([inch_hood()])
    {
        let plan = plan_of(layout);
        let text = plan_text(&plan, false);
        assert_eq!(text.lines().find(is_metric), None, "{}", plan.name);
        assert!(plan.loads.iter().all(|load| load.discharge.is_none()) || text.contains(" in across"), "{text}");
    }
}

/// 9.56 m in one place and 9.55 m in another; 297, 300 and 292.5 in; 15 1/2 and 15 1/4 in for one bind.
#[test]
fn there_is_one_length_of_thread() {
    let examples = EXAMPLE_LAYOUTS.iter().map(|example| parse_layout(example.text).unwrap());
    for layout in examples.chain([inch_hood()]) {
        let (figures, lengths) = (Figures::of(&layout), layout.marks().lengths());
        let whole = lengths.format_long(figures.thread_mm);
        let read = |text: &str| parse_length(text, LengthUnit::Millimetre).unwrap();
        let binds = || figures.ties().into_iter().flat_map(|tie| &tie.binds);
        let wound = figures.flat.as_ref().and_then(|flat| flat.wrap).map(|wrap| wrap.thread_mm);
        let pieces = binds().map(|bind| bind.thread_mm).chain(wound);
        let pieces_mm: f64 = pieces.map(|thread_mm| read(&lengths.format(thread_mm))).sum();
        assert_close!(read(&whole), pieces_mm, 1e-3, "{}: {whole}", layout.name());
        let card = card_words(&layout, &figures);
        let total = format!("Thread to cut, total: {whole}.");
        // What blocks alone hold takes none, and nothing is said of it.
        assert_eq!(card.contains(&total), figures.thread_mm > 0.0, "{card}");
        if figures.thread_mm <= 0.0 {
            continue;
        }
        let name = layout.name().to_owned();
        let plan = plan_of(layout);
        let text = plan_text(&plan, true);
        let of_plan = plan.lines[0].each.thread.to_string();
        assert_eq!(of_plan, whole, "{name}");
        // For each, among what to have ready, and in the shopping list.
        assert!(text.matches(&whole).count() >= 3, "{name}, {whole}: {text}");
    }
}

/// Sums of nothing used to be -0.0 in what scripts read.
#[test]
fn nothing_is_less_than_nothing() {
    let examples = EXAMPLE_LAYOUTS.iter().map(|example| parse_layout(example.text).unwrap());
    let begun = GarmentKind::ALL.map(|kind| Layout::try_from(begun(kind, RuleMarks::Millimetres1)).unwrap());
    let mut bare = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().clone();
    bare.fold.burst_mut().unwrap().centre =
        pleatwright::geometry::Centre::BelowShoulder { from_centre_line_mm: -0.0, below_shoulder_mm: 300.0 };
    let none = || pleatwright::geometry::Progression::List { gaps_mm: vec![] };
    (bare.binds.inward, bare.binds.outward) = (none(), none());
    for layout in examples.chain(begun).chain([Layout::try_from(bare).unwrap()]) {
        let name = layout.name().to_owned();
        let figures = serde_json::to_string(&Figures::of(&layout)).unwrap();
        assert!(!figures.contains("-0.0,") && !figures.contains("-0.0}"), "{name}: {figures}");
        let plan = serde_json::to_string(&plan_of(layout)).unwrap();
        assert!(!plan.contains("-0.0,") && !plan.contains("-0.0}"), "{name}: {plan}");
    }
}

fn run(folder: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_pleatwright")).args(arguments).current_dir(folder).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    text(output.stdout) + &text(output.stderr)
}

#[test]
fn the_command_line_writes_as_the_layouts_rule_does() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("hood.ron"), layout_text(inch_hood().raw())).unwrap();
    let said = |arguments: &[&str]| run(folder.path(), arguments);
    let figures = said(&["figures", "hood.ron"]);
    assert!(figures.contains("7 1/8 in, moved in by 0.005 in to the nearest mark") && !figures.contains(" mm"), "{figures}");
    let metric = said(&["figures", "hood.ron", "--units", "mm"]);
    assert!(metric.contains("181 mm, moved in by 0.1 mm") && !metric.contains(" in  "), "{metric}");
    assert!(!said(&["figures", "hood.ron", "--nearest", "4"]).contains("/8 in"));
    let tee = concat!(env!("CARGO_MANIFEST_DIR"), "/layouts/harbour-row-tee-m.ron");
    let said = |arguments: &[&str]| run(folder.path(), arguments);
    assert!(said(&["figures", tee, "--nearest", "8"]).contains("add --units in"));
    let svg = said(&["print", "hood.ron", "-o", "hood.svg", "--part", "rod-strip"]);
    let strip = fs::read_to_string(folder.path().join("hood.svg")).unwrap_or_else(|_| panic!("{svg}"));
    assert!(strip.contains("7 1/8 in") && !strip.contains("181 mm"), "{strip}");
}

/// It was told "0 % on the back", and rings up to 0 mm there.
#[test]
fn a_single_cloth_has_no_back() {
    let bandana = concat!(env!("CARGO_MANIFEST_DIR"), "/layouts/harbour-row-bandana.ron");
    let figures = run(Path::new("."), &["figures", bandana]);
    assert!(figures.contains(" % on the cloth") && !figures.contains("back"), "{figures}");
    let json = run(Path::new("."), &["figures", bandana, "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert!(json["burst"]["guide_share"]["back"].is_null() && json["burst"]["guide_share"]["front"].is_number(), "{json}");
}

/// It was told to use a newer version of the program.
#[test]
fn a_form_before_the_first_is_no_newer_one() {
    let text = EXAMPLE_LAYOUTS[0].text.replace("format: 2", "format: 0");
    let said = parse_layout(&text).unwrap_err().1.to_string();
    assert!(said.contains("unknown file format 0") && said.contains("write format: 2") && !said.contains("newer"), "{said}");
}

/// A whole number is asked for wherever a count can be written.
#[test]
fn a_count_that_is_not_whole_is_refused() {
    let text = EXAMPLE_LAYOUTS[0].text;
    let counted = text.replacen("first_gap_mm: 34.0", "count: 3.4, first_gap_mm: 34.0", 1);
    let said = parse_layout(&counted).unwrap_err().1.to_string();
    assert!(counted != text, "{counted}");
    assert!(said.contains("whole number"), "{said}");
}

#[test]
fn a_preset_leaves_an_inch_layout_in_inches() {
    let folder = tempfile::tempdir().unwrap();
    fs::write(folder.path().join("hood.ron"), layout_text(inch_hood().raw())).unwrap();
    let said = run(folder.path(), &["spacing", "apply", "Even rings", "hood.ron", "-o", "even.ron"]);
    assert!(said.contains("marks stay every 1/16 in (the preset has every 5 mm)") && said.contains("--preset-marks"), "{said}");
    assert!(fs::read_to_string(folder.path().join("even.ron")).unwrap().contains("marks: InchSixteenth"));
    let said = run(folder.path(), &["spacing", "apply", "Even rings", "hood.ron", "-o", "mm.ron", "--preset-marks"]);
    assert!(said.contains("marks every 5 mm instead of every 1/16 in") && said.contains("guide arc 180 mm instead of"), "{said}");
}

/// Nothing about a cut is lost: the pieces are as long as the wraps and tails need, and less than a step longer.
#[test]
fn a_piece_of_thread_is_long_enough() {
    for layout in EXAMPLE_LAYOUTS.iter().map(|example| parse_layout(example.text).unwrap()) {
        let (thread, figures) = (layout.thread(), Figures::of(&layout));
        for bind in &figures.binds {
            let cut = layout.fold().cut(bind.radius_mm).map(|cut| cut.cloth_mm).sum();
            let pressed_mm = layout.cloth().pressed_thickness_mm;
            // Round a rod, round the sides of a flat bundle, over a puck: each band is two binds.
            let (girth_mm, share) = if let Some(puck) = figures.spiral {
                (2.0 * (puck.puck_diameter_mm + puck.puck_height_mm), 0.5)
            } else if figures.flat.is_some() {
                let width_mm = layout.fold().width_mm(bind.radius_mm);
                (2.0 * (width_mm + pressed_mm * cut / width_mm), 1.0)
            } else {
                (2.0 * (std::f64::consts::PI * pressed_mm * cut / layout.cloth().packing).sqrt(), 1.0)
            };
            let wraps_mm = f64::from(bind.wraps) * (girth_mm + std::f64::consts::PI * thread.diameter_mm);
            let over_mm = bind.thread_mm / share - wraps_mm - 2.0 * thread.tail_mm;
            assert!((-1e-6..6.36).contains(&over_mm), "{}: bind {}: {over_mm}", layout.name(), bind.number);
        }
    }
}

/// 9 1/16 in, measured, stood as 9 1/8 on the card of a layout with marks every 1/8 in, and was called measured there.
#[test]
fn a_measurement_stands_as_it_was_taken() {
    let mut raw = begun(GarmentKind::CrewTee, RuleMarks::InchEighth);
    raw.garment.measures.set(Measure::HalfChest, Some((20.0 + 1.0 / 16.0) * 25.4));
    let layout = Layout::try_from(raw).unwrap();
    assert!(card_words(&layout, &Figures::of(&layout)).contains("20 1/16"));
}
