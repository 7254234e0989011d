//! Layout and preset files: the examples, exact round trips, errors that say where, and texts however mangled.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use crate::common;
use common::seeded::seeded;
use pleatwright::edit::{PresetMarks, PresetUse};
use pleatwright::geometry::{Fit, GarmentKind, Panel, Progression, RawMeasures, SpacingError, Span, Top};
use pleatwright::layout::{Figures, Layout, LayoutSpec, Warning, starter};
use pleatwright::measure::LengthStyle;
use pleatwright::store::*;
use pleatwright::telling::{Names, Voice, Warned as _};
use proptest::prelude::*;
use std::path::Path;

fn example(name: &str) -> &'static str {
    EXAMPLE_LAYOUTS.iter().find(|example| example.name == name).unwrap().text
}

fn layout(text: &str) -> Layout {
    parse_layout(text).unwrap_or_else(|(place, error)| panic!("{place:?}: {error}"))
}

/// The complaint about a text that is not right, as a user sees it but for the file's name.
fn refusal(text: &str) -> String {
    let (place, problem) = parse_layout(text).expect_err("the text is wrong");
    let place = place.map_or_else(String::new, |place| format!("{}:{}: ", place.line, place.column));
    format!("{place}{problem}")
}

/// Every file under `layouts/` comes with the program, and the other way round.
#[test]
fn the_folder_and_the_program_hold_the_same_examples() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts");
    let names = |folder: &Path| {
        let mut names: Vec<String> =
            std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.retain(|name| name.ends_with(".ron"));
        names.sort();
        names
    };
    let shipped = |examples: &[Example]| {
        let mut names: Vec<String> = examples.iter().map(|example| example.name.to_owned()).collect();
        names.sort();
        names
    };
    assert_eq!(names(&folder), shipped(&EXAMPLE_LAYOUTS));
    assert_eq!(names(&folder.join("spacing")), shipped(&EXAMPLE_PRESETS));
    assert_eq!(names(&folder.join("wishes")), shipped(&EXAMPLE_WISHES));
}

#[test]
fn every_example_reads_and_comes_back_exactly() {
    for example in EXAMPLE_LAYOUTS {
        let once = layout(example.text);
        let text = layout_text(once.raw());
        let again = layout(&text);
        assert_eq!(once.raw(), again.raw(), "{}", example.name);
        assert_eq!(text, layout_text(again.raw()), "{}", example.name);
        assert_eq!(Figures::of(&once), Figures::of(&again), "{}", example.name);
    }
    for example in EXAMPLE_PRESETS {
        let preset = parse_preset(example.text).unwrap();
        assert_eq!(preset, parse_preset(&preset_text(&preset)).unwrap(), "{}", example.name);
    }
    for example in EXAMPLE_WISHES {
        let wish = parse_wish(example.text).unwrap();
        assert_eq!(wish, parse_wish(&wish_text(&wish)).unwrap(), "{}", example.name);
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/wishes").join(example.name);
        assert_eq!(read_wish(&path).unwrap().0, wish);
    }
}

