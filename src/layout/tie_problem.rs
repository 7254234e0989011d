//! Why one of several ties can't be tied.

use super::{FoldKind, Srgb, usual};
use crate::telling::{Refused, Told, Voice, displayed_as_in_files, listed};

/// What is wrong with one of several ties.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TieProblem {
    /// Two of one name.
    Twice {
        /// The name.
        name: String,
    },
    /// No further tie beside the first.
    Alone,
    /// A colour of the loose cloth that no tie is dyed with.
    UnknownLoose {
        /// Its name.
        name: String,
        /// The colours that there are.
        known: Vec<String>,
    },
    /// Two dyes for the loose cloth.
    LooseTwice {
        /// The one that is named.
        named: String,
        /// Its own.
        own: String,
    },
    /// A fold that takes all of the garment.
    TakesAll {
        /// Which.
        fold: FoldKind,
    },
    /// No bind: nothing parts its cloth from the rest.
    Unbound,
    /// Earlier ties took all of its cloth.
    NothingLeft,
    /// A colour that is another in an earlier tie.
    ColourDiffers {
        /// Its name.
        name: String,
        /// How it looks here.
        srgb: Srgb,
        /// How it looks there.
        other: Srgb,
    },
}

displayed_as_in_files!(TieProblem);

impl Refused for TieProblem {
    fn told(&self, _voice: Voice) -> Told {
        match self {
            Self::Twice { name } => usual::twice(name),
            Self::Alone => Told::new("no tie but the first is given", "add one, or leave all about ties out of the layout"),
            Self::UnknownLoose { name, known } => Told::new(
                format!("no tie is dyed with \"{name}\""),
                match &known[..] {
                    [] => "give the loose cloth a dye of its own".to_owned(),
                    known => format!("choose {}, or give the loose cloth a dye of its own", listed(known, "or")),
                },
            ),
            Self::LooseTwice { named, own } => Told::new(
                format!("the loose cloth has \"{named}\" already, and \"{own}\" as a dye of its own"),
                "leave one of them out",
            ),
            Self::TakesAll { fold } => Told::new(
                format!("\"{}\" takes the whole garment, so it can't be one of several ties", fold.name()),
                "fold each tie as a burst or along a line",
            ),
            Self::Unbound => Told::new("no bind parts this tie from the rest of the garment", "give it at least one bind"),
            Self::NothingLeft => Told::new(
                "earlier ties have taken all cloth within its last bind",
                "move it, give it more room, or tie it earlier",
            ),
            // Of one colour in two mixtures the digits are the same.
            Self::ColourDiffers { name, srgb, other } if srgb == other => Told::new(
                format!("\"{name}\" is mixed otherwise in an earlier tie"),
                "give both the same components, or name one of them otherwise",
            ),
            Self::ColourDiffers { name, srgb, other } => Told::new(
                format!("\"{name}\" is {srgb} here and {other} in an earlier tie"),
                "give both the same colour, or name one of them otherwise",
            ),
        }
    }
}
