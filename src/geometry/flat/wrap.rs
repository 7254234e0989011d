//! A thread wound round a flat bundle, turn after turn aslant: where it lies on both faces, how long it is, what of a face it covers.
//!
//! Seen from above, `x` along and `y` across, a turn lies so; what is under the bundle is dashed:
//!
//! ```text
//!   y = least   a---------a + gap---          the upper face: from (a, least) to (a + gap / 2, most)
//!                \    . '    \    .           the lower one: from there back to (a + gap, least)
//!                 \. '        \. '
//!   y = most       a + gap / 2
//! ```
//!
//! Developed, a turn is straight (a helix on any cylinder): it is as long as the hypotenuse of the girth and the gap. For a circular cylinder that
//! is the arc length of a helix in any textbook, `sqrt((2 pi r)^2 + pitch^2)`.
//!
//! # Limits
//! The edges are those of the bundle's outline, from crease to crease, whether cloth reaches them or not; over an edge the thread goes straight
//! across the stack's thickness. Where the bundle narrows, each face is taken for level.

use super::clamp::Block;
use super::facet::Facet;
use super::fold::FlatFold;
use super::fold_line::FoldLine;
use super::frame::{convex, polygon_area};
use super::wrap_error::WrapError;
use crate::geometry::Fold as _;
use kurbo::{Affine, Line, PathSeg, Point, Rect, Shape as _, Vec2};
use std::ops::Range;

/// A thread wound round a bundle as a maker gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WrapSpec {
    /// Where it begins, from the bundle's first end, mm.
    pub from_mm: f64,
    /// Where it ends, from there, mm.
    pub to_mm: f64,
    /// How far a turn goes along the bundle, from thread to thread, mm.
    pub gap_mm: f64,
    /// Whether it is wound back again with the opposite slant, so that the turns cross in the middle of both faces.
    pub crossed: bool,
}

impl WrapSpec {
    /// One to begin with: from near one end of a bundle that is so long to near the other.
    #[must_use]
    pub fn begun(length_mm: f64) -> Self {
        let ends_mm = BEGUN_ENDS_MM.min(0.25 * length_mm);
        let to_mm = length_mm - ends_mm;
        let whole = |mm: f64| if mm.floor() > ends_mm { mm.floor() } else { mm };
        let to_mm = whole(to_mm);
        Self { from_mm: ends_mm, to_mm, gap_mm: BEGUN_GAP_MM.min(to_mm - ends_mm), crossed: false }
    }
}

/// How far from the ends of a bundle a first wrap keeps, mm, and its gap: two fingers' breadth and three (our own judgement).
const BEGUN_ENDS_MM: f64 = 25.0;
const BEGUN_GAP_MM: f64 = 30.0;

/// Where wound thread falls on the laid cloth, on the pieces that it touches.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct WrapMarks {
    /// On the uppermost piece of those that it crosses.
    pub upper: Vec<Line>,
    /// On the lowest.
    pub lower: Vec<Line>,
}

/// A face of a bundle that lies flat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BundleFace {
    /// That of the last layer, seen from above.
    Upper,
    /// That of the first.
    Lower,
}

impl BundleFace {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Upper, Self::Lower];
}

/// Which way the thread goes along the bundle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    There,
    Back,
}

/// The thread over one face, from edge to edge but where it begins and ends.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Piece {
    face: BundleFace,
    way: Way,
    line: Line,
    ends: Ends,
}

/// Where a piece of thread ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ends {
    /// At the edges of the bundle.
    AtEdges,
    /// At one edge, and with the wrap itself.
    Within,
    /// It lies straight across, from where the way there ends to where the way back begins.
    Turning,
}

/// A thread wound round a bundle, where it lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Wrap {
    spec: WrapSpec,
    /// How long the bundle is, mm.
    length_mm: f64,
    outline: Vec<Point>,
    pieces: Vec<Piece>,
}

