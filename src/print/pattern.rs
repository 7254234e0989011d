//! Patterns that stand for colours on a black and white printer.

/// A pattern readable without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum Pattern {
    /// Nothing: bare paper.
    Blank,
    /// Lines rising to the right.
    Rising,
    /// Small dots.
    Dots,
    /// Lines across the page.
    Level,
    /// Rising and falling lines.
    Crossed,
    /// Solid ink.
    Solid,
    /// Lines down the page.
    Upright,
    /// Large dots, far apart.
    Spots,
    /// Falling lines, far apart.
    Falling,
    /// Level and upright lines.
    Squares,
}

impl Pattern {
    /// Every pattern that leaves a mark, in the order in which colours take them: neighbours differ most.
    pub const MARKED: [Self; 9] = [
        Self::Rising,
        Self::Dots,
        Self::Level,
        Self::Crossed,
        Self::Solid,
        Self::Upright,
        Self::Spots,
        Self::Falling,
        Self::Squares,
    ];

    /// The pattern of the `n`-th colour; repeats after nine.
    #[must_use]
    pub const fn nth(n: usize) -> Self {
        Self::MARKED[n % Self::MARKED.len()]
    }
}
