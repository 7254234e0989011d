//! Fields and values of a layout file in the maker's terms.

use crate::measure::neat;
use serde_json::{Map, Value};

/// Fields, by the beginning of their path, in the order in which a maker decides them.
const LABELS: [(&str, &str); 28] = [
    ("name", "name"),
    ("note", "note"),
    ("garment.kind", "garment"),
    ("garment.size", "size"),
    ("garment.measures", "measured"),
    ("garment.colour", "garment colour"),
    ("garment.cloth", "cloth"),
    ("garment.wash.length_percent", "wash, length"),
    ("garment.wash.width_percent", "wash, width"),
    ("garment", "garment"),
    ("fold.Burst.half_fold", "half fold"),
    ("fold.Burst.centre", "burst centre"),
    ("fold.Burst.guide_radius_mm", "guide arc"),
    ("fold.Burst.extra_arcs_mm", "extra arcs"),
    ("fold.Burst.pleats", "pleats"),
    ("fold.Burst", "burst"),
    ("fold", "fold"),
    ("binds.inward", "gaps inward"),
    ("binds.outward", "gaps outward"),
    ("binds.marks", "rule marks"),
    ("binds.edits", "binds moved by hand"),
    ("binds", "binds"),
    ("thread", "thread"),
    ("colours.rotation", "colours"),
    ("colours.start", "first colour at"),
    ("colours", "colours"),
    ("process", "process"),
    ("limits", "warning limits"),
];

/// Endings of names that say a unit. Millimetres are written in the reader's own.
const UNITS: [(&str, &str); 7] = [
    ("_g_per_m2", "g/m2"),
    ("grams_per_m2", "g/m2"),
    ("_percent", "%"),
    ("_deg", "degrees"),
    ("_rad", "rad"),
    ("_per_mm", "per mm"),
    ("_mm", "mm"),
];

fn known(path: &str) -> Option<(usize, &'static str, &str)> {
    LABELS.iter().enumerate().find_map(|(place, (field, label))| {
        let rest = path.strip_prefix(field)?;
        (rest.is_empty() || rest.starts_with('.')).then_some((place, *label, rest))
    })
}

/// Where a field stands among all, and then by its path.
pub(super) fn order(path: &str) -> (usize, String) {
    (known(path).map_or(LABELS.len(), |(place, ..)| place), path.to_owned())
}

/// A field in the maker's terms: `guide arc`, `measured, half chest`, `gaps inward, ratio, first gap`.
pub(super) fn label(path: &str) -> String {
    let (lead, rest) = known(path).map_or(("", path), |(_, label, rest)| (label, rest));
    let parts = rest.split('.').filter(|part| !part.is_empty()).map(plain);
    let lead = (!lead.is_empty()).then(|| lead.to_owned());
    lead.into_iter().chain(parts).collect::<Vec<_>>().join(", ")
}

/// A value in the maker's terms, lengths as they are written by `length`; `path` ends in the name of the field that it belongs to.
pub(super) fn words(path: &str, value: &Value, length: &dyn Fn(f64) -> String) -> String {
    let name = path.rsplit('.').next().unwrap_or(path);
    match value {
        Value::Null => "none".to_owned(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Number(number) => quantity(name, number.as_f64().unwrap_or(f64::NAN), length),
        Value::String(text) if matches!(name, "name" | "note" | "srgb" | "size") => text.clone(),
        Value::String(text) => plain(text),
        Value::Array(items) if items.is_empty() => "none".to_owned(),
        Value::Array(items) => items.iter().map(|item| words(path, item, length)).collect::<Vec<_>>().join(", "),
        Value::Object(object) => object_words(object, length),
    }
}

fn object_words(object: &Map<String, Value>, length: &dyn Fn(f64) -> String) -> String {
    if let (Some(Value::String(name)), Some(Value::String(srgb))) = (object.get("name"), object.get("srgb")) {
        return format!("{name} ({srgb})");
    }
    let field = |(key, value): (&String, &Value)| format!("{} {}", plain(key), words(key, value, length));
    if !is_variant(object) {
        return object.iter().map(field).collect::<Vec<_>>().join(", ");
    }
    object.iter().map(|(tag, inside)| format!("{} ({})", plain(tag), words(tag, inside, length))).collect()
}

/// Whether an object is one of several kinds that a value may be: its one key, a capitalised word, says which.
pub(super) fn is_variant(object: &Map<String, Value>) -> bool {
    object.len() == 1 && object.keys().all(|key| key.starts_with(char::is_uppercase))
}

fn quantity(name: &str, value: f64, length: &dyn Fn(f64) -> String) -> String {
    match UNITS.iter().find(|(ending, _)| name.ends_with(ending)) {
        Some((_, "mm")) => length(value),
        Some((_, unit)) => format!("{} {unit}", neat(value)),
        None => neat(value),
    }
}

/// A name in words: `first_gap_mm` as `first gap`, `CrewTee` as `crew tee`, `Millimetres1` as `millimetres 1`.
fn plain(name: &str) -> String {
    let unit = UNITS.iter().find(|(ending, _)| name.ends_with(ending) && name.len() > ending.len());
    let name = unit.map_or(name, |(ending, _)| name.strip_suffix(ending).unwrap_or(name));
    let mut out = String::new();
    let mut before = ' ';
    for c in name.chars() {
        let begins = (c.is_uppercase() && before.is_lowercase()) || (c.is_ascii_digit() && before.is_alphabetic());
        if begins {
            out.push(' ');
        }
        out.extend(if c == '_' { ' '.to_lowercase() } else { c.to_lowercase() });
        before = c;
    }
    out
}
