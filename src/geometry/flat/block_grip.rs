//! Blocks in the hand: carried over a bundle and turned on it, drawn to its middle, its axes and its edges.

use super::blocks::BlocksSpec;
use super::clamp::{Block, BlockShape};
use super::fold::FlatFold;
use kurbo::{Point, Vec2};

/// Angles that attract a turn are multiples of this, degrees, and those at which a side of the block lies along one of the bundle's edges; how
/// near they attract, degrees (own choice).
const STEP_DEG: f64 = 15.0;
const ATTRACTED_DEG: f64 = 2.5;
/// How far a block's rounded edge may stray from its straight pieces, mm.
const FLAT_MM: f64 = 0.05;
/// Steps in a millimetre that a place is rounded to, and in a degree.
const PER_MM: f64 = 1e3;
const PER_DEGREE: f64 = 10.0;
/// Two directions attract together only if they cross by this at least, as a sine.
const CROSSING: f64 = 0.2;

/// How held blocks move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BlockRules {
    /// How near something attracts, mm; 0 lets them go anywhere.
    pub snap_mm: f64,
    /// Places that nothing attracts are put on multiples of this, mm from the bundle's middle; 0 for none.
    pub step_mm: f64,
}

/// A straight line that attracts the blocks' middle: how far away it is, along a direction.
#[derive(Debug, Clone, Copy)]
struct Attraction {
    toward: Vec2,
    away_mm: f64,
}

impl FlatFold {
    /// The blocks carried so that their middle lies at a point of the bundle's frame, mm: onto its axes, flush with its edges, or on steps.
    #[must_use]
    pub fn blocks_at(&self, spec: &BlocksSpec, wanted: Point, rules: BlockRules) -> BlocksSpec {
        let at = match self.attracted(spec, wanted, rules.snap_mm) {
            Some(at) => at,
            None => {
                let from_middle = wanted - self.middle();
                let on_step = |mm: f64| if rules.step_mm > 0.0 { (mm / rules.step_mm).round() * rules.step_mm } else { mm };
                self.middle() + Vec2::new(on_step(from_middle.x), on_step(from_middle.y))
            }
        };
        let rounded = |mm: f64| (mm * PER_MM).round() / PER_MM;
        let from_middle = at - self.middle();
        BlocksSpec { along_mm: rounded(from_middle.x), across_mm: rounded(from_middle.y), ..spec.clone() }
    }

    /// The blocks turned to an angle, degrees: to what attracts it, else to whole degrees, or to tenths where nothing is to attract.
    #[must_use]
    pub fn blocks_turned(&self, spec: &BlocksSpec, wanted_deg: f64, attracts: bool) -> BlocksSpec {
        let whole = |deg: f64| {
            let deg = deg - (deg / 360.0).round() * 360.0;
            (deg * 1e6).round() / 1e6
        };
        if !attracts {
            return BlocksSpec { turn_deg: whole((wanted_deg * PER_DEGREE).round() / PER_DEGREE), ..spec.clone() };
        }
        let (alike_deg, side_deg) = sides_deg(&spec.shape);
        let beside = self.sides().map(|[from, to]| (to - from).atan2().to_degrees() - side_deg);
        let away = |deg: f64| {
            let away = wanted_deg - deg;
            away - (away / alike_deg).round() * alike_deg
        };
        let multiple = ((wanted_deg / STEP_DEG).round() * STEP_DEG - wanted_deg).abs();
        let edge = beside.map(away).min_by(|a, b| a.abs().total_cmp(&b.abs())).filter(|away| away.abs() < multiple);
        let turn_deg = match edge {
            Some(away) if away.abs() <= ATTRACTED_DEG => wanted_deg - away,
            _ if multiple <= ATTRACTED_DEG => (wanted_deg / STEP_DEG).round() * STEP_DEG,
            _ => wanted_deg.round(),
        };
        BlocksSpec { turn_deg: whole(turn_deg), ..spec.clone() }
    }

    /// Where the blocks' middle is drawn to by the nearest line, and by the nearest one that crosses it.
    fn attracted(&self, spec: &BlocksSpec, wanted: Point, snap_mm: f64) -> Option<Point> {
        let all = self.attractions(spec, wanted);
        let nearest = |of: &mut dyn Iterator<Item = (Attraction, f64)>| {
            of.filter(|(_, mm)| mm.abs() <= snap_mm).min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
        };
        let (first, _) = nearest(&mut all.iter().map(|&one| (one, one.away_mm)))?;
        let at = wanted + first.away_mm * first.toward;
        let along = Vec2::new(-first.toward.y, first.toward.x);
        // The second one is met along the first.
        let crossing = all.iter().filter(|one| one.toward.cross(first.toward).abs() > CROSSING).map(|&one| {
            let left_mm = one.away_mm - first.away_mm * first.toward.dot(one.toward);
            (one, left_mm / along.dot(one.toward))
        });
        let second = nearest(&mut crossing.into_iter());
        Some(second.map_or(at, |(_, mm)| at + mm * along))
    }

