//! The names of binds.

use crate::telling::Voice;
use std::fmt;

/// The name of a bind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BindId {
    /// 0 lies on the guide arc, k is the k-th outward, -k the k-th inward.
    Numbered(i32),
    /// The k-th added by hand, from 1, in the order of the edits.
    Added(u32),
}

impl BindId {
    /// The bind on the guide arc.
    pub const GUIDE: Self = Self::Numbered(0);

    /// The number by which edits name it; none for a bind added by hand, which is changed in the edit that adds it.
    #[must_use]
    pub const fn edit_number(self) -> Option<i32> {
        match self {
            Self::Numbered(number) => Some(number),
            Self::Added(_) => None,
        }
    }

    /// Its name within a sentence: a file's edits count binds from the guide arc, the window shows on which side of it they lie.
    #[must_use]
    pub fn said(self, voice: Voice) -> String {
        match self {
            Self::Numbered(number) if number != 0 && !voice.has_keys() => {
                format!("bind {} {} the guide arc", number.unsigned_abs(), if number < 0 { "inside" } else { "outside" })
            }
            Self::Numbered(0) if !voice.has_keys() => "the bind on the guide arc".to_owned(),
            _ => self.to_string(),
        }
    }
}

impl fmt::Display for BindId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Numbered(0) => f.write_str("bind 0 (tied first)"),
            Self::Numbered(number) => write!(f, "bind {number} (counted from the one tied first)"),
            Self::Added(number) => write!(f, "added bind {number}"),
        }
    }
}
