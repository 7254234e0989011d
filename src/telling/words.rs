//! What the window calls the fields of files.

/// Keys that the window calls otherwise than their own words.
const WORDS: [(&str, &str); 36] = [
    ("guide_radius_mm", "guide arc"),
    ("further_arcs_mm", "extra arc"),
    ("extra_arcs_mm", "extra arc"),
    ("centre", "burst centre"),
    ("from_centre_line_mm", "distance from the centre line"),
    ("below_shoulder_mm", "height below the shoulder"),
    ("above_middle_mm", "height above the middle"),
    ("depth_mm", "pleat depth"),
    ("inward", "inward gaps"),
    ("outward", "outward gaps"),
    ("edits", "binds changed by hand"),
    ("marks", "marks of the rule"),
    ("single", "section"),
    ("bare", "sections left bare"),
    ("rotation", "colours"),
    ("grams_per_m2", "grams per m²"),
    ("free_thickness_mm", "free thickness"),
    ("pressed_thickness_mm", "pressed thickness"),
    ("packing", "packing when tied"),
    ("hem_rise_mm", "hem rise at the side"),
    ("diameter_mm", "thread thickness"),
    ("tail_mm", "each tail"),
    ("thin_extra_wraps", "more wraps where thin"),
    ("leave_mm", "margin"),
    ("length_percent", "wash, length"),
    ("width_percent", "wash, width"),
    ("strength", "discharge strength"),
    ("wander_mm", "hand wander"),
    ("depth_percent", "shade"),
    ("litres_per_kg", "litres of water per kg"),
    ("srgb", "colour"),
    ("step_mm", "change per gap"),
    ("span", "total length"),
    ("lines", "rows"),
    ("line", "row"),
    ("floor_cm2", "vessel base"),
];

/// Keys that it calls otherwise only within others.
const WORDS_WITHIN: [(&str, &str, &str); 8] = [
    ("ties", "further", "further ties"),
    ("dips", "depth_mm", "depth"),
    ("shape", "diameter_mm", "diameter"),
    ("pattern", "start", "start of the pattern"),
    ("pattern", "centre", "centre of the wedges"),
    ("wrap", "from_mm", "wound from"),
    ("wrap", "to_mm", "wound to"),
    ("wrap", "gap_mm", "gap between turns"),
];

/// Endings that the numbers beside them say.
const UNSAID: [&str; 11] = ["_mm", "_deg", "_percent", "_g_per_l", "_min", "_cm2", "_m3", "_ml", "_g", "_l", "_c"];

/// A key within another in the window's words.
pub(super) fn words_of(within: &str, key: &str) -> String {
    if let Some((_, _, words)) = WORDS_WITHIN.into_iter().find(|(outer, known, _)| (*outer, *known) == (within, key)) {
        return words.to_owned();
    }
    if let Some((_, words)) = WORDS.into_iter().find(|(known, _)| *known == key) {
        return words.to_owned();
    }
    let bare = UNSAID.into_iter().find_map(|ending| key.strip_suffix(ending)).unwrap_or(key);
    bare.replace('_', " ")
}
