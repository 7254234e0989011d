//! Marks on photographs.

use crate::{has_keys, is_file, text};
use pleatwright::store::form::MarksV1;
use pleatwright::store::{marks_text, parse_marks};

#[test]
fn the_keys_of_marks_are_those_of_their_format() {
    has_keys::<MarksV1>("marks-1.txt", 1);
}

/// Their only format is still written.
#[test]
fn marks_are_read_and_written_as_they_stand() {
    let own = text("marks-1.ron");
    assert_eq!(marks_text(&parse_marks(&own).unwrap()), own);
}

#[test]
fn marks_that_say_little_are_filled_in_as_ever() {
    is_file("marks-1-least-in-full.ron", &marks_text(&parse_marks(&text("marks-1-least.ron")).unwrap()));
}
