//! The kinds of progression, and going over from one to another.

use super::{Progression, Side, Solved, Span};

/// The kinds of progression.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ProgressionKind {
    /// All gaps alike.
    Even,
    /// Each gap wider or narrower than the one before by the same length.
    Step,
    /// Each gap the one before it times the same number.
    Ratio,
    /// Distances from the guide arc by a power of the bind's number.
    Power,
    /// The same area of cloth between neighbouring binds.
    EqualCloth,
    /// Each gap given.
    List,
}

impl ProgressionKind {
    /// Every kind.
    pub const ALL: [Self; 6] = [Self::Even, Self::Step, Self::Ratio, Self::Power, Self::EqualCloth, Self::List];

    /// The kind of a progression.
    #[must_use]
    pub fn of(progression: &Progression) -> Self {
        match progression {
            Progression::Even { .. } => Self::Even,
            Progression::Step { .. } => Self::Step,
            Progression::Ratio { .. } => Self::Ratio,
            Progression::Power { .. } => Self::Power,
            Progression::EqualCloth { .. } => Self::EqualCloth,
            Progression::List { .. } => Self::List,
        }
    }

    /// A progression of this kind with as many binds over the same span as a solved one: always solvable, and near to what was there.
    /// How fast its gaps tighten is our own choice.
    #[must_use]
    pub fn like(self, solved: &Solved, side: Side, guide_radius_mm: f64) -> Progression {
        let count = Some(solved.count.max(1));
        let span = Some(Span::Length { length_mm: solved.span_mm });
        let (first_gap_mm, last_gap_mm) = (None, None);
        let (first_of_mean, tightening) = if side == Side::Inward { (1.3, 0.9) } else { (0.8, 1.06) };
        match self {
            Self::Even => Progression::Even { count, gap_mm: None, span },
            Self::Step => {
                let first_gap_mm = Some(first_of_mean * solved.span_mm / f64::from(solved.count.max(1)));
                Progression::Step { count, first_gap_mm, last_gap_mm, step_mm: None, span }
            }
            Self::Ratio => Progression::Ratio { count, first_gap_mm, last_gap_mm, ratio: Some(tightening), span },
            Self::Power => Progression::Power { count, first_gap_mm, last_gap_mm, exponent: Some(1.4), span },
            Self::EqualCloth => Progression::EqualCloth { count, first_gap_mm, last_gap_mm, span },
            Self::List => {
                let radii_mm = std::iter::once(guide_radius_mm).chain(solved.radii_mm.iter().copied());
                let gaps_mm = radii_mm.zip(&solved.radii_mm).map(|(last_mm, radius_mm)| (radius_mm - last_mm).abs()).collect();
                Progression::List { gaps_mm }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{SpacingContext, solve};

    #[test]
    fn every_kind_has_a_progression_like_a_solved_one() {
        let cloth_area = |radius_mm: f64| radius_mm * radius_mm;
        let context = SpacingContext { guide_radius_mm: 300.0, zero_mm: 0.0, farthest_mm: 640.0, cloth_area: &cloth_area };
        let even = Progression::Even { count: Some(9), gap_mm: None, span: Some(Span::Length { length_mm: 270.0 }) };
        for side in [Side::Inward, Side::Outward] {
            let solved = solve(&even, side, &context).unwrap();
            for kind in ProgressionKind::ALL {
                let progression = kind.like(&solved, side, 300.0);
                assert_eq!(ProgressionKind::of(&progression), kind);
                let like = solve(&progression, side, &context).unwrap();
                assert_eq!(like.count, 9, "{kind:?} {side}");
                assert!((like.span_mm - 270.0).abs() < 1e-6, "{kind:?} {side}: {}", like.span_mm);
            }
        }
    }
}
