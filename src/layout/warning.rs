//! What a maker should know before binding, as data: the value and the limit.

use super::Fibre;
use crate::geometry::{Panel, Top};
use crate::measure::LengthStyle;
use serde::Serialize;
use std::fmt;

/// A bind as warnings name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct BindRef {
    /// Its number from the centre, as in all prints, from 1.
    pub number: u32,
    /// The number by which edits name it, counted from the guide arc; none for a bind added by hand.
    pub edit_number: Option<i32>,
}

impl fmt::Display for BindRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ", self.number)?;
        match self.edit_number {
            Some(0) => f.write_str("(the guide arc)"),
            Some(number) => write!(f, "({number} counted from the guide arc)"),
            None => f.write_str("(added by hand)"),
        }
    }
}

/// Something that may spoil the piece. Lengths in mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Warning {
    /// Two binds are too near each other to be tied.
    GapTooSmall {
        /// The inner bind.
        inner_bind: BindRef,
        /// The outer bind.
        outer_bind: BindRef,
        /// The gap.
        gap_mm: f64,
        /// The smallest that can be tied with this thread and the wraps of these binds.
        limit_mm: f64,
    },
    /// Pleats so shallow that they spring open.
    PleatTooShallow {
        /// Depth at the guide arc.
        depth_mm: f64,
        /// The limit.
        limit_mm: f64,
    },
    /// Pleats so deep that their inside stays out of the dye's reach.
    PleatTooDeep {
        /// Depth at the guide arc.
        depth_mm: f64,
        /// The limit.
        limit_mm: f64,
    },
    /// The rod is too thick to be pulled tight.
    RodTooThick {
        /// The bind where it is thickest.
        bind: BindRef,
        /// Its diameter there.
        diameter_mm: f64,
        /// The limit.
        limit_mm: f64,
    },
    /// A bind where there is no cloth at all.
    RingMeetsNoCloth {
        /// The bind.
        bind: BindRef,
        /// Its radius.
        radius_mm: f64,
        /// How far the cloth reaches.
        farthest_mm: f64,
    },
    /// A further arc where there is no cloth at all.
    FurtherArcMeetsNoCloth {
        /// Its number among the further arcs, from 1.
        arc: u32,
        /// Its radius.
        radius_mm: f64,
        /// How far the cloth reaches.
        farthest_mm: f64,
    },
    /// A further arc that is the guide arc once more.
    FurtherArcOnGuideArc {
        /// Its number among the further arcs, from 1.
        arc: u32,
        /// Its radius.
        radius_mm: f64,
    },
    /// A count of pleats that had to become even, because the fan closes on itself.
    PleatsMadeEven {
        /// As asked.
        asked: u32,
        /// As it came out.
        got: u32,
    },
    /// Pleats so deep at the outermost bind that dye will hardly reach their inside there.
    PleatTooDeepOutside {
        /// The outermost bind.
        bind: BindRef,
        /// Depth of a pleat there.
        depth_mm: f64,
        /// The limit.
        limit_mm: f64,
    },
    /// Part of the cloth takes no dye.
    ClothPaler {
        /// The largest such fibre.
        fibre: Fibre,
        /// All that takes none, percent.
        percent: f64,
    },
    /// Too little of the cloth takes the dye.
    ClothHardlyDyed {
        /// The largest fibre that does not.
        fibre: Fibre,
        /// All that does not, percent.
        percent: f64,
    },
    /// What the dye needs harms the cloth.
    ClothHarmed {
        /// The largest such fibre.
        fibre: Fibre,
        /// All such, percent.
        percent: f64,
    },
    /// The centre lies on one panel only: on the other it is in the neck opening or beyond the edge.
    CentreOnOnePanel {
        /// The panel without cloth at the centre.
        bare: Panel,
        /// What heights are counted from.
        top: Top,
        /// The centre, below that.
        centre_mm: f64,
        /// Where that panel's cloth begins on the centre line.
        cloth_begins_mm: f64,
    },
    /// Too little of the guide arc lies on cloth.
    GuideArcOffCloth {
        /// The panel.
        panel: Panel,
        /// The share of the arc that lies on it, 0 to 1.
        share: f64,
        /// The least that should.
        limit: f64,
    },
    /// A centre off the fold line of a folded garment: the burst comes out twice.
    MirroredPair {
        /// Distance of each centre from the centre line.
        from_centre_line_mm: f64,
    },
    /// The gaps grow toward the centre instead of shrinking.
    LooserTowardCentre {
        /// The bind at the inner end of the first gap that is wider than the next one outward.
        bind: BindRef,
        /// That gap.
        gap_mm: f64,
        /// The next gap outward.
        outer_gap_mm: f64,
    },
    /// The marks of the rule move binds by more than half of one, so that the gaps keep their order.
    RoundedFar {
        /// The bind that moves farthest.
        bind: BindRef,
        /// How far; positive is away from the centre.
        by_mm: f64,
        /// The marks, in words.
        marks: &'static str,
        /// How many more are to be warned about.
        others: usize,
    },
    /// A value of a progression had to give way to a whole number of gaps.
    Adjusted {
        /// Which side of the guide arc: `inward` or `outward`.
        side: &'static str,
        /// Which value, as its field is named.
        quantity: String,
        /// As asked.
        asked: f64,
        /// As it came out.
        got: f64,
    },
}