/// The whole cloth is in the sections, every bind meets cloth, tying visits every bind once, thread adds up.
#[test]
fn figures_of_every_example_hold_together() {
    for example in EXAMPLE_LAYOUTS {
        let layout = layout(example.text);
        let figures = Figures::of(&layout);
        let cloth_mm2 = figures.garment.cloth.area_mm2.sum();
        let loose = figures.several.as_ref().map(|several| &several.loose);
        let sections_mm2 = figures.all_sections().map(|section| section.area_mm2.sum()).sum::<f64>()
            + loose.map_or(0.0, |loose| loose.area_mm2.sum());
        assert_close!(sections_mm2, cloth_mm2, 1e-9 * cloth_mm2, "{}", example.name);
        let sections_g =
            figures.all_sections().map(|section| section.mass_g).sum::<f64>() + loose.map_or(0.0, |loose| loose.mass_g);
        assert_close!(sections_g, figures.garment.cloth.mass_g, 1e-9 * sections_g, "{}", example.name);
        // Round a puck the last section is the first; one of several ties ends at its last bind.
        let round = usize::from(layout.spiral().is_some() || layout.is_of_several());
        assert_eq!(figures.sections.len(), figures.binds.len() + 1 - round);
        let mut tied = figures.tying_order.clone();
        tied.sort_unstable();
        assert_eq!(tied, (1..=u32::try_from(figures.binds.len()).unwrap()).collect::<Vec<_>>());
        match figures.tying_order.first() {
            Some(&first) => {
                let guide = &figures.binds[first as usize - 1];
                assert!(guide.on_guide_arc && guide.tied == 1, "{}", example.name);
            }
            None => assert!(layout.blocks().is_some() || layout.wrap().is_some(), "{} is held by nothing", example.name),
        }
        let thread: f64 = figures.ties().iter().flat_map(|tie| &tie.binds).map(|bind| bind.thread_mm).sum();
        let wound = figures.flat.as_ref().and_then(|flat| flat.wrap).map_or(0.0, |wrap| wrap.thread_mm);
        let thread = thread + wound;
        assert_close!(figures.thread_mm, thread, 1e-9);
        for bind in &figures.binds {
            assert!(bind.rod.cloth_mm > 0.0 && bind.ring_mm.sum() > 0.0, "{} bind {}", example.name, bind.number);
            assert_close!(bind.pleat_depth_mm, layout.fold().width_mm(bind.radius_mm), 0.0);
        }
    }
}

/// The example's numbers, worked by hand: pi 230 / 38 = 19.01 pleats; gaps of 34 times 0.88 each.
#[test]
fn the_first_example_is_what_its_file_says() {
    let figures = Figures::of(&layout(example("harbour-row-tee-m.ron")));
    assert_eq!(figures.fold.pleats, 19);
    assert_close!(figures.fold.pleat_depth_mm, std::f64::consts::PI * 230.0 / 19.0, 1e-12);
    assert_close!(figures.burst.as_ref().unwrap().centre_below_shoulder_mm, 735.0 / 2.0 - 55.0, 1e-9);
    let radii: Vec<f64> = figures.binds.iter().map(|bind| bind.radius_mm).collect();
    let guide = radii.iter().position(|&radius| radius == 230.0).unwrap();
    // 34, 29.92, 26.33, 23.17, ... summed and rounded to the marks of a rule.
    assert_eq!(radii[guide - 3..guide], [140.0, 166.0, 196.0]);
    assert_eq!(figures.warnings, []);
    let sleeve_to_sleeve: Vec<_> = figures.sections.iter().map(|section| section.colour.as_deref().unwrap()).collect();
    assert_eq!(sleeve_to_sleeve[..4], ["teal", "amber", "plum", "teal"]);
}

/// Every example is clean, but for the bandana, which shows what a centre off the fold line does.
#[test]
fn no_example_needs_a_warning_but_the_mirrored_pair() {
    for example in EXAMPLE_LAYOUTS {
        let figures = Figures::of(&layout(example.text));
        let expected: &[Warning] = match example.name {
            "harbour-row-bandana.ron" => &[Warning::MirroredPair { from_centre_line_mm: 135.0 }],
            _ => &[],
        };
        assert_eq!(figures.warnings, expected, "{}", example.name);
    }
}

fn changed(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(example("harbour-row-tee-m.ron").to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    })
}

