//! Lengths as makers write them, and what is no length.

use crate::seeded::seeded;
use proptest::prelude::*;

use super::*;

fn mm(text: &str) -> Result<f64, ParseLengthError> {
    parse_length(text, LengthUnit::Millimetre)
}

#[test]
fn lengths_as_makers_write_them() {
    let expected = [
        ("235", 235.0),
        ("235mm", 235.0),
        (" 23.5 cm ", 235.0),
        ("23,5 cm", 235.0),
        ("0,125 m", 125.0),
        (".5in", 12.7),
        ("9 1/4 in", 234.95),
        ("9-1/4\"", 234.95),
        ("9\u{00bc}\u{2033}", 234.95),
        ("9 - 1/4", 8.75),
        ("12in + 5mm", 309.8),
        ("12 IN - 5 mm", 299.8),
        ("1/2 in", 12.7),
        ("3 ft 2 in", 965.2),
        ("3'2\"", 965.2),
        ("3'-2 1/2\"", 977.9),
        ("3 ft - 2 in", 863.6),
        ("3'2''", 965.2),
        ("-3 ft 2 in", -965.2),
        ("\u{2212}9 1/4 in", -234.95),
        ("+1 yd", 914.4),
        ("0", 0.0),
    ];
    for (text, value) in expected {
        let read = mm(text).unwrap_or_else(|error| panic!("{text}: {error}"));
        assert!((read - value).abs() < 1e-9, "{text}: {read} instead of {value}");
    }
    assert_eq!(parse_length("9 1/4", LengthUnit::Inch), Ok(234.95));
}

#[test]
fn what_is_no_length_is_refused_with_its_place() {
    use ParseLengthError as E;
    let found = |text: &str| text.to_owned();
    assert_eq!(mm(" "), Err(E::Empty));
    assert_eq!(mm("12 +"), Err(E::Unfinished { column: 5 }));
    assert_eq!(mm("nan"), Err(E::NotANumber { found: found("nan"), column: 1 }));
    assert_eq!(mm("-inf"), Err(E::NotANumber { found: found("inf"), column: 2 }));
    assert_eq!(mm("5 - -3"), Err(E::NotANumber { found: found("-"), column: 5 }));
    assert_eq!(mm("12 5"), Err(E::NotANumber { found: found("5"), column: 4 }));
    assert_eq!(mm("1.2.3"), Err(E::NotANumber { found: found("."), column: 4 }));
    assert_eq!(mm("12 mm!"), Err(E::NotANumber { found: found("!"), column: 6 }));
    assert_eq!(mm("1e3"), Err(E::UnknownUnit { found: found("e"), column: 2 }));
    assert_eq!(mm("23.5 lb"), Err(E::UnknownUnit { found: found("lb"), column: 6 }));
    assert_eq!(mm("12 - 1/4 in"), Err(E::MissingUnit { column: 1 }));
    assert_eq!(mm("1,234"), Err(E::AmbiguousComma { found: found("1,234"), column: 1 }));
    assert_eq!(mm("1,2,3"), Err(E::AmbiguousComma { found: found("1,2"), column: 1 }));
    assert_eq!(mm("9 1/0 in"), Err(E::ZeroDenominator { found: found("1/0"), column: 3 }));
    assert_eq!(mm("1.5/2"), Err(E::BadFraction { found: found("1.5/2"), column: 1 }));
    assert_eq!(mm("1.5 1/2"), Err(E::BadFraction { found: found("1.5"), column: 1 }));
    assert_eq!(mm("1/2/3"), Err(E::BadFraction { found: found("1/2"), column: 1 }));
    assert_eq!(mm("1001 m"), Err(E::TooLarge { column: 1 }));
    assert_eq!(mm(&"9".repeat(400)), Err(E::TooLarge { column: 1 }));
}

#[test]
fn errors_show_what_would_be_right() {
    let text = mm("23.5 lb").unwrap_err().to_string();
    assert!(text.contains("lb") && text.contains("column 6") && text.ends_with("use mm, cm, m, in, ft or yd"), "{text}");
}

proptest! {
    #![proptest_config(seeded(36, 256))]

    #[test]
    fn no_text_panics(text in any::<String>()) {
        let read = mm(&text);
        prop_assert!(read.is_err() || read.is_ok_and(|mm| mm.abs() <= LARGEST_LENGTH_MM));
    }

    #[test]
    fn no_text_close_to_a_length_panics(text in "[0-9 .,/'\"+\u{2212}\u{00bd}a-m-]{0,16}") {
        let read = mm(&text);
        prop_assert!(read.is_err() || read.is_ok_and(|mm| mm.abs() <= LARGEST_LENGTH_MM));
    }

    #[test]
    fn sums_add_up(a in 0_u32..999, b in 0_u32..999) {
        prop_assert_eq!(mm(&format!("{a} mm + {b} mm")), Ok(f64::from(a + b)));
    }
}
