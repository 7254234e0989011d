//! What fields mean, for the pointer that rests on one: only where the label alone may leave a maker in doubt.

/// A sentence about the field of that label.
pub(super) fn hint(label: &str) -> Option<&'static str> {
    HINTS.iter().find(|(of, _)| *of == label).map(|(_, words)| *words).or_else(|| about_part(label))
}

/// Fields that stand once for each of several things, by how their labels end.
fn about_part(label: &str) -> Option<&'static str> {
    PARTS.iter().find(|(end, _)| label.ends_with(end)).map(|(_, words)| *words)
}

const HINTS: &[(&str, &str)] = &[
    // The garment.
    ("Grams per m²", "Mass of a square metre of the dry cloth; single jersey for shirts has 140 to 200"),
    ("Thickness, free", "Of one layer lying free: measure a stack of ten"),
    ("Thickness, pressed", "Of one layer under a light weight: measure a stack of ten under a book"),
    (
        "Cloth's share, bound",
        "Share of a bound rod's cross-section that is cloth, not air; measure the girth at a bind and correct it",
    ),
    ("Content label", "As it stands, such as 95 % cotton, 5 % elastane; left empty it is taken for cotton"),
    ("Wash, length %", "How much the length changes in the first wash; minus is shrinking"),
    ("Wash, width %", "How much the width changes in the first wash; minus is shrinking"),
    // The burst.
    ("Centring", "In which order the halves lie on each other; that decides which of them match"),
    ("From the centre line", "Off the line, a folded garment shows the burst twice, mirrored"),
    ("Below the shoulder", "From the high point of the shoulder, where it meets the neck, straight down"),
    ("Below the edge", "From the upper edge of the cloth, straight down"),
    ("Above the middle", "From the middle of the garment's length, straight up"),
    ("Guide arc", "The arc that the cloth is folded along and the first that is bound: string from pin to chalk"),
    ("Pleat depth", "From crease to crease along the guide arc; it is rounded so that whole pleats go round"),
    // The binds.
    ("First gap", "The gap next to the guide arc; leave empty what is to follow from the other values"),
    ("Last gap", "The gap farthest from the guide arc; leave empty what is to follow from the other values"),
    ("Gap", "Every gap; leave empty what is to follow from the other values"),
    ("Step", "By how much each gap is wider than the one before it, away from the guide arc; minus is narrower"),
    ("Ratio", "Each gap is the one before it times this, away from the guide arc; below 1 they shrink"),
    ("Exponent", "1 is even; above 1 the gaps tighten toward the centre"),
    ("Number of gaps", "Leave empty what is to follow from the other values"),
    ("Leave at the centre", "Cloth inside the last bind, so that the tip can be held"),
    ("Leave at the edge", "Cloth beyond the last bind"),
    ("Or all gaps together", "The length that all gaps of this side take, in place of what is left"),
    ("Gaps; from the guide", "Each gap after the other, parted by semicolons"),
    ("Radii fall on", "Binds move to the nearest mark of the rule in your hand"),
    // Thread.
    ("Wraps", "Turns of thread at an ordinary bind"),
    ("More where thin", "Turns more where the rod is thin and thread would slip"),
    ("Thin below", "A bind is thin when its girth is below this share of the girth at the guide arc"),
    ("Each tail", "Thread left at either end, to hold and to knot"),
    // The workshop.
    ("Limits and terms of", "Whose limits for gases, and whose names for masks, the cautions use"),
    ("Room, °C", "Ice melts and dye fixes by it"),
    ("Kept at, °C", "Where the wrapped rods lie while the dye fixes: under a blanket, in a warm room"),
    ("Discharge vessel, L", "To the brim; stainless steel or enamel, four fifths of it are used"),
    ("Its floor, cm²", "How much water covers the rods: a pot 30 cm across has 700"),
    // The process.
    ("Bath's strength", "Against an ordinary discharge bath, which is 1"),
    ("The rod rests", "Which way it lies while the ice melts; what lies up gets most"),
    ("Its inside is", "How wet the rod is inside when the dye is put on: dry cloth draws it in"),
    ("Layers of ice", "Put on one after the other, each when the one before has melted"),
    ("Strays by", "How far cloth lies from where it should, on the average"),
    ("one way for", "Over what length it strays to one side"),
    ("Uneven creases", "How unequally creases stick out and take up dye: 0 is like a machine"),
    ("Damp inside, share", "Reach of a dye into damp cloth, as a share of that into dry"),
    ("Wet inside, share", "Reach of a dye into wet cloth, as a share of that into dry"),
    ("Further ice adds", "What each further layer of ice adds to the reach, as a share"),
    ("Seeping, per mm", "How strongly melt water seeps downward with its dye"),
    ("Run-off feeds", "What the underside takes up from run-off, as a share of an upper face under powder"),
    ("Sides catch", "How far round the sides powder and melt water still feed"),
    ("Flat after, rods", "How far from a bind the rod is flat again, in thicknesses of the bound rod"),
    ("Half discharged at", "Dose of the bath at which half the colour is gone; 1 at the surface"),
    ("Discharge steepness", "How suddenly the colour goes about that dose"),
    ("Reached from dose", "Dose from which cloth counts as reached; 1 at a fed surface"),
    // The sheets.
    ("100 mm bar prints as", "Measure the bar on a printed sheet; the next print is corrected by it"),
    ("Printer's margin", "Border that your printer leaves white"),
    ("Overlap", "How far neighbouring sheets overlap when they are taped"),
];

const PARTS: &[(&str, &str)] = &[
    (", along cloth", "How far it reaches along the cloth"),
    (", through", "How far it reaches from layer to layer"),
    (" lets through", "What is left of the cloth's conductance under such a bind: 0 bars everything, 1 nothing"),
    (" covers", "Share of the surface under such a bind that stays dry"),
    (" presses", "How far beyond the thread it presses the cloth, on either side"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_hint_is_one_plain_line() {
        for (index, (label, words)) in HINTS.iter().chain(PARTS).enumerate() {
            assert!(words.chars().next().is_some_and(|first| !first.is_lowercase()) && !words.ends_with('.'), "{label}");
            assert!(HINTS.iter().skip(index + 1).all(|(other, _)| other != label), "{label} twice");
        }
        assert_eq!(hint("Dye, along cloth"), hint("Bath, along cloth"));
        assert_eq!(hint("Name"), None);
    }
}