/// Least gap, mm: half of a thread (own choice). Most, and farthest place, mm: more than any cloth is long (own choice).
const LEAST_GAP_MM: f64 = 0.5;
const MOST_MM: f64 = 20_000.0;
/// How near to an end of the bundle its outline is asked for, mm: at the very end it may be a corner.
const WITHIN_MM: f64 = 1e-6;
/// How far a block's rounded edge may stray from its straight pieces, mm.
const FLAT_MM: f64 = 0.05;
/// How much of a line has to lie on a piece's cloth, beside the piece where the most does: a half (own choice).
const MOST_OF_IT: f64 = 0.5;
/// How often at the least the girth is asked for along a wrap: within half a hundredth of the length where a bundle narrows to a corner
/// (measured against 100 000 steps).
const LEAST_ASKED: u32 = 24;

impl FlatFold {
    /// Winds a thread round the bundle, as far as that goes.
    ///
    /// # Errors
    /// [`WrapError`]: a gap or a place that can't be, an end that is not beyond the beginning, a beginning beyond the bundle, or less than
    /// a turn.
    pub fn wrap(&self, spec: &WrapSpec) -> Result<Wrap, WrapError> {
        let ranges = [("from_mm", spec.from_mm, 0.0), ("to_mm", spec.to_mm, 0.0), ("gap_mm", spec.gap_mm, LEAST_GAP_MM)];
        for (key, value_mm, least_mm) in ranges {
            // Written so that a NaN is refused too.
            if !(least_mm..=MOST_MM).contains(&value_mm) {
                return Err(WrapError::Length { key, value_mm, least_mm, most_mm: MOST_MM });
            }
        }
        let (from_mm, to_mm, length_mm) = (spec.from_mm, spec.to_mm, self.size().width);
        if to_mm <= from_mm {
            return Err(WrapError::Backward { from_mm, to_mm });
        }
        if from_mm >= length_mm {
            return Err(WrapError::OffTheBundle { from_mm, length_mm });
        }
        let (gap_mm, stretch_mm) = (spec.gap_mm, to_mm.min(length_mm) - from_mm);
        if gap_mm > stretch_mm {
            return Err(WrapError::LessThanATurn { gap_mm, stretch_mm });
        }
        let mut wrap = Wrap { spec: *spec, length_mm, outline: self.outline().to_vec(), pieces: Vec::new() };
        wrap.pieces = wrap.wound(|along_mm| {
            let along_mm = along_mm.clamp(WITHIN_MM, length_mm - WITHIN_MM);
            self.chord(along_mm).map(|chord| [chord.p0.y, chord.p1.y])
        });
        Ok(wrap)
    }

    /// Where a thread falls on the laid cloth: each line of the upper face on the uppermost of the pieces whose cloth it crosses, each of the lower
    /// face on the lowest. A piece that has little cloth there, beside another, counts for none.
    #[must_use]
    pub fn wrap_marks(&self, wrap: &Wrap) -> WrapMarks {
        let length_mm = |laid: &[Line]| laid.iter().map(|line| line.p0.distance(line.p1)).sum::<f64>();
        let on_piece = |line: Line, (_, facet, from_frame): (u32, &Facet, Affine)| {
            let laid = facet.part(from_frame * line, None).map(|part| self.lay().pieces_on_cloth(part)).unwrap_or_default();
            if length_mm(&laid) > WITHIN_MM { laid } else { Vec::new() }
        };
        let mut placed: Vec<(u32, &Facet, Affine)> = self.placed_facets().collect();
        placed.sort_by_key(|(place, ..)| *place);
        // From the outermost inward, no farther than to a piece that has cloth under all of the line: none has more.
        let of_line = |face: BundleFace, line: Line| {
            let (mut crossed, mut most_mm) = (Vec::new(), 0.0_f64);
            for at in 0..placed.len() {
                let at = if face == BundleFace::Upper { placed.len() - 1 - at } else { at };
                let laid = on_piece(line, placed[at]);
                most_mm = most_mm.max(length_mm(&laid));
                crossed.push(laid);
                if most_mm >= line.p0.distance(line.p1) - WITHIN_MM {
                    break;
                }
            }
            crossed.into_iter().find(|laid| length_mm(laid) >= MOST_OF_IT * most_mm).unwrap_or_default()
        };
        let on_pieces = |face: BundleFace| wrap.lines(face).flat_map(|line| of_line(face, line)).collect();
        WrapMarks { upper: on_pieces(BundleFace::Upper), lower: on_pieces(BundleFace::Lower) }
    }
}

