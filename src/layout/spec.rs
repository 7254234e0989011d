//! The layout as the maker gives it: every value, nothing checked.

use super::{Colours, FibreShare, FoldSpec, Limits, Process, Swatch};
use crate::geometry::{Cloth, GarmentKind, RawMeasures, SpacingSpec, Thread};

/// A layout as the maker gives it. How it stands in a file, its [forms](super::form) say.
#[derive(Debug, Clone, PartialEq)]
pub struct LayoutSpec {
    /// The layout's name.
    pub name: String,
    /// Anything the maker wants to remember.
    pub note: String,
    /// The garment.
    pub garment: GarmentSpec,
    /// How it is folded.
    pub fold: FoldSpec,
    /// Where the binds go.
    pub binds: SpacingSpec,
    /// What the rod is bound with.
    pub thread: Thread,
    /// Which colour each section gets.
    pub colours: Colours,
    /// How the rod is dyed.
    pub process: Process,
    /// Where the program starts to warn.
    pub limits: Limits,
}

/// The garment of a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct GarmentSpec {
    /// The kind of garment.
    pub kind: GarmentKind,
    /// The size whose measurements are taken where none is given.
    pub size: Option<String>,
    /// Measurements taken on this garment, as it is now.
    pub measures: RawMeasures,
    /// Its colour now.
    pub colour: Option<Swatch>,
    /// What a full discharge leaves of it; where it is not given the program guesses.
    pub discharged: Option<Swatch>,
    /// What it is made of, as its label says; taken for cotton where it is empty.
    pub fibres: Vec<FibreShare>,
    /// Its cloth.
    pub cloth: Cloth,
    /// What a wash will do to it.
    pub wash: WashSpec,
}

/// Change by washing, in percent; shrinking is negative.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WashSpec {
    /// Along the garment, down the centre line.
    pub length_percent: f64,
    /// Across it.
    pub width_percent: f64,
}
