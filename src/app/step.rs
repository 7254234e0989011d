//! The steps of the work, from left to right as the job goes. None locks another.

use crate::layout::{Figures, Layout, Warning};
use egui::Key;

/// A step of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(crate) enum Step {
    /// The garment and its measurements.
    #[default]
    Garment,
    /// Which fold, its centre or line, its pleats.
    Fold,
    /// Spacing, single binds, thread.
    Binds,
    /// Colours of the sections.
    Colours,
    /// The bound rod.
    Rod,
    /// What comes out.
    Reveal,
    /// What is printed.
    Sheets,
    /// What is weighed, and when what is done.
    Day,
    /// What was made.
    Journal,
}

/// The words about a step.
struct Words {
    name: &'static str,
    going: &'static str,
    about: &'static str,
}

impl Step {
    pub(crate) const ALL: [Self; 9] =
        [Self::Garment, Self::Fold, Self::Binds, Self::Colours, Self::Rod, Self::Reveal, Self::Sheets, Self::Day, Self::Journal];

    /// All words about it.
    fn words(self) -> Words {
        let words = |name, going, about| Words { name, going, about };
        match self {
            Self::Garment => words("Garment", "Go to the garment", "The garment, its measurements and its cloth"),
            Self::Fold => words("Fold", "Go to the fold", "A burst or a line to fold along, where it lies, and the pleats"),
            Self::Binds => words("Binds", "Go to the binds", "How the binds are spaced, together and one by one"),
            Self::Colours => words("Colours", "Go to the colours", "Which section gets which dye"),
            Self::Rod => words("Rod", "Go to the rod", "The bound rod, its thread, and how to fold it"),
            Self::Reveal => words("Reveal", "Go to the reveal", "What may come out when the rod is opened"),
            Self::Sheets => words("Sheets", "Go to the sheets", "What to print, on which paper"),
            Self::Day => words("Day", "Go to the day", "What to weigh, when to do what, and cautions"),
            Self::Journal => words("Journal", "Go to the journal", "What you made, how it came out, what to change"),
        }
    }

    pub(crate) fn name(self) -> &'static str {
        self.words().name
    }

    /// Words for going to it, in the finder.
    pub(crate) fn going(self) -> &'static str {
        self.words().going
    }

    /// What is done in it.
    pub(crate) fn about(self) -> &'static str {
        self.words().about
    }

    /// Its key, with Alt: its place from the left.
    pub(crate) fn key(self) -> Key {
        const KEYS: [Key; 9] =
            [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];
        Self::ALL.iter().position(|step| *step == self).and_then(|place| KEYS.get(place)).copied().unwrap_or(Key::Num0)
    }

    /// Whether its numbers are those of binds and cloth, which then stand beside the table.
    pub(crate) fn is_about_cloth(self) -> bool {
        matches!(self, Self::Garment | Self::Fold | Self::Binds | Self::Colours | Self::Rod)
    }

    /// Whether the fold is drawn in it, so that its reveal is wanted beside it.
    pub(crate) fn draws_fold(self) -> bool {
        matches!(self, Self::Fold | Self::Binds | Self::Colours)
    }

    /// Whether the pointer can be on cloth in it.
    pub(crate) fn shows_cloth(self) -> bool {
        self == Self::Reveal || (self.is_about_cloth() && self != Self::Rod)
    }

    /// Whether nothing about this step needs a second look.
    pub(crate) fn is_settled(self, layout: &Layout, figures: &Figures) -> bool {
        match self {
            Self::Garment => figures.garment.measures.iter().any(|measure| measure.status.is_none()),
            Self::Fold => !figures.warnings.iter().any(|warning| Self::of(warning) == Self::Fold),
            Self::Binds => !figures.warnings.iter().any(|warning| Self::of(warning) == Self::Binds),
            Self::Colours => figures.all_sections().all(|section| section.colour.is_some() || section.is_bare),
            Self::Rod => !figures.warnings.iter().any(|warning| Self::of(warning) == Self::Rod),
            Self::Reveal => layout.process().discharge.is_none() || layout.raw().garment.discharged.is_some(),
            Self::Sheets => figures.warnings.is_empty(),
            Self::Day | Self::Journal => true,
        }
    }

    /// What is still to be looked at, or that nothing is.
    pub(crate) fn state(self, layout: &Layout, figures: &Figures) -> &'static str {
        match (self, self.is_settled(layout, figures)) {
            (_, true) => "nothing left to check",
            (Self::Garment, false) => "nothing measured on the garment yet",
            (Self::Colours, false) => "some sections have no colour",
            (Self::Reveal, false) => "the discharged colour is a guess",
            (Self::Sheets, false) => "look at the warnings before you print",
            (_, false) => "has warnings",
        }
    }

    /// The step in which a warning can be mended.
    pub(crate) fn of(warning: &Warning) -> Self {
        match warning {
            Warning::InTie { warning, .. } => Self::of(warning),
            Warning::GapTooSmall { .. }
            | Warning::RingMeetsNoCloth { .. }
            | Warning::LooserTowardCentre { .. }
            | Warning::Adjusted { .. } => Self::Binds,
            Warning::RodTooThick { .. } => Self::Rod,
            // Centre, arcs and pleats.
            _ => Self::Fold,
        }
    }
}