#[cfg(test)]
impl Wrap {
    /// Thread straight across both faces at these places, as a wrap's is whose slant comes to nothing.
    pub(crate) fn straight(fold: &FlatFold, along_mm: &[f64]) -> Self {
        let spec = WrapSpec { from_mm: 0.0, to_mm: fold.size().width, gap_mm: 1.0, crossed: false };
        let lines = along_mm.iter().filter_map(|&along_mm| fold.chord(along_mm));
        let on_both = |line| BundleFace::BOTH.map(|face| Piece { face, way: Way::There, line, ends: Ends::AtEdges });
        let pieces = lines.flat_map(on_both).collect();
        Self { spec, length_mm: fold.size().width, outline: fold.outline().to_vec(), pieces }
    }
}

impl Wrap {
    /// What a maker gave.
    #[must_use]
    pub fn spec(&self) -> &WrapSpec {
        &self.spec
    }

    /// Where it begins and where it ends on the bundle, mm from the first end.
    #[must_use]
    pub fn stretch_mm(&self) -> Range<f64> {
        self.spec.from_mm..self.spec.to_mm.min(self.length_mm)
    }

    /// How far it would go on beyond the bundle, mm; 0 where it ends on it.
    #[must_use]
    pub fn over_end_mm(&self) -> f64 {
        (self.spec.to_mm - self.length_mm).max(0.0)
    }

    /// How often it goes round the bundle, one way.
    #[must_use]
    pub fn turns(&self) -> f64 {
        let stretch = self.stretch_mm();
        (stretch.end - stretch.start) / self.spec.gap_mm
    }

    /// Where the thread lies on a face, `x` along and `y` across, mm, in the order in which it is wound.
    pub fn lines(&self, face: BundleFace) -> impl Iterator<Item = Line> {
        self.pieces.iter().filter(move |piece| piece.face == face).map(|piece| piece.line)
    }

    /// Where its way there begins and ends, mm: what a hand takes hold of.
    #[must_use]
    pub fn ends(&self) -> Option<[Point; 2]> {
        let there = |piece: &&Piece| piece.way == Way::There && piece.ends != Ends::Turning;
        Some([self.pieces.iter().find(there)?.line.p0, self.pieces.iter().rfind(there)?.line.p1])
    }

    /// By what angle a turn slants from straight across in the middle of the wrap, degrees.
    #[must_use]
    pub fn angle_deg(&self) -> f64 {
        let stretch = self.stretch_mm();
        let middle_mm = 0.5 * (stretch.start + stretch.end);
        let away = |piece: &&Piece| (piece.line.midpoint().x - middle_mm).abs();
        let there = self.pieces.iter().filter(|piece| piece.way == Way::There && piece.ends == Ends::AtEdges);
        let nearest = there.min_by(|a, b| away(a).total_cmp(&away(b))).or(self.pieces.first());
        nearest.map_or(0.0, |piece| slope(piece.line).atan().to_degrees())
    }

    /// Whether blocks lie on it.
    #[must_use]
    pub fn meets(&self, block: &Block) -> bool {
        let (outline, edges) = (block.path(), block.edges(FLAT_MM));
        let is_met = |line: Line| {
            outline.winding(line.midpoint()) != 0
                || edges.iter().any(|edge| !PathSeg::Line(*edge).intersect_line(line).is_empty())
        };
        self.pieces.iter().any(|piece| is_met(piece.line))
    }

