//! Blocks as a maker gives them, put onto a bundle: where they come to lie and what cloth they hold.

use super::block_error::BlockError;
use super::clamp::{Block, BlockShape};
use super::clip::{Loops, near_side};
use super::fold::FlatFold;
use super::fold_line::FoldLine;
use crate::geometry::PanelPair;
use kurbo::{Line, Point, Rect, Shape as _, Vec2};

/// Two equal blocks as a maker gives them, one on each flat of a bundle.
#[derive(Debug, Clone, PartialEq)]
pub struct BlocksSpec {
    /// Their shape.
    pub shape: BlockShape,
    /// How far their middle lies from the bundle's: along it towards its end, mm.
    pub along_mm: f64,
    /// The same across it, mm.
    pub across_mm: f64,
    /// By how much they are turned from along towards across, degrees.
    pub turn_deg: f64,
}

impl BlocksSpec {
    /// Blocks of a shape in the middle of a bundle.
    #[must_use]
    pub const fn in_the_middle(shape: BlockShape) -> Self {
        Self { shape, along_mm: 0.0, across_mm: 0.0, turn_deg: 0.0 }
    }
}

/// The cloth that blocks hold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnderBlocks {
    /// Cloth of all layers that lies under them, mm2, by panel.
    pub cloth_mm2: PanelPair<f64>,
    /// Layers between them where most of some points under them lie.
    pub most_layers: u32,
}

/// Smallest and largest block, mm: a coin, and more than any table is wide (own choice).
const SIZES_MM: [f64; 2] = [5.0, 2000.0];
/// How far a block's rounded edge may stray from its straight pieces, mm.
const FLAT_MM: f64 = 0.01;
/// Points in a row, and rows of them, at which layers are counted.
const POINTS: u32 = 7;

impl FlatFold {
    /// The middle of the bundle, from which blocks are placed: the centroid of its outline, mm along and across.
    #[must_use]
    pub fn middle(&self) -> Point {
        centroid(self.outline()).unwrap_or_else(|| (0.5 * self.size().to_vec2()).to_point())
    }

    /// Puts blocks onto the bundle.
    ///
    /// # Errors
    /// [`BlockError`]: a size, place or angle that can't be, a drawn line that encloses nothing, or no cloth under them.
    pub fn blocks(&self, spec: &BlocksSpec) -> Result<Block, BlockError> {
        let (dimensions, count) = spec.shape.dimensions();
        for &(key, value_mm) in &dimensions[..count] {
            let [least_mm, most_mm] = SIZES_MM;
            if !(least_mm..=most_mm).contains(&value_mm) {
                return Err(BlockError::Length { key, value_mm, least_mm, most_mm });
            }
        }
        for (key, value_mm) in [("along_mm", spec.along_mm), ("across_mm", spec.across_mm)] {
            let most_mm = self.size().width.max(self.size().height);
            if !(-most_mm..=most_mm).contains(&value_mm) {
                return Err(BlockError::Length { key, value_mm, least_mm: -most_mm, most_mm });
            }
        }
        if !(-360.0..=360.0).contains(&spec.turn_deg) {
            return Err(BlockError::Angle { value_deg: spec.turn_deg });
        }
        let middle = self.middle() + Vec2::new(spec.along_mm, spec.across_mm);
        let block = Block::new(&spec.shape, middle, spec.turn_deg.to_radians()).map_err(BlockError::Drawn)?;
        let PanelPair { front, back } = self.under(&block).cloth_mm2;
        if front + back > 0.0 { Ok(block) } else { Err(BlockError::OffTheBundle) }
    }

    /// The cloth that blocks hold: each facet's part under them, exactly but for the flattening of round edges.
    #[must_use]
    pub fn under(&self, block: &Block) -> UnderBlocks {
        let edges = block.edges(FLAT_MM);
        let halves = self.halves();
        let facets: Vec<PanelPair<Loops>> = self.facets_in_frame().filter(|facet| lies_in(facet, block.bounds())).collect();
        let of = |panel: fn(&PanelPair<Loops>) -> &Loops| {
            halves * facets.iter().map(|facet| common_mm2(panel(facet), &edges)).sum::<f64>()
        };
        let cloth_mm2 = PanelPair { front: of(|facet| &facet.front), back: of(|facet| &facet.back) };
        let points = points(block);
        let most = points.iter().map(|&at| facets.iter().map(|facet| layers_at(facet, at)).sum::<u32>()).max().unwrap_or(0);
        UnderBlocks { cloth_mm2, most_layers: self.layers_of_halves() * most }
    }
}

/// The centroid of a ring of corners, by the shoelace formula's first moments (any handbook of geometry).
fn centroid(corners: &[Point]) -> Option<Point> {
    let (mut doubled, mut moment) = (0.0, Vec2::ZERO);
    for (from, to) in corners.iter().zip(corners.iter().cycle().skip(1)) {
        let cross = from.to_vec2().cross(to.to_vec2());
        doubled += cross;
        moment += cross * (from.to_vec2() + to.to_vec2());
    }
    (doubled != 0.0).then(|| (moment / (3.0 * doubled)).to_point())
}

/// Whether any of a facet's cloth lies within a box.
fn lies_in(facet: &PanelPair<Loops>, bounds: Rect) -> bool {
    let boxes = [&facet.front, &facet.back].into_iter().flatten().flatten().map(|segment| segment.bounding_box());
    boxes.reduce(|a, b| a.union(b)).is_some_and(|held| held.overlaps(bounds))
}

/// The area that cloth and a closed ring of straight edges have in common: what lies below each edge, counted by the way it runs, as in the
/// trapezoid (shoelace) formula.
fn common_mm2(cloth: &Loops, edges: &[Line]) -> f64 {
    let below = |edge: &Line| {
        let (from, to) = if edge.p0.x < edge.p1.x { (edge.p0, edge.p1) } else { (edge.p1, edge.p0) };
        let run = to - from;
        let sides = [
            FoldLine::new(from, Vec2::new(-1.0, 0.0)),
            FoldLine::new(to, Vec2::new(1.0, 0.0)),
            FoldLine::new(from, Vec2::new(-run.y, run.x) / run.hypot()),
        ];
        let held = sides.iter().fold(cloth.clone(), |held, side| near_side(&held, side));
        (edge.p0.x - edge.p1.x).signum() * held.iter().flatten().map(kurbo::ParamCurveArea::signed_area).sum::<f64>()
    };
    edges.iter().filter(|edge| (edge.p1.x - edge.p0.x).abs() > f64::EPSILON).map(below).sum::<f64>().abs()
}

/// Layers of a facet's panels at a point.
fn layers_at(facet: &PanelPair<Loops>, at: Point) -> u32 {
    let has = |loops: &Loops| u32::from(loops.iter().flatten().map(|segment| segment.winding(at)).sum::<i32>() != 0);
    has(&facet.front) + has(&facet.back)
}

/// Points spread under a block, its box's middle among them.
fn points(block: &Block) -> Vec<Point> {
    let bounds = block.bounds();
    let share = |k: u32| f64::from(2 * k + 1) / f64::from(2 * POINTS);
    let row = |across: u32| (0..POINTS).map(move |along| (share(along), share(across)));
    let all = (0..POINTS).flat_map(row);
    all.map(|(x, y)| Point::new(bounds.x0 + x * bounds.width(), bounds.y0 + y * bounds.height()))
        .filter(|&at| block.covers(at))
        .collect()
}
