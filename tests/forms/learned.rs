//! What was learned from photographs.

use crate::{has_keys, is_file, text};
use pleatwright::store::form::LearnedV1;
use pleatwright::store::{learned_text, parse_learned};

#[test]
fn the_keys_of_what_was_learned_are_those_of_their_format() {
    has_keys::<LearnedV1>("learned-1.txt", 1);
}

/// Their only format is still written.
#[test]
fn what_was_learned_is_read_and_written_as_it_stands() {
    let own = text("learned-1.ron");
    assert_eq!(learned_text(&parse_learned(&own).unwrap()), own);
}

#[test]
fn what_was_learned_that_says_little_is_filled_in_as_ever() {
    is_file("learned-1-least-in-full.ron", &learned_text(&parse_learned(&text("learned-1-least.ron")).unwrap()));
}
