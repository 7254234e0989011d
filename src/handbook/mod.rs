//! The handbook: its pages, read from one Markdown source and filled with numbers that the program computes; found, searched, set as a PDF.
//!
//! Knows nothing of the window: a [`Page`] is blocks and runs of words, laid out by whoever shows them. What a page says of an example or of a
//! default stands in its source as a name between double braces, and is computed when the pages are read: no number of it can go stale.
//!
//! ```
//! use pleatwright::handbook;
//! let page = handbook::page("burst").expect("there is a page about it");
//! assert_eq!(page.title(), "The burst");
//! assert_eq!(handbook::search("spacing rule")[0].page.name(), "spacing");
//! ```

mod block;
mod book;
mod figure;
mod fill;
mod inline;
mod page;
mod parse;
mod plain;
mod search;
#[cfg(test)]
mod tests;

pub use block::{Block, Cell, Link, Run, Style};
pub use book::{BookError, book};
pub use figure::Figure;
pub use page::{Chapter, Entry, Page, page_of_step, warning_entry};
pub use plain::plain_text;
pub use search::{Hit, search};

use Chapter::{Background, Reference, Warnings, Work};
use page::Source;
use std::sync::LazyLock;

/// The chapter, name and text of a page.
macro_rules! page {
    ($chapter:ident, $name:literal) => {
        Source { chapter: $chapter, name: $name, text: include_str!(concat!("pages/", $name, ".md")) }
    };
}

/// Every page, in reading order. A page's title is its first heading.
const SOURCES: [Source; 40] = [
    page!(Work, "start"),
    page!(Work, "window"),
    page!(Work, "garment"),
    page!(Work, "measuring"),
    page!(Work, "fold"),
    page!(Work, "burst"),
    page!(Work, "line"),
    page!(Work, "lines"),
    page!(Work, "flat"),
    page!(Work, "spiral"),
    page!(Work, "binds"),
    page!(Work, "spacing"),
    page!(Work, "colours"),
    page!(Work, "rod"),
    page!(Work, "reveal"),
    page!(Work, "sheets"),
    page!(Work, "projection"),
    page!(Work, "marking"),
    page!(Work, "day"),
    page!(Work, "order"),
    page!(Work, "run"),
    page!(Work, "discharge"),
    page!(Work, "dyeing"),
    page!(Work, "journal"),
    page!(Warnings, "warnings-fold"),
    page!(Warnings, "warnings-pleats"),
    page!(Warnings, "warnings-binds"),
    page!(Warnings, "warnings-colour"),
    page!(Warnings, "warnings-bath"),
    page!(Warnings, "warnings-plan"),
    page!(Warnings, "warnings-steps"),
    page!(Warnings, "warnings-run"),
    page!(Warnings, "refusals"),
    page!(Background, "cautions"),
    page!(Background, "model"),
    page!(Background, "numbers"),
    page!(Reference, "keys"),
    page!(Reference, "command-line"),
    page!(Reference, "files"),
    page!(Reference, "glossary"),
];

static PAGES: LazyLock<Vec<Page>> = LazyLock::new(|| SOURCES.iter().map(Page::read).collect());

/// Every page, in reading order. The first call computes what the pages say of the examples, which takes about as long as opening a layout
/// and planning its day; later ones take no time.
#[must_use]
pub fn pages() -> &'static [Page] {
    &PAGES
}

/// The page of a name, such as `burst`.
#[must_use]
pub fn page(name: &str) -> Option<&'static Page> {
    pages().iter().find(|page| page.name() == name)
}