    /// How long the thread is without its tails, mm, where the bundle has this girth at a distance along it, the thread's own included: turn by
    /// turn the hypotenuse of girth and gap, and once across where a crossed wrap turns round.
    #[must_use]
    pub fn length_mm(&self, girth_mm: impl Fn(f64) -> f64) -> f64 {
        let stretch = self.stretch_mm();
        let along_mm = stretch.end - stretch.start;
        let steps = (2.0 * self.turns()).ceil().max(f64::from(LEAST_ASKED));
        let step_mm = along_mm / steps;
        let mut once_mm = 0.0;
        let mut step = 0.5;
        while step < steps {
            once_mm += (step_mm / self.spec.gap_mm * girth_mm(stretch.start + step * step_mm)).hypot(step_mm);
            step += 1.0;
        }
        let ways = if self.spec.crossed { 2.0 } else { 1.0 };
        let turning = self.pieces.iter().filter(|piece| piece.ends == Ends::Turning);
        ways * once_mm + turning.map(|piece| piece.line.p0.distance(piece.line.p1)).sum::<f64>()
    }

    /// What of a face the thread covers, were it so broad.
    #[must_use]
    pub fn cover(&self, face: BundleFace, breadth_mm: f64) -> WrapCover {
        let sides = self.outline.iter().zip(self.outline.iter().cycle().skip(1));
        let outline: Vec<FoldLine> = sides
            .map(|(&from, &to)| {
                let run = to - from;
                // Its corners go round as they do on a clock, `y` being down: what lies to their left is outside.
                FoldLine::new(from, Vec2::new(run.y, -run.x))
            })
            .collect();
        let boxes = self.outline.iter().map(|&corner| Rect::from_origin_size(corner, (0.0, 0.0)));
        let bounds = boxes.reduce(|all, corner| all.union(corner)).unwrap_or_default();
        let bands = self.pieces.iter().filter(|piece| piece.face == face).map(|piece| {
            let within = self.band(piece, breadth_mm);
            let corners = convex(bounds, &within);
            let (least, most) = corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at.x), b.max(at.x)));
            let across = (piece.line.p1 - piece.line.p0).normalize().y;
            Band { within, along_mm: least..most, way: piece.way, looks_along: across * across }
        });
        WrapCover { bands: bands.collect(), outline }
    }

    /// The lines that bound a piece of thread of this breadth; where the bundle's outline ends it none does.
    fn band(&self, piece: &Piece, breadth_mm: f64) -> Vec<FoldLine> {
        let Line { p0, p1 } = piece.line;
        let along = (p1 - p0).normalize();
        let aside = 0.5 * breadth_mm * Vec2::new(-along.y, along.x);
        let mut within = vec![FoldLine::new(p0 + aside, aside), FoldLine::new(p0 - aside, -aside)];
        match piece.ends {
            Ends::AtEdges => {}
            Ends::Within => within.push(FoldLine::new(Point::new(self.stretch_mm().end, 0.0), Vec2::new(1.0, 0.0))),
            Ends::Turning => within.extend([FoldLine::new(p0, -along), FoldLine::new(p1, along)]),
        }
        within
    }

    /// The pieces of thread between edges, where the bundle reaches from and to so far across at a distance along it.
    fn wound(&self, edges: impl Fn(f64) -> Option<[f64; 2]>) -> Vec<Piece> {
        let stretch = self.stretch_mm();
        let half_mm = 0.5 * self.spec.gap_mm;
        let way = |way: Way| {
            let (edges, end_mm) = (&edges, stretch.end);
            let mut pieces = Vec::new();
            let (mut turn, mut at_mm) = (0_u32, stretch.start);
            while at_mm < end_mm - WITHIN_MM {
                let next_mm = stretch.start + f64::from(turn + 1) * half_mm;
                let side = usize::from((turn % 2 == 1) == (way == Way::There));
                let face = if turn % 2 == 0 { BundleFace::Upper } else { BundleFace::Lower };
                if let (Some(here), Some(there)) = (edges(at_mm), edges(next_mm)) {
                    let line = Line::new((at_mm, here[side]), (next_mm, there[1 - side]));
                    let share = ((end_mm - at_mm) / half_mm).min(1.0);
                    let ends = if share < 1.0 { Ends::Within } else { Ends::AtEdges };
                    pieces.push(Piece { face, way, line: Line::new(line.p0, line.p0.lerp(line.p1, share)), ends });
                }
                (turn, at_mm) = (turn + 1, next_mm);
            }
            pieces
        };
        let mut pieces = way(Way::There);
        if self.spec.crossed {
            let back = way(Way::Back);
            let turning = pieces.last().zip(back.last()).and_then(|(last, first)| turned_round(last, first));
            pieces.extend(turning);
            pieces.extend(back.into_iter().rev().map(|piece| Piece { line: piece.line.reversed(), ..piece }));
        }
        pieces
    }
}

