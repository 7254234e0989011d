//! How garments are folded and tied, in a run.

use crate::form::{FileForm, WrittenForm, stands_for};
use crate::geometry::{FlatKind, Top};
use crate::layout::form::line::LineKindForm;
use crate::layout::form::parts::MarksForm;
use crate::layout::{
    BlocksPlace, BundlePlace, CentrePlace, HandPart, Handwork, LinePlace, PuckPlace, StitchFigures, TiePart, TiedBind, WrapPlace,
};
use crate::plan::{GarmentWork, RunTied};
use serde::{Deserialize, Serialize};

/// What heights are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TopForm {
    /// The shoulder point.
    ShoulderPoint,
    /// The upper edge of what has no shoulder.
    UpperEdge,
}

stands_for!(enum TopForm for Top { ShoulderPoint {}, UpperEdge {} });

/// A part of folding and tying.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum HandPartForm {
    /// The garment is laid.
    Lay,
    /// Centre and arcs are marked.
    Mark,
    /// It is fan folded.
    Fold,
    /// The bind of this number is tied.
    Tie(u32),
    /// A thread is wound round it.
    Wrap,
    /// The blocks are clamped on.
    Clamp,
    /// A part of a further one of several ties, counted from 2.
    OfTie(u32, TiePartForm),
}

/// A part of one of several ties after the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum TiePartForm {
    /// The garment is laid for it.
    Lay,
    /// Its marks are drawn.
    Mark,
    /// It is fan folded.
    Fold,
    /// The bind of this number is tied.
    Tie(u32),
}

impl FileForm for TiePartForm {
    type Live = TiePart;

    fn live(self) -> TiePart {
        match self {
            Self::Lay => TiePart::Lay,
            Self::Mark => TiePart::Mark,
            Self::Fold => TiePart::Fold,
            Self::Tie(bind) => TiePart::Tie(bind),
        }
    }
}

impl WrittenForm for TiePartForm {
    fn of(live: TiePart) -> Self {
        match live {
            TiePart::Lay => Self::Lay,
            TiePart::Mark => Self::Mark,
            TiePart::Fold => Self::Fold,
            TiePart::Tie(bind) => Self::Tie(bind),
        }
    }
}

impl FileForm for HandPartForm {
    type Live = HandPart;

    fn live(self) -> HandPart {
        match self {
            Self::Lay => HandPart::Lay,
            Self::Mark => HandPart::Mark,
            Self::Fold => HandPart::Fold,
            Self::Tie(bind) => HandPart::Tie(bind),
            Self::Wrap => HandPart::Wrap,
            Self::Clamp => HandPart::Clamp,
            Self::OfTie(tie, part) => HandPart::OfTie(tie, part.live()),
        }
    }
}

impl WrittenForm for HandPartForm {
    fn of(live: HandPart) -> Self {
        match live {
            HandPart::Lay => Self::Lay,
            HandPart::Mark => Self::Mark,
            HandPart::Fold => Self::Fold,
            HandPart::Tie(bind) => Self::Tie(bind),
            HandPart::Wrap => Self::Wrap,
            HandPart::Clamp => Self::Clamp,
            HandPart::OfTie(tie, part) => Self::OfTie(tie, WrittenForm::of(part)),
        }
    }
}

/// Where a burst has its centre.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CentrePlaceForm {
    /// What the height is counted from.
    pub top: TopForm,
    /// Below it, mm.
    pub below_mm: f64,
    /// From the centre line, mm.
    pub aside_mm: f64,
    /// Above the middle of the garment's length, mm.
    pub above_middle_mm: f64,
    /// Angle of one pleat, degrees.
    pub pleat_angle_deg: f64,
}

stands_for!(struct CentrePlaceForm for CentrePlace { top, below_mm, aside_mm, above_middle_mm, pleat_angle_deg });

/// The line that a garment is folded along.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LinePlaceForm {
    /// What it is to the cloth.
    pub kind: LineKindForm,
    /// The shape that it was drawn from; none of a line of the maker's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shape: Option<String>,
    /// What the height is counted from.
    pub top: TopForm,
    /// The middle of the shape below that and from the centre line, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub middle_mm: Option<[f64; 2]>,
    /// Breadth and height, mm.
    pub size_mm: [f64; 2],
    /// Where along the bundle the line lies, mm.
    pub line_mm: f64,
    /// Where along it the cloth is pleated, mm.
    pub pleated_mm: f64,
    /// How many pleats have cloth there; not known of older runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pleats_on_guide: Option<u32>,
    /// The running stitch that draws the pleats up; none of pleats folded by hand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stitches: Option<StitchesForm>,
}

stands_for!(struct LinePlaceForm for LinePlace {
    kind, shape, top, middle_mm, size_mm, line_mm, pleated_mm, pleats_on_guide, stitches
});

