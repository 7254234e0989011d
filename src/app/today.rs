//! The day that the window suggests: today, unless a picture or a test wants it fixed.

pub(super) use crate::store::today;
