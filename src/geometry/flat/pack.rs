//! In which order the pieces of a series come to lie on each other.

/// How a series of creases is folded up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Pack {
    /// To and fro: each piece on the one before it.
    Zigzag,
    /// All that is folded so far is folded over onto the next piece, again and again, so that it is wrapped up.
    Rolled,
}

impl Pack {
    /// Plain words for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Zigzag => "to and fro",
            Self::Rolled => "rolled",
        }
    }

    /// The pieces from the bottom of the stack up, the first piece lying as it was. At each crease cloth turns over, so that odd
    /// pieces lie upside down in either pack.
    pub(crate) fn order(self, pieces: u32) -> Vec<u32> {
        match self {
            Self::Zigzag => (0..pieces).collect(),
            Self::Rolled => (1..pieces).fold(vec![0], |pack, next| std::iter::once(next).chain(pack.into_iter().rev()).collect()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Pack;

    /// A strip of paper of five pieces, rolled up by hand: the first one comes to lie in the middle.
    #[test]
    fn a_roll_has_its_first_piece_within() {
        assert_eq!(Pack::Rolled.order(5), [4, 2, 0, 1, 3]);
        assert_eq!(Pack::Zigzag.order(4), [0, 1, 2, 3]);
    }
}
