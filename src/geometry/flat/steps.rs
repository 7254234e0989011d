//! The way to a flat bundle, fold by fold: what lies on the table before each one, as it is seen from above.

use super::clip::{Loops, near_side, path_of};
use super::facet::{Facet, carried, facets, long_line};
use super::fold::FlatFold;
use super::fold_line::FoldLine;
use super::series::{Series, is_turned};
use super::spec::FlatPattern;
use super::stack::{Pieces, Stack};
use super::visible::{Ring, is_within, rings, seen_of, stretch_within};
use crate::geometry::Fold as _;
use kurbo::{Affine, Line, Rect, Size, Vec2};

/// What lies on the table before a fold, or after the last one.
#[derive(Debug, Clone)]
pub struct FoldStep {
    /// The number of the fold that comes next, as on the template; none after the last.
    pub number: Option<u32>,
    /// The lines that are seen from above, mm, where the laid garment's first piece lies as it was laid.
    pub edges: Vec<Line>,
    /// The crease of that fold, as far as it has cloth.
    pub crease: Option<Line>,
    /// The way in which cloth is laid over it, of length 1.
    pub toward: Vec2,
    /// The box round what lies there.
    pub bounds: Rect,
    /// How far it goes along and across the bundle's own way, mm; of wedges that says nothing before the last.
    pub size_mm: Option<Size>,
    /// Whether all of it is turned over before this fold.
    pub is_turned_over: bool,
}

/// What is folded by a series: outlines of cloth from the bottom up, in the plane of the first pieces.
type Sheet = Vec<Loops>;

impl FlatFold {
    /// What lies on the table before each fold, in their order, and after the last.
    #[must_use]
    pub fn steps(&self) -> Vec<FoldStep> {
        let mut steps = Vec::new();
        let mut number = 0;
        for (before, series) in self.series().iter().enumerate() {
            let sheet = self.sheet(before);
            for done in 0..series.pieces() - 1 {
                number += 1;
                let is_turned_over = before > 0 && done == 0 && self.turns_strip_over();
                steps.push(FoldStep { number: Some(number), is_turned_over, ..self.step(series, &sheet, done) });
            }
            if before + 1 == self.series().len() {
                steps.push(self.step(series, &sheet, series.pieces() - 1));
            }
        }
        steps
    }

    /// How far the first crease lies from the farthest cloth that it is folded toward, square to it, mm: what a maker measures from the edge.
    /// Nothing of patterns that begin at the edge of the cloth, whose first piece is as wide as the others, or that have a middle.
    #[must_use]
    pub fn first_crease_mm(&self) -> Option<f64> {
        self.spec().pattern.start()?;
        let first = self.steps().into_iter().find(|step| step.crease.is_some())?;
        let crease = first.crease?;
        let ahead = first.edges.iter().flat_map(|edge| [edge.p0, edge.p1]).map(|at| first.toward.dot(at - crease.p0));
        ahead.reduce(f64::max)
    }

    /// What the series before have made, without outlines that others hide.
    fn sheet(&self, series: usize) -> Sheet {
        let before = &self.series()[..series];
        let stack = Stack { series: before, layers: 1 };
        let mut placed: Vec<(u32, [Loops; 2])> =
            facets(self.lay(), before).into_iter().map(|facet| placed(&stack, facet)).collect();
        placed.sort_by_key(|(place, _)| *place);
        let all: Sheet = placed.into_iter().flat_map(|(_, cloth)| cloth).filter(|loops| !loops.is_empty()).collect();
        let outlines: Vec<Vec<Ring>> = all.iter().map(|loops| rings(&path_of(loops))).collect();
        let is_hidden = |own: usize| {
            let hides = |other: usize| other != own && is_within(&outlines[own], &outlines[other]);
            // Of two that are alike the upper one is kept.
            (0..outlines.len()).any(|other| hides(other) && (other > own || !is_within(&outlines[other], &outlines[own])))
        };
        all.iter().enumerate().filter(|(own, _)| !is_hidden(*own)).map(|(_, loops)| loops.clone()).collect()
    }

