//! The handbook tells of every warning and quotes it as the window says it.

use super::MM;
use crate::handbook::{Block, warning_entry};
use crate::telling::{Voice, Warned};
use std::fmt::Debug;

/// Each of these has an entry of its own, which quotes one of the samples of its kind word for word.
pub(super) fn quoted<T: Warned + Debug>(samples: &[T]) {
    for sample in samples {
        let name = sample.name();
        let quotes = quotes(name).unwrap_or_else(|| panic!("the handbook has no entry {name} for {sample:?}"));
        let same_kind = samples.iter().filter(|other| other.name() == name);
        let said: Vec<String> = same_kind.map(|sample| sample.say(Voice::window(MM))).collect();
        assert!(quotes.iter().any(|quote| said.contains(quote)), "{name} quotes {quotes:#?}, and the program says {said:#?}");
    }
}

/// What stands quoted under an entry.
pub(super) fn quotes(name: &str) -> Option<Vec<String>> {
    let entry = warning_entry(name)?;
    let from = entry.page.blocks().iter().position(|block| matches!(block, Block::Heading { anchor, .. } if anchor == name))?;
    let own = entry.page.blocks()[from + 1..].iter().take_while(|block| !matches!(block, Block::Heading { .. }));
    let quotes = own.filter_map(|block| match block {
        Block::Quote(runs) => Some(runs.iter().map(|run| run.text.as_str()).collect()),
        _ => None,
    });
    Some(quotes.collect())
}

/// A warning's name is its variant's, so that none is given twice.
pub(super) fn named_by_variant<T: Warned + Debug>(samples: &[T]) {
    for sample in samples {
        let variant = format!("{sample:?}");
        let variant = variant.split(|c: char| !c.is_alphanumeric()).next().unwrap();
        let kebab: String =
            variant.chars().flat_map(|c| if c.is_uppercase() { vec!['-', c.to_ascii_lowercase()] } else { vec![c] }).collect();
        assert_eq!(sample.name(), kebab.trim_start_matches('-'), "{sample:?}");
    }
}