/// Such layouts passed `check`, and printing them never ended.
#[test]
fn binds_beyond_any_garment_are_refused_by_name() {
    let outward = "outward: Ratio(first_gap_mm: 34.0, ratio: 1.08, span: ToEnd(leave_mm: 20.0)),";
    let marks = "marks: Millimetres1,";
    let cases = [
        (
            outward,
            "outward: Ratio(first_gap_mm: 20, ratio: 1.5, count: 100),",
            "binds.outward: bind 12 (counted from the one tied first) would lie",
        ),
        (marks, "edits: [Add(at_mm: 1e9)],", "binds.edits: added bind 1 would lie 1.0e9 mm"),
        (marks, "edits: [Move(bind: 5, by_mm: 6000)],", "binds.edits: bind 5 (counted from the one tied first) would lie 6"),
        (marks, "smallest_gap_mm: 1e12,", "binds.smallest_gap_mm: 1.0e12 mm is out of range; give 0 to 5000 mm"),
    ];
    for (from, to, expected) in cases {
        let said = refusal(&changed(&[(from, to)]));
        assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
    }
    // Beyond the cloth but within reason stays a warning.
    let beyond = layout(&changed(&[(marks, "edits: [Add(at_mm: 1500)],")]));
    let figures = Figures::of(&beyond);
    let said: Vec<_> = figures
        .warnings
        .iter()
        .map(|warning| warning.say(Voice { lengths: LengthStyle::default(), names: Names::Keys }))
        .collect();
    assert!(
        said.iter().any(|s| s.contains("Bind 18 (added by hand), 1500 mm from the centre, is off the cloth, which ends at ")),
        "{said:?}"
    );
}

/// Prints number binds from the centre, edits from the guide arc: the figures have both.
#[test]
fn binds_have_the_number_that_edits_name_them_by() {
    let figures = Figures::of(&layout(&changed(&[("marks: Millimetres1,", "edits: [Add(at_mm: 500.5), Remove(bind: -2)],")])));
    let guide = figures.binds.iter().position(|bind| bind.on_guide_arc).unwrap();
    let numbers: Vec<_> = figures.binds.iter().map(|bind| bind.edit_number).collect();
    assert_eq!(numbers[guide - 2..=guide + 1], [Some(-3), Some(-1), Some(0), Some(1)]);
    assert_eq!(numbers.iter().filter(|number| number.is_none()).count(), 1);
    assert_eq!(serde_json::to_value(&figures).unwrap()["binds"][guide]["edit_number"], 0);
    let said = refusal(&changed(&[("marks: Millimetres1,", "edits: [Lock(bind: -2, at_mm: 10)],")]));
    assert!(said.contains("bind -2 (counted from the one tied first)"), "{said}");
}

/// Even gaps put on marks every 5 mm alternate; that used to be told as "the rings open toward the centre".
#[test]
fn rounding_alone_does_not_make_rings_open_toward_the_centre() {
    let even = [
        (
            "inward: Ratio(first_gap_mm: 34.0, ratio: 0.88, span: ToEnd(leave_mm: 14.0))",
            "inward: Even(gap_mm: 28.0, span: ToEnd(leave_mm: 20.0))",
        ),
        ("marks: Millimetres1", "marks: Millimetres5"),
    ];
    let figures = Figures::of(&layout(&changed(&even)));
    assert!(figures.binds.windows(2).any(|two| two[0].gap_inside_mm < two[1].gap_inside_mm));
    assert_eq!(figures.warnings, []);
}

#[test]
fn arcs_pleats_and_cloth_that_can_not_be_meant_are_told() {
    let warnings = |changes: &[(&str, &str)]| Figures::of(&layout(&changed(changes))).warnings;
    let arcs = warnings(&[("[100.0]", "[100.0, 230.0, 4000.0]")]);
    assert!(matches!(
        arcs[..],
        [Warning::FurtherArcOnGuideArc { arc: 2, .. }, Warning::FurtherArcMeetsNoCloth { arc: 3, radius_mm: 4000.0, .. }]
    ));
    let pleats = warnings(&[("half_fold: Nested", "half_fold: Open"), ("Depth(depth_mm: 38.0)", "Count(count: 39)")]);
    assert!(pleats.contains(&Warning::PleatsMadeEven { asked: 39, got: 40 }), "{pleats:?}");
    let deep = warnings(&[("Depth(depth_mm: 38.0)", "Count(count: 5)")]);
    assert!(deep.iter().any(|warning| matches!(warning, Warning::PleatTooDeepOutside { limit_mm: 150.0, .. })), "{deep:?}");
    let said = refusal(&changed(&[("grams_per_m2: 180.0", "free_thickness_mm: 0.4, pressed_thickness_mm: 0.5")]));
    assert!(said.contains("garment.cloth.free_thickness_mm: 0.4 mm is less than pressed_thickness_mm 0.5 mm"), "{said}");
    let said = refusal(&changed(&[("length_mm: 735.0", "length_mm: 735.0, back_neck_drop_mm: 120")]));
    assert!(said.contains("garment.measures.back_neck_drop_mm: 120 mm with front_neck_drop_mm "), "{said}");
}

