//! What is asked for about rings that are wished for.

use std::path::PathBuf;

/// Something with them; done after everything is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum WishAsk {
    /// Wish for rings like those that the photograph in this file shows.
    Like(PathBuf),
    /// Take up the wish in this file.
    Open(PathBuf),
    /// Save the wish here.
    Save(PathBuf),
}