    /// What lies there when so many folds of a series are done.
    fn step(&self, series: &Series, sheet: &Sheet, done: u32) -> FoldStep {
        let rest_onto = if series.is_rolled() { Affine::IDENTITY } else { series.onto(done) };
        let piece_onto =
            |piece: u32| if series.is_rolled() { series.back(done) * series.onto(piece) } else { series.onto(piece) };
        let part = |piece: u32, onto: Affine| -> Vec<Vec<Ring>> {
            let [before, after] = series.beside(piece);
            // What is left is one sheet still.
            let sides = [before.map(FoldLine::reversed), after.copied().filter(|_| piece < done)];
            let cut = |loops: &Loops| sides.iter().flatten().fold(loops.clone(), |loops, side| near_side(&loops, side));
            let mut cloth: Vec<Vec<Ring>> = sheet.iter().map(|loops| rings(&path_of(&carried(&cut(loops), onto)))).collect();
            if is_turned(if series.is_rolled() { done - piece } else { piece }) {
                cloth.reverse();
            }
            cloth
        };
        let rest = part(done, rest_onto);
        let crease = series.beside(done)[1].map(|crease| crease.carried(rest_onto));
        let toward = crease.map_or(Vec2::ZERO, |crease| if series.is_rolled() { crease.normal() } else { -crease.normal() });
        let line = crease.and_then(|crease| stretch_within(&rest, long_line(crease.at(), crease.direction())));
        let pieces = (0..done).map(|piece| part(piece, piece_onto(piece)));
        let all: Vec<Vec<Ring>> = if series.is_rolled() {
            let mut upper: Vec<Vec<Vec<Ring>>> = pieces.collect();
            // Each time all of it is turned over onto the next piece.
            let order =
                (1..done).fold(vec![0], |order: Vec<u32>, next| std::iter::once(next).chain(order.into_iter().rev()).collect());
            let laid = order.into_iter().rev().filter(|_| done > 0).map(|piece| std::mem::take(&mut upper[piece as usize]));
            std::iter::once(rest).chain(laid).flatten().collect()
        } else {
            pieces.chain([rest]).flatten().collect()
        };
        self.seen(&all, line, toward, series.beside(done)[1].is_none())
    }

    fn seen(&self, all: &[Vec<Ring>], crease: Option<Line>, toward: Vec2, is_last: bool) -> FoldStep {
        let corners = || all.iter().flatten().flatten().copied();
        let boxed = |into: Affine| {
            let all = corners().map(|corner| into * corner).map(|corner| Rect::from_points(corner, corner));
            all.reduce(|a, b| a.union(b)).unwrap_or_default()
        };
        let tells_size = is_last || !matches!(self.spec().pattern, FlatPattern::Wedges { .. });
        FoldStep {
            number: None,
            edges: seen_of(all),
            crease,
            toward,
            bounds: boxed(Affine::IDENTITY),
            size_mm: tells_size.then(|| boxed(self.plane_to_frame()).size()),
            is_turned_over: false,
        }
    }
}

/// A facet's cloth, back below front as it lies, with its place in the stack.
fn placed(stack: &Stack<'_>, facet: Facet) -> (u32, [Loops; 2]) {
    let pieces = Pieces::from_iter(&facet.pieces);
    let (front, back) = (facet.cloth.front, facet.cloth.back);
    (stack.place(&pieces, 0), if pieces.is_turned() { [front, back] } else { [back, front] })
}

#[cfg(test)]
mod tests {
    use crate::geometry::{Bundle as _, Centre, FlatPattern, GarmentKind};
    use crate::layout::{FlatStart, FoldStart, GarmentSpec, Layout, starter_on};
    use crate::measure::RuleMarks;
    use crate::store::{EXAMPLE_LAYOUTS, parse_layout};

