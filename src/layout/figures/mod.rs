//! Every computed number of a layout, in one place and with stable names: what the sheets, the window and scripts show.
//!
//! Names carry their unit. Numbers are exact; rounding for a reader is the reader's business. Only thread is rounded here, once for
//! all readers: a piece is what is cut, and all thread is the sum of its pieces.

mod binds;
mod bundle_place;
mod burst;
mod dips;
mod flat;
mod fold;
mod garment;
mod handwork;
mod line;
mod puck_place;
mod sections;
mod several;
mod spiral;
mod warnings;

pub use binds::{BindFigures, StringFigures};
pub use bundle_place::{BlocksPlace, BundlePlace, WrapPlace};
pub use burst::BurstFigures;
pub use dips::DipFigures;
pub use flat::{BlockFigures, FlatFigures, WrapFigures};
pub use fold::{FoldFigures, SideFigures};
pub use garment::{ClothFigures, GarmentFigures, MeasureFigures};
pub use handwork::{CentrePlace, HandPart, Handwork, LinePlace, TiePart, TiedBind};
pub use line::{LineFigures, StitchFigures};
pub use puck_place::PuckPlace;
pub use sections::{ColourFigures, ComponentFigures, SectionFigures};
pub use several::{LooseFigures, SeveralFigures, TieFigures};
pub use spiral::SpiralFigures;

use super::{Layout, Warning};
use crate::measure::total;
use serde::Serialize;

/// All figures of a layout.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figures {
    /// The layout's name.
    pub name: String,
    /// The garment now and after a wash.
    pub garment: GarmentFigures,
    /// The fold, whichever it is. What it says is said again, beside its own, by the fold's figures that follow.
    #[serde(skip)]
    pub fold: FoldFigures,
    /// The burst, where the garment is folded along one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub burst: Option<BurstFigures>,
    /// The fold along a line, where the garment is folded along one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub line: Option<LineFigures>,
    /// The flat bundle, where the garment is folded into one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flat: Option<FlatFigures>,
    /// The spiral, where the garment is twisted into a puck.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spiral: Option<SpiralFigures>,
    /// The binds, from the centre outward.
    pub binds: Vec<BindFigures>,
    /// Numbers of the binds in the order in which they are tied.
    pub tying_order: Vec<u32>,
    /// Strings to draw the arcs with, longest last.
    pub strings: Vec<StringFigures>,
    /// Thread to cut for all binds and what is wound round a bundle together, mm: the sum of the pieces.
    pub thread_mm: f64,
    /// The sections, from the centre outward.
    pub sections: Vec<SectionFigures>,
    /// What is dipped.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub dips: Vec<DipFigures>,
    /// Cloth by colour, in the order of the rotation.
    pub colours: Vec<ColourFigures>,
    /// What to know before binding.
    pub warnings: Vec<Warning>,
    /// The ties, where there are several. Thread, colours and warnings are then those of all; what else is a tie's is the first's.
    #[serde(skip)]
    pub several: Option<Box<SeveralFigures>>,
}

impl Figures {
    /// The figures of each tie, in the order in which they are tied: of a layout of one tie, these.
    #[must_use]
    pub fn ties(&self) -> Vec<&Self> {
        self.several.as_ref().map_or_else(|| vec![self], |several| several.ties.iter().map(|tie| &tie.figures).collect())
    }

    /// The sections of all ties, tie by tie.
    pub fn all_sections(&self) -> impl Iterator<Item = &SectionFigures> {
        self.ties().into_iter().flat_map(|tie| &tie.sections)
    }

    /// Computes all figures.
    #[must_use]
    pub fn of(layout: &Layout) -> Self {
        let binds = binds::bind_figures(layout);
        let sections = sections::section_figures(layout);
        let fold = fold::fold_figures(layout);
        let burst = burst::burst_figures(layout, &fold);
        let line = line::line_figures(layout, &fold);
        let flat = flat::flat_figures(layout, &fold);
        let spiral = spiral::spiral_figures(layout, &fold, &sections);
        let dips = dips::dip_figures(layout);
        let wound_mm = flat.as_ref().and_then(|flat| flat.wrap).map(|wrap| wrap.thread_mm);
        let mut figures = Self {
            name: layout.name().to_owned(),
            garment: garment::garment_figures(layout),
            tying_order: binds::tying_numbers(layout),
            strings: binds::strings(layout, &binds),
            thread_mm: total(binds.iter().map(|bind| bind.thread_mm).chain(wound_mm)),
            colours: sections::colour_figures(layout, &sections, &dips),
            fold,
            burst,
            line,
            flat,
            spiral,
            binds,
            dips,
            sections,
            warnings: Vec::new(),
            several: several::several_figures(layout).map(Box::new),
        };
        match figures.several.take() {
            Some(several) => {
                (figures.thread_mm, figures.colours) = (several.thread_mm(), several.colours());
                figures.warnings = several.warnings(layout);
                figures.several = Some(several);
            }
            None => figures.warnings = warnings::find(layout, &figures),
        }
        figures
    }
}
