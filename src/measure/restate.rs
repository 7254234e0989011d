//! Sentences about lengths, in the unit of who reads them.

use super::LengthStyle;

/// How lengths stand in the program's own sentences: as [`neat`](super::neat) numbers.
const IN_SENTENCES: LengthStyle = LengthStyle::Metric { decimals: 3 };

impl LengthStyle {
    /// A sentence with its lengths in this style, each with its unit.
    ///
    /// Lengths are numbers before `mm`, those joined to one as in `from 25 to 715 mm` or `above 0 and at most 5000 mm`, and numbers
    /// that a field's name ending in `_mm` gives: `guide_radius_mm is -3.0`. Everything else stays as it is. What is so small that
    /// it would be written as nothing stays in mm, and millimetres keep three decimals.
    ///
    /// ```
    /// use pleatwright::measure::{InchFraction, LengthStyle};
    /// let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
    /// let sentence = "guide_radius_mm is -25.4; give a length above 0 and at most 5080 mm";
    /// assert_eq!(inches.restate(sentence), "guide_radius_mm is -1 in; give a length above 0 in and at most 200 in");
    /// ```
    #[must_use]
    pub fn restate(self, sentence: &str) -> String {
        let words: Vec<&str> = sentence.split(' ').collect();
        let mut restated = Vec::with_capacity(words.len());
        let mut index = 0;
        while let Some(word) = words.get(index) {
            match length_at(&words, index) {
                Some(length) => {
                    restated.push(format!("{}{}", self.in_sentence(length.mm), length.mark));
                    index += length.words;
                }
                None => {
                    restated.push((*word).to_owned());
                    index += 1;
                }
            }
        }
        restated.join(" ")
    }

    fn in_sentence(self, mm: f64) -> String {
        match self {
            Self::Metric { .. } => IN_SENTENCES.format(mm),
            Self::Inches { .. } if mm != 0.0 && mm.abs() < 0.5 * self.mark_mm() => IN_SENTENCES.format(mm),
            Self::Inches { .. } => self.format(mm),
        }
    }
}

/// A length in a sentence.
struct Length<'a> {
    mm: f64,
    /// The punctuation after it.
    mark: &'a str,
    /// How many words it takes, its unit among them.
    words: usize,
}

fn length_at<'a>(words: &[&'a str], index: usize) -> Option<Length<'a>> {
    let (mm, mark) = number(words[index])?;
    let after = &words[index + 1..];
    if mark.is_empty()
        && let Some(mark) = unit(after)
    {
        return Some(Length { mm, mark, words: 2 });
    }
    (is_joined(after) || is_of_a_field(&words[..index])).then_some(Length { mm, mark, words: 1 })
}

/// A number and the punctuation after it.
fn number(word: &str) -> Option<(f64, &str)> {
    let bare = word.trim_end_matches([',', ';', ':', '.', ')']);
    // "NaN" and "inf" have no unit.
    bare.parse().ok().filter(|number: &f64| number.is_finite()).map(|number| (number, &word[bare.len()..]))
}

/// The punctuation after the unit that the words begin with.
fn unit<'a>(words: &[&'a str]) -> Option<&'a str> {
    words.first()?.strip_prefix("mm").filter(|mark| !mark.contains(char::is_alphanumeric))
}

/// Whether the words go on to another number that has the unit of both.
fn is_joined(after: &[&str]) -> bool {
    [&["to"][..], &["and", "at", "most"]].into_iter().any(|joint| {
        after.starts_with(joint)
            && after.get(joint.len()).is_some_and(|word| word.parse::<f64>().is_ok())
            && unit(&after[joint.len() + 1..]).is_some()
    })
}

/// Whether the words before a number name a field in mm that has it.
fn is_of_a_field(before: &[&str]) -> bool {
    let linking = ["is", "be", "can", "as", "well", "of"];
    let mut backward = before.iter().rev().skip_while(|word| linking.contains(word) || number(word).is_some());
    backward.next().is_some_and(|word| word.trim_end_matches(':').ends_with("_mm"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::InchFraction;

    fn inches(sentence: &str) -> String {
        LengthStyle::Inches { nearest: InchFraction::Sixteenth }.restate(sentence)
    }

    #[test]
    fn every_length_of_a_sentence_is_restated() {
        for (written, read) in [
            ("it runs from 25.4 to 762 mm below the edge", "it runs from 1 in to 30 in below the edge"),
            ("half_chest_mm is 9999, outside 127 to 1016 mm", "half_chest_mm is 393 11/16 in, outside 5 in to 40 in"),
            ("leave_mm 254 leaves no room in the 127 mm of this side", "leave_mm 10 in leaves no room in the 5 in of this side"),
            ("the burst centre is 254 mm away; give less", "the burst centre is 10 in away; give less"),
            ("near the arc every 50.8 mm, with 3 pleats", "near the arc every 2 in, with 3 pleats"),
            ("smallest_gap_mm can be 25.4 as well as 50.8 here", "smallest_gap_mm can be 1 in as well as 2 in here"),
        ] {
            assert_eq!(inches(written), read);
        }
    }

    #[test]
    fn what_is_no_length_stays() {
        for same in [
            "ratio is 1.5; give one from 0.2 to 5",
            "19 pleats of 3 layers",
            "",
            "  two  blanks ",
            "2 mmol and 5 mm2",
            "1 to 3",
            "depth_mm is NaN; give",
        ] {
            assert_eq!(inches(same), same);
            assert_eq!(LengthStyle::default().restate(same), same);
        }
    }

    /// A sixteenth of an inch is coarse beside the thickness of cloth.
    #[test]
    fn what_is_thinner_than_a_mark_stays_in_mm() {
        assert_eq!(inches("free_thickness_mm is 0.4: thin"), "free_thickness_mm is 0.4 mm: thin");
        assert_eq!(inches("above 0 and at most 25.4 mm"), "above 0 in and at most 1 in");
    }

    #[test]
    fn millimetres_get_their_unit_and_stay_as_fine_as_they_were() {
        let restated = LengthStyle::default().restate("half_chest_mm is 46.162, outside 120 to 1100 mm");
        assert_eq!(restated, "half_chest_mm is 46.162 mm, outside 120 mm to 1100 mm");
    }
}
