//! How refusals and warnings are told: kept as data, said by each face in its own way.
//!
//! An error keeps its numbers in mm and its place as a [`Field`], never a sentence. [`Refused`] and [`Warned`] make the sentence for a
//! [`Voice`]: the file's, with its keys and in mm, or the window's, in its words and the maker's unit. Nothing reads a sentence back.
//!
//! This module must not know what is told.

mod field;
mod length;
mod voice;
mod words;

use std::fmt;
use std::sync::Arc;

pub use field::{Field, Unit};
pub use voice::{Names, Voice};

/// What is told of one fault.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Told {
    /// Where it is: a field, a file; nothing where `what` says it.
    pub place: String,
    /// What is wrong, with its value; the place is not named again.
    pub what: String,
    /// What would be right; nothing only where `what` is a whole refusal that came as text.
    pub cure: String,
}

impl Told {
    /// What is wrong and what would be right, wherever it is.
    pub fn new(what: impl Into<String>, cure: impl Into<String>) -> Self {
        Self { place: String::new(), what: what.into(), cure: cure.into() }
    }

    /// A length that is out of range, or none at all, and the lengths that are right, mm.
    #[must_use]
    pub fn length(voice: Voice, value_mm: f64, [least_mm, most_mm]: [f64; 2]) -> Self {
        let value = voice.length(value_mm);
        let fault = if value_mm.is_finite() { "is out of range" } else { "is not a length" };
        Self::new(format!("{value} {fault}"), format!("give {}", voice.range(least_mm, most_mm)))
    }

    /// The same at this place.
    #[must_use]
    pub fn at(self, place: impl Into<String>) -> Self {
        Self { place: place.into(), ..self }
    }

    /// The same with its place within another, such as a field within a file.
    #[must_use]
    pub fn within(self, outer: &str) -> Self {
        let place = if self.place.is_empty() { outer.to_owned() } else { format!("{outer}: {}", self.place) };
        Self { place, ..self }
    }
}

/// Something that was refused.
pub trait Refused: fmt::Debug {
    /// Where, what is wrong, and what would be right.
    fn told(&self, voice: Voice) -> Told;

    /// The same as one sentence without a full stop.
    fn say(&self, voice: Voice) -> String {
        let Told { place, what, cure } = self.told(voice);
        let place = if place.is_empty() { place } else { format!("{place}: ") };
        let cure = if cure.is_empty() { cure } else { format!("; {cure}") };
        voice.begin(&format!("{place}{what}{cure}"))
    }
}

/// What is wrong may be known only where it was found.
impl Refused for Told {
    fn told(&self, _voice: Voice) -> Told {
        self.clone()
    }
}

/// A refusal of any kind, to be said later and elsewhere.
#[derive(Debug, Clone)]
pub struct AnyRefusal(Arc<dyn Refused + Send + Sync>);

impl AnyRefusal {
    /// Where, what is wrong and what would be right, as one sentence without a full stop.
    #[must_use]
    pub fn say(&self, voice: Voice) -> String {
        self.0.say(voice)
    }

    /// The same in its parts.
    #[must_use]
    pub fn told(&self, voice: Voice) -> Told {
        self.0.told(voice)
    }
}

impl<T: Refused + Send + Sync + 'static> From<T> for AnyRefusal {
    fn from(refused: T) -> Self {
        Self(Arc::new(refused))
    }
}

/// Something that may spoil the piece.
pub trait Warned {
    /// A name that stays, by which the handbook finds its entry: `gap-too-small`. Two kinds of warning never share one.
    fn name(&self) -> &'static str;

    /// What is to be expected, with its value and limit, and what to do about it.
    fn told(&self, voice: Voice) -> Told;

    /// The same as two sentences.
    fn say(&self, voice: Voice) -> String {
        let Told { what, cure, .. } = self.told(voice);
        format!("{}. {}.", capitalised(&what), capitalised(&cure))
    }
}

/// With a capital letter at its beginning.
///
/// ```
/// assert_eq!(pleatwright::telling::capitalised("half chest"), "Half chest");
/// ```
#[must_use]
pub fn capitalised(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Things one after the other: `a, b and c`.
///
/// ```
/// assert_eq!(pleatwright::telling::listed(["a", "b", "c"], "or"), "a, b or c");
/// ```
#[must_use]
pub fn listed<T: AsRef<str>>(things: impl IntoIterator<Item = T>, joint: &str) -> String {
    let things: Vec<T> = things.into_iter().collect();
    let mut told = String::new();
    for (index, thing) in things.iter().enumerate() {
        match index {
            0 => {}
            _ if index + 1 == things.len() => told.extend([" ", joint, " "]),
            _ => told.push_str(", "),
        }
        told.push_str(thing.as_ref());
    }
    told
}

/// Displays refusals as a file's readers are told of them.
macro_rules! displayed_as_in_files {
    ($($refused:ty),+ $(,)?) => { $(
        impl std::fmt::Display for $refused {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&$crate::telling::Refused::say(self, $crate::telling::Voice::FILE))
            }
        }
    )+ };
}
pub(crate) use displayed_as_in_files;