/// The thread where a crossed wrap turns round: straight across from where the way there ends to where the way back begins, which ends at `first`
/// were it wound there too; none where they meet.
fn turned_round(last: &Piece, first: &Piece) -> Option<Piece> {
    let line = Line::new(last.line.p1, first.line.p1);
    let face = match (last.ends, last.face) {
        (Ends::AtEdges, BundleFace::Upper) => BundleFace::Lower,
        (Ends::AtEdges, BundleFace::Lower) => BundleFace::Upper,
        (_, face) => face,
    };
    (line.p0.distance(line.p1) > WITHIN_MM).then_some(Piece { face, way: Way::There, line, ends: Ends::Turning })
}

/// How far thread goes along for each millimetre across.
fn slope(line: Line) -> f64 {
    ((line.p1.x - line.p0.x) / (line.p1.y - line.p0.y)).abs()
}

/// A piece of thread, as broad as it is.
#[derive(Debug, Clone)]
struct Band {
    /// It lies on the near sides of these, and within the outline.
    within: Vec<FoldLine>,
    along_mm: Range<f64>,
    way: Way,
    /// By how much the direction across the thread is that along the bundle: the square of its part.
    looks_along: f64,
}

/// What of a face a thread covers.
#[derive(Debug, Clone)]
pub struct WrapCover {
    bands: Vec<Band>,
    outline: Vec<FoldLine>,
}

/// How much of a stretch of a face a thread covers.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Covered {
    /// The share of it, 0 to 1.
    pub share: f64,
    /// How far the direction across the thread is that along the bundle: the square of its part, 1 where the thread lies straight across; in the
    /// mean over what is covered, 0 where nothing is.
    pub looks_along: f64,
}

impl WrapCover {
    /// How much of a stretch it covers: turns of one way side by side, and of two ways that cross as if each lay anywhere on it.
    #[must_use]
    pub fn of(&self, along_mm: Range<f64>, across_mm: Range<f64>) -> Covered {
        let stretch = Rect::new(along_mm.start, across_mm.start, along_mm.end, across_mm.end);
        let (mut ways, mut looks) = ([0.0; 2], 0.0);
        for band in self.bands.iter().filter(|band| band.along_mm.start < stretch.x1 && stretch.x0 < band.along_mm.end) {
            let share = self.area_mm2(stretch, band) / stretch.area();
            ways[usize::from(band.way == Way::Back)] += share;
            looks += share * band.looks_along;
        }
        let all: f64 = ways.iter().sum();
        if all <= 0.0 {
            return Covered::default();
        }
        let [there, back] = ways.map(|way| way.min(1.0));
        Covered { share: 1.0 - (1.0 - there) * (1.0 - back), looks_along: looks / all }
    }

