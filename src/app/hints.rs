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
    ("Grams per m²", "Mass of a square metre of dry cloth; T-shirt jersey has 140 to 200, sweatshirt cloth 250 to 350"),
    ("Thickness, free", "One layer, not pressed: measure a stack of ten"),
    ("Thickness, pressed", "One layer under a light weight: measure a stack of ten under a book"),
    ("Packing when tied", "Share of the bound rod that is cloth, not air; tape a girth and correct it"),
    ("Content label", "Copied from the label, such as 95 % cotton, 5 % elastane; blank means cotton"),
    ("Wash, length %", "Change in length in the first wash; minus is shrinking"),
    ("Wash, width %", "Change in width in the first wash; minus is shrinking"),
    ("Layers", "One for a bib or a cloth; two for a front and a back"),
    // Flat bundles.
    ("Wedges in all", "In the whole turn about the centre: an even number"),
    ("Folded first on", "What the cloth is folded on before the wedges: the garment's own fold, or one through their centre"),
    ("Begins aside", "From the centre line to a corner of the pattern, where creases meet"),
    ("Begins down", "From the shoulder, or the cloth's upper edge, down to that corner"),
    // The burst.
    ("Half fold", "How the halves are stacked, and so which ones match"),
    ("From the centre line", "Off the line, a half-folded garment gets two mirrored bursts"),
    ("Below the shoulder", "Straight down from the high point of the shoulder, where it meets the neck"),
    ("Below the edge", "Straight down from the upper edge of the cloth"),
    ("Above the middle", "Straight up from the middle of the garment's length"),
    ("Guide arc", "Radius of the arc you pleat along and tie first"),
    ("Fold guide", "Distance from the line of the parallel you pleat along; outward makes outer pleats less deep"),
    ("Line width", "Breadth of the whole line, also where half of it shows"),
    ("Line height", "Height of the line's box"),
    ("From the edge", "Distance of a line along the hem or the neck from that edge"),
    ("From the line", "Distance from the line; below 0 is inside it, or below a line from edge to edge"),
    ("Pleat depth", "Crease to crease along the guide arc, adjusted to fit whole pleats"),
    ("Radius of the pinch", "Of the circle that your fingers hold: within it the cloth turns as one"),
    ("Turns", "How often you turn the pinch; the cloth allows only so many"),
    ("Turned", "Which way you turn the pinch, seen from above"),
    ("Pleats at the pinch", "Six to ten; farther out they branch by themselves"),
    ("Puck across", "Diameter of the puck, drawn together and pressed"),
    ("Puck height", "Leave blank for what the cloth comes to by itself"),
    ("First band at", "Where it crosses the rim, clockwise from the tick"),
    // The binds.
    ("First gap", "The gap beside the guide arc; leave blank to work it out"),
    ("Last gap", "The gap farthest from the guide arc; leave blank to work it out"),
    ("Gap", "Every gap; leave blank to work it out"),
    ("Change per gap", "How much each gap grows, away from the guide arc; minus shrinks it"),
    ("Ratio", "Each gap is the one before times this, away from the guide arc; below 1 they shrink"),
    ("Exponent", "1 is even; above 1 the gaps tighten toward the centre"),
    ("Number of gaps", "Leave blank to work it out"),
    ("Margin at centre", "Cloth inside the last bind, to hold the tip by"),
    ("Margin at edge", "Cloth beyond the last bind"),
    ("Or total length", "Length of all gaps on this side together, instead of a margin"),
    ("Gaps from guide", "Gap by gap from the guide arc, separated by semicolons"),
    ("Round radii to", "Binds move to the nearest mark on your rule"),
    // Thread.
    ("Wraps", "Turns of thread at an ordinary bind"),
    ("Extra where thin", "Extra turns where the rod is thin and thread would slip"),
    ("Thin below", "The rod is thin where its girth is below this share of the guide arc's"),
    ("Tail length", "Thread left at each end, to hold and knot"),
    // What dyes are mixed of.
    ("Share, %", "Of the mixture's powder by weight; the other components share out the rest"),
    ("Spreads farther, %", "Than other dyes, in the cloth; minus is less far, 0 as far as they"),
    // The workshop.
    ("Region", "Whose gas limits and mask names the cautions use"),
    ("Room, °C", "Sets how fast ice melts and dye fixes"),
    ("Cure at, °C", "Temperature around the wrapped rods while the dye fixes, such as in a warm room"),
    ("Discharge vessel, L", "To the brim, four fifths of it used; stainless steel or enamel"),
    ("Vessel base, cm²", "Decides how much water covers the rods; a pot 30 cm across has 700"),
    ("Vessel base, in²", "Decides how much water covers the rods; a pot 12 in across has 113"),
    // The process.
    ("Discharge strength", "Compared with an ordinary discharge, which is 1"),
    ("Rod lies", "Which way it lies while the ice melts; the upper side gets most dye"),
    ("Rod inside", "How wet the rod is inside when you add dye; dry cloth draws it in"),
    ("Layers of ice", "Added one by one, each when the one before has melted"),
    ("Wander", "How far cloth lies from its intended place, on average"),
    ("Wander length", "How far the cloth drifts to one side before turning back"),
    ("Uneven creases", "How unequally creases stick out and take up dye; 0 is a perfect fold"),
    ("Damp inside, share", "Reach of dye into damp cloth, as a share of its reach into dry"),
    ("Wet inside, share", "Reach of dye into wet cloth, as a share of its reach into dry"),
    ("Extra ice adds", "Reach added by each extra layer of ice, as a share"),
    ("Seeping, per mm", SEEPING),
    ("Seeping, per cm", SEEPING),
    ("Seeping, per in", SEEPING),
    ("Run-off feeds", "What the underside takes up from run-off, as a share of the upper face"),
    ("Sides catch", "How far round the sides powder and meltwater still feed"),
    ("Flat after, rods", "Distance from a bind at which the rod is flat again, in rod thicknesses"),
    ("Half discharged at", "Dose of discharge that removes half the colour; 1 at the surface"),
    ("Discharge steepness", "How sharply colour goes around that dose"),
    ("Reached from dose", "Least dose that counts as reached; 1 at a fed surface"),
    // The projection.
    ("Shown on", "The projector's screen, or a window to drag there yourself"),
    ("Line thickness", "Breadth of a chalk line on the table"),
    ("Upper side", "From corner 1 to corner 2, measured"),
    ("Right side", "From corner 2 to corner 3, measured"),
    ("Bar measures", "What your rule says from tick to tick; the picture is corrected by it"),
    ("Moved right", "From the rectangle's middle to the garment's"),
    ("Moved down", "From the rectangle's middle to the garment's, toward you"),
    // The sheets.
    ("Printer's margin", "Border your printer leaves white"),
    ("Overlap", "How far neighbouring sheets overlap when taped"),
];

const SEEPING: &str = "How strongly meltwater carries dye downward";

const PARTS: &[(&str, &str)] = &[
    (" aside", "From the centre line to where the fold runs"),
    (" down", "From the shoulder, or the cloth's upper edge, down to where the fold runs"),
    (" bar prints", "What the bar measures on your print; the next print is corrected"),
    (", along cloth", "Reach along the cloth"),
    (", through", "Reach from layer to layer"),
    (" lets through", "What still passes through cloth under this bind: 0 nothing, 1 everything"),
    (" covers", "Share of the surface under this bind that stays dry"),
    (" presses", "How far the cloth is pressed on each side of the thread"),
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
        assert_eq!(hint("Dye, along cloth"), hint("Discharge, along cloth"));
        assert_eq!(hint("Name"), None);
    }
}
