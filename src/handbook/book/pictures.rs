//! The pictures of a book, each drawn once.

use crate::handbook::Figure;
use crate::print::Page;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Pictures drawn so far.
#[derive(Debug, Default)]
pub(super) struct Pictures(RefCell<BTreeMap<&'static str, Option<Page>>>);

impl Pictures {
    /// A picture, drawn where it is asked for first.
    pub(super) fn draw(&self, figure: Figure) -> Option<Page> {
        self.0.borrow_mut().entry(figure.name()).or_insert_with(|| figure.draw()).clone()
    }
}
