//! A flat bundle to begin with.

use super::Room;
use super::gaps::{even_gaps, spacing};
use crate::geometry::{
    BindEdit, BlockShape, BlocksSpec, Bundle as _, Centre, Centring, Cloth, FlatError, FlatFold, FlatFoldSpec, FlatKind,
    FlatPattern, HalfFold, Pack, Progression, SpacingSpec, Thread, Top, Triangle, WedgesFirst, WrapSpec,
};
use crate::measure::RuleMarks;
use kurbo::Rect;

/// A flat bundle to begin with: its kind, and what of it is asked for; the rest is chosen.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatStart {
    /// What it is folded into.
    pub kind: FlatKind,
    /// Width of stripes, or of the strip, mm.
    pub width_mm: Option<f64>,
    /// The direction that they run in, degrees clockwise from straight up.
    pub angle_deg: Option<f64>,
    /// How many wedges in the whole turn.
    pub wedges: Option<u32>,
    /// How the pieces come to lie on each other.
    pub pack: Pack,
    /// Blocks that hold it. Squares and triangles have some unless binds are asked for.
    pub block: Option<BlockShape>,
    /// A thread wound round it in place of binds, its turns so far apart, mm.
    pub wrap_gap_mm: Option<f64>,
}

impl FlatStart {
    /// One of a kind, of which nothing else is asked.
    #[must_use]
    pub const fn of(kind: FlatKind) -> Self {
        let block = match kind {
            FlatKind::Squares => Some(BlockShape::Square { side_mm: SQUARE_MM }),
            FlatKind::Triangles => Some(BlockShape::Triangle { side_mm: TRIANGLE_MM }),
            FlatKind::RightTriangles => Some(BlockShape::Disc { diameter_mm: DISC_MM }),
            FlatKind::Stripes | FlatKind::Wedges | FlatKind::Halves => None,
        };
        Self { kind, width_mm: None, angle_deg: None, wedges: None, pack: Pack::Zigzag, block, wrap_gap_mm: None }
    }

    /// What was asked of a bundle, for another garment.
    #[must_use]
    pub fn like(spec: &FlatFoldSpec, blocks: Option<&BlocksSpec>, wrap: Option<&WrapSpec>) -> Self {
        let begun = Self::of(spec.pattern.kind());
        let (width_mm, angle_deg, wedges) = match spec.pattern {
            FlatPattern::Stripes { width_mm, angle_deg, .. }
            | FlatPattern::Squares { width_mm, angle_deg, .. }
            | FlatPattern::Triangles { width_mm, angle_deg, .. } => (Some(width_mm), Some(angle_deg), None),
            FlatPattern::Wedges { wedges, .. } => (None, None, Some(wedges)),
            FlatPattern::Halves { .. } => (None, None, None),
        };
        let (block, wrap_gap_mm) = (blocks.map(|blocks| blocks.shape.clone()), wrap.map(|wrap| wrap.gap_mm));
        Self { width_mm, angle_deg, wedges, pack: spec.pack, block, wrap_gap_mm, ..begun }
    }
}

/// Width wished for of stripes and strips, mm: a hand's breadth (our own judgement).
const WIDTH_MM: f64 = 90.0;
/// Blocks to begin with, mm: they leave an inch of such a strip's edges to the dye (our own judgement).
const SQUARE_MM: f64 = 50.0;
const TRIANGLE_MM: f64 = 55.0;
const DISC_MM: f64 = 36.0;
/// Wedges in a whole turn: the layers of eight on a garment folded in half can still be tied by hand (our own judgement).
const WEDGES: u32 = 8;
/// Where the first bind of wedges lies, as a share of the bundle's length: a burst's guide arc lies about as far out.
const FIRST_OF_WEDGES: f64 = 0.6;
/// Where half folds run, as shares of the garment's height from its top: the lower half up, and up again.
const HALVINGS: [f64; 2] = [0.5, 0.25];
/// By such shares of their size blocks get smaller until they lie on a bundle.
const SMALLER: f64 = 0.05;
/// From this share of a gap off the ends no bind is tied, mm.
const ENDS_MM: f64 = 25.0;

/// A bundle and what holds it.
pub(super) struct Begun {
    pub(super) fold: FlatFoldSpec,
    pub(super) binds: SpacingSpec,
    pub(super) blocks: Option<BlocksSpec>,
    pub(super) wrap: Option<WrapSpec>,
}

/// The bundle, its binds, its blocks, and the thread wound round it.
pub(super) fn flat(start: &FlatStart, room: &Room, thread: &Thread) -> Result<Begun, FlatError> {
    let spec = FlatFoldSpec {
        centring: Centring::Nested,
        pattern: pattern(start, room),
        pack: start.pack,
        along_turn_deg: 0.0,
        first_bind_mm: None,
    };
    let fold = FlatFold::new(&spec, room.panels.clone(), Cloth::default().free_thickness_mm)?;
    let length_mm = fold.length_mm();
    let spec = match start.kind {
        // Toward the centre gaps tighten, and more of the length lies there.
        FlatKind::Wedges => {
            let first_bind_mm = Some(room.round(FIRST_OF_WEDGES * length_mm)).filter(|first_mm| *first_mm < length_mm);
            FlatFoldSpec { first_bind_mm, ..spec }
        }
        _ => spec,
    };
    let first_mm = spec.first_bind_mm.unwrap_or(0.5 * length_mm);
    let blocks =
        start.block.clone().map(|shape| BlocksSpec { turn_deg: turn_deg(&shape, &fold), ..BlocksSpec::in_the_middle(shape) });
    // A size that was asked for is the maker's own.
    let blocks = if start.block == FlatStart::of(start.kind).block { blocks.map(|spec| on_bundle(spec, &fold)) } else { blocks };
    let wrap = start.wrap_gap_mm.map(|gap_mm| wound(length_mm, gap_mm, room));
    let binds = match (blocks.is_some() || wrap.is_some(), start.kind) {
        (true, _) => no_binds(room),
        (false, FlatKind::Wedges) => spacing(first_mm, length_mm, thread, room.marks),
        (false, _) => even_gaps([first_mm, length_mm - first_mm], ENDS_MM, thread, room.marks),
    };
    Ok(Begun { fold: spec, binds, blocks, wrap })
}

