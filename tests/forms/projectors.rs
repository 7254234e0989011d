//! Projectors.

use crate::{has_keys, is_file, text};
use pleatwright::store::form::ProjectorsV1;
use pleatwright::store::{parse_projectors, projectors_text};

#[test]
fn the_keys_of_projectors_are_those_of_their_format() {
    has_keys::<ProjectorsV1>("projectors-1.txt", 1);
}

/// Their only format is still written.
#[test]
fn projectors_are_read_and_written_as_they_stand() {
    let own = text("projectors-1.ron");
    assert_eq!(projectors_text(&parse_projectors(&own).unwrap()), own);
}

#[test]
fn a_projector_that_says_little_is_filled_in_as_ever() {
    is_file("projectors-1-least-in-full.ron", &projectors_text(&parse_projectors(&text("projectors-1-least.ron")).unwrap()));
}