/// A tote's heights used to be told from a shoulder that it hasn't.
#[test]
fn what_has_no_shoulder_is_told_from_its_upper_edge() {
    let tote = example("harbour-row-tote.ron");
    let at = |above: &str| tote.replacen("above_middle_mm: 25.0", above, 1);
    let said = refusal(&at("above_middle_mm: 2000.0"));
    assert!(said.contains("above the upper edge is off the cloth") && !said.contains("shoulder"), "{said}");
    let warning = Warning::CentreOnOnePanel { bare: Panel::Back, top: Top::UpperEdge, centre_mm: -5.0, cloth_begins_mm: 0.0 };
    let said = warning.say(Voice { lengths: LengthStyle::default(), names: Names::Keys });
    assert!(said.starts_with("The burst centre, 5 mm above the upper edge, misses the back: "), "{said}");
    assert_eq!(Figures::of(&layout(tote)).fold.top, Top::UpperEdge);
    assert_eq!(Figures::of(&layout(&changed(&[]))).fold.top, Top::ShoulderPoint);
}

#[test]
fn refusals_advise_about_the_value_itself() {
    let cases = [
        ("ratio: 0.88", "ratio: -0.85", "binds.inward.ratio: -0.85 is not more than 0; give more: below 1 the gaps shrink"),
        (
            "ratio: 0.88, span: ToEnd(leave_mm: 14.0)",
            "count: 3",
            "only count and first_gap_mm are given: not enough to set the gaps; beside the count give two of",
        ),
        ("from_centre_line_mm: 0.0", "from_centre_line_mm: 900.0", "; place it at most 2"),
        ("above_middle_mm: 55.0", "above_middle_mm: 399.2", "31.7 mm above the shoulder point is off the cloth"),
    ];
    for (from, to, expected) in cases {
        let said = refusal(&changed(&[(from, to)]));
        assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
    }
}

#[test]
fn presets_have_a_form_and_a_name() {
    let preset = EXAMPLE_PRESETS[0].text;
    let said = |from: &str, to: &str| parse_preset(&preset.replacen(from, to, 1)).unwrap_err().1.to_string();
    assert!(
        said("format: 1", "format: 2")
            .contains("format: unknown file format 2; this program reads up to 1; a newer file needs a newer version")
    );
    assert_eq!(said("format: 1,", ""), "the field \"format\" is missing; give it");
    assert!(said("Tight heart", "").contains("name: not a usable name (0 characters); give 1 to 80 characters"));
    assert!(said("Tight heart", &"x".repeat(81)).contains("not a usable name (81 characters)"));
    assert!(said("guide_radius_mm: 230.0", "guide_radius_mm: 1e9").contains("at most 5000"));
}

#[test]
fn a_mirrored_pair_is_said_so() {
    let figures = Figures::of(&layout(example("harbour-row-bandana.ron")));
    assert!(figures.burst.as_ref().unwrap().mirrored_pair && figures.fold.layers == 2);
    assert!(figures.warnings.contains(&Warning::MirroredPair { from_centre_line_mm: 135.0 }));
}

