//! Where errors point, and by what names: a file's own keys, whatever its format.

use crate::text;
use pleatwright::store::{Place, TextError, parse_layout, parse_preset, parse_process, parse_recipe, parse_run, parse_swatches};

type Read = fn(&str) -> Result<(), (Option<Place>, TextError)>;

/// A file of every format, and what reads it.
fn files() -> Vec<(&'static str, Read)> {
    let layout: Read = |text| parse_layout(text).map(drop);
    let preset: Read = |text| parse_preset(text).map(drop);
    let swatches: Read = |text| parse_swatches(text).map(drop);
    let recipe: Read = |text| parse_recipe(text).map(drop);
    let process: Read = |text| parse_process(text).map(drop);
    let run: Read = |text| parse_run(text).map(drop);
    vec![
        ("layout-1-steps.ron", layout),
        ("layout-1-equal-cloth.ron", layout),
        ("layout-2-steps.ron", layout),
        ("layout-2-equal-cloth.ron", layout),
        ("preset-1.ron", preset),
        ("swatches-1.ron", swatches),
        ("swatches-2.ron", swatches),
        ("recipe-1.ron", recipe),
        ("recipe-2.ron", recipe),
        ("process-1.ron", process),
        ("process-2.ron", process),
        ("run-1.ron", run),
    ]
}

/// What reads a file of that name.
fn reader(name: &str) -> Read {
    let kind = |name: &str| name.split('-').next().map(str::to_owned);
    files().into_iter().find(|(other, _)| kind(other) == kind(name)).unwrap().1
}

fn said(result: Result<(), (Option<Place>, TextError)>) -> String {
    match result {
        Ok(()) => "right".to_owned(),
        Err((Some(place), problem)) => format!("{}:{}: {problem}", place.line, place.column),
        Err((None, problem)) => problem.to_string(),
    }
}

/// The key of each number of a text, and where the number stands.
fn numbers(text: &str) -> Vec<(String, std::ops::Range<usize>)> {
    let mut found = Vec::new();
    for (at, _) in text.match_indices(": ") {
        let key: String = text[..at].chars().rev().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
        let rest = &text[at + 2..];
        let length = rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(rest.len());
        if length > 0 {
            found.push((key.chars().rev().collect(), at + 2..at + 2 + length));
        }
    }
    found
}

/// No refusal leads to a name that the file does not have: format 1 knows no `fold`, format 2 no `burst`.
#[test]
fn every_refused_number_is_named_by_the_files_own_keys_and_placed() {
    for (name, read) in files() {
        let text = text(name);
        assert!(read(&text).is_ok(), "{name}: {}", said(read(&text)));
        let mut refused = 0;
        for (key, at) in numbers(&text) {
            for value in ["-1000000000.0", "1000000000.0", "0.0000001", "4000000000"] {
                let changed = format!("{}{value}{}", &text[..at.start], &text[at.end..]);
                let Err((place, problem)) = read(&changed) else { continue };
                if matches!(problem, TextError::Form(_)) {
                    continue;
                }
                let (tried, sentence) = (format!("{name}, {key}: {value}"), problem.to_string());
                let place = place.unwrap_or_else(|| panic!("{tried}: no place for: {sentence}"));
                let path = sentence.split(": ").next().unwrap();
                let parts: Vec<&str> = path.split('.').filter(|part| part.parse::<u32>().is_err()).collect();
                for part in &parts {
                    assert!(text.contains(&format!("{part}: ")), "{tried}: the file has no {part}: {sentence}");
                }
                let line = changed.lines().nth(place.line - 1).unwrap();
                let there: String = line.chars().skip(place.column - 1).collect();
                // A path that passes over the number of an item is found as far as the list.
                assert!(parts.iter().any(|part| there.starts_with(part)), "{tried}: {sentence}\n  at {there}");
                refused += 1;
            }
        }
        assert!(refused > 0, "{name}");
    }
}

