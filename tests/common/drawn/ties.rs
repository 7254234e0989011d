//! A cloth of three ties that meet, small enough to be computed again and again.

use pleatwright::layout::Layout;
use pleatwright::store::parse_layout;

/// What was done otherwise than planned.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Made {
    /// Gap of the binds of the first tie, and of the second, mm.
    pub(crate) gaps_mm: [f64; 2],
    /// The second tie's centre.
    pub(crate) side: [f64; 2],
    pub(crate) teal: &'static str,
}

/// As planned.
pub(crate) const PLANNED: Made = Made { gaps_mm: [24.0, 22.0], side: [40.0, 330.0], teal: "#0f7c8a" };
/// The second tie's guide arc and its gap beyond it, the third's gaps, mm.
pub(crate) const SIDE_MM: [f64; 2] = [74.0, 20.0];

/// A cloth of three ties: a burst, one beside it whose rings end where the first's cloth begins, and a heart.
pub(crate) fn layout(of: Made) -> Layout {
    let thread = "thread: (kind: Waxed, diameter_mm: 1.0, wraps: 3, thin_extra_wraps: 2, thin_below: 0.5, tail_mm: 120.0)";
    let (Made { gaps_mm: [first, second], side: [x, y], teal }, [guide, beyond]) = (of, SIDE_MM);
    let colours = |one: &str, other: &str| format!("colours: (rotation: [{one}, {other}], start: Centre)");
    let (teal, amber, plum) = (
        format!("(name: \"teal\", srgb: \"{teal}\")"),
        "(name: \"amber\", srgb: \"#d99a1e\")".to_owned(),
        "(name: \"plum\", srgb: \"#7b2f63\")".to_owned(),
    );
    let (c1, c2, c3) = (colours(&teal, &amber), colours(&plum, &amber), colours(&amber, &plum));
    let text = format!(
        "(format: 2, name: \"Three ties\",
        garment: (kind: FlatCloth, measures: (cloth_width_mm: 550.0, cloth_height_mm: 550.0),
            colour: (name: \"white\", srgb: \"#f5f3ea\"),
            cloth: (grams_per_m2: 110.0, free_thickness_mm: 0.3, pressed_thickness_mm: 0.25)),
        fold: Burst(half_fold: Open, centre: BelowShoulder(from_centre_line_mm: -120.0, below_shoulder_mm: 250.0),
            guide_radius_mm: 80.0, pleats: Depth(depth_mm: 28.0)),
        binds: (inward: Even(count: 2, gap_mm: {first}), outward: Even(count: 1, gap_mm: 26.0), marks: Millimetres1),
        {thread}, {c1},
        process: (lies: EdgesUp, dye: PowderUnderIce, hand: (wander_mm: 0.0)),
        ties: (first: \"Big\", loose: \"teal\", further: [
            (name: \"Side\", fold: Burst(half_fold: Open, centre: BelowShoulder(from_centre_line_mm: {x}, below_shoulder_mm: {y}),
                guide_radius_mm: {guide}, pleats: Depth(depth_mm: 25.0)),
             binds: (inward: Even(count: 2, gap_mm: {second}), outward: Even(count: 1, gap_mm: {beyond}), marks: Millimetres1),
             {thread}, {c2}),
            (name: \"Heart\", fold: Line(half_fold: Open, line: Shape(shape: Heart,
                middle: BelowShoulder(from_centre_line_mm: 165.0, below_shoulder_mm: 130.0), width_mm: 130.0, height_mm: 130.0),
                guide_mm: 0.0, pleats: Depth(depth_mm: 20.0)),
             binds: (inward: Even(count: 1, gap_mm: 22.0), outward: Even(count: 1, gap_mm: 22.0), marks: Millimetres1),
             {thread}, {c3}),
        ]))"
    );
    parse_layout(&text).unwrap_or_else(|refused| panic!("{refused:?}"))
}
