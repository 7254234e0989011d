//! The pairs that a DXF file is made of.

use crate::import::error::ImportError;
use std::borrow::Cow;

/// A group code and its value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tag<'a> {
    pub(super) code: i32,
    /// Without the blanks around it.
    pub(super) value: &'a str,
    /// The line of the value, from 1.
    line: usize,
}

impl Tag<'_> {
    /// Its value as a number.
    pub(super) fn number(&self) -> Result<f64, ImportError> {
        self.value.parse().map_err(|_error| self.refused())
    }

    /// Its value as a whole number.
    pub(super) fn whole(&self) -> Result<i64, ImportError> {
        self.value.parse().map_err(|_error| self.refused())
    }

    fn refused(&self) -> ImportError {
        refused(self.line, self.value)
    }
}

fn refused(line: usize, found: &str) -> ImportError {
    ImportError::NotDxf { line, found: found.chars().take(MOST_SHOWN).collect() }
}

/// Letters of a wrong line that are told at the most.
const MOST_SHOWN: usize = 40;

/// All pairs of a file, read one after the other.
#[derive(Debug)]
pub(super) struct Tags<'a> {
    tags: std::iter::Peekable<std::vec::IntoIter<Tag<'a>>>,
}

impl<'a> Tags<'a> {
    pub(super) fn of(text: &'a str) -> Result<Self, ImportError> {
        let mut tags = Vec::new();
        let mut lines = text.lines().enumerate();
        while let Some((index, code)) = lines.next() {
            let Some((_, value)) = lines.next() else {
                if code.trim().is_empty() {
                    break;
                }
                return Err(refused(index + 1, code.trim()));
            };
            let code = code.trim().parse().map_err(|_error| refused(index + 1, code.trim()))?;
            let value = value.trim();
            tags.push(Tag { code, value, line: index + 2 });
            if (code, value) == (0, "EOF") {
                break;
            }
        }
        Ok(Self { tags: tags.into_iter().peekable() })
    }

    /// The next pair.
    pub(super) fn next(&mut self) -> Option<Tag<'a>> {
        self.tags.next()
    }

    /// The next pair, unless something new begins with it.
    pub(super) fn next_within(&mut self) -> Option<Tag<'a>> {
        self.tags.next_if(|tag| tag.code != 0)
    }
}

/// The text of a file: UTF-8, or one of the older code pages, whose letters outside of ASCII are taken as Latin 1; only names have any.
pub(super) fn text(bytes: &[u8]) -> Cow<'_, str> {
    match str::from_utf8(bytes) {
        Ok(text) => Cow::Borrowed(text.trim_start_matches('\u{feff}')),
        Err(_) => Cow::Owned(bytes.iter().copied().map(char::from).collect()),
    }
}
