//! Swatch files: read, checked, written back, merged; and the warnings about the colours of a layout.

#![allow(clippy::unwrap_used, reason = "a failed unwrap is a failed test")]

use pleatwright::layout::{Layout, Srgb, Swatch};
use pleatwright::reveal::colour::{
    ColourWarning, Dye, DyeSet, DyeSwatch, Ground, Origin, Renamed, SwatchBook, TOLD_APART, colour_warnings,
};
use pleatwright::store::{
    EXAMPLE_LAYOUTS, EXAMPLE_SWATCHES, FileKind, file_kind, parse_layout, parse_swatches, read_swatches, swatches_text,
};
use pleatwright::telling::{Voice, Warned as _};

const OWN: &str = r##"(
    format: 2,
    name: "Bench shelf",
    swatches: [
        (colour: (name: "teal", srgb: "#136f7a"), shade_percent: 3.0, over: "#f4f1ea", origin: Measured, note: "batch 2"),
        (colour: (name: "amber", srgb: "#d99a1e"), shade_percent: 4.0),
    ],
)"##;

fn book(text: &str) -> SwatchBook {
    parse_swatches(text).unwrap_or_else(|(place, problem)| panic!("{place:?}: {problem}"))
}

fn refusal(text: &str) -> String {
    let (place, problem) = parse_swatches(text).unwrap_err();
    place.map_or_else(String::new, |place| format!("{}:{}: ", place.line, place.column)) + &problem.to_string()
}

#[test]
fn every_example_is_shipped_reads_and_comes_back_exactly() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/swatches");
    let mut names: Vec<_> = std::fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    names.sort();
    assert_eq!(names, EXAMPLE_SWATCHES.map(|example| example.name));
    for example in EXAMPLE_SWATCHES {
        let once = read_swatches(&folder.join(example.name)).unwrap();
        assert!(once.swatches().len() >= 8);
        assert_eq!(once, book(&swatches_text(&once)));
    }
    let own = book(OWN);
    assert_eq!(own, book(&swatches_text(&own)));
    assert_eq!(swatches_text(&own), swatches_text(&book(&swatches_text(&own))));
}

#[test]
fn a_swatch_is_a_dye_at_its_depth() {
    let own = book(OWN);
    let teal = own.swatch("teal").unwrap();
    assert_eq!(teal.origin, Origin::Measured);
    assert_eq!(teal.dye(), Dye { swatch: "#136f7a".parse().unwrap(), over: "#f4f1ea".parse().unwrap() });
    assert!((teal.dose(1.5) - 0.5).abs() < 1e-12);
    assert_eq!(own.swatch("amber").unwrap().dye().over, Ground::WHITE);
    assert!(own.swatch("mauve").is_none());
}

#[test]
fn a_wrong_swatch_file_is_placed_and_named() {
    let cases = [
        ("format: 2", "format: 9", "2:5: format: unknown file format 9"),
        (
            "shade_percent: 4.0",
            "shade_percent: 0.0",
            "6:52: swatches.2.shade_percent: \"amber\" at 0 % of the dry cloth is out of range; give 0.01 to 50 %",
        ),
        ("shade_percent: 4.0", "shade_percent: NaN", "swatches.2.shade_percent"),
        ("\"amber\"", "\"teal\"", "6:19: swatches.2.colour.name: swatch 1 is named \"teal\" too; keep one or rename it"),
        ("\"amber\"", "\"\"", "6:19: swatches.2.colour.name: not a usable name (0 characters)"),
        ("\"Bench shelf\"", "\" \"", "3:5: name: not a usable name"),
        ("#d99a1e", "amber", "not a colour: \"amber\""),
        ("shade_percent: 4.0", "depth: 4.0", "unknown field \"depth\"; the fields here are \"colour\", \"shade_percent\""),
        (", shade_percent: 4.0", "", "shade_percent"),
    ];
    for (from, to, expected) in cases {
        assert!(OWN.contains(from), "{from}");
        let said = refusal(&OWN.replace(from, to));
        assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
    }
    assert!(refusal("").contains("1:1"));
}

#[test]
fn books_are_merged_and_a_taken_name_gets_a_number() {
    let mut shelf = book(EXAMPLE_SWATCHES[0].text);
    let count = shelf.swatches().len();
    let own = book(OWN);
    // Amber is the same in both; teal is another teal.
    assert_eq!(shelf.take_in(&own), [Renamed { from: "teal".to_owned(), to: "teal 2".to_owned() }]);
    assert_eq!(shelf.swatches().len(), count + 1);
    let taken = shelf.swatch("teal 2").unwrap();
    assert_eq!(
        DyeSwatch { colour: Swatch { name: "teal".to_owned(), ..taken.colour.clone() }, ..taken.clone() },
        own.swatches()[0]
    );
    assert_eq!(shelf, book(&swatches_text(&shelf)), "a merged book is a right one");
}

