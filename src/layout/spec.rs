//! The layout as the maker gives it: every value, nothing checked.

use super::{Colours, DipSpec, FibreShare, FoldSpec, Limits, Process, Swatch, TiesSpec};
use crate::geometry::{BlocksSpec, Cloth, GarmentKind, OwnOutline, RawMeasures, SpacingSpec, Thread, WrapSpec};

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
    /// The blocks that hold it; only a flat bundle takes some.
    pub blocks: Option<BlocksSpec>,
    /// The thread that is wound round it; only a flat bundle takes one.
    pub wrap: Option<WrapSpec>,
    /// What of it is dipped into dye; only a flat bundle takes some.
    pub dips: Vec<DipSpec>,
    /// What the rod is bound with.
    pub thread: Thread,
    /// Which colour each section gets.
    pub colours: Colours,
    /// How the rod is dyed.
    pub process: Process,
    /// Where the program starts to warn.
    pub limits: Limits,
    /// The other ties on the garment; none where all of it is one tie.
    pub ties: Option<TiesSpec>,
}

/// The garment of a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct GarmentSpec {
    /// The kind of garment.
    pub kind: GarmentKind,
    /// The size whose measurements are taken where none is given.
    pub size: Option<String>,
    /// The outline of a garment of one's own: of the kind [`GarmentKind::Own`], and of no other.
    pub outline: Option<OwnOutline>,
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

impl GarmentSpec {
    /// A garment of a kind of which nothing else is said: white or undyed, of the usual jersey.
    #[must_use]
    pub fn of(kind: GarmentKind) -> Self {
        Self {
            kind,
            size: None,
            outline: None,
            measures: RawMeasures::default(),
            colour: None,
            discharged: None,
            fibres: Vec::new(),
            cloth: Cloth::default(),
            wash: WashSpec::default(),
        }
    }

    /// The same of a size, or of none where measurements suffice.
    #[must_use]
    pub fn sized(kind: GarmentKind, size: Option<&str>, measures: &RawMeasures) -> Self {
        Self { size: size.map(str::to_owned), measures: measures.clone(), ..Self::of(kind) }
    }
}

/// Change by washing, in percent; shrinking is negative.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct WashSpec {
    /// Along the garment, down the centre line.
    pub length_percent: f64,
    /// Across it.
    pub width_percent: f64,
}
