//! The kinds of file that are this program's own.

/// What a file of ours holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A layout.
    Layout,
    /// A spacing preset.
    SpacingPreset,
    /// A recipe.
    Recipe,
    /// A process.
    Process,
    /// An order.
    Order,
    /// A book of swatches.
    Swatches,
    /// A run.
    Run,
    /// A shelf of supplies.
    Shelf,
    /// A bundle to hand on.
    Bundle,
    /// Marks on a photograph.
    Marks,
    /// Calibration values that were learned.
    Learned,
    /// A wish.
    Wish,
}

impl FileKind {
    /// Its name with an article: `an order`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Layout => "a layout",
            Self::SpacingPreset => "a spacing preset",
            Self::Recipe => "a recipe",
            Self::Process => "a process",
            Self::Order => "an order",
            Self::Swatches => "a book of swatches",
            Self::Run => "a run",
            Self::Shelf => "a shelf",
            Self::Bundle => "a bundle",
            Self::Marks => "marks on a photograph",
            Self::Learned => "learned calibration values",
            Self::Wish => "a wish",
        }
    }
}