#[test]
fn each_format_names_its_own_keys() {
    let cases = [
        ("layout-1-by-hand.ron", "guide_radius_mm: 230.0", "guide_radius_mm: -3.0", "17:9: burst.guide_radius_mm: "),
        ("layout-2-by-hand.ron", "guide_radius_mm: 230.0", "guide_radius_mm: -3.0", "37:9: fold.guide_radius_mm: "),
        ("layout-1-by-hand.ron", "further_arcs_mm: [100.0]", "further_arcs_mm: [-1.0]", "18:9: burst.further_arcs_mm: "),
        ("layout-2-steps.ron", "320.5", "-1.0", "fold.extra_arcs_mm: "),
        ("layout-1-steps.ron", "packing: 0.83", "packing: 83.0", "30:13: garment.cloth.packing: 83 is out of range"),
        (
            "layout-2-steps.ron",
            "packing_when_tied: 0.83",
            "packing_when_tied: 83.0",
            "30:13: garment.cloth.packing_when_tied: 83 is",
        ),
        ("layout-1-by-hand.ron", "above_middle_mm: 55.0", "above_middle_mm: 1e9", "burst.centre.above_middle_mm: "),
        ("layout-2-by-hand.ron", "above_middle_mm: 55.0", "above_middle_mm: 1e9", "fold.centre.above_middle_mm: "),
        ("recipe-1-least.ron", "value: 0.0", "value: 99.0", "soda_ash.strewn_per_gram_of_dye: 99 is out of range"),
        ("recipe-2-least.ron", "value: 0.0", "value: 99.0", "soda_ash.sprinkled_per_gram_of_dye: 99 is out of range"),
        (
            "recipe-1.ron",
            "\"pale rose\"",
            "\"\"",
            "20:13: dye.depths.\"\": not a usable name (0 characters); give 1 to 80 characters",
        ),
        (
            "recipe-2.ron",
            "\"pale rose\"",
            "\"\"",
            "20:13: dye.shades.\"\": not a usable name (0 characters); give 1 to 80 characters",
        ),
        ("swatches-1.ron", "depth_percent: 1.25", "depth_percent: 0", "20:13: swatches.3.depth_percent: "),
        ("swatches-2.ron", "shade_percent: 1.25", "shade_percent: 0", "20:13: swatches.3.shade_percent: "),
    ];
    for (name, from, to, told) in cases {
        let text = text(name);
        assert!(text.contains(from), "{name}: {from}");
        let read = reader(name);
        let said = said(read(&text.replacen(from, to, 1)));
        assert!(said.contains(told), "{name}: {said}");
    }
}

/// A key of one format is none of another's.
#[test]
fn no_format_takes_another_ones_keys() {
    for (name, from, to, unknown) in [
        ("layout-2-least.ron", "format: 2", "format: 1", "unknown field \"packing_when_tied\"; the fields here are "),
        ("layout-1-by-hand.ron", "format: 1", "format: 2", "unknown field \"burst\"; the fields here are "),
        ("swatches-2.ron", "format: 2", "format: 1", "unknown field \"shade_percent\"; the fields here are "),
        ("swatches-1.ron", "format: 1", "format: 2", "unknown field \"depth_percent\"; the fields here are "),
        ("recipe-2.ron", "format: 2", "format: 1", "unknown field \"usual_shade\"; the fields here are "),
        ("recipe-1.ron", "format: 1", "format: 2", "unknown field \"usual_depth\"; the fields here are "),
        ("process-2.ron", "format: 2", "format: 1", "unknown choice \"SodaAshSprinkled\"; the choices here are "),
        ("process-1.ron", "format: 1", "format: 2", "unknown choice \"SodaStrewn\"; the choices here are "),
    ] {
        let read = reader(name);
        let said = said(read(&text(name).replacen(from, to, 1)));
        assert!(said.contains(unknown), "{name}: {said}");
    }
}

#[test]
fn a_format_of_the_future_is_refused_by_its_number() {
    for (name, read) in files() {
        let text = text(name);
        let (at, _) = text.match_indices("format: ").next().unwrap();
        let said = said(read(&format!("{}format: 7{}", &text[..at], &text[at + "format: 1".len()..])));
        assert!(said.starts_with("2:5: format: ") && said.contains('7') && said.contains("newer version"), "{name}: {said}");
    }
}