    /// By hand: a cloth of 550 by 550 mm laid in half, stripes of 92 mm across from a crease 275 mm below its upper edge: others lie 183 and
    /// 91 mm below it, the next would lie beyond. Upright ones from a crease 60 mm beside the fold: 60 mm from the fold, or, counted from the
    /// other edge, 275 - 60 - 2 x 92 = 31 mm.
    #[test]
    fn the_first_crease_is_measured_from_the_edge() {
        let garment = GarmentSpec::sized(GarmentKind::FlatCloth, Some("bandana"), &Default::default());
        let start = FoldStart::Flat(FlatStart::of(crate::geometry::FlatKind::Stripes));
        let mut raw = starter_on(start, &garment, RuleMarks::Millimetres1).unwrap();
        let first = |raw: &crate::layout::LayoutSpec| Layout::try_from(raw.clone()).unwrap().flat().unwrap().first_crease_mm();
        assert_eq!(first(&raw), None, "it begins at the edge");
        let start = Some(Centre::BelowShoulder { below_shoulder_mm: 275.0, from_centre_line_mm: 60.0 });
        for (angle_deg, wanted_mm) in [(90.0, [91.0, 91.0]), (0.0, [60.0, 31.0])] {
            raw.fold.flat_mut().unwrap().pattern = FlatPattern::Stripes { width_mm: 92.0, angle_deg, start };
            let told_mm = first(&raw).unwrap();
            assert!(wanted_mm.iter().any(|wanted_mm| (told_mm - wanted_mm).abs() < 1e-6), "{angle_deg}: {told_mm}");
        }
    }

    /// Of every example: as many steps as folds and one more, numbered in turn; the last is as large as the cloth in the bundle, and none is
    /// larger than the one before it where creases are square to each other.
    #[test]
    fn each_fold_has_its_step() {
        let mut seen = 0;
        for example in EXAMPLE_LAYOUTS {
            let layout = parse_layout(example.text).unwrap();
            let Some(fold) = layout.flat() else { continue };
            let steps = fold.steps();
            let numbers: Vec<Option<u32>> = (1..=fold.folds()).map(Some).chain([None]).collect();
            assert_eq!(steps.iter().map(|step| step.number).collect::<Vec<_>>(), numbers, "{}", example.name);
            let last = steps[steps.len() - 1].size_mm.unwrap();
            let extent = fold.size();
            assert!(
                last.width <= extent.width + 0.1 && last.height <= extent.height + 0.1,
                "{}: {last:?} {extent:?}",
                example.name
            );
            assert!(last.width > 0.9 * fold.extent().length_mm, "{}: {last:?}", example.name);
            assert!(steps.iter().all(|step| !step.edges.is_empty() && step.bounds.area() > 0.0));
            let areas: Vec<f64> = steps.iter().filter_map(|step| step.size_mm).map(kurbo::Size::area).collect();
            // A strip that is folded aslant has a larger box round it.
            let is_straight = matches!(fold.spec().pattern, FlatPattern::Stripes { .. } | FlatPattern::Squares { .. });
            let shrinks = areas.windows(2).all(|pair| pair[1] <= pair[0] * 1.001);
            assert!(shrinks || !is_straight, "{}: {areas:?}", example.name);
            seen += 1;
        }
        assert!(seen >= 4, "{seen}");
    }

    /// Every crease lies on the cloth that is left, and the arrow crosses it.
    #[test]
    fn creases_lie_within_what_is_drawn() {
        let example = EXAMPLE_LAYOUTS.iter().find(|example| example.text.contains("Stripes(")).unwrap();
        let fold = parse_layout(example.text).unwrap().flat().unwrap().clone();
        for step in fold.steps().iter().filter(|step| step.number.is_some()) {
            let crease = step.crease.unwrap();
            let bounds = step.bounds.inflate(0.1, 0.1);
            assert!(bounds.contains(crease.p0) && bounds.contains(crease.p1), "{step:?}");
            assert!((crease.p1 - crease.p0).normalize().dot(step.toward).abs() < 1e-9);
        }
    }
}