#[test]
fn a_wrong_value_is_placed_and_named() {
    let text = example("harbour-row-tee-m.ron");
    let with = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        refusal(&text.replace(from, to))
    };
    let cases = [
        (
            "length_mm: 735.0",
            "length_mm: 735.0, neck_width_mm: 415.0",
            "9:60: garment.measures.neck_width_mm: 415 mm with shoulder_to_shoulder_mm 447.8 mm: the shoulder",
        ),
        ("length_mm: 735.0", "length_mm: inf", "garment.measures.length_mm"),
        ("size: \"M\"", "size: \"Q\"", "7:9: garment.size: \"Q\" is not a size of a crew-neck tee; choose 0-3 months"),
        (
            "guide_radius_mm: 230.0",
            "guide_radius_mm: -1.0",
            "17:9: fold.guide_radius_mm: -1 mm is out of range; give more than 0 and at most 5000 mm",
        ),
        ("above_middle_mm: 55.0", "above_middle_mm: 500.0", "16:9: fold.centre: 0 mm from the centre line and "),
        ("ratio: 0.88", "ratio: 0.5", "binds.inward: gaps from 34 mm on with a ratio of 0.5 add up to at most 68 mm"),
        ("depth_mm: 38.0", "depth_mm: NaN", "fold.pleats.depth_mm"),
        ("format: 2", "format: 7", "2:5: format: unknown file format 7"),
        ("grams_per_m2: 180.0", "grams_per_m2: 1.0", "garment.cloth.grams_per_m2: 1 is out of range; give 20 to 2000"),
        ("name: \"Harbour Row tee, M\"", "name: \" \"", "3:5: name: not a usable name (1 character)"),
        (
            "start: Centre,",
            "start: Centre, single: {2: \"red\"},",
            "colours.single.2: \"red\" is not a colour of the rotation; choose teal",
        ),
        ("start: Centre,", "start: Centre, single: {99: \"teal\"},", "colours.single.99: 99 is beyond the last section, "),
        ("start: Centre,", "start: Centre, bare: [3, 99],", "colours.bare: 99 is beyond the last section, "),
        (
            "start: Centre,",
            "start: Centre, single: {3: \"teal\"}, bare: [3],",
            "colours.bare.1: section 3 is left bare and coloured \"teal\" too; take it out of one of the two",
        ),
        ("length_percent: -4.0", "length_percent: -90.0", "garment.wash.length_percent"),
    ];
    for (from, to, expected) in cases {
        let said = with(from, to);
        assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
    }
}

#[test]
fn a_text_of_the_wrong_form_is_placed_and_named() {
    let text = example("harbour-row-tee-m.ron");
    let cases = [
        (text.replace("guide_radius_mm", "guide_radios_mm"), "unknown field \"guide_radios_mm\"; the fields here are "),
        (
            text.replace("depth_mm: 38.0", "depth_mm: 38.0mm"),
            "19:37: expected a comma or closing bracket; write numbers without units",
        ),
        (text.replace("#0f7c8a", "teal"), "not a colour: \"teal\"; write #"),
        (
            text.replace("kind: CrewTee", "kind: Cape"),
            "6:15: unknown choice \"Cape\"; the choices here are \"CrewTee\", \"VNeckTee\"",
        ),
        (text.replace("format: 2,", ""), "the field \"format\" is missing; give it"),
        (text[..400].to_owned(), "10:70: expected a comma or closing bracket"),
        (String::new(), "1:1: expected an opening (; put fields in round brackets"),
        ("\u{feff}(format: 2)".to_owned(), "1:1: expected an opening (; put fields in round brackets"),
    ];
    for (wrong, expected) in cases {
        let said = refusal(&wrong);
        assert!(said.contains(expected), "said {said}\n not {expected}");
    }
}

