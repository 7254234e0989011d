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
    ///
    /// Each fold lays cloth on top. A roll of an even number of pieces has its first piece upside down then; so that it lies as it was, the
    /// stack is told the other way up.
    pub(crate) fn order(self, pieces: u32) -> Vec<u32> {
        match self {
            Self::Zigzag => (0..pieces).collect(),
            Self::Rolled => {
                let onto = |pack: Vec<u32>, next: u32| std::iter::once(next).chain(pack.into_iter().rev()).collect();
                let mut order = (1..pieces).fold(vec![0], onto);
                if self.turns_over(pieces) {
                    order.reverse();
                }
                order
            }
        }
    }

    /// Whether the stack lies the other way up in the hand than it is told: what is folded on top of it then is folded on top after it was
    /// turned over.
    pub(crate) fn turns_over(self, pieces: u32) -> bool {
        self == Self::Rolled && pieces.is_multiple_of(2)
    }
}

#[cfg(test)]
mod tests {
    use super::Pack;

    /// A strip of paper of five pieces, rolled up by hand: the first one comes to lie in the middle.
    #[test]
    fn a_roll_has_its_first_piece_within() {
        assert_eq!(Pack::Rolled.order(5), [4, 2, 0, 1, 3]);
        // Of two pieces the first is laid onto the second: turned over, the second lies on the first.
        assert_eq!(Pack::Rolled.order(2), [0, 1]);
        assert_eq!(Pack::Rolled.order(4), [2, 0, 1, 3]);
        assert_eq!(Pack::Zigzag.order(4), [0, 1, 2, 3]);
    }
}