/// A length, in hundredths of a millimetre where the marks of an inch rule would write another the same.
fn told_apart(length_mm: f64, other_mm: f64, style: LengthStyle) -> String {
    let written = style.format(length_mm);
    if written == style.format(other_mm) { LengthStyle::Metric { decimals: 2 }.format(length_mm) } else { written }
}

impl Warning {
    /// One sentence, lengths in the given style.
    #[must_use]
    #[expect(clippy::too_many_lines, reason = "one sentence for each warning, in one place")]
    pub fn sentence(&self, style: LengthStyle) -> String {
        let mm = |length: f64| style.format(length);
        match self {
            Self::GapTooSmall { inner_bind, outer_bind, gap_mm, limit_mm } => format!(
                "Binds {inner_bind} and {outer_bind} are {} apart; with this thread gaps under {} can't be tied.",
                told_apart(*gap_mm, *limit_mm, style),
                told_apart(*limit_mm, *gap_mm, style)
            ),
            Self::PleatTooShallow { depth_mm, limit_mm } => format!(
                "Pleats of {} at the guide arc spring open; make them at least {} (fewer pleats).",
                mm(*depth_mm),
                mm(*limit_mm)
            ),
            Self::PleatTooDeep { depth_mm, limit_mm } => format!(
                "Pleats of {} at the guide arc keep dye from their inside; {} or less is usual (more pleats).",
                mm(*depth_mm),
                mm(*limit_mm)
            ),
            Self::RodTooThick { bind, diameter_mm, limit_mm } => format!(
                "At bind {bind} the bound rod is {} thick; over {} it is hard to pull tight.",
                mm(*diameter_mm),
                mm(*limit_mm)
            ),
            Self::RingMeetsNoCloth { bind, radius_mm, farthest_mm } => format!(
                "Bind {bind}, {} from the centre, meets no cloth; the cloth reaches {}.",
                mm(*radius_mm),
                mm(*farthest_mm)
            ),
            Self::FurtherArcMeetsNoCloth { arc, radius_mm, farthest_mm } => format!(
                "Further arc {arc}, {} from the centre, meets no cloth; the cloth reaches {}.",
                mm(*radius_mm),
                mm(*farthest_mm)
            ),
            Self::FurtherArcOnGuideArc { arc, radius_mm } => {
                format!("Further arc {arc}, {} from the centre, is the guide arc once more.", mm(*radius_mm))
            }
            Self::PleatsMadeEven { asked, got } => {
                format!("There are {got} pleats instead of {asked}: round a full turn their number has to be even.")
            }
            Self::PleatTooDeepOutside { bind, depth_mm, limit_mm } => format!(
                "At the outermost bind, {bind}, the pleats are {} deep; over {} dye hardly reaches their inside (more pleats).",
                mm(*depth_mm),
                mm(*limit_mm)
            ),
            Self::ClothPaler { fibre, percent } => format!(
                "{percent:.0} % of the cloth, most of it {fibre}, takes no dye or a tint: the colours come out paler; test a scrap."
            ),
            Self::ClothHardlyDyed { fibre, percent } => format!(
                "{percent:.0} % of the cloth, most of it {fibre}, takes no reactive dye; cotton, linen, hemp and viscose do."
            ),
            Self::ClothHarmed { fibre, percent } => format!(
                "{percent:.0} % of the cloth is animal fibre, most of it {fibre}, which hot soda ash and the discharge harm."
            ),
            Self::CentreOnOnePanel { bare, top, centre_mm, cloth_begins_mm } => format!(
                "The burst centre, {}, is not on the {}: its cloth begins at {} on the centre line.",
                top.height(*centre_mm, style),
                bare.name(),
                mm(*cloth_begins_mm)
            ),
            Self::GuideArcOffCloth { panel, share, limit } => format!(
                "Only {:.0} % of the guide arc lies on the {}; at least {:.0} % should, or there is little to fold along.",
                100.0 * share,
                panel.name(),
                100.0 * limit
            ),
            Self::MirroredPair { from_centre_line_mm } => format!(
                "The centre is {} off the fold line, so the burst comes out twice, mirrored at the centre line.",
                mm(*from_centre_line_mm)
            ),
            Self::LooserTowardCentre { bind, gap_mm, outer_gap_mm } => format!(
                "The gap outside bind {bind} is {}, wider than the next one outward ({}): the rings open toward the centre.",
                mm(*gap_mm),
                mm(*outer_gap_mm)
            ),
            Self::RoundedFar { bind, by_mm, marks, others } => {
                let way = if *by_mm < 0.0 { "inward" } else { "outward" };
                let so_are = match others {
                    0 => String::new(),
                    1 => " (as is one more)".to_owned(),
                    others => format!(" (as are {others} more)"),
                };
                format!(
                    "To keep the gaps in order on marks {marks}, bind {bind} is moved {way} by {}, more than half a mark{so_are}; finer \
                     marks move binds less.",
                    style.format_small(by_mm.abs())
                )
            }
            Self::Adjusted { side, quantity, asked, got } => {
                let words = quantity.trim_end_matches("_mm").replace('_', " ");
                let value = |number: f64| if quantity.ends_with("_mm") { mm(number) } else { format!("{number:.3}") };
                format!(
                    "The {side} {words} is {} instead of {}, to come out with a whole number of gaps.",
                    value(*got),
                    value(*asked)
                )
            }
        }
    }
}