#[test]
fn presets_are_scaled_or_kept() {
    let text = EXAMPLE_PRESETS.iter().find(|example| example.name == "steady-steps.ron").unwrap().text;
    let preset = parse_preset(text).unwrap();
    let mut raw = layout(example("harbour-row-tee-2xl.ron")).raw().clone();
    raw.fold.burst_mut().unwrap().guide_radius_mm = 215.0;
    let first_gap = |fit| {
        let raw = LayoutSpec { binds: preset.apply(215.0, fit).unwrap(), ..raw.clone() };
        Layout::try_from(raw).unwrap().binds().inward.first_gap_mm
    };
    assert_close!(first_gap(Fit::Kept), 36.0, 1e-9);
    assert_close!(first_gap(Fit::Scaled), 36.0 * 215.0 / 230.0, 1e-9);
}

/// Every preset that comes with the program goes on every layout that does, scaled to its guide arc; on a puck none, whose bands are even.
#[test]
fn every_preset_fits_every_layout() {
    for example in EXAMPLE_LAYOUTS {
        let layout = layout(example.text);
        for preset in EXAMPLE_PRESETS.map(|preset| parse_preset(preset.text).unwrap()) {
            // A guide arc that small holds no more rings than the rule has marks.
            let laid = PresetUse { fit: Fit::Scaled, marks: PresetMarks::Taken, ..PresetUse::default() }.lay(&preset, &layout);
            // One that takes all of the cloth leaves nothing for other ties.
            if layout.is_of_several() {
                continue;
            }
            if layout.spiral().is_some() {
                assert_eq!(laid, Err(SpacingError::EvenBands { field: "inward" }));
                continue;
            }
            let fitted = Layout::try_from(laid.unwrap());
            assert!(fitted.is_ok(), "{} on {}: {}", preset.name, example.name, fitted.unwrap_err());
        }
    }
}

/// Wraps lie side by side, half of them to either side of the ring, and two threads of cloth stay bare between (common practice, no
/// source): 4 mm between binds of five wraps of 1 mm, 5 mm of which they cover, can't be tied.
#[test]
fn the_smallest_gap_counts_the_wraps_at_either_side() {
    let mut raw = starter(GarmentKind::InfantBodysuit, Some("0-3 months"), &RawMeasures::default()).unwrap();
    let span = Some(Span::ToEnd { leave_mm: 6.0 });
    raw.binds.inward = Progression::Ratio { count: None, first_gap_mm: Some(14.0), last_gap_mm: None, ratio: Some(0.88), span };
    for (wraps, thread_mm) in [(3, 1.0), (2, 1.0), (3, 2.5), (6, 0.5)] {
        (raw.thread.wraps, raw.thread.diameter_mm) = (wraps, thread_mm);
        let figures = Figures::of(&Layout::try_from(raw.clone()).unwrap());
        let expected: Vec<(u32, f64, f64)> = figures
            .binds
            .windows(2)
            .filter_map(|pair| {
                let least_mm = thread_mm * (0.5 * f64::from(pair[0].wraps) + 0.5 * f64::from(pair[1].wraps) + 2.0);
                let gap_mm = pair[1].radius_mm - pair[0].radius_mm;
                (gap_mm < least_mm).then_some((pair[0].number, gap_mm, least_mm))
            })
            .collect();
        let found: Vec<(u32, f64, f64)> = figures
            .warnings
            .iter()
            .filter_map(|warning| match *warning {
                Warning::GapTooSmall { inner_bind, gap_mm, limit_mm, .. } => Some((inner_bind.number, gap_mm, limit_mm)),
                _ => None,
            })
            .collect();
        assert!(!expected.is_empty());
        assert_eq!(found, expected, "{wraps} wraps of {thread_mm} mm");
    }
    // What the maker says goes before what the wraps need.
    raw.binds.smallest_gap_mm = Some(3.0);
    let figures = Figures::of(&Layout::try_from(raw).unwrap());
    assert!(!figures.warnings.iter().any(|warning| matches!(warning, Warning::GapTooSmall { .. })));
}

