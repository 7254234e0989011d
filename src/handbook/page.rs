//! A page, and which one is about what.

use super::block::words_of;
use super::fill::filled;
use super::parse::blocks;
use super::{Block, page, pages};

/// A part of the handbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chapter {
    /// The job, in the order in which it is done.
    Work,
    /// What the program warns of and refuses.
    Warnings,
    /// What hurts, how things are computed, where numbers come from.
    Background,
    /// To look things up in.
    Reference,
}

impl Chapter {
    /// Every chapter, in reading order.
    pub const ALL: [Self; 4] = [Self::Work, Self::Warnings, Self::Background, Self::Reference];

    /// Its title.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::Work => "The work",
            Self::Warnings => "Warnings and refusals",
            Self::Background => "Cautions, model, numbers",
            Self::Reference => "Reference",
        }
    }
}

/// A page as it stands in the program.
#[derive(Debug, Clone, Copy)]
pub(super) struct Source {
    pub(super) chapter: Chapter,
    pub(super) name: &'static str,
    pub(super) text: &'static str,
}

/// A page of the handbook.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    chapter: Chapter,
    name: &'static str,
    title: String,
    blocks: Vec<Block>,
}

impl Page {
    pub(super) fn read(source: &Source) -> Self {
        let (title, blocks) = blocks(&filled(source.text));
        Self { chapter: source.chapter, name: source.name, title, blocks }
    }

    /// The chapter that it stands in.
    #[must_use]
    pub const fn chapter(&self) -> Chapter {
        self.chapter
    }

    /// What links and the command line call it.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// Its title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What stands on it, below its title.
    #[must_use]
    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// The words of the heading that links call so; none where the page has no such heading.
    #[must_use]
    pub fn heading(&self, anchor: &str) -> Option<String> {
        self.blocks.iter().find_map(|block| match block {
            Block::Heading { runs, anchor: own, .. } if own == anchor => Some(words_of(runs)),
            _ => None,
        })
    }
}

/// The page about a view of the window, by the view's name: `Garment`, `garment`.
#[must_use]
pub fn page_of_step(step: &str) -> Option<&'static Page> {
    page(&step.to_lowercase())
}

/// A heading of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The page.
    pub page: &'static Page,
    /// What links call the heading.
    pub anchor: &'static str,
}

/// Where the handbook tells of a warning, by its [`crate::telling::Warned::name`].
#[must_use]
pub fn warning_entry(name: &str) -> Option<Entry> {
    pages().iter().filter(|page| page.chapter == Chapter::Warnings).find_map(|page| {
        page.blocks.iter().find_map(|block| match block {
            Block::Heading { anchor, .. } if anchor == name => Some(Entry { page, anchor }),
            _ => None,
        })
    })
}
