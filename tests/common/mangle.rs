//! Texts with some characters changed, cut or doubled: what a slip of the hand or a broken disk makes of a file.

use proptest::prelude::*;

/// One of these texts, mangled in up to five places; numbers that overflow or are none among what is put in.
pub fn mangled(texts: Vec<&'static str>) -> impl Strategy<Value = String> {
    let put_in = "[-+0-9a-zA-Z_:,.()\\[\\]{}\"/* \n]{0,6}|1e999|NaN|inf|-0|4294967295|4294967296";
    let change = (any::<prop::sample::Index>(), 0_u8..4, put_in);
    (0..texts.len(), prop::collection::vec(change, 1..6)).prop_map(move |(which, changes)| {
        let mut text: Vec<char> = texts[which].chars().collect();
        for (at, how, with) in changes {
            let at = at.index(text.len().max(1)).min(text.len());
            let end = (at + 3).min(text.len());
            match how {
                0 => drop(text.splice(at..at, with.chars())),
                1 => drop(text.drain(at..end)),
                2 => drop(text.splice(at..end, with.chars())),
                _ => text.truncate(at.max(text.len() / 2)),
            }
        }
        text.into_iter().collect()
    })
}
