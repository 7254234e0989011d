//! The stops of the tour.

use super::spot::Spot;
use crate::app::step::Step;

/// A stop.
#[derive(Debug)]
pub(super) struct Stop {
    pub(super) title: &'static str,
    pub(super) words: &'static str,
    /// What is said instead while no layout is open.
    pub(super) without_layout: Option<&'static str>,
    /// The step that shows.
    pub(super) step: Step,
    /// What it points at: beside the first of them that is drawn stands the card.
    pub(super) spots: &'static [Spot],
}

/// All of them, in the order of the work.
pub(super) const STOPS: [Stop; 5] = [
    Stop {
        title: "The garment",
        words: "Choose a kind and a size here, then type what you measure on your own: clear a field to use the size chart again.",
        without_layout: Some(
            "Start with a kind of garment; its size and your own measurements follow. Next shows the rest on an example.",
        ),
        step: Step::Garment,
        spots: &[Spot::Garments, Spot::Options, Spot::Tab(Step::Garment)],
    },
    Stop {
        title: "The fold",
        words: "Choose the fold by its picture. Drag its middle on the cloth, or type where it lies: every number follows.",
        without_layout: None,
        step: Step::Fold,
        spots: &[Spot::Options, Spot::Tab(Step::Fold)],
    },
    Stop {
        title: "The binds",
        words: "Choose a spacing rule, or drag a ring on the cloth or a bar in the plot. Undo takes any change back.",
        without_layout: None,
        step: Step::Binds,
        spots: &[Spot::Options, Spot::Tab(Step::Binds)],
    },
    Stop {
        title: "The reveal",
        words: "Front and back as they may come out: an estimate that follows every change. Peel opens the tied rod layer by layer.",
        without_layout: None,
        step: Step::Reveal,
        spots: &[Spot::Options, Spot::Tab(Step::Reveal)],
    },
    Stop {
        title: "Printing",
        words: "Choose paper and parts, then press Print: template, strips and a card with every number. F1 opens the handbook on any step.",
        without_layout: None,
        step: Step::Sheets,
        spots: &[Spot::Options, Spot::Print, Spot::Tab(Step::Sheets)],
    },
];
