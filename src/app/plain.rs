//! The window's words for what the library names otherwise: refusals without a file's names for its fields, the top of a garment.

use crate::geometry::Top;
use crate::layout::{LayoutError, LayoutProblem};
use crate::measure::LengthStyle;

/// What a side without binds is called in a file, and how it is had in the window.
const NO_BINDS: [&str; 2] = ["give List(gaps_mm: [])", "choose gaps \"by hand\" and give none"];

/// The refusal of a change as one sentence, its lengths in the given style.
pub(super) fn refusal(error: &LayoutError, lengths: LengthStyle) -> String {
    let told = match &error.problem {
        LayoutProblem::Number { value, least, most } => {
            let field = error.field.rsplit('.').next().unwrap_or_default();
            let unit = if field.ends_with("_mm") { " mm" } else { "" };
            format!("{field}: {value}{unit} is out of range; give a number from {least} to {most}{unit}")
        }
        problem => problem.to_string().replace(NO_BINDS[0], NO_BINDS[1]),
    };
    capitalised(&without_keys(&lengths.restate(&told)))
}

/// The same text with every field's key in words, and of a path to a field its last key.
fn without_keys(text: &str) -> String {
    let is_name = |word: &str| word.starts_with(|letter: char| letter.is_ascii_lowercase());
    let last = |word| match str::rsplit_once(word, '.') {
        Some((path, key)) if is_name(path) && is_name(key) => key,
        _ => word,
    };
    let text = text.split(' ').map(last).collect::<Vec<_>>().join(" ");
    let is_key = |letter: char| letter.is_ascii_alphanumeric() || letter == '_';
    let mut plain = String::with_capacity(text.len());
    let mut rest = text.as_str();
    while let Some(start) = rest.find(is_key) {
        plain.push_str(&rest[..start]);
        let end = rest[start..].find(|letter| !is_key(letter)).map_or(rest.len(), |length| start + length);
        plain.push_str(&words(&rest[start..end]));
        rest = &rest[end..];
    }
    plain + rest
}

/// A key in words: without its unit, which the numbers beside it have.
fn words(key: &str) -> String {
    let bare = ["_mm", "_percent"].into_iter().find_map(|unit| key.strip_suffix(unit)).unwrap_or(key);
    bare.replace('_', " ")
}

/// What heights are called among fields and numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Heights {
    /// The label of a field with a height.
    pub(super) field: &'static str,
    /// The label of the centre's height among other numbers.
    pub(super) centre: &'static str,
}

/// What heights counted from `top` are called.
pub(super) fn heights(top: Top) -> Heights {
    match top {
        Top::ShoulderPoint => Heights { field: "Below the shoulder", centre: "Centre below shoulder" },
        Top::UpperEdge => Heights { field: "Below the edge", centre: "Centre below edge" },
    }
}

/// With a capital letter at its beginning.
pub(super) fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::edit::{Document, EditCommand};
    use crate::geometry::{Cloth, Measure, Pleats, Progression, Side, Span};
    use crate::measure::InchFraction;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};
    use kurbo::Point;

    fn refused(command: &EditCommand) -> String {
        refused_in(command, LengthStyle::default())
    }

    fn refused_in(command: &EditCommand, lengths: LengthStyle) -> String {
        let mut document = Document::new(parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap());
        refusal(&document.perform(command).unwrap_err(), lengths)
    }

    #[test]
    fn a_refusal_names_the_value_and_what_would_be_right() {
        let measure = refused(&EditCommand::SetMeasure(Measure::HalfChest, Some(9999.0)));
        assert_eq!(measure, "Half chest is 9999 mm, outside the plausible range from 120 mm to 1100 mm");
        let cloth = parse_layout(EXAMPLE_LAYOUTS[0].text).unwrap().raw().garment.cloth;
        let heavy = refused(&EditCommand::SetCloth(Cloth { grams_per_m2: 1e9, ..cloth }));
        assert!(heavy.starts_with("Grams per m2: 1000000000 is out of range; give a number from "), "{heavy}");
    }

    #[test]
    fn a_refusal_in_inches_has_its_limits_in_inches() {
        let inches = LengthStyle::Inches { nearest: InchFraction::Sixteenth };
        let radius = refused_in(&EditCommand::SetGuideRadius(-25.4), inches);
        assert_eq!(radius, "Guide radius is -1 in; give a length above 0 in and at most 196 7/8 in");
        let centre = refused_in(&EditCommand::MoveCentre(Point::new(0.0, 2540.0)), inches);
        assert!(
            centre.starts_with("The burst centre, 0 in from the centre line and 100 in below the shoulder point, "),
            "{centre}"
        );
        let measure = refused_in(&EditCommand::SetMeasure(Measure::HalfChest, Some(2540.0)), inches);
        assert_eq!(measure, "Half chest is 100 in, outside the plausible range from 4 3/4 in to 43 5/16 in");
    }

    /// Whatever is refused, no key and no path of a file is in it.
    #[test]
    fn no_refusal_speaks_of_a_files_fields() {
        let even = |gap_mm| Progression::Even { count: None, gap_mm: Some(gap_mm), span: Some(Span::ToEnd { leave_mm: 9000.0 }) };
        for command in [
            EditCommand::SetMeasure(Measure::NeckWidth, Some(f64::NAN)),
            EditCommand::SetMeasure(Measure::NeckWidth, Some(550.0)),
            EditCommand::SetGuideRadius(-3.0),
            EditCommand::SetPleats(Pleats::Depth { depth_mm: 0.001 }),
            EditCommand::MoveCentre(Point::new(0.0, 5000.0)),
            EditCommand::MoveCentre(Point::new(0.0, 9000.0)),
            EditCommand::SetProgression(Side::Inward, even(20.0)),
            EditCommand::SetProgression(Side::Outward, even(0.0)),
            EditCommand::SetProgression(Side::Inward, Progression::Even { count: None, gap_mm: None, span: None }),
            EditCommand::SetFurtherArcs(vec![-1.0]),
            EditCommand::AddBind(-5.0),
            EditCommand::SetSize(Some("XXXXXL".to_owned())),
        ] {
            let words = refused(&command);
            assert!(!words.contains('_') && !words.contains("List(") && !words.contains("::"), "{words}");
            // Only measurements used to be converted; other limits were in mm.
            let inches = refused_in(&command, LengthStyle::Inches { nearest: InchFraction::Sixteenth });
            assert!(!inches.contains(" mm"), "{inches}");
            let path =
                words.split(' ').any(|word| word.trim_end_matches('.').contains('.') && word.contains(char::is_alphabetic));
            assert!(!path, "{words}");
            assert!(words.chars().next().is_some_and(|first| !first.is_lowercase()), "{words}");
        }
    }
}
