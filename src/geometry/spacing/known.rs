//! The values of a progression that are known, whatever its kind.

use super::{Progression, ProgressionKind, Solved, Span};

/// A value that a maker may give of a progression.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Known {
    /// The number of gaps.
    Count,
    /// The gap next to the guide arc, or the one gap of an even progression.
    FirstGap,
    /// The farthest gap.
    LastGap,
    /// Step, ratio or exponent.
    Factor,
    /// All gaps together.
    Span,
}

impl Known {
    /// Every one.
    pub const ALL: [Self; 5] = [Self::Count, Self::FirstGap, Self::LastGap, Self::Factor, Self::Span];
}

/// What is known of a progression; gaps by hand have none of these.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct KnownValues {
    /// The number of gaps.
    pub count: Option<u32>,
    /// The gap next to the guide arc, or the one gap of an even progression, mm.
    pub first_gap_mm: Option<f64>,
    /// The farthest gap, mm.
    pub last_gap_mm: Option<f64>,
    /// Step (mm), ratio or exponent.
    pub factor: Option<f64>,
    /// All gaps together.
    pub span: Option<Span>,
}

impl KnownValues {
    /// The values that a progression gives.
    #[must_use]
    pub fn of(progression: &Progression) -> Self {
        match *progression {
            Progression::Even { count, gap_mm: first_gap_mm, span } => Self { count, first_gap_mm, span, ..Self::default() },
            Progression::Step { count, first_gap_mm, last_gap_mm, step_mm: factor, span }
            | Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio: factor, span }
            | Progression::Power { count, first_gap_mm, last_gap_mm, exponent: factor, span } => {
                Self { count, first_gap_mm, last_gap_mm, factor, span }
            }
            Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span } => {
                Self { count, first_gap_mm, last_gap_mm, factor: None, span }
            }
            Progression::List { .. } => Self::default(),
        }
    }

    /// All values that came out.
    #[must_use]
    pub fn solved(solved: &Solved) -> Self {
        Self {
            count: Some(solved.count),
            first_gap_mm: Some(solved.first_gap_mm),
            last_gap_mm: Some(solved.last_gap_mm),
            factor: solved.factor,
            span: Some(Span::Length { length_mm: solved.span_mm }),
        }
    }

    /// A progression of this kind that gives these values; those that the kind does not have are left out. None for gaps by hand.
    #[must_use]
    pub fn progression(self, kind: ProgressionKind) -> Option<Progression> {
        let Self { count, first_gap_mm, last_gap_mm, factor, span } = self;
        Some(match kind {
            ProgressionKind::Even => Progression::Even { count, gap_mm: first_gap_mm, span },
            ProgressionKind::Step => Progression::Step { count, first_gap_mm, last_gap_mm, step_mm: factor, span },
            ProgressionKind::Ratio => Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio: factor, span },
            ProgressionKind::Power => Progression::Power { count, first_gap_mm, last_gap_mm, exponent: factor, span },
            ProgressionKind::EqualCloth => Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span },
            ProgressionKind::List => return None,
        })
    }

    /// Whether a value is given.
    #[must_use]
    pub fn has(&self, known: Known) -> bool {
        match known {
            Known::Count => self.count.is_some(),
            Known::FirstGap => self.first_gap_mm.is_some(),
            Known::LastGap => self.last_gap_mm.is_some(),
            Known::Factor => self.factor.is_some(),
            Known::Span => self.span.is_some(),
        }
    }

    /// The same without a value.
    #[must_use]
    pub fn without(self, known: Known) -> Self {
        self.with(known, &Self::default())
    }

    /// The same with one value as it is in `other`, given there or not.
    #[must_use]
    pub fn with(mut self, known: Known, other: &Self) -> Self {
        match known {
            Known::Count => self.count = other.count,
            Known::FirstGap => self.first_gap_mm = other.first_gap_mm,
            Known::LastGap => self.last_gap_mm = other.last_gap_mm,
            Known::Factor => self.factor = other.factor,
            Known::Span => self.span = other.span,
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_progression_comes_back_from_its_values() {
        for progression in Progression::one_of_each() {
            let kind = ProgressionKind::of(&progression);
            let back = KnownValues::of(&progression).progression(kind);
            assert_eq!(back, (kind != ProgressionKind::List).then_some(progression));
        }
    }

    #[test]
    fn a_value_is_taken_over_or_left_out() {
        let all = KnownValues { count: Some(3), first_gap_mm: Some(9.0), last_gap_mm: Some(4.0), factor: Some(0.9), span: None };
        for known in Known::ALL {
            let bare = all.without(known);
            assert!(!bare.has(known));
            assert_eq!(bare.with(known, &all), all);
        }
    }
}
