//! What a page is made of: blocks one below the other, and runs of words within them. No markup, no places.

use super::Figure;

/// Something that stands on a page, one below the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// A heading within a page.
    Heading {
        /// 2 or 3; the page's title is no block.
        level: u8,
        /// Its words.
        runs: Vec<Run>,
        /// What links call it, unique on its page.
        anchor: String,
    },
    /// Words.
    Paragraph(Vec<Run>),
    /// Items, each of blocks of its own.
    List {
        /// The first item's number; none for items with a dot before them.
        first: Option<u64>,
        /// The items.
        items: Vec<Vec<Self>>,
    },
    /// A table.
    Table {
        /// The columns' headings; all empty where it has none.
        head: Vec<Cell>,
        /// The rows, each with a cell a column.
        rows: Vec<Vec<Cell>>,
    },
    /// Lines to be typed or as they stand in a file, each ended by a line break.
    Code(String),
    /// What the program says.
    Quote(Vec<Run>),
    /// A picture that the program draws.
    Figure {
        /// Which one.
        figure: Figure,
        /// What stands under it.
        caption: Vec<Run>,
    },
}

/// What stands in a cell of a table.
pub type Cell = Vec<Run>;

/// Words of one style, without a line break.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The words. Spaces between runs are part of them.
    pub text: String,
    /// How they look.
    pub style: Style,
    /// Where they lead.
    pub link: Option<Link>,
}

/// How words look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Style {
    /// Important.
    pub strong: bool,
    /// The name of something in the window, or stressed.
    pub emphasis: bool,
    /// To be typed, or as it stands in a file.
    pub code: bool,
}

/// Where words lead.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Link {
    /// To a page of the handbook.
    Page {
        /// Its name.
        name: String,
        /// The heading on it; none for its beginning.
        anchor: Option<String>,
    },
    /// Out of it.
    Web(String),
}

/// The words of runs, without their looks.
pub(super) fn words_of(runs: &[Run]) -> String {
    runs.iter().map(|run| run.text.as_str()).collect()
}

impl Block {
    /// All runs in it, in reading order: those of a caption and of every cell too.
    pub(super) fn runs(&self) -> Vec<&Run> {
        match self {
            Self::Heading { runs, .. } | Self::Paragraph(runs) | Self::Quote(runs) | Self::Figure { caption: runs, .. } => {
                runs.iter().collect()
            }
            Self::List { items, .. } => items.iter().flatten().flat_map(Self::runs).collect(),
            Self::Table { head, rows } => head.iter().chain(rows.iter().flatten()).flatten().collect(),
            Self::Code(_) => Vec::new(),
        }
    }
}