    fn area_mm2(&self, stretch: Rect, band: &Band) -> f64 {
        let corners = [(stretch.x0, stretch.y0), (stretch.x1, stretch.y0), (stretch.x1, stretch.y1), (stretch.x0, stretch.y1)];
        let is_off = |line: &FoldLine| corners.iter().all(|&corner| line.beyond_mm(corner.into()) >= 0.0);
        if band.within.iter().any(is_off) {
            return 0.0;
        }
        let cuts = |line: &&FoldLine| corners.iter().any(|&corner| line.beyond_mm(corner.into()) > 0.0);
        let lines: Vec<FoldLine> = band.within.iter().chain(&self.outline).filter(cuts).copied().collect();
        polygon_area(&convex(stretch, &lines)).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::flat::spec::{FlatFoldSpec, FlatPattern, Triangle};
    use crate::geometry::{
        Centring, Cloth, Garment, GarmentKind, Measure, Pack, PanelSet, RawMeasures, Thread, Top, rod_size, thread_length_mm,
    };
    use std::f64::consts::PI;

    /// A cloth of one layer, 400 mm wide and 600 mm high.
    fn folded(pattern: FlatPattern) -> FlatFold {
        let mut measures = RawMeasures::default();
        measures.set(Measure::ClothWidth, Some(400.0));
        measures.set(Measure::ClothHeight, Some(600.0));
        let garment = Garment::new(GarmentKind::FlatCloth, None, &measures).unwrap();
        let panels = PanelSet { front: garment.draft().front.clone(), back: None, top: Top::UpperEdge };
        let spec =
            FlatFoldSpec { centring: Centring::Open, pattern, pack: Pack::Zigzag, along_turn_deg: 0.0, first_bind_mm: None };
        FlatFold::new(&spec, panels, 0.6).unwrap()
    }

    /// A strip 600 mm long and 80 mm wide, of five layers.
    fn strip() -> FlatFold {
        folded(FlatPattern::Stripes { width_mm: 80.0, angle_deg: 0.0, start: None })
    }

    fn triangle() -> FlatFold {
        folded(FlatPattern::Triangles { triangle: Triangle::Equilateral, width_mm: 200.0, angle_deg: 0.0, start: None })
    }

    fn spec(from_mm: f64, to_mm: f64, gap_mm: f64) -> WrapSpec {
        WrapSpec { from_mm, to_mm, gap_mm, crossed: false }
    }

    /// A turn goes aslant over the upper face and back the other way under it, and meets itself at the edges, a gap on.
    #[test]
    fn a_turn_slants_both_ways_and_closes() {
        let fold = strip();
        let wrap = fold.wrap(&spec(50.0, 170.0, 30.0)).unwrap();
        let at = |x: f64, y: f64| Point::new(x, y);
        let upper: Vec<Line> = wrap.lines(BundleFace::Upper).collect();
        let lower: Vec<Line> = wrap.lines(BundleFace::Lower).collect();
        assert_eq!((upper.len(), lower.len(), wrap.turns()), (4, 4, 4.0));
        let near = |a: Line, b: Line| a.p0.distance(b.p0) < 1e-9 && a.p1.distance(b.p1) < 1e-9;
        assert!(near(upper[1], Line::new(at(80.0, 0.0), at(95.0, 80.0))), "{upper:?}");
        assert!(near(lower[1], Line::new(at(95.0, 80.0), at(110.0, 0.0))), "{lower:?}");
        assert!((wrap.angle_deg() - (15.0_f64 / 80.0).atan().to_degrees()).abs() < 1e-9);
        assert!(wrap.ends().unwrap()[1].distance(at(170.0, 0.0)) < 1e-9);
        // Wound back, it crosses itself in the middle of either face, half way between two edges' turns.
        let crossed = fold.wrap(&WrapSpec { crossed: true, ..*wrap.spec() }).unwrap();
        for face in BundleFace::BOTH {
            let lines: Vec<Line> = crossed.lines(face).collect();
            let crossing = lines
                .iter()
                .flat_map(|a| lines.iter().filter_map(|b| a.crossing_point(*b).filter(|at| at.y > 1.0 && at.y < 79.0)));
            let crossing: Vec<Point> = crossing.filter(|at| (50.0..169.0).contains(&at.x)).collect();
            assert!(crossing.len() >= 8 && crossing.iter().all(|at| (at.y - 40.0).abs() < 1e-6), "{crossing:?}");
        }
    }

    /// Wound there and back the thread is one: each piece begins where the last one ends, edge by edge.
    #[test]
    fn a_crossed_wrap_is_one_thread() {
        for to_mm in [170.0, 163.0, 171.25, 157.5] {
            let wrap = triangle().wrap(&WrapSpec { crossed: true, ..spec(20.0, to_mm, 30.0) }).unwrap();
            for pair in wrap.pieces.windows(2) {
                assert!(pair[0].line.p1.distance(pair[1].line.p0) < 1e-9, "{to_mm}: {pair:?}");
            }
        }
    }

    /// As long as a thread laid step by step round the held stack, 100 000 steps of it: brute force, but for the corners that steps cut. Of a
    /// triangle, whose faces narrow to its corner, within half a hundredth.
    #[test]
    fn a_wrap_is_as_long_as_a_thread_laid_step_by_step() {
        const STEPS: u32 = 100_000;
        let cloth = Cloth::default();
        for (fold, span_mm, within) in [(strip(), [50.0, 290.0], 1e-4), (triangle(), [30.0, 150.0], 5e-3)] {
            let wrap = fold.wrap(&spec(span_mm[0], span_mm[1], 40.0)).unwrap();
            let of_round = |share: f64, along_mm: f64| {
                let size = rod_size(&fold, &cloth, along_mm);
                let (width_mm, high_mm) = (size.width_mm, 0.5 * size.bound_girth_mm - size.width_mm);
                // Round a box of this cross-section, from the middle of its upper side on.
                let at_mm = share.rem_euclid(1.0) * size.bound_girth_mm;
                let corners =
                    [0.5 * width_mm, 0.5 * width_mm + high_mm, 1.5 * width_mm + high_mm, 1.5 * width_mm + 2.0 * high_mm];
                match corners.iter().filter(|corner| **corner < at_mm).count() {
                    0 => [at_mm, 0.0],
                    1 => [0.5 * width_mm, at_mm - corners[0]],
                    2 => [0.5 * width_mm - (at_mm - corners[1]), high_mm],
                    3 => [-0.5 * width_mm, high_mm - (at_mm - corners[2])],
                    _ => [-0.5 * width_mm + (at_mm - corners[3]), 0.0],
                }
            };
            let point = |step: u32| {
                let along_mm = span_mm[0] + (span_mm[1] - span_mm[0]) * f64::from(step) / f64::from(STEPS);
                let [across, up] = of_round((along_mm - span_mm[0]) / 40.0, along_mm);
                [along_mm, across, up]
            };
            let mut laid_mm = 0.0;
            let mut last = point(0);
            for step in 1..=STEPS {
                let next = point(step);
                laid_mm += (0..3).map(|k| (next[k] - last[k]) * (next[k] - last[k])).sum::<f64>().sqrt();
                last = next;
            }
            let told_mm = wrap.length_mm(|along_mm| rod_size(&fold, &cloth, along_mm).bound_girth_mm);
            assert!((told_mm / laid_mm - 1.0).abs() < within, "{told_mm} against {laid_mm} laid");
        }
    }

    /// As turns close up, each takes as much thread as a wrap of a bind across; there and back takes twice as much and one width.
    #[test]
    fn close_turns_are_as_long_as_binds() {
        let (fold, cloth, thread) = (strip(), Cloth::default(), Thread { tail_mm: 0.0, ..Thread::default() });
        let girth_mm = rod_size(&fold, &cloth, 100.0).bound_girth_mm;
        let of_thread = |_: f64| girth_mm + PI * thread.diameter_mm;
        let wrap = fold.wrap(&spec(50.0, 150.0, 0.5)).unwrap();
        let bind_mm = thread_length_mm(&thread, girth_mm, 200);
        assert!((wrap.length_mm(of_thread) / bind_mm - 1.0).abs() < 1e-5);
        let crossed = fold.wrap(&WrapSpec { crossed: true, ..*wrap.spec() }).unwrap();
        assert!((crossed.length_mm(of_thread) - 2.0 * wrap.length_mm(of_thread) - 80.0).abs() < 1e-6);
    }

    /// The shares of all cells of a net together are the thread's area on the face: its length there times its breadth, trimmed at the edges.
    #[test]
    fn a_net_of_cells_counts_all_the_thread() {
        for (fold, to_mm) in [(strip(), 251.0), (triangle(), 140.0)] {
            let size = fold.size();
            for gap_mm in [12.0, 70.0] {
                let wrap = fold.wrap(&spec(20.0, to_mm, gap_mm)).unwrap();
                for face in BundleFace::BOTH {
                    let cover = wrap.cover(face, 2.0);
                    let mut covered_mm2 = 0.0;
                    let (mut along_mm, step) = (0.0, [3.7, 5.3]);
                    while along_mm < size.width {
                        let mut across_mm = 0.0;
                        while across_mm < size.height {
                            let of = cover.of(along_mm..along_mm + step[0], across_mm..across_mm + step[1]);
                            assert!(of.share <= 1.0 && (of.share == 0.0 || of.looks_along <= 1.0));
                            covered_mm2 += of.share * step[0] * step[1];
                            across_mm += step[1];
                        }
                        along_mm += step[0];
                    }
                    let lines: Vec<Line> = wrap.lines(face).collect();
                    let laid_mm2 = 2.0 * lines.iter().map(|line| line.p0.distance(line.p1)).sum::<f64>();
                    // Where it is cut straight across its end is a little aslant, and in a corner of the triangle it is trimmed.
                    assert!((covered_mm2 - laid_mm2).abs() < 4.0 + 0.01 * laid_mm2, "{covered_mm2} of {laid_mm2}, gap {gap_mm}");
                }
            }
        }
    }

    /// Turns nearer than the thread is broad leave nothing bare.
    #[test]
    fn close_turns_cover_all() {
        let wrap = strip().wrap(&spec(50.0, 250.0, 1.0)).unwrap();
        let cover = wrap.cover(BundleFace::Lower, 1.2);
        assert!((cover.of(100.0..104.0, 30.0..35.0).share - 1.0).abs() < 1e-9);
        assert_eq!(cover.of(10.0..14.0, 30.0..35.0), Covered::default());
    }

    /// Thread is marked where there is cloth, however the pieces lie over its edge.
    #[test]
    fn marks_lie_on_cloth() {
        for fold in [strip(), triangle()] {
            let wrap = fold.wrap(&WrapSpec { crossed: true, ..spec(10.0, 150.0, 30.0) }).unwrap();
            let WrapMarks { upper, lower } = fold.wrap_marks(&wrap);
            assert!(upper.len() >= 8 && lower.len() >= 8, "{} {}", upper.len(), lower.len());
            assert!(upper.iter().chain(&lower).all(|line| fold.lay().is_cloth(line.p0.midpoint(line.p1))));
        }
    }

    #[test]
    fn what_can_not_be_wound_is_refused() {
        let fold = strip();
        let refused = |from_mm, to_mm, gap_mm| fold.wrap(&spec(from_mm, to_mm, gap_mm)).unwrap_err();
        assert!(matches!(refused(10.0, 90.0, f64::NAN), WrapError::Length { key: "gap_mm", .. }));
        assert!(matches!(refused(-1.0, 90.0, 9.0), WrapError::Length { key: "from_mm", .. }));
        assert_eq!(refused(90.0, 90.0, 9.0), WrapError::Backward { from_mm: 90.0, to_mm: 90.0 });
        assert_eq!(refused(700.0, 900.0, 9.0), WrapError::OffTheBundle { from_mm: 700.0, length_mm: 600.0 });
        assert_eq!(refused(10.0, 40.0, 50.0), WrapError::LessThanATurn { gap_mm: 50.0, stretch_mm: 30.0 });
        assert!(fold.wrap(&WrapSpec::begun(20.0)).is_ok());
        // What goes on beyond the bundle ends with it.
        let over = fold.wrap(&spec(500.0, 650.0, 20.0)).unwrap();
        assert_eq!((over.stretch_mm(), over.over_end_mm(), over.turns()), (500.0..600.0, 50.0, 5.0));
    }
}