/// A running stitch along the line that the cloth is pleated along.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StitchesForm {
    /// How often the needle goes through all layers.
    pub holes: u32,
    /// From hole to hole, mm: the mean.
    pub stitch_mm: f64,
    /// Thread to cut, mm.
    pub thread_mm: f64,
}

stands_for!(struct StitchesForm for StitchFigures { holes, stitch_mm, thread_mm });

/// What a garment is folded into.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum FlatKindForm {
    /// One half fold after the other.
    Halves,
    /// Parallel creases.
    Stripes,
    /// A strip folded into rectangles.
    Squares,
    /// A strip folded into equilateral triangles.
    Triangles,
    /// A strip folded into right triangles.
    RightTriangles,
    /// Creases through a centre.
    Wedges,
}

stands_for!(enum FlatKindForm for FlatKind { Halves {}, Stripes {}, Squares {}, Triangles {}, RightTriangles {}, Wedges {} });

/// How a garment is folded into a flat bundle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BundlePlaceForm {
    /// What it is folded into.
    pub kind: FlatKindForm,
    /// Whether the pieces are rolled up: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub is_rolled: bool,
    /// Width of stripes or of the strip, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width_mm: Option<f64>,
    /// From crease to crease along a strip of squares, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<f64>,
    /// The direction that their creases run in, degrees clockwise from straight up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub angle_deg: Option<f64>,
    /// Wedges in the whole turn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wedges: Option<u32>,
    /// What the height is counted from.
    pub top: TopForm,
    /// The wedges' centre below that and from the centre line, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centre_mm: Option<[f64; 2]>,
    /// How often something is folded over.
    pub folds: u32,
    /// Length across the binds, width and free height of the bundle, mm.
    pub size_mm: [f64; 3],
    /// Layers where most lie; not known of older runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most_layers: Option<u32>,
    /// Whether the strip is turned over before it is folded along itself: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub turns_strip_over: bool,
    /// Half folds: below the top and from the centre line, mm, and the direction, degrees.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub half_folds: Vec<[f64; 3]>,
    /// The blocks that hold it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blocks: Option<BlocksPlaceForm>,
    /// The thread that is wound round it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wrap: Option<WrapPlaceForm>,
}

stands_for!(struct BundlePlaceForm for BundlePlace {
    kind, is_rolled, width_mm, height_mm, angle_deg, wedges, top, centre_mm, folds, size_mm, most_layers, turns_strip_over,
    half_folds, blocks, wrap
});

/// A thread as it is wound round a bundle.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WrapPlaceForm {
    /// Where it begins and ends, mm.
    pub stretch_mm: [f64; 2],
    /// From turn to turn along the bundle, mm.
    pub gap_mm: f64,
    /// Whether it is wound back again: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub crossed: bool,
    /// How often it goes round, one way.
    pub turns: f64,
    /// Thread to cut, mm.
    pub thread_mm: f64,
}

stands_for!(struct WrapPlaceForm for WrapPlace { stretch_mm, gap_mm, crossed, turns, thread_mm });

/// Blocks as they are put on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BlocksPlaceForm {
    /// What they are called.
    pub shape: String,
    /// The sizes that they are cut by, mm.
    pub size_mm: [f64; 2],
    /// By how much they are turned, degrees: 0.
    #[serde(default)]
    pub turn_deg: f64,
    /// How far their middle lies from the bundle's along and across, mm.
    pub from_middle_mm: [f64; 2],
    /// How far a clamp opens over the cloth alone, mm.
    pub opening_mm: f64,
}

stands_for!(struct BlocksPlaceForm for BlocksPlace { shape, size_mm, turn_deg, from_middle_mm, opening_mm });

/// How a garment is twisted into a puck.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PuckPlaceForm {
    /// What the height is counted from.
    pub top: TopForm,
    /// The pinch below that and from the centre line, mm.
    pub pinch_mm: [f64; 2],
    /// Radius of what the fingers hold, mm.
    pub pinch_radius_mm: f64,
    /// How often the pinch is turned.
    pub turns: f64,
    /// Which way, seen from above, in plain words.
    pub twist: String,
    /// Diameter and height of the puck, mm.
    pub size_mm: [f64; 2],
    /// Bands over it.
    pub bands: u32,
    /// The wedge that ends where the first band crosses the rim.
    pub first_after: u32,
}

stands_for!(struct PuckPlaceForm for PuckPlace { top, pinch_mm, pinch_radius_mm, turns, twist, size_mm, bands, first_after });