/// A thread wound from near one end of a bundle to near the other, on round numbers where the bundle is long enough.
fn wound(length_mm: f64, gap_mm: f64, room: &Room) -> WrapSpec {
    let begun = WrapSpec { gap_mm, ..WrapSpec::begun(length_mm) };
    let [from_mm, to_mm] = [room.round(begun.from_mm), room.round(begun.to_mm)];
    if to_mm > from_mm && to_mm <= length_mm { WrapSpec { from_mm, to_mm, ..begun } } else { begun }
}

/// The turn that points a triangle's tip into a corner of a bundle of three; other blocks lie straight.
fn turn_deg(shape: &BlockShape, fold: &FlatFold) -> f64 {
    match (shape, fold.outline()) {
        (BlockShape::Triangle { .. }, [corner, _, _]) => {
            let turn_deg = (*corner - fold.middle()).atan2().to_degrees().rem_euclid(120.0);
            (1e6 * turn_deg).round() / 1e6
        }
        _ => 0.0,
    }
}

/// Blocks so much smaller that they lie on a small bundle.
fn on_bundle(spec: BlocksSpec, fold: &FlatFold) -> BlocksSpec {
    let scaled = |step: u8| BlocksSpec { shape: spec.shape.scaled(1.0 - SMALLER * f64::from(step)), ..spec.clone() };
    let lies_on_it = |spec: &BlocksSpec| fold.blocks(spec).is_ok_and(|block| fold.over_edge_mm(&block) <= 0.0);
    (0..15).map(scaled).find(lies_on_it).unwrap_or(spec)
}

/// What else holds it holds it alone.
fn no_binds(room: &Room) -> SpacingSpec {
    let none = || Progression::List { gaps_mm: Vec::new() };
    SpacingSpec {
        inward: none(),
        outward: none(),
        marks: room.marks,
        smallest_gap_mm: None,
        edits: vec![BindEdit::Remove { bind: 0 }],
    }
}

fn pattern(start: &FlatStart, room: &Room) -> FlatPattern {
    let angle_deg = start.angle_deg.unwrap_or(0.0);
    let width_mm = || start.width_mm.unwrap_or_else(|| width_mm(room));
    let triangles = |triangle| FlatPattern::Triangles { triangle, width_mm: width_mm(), angle_deg, start: None };
    match start.kind {
        FlatKind::Stripes => FlatPattern::Stripes { width_mm: width_mm(), angle_deg, start: None },
        FlatKind::Squares => FlatPattern::Squares { width_mm: width_mm(), height_mm: width_mm(), angle_deg, start: None },
        FlatKind::Triangles => triangles(Triangle::Equilateral),
        FlatKind::RightTriangles => triangles(Triangle::Right),
        FlatKind::Wedges => FlatPattern::Wedges {
            wedges: start.wedges.unwrap_or(WEDGES),
            centre: wheel_centre(room),
            first: WedgesFirst::OnTheFold,
        },
        FlatKind::Halves => FlatPattern::Halves { half_folds: HALVINGS.map(|share| across(room, share)).to_vec() },
    }
}

/// Where wedges meet: a little above the middle of what is worn, in the middle of what is not.
fn wheel_centre(room: &Room) -> Centre {
    match room.panels.top {
        Top::ShoulderPoint => room.centre(),
        Top::UpperEdge if room.has_cloth(0.0) => Centre::AboveMiddle { from_centre_line_mm: 0.0, above_middle_mm: 0.0 },
        Top::UpperEdge => room.centre(),
    }
}

/// The width nearest to the wished one that a whole number of makes up the cloth's breadth, up to a round number, so that the last piece is
/// about as wide as the others.
fn width_mm(room: &Room) -> f64 {
    let breadth_mm = room.panels.iter().map(|(_, panel)| panel.half().bounds().x1).fold(0.0, f64::max);
    let pieces = (breadth_mm / WIDTH_MM).round().max(2.0);
    let step_mm = match room.marks {
        RuleMarks::InchEighth | RuleMarks::InchSixteenth => 25.4 / 8.0,
        RuleMarks::Exact | RuleMarks::Millimetres1 | RuleMarks::Millimetres5 => 1.0,
    };
    (breadth_mm / pieces / step_mm).ceil() * step_mm
}

/// A crease straight across a garment, at a share of its height from the top; what lies below is folded up. A bag's handles stand above its upper
/// edge and are laid aside: its body alone is halved.
fn across(room: &Room, share: f64) -> HalfFold {
    let heights = room.panels.iter().map(|(_, panel)| panel.half().bounds());
    let held = heights.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    let top_mm = match room.panels.top {
        Top::UpperEdge => held.y0.max(0.0),
        Top::ShoulderPoint => held.y0,
    };
    let below_mm = room.round(top_mm + share * (held.y1 - top_mm));
    HalfFold { through: Centre::BelowShoulder { from_centre_line_mm: 0.0, below_shoulder_mm: below_mm }, angle_deg: 90.0 }
}
