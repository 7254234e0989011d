//! Blocks as a maker gives them, put onto a bundle: where they come to lie and what cloth they hold.

use super::block_error::BlockError;
use super::clamp::{Block, BlockShape};
use super::clip::{Loops, loops, near_side, path_of};
use super::facet::carried;
use super::fold::FlatFold;
use super::fold_line::FoldLine;
use crate::geometry::PanelPair;
use kurbo::{BezPath, Line, Point, Rect, Shape as _, Vec2};

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

/// Where the outline of blocks falls on the laid cloth, as far as pieces of the bundle lie under them, mm.
#[derive(Debug, Clone, Default)]
pub struct BlockMarks {
    /// On the pieces that the blocks touch: the lowest and the highest of those under them.
    pub touched: Vec<BezPath>,
    /// On those between.
    pub between: Vec<BezPath>,
}

/// Smallest and largest block, mm: a coin, and more than any table is wide (own choice).
const SIZES_MM: [f64; 2] = [5.0, 2000.0];
/// How far a block's rounded edge may stray from its straight pieces, mm.
const FLAT_MM: f64 = 0.01;
/// Cloth under blocks that is less than this is none, mm2: a block flush with a crease touches the next piece by rounding.
const LEAST_HELD_MM2: f64 = 1.0;
/// Points in a row, and rows of them, at which layers are counted.
const POINTS: u32 = 11;

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
        // The first facet with cloth under them settles it.
        let edges = block.edges(FLAT_MM);
        let holds = |facet: &PanelPair<Loops>| [&facet.front, &facet.back].iter().any(|cloth| common_mm2(cloth, &edges) > 0.0);
        let mut facets = self.facets_in_frame().filter(|facet| lies_in(facet, block.bounds()));
        if facets.any(|facet| holds(&facet)) { Ok(block) } else { Err(BlockError::OffTheBundle) }
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
        UnderBlocks { cloth_mm2, most_layers: self.layers_at(points(block)) }
    }

    /// Where the outline of blocks falls on the laid cloth.
    #[must_use]
    pub fn block_marks(&self, block: &Block) -> BlockMarks {
        let (edges, outline) = (block.edges(FLAT_MM), loops(&block.path()));
        let is_held = |facet: &PanelPair<Loops>| {
            lies_in(facet, block.bounds())
                && [&facet.front, &facet.back].iter().any(|cloth| common_mm2(cloth, &edges) > LEAST_HELD_MM2)
        };
        let mut held: Vec<(u32, BezPath)> = self
            .placed_facets()
            .zip(self.facets_in_frame())
            .filter(|(_, in_frame)| is_held(in_frame))
            .map(|((place, facet, from_frame), _)| (place, path_of(&facet.within(&carried(&outline, from_frame)))))
            .collect();
        held.sort_by_key(|(place, _)| *place);
        let ends = [held.first(), held.last()].map(|held| held.map(|(place, _)| *place));
        let (touched, between): (Vec<_>, Vec<_>) = held.into_iter().partition(|(place, _)| ends.contains(&Some(*place)));
        let paths = |held: Vec<(u32, BezPath)>| held.into_iter().map(|(_, path)| path).collect();
        BlockMarks { touched: paths(touched), between: paths(between) }
    }

    /// Layers of cloth where most of some points of the bundle lie.
    #[must_use]
    pub fn most_layers(&self) -> u32 {
        let bounds = Rect::from_origin_size(Point::ORIGIN, self.size());
        self.layers_at(points_in(bounds))
    }

    /// Most layers of cloth at any of some points of the bundle's frame.
    fn layers_at(&self, points: Vec<Point>) -> u32 {
        let paths = self.facets_in_frame().flat_map(|facet| [path_of(&facet.front), path_of(&facet.back)]);
        let layers: Vec<(Rect, BezPath)> = paths.map(|path| (path.bounding_box(), path)).collect();
        let holds = |at: Point| move |(bounds, path): &&(Rect, BezPath)| bounds.contains(at) && path.winding(at) != 0;
        let most = points.into_iter().map(|at| layers.iter().filter(holds(at)).count()).max().unwrap_or(0);
        self.layers_of_halves() * u32::try_from(most).unwrap_or(u32::MAX)
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

/// Points of a block at which layers are counted.
fn points(block: &Block) -> Vec<Point> {
    let outline = block.path();
    points_in(block.bounds()).into_iter().filter(|&at| outline.winding(at) != 0).collect()
}

/// Points in rows, evenly over a box.
fn points_in(bounds: Rect) -> Vec<Point> {
    let share = |k: u32| f64::from(2 * k + 1) / f64::from(2 * POINTS);
    let row = |across: u32| (0..POINTS).map(move |along| (share(along), share(across)));
    let all = (0..POINTS).flat_map(row);
    all.map(|(x, y)| Point::new(bounds.x0 + x * bounds.width(), bounds.y0 + y * bounds.height())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::flat::spec::{FlatFoldSpec, FlatPattern};
    use crate::geometry::{Bundle as _, Centre, Centring, Garment, GarmentKind, Measure, Pack, PanelSet, RawMeasures, Top};

    /// A square cloth of one layer, 400 mm, folded into sixteen squares of 100 mm.
    fn squares() -> FlatFold {
        let mut measures = RawMeasures::default();
        measures.set(Measure::ClothWidth, Some(400.0));
        measures.set(Measure::ClothHeight, Some(400.0));
        let garment = Garment::new(GarmentKind::FlatCloth, None, &measures).unwrap();
        let panels = PanelSet { front: garment.draft().front.clone(), back: None, top: Top::UpperEdge };
        let start = Some(Centre::BelowShoulder { from_centre_line_mm: -200.0, below_shoulder_mm: 0.0 });
        let pattern = FlatPattern::Squares { width_mm: 100.0, height_mm: 100.0, angle_deg: 0.0, start };
        let spec =
            FlatFoldSpec { centring: Centring::Open, pattern, pack: Pack::Zigzag, along_turn_deg: 0.0, first_bind_mm: None };
        FlatFold::new(&spec, panels, 0.6).unwrap()
    }

    /// Sixteen whole layers lie under blocks in the middle: sixteen times their area by formula, also of a curve that bends inward, whose
    /// area is its path's own.
    #[test]
    fn blocks_hold_their_area_of_every_layer() {
        let fold = squares();
        assert_eq!((fold.places(), fold.middle().round()), (16, Point::new(50.0, 50.0)));
        let bent = BezPath::from_svg("M-20 -20L20 -20L20 20L0 0L-20 20Z").unwrap();
        let shapes = [
            (BlockShape::Disc { diameter_mm: 60.0 }, std::f64::consts::PI * 900.0),
            (BlockShape::Square { side_mm: 50.0 }, 2500.0),
            (BlockShape::Drawn(bent), 1200.0),
        ];
        for (shape, area_mm2) in shapes {
            let block = fold.blocks(&BlocksSpec { turn_deg: 20.0, ..BlocksSpec::in_the_middle(shape) }).unwrap();
            let under = fold.under(&block);
            assert!((under.cloth_mm2.front / (16.0 * area_mm2) - 1.0).abs() < 2e-3, "{under:?} of {area_mm2}");
            assert_eq!((under.cloth_mm2.back, under.most_layers), (0.0, 16));
        }
        // Half over the edge: half of it holds cloth.
        let over = BlocksSpec { along_mm: 50.0, ..BlocksSpec::in_the_middle(BlockShape::Square { side_mm: 50.0 }) };
        let half = fold.under(&fold.blocks(&over).unwrap()).cloth_mm2.front;
        assert!((half / (16.0 * 1250.0) - 1.0).abs() < 1e-9, "{half}");
        let beside = BlocksSpec { along_mm: 90.0, ..over };
        assert_eq!(fold.blocks(&beside), Err(BlockError::OffTheBundle));
    }

    /// A triangle's centroid is the mean of its corners.
    #[test]
    fn the_middle_of_a_triangle_is_the_mean_of_its_corners() {
        let corners = [Point::new(0.0, 0.0), Point::new(90.0, 0.0), Point::new(30.0, 60.0)];
        assert!(centroid(&corners).unwrap().distance(Point::new(40.0, 20.0)) < 1e-12);
    }
}
