//! What a plan knows of a line's garments for the table and the journal: their layout's text, and how hands fold and tie one.

use super::OrderLine;
use crate::layout::{Handwork, Layout, layout_text};
use crate::measure::RuleMarks;

/// Garments of one layout, as they are folded and tied.
#[derive(Debug, Clone, PartialEq)]
pub struct GarmentWork {
    /// The layout's name.
    pub of: String,
    /// The text of the layout's file, graded.
    pub layout: String,
    /// The marks of the rule that it is laid out with.
    pub marks: RuleMarks,
    /// How many garments are made from it.
    pub count: u32,
    /// What one is undyed, as the shelf names it: kind, size and colour.
    pub blank: String,
    /// How one of them is folded and tied.
    pub work: Handwork,
}

impl GarmentWork {
    /// Of the garments of an order's line.
    #[must_use]
    pub fn of(line: &OrderLine) -> Self {
        Self {
            of: line.layout.name().to_owned(),
            layout: layout_text(line.layout.raw()),
            marks: line.layout.marks(),
            count: line.count,
            blank: blank_name(&line.layout),
            work: Handwork::of(&line.layout, &line.figures),
        }
    }
}

/// What a garment is undyed: `crew-neck tee, M, plum`; a size that was measured has no name.
#[must_use]
pub fn blank_name(layout: &Layout) -> String {
    let garment = &layout.raw().garment;
    let colour = garment.colour.as_ref().map(|colour| colour.name.clone());
    let parts = [Some(layout.garment().kind().name().to_owned()), garment.size.clone(), colour];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
