//! The steps of the work, from left to right as the job goes. None locks another.

use crate::layout::{Figures, Warning};

/// A step of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub(crate) enum Step {
    /// The garment and its measurements.
    #[default]
    Garment,
    /// Centre, guide arc, pleats.
    Burst,
    /// Spacing, single binds, thread.
    Binds,
    /// Colours of the sections.
    Colours,
    /// The bound rod.
    Rod,
    /// What is printed.
    Sheets,
}

impl Step {
    pub(crate) const ALL: [Self; 6] = [Self::Garment, Self::Burst, Self::Binds, Self::Colours, Self::Rod, Self::Sheets];

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Garment => "Garment",
            Self::Burst => "Burst",
            Self::Binds => "Binds",
            Self::Colours => "Colours",
            Self::Rod => "Rod",
            Self::Sheets => "Sheets",
        }
    }

    /// Whether nothing about this step needs a second look.
    pub(crate) fn is_settled(self, figures: &Figures) -> bool {
        match self {
            Self::Garment => figures.garment.measures.iter().any(|measure| measure.status.is_none()),
            Self::Burst => !figures.warnings.iter().any(|warning| Self::of(warning) == Self::Burst),
            Self::Binds => !figures.warnings.iter().any(|warning| Self::of(warning) == Self::Binds),
            Self::Colours => figures.sections.iter().all(|section| section.colour.is_some()),
            Self::Rod => !figures.warnings.iter().any(|warning| Self::of(warning) == Self::Rod),
            Self::Sheets => figures.warnings.is_empty(),
        }
    }

    /// What is still to be looked at, or that nothing is.
    pub(crate) fn state(self, figures: &Figures) -> &'static str {
        match (self, self.is_settled(figures)) {
            (_, true) => "settled",
            (Self::Garment, false) => "no measurement was taken on the garment itself yet",
            (Self::Colours, false) => "some sections have no colour",
            (_, false) => "something to look out for",
        }
    }

    /// The step in which a warning can be mended.
    pub(crate) fn of(warning: &Warning) -> Self {
        match warning {
            Warning::GapTooSmall { .. }
            | Warning::RingMeetsNoCloth { .. }
            | Warning::LooserTowardCentre { .. }
            | Warning::Adjusted { .. } => Self::Binds,
            Warning::RodTooThick { .. } => Self::Rod,
            // Centre, arcs and pleats.
            _ => Self::Burst,
        }
    }
}