    fn attractions(&self, spec: &BlocksSpec, wanted: Point) -> Vec<Attraction> {
        let axes = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)];
        let onto_axis = |toward: Vec2| Attraction { toward, away_mm: (self.middle() - wanted).dot(toward) };
        let mut all: Vec<Attraction> = axes.into_iter().map(onto_axis).collect();
        // A shape that is none is refused elsewhere.
        let Ok(block) = Block::new(&spec.shape, Point::ORIGIN, spec.turn_deg.to_radians()) else { return all };
        let corners: Vec<Vec2> = block.edges(FLAT_MM).iter().map(|edge| edge.p0.to_vec2()).collect();
        for [from, to] in self.sides() {
            let run = to - from;
            let aside = Vec2::new(run.y, -run.x) / run.hypot();
            let outward = if (self.middle() - from).dot(aside) > 0.0 { -aside } else { aside };
            let reach_mm = corners.iter().map(|corner| corner.dot(outward)).fold(f64::NEG_INFINITY, f64::max);
            all.push(Attraction { toward: outward, away_mm: (from - wanted).dot(outward) - reach_mm });
        }
        all
    }

    /// The sides of the bundle's outline.
    fn sides(&self) -> impl Iterator<Item = [Point; 2]> {
        let corners = self.outline();
        corners.iter().zip(corners.iter().cycle().skip(1)).map(|(&from, &to)| [from, to])
    }

    /// How far blocks reach beyond the bundle's outline, mm; 0 where they lie on it.
    #[must_use]
    pub fn over_edge_mm(&self, block: &Block) -> f64 {
        let corners: Vec<Point> = block.edges(FLAT_MM).iter().map(|edge| edge.p0).collect();
        let beyond = self.sides().flat_map(|[from, to]| {
            let run = to - from;
            let aside = Vec2::new(run.y, -run.x) / run.hypot();
            let outward = if (self.middle() - from).dot(aside) > 0.0 { -aside } else { aside };
            corners.iter().map(move |&corner| (corner - from).dot(outward)).collect::<Vec<_>>()
        });
        beyond.fold(0.0, f64::max)
    }
}

/// By what turn a shape looks the same again, degrees, and the direction of one of its sides.
const fn sides_deg(shape: &BlockShape) -> (f64, f64) {
    match shape {
        BlockShape::Square { .. } | BlockShape::Bar { .. } => (90.0, 0.0),
        BlockShape::Triangle { .. } => (60.0, 30.0),
        BlockShape::Disc { .. } | BlockShape::Drawn(_) => (180.0, 0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// The clamped triangles of the pillowcase: an equilateral bundle.
    fn triangle() -> FlatFold {
        let example = EXAMPLE_LAYOUTS.iter().find(|example| example.text.contains("Triangles(")).unwrap();
        parse_layout(example.text).unwrap().flat().unwrap().clone()
    }

    fn disc(diameter_mm: f64) -> BlocksSpec {
        BlocksSpec::in_the_middle(BlockShape::Disc { diameter_mm })
    }

    /// A disc in the corner of an equilateral triangle touches both sides where its middle is twice its radius from the corner.
    #[test]
    fn a_disc_is_drawn_into_a_corner() {
        let fold = triangle();
        let corner = fold.outline()[0];
        let toward = (fold.middle() - corner).normalize();
        let touching = corner + 40.0 * toward;
        let rules = BlockRules { snap_mm: 4.0, step_mm: 1.0 };
        let spec = fold.blocks_at(&disc(40.0), touching + Vec2::new(1.3, -0.9), rules);
        let at = fold.middle() + Vec2::new(spec.along_mm, spec.across_mm);
        // Cubics and their straight pieces stray from the circle by less than this.
        assert!(at.distance(touching) < 0.2, "{at:?} {touching:?}");
        let block = fold.blocks(&spec).unwrap();
        assert!(fold.over_edge_mm(&block) < 0.1);
        let beyond = fold.blocks_at(&disc(40.0), touching - 10.0 * toward, BlockRules { snap_mm: 0.0, step_mm: 0.0 });
        // Ten millimetres nearer to the corner is five beyond either side.
        let over_mm = fold.over_edge_mm(&fold.blocks(&beyond).unwrap());
        assert!((over_mm - 5.0).abs() < 0.1, "{over_mm}");
    }

    #[test]
    fn blocks_go_to_the_middle_and_on_steps() {
        let fold = triangle();
        let (rules, middle) = (BlockRules { snap_mm: 2.0, step_mm: 1.0 }, fold.middle());
        let put = |by: Vec2| {
            let spec = fold.blocks_at(&disc(12.0), middle + by, rules);
            (spec.along_mm, spec.across_mm)
        };
        assert_eq!(put(Vec2::new(1.2, -1.7)), (0.0, 0.0));
        let free = fold.blocks_at(&disc(12.0), middle + Vec2::new(4.26, -3.41), BlockRules { snap_mm: 0.0, step_mm: 0.0 });
        assert_eq!((free.along_mm, free.across_mm), (4.26, -3.41));
        assert_eq!(put(Vec2::new(4.26, -3.41)), (4.0, -3.0));
    }

    #[test]
    fn turns_go_to_multiples_and_to_edges() {
        let fold = triangle();
        let bar = BlocksSpec::in_the_middle(BlockShape::Bar { length_mm: 40.0, width_mm: 10.0 });
        let turned = |deg, attracts| fold.blocks_turned(&bar, deg, attracts).turn_deg;
        assert_eq!(turned(43.1, true), 45.0);
        assert_eq!(turned(41.6, true), 42.0);
        assert_eq!(turned(43.14, false), 43.1);
        assert_eq!(turned(358.9, true), 0.0);
    }
}