fn tee(colours: &str) -> Layout {
    let text = EXAMPLE_LAYOUTS[0].text;
    let (from, to) = (text.find("rotation: [").unwrap(), text.find("start: Centre").unwrap());
    parse_layout(&format!("{}rotation: [{colours}], {}", &text[..from], &text[to..])).unwrap()
}

#[test]
fn alike_neighbours_are_told_with_a_better_order() {
    let layout = tee(
        r##"(name: "lake", srgb: "#2f6fb0"), (name: "harbour", srgb: "#2b66a6"), (name: "amber", srgb: "#d99a1e"), (name: "straw", srgb: "#e0a32a")"##,
    );
    let white = Some(Srgb { red: 250, green: 248, blue: 240 });
    let set = DyeSet::of_layout(&layout, white);
    let warnings = colour_warnings(&layout, &set, 1.0, TOLD_APART);
    let [ColourWarning::NeighboursAlike { inner_sections, first, second, better_order, .. }, other] = &warnings[..] else {
        panic!("{warnings:?}");
    };
    assert_eq!((first.as_str(), second.as_str()), ("lake", "harbour"));
    assert_eq!(inner_sections[..3], [1, 5, 9]);
    assert_eq!(better_order.as_ref().unwrap().colours, ["lake", "amber", "harbour", "straw"]);
    assert!(matches!(other, ColourWarning::NeighboursAlike { first, .. } if first == "amber"));
    for warning in &warnings {
        let sentence = warning.say(Voice::FILE);
        assert!(sentence.ends_with('.') && sentence.contains("In the order lake, amber"), "{sentence}");
    }
}

#[test]
fn a_colour_lost_on_the_ground_is_told() {
    // Undischarged, a pale straw can't be seen on plum.
    let layout = tee(r##"(name: "teal", srgb: "#0f7c8a"), (name: "straw", srgb: "#f3ead0")"##);
    let plum = DyeSet::of_layout(&layout, None);
    let warnings = colour_warnings(&layout, &plum, 0.0, TOLD_APART);
    assert!(
        warnings.iter().any(|warning| matches!(warning, ColourWarning::LostOnGround { colour, .. } if colour == "straw")),
        "{warnings:?}"
    );
    assert!(warnings.iter().all(|warning| warning.say(Voice::FILE).ends_with('.')));
    // The example's own three colours on a well discharged ground need no warning.
    let example = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let set = DyeSet::of_layout(&example, Some("#e6d3c0".parse().unwrap()));
    assert_eq!(colour_warnings(&example, &set, 1.0, TOLD_APART), []);
    // A dye of the garment's own colour hides the rings that the thread keeps.
    let layout = tee(r##"(name: "teal", srgb: "#0f7c8a"), (name: "wine", srgb: "#601434")"##);
    let set = DyeSet::of_layout(&layout, Some("#e6d3c0".parse().unwrap()));
    let warnings = colour_warnings(&layout, &set, 1.0, TOLD_APART);
    let [ColourWarning::RingsLost { colour, .. }] = &warnings[..] else { panic!("{warnings:?}") };
    assert_eq!(colour, "wine");
}

/// What a discharge leaves: what is given, else what the layout says, else a guess that darkens nothing.
#[test]
fn the_discharged_ground_is_given_said_or_guessed() {
    let example = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap();
    let colour = |text: &str| text.parse::<Srgb>().unwrap();
    let discharged = |layout: &Layout, over: Option<Srgb>| DyeSet::of_layout(layout, over).srgb(&[], 1.0);
    assert_eq!(discharged(&example, Some(colour("#e6d3c0"))), colour("#e6d3c0"));
    let mut raw = example.raw().clone();
    raw.garment.discharged = Some(Swatch::plain("rose", colour("#d8a8a0")));
    assert_eq!(discharged(&Layout::try_from(raw.clone()).unwrap(), None), colour("#d8a8a0"));
    raw.garment.discharged = None;
    assert_eq!(discharged(&Layout::try_from(raw.clone()).unwrap(), None), Ground::DISCHARGED_GUESS);
    raw.garment.colour = None;
    assert_eq!(discharged(&Layout::try_from(raw.clone()).unwrap(), None), Ground::WHITE);
    raw.garment.discharged = Some(Swatch::plain("", Ground::WHITE));
    assert_eq!(Layout::try_from(raw).unwrap_err().field, "garment.discharged.name");
}

#[test]
fn a_book_of_swatches_is_known_by_its_fields() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("layouts/swatches").join(EXAMPLE_SWATCHES[0].name);
    assert_eq!(file_kind(&path).unwrap(), FileKind::Swatches);
}
