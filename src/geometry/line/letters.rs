//! Capital letters as strokes of a pen, in our own plain hand.
//!
//! Strokes branch only at their ends, and bowls stay open by a gap: what encloses cloth would be a ring with a rod of its own.

use kurbo::BezPath;

/// Letters and their strokes, in a box about 4 wide and 6 high, `y` down.
const LETTERS: [(char, &str); 26] = [
    ('A', "M0,6 L0.8,3.6 M0.8,3.6 L2,0 L4,6 M0.8,3.6 L2.5,3.6"),
    ('B', "M0,0 L0,3 M0,3 L0,6 M0,0 L1.6,0 C3.4,0 3.4,2.4 1.6,2.4 L0.7,2.4 M0,3 L1.8,3 C4.2,3 4.2,6 1.8,6 L0.7,6"),
    ('C', "M4,1.2 C3.2,-0.4 0,-0.6 0,3 C0,6.6 3.2,6.4 4,4.8"),
    ('D', "M0,6 L0,0 L1.4,0 C5,0 5,6 1.4,6 L0.7,6"),
    ('E', "M4,0 L0,0 L0,3 M0,3 L0,6 L4,6 M0,3 L3,3"),
    ('F', "M4,0 L0,0 L0,2.8 M0,2.8 L0,6 M0,2.8 L3,2.8"),
    ('G', "M4,1.2 C3.2,-0.4 0,-0.6 0,3 C0,6.8 4,6.8 4,3.4 L2.4,3.4"),
    ('H', "M0,0 L0,3 M0,3 L0,6 M0,3 L4,3 M4,0 L4,3 M4,3 L4,6"),
    ('I', "M0,0 L0,6"),
    ('J', "M3,0 L3,4.2 C3,6.6 0,6.6 0,4.4"),
    ('K', "M0,0 L0,3.4 M0,3.4 L0,6 M0,3.4 L1.4,2.4 M1.4,2.4 L4,0 M1.4,2.4 L4,6"),
    ('L', "M0,0 L0,6 L3.6,6"),
    ('M', "M0,6 L0,0 L2,3.4 L4,0 L4,6"),
    ('N', "M0,6 L0,0 L4,6 L4,0"),
    ('O', "M2.4,0 C5,0.2 4.8,6 2.1,6 C-0.7,6 -0.7,0.2 1.6,0"),
    ('P', "M0,6 L0,0 L1.8,0 C4.4,0 4.4,3.2 1.8,3.2 L0.7,3.2"),
    ('Q', "M2.4,0 C4.9,0.2 4.6,4.2 3.4,5.2 M3.4,5.2 C1.6,6.7 -0.9,5.6 0,2.6 C0.4,1.2 1,0.2 1.6,0 M3.4,5.2 L4.4,6.4"),
    ('R', "M0,6 L0,3.2 M0,3.2 L0,0 L1.8,0 C4.2,0 4.2,2.5 1.8,2.5 L0.7,2.5 M0,3.2 L1.6,3.2 L4,6"),
    ('S', "M3.8,1 C3,-0.6 0.1,-0.4 0.2,1.6 C0.3,3.4 3.9,2.6 3.9,4.4 C3.9,6.5 0.8,6.5 0,5"),
    ('T', "M0,0 L2,0 M2,0 L4,0 M2,0 L2,6"),
    ('U', "M0,0 L0,4 C0,6.7 4,6.7 4,4 L4,0"),
    ('V', "M0,0 L2,6 L4,0"),
    ('W', "M0,0 L1.1,6 L2.2,2 L3.3,6 L4.4,0"),
    ('X', "M0,0 L2,3 M2,3 L4,6 M4,0 L2,3 M2,3 L0,6"),
    ('Y', "M0,0 L2,3 M4,0 L2,3 M2,3 L2,6"),
    ('Z', "M0,0 L4,0 L0,6 L4,6"),
];

/// A letter's strokes; of what is no letter an I.
pub(super) fn letter(of: char) -> BezPath {
    let asked = of.to_ascii_uppercase();
    let (_, strokes) = LETTERS.iter().find(|(letter, _)| *letter == asked).unwrap_or(&LETTERS[8]);
    // Every one is read by a test.
    BezPath::from_svg(strokes).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_letter_is_read() {
        for (of, strokes) in LETTERS {
            let path = BezPath::from_svg(strokes).unwrap();
            assert!(path.segments().count() > 0 && path.is_finite(), "{of}");
        }
        assert_eq!((letter('s'), letter('?')), (letter('S'), letter('I')));
        assert!(LETTERS.windows(2).all(|two| two[0].0 < two[1].0));
    }
}
