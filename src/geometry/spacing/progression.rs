//! Progressions as they are written down: every value that is known, the rest left out.

/// One side's gaps. Gap 1 is next to the guide arc, the last one farthest from it; `count` is the number of gaps.
///
/// Any values that decide the gaps may be given and the others left out; see [`solve`](super::solve()). With `span` but without
/// `count`, an even progression, a first gap with a step, ratio or exponent, and a first gap of equal cloth take as many gaps as
/// fit into the span; other choices take the nearest whole count.
#[derive(Debug, Clone, PartialEq)]
pub enum Progression {
    /// All gaps alike: two of count, gap and span.
    Even {
        /// The number of gaps.
        count: Option<u32>,
        /// Every gap, mm.
        gap_mm: Option<f64>,
        /// All gaps together.
        span: Option<Span>,
    },
    /// Each gap differs from the one before by the same length (an arithmetic progression): three of the five.
    Step {
        /// The number of gaps.
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        last_gap_mm: Option<f64>,
        /// The change from one gap to the next, mm; negative when gaps shrink away from the guide arc.
        step_mm: Option<f64>,
        /// All gaps together.
        span: Option<Span>,
    },
    /// Each gap is the one before it times the same ratio (a geometric progression): three of the five.
    Ratio {
        /// The number of gaps.
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        last_gap_mm: Option<f64>,
        /// Each gap over the one before it; below 1 when gaps shrink away from the guide arc.
        ratio: Option<f64>,
        /// All gaps together.
        span: Option<Span>,
    },
    /// Distances from the tight end are `span (i / n)^exponent`: three of the five. Above 1 tightens toward the centre on either
    /// side, 1 is even.
    Power {
        /// The number of gaps.
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        last_gap_mm: Option<f64>,
        /// The exponent.
        exponent: Option<f64>,
        /// All gaps together.
        span: Option<Span>,
    },
    /// The same area of cloth, over all layers, between neighbouring binds: two of the four.
    EqualCloth {
        /// The number of gaps.
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        last_gap_mm: Option<f64>,
        /// All gaps together.
        span: Option<Span>,
    },
    /// Gaps by hand; none for no binds on the side.
    List {
        /// The gaps in order from the guide arc, mm.
        gaps_mm: Vec<f64>,
    },
}

/// The length that all gaps of a side fill together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Span {
    /// A length from the guide arc.
    Length {
        /// The length, mm.
        length_mm: f64,
    },
    /// To the burst centre (inward) or to the farthest cloth (outward).
    ToEnd {
        /// What stays free at that end, mm. Inward it must be more than 0.
        leave_mm: f64,
    },
}

impl Span {
    fn scaled(self, by: f64) -> Self {
        match self {
            Self::Length { length_mm } => Self::Length { length_mm: length_mm * by },
            Self::ToEnd { leave_mm } => Self::ToEnd { leave_mm: leave_mm * by },
        }
    }
}

impl Progression {
    /// The same progression with every length multiplied by `by`; counts, ratios and exponents stay.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        let mut scaled = self.clone();
        let (lengths, span): (Vec<&mut Option<f64>>, Option<&mut Option<Span>>) = match &mut scaled {
            Self::Even { gap_mm, span, .. } => (vec![gap_mm], Some(span)),
            Self::Step { first_gap_mm, last_gap_mm, step_mm, span, .. } => (vec![first_gap_mm, last_gap_mm, step_mm], Some(span)),
            Self::Ratio { first_gap_mm, last_gap_mm, span, .. }
            | Self::Power { first_gap_mm, last_gap_mm, span, .. }
            | Self::EqualCloth { first_gap_mm, last_gap_mm, span, .. } => (vec![first_gap_mm, last_gap_mm], Some(span)),
            Self::List { gaps_mm } => {
                gaps_mm.iter_mut().for_each(|gap| *gap *= by);
                (Vec::new(), None)
            }
        };
        lengths.into_iter().flatten().for_each(|length| *length *= by);
        span.into_iter().flatten().for_each(|span| *span = span.scaled(by));
        scaled
    }
}

#[cfg(test)]
impl Progression {
    /// One of each.
    pub(crate) fn one_of_each() -> Vec<Self> {
        let span = Some(Span::ToEnd { leave_mm: 14.0 });
        let length = Some(Span::Length { length_mm: 150.5 });
        vec![
            Self::Even { count: Some(3), gap_mm: None, span: length },
            Self::Step { count: None, first_gap_mm: Some(30.0), last_gap_mm: None, step_mm: Some(-1.5), span },
            Self::Ratio { count: Some(10), first_gap_mm: None, last_gap_mm: None, ratio: Some(0.88), span },
            Self::Power { count: Some(9), first_gap_mm: None, last_gap_mm: Some(8.0), exponent: Some(1.6), span: None },
            Self::EqualCloth { count: Some(4), first_gap_mm: None, last_gap_mm: None, span },
            Self::List { gaps_mm: vec![30.0, 25.0, 0.1 + 0.2] },
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scaling_touches_lengths_only() {
        for progression in Progression::one_of_each() {
            assert_eq!(progression.scaled(2.0).scaled(0.5), progression);
            assert_eq!(progression.scaled(1.0), progression);
        }
        let scaled = Progression::one_of_each()[2].scaled(2.0);
        let span = Some(Span::ToEnd { leave_mm: 28.0 });
        let expected = Progression::Ratio { count: Some(10), first_gap_mm: None, last_gap_mm: None, ratio: Some(0.88), span };
        assert_eq!(scaled, expected);
    }
}
