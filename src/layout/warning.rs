//! What a maker should know before binding, as data: the value and the limit.

use super::{Fibre, FoldWords};
use crate::geometry::{Panel, Quantity, Side, Top};
use crate::measure::RuleMarks;
use crate::telling::Voice;
use serde::{Serialize, Serializer};

/// A bind as warnings name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct BindRef {
    /// Its number from the centre, as in all prints, from 1.
    pub number: u32,
    /// The number by which edits name it, counted from the guide arc; none for a bind added by hand.
    pub edit_number: Option<i32>,
}

impl BindRef {
    /// Its number; where fields are called by their keys also the one that edits count.
    pub(super) fn said(self, voice: Voice) -> String {
        let number = self.number;
        match self.edit_number {
            _ if !voice.has_keys() => number.to_string(),
            Some(0) => format!("{number} (tied first)"),
            Some(from_guide) => format!("{number} ({from_guide} counted from the one tied first)"),
            None => format!("{number} (added by hand)"),
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
        /// What the parts of the fold are called.
        #[serde(skip)]
        words: FoldWords,
        /// Depth at the guide arc.
        depth_mm: f64,
        /// The limit.
        limit_mm: f64,
    },
    /// Pleats so deep that their inside stays out of the dye's reach.
    PleatTooDeep {
        /// What the parts of the fold are called.
        #[serde(skip)]
        words: FoldWords,
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
        /// What the parts of the fold are called.
        #[serde(skip)]
        words: FoldWords,
        /// The bind.
        bind: BindRef,
        /// Its radius.
        radius_mm: f64,
        /// How far the cloth reaches.
        farthest_mm: f64,
        /// Whether another tie has the cloth there.
        #[serde(skip_serializing_if = "std::ops::Not::not")]
        is_taken: bool,
    },
    /// A further arc where there is no cloth at all.
    FurtherArcMeetsNoCloth {
        /// What the parts of the fold are called.
        #[serde(skip)]
        words: FoldWords,
        /// Its number among the further arcs, from 1.
        arc: u32,
        /// Its radius.
        radius_mm: f64,
        /// How far the cloth reaches.
        farthest_mm: f64,
    },
    /// A further arc that is the guide arc once more.
    FurtherArcOnGuideArc {
        /// What the parts of the fold are called.
        #[serde(skip)]
        words: FoldWords,
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
    /// Cloth within or beyond a line that can't lie flat, for creases end alone there.
    CantLieFlat {
        /// How much, all layers, mm2.
        bunched_mm2: f64,
        /// How many creases end alone.
        lone_ends: usize,
        /// Whether the garment is laid open: folded on the line's axis fewer creases end alone.
        laid_open: bool,
        /// Whether the line is strokes of a pen.
        strokes: bool,
    },
    /// Pleats along a line of which some are much deeper than others.
    UnevenPleats {
        /// Depth of the shallowest at the guide.
        least_mm: f64,
        /// Depth of the deepest.
        most_mm: f64,
    },
    /// Cloth that falls short at a crease round many layers.
    Creep {
        /// By how much the outermost layer falls short of the innermost.
        creep_mm: f64,
        /// Width of a piece.
        width_mm: f64,
    },
    /// A bundle that neither binds nor a wound thread nor blocks hold.
    NothingHolds,
    /// Dye is to come by dipping alone, and nothing is dipped.
    NothingDipped,
    /// Blocks that reach beyond the bundle's outline.
    BlocksOverEdge {
        /// How far.
        over_mm: f64,
    },
    /// Turns of a wound thread so near each other that nothing is bare between them.
    WrapTooClose {
        /// From turn to turn.
        gap_mm: f64,
        /// The least that leaves as much bare as the thread is broad.
        limit_mm: f64,
    },
    /// A wound thread that is to go on beyond the bundle.
    WrapOverEnd {
        /// How far.
        over_mm: f64,
        /// How long the bundle is.
        length_mm: f64,
    },
    /// A wound thread that crosses binds.
    WrapMeetsBind {
        /// The first of them.
        bind: BindRef,
        /// How many more it crosses.
        others: usize,
    },
    /// A wound thread that blocks lie on.
    WrapMeetsBlocks,
    /// A centre off the fold line of a folded garment: the burst comes out twice.
    MirroredPair {
        /// Distance of each centre from the centre line.
        from_centre_line_mm: f64,
    },
    /// The middle of a line off the fold line of a folded garment: the line comes out twice.
    LineTwice {
        /// Distance of each middle from the centre line.
        from_centre_line_mm: f64,
    },
    /// A puck holds more turns than its cloth allows without stretching.
    TooManyTurns {
        /// Turns as given.
        turns: f64,
        /// The most that the cloth allows, as it is told.
        most: f64,
    },
    /// A puck so loose that it falls open.
    PuckTooLoose {
        /// The share of it that is cloth.
        packing: f64,
        /// The least that holds.
        least: f64,
        /// Its height.
        height_mm: f64,
        /// The height at which it holds just so much.
        most_height_mm: f64,
    },
    /// A puck so tight that it can hardly be drawn together, or dye hardly enters.
    PuckTooTight {
        /// The share of it that is cloth.
        packing: f64,
        /// The most that is usual.
        most: f64,
        /// Its height.
        height_mm: f64,
        /// The height at which it holds just so much.
        least_height_mm: f64,
    },
    /// The gaps grow toward the centre instead of shrinking.
    LooserTowardCentre {
        /// What the parts of the fold are called.
        #[serde(skip)]
        words: FoldWords,
        /// The bind at the inner end of the first gap that is wider than the next one outward.
        bind: BindRef,
        /// That gap.
        gap_mm: f64,
        /// The next gap outward.
        outer_gap_mm: f64,
    },
    /// What is to be known of one of several ties.
    InTie {
        /// What the tie is called.
        tie: String,
        /// What.
        warning: Box<Self>,
    },
    /// One of several ties folded where an earlier one has drawn the cloth together.
    TieCrowded {
        /// What it is called.
        tie: String,
        /// What the earlier one is called.
        by: String,
        /// How many times as much cloth lies there as lies flat.
        times: f64,
        /// The most that can be folded well.
        most: f64,
    },
    /// One of several ties that has cloth of earlier ones within its last bind.
    TiesShareCloth {
        /// What it is called.
        tie: String,
        /// How much, mm2.
        area_mm2: f64,
    },
    /// The marks of the rule move binds by more than half of one, so that the gaps keep their order.
    RoundedFar {
        /// The bind that moves farthest.
        bind: BindRef,
        /// How far; positive is away from the centre.
        by_mm: f64,
        /// The marks.
        #[serde(serialize_with = "by_name")]
        marks: RuleMarks,
        /// How many more are to be warned about.
        others: usize,
    },
    /// A value of a progression had to give way to a whole number of gaps.
    Adjusted {
        /// Which side of the guide arc.
        side: Side,
        /// Which value.
        quantity: Quantity,
        /// As asked.
        asked: f64,
        /// As it came out.
        got: f64,
    },
}

impl Warning {
    /// Whether it is of the garment, whatever is tied on it.
    pub(super) fn is_of_garment(&self) -> bool {
        matches!(self, Self::ClothPaler { .. } | Self::ClothHardlyDyed { .. } | Self::ClothHarmed { .. } | Self::NothingDipped)
    }
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference")]
fn by_name<S: Serializer>(marks: &RuleMarks, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(marks.name())
}
