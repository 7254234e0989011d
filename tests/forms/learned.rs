//! What was learned from photographs.

use crate::{has_keys, is_file, text};
use pleatwright::store::form::LearnedV1;
use pleatwright::store::{learned_text, parse_learned};

#[test]
fn the_keys_of_what_was_learned_are_those_of_their_format() {
    has_keys::<LearnedV1>("learned-1.txt", 1);
}

/// Their only format is still written; where no piece had a mixture nothing is said of one.
#[test]
fn what_was_learned_is_read_and_written_as_it_stands() {
    for name in ["learned-1.ron", "learned-1-mixtures.ron"] {
        let own = text(name);
        assert_eq!(learned_text(&parse_learned(&own).unwrap()), own, "{name}");
    }
    let told = parse_learned(&text("learned-1-mixtures.ron")).unwrap().told_components();
    let words: Vec<String> = told.iter().map(pleatwright::learn::ToldReach::words).collect();
    // The other is held where it was guessed, which draws this one along.
    let blue = "blue in slate grey reaches 32 % farther (your guess: 25 %), give or take 20 %";
    assert_eq!(words, [blue, "rust in slate grey: how far it reaches is not learned (your guess: as far as dyes do)"]);
    assert!(parse_learned(&text("learned-1.ron")).unwrap().told_components().is_empty());
}

#[test]
fn what_was_learned_that_says_little_is_filled_in_as_ever() {
    is_file("learned-1-least-in-full.ron", &learned_text(&parse_learned(&text("learned-1-least.ron")).unwrap()));
}
