//! What a RON parser complains about, in a maker's words: the field, what was expected, what stands there.

use ron::error::Error;

/// One sentence without the words of a programming language. Names of fields and choices are the file's own.
pub(super) fn plain_words(error: &Error) -> String {
    match error {
        Error::NoSuchStructField { expected, found, .. } => {
            format!("there is no field {found} here; {}", one_of("fields", expected))
        }
        Error::MissingStructField { field, .. } => format!("the field {field} is missing"),
        Error::DuplicateStructField { field, .. } => format!("the field {field} is given twice; give it once"),
        Error::NoSuchEnumVariant { expected, found, .. } => format!("there is no {found} here; {}", one_of("choices", expected)),
        Error::InvalidValueForType { expected, found } => {
            format!("{} is needed here, and {} was found", without_types(expected), without_types(found))
        }
        Error::ExpectedDifferentLength { expected, found } => {
            format!("{} is needed here, and {found} values were found", without_types(expected))
        }
        Error::Message(text) => without_types(text),
        other => needed(other).to_owned(),
    }
}

/// What the syntax needs at the place of the error.
fn needed(error: &Error) -> &'static str {
    match error {
        Error::Eof => "the text ends too early; is a closing bracket missing?",
        Error::ExpectedFloat | Error::FloatUnderscore | Error::UnderscoreAtBeginning => "a number is needed here, such as 230.0",
        Error::ExpectedInteger | Error::InvalidIntegerDigit { .. } => "a whole number is needed here, such as 19",
        Error::IntegerOutOfBounds => "this whole number is too large, or below what it can be",
        Error::ExpectedBoolean => "true or false is needed here",
        Error::ExpectedString | Error::ExpectedChar => "text in double quotes is needed here, such as \"teal\"",
        Error::ExpectedStringEnd => "a closing double quote is missing",
        Error::ExpectedComma => {
            "a comma or a closing bracket is needed here; is a unit, a part of a whole number or a second value in the way?"
        }
        Error::ExpectedMapColon => "a colon is needed here, between a name and its value",
        Error::ExpectedArray => "an opening [ is needed here",
        Error::ExpectedArrayEnd => "a closing ] is needed here",
        Error::ExpectedMap => "an opening { is needed here",
        Error::ExpectedMapEnd => "a closing } is needed here",
        Error::ExpectedStructLike
        | Error::ExpectedNamedStructLike(_)
        | Error::ExpectedDifferentStructName { .. }
        | Error::ExpectedStructName(_) => "an opening ( is needed here",
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => "a closing ) is needed here",
        Error::ExpectedIdentifier | Error::InvalidIdentifier(_) | Error::SuggestRawIdentifier(_) => {
            "the name of a field or a choice is needed here"
        }
        Error::TrailingCharacters => "something follows after the end; the last ) closes the file",
        Error::UnclosedBlockComment | Error::UnclosedLineComment => "a comment that begins with /* has no */",
        Error::UnexpectedChar(_) => "this sign can't stand here",
        Error::InvalidEscape(_) => "in text a backslash is written twice",
        Error::ExceededRecursionLimit => "there are too many brackets inside each other",
        _ => "this can't be read",
    }
}

/// What the system said of a file, without its numbers.
pub(super) fn system_words(error: &std::io::Error) -> String {
    use std::io::ErrorKind as Kind;
    // What this program put into it itself is plain already.
    if error.raw_os_error().is_none() && error.get_ref().is_some() {
        return error.to_string();
    }
    let plain = match error.kind() {
        Kind::NotFound => "there is no such file",
        Kind::PermissionDenied => "the system does not allow it",
        Kind::IsADirectory => "it is a folder",
        Kind::NotADirectory => "what should be its folder is a file",
        Kind::ReadOnlyFilesystem => "the place can only be read",
        Kind::StorageFull => "the disk is full; make room on it, or save in another place",
        Kind::QuotaExceeded => "your share of the disk is full; make room in it, or save in another place",
        Kind::InvalidFilename => "no file can have that name",
        Kind::InvalidData => "it is not text",
        _ => {
            let words = error.to_string();
            return words.split(" (os error").next().unwrap_or(&words).to_owned();
        }
    };
    plain.to_owned()
}

fn one_of(what: &str, names: &[&str]) -> String {
    if names.is_empty() { format!("there are no {what}") } else { format!("the {what} are {}", names.join(", ")) }
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

    fn said(from: &str, to: &str) -> String {
        let text = EXAMPLE_LAYOUTS[0].text;
        assert!(text.contains(from), "{from}");
        parse_layout(&text.replacen(from, to, 1)).unwrap_err().1.to_string()
    }

    /// These used to speak of types, floats, integers and structs.
    #[test]
    fn a_wrong_form_is_told_without_the_words_of_a_programming_language() {
        let cases = [
            ("format: 2,", "", "the field format is missing"),
            ("note:", "nota:", "there is no field nota here; the fields are format, name, note"),
            ("guide_radius_mm: 230.0", "guide_radius_mm: wide", "a number is needed here"),
            ("guide_radius_mm: 230.0", "guide_radius_mm: \"wide\"", "a number is needed here"),
            ("guide_radius_mm: 230.0,", "", "the field guide_radius_mm is missing"),
            ("kind: CrewTee", "kind: Cape", "there is no Cape here; the choices are CrewTee, VNeckTee"),
            ("format: 2,", "format: -1,", "whole number"),
            ("format: 2,", "format: 2, format: 2,", "the field format is given twice"),
            ("depth_mm: 38.0", "depth_mm: 38.0mm", "a comma or a closing bracket is needed"),
            ("name: \"Harbour Row tee, M\"", "name: tee", "text in double quotes is needed here"),
        ];
        for (from, to, expected) in cases {
            let said = said(from, to);
            assert!(said.contains(expected), "{to}\n  said {said}\n  not  {expected}");
            for word in ["struct", "V2", "Form", "float", "integer", "Integer", "enum", "`", "Unexpected", "Expected"] {
                assert!(!said.contains(word), "{to} said {said}");
            }
        }
        assert_eq!(parse_preset("(name: \"x\")").unwrap_err().1.to_string(), "the field format is missing");
    }
}