#[test]
fn every_warning_is_a_sentence_with_its_limit() {
    let text = example("harbour-row-tee-m.ron")
        .replace("depth_mm: 38.0", "depth_mm: 9.0")
        .replace("above_middle_mm: 55.0", "above_middle_mm: 320.0")
        .replace("leave_mm: 20.0", "leave_mm: -60.0")
        .replace("wash:", "/* thick */ wash:")
        .replace("grams_per_m2: 180.0", "free_thickness_mm: 4.0, pressed_thickness_mm: 3.0")
        .replace("marks: Millimetres1", "smallest_gap_mm: 20.0, marks: Exact");
    let Ok(layout) = parse_layout(&text.replace("leave_mm: -60.0", "leave_mm: 0.0")) else { panic!("the text is right") };
    let figures = Figures::of(&layout);
    let kinds: Vec<String> =
        figures.warnings.iter().map(|w| serde_json::to_value(w).unwrap()["kind"].as_str().unwrap().to_owned()).collect();
    for expected in ["centre_on_one_panel", "guide_arc_off_cloth", "pleat_too_shallow", "rod_too_thick", "gap_too_small"] {
        assert!(kinds.iter().any(|kind| kind == expected), "{expected} is not among {kinds:?}");
    }
    for warning in &figures.warnings {
        let sentence = warning.say(Voice { lengths: LengthStyle::default(), names: Names::Keys });
        assert!(sentence.ends_with('.') && !sentence.contains("NaN"), "{sentence}");
    }
}

/// Layouts as files of format 1 have them: one by hand, one with everything that can be said.
const OF_FORMAT_1: [&str; 2] =
    [include_str!("../forms/files/layout-1-by-hand.ron"), include_str!("../forms/files/layout-1-steps.ron")];

proptest! {
    #![proptest_config(seeded(40, 600))]

    /// However mangled, a text is read or refused, and what is read has figures.
    #[test]
    fn no_text_panics(text in common::mangle::mangled(EXAMPLE_LAYOUTS.iter().map(|example| example.text).chain(OF_FORMAT_1).collect())) {
        match parse_layout(&text) {
            Ok(layout) => {
                let figures = Figures::of(&layout);
                prop_assert!(figures.thread_mm.is_finite());
                let again = parse_layout(&layout_text(layout.raw())).unwrap();
                prop_assert_eq!(again.raw(), layout.raw());
            }
            Err((_, problem)) => prop_assert!(!problem.to_string().is_empty()),
        }
        let _either = parse_preset(&text);
    }

    /// Numbers thrown at every field of a layout are taken or refused by name.
    #[test]
    fn no_number_panics(
        value in prop_oneof![any::<f64>(), -1e4..1e4_f64, Just(0.0), Just(f64::MIN_POSITIVE)],
        field in any::<prop::sample::Index>(),
        format in 1..=2,
    ) {
        let newest = || layout_text(&starter(GarmentKind::CrewTee, Some("M"), &RawMeasures::default()).unwrap());
        let text = if format == 1 { OF_FORMAT_1[1].to_owned() } else { newest() };
        let numbers: Vec<(usize, usize)> = number_spans(&text);
        let (start, end) = numbers[field.index(numbers.len())];
        let changed = format!("{}{value:?}{}", &text[..start], &text[end..]);
        if let Ok(layout) = parse_layout(&changed) {
            let figures = Figures::of(&layout);
            prop_assert!(figures.binds.iter().all(|bind| bind.thread_mm.is_finite() && bind.radius_mm > 0.0));
        }
    }
}

/// Where the decimal numbers of a text stand.
fn number_spans(text: &str) -> Vec<(usize, usize)> {
    let mut spans = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices() {
        match (start, c.is_ascii_digit() || c == '.' || c == '-') {
            (None, true) => start = Some(at),
            (Some(from), false) => {
                if text[from..at].contains('.') {
                    spans.push((from, at));
                }
                start = None;
            }
            _ => {}
        }
    }
    spans
}
