//! Wishes.

use crate::{has_keys, is_file, text};
use pleatwright::store::form::WishV1;
use pleatwright::store::{parse_wish, wish_text};

#[test]
fn the_keys_of_a_wish_are_those_of_their_format() {
    has_keys::<WishV1>("wish-1.txt", 1);
}

/// Their only format is still written.
#[test]
fn a_wish_is_read_and_written_as_it_stands() {
    let own = text("wish-1.ron");
    assert_eq!(wish_text(&parse_wish(&own).unwrap()), own);
}

#[test]
fn a_wish_that_says_little_is_filled_in_as_ever() {
    is_file("wish-1-least-in-full.ron", &wish_text(&parse_wish(&text("wish-1-least.ron")).unwrap()));
}
