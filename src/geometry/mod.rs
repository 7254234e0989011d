//! The geometry of cloth: outlines, garments, the burst, its binds, the fold and the rod.
//!
//! # The frame
//! One frame for both panels, seen from the front of the garment as it lies on the table:
//!
//! ```text
//!            shoulder point (high point of shoulder), y = 0
//!                 .--o     o--.
//!   wearer's   .-'   '--+--'   '-.   wearer's
//!   right     /         |         \  left
//!            '--.       |       .--'
//!               |       |       |        x to the right on the page,
//!               |       |       |        the wearer's left
//!               |       v y     |
//!               '-------+-------'
//!                   x = 0: the centre line
//! ```
//!
//! What has no shoulder, a bag or a cloth, has its upper edge at `y = 0`. Lengths in mm, `y` down. The back panel is seen *through* the garment, so that a point of the back lies at the same `(x, y)` as
//! the point of the front that it touches. Half outlines (`x >= 0`) run from the top of the centre line, over shoulder and side,
//! to its foot: clockwise as drawn here, which makes every enclosed area positive.
//!
//! This module must not know files, paper or colours.

mod bundle;
mod burst;
mod burst_fold;
mod disc;
mod flat;
mod fold;
mod folded;
mod garment;
mod lay;
mod line;
mod outline;
mod panel;
mod pleat_stack;
mod rod;
mod sections;
mod spacing;
mod spiral;
mod stitches;
mod stretch;
mod tied;
mod within;

pub use bundle::{Beyond, Bundle, BundlePoint, CellSize, ClothPoint, Cut, Extent, Joins, OpenFaces, Ring};
pub use burst::{
    Burst, BurstError, BurstSpec, Centre, LARGEST_RADIUS_MM, MOST_PLEATS, ON_THE_FOLD_MM, Pleats, centre_at, middle_mm,
};
pub use burst_fold::BurstFold;
pub use disc::{DiscCutter, DiscMeasure};
pub use flat::{
    Block, BlockError, BlockMarks, BlockRules, BlockShape, BlocksSpec, BundleFace, Covered, CreaseGrip, CreaseMove, CreaseNear,
    CreaseRules, DipError, DipPart, DipZone, FlatError, FlatFold, FlatFoldSpec, FlatKind, FlatPattern, FoldStep, HalfFold, Pack,
    Triangle, UnderBlocks, WedgesFirst, Wrap, WrapCover, WrapError, WrapMarks, WrapSpec,
};
pub use fold::{Crease, Fold, Pin};
pub use folded::Folded;
pub use garment::{
    ALIKE_MM, Bound, Draft, Garment, GarmentError, GarmentKind, HalfError, Measure, Measurement, Measurements, Misfit, Origin,
    OwnOutline, Panels, RawMeasures, Size, SizeName, SourceStatus, TakenAs, Top, Wash, WashDirection, WashError, figure_line,
    half_outline,
};
pub use lay::{Centring, Lay};
pub use line::{
    DrawnLine, FreeLine, GarmentEdge, LINE_TOLERANCE_MM, LaidLine, LineError, LineFold, LineFoldSpec, LineKind, LineShape,
    LineSpec, Unflat, half_at_fold, whole_at_fold,
};
pub use outline::{Outline, OutlineError, PanelOutline};
pub use panel::{Panel, PanelPair, PanelSet};
pub use rod::{Cloth, RodSize, Thread, ThreadKind, least_gap_mm, rod_size, thread_length_mm, tying_order, wraps};
pub use sections::{MM2_PER_M2, Section, sections};
pub use spacing::{
    Adjustment, Bind, BindEdit, BindId, BindOrigin, Clash, EXPONENT_RANGE, Fit, Given, Known, KnownValues, MOST_GAPS,
    MOST_OPENING, Need, Neighbours, Placed, Progression, ProgressionError, ProgressionKind, Quantity, RATIO_RANGE, Side, Solved,
    SpacingContext, SpacingError, SpacingPreset, SpacingSpec, Span, TIGHTEST, place_binds, solve, tightened, tightening,
};
pub use spiral::{ORDINARY_PACKING, PINCH_PLEATS, PUCK_BANDS, Spiral, SpiralError, SpiralFold, SpiralSpec, Twist, USUAL_PACKING};
pub use stitches::{Gather, stitch_holes};
pub use stretch::{Arc, Stretch};
pub use tied::{Taken, TiedFold, crowding, loose_mm2, owner};