/// A bind as it is tied.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TiedBindForm {
    /// Its number, 1 at the centre.
    pub number: u32,
    /// Whether it sits on the guide arc: no.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub on_guide_arc: bool,
    /// Distance from the centre along the rod, mm.
    pub along_mm: f64,
    /// The nearest bind that is tied before it; none for the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beside: Option<u32>,
    /// Distance to that one, mm: 0.
    #[serde(default)]
    pub from_beside_mm: f64,
    /// Girth of the bound rod, mm.
    pub girth_mm: f64,
    /// Wraps of thread.
    pub wraps: u32,
    /// Thread to cut, mm.
    pub thread_mm: f64,
}

stands_for!(struct TiedBindForm for TiedBind { number, on_guide_arc, along_mm, beside, from_beside_mm, girth_mm, wraps, thread_mm });

/// How one garment is folded and tied.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HandworkForm {
    /// What the tie is called, where it is one of several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tie: Option<String>,
    /// How it is laid.
    pub lay: String,
    /// What will match what.
    pub matching: String,
    /// Where the burst centre is, where it is folded along one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centre: Option<CentrePlaceForm>,
    /// The line, where it is folded along one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<LinePlaceForm>,
    /// The flat bundle, where it is folded into one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bundle: Option<BundlePlaceForm>,
    /// The puck, where it is twisted into one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub puck: Option<PuckPlaceForm>,
    /// Where the guide runs, mm.
    pub guide_mm: f64,
    /// How far the marks of the rule moved it, mm: 0.
    #[serde(default)]
    pub guide_rounded_by_mm: f64,
    /// Where further arcs are marked, mm.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub arcs_mm: Vec<f64>,
    /// Number of pleats.
    pub pleats: u32,
    /// Layers in each pleat.
    pub layers: u32,
    /// Depth of a pleat at the guide, mm.
    pub pleat_depth_mm: f64,
    /// What it is tied with.
    pub thread: String,
    /// The binds in the order in which they are tied.
    pub binds: Vec<TiedBindForm>,
}

impl FileForm for HandworkForm {
    type Live = Handwork;

    fn live(self) -> Handwork {
        let Self {
            tie, lay, matching, centre, line, bundle, puck, guide_mm, guide_rounded_by_mm, arcs_mm, pleats, layers, ..
        } = self;
        Handwork {
            tie,
            lay,
            matching,
            centre: centre.live(),
            line: line.live(),
            bundle: bundle.live(),
            puck: puck.live(),
            guide_mm,
            guide_rounded_by_mm,
            arcs_mm,
            pleats,
            layers,
            pleat_depth_mm: self.pleat_depth_mm,
            thread: self.thread,
            binds: self.binds.live(),
            further: Vec::new(),
        }
    }
}

impl WrittenForm for HandworkForm {
    /// Of the first of several ties alone: the others stand beside it ([`GarmentWorkForm::further`]).
    fn of(live: Handwork) -> Self {
        let Handwork {
            tie,
            lay,
            matching,
            centre,
            line,
            bundle,
            puck,
            guide_mm,
            guide_rounded_by_mm,
            arcs_mm,
            pleats,
            layers,
            ..
        } = live;
        Self {
            tie,
            lay,
            matching,
            centre: WrittenForm::of(centre),
            line: WrittenForm::of(line),
            bundle: WrittenForm::of(bundle),
            puck: WrittenForm::of(puck),
            guide_mm,
            guide_rounded_by_mm,
            arcs_mm,
            pleats,
            layers,
            pleat_depth_mm: live.pleat_depth_mm,
            thread: live.thread,
            binds: WrittenForm::of(live.binds),
        }
    }
}

/// A layout that garments of a run are made from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GarmentWorkForm {
    /// Its name.
    pub of: String,
    /// The text of its file, graded.
    pub layout: String,
    /// The marks of the rule that it is laid out with.
    pub marks: MarksForm,
    /// How many garments are made from it.
    pub count: u32,
    /// What one is undyed.
    pub blank: String,
    /// How one of them is folded and tied; of several ties the first.
    pub work: HandworkForm,
    /// The ties after the first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub further: Vec<HandworkForm>,
}

impl FileForm for GarmentWorkForm {
    type Live = GarmentWork;

    fn live(self) -> GarmentWork {
        let Self { of, layout, marks, count, blank, work, further } = self;
        let work = Handwork { further: further.live(), ..work.live() };
        GarmentWork { of, layout, marks: marks.live(), count, blank, work }
    }
}

impl WrittenForm for GarmentWorkForm {
    fn of(live: GarmentWork) -> Self {
        let GarmentWork { of, layout, marks, count, blank, mut work } = live;
        let further = WrittenForm::of(std::mem::take(&mut work.further));
        Self { of, layout, marks: WrittenForm::of(marks), count, blank, work: WrittenForm::of(work), further }
    }
}

/// So many garments of one layout, to be folded and tied.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunTiedForm {
    /// The layout's number, from 1.
    pub layout: u32,
    /// How many.
    pub count: u32,
}

stands_for!(struct RunTiedForm for RunTied { layout, count });
