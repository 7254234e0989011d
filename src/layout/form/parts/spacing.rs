//! Where the binds go.

use crate::form::stands_for;
use crate::geometry::{BindEdit, Neighbours, Progression, SpacingSpec, Span};
use crate::measure::RuleMarks;
use serde::{Deserialize, Serialize};

/// The length that all gaps of a side fill together.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum SpanForm {
    /// A length from the guide arc.
    Length {
        /// The length, mm.
        length_mm: f64,
    },
    /// To the burst centre (inward) or to the farthest cloth (outward).
    ToEnd {
        /// What stays free at that end, mm.
        leave_mm: f64,
    },
}

stands_for!(enum SpanForm for Span { Length { length_mm }, ToEnd { leave_mm } });

/// One side's gaps, by any values that decide them. Gap 1 is next to the guide arc.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum ProgressionForm {
    /// All gaps alike.
    Even {
        /// The number of gaps.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
        /// Every gap, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        gap_mm: Option<f64>,
        /// All gaps together.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        span: Option<SpanForm>,
    },
    /// Each gap differs from the one before by the same length.
    Step {
        /// The number of gaps.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        last_gap_mm: Option<f64>,
        /// The change from one gap to the next, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        step_mm: Option<f64>,
        /// All gaps together.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        span: Option<SpanForm>,
    },
    /// Each gap is the one before it times the same ratio.
    Ratio {
        /// The number of gaps.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        last_gap_mm: Option<f64>,
        /// Each gap over the one before it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ratio: Option<f64>,
        /// All gaps together.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        span: Option<SpanForm>,
    },
    /// Distances from the tight end are `span (i / n)^exponent`.
    Power {
        /// The number of gaps.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        last_gap_mm: Option<f64>,
        /// The exponent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        exponent: Option<f64>,
        /// All gaps together.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        span: Option<SpanForm>,
    },
    /// The same area of cloth between neighbouring binds.
    EqualCloth {
        /// The number of gaps.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        count: Option<u32>,
        /// The gap next to the guide arc, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        first_gap_mm: Option<f64>,
        /// The farthest gap, mm.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        last_gap_mm: Option<f64>,
        /// All gaps together.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        span: Option<SpanForm>,
    },
    /// Gaps by hand; none for no binds on the side.
    List {
        /// The gaps in order from the guide arc, mm.
        gaps_mm: Vec<f64>,
    },
}

stands_for!(enum ProgressionForm for Progression {
    Even { count, gap_mm, span },
    Step { count, first_gap_mm, last_gap_mm, step_mm, span },
    Ratio { count, first_gap_mm, last_gap_mm, ratio, span },
    Power { count, first_gap_mm, last_gap_mm, exponent, span },
    EqualCloth { count, first_gap_mm, last_gap_mm, span },
    List { gaps_mm },
});

/// The marks of a rule that lengths are rounded to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum MarksForm {
    /// No rounding.
    Exact,
    /// Every millimetre.
    #[default]
    Millimetres1,
    /// Every five millimetres.
    Millimetres5,
    /// Every eighth of an inch.
    InchEighth,
    /// Every sixteenth of an inch.
    InchSixteenth,
}

stands_for!(enum MarksForm for RuleMarks { Exact {}, Millimetres1 {}, Millimetres5 {}, InchEighth {}, InchSixteenth {} });

/// What the binds beside an edited one do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum NeighboursForm {
    /// They stay where they are.
    #[default]
    Stay,
    /// They share the move.
    Follow,
}

stands_for!(enum NeighboursForm for Neighbours { Stay {}, Follow {} });

/// One correction by hand. Binds count from the guide arc: 1, 2 .. outward, -1, -2 .. inward.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum BindEditForm {
    /// Moves a bind relative to its progression.
    Move {
        /// Which bind.
        bind: i32,
        /// Added to its radius, mm.
        by_mm: f64,
        /// What the others do: stay.
        #[serde(default)]
        neighbours: NeighboursForm,
    },
    /// Holds a bind at a radius.
    Lock {
        /// Which bind.
        bind: i32,
        /// Its radius, mm.
        at_mm: f64,
        /// What the others do: stay.
        #[serde(default)]
        neighbours: NeighboursForm,
    },
    /// Adds a bind.
    Add {
        /// Its radius, mm.
        at_mm: f64,
    },
    /// Takes a bind away.
    Remove {
        /// Which bind.
        bind: i32,
    },
}

stands_for!(enum BindEditForm for BindEdit {
    Move { bind, by_mm, neighbours },
    Lock { bind, at_mm, neighbours },
    Add { at_mm },
    Remove { bind },
});

/// Where the binds go.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BindsForm {
    /// From the guide arc to the burst centre.
    pub inward: ProgressionForm,
    /// From the guide arc to the edge of the cloth.
    pub outward: ProgressionForm,
    /// The marks that radii are rounded to: every millimetre.
    #[serde(default)]
    pub marks: MarksForm,
    /// Gaps below this can't be tied, mm; what the wraps make of it unless given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smallest_gap_mm: Option<f64>,
    /// Corrections by hand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub edits: Vec<BindEditForm>,
}

stands_for!(struct BindsForm for SpacingSpec { inward, outward, marks, smallest_gap_mm, edits });

#[cfg(test)]
mod tests {
    use super::*;
    use crate::form::{FileForm as _, WrittenForm as _};
    use crate::layout::to_ron;

    fn read<T: serde::de::DeserializeOwned>(text: &str) -> ron::error::SpannedResult<T> {
        ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME).from_str(text)
    }

    #[test]
    fn every_progression_reads_back_exactly() {
        for progression in Progression::one_of_each() {
            let text = to_ron(&ProgressionForm::of(progression.clone()));
            assert_eq!(read::<ProgressionForm>(&text).unwrap().live(), progression, "{text}");
        }
    }

    #[test]
    fn a_line_by_hand_reads_well_and_a_wrong_field_is_named() {
        let by_hand: ProgressionForm = read("Ratio(count: 10, ratio: 0.88, span: ToEnd(leave_mm: 14))").unwrap();
        assert_eq!(by_hand.live(), Progression::one_of_each()[2]);
        let error = read::<ProgressionForm>("Ratio(count: 10, raito: 0.88)").unwrap_err();
        assert!(error.to_string().contains("raito"), "{error}");
    }

    #[test]
    fn binds_read_back_exactly_and_take_whole_numbers() {
        let edits = vec![
            BindEdit::Move { bind: -3, by_mm: 4.0, neighbours: Neighbours::Follow },
            BindEdit::Lock { bind: 2, at_mm: 390.5, neighbours: Neighbours::Stay },
            BindEdit::Add { at_mm: 320.0 },
            BindEdit::Remove { bind: 4 },
        ];
        let [inward, outward] = [0, 5].map(|index: usize| Progression::one_of_each()[index].clone());
        let binds = SpacingSpec { inward, outward, marks: RuleMarks::InchEighth, smallest_gap_mm: Some(9.5), edits };
        assert_eq!(read::<BindsForm>(&to_ron(&BindsForm::of(binds.clone()))).unwrap().live(), binds);
        let by_hand = "(inward: Even(count: 4, gap_mm: 20), outward: List(gaps_mm: [30, 40]), edits: [Move(bind: -3, by_mm: 4)])";
        assert_eq!(read::<BindsForm>(by_hand).unwrap().marks, MarksForm::Millimetres1);
    }
}
