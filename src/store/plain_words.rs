//! What a RON parser complains about, in a maker's words: what was expected, what stands there. Names of fields and choices are the
//! file's own, in quotes.

use crate::telling::{Told, listed};
use ron::error::Error;

/// Without the words of a programming language.
pub(super) fn plain_words(error: &Error) -> Told {
    match error {
        Error::NoSuchStructField { expected, found, .. } => {
            Told::new(format!("unknown field \"{found}\""), one_of("fields", expected))
        }
        Error::MissingStructField { field, .. } => Told::new(format!("the field \"{field}\" is missing"), "give it"),
        Error::DuplicateStructField { field, .. } => Told::new(format!("the field \"{field}\" is given twice"), "keep one"),
        Error::NoSuchEnumVariant { expected, found, .. } => {
            Told::new(format!("unknown choice \"{found}\""), one_of("choices", expected))
        }
        Error::InvalidValueForType { expected, found } => {
            let expected = without_types(expected);
            Told::new(format!("not {expected}: {}", without_types(found)), format!("give {}", with_example(&expected)))
        }
        Error::ExpectedDifferentLength { expected, found } => {
            let expected = without_types(expected);
            Told::new(format!("{found} values in place of {expected}"), format!("give {expected}"))
        }
        // What reading a value said, whole.
        Error::Message(text) => Told::new(without_types(text), ""),
        other => {
            let [what, cure] = needed(other);
            Told::new(what, cure)
        }
    }
}

/// What the syntax needs at the place of the error.
fn needed(error: &Error) -> [&'static str; 2] {
    match error {
        Error::Eof => ["the text ends too early", "close every bracket"],
        Error::ExpectedFloat | Error::FloatUnderscore | Error::UnderscoreAtBeginning => {
            ["expected a number", "write one such as 230.0"]
        }
        Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } => ["expected a whole number", "write one such as 19"],
        Error::IntegerOutOfBounds => ["this whole number is too large, or below what it can be", "write another"],
        Error::ExpectedBoolean => ["expected true or false", "write one of them"],
        Error::ExpectedString | Error::ExpectedChar => ["expected text in double quotes", "write it such as \"teal\""],
        Error::ExpectedStringEnd => ["a closing double quote is missing", "add it"],
        Error::ExpectedComma => {
            ["expected a comma or closing bracket", "write numbers without units, and counts as whole numbers"]
        }
        Error::ExpectedMapColon => ["expected a colon", "put one between a name and its value"],
        Error::ExpectedArray => ["expected an opening [", "put a list in square brackets"],
        Error::ExpectedArrayEnd => ["expected a closing ]", "put a list in square brackets"],
        Error::ExpectedMap => ["expected an opening {", "put pairs in curly brackets"],
        Error::ExpectedMapEnd => ["expected a closing }", "put pairs in curly brackets"],
        Error::ExpectedStructLike
        | Error::ExpectedNamedStructLike(_)
        | Error::ExpectedDifferentStructName { .. }
        | Error::ExpectedStructName(_) => ["expected an opening (", "put fields in round brackets"],
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => ["expected a closing )", "put fields in round brackets"],
        Error::ExpectedIdentifier | Error::InvalidIdentifier(_) | Error::SuggestRawIdentifier(_) => {
            ["expected the name of a field or a choice", "write one of this program's"]
        }
        Error::TrailingCharacters => ["something follows after the end", "let the last ) close the file"],
        Error::UnclosedBlockComment | Error::UnclosedLineComment => {
            ["a comment that begins with /* has no end", "end it with */"]
        }
        Error::UnexpectedChar(_) => ["unexpected character", "remove it, or put text in double quotes"],
        Error::InvalidEscape(_) => ["a lone backslash in text", "write it twice"],
        Error::ExceededRecursionLimit => ["brackets nested too deeply", "take some away"],
        _ => ["this can't be read", "compare it with a file that this program wrote"],
    }
}

fn one_of(what: &str, names: &[&str]) -> String {
    if names.is_empty() {
        return format!("there are no {what} here: remove it");
    }
    format!("the {what} here are {}", listed(names.iter().map(|name| format!("\"{name}\"")), "and"))
}

/// What is to be given, with one of it where a maker may wonder.
fn with_example(expected: &str) -> String {
    let example = match expected {
        "a number" => ", such as 230.0",
        "a whole number" => ", such as 19",
        "text in double quotes" => ", such as \"teal\"",
        _ => "",
    };
    format!("{expected}{example}")
}

/// The parser's descriptions of values, without the names of types.
fn without_types(text: &str) -> String {
    let floats = ["a 64-bit floating point number", "a floating point number", "floating point", "f64", "f32"];
    let wholes = ["a 32-bit signed integer", "a 32-bit unsigned integer", "an integer", "integer", "u32", "i32"];
    let texts = ["a UTF-8 string", "a string", "string"];
    for (words, names) in [("a number", &floats[..]), ("a whole number", &wholes[..]), ("text in double quotes", &texts[..])] {
        for name in names {
            if text == *name {
                return words.to_owned();
            }
            // "the string \"x\"", "the floating point number `1.5`", "the integer `3`"
            if let Some(value) = text.strip_prefix(&format!("the {name} ")) {
                return value.trim_start_matches("number ").trim_matches('`').to_owned();
            }
        }
    }
    text.replace("the struct-like ", "").replace("struct ", "").replace("enum ", "").replace('`', "")
}

#[cfg(test)]
mod tests {
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout, parse_preset};
    use crate::telling::{Refused as _, Voice};

    fn said(from: &str, to: &str) -> String {
        let text = EXAMPLE_LAYOUTS[0].text;
        assert!(text.contains(from), "{from}");
        parse_layout(&text.replacen(from, to, 1)).unwrap_err().1.say(Voice::FILE)
    }

    /// These used to speak of types, floats, integers and structs.
    #[test]
    fn a_wrong_form_is_told_without_the_words_of_a_programming_language() {
        let cases = [
            ("format: 2,", "", "the field \"format\" is missing; give it"),
            ("note:", "nota:", "unknown field \"nota\"; the fields here are \"format\", \"name\", \"note\""),
            ("guide_radius_mm: 230.0", "guide_radius_mm: wide", "expected a number; write one such as 230.0"),
            ("guide_radius_mm: 230.0", "guide_radius_mm: \"wide\"", "expected a number"),
            ("guide_radius_mm: 230.0,", "", "the field \"guide_radius_mm\" is missing"),
            ("kind: CrewTee", "kind: Cape", "unknown choice \"Cape\"; the choices here are \"CrewTee\", \"VNeckTee\""),
            ("format: 2,", "format: -1,", "whole number"),
            ("format: 2,", "format: 2, format: 2,", "the field \"format\" is given twice; keep one"),
            ("depth_mm: 38.0", "depth_mm: 38.0mm", "expected a comma or closing bracket; write numbers without units"),
            ("name: \"Harbour Row tee, M\"", "name: tee", "expected text in double quotes"),
        ];
        for (from, to, expected) in cases {
            let said = said(from, to);
            assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
            for word in ["struct", "V2", "Form", "float", "integer", "Integer", "enum", "`", "Unexpected", "Expected"] {
                assert!(!said.contains(word), "{to} said {said}");
            }
        }
        assert_eq!(parse_preset("(name: \"x\")").unwrap_err().1.to_string(), "the field \"format\" is missing; give it");
    }
}
